"""Reads the coordinator's own folder: settings, people, tags; a slip in it is one plain line."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

import pandas as pd

from pipeline.files.programme_slips import people_slips, sensitive_slips, tag_slips
from pipeline.files.schemas import country_names, lists, portal_columns, table, words
from pipeline.settings import Settings, SettingsWrong, read_settings
from pipeline.values.allotment import Range
from pipeline.values.lists import Lists, PortalLists
from pipeline.values.orcid import orcids_of
from pipeline.values.sensitive import COLUMNS as SENSITIVE
from pipeline.values.tag_code import codes_between

PEOPLE = (
    "person_id", "name", "email", "language", "publish_name", "minor", "group", "home_latitude", "home_longitude",
    "guardian_name", "guardian_email", "consent_on",
)  # fmt: skip
MAY_HAVE = ("orcid",)  # columns of people.csv that may be left out
TAGS = ("season", "first_code", "last_code", "person_id", "allotted_on", "status")
SITES = ("name", "latitude", "longitude", "uncertainty_m", "public")
Lines = tuple[dict[str, str], ...]


@dataclass(frozen=True)
class ProgrammeFolder:
    """All that the coordinator has told us: settings, people, tags and the lists that cells are read against."""

    settings: Settings
    people: pd.DataFrame
    sites: pd.DataFrame  # name, latitude, longitude, uncertainty_m as numbers, public
    tags: tuple[Range, ...]
    lists: Lists
    portal_lists: PortalLists
    text: str  # everything above as written, for the ledger's fingerprint
    sensitive: pd.DataFrame = field(default_factory=lambda: pd.DataFrame(columns=list(SENSITIVE), dtype="str"))

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
    ranges, unread = _ranges(tags)
    sensitive = _table(own / "sensitive_places.csv", texts["sensitive_places.csv"], SENSITIVE)
    slips = [*people_slips(people), *unread, *tag_slips(ranges, people), *sensitive_slips(sensitive)]
    if slips:
        raise SettingsWrong("\n".join(slips))
    settings_text = (own / "programme.toml").read_text(encoding="utf-8")
    return ProgrammeFolder(
        settings=read_settings(own / "programme.toml"),
        people=pd.DataFrame(people, columns=[*PEOPLE, *MAY_HAVE], dtype="str").fillna(""),
        sites=_sites(_table(own / "sites.csv", texts["sites.csv"], SITES)),
        tags=ranges,
        sensitive=pd.DataFrame(sensitive, columns=list(SENSITIVE), dtype="str").fillna(""),
        lists=lists(taxa),
        portal_lists=PortalLists(
            portal_columns(),
            (*table("taxa.csv"), *taxa),
            country_names(),
            words("cause_of_death").spellings,
            orcids_of(people),
        ),
        text="\x1e".join([settings_text, *texts.values()]),
    )


def default_programme() -> ProgrammeFolder:
    """A programme with no people and no tags, for a look at a single sheet outside any folder."""
    portal_lists = PortalLists(portal_columns(), table("taxa.csv"), country_names())
    nobody = pd.DataFrame(columns=list(PEOPLE), dtype="str")
    return ProgrammeFolder(Settings(), nobody, _sites(()), (), lists(), portal_lists, "")


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


def _ranges(tags: Lines) -> tuple[tuple[Range, ...], list[str]]:
    """The lines of tags.csv with their codes counted out, and a slip for each that is no range."""
    ranges, slips = [], []
    for number, line in enumerate(tags, start=2):
        first, last = line["first_code"], line["last_code"] or line["first_code"]
        try:
            codes: Sequence[str] = codes_between(first, last)
        except ValueError:
            codes = ()
            slips.append(f"tags.csv line {number}: {first} to {last} is not a range that counts up.")
        ranges.append(Range(line["season"], line["person_id"], line["status"], codes))
    return tuple(ranges), slips


def _sites(lines: Lines) -> pd.DataFrame:
    sites = pd.DataFrame(lines, columns=list(SITES), dtype="str").fillna("")
    numbers = {name: pd.to_numeric(sites[name], errors="coerce") for name in SITES[1:4]}
    return sites.assign(**numbers).dropna(subset=["latitude", "longitude"])
