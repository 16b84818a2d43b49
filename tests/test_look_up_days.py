"""The range that a spreadsheet may have turned into the day of a count; other days are in test_look_up.py."""

from __future__ import annotations

import pytest
from example_tables import read_examples

from pipeline.settings import Settings
from pipeline.stages.look_up_days import look_up_days

# Seen in public field sheets: the count 5-6 became 2025-05-06, the days 5-10 became 2020-10-05.
COUNTS = [
    pytest.param("2025-05-06", "d", "5-6", id="month first"),
    pytest.param("2020-10-05", "d", "5-10", id="day first"),
    pytest.param("2026-09-09", "d", "9-9", id="the same number twice"),
    pytest.param("2030-02-01", "d", "2-30", id="a number that is no day was taken for a year"),
    pytest.param("2026-05-06T00:00:00", "d", "5-6", id="with a time"),
    pytest.param("2026-05-06", "t", "", id="a text"),
    pytest.param("12", "n", "", id="a number"),
    pytest.param('""', "-", "", id="a blank"),
]


@pytest.mark.parametrize(("count", "kind", "was"), COUNTS)
def test_the_range_that_became_a_day_is_told(count: str, kind: str, was: str) -> None:
    rows = read_examples(f"individualCount | individualCount_kind\n{count} | {kind}", "row")[0].cells
    assert look_up_days(rows, Settings())["count_was"].tolist() == [was]
