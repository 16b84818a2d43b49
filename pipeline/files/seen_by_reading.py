"""Reads finished files as those who get them do, by ways of its own: no code here has a part in writing them."""

from __future__ import annotations

import html
import io
import re
import zipfile
from base64 import b64decode
from collections.abc import Iterator
from email import message_from_bytes
from email.header import decode_header, make_header
from email.message import Message
from functools import lru_cache
from pathlib import Path
from quopri import decodestring
from typing import IO, NamedTuple

import pyarrow as pa
import pyarrow.csv as pacsv

BLOCK_BYTES = 1 << 23
SHOWN_TO_NO_ONE = re.compile(r"<(style|script)\b.*?</\1>", re.DOTALL | re.IGNORECASE)
IN_A_TAG = re.compile(r'\b(?:href|src|title|alt|content)="([^"]*)"', re.IGNORECASE)
TAG = re.compile(r"<[^>]*>")
WITHIN_A_LINE = re.compile(r"</?(?:a|b|code|em|i|span|strong)\b[^>]*>", re.IGNORECASE)
ELSEWHERE = re.compile(r'<c [^>]*\bt="s"[^>]*>.*?</c>|<c [^>]*/>')  # its text stands in a list of its own, or nowhere
CELL_END = re.compile(r"</(?:si|is|c|comment|dataValidation)>")


class Part(NamedTuple):
    """What a reader meets: the name of a file, or of one within a file, with its text, or its table in batches."""

    name: str
    text: str
    table: Iterator[pa.RecordBatch] | None = None


def parts_of(path: Path) -> Iterator[Part]:
    """Everything that can be read in a file; what is packed in it too."""
    yield from _parts(path.name, path.read_bytes() if path.suffix not in (".csv", ".zip") else path)


def _parts(name: str, content: bytes | Path) -> Iterator[Part]:
    kind = name.rpartition(".")[2].lower()
    if isinstance(content, Path):
        with content.open("rb") as file:
            if kind == "csv":
                yield Part(name, "", _batches(file))
            else:
                yield from _archive(name, file)
    elif kind == "eml":
        yield from _mail(name, content)
    elif kind == "xlsx":
        yield Part(name, _workbook(content))
    elif kind in ("html", "xml"):
        yield Part(name, words_of_page(content.decode("utf-8")))
    else:
        yield Part(name, content.decode("utf-8", errors="replace"))


def _archive(name: str, file: IO[bytes]) -> Iterator[Part]:
    with zipfile.ZipFile(file) as archive:
        if archive.comment:
            yield Part(f"{name}, comment", archive.comment.decode(errors="replace"))
        for member in archive.namelist():
            with archive.open(member) as inside:
                if member.endswith(".csv"):
                    yield Part(f"{name}, {member}", "", _batches(inside))
                else:
                    yield from _parts(f"{name}, {member}", inside.read())


def _batches(file: IO[bytes]) -> Iterator[pa.RecordBatch]:
    names = file.readline().decode("utf-8").strip().replace('"', "").split(",")
    file.seek(0)
    coded = pa.dictionary(pa.int32(), pa.string())  # of what differs from row to row it would take four times as long
    types = {name: pa.string() if name.endswith("ID") or name == "organismName" else coded for name in names}
    yield from pacsv.open_csv(
        file, read_options=pacsv.ReadOptions(block_size=BLOCK_BYTES),
        parse_options=pacsv.ParseOptions(newlines_in_values=True),
        convert_options=pacsv.ConvertOptions(
            column_types=types, strings_can_be_null=False, quoted_strings_can_be_null=False
        ),
    )  # fmt: skip


def _mail(name: str, content: bytes) -> Iterator[Part]:
    """The headings of a mail, its texts, and the files that hang on it."""
    head, body = _head_and_body(content)
    headings = [f"{key}: {make_header(decode_header(value))}" for key, value in head.items()]
    yield Part(f"{name}, headings", "\n\n".join(headings))
    yield from _part_of_mail(name, head, body)


def _head_and_body(content: bytes) -> tuple[Message, bytes]:
    """The headings alone are parsed: a parser that goes through every line of an attachment takes ten times as long."""
    head, _, body = content.replace(b"\r\n", b"\n").partition(b"\n\n")
    return message_from_bytes(head + b"\n\n"), body


def _part_of_mail(name: str, head: Message, body: bytes) -> Iterator[Part]:
    boundary = head.get_boundary()
    if boundary:
        for piece in body.split(b"--" + boundary.encode())[1:]:
            if not piece.startswith(b"--"):  # the mark behind the last part
                yield from _part_of_mail(name, *_head_and_body(piece.lstrip(b"\r\n")))
        return
    how, file = str(head.get("Content-Transfer-Encoding", "")).lower(), head.get_filename()
    content = b64decode(body) if how == "base64" else decodestring(body) if how == "quoted-printable" else body
    if file:
        yield from _parts(f"{name}, {file}", content)
        return
    text = content.decode(head.get_content_charset() or "utf-8", errors="replace")
    is_page = head.get_content_subtype() == "html"
    yield Part(f"{name}, {'page' if is_page else 'text'}", words_of_page(text) if is_page else text)


@lru_cache(maxsize=2)  # a workbook lies in the folder and hangs on the mail
def _workbook(content: bytes) -> str:
    """Every text of a workbook: cells of all sheets, hidden ones and pick lists too, comments, its maker."""
    texts = []
    with zipfile.ZipFile(io.BytesIO(content)) as workbook:
        for member in workbook.namelist():
            if member.endswith((".xml", ".rels")) and "styles" not in member and "theme" not in member:
                cells = CELL_END.sub("\n\n", ELSEWHERE.sub("", workbook.read(member).decode("utf-8")))
                texts.append(html.unescape(TAG.sub(" ", cells)))
    return "\n\n".join(texts)


def words_of_page(page: str) -> str:
    """What a page shows, and where its links lead.

    >>> words_of_page('<p>Ask <a href="mailto:maud@example.org">Maud</a>&#33;</p>').split()
    ['Ask', 'Maud', '!', 'mailto:maud@example.org']
    """
    page = SHOWN_TO_NO_ONE.sub(" ", page)
    shown = TAG.sub("\n\n", WITHIN_A_LINE.sub(" ", page))
    return html.unescape("\n\n".join([shown, *IN_A_TAG.findall(page)]))
