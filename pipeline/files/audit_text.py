"""Brings a text file of any size and encoding to UTF-8, piece by piece, and leaves one that is UTF-8 where it is."""

from __future__ import annotations

import codecs
from collections.abc import Iterator
from pathlib import Path

from pipeline.files.audit_form import CannotBeAudited
from pipeline.files.text_tables import MARKS, decoded, utf_16

PIECE = 1 << 26  # bytes; what is smaller is judged as a whole


def in_utf_8(path: Path, folder: Path, encoding: str = "") -> Path:
    """The file itself if it is UTF-8, else a copy in the folder; `encoding` is what a descriptor says, if one does."""
    with path.open("rb") as file:
        head = file.read(1 << 16)
    named = next((each for mark, each in MARKS if head.startswith(mark)), "") or utf_16(head)
    if not named.startswith("utf-16") and not named.startswith("utf-32"):
        if _is_utf_8(path):
            return path
        named = "" if _is_utf_8_by_name(encoding) else encoding
    texts = _by_name(path, named) if named else _by_look(path)
    copy = folder / f"{path.name}.utf-8"
    with copy.open("w", encoding="utf-8", errors="replace", newline="") as file:
        for text in texts:
            file.write(text.removeprefix("\ufeff"))
    return copy


def _is_utf_8_by_name(encoding: str) -> bool:
    return not encoding or codecs.lookup(encoding).name in ("utf-8", "utf-8-sig")


def _pieces(path: Path) -> Iterator[bytes]:
    with path.open("rb") as file:
        while piece := file.read(PIECE):
            yield piece


def _is_utf_8(path: Path) -> bool:
    decoder = codecs.getincrementaldecoder("utf-8")()
    try:
        for piece in _pieces(path):
            decoder.decode(piece)
        decoder.decode(b"", final=True)
    except UnicodeDecodeError:
        return False
    return True


def _by_name(path: Path, encoding: str) -> Iterator[str]:
    decoder = codecs.getincrementaldecoder(encoding)(errors="replace")
    for piece in _pieces(path):
        yield decoder.decode(piece)
    yield decoder.decode(b"", final=True)


def _by_look(path: Path) -> Iterator[str]:
    """Each piece of whole lines as its own bytes look."""
    rest = b""
    for piece in _pieces(path):
        lines, end, rest = (rest + piece).rpartition(b"\n")
        yield _read(lines + end)
    yield _read(rest)


def _read(data: bytes) -> str:
    text = decoded(data)
    if text is None:
        raise CannotBeAudited("it is a file of a kind that we do not know")
    return text
