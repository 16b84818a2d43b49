"""Reads a mail: who sent it when, what it says in words, and the files that came with it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from email import message_from_bytes
from email.header import decode_header, make_header
from email.message import Message
from email.parser import BytesHeaderParser
from email.utils import parseaddr, parsedate_to_datetime
from itertools import islice
from typing import TypeVar

from pipeline.files.mail_page import text_of_page
from pipeline.files.text_tables import decoded

MAIL = "a mail"  # what a file is called that is one
LARGEST_MAIL = 100_000_000  # bytes; of a larger one only the head is read
HEAD = 100_000  # bytes
MOST_ATTACHMENTS = 50
MOST_PARTS = 1_000
LONGEST_NAME = 120  # characters

T = TypeVar("T")

_FIRST = re.compile(rb"(?:\xef\xbb\xbf)?[\r\n]*(?:From |[!-9;-~]+:)")
_FIELD = re.compile(rb"([!-9;-~]+):[ \t]?(.*)")
_OF_MAIL_PROGRAMS = frozenset({
    "application/pgp-signature", "application/pkcs7-signature", "application/x-pkcs7-signature", "text/calendar",
    "text/vcard", "text/x-vcard", "message/delivery-status", "message/disposition-notification",
})  # fmt: skip
_OF_MAILS = frozenset({b"date", b"subject", b"mime-version", b"received", b"message-id", b"to", b"return-path"})
_NOT_IN_A_NAME = re.compile("[\x00-\x1f\x7f\u202a-\u202e\u2066-\u2069]")


@dataclass(frozen=True)
class Mail:
    """A mail as it came; `day` is that of its Date, by its sender's clock, attachments are name and bytes."""

    sender: str = ""
    day: date | None = None
    subject: str = ""
    text: str = ""
    attachments: tuple[tuple[str, bytes], ...] = ()


def is_mail(content: bytes) -> bool:
    """Whether the bytes begin as a mail does: with header lines, one of whom it is from, and two more of a mail's."""
    if not _FIRST.match(content):
        return False
    head = content[:HEAD].removeprefix(b"\xef\xbb\xbf").lstrip(b"\r\n")
    lines = re.split(rb"\r\n|\r|\n", head)
    name, fields = b"", dict[bytes, bytes]()
    for line in lines[1 if lines[0].startswith(b"From ") else 0 :]:
        field = _FIELD.match(line)
        if field:
            name = field[1].lower()
            fields[name] = fields.get(name, b"") + field[2]
        elif name and line[:1] in (b" ", b"\t") and line.strip():
            fields[name] += line
        elif line:
            return False
        else:
            break
    is_from_somebody = b"@" in fields.get(b"from", b"") or b"received" in fields
    return is_from_somebody and len(_OF_MAILS & fields.keys()) >= 2


def read_mail(content: bytes) -> Mail:
    """A mail with its words and attachments; what cannot be read of it is blank, and nothing in it is followed.

    A mail within the mail is one of its attachments.
    """
    head = BytesHeaderParser().parsebytes(content[:HEAD])
    # Headers as plain text: the parser that takes them apart raises on damaged ones.
    whole = _tried(lambda: message_from_bytes(content), None) if len(content) <= LARGEST_MAIL else None
    parts = list(islice(_parts(whole), MOST_PARTS)) if whole else []
    bodies = [part for part in parts if _is_body(part)]
    texts = [_text(part) for part in bodies if part.get_content_subtype() != "html"]
    if not any(text.strip() for text in texts):
        texts = [text_of_page(_text(part)) for part in bodies if part.get_content_subtype() == "html"]
    files = [part for part in parts if not _is_body(part) and not _belongs_to_mail(part)][:MOST_ATTACHMENTS]
    attachments = tuple((_name(part, number), _bytes(part)) for number, part in enumerate(files, 1))
    sender = _tried(lambda: parseaddr(str(head.get("From", "")))[1], "")
    day = _tried(lambda: parsedate_to_datetime(str(head["Date"])).date(), None)
    subject = " ".join(_spelled(str(head.get("Subject", ""))).split())
    return Mail(_seen(sender).strip().lower(), day, subject, "\n".join(texts), attachments)


