"""The ways in which a latitude and a longitude come to be exchanged or lose their signs."""

from __future__ import annotations

from typing import Any, NamedTuple


class Turn(NamedTuple):
    """Which is put in the other's place, and whose signs are reversed after that."""

    is_exchanged: bool
    is_latitude_reversed: bool
    is_longitude_reversed: bool

    def of(self, latitude: Any, longitude: Any) -> tuple[Any, Any]:
        """The turned point, in numbers."""
        one, other = (longitude, latitude) if self.is_exchanged else (latitude, longitude)
        return (-one if self.is_latitude_reversed else one), (-other if self.is_longitude_reversed else other)

    def changes(self, latitude: Any, longitude: Any) -> Any:
        """Whether the turn does what it says: a zero has no sign to reverse."""
        one, other = (longitude, latitude) if self.is_exchanged else (latitude, longitude)
        is_real = (one != 0) | (not self.is_latitude_reversed)
        return is_real & ((other != 0) | (not self.is_longitude_reversed)) & ((one != other) | (not self.is_exchanged))

    def of_texts(self, latitude: str, longitude: str) -> tuple[str, str]:
        """The turned point as it is written, with the figures that stand.

        >>> TURNS[0].of_texts("25.460", "135.87"), TURNS[3].of_texts("-64.8", "45.5")
        (('-25.460', '135.87'), ('45.5', '-64.8'))
        """
        one, other = (longitude, latitude) if self.is_exchanged else (latitude, longitude)
        return (
            _reversed(one) if self.is_latitude_reversed else one.strip(),
            _reversed(other) if self.is_longitude_reversed else other.strip(),
        )

    def __str__(self) -> str:
        reversed_ones = [
            name
            for name, is_so in (("latitude", self.is_latitude_reversed), ("longitude", self.is_longitude_reversed))
            if is_so
        ]
        signs = f"the sign of {' and '.join(reversed_ones)} reversed" if reversed_ones else ""
        return " and ".join(filter(None, ["latitude and longitude exchanged" if self.is_exchanged else "", signs]))


TURNS = (
    Turn(False, True, False),
    Turn(False, False, True),
    Turn(False, True, True),
    Turn(True, False, False),
    Turn(True, True, False),
    Turn(True, False, True),
    Turn(True, True, True),
)


def _reversed(number: str) -> str:
    number = number.strip()
    return number[1:] if number.startswith("-") else "-" + number.removeprefix("+")
