"""How far a place may lie from its point, against the published table and the standard's examples."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.values.rounding import decimals_of, to_square
from pipeline.values.uncertainty import (
    LARGEST,
    Fineness,
    from_step,
    from_written,
    half_diagonal,
    metres_per_degree,
    notation,
    precision_text,
    radius,
    steps,
)

OUTSIDE = Path(__file__).parent / "outside" / "coordinate_precision_uncertainty.csv"
MISSING = float("nan")


def published() -> list[tuple[str, float, float, float]]:
    with OUTSIDE.open(encoding="utf-8", newline="") as lines:
        return [
            (
                line["precision"],
                float(line["precision_degrees"]),
                float(line["latitude"]),
                float(line["published_m"]),
            )
            for line in csv.DictReader(lines)
        ]


@pytest.mark.parametrize(("name", "step", "latitude", "metres"), published())
def test_the_published_table_is_met_within_a_metre(name: str, step: float, latitude: float, metres: float) -> None:
    # Georeferencing Best Practices 1.0, Chapman & Wieczorek 2020, doi 10.15468/doc-gg7h-s853; tolerance 1 m.
    assert from_step(np.array([step]), np.array([latitude]))[0] == pytest.approx(metres, abs=1)


def test_the_worked_example_of_the_best_practices_is_met() -> None:
    # Same source, latitude 10.27, precision 0.01 degree: 1.1061 km, 1.0955 km (recomputed 1.0954), 1.5568 km.
    north, east = metres_per_degree(np.array([10.27]))
    assert north[0] * 0.01 == pytest.approx(1106.1, abs=0.1)
    assert east[0] * 0.01 == pytest.approx(1095.5, abs=0.15)
    assert from_step(np.array([0.01]), np.array([10.27]))[0] == pytest.approx(1556.8, abs=0.1)


# Written, stated metres, added metres, expected; examples of coordinateUncertaintyInMeters in the Darwin Core
# list of terms 2026-05-26, draft data quality tests of TDWG (limits); the others by the published table.
RADII = [
    ("stated 30 m: a receiver after May 2000", 0.00001, 45.0, 30, 30, 30),
    ("stated 100 m: a receiver before May 2000", 0.00001, 45.0, 100, 30, 100),
    ("stated 71 m: a grid of 100 m", 0.00001, 45.0, 71, 30, 71),
    ("stated 1 m is the least", 0.00001, 45.0, 1, 30, 1),
    ("stated half the equator is the most", 0.00001, 45.0, 20_037_509, 30, 20_037_509),
    ("stated 0 is not valid and is worked out", 0.00001, 0.0, 0, 30, 32),
    ("stated more than half the equator is worked out", 0.00001, 0.0, 20_037_510, 30, 32),
    ("stated below 1 m becomes 1", 0.00001, 0.0, 0.4, 30, 1),
    ("0.001 degree at 60 N, no receiver", 0.001, 60.0, MISSING, 0, 125),
    ("0.001 degree at 60 N and 30 m", 0.001, 60.0, MISSING, 30, 155),
    ("whole degrees at the equator", 1.0, 0.0, MISSING, 0, 156_904),
    ("a step of a millionth is at least 1 m", 1e-6, 0.0, MISSING, 0, 1),
    ("a step that is not known gives none", 0, 45.0, MISSING, 30, MISSING),
]


@pytest.mark.parametrize("case", [each[1:] for each in RADII], ids=[each[0] for each in RADII])
def test_the_radius_is_stated_or_worked_out(case: tuple[float, ...]) -> None:
    step, latitude, stated, added, expected = case
    finely = Fineness(np.array([step]), np.array([""], dtype=object), np.zeros(1))
    found = radius(from_written(finely, np.array([latitude])), np.array([stated]), added, np.zeros(1))
    assert found[0] == pytest.approx(expected, nan_ok=True, abs=0)


WRITTEN = [
    ("45.5", "-64.8123", 0.1, "decimal degrees"),
    ("45.5000", "-64.8123", 0.0001, "decimal degrees"),
    ("45", "-65", 1, "decimal degrees"),
    ("45,50", "64,81 O", 0.01, "decimal degrees"),
    ("45°30'N", "64°48'O", 1 / 60, "degrees decimal minutes"),
    ("45° 30.25' N", "64° 48.10' W", 0.01 / 60, "degrees decimal minutes"),
    ("45 30 12", "64 48 30", 1 / 3600, "degrees minutes seconds"),
    ("45°30'12.5\"", "64°48'30\"", 1 / 3600, "degrees minutes seconds"),
    ("45.50, -64.812", "45.50, -64.812", 0.01, "decimal degrees"),
    ("45°30'N 64°48'O", "45°30'N 64°48'O", 1 / 60, "degrees decimal minutes"),
    ("20T 400000 5090000", "20T 400000 5090000", 1 / 111_320, "UTM"),
    ("20TLS0000090000", "20TLS0000090000", 1 / 111_320, "MGRS"),
    ("geo:45.50,-64.812", "geo:45.50,-64.812", 0.01, "decimal degrees"),
    ("20T 400000 50900", "20T 400000 50900", 0, ""),
    ("", "", 0, ""),
    ("by the pond", "45.5", 0, ""),
]


@pytest.mark.parametrize(("latitude", "longitude", "step", "system"), WRITTEN)
def test_the_coarser_cell_decides_and_trailing_zeros_count(
    latitude: str, longitude: str, step: float, system: str
) -> None:
    none = np.array([MISSING])
    found, systems, _ = steps((none, none), ([latitude], [longitude]))
    assert found[0] == pytest.approx(step)
    assert systems[0] == system


# Metres of uncertainty by the precision of a grid: Zermoglio, Chapman, Wieczorek, Luna & Bloom 2020, Georeferencing
# Quick Reference Guide: half the diagonal of the square, rounded there; tolerance 1 m.
GRIDS = [
    ("20T 400000 5090000", 1), ("20TLS 00000 90000", 1), ("20TLS 0000 9000", 7), ("20TLS 000 900", 71),
    ("20TLS 00 90", 707), ("20TLS", 70_711),
]  # fmt: skip


@pytest.mark.parametrize(("text", "metres"), GRIDS, ids=[text for text, _ in GRIDS])
def test_a_square_of_a_grid_is_told_by_half_its_diagonal(text: str, metres: int) -> None:
    none = np.array([MISSING])
    finely = steps((none, none), ([text], [text]))
    found = radius(from_written(finely, np.array([45.9])), none, 0, np.zeros(1))
    assert found[0] == pytest.approx(metres, abs=1)


def test_decimals_that_were_counted_are_not_read_again() -> None:
    found, systems, _ = steps((np.array([2.0, 4.0]), np.array([3.0, 0.0])), (["x", "x"], ["y", "y"]))
    assert found.tolist() == [0.01, 1.0]
    assert systems.tolist() == ["decimal degrees"] * 2


@pytest.mark.parametrize(
    ("step", "text"),
    # Examples of coordinatePrecision, Darwin Core list of terms 2026-05-26.
    [(0.00001, "0.00001"), (1 / 3600, "0.000278"), (1 / 60, "0.01667"), (1, "1.0"), (0.01, "0.01"), (0, "")],
)
def test_precision_is_written_as_in_the_standard(step: float, text: str) -> None:
    assert precision_text(step) == text


@given(st.integers(0, 8), st.integers(0, 179))
def test_the_decimals_of_a_written_number_come_back(decimals: int, whole: int) -> None:
    assert notation(f"{whole + 0.0:.{decimals}f}").step == pytest.approx(10.0**-decimals)


@given(st.floats(-90, 90), st.floats(1e-6, 1), st.floats(0, 1000))
def test_a_radius_is_a_whole_number_of_metres_that_covers_its_terms(lat: float, step: float, added: float) -> None:
    found = radius(from_step(np.array([step]), np.array([lat])), np.array([MISSING]), added, np.zeros(1))[0]
    assert 1 <= found <= LARGEST and found == int(found)
    assert found >= from_step(np.array([step]), np.array([lat]))[0] + added - 1e-5


@given(st.floats(-90, 90), st.floats(-180, 180), st.sampled_from([0.01, 0.02, 0.05, 0.1, 0.25, 1.0]))
def test_a_rounded_place_lies_within_half_the_diagonal_and_stays_where_it_is(
    latitude: float, longitude: float, square: float
) -> None:
    degrees = np.array([latitude, longitude])
    rounded = to_square(degrees, square)
    assert np.abs(rounded - degrees).max() <= square / 2 + 1e-9
    assert (to_square(rounded, square) == rounded).all()
    assert all(float(f"{value:.{decimals_of(square)}f}") == value for value in rounded)
    assert not any(f"{value}".startswith("-0.0") and value == 0 for value in rounded)


def test_half_the_diagonal_of_the_usual_square_at_45_north() -> None:
    # 0.01 degree at 45 N is about 1,111 m by 788 m (Best Practices formula): half the diagonal is 681 m.
    assert half_diagonal(0.01, np.array([45.0]))[0] == pytest.approx(681, abs=1)
