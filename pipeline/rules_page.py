"""The page that lists every rule with its examples, written from the rules themselves."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from pipeline.catalogue import Entry, catalogue

PAGE = "README.md"  # beside the rules

_SEEN_BY = {
    "file": "a file",
    "heading": "the headings of a table",
    "cell": "a cell",
    "row": "a row",
    "sheet": "the rows of a table",
    "person": "all rows of a person",
    "season": "all rows of the season",
    "answer": "an answer that came back",
}


def rules_page() -> str:
    """The whole page as Markdown: a table per subject, then each rule with its reasons and examples."""
    lines = [
        "# Rules",
        "",
        "Everything that we may tell anybody about their data. This page is generated from the files beside"
        " it: change a rule, not the page, and let `tagsheaf rules --write` write it again.",
    ]
    for subject, entries in groupby(catalogue(), key=lambda entry: entry.subject):
        lines += _subject(subject, list(entries))
    return "\n".join(lines) + "\n"


def example_tables(text: str) -> list[list[list[str]]]:
    """The tables of an example, each a list of lines of cells, the heading line first.

    Blank lines part tables, `|` parts cells; `¦` stands for a bar inside a cell.
    """
    blocks = "\n".join(line.strip() for line in text.strip().splitlines()).split("\n\n")
    return [
        [[cell.strip().replace("¦", "|") for cell in line.split("|")] for line in block.strip().splitlines()]
        for block in blocks
        if block.strip()
    ]


def _subject(subject: str, entries: list[Entry]) -> Iterator[str]:
    yield from ("", f"## {subject.capitalize()}", "")
    heading = ["name", "what happened", "severity", "asks", "looks at"]
    yield from _table([heading] + [_line(entry) for entry in entries])
    for entry in entries:
        yield from _rule(entry)


def _line(entry: Entry) -> list[str]:
    rule = entry.rule
    return [f"`{entry.name}`", rule.title, rule.severity, rule.asks, _SEEN_BY[rule.scope]]


def _rule(entry: Entry) -> Iterator[str]:
    rule = entry.rule
    yield from ("", f"### {entry.name}", "", f"> {rule.message}", "")
    if rule.unsuggested:
        yield from ("Where there is no honest suggestion:", "", f"> {rule.unsuggested}", "")
    yield f"- Why: {rule.why}"
    yield f"- Source: {rule.source}"
    yield f"- Fields: {_names(rule.fields)}"
    if rule.looked_up:
        yield f"- Reads also: {_names(rule.looked_up)}"
    if rule.withholds:
        yield f"- Stays home until answered: {_names(rule.withholds)}"
    if rule.each_row:
        yield "- Always asked row by row"
    if not rule.waivable:
        yield '- "Right as it is" does not settle it'
    yield from _examples("Finds", rule.examples.finds)
    yield from _examples("Leaves", rule.examples.leaves)
    yield from _examples("Nearly finds", rule.examples.near_misses)


def _examples(title: str, text: str) -> Iterator[str]:
    yield from ("", f"{title}:")
    for table in example_tables(text):
        yield ""
        yield from _table(table)


def _table(lines: list[list[str]]) -> Iterator[str]:
    heading, *body = lines
    for cells in (heading, ["---"] * len(heading), *body):
        yield "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def _names(columns: tuple[str, ...]) -> str:
    return ", ".join(f"`{column}`" for column in columns)
