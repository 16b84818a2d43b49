"""Sentences that more than one reader sees: a rule's message with its words, what a run came to."""

from __future__ import annotations

from collections.abc import Mapping

from pipeline.figures import Figures

KINDS = {
    "must-answer": "We need an answer",
    "please-check": "Please check",
    "for-information": "For information",
}
STATES = {
    "clear": "clear", "held": "held", "replaced": "replaced", "withdrawn": "withdrawn", "copy": "copies",
    "left-out": "left out",
}  # fmt: skip


def spoken(message: str, unsuggested: str, words: Mapping[str, str]) -> str:
    """The message with its words put in; the other wording where there is no suggestion.

    >>> spoken("Is it {suggestion}?", "What is it?", {"suggestion": ""})
    'What is it?'
    >>> spoken("Is it {suggestion}?", "What is it?", {"suggestion": "male"})
    'Is it male?'
    """
    template = message if words.get("suggestion") or not unsuggested else unsuggested
    return template.format_map(words)


def last_line(figures: Figures) -> str:
    """What it means, and what to do next."""
    if figures.refusals:
        return (
            "The gate kept the batch in the house: see outbox/coordinator/gate, and run again when it is put right. "
            "Everything else was written."
        )
    if figures.questions:
        own = (
            f" {figures.coordinator_questions} more are for you, in coordinator/questions.xlsx."
            if figures.coordinator_questions
            else ""
        )
        return (
            f"{questions_in_words(figures.questions)} {'waits' if figures.questions == 1 else 'wait'} for "
            f"{people_in_words(figures.people_asked)}: write to them next, the letters are in outbox/volunteers.{own}"
        )
    if figures.coordinator_questions:
        n = figures.coordinator_questions
        return (
            f"{questions_in_words(n)} {'waits' if n == 1 else 'wait'} for you: see outbox/coordinator/questions.xlsx."
        )
    if not figures.rows_read:
        return "No row was read yet: put the sheets that come into inbox/, a folder for each person, then run again."
    return "Nothing to ask: every row is clear. Thank your taggers, the letters are in outbox/volunteers."


def conserved_rows(rows: dict[str, int]) -> str:
    """The first conservation law: every row that was read stands in one state.

    >>> conserved_rows({"clear": 3, "held": 1})
    '4 read = 3 clear + 1 held + 0 replaced + 0 withdrawn + 0 copies + 0 left out'
    """
    return f"{sum(rows.values())} read = " + " + ".join(
        f"{rows.get(state, 0)} {word}" for state, word in STATES.items()
    )


def conserved_tags(tags: dict[str, int]) -> str:
    """The second conservation law: every tag allotted for the season has come to something, or was not heard of."""
    words = {**{name: name for name in tags}, "kept": "kept for next year"}
    return f"{sum(tags.values())} allotted = " + " + ".join(f"{count} {words[name]}" for name, count in tags.items())


def questions_in_words(count: int) -> str:
    """A number of questions."""
    return "1 question" if count == 1 else f"{count} questions"


def people_in_words(count: int) -> str:
    """A number of people."""
    return "1 person" if count == 1 else f"{count} people"
