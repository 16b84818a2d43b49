"""A range of tag codes, told by its ends: it knows what lies in it without counting it out."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import overload

_ENDS = re.compile(r"(.*?)(\d+)(\D*)", re.DOTALL)


class Codes(Sequence[str]):
    """Every code from first to last; the last run of digits counts up.

    >>> codes = Codes("SM0098", "SM0101")
    >>> list(codes), "SM0100" in codes, "SM100" in codes, len(codes)
    (['SM0098', 'SM0099', 'SM0100', 'SM0101'], True, False, 4)
    """

    def __init__(self, first: str, last: str) -> None:
        start, end = _ENDS.fullmatch(first), _ENDS.fullmatch(last)
        if first == last and not start:
            self.key, self.width, self.start, self.end = (first, ""), 0, 0, 0
            return
        if not start or not end or (start[1], start[3]) != (end[1], end[3]) or int(start[2]) > int(end[2]):
            raise ValueError(f"{first} and {last} do not make a range")
        self.key, self.width = (start[1], start[3]), len(start[2])
        self.start, self.end = int(start[2]), int(end[2])

    def _code(self, number: int) -> str:
        return f"{self.key[0]}{number:0{self.width}}{self.key[1]}" if self.width else self.key[0]

    def __len__(self) -> int:
        return self.end - self.start + 1

    @overload
    def __getitem__(self, place: int) -> str: ...
    @overload
    def __getitem__(self, place: slice) -> Sequence[str]: ...
    def __getitem__(self, place: int | slice) -> str | Sequence[str]:
        numbers = range(self.start, self.end + 1)[place]
        return [self._code(number) for number in numbers] if isinstance(numbers, range) else self._code(numbers)

    def __iter__(self) -> Iterator[str]:
        return map(self._code, range(self.start, self.end + 1))

    def __contains__(self, code: object) -> bool:
        if not isinstance(code, str):
            return False
        key, number = key_and_number(code)
        return key == self.key and self.start <= number <= self.end and self._code(number) == code


def key_and_number(code: str) -> tuple[tuple[str, str], int]:
    """What a code has in common with the others of its range, and where it stands in it.

    >>> key_and_number("SM0098"), key_and_number("nothing")
    ((('SM', ''), 98), (('nothing', ''), 0))
    """
    parts = _ENDS.fullmatch(code)
    return ((parts[1], parts[3]), int(parts[2])) if parts else ((code, ""), 0)
