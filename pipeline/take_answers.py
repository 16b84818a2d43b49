"""Takes answers into the ledger: what came back, what it is about, what becomes of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from pipeline.answers_about import resolved, tables_of_rows, tags_of_person
from pipeline.asked_of_ledger import asked_of_ledger
from pipeline.files.journal import Entry, write_down
from pipeline.files.ledger import add
from pipeline.files.rounds import rounds_sent
from pipeline.files.schemas import answer_words
from pipeline.model import TEXT, AnswerLine
from pipeline.season import Season
from pipeline.stages.decide import Asked, Cell, Decision, decide
from pipeline.stages.decide import outcomes as said
from pipeline.stages.decide.outcomes import COORDINATOR
from pipeline.stages.senders import by_folder
from pipeline.values.answer import takes_out
from pipeline.values.readers import typed_reader
from pipeline.whose import west_writers

PROBLEMS = frozenset({
    said.CONFLICT, said.ROW_WITHDRAWN, said.NOT_READ, said.NOT_CONFIRMED, said.DIFFERS, said.MANY, said.NOT_THEIRS,
    said.NO_QUESTION,
})  # fmt: skip


@dataclass(frozen=True)
class Returned:
    """The answer lines of one file; `sender` is a person_id, the coordinator, or "" where only the Refs can tell."""

    file: str
    sender: str
    lines: tuple[AnswerLine, ...]


def sender_of(file: str, season: Season) -> str:
    """The person, or the coordinator, after whom a folder on the file's path is named."""
    people = {person.lower(): person for person in season.programme.people["person_id"]}
    return by_folder(file, {**people, COORDINATOR: COORDINATOR})


def take_answers(season: Season, returned: Iterable[Returned], run: int) -> None:
    """Writes down what every line came to; answers and confirmations count from this run on."""
    for one in returned:
        questions = asked_of_ledger(season, one.lines, one.sender)
        sender = one.sender or _whose(one.lines, questions)
        lines = _spelled_out(one.lines, questions, sender, _last_letter(season, sender))
        about = [resolved(season, line, questions) for line in lines if line.about == "question"]
        out = frozenset(
            at for at, line in enumerate(about) if line.choice == "other" and takes_out(line.value, answer_words())
        )
        for decision in decide(about, questions, sender, out):
            keep(season, decision, sender, run)
        for decision in tables_of_rows(season, [line for line in lines if line.about == "row"], sender):
            keep(season, decision, sender, run)
        _keep_tags(season, [line for line in lines if line.about in ("tag", "none")], sender, run)


def _whose(lines: Sequence[AnswerLine], questions: Mapping[str, Asked]) -> str:
    """Without a folder: the one person whom all the questions were put to, the coordinator where they are several.

    Nobody where no Ref tells: "1 yes" from nobody we know is no answer.
    """
    whose = Counter(questions[line.ref].addressee for line in lines if line.ref in questions)
    return next(iter(whose), "") if len(whose) < 2 else COORDINATOR


def _last_letter(season: Season, person: str) -> frozenset[str] | None:
    """The Refs of the last letter that was sent to a person; None if none was noted."""
    sent = rounds_sent(season.ledger).get(person)
    return sent[-1][1] if sent else None


def _spelled_out(
    lines: Sequence[AnswerLine], questions: Mapping[str, Asked], sender: str, letter: frozenset[str] | None
) -> list[AnswerLine]:
    """Lines that name a question by its number, the only one or all of the last letter, each with its Ref."""
    theirs = {one.number: one for one in questions.values() if one.addressee == sender}
    waiting = [one.ref for one in theirs.values() if one.is_open and (letter is None or one.ref in letter)]
    spelled = []
    for line in lines:
        if line.about == "only":
            spelled.append(replace(line, about="question", ref=waiting[0] if len(waiting) == 1 else ""))
        elif line.about == "question" and not line.ref and line.number in theirs:
            spelled.append(replace(line, ref=theirs[line.number].ref))
        elif line.about == "question" and not line.ref and not line.number and line.choice == "suggestion":
            spelled += [
                replace(line, ref=one.ref, number=one.number)
                for one in theirs.values()
                if one.ref in waiting and any(cell.suggestion for cell in one.cells)
            ]
        else:
            spelled.append(line)
    return spelled


