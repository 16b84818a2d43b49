"""Whose sheet it is: the folder, else the mail that it came in, a name on the sheet, the tags' allotment."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import pandas as pd

from pipeline.values.text import tidy


def by_folder(file: str, people: Mapping[str, str]) -> str:
    """The person after whose id a folder on the file's path is named; `people` maps lower case to id.

    >>> by_folder("P03/late/sheet 2.xlsx", {"p03": "p03"}), by_folder("p03.xlsx", {"p03": "p03"})
    ('p03', '')
    """
    folders = file.split("/")[:-1]
    return next((people[folder.lower()] for folder in folders if folder.lower() in people), "")


def by_address(address: str, people: pd.DataFrame) -> str:
    """The one person whose own address a mail came from, or whose guardian's."""
    for column in ("email", "guardian_email") if address else ():
        of_address = people.loc[people[column].str.lower() == address.lower(), "person_id"]
        if len(of_address) == 1:
            return str(of_address.iloc[0])
    return ""


def by_name(names: Iterable[str], known: Mapping[str, str]) -> str:
    """The one person whom the names on a sheet point to; `known` maps tidied names to ids.

    >>> by_name(["Anna Belliveau", "", "anna  belliveau"], {"anna belliveau": "p01"})
    'p01'
    >>> by_name(["Anna Belliveau", "Luc Roy"], {"anna belliveau": "p01", "luc roy": "p02"})
    ''
    """
    found = {known[tidy(name)] for name in names if tidy(name) in known}
    return found.pop() if len(found) == 1 else ""


def by_allotment(rows: pd.DataFrame) -> pd.Series:
    """By SHA-256 of the file: the one person to whom most of its releases' tags were allotted, at least half of them.

    `rows` has file_sha256, recordKind, tagCode and tag_person_id.
    """
    releases = rows[(rows["recordKind"] == "release") & (rows["tagCode"] != "")]
    of_people = releases[releases["tag_person_id"] != ""].value_counts(["file_sha256", "tag_person_id"])
    counts = of_people.rename("n").reset_index()
    most = counts[counts["n"] == counts.groupby("file_sha256")["n"].transform("max")]
    most = most.drop_duplicates("file_sha256", keep=False)
    share = most["n"] / most["file_sha256"].map(releases["file_sha256"].value_counts()).astype("float64")
    senders: pd.Series = most[share >= 0.5].set_index("file_sha256")["tag_person_id"]
    return senders
