"""A point that lies in the state or province of the name."""

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
from pipeline.audit.decimal_number import not_on_globe
from pipeline.audit.place_name import codes_of_state


def responds(
    state: str, latitude: str, longitude: str, standing: str, *, states: Mapping[str, frozenset[str]]
) -> Response:
    if standing == "in":
        return compliant()  # nearly all, by the short way
    if is_empty(state):
        return cannot_say("stateProvince is empty")
    if why := not_on_globe(latitude, longitude):
        return cannot_say(why)
    if not states:
        return source_is_missing("there is no list of states and provinces here")
    if not codes_of_state(state, states):
        return cannot_say(f"stateProvince is {state!r}, which our list of first divisions of countries has not")
    if standing in ("", "?"):
        return source_is_missing(f"our map has no code for {'what lies there' if standing else repr(state)}")
    if standing == "near":
        return compliant(f"outside {state} by no more than the 3 km that are allowed")
    if standing == "sea":
        return not_compliant(f"at sea, more than 3 km from {state}")
    return not_compliant(f"the point lies in {standing}, more than 3 km from {state}")


TEST = AuditTest(
    label="VALIDATION_COORDINATESSTATEPROVINCE_CONSISTENT",
    test_id="f18a470b-3fe1-4aae-9c65-a6d3db6b550c",
    updated="2024-08-30",
    kind="Validation",
    acted_upon=("stateProvince", "decimalLatitude", "decimalLongitude"),
    meaning="the point lies in the state or province, or no more than 3 km outside",
    advice="Compare with the map; near a border the name may be right and the point roughly placed.",
    examples="""
        stateProvince | decimalLatitude | decimalLongitude | status                         | result
        New Brunswick | 46.09           | -64.77           | RUN_HAS_RESULT                 | COMPLIANT
        NS            | 44.65           | -63.57           | RUN_HAS_RESULT                 | COMPLIANT
        Tasmania      | -42.85          | 146.75           | RUN_HAS_RESULT                 | COMPLIANT
        New Brunswick | 45.85           | -64.27           | RUN_HAS_RESULT                 | COMPLIANT
        New Brunswick | 44.65           | -63.57           | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Córdoba       | -41.0526        | -71.5311         | RUN_HAS_RESULT                 | NOT_COMPLIANT
        New Brunswick | 43              | -60              | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Taswegian     | 46.09           | -64.77           | INTERNAL_PREREQUISITES_NOT_MET |
        New Brunswick | 95              | -64.77           | INTERNAL_PREREQUISITES_NOT_MET |
        New Brunswick |                 |                  | INTERNAL_PREREQUISITES_NOT_MET |
                      | 46.09           | -64.77           | INTERNAL_PREREQUISITES_NOT_MET |
    """,
    looked_up=("state_standing",),
    parameters=("states",),
)