def _parts(message: Message) -> Iterator[Message]:
    """The innermost parts in their order; a mail within the mail is one part."""
    waiting = [message]
    while waiting:
        part = waiting.pop()
        inside = part.get_payload() if part.get_content_maintype() == "multipart" else ""
        if isinstance(inside, list):
            waiting.extend(one for one in reversed(inside) if isinstance(one, Message))
        else:
            yield part


def _is_body(part: Message) -> bool:
    """Whether a part is what its sender says, and no file; also one that was to have parts and has none."""
    is_file = _tried(lambda: part.get_content_disposition() == "attachment" or bool(part.get_filename()), False)
    kind = part.get_content_type()
    return not is_file and (kind in ("text/plain", "text/html") or part.get_content_maintype() == "multipart")


def _belongs_to_mail(part: Message) -> bool:
    """Whether a part is a picture shown within the text, as signatures have, a signature itself, a card or a date."""
    is_shown = part.get_content_maintype() == "image" and (
        "content-id" in part or _tried(part.get_content_disposition, None) == "inline"
    )
    return is_shown or part.get_content_type() in _OF_MAIL_PROGRAMS


def _text(part: Message) -> str:
    data = _bytes(part)
    charset = _tried(part.get_content_charset, None) or "us-ascii"
    text = _tried(lambda: data.decode(charset, "replace"), "") if charset != "us-ascii" else ""
    lines = re.split(r"\r\n|\r|\n", text or decoded(data) or data.decode("utf-8", "replace"))
    is_flowed = _tried(lambda: str(part.get_param("format")).lower() == "flowed", False)
    return _seen("\n".join(_joined(lines) if is_flowed else lines))


def _joined(lines: list[str]) -> Iterator[str]:
    """The lines of a text with those put together that the mail program broke (RFC 3676: they end in a blank)."""
    begun = ""
    for line in lines:
        is_signature, is_quoted = line == "-- ", line.startswith(">")
        if begun and (is_signature or is_quoted != begun.startswith(">")):
            yield begun
            begun = ""
        begun += line.lstrip("> ") if begun and is_quoted else line
        if is_signature or not line.endswith(" "):
            yield begun
            begun = ""
    if begun:
        yield begun


def _bytes(part: Message) -> bytes:
    def asked() -> bytes:
        inside = part.get_payload()
        if isinstance(inside, list):
            return b"".join(one.as_bytes() for one in inside if isinstance(one, Message))
        data = part.get_payload(decode=True)
        return data if isinstance(data, bytes) else b""

    return _tried(asked, b"")


def _name(part: Message, number: int) -> str:
    """The name of an attachment without folders and signs that no name should have."""
    written = _spelled(_tried(lambda: part.get_filename() or "", ""))
    name = _NOT_IN_A_NAME.sub("", re.split(r"[\\/]", written)[-1]).strip()[-LONGEST_NAME:]
    return name if name.strip(".") else f"part-{number}"


def _spelled(header: str) -> str:
    """A header's text with its encoded words (RFC 2047) decoded."""
    return _seen(_tried(lambda: str(make_header(decode_header(header))), header))


def _seen(text: str) -> str:
    # Halves of characters, which no file can hold.
    return text.encode("utf-8", "replace").decode("utf-8")


def _tried(ask: Callable[[], T], otherwise: T) -> T:
    try:
        return ask()
    except Exception:
        # The library stumbles over damaged mails, over each in another way.
        return otherwise


def part_of(content: bytes, part: tuple[int, ...]) -> bytes:
    """The bytes of a file that came in a mail, by its place; nothing where there is none."""
    for number in part:
        attachments = read_mail(content).attachments
        content = attachments[number - 1][1] if number <= len(attachments) else b""
    return content
