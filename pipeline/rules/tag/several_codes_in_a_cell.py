"""More than one code, or a range of codes, in one cell."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    return (x["recordKind"] == "release") & x["tagCode_doubt"].isin(["several-codes", "range-of-codes"])


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    between = found["tagCode_doubt"].map({"range-of-codes": " to ", "several-codes": " + "}).astype("str")
    pairs = zip(found["tagCode_candidates"], between, strict=True)
    told = [candidates.replace(" | ", sign) for candidates, sign in pairs]
    return {"tagCode": pd.Series(told, index=found.index, dtype="str")}


RULE = Rule(
    title="Several tag codes in one cell",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("tagCode_doubt", "tagCode_candidates"),
    each_row=True,
    message='Row {row} holds more than one code or a range ("{seen}"), and we need one row for each'
    " butterfly, because each can be found by itself. Shall we make one row for each of these codes, all with"
    " the same day and place? If they differ in sex or measures, please send them as rows instead.",
    why="a code is unique to one butterfly, and each butterfly is a record of its own",
    source="common practice",
    examples=Examples(
        finds="""
            tagCode           | tagCode_doubt  | tagCode_candidates | suggests tagCode
            SM0042 + SM0043   | several-codes  | SM0042 ¦ SM0043  | SM0042 + SM0043
            SM0042-0045       | range-of-codes | SM0042 ¦ SM0045  | SM0042 to SM0045
        """,
        leaves="""
            tagCode | tagCode_doubt
            SM0042  |
        """,
        near_misses="""
            tagCode         | tagCode_doubt | tagCode_candidates | recordKind
            SM00420043      | another-shape |                    | release
            SM0042 + SM0043 | several-codes |                    | find
        """,
    ),
)
