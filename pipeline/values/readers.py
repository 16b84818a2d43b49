"""Which reader reads which field, and what a heading or a setting adds to the cell."""

from __future__ import annotations

import re
from collections.abc import Callable

from pipeline.model import Reading
from pipeline.settings import Settings
from pipeline.values import choice, clock, day, measure, position, tag_code, taxon, text
from pipeline.values.lists import Field, Lists

CellReader = Callable[[str, str, str], Reading]

_UNITS = {"millimetres": "mm", "grams": "g", "metres": "m", "number": "", "count": ""}
PLAIN = {
    "latitude": r"-?(?:[0-8]?\d(?:\.\d+)?|90)",
    "longitude": r"-?(?:(?:1[0-7]|\d)?\d(?:\.\d+)?|180)",
    "millimetres": r"[1-9]\d*(?:\.\d+)?",
    "grams": r"\d+\.\d+",
}
LONGITUDE_FIRST = "longitude first"  # the hint of a heading such as "Long/Lat"
_PLAIN = re.compile(r"[-+]?\d+(?:[.,]\d+)?")


def cell_reader(field: Field, lists: Lists, settings: Settings) -> CellReader:
    """The reader of a field's cells: (text, kind, context) to a Reading."""
    kind_of_value = field.read_as
    if kind_of_value == "day":
        year = settings.season.first_day.year
        return lambda cell, kind, order: day.read(cell, kind, order, year)
    if kind_of_value == "clock":
        return lambda cell, kind, _: clock.read(cell, kind)
    if kind_of_value in ("latitude", "longitude"):
        unsigned = "W" if kind_of_value == "longitude" and settings.region.unsigned_longitude == "west" else ""
        return lambda cell, kind, context: _position(cell, kind, kind_of_value, context, unsigned)
    if kind_of_value in _UNITS:
        return lambda cell, kind, hint: _measure(cell, kind, _UNITS[kind_of_value], hint)
    if kind_of_value == "choice":
        words = lists.choices[field.list]
        return lambda cell, _, __: choice.read(cell, words)
    if kind_of_value == "tag_code":
        pattern, check = settings.tags.pattern, settings.tags.check_character
        return lambda cell, kind, _: tag_code.read(cell, kind, pattern, check)
    if kind_of_value == "taxon":
        return lambda cell, _, __: taxon.read(cell, lists.taxa)
    if kind_of_value == "country":
        return lambda cell, _, __: _country(cell, lists)
    if kind_of_value == "state":
        return lambda cell, _, __: _state(cell, lists)
    return lambda cell, _, __: text.read(cell)


def typed_reader(
    lists: Lists, settings: Settings, west: frozenset[str] = frozenset()
) -> Callable[[str, str, str, str], Reading]:
    """Reads what somebody typed as the value of a field, away from any sheet: (field, text, kind, person) to a Reading.

    `west` are the people who write O for west.
    """
    fields = {field.name: field for field in lists.fields}

    def read(name: str, cell: str, kind: str, person: str) -> Reading:
        field = fields[name]
        context: str = settings.season.date_order if field.read_as == "day" else ""
        if field.read_as in ("latitude", "longitude"):
            context = "//o" if person in west else "//"
        return cell_reader(field, lists, settings)(cell, kind, context)

    return read


def plain_cells(field: Field, settings: Settings) -> str:
    """What a cell of the field looks like that is in standard form already; blank where every cell must be read.

    >>> from pipeline.values.lists import Field
    >>> plain_cells(Field("sex", "choice", "sex", "no"), Settings())
    ''
    """
    if field.read_as == "tag_code":
        is_simple = settings.tags.check_character == "none" and "(?" not in settings.tags.pattern
        return f"(?:{settings.tags.pattern})" if is_simple else ""
    if field.read_as == "longitude" and settings.region.unsigned_longitude == "west":
        return ""
    return PLAIN.get(field.read_as, "")


def _position(cell: str, kind: str, axis: str, context: str, unsigned: str) -> Reading:
    how, hint, west = context.split("/")
    o_is_west = west == "o" or hint in ("O", "o")
    hemisphere = {"west": "W", "O": "W", "W": "W", "E": "E", "N": "N", "S": "S"}.get(hint, unsigned)
    if how == "pair":
        return position.read_pair(cell, o_is_west, unsigned, hint == LONGITUDE_FIRST)[axis == "longitude"]
    if how == "parts":
        degrees, minutes, seconds, letter = (*cell.split("\t"), "", "", "", "")[:4]
        reading = position.from_parts(degrees, minutes, seconds, letter or hemisphere, axis, o_is_west)
        return reading._replace(value=" ".join(cell.split())) if reading.doubt else reading
    return position.read(cell, kind, axis, o_is_west, hemisphere)


def _measure(cell: str, kind: str, unit: str, hint: str) -> Reading:
    if hint and hint != unit and _PLAIN.fullmatch(cell):
        return measure.read(f"{cell} {hint}", kind, unit)
    return measure.read(cell, kind, unit)


def _country(cell: str, lists: Lists) -> Reading:
    code = lists.countries.get(text.tidy(cell))
    if code:
        return Reading(code, "" if code == cell else "a country's code")
    return Reading("", "a word for nothing") if text.is_blank_word(cell) else Reading(cell, doubt="not-in-list")


def _state(cell: str, lists: Lists) -> Reading:
    states = lists.states.get(text.tidy(cell), ())
    names = {state.name for state in states}
    if len(names) == 1:
        name = states[0].name
        return Reading(name, "" if name == cell else "a state's or province's full name")
    if names:
        return Reading(cell, doubt="name-of-several", candidates=tuple(sorted(names)))
    return Reading("", "a word for nothing") if text.is_blank_word(cell) else Reading(cell, doubt="not-in-list")
