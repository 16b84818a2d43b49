"""Writes letters as drafts: subject, text, page and mail. Nothing is ever sent by us."""

from __future__ import annotations

import hashlib
from base64 import encodebytes
from binascii import b2a_qp
from collections.abc import Iterable
from dataclasses import dataclass
from email.header import Header
from email.utils import formataddr

from pipeline.files.asked import Asked, Found
from pipeline.files.labels import language_of
from pipeline.files.letter_pages import html_page, text_page
from pipeline.files.letter_replies import is_address
from pipeline.files.letter_to_finder import parts_of_finder_letter, subject_of_find
from pipeline.files.letter_to_person import parts_of_letter, reader_of, subject_of
from pipeline.files.question_words import shown

_XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
_LINE_MOST = 78  # characters of a header's line, RFC 5322


@dataclass(frozen=True)
class Letter:
    """A letter in all its forms; `eml_bytes` carries the text, the page and questions.xlsx."""

    subject: str
    text: str
    html: str
    eml_bytes: bytes


def _one_line(text: str) -> str:
    # A line break in a header would begin another header.
    return " ".join(shown(text).split())


def _header(name: str, value: str) -> str:
    line = f"{name}: {value}"
    if len(line) <= _LINE_MOST and line.isascii():
        return line
    return f"{name}: {Header(value, None if value.isascii() else 'utf-8', header_name=name).encode()}"


def _address_header(name: str, called: str, email: str) -> list[str]:
    """Whom a mail is from or to; nothing where it is no address that a header could hold."""
    if not is_address(email):
        return []
    called = _one_line(called)
    if called.isascii():
        return [_header(name, formataddr((called, email)))]
    return [f"{_header(name, called)} <{email}>"]


def _headers(letter: Asked | Found, reader: tuple[str, str], subject: str) -> list[str]:
    # No Date: it is set when the letter is sent.
    return [
        _header("Subject", _one_line(subject)),
        *_address_header("From", letter.programme_name, letter.contact),
        *_address_header("To", *reader),
        *_address_header("Reply-To", "", letter.reply_to),
        f"Message-ID: <{_derived(letter.seed, 'message')}@tagsheaf.invalid>",
        f"Content-Language: {language_of(letter.language)}",
        "X-Unsent: 1",  # some mail programs open it as a draft
        "MIME-Version: 1.0",
    ]


def _derived(seed: str, purpose: str) -> str:
    return hashlib.sha256(f"{seed}\n{purpose}".encode()).hexdigest()[:32]


def _text_part(subtype: str, text: str) -> bytes:
    head = f'Content-Type: text/{subtype}; charset="utf-8"\nContent-Transfer-Encoding: quoted-printable\n\n'
    return head.encode() + b2a_qp(text.encode())


def _workbook_part(workbook: bytes) -> bytes:
    head = (
        f"Content-Type: {_XLSX}\nContent-Transfer-Encoding: base64\n"
        'Content-Disposition: attachment; filename="questions.xlsx"\nMIME-Version: 1.0\n\n'
    )
    return head.encode() + encodebytes(workbook)


def _parts_in_one(kind: str, boundary: str, parts: Iterable[bytes]) -> bytes:
    """Several parts as one (RFC 2046), written straight down: the email library takes ten times as long."""
    line = f"--{boundary}".encode()
    head = f'Content-Type: multipart/{kind};\n boundary="{boundary}"\n\n'.encode()
    return b"".join([head, *(line + b"\n" + part + b"\n" for part in parts), line, b"--\n"])


def _mail(headers: Iterable[str], pages: tuple[str, str], workbook: bytes, seed: str) -> bytes:
    # Boundaries derived from the seed: the same run gives the same bytes.
    outer, inner = (_derived(seed, f"boundary {number}") for number in range(2))
    text, html = pages
    texts = (_text_part("plain", text), _text_part("html", html))
    if workbook:
        both = _parts_in_one("alternative", inner, texts)
        body = _parts_in_one("mixed", outer, (both, _workbook_part(workbook)))
    else:
        body = _parts_in_one("alternative", outer, texts)
    return "".join(f"{header}\n" for header in headers).encode() + body


def letter(asked: Asked, workbook: bytes) -> Letter:
    """The letter to one person of people.csv, or to a minor's guardian; thanks where nothing is asked."""
    subject, parts = subject_of(asked), parts_of_letter(asked)
    pages = text_page(asked.language, parts), html_page(subject, asked.language, parts)
    headers = _headers(asked, reader_of(asked), subject)
    return Letter(subject, *pages, _mail(headers, pages, workbook, asked.seed))


def finder_letter(found: Found) -> Letter:
    """The letter to a finder who is not in people.csv, the questions in its text."""
    subject, parts = _one_line(subject_of_find(found)), parts_of_finder_letter(found)
    pages = text_page(found.language, parts), html_page(subject, found.language, parts)
    headers = _headers(found, (found.name, found.email), subject)
    return Letter(subject, *pages, _mail(headers, pages, b"", found.seed))
