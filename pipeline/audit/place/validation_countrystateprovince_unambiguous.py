"""A country and a state that together are one place."""

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
from pipeline.audit.place_name import code_of_country, codes_of_state


def responds(
    country: str, state: str, *, country_names: Mapping[str, str], states: Mapping[str, frozenset[str]]
) -> Response:
    if not country_names or not states:
        return source_is_missing("there is no list of countries or of states here")
    if is_empty(country) and is_empty(state):
        return cannot_say("country and stateProvince are empty")
    if is_empty(country) or is_empty(state):
        return not_compliant(f"{'country' if is_empty(country) else 'stateProvince'} is empty")
    code = code_of_country(country, country_names)
    if not code:
        return not_compliant(f"country is {country!r}, no name of a country in our list")
    known = codes_of_state(state, states)
    there = [one for one in known if one.startswith(f"{code}-")]
    if len(there) == 1:
        return compliant()
    if there:
        return not_compliant(f"{country!r} has several divisions called {state!r}: {', '.join(sorted(there))}")
    where = ", ".join(sorted({one[:2] for one in known}))
    return not_compliant(f"{state!r} is no division of {country!r}, but of {where or 'none that we know'}")


TEST = AuditTest(
    label="VALIDATION_COUNTRYSTATEPROVINCE_UNAMBIGUOUS",
    test_id="d257eb98-27cb-48e5-8d3c-ab9fca4edd11",
    updated="2024-09-18",
    kind="Validation",
    acted_upon=("country", "stateProvince"),
    meaning="country and state together mean one state of that country",
    advice="Write the country and its state or province in full.",
    examples="""
        country       | stateProvince | status                         | result
        Canada        | New Brunswick | RUN_HAS_RESULT                 | COMPLIANT
        Argentina     | Rio Negro     | RUN_HAS_RESULT                 | COMPLIANT
        United States | WA            | RUN_HAS_RESULT                 | COMPLIANT
        Canada        | Maine         | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Canada        | Taswegian     | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Tasmania      | Tasmania      | RUN_HAS_RESULT                 | NOT_COMPLIANT
                      | WA            | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Canada        |               | RUN_HAS_RESULT                 | NOT_COMPLIANT
                      |               | INTERNAL_PREREQUISITES_NOT_MET |
    """,
    parameters=("country_names", "states"),
)
