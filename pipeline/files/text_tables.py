"""Reads a text table (.csv, .tsv, .txt) of any common encoding and delimiter, record by record."""

from __future__ import annotations

import codecs
import csv
import io
import re
from collections import Counter

from pipeline.files.limits import MOST_COLUMNS, MOST_ROWS, TooManyCells
from pipeline.model import BLANK, TEXT

DELIMITERS = (",", ";", "\t", "|")
LOOKED_AT = 200  # records by which the delimiter is chosen
LONGEST_CELL = 1_000_000
END = "\x1e end of the table"  # a line of our own that a quotation left open would swallow
MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
NAMED_DELIMITER = re.compile(r"\"?sep=(.)\"?\r?\n?", re.IGNORECASE)
SMALL, CAPITAL = "àâäáçéèêëîïíñôöóœùûüú", "ÀÂÄÁÇÉÈÊËÎÏÍÑÔÖÓŒÙÛÜÚ"
# Signs beyond plain letters where English, French and Spanish have them; elsewhere a sign points to
# a wrong decoding: "cafŽ" or "45¡30" are Mac Roman taken for Windows-1252.
IN_PLACE = re.compile(
    rf"(?<=[a-z{SMALL}])[{SMALL}]|[{SMALL}](?=[a-z])|(?<!\w)[àÀ](?!\w)"
    rf"|(?<=[A-Z])[{CAPITAL}](?![a-z])|(?<![A-Za-z])[{CAPITAL}](?=[A-Za-z])"
    r"|(?<=\d)[°º]|(?<=\w)’(?=\w)|(?<!\w)[“«‘¿¡](?=[\w\s])|[”»’](?!\w)"
    r"|(?<=[a-z\s])…(?!\w)|(?<=\s)[–—](?=\s)|(?<=\d)–(?=\d)"
)
BEYOND = re.compile("[^\x00-\x7f\xa0]")
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
    encoding = marked or _utf_16(data) or "utf-8"
    if not encoding.startswith("utf-8"):
        text = data.decode(encoding, "replace")
    else:
        text = data.decode(encoding, "surrogateescape")
        strays = len(STRAY.findall(text))
        is_utf_8 = bool(marked) or strays == 0 or strays * 2 < len(BEYOND.findall(text))
        text = text.translate(OF_WINDOWS) if is_utf_8 else _of_one_byte_each(data)
    return text if len(CONTROL.findall(text)) * 20 <= len(text) else None


def _utf_16(data: bytes) -> str:
    head = data[:2000]
    for first, encoding in ((1, "utf-16-le"), (0, "utf-16-be")):
        here, there = head[first::2].count(0), head[1 - first :: 2].count(0)
        if here * 2 > len(head) // 2 and there * 20 < len(head):
            return encoding
    return ""


def _of_one_byte_each(data: bytes) -> str:
    windows, mac = data.decode("cp1252", "replace"), data.decode("mac_roman")
    # Bare carriage returns are the old Macintosh's line ends.
    from_a_mac = b"\r" in data and b"\n" not in data
    return mac if _likeness(mac) + from_a_mac > _likeness(windows) else windows


def _likeness(text: str) -> int:
    """Signs in their place less those out of it."""
    return 2 * len(IN_PLACE.findall(text)) - len(BEYOND.findall(text))


def records(text: str) -> list[list[str]]:
    """The records of a text table, the first being row 1; a blank line is a record without cells.

    A quoted cell with line breaks is one row, as a spreadsheet program would show it.
    """
    csv.field_size_limit(LONGEST_CELL)
    named = NAMED_DELIMITER.match(text)
    if named:  # the program that wrote this line takes it as a hint and shows it to nobody
        return _parsed(text[named.end() :], named[1])
    delimiter = max(DELIMITERS, key=lambda sign: _evenness(_parsed(text, sign, LOOKED_AT)))
    return _parsed(text, delimiter)


def _evenness(found: list[list[str]]) -> tuple[int, int]:
    """How many records are cut into the same number of cells (two or more), and how many cells that is."""
    widths = Counter(len(record) for record in found if len(record) > 1)
    return max(((times, width) for width, times in widths.items()), default=(0, 0))


def _parsed(text: str, delimiter: str, most: int | None = None) -> list[list[str]]:
    """Reads by the rules of quotation; where they are broken, the reading that keeps rows even."""
    if most is not None and len(text) > LONGEST_CELL:
        text = text[: text.rfind("\n", 0, LONGEST_CELL) + 1] or text[:LONGEST_CELL]
    try:
        found, is_closed = _by_csv(text, delimiter, csv.QUOTE_MINIMAL, True)
        if is_closed:
            return found[:most]
    except csv.Error:
        pass
    plain, _ = _by_csv(text, delimiter, csv.QUOTE_NONE, False)
    try:
        loose, is_closed = _by_csv(text, delimiter, csv.QUOTE_MINIMAL, False)
    except csv.Error:
        return plain[:most]
    is_even = is_closed and _evenness(loose) >= _evenness(plain)
    return (loose if is_even else plain)[:most]


def _by_csv(text: str, delimiter: str, quoting: int, strict: bool) -> tuple[list[list[str]], bool]:
    """The records, and whether the last quotation was closed; rows of nothing may go on for ever."""
    line_end = "" if not text or text[-1] in "\r\n" else "\n"
    lines = io.StringIO(text + line_end + END, newline="")
    found: list[list[str]] = []
    record: list[str] = []
    for record in csv.reader(lines, delimiter=delimiter, quoting=quoting, strict=strict):  # type: ignore[arg-type]
        if len(found) < MOST_ROWS:
            found.append(record)
        elif any(record) and record != [END]:
            raise TooManyCells
    is_closed = record == [END]
    return found[:-1] if found[-1] == [END] else found, is_closed


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
