"""A record's digest: it changes with whatever goes out about the record, and with nothing else."""

from __future__ import annotations

from typing import Any

import pytest
from portal_rows import A_FIND, FIND, POINT, RELEASE, batch_of, rows_of

from pipeline.stages.export.digests import DIGITS, digests

ANOTHER = {**POINT, "occurrence_id": "urn:uuid:00000000-0000-5000-8000-000000000003", "tagCode": "SM0043"}
MEASURED = {**POINT, "origin": "wild", "forewingLength": "51.5", "wingWear": "2"}
CHANGES: list[tuple[str, dict[str, Any]]] = [
    ("another tag", {"tagCode": "SM0044"}),
    ("another sex", {"sex": "female"}),
    ("a blank for a sex", {"sex": ""}),
    ("another day", {"eventDate": "2026-09-04"}),
    ("a finer point", {"decimalLatitude": "45.50120", "decimalLatitude_written": "45.50120"}),
    ("another measure", {"forewingLength": "51.6"}),
    ("one measure less", {"forewingLength": ""}),
    ("the same number for another measure", {"forewingLength": "2", "wingWear": "51.5"}),
    ("another origin", {"origin": "reared"}),
    ("two values that changed places", {"municipality": "", "county": "Sackville"}),
]


def digest_of(*cases: dict[str, Any], record: str = RELEASE) -> str:
    return str(digests(batch_of(rows_of(*cases)))[record])


@pytest.mark.parametrize("change", [each[1] for each in CHANGES], ids=[each[0] for each in CHANGES])
def test_a_record_that_changed_has_another_digest(change: dict[str, Any]) -> None:
    before = {**MEASURED, "municipality": "Sackville"}
    assert digest_of(before) != digest_of({**before, **change})


def test_the_day_of_the_last_change_is_no_change() -> None:
    assert digest_of(MEASURED) == digest_of({**MEASURED, "modified": "2026-12-01"})


def test_a_digest_does_not_hang_on_what_else_is_in_the_batch() -> None:
    alone = digest_of(MEASURED)
    assert alone == digest_of(ANOTHER, MEASURED) == digest_of({**ANOTHER, "sex": "", "wingWear": "5"}, MEASURED)
    assert len(alone) == DIGITS


def test_a_find_that_was_linked_has_another_digest() -> None:
    unlinked = {**A_FIND, "tagCode": "SM0099"}
    linked = digest_of({**POINT, "tagCode": "SM0042"}, A_FIND, record=FIND)
    assert linked != digest_of({**POINT, "occurrence_id": ""}, A_FIND, record=FIND)
    assert digest_of(POINT, unlinked, record=FIND) != linked


def test_no_records_have_no_digests() -> None:
    assert digests(batch_of(rows_of(POINT).iloc[:0])).empty
