"""Reads the coordinator's own folder: settings, people, tags; a slip in it is one plain line."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import pandas as pd

from pipeline.files.schemas import country_names, lists, portal_columns, table
from pipeline.settings import Settings, SettingsWrong, read_settings
from pipeline.values.lists import Lists, PortalLists
from pipeline.values.tag_code import codes_between

PEOPLE = (
    "person_id", "name", "email", "language", "publish_name", "minor", "group", "home_latitude", "home_longitude",
    "guardian_name", "guardian_email", "consent_on",
)  # fmt: skip
TAGS = ("season", "first_code", "last_code", "person_id", "allotted_on", "status")
STATUSES = ("", "allotted", "kept", "returned", "lost", "spoiled")
Lines = tuple[dict[str, str], ...]


@dataclass(frozen=True)
class ProgrammeFolder:
    """All that the coordinator has told us: settings, people, tags and the lists that cells are read against."""

    settings: Settings
    people: pd.DataFrame
    tags: Lines
    lists: Lists
    portal_lists: PortalLists
    text: str  # everything above as written, for the ledger's fingerprint

    @property
    def homes(self) -> pd.DataFrame:
        """Latitude and longitude of every home on file, as numbers."""
        columns = {"latitude": "home_latitude", "longitude": "home_longitude"}
        numbers = {new: pd.to_numeric(self.people[old], errors="coerce") for new, old in columns.items()}
        return pd.DataFrame(numbers).dropna()


def read_programme(folder: Path) -> ProgrammeFolder:
    """The programme of a folder; raises SettingsWrong with a line for each slip."""
    own = folder / "programme"
    if not (own / "programme.toml").is_file():
        raise SettingsWrong(
            f"There is no programme/programme.toml in {folder.resolve().name or folder}. "
            "Go to your programme's folder, or make one with: tagsheaf new FOLDER"
        )
    names = ("people.csv", "tags.csv", "taxa.csv", "sites.csv", "sensitive_places.csv")
    texts = {name: _text(own / name) for name in names}
    people = _table(own / "people.csv", texts["people.csv"], PEOPLE)
    tags = _table(own / "tags.csv", texts["tags.csv"], TAGS)
    taxa = _table(own / "taxa.csv", texts["taxa.csv"], ("scientificName",))
    slips = [*_people_slips(people), *_tag_slips(tags, people)]
    if slips:
        raise SettingsWrong("\n".join(slips))
    settings_text = (own / "programme.toml").read_text(encoding="utf-8")
    return ProgrammeFolder(
        settings=read_settings(own / "programme.toml"),
        people=pd.DataFrame(people, columns=list(PEOPLE), dtype="str").fillna(""),
        tags=tags,
        lists=lists(taxa),
        portal_lists=PortalLists(portal_columns(), (*table("taxa.csv"), *taxa), country_names()),
        text="\x1e".join([settings_text, *texts.values()]),
    )


def default_programme() -> ProgrammeFolder:
    """A programme with no people and no tags, for a look at a single sheet outside any folder."""
    portal_lists = PortalLists(portal_columns(), table("taxa.csv"), country_names())
    return ProgrammeFolder(Settings(), pd.DataFrame(columns=list(PEOPLE), dtype="str"), (), lists(), portal_lists, "")


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8-sig") if path.is_file() else ""
    except UnicodeDecodeError:
        raise SettingsWrong(f"programme/{path.name} is not saved as UTF-8: save it again as CSV UTF-8.") from None


def _table(path: Path, text: str, needed: Sequence[str]) -> Lines:
    if not text.strip():
        return ()
    reader = csv.DictReader(io.StringIO(text))
    missing = [name for name in needed if name not in (reader.fieldnames or ())]
    if missing:
        raise SettingsWrong(f"programme/{path.name} lacks the column {missing[0]}: add it to the first line.")
    return tuple({name: (cell or "").strip() for name, cell in line.items() if name} for line in reader)


def _people_slips(people: Lines) -> list[str]:
    slips, seen = [], dict[str, int]()
    for number, line in enumerate(people, start=2):
        person = line["person_id"]
        if not re.fullmatch(r"[A-Za-z0-9_-]+", person):
            slips.append(f"people.csv line {number}: the person_id {person!r} may hold letters, digits, - and _ only.")
        elif person.lower() in seen:
            slips.append(f"people.csv line {number}: the person_id {person} stands in line {seen[person.lower()]} too.")
        seen[person.lower()] = number
        for name in ("minor", "publish_name"):
            if line[name] not in ("", "yes", "no"):
                slips.append(f"people.csv line {number}: {name} is {line[name]!r}; write yes or no.")
    return slips


def _tag_slips(tags: Lines, people: Lines) -> list[str]:
    slips, known = [], {line["person_id"] for line in people}
    holder: dict[tuple[str, str], tuple[str, int]] = {}
    for number, line in enumerate(tags, start=2):
        if line["status"] not in STATUSES:
            slips.append(
                f"tags.csv line {number}: the status {line['status']!r} is not one of {', '.join(STATUSES[1:])}."
            )
        if line["person_id"] and line["person_id"] not in known:
            slips.append(f"tags.csv line {number}: nobody in people.csv has the person_id {line['person_id']}.")
        try:
            codes = list(codes_between(line["first_code"], line["last_code"] or line["first_code"]))
        except ValueError:
            ends = f"{line['first_code']} to {line['last_code']}"
            slips.append(f"tags.csv line {number}: {ends} is not a range that counts up.")
            continue
        slips.extend(_overlap(number, line, codes, holder))
    return slips


def _overlap(
    number: int, line: dict[str, str], codes: Sequence[str], holder: dict[tuple[str, str], tuple[str, int]]
) -> list[str]:
    """The first code of the line that another person holds; the range is taken down otherwise."""
    person, is_handed_out = line["person_id"], line["status"] in ("", "allotted")
    for code in codes:
        before = holder.get((line["season"], code))
        if is_handed_out and before and before[0] != person:
            return [f"tags.csv line {number}: {code} was already handed to {before[0]} in line {before[1]}."]
        if is_handed_out:
            holder[line["season"], code] = (person, number)
        elif line["status"] == "returned":
            holder.pop((line["season"], code), None)
    return []
