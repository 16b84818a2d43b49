"""The code of the datum that stands there."""

from collections.abc import Callable, Mapping

from pipeline.audit.audit_test import AuditTest, Response, amended, cannot_say, is_empty, not_amended, source_is_missing
from pipeline.audit.datum_name import NOT_RECORDED, code_of, says_nothing


def responds(datum: str, *, is_datum: Callable[[str], bool] | None, datum_codes: Mapping[str, str]) -> Response:
    if is_datum is None:
        return source_is_missing("there is no list of codes of EPSG here")
    if is_empty(datum):
        return cannot_say("geodeticDatum is empty")
    if datum == NOT_RECORDED or is_datum(datum):
        return not_amended()
    if says_nothing(datum):
        return amended(f"{datum!r} says that nobody knows it", geodeticDatum=NOT_RECORDED)
    if code := code_of(datum, is_datum, datum_codes):
        return amended(f"{datum!r} can only mean {code}", geodeticDatum=code)
    return not_amended(f"{datum!r} is no datum that we know, or more than one")


TEST = AuditTest(
    label="AMENDMENT_GEODETICDATUM_STANDARDIZED",
    test_id="0345b325-836d-4235-96d0-3b5caf150fc0",
    updated="2025-03-03",
    kind="Amendment",
    acted_upon=("geodeticDatum",),
    meaning="what stands as the datum can only mean one code of EPSG, which is proposed; no datum is turned into"
    " another",
    advice="Take the proposed code if it is the datum that was meant.",
    examples="""
        geodeticDatum | status                         | result
        WGS84         | AMENDED                        | {"dwc:geodeticDatum": "EPSG:4326"}
        WGS:84        | AMENDED                        | {"dwc:geodeticDatum": "EPSG:4326"}
        NAD 27        | AMENDED                        | {"dwc:geodeticDatum": "EPSG:4267"}
        NAD83(CSRS)   | AMENDED                        | {"dwc:geodeticDatum": "EPSG:4617"}
        epsg:4326     | AMENDED                        | {"dwc:geodeticDatum": "EPSG:4326"}
        unknown       | AMENDED                        | {"dwc:geodeticDatum": "not recorded"}
        EPSG:4326     | NOT_AMENDED                    |
        not recorded  | NOT_AMENDED                    |
        WGS8          | NOT_AMENDED                    |
        6326          | NOT_AMENDED                    |
        EPSG:23032    | NOT_AMENDED                    |
        NAD           | NOT_AMENDED                    |
                      | INTERNAL_PREREQUISITES_NOT_MET |
    """,
    parameters=("is_datum", "datum_codes"),
)
