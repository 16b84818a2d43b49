"""The whole pipeline on one screen: inbox to ledger, batch, question sheets and report."""

from __future__ import annotations

import gc
import hashlib
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from typing import NamedTuple

from pipeline.answer_files import with_replies
from pipeline.examine import Examined, examine
from pipeline.figures import Figures
from pipeline.files.arrivals import Plan, as_kept, keep_plan, plan
from pipeline.files.attachments import Brought, keep_mails, with_attachments
from pipeline.files.audit_lines import ask_about_batch, batch_to_audit, told_of_batch
from pipeline.files.boundaries import ATLAS
from pipeline.files.gate_client import Gate
from pipeline.files.intake import Arrival, find_files
from pipeline.files.ledger import keep_cells, open_ledger
from pipeline.files.originals import keep_originals
from pipeline.files.outbox import finish_interrupted, is_outbox_as_of, move_batch, staging_folder
from pipeline.files.programme import ProgrammeFolder, read_programme
from pipeline.files.reading import read_files
from pipeline.files.runs import Run, everything_that_came, keep_run, last_run, last_run_with, next_run
from pipeline.files.schemas import fingerprint
from pipeline.files.sites import add_sites, placed_towns
from pipeline.hand_out import hand_out
from pipeline.model import FileRead
from pipeline.publish import judged, publish
from pipeline.published import Occasion, Published
from pipeline.returned import notes_on, returned
from pipeline.scope import WHOLE_UP_TO, Since, scope_of
from pipeline.season import Season, Settled, settle_run
from pipeline.take_answers import take_answers

Progress = Callable[[FileRead], None]


@dataclass(frozen=True)
class How:
    """How a run goes about it: a trial writes nothing, a delivery writes what waits, `progress` hears of each file.

    A ledger of up to `whole_up_to` rows is looked at as a whole every time.
    """

    is_trial: bool = False
    delivers: bool = False
    progress: Progress | None = field(default=None)
    whole_up_to: int = WHOLE_UP_TO


class _Inbox(NamedTuple):
    """The files of the inbox and of the mails in it, and what each mail brought."""

    arrivals: tuple[Arrival, ...]
    brought: tuple[Brought, ...]


AS_USUAL = How()
REFUSED = 3
WAITS = "changed or vanished while we looked at it; it will be taken next time"


@dataclass(frozen=True)
class Outcome:
    """What a run did: its figures, what was left lying and why, and the exit code that it means."""

    figures: Figures
    notes: tuple[str, ...]
    is_unchanged: bool
    exit_code: int


def run(folder: Path, today: date, gate: Callable[[], Gate] | None, how: How = AS_USUAL) -> Outcome:
    """Takes the inbox as it lies through the whole pipeline; no gate means no verdict.

    Raises SettingsWrong or LedgerUnusable for what a person can put right, RuleFailed for a fault of ours.
    """
    programme = read_programme(folder)
    ledger = open_ledger(folder / "programme" / "ledger.sqlite", programme.settings.programme.id, how.is_trial)
    gc.disable()  # millions of cells live to the end of a run; looking for dead ones among them takes a fifth of it
    try:
        return _run(Season(folder, programme, ledger, today), gate, how)
    finally:
        gc.enable()
        ledger.close()  # what is not committed is as if it had never been


