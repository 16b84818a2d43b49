"""A datum taken for granted, and what that adds to the uncertainty."""

from collections.abc import Callable
from functools import cache

from pipeline.audit.audit_test import AuditTest, Response, amended, filled_in, is_empty, not_amended
from pipeline.audit.decimal_number import decimal_number, not_on_globe
from pipeline.values.uncertainty import LARGEST


def responds(  # noqa: PLR0913 - four terms and what is known of them
    datum: str,
    uncertainty: str,
    latitude: str,
    longitude: str,
    *,
    assumed_datum: str,
    largest_shift: Callable[[float, float], int] | None,
) -> Response:
    if not is_empty(datum):
        return not_amended("geodeticDatum is there")
    if is_empty(uncertainty) or is_empty(latitude) or is_empty(longitude):
        return _assumed(assumed_datum)
    metres, why = decimal_number(uncertainty), not_on_globe(latitude, longitude)
    if why or metres is None or not 1 <= metres <= LARGEST or largest_shift is None:
        why = f"geodeticDatum is empty: {assumed_datum} is assumed; the uncertainty cannot be added to"
        return filled_in(why, geodeticDatum=assumed_datum)
    shift = largest_shift(float(latitude), float(longitude))
    why = f"geodeticDatum is empty: {assumed_datum} is assumed, and {shift} m added, as far as any datum lies off there"
    larger = f"{min(metres + shift, LARGEST):.15g}"
    return amended(why, geodeticDatum=assumed_datum, coordinateUncertaintyInMeters=larger)


@cache
def _assumed(datum: str) -> Response:
    return filled_in(f"geodeticDatum is empty: {datum} is assumed", geodeticDatum=datum)


TEST = AuditTest(
    label="AMENDMENT_GEODETICDATUM_ASSUMEDDEFAULT",
    test_id="7498ca76-c4d4-42e2-8103-acacccbdffa7",
    updated="2024-11-12",
    kind="Amendment",
    acted_upon=("geodeticDatum", "coordinateUncertaintyInMeters"),
    consulted=("decimalLatitude", "decimalLongitude"),
    meaning="where no datum is named WGS 84 is assumed, and the uncertainty grows by what the true datum may lie off",
    advice="Ask on which datum the coordinates stand before taking this: the added metres are those of the"
    " worst datum on Earth.",
    examples="""
        geodeticDatum | coordinateUncertaintyInMeters | decimalLatitude | decimalLongitude | status      | result
                      |                               | 46.09           | -64.77           | FILLED_IN   | {"dwc:geodeticDatum": "EPSG:4326"}
                      | 30                            |                 |                  | FILLED_IN   | {"dwc:geodeticDatum": "EPSG:4326"}
                      | 0                             | 46.09           | -64.77           | FILLED_IN   | {"dwc:geodeticDatum": "EPSG:4326"}
                      | about 30                      | 46.09           | -64.77           | FILLED_IN   | {"dwc:geodeticDatum": "EPSG:4326"}
                      | 50                            | -30             | 130              | AMENDED     | {"dwc:geodeticDatum": "EPSG:4326", "dwc:coordinateUncertaintyInMeters": "2831"}
        EPSG:4267     | 50                            | 46.09           | -64.77           | NOT_AMENDED |
        WGS84         |                               |                 |                  | NOT_AMENDED |
        [null]        | 50                            | -30.00          | 130.00           | NOT_AMENDED |
    """,  # noqa: E501
    parameters=("assumed_datum", "largest_shift"),
)
