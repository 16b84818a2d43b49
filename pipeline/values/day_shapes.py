"""The shapes in which days are written: which number is the day, which the month, which the year."""

from __future__ import annotations

import datetime
import re
from typing import NamedTuple

from pipeline.values.month_names import MONTH_OF_WORD

# One letter an item: m month word, y four digits, n one or two digits. Each item's role: d, m or y.
_SHAPES = {
    "y": "y", "m": "m", "ym": "ym", "yn": "ym", "my": "my", "ny": "my", "nm": "dm", "mn": "md", "nn": "dm",
    "nmy": "dmy", "nmn": "dmy", "mny": "mdy", "mnn": "mdy", "ymn": "ymd", "ynm": "ydm", "ynn": "ymd",
    "nny": "dmy", "nnn": "dmy",
}  # fmt: skip
_OPEN = ("nn", "nny", "nnn")  # the calendar or the column says which comes first
_PARTS = {"n": "d", "ny": "dy"}  # what may stand at one end of a span only
_ITEM = re.compile(r"\d+|[a-z]+|[^\sa-z\d]")
_ORDINAL = ("st", "nd", "rd", "th", "er", "ere", "eme", "e", "o", "a")
_FILLERS = ("the", "of", "on", "le", "du", "de", "del", "el", "dia", "en")
_UNKNOWN_DAY = re.compile(r"^(?:xx|\?\?|--)[\s./-]+(?=[a-z\d])")


class Written(NamedTuple):
    """A day as it was written, its parts still text; `is_open` if day and month may be exchanged."""

    day: str = ""
    month: str = ""
    year: str = ""
    is_open: bool = False

    @property
    def has_year(self) -> bool:
        return bool(self.year)

    @property
    def has_number_over_12(self) -> bool:
        return any(int(part or 0) > 12 for part in (self.day, self.month))

    @property
    def roles(self) -> tuple[bool, bool, bool]:
        return bool(self.day), bool(self.month), bool(self.year)

    @property
    def is_whole(self) -> bool:
        return bool(self.month or (self.year and not self.day))

    def filled_from(self, other: Written) -> Written:
        """The same with the month and year that only the other end of the span says."""
        month = self.month or (other.month if self.day else "")
        is_open = self.is_open or (other.is_open and not self.month)
        return Written(self.day, month, self.year or other.year, is_open)

    def turned(self) -> Written | None:
        """The same with its first number as the year, where both ends have two digits."""
        if len(self.day) != 2 or len(self.year) != 2:
            return None
        return Written(self.year, self.month, self.day)

    def full_year(self, season_year: int) -> int:
        """The year; of two digits the one nearest the season."""
        year = int(self.year or season_year)
        if len(self.year) != 2:
            return year
        centuries = (season_year // 100 + step for step in (-1, 0, 1))
        return min((century * 100 + year for century in centuries), key=lambda full: abs(full - season_year))

    def ends_in(self, number: int) -> bool:
        return self.month.isdigit() and int(self.month) == number


def day_shape(folded: str, is_part: bool = False) -> Written | None:
    """A folded text taken apart, or nothing if it has no shape of a day (`is_part`: or of one end of a span).

    >>> day_shape("3/9/2026")
    Written(day='3', month='9', year='2026', is_open=True)
    >>> day_shape("1er septembre 2026"), day_shape("sometime")
    (Written(day='1', month='9', year='2026', is_open=False), None)
    """
    items = _items(folded)
    if items is None:
        return None
    shape = "".join(letter for letter, _ in items)
    roles = (_PARTS.get(shape) if is_part else None) or _SHAPES.get(shape)
    if roles is None:
        return None
    texts = dict(zip(roles, (text for _, text in items), strict=True))
    if shape == "mn" and int(texts["d"]) > 31:
        texts = {"m": texts["m"], "y": texts["d"]}
    if len(texts.get("y", "0000")) == 1:
        return None
    return Written(texts.get("d", ""), texts.get("m", ""), texts.get("y", ""), shape in _OPEN)


def _items(folded: str) -> list[tuple[str, str]] | None:
    """(letter of the shape, text) of each number and month word; nothing if there is anything else."""
    folded = _UNKNOWN_DAY.sub("", folded)
    if re.fullmatch(r"\d{8}", folded):
        is_year_first = "1900" <= folded[:4] <= "2100"
        cuts = (folded[:4], folded[4:6], folded[6:]) if is_year_first else (folded[:2], folded[2:4], folded[4:])
        folded = "-".join(cuts)
    items: list[tuple[str, str]] = []
    was_number = False
    for item in _ITEM.findall(folded):
        if item.isdigit():
            if not item.isascii() or len(item) not in (1, 2, 4):
                return None
            items.append(("y" if len(item) == 4 else "n", item))
        elif item in MONTH_OF_WORD:
            items.append(("m", str(MONTH_OF_WORD[item])))
        elif not (item in "./-,'" or item in _FILLERS or (was_number and item in _ORDINAL)):
            return None
        was_number = item.isdigit()
    return items


def iso(written: Written, month_first: bool, season_year: int) -> str:
    """ISO 8601 of a day, month or year; "" where the calendar has none such.

    >>> day = Written("3", "9", "26", True)
    >>> iso(day, False, 2026), iso(day, True, 2026), iso(Written("31", "9", "2026"), False, 2026)
    ('2026-09-03', '2026-03-09', '')
    >>> iso(Written("0", "9", "2026"), False, 2026)
    '2026-09'
    """
    day, month = written.day, written.month
    if written.is_open and month_first:
        day, month = month, day
    year = written.full_year(season_year)
    if not written.is_open and len(written.year) == 4 and day and int(month) > 12:
        day, month = month, day  # the year came first, and only one order is left
    if year == 0 or int(month or 1) > 12 or (not int(month or 0) and int(day or 0)):
        return ""
    if not int(month or 0):
        return f"{year:04}"
    if not int(day or 0):
        return f"{year:04}-{int(month):02}"
    try:
        return datetime.date(year, int(month), int(day)).isoformat()
    except ValueError:
        return ""


def are_neighbours(span: str) -> bool:
    """A span of a day and the next, both in ISO 8601.

    >>> are_neighbours("2026-08-31/2026-09-01"), are_neighbours("2026-08-31/2026-09-02"), are_neighbours("2026/2027")
    (True, False, False)
    """
    days = [datetime.date.fromisoformat(end) for end in span.split("/") if len(end) == len("2026-09-03")]
    return len(days) == 2 and (days[1] - days[0]).days == 1
