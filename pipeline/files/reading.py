"""Reads the files of the inbox: each becomes sheets, or is refused with a reason in plain words."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from pathlib import Path

from pipeline.files import safety, text_tables
from pipeline.files.intake import Arrival
from pipeline.files.limits import LARGEST_TOTAL, MOST_COLUMNS, MOST_ROWS, TooManyCells
from pipeline.files.mail import is_mail, read_mail
from pipeline.files.workers import done_apart
from pipeline.model import FileRead, Sheet

SECONDS_A_FILE = 30.0
FILES_FOR_ONE_PROCESS = 100  # below this a second process costs more than it gains
MOST_PROCESSES = 4
LETTER_MOST = 20_000  # characters: what is longer is no reply to a letter
UNFINISHED = "a file that our reader could not finish"
TOO_MANY = f"a sheet with more than {MOST_ROWS:,} rows or {MOST_COLUMNS} columns"


def read_file(path: Path, file: str, file_sha256: str) -> FileRead:
    """One file as read or refused; what it is decides its bytes, not its name."""
    try:
        size = path.stat().st_size
        data = path.read_bytes() if size <= LARGEST_TOTAL else b""
    except OSError:
        return FileRead(file, file_sha256, (), safety.NOT_OPENED, "a file that another program holds open")
    if size > LARGEST_TOTAL:
        return FileRead(file, file_sha256, (), safety.TOO_LARGE, "a very large file")
    seen = safety.look(data)
    if seen.refusal:
        return FileRead(file, file_sha256, (), seen.refusal, seen.what)
    if seen.kind == "text":
        return _read_text(data, file, file_sha256)
    return _read_workbook(data, seen, file, file_sha256)


def _read_text(data: bytes, file: str, file_sha256: str) -> FileRead:
    text = text_tables.decoded(data)
    if text is None:
        return FileRead(file, file_sha256, (), safety.NOT_OPENED, "a file of a kind that we do not know")
    try:
        texts, kinds = text_tables.cells(text_tables.records(text))
    except TooManyCells:
        return FileRead(file, file_sha256, (), safety.NOT_OPENED, TOO_MANY)
    sheets = (Sheet(file, file_sha256, "", texts, kinds),)
    if is_mail(data):
        mail = read_mail(data)
        return FileRead(
            file, file_sha256, sheets, text=mail.text[:LETTER_MOST], writer=mail.sender, written_on=mail.day
        )
    return FileRead(file, file_sha256, sheets, text=text if len(text) <= LETTER_MOST else "")


def _read_workbook(data: bytes, seen: safety.Look, file: str, file_sha256: str) -> FileRead:
    from python_calamine import CalamineError, PasswordError

    from pipeline.files.workbooks import HasMacroSheet, read_workbook

    refusal, what = safety.NOT_OPENED, "a damaged workbook"
    try:
        sheets, note = read_workbook(data, seen.kind, seen.parts, file, file_sha256)
        return FileRead(file, file_sha256, sheets, "", note)
    except PasswordError:
        refusal, what = safety.LOCKED, "a workbook with a password"
    except TooManyCells:
        what = TOO_MANY
    except HasMacroSheet:
        refusal, what = safety.MACROS, "a workbook with macros"
    except CalamineError:
        pass
    except BaseException as fault:
        # The reader's own breakdowns arrive as an exception beside Exception.
        if type(fault).__name__ != "PanicException":
            raise
    return FileRead(file, file_sha256, (), refusal, what)


def read_files(
    arrivals: Sequence[Arrival],
    on_done: Callable[[FileRead], None] | None = None,
    read: Callable[[Path, str, str], FileRead] = read_file,
    seconds: float = SECONDS_A_FILE,
) -> list[FileRead]:
    """All files, read in processes of their own, in the order of `arrivals`; `on_done` hears of each.

    A file whose reading dies twice, or takes longer than `seconds`, is refused; the others are read.
    """
    many = min(max(os.cpu_count() or 2, 2), MOST_PROCESSES)
    processes = 1 if len(arrivals) < FILES_FOR_ONE_PROCESS else many
    jobs = [(arrival.path, arrival.file, arrival.sha256) for arrival in arrivals]
    found: dict[int, FileRead] = {}
    for number, result in done_apart(read, jobs, processes, seconds):
        arrival = arrivals[number]
        if result is None:
            result = FileRead(arrival.file, arrival.sha256, (), safety.NOT_OPENED, UNFINISHED)
        found[number] = result
        if on_done:
            on_done(result)
    return [found[number] for number in range(len(arrivals))]
