"""The date of the event, from the words of the field sheet."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, filled_in, is_empty, not_amended
from pipeline.audit.day_words import iso_meant

GREGORIAN_IN_USE = "1918-02-14"  # before it a verbatim date may be of another calendar


def responds(event_date: str, verbatim_event_date: str) -> Response:
    if not is_empty(event_date):
        return cannot_say("eventDate is filled")
    if is_empty(verbatim_event_date):
        return cannot_say("verbatimEventDate is empty")
    if not (meant := iso_meant(verbatim_event_date)):
        return not_amended(f"verbatimEventDate {verbatim_event_date!r} has no reading or several")
    calendar = "; taken to be of the Gregorian calendar" if meant < GREGORIAN_IN_USE else ""
    return filled_in(
        f"verbatimEventDate {verbatim_event_date!r} can be read in one way only{calendar}", eventDate=meant
    )


TEST = AuditTest(
    label="AMENDMENT_EVENTDATE_FROM_VERBATIM",
    test_id="6d0a0c10-5e4a-4759-b448-88932f399812",
    updated="2024-09-16",
    kind="Amendment",
    acted_upon=("eventDate",),
    consulted=("verbatimEventDate",),
    meaning="an empty eventDate is filled from a verbatimEventDate that can be read in one way only, as precise "
    "as it was written",
    advice="Take over the proposal if it agrees with the field sheet; where two readings are left, ask who wrote it.",
    examples="""
        eventDate  | verbatimEventDate      | status | result
                   | Saturday 9th Aug. 2025 | FILLED_IN | {"dwc:eventDate": "2025-08-09"}
                   | 9.viii-10.ix.2025      | FILLED_IN | {"dwc:eventDate": "2025-08-09/2025-09-10"}
                   | le 1er septembre 2025  | FILLED_IN | {"dwc:eventDate": "2025-09-01"}
                   | XX AUG 1912            | FILLED_IN | {"dwc:eventDate": "1912-08"}
                   | 1980s                  | FILLED_IN | {"dwc:eventDate": "1980-01-01/1989-12-31"}
                   | 2025-08-09             | FILLED_IN | {"dwc:eventDate": "2025-08-09"}
                   | 8/25/2025              | FILLED_IN | {"dwc:eventDate": "2025-08-25"}
                   | 08/09/2025             | NOT_AMENDED |
                   | 9 Aug 25               | NOT_AMENDED |
                   | 1900s                  | NOT_AMENDED |
                   | August                 | NOT_AMENDED |
                   | 31 Sept 2025           | NOT_AMENDED |
                   | last Saturday          | NOT_AMENDED |
        2025-08-09 | 9 Aug 2025             | INTERNAL_PREREQUISITES_NOT_MET |
        9 Aug 2025 | 9 Aug 2025             | INTERNAL_PREREQUISITES_NOT_MET |
        2025-08-09 |                        | INTERNAL_PREREQUISITES_NOT_MET |
                   |                        | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
