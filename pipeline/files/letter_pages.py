"""How a letter looks: its parts as plain text and as one self-contained HTML page."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable, Iterator
from html import escape
from itertools import zip_longest

from pipeline.files.labels import labels, language_of
from pipeline.files.letter_parts import (
    Card,
    Heading,
    OnScreen,
    Paragraph,
    Part,
    Points,
    Replies,
    Reply,
    Signature,
    SmallPrint,
)

TEXT_WIDTH = 76

# Ink on paper is measured in tests/test_letters.py (WCAG 2.x); every colour has a word beside it.
STYLE = """
body { margin: 0; background: #FFFFFF; color: #1A1A1A;
  font: 16px/1.5 system-ui, "Segoe UI", Arial, sans-serif; }
main { max-width: 42rem; margin: 0 auto; padding: 1.5rem 1rem 3rem; overflow-wrap: anywhere; }
h1 { font-size: 1.5rem; line-height: 1.25; color: #00664B; }
h2 { font-size: 1.2rem; margin: 2rem 0 .5rem; color: #00664B; }
h3 { font-size: 1rem; margin: 0; }
.card { border: 1px solid #8C8C8C; border-left-width: .5rem; border-radius: .25rem; padding: .75rem 1rem;
  margin: 0 0 .75rem; break-inside: avoid; }
.must-answer { border-left-color: #9A3412; }
.please-check { border-left-color: #005A9C; border-left-style: double; }
.word { font-weight: bold; margin: 0; }
.must-answer .word { color: #9A3412; }
.please-check .word { color: #005A9C; }
.card p { margin: .25rem 0; }
dl { margin: .5rem 0 0; display: grid; grid-template-columns: minmax(7rem, max-content) 1fr;
  gap: .1rem .75rem; }
dt { font-weight: bold; }
dd { margin: 0; white-space: pre-line; }
details { margin-top: .5rem; font-size: .875rem; }
summary { cursor: pointer; color: #005A9C; }
.replies { list-style: none; margin: .75rem 0 0; padding: 0; }
.replies li { display: inline-block; margin: 0 .5rem .5rem 0; }
.replies a { display: block; box-sizing: border-box; min-height: 2.75rem; padding: .5rem 1rem; font-weight: bold;
  color: #005A9C; text-decoration: underline; border: 2px solid #005A9C; border-radius: .5rem; }
.replies + .card { margin-top: 1rem; }
.small { font-size: .875rem; border-top: 1px solid #8C8C8C; padding-top: .75rem; margin-top: 2rem; }
@media (max-width: 30rem) {
  dl { display: block; } dd { margin-bottom: .35rem; }
  .replies li { display: block; margin-right: 0; } .replies a { text-align: center; }
}
@media print {
  @page { margin: 18mm; }
  body { font: 12pt/1.3 system-ui, "Segoe UI", Arial, sans-serif; }
  main { max-width: none; padding: 0; } h2 { margin-top: 1rem; }
  .card { padding: .3rem .6rem; margin-bottom: .4rem; } .card h3, .card .word { display: inline; }
  .card .word { margin-left: .75rem; } .card p { margin: .1rem 0; }
  details, .replies, .on-screen { display: none; }
  dl { display: block; margin: 0; } dt, dd { display: inline; }
  dt::after { content: ": "; } :lang(fr) dt::after { content: "\\a0: "; }
  dd::after { content: "   "; white-space: pre; }
  h2 { break-after: avoid; } .new-page { break-before: page; }
}
"""
STYLE_HASH = base64.b64encode(hashlib.sha256(STYLE.encode()).digest()).decode()
POLICY = f"default-src 'none'; style-src 'sha256-{STYLE_HASH}'; base-uri 'none'; form-action 'none'"


def _pieces(text: str, most: int) -> Iterator[str]:
    for word in text.replace("\n", " ").split(" "):
        # What is longer than a line (a link, a code a hundred times) is read on in the next.
        yield from (word[at : at + most] for at in range(0, len(word) or 1, most))


def _wrapped(text: str, first: str = "", rest: str = "") -> str:
    # Only at ordinary blanks: "14 %" and "proposition :" hold together. Quicker than textwrap by ten.
    lines, line = [], first
    for word in _pieces(text, TEXT_WIDTH - len(rest)):
        is_empty = line in (first, rest)
        if not is_empty and len(line) + len(word) >= TEXT_WIDTH:
            lines.append(line)
            line, is_empty = rest, True
        line += word if is_empty else f" {word}"
    return "\n".join([*lines, line])


def _card_text(card: Card, named: str) -> str:
    lines = [_wrapped(f"{card.title} - {card.word}")]
    for name, text in card.lines:
        lines.append(_wrapped(named.format(name=name, text=text) if name else text, "   ", "   "))
    return "\n".join(lines)


def _part_text(part: Part, named: str) -> str:
    match part:
        case Paragraph(text):
            return _wrapped(text)
        case Heading(text):
            return f"{text}\n{'-' * len(text)}"
        case Points(texts, _):
            return "\n".join(_wrapped(text, "- ", "  ") for text in texts)
        case Card():
            return _card_text(part, named)
        case Signature(lines):
            return "\n".join(map(_wrapped, lines))
        case Replies() | OnScreen():
            return ""  # the how-to of the text says it in words
        case SmallPrint(text):
            return f"---\n{_wrapped(text)}"


def text_page(language: str, parts: Iterable[Part]) -> str:
    """The letter as plain text, wrapped, LF."""
    named = labels(language)["named"]
    return "\n\n".join(filter(None, (_part_text(part, named) for part in parts))) + "\n"


def _replies_html(replies: Iterable[Reply]) -> str:
    links = "".join(f'<li><a href="{escape(link)}">{escape(words)}</a></li> ' for words, link in replies)
    return f'<ul class="replies">{links}</ul>\n' if links else ""


def _card_html(card: Card) -> str:
    said = "".join(f"<p>{escape(text)}</p>" for label, text in card.lines if not label)
    named = "".join(f"<dt>{escape(label)}</dt><dd>{escape(text)}</dd>" for label, text in card.lines if label)
    head = f'<h3>{escape(card.title)}</h3>\n<p class="word">{escape(card.word)}</p>'
    label, text = card.why
    why = f"<details><summary>{escape(label)}</summary><p>{escape(text)}</p></details>\n" if text else ""
    links = _replies_html(card.replies)
    return f'<article class="card {card.kind}">\n{head}\n{said}\n<dl>{named}</dl>\n{links}{why}</article>'


def _part_html(part: Part) -> str:
    match part:
        case Paragraph(text):
            return f"<p>{escape(text)}</p>"
        case Heading(text, is_new_page):
            return f'<h2 class="new-page">{escape(text)}</h2>' if is_new_page else f"<h2>{escape(text)}</h2>"
        case Points(texts, replies):
            points = zip_longest(map(escape, texts), map(_replies_html, replies), fillvalue="")
            return "<ul>" + "".join(f"<li>{text}{links}</li>" for text, links in points) + "</ul>"
        case Replies(replies):
            return _replies_html(replies)
        case OnScreen(text):
            return f'<p class="on-screen">{escape(text)}</p>'
        case Card():
            return _card_html(part)
        case Signature(lines):
            return "<p>" + "<br>".join(escape(line) for line in lines) + "</p>"
        case SmallPrint(text):
            return f'<p class="small">{escape(text)}</p>'


def html_page(title: str, language: str, parts: Iterable[Part]) -> str:
    """The letter as one page that loads nothing and runs nothing; every text in it is escaped."""
    body = "\n".join(_part_html(part) for part in parts)
    return (
        f'<!doctype html>\n<html lang="{language_of(language)}">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(title)}</title>\n<style>{STYLE}</style>\n</head>\n"
        f"<body>\n<main>\n<h1>{escape(title)}</h1>\n{body}\n</main>\n</body>\n</html>\n"
    )
