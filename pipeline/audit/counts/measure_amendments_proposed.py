"""How many proposals were made for the record."""

from pipeline.audit.audit_test import AuditTest, Response, counted


def responds(amendments: int, number: int) -> Response:
    return counted(number, f"of {amendments} amendments")


TEST = AuditTest(
    label="MEASURE_AMENDMENTS_PROPOSED",
    test_id="03049fe5-a575-404f-b564-ae63f5a1cf8b",
    updated="2024-08-18",
    kind="Measure",
    acted_upon=(),
    looked_up=("amendments", "amendments_proposed"),
    meaning="how many amendments have something to propose for the record",
    advice="Look at what is proposed; nothing has been changed.",
    examples="""
        amendments | amendments_proposed | status         | result
        28         | 3                   | RUN_HAS_RESULT | 3
        28         | 0                   | RUN_HAS_RESULT | 0
        0          | 0                   | RUN_HAS_RESULT | 0
    """,
)
