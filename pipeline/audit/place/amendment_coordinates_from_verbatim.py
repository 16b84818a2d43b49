"""Decimal degrees out of coordinates as they were written."""

from collections.abc import Callable, Mapping

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, filled_in, is_empty, not_amended
from pipeline.audit.datum_name import code_of, says_nothing
from pipeline.audit.verbatim_point import is_grid, is_same_point, point_of_one, point_of_two


def responds(  # noqa: PLR0913 - eight terms
    latitude: str,
    longitude: str,
    datum: str,
    coordinates: str,
    verbatim_latitude: str,
    verbatim_longitude: str,
    system: str,
    srs: str,
    *,
    is_datum: Callable[[str], bool] | None,
    datum_codes: Mapping[str, str],
) -> Response:
    if not is_empty(latitude) or not is_empty(longitude):
        return cannot_say("a decimal coordinate is there")
    has_two = not is_empty(verbatim_latitude) and not is_empty(verbatim_longitude)
    if not has_two and is_empty(coordinates):
        return cannot_say("there are no verbatim coordinates")
    code = code_of(srs, is_datum, datum_codes) if is_datum else ""
    if is_grid(system) or not (code or is_empty(srs) or says_nothing(srs)):
        return not_amended(f"no system of degrees that we know: {(system if is_grid(system) else srs)!r}")
    if code and not is_empty(datum) and datum != code:
        return not_amended(f"geodeticDatum is {datum!r} and verbatimSRS {srs!r}: nothing is converted here")
    one = point_of_two(verbatim_latitude, verbatim_longitude) if has_two else None
    other = None if is_empty(coordinates) else point_of_one(coordinates)
    if one and other and not is_same_point(one, other):
        return not_amended("the verbatim coordinates and the verbatim latitude and longitude are two different points")
    if not (found := one or (None if has_two else other)):
        return not_amended("the verbatim coordinates cannot be read as degrees in one way only")
    values = {"decimalLatitude": found[0], "decimalLongitude": found[1]}
    if code and is_empty(datum):
        values["geodeticDatum"] = code
    return filled_in("read from the verbatim terms", **values)


TEST = AuditTest(
    label="AMENDMENT_COORDINATES_FROM_VERBATIM",
    test_id="3c2590c7-af8a-4eb4-af57-5f73ba9d1f8e",
    updated="2024-08-20",
    kind="Amendment",
    acted_upon=("decimalLatitude", "decimalLongitude", "geodeticDatum"),
    consulted=(
        "verbatimCoordinates",
        "verbatimLatitude",
        "verbatimLongitude",
        "verbatimCoordinateSystem",
        "verbatimSRS",
    ),
    meaning="decimal degrees are empty and can be read from the verbatim coordinates in one way only; nothing is"
    " converted between systems",
    advice="Take the proposed coordinates; what cannot be read for sure, look up on the sheet.",
    examples="""
        decimalLatitude | decimalLongitude | geodeticDatum | verbatimCoordinates                                        | verbatimLatitude | verbatimLongitude | verbatimCoordinateSystem | verbatimSRS | status                         | result
                        |                  |               |                                                            | 45.5             | -64.8             | decimal degrees          | WGS84       | FILLED_IN                      | {"dwc:decimalLatitude": "45.5", "dwc:decimalLongitude": "-64.8", "dwc:geodeticDatum": "EPSG:4326"}
                        |                  |               |                                                            | 41 05 54.03S     | 121d 10' 34" W    |                          |             | FILLED_IN                      | {"dwc:decimalLatitude": "-41.0983417", "dwc:decimalLongitude": "-121.1761111"}
                        |                  |               | 139.92, -23.712                                            |                  |                   | decimal degrees          | EPSG:4326   | FILLED_IN                      | {"dwc:decimalLatitude": "-23.712", "dwc:decimalLongitude": "139.92", "dwc:geodeticDatum": "EPSG:4326"}
                        |                  |               | 23 degrees 42.72 minutes south 140 degrees 30 minutes east |                  |                   |                          |             | FILLED_IN                      | {"dwc:decimalLatitude": "-23.712", "dwc:decimalLongitude": "140.5"}
                        |                  | EPSG:4326     | 45.5N 64.8W                                                |                  |                   |                          | unknown     | FILLED_IN                      | {"dwc:decimalLatitude": "45.5", "dwc:decimalLongitude": "-64.8"}
                        |                  |               | 17T 630000 4833400                                         |                  |                   |                          |             | NOT_AMENDED                    |
                        |                  |               | 54K 0390210 7377243                                        |                  |                   | decimal degrees          | EPSG:32754  | NOT_AMENDED                    |
                        |                  |               | 45.5, -64.8                                                |                  |                   |                          |             | NOT_AMENDED                    |
                        |                  |               | 45.5N 64.8W                                                | 45.7             | -64.8             |                          |             | NOT_AMENDED                    |
                        |                  |               |                                                            | 45.5             | -64.8             | UTM                      |             | NOT_AMENDED                    |
                        |                  |               |                                                            | 45.5             | -64.8             |                          | EPSG:26920  | NOT_AMENDED                    |
                        |                  | EPSG:4267     |                                                            | 45.5             | -64.8             |                          | EPSG:4326   | NOT_AMENDED                    |
                        |                  |               | by the gate                                                |                  |                   |                          |             | NOT_AMENDED                    |
        45.5            |                  |               | 45.5N 64.8W                                                |                  |                   |                          |             | INTERNAL_PREREQUISITES_NOT_MET |
                        |                  |               |                                                            | 45.5             |                   |                          |             | INTERNAL_PREREQUISITES_NOT_MET |
                        |                  |               |                                                            |                  |                   |                          |             | INTERNAL_PREREQUISITES_NOT_MET |
    """,  # noqa: E501
    parameters=("is_datum", "datum_codes"),
)
