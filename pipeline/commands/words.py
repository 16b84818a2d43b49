"""What a run did, in words for a terminal of 80 columns."""

from __future__ import annotations

import textwrap

from pipeline.figures import Figures
from pipeline.flow import Outcome
from pipeline.values.wording import (
    conserved_rows,
    conserved_tags,
    last_line,
    people_in_words,
    questions_in_words,
)

LABEL, WIDTH = 9, 79


def said_of(outcome: Outcome, is_trial: bool = False) -> list[str]:
    """The lines that a run prints; the last says what it means and what to do next."""
    figures = outcome.figures
    lines = ["Nothing new in the inbox since the last run."] if outcome.is_unchanged else []
    lines += [
        *_line("Inbox", _files(figures)),
        *_line("Rows", conserved_rows(figures.rows)),
        *_of_run(figures),
        *(_line("", "left out: " + _counted(figures.left_out)) if figures.left_out else []),
        *_line("Tags", conserved_tags(figures.tags)),
    ]
    if figures.never_allotted:
        lines += _line("", f"beside these, released tags that were never allotted: {figures.never_allotted}")
    if any(figures.finds.values()):
        lines += _line(
            "Finds",
            f"{figures.finds['matched']} matched to a release, {figures.finds['waiting']} waiting for one",
        )
    lines += _line("Batch", _batch(figures))
    lines += _line(
        "Asked",
        f"{questions_in_words(figures.questions)} for {people_in_words(figures.people_asked)}, "
        f"{figures.coordinator_questions} for you",
    )
    lines += [line for note in outcome.notes for line in _line("Note", note)]
    lines += [line for refusal in figures.refusals for line in _line("Gate", refusal)]
    if is_trial:
        lines += _line("Note", "this was a dry run: nothing was written")
    return [*lines, "", *textwrap.wrap(last_line(figures), WIDTH)]


def _of_run(figures: Figures) -> list[str]:
    if not figures.rows_read or not figures.files["new"]:
        return []
    if figures.rows_of_run == figures.rows:
        return _line("", "all of them in this run")
    return _line("", "of this run: " + conserved_rows(figures.rows_of_run))


def _files(figures: Figures) -> str:
    files = figures.files
    return (
        f"{files['read'] + files['copies'] + files['refused']} files: {files['read']} read, {files['copies']} copies, "
        f"{files['refused']} refused ({files['new']} new in this run)"
    )


def _batch(figures: Figures) -> str:
    if not figures.batch:
        return "none: no record is new or changed" if not figures.refusals else "refused by the gate"
    batch = figures.batch
    return (
        f"{batch['id']}: {batch['records']} new or changed records, {batch['withdrawn']} withdrawn; "
        f"in outbox/portal/{batch['id']}"
    )


def _counted(counts: dict[str, int]) -> str:
    return ", ".join(f"{count} {reason}" for reason, count in counts.items())


def line_of(label: str, text: str, indent: str = "") -> list[str]:
    """A text for a terminal of 80 columns, after a label or indented; long words are kept whole."""
    first = f"{label}: " if label else indent
    return textwrap.wrap(
        text, WIDTH, initial_indent=first, subsequent_indent=(indent or " " * len(first)) + "  ",
        break_long_words=False, break_on_hyphens=False,
    )  # fmt: skip


def _line(label: str, text: str) -> list[str]:
    return textwrap.wrap(
        text, WIDTH, initial_indent=label.ljust(LABEL), subsequent_indent=" " * LABEL, break_long_words=False,
        break_on_hyphens=False,
    )  # fmt: skip
