"""A code of two letters for what stands there."""

from collections.abc import Mapping

from pipeline.audit.audit_test import AuditTest, Response, amended, cannot_say, is_empty, not_amended, source_is_missing
from pipeline.values.text import tidy


def responds(country_code: str, *, country_codes: frozenset[str], countries: Mapping[str, str]) -> Response:
    if not country_codes:
        return source_is_missing("there is no list of codes of countries here")
    if is_empty(country_code):
        return cannot_say("countryCode is empty")
    if country_code in country_codes:
        return not_amended()
    written = tidy(country_code)
    code = written.upper() if written.upper() in country_codes else countries.get(written, "")
    if code not in country_codes:
        return not_amended(f"{country_code!r} names no country that we know, or more than one")
    return amended(f"{country_code!r} can only mean {code}", countryCode=code)


TEST = AuditTest(
    label="AMENDMENT_COUNTRYCODE_STANDARDIZED",
    test_id="fec5ffe6-3958-4312-82d9-ebcca0efb350",
    updated="2024-11-09",
    kind="Amendment",
    acted_upon=("countryCode",),
    meaning="what stands as the code of a country can only mean one code of ISO 3166-1, which is proposed",
    advice="Take the proposed code if it is the country that was meant.",
    examples="""
        countryCode      | status                         | result
        Australia        | AMENDED                        | {"dwc:countryCode": "AU"}
        GRL              | AMENDED                        | {"dwc:countryCode": "GL"}
        ca               | AMENDED                        | {"dwc:countryCode": "CA"}
        CA\\u00a0        | AMENDED                        | {"dwc:countryCode": "CA"}
        U.S.A.           | AMENDED                        | {"dwc:countryCode": "US"}
        Nouvelle-Zélande | AMENDED                        | {"dwc:countryCode": "NZ"}
        xz               | AMENDED                        | {"dwc:countryCode": "XZ"}
        CA               | NOT_AMENDED                    |
        Aust.            | NOT_AMENDED                    |
        EU               | NOT_AMENDED                    |
        XK               | NOT_AMENDED                    |
        Atlantis         | NOT_AMENDED                    |
                         | INTERNAL_PREREQUISITES_NOT_MET |
    """,
    parameters=("country_codes", "countries"),
)
