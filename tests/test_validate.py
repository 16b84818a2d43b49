"""Rules become findings: each scope sees its table, each finding has its address, suggestion and message."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pandas as pd
import pytest
from example_tables import empty, read_examples

from pipeline.catalogue import Entry, catalogue
from pipeline.findings import RuleFailed
from pipeline.frames import FINDING_COLUMNS
from pipeline.rule import Examples, Rule
from pipeline.stages.validate import Frames, validate

PLACES = pd.DataFrame(
    [(1, "tagCode", 0), (1, "sex", 2), (1, "forewingLength", 27), (2, "sex", 4)],
    columns=["table_id", "field", "column"],
)


def entry(
    finds: Callable[[Any], Any],
    name: str = "sex_was_seen",
    suggests: Callable[[Any], dict[str, Any]] | None = None,
    stands_on: Callable[[Any], Any] | None = None,
    **form: Any,
) -> Entry:
    usual = {
        "title": "t", "severity": "please-check", "scope": "row", "asks": "tagger", "fields": ("sex",),
        "message": "Row {row}: {seen}.", "why": "w", "source": "s", "examples": Examples("", "", ""),
    }  # fmt: skip
    return Entry(name, "sex", Rule(**(usual | form)), finds, suggests, stands_on)


ROWS = read_examples(
    "table_id | row | tagCode | sex | sex_written | forewingLength | millimetres | first_day | wingSpan\n"
    "1 | 2 | SM0001 | male | M | 51.5 | 51.5 | 2026-09-03 | 98\n"
    "1 | 5 | SM0002 | female | F | 48 | 48 | 2026-09-04 | 97\n"
    '2 | 9 | SM0003 | female | femmale | "" | "" | "" | 96',
    "row",
)[0].cells.assign(file="anna/tags.xlsx", file_sha256="ab" * 32, sheet="Sheet1")


def frames(rows: pd.DataFrame = ROWS, **more: pd.DataFrame) -> Frames:
    return Frames(
        rows=rows,
        files=more.get("files", empty("file")),
        headings=more.get("headings", empty("heading")),
        places=PLACES,
        answers=more.get("answers", empty("answer")),
    )


def findings(*entries: Entry, rows: pd.DataFrame = ROWS, **more: pd.DataFrame) -> list[dict[str, Any]]:
    return validate(frames(rows, **more), entries).to_dict("records")


def is_female(cells: Any) -> Any:
    return (cells if isinstance(cells, pd.Series) else cells["sex"]) == "female"


WIDE = [
    ("row", is_female, ["SM0002", "SM0003"]),
    ("sheet", lambda rows: rows.groupby("table_id")["row"].transform("size") == 1, ["SM0003"]),
    ("person", lambda rows: rows.groupby("person_id")["sex"].transform("nunique") > 1, ["SM0001", "SM0002", "SM0003"]),
    ("season", lambda rows: rows["sex"].map(rows["sex"].value_counts()) == 1, ["SM0001"]),
    ("cell", is_female, ["SM0002", "SM0003"]),
]


@pytest.mark.parametrize(("scope", "finds", "tags"), WIDE, ids=[case[0] for case in WIDE])
def test_a_rule_of_each_scope_over_rows_fires(scope: str, finds: Callable[[Any], Any], tags: list[str]) -> None:
    found = findings(entry(finds, scope=scope))
    by_key = dict(zip(ROWS["key"], ROWS["tagCode"], strict=True))
    assert [by_key[one["key"]] for one in found] == tags
    assert {one["rule"] for one in found} == {"sex_was_seen"}


def test_a_rule_about_files_fires_on_a_file() -> None:
    text = 'file | refusal | what\na.xlsx | "" | ""\nb.jpg | file_not_opened | a picture'
    files = read_examples(text, "file")[0].cells
    rule = entry(
        lambda files: files["refusal"] != "", name="file_not_opened", scope="file", fields=("refusal",),
        severity="must-answer", message="{file} is {what}.",
    )  # fmt: skip
    (found,) = findings(rule, files=files)
    assert (found["file"], found["message"], found["seen"]) == ("b.jpg", "b.jpg is a picture.", "a picture")
    assert (found["key"], found["table_id"], found["row"], found["column"]) == ("", -1, 0, "")


def test_a_rule_about_headings_fires_on_a_heading_and_stands_on_its_field_or_guess() -> None:
    headings = read_examples(
        'table_id | row | column | heading | field | guess | is_missing\n1 | 1 | 3 | Dayt | "" | eventDate | no\n'
        '1 | 1 | 4 | Sex | sex | "" | no\n1 | 1 | -1 | "" | tagCode | "" | yes',
        "heading",
    )[0].cells
    rule = entry(
        lambda headings: headings["field"] != "sex", scope="heading", fields=("field",),
        suggests=lambda found: {"field": found["guess"]}, message="{heading}: {suggestion}?", unsuggested="{field}?",
    )  # fmt: skip
    found = findings(rule, headings=headings)
    stands = [(one["field"], one["column"], one["seen"]) for one in found]
    assert stands == [("eventDate", "D", "Dayt"), ("tagCode", "", "")]
    assert [one["message"] for one in found] == ["Dayt: eventDate?", "tagCode?"]
    assert [one["row"] for one in found] == [1, 1]


def test_a_rule_about_answers_fires_on_an_answer_and_stands_where_the_rule_says() -> None:
    answers = read_examples(
        "key | field | outcome | was | now | typed | row | number\n"
        "k1 | eventDate | conflict | 2026-03-09 | 2026-09-04 | 3 September | 7 | 2\n"
        'k2 | sex | applied | male | male | yes | 8 | 3\n"" | "" | no such question | "" | "" | hello | 4 | 0',
        "answer",
    )[0].cells
    rule = entry(
        lambda answers: answers["outcome"] != "applied", scope="answer", fields=("now",), looked_up=("field",),
        stands_on=lambda found: found["field"], message="Question {number}: {seen}.", asks="coordinator",
    )  # fmt: skip
    about_row, about_none = findings(rule, answers=answers)
    assert (about_row["key"], about_row["field"], about_row["row"]) == ("k1", "eventDate", 7)
    assert (about_row["seen"], about_row["value"], about_row["column"]) == ("2026-09-04", "2026-09-04", "")
    assert about_row["message"] == "Question 2: 2026-09-04."
    assert (about_none["key"], about_none["seen"], about_none["value"]) == ("", "hello", "")


def test_a_finding_has_the_address_of_its_cell() -> None:
    (found,) = findings(entry(lambda rows: rows["sex_written"] == "femmale", looked_up=("sex_written",)))
    row = ROWS.iloc[2]
    assert list(found) == list(FINDING_COLUMNS)
    for name in ("key", "person_id", "file", "file_sha256", "sheet", "table_id", "row"):
        assert found[name] == row[name]
    assert (found["field"], found["column"], found["seen"]) == ("sex", "E", "femmale")
    assert found["value"] == "female", "what the cell says in standard form"
    assert (found["severity"], found["asks"], found["state"]) == ("please-check", "tagger", "open")


LETTERS = [
    ("a column of the table", "tagCode", ["A", "A", ""]),
    ("a column after Z", "forewingLength", ["AB", "AB", ""]),
    ("a column of each table", "sex", ["C", "C", "E"]),
    ("no column in any", "wingSpan", ["", "", ""]),
]


@pytest.mark.parametrize(("field", "letters"), [case[1:] for case in LETTERS], ids=[case[0] for case in LETTERS])
def test_a_finding_names_the_column_of_its_own_table(field: str, letters: list[str]) -> None:
    found = findings(entry(lambda rows: rows["row"] > 0, fields=(field,)))
    assert [one["column"] for one in found] == letters


@pytest.mark.parametrize(
    ("severity", "state"), [("must-answer", "open"), ("please-check", "open"), ("for-information", "noted")]
)
def test_what_is_only_for_information_is_noted_and_not_open(severity: str, state: str) -> None:
    assert {one["state"] for one in findings(entry(is_female, severity=severity))} == {state}


def test_a_cell_rule_looks_at_each_of_its_fields() -> None:
    rule = entry(lambda cells: cells.isin(["male", "98"]), scope="cell", fields=("sex", "wingSpan"))
    assert sorted((one["field"], one["seen"]) for one in findings(rule)) == [("sex", "M"), ("wingSpan", "98")]


def test_several_cell_rules_look_at_one_column_and_keep_apart() -> None:
    blank = entry(lambda cells: cells == "", name="blank", scope="cell", fields=("forewingLength",))
    short = entry(lambda cells: cells.isin(["48", ""]), name="short", scope="cell", fields=("forewingLength", "sex"))
    found = findings(blank, short, entry(is_female, name="female", scope="cell"))
    by_rule = {name: [one["row"] for one in found if one["rule"] == name] for name in ("blank", "short", "female")}
    assert by_rule == {"blank": [9], "short": [5, 9], "female": [5, 9]}


def test_cell_rules_that_find_nothing_say_nothing() -> None:
    assert findings(entry(lambda cells: cells == "nothing", scope="cell")) == []


def test_a_cell_rule_suggests_for_its_own_field() -> None:
    rule = entry(
        is_female, scope="cell", suggests=lambda cells: {"sex": cells.str.replace("fe", "")},
        message="{seen}: {suggestion}?", unsuggested="?",
    )  # fmt: skip
    said = [(one["suggestion"], one["message"]) for one in findings(rule)]
    assert said == [("male", "F: male?"), ("male", "femmale: male?")]


def test_a_suggestion_for_several_fields_names_each() -> None:
    rule = entry(
        lambda rows: rows["row"] < 9, fields=("forewingLength", "wingSpan"),
        suggests=lambda found: {"forewingLength": found["wingSpan"], "wingSpan": found["forewingLength"]},
        message="{suggestion}?", unsuggested="crossed?",
    )  # fmt: skip
    found = findings(rule)
    assert found[0]["suggestion"] == "forewingLength=98; wingSpan=51.5"
    assert found[0]["message"] == "98, 51.5?"


def test_a_suggestion_of_which_a_part_is_missing_is_none() -> None:
    rule = entry(
        lambda rows: rows["row"] == 9, fields=("forewingLength", "wingSpan"),
        suggests=lambda found: {"forewingLength": found["wingSpan"], "wingSpan": found["forewingLength"]},
        message="{suggestion}?", unsuggested="crossed?",
    )  # fmt: skip
    (found,) = findings(rule)
    assert (found["suggestion"], found["message"]) == ("", "crossed?")


def test_a_row_without_a_suggestion_is_asked_in_other_words() -> None:
    rule = entry(
        is_female, suggests=lambda found: {"sex": found["sex"].where(found["row"] == 5, None)},
        message="Is it {suggestion}?", unsuggested="What is it in row {row}?",
    )  # fmt: skip
    assert [(one["suggestion"], one["message"]) for one in findings(rule)] == [
        ("female", "Is it female?"), ("", "What is it in row 9?"),
    ]  # fmt: skip


def test_a_rule_that_never_suggests_has_one_message() -> None:
    assert findings(entry(is_female))[0]["message"] == "Row 5: F."


def test_a_finding_stands_on_the_field_that_the_rule_says() -> None:
    rule = entry(
        lambda rows: rows["row"] < 9, fields=("sex", "forewingLength"),
        stands_on=lambda found: pd.Series(["sex", "forewingLength"], index=found.index),
    )  # fmt: skip
    assert [(one["field"], one["column"], one["seen"]) for one in findings(rule)] == [
        ("sex", "C", "M"), ("forewingLength", "AB", "48"),
    ]  # fmt: skip


PLACED = [one for one in catalogue() if one.stands_on is not None and one.rule.scope != "answer"]


@pytest.mark.parametrize("rule", PLACED, ids=[one.name for one in PLACED])
def test_every_rule_that_says_where_it_stands_names_a_field_of_its_own_for_each_row(rule: Entry) -> None:
    for example in read_examples(rule.rule.examples.finds, rule.rule.scope):
        rows = example.cells.assign(file="a.csv", file_sha256="ab", sheet="", table_id=1)
        found = findings(rule, rows=rows)
        assert len(found) == example.found.sum()
        assert {one["field"] for one in found} <= set(rule.rule.fields)
        for one, seen in zip(found, rows[example.found.to_numpy()].to_dict("records"), strict=True):
            assert one["seen"] == seen[f"{one['field']}_written"]


ABOUT_ANSWERS = [one for one in catalogue() if one.stands_on is not None and one.rule.scope == "answer"]


@pytest.mark.parametrize("rule", ABOUT_ANSWERS, ids=[one.name for one in ABOUT_ANSWERS])
def test_every_rule_about_answers_that_says_where_it_stands_names_the_field_that_was_asked_about(rule: Entry) -> None:
    for example in read_examples(rule.rule.examples.finds, "answer"):
        found = findings(rule, answers=example.cells)
        asked = example.cells[example.found.to_numpy()]
        assert [one["field"] for one in found] == asked["field"].tolist()
        assert [one["seen"] for one in found] == asked["now"].tolist()


SPOKEN = [
    ("a day", "{first_day}", ["2026-09-03", "2026-09-04", ""]),
    ("a number", "{millimetres}", ["51.5", "48", ""]),
    ("a text", "{tagCode}", ["SM0001", "SM0002", "SM0003"]),
    ("an address", "{file} {sheet} {column}{row}", [f"anna/tags.xlsx Sheet1 {at}" for at in ("C2", "C5", "E9")]),
    ("a field as typed", "{seen}", ["M", "F", "femmale"]),
]  # fmt: skip


@pytest.mark.parametrize(("message", "said"), [case[1:] for case in SPOKEN], ids=[case[0] for case in SPOKEN])
def test_a_message_is_filled_with_what_the_row_says(message: str, said: list[str]) -> None:
    rule = entry(
        lambda rows: rows["row"] > 0, fields=("sex", "tagCode"), looked_up=("first_day", "millimetres"), message=message
    )
    assert [one["message"] for one in findings(rule)] == said


# Six figures are plenty of a small number; from a thousand on, whole ones.
NUMBERS = [(51.5, "51.5"), (0.1 + 0.2, "0.3"), (4012.6, "4013"), (-64.812345, "-64.8123"), (98.0, "98")]


@pytest.mark.parametrize(("number", "said"), NUMBERS, ids=[said for _, said in NUMBERS])
def test_numbers_in_a_message_are_trimmed(number: float, said: str) -> None:
    rows = ROWS.iloc[:1].assign(millimetres=number)
    rule = entry(lambda rows: rows["row"] > 0, looked_up=("millimetres",), message="{millimetres}")
    assert findings(rule, rows=rows)[0]["message"] == said


def test_the_words_of_a_message_are_kept_for_other_languages() -> None:
    rule = entry(is_female, fields=("sex", "tagCode"), message="Row {row}: {tagCode} is {seen}.")
    words = json.loads(findings(rule)[1]["words"])
    assert words == {"row": "9", "tagCode": "SM0003", "seen": "femmale", "suggestion": ""}


def fails(*_: Any) -> Any:
    raise ValueError("a slip of ours")


FAILING = [
    ("a cell rule", entry(fails, name="a_bad_one", scope="cell")),
    ("a row rule", entry(fails, name="a_bad_one")),
    ("a season rule", entry(fails, name="a_bad_one", scope="season")),
    ("a rule that reads what it does not declare", entry(lambda rows: rows["wingSpan"] != "", name="a_bad_one")),
    ("a rule that suggests", entry(is_female, name="a_bad_one", suggests=fails)),
    ("a cell rule that suggests", entry(is_female, name="a_bad_one", scope="cell", suggests=fails)),
    ("a cell rule that suggests for no text", entry(is_female, name="a_bad_one", suggests=lambda _: {"sex": 3})),
]


@pytest.mark.parametrize("rule", [case[1] for case in FAILING], ids=[case[0] for case in FAILING])
def test_a_rule_that_raises_is_our_fault_and_is_named(rule: Entry) -> None:
    good = entry(is_female, name="a_good_one", scope="cell")
    with pytest.raises(RuleFailed, match="a_bad_one") as failed:
        findings(good, rule)
    assert "a_good_one" not in str(failed.value)


def test_a_rule_about_files_that_raises_is_named() -> None:
    files = read_examples("file\na.xlsx", "file")[0].cells
    with pytest.raises(RuleFailed, match="a_bad_one"):
        findings(entry(fails, name="a_bad_one", scope="file"), files=files)


def test_a_missing_yes_or_no_is_a_no() -> None:
    rule = entry(lambda rows: (rows["millimetres"] > 50).where(rows["millimetres"].notna()), looked_up=("millimetres",))
    assert [one["row"] for one in findings(rule)] == [2]


@pytest.mark.parametrize("scope", ["file", "heading", "cell", "row", "sheet", "person", "season", "answer"])
def test_without_any_rows_no_rule_is_run(scope: str) -> None:
    found = validate(frames(empty("row")), [entry(fails, scope=scope)])
    assert found.empty and list(found.columns) == list(FINDING_COLUMNS)


def test_without_any_rule_there_is_no_finding() -> None:
    assert validate(frames(), []).empty


def test_findings_keep_to_their_rows_whatever_the_numbers_of_the_rows() -> None:
    rows = ROWS.set_axis(pd.Index([7, 3, 11]))
    for scope in ("cell", "row"):
        assert [one["seen"] for one in findings(entry(is_female, scope=scope), rows=rows)] == ["F", "femmale"]


MEASURED = ("millimetres", "nearest_sex", "gap_tag")


def fingerprint(rows: pd.DataFrame = ROWS, **form: Any) -> str:
    """That of the first row, as a rule sees it that reads sex, forewing and two facts it only suggests."""
    usual = {"fields": ("sex", "forewingLength"), "looked_up": MEASURED}
    return str(findings(entry(lambda rows: rows["row"] == 2, **(usual | form)), rows=rows)[0]["fingerprint"])


# A waiver holds as long as every value that the rule read stays what it was.
READ = [
    ("nothing changed", {}, True),
    ("a field that it reads", {"sex": "female"}, False),
    ("another field that it reads", {"forewingLength": "52"}, False),
    ("a fact that it reads", {"millimetres": 52.0}, False),
    ("a fact that is missing now", {"millimetres": float("nan")}, False),
    ("a field that it does not read", {"wingSpan": "99"}, True),
    ("what would be suggested", {"nearest_sex": "male", "gap_tag": "SM0009"}, True),
    ("the row's place", {"row": 2, "table_id": 2, "sheet": "Two"}, True),
]


@pytest.mark.parametrize(("changed", "stays"), [case[1:] for case in READ], ids=[case[0] for case in READ])
def test_a_fingerprint_tells_whether_a_value_that_the_rule_read_is_another_now(
    changed: dict[str, Any], stays: bool
) -> None:
    assert (fingerprint(ROWS.assign(**changed)) == fingerprint()) is stays


def test_a_rule_that_looks_at_something_new_has_another_fingerprint() -> None:
    assert fingerprint(version=2) != fingerprint()


def test_a_value_in_another_field_is_another_fingerprint() -> None:
    swapped = ROWS.assign(sex="51.5", forewingLength="male")
    assert fingerprint(swapped) != fingerprint()


def test_a_cell_rule_has_a_fingerprint_of_its_cell_alone() -> None:
    rule = entry(is_female, scope="cell")
    other = ROWS.assign(forewingLength="40", millimetres=40.0, tagCode="SM0009")
    marks = [[one["fingerprint"] for one in findings(rule, rows=rows)] for rows in (ROWS, other)]
    assert marks[0] == marks[1] and len(set(marks[0])) == 1 and marks[0][0]


def test_what_asks_nothing_has_no_fingerprint() -> None:
    assert fingerprint(severity="for-information") == ""
