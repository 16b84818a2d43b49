"""A month in another form than a whole number."""

from pipeline.audit.audit_test import AuditTest, Response, amended, cannot_say, is_empty, not_amended
from pipeline.audit.day_and_month import month_meant
from pipeline.audit.whole_number import whole_number


def responds(month: str) -> Response:
    if is_empty(month):
        return cannot_say("month is empty")
    if whole_number(month) is not None:
        return not_amended("month is a whole number already")
    meant = month_meant(month)
    if meant is not None and 1 <= meant <= 12:
        return amended(f"month {month!r} can be read in one way only", month=str(meant))
    return not_amended(f"month {month!r} is no month that can be read in one way only")


TEST = AuditTest(
    label="AMENDMENT_MONTH_STANDARDIZED",
    test_id="2e371d57-1eb3-4fe3-8a61-dff43ced50cf",
    updated="2026-04-24",
    kind="Amendment",
    acted_upon=("month",),
    meaning="a month that is a name in English, French or Spanish or a Roman numeral is written as a number",
    advice="Take over the proposal; look up in the field sheet what was left alone.",
    examples="""
        month    | status                         | result
        IV       | AMENDED                        | {"dwc:month": "4"}
        X        | AMENDED                        | {"dwc:month": "10"}
        viii     | AMENDED                        | {"dwc:month": "8"}
        Sept.    | AMENDED                        | {"dwc:month": "9"}
        AUGUST   | AMENDED                        | {"dwc:month": "8"}
        août     | AMENDED                        | {"dwc:month": "8"}
        ene      | AMENDED                        | {"dwc:month": "1"}
        9.0      | AMENDED                        | {"dwc:month": "9"}
        9        | NOT_AMENDED                    |
        09       | NOT_AMENDED                    |
        13       | NOT_AMENDED                    |
        13.0     | NOT_AMENDED                    |
        XIII     | NOT_AMENDED                    |
        Ma       | NOT_AMENDED                    |
        jui      | NOT_AMENDED                    |
        Aug-Sept | NOT_AMENDED                    |
                 | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
