"""The settings are read with their defaults, and a slip is named with its line and the nearest key."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.settings import Settings, SettingsWrong, read_settings


def test_nothing_said_gives_the_defaults() -> None:
    assert read_settings("") == Settings()


def test_what_is_said_is_taken_and_the_rest_has_its_default() -> None:
    settings = read_settings(
        '[season]\nfirst_day = 2026-10-01\nlast_day = 2027-02-28  # next year\n[region]\ncountries = ["NZ"]\n'
        "receiver_accuracy_m = 0\n"
    )
    assert settings.season.first_day == date(2026, 10, 1)
    assert settings.season.last_day == date(2027, 2, 28)
    assert settings.region.countries == ("NZ",)
    assert settings.region.receiver_accuracy_m == 0
    assert settings.region.release_countries == ("CA",)


def test_every_setting_is_hashable_and_frozen() -> None:
    settings = Settings()
    assert hash(settings) == hash(read_settings(""))
    assert all(is_dataclass(getattr(settings, section.name)) for section in fields(settings))


SLIPS = [
    (
        "an unknown key",
        "[season]\n\nfrist_day = 2026-08-01\n",
        ["Line 3", "frist_day", '"first_day"', "[season]"],
    ),
    ("an unknown section", "\n[seson]\nlabel = '2026'\n", ["Line 2", "[seson]", "[season]"]),
    ("a key outside its section", "licence = 'x'\n", ["Line 1", "licence", "[programme]"]),
    ("a dotted key", "season.labl = '2026'\n", ["Line 1", "labl", '"label"']),
    ("text for a number", '[letters]\ndays_to_answer = "14 days"\n', ["Line 2", "a whole number", "14 days"]),
    ("a broken number of days", "[letters]\nreminders = 1.5\n", ["Line 2", "a whole number", "1.5"]),
    ("yes-no for a number", "[privacy]\nhome_square_degrees = true\n", ["Line 2", "a number", "true"]),
    ("text for a day", '[season]\nfirst_day = "2026-08-01"\n', ["Line 2", "a day such as 2026-08-01"]),
    ("a day with a time", "[season]\nlast_day = 2026-11-10T12:00:00\n", ["Line 2", "a day such as"]),
    ("text for a list", '[region]\ncountries = "CA"\n', ["Line 2", "a list"]),
    ("no countries", "[region]\ncountries = []\n", ["Line 2", "country codes"]),
    ("a country by name", '[region]\ncountries = ["Canada"]\n', ["Line 2", "country codes"]),
    (
        "a word not in the list",
        '[season]\ndate_order = "dmy"\n',
        ["Line 2", '"day-first"', '"month-first"', "dmy"],
    ),
    ("a language that we do not write", '[programme]\nlanguages = ["en", "de"]\n', ["Line 2", '"es"']),
    ("an origin that is none", '[portal]\norigins = ["zoo"]\n', ["Line 2", '"wild"']),
    ("a pattern that is none", '[tags]\npattern = "[A-Z{2}"\n', ["Line 2", "a regular expression"]),
    (
        "a word for means not in the standard",
        '[portal]\nestablishment_means = "alien"\n',
        ["Line 2", "alien"],
    ),
    ("a square of nothing", "[privacy]\nhome_square_degrees = 0\n", ["Line 2", "above 0"]),
    ("a negative time to answer", "[letters]\ndays_to_answer = -1\n", ["Line 2", "0 or more"]),
    ("no number at all", "[finds]\nlocal_km = nan\n", ["Line 2", "a number"]),
    (
        "a season that ends before it begins",
        "[season]\nfirst_day = 2027-08-01\n",
        ["2026-11-10", "2027-08-01"],
    ),
    ("a quotation mark missing", '[programme]\nname = "Saltmarsh\n', ["Line 2", "quotation mark"]),
    ("a key twice", "[season]\nlabel = '1'\nlabel = '2'\n", ["Line"]),
    ("two lines in a name", '[programme]\nname = "a\\nb"\n', ["Line 2", "one line of text"]),
    ("a blank id", '[programme]\nid = " "\n', ["Line 2", "not blank"]),
]


@pytest.mark.parametrize(("text", "words"), [slip[1:] for slip in SLIPS], ids=[slip[0] for slip in SLIPS])
def test_a_slip_is_named_in_one_plain_line(text: str, words: list[str]) -> None:
    with pytest.raises(SettingsWrong) as told:
        read_settings(text)
    message = str(told.value)
    assert "\n" not in message
    assert all(word in message for word in words), message
    assert "Error" not in message and "Traceback" not in message


def test_every_slip_has_its_own_line_in_the_order_of_the_file() -> None:
    with pytest.raises(SettingsWrong) as told:
        read_settings("[finds]\nlocal_km = 'x'\n[season]\nlabl = '2026'\n")
    assert [line[:6] for line in str(told.value).splitlines()] == ["Line 2", "Line 4"]


def test_settings_are_read_from_a_file_with_or_without_a_byte_order_mark(tmp_path: Path) -> None:
    path = tmp_path / "programme.toml"
    path.write_bytes(b"\xef\xbb\xbf" + '[programme]\nname = "Marais salé"\n'.encode())
    assert read_settings(path).programme.name == "Marais salé"


@pytest.mark.parametrize("content", [None, b"[programme]\nname = '\xe9'\n"], ids=["no file", "not UTF-8"])
def test_a_file_that_cannot_be_read_is_a_plain_line(tmp_path: Path, content: bytes | None) -> None:
    path = tmp_path / "programme.toml"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(SettingsWrong, match=r"programme\.toml"):
        read_settings(path)


@given(st.integers(0, 10_000), st.dates(date(1990, 1, 1), date(2100, 1, 1)))
def test_written_values_come_back(number: int, day: date) -> None:
    text = f"[letters]\ndays_to_answer = {number}\n[season]\nfirst_day = {day}\nlast_day = {day}\n"
    settings = read_settings(text)
    assert (settings.letters.days_to_answer, settings.season.first_day) == (number, day)


@given(st.text(max_size=80))
def test_any_text_gives_settings_or_a_plain_line(text: str) -> None:
    try:
        assert isinstance(read_settings(text), Settings)
    except SettingsWrong as told:
        assert str(told)
