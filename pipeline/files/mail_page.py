"""The words of a mail that is a page: its lines, what is quoted marked as in a plain mail."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import unescape

LONGEST_PAGE = 5_000_000  # characters

_TAG = re.compile(r"(<[^<>]*>)")
_NAME_OF_TAG = re.compile(r"<\s*(/?)\s*([a-z][a-z0-9]*)", re.IGNORECASE)
_LINES = frozenset({"br", "p", "div", "tr", "li", "ul", "ol", "table", "hr", "h1", "h2", "h3", "h4", "blockquote"})
_UNSHOWN = frozenset({"script", "style", "title", "template"})


def text_of_page(page: str) -> str:
    """The text that a page shows, one line a paragraph or row; nothing of it is followed or run.

    >>> text_of_page("<style>p {}</style><p>1 yes<br>2 caf&eacute;</p><!-- x --><blockquote><p>1. Row 8</blockquote>")
    '1 yes\\n2 café\\n> 1. Row 8'
    """
    return "\n".join(line for line in _lines(_without_comments(page[:LONGEST_PAGE])) if line)


def _without_comments(page: str) -> str:
    # Cut at each beginning, so that a page of beginnings without an end costs no more than any other.
    first, *others = page.split("<!--")
    return first + "".join(other.partition("-->")[2] for other in others)


def _lines(page: str) -> Iterator[str]:
    words: list[str] = []
    depth, unshown = 0, ""
    for piece in _TAG.split(page):
        tag = _NAME_OF_TAG.match(piece)
        if not tag:
            words += [] if unshown or piece.startswith("<") else [unescape(piece)]
            continue
        is_end, name = bool(tag[1]), tag[2].lower()
        if name in _UNSHOWN:
            unshown = "" if is_end else name
        if name in _LINES:
            yield _line(words, depth)
            words = []
        if name == "blockquote":
            depth = max(depth - 1, 0) if is_end else depth + 1
    yield _line(words, depth)


def _line(words: list[str], depth: int) -> str:
    text = " ".join("".join(words).split())
    return f"> {text}" if text and depth else text
