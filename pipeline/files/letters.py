"""Writes letters as drafts: subject, text, page and mail. Nothing is ever sent by us."""

from __future__ import annotations

import hashlib
import re
from dataclasses import dataclass
from email.headerregistry import Address
from email.message import EmailMessage

from pipeline.files.asked import Asked, Found
from pipeline.files.labels import language_of
from pipeline.files.letter_pages import html_page, text_page
from pipeline.files.letter_to_finder import parts_of_finder_letter, subject_of_find
from pipeline.files.letter_to_person import parts_of_letter, reader_of, subject_of
from pipeline.files.question_words import shown

_ADDRESS = re.compile(r"[A-Za-z0-9.!#$%&'*+/=?^_`{|}~-]+@[A-Za-z0-9-]+(\.[A-Za-z0-9-]+)*")
_XLSX = "vnd.openxmlformats-officedocument.spreadsheetml.sheet"


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


def _address(name: str, email: str) -> Address | None:
    """The address as a mail header takes it, None where it is none that a header could hold."""
    if not _ADDRESS.fullmatch(email):
        return None
    try:
        return Address(display_name=_one_line(name), addr_spec=email)
    except ValueError:  # two full stops in a row and the like
        return None


def _draft(letter: Asked | Found, reader: tuple[str, str], subject: str) -> EmailMessage:
    mail = EmailMessage()
    mail["Subject"] = _one_line(subject)
    headers = {
        "From": _address(letter.programme_name, letter.contact),
        "To": _address(*reader),
        "Reply-To": _address("", letter.reply_to),
    }
    for name, address in headers.items():
        if address is not None:
            mail[name] = address
    mail["Message-ID"] = f"<{_derived(letter.seed, 'message')}@tagsheaf.invalid>"
    mail["Content-Language"] = language_of(letter.language)
    mail["X-Unsent"] = "1"  # some mail programs open it as a draft
    return mail


def _derived(seed: str, purpose: str) -> str:
    return hashlib.sha256(f"{seed}\n{purpose}".encode()).hexdigest()[:32]


def _mail(draft: EmailMessage, pages: tuple[str, str], workbook: bytes, seed: str) -> bytes:
    text, html = pages
    draft.set_content(text, cte="quoted-printable")
    draft.add_alternative(html, subtype="html", cte="quoted-printable")
    if workbook:
        draft.add_attachment(workbook, maintype="application", subtype=_XLSX, filename="questions.xlsx")
    # No Date: it is set when the letter is sent. Boundaries derived: the same run gives the same bytes.
    for number, part in enumerate(part for part in draft.walk() if part.is_multipart()):
        part.set_boundary(_derived(seed, f"boundary {number}"))
    return draft.as_bytes()


def letter(asked: Asked, workbook: bytes) -> Letter:
    """The letter to one person of people.csv, or to a minor's guardian; thanks where nothing is asked."""
    subject, parts = subject_of(asked), parts_of_letter(asked)
    pages = text_page(asked.language, parts), html_page(subject, asked.language, parts)
    draft = _draft(asked, reader_of(asked), subject)
    return Letter(subject, *pages, _mail(draft, pages, workbook, asked.seed))


def finder_letter(found: Found) -> Letter:
    """The letter to a finder who is not in people.csv, the questions in its text."""
    subject, parts = _one_line(subject_of_find(found)), parts_of_finder_letter(found)
    pages = text_page(found.language, parts), html_page(subject, found.language, parts)
    draft = _draft(found, (found.name, found.email), subject)
    return Letter(subject, *pages, _mail(draft, pages, b"", found.seed))
