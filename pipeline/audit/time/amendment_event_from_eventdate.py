"""The parts of a date, from the date of the event."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, filled_in, is_empty, not_amended
from pipeline.audit.iso_day import iso_day
from pipeline.audit.parts_of_day import parts_of_day

TERMS = ("year", "month", "day", "startDayOfYear", "endDayOfYear")


def responds(*values: str) -> Response:
    *parts, event_date = values
    if is_empty(event_date):
        return cannot_say("eventDate is empty")
    if (event := iso_day(event_date)) is None:
        return cannot_say(f"eventDate {event_date!r} is no valid ISO 8601 date")
    settled = parts_of_day(event)
    empty = {term for term, part in zip(TERMS, parts, strict=True) if is_empty(part)}
    proposed = {term: _written(term, number) for term, number in settled.items() if term in empty}
    if proposed:
        return filled_in(f"{', '.join(proposed)} from eventDate", **proposed)
    return not_amended("nothing is empty that eventDate is precise enough to say")


def _written(term: str, number: int) -> str:
    return f"{number:04}" if term == "year" else str(number)


TEST = AuditTest(
    label="AMENDMENT_EVENT_FROM_EVENTDATE",
    test_id="710fe118-17e1-440f-b428-88ba3f547d6d",
    updated="2024-09-16",
    kind="Amendment",
    acted_upon=("year", "month", "day", "startDayOfYear", "endDayOfYear"),
    consulted=("eventDate",),
    sees_no_time=True,
    meaning="empty terms for the parts of a date are filled from eventDate, as far as that is precise enough and "
    "stays within one of them",
    advice="Take over the proposal; it adds nothing that the date does not say.",
    examples="""
        year | month | day | startDayOfYear | endDayOfYear | eventDate | status | result
         |  |  |  |  | 2025-08-09 | FILLED_IN | {"dwc:year": "2025", "dwc:month": "8", "dwc:day": "9", \
            "dwc:startDayOfYear": "221", "dwc:endDayOfYear": "221"}
        2025 | 8 | 9 |  |  | 2025-08-09T14:05-0300 | FILLED_IN | {"dwc:startDayOfYear": "221", \
            "dwc:endDayOfYear": "221"}
         |  |  |  |  | 2025-08-09/12 | FILLED_IN | {"dwc:year": "2025", "dwc:month": "8", \
            "dwc:startDayOfYear": "221", "dwc:endDayOfYear": "224"}
         |  |  |  |  | 2007-03-01T13:00:00Z/2008-05-11T15:30:00Z | FILLED_IN | {"dwc:startDayOfYear": "60", \
            "dwc:endDayOfYear": "132"}
         |  |  |  |  | 2025-08 | FILLED_IN | {"dwc:year": "2025", "dwc:month": "8"}
        2025 |  |  |  |  | 2025-08/2025-09 | NOT_AMENDED |
        2025 |  |  |  |  | 2025 | NOT_AMENDED |
        2024 | 7 | 8 | 1 | 2 | 2025-08-09 | NOT_AMENDED |
         |  |  |  |  | 9 Aug 2025 | INTERNAL_PREREQUISITES_NOT_MET |
         |  |  |  |  | 2025-02-29 | INTERNAL_PREREQUISITES_NOT_MET |
         |  |  |  |  |  | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
