"""Looks into the container of .xls workbooks ([MS-CFB]): which streams it holds, and whether its chains of sectors end.

A chain that leads back into itself keeps a reader at it until all memory is used up.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator, Sequence
from typing import NamedTuple

FIRST_BYTES = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
HEADER, ENTRY, MINI_SECTOR = 512, 128, 64
NO_SECTOR = 0xFFFFFFFA  # from here on the numbers are marks, not sectors
OLD_NAMES = ("Workbook", "Book")
# Records of cells in a workbook's stream, each beginning with row and column ([MS-XLS] 2.3.2).
CELLS = frozenset({0x0006, 0x0406, 0x00BD, 0x00BE, 0x00D6, 0x00FD, 0x0201, 0x0203, 0x0204, 0x0205, 0x027E})
RANGE, STRINGS = 0x0200, 0x00FC
MOST_ROWS_EVER, MOST_COLUMNS_EVER = 65_536, 256  # of this format


class Damaged(Exception):
    """The container cannot be followed."""


class Container(NamedTuple):
    """The sectors of a container with its tables of which follows which, and its entries: name, start and size."""

    sectors: tuple[bytes, int]  # all bytes, and the size of a sector
    follows: Sequence[int]
    entries: tuple[tuple[str, int, int], ...]
    mini: tuple[bytes, Sequence[int]]
    small: int  # streams of less are kept in the mini stream


def holds_stream(data: bytes, name: str) -> bool:
    """Whether an entry of the container's directory has that name; it stands at a multiple of 128 bytes."""
    entry = name.encode("utf-16-le") + b"\x00\x00"
    at = data.find(entry)
    while at >= 0 and at % ENTRY:
        at = data.find(entry, at + 2)
    return at >= 0


def opened(data: bytes) -> Container:
    """The container with every chain of its streams followed to its end; raises Damaged where one has none."""
    if len(data) < HEADER:
        raise Damaged
    shift = struct.unpack_from("<H", data, 30)[0]
    if shift not in (9, 12):
        raise Damaged
    size = 1 << shift
    first, small, mini_first = (struct.unpack_from("<I", data, at)[0] for at in (48, 56, 60))
    follows = _numbers(b"".join(_sector(data, size, number) for number in _table_sectors(data, size)))
    directory = b"".join(_sector(data, size, number) for number in _chain(follows, first))
    entries = tuple(_entries(directory))
    mini_follows = _numbers(b"".join(_sector(data, size, number) for number in _chain(follows, mini_first)))
    root = next((start for _, start, _ in entries[:1]), NO_SECTOR)
    mini = b"".join(_sector(data, size, number) for number in _chain(follows, root))
    for _, start, length in entries[1:]:
        for _number in _chain(mini_follows if length < small else follows, start):
            pass
    return Container((data, size), follows, entries, (mini, mini_follows), small)


def _table_sectors(data: bytes, size: int) -> Iterator[int]:
    """The numbers of the sectors that say which sector follows which."""
    yield from (number for number in struct.unpack_from("<109I", data, 76) if number < NO_SECTOR)
    number, passed = struct.unpack_from("<I", data, 68)[0], 0
    while number < NO_SECTOR:
        listed = _numbers(_sector(data, size, number))
        passed += 1
        if not listed or passed * size > len(data):
            raise Damaged
        yield from (one for one in listed[:-1] if one < NO_SECTOR)
        number = listed[-1]


def _numbers(table: bytes) -> Sequence[int]:
    return struct.unpack(f"<{len(table) // 4}I", table[: len(table) // 4 * 4])


def _sector(data: bytes, size: int, number: int) -> bytes:
    start = (number + 1) * size
    return data[start : start + size]


def _chain(follows: Sequence[int], number: int) -> Iterator[int]:
    passed = 0
    while number < NO_SECTOR:
        if number >= len(follows) or passed > len(follows):
            raise Damaged
        yield number
        number = follows[number]
        passed += 1


def _entries(directory: bytes) -> Iterator[tuple[str, int, int]]:
    for at in range(0, len(directory) - ENTRY + 1, ENTRY):
        length, kind = struct.unpack_from("<HB", directory, at + 64)
        start, size = struct.unpack_from("<II", directory, at + 116)
        if kind in (2, 5):  # a stream, or the root
            name = directory[at : at + max(min(length, 64) - 2, 0)].decode("utf-16-le", "replace")
            yield name, start, size


def _hold_to_what_is_there(kind: int, record: bytes, most: int) -> None:
    """A range from its end to its start, or more texts than bytes, would have a reader lay out memory for ever."""
    if kind == STRINGS and len(record) >= 8 and struct.unpack_from("<I", record, 4)[0] > most:
        raise Damaged
    if kind == RANGE and len(record) in (10, 14):
        first, last, left, right = struct.unpack_from("<4H" if len(record) == 10 else "<IIHH", record)
        if last and right and not (first < last <= MOST_ROWS_EVER and left < right <= MOST_COLUMNS_EVER):
            raise Damaged


def corner(container: Container) -> tuple[int, int]:
    """Row and column, from 0, of the corner behind all cells of a workbook: what a reader lays out in memory."""
    _, start, length = next(entry for entry in container.entries if entry[0] in OLD_NAMES)
    data, size = container.sectors
    if length < container.small:
        mini, follows = container.mini
        parts = [mini[n * MINI_SECTOR : (n + 1) * MINI_SECTOR] for n in _chain(follows, start)]
    else:
        parts = [_sector(data, size, number) for number in _chain(container.follows, start)]
    stream = b"".join(parts)[:length]
    at = rows = columns = 0
    while at + 8 <= len(stream):
        kind, length, row, column = struct.unpack_from("<4H", stream, at)
        if kind in (RANGE, STRINGS):
            _hold_to_what_is_there(kind, stream[at + 4 : at + 4 + length], len(stream))
        if kind in CELLS:
            last = stream[at + 2 + length : at + 4 + length]  # of a record of several cells the last column
            column = max(column, int.from_bytes(last, "little")) if kind in (0x00BD, 0x00BE) else column
            rows, columns = max(rows, row), max(columns, column)
        at += 4 + length
    return rows, columns
