"""Writes responses.csv: a line for each record and test, in the order of the records, then of the tests."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

import numpy as np
import numpy.typing as npt
import pyarrow as pa

from pipeline.audit.audit import Answered
from pipeline.audit.columns import Column, Places
from pipeline.files.csv_files import safe_texts

HEADINGS = b"record,occurrenceID,test,test_id,status,result,comment\n"
AT_ONCE = 512  # records whose lines are put together at a time
NEEDS_QUOTES = frozenset(',"\r\n')
Texts = npt.NDArray[np.object_]  # of bytes


class Lines(NamedTuple):
    """The lines of some records, put together only when they are written: each record before the end of each test."""

    starts: list[bytes]
    ends: list[tuple[Texts, Places]]  # of each test, and which of them each record has


def lines_of(answers: Sequence[Answered], ids: Column, first: int) -> Lines:
    """The lines of records from this number on; the text of each different id and response is made once."""
    names = [cell(text) for text in safe_texts(pa.array(ids.values, pa.large_string())).to_pylist()]
    starts = [f"{number},{names[place]}".encode() for number, place in enumerate(ids.places.tolist(), first)]
    return Lines(starts, [(_ends(one), one.responses.places) for one in answers])


def size_of(lines: Lines) -> int:
    """How many bytes they are."""
    size = sum(map(len, lines.starts)) * len(lines.ends)
    return size + sum(int(_sizes(texts)[places].sum()) for texts, places in lines.ends)


def write_lines(lines: Lines, path: Path, offset: int) -> None:
    """Writes them into a file that is there, from this byte on."""
    with path.open("r+b", buffering=1 << 20) as file:
        file.seek(offset)
        for at in range(0, len(lines.starts), AT_ONCE):
            file.writelines(_texts(lines, slice(at, at + AT_ONCE)))


def _texts(lines: Lines, part: slice) -> list[bytes]:
    """All lines of each record: its beginning stands before each end, which `join` does in one go."""
    starts = lines.starts[part]
    ends = np.empty((len(starts), len(lines.ends)), dtype=object)
    for at, (texts, places) in enumerate(lines.ends):
        ends[:, at] = texts[places[part]]
    return [start + start.join(each) for start, each in zip(starts, ends.tolist(), strict=True)]


def _sizes(texts: Texts) -> npt.NDArray[np.int64]:
    return np.fromiter(map(len, texts), np.int64, len(texts))


def _ends(one: Answered) -> Texts:
    named = f",{one.entry.test.label},{one.entry.test.test_id},"
    texts = np.empty(len(one.responses.values), dtype=object)
    texts[:] = [
        f"{named}{said.status},{cell(said.result)},{cell(said.comment)}\n".encode() for said in one.responses.values
    ]
    return texts


def cell(text: str) -> str:
    """A text as RFC 4180 has it, in quotation marks where it needs them.

    >>> print(cell('a "b" c'), cell("a b"))
    "a ""b"" c" a b
    """
    return '"' + text.replace('"', '""') + '"' if not NEEDS_QUOTES.isdisjoint(text) else text
