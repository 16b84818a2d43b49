"""What an answer comes to when the value was changed meanwhile, or the Ref is not what it should be.

The lines of the table are the contract's own ("base against ledger now"); the values are invented.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from pipeline.model import AnswerLine
from pipeline.stages.decide import Asked, Cell, decide
from pipeline.stages.decide import outcomes as said
from pipeline.stages.decide.outcomes import COORDINATOR

REF, OTHER_REF = "K3H8M2Q", "A2B3C4D"
BASE = ("31/09/2026", "31/09/2026")
CELL = Cell("key-1", "eventDate", "day_not_in_calendar", "must-answer", "", "f1", BASE, BASE)
QUESTION = Asked(REF, 3, "p1", "day_not_in_calendar", "Which day was it?", "AB0013", True, True, (CELL,))


def line(choice: str, value: str = "", **told: object) -> AnswerLine:
    plain = AnswerLine("p1/questions.xlsx", "00", "Your questions", 2, "question", REF, choice=choice, value=value)
    return replace(plain, **told)  # type: ignore[arg-type]


def asked(cell: Cell = CELL, **told: object) -> dict[str, Asked]:
    return {REF: replace(QUESTION, cells=(cell,), **told)}  # type: ignore[arg-type]


def outcome(one: AnswerLine, questions: dict[str, Asked], sender: str = "p1") -> str:
    return decide([one], questions, sender)[0].outcome


NEWER = replace(CELL, now=("28/09/2026", "2026-09-28"), is_found=False)
BY_PHONE = replace(NEWER, changed_by=COORDINATOR)
READ_BETTER = replace(CELL, now=("31/09/2026", "2026-10-01"), is_found=False)
TABLE = {
    # base against ledger now, answer: outcome
    "the same, a new value": (CELL, line("other", "29/09/2026"), {}, said.APPLIED),
    "the same, right as it is": (CELL, line("right"), {}, said.CONFIRMED),
    "the same, blank": (CELL, line(""), {}, said.OPEN),
    "changed, and the ledger says what was answered": (
        NEWER, line("other", "2026-09-28"), {"is_open": False}, said.ALREADY_SO),
    "changed by one of our changes, a new value": (
        READ_BETTER, line("other", "29/09/2026"), {"is_open": False}, said.APPLIED),
    "changed by the tagger's newer sheet, a new value": (
        NEWER, line("other", "29/09/2026"), {"is_open": False}, said.CONFLICT),
    "changed by the coordinator, right as it is": (BY_PHONE, line("right"), {"is_open": False}, said.CONFLICT),
    "changed by the coordinator, a new value": (
        BY_PHONE, line("other", "29/09/2026"), {"is_open": False}, said.CONFLICT),
    "row withdrawn, any": (
        replace(CELL, is_current=False), line("other", "29/09/2026"), {"is_open": False}, said.ROW_WITHDRAWN),
    "closed because the rule changed, a new value": (
        replace(CELL, is_found=False), line("other", "29/09/2026"), {"is_open": False}, said.NOTED),
    "closed because the rule changed, right as it is": (
        replace(CELL, is_found=False), line("right"), {"is_open": False}, said.NOTED),
}  # fmt: skip


@pytest.mark.parametrize(("cell", "one", "told", "expected"), TABLE.values(), ids=TABLE)
def test_a_value_that_changed_meanwhile_is_never_overwritten(
    cell: Cell, one: AnswerLine, told: dict[str, object], expected: str
) -> None:
    assert outcome(one, asked(cell, **told)) == expected


def test_the_sheet_quotes_what_it_asked_about_and_a_newer_doubtful_value_is_another() -> None:
    # The question is open again, about what the newer sheet says: the answer was meant for the older value.
    again = replace(CELL, was=("32/09/2026", "32/09/2026"), now=("32/09/2026", "32/09/2026"))
    assert outcome(line("right", wrote="31/09/2026"), asked(again)) == said.CONFLICT
    assert outcome(line("other", "29/09/2026", wrote="31/09/2026"), asked(again)) == said.CONFLICT
    assert outcome(line("right", wrote="32/09/2026"), asked(again)) == said.CONFIRMED


def test_a_later_answer_of_the_same_person_takes_the_place_of_the_earlier() -> None:
    own = replace(CELL, now=("29/09/2026", "2026-09-29"), changed_by="p1", is_found=False)
    given = frozenset({("other", "29/09/2026")})
    assert outcome(line("other", "28/09/2026"), asked(own, is_open=False, given=given)) == said.APPLIED


def test_the_coordinators_later_answer_takes_the_place_of_the_coordinators_earlier() -> None:
    own = replace(BY_PHONE, now=("29/09/2026", "2026-09-29"))
    later = line("other", "28/09/2026")
    assert outcome(later, asked(own, is_open=False), COORDINATOR) == said.APPLIED
    assert outcome(later, asked(own, is_open=False), "p1") == said.CONFLICT
    assert outcome(line("right"), asked(own, is_open=False), COORDINATOR) == said.CONFLICT, "as it was, or as it is?"


LADDER = {
    "a valid Ref": (line("right"), said.CONFIRMED),
    "a damaged Ref, but tag, question and quoted value agree": (
        line("right", ref="K3H8M2", tag="AB0013", wonder="Which day was it?", wrote="31/09/2026"), said.CONFIRMED),
    "a damaged Ref and another quoted value": (
        line("right", ref="K3H8M2", tag="AB0013", wonder="Which day was it?", wrote="30/09/2026"), said.NO_QUESTION),
    "a damaged Ref and another tag": (
        line("right", ref="K3H8M2", tag="AB0014", wonder="Which day was it?", wrote="31/09/2026"), said.NO_QUESTION),
    "a damaged Ref and nothing beside it": (line("right", ref="K3H8M2"), said.NO_QUESTION),
    "no Ref and nothing answered": (line("", ref=""), said.OPEN),
}  # fmt: skip


@pytest.mark.parametrize(("one", "expected"), LADDER.values(), ids=LADDER)
def test_an_answer_finds_its_question_by_the_ladder(one: AnswerLine, expected: str) -> None:
    assert outcome(one, asked()) == expected


def test_two_questions_that_look_alike_are_not_told_apart_without_a_ref() -> None:
    twin = replace(QUESTION, ref=OTHER_REF, number=4)
    one = line("right", ref="K3H8M2", tag="AB0013", wonder="Which day was it?", wrote="31/09/2026")
    assert outcome(one, {**asked(), OTHER_REF: twin}) == said.NO_QUESTION


def test_nobody_answers_for_somebody_else_but_the_coordinator() -> None:
    assert outcome(line("right"), asked(), "p2") == said.NOT_THEIRS
    assert outcome(line("right"), asked(), COORDINATOR) == said.CONFIRMED


def test_what_cannot_be_true_twice_is_not_confirmed_by_a_tagger() -> None:
    assert outcome(line("right"), asked(is_waivable=False)) == said.NOT_CONFIRMED
    assert outcome(line("right"), asked(is_waivable=False), COORDINATOR) == said.CONFIRMED


def test_the_same_line_twice_is_one_answer_and_two_different_ones_are_none() -> None:
    same = decide([line("right"), line("right", row=3)], asked(), "p1")
    assert [one.outcome for one in same] == [said.CONFIRMED, said.CAME_BEFORE]
    differ = decide([line("right"), line("other", "29/09/2026", row=3)], asked(), "p1")
    assert [one.outcome for one in differ] == [said.DIFFERS, said.DIFFERS]
    partly = decide([line(""), line("right", row=3)], asked(), "p1")
    assert [one.outcome for one in partly] == [said.OPEN, said.CONFIRMED]


def test_an_answer_that_came_before_changes_nothing() -> None:
    given = frozenset({("other", "29/09/2026")})
    assert outcome(line("other", "29/09/2026"), asked(given=given)) == said.CAME_BEFORE


def test_a_suggestion_is_taken_cell_by_cell_and_field_by_field() -> None:
    crossed = "decimalLatitude=45.9; decimalLongitude=-64.4"
    cell = replace(CELL, field="decimalLatitude", suggestion=crossed, was=("64.4", "64.4"), now=("64.4", "64.4"))
    decision = decide([line("suggestion")], asked(cell), "p1")[0]
    assert [(field, value) for _, field, value, _ in decision.values] == [
        ("decimalLatitude", "45.9"), ("decimalLongitude", "-64.4"),
    ]  # fmt: skip
    assert outcome(line("suggestion"), asked()) == said.NOT_READ, "there is no suggestion to take"


def test_one_value_does_not_stand_for_cells_that_differ() -> None:
    second = replace(CELL, key="key-2", now=("32/09/2026", "32/09/2026"), was=("32/09/2026", "32/09/2026"))
    question = {REF: replace(QUESTION, cells=(CELL, second))}
    assert outcome(line("other", "29/09/2026"), question) == said.MANY
    assert outcome(line("right"), question) == said.CONFIRMED


def test_a_row_is_taken_out_when_its_sender_says_so() -> None:
    decision = decide([line("other", "take it out")], asked(), "p1", frozenset({0}))[0]
    assert decision.outcome == said.WITHDRAWN
    assert [(field, value) for _, field, value, _ in decision.values] == [("state", "withdrawn")]


def of_file(decides: str, suggestion: str = "", field: str = "eventDate") -> dict[str, Asked]:
    cell = replace(CELL, key="00|Sheet1|1|D", field=field, decides=decides, suggestion=suggestion)
    return {REF: replace(QUESTION, cells=(cell,), is_of_table=True)}


def test_an_answer_about_a_file_or_heading_decides_what_the_rule_says() -> None:
    for decides, choice, value, expected in (
        ("sender", "other", "p2", ("person_id", "p2")),
        ("heading", "suggestion", "", ("heading", "tagCode")),
        ("given", "other", "2026-09-14", ("eventDate", "2026-09-14")),
    ):
        question = of_file(decides, "tagCode" if choice == "suggestion" else "")
        decision = decide([line(choice, value)], question, "p1")[0]
        assert [(field, said_now) for _, field, said_now, _ in decision.values] == [expected]


def test_words_about_a_file_that_decide_nothing_are_kept_and_close_the_question() -> None:
    assert outcome(line("other", "I send it again"), of_file("")) == said.CONFIRMED