def _run(season: Season, gate: Callable[[], Gate] | None, how: How) -> Outcome:
    ledger = season.ledger
    finished = () if how.is_trial else finish_interrupted(season.outbox, ledger)
    inbox, planned, left = _came(season, how)
    left = (*finished, *left)
    mark, last, number = _mark(season.programme), last_run(ledger), next_run(ledger)
    is_shown = last is not None and is_outbox_as_of(season.outbox, last.run, season.today)
    is_audited = gate is None or not batch_to_audit(ledger, season.outbox)
    if last and is_shown and planned.is_empty and last.mark == mark and not how.delivers and is_audited:
        return Outcome(last.figures.with_nothing_new(), left, True, last.exit_code)
    judge = gate() if gate else None
    new = with_replies(read_files(planned.new, how.progress))
    examined = _taken_in(season, (inbox, planned, new), (mark, number), how)
    with staging_folder(season.outbox, how.is_trial) as staging:
        occasion = Occasion(season.today, judge, how.delivers)
        published = publish(examined, season.programme, ledger, staging, occasion)
        settled = _settled(season, examined, published, judge, number)
        code = exit_code(settled.figures, settled.published.is_refused)
        keep_run(ledger, Run(number, season.today, mark, settled.figures, code))
        notes = (*left, *notes_on(ledger, new, number))
        if how.is_trial:
            return Outcome(settled.figures, notes, False, code)
        ledger.execute("COMMIT")
        notes += add_sites(season.folder / "programme" / "sites.csv", placed_towns(ledger))
        move_batch(settled.published.staged, season.outbox, settled.figures.refusals)
    audited = ask_about_batch(judge, ledger, season.outbox, season.today)
    handed = hand_out(season, settled, examined, is_shown, number)
    notes = (*notes, *handed.notes, *told_of_batch(judge, audited, ledger, season.outbox))
    return Outcome(settled.figures, notes, False, REFUSED if handed.is_refused else code)


def _came(season: Season, how: How) -> tuple[_Inbox, Plan, tuple[str, ...]]:
    """What lies in the inbox, what of it is new, its bytes kept, and what is left lying and why."""
    intake, brought = with_attachments(find_files(season.folder / "inbox"), season.ledger)
    inbox = _Inbox(intake.arrivals, brought)
    planned = plan(intake.arrivals, season.ledger)
    left = tuple(f"{one.file} {one.why}" for one in intake.skipped)
    if how.is_trial:
        return inbox, planned, left
    kept = as_kept(planned, keep_originals(season.folder / "programme" / "originals", planned.new))
    lost = sorted({one.file for one in planned.new} - {one.file for one in kept.new})
    return inbox, kept, (*left, *(f"{file} {WAITS}" for file in lost))


def _taken_in(season: Season, came: tuple[_Inbox, Plan, list[FileRead]], now: tuple[str, int], how: How) -> Examined:
    """The inbox in the ledger, the answers among it taken, and all looked at that they may bear on."""
    inbox, planned, new = came
    mark, number = now
    keep_mails(season.ledger, inbox.brought, number)
    keep_plan(season.ledger, planned, inbox.arrivals, new, (season.today, number))
    keep_cells(season.ledger, new)
    elsewhere = planned.copies | {now: before for before, now in planned.moved.items()}
    take_answers(season, returned(season, new, elsewhere), number)
    since = last_run_with(season.ledger, mark)
    scope = scope_of(season, Since(since, new, planned), how.whole_up_to) if since else None
    return examine(everything_that_came(season.ledger, new, scope), season.programme, ATLAS)


def _settled(season: Season, examined: Examined, published: Published, judge: Gate | None, number: int) -> Settled:
    """Writes the run into the ledger while the gate is looking; anew if it keeps the batch in the house."""
    season.ledger.execute("SAVEPOINT judged")
    settled = settle_run(season, examined, published, number)
    published = judged(published, judge)
    if not published.is_refused:
        return replace(settled, published=published)
    season.ledger.execute("ROLLBACK TO judged")
    return settle_run(season, examined, published, number)


def _mark(programme: ProgrammeFolder) -> str:
    """Tells settings, lists and rules from any others: where they changed, everything is looked at again."""
    return hashlib.sha256("\x1e".join([fingerprint(), programme.text]).encode()).hexdigest()


def exit_code(figures: Figures, is_refused: bool) -> int:
    """3 if the gate refused, 1 if anything is asked, else 0."""
    return REFUSED if is_refused else 1 if figures.questions or figures.coordinator_questions else 0
