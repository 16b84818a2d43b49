"""A point that lies in the country of the code."""

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


def responds(code: str, latitude: str, longitude: str, standing: str, *, country_codes: frozenset[str]) -> Response:
    if standing == "in" and code in country_codes and code != "XZ":
        return compliant()  # nearly all, by the short way
    if is_empty(code):
        return cannot_say("countryCode is empty")
    if why := not_on_globe(latitude, longitude):
        return cannot_say(why)
    if code not in country_codes or code == "ZZ":
        return cannot_say(f"countryCode is {code!r}, which names no country")
    if not standing:
        return source_is_missing(f"we have no map of {code}")
    if standing == "in":
        return compliant("at sea, more than 22 km from land: how far zones reach we do not know")
    if standing == "near":
        return compliant(f"outside {code} by no more than the 3 km that are allowed")
    if standing == "zone":
        return compliant(f"at sea within 400 km of {code}: taken for its waters (200 nautical miles, some more)")
    if standing == "sea":
        return not_compliant(
            "less than 22 km from land, no high seas"
            if code == "XZ"
            else f"at sea, more than 400 km from {code} and so outside its waters"
        )
    return not_compliant(f"the point lies in {standing.replace(' ', ' or ')}, not in {code} nor within 3 km of it")


TEST = AuditTest(
    label="VALIDATION_COORDINATESCOUNTRYCODE_CONSISTENT",
    test_id="adb27d29-9f0d-4d52-b760-a77ba57a69c9",
    updated="2024-08-30",
    kind="Validation",
    acted_upon=("countryCode", "decimalLatitude", "decimalLongitude"),
    meaning="the point lies in the country of the code, in its waters, or no more than 3 km outside",
    advice="Compare with the map: a lost minus sign, exchanged coordinates or a wrong code are the usual reasons.",
    examples="""
        countryCode | decimalLatitude | decimalLongitude | status                         | result
        CA          | 45.5            | -64.8            | RUN_HAS_RESULT                 | COMPLIANT
        AR          | -41.0526        | -71.5311         | RUN_HAS_RESULT                 | COMPLIANT
        CA          | 44.65           | -63.57           | RUN_HAS_RESULT                 | COMPLIANT
        CA          | 43              | -60              | RUN_HAS_RESULT                 | COMPLIANT
        CA          | 45.19           | -67.28           | RUN_HAS_RESULT                 | COMPLIANT
        PR          | 18.2            | -66.4            | RUN_HAS_RESULT                 | COMPLIANT
        US          | 18.2            | -66.4            | RUN_HAS_RESULT                 | COMPLIANT
        XZ          | 40              | -40              | RUN_HAS_RESULT                 | COMPLIANT
        CL          | -41.0526        | -71.5311         | RUN_HAS_RESULT                 | NOT_COMPLIANT
        CA          | 45.5            | 64.8             | RUN_HAS_RESULT                 | NOT_COMPLIANT
        CA          | 40              | -40              | RUN_HAS_RESULT                 | NOT_COMPLIANT
        XZ          | 45.5            | -64.8            | RUN_HAS_RESULT                 | NOT_COMPLIANT
        ZX          | 45.5            | -64.8            | INTERNAL_PREREQUISITES_NOT_MET |
        ZZ          | 45.5            | -64.8            | INTERNAL_PREREQUISITES_NOT_MET |
        CA          | 95              | -64.8            | INTERNAL_PREREQUISITES_NOT_MET |
        CA          |                 | -64.8            | INTERNAL_PREREQUISITES_NOT_MET |
                    | 45.5            | -64.8            | INTERNAL_PREREQUISITES_NOT_MET |
    """,
    looked_up=("country_standing",),
    parameters=("country_codes",),
)
