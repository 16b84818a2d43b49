"""The answers among the files that came: who sent each, and where they are listed."""

from __future__ import annotations

import json
import sqlite3
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from pipeline.answer_files import is_returned, lines_in
from pipeline.files.ledger import LIVE, add, kept_sheets
from pipeline.files.mail import MAIL
from pipeline.frames import letter
from pipeline.model import AnswerLine, FileRead
from pipeline.season import Season
from pipeline.stages.decide.outcomes import NO_QUESTION
from pipeline.stages.senders import by_address
from pipeline.take_answers import PROBLEMS, Returned, sender_of


def returned(season: Season, reads: Sequence[FileRead], elsewhere: Mapping[str, str]) -> list[Returned]:
    """The answer lines of the files that hold any, with who sent them; each page is listed as a sheet that was read.

    Of `elsewhere` (path: first or former path) those whose folder names somebody else: "1 yes" is another answer from
    everybody.
    """
    found = []
    for read in [*reads, *_from_somebody_else(season, reads, elsewhere)]:
        if is_returned(read):
            lines = lines_in(read)
            sender = sender_of(read.file, season) or by_address(read.writer, season.programme.people)
            _list_sheets(season.ledger, read, lines, sender)
            found.append(Returned(read.file, sender, lines))
    return found


def _from_somebody_else(season: Season, reads: Sequence[FileRead], elsewhere: Mapping[str, str]) -> Iterable[FileRead]:
    """The copies and moved files whose folder names another person than the first one did, as read there."""
    fresh = {read.file: read for read in reads}
    for path, first in elsewhere.items():
        if sender_of(path, season) == sender_of(first, season):
            continue
        read = fresh.get(first) or _kept(season.ledger, first) or _kept(season.ledger, path)
        if read is not None:
            sheets = tuple(replace(sheet, file=path) for sheet in read.sheets)
            season.ledger.execute(
                "UPDATE answer_lines SET outcome = 'settled' WHERE file_sha256 = ? AND person_id = '' AND outcome = ?",
                (read.file_sha256, NO_QUESTION),
            )
            yield replace(read, file=path, sheets=sheets)


def _kept(ledger: sqlite3.Connection, file: str) -> FileRead | None:
    line = ledger.execute(f"SELECT sha256, what FROM files WHERE file = ? AND {LIVE} ORDER BY file_id DESC", (file,))
    found = line.fetchone()
    return FileRead(file, found[0], kept_sheets(ledger, {found[0]: file})[found[0]], "", found[1]) if found else None


def _list_sheets(ledger: sqlite3.Connection, read: FileRead, lines: Sequence[AnswerLine], sender: str) -> None:
    counts = Counter(line.sheet for line in lines)
    for number, sheet in enumerate(read.sheets, start=1):
        width = max((len(row) for row in sheet.texts), default=1)
        line = [sender, sheet.name, "1", "1", "A", letter(width - 1), str(counts[sheet.name])]
        ledger.execute("DELETE FROM tables WHERE file_sha256 = ? AND number = ?", (read.file_sha256, -number))
        add(ledger, "tables", {"file_sha256": read.file_sha256, "number": -number, "line": json.dumps(line)})


def notes_on(ledger: sqlite3.Connection, reads: Sequence[FileRead], run: int) -> tuple[str, ...]:
    """What to say about the files of a run: what was odd about them, and what their answers came to."""
    notes = [
        f"{read.file} is {read.what}"
        for read in reads
        if read.what not in ("", MAIL) and not read.refusal and not is_returned(read)
    ]
    query = "SELECT file, outcome, count(*) FROM answer_lines WHERE run = ? GROUP BY file, outcome ORDER BY file"
    outcomes: dict[str, Counter[str]] = {read.file: Counter() for read in reads if is_returned(read)}
    for file, outcome, count in ledger.execute(query, (run,)):
        outcomes.setdefault(file, Counter())[outcome] += count
    return (*notes, *(_in_words(file, counts) for file, counts in outcomes.items()))


def _in_words(file: str, counts: Counter[str]) -> str:
    stuck = sum(count for outcome, count in counts.items() if outcome in PROBLEMS)
    taken = sum(counts.values()) - stuck - counts["left open"]
    said = f"{file} holds answers: {taken} taken, {counts['left open']} left open"
    return said + (f", {stuck} that need a look (coordinator/answers.csv)" if stuck else "")
