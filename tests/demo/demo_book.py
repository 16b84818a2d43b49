"""What a sheet of the demo is made of."""

from __future__ import annotations

from datetime import date, datetime, time
from typing import NamedTuple

Cell = str | int | float | date | datetime | time | None
Rows = list[list[Cell]]


class Book(NamedTuple):
    """One file: `written` says how a text file is written, delimiter and encoding."""

    path: str
    sheets: dict[str, Rows]
    written: tuple[str, str] = ("", "")


def heading(names: str) -> list[Cell]:
    """The heading row of `Tag | Date | Sex`."""
    return list(names.split(" | "))
