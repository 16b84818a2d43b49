"""A date of the identification in another form than ISO 8601, read where there is one reading."""

from pipeline.audit.audit_test import AuditTest, Response, amended, cannot_say, is_empty, not_amended
from pipeline.audit.day_words import iso_meant
from pipeline.audit.iso_day import iso_day


def responds(date_identified: str) -> Response:
    if is_empty(date_identified):
        return cannot_say("dateIdentified is empty")
    if iso_day(date_identified):
        return not_amended("dateIdentified is ISO 8601 already")
    if meant := iso_meant(date_identified):
        return amended(f"dateIdentified {date_identified!r} can be read in one way only", dateIdentified=meant)
    return not_amended(f"dateIdentified {date_identified!r} has no reading or several")


TEST = AuditTest(
    label="AMENDMENT_DATEIDENTIFIED_STANDARDIZED",
    test_id="39bb2280-1215-447b-9221-fd13bc990641",
    updated="2024-09-16",
    kind="Amendment",
    acted_upon=("dateIdentified",),
    sees_no_time=True,
    meaning="a value that is not ISO 8601 but can be read in one way only is put into ISO 8601, as precise as it was",
    advice="Take over the proposal if it agrees with the field sheet; look there too for what was left alone.",
    examples="""
        dateIdentified    | status                         | result
        2025-13-08        | AMENDED                        | {"dwc:dateIdentified": "2025-08-13"}
        2025/08/09        | AMENDED                        | {"dwc:dateIdentified": "2025-08-09"}
        25.8.2025         | AMENDED                        | {"dwc:dateIdentified": "2025-08-25"}
        9 août 2025       | AMENDED                        | {"dwc:dateIdentified": "2025-08-09"}
        9-VIII-2025       | AMENDED                        | {"dwc:dateIdentified": "2025-08-09"}
        Sat 9 Aug 2025    | AMENDED                        | {"dwc:dateIdentified": "2025-08-09"}
        Aug 2025          | AMENDED                        | {"dwc:dateIdentified": "2025-08"}
        2025-08-00        | AMENDED                        | {"dwc:dateIdentified": "2025-08"}
        9-12 Aug 2025     | AMENDED                        | {"dwc:dateIdentified": "2025-08-09/2025-08-12"}
        2025-08-09 14:05  | AMENDED                        | {"dwc:dateIdentified": "2025-08-09T14:05"}
        \\u00a02025-08-09 | AMENDED                        | {"dwc:dateIdentified": "2025-08-09"}
        2025-08-09        | NOT_AMENDED                    |
        08/09/2025        | NOT_AMENDED                    |
        25-08-09          | NOT_AMENDED                    |
        9 Aug 25          | NOT_AMENDED                    |
        08-09             | NOT_AMENDED                    |
        1911/12           | NOT_AMENDED                    |
        Sun 9 Aug 2025    | NOT_AMENDED                    |
        2025-02-30        | NOT_AMENDED                    |
        46268             | NOT_AMENDED                    |
        summer 2025       | NOT_AMENDED                    |
                          | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
