"""What a careful intake opens at most: an ordinary workbook stays far below, a trap does not."""

from __future__ import annotations

# Common practice: 5,000 ordinary rows pack 6 to 1, a bomb 1,000 to 1.
LARGEST_TOTAL = 200_000_000  # bytes, of a file or of all its parts unpacked
LARGEST_MEMBER = 100_000_000
LARGEST_RATIO = 100
MOST_MEMBERS = 2_000
SMALL = 1_000_000  # a part of less may pack any ratio: a blank form's XML repeats itself

MOST_ROWS, MOST_COLUMNS = 200_000, 300  # by filled cells; a format far out costs nothing
MOST_CELLS = 8_000_000  # from the first to the last filled one: the fast reader keeps a place for each
LARGEST_MEMORY = 1_000_000_000  # bytes that reading a file may take, where the system can hold a process to it

TOO_MANY = f"a sheet with more than {MOST_ROWS:,} rows or {MOST_COLUMNS} columns"
SPREAD = "a sheet whose cells are spread too far apart"


class TooManyCells(Exception):
    """A sheet has filled cells past the limits; what it says is what the sheet looks like."""

    def __init__(self, what: str = TOO_MANY) -> None:
        super().__init__(what)
