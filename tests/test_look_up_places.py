"""Where a row's point lies: its country, its neighbours, homes, public sites, and how it was written."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd
import pytest
from example_tables import empty, read_examples
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import settings as tried
from hypothesis import strategies as st

from pipeline.files.boundaries import ATLAS
from pipeline.settings import Settings, read_settings
from pipeline.stages.look_up_neighbours import look_up_neighbours
from pipeline.stages.look_up_places import look_up_places
from pipeline.stages.look_up_points import look_up_points
from pipeline.values.atlas import Atlas

NO_HOMES = pd.DataFrame({"latitude": [], "longitude": []}, dtype="float64")
NO_SITES = pd.DataFrame(
    {"latitude": pd.Series(dtype="float64"), "longitude": pd.Series(dtype="float64"),
     "uncertainty_m": pd.Series(dtype="float64"), "public": pd.Series(dtype="str")}
)  # fmt: skip


def _square_country(latitudes: Any, longitudes: Any) -> Any:
    """A small world: CA is 40 to 50 north and 70 to 60 west, FR the same east of Greenwich; the rest is sea."""
    is_north = (np.asarray(latitudes) >= 40) & (np.asarray(latitudes) <= 50)
    east = np.asarray(longitudes)
    return np.where(
        is_north & (east >= -70) & (east <= -60), "CA", np.where(is_north & (east >= 60) & (east <= 70), "FR", "")
    )


def _hundred_km(latitudes: Any, longitudes: Any, countries: Any) -> Any:
    """Every point lies 100 km outside a country of two letters; of any other nothing is known."""
    return np.where(np.isin(countries, ["CA", "FR"]), 100.0, np.nan)


SMALL = Atlas(_square_country, _hundred_km)


def points(*pairs: tuple[str, str], **more: str) -> pd.DataFrame:
    """Rows at (latitude, longitude) as typed, with further columns that hold the same in each row."""
    names = ["decimalLatitude", "decimalLongitude", *more]
    lines = [" | ".join(f'"{cell}"' for cell in (*pair, *more.values())) for pair in pairs]
    return read_examples("\n".join([" | ".join(names), *lines]), "row")[0].cells


def placed(
    rows: pd.DataFrame,
    atlas: Atlas = SMALL,
    homes: pd.DataFrame = NO_HOMES,
    sites: pd.DataFrame = NO_SITES,
    settings: str = "",
) -> pd.DataFrame:
    told = read_settings(settings) if settings else Settings()
    rows = rows.assign(**look_up_points(rows, {}, told))
    return rows.assign(**look_up_places(rows, (homes, sites), told, atlas))


def one(rows: pd.DataFrame, fact: str, **more: Any) -> Any:
    (value,) = placed(rows, **more)[fact].tolist()
    return None if isinstance(value, float) and np.isnan(value) else value


READ = [
    ("a number", "45.5", "", 45.5),
    ("a number below nothing", "-45.5", "", -45.5),
    ("worked out from minutes", "45.5000000", "", 45.5),
    ("off the globe", "95.5", "off-the-globe", 95.5),
    ("not read", "45.5", "two-readings", None),
    ("words", "by the gate", "not-a-number", None),
    ("blank", "", "", None),
]


@pytest.mark.parametrize(("text", "doubt", "degrees"), [case[1:] for case in READ], ids=[case[0] for case in READ])
def test_a_position_is_a_number_where_it_was_read(text: str, doubt: str, degrees: float | None) -> None:
    rows = points((text, "-64.8"), decimalLatitude_doubt=doubt)
    assert one(rows, "latitude") == degrees
    assert one(rows, "longitude") == -64.8


DECIMALS = [
    ("as typed", "45.50", "45.50", 2),
    ("a whole degree", "45", "45", 0),
    ("a comma", "45.5", "45,5", 1),
    ("a letter beside it", "-64.81", "64.81 W", 2),
    ("a pair in one cell", "45.501", "45.501, -64.8", 3),
    ("degrees and minutes", "45.5000000", "45°30'N", None),
    ("blank", "", "", None),
]


@pytest.mark.parametrize(
    ("value", "written", "count"), [case[1:] for case in DECIMALS], ids=[case[0] for case in DECIMALS]
)
def test_decimals_are_counted_as_they_were_written(value: str, written: str, count: int | None) -> None:
    rows = points((value, value), decimalLatitude_written=written, decimalLongitude_written=written)
    assert one(rows, "latitude_decimals") == one(rows, "longitude_decimals") == count


@pytest.mark.parametrize("field", ["locality", "municipality", "county", "stateProvince"])
def test_a_place_word_is_one_of_four(field: str) -> None:
    assert one(points(("", ""), **{field: "Truro"}), "has_place_words") is True
    assert one(points(("", "")), "has_place_words") is False


# In the small world: region CA, US, MX as in the settings.
COUNTRIES = [
    ("inside", ("45.5", "-64.8"), "CA", True, "", "", False, False),
    ("at sea", ("10.5", "-64.8"), "", False, "", "", False, False),
    ("crossed", ("-64.8", "45.5"), "", False, "CA", "", True, False),
    ("without its minus", ("45.5", "64.8"), "FR", False, "", "CA", False, True),
    ("one of the pair missing", ("45.5", ""), "", False, "", "", False, False),
    ("off the globe", ("95.5", "-64.8"), "", False, "", "", False, False),
    ("no point", ("", ""), "", False, "", "", False, False),
]


@pytest.mark.parametrize(
    ("pair", "here", "is_in", "crossed", "minus", "crossed_is_in", "minus_is_in"),
    [case[1:] for case in COUNTRIES],
    ids=[case[0] for case in COUNTRIES],
)
def test_a_point_lies_in_a_country_as_it_is_or_otherwise_read(  # noqa: PLR0913 - a column for each fact
    pair: tuple[str, str], here: str, is_in: bool, crossed: str, minus: str, crossed_is_in: bool, minus_is_in: bool
) -> None:
    found = placed(points(pair))
    names = (
        "country_at_point", "is_in_region", "country_if_crossed", "country_if_minus", "crossed_is_in_region",
        "minus_is_in_region",
    )  # fmt: skip
    assert tuple(found[name].tolist()[0] for name in names) == (here, is_in, crossed, minus, crossed_is_in, minus_is_in)


def test_other_readings_are_not_looked_for_where_the_point_lies_in_the_region() -> None:
    found = placed(points(("45.5", "-64.8"), ("45.5", "64.8")), settings='[region]\ncountries = ["CA", "FR"]\n')
    assert found["country_if_minus"].tolist() == found["country_if_crossed"].tolist() == ["", ""]


OUTSIDE = [
    ("inside the country it names", ("45.5", "-64.8"), "CA", "", 0.0),
    ("in another country", ("45.5", "64.8"), "CA", "", 100.0),
    ("at sea", ("10.5", "64.8"), "FR", "", 100.0),
    ("a country of which nothing is known", ("10.5", "64.8"), "ZZ", "", None),
    ("no country", ("45.5", "64.8"), "", "", None),
    ("a country in doubt", ("45.5", "64.8"), "CA", "not-in-list", None),
    ("no point", ("", ""), "CA", "", None),
]


@pytest.mark.parametrize(
    ("pair", "country", "doubt", "km"), [case[1:] for case in OUTSIDE], ids=[case[0] for case in OUTSIDE]
)
def test_how_far_a_point_lies_outside_the_country_of_its_row(
    pair: tuple[str, str], country: str, doubt: str, km: float | None
) -> None:
    assert one(points(pair, countryCode=country, countryCode_doubt=doubt), "km_outside_country") == km


# Towns and their countries, from memory of any atlas; the boundaries are the real ones.
TOWNS = [
    ("Sackville, New Brunswick", ("45.898", "-64.369"), "CA"),
    ("Halifax harbour", ("44.648", "-63.571"), "CA"),
    ("St. John's, Newfoundland", ("47.561", "-52.713"), "CA"),
    ("Bangor, Maine", ("44.801", "-68.778"), "US"),
    ("Angangueo, Michoacán", ("19.618", "-100.284"), "MX"),
    ("Havana", ("23.136", "-82.359"), "CU"),
    ("in the middle of the Atlantic", ("40.0", "-40.0"), ""),
    ("in the Gulf of Mexico", ("25.0", "-90.0"), ""),
]


@pytest.mark.parametrize(("pair", "country"), [case[1:] for case in TOWNS], ids=[case[0] for case in TOWNS])
def test_a_real_town_lies_in_its_country(pair: tuple[str, str], country: str) -> None:
    assert one(points(pair), "country_at_point", atlas=ATLAS) == country


def test_a_real_town_with_crossed_coordinates_or_without_its_minus_is_recognised() -> None:
    found = placed(points(("-64.369", "45.898"), ("45.898", "64.369")), atlas=ATLAS)
    assert found["country_if_crossed"].tolist()[0] == found["country_if_minus"].tolist()[1] == "CA"
    assert found["country_at_point"].tolist()[1] == "KZ"


def test_a_real_point_lies_as_far_outside_a_country_as_the_border_is_away() -> None:
    # The border with Maine runs along 45.0 north in Quebec's Eastern Townships (Stanstead): 0.5 degree of
    # latitude there is 55.57 km (WGS84, geographiclib), and the surveyed line strays by a few hundred metres.
    rows = points(("45.5", "-72.1"), countryCode="US")
    expected = Geodesic.WGS84.Inverse(45.5, -72.1, 45.005, -72.1)["s12"] / 1000
    assert one(rows, "km_outside_country", atlas=ATLAS) == pytest.approx(expected, abs=1.5)


def test_a_town_on_a_border_river_lies_at_most_a_kilometre_outside_its_country() -> None:
    rows = points(("45.189", "-67.279"), countryCode="US")  # Calais, Maine, opposite St. Stephen, New Brunswick
    assert one(rows, "km_outside_country", atlas=ATLAS) < 1


HOME = pd.DataFrame({"latitude": [45.9, 45.905], "longitude": [-64.37, -64.37]})


@pytest.mark.parametrize(
    "pair", [("45.9001", "-64.3702"), ("45.904", "-64.37"), ("45.9", "-64.35")], ids=["at one", "at the other", "east"]
)
def test_the_distance_to_the_nearest_home_is_that_on_the_ellipsoid(pair: tuple[str, str]) -> None:
    expected = min(
        Geodesic.WGS84.Inverse(float(pair[0]), float(pair[1]), north, east)["s12"] / 1000
        for north, east in HOME.to_numpy()
    )
    assert one(points(pair), "km_from_home", homes=HOME) == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize("pair", [("45.8", "-64.37"), ("45.9", "-64.2"), ("", "")], ids=["north", "east", "no point"])
def test_a_home_that_is_not_near_has_no_distance(pair: tuple[str, str]) -> None:
    assert one(points(pair), "km_from_home", homes=HOME) is None


def sites(uncertainty: float, public: str = "yes") -> pd.DataFrame:
    return pd.DataFrame({"latitude": [45.9], "longitude": [-64.37], "uncertainty_m": [uncertainty], "public": [public]})


# 0.001 degree of latitude is 111.1 m at 45.9 north (geographiclib).
SITES = [
    ("inside the extent", "45.9040", 500, "yes", True),
    ("outside the extent", "45.9050", 500, "yes", False),
    ("inside 500 m, no extent stated", "45.9040", float("nan"), "yes", True),
    ("outside 500 m, no extent stated", "45.9050", float("nan"), "yes", False),
    ("inside a wide extent", "45.9400", 5000, "yes", True),
    ("outside a wide extent", "45.9460", 5000, "yes", False),
    ("at a site that is not public", "45.9", 500, "no", False),
    ("no point", "", 500, "yes", False),
]


@pytest.mark.parametrize(
    ("latitude", "metres", "public", "is_public"), [case[1:] for case in SITES], ids=[case[0] for case in SITES]
)
def test_a_point_lies_at_a_public_site_within_its_extent(
    latitude: str, metres: float, public: str, is_public: bool
) -> None:
    assert one(points((latitude, "-64.37")), "is_public_site", sites=sites(metres, public)) is is_public


def test_a_wide_public_site_reaches_as_far_east_as_north() -> None:
    found = placed(points(("45.9", "-64.31"), ("45.9", "-64.30")), sites=sites(5000))  # 4.65 and 5.43 km
    assert found["is_public_site"].tolist() == [True, False]


UNSIGNED = [
    ("no sign", "64.8", "64.8", "ask", True),
    ("degrees and minutes", "64.8000000", "64°48'", "ask", True),
    ("a minus", "-64.8", "-64.8", "ask", False),
    ("a plus", "64.8", "+64.8", "ask", False),
    ("a letter", "64.8", "64.8 E", "ask", False),
    ("west in the heading", "-64.8", "64.8", "ask", False),
    ("settled by the settings", "64.8", "64.8", "east", False),
    ("blank", "", "", "ask", False),
]


@pytest.mark.parametrize(
    ("value", "written", "setting", "is_unsigned"), [case[1:] for case in UNSIGNED], ids=[case[0] for case in UNSIGNED]
)
def test_a_longitude_without_sign_or_letter_is_known(value: str, written: str, setting: str, is_unsigned: bool) -> None:
    rows = points(("45.5", value), decimalLongitude_written=written)
    settings = f'[region]\nunsigned_longitude = "{setting}"\n'
    assert bool(one(rows, "is_unsigned_west", settings=settings)) is is_unsigned


def of_day(*lines: tuple[float, float], **more: str) -> pd.DataFrame:
    """Releases of one person on one day at these points, with the facts that neighbours need."""
    cells = {"person_id": "p1", "eventDate": "2026-09-03", **more}
    rows = points(*((str(north), str(east)) for north, east in lines), **cells)
    return rows.assign(latitude=[one[0] for one in lines], longitude=[one[1] for one in lines], is_in_region=True)


SACKVILLE, HALIFAX, TRURO = (45.898, -64.369), (44.648, -63.571), (45.365, -63.28)


def test_the_distance_to_the_days_nearest_other_place_is_that_on_the_ellipsoid() -> None:
    found = look_up_neighbours(of_day(SACKVILLE, HALIFAX, TRURO, TRURO))["km_from_same_day"]
    pairs = [(SACKVILLE, TRURO), (HALIFAX, TRURO), (TRURO, HALIFAX), (TRURO, HALIFAX)]
    expected = [Geodesic.WGS84.Inverse(*one, *other)["s12"] / 1000 for one, other in pairs]
    assert found.tolist() == pytest.approx(expected, abs=1e-6)


@tried(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.floats(-80, 80), st.floats(-179, 179)), min_size=2, max_size=5, unique=True))
def test_distances_of_a_day_agree_with_geographiclib(pairs: list[tuple[float, float]]) -> None:
    found = look_up_neighbours(of_day(*pairs))["km_from_same_day"].tolist()
    spread = [max(axis) - min(axis) for axis in zip(*pairs, strict=True)]
    for place, km in zip(pairs, found, strict=True):
        others = [Geodesic.WGS84.Inverse(*place, *other)["s12"] / 1000 for other in pairs if other != place]
        assert km == pytest.approx(min(others), abs=1e-6) if max(spread) > 0.9 else np.isnan(km)


APART = [
    ("close together", of_day(SACKVILLE, (45.5, -64.3))),
    ("one place", of_day(SACKVILLE)),
    ("one outside the region", of_day(SACKVILLE, HALIFAX).assign(is_in_region=[True, False])),
    ("another person's", of_day(SACKVILLE, HALIFAX).assign(person_id=["p1", "p2"])),
    ("nobody's", of_day(SACKVILLE, HALIFAX, person_id="")),
    ("another day's", of_day(SACKVILLE, HALIFAX).assign(eventDate=["2026-09-03", "2026-09-04"])),
    ("without a day", of_day(SACKVILLE, HALIFAX, eventDate="")),
    ("a find's", of_day(SACKVILLE, HALIFAX).assign(recordKind=["release", "find"])),
    ("without a point", of_day(SACKVILLE, HALIFAX).assign(latitude=[45.898, float("nan")])),
]


@pytest.mark.parametrize("rows", [case[1] for case in APART], ids=[case[0] for case in APART])
def test_a_place_without_another_of_its_day_far_away_has_no_distance(rows: pd.DataFrame) -> None:
    assert look_up_neighbours(rows)["km_from_same_day"].isna().all()


def climb(latitudes: list[float], longitudes: list[float] | None = None, **more: list[int]) -> list[float]:
    east = longitudes or [-64.8] * len(latitudes)
    rows = of_day(*zip(latitudes, east, strict=True)).assign(**more)
    return look_up_neighbours(rows)["climbing_rows"].tolist()


# As a spreadsheet fills a cell that is dragged down: the last figure counts up.
CLIMBS = [
    ("by one of the last decimal", [45.5, 45.501, 45.502, 45.503], [4.0] * 4),
    ("by a whole degree", [45.5, 46.5, 47.5], [3.0] * 3),
    ("down", [45.503, 45.502, 45.501], [3.0] * 3),
    ("two rows only", [45.5, 45.501], [0.0] * 2),
    ("by another step, five rows", [45.5, 45.503, 45.506, 45.509, 45.512], [0.0] * 5),
    ("by another step, six rows", [45.5, 45.503, 45.506, 45.509, 45.512, 45.515], [6.0] * 6),
    ("the same place", [45.5] * 6, [0.0] * 6),
    ("after other rows", [44.1, 45.5, 45.501, 45.502], [0.0, 3.0, 3.0, 3.0]),
    ("with a row in between that was not read", [45.5, float("nan"), 45.501, 45.502], [0.0] * 4),
    ("two runs that share a row", [45.5, 45.501, 45.502, 45.501, 45.5], [3.0] * 5),
    ("a longer run from the last row of a shorter", [45.5, 45.501, 45.502, 46.502, 47.502, 48.502], [3, 3, 4, 4, 4, 4]),
]


@pytest.mark.parametrize(("latitudes", "lengths"), [case[1:] for case in CLIMBS], ids=[case[0] for case in CLIMBS])
def test_rows_that_climb_by_the_same_step_are_a_run(latitudes: list[float], lengths: list[float]) -> None:
    assert climb(latitudes) == lengths
    assert climb([45.5] * len(latitudes), [north - 110 for north in latitudes]) == lengths


def test_a_run_ends_with_its_table() -> None:
    assert climb([45.5, 45.501, 45.502, 45.503], table_id=[1, 1, 2, 2]) == [0.0] * 4


def test_a_run_names_the_place_from_which_it_was_dragged() -> None:
    rows = of_day((45.5, -64.8), (45.501, -64.8), (45.502, -64.9), (44.1, -64.9))
    found = look_up_neighbours(rows)
    assert found["climb_latitude"].tolist() == ["45.5"] * 3 + [""]
    assert found["climb_longitude"].tolist() == ["-64.8", "-64.8", "-64.9", ""]


def test_facts_keep_to_the_rows_and_do_not_fail_without_any() -> None:
    rows = of_day(SACKVILLE, HALIFAX)
    for fact in (*look_up_neighbours(rows).values(), *placed(rows).to_dict("series").values()):
        assert fact.index.equals(rows.index)
    none = empty("row")
    assert all(len(fact) == 0 for fact in look_up_neighbours(none).values())
    assert len(placed(none, ATLAS)) == 0
