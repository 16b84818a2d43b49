"""The parts that a letter is made of; what stands in them is said elsewhere, and so is how they look."""

from __future__ import annotations

from typing import NamedTuple

from pipeline.files.asked import Asked, Found, Kind
from pipeline.files.question_words import shown


class Paragraph(NamedTuple):
    """A few sentences."""

    text: str


class Heading(NamedTuple):
    """What stands over the next parts; `is_new_page` begins a page in print."""

    text: str
    is_new_page: bool = False


class Reply(NamedTuple):
    """An answer that is only to be sent: its words, and the link to the mail in which it is written."""

    words: str
    link: str


class Replies(NamedTuple):
    """Answers that are only to be sent, on a screen only."""

    replies: tuple[Reply, ...]


class OnScreen(NamedTuple):
    """A few sentences about the replies, on a screen only."""

    text: str


class Points(NamedTuple):
    """Sentences one below the other; `replies` are the answers to each, where these are questions."""

    texts: tuple[str, ...]
    replies: tuple[tuple[Reply, ...], ...] = ()


class Card(NamedTuple):
    """One question; `lines` are label and text, the label `""` where the text speaks for itself.

    `why` is label and text of what is only for those who want to know more.
    """

    title: str
    kind: Kind
    word: str
    lines: tuple[tuple[str, str], ...]
    why: tuple[str, str]
    replies: tuple[Reply, ...] = ()


class Signature(NamedTuple):
    """Who writes, line by line."""

    lines: tuple[str, ...]


class SmallPrint(NamedTuple):
    """What must be said, at the very end."""

    text: str


Part = Paragraph | Heading | Points | Replies | OnScreen | Card | Signature | SmallPrint
Words = dict[str, str]


def greeting(name: str, words: Words) -> Paragraph:
    """The greeting by name, or without one where no name is known."""
    called = " ".join(shown(name).split())
    return Paragraph(words["greeting"].format(name=called) if called else words["greeting_unnamed"])


def ending(asked: Asked | Found, words: Words) -> Signature:
    """The end of a letter: who signs it, for which programme, where to write to."""
    lines = (words["closing"], asked.signed_by, asked.programme_name, asked.contact)
    return Signature(tuple(shown(line) for line in lines if line))
