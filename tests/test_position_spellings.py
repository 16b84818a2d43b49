"""How people write positions: 160 spellings, each with what must come of it. Written with the reader in view.

The outcomes were fixed before the first run; the ways of writing are those of `mess` in real sheets (invented points)
and of ISO 6709, MGRS and RFC 5870. A doubt is asked about; none of these may be read as another point.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from pyproj import Proj

from pipeline.values import position

AS_LATITUDE = [  # text, degrees or the doubt
    ("45.5", "45.5"), ("+45.5", "45.5"), ("-45.5", "-45.5"), ("\u221245.5", "-45.5"), ("\u201345.5", "-45.5"),
    ("\u201445.5", "-45.5"), ("\ufe6345.5", "-45.5"), ("\uff0d45.5", "-45.5"), ("45,5", "45.5"),
    ("\uff14\uff15.5", "45.5"), (" 45.5 ", "45.5"), ("\u00a045.5\u202f", "45.5"), ("45.5;", "45.5"),
    ("45.5,", "45.5"), ("45.50000", "45.50000"), ("45", "45"), ("0", "0"), ("0.0", "0.0"), ("90", "90"),
    ("45.5N", "45.5"), ("45.5 N", "45.5"), ("N45.5", "45.5"), ("N 45.5", "45.5"), ("n45.5", "45.5"),
    ("45.5S", "-45.5"), ("S 45.5", "-45.5"), ("45.5 north", "45.5"), ("45.5 South", "-45.5"), ("nord 45,5", "45.5"),
    ("45,5 sud", "-45.5"), ("45.5 Norte", "45.5"), ("sur 45.5", "-45.5"), ("45.5\u00b0", "45.5"),
    ("45.5\u00b0N", "45.5"), ("45.5\u00ba N", "45.5"), ("45.5\u02da N", "45.5"), ("45.5 deg", "45.5"),
    ("45.5 degrees", "45.5"), ("lat 45.5", "45.5"), ("Lat: 45.5", "45.5"), ("latitude 45.5 N", "45.5"),
    ("45\u00b030'N", "45.5000000"), ("45\u00b0 30' N", "45.5000000"), ("45\u00b030\u2032N", "45.5000000"),
    ("45\u00ba30\u2019N", "45.5000000"), ("45\u02da30\u00b4N", "45.5000000"), ("N45\u00b030'", "45.5000000"),
    ("45 30 N", "45.5000000"), ("45-30N", "45.5000000"), ("45:30N", "45.5000000"), ("45d30mN", "45.5000000"),
    ("45\u00b030.5'N", "45.5083333"), ("45\u00b0 30,5' N", "45.5083333"), ("N 45\u00b0 30.500", "45.5083333"),
    ("45 30.5", "45.5083333"), ("-45 30.5", "-45.5083333"), ("45\u00b030'S", "-45.5000000"),
    ("0\u00b030'S", "-0.5000000"), ("-0\u00b030'", "-0.5000000"), ("45\u00b030'15\"N", "45.5041667"),
    ("45\u00b0 30' 15\" N", "45.5041667"), ("45\u00b030\u203215\u2033N", "45.5041667"),
    ("45\u00b030'15''N", "45.5041667"), ("45\u00b030\u201915\u201dN", "45.5041667"), ("45 30 15", "45.5041667"),
    ("45:30:15", "45.5041667"), ("45-30-15 N", "45.5041667"), ("45d30m15sN", "45.5041667"),
    ("45\u00b030'15.5\"N", "45.5043056"), ("45\u00b0 30' 15,5\" N", "45.5043056"), ("N45 30 15.5", "45.5043056"),
    ("45\u00b030'60\"N", "45.5166667"), ("45\u00b060'N", "46.0000000"), ("45\u00b072'N", "minutes-over-59"),
    ("45\u00b030'75\"N", "minutes-over-59"), ("95.5", "off-the-globe"), ("-91", "off-the-globe"), ("45.5E", "?"),
    ("45.5W", "?"), ("-45.5N", "sign-against-letter"), ("+45.5S", "sign-against-letter"),
    ("somewhere", "not-a-number"), ("5 km N of town", "not-a-number"), ("1,234.5", "?"), ("45.5.3", "?"),
    ("46.73.27", "?"), ("5082345", "?"), ("45.5 m", "?"), ("about 45.5", "?"), ("45.5?", "?"), ("NA", ""), ("-", ""),
    ("", ""), ("unknown", ""),
]  # fmt: skip

AS_LONGITUDE = [
    ("-64.37", "-64.37"), ("\u221264.37", "-64.37"), ("64.37W", "-64.37"), ("64.37 W", "-64.37"),
    ("W64.37", "-64.37"), ("64.37 West", "-64.37"), ("ouest 64,37", "-64.37"), ("64.37 Oeste", "-64.37"),
    ("64.37E", "64.37"), ("64,37 est", "64.37"), ("64.37 Este", "64.37"), ("64.37\u00b0W", "-64.37"),
    ("long -64.37", "-64.37"), ("Lon: 64.37 W", "-64.37"), ("64\u00b022'W", "-64.3666667"),
    ("64\u00b0 22.2' W", "-64.3700000"), ("W 64\u00b0 22,2'", "-64.3700000"), ("064\u00b022'W", "-64.3666667"),
    ("-64 22 12", "-64.3700000"), ("64:22:12W", "-64.3700000"), ("64d22m12sW", "-64.3700000"),
    ("64\u00b022'12\"W", "-64.3700000"), ("100\u00ba 15' 50.4\" Oeste", "-100.2640000"), ("180", "180"),
    ("-180", "-180"), ("181", "off-the-globe"), ("64.37N", "?"), ("-64.37W", "-64.37"),
    ("-64.37E", "sign-against-letter"), ("64.37 O", "two-readings"),
]  # fmt: skip

AS_PAIR = [  # text, latitude and longitude or the doubt
    ("45.5, -64.37", "45.5 -64.37"), ("45.5,-64.37", "45.5 -64.37"), ("45.5 -64.37", "45.5 -64.37"),
    ("45.5; -64.37", "45.5 -64.37"), ("45.5/-64.37", "45.5 -64.37"), ("(45.5, -64.37)", "45.5 -64.37"),
    ("45,5 -64,37", "45.5 -64.37"), ("45,5; -64,37", "45.5 -64.37"), ("45,5, -64,37", "45.5 -64.37"),
    ("45.5N 64.37W", "45.5 -64.37"), ("45.5 N, 64.37 W", "45.5 -64.37"), ("N45.5 W64.37", "45.5 -64.37"),
    ("64.37W 45.5N", "45.5 -64.37"), ("W64.37, N45.5", "45.5 -64.37"), ("lat 45.5 lon -64.37", "45.5 -64.37"),
    ("45.5\u00b0N, 64.37\u00b0W", "45.5 -64.37"), ("45.5 Nord, 64.37 Ouest", "45.5 -64.37"),
    ("45\u00b030'N 64\u00b022'W", "45.5000000 -64.3666667"), ("45\u00b030'N, 64\u00b022'W", "45.5000000 -64.3666667"),
    ("N 45\u00b0 30.000 W 064\u00b0 22.200", "45.5000000 -64.3700000"), ("45 30 N 64 22 W", "45.5000000 -64.3666667"),
    ("45\u00b030'00\"N 64\u00b022'12\"W", "45.5000000 -64.3700000"),
    ("45\u00b030'00\"N64\u00b022'12\"W", "45.5000000 -64.3700000"),
    ("45 30 00 N, 64 22 12 W", "45.5000000 -64.3700000"), ("-120.5 45.2", "45.2 -120.5"),
    ("geo:45.5,-64.37", "45.5 -64.37"), ("geo:45.5,-64.37;u=35", "45.5 -64.37"), ("+45.5-064.37/", "45.5 -64.37"),
    ("+4530-06422/", "45.5000000 -64.3666667"), ("+453000-0642212/", "45.5000000 -64.3700000"),
    ("https://maps.example/?q=45.5,-64.37", "45.5 -64.37"),
    ("https://map.example/#map=15/45.5/-64.37", "45.5 -64.37"), ("45.5", "not-a-number"),
    ("45.5 - 64.37", "two-readings"), ("8 45", "?"), ("45.5N 64.37N", "not-a-number"),
    ("by the mill", "not-a-number"), ("45.5, -64.37, 12 m", "?"), ("20T", "not-a-number"), ("", " "),
]  # fmt: skip


def is_as_expected(value: str, doubt: str, expected: str) -> bool:
    """A "?" stands for any doubt: which of them is not settled here."""
    return doubt != "" if expected == "?" else (doubt or value) == expected


@pytest.mark.parametrize(("text", "expected"), AS_LATITUDE, ids=[ascii(text) for text, _ in AS_LATITUDE])
def test_a_latitude_is_read_or_asked_about(text: str, expected: str) -> None:
    reading = position.read(text, "t", "latitude")
    assert is_as_expected(reading.value, reading.doubt, expected)


@pytest.mark.parametrize(("text", "expected"), AS_LONGITUDE, ids=[ascii(text) for text, _ in AS_LONGITUDE])
def test_a_longitude_is_read_or_asked_about(text: str, expected: str) -> None:
    reading = position.read(text, "t", "longitude")
    assert is_as_expected(reading.value, reading.doubt, expected)


@pytest.mark.parametrize(("text", "expected"), AS_PAIR, ids=[ascii(text) for text, _ in AS_PAIR])
def test_a_pair_in_one_cell_is_read_or_asked_about(text: str, expected: str) -> None:
    latitude, longitude = position.read_pair(text)
    assert is_as_expected(f"{latitude.value} {longitude.value}", latitude.doubt or longitude.doubt, expected)


def test_under_a_heading_that_says_so_the_longitude_stands_first() -> None:
    first = [
        position.read_pair(text, is_longitude_first=True) for text in ("-64.37, 45.5", "64.37 45.5", "45.5N 64.37W")
    ]
    assert [(one.value, other.value) for one, other in first] == [
        ("45.5", "-64.37"),
        ("45.5", "64.37"),
        ("45.5", "-64.37"),
    ]
    assert [one.value for one in position.read_pair("45.2, -120.5", is_longitude_first=True)] == ["45.2", "-120.5"]


def test_there_are_as_many_spellings_as_are_promised() -> None:
    spellings = [text for table in (AS_LATITUDE, AS_LONGITUDE, AS_PAIR) for text, _ in table]
    assert len({" ".join(text.split()).casefold() for text in spellings} - {""}) >= 150


def _dms(degrees: float, parts: int, letters: str, style: str) -> tuple[str, float]:
    """Degrees in so many parts, with the step that was written."""
    total, step = abs(degrees), 1 / 60 ** (parts - 1)
    whole, numbers = round(total / step), []
    for _ in range(parts - 1):
        whole, rest = divmod(whole, 60)
        numbers.insert(0, rest)
    marks = {"signs": "\u00b0'\"", "blanks": "   ", "colons": ":: ", "letters": "dms"}[style]
    text = "".join(f"{number}{mark}" for number, mark in zip([whole, *numbers], marks, strict=False)).strip(": ")
    return f"{text} {letters[degrees < 0]}", step


def _written(latitude: float, longitude: float, notation: str) -> tuple[str, float]:
    """A point as a text in a notation, and how far off its reading may be, in degrees."""
    kind, _, style = notation.partition(" ")
    if kind == "decimals":
        return f"{latitude:.5f}{style}{longitude:.5f}", 1e-5
    if kind in ("two", "three"):
        parts = {"two": 2, "three": 3}[kind]
        (north, step), (east, _) = _dms(latitude, parts, "NS", style), _dms(longitude, parts, "EW", style)
        return f"{north}, {east}", step
    if kind == "geo":
        return f"geo:{latitude:.6f},{longitude:.6f}", 1e-6
    if kind == "iso":
        return f"{latitude:+010.6f}{longitude:+011.6f}/", 1e-6
    zone = int((longitude + 180) // 6) % 60 + 1
    east, north = Proj(proj="utm", zone=zone, ellps="WGS84", south=latitude < 0)(longitude, latitude)
    return f"{zone} {'South' if latitude < 0 else 'North'} {east:.0f} {north:.0f}", 2e-5


NOTATIONS = (
    "decimals , ", "decimals ,", "decimals  ", "decimals ; ", "two signs", "two blanks", "two colons", "two letters",
    "three signs", "three blanks", "three colons", "three letters", "geo", "iso", "grid",
)  # fmt: skip


@given(st.floats(-79, 83), st.floats(-179, 179), st.sampled_from(NOTATIONS))
def test_a_point_in_any_notation_is_read_back_within_its_precision(north: float, east: float, notation: str) -> None:
    # Away from nought, whose sign nobody writes, from the poles, and from the equator, where a grid's northing has
    # fewer than six figures and is asked about.
    assume(abs(north) > 0.02 and abs(east) > 0.02 and (notation != "grid" or 1 < abs(north) < 83))
    text, step = _written(north, east, notation)
    latitude, longitude = position.read_pair(text)
    assert (latitude.doubt, longitude.doubt) == ("", ""), text
    assert float(latitude.value) == pytest.approx(north, abs=step), text
    assert float(longitude.value) == pytest.approx(east, abs=step / max(0.1, math.cos(math.radians(north)))), text
