"""The files that came with a mail: each is a file of the inbox, at a path below the mail's own."""

from __future__ import annotations

import hashlib
import re
import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date
from pathlib import PurePosixPath
from typing import NamedTuple

from pipeline.files.intake import Arrival, Intake, Skipped, natural_order
from pipeline.files.ledger import LIVE
from pipeline.files.mail import LARGEST_MAIL, Mail, is_mail, read_mail

DEEPEST = 3  # mails within mails; what lies deeper is a file that we cannot read
PICTURE = re.compile(r"\.(?:jpe?g|png|gif|heic|heif|webp|tiff?|bmp|mp4|mov)$", re.IGNORECASE)
BESIDE = "is a picture that came beside other files, and stays in the mail"


class Brought(NamedTuple):
    """A mail and the files that came in it: pairs of the attachment and whose mail it came in."""

    mail: Arrival
    writer: str
    written_on: date | None
    files: tuple[Arrival, ...]
    skipped: tuple[Skipped, ...]


def with_attachments(intake: Intake, ledger: sqlite3.Connection) -> tuple[Intake, tuple[Brought, ...]]:
    """The inbox with the files in its mails beside the mails; a mail that the ledger knows is not taken apart again."""
    brought = tuple(_known(mail, ledger) or opened(mail) for mail in intake.arrivals if mail.is_mail)
    if not brought:
        return intake, ()
    arrivals = [*intake.arrivals, *(file for one in brought for file in one.files)]
    skipped = [*intake.skipped, *(left for one in brought for left in one.skipped)]
    in_order = tuple(sorted(arrivals, key=lambda arrival: natural_order(arrival.file)))
    return Intake(in_order, tuple(sorted(skipped, key=lambda left: natural_order(left.file)))), brought


def keep_mails(ledger: sqlite3.Connection, brought: Iterable[Brought], run: int) -> None:
    """Writes down who wrote each mail, and what came in it, so that it need not be taken apart again."""
    known = {sha256 for (sha256,) in ledger.execute(f"SELECT mail FROM mails WHERE {LIVE}")}
    for one in brought:
        if one.mail.sha256 in known:
            continue
        known.add(one.mail.sha256)
        day = one.written_on.isoformat() if one.written_on else ""
        own = (one.mail.sha256, "", "", one.mail.sha256, one.mail.size, one.writer, day, "", run)
        lines = [own, *(_line(one.mail, file, run) for file in one.files)]
        lines += [
            (one.mail.sha256, "", _below(one.mail, left.file), "", 0, "", "", left.why, run) for left in one.skipped
        ]
        ledger.executemany("INSERT INTO mails VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)", lines)


def _line(mail: Arrival, file: Arrival, run: int) -> tuple[str | int, ...]:
    day = file.written_on.isoformat() if file.written_on else ""
    place = ".".join(map(str, file.part))
    return mail.sha256, place, _below(mail, file.file), file.sha256, file.size, file.writer, day, "", run


def _below(mail: Arrival, file: str) -> str:
    return file.removeprefix(f"{mail.file}/")


def _known(mail: Arrival, ledger: sqlite3.Connection) -> Brought | None:
    query = f"SELECT part, name, sha256, size, writer, written_on, skipped FROM mails WHERE mail = ? AND {LIVE}"
    lines = ledger.execute(query, (mail.sha256,)).fetchall()
    if not lines:
        return None
    own = next(line for line in lines if not line[1])
    files = tuple(
        replace(
            mail, file=f"{mail.file}/{name}", sha256=sha256, size=size, is_mail=False, writer=writer,
            part=tuple(map(int, part.split("."))), written_on=_day(written_on),
        )
        for part, name, sha256, size, writer, written_on, skipped in lines
        if part
    )  # fmt: skip
    left = tuple(Skipped(f"{mail.file}/{line[1]}", line[6]) for line in lines if line[6])
    return Brought(mail, own[4], _day(own[5]), files, left)


def _day(text: str) -> date | None:
    return date.fromisoformat(text) if text else None


def opened(mail: Arrival) -> Brought:
    """A mail taken apart; one that cannot be opened just now brings nothing."""
    try:
        content = mail.path.read_bytes() if mail.size <= LARGEST_MAIL else b""
    except OSError:
        content = b""
    read = read_mail(content)
    files, skipped = [], list[Skipped]()
    for file in _files(read, mail, ()):
        if isinstance(file, Skipped):
            skipped.append(file)
        else:
            files.append(file)
    return Brought(mail, read.sender, read.day, tuple(files), tuple(skipped))


def _files(read: Mail, at: Arrival, place: tuple[int, ...]) -> Iterator[Arrival | Skipped]:
    """The files of a mail, and of the mails within it; each knows who wrote the mail that it came in."""
    only_pictures = all(PICTURE.search(name) for name, _ in read.attachments)
    for number, (name, data) in enumerate(_named_apart(read.attachments), 1):
        file, part = f"{at.file}/{name}", (*place, number)
        if PICTURE.search(name) and not only_pictures:
            yield Skipped(file, BESIDE)
            continue
        one = replace(
            at, file=file, sha256=hashlib.sha256(data).hexdigest(), size=len(data), part=part, is_mail=False,
            writer=read.sender, written_on=read.day,
        )  # fmt: skip
        yield one
        if is_mail(data) and len(part) < DEEPEST:
            yield from _files(read_mail(data), one, part)


def _named_apart(attachments: Sequence[tuple[str, bytes]]) -> Iterator[tuple[str, bytes]]:
    """The attachments under names of which no two are the same."""
    taken: set[str] = set()
    for name, data in attachments:
        pure, number, own = PurePosixPath(name), 2, name
        while own.casefold() in taken:
            own, number = f"{pure.stem} ({number}){pure.suffix}", number + 1
        taken.add(own.casefold())
        yield own, data
