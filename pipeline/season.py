"""Where a run is at work, and what it says in figures."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from pipeline.examine import Examined
from pipeline.figures import Figures
from pipeline.files.programme import ProgrammeFolder
from pipeline.publish import Published
from pipeline.remember import Kept, remember
from pipeline.stages.ask import COORDINATOR
from pipeline.stages.summarise import Summary, summarise, tag_fates


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
    """What a run leaves: the batch, the ledger as of now, and both in figures."""

    published: Published
    kept: Kept
    figures: Figures
    summary: Summary


def settle_run(season: Season, examined: Examined, published: Published, run: int) -> Settled:
    """Writes the run into the ledger and counts what came of it."""
    kept = remember(season.ledger, examined, published, (season.today, run))
    return Settled(published, kept, *figures_of(season, examined, published, kept, run))


def figures_of(
    season: Season, examined: Examined, published: Published, kept: Kept, run: int
) -> tuple[Figures, Summary]:
    """What the run says in figures, and the same person by person and rule by rule."""
    label = season.programme.settings.season.label
    fates = tag_fates(examined.rows, examined.aside, examined.tags, label)
    new = kept.files.loc[kept.files["run"] == run, "file"]
    lines = kept.rows.assign(is_new=kept.rows["file"].isin(new))
    current = kept.findings[kept.findings["state"].isin(["open", "noted"])]
    summary = summarise(lines, examined.rows, (current, kept.questions), fates, examined.tags)
    of_people = kept.questions[kept.questions["addressee"] != COORDINATOR]
    is_matched = published.finds["release_occurrence_id"] != ""
    files = kept.files[kept.files["replaced_by"] == ""]
    figures = Figures(
        rows=summary.rows, rows_of_run=summary.rows_of_run, left_out=summary.left_out, tags=summary.tags,
        never_allotted=summary.never_allotted,
        files={
            "read": int(((files["refusal"] == "") & (files["copy_of"] == "")).sum()),
            "copies": int((files["copy_of"] != "").sum()),
            "refused": int((files["refusal"] != "").sum()),
            "new": len(new),
        },
        finds={"matched": int(is_matched.sum()), "waiting": int((~is_matched).sum())},
        questions=len(of_people), people_asked=int(of_people["addressee"].nunique()),
        coordinator_questions=len(kept.questions) - len(of_people),
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
