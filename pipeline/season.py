"""Where a run is at work, and what it says in figures."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from pipeline.examine import Examined
from pipeline.figures import Figures
from pipeline.files.counts import counted, keep_tags, of_files, told_of
from pipeline.files.programme import ProgrammeFolder
from pipeline.published import Published
from pipeline.remember import remember
from pipeline.stages.ask import COORDINATOR
from pipeline.stages.summarise import Summary, summarise, tag_fates, tags_by_person


@dataclass(frozen=True)
class Season:
    """Where a run is at work, and on which day."""

    folder: Path
    programme: ProgrammeFolder
    ledger: sqlite3.Connection
    today: date

    @property
    def outbox(self) -> Path:
        """The folder that everything is written to."""
        return self.folder / "outbox"


@dataclass(frozen=True)
class Settled:
    """What a run leaves: the batch, and the whole ledger as of now in figures."""

    published: Published
    figures: Figures
    summary: Summary


def settle_run(season: Season, examined: Examined, published: Published, run: int) -> Settled:
    """Writes the run into the ledger and counts what came of it."""
    remember(season.ledger, examined, published, (season.today, run))
    label = season.programme.settings.season.label
    codes = None if examined.holders is None else [code for code, tag in examined.tags.items() if tag.season == label]
    fates = tag_fates(*told_of(season.ledger, codes), examined.tags, label)
    if codes is None:
        season.ledger.execute("DELETE FROM tags_of_people")
    keep_tags(season.ledger, tags_by_person(examined.tags, fates, examined.holders))
    return Settled(published, *figures_of(season, published, run))


def figures_of(season: Season, published: Published, run: int) -> tuple[Figures, Summary]:
    """What the run says in figures, and the same person by person and rule by rule."""
    now = counted(season.ledger, run)
    summary = summarise(now)
    of_people = now.questions[now.questions["addressee"] != COORDINATOR]
    matched, finds = season.ledger.execute("SELECT coalesce(sum(is_matched), 0), count(*) FROM finds").fetchone()
    figures = Figures(
        rows=summary.rows, rows_of_run=summary.rows_of_run, left_out=summary.left_out, tags=summary.tags,
        never_allotted=summary.never_allotted,
        files=of_files(season.ledger, run),
        finds={"matched": matched, "waiting": finds - matched},
        questions=len(of_people), people_asked=int(of_people["addressee"].nunique()),
        coordinator_questions=len(now.questions) - len(of_people),
        batch={} if not published.batch_id or published.is_refused else {
            "id": published.batch_id, "records": str(published.records), "withdrawn": str(published.withdrawn),
        },
        refusals=_refusals(published),
    )  # fmt: skip
    return figures, summary


def _refusals(published: Published) -> list[str]:
    verdict = published.verdict
    if verdict is None:
        return []
    return [
        f"{one.file}{' ' + one.column if one.column else ''}: {one.means}"
        + (f" ({one.rows} rows, for instance {', '.join(one.some[:3])})" if one.rows and one.some else "")
        for one in verdict.refusals
    ]
