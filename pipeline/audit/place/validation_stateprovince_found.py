"""A state or province that is known by this name."""

from collections.abc import Mapping

from pipeline.audit.audit_test import (
    AuditTest,
    Response,
    cannot_say,
    compliant,
    is_empty,
    not_compliant,
    source_is_missing,
)
from pipeline.audit.place_name import codes_of_state


def responds(state: str, *, states: Mapping[str, frozenset[str]]) -> Response:
    if not states:
        return source_is_missing("there is no list of states and provinces here")
    if is_empty(state):
        return cannot_say("stateProvince is empty")
    if codes_of_state(state, states):
        return compliant()
    return not_compliant(f"stateProvince is {state!r}, which our list of first divisions of countries has not")


TEST = AuditTest(
    label="VALIDATION_STATEPROVINCE_FOUND",
    test_id="4daa7986-d9b0-4dd5-ad17-2d7a771ea71a",
    updated="2024-09-18",
    kind="Validation",
    acted_upon=("stateProvince",),
    meaning="the state or province is a first division of some country",
    advice="Write one name of one state or province in full; a county belongs in county, a town in municipality.",
    examples="""
        stateProvince         | status                         | result
        New Brunswick         | RUN_HAS_RESULT                 | COMPLIANT
        Nouveau-Brunswick     | RUN_HAS_RESULT                 | COMPLIANT
        Florida               | RUN_HAS_RESULT                 | COMPLIANT
        NB                    | RUN_HAS_RESULT                 | COMPLIANT
        Taswegian             | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Canada                | RUN_HAS_RESULT                 | NOT_COMPLIANT
        New Brunswick / Maine | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Maine\\u00a0          | RUN_HAS_RESULT                 | NOT_COMPLIANT
                              | INTERNAL_PREREQUISITES_NOT_MET |
    """,
    parameters=("states",),
)
