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


class Points(NamedTuple):
    """Sentences one below the other."""

    texts: tuple[str, ...]


class Card(NamedTuple):
    """One question; `lines` are label and text, the label `""` where the text speaks for itself.

    `why` is label and text of what is only for those who want to know more.
    """

    title: str
    kind: Kind
    word: str
    lines: tuple[tuple[str, str], ...]
    why: tuple[str, str]


class Signature(NamedTuple):
    """Who writes, line by line."""

    lines: tuple[str, ...]


class SmallPrint(NamedTuple):
    """What must be said, at the very end."""

    text: str


Part = Paragraph | Heading | Points | Card | Signature | SmallPrint
Words = dict[str, str]


def greeting(name: str, words: Words) -> Paragraph:
    """The greeting by name, or without one where no name is known."""
    called = " ".join(shown(name).split())
    return Paragraph(words["greeting"].format(name=called) if called else words["greeting_unnamed"])


def ending(asked: Asked | Found, words: Words) -> Signature:
    """The end of a letter: who signs it, for which programme, where to write to."""
    lines = (words["closing"], asked.signed_by, asked.programme_name, asked.contact)
    return Signature(tuple(shown(line) for line in lines if line))
