"""What an answer comes to: applied, confirmed, already so, or a question to the coordinator. Position is never used."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from pipeline.model import TEXT, AnswerLine
from pipeline.remembered import TOWN
from pipeline.stages.decide.outcomes import (
    ALREADY_SO,
    APPLIED,
    BY_ANSWER,
    BY_COORDINATOR,
    BY_SHEET,
    BY_US,
    CAME_BEFORE,
    CONFIRMED,
    CONFLICT,
    COORDINATOR,
    DIFFERS,
    MANY,
    NO_QUESTION,
    NOT_CONFIRMED,
    NOT_READ,
    NOT_THEIRS,
    NOTED,
    OPEN,
    ROW_WITHDRAWN,
    TAKE_OUT,
    WITHDRAWN,
    Asked,
    Cell,
    Decision,
)  # fmt: skip

__all__ = ["Asked", "Cell", "Decision", "decide"]


def decide(
    lines: Sequence[AnswerLine], asked: Mapping[str, Asked], sender: str, takes_out: frozenset[int] = frozenset()
) -> list[Decision]:
    """What becomes of each line about a question, in their order; `takes_out` are places of lines that withdraw rows.

    The same answer twice is one; two different answers to one question are none.
    """
    found = [_asked(line, asked, sender) for line in lines]
    said: dict[str, set[tuple[str, str]]] = {}
    for line, question in zip(lines, found, strict=True):
        if question and line.choice:
            said.setdefault(question.ref, set()).add((line.choice, line.value))
    decisions, done = [], set[str]()
    for place, (line, question) in enumerate(zip(lines, found, strict=True)):
        if question is None:
            decisions.append(Decision(line, OPEN if not line.choice else NO_QUESTION))
        elif len(said.get(question.ref, ())) > 1 and line.choice:
            decisions.append(Decision(line, DIFFERS, question))
        elif question.ref in done and line.choice:
            decisions.append(Decision(line, CAME_BEFORE, question))
        else:
            if line.choice:
                done.add(question.ref)
            decisions.append(_decided(line, question, sender, place in takes_out))
    return decisions


def _asked(line: AnswerLine, asked: Mapping[str, Asked], sender: str) -> Asked | None:
    """The ladder: a valid Ref, else tag, question and quoted value if they point to one open question of the sender."""
    if line.ref in asked:
        return asked[line.ref]
    if not (line.wonder or line.wrote or line.tag):
        return None
    like = [
        one
        for one in asked.values()
        if one.addressee == sender and one.is_open and one.tag == line.tag and one.wonder == line.wonder
        and one.cells and one.cells[0].was[0] == line.wrote
    ]  # fmt: skip
    return like[0] if len(like) == 1 else None


def _decided(line: AnswerLine, asked: Asked, sender: str, takes_out: bool) -> Decision:
    if sender not in (asked.addressee, COORDINATOR):
        return Decision(line, NOT_THEIRS, asked)
    if not line.choice:
        return Decision(line, OPEN, asked)
    if line.choice == "unread":
        return Decision(line, NOT_READ, asked)
    if (line.choice, line.value) in asked.given:
        return Decision(line, CAME_BEFORE, asked)
    cells = tuple(cell for cell in asked.cells if cell.is_current)
    if not cells:
        return Decision(line, ROW_WITHDRAWN, asked)
    if asked.is_of_table or cells[0].decides == "site":
        return _of_table(line, asked, cells, sender)
    if takes_out or (line.choice == "suggestion" and all(cell.suggestion == TAKE_OUT for cell in cells)):
        return Decision(line, WITHDRAWN, asked, tuple((cell, "state", TAKE_OUT, TEXT) for cell in cells))
    if line.choice == "right":
        return _confirmed(line, asked, cells, sender)
    if line.choice == "other" and len({cell.now[0] for cell in cells}) > 1:
        return Decision(line, MANY, asked)
    return _put_in(line, asked, cells, sender)


def _of_table(line: AnswerLine, asked: Asked, cells: tuple[Cell, ...], sender: str) -> Decision:
    """An answer about a file, a heading or a town; words that decide nothing are confirmation enough, and are kept."""
    cell = cells[0]
    if cell.decides == "site":
        return _of_town(line, asked, cell)
    if line.choice == "right":
        return _confirmed(line, asked, cells, sender)
    if line.choice == "unknown":
        return Decision(line, APPLIED, asked, ((cell, cell.field, "", TEXT),))
    value = cell.suggestion if line.choice == "suggestion" else line.value
    if not value:
        return Decision(line, NOT_READ, asked)
    decided = {"sender": "person_id", "heading": "heading", "given": cell.field}.get(cell.decides)
    if decided is None:
        return Decision(line, CONFIRMED, asked, confirmed=cells)
    return Decision(line, APPLIED, asked, ((cell, decided, value, TEXT),))


def _of_town(line: AnswerLine, asked: Asked, cell: Cell) -> Decision:
    """An answer about a town holds for every row that names it; no point is an answer too."""
    if line.choice == "suggestion":
        return Decision(line, NOT_READ, asked)
    town = replace(cell, key=f"{TOWN}{cell.now[1] or cell.now[0]}")
    return Decision(line, APPLIED, asked, ((town, "site", line.value if line.choice == "other" else "", TEXT),))


def _confirmed(line: AnswerLine, asked: Asked, cells: tuple[Cell, ...], sender: str) -> Decision:
    changes = {_change(line, cell, sender): cell for cell in reversed(cells)}
    moved = changes.get(BY_COORDINATOR) or changes.get(BY_SHEET) or changes.get(BY_ANSWER)
    if moved is not None:
        return Decision(line, CONFLICT, asked, cell=_as_quoted(line, moved))
    if not any(cell.is_found for cell in cells):
        return Decision(line, NOTED, asked)
    if not asked.is_waivable and sender != COORDINATOR:
        return Decision(line, NOT_CONFIRMED, asked)
    return Decision(line, CONFIRMED, asked, confirmed=cells)


def _put_in(line: AnswerLine, asked: Asked, cells: tuple[Cell, ...], sender: str) -> Decision:
    values = tuple(value for cell in cells for value in _values(line, cell))
    if not values:
        return Decision(line, NOT_READ, asked)
    if line.choice != "unknown" and all(name == cell.field and value in cell.now for cell, name, value, _ in values):
        return Decision(line, ALREADY_SO, asked)
    changes = {_change(line, cell, sender): cell for cell in reversed(cells)}
    moved = changes.get(BY_COORDINATOR) or changes.get(BY_SHEET)
    if moved is not None:
        return Decision(line, CONFLICT, asked, cell=_as_quoted(line, moved))
    if not asked.is_open and not changes.keys() & {BY_US, BY_ANSWER}:
        return Decision(line, NOTED, asked)
    return Decision(line, APPLIED, asked, values)


def _change(line: AnswerLine, cell: Cell, sender: str) -> str:
    """Who changed the cell since it was asked about; a question sheet quotes what it asked about.

    What the coordinator answered before, the coordinator may answer anew.
    """
    was = line.wrote or cell.was[0]
    if was in cell.now:
        return "" if cell.was[1] == cell.now[1] else BY_US
    if cell.changed_by == COORDINATOR and sender != COORDINATOR:
        return BY_COORDINATOR
    return BY_ANSWER if cell.changed_by else BY_SHEET


def _as_quoted(line: AnswerLine, cell: Cell) -> Cell:
    return replace(cell, was=(line.wrote, line.wrote)) if line.wrote else cell


def _values(line: AnswerLine, cell: Cell) -> list[tuple[Cell, str, str, str]]:
    """Field, value and kind for each field that the answer decides."""
    if line.choice == "unknown":
        return [(cell, cell.field, "", TEXT)]
    if line.choice == "other":
        return [(cell, cell.field, line.value, line.kind)] if line.value else []
    if "=" not in cell.suggestion:
        return [(cell, cell.field, cell.suggestion, TEXT)] if cell.suggestion else []
    pairs = [pair.partition("=") for pair in cell.suggestion.split("; ")]
    return [(cell, name, value, TEXT) for name, _, value in pairs]