def keep(season: Season, decision: Decision, who: str, run: int) -> None:
    """Writes down one decision: its values, confirmations and withdrawals, the line itself, and the journal."""
    day, line, asked = season.today.isoformat(), decision.line, decision.asked
    ref = asked.ref if asked else line.ref
    common = {"ref": ref, "why": line.why, "who": who, "day": day, "run": run}
    entries = []
    for cell, field, value, kind in decision.values:
        if field == "state":
            why = line.why or "taken out by its recorder"
            add(season.ledger, "withdrawals", {"key": cell.key, "why": why, "who": who, "day": day, "run": run})
            entries.append(Entry(who, "row withdrawn", cell.key, cell.now[0], "withdrawn", line.why))
            continue
        base_written, base_value = _base(cell, field, decision)
        add(season.ledger, "answers", {
            "key": cell.key, "field": field, "choice": line.choice, "value": value, "kind": kind,
            "base_written": base_written, "base_value": base_value, **common,
        })  # fmt: skip
        became = value or "not known"
        entries.append(Entry(who, f"answer {ref}", f"{cell.key} {field}", base_written, became, line.why))
    for cell in decision.confirmed:
        waiver = {"key": cell.key, "rule": cell.rule, "fingerprint": cell.fingerprint}
        add(season.ledger, "waivers", {**waiver, **common})
        entries.append(Entry(who, f"confirmed {ref}", f"{cell.key} {cell.field}", cell.now[0], cell.now[0], line.why))
    _settle_conflicts(season, decision)
    _keep_line(season, decision, who, run)
    write_down(season.ledger, (season.today, run), entries)


def _base(cell: Cell, field: str, decision: Decision) -> tuple[str, str]:
    """What the cell said when the answer was given: it holds as long as the cell says so."""
    others = {one.field: one.now for one in (decision.asked.cells if decision.asked else ()) if one.key == cell.key}
    return cell.others.get(field) or others.get(field) or cell.now


def _settle_conflicts(season: Season, decision: Decision) -> None:
    for key, field in {(cell.key, cell.field) for cell, *_ in decision.values} | {
        (cell.key, cell.field) for cell in decision.confirmed
    }:
        season.ledger.execute(
            "UPDATE answer_lines SET outcome = 'settled' WHERE outcome = ? AND key = ? AND field = ?",
            (said.CONFLICT, key, field),
        )


def _keep_line(season: Season, decision: Decision, who: str, run: int) -> None:
    line, asked = decision.line, decision.asked
    cell = decision.cell or (asked.cells[0] if asked and asked.cells else None)
    answered = "" if cell is None else _answered(season, line, cell, asked)
    ref = asked.ref if asked else line.ref or f"No. {line.number}" * (line.number > 0)
    add(season.ledger, "answer_lines", {
        "file": line.file, "file_sha256": line.file_sha256, "sheet": line.sheet, "row": line.row, "person_id": who,
        "ref": ref, "typed": line.typed, "value": line.value, "why": line.why, "outcome": decision.outcome,
        "key": cell.key if cell else "", "field": cell.field if cell else "",
        "was": cell.was[0] if cell else "", "answered": answered, "run": run,
    })  # fmt: skip


def _answered(season: Season, line: AnswerLine, cell: Cell, asked: Asked | None) -> str:
    """What the answer says in standard form, to be held against what the cell says."""
    said_so = cell.was[0] if line.choice == "right" else cell.suggestion if line.choice == "suggestion" else line.value
    programme = season.programme
    if cell.field not in {field.name for field in programme.lists.fields}:
        return said_so
    read = typed_reader(programme.lists, programme.settings, west_writers(programme.people))
    return read(cell.field, said_so, line.kind or TEXT, asked.addressee if asked else "").value


def _named(line: AnswerLine, tags: Mapping[str, str]) -> list[str]:
    """The tag that a line names by its Ref or, in a reply, by its code."""
    code = "".join(line.tag.split()).upper()
    return [tags[line.ref]] if line.ref in tags else [code] if code in tags.values() else []


def _keep_tags(season: Season, lines: Sequence[AnswerLine], who: str, run: int) -> None:
    """What became of tags: of one named by its Ref, or of all when somebody used none."""
    day = season.today.isoformat()
    tags = tags_of_person(season, who) if lines else {}
    for line in lines:
        named = list(tags.values()) if line.about == "none" else _named(line, tags)
        fate = "not used" if line.about == "none" else line.value
        is_read = bool(named) and fate not in ("", "unread")
        for tag in named if is_read else ():
            add(season.ledger, "tag_fates", {"tag": tag, "fate": fate, "who": who, "day": day, "run": run})
        write_down(season.ledger, (season.today, run), [Entry(who, "tag", tag, "", fate) for tag in named if is_read])
        outcome = said.APPLIED if is_read else said.OPEN if not fate else said.NOT_READ if named else said.NO_QUESTION
        line = replace(line, value=named[0]) if outcome == said.NOT_READ else line  # the tag of which we know no more
        if outcome != said.OPEN:
            _keep_line(season, Decision(line, outcome), who, run)
