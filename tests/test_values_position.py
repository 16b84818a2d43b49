"""How positions are read; numbers are held against published examples where a source is named."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.values import position

# Georeferencing practice: forms that ready-made parsers get wrong without a word; numbers by arithmetic.
FORMS = [
    pytest.param("43,65", "latitude", "43.65", id="decimal comma"),
    pytest.param("79.38°W", "longitude", "-79.38", id="a letter for the minus"),
    pytest.param("43°39'12\"N", "latitude", "43.6533333", id="degrees, minutes, seconds"),
    pytest.param("43d39m12sN", "latitude", "43.6533333", id="letters d m s"),
    pytest.param("43d39m12s N", "latitude", "43.6533333", id="letters d m s and a blank"),
    pytest.param("33d51m12s", "latitude", "33.8533333", id="s after m is seconds"),
    pytest.param("33d51m S", "latitude", "-33.8500000", id="S after minutes is South"),
    pytest.param("43° 39,2' N", "latitude", "43.6533333", id="minutes with a comma"),
    pytest.param("N 43° 39.200", "latitude", "43.6533333", id="the letter in front"),
    pytest.param("43 39' 12.5''", "latitude", "43.6534722", id="doubled marks, one missing"),
    pytest.param("100º 15' 50.4\" Oeste", "longitude", "-100.2640000", id="masculine ordinal for a degree sign"),
    pytest.param("−79.38", "longitude", "-79.38", id="minus sign U+2212"),
    pytest.param("–79.38", "longitude", "-79.38", id="en dash"),
    pytest.param("43°39'60\"N", "latitude", "43.6666667", id="60 seconds"),
    pytest.param("0°30'S", "latitude", "-0.5000000", id="zero degrees South"),
    pytest.param("-0°30'", "latitude", "-0.5000000", id="zero degrees with a sign"),
    pytest.param("43:39:12 N", "latitude", "43.6533333", id="colons"),
    pytest.param("43-39-12", "latitude", "43.6533333", id="hyphens"),
    pytest.param("45˚ 30′ 12″ N", "latitude", "45.5033333", id="ring above and primes"),
    pytest.param("45°30’12”N", "latitude", "45.5033333", id="typographic quotation marks"),
    pytest.param("４３．６５", "latitude", "43.65", id="full-width digits"),
    pytest.param("45.5;", "latitude", "45.5", id="a stray sign at the end"),
    pytest.param("64.8 degrés ouest", "longitude", "-64.8", id="french words"),
    pytest.param("45.5 grados norte", "latitude", "45.5", id="spanish words"),
    pytest.param("Lat: 45.50", "latitude", "45.50", id="a label, zeros kept"),
    pytest.param("+45.5", "latitude", "45.5", id="plus"),
    pytest.param("-79.38 W", "longitude", "-79.38", id="minus and West agree"),
]

# source: "Darwin Core list of terms 2026-05-26", examples of verbatimLatitude, verbatimLongitude; the numbers
# are arithmetic, and the second is its decimalLongitude example
DARWIN_CORE = [
    pytest.param("41 05 54.03S", "latitude", -41.0983417, id="verbatimLatitude"),
    pytest.param("121d 10' 34\" W", "longitude", -121.1761111, id="verbatimLongitude"),
]

DOUBTS = [
    pytest.param("143.65N", "latitude", "off-the-globe", id="too far North"),
    pytest.param("181.0554", "longitude", "off-the-globe", id="over 180, quality tests (draft) dataID 87"),
    pytest.param("4339.2N", "latitude", "off-the-globe", id="degrees and minutes packed"),
    pytest.param("6944989", "latitude", "off-the-globe", id="metres in a column of degrees"),
    pytest.param("-43.65N", "latitude", "sign-against-letter", id="minus and North"),
    pytest.param("+79.38W", "longitude", "sign-against-letter", id="plus and West"),
    pytest.param("43°61'N", "latitude", "minutes-over-59", id="61 minutes"),
    pytest.param("43°39'75\"N", "latitude", "minutes-over-59", id="75 seconds"),
    pytest.param("64.8 W", "latitude", "wrong-axis", id="West in a latitude"),
    pytest.param("45.5 N", "longitude", "wrong-axis", id="North in a longitude"),
    pytest.param("79.38 O", "longitude", "two-readings", id="O without a language"),
    pytest.param("1,234.5", "latitude", "not-a-number", id="thousands"),
    pytest.param("36.69.3069", "latitude", "not-a-number", id="two points, seen in a field sheet"),
    pytest.param("43.5 39", "latitude", "not-a-number", id="two numbers of one kind"),
    pytest.param("45 -64", "latitude", "not-a-number", id="a pair in one column"),
    pytest.param("N45W", "latitude", "not-a-number", id="two letters"),
    pytest.param("behind the barn", "latitude", "not-a-number", id="words"),
    pytest.param("17T 630000 4833400", "latitude", "other-notation", id="UTM"),
    pytest.param("38SMB4414084706", "latitude", "other-notation", id="MGRS"),
    pytest.param("+40.20361-075.00417/", "latitude", "other-notation", id="ISO 6709"),
    pytest.param("+4012.22-07500.25CRSWGS_84/", "latitude", "other-notation", id="ISO 6709 with minutes"),
    pytest.param("geo:45.5,-64.8", "latitude", "other-notation", id="geo"),
    pytest.param("https://maps.example.org/?q=45.5,-64.8", "latitude", "other-notation", id="a link to a map"),
]


@pytest.mark.parametrize(("text", "axis", "value"), FORMS)
def test_a_coordinate_is_read(text: str, axis: str, value: str) -> None:
    assert position.read(text, "t", axis)[::2] == (value, "")


@pytest.mark.parametrize(("text", "axis", "value"), DARWIN_CORE)
def test_an_example_of_the_standard_is_read(text: str, axis: str, value: float) -> None:
    assert float(position.read(text, "t", axis).value) == pytest.approx(value, abs=1e-7)


@pytest.mark.parametrize(("text", "axis", "doubt"), DOUBTS)
def test_a_coordinate_in_doubt_stays_as_typed(text: str, axis: str, doubt: str) -> None:
    assert position.read(text, "t", axis)[:3] == (text, "", doubt)


def test_o_is_west_where_the_sender_says_so() -> None:
    assert position.read("100°15'50.4\"O", "t", "longitude", o_is_west=True).value == "-100.2640000"
    assert position.read("100°15'50.4\"O", "t", "longitude").candidates == ("-100.2640000", "100.2640000")


def test_the_heading_settles_only_what_has_no_sign() -> None:
    assert position.read("64.8", "n", "longitude", hemisphere="W").value == "-64.8"
    assert position.read("-79.89", "n", "longitude", hemisphere="W").value == "-79.89"
    assert position.read("64.8 E", "t", "longitude", hemisphere="W").doubt == "sign-against-letter"


@pytest.mark.parametrize("kind", [pytest.param(kind, id=f"kind {kind}") for kind in "dcbef"])
def test_only_texts_and_numbers_are_coordinates(kind: str) -> None:
    assert position.read("45.5", kind, "latitude").doubt == "not-a-number"


@pytest.mark.parametrize(
    ("text", "pair"),
    [
        # source: "Darwin Core list of terms 2026-05-26, examples of verbatimCoordinates"; arithmetic
        pytest.param("41 05 54S 121 05 34W", ("-41.0983333", "-121.0927778"), id="verbatimCoordinates"),
        # source: TDWG data quality tests (draft of 2026-06-03), validation data
        pytest.param("139.92, -23.712", ("-23.712", "139.92"), id="104 longitude first, only one order fits"),
        pytest.param(
            "23 degrees 42.72 minutes south 140 degrees 30 minutes east",
            ("-23.7120000", "140.5000000"),
            id="95 words",
        ),
        # common practice
        pytest.param("45.5, -64.8", ("45.5", "-64.8"), id="comma and blank"),
        pytest.param("(45.5,-64.8)", ("45.5", "-64.8"), id="brackets"),
        pytest.param("45,5 -64,8", ("45.5", "-64.8"), id="decimal commas"),
        pytest.param("45,5, -64,8", ("45.5", "-64.8"), id="decimal commas and a comma"),
        pytest.param("45,5,-64,8", ("45.5", "-64.8"), id="decimal commas and a bare comma"),
        pytest.param("45,5; -64,8", ("45.5", "-64.8"), id="semicolon"),
        pytest.param("45.5N64.8W", ("45.5", "-64.8"), id="nothing between"),
        pytest.param("64.8W 45.5N", ("45.5", "-64.8"), id="letters say which is which"),
        pytest.param("lat:45.5,lon:-64.8", ("45.5", "-64.8"), id="labels"),
        pytest.param("45°30'N, 64°W", ("45.5000000", "-64"), id="of different make"),
        pytest.param("45 30 64 48", ("45.5000000", "64.8000000"), id="four numbers"),
        pytest.param("45.5\n-64.8", ("45.5", "-64.8"), id="two lines"),
    ],
)
def test_a_pair_in_one_cell_is_read(text: str, pair: tuple[str, str]) -> None:
    assert tuple(reading.value for reading in position.read_pair(text)) == pair


@pytest.mark.parametrize(
    ("text", "doubt"),
    [
        pytest.param("45.5", "not-a-number", id="one number"),
        pytest.param("45,64", "not-a-number", id="a decimal comma or a pair"),
        pytest.param("45.5, -64.8, 12", "not-a-number", id="three numbers"),
        pytest.param("45.5N 46.5N", "not-a-number", id="two latitudes"),
        pytest.param("45.5 - 64.8", "two-readings", id="a dash or a minus"),
        pytest.param("17T 630000 48334000", "not-a-number", id="UTM with a digit too many"),
        pytest.param("17S 630000 4833400", "two-readings", id="UTM, a band or the southern half"),
    ],
)
def test_a_pair_in_doubt_stays_as_typed(text: str, doubt: str) -> None:
    assert [reading[:3] for reading in position.read_pair(text)] == [(text, "", doubt)] * 2


def test_a_pair_may_be_in_doubt_on_one_side_only() -> None:
    latitude, longitude = position.read_pair("45.5 N 64.8 O")
    assert (latitude.value, latitude.doubt) == ("45.5", "")
    assert (longitude.value, longitude.doubt) == ("45.5 N 64.8 O", "two-readings")
    assert position.read_pair("45.5 64.8", hemisphere="W")[1].value == "-64.8"


@pytest.mark.parametrize(
    ("parts", "value", "doubt"),
    [
        pytest.param(("8", "11.801", "", ""), "8.1966833", "", id="degrees and minutes, seen in a field sheet"),
        pytest.param(("45", "30", "12", "N"), "45.5033333", "", id="all four"),
        pytest.param(("45.5", "", "", "S"), "-45.5", "", id="degrees and a letter"),
        pytest.param(("45°", "30'", '12"', "N"), "45.5033333", "", id="marks in the cells"),
        pytest.param(("45", "30", "-", "N"), "45.5000000", "", id="a sign for nothing"),
        pytest.param(("", "", "", "N"), "", "", id="a letter alone"),
        pytest.param(("", "30", "", "N"), "30 N", "not-a-number", id="minutes without degrees"),
        pytest.param(("45", "", "12", "N"), "45 12 N", "not-a-number", id="seconds without minutes"),
        pytest.param(("45", "75", "", "N"), "45 75 N", "minutes-over-59", id="75 minutes"),
        pytest.param(("-45", "30", "", "N"), "-45 30 N", "sign-against-letter", id="minus and North"),
    ],
)
def test_parts_in_columns_of_their_own_are_joined(parts: tuple[str, str, str, str], value: str, doubt: str) -> None:
    assert position.from_parts(*parts, "latitude")[::2] == (value, doubt)


def test_decimals_count_trailing_zeros() -> None:
    assert [position.decimals(text) for text in ("45.50", "-64", "45.5 N", "")] == [2, 0, None, None]


@given(st.decimals(-90, 90, places=5))
def test_a_decimal_latitude_stays_as_typed(number: object) -> None:
    assert position.read(f"{number}", "n", "latitude").value in (f"{number}", f"{number}".removeprefix("-"))


@given(st.integers(0, 179), st.integers(0, 59), st.integers(0, 599), st.sampled_from("EW"))
def test_degrees_minutes_seconds_are_read_back(degrees: int, minutes: int, tenths: int, letter: str) -> None:
    sign = -1 if letter == "W" else 1
    text = f"{degrees}°{minutes:02}'{tenths / 10:04.1f}\"{letter}"
    number = sign * (degrees + minutes / 60 + tenths / 36000)
    assert float(position.read(text, "t", "longitude").value) == pytest.approx(number, abs=1e-7)
    pair = position.read_pair(f"10°00'00\"N {text}")
    assert float(pair[1].value) == pytest.approx(number, abs=1e-7)


SIGNS = st.text("0123456789.,°'\"-+NSEWO dms:", max_size=18)


@given(st.text(max_size=30) | SIGNS, st.sampled_from("tndcbef-"), st.sampled_from(("latitude", "longitude")))
def test_any_text_is_read_or_stays_as_typed(text: str, kind: str, axis: str) -> None:
    for reading in (position.read(text, kind, axis), *position.read_pair(text)):
        assert not reading.doubt or (reading.value == text.strip() and not reading.change)
        assert reading.change or reading.value == text.strip()
        assert reading.doubt or not reading.value or abs(float(reading.value)) <= 180
