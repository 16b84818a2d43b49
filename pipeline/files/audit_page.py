"""Writes the page of an audit: what each test is about, what it found, where, and what to do."""

from __future__ import annotations

import re
from datetime import date
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

import jinja2
from markupsafe import Markup

from pipeline.audit.all_tests import Entry, all_tests
from pipeline.audit.tally import Found, Tallied, Tally
from pipeline.audit.tally_words import DRAFT, KINDS, LEADS, next_step, numbers_of

SHOWN = 10  # findings of a test
LONGEST = 300  # characters of a value
CONTROL = re.compile("[\x00-\x1f\x7f]")


@cache
def _template() -> jinja2.Template:
    source = files("pipeline.files").joinpath("audit.html").read_text(encoding="utf-8")
    return jinja2.Environment(autoescape=True, trim_blocks=True, lstrip_blocks=True).from_string(source)


def write_audit_page(path: Path, file: str, said: Tallied, today: date) -> None:
    """Writes the page about a file."""
    tests = [_test(entry, said.tests[entry.test.label]) for entry in all_tests() if entry.test.label in said.tests]
    tests.sort(key=lambda each: -each["found"])
    page = _template().render(
        file=file, said=said, next=next_step(said, "below"), today=today.isoformat(), draft=DRAFT, kinds=KINDS,
        found=[each for each in tests if each["found"]], calm=[each for each in tests if not each["found"]],
    )  # fmt: skip
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_suffix(".new")
    beside.write_text(page + "\n", encoding="utf-8", newline="\n")
    beside.replace(path)


def _test(entry: Entry, tally: Tally) -> dict[str, Any]:
    most = tally.most_frequent()
    return {
        "test": entry.test,
        "name": Markup("_<wbr>").join(entry.test.label.split("_")),  # a long name is broken at its parts
        "lead": LEADS[entry.test.kind],
        "terms": ", ".join(entry.test.acted_upon + entry.test.consulted),
        "found": tally.number_found(),
        "numbers": numbers_of(entry.test.kind, tally),
        "least": _number(tally.least),
        "greatest": _number(tally.greatest),
        "shown": [_shown(result, comment, one) for result, comment, one in most[:SHOWN]],
        "are_more": len(most) > SHOWN or not tally.are_all,
        "at_least": "" if tally.are_exact() else "at least ",
    }


def _shown(result: str, comment: str, found: Found) -> dict[str, Any]:
    return {
        "records": found.records,
        "comment": visible(comment),
        "proposed": visible(result) if result.startswith("{") else "",
        "examples": [
            (each.record, [(term, visible(value)) for term, value in each.values.items() if value.strip()])
            for each in found.examples
        ],
    }


def _number(number: float | None) -> str:
    return "" if number is None else f"{number:,.10g}"


def visible(text: str) -> str:
    """A text with its control characters shown by signs, and cut where it is very long.

    >>> visible("a\\tb")
    'a\\u2409b'
    """
    shown = CONTROL.sub(lambda found: "\u2421" if found[0] == "\x7f" else chr(0x2400 + ord(found[0])), text)
    return shown if len(shown) <= LONGEST else shown[:LONGEST] + " ..."
