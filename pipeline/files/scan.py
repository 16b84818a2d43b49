"""A quick look at an .xlsx workbook's own XML: does it hold anything that the fast reader cannot tell?

The fast reader gives blanks for a spreadsheet's error values and for formulas without a saved
result, drops the zeros that a number format shows, and knows nothing of hidden rows and columns,
merged cells and lines drawn through text. Patterns over the bytes find these in a third of a
millisecond; they may say yes too often, never too seldom.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from html import unescape
from typing import NamedTuple

from pipeline.files.limits import MOST_CELLS, MOST_COLUMNS, MOST_ROWS, SPREAD, TOO_MANY
from pipeline.files.reread_layout import column_number

ERROR_CELL = (b't="e"', b"t='e'")
FORMULA = (b"<f>", b"<f ", b":f>", b":f ")
# The end of a formula, then the end of its cell or an empty result.
UNSAVED = re.compile(rb"(?:f>|<(?:\w+:)?f\b[^>]*/>)\s*(?:</|<(?:\w+:)?v\s*(?:/>|>\s*</))")
HIDDEN = re.compile(rb"""<(?:\w+:)?(?:row|col)\b[^>]*\shidden=["'](?:1|true)["']""")
MERGED = re.compile(rb"<(?:\w+:)?mergeCell\b")
FONTS = re.compile(rb"<(?:\w+:)?fonts\b.*?</(?:\w+:)?fonts>", re.DOTALL)
FONT = re.compile(rb"<(?:\w+:)?font\b(?:[^>]*/>|.*?</(?:\w+:)?font>)", re.DOTALL)
STRUCK = re.compile(rb"""<(?:\w+:)?strike\b(?![^>]*\sval=["'](?:0|false)["'])[^>]*>""")
FONT_OF = re.compile(rb"""\sfontId=["'](\d+)["']""")
# Letters in front count only where they are marked as text: bare ones stand for day, month, hour.
ZEROS = re.compile(r'(?:\[[^\]]*\])?((?:"[^"]*"|\\.)*)(0{2,})(?:_.)?(?:;.*)?', re.DOTALL)
MARKED = re.compile(r'"([^"]*)"|\\(.)')
FORMAT = re.compile(rb"<(?:\w+:)?numFmt\b[^>]*>")
FORMAT_CODE = re.compile(rb"""\sformatCode=["']([^"']*)["']""")
NUMBER_FORMAT = re.compile(rb"""\snumFmtId=["'](\d+)["']""")
STYLES_USED = re.compile(rb"<(?:\w+:)?cellXfs\b.*?</(?:\w+:)?cellXfs>", re.DOTALL)
STYLE = re.compile(rb"<(?:\w+:)?xf\b[^>]*>")
# A cell far out: past column KN (300), or past row 19,999. Most files have none, so this is quick.
FAR_OUT = re.compile(
    rb"""r=["'][A-Z](?:[2-9]\d{4}|\d{6}|[A-Z](?:[2-9]\d{4}|\d{6}|[A-Z]|(?<=[L-Z][A-Z])\d|(?<=K[O-Z])\d))"""
)
FILLED = re.compile(rb"""<(?:\w+:)?c\b[^>]*?\sr=["']([A-Z]{1,3})(\d{1,7})["'][^>]*(?<!/)>\s*<(?:\w+:)?(?:v|is|f)\b""")


class Zeros(NamedTuple):
    """How a number format shows a code: letters before it, and how many figures at least."""

    before: str
    digits: int


class Scan(NamedTuple):
    """What a workbook holds that needs a second reading; `too_big` says how its filled cells pass the limits."""

    has_error_cells: bool = False
    has_unsaved_formulas: bool = False
    has_shown_zeros: bool = False
    has_layout: bool = False  # hidden rows or columns, merged cells
    has_struck_cells: bool = False
    too_big: str = ""

    @property
    def has_lost_cells(self) -> bool:
        """Whether the fast reader gives a cell that is not what its owner sees."""
        return any(self[:3])

    @property
    def needs_rereading(self) -> bool:
        """Whether there is anything at all that the fast reader cannot tell."""
        return any(self[:5])


def scan(parts: Mapping[str, bytes]) -> Scan:
    """Looks through the unpacked XML of an .xlsx workbook's sheets, by the parts' names."""
    sheets = [xml for name, xml in parts.items() if name.startswith("xl/worksheets/")]
    styles = parts.get("xl/styles.xml", b"")
    with_zeros, struck = styles_with_zeros(styles), struck_styles(styles)
    return Scan(
        any(mark in xml for xml in sheets for mark in ERROR_CELL),
        any(UNSAVED.search(xml) for xml in sheets if any(mark in xml for mark in FORMULA)),
        bool(with_zeros) and any(_uses(xml, with_zeros) for xml in sheets),
        any(_has_layout(xml) for xml in sheets),
        bool(struck) and any(_uses(xml, struck) for xml in sheets),
        next(filter(None, map(_too_big, sheets)), ""),
    )


def zeros_shown(number_format: str) -> Zeros | None:
    """What a number format puts in front of a code's figures, and how many of these it shows at least.

    >>> zeros_shown("00000"), zeros_shown('"SM"0000'), zeros_shown("0"), zeros_shown("0.00")
    (Zeros(before='', digits=5), Zeros(before='SM', digits=4), None, None)
    """
    found = ZEROS.fullmatch(number_format)
    return Zeros("".join(map("".join, MARKED.findall(found[1]))), len(found[2])) if found else None


def styles_with_zeros(styles: bytes) -> dict[bytes, Zeros]:
    """The numbers of the cell styles whose format shows zeros in front, such as 00000, with what it shows."""
    formats: dict[bytes, Zeros] = {}
    for tag in FORMAT.findall(styles):
        number, code = NUMBER_FORMAT.search(tag), FORMAT_CODE.search(tag)
        shown = zeros_shown(unescape(code[1].decode("utf-8", "replace"))) if code else None
        if number and shown:
            formats[number[1]] = shown
    own = _of_styles(styles, NUMBER_FORMAT) if formats else []
    return {b"%d" % at: formats[number] for at, number in enumerate(own) if number in formats}


def struck_styles(styles: bytes) -> frozenset[bytes]:
    """The numbers of the cell styles that draw a line through their text."""
    fonts = FONTS.search(styles) if b"strike" in styles else None
    struck = {b"%d" % at for at, font in enumerate(FONT.findall(fonts[0])) if STRUCK.search(font)} if fonts else set()
    own = _of_styles(styles, FONT_OF) if struck else []
    return frozenset(b"%d" % at for at, font in enumerate(own) if font in struck)


def _of_styles(styles: bytes, attribute: re.Pattern[bytes]) -> list[bytes]:
    """What an attribute says in each cell style, in their order."""
    used = STYLES_USED.search(styles)
    found = [attribute.search(style) for style in STYLE.findall(used[0])] if used else []
    return [said[1] if said else b"" for said in found]


def _has_layout(xml: bytes) -> bool:
    has_hidden = b"hidden=" in xml and HIDDEN.search(xml) is not None
    return has_hidden or (b"mergeCell" in xml and MERGED.search(xml) is not None)


def _uses(xml: bytes, styles: Iterable[bytes]) -> bool:
    return re.search(rb"""<(?:\w+:)?c\b[^>]*\ss=["'](?:%s)["']""" % b"|".join(styles), xml) is not None


def _too_big(xml: bytes) -> str:
    if not FAR_OUT.search(xml):
        return ""
    rows = 0
    letters_seen: set[bytes] = set()
    for letters, number in (found.groups() for found in FILLED.finditer(xml)):
        letters_seen.add(letters)
        if len(number) >= 5:
            rows = max(rows, int(number))
    columns = max(map(column_number, letters_seen), default=0) + 1
    if rows > MOST_ROWS or columns > MOST_COLUMNS:
        return TOO_MANY
    return SPREAD if rows * columns > MOST_CELLS else ""
