"""Cells that mean what stands above them: ditto marks, merged cells, a day written once for each visit."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from itertools import pairwise

ABOVE, MERGED, SECTION, ONCE = (
    "as in the row above", "one cell over several rows", "said in a row above", "written once for the rows below"
)  # fmt: skip
# What is written for "the same again" in three languages; a code is never the same again.
_SIGNS = ('"', "''", "”", "“", "„", "〃", "″", "´´", "``", '--"--', '-"-', '- " -', "↑")
_WORDS = (
    "do", "do.", "ditto", "idem", "idem.", "ídem", "ídem.", "id", "id.", "same", "same as above", "same as before",
    "as above", "see above", "ci-dessus", "comme ci-dessus", "voir ci-dessus", "même chose", "igual",
    "igual que arriba", "igual que el anterior", "igual que la anterior", "lo mismo", "el mismo", "la misma",
)  # fmt: skip
DITTO = frozenset([*_SIGNS, *_WORDS, *(word.capitalize() for word in _WORDS), *(word.upper() for word in _WORDS)])
NEVER = frozenset({"tagCode", "tagDigits", "tagLetters", "tagFate"})
ONCE_FOR_A_VISIT = (
    "eventDate", "eventTime", "locality", "municipality", "county", "stateProvince", "countryCode", "recordedBy",
    "coordinates", "decimalLatitude", "decimalLongitude",
)  # fmt: skip
_SIDE = re.compile(r"^(?:begin|start|début|debut|inicio)\b(?: (?:of|de|du|del))?", re.IGNORECASE)
_END = re.compile(r"(?:end|fin|final)\b", re.IGNORECASE)
FEWEST_VISITS, ROWS_A_VISIT = 2, 2.0

Filled = dict[int, tuple[str, str]]  # by place in the column: the text meant, and why


def once_for_visits(columns: Mapping[str, Sequence[str]], tags: Sequence[str]) -> dict[str, Filled]:
    """By field: the blank cells below a day and a place that were written once for each visit.

    Only where the sheet clearly does so: two columns or more are filled in the same rows, the first among them, and
    blank in the same others; each visit differs from the one before, most rows are blank and all have a tag.
    """
    names = [name for name in ONCE_FOR_A_VISIT if name in columns and not all(cell.strip() for cell in columns[name])]
    patterns: dict[tuple[bool, ...], list[str]] = {}
    for name in names:
        patterns.setdefault(tuple(bool(cell.strip()) for cell in columns[name]), []).append(name)
    found: dict[str, Filled] = {}
    for starts, together in patterns.items():
        if len(together) > 1 and _are_visits(starts, [columns[name] for name in together], tags):
            found |= {name: _below(columns[name]) for name in together}
    return found


def _are_visits(starts: Sequence[bool], columns: Sequence[Sequence[str]], tags: Sequence[str]) -> bool:
    visits = [at for at, is_start in enumerate(starts) if is_start]
    if not visits or visits[0] != 0 or len(visits) < FEWEST_VISITS or len(starts) < ROWS_A_VISIT * len(visits):
        return False
    told = [tuple(column[at].strip() for column in columns) for at in visits]
    return all(before != after for before, after in pairwise(told)) and all(map(str.strip, tags))


def _below(cells: Sequence[str]) -> Filled:
    found: Filled = {}
    above = ""
    for at, cell in enumerate(cells):
        if cell.strip():
            above = cell
        else:
            found[at] = (above, ONCE)
    return found


def merged_over(rows: Sequence[int], column: int, merged: Sequence[tuple[int, int, int, int]]) -> dict[int, int]:
    """By place in `rows`: the row that holds the text of a cell merged over several; `merged` as in Sheet.

    >>> merged_over([2, 3, 4], 0, [(2, 0, 3, 0)])
    {1: 2}
    """
    at = {row: number for number, row in enumerate(rows)}
    return {
        at[row]: first
        for first, left, last, _ in merged
        if left == column
        for row in range(first + 1, last + 1)
        if row in at
    }


def sections(rows: Sequence[int], said: Mapping[int, str]) -> Filled:
    """By place in `rows`: the place that a row above names for those below, `begin Mill Lane`, up to its end.

    >>> sections([3, 6, 9], {2: "begin Mill Lane", 5: "Ferry Road", 8: "end Ferry Road"})
    {0: ('Mill Lane', 'said in a row above'), 1: ('Ferry Road', 'said in a row above')}
    """
    found: Filled = {}
    for at, row in enumerate(rows):
        above = max((one for one in said if one < row), default=0)
        name = _SIDE.sub("", said.get(above, "")).strip(" :-")
        if name and not _END.match(said[above]):
            found[at] = (name, SECTION)
    return found
