"""The programme's settings: every one has a default, and a slip of the pen is named with its line."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any, Literal, get_type_hints

from pipeline.settings_slips import slips


class SettingsWrong(Exception):
    """A slip in the programme's settings: one plain line for each thing to put right."""


@dataclass(frozen=True)
class Programme:
    """Who runs the season, and under which terms its records are published."""

    id: str = "programme"  # part of every identifier
    name: str = "Wing-tag programme"
    contact: str = ""
    licence: str = "https://creativecommons.org/licenses/by/4.0/legalcode"
    rights_holder: str = ""
    permit: str = ""
    languages: tuple[Literal["en", "fr", "es"], ...] = ("en", "fr")


@dataclass(frozen=True)
class Season:
    """When butterflies are released, and in which order a day's numbers are read."""

    label: str = "2026"
    first_day: date = date(2026, 8, 1)
    last_day: date = date(2026, 11, 10)
    date_order: Literal["ask", "day-first", "month-first"] = "ask"


@dataclass(frozen=True)
class Tags:
    """What is printed on a tag."""

    pattern: str = "[A-Z]{2}[0-9]{4}|[0-9][A-Z][0-9]{4}"
    check_character: Literal["none", "iso7064-mod37-36", "iso7064-mod11-2"] = "none"


@dataclass(frozen=True)
class Species:
    """Which butterflies carry the tags."""

    default: str = "Danaus plexippus"
    allowed: tuple[str, ...] = ("Danaus plexippus",)


@dataclass(frozen=True)
class Region:
    """Where releases and finds are expected, and how a bare position is understood."""

    countries: tuple[str, ...] = ("CA", "US", "MX")
    release_countries: tuple[str, ...] = ("CA",)
    datum: str = "EPSG:4326"
    unknown_datum_metres: float = 120
    unsigned_longitude: Literal["ask", "west", "east"] = "ask"
    receiver_accuracy_m: float = 30


@dataclass(frozen=True)
class Privacy:
    """How coarsely homes and minors' places are shown, and whose names."""

    home_square_degrees: float = 0.01
    home_unknown: Literal["most-used-place", "none"] = "most-used-place"
    publish_names: Literal["consent", "never"] = "consent"


@dataclass(frozen=True)
class Letters:
    """How letters are signed and when an answer is due."""

    signed_by: str = ""
    reply_to: str = ""
    days_to_answer: int = 14
    reminder_days: int = 10
    reminders: int = 2


@dataclass(frozen=True)
class Finds:
    """What is usual of a tagged butterfly that is found again."""

    longest_life_days: int = 310
    fastest_km_per_day: float = 150
    local_km: float = 20


@dataclass(frozen=True)
class Portal:
    """What goes to the portal, and in which words."""

    batch: Literal["each-run", "when-asked"] = "each-run"
    origins: tuple[Literal["wild", "reared", "bred", "bought"], ...] = ("wild", "reared")
    occurrence_status: Literal["detected", "present"] = "detected"
    sex_words: tuple[str, ...] = ("female", "male")
    life_stage_words: tuple[str, ...] = ("egg", "larva", "pupa", "juvenile", "adult")
    dataset_id: str = ""
    establishment_means: str = ""


@dataclass(frozen=True)
class Settings:
    """Everything that programme.toml may say."""

    programme: Programme = field(default_factory=Programme)
    season: Season = field(default_factory=Season)
    tags: Tags = field(default_factory=Tags)
    species: Species = field(default_factory=Species)
    region: Region = field(default_factory=Region)
    privacy: Privacy = field(default_factory=Privacy)
    letters: Letters = field(default_factory=Letters)
    finds: Finds = field(default_factory=Finds)
    portal: Portal = field(default_factory=Portal)


def read_settings(source: Path | str) -> Settings:
    """The settings of a programme.toml, given as a path or as its text; what is not said has its default.

    Raises SettingsWrong with one plain line for each slip.
    """
    text = source if isinstance(source, str) else _text_of(source)
    try:
        said = tomllib.loads(text)
    except tomllib.TOMLDecodeError as slip:
        raise SettingsWrong(_not_toml(str(slip))) from None
    found = sorted(slips(said, text, get_type_hints(Settings)))
    if found:
        raise SettingsWrong("\n".join(words for _, words in found))
    return _settings(said)


def _text_of(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8-sig")
    except OSError:
        raise SettingsWrong(f"The settings {path.name} cannot be opened in {path.parent}.") from None
    except UnicodeDecodeError:
        raise SettingsWrong(f"The settings {path.name} are not UTF-8 text: save them as UTF-8.") from None


def _not_toml(slip: str) -> str:
    place = re.search(r"line (\d+)", slip)
    where = f"Line {place[1]}" if place else "The last line"
    return f"{where} of the settings cannot be read: is a quotation mark, a bracket or an = missing there?"


def _settings(said: dict[str, Any]) -> Settings:
    sections = get_type_hints(Settings)
    return Settings(
        **{name: sections[name](**{key: _stored(v) for key, v in keys.items()}) for name, keys in said.items()}
    )


def _stored(value: Any) -> Any:
    return tuple(value) if isinstance(value, list) else value
