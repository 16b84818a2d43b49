"""The command `answer`: an answer by telephone, put down by the coordinator."""

from __future__ import annotations

from pathlib import Path

from pipeline.answers_about import resolved
from pipeline.asked_of_ledger import asked_of_ledger
from pipeline.commands.acts import THEN_RUN, act
from pipeline.model import TEXT, AnswerLine
from pipeline.settings import SettingsWrong
from pipeline.stages.decide import decide
from pipeline.stages.decide import outcomes as said
from pipeline.stages.decide.outcomes import COORDINATOR
from pipeline.take_answers import keep
from pipeline.values.ref import is_ref

CHOICES = ("suggestion", "right", "unknown")
MEANS = {
    said.APPLIED: "Taken.",
    said.CONFIRMED: "Taken: it stays as it is, and is not asked again unless it changes.",
    said.ALREADY_SO: "It says so already: nothing to do.",
    said.CAME_BEFORE: "That answer was given before: nothing to do.",
    said.NOTED: "Noted. The question is closed, so nothing was changed.",
    said.CONFLICT: "The cell has changed since it was asked about, so nothing was changed. "
    "The next run shows you what it said, what it says now, and this answer.",
    said.ROW_WITHDRAWN: "The row was withdrawn, so nothing was changed.",
    said.NOT_READ: "There is no suggestion to take, or the value says nothing that we can use: give the right value.",
    said.MANY: "The question is about cells that say different things: one value cannot stand for all of them.",
}


def answer_command(ref: str, what: str, because: str, folder: Path) -> int:
    """Puts an answer down as given by telephone; 1 if it could not be taken."""
    ref = ref.strip().upper()
    if not is_ref(ref):
        raise SettingsWrong(f"{ref} is not a Ref: a Ref has seven letters and figures, as in the column Ref.")
    choice = what if what in CHOICES else "other"
    value = what if choice == "other" else ""
    line = AnswerLine("", "", "", 0, "question", ref, choice=choice, value=value, kind=TEXT, why=because, typed=what)
    with act(folder, None) as (season, run):
        questions = asked_of_ledger(season, [line], COORDINATOR)
        if ref not in questions:
            raise SettingsWrong(f"No question has the Ref {ref}: is it typed as it stands in the sheet?")
        decision = decide([resolved(season, line, questions)], questions, COORDINATOR)[0]
        keep(season, decision, COORDINATOR, run)
    print(MEANS.get(decision.outcome, decision.outcome), THEN_RUN)
    return 0 if decision.outcome in (said.APPLIED, said.CONFIRMED, said.ALREADY_SO, said.CAME_BEFORE) else 1
