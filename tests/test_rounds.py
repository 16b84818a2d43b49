"""Which letter is due: a round begins when letters were sent, and reminders are counted from there."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.files.ledger import add, open_ledger
from pipeline.files.rounds import Round, round_of, rounds_sent
from pipeline.settings import Letters

LETTERS = Letters(days_to_answer=14, reminder_days=10, reminders=2)
SEPTEMBER, TENTH_DAY, TODAY = date(2026, 9, 1), date(2026, 9, 11), date(2026, 10, 1)
OLD, NEW = "K3H8M2Q", "A2B3C4D"
Sent = list[tuple[date, frozenset[str]]]


def sent(*letters: tuple[date, str]) -> Sent:
    """Letters by day, each with the Refs that it asked about, parted by a blank."""
    return [(day, frozenset(refs.split())) for day, refs in letters]


def told(days: Sequence[date] | int, refs: str = OLD, today: date = TODAY) -> Round:
    """The round of somebody to whom so many letters were sent, ten days apart, each about OLD."""
    letters = [SEPTEMBER + timedelta(days=10 * at) for at in range(days)] if isinstance(days, int) else days
    return round_of(sent(*((day, OLD) for day in letters)), refs.split(), today, LETTERS)


ROUNDS = [
    # letters sent: due, reminder, write on, wrote on, is last, rests
    ("none: the first letter", 0, TODAY, (date(2026, 10, 15), 0, None, None, False, False)),
    ("one: a reminder ten days later", 1, SEPTEMBER, (date(2026, 9, 25), 1, TENTH_DAY, SEPTEMBER, False, False)),
    ("one, on the day of the reminder", 1, TENTH_DAY, (date(2026, 9, 25), 1, TENTH_DAY, SEPTEMBER, False, False)),
    ("one, long after", 1, TODAY, (date(2026, 10, 15), 1, TENTH_DAY, SEPTEMBER, False, False)),
    ("two: the last reminder", 2, TODAY, (date(2026, 10, 15), 2, date(2026, 9, 21), TENTH_DAY, True, False)),
    ("three: the rows rest", 3, TODAY, (date(2026, 10, 5), 2, None, date(2026, 9, 21), True, True)),
    ("four, sent by hand", 4, TODAY, (date(2026, 10, 15), 2, None, TODAY, True, True)),
]


@pytest.mark.parametrize(("letters", "today", "said"), [case[1:] for case in ROUNDS], ids=[case[0] for case in ROUNDS])
def test_every_letter_that_was_sent_brings_the_next_one(
    letters: int, today: date, said: tuple[date, int, date | None, date | None, bool, bool]
) -> None:
    now = told(letters, today=today)
    assert (now.due, now.reminder, now.write_on, now.wrote_on, now.is_last, now.rests) == said


def test_a_question_that_was_never_sent_makes_it_a_first_letter_again() -> None:
    now = told(3, f"{OLD} {NEW}")
    assert (now.reminder, now.due, now.wrote_on) == (0, date(2026, 10, 15), date(2026, 9, 21))
    assert not now.rests and not now.is_last and now.write_on is None


def test_a_letter_about_other_questions_counts_for_nothing() -> None:
    now = round_of(sent((SEPTEMBER, NEW), (TENTH_DAY, NEW)), [OLD], TODAY, LETTERS)
    assert now == Round(due=date(2026, 10, 15))


def test_of_questions_that_were_all_sent_the_one_sent_least_often_counts() -> None:
    letters = sent((SEPTEMBER, OLD), (TENTH_DAY, f"{OLD} {NEW}"))
    assert round_of(letters, [OLD, NEW], TODAY, LETTERS).reminder == 1
    assert round_of(letters, [OLD], TODAY, LETTERS).reminder == 2
    assert round_of(letters, [NEW], TODAY, LETTERS).reminder == 1


def test_an_answered_question_is_no_reason_for_another_letter() -> None:
    letters = sent((SEPTEMBER, f"{OLD} {NEW}"), (TENTH_DAY, OLD))
    now = round_of(letters, [NEW], TODAY, LETTERS)
    assert (now.reminder, now.wrote_on, now.write_on) == (1, SEPTEMBER, TENTH_DAY)


def test_without_any_open_question_nothing_was_asked_yet() -> None:
    assert round_of(sent((SEPTEMBER, OLD)), [], TODAY, LETTERS) == Round(due=date(2026, 10, 15))


NO_REMINDERS = [
    ("none: the first letter", 0, (0, False)),
    ("one: the rows rest at once", 1, (0, True)),
]


@pytest.mark.parametrize(
    ("letters", "said"), [case[1:] for case in NO_REMINDERS], ids=[case[0] for case in NO_REMINDERS]
)
def test_a_programme_may_remind_nobody(letters: int, said: tuple[int, bool]) -> None:
    history = sent(*((SEPTEMBER, OLD),) * letters)
    now = round_of(history, [OLD], TODAY, Letters(reminders=0))
    assert (now.reminder, now.rests) == said


def test_days_are_those_of_the_settings() -> None:
    now = round_of(sent((SEPTEMBER, OLD)), [OLD], SEPTEMBER, Letters(days_to_answer=5, reminder_days=3))
    assert (now.write_on, now.due) == (date(2026, 9, 4), date(2026, 9, 9))


@given(
    st.lists(st.tuples(st.dates(date(2026, 8, 1), date(2026, 12, 1)), st.frozensets(st.sampled_from("ABCD")))),
    st.frozensets(st.sampled_from("ABCD")),
    st.dates(date(2026, 12, 2), date(2027, 1, 1)),
    st.integers(0, 4),
)
def test_nobody_is_reminded_more_often_than_the_settings_say(
    letters: Sent, refs: frozenset[str], today: date, reminders: int
) -> None:
    letters.sort(key=lambda letter: letter[0])
    now = round_of(letters, refs, today, Letters(reminders=reminders))
    assert 0 <= now.reminder <= reminders
    assert now.rests or now.due > today, "whoever may still answer has time to do so"
    assert now.is_last is ((now.reminder == reminders and bool(now.write_on)) or now.rests)
    if now.rests:
        assert refs and all(sum(ref in asked for _, asked in letters) > reminders for ref in refs)


def test_letters_that_were_sent_are_told_by_person_in_the_order_of_their_days(tmp_path: Path) -> None:
    ledger = open_ledger(tmp_path / "ledger.sqlite", "marsh")
    for run, (person, day, refs) in enumerate(
        [("p1", TENTH_DAY, [OLD]), ("p1", SEPTEMBER, [OLD, NEW]), ("p2", SEPTEMBER, []), ("p1", TODAY, [NEW])], start=1
    ):
        add(ledger, "rounds", {"person_id": person, "day": day.isoformat(), "refs": json.dumps(refs), "run": run})
    add(ledger, "undone", {"run": 4, "day": TODAY.isoformat()})
    assert rounds_sent(ledger) == {
        "p1": sent((SEPTEMBER, f"{OLD} {NEW}"), (TENTH_DAY, OLD)),
        "p2": sent((SEPTEMBER, "")),
    }
    ledger.close()
