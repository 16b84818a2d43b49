"""Coordinates exchanged, or with the other sign, that lie in the country of the code."""

from pipeline.audit.audit_test import AuditTest, Response, amended, cannot_say, is_empty, not_amended
from pipeline.audit.turned import TURNS


def responds(latitude: str, longitude: str, code: str, turns: tuple[int, ...] | None) -> Response:
    if is_empty(code) or is_empty(latitude) or is_empty(longitude):
        return cannot_say("latitude, longitude or countryCode is empty")
    if turns is None:
        return not_amended("two numbers and a code of a country are needed to try")
    if not turns:
        return not_amended()
    texts = {TURNS[number].of_texts(latitude, longitude): str(TURNS[number]) for number in reversed(turns)}
    if len({tuple(map(float, pair)) for pair in texts}) > 1:
        ways = " or with ".join(reversed(texts.values()))
        return not_amended(f"the point lies in {code} with {ways}: it is not clear which")
    (north, east), how = texts.popitem()
    return amended(f"with {how} the point lies in {code}", decimalLatitude=north, decimalLongitude=east)


TEST = AuditTest(
    label="AMENDMENT_COORDINATES_TRANSPOSED",
    test_id="f2b4a50a-6b2f-4930-b9df-da87b6a21082",
    updated="2024-11-11",
    kind="Amendment",
    acted_upon=("decimalLatitude", "decimalLongitude"),
    consulted=("countryCode",),
    meaning="the point lies outside its country, and inside it in one way only to exchange the coordinates or"
    " reverse their signs",
    advice="Take the proposed coordinates if the country is right; if the point is right, correct the code.",
    examples="""
        decimalLatitude | decimalLongitude | countryCode | status                         | result
        25.46           | 135.87           | AU          | AMENDED                        | {"dwc:decimalLatitude": "-25.46", "dwc:decimalLongitude": "135.87"}
        45.50           | 64.80            | CA          | AMENDED                        | {"dwc:decimalLatitude": "45.50", "dwc:decimalLongitude": "-64.80"}
        -64.8           | 45.5             | CA          | AMENDED                        | {"dwc:decimalLatitude": "45.5", "dwc:decimalLongitude": "-64.8"}
        120.5           | 45.2             | US          | AMENDED                        | {"dwc:decimalLatitude": "45.2", "dwc:decimalLongitude": "-120.5"}
        12.5            | 70               | AW          | AMENDED                        | {"dwc:decimalLatitude": "12.5", "dwc:decimalLongitude": "-70"}
        45.5            | -64.8            | CA          | NOT_AMENDED                    |
        43              | -60              | CA          | NOT_AMENDED                    |
        25.46           | 135.87           | AX          | NOT_AMENDED                    |
        20              | 20               | AU          | NOT_AMENDED                    |
        45.5 N          | 64.8             | CA          | NOT_AMENDED                    |
        45.5            | -64.8            |             | INTERNAL_PREREQUISITES_NOT_MET |
                        | 64.8             | CA          | INTERNAL_PREREQUISITES_NOT_MET |
    """,  # noqa: E501
    looked_up=("turns",),
)
