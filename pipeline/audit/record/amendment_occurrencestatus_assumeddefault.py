"""A record without number and status is taken as one of something found."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, filled_in, is_empty, not_amended


def responds(
    occurrence_status: str, individual_count: str, organism_quantity: str, *, assumed_occurrence_status: str
) -> Response:
    if not is_empty(occurrence_status):
        return cannot_say("occurrenceStatus is given")
    if not is_empty(individual_count) or not is_empty(organism_quantity):
        return not_amended("a number is given, and it may be nought")
    said = f"nothing says otherwise, so it is taken as {assumed_occurrence_status}"
    return filled_in(said, occurrenceStatus=assumed_occurrence_status)


TEST = AuditTest(
    label="AMENDMENT_OCCURRENCESTATUS_ASSUMEDDEFAULT",
    test_id="96667a0a-ae59-446a-bbb0-b7f2b0ca6cf5",
    updated="2024-11-13",
    kind="Amendment",
    acted_upon=("occurrenceStatus",),
    consulted=("individualCount", "organismQuantity"),
    parameters=("assumed_occurrence_status",),
    sees_only_whether_filled=True,
    meaning="where neither status nor number is given, present is proposed",
    advice="Make sure that no row of a search in vain is among them before you fill it in.",
    examples=r"""
        occurrenceStatus | individualCount | organismQuantity | status | result
         |  |  | FILLED_IN | {"dwc:occurrenceStatus": "present"}
        \t |  |  | FILLED_IN | {"dwc:occurrenceStatus": "present"}
         | 0 |  | NOT_AMENDED |
         | 3 |  | NOT_AMENDED |
         |  | a few | NOT_AMENDED |
        absent |  |  | INTERNAL_PREREQUISITES_NOT_MET |
        present | 3 |  | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
