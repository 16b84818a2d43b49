"""Heights in metres out of a height as it was written."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, filled_in, is_empty, not_amended
from pipeline.audit.metres import metres_from


def responds(minimum_elevation: str, maximum_elevation: str, verbatim_elevation: str) -> Response:
    if not is_empty(minimum_elevation) or not is_empty(maximum_elevation):
        return cannot_say("a height in metres is there")
    if is_empty(verbatim_elevation):
        return cannot_say("verbatimElevation is empty")
    if not (found := metres_from(verbatim_elevation)):
        return not_amended(f"verbatimElevation is {verbatim_elevation!r}, not surely a number with its unit")
    why = f"{verbatim_elevation!r} in metres"
    return filled_in(why, minimumElevationInMeters=found[0], maximumElevationInMeters=found[1])


TEST = AuditTest(
    label="AMENDMENT_MINELEVATIONMAXELEVATION_FROM_VERBATIM",
    test_id="2d638c8b-4c62-44a0-a14d-fa147bf9823d",
    updated="2024-08-30",
    kind="Amendment",
    acted_upon=("minimumElevationInMeters", "maximumElevationInMeters"),
    consulted=("verbatimElevation",),
    meaning="the heights in metres are empty and can be read from the written height, with its unit, in one way only",
    advice="Take the proposed heights; where the unit is missing ask the person who wrote the sheet.",
    examples="""
        minimumElevationInMeters | maximumElevationInMeters | verbatimElevation | status                         | result
                                 |                          | 100 feet          | FILLED_IN                      | {"dwc:minimumElevationInMeters": "30.48", "dwc:maximumElevationInMeters": "30.48"}
                                 |                          | 1500 - 2000 Ft    | FILLED_IN                      | {"dwc:minimumElevationInMeters": "457.2", "dwc:maximumElevationInMeters": "609.6"}
                                 |                          | 200 - 300 m       | FILLED_IN                      | {"dwc:minimumElevationInMeters": "200", "dwc:maximumElevationInMeters": "300"}
                                 |                          | 10 yards          | FILLED_IN                      | {"dwc:minimumElevationInMeters": "9.144", "dwc:maximumElevationInMeters": "9.144"}
                                 |                          | 1.2 km            | FILLED_IN                      | {"dwc:minimumElevationInMeters": "1200", "dwc:maximumElevationInMeters": "1200"}
                                 |                          | 12 m a.s.l.       | FILLED_IN                      | {"dwc:minimumElevationInMeters": "12", "dwc:maximumElevationInMeters": "12"}
                                 |                          | 1000              | NOT_AMENDED                    |
                                 |                          | 1,500 m           | NOT_AMENDED                    |
                                 |                          | 300-200 m         | NOT_AMENDED                    |
                                 |                          | x                 | NOT_AMENDED                    |
                                 |                          |                   | INTERNAL_PREREQUISITES_NOT_MET |
        30                       |                          | 100 feet          | INTERNAL_PREREQUISITES_NOT_MET |
                                 | 30                       | 100 feet          | INTERNAL_PREREQUISITES_NOT_MET |
    """,  # noqa: E501
)
