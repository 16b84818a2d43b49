"""The date of the event, from the year and the days of the year."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, filled_in, is_empty, not_amended
from pipeline.audit.calendar_day import day_of_year
from pipeline.audit.whole_number import whole_number, whole_number_among


def responds(event_date: str, year: str, start_day_of_year: str, end_day_of_year: str) -> Response:
    if not is_empty(event_date):
        return cannot_say("eventDate is filled")
    if is_empty(year) or is_empty(start_day_of_year) or is_empty(end_day_of_year):
        return cannot_say("year, startDayOfYear or endDayOfYear is empty")
    full_year = whole_number_among(year, 1000, 9999)  # one such as 25 says not in which century
    places = whole_number(start_day_of_year), whole_number(end_day_of_year)
    first, last = (day_of_year(full_year, place) if full_year and place else None for place in places)
    if first is None or last is None:
        return not_amended("the year has no such days, or they are no whole numbers")
    if first >= last:
        return not_amended("startDayOfYear is not before endDayOfYear")
    return filled_in("from year, startDayOfYear and endDayOfYear", eventDate=f"{first.iso()}/{last.iso()}")


TEST = AuditTest(
    label="AMENDMENT_EVENTDATE_FROM_YEARSTARTDAYOFYEARENDDAYOFYEAR",
    test_id="eb0a44fa-241c-4d64-98df-ad4aa837307b",
    updated="2024-08-18",
    kind="Amendment",
    acted_upon=("eventDate",),
    consulted=("year", "startDayOfYear", "endDayOfYear"),
    sees_no_time=True,
    meaning="an empty eventDate is filled with the span from the first to the last day of the year, if these are "
    "different and in order",
    advice="Take over the proposal if it agrees with the field sheet; for a single day, write eventDate from there.",
    examples="""
        eventDate  | year | startDayOfYear | endDayOfYear | status | result
                   | 2025 | 221            | 224          | FILLED_IN | {"dwc:eventDate": "2025-08-09/2025-08-12"}
                   | 2024 | 60             | 366          | FILLED_IN | {"dwc:eventDate": "2024-02-29/2024-12-31"}
                   | 2025 | 224            | 221          | NOT_AMENDED |
                   | 2025 | 221            | 221          | NOT_AMENDED |
                   | 2025 | 221            | 366          | NOT_AMENDED |
                   | 2025 | 0              | 221          | NOT_AMENDED |
                   | 2025 | X              | 221          | NOT_AMENDED |
                   | 25   | 221            | 224          | NOT_AMENDED |
        2025-08-09 | 2025 | 221            | 224          | INTERNAL_PREREQUISITES_NOT_MET |
                   |      | 221            | 224          | INTERNAL_PREREQUISITES_NOT_MET |
                   | 2025 |                | 224          | INTERNAL_PREREQUISITES_NOT_MET |
                   | 2025 | 221            |              | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
