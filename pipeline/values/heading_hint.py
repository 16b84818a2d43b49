"""What a heading adds to its field in brackets or at its end: a unit, a hemisphere, an order of days."""

from __future__ import annotations

from itertools import product

_DEGREES = {"decimal degrees": "", "degrees": "", "dd": "", "wgs84": "", "wgs 84": "", "decimal": ""}
_NORTH_SOUTH = {
    "n": "N",
    "north": "N",
    "nord": "N",
    "norte": "N",
    "s": "S",
    "south": "S",
    "sud": "S",
    "sur": "S",
}
_EAST_WEST = {
    "w": "W", "west": "W", "o": "O", "ouest": "O", "oeste": "O",
    "e": "E", "east": "E", "est": "E", "este": "E",
}  # fmt: skip
_LENGTHS = {
    "mm": "mm", "millimetres": "mm", "millimeters": "mm", "milimetros": "mm", "in mm": "mm", "en mm": "mm",
    "cm": "cm", "centimetres": "cm", "centimeters": "cm", "centimetros": "cm", "in cm": "cm", "en cm": "cm",
    "in": "in", "inch": "in", "inches": "in", "pouces": "in", "po": "in", "pulgadas": "in", "in inches": "in",
}  # fmt: skip
_MASSES = {
    "g": "g", "gr": "g", "gram": "g", "grams": "g", "grammes": "g", "gramos": "g", "in grams": "g",
    "mg": "mg", "milligrams": "mg", "milligrammes": "mg", "miligramos": "mg", "in mg": "mg",
}  # fmt: skip
_HEIGHTS = {
    "m": "m", "metres": "m", "meters": "m", "metros": "m", "in metres": "m", "in meters": "m",
    "en metres": "m", "en metros": "m",
    "ft": "ft", "feet": "ft", "foot": "ft", "pieds": "ft", "pi": "ft", "pies": "ft", "in feet": "ft",
}  # fmt: skip
_DAYS, _MONTHS, _YEARS = ("d", "dd", "j", "jj"), ("m", "mm"), ("y", "yy", "yyyy", "a", "aa", "aaaa")
_ORDERS = {
    "day month year": "d/m/y", "jour mois annee": "d/m/y", "dia mes ano": "d/m/y", "month day year": "m/d/y",
} | {
    " ".join(words): order
    for order, parts in {
        "d/m/y": (_DAYS, _MONTHS, _YEARS), "m/d/y": (_MONTHS, _DAYS, _YEARS),
        "y/m/d": (_YEARS, _MONTHS, _DAYS),
        "d/m": (_DAYS, _MONTHS), "m/d": (_MONTHS, _DAYS),
    }.items()
    for words in product(*parts)
}  # fmt: skip
_HINTS: dict[str, dict[str, str]] = {
    "decimalLatitude": _NORTH_SOUTH | _DEGREES,
    "decimalLongitude": _EAST_WEST | _DEGREES,
    "latitudeDegrees": _NORTH_SOUTH,
    "longitudeDegrees": _EAST_WEST,
    "forewingLength": _LENGTHS,
    "wingSpan": _LENGTHS,
    "bodyMass": _MASSES,
    "minimumElevationInMeters": _HEIGHTS,
    "coordinateUncertaintyInMeters": _HEIGHTS,
    "eventDate": _ORDERS,
    "captureDate": _ORDERS,
    "emergenceDate": _ORDERS,
    "sex": {"m f": "", "f m": "", "h m": "", "m h": ""},
    "tagWing": {"l r": "", "g d": "", "i d": ""},
}


def hint_of(field: str, said: str) -> str | None:
    """The hint in a heading's tidied side words, "" where they add nothing, None where they are no hint.

    O stays O: it is west for French and Spanish, and the cells below may say so too.

    >>> hint_of("decimalLongitude", "o"), hint_of("bodyMass", "grams"), hint_of("eventDate", "jj mm aaaa")
    ('O', 'g', 'd/m/y')
    >>> hint_of("sex", "m f"), hint_of("locality", "w")
    ('', None)
    """
    return _HINTS.get(field, {}).get(said)
