"""The date of the event, from year, month and day."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, filled_in, is_empty, not_amended
from pipeline.audit.day_and_month import day_meant, month_meant
from pipeline.audit.iso_day import iso_day
from pipeline.audit.whole_number import whole_number


def responds(event_date: str, year: str, month: str, day: str) -> Response:
    if not is_empty(event_date):
        return cannot_say("eventDate is filled")
    if (number := whole_number(year)) is None:
        return cannot_say("year is empty" if is_empty(year) else f"year {year!r} is no whole number")
    # A year such as 25 says not in which century.
    meant = _date(number, month_meant(month), day_meant(day)) if 1000 <= number <= 9999 else ""
    if iso_day(meant):
        return filled_in("from year, month and day, as far as they can be read", eventDate=meant)
    return not_amended("year, month and day together are no date")


def _date(year: int, month: int | None, day: int | None) -> str:
    if month is None:
        return str(year)
    if not 1 <= month <= 12:
        return ""  # 123 would be read as a day of the year
    return f"{year}-{month:02}" if day is None else f"{year}-{month:02}-{day:02}"


TEST = AuditTest(
    label="AMENDMENT_EVENTDATE_FROM_YEARMONTHDAY",
    test_id="3892f432-ddd0-4a0a-b713-f2e2ecbd879d",
    updated="2024-09-15",
    kind="Amendment",
    acted_upon=("eventDate",),
    consulted=("year", "month", "day"),
    sees_no_time=True,
    meaning="an empty eventDate is filled from year, month and day, no more precise than they can be read",
    advice="Take over the proposal if it agrees with the field sheet; a day that the calendar does not have "
    "must be looked up there.",
    examples="""
        eventDate  | year  | month   | day | status                         | result
                   | 2025  | 8       | 9   | FILLED_IN                      | {"dwc:eventDate": "2025-08-09"}
                   | 1420  | 10      | 29  | FILLED_IN                      | {"dwc:eventDate": "1420-10-29"}
                   | 2024  | 02      | 29  | FILLED_IN                      | {"dwc:eventDate": "2024-02-29"}
                   | 2025  | 8       |     | FILLED_IN                      | {"dwc:eventDate": "2025-08"}
                   | 2025  |         | 9   | FILLED_IN                      | {"dwc:eventDate": "2025"}
                   | 2025  | harvest | 9   | FILLED_IN                      | {"dwc:eventDate": "2025"}
                   | 2025  | VIII    | 9th | FILLED_IN                      | {"dwc:eventDate": "2025-08-09"}
                   | 2025  |         |     | FILLED_IN                      | {"dwc:eventDate": "2025"}
                   | 2025  | 2       | 29  | NOT_AMENDED                    |
                   | 2025  | 13      | 8   | NOT_AMENDED                    |
                   | 2025  | 123     |     | NOT_AMENDED                    |
                   | 2025  | -1      | 8   | NOT_AMENDED                    |
                   | 25    | 8       | 9   | NOT_AMENDED                    |
        2025-08-09 | 2025  | 8       | 9   | INTERNAL_PREREQUISITES_NOT_MET |
                   |       | 8       | 9   | INTERNAL_PREREQUISITES_NOT_MET |
                   | 2025? | 8       | 9   | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
