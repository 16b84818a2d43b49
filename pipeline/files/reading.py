"""Reads the files of the inbox: each becomes sheets, or is refused with a reason in plain words."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from pipeline.files import safety, text_records, text_tables
from pipeline.files.intake import Arrival
from pipeline.files.limits import LARGEST_TOTAL, TooManyCells
from pipeline.files.mail import MAIL, is_mail, part_of, read_mail
from pipeline.files.workers import done_apart
from pipeline.model import FileRead, Sheet

SECONDS_A_FILE = 30.0
FILES_FOR_ONE_PROCESS = 100  # below this a second process costs more than it gains
MOST_PROCESSES = 4
LETTER_MOST = 20_000  # characters: what is longer is no reply to a letter
UNFINISHED = "a file that our reader could not finish"
POINTS_OUT = "a workbook with links to other files or objects of other programs, of which we opened none"


def read_file(path: Path, file: str, file_sha256: str, part: tuple[int, ...] = ()) -> FileRead:
    """One file as read or refused; what it is decides its bytes, not its name.

    Of a file that came in a mail, `path` may be the mail's own and `part` its place there.
    """
    try:
        size = path.stat().st_size
        data = path.read_bytes() if size <= LARGEST_TOTAL else b""
    except OSError:
        return FileRead(file, file_sha256, (), safety.NOT_OPENED, "a file that another program holds open")
    if size > LARGEST_TOTAL:
        return FileRead(file, file_sha256, (), safety.TOO_LARGE, "a very large file")
    data = part_of(data, part) if part else data
    if is_mail(data):
        return _read_mail(data, file, file_sha256)
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
        texts, kinds = text_tables.cells(text_records.records(text))
    except TooManyCells as fault:
        return FileRead(file, file_sha256, (), safety.NOT_OPENED, str(fault))
    sheets = (Sheet(file, file_sha256, "", texts, kinds),)
    return FileRead(file, file_sha256, sheets, text=text if len(text) <= LETTER_MOST else "")


def _read_mail(data: bytes, file: str, file_sha256: str) -> FileRead:
    """The words of a mail, which may hold a table; what came in it are files of their own."""
    mail = read_mail(data)
    told = FileRead(file, file_sha256, what=MAIL, text=mail.text[:LETTER_MOST], writer=mail.sender, written_on=mail.day)
    if not mail.text.strip():
        return told
    try:
        texts, kinds = text_tables.cells(text_records.records(mail.text))
    except TooManyCells:
        return told
    return replace(told, sheets=(Sheet(file, file_sha256, "", texts, kinds),))


def _read_workbook(data: bytes, seen: safety.Look, file: str, file_sha256: str) -> FileRead:
    from python_calamine import CalamineError, PasswordError

    from pipeline.files.workbooks import HasMacroSheet, read_workbook

    refusal, what = safety.NOT_OPENED, "a damaged workbook"
    try:
        sheets, unsure = read_workbook(data, seen.kind, seen.parts, file, file_sha256)
        notes = filter(None, (unsure, POINTS_OUT if seen.points_out else ""))
        return FileRead(file, file_sha256, sheets, "", "; ".join(notes))
    except PasswordError:
        refusal, what = safety.LOCKED, "a workbook with a password"
    except TooManyCells as fault:
        what = str(fault)
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
    read: Callable[..., FileRead] = read_file,
    seconds: float = SECONDS_A_FILE,
) -> list[FileRead]:
    """All files, read in processes of their own, in the order of `arrivals`; `on_done` hears of each.

    A file whose reading dies twice, or takes longer than `seconds`, is refused; the others are read.
    """
    many = min(max(os.cpu_count() or 2, 2), MOST_PROCESSES)
    processes = 1 if len(arrivals) < FILES_FOR_ONE_PROCESS else many
    jobs = [(arrival.path, arrival.file, arrival.sha256, arrival.part) for arrival in arrivals]
    found: dict[int, FileRead] = {}
    for number, result in done_apart(read, jobs, processes, seconds):
        arrival = arrivals[number]
        if result is None:
            result = FileRead(arrival.file, arrival.sha256, (), safety.NOT_OPENED, UNFINISHED)
        found[number] = result
        if on_done:
            on_done(result)
    return [found[number] for number in range(len(arrivals))]
