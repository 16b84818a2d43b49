"""Reads a text table (.csv, .tsv, .txt): the letters behind its bytes, and its cells."""

from __future__ import annotations

import codecs
import re

from pipeline.files.limits import MOST_COLUMNS, TooManyCells
from pipeline.model import BLANK, TEXT
from pipeline.values.letters import BEYOND, IN_PLACE, are_in_place

MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
STRAY = re.compile("[\udc80-\udcff]")  # how Python keeps a byte that is not UTF-8
OF_WINDOWS = {0xDC00 + byte: bytes([byte]).decode("cp1252", "replace") for byte in range(0x80, 0x100)}
CONTROL = re.compile("[\x00-\x08\x0e-\x19\x1b\x1c-\x1f\ufffe\uffff]")


def decoded(data: bytes) -> str | None:
    """The text behind the bytes, or None where they are no text.

    A mark at the start decides; without one UTF-16 shows by its zero bytes, UTF-8 by its strict form,
    and of Windows-1252 and Mac Roman the one that gives the more likely letters. A few bytes of
    Windows-1252 within UTF-8, as left by pasting lines from another file, cost nothing else.
    """
    marked = next((encoding for mark, encoding in MARKS if data.startswith(mark)), "")
    encoding = marked or utf_16(data) or "utf-8"
    if encoding.startswith("utf-8"):
        data = data.rstrip(b"\x00") or data  # a copy that broke off is filled up with them
    if not encoding.startswith("utf-8"):
        text = data.decode(encoding, "replace")
    else:
        text = data.decode(encoding, "surrogateescape")
        strays = len(STRAY.findall(text))
        is_utf_8 = bool(marked) or strays == 0 or strays * 2 < len(BEYOND.findall(text))
        text = text.translate(OF_WINDOWS) if is_utf_8 else _of_one_byte_each(data)
    return text if len(CONTROL.findall(text)) * 20 <= len(text) else None


def utf_16(data: bytes) -> str:
    """UTF-16 without a mark, told by where the zero bytes of its first letters stand; "" for any other."""
    head = data[:2000]
    for first, encoding in ((1, "utf-16-le"), (0, "utf-16-be")):
        here, there = head[first::2].count(0), head[1 - first :: 2].count(0)
        if here * 2 > len(head) // 2 and there * 20 < len(head):
            return encoding
    return ""


def _of_one_byte_each(data: bytes) -> str:
    windows, mac, dos = (data.decode(encoding, "replace") for encoding in ("cp1252", "mac_roman", "cp850"))
    if are_in_place(dos) and not are_in_place(windows) and not are_in_place(mac):
        return dos  # nobody has written it for long, so nothing less than certainty counts
    # Bare carriage returns are the old Macintosh's line ends.
    from_a_mac = b"\r" in data and b"\n" not in data
    return mac if _likeness(mac) + from_a_mac > _likeness(windows) else windows


def _likeness(text: str) -> int:
    """Signs in their place less those out of it."""
    return 2 * len(IN_PLACE.findall(text)) - len(BEYOND.findall(text))


def cells(found: list[list[str]]) -> tuple[tuple[tuple[str, ...], ...], tuple[str, ...]]:
    """The texts and kinds of a text table's rows; blank rows and cells at the end are left off."""
    texts = [_without_blank_end(record) for record in found]
    while texts and not texts[-1]:
        texts.pop()
    if max(map(len, texts), default=0) > MOST_COLUMNS:
        raise TooManyCells
    kinds = ["".join([TEXT if text else BLANK for text in row]) for row in texts]
    return tuple(texts), tuple(kinds)


def _without_blank_end(record: list[str]) -> tuple[str, ...]:
    filled = len(record)
    while filled and not record[filled - 1]:
        filled -= 1
    return tuple(record[:filled])
