"""Which files lie in the inbox: found at any depth, in natural order, known by their bytes."""

from __future__ import annotations

import hashlib
import os
import re
import stat
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache
from pathlib import Path, PurePosixPath

from pipeline.files.mail import is_mail

PIECE = 1 << 20  # bytes hashed at a time
IN_SILENCE = re.compile(r"\.(?!\.)|(?:thumbs\.db|desktop\.ini)$", re.IGNORECASE)  # an operating system's own files
LEFT_BY_A_PROGRAM = re.compile(r"^~\$|^\.~lock|\.part$|conflicted copy", re.IGNORECASE)
# Control and bidirectional characters would let a name pretend to be another one in a letter.
NOT_TO_SHOW = re.compile("[\x00-\x1f\x7f-\x9f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]")

NOT_SHOWN = "\ufffd"


@dataclass(frozen=True)
class Arrival:
    """A file of the inbox: `file` is its path there, with `/`; `size` in bytes, `written` in seconds.

    A file that came in a mail has the mail's `path`, its place there as `part`, and who wrote the mail and when.
    """

    file: str
    path: Path
    sha256: str
    size: int
    written: float = 0.0  # the file's time, seconds since 1970
    is_mail: bool = False
    part: tuple[int, ...] = ()  # (2,) is the second attachment, (2, 1) the first of a mail that is the second
    writer: str = ""
    written_on: date | None = None


@dataclass(frozen=True)
class Skipped:
    """A file that was not taken this time, and why in a few words."""

    file: str
    why: str


@dataclass(frozen=True)
class Intake:
    """What a look into the inbox found: the files taken, in natural order, and those left lying."""

    arrivals: tuple[Arrival, ...] = ()
    skipped: tuple[Skipped, ...] = ()


@lru_cache(maxsize=100_000)
def natural_order(file: str) -> tuple[tuple[tuple[str | int, ...], str], ...]:
    """The key by which paths sort as people count: `x` before `x final`, `v2` before `v10`.

    >>> sorted(["v10.csv", "x final.csv", "v2.csv", "x.csv"], key=natural_order)
    ['v2.csv', 'v10.csv', 'x.csv', 'x final.csv']
    """
    parts = PurePosixPath(file).parts
    names = [(part, "") for part in parts[:-1]] + [(PurePosixPath(p).stem, p) for p in parts[-1:]]
    return tuple((_counted(name), whole) for name, whole in names)


def _counted(name: str) -> tuple[str | int, ...]:
    # Words stand at even places and numbers at odd ones, so that like is compared with like.
    pieces = re.split(r"([0-9]+)", name.casefold())
    return tuple(int(piece) if at % 2 else piece for at, piece in enumerate(pieces))


def find_files(inbox: Path) -> Intake:
    """Every file of the inbox that could be a sheet, with its SHA-256; nothing in the inbox is changed."""
    arrivals: list[Arrival] = []
    skipped: list[Skipped] = []
    for path in _walk(inbox, skipped):
        file = _shown(path.relative_to(inbox))
        why = _why_left_lying(path, inbox)
        if why:
            skipped.append(Skipped(file, why))
            continue
        try:
            arrivals.append(_arrival(file, path))
        except OSError:
            skipped.append(Skipped(file, "could not be opened just now; it will be taken next time"))
    return Intake(
        tuple(sorted(_each_by_a_name_of_its_own(arrivals), key=lambda arrival: natural_order(arrival.file))),
        tuple(sorted(skipped, key=lambda left: natural_order(left.file))),
    )


def _each_by_a_name_of_its_own(arrivals: list[Arrival]) -> list[Arrival]:
    """Names that differ only in signs that we do not show get the first digits of the name's own digest behind them."""
    shown = Counter(arrival.file for arrival in arrivals)
    if len(shown) == len(arrivals):
        return arrivals
    return [
        replace(arrival, file=f"{arrival.file} ~{_digest(arrival.path.name)}")
        if shown[arrival.file] > 1 and NOT_SHOWN in arrival.file
        else arrival
        for arrival in arrivals
    ]


def _digest(name: str) -> str:
    return hashlib.sha256(os.fsencode(name)).hexdigest()[:4]


def _walk(inbox: Path, skipped: list[Skipped]) -> Iterator[Path]:
    def closed(problem: OSError) -> None:
        folder = _shown(Path(problem.filename).relative_to(inbox))
        skipped.append(Skipped(folder, "is a folder that could not be opened just now"))

    for folder, folders, names in os.walk(inbox, onerror=closed):
        for name in [name for name in folders if (Path(folder) / name).is_symlink()]:
            skipped.append(Skipped(_shown((Path(folder) / name).relative_to(inbox)), "is a link to a folder"))
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in names:
            is_debris = LEFT_BY_A_PROGRAM.search(name) is not None
            if is_debris or not IN_SILENCE.match(name):
                yield Path(folder) / name


def _why_left_lying(path: Path, inbox: Path) -> str:
    if LEFT_BY_A_PROGRAM.search(path.name):
        return "was left by a program that works on the sheet, or is not yet whole"
    if path.is_symlink() and not path.resolve().is_relative_to(inbox.resolve()):
        return "is a link that leads out of the inbox"
    return ""


def _arrival(file: str, path: Path) -> Arrival:
    seen = path.stat()
    if not stat.S_ISREG(seen.st_mode):
        raise OSError("not a file with bytes of its own")  # a pipe would keep us waiting for ever
    sha256 = hashlib.sha256()
    size, is_letter = 0, False
    with path.open("rb") as file_bytes:
        while piece := file_bytes.read(PIECE):
            is_letter = is_letter or (size == 0 and is_mail(piece))
            sha256.update(piece)
            size += len(piece)
    return Arrival(file, path, sha256.hexdigest(), size, seen.st_mtime, is_letter)


def _shown(path: Path) -> str:
    """The path as we write it: `/` between folders, and a mark for bytes that are no letters."""
    readable = path.as_posix().encode("utf-8", "surrogateescape").decode("utf-8", "replace")
    return NOT_TO_SHOW.sub(NOT_SHOWN, readable)
