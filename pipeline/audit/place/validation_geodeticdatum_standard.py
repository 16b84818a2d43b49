"""A datum by its code."""

from collections.abc import Callable

from pipeline.audit.audit_test import (
    AuditTest,
    Response,
    cannot_say,
    compliant,
    is_empty,
    not_compliant,
    source_is_missing,
)
from pipeline.audit.datum_name import NOT_RECORDED


def responds(datum: str, *, is_datum: Callable[[str], bool] | None) -> Response:
    if is_datum is None:
        return source_is_missing("there is no list of codes of EPSG here")
    if is_empty(datum):
        return cannot_say("geodeticDatum is empty")
    if datum == NOT_RECORDED or is_datum(datum):
        return compliant()
    return not_compliant(f"geodeticDatum is {datum!r}, no code of EPSG of a datum, an ellipsoid or a system of degrees")


TEST = AuditTest(
    label="VALIDATION_GEODETICDATUM_STANDARD",
    test_id="7e0c0418-fe16-4a39-98bd-80e19d95b9d1",
    updated="2025-03-03",
    kind="Validation",
    acted_upon=("geodeticDatum",),
    meaning="the datum is written as a code of EPSG for a datum, an ellipsoid or a reference system of degrees,"
    ' or as "not recorded"',
    advice="Write the code, for instance EPSG:4326; what stands there is proposed as one beside this where it"
    " can only mean one.",
    examples="""
        geodeticDatum    | status                         | result
        EPSG:4326        | RUN_HAS_RESULT                 | COMPLIANT
        EPSG:1168        | RUN_HAS_RESULT                 | COMPLIANT
        EPSG:7030        | RUN_HAS_RESULT                 | COMPLIANT
        not recorded     | RUN_HAS_RESULT                 | COMPLIANT
        EPSG:23032       | RUN_HAS_RESULT                 | NOT_COMPLIANT
        EPSG:4807        | RUN_HAS_RESULT                 | NOT_COMPLIANT
        EPSG:99999       | RUN_HAS_RESULT                 | NOT_COMPLIANT
        6326             | RUN_HAS_RESULT                 | NOT_COMPLIANT
        WGS84            | RUN_HAS_RESULT                 | NOT_COMPLIANT
        EPSG:4326\\u00a0 | RUN_HAS_RESULT                 | NOT_COMPLIANT
        epsg:4326        | RUN_HAS_RESULT                 | NOT_COMPLIANT
                         | INTERNAL_PREREQUISITES_NOT_MET |
    """,
    parameters=("is_datum",),
)
