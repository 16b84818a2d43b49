"""Looking only at what changed ends in the same ledger as looking at everything; nothing is lost on the way.

Random sequences of sheets, edits, resends and answers, invented; the seeds are hypothesis' own.
"""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from pipeline.flow import How, Outcome, run
from tests.season_folder import TODAY, clean_rows, make_folder, read_table, write_sheet

COMPARED = (
    "findings.csv", "rows.csv", "changes.csv", "origin.csv", "sheets.csv", "finds.csv", "answers.csv", "letters.csv",
)  # fmt: skip
PEOPLE = {"p1": 1, "p2": 31}


@dataclass(frozen=True)
class Step:
    """One thing that happens before a run: somebody sends a sheet, new, edited or sorted, or answers."""

    what: str
    person: str
    at: int


STEPS = st.lists(
    st.builds(
        Step,
        st.sampled_from(["send", "edit", "longer", "shorter", "sort", "twice", "doubtful", "other's tag", "find",
                         "answer", "right", "no sheet"]),
        st.sampled_from(sorted(PEOPLE)),
        st.integers(0, 5),
    ),
    min_size=2,
    max_size=6,
)  # fmt: skip


class Sender:
    """What the inbox looks like after some steps; a test's own double of the volunteers."""

    def __init__(self, inbox: Path) -> None:
        self.inbox, self.count = inbox, 0
        self.sheets: dict[str, list[list[str]]] = {}

    def does(self, step: Step) -> None:
        self.count += 1
        first = PEOPLE[step.person]
        rows = self.sheets.get(step.person, clean_rows(first, 6))
        changed = {
            "edit": lambda: [*rows[: step.at], [*rows[step.at % len(rows)][:1], "2026-09-29", *rows[0][2:]],
                             *rows[step.at + 1 :]],
            "longer": lambda: [*rows, *clean_rows(first + 10 + self.count, 2)],
            "shorter": lambda: rows[:-1] if len(rows) > 3 else rows,
            "sort": lambda: rows[::-1],
            "doubtful": lambda: [*rows, [f"AB{first + 20 + step.at:04d}", "31/09/2026", "male", "Amherst", "", "51"]],
            "other's tag": lambda: [*rows, ["AB0001" if first > 1 else "AB0031", *clean_rows(first, 1)[0][1:]]],
        }  # fmt: skip
        if step.what in changed or step.what == "send":
            self.sheets[step.person] = changed.get(step.what, lambda: rows)()
            write_sheet(self.inbox / step.person / f"sheet {self.count}.csv", self.sheets[step.person])
        elif step.what == "twice":
            write_sheet(self.inbox / step.person / f"copy {self.count}.csv", rows)
        elif step.what == "find":
            write_sheet(
                self.inbox / "finds" / f"found {self.count}.csv",
                [[f"AB{first + step.at:04d}", "2026-10-12", "Angangueo", "Michoacán", "19.62", "-100.28"]],
                ["Tag found", "Date found", "Town", "State", "Latitude", "Longitude"],
            )
        elif step.what in ("answer", "right"):
            said = "29 Sept 2026" if step.what == "answer" else "right"
            (self.inbox / step.person).mkdir(exist_ok=True)
            (self.inbox / step.person / f"reply {self.count}.txt").write_text(f"{1 + step.at % 3} {said}\n", "utf-8")


def told(folder: Path) -> dict[str, object]:
    """The coordinator's files, each as its set of lines, and everybody's letter."""
    coordinator = folder / "outbox" / "coordinator"
    lines = {name: sorted(map(str, read_table(coordinator / name))) for name in COMPARED}
    letters = {
        str(path.relative_to(folder)): path.read_text("utf-8") for path in folder.glob("outbox/volunteers/*/letter.txt")
    }
    return {**lines, **letters}


def published(folder: Path) -> list[list[dict[str, str]]]:
    """Every batch that was written: its records and what it took back."""
    return [
        [dict(line) for name in ("occurrence.csv", "withdrawn.csv") for line in read_table(batch / name)]
        for batch in sorted((folder / "outbox" / "portal").glob("*-*"))
    ]


def ids(folder: Path) -> dict[str, str]:
    with closing(sqlite3.connect(folder / "programme" / "ledger.sqlite")) as ledger:
        return dict(ledger.execute("SELECT key, occurrence_id FROM rows WHERE occurrence_id != ''"))


def conserves(outcome: Outcome, folder: Path) -> None:
    lines = read_table(folder / "outbox" / "coordinator" / "rows.csv")
    assert outcome.figures.rows_read == len(lines)
    assert sum(outcome.figures.tags.values()) == 70


@settings(
    max_examples=3,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
    phases=[Phase.explicit, Phase.generate],
)
@given(STEPS)
def test_looking_at_what_changed_ends_in_the_same_as_looking_at_everything(steps: list[Step]) -> None:
    with TemporaryDirectory() as place:
        whole, partly = make_folder(Path(place) / "whole"), make_folder(Path(place) / "partly")
        sender = Sender(whole / "inbox")
        known: dict[str, str] = {}
        for number, step in enumerate([Step("send", "p1", 0), Step("send", "p2", 0), *steps]):
            sender.does(step)
            shutil.copytree(whole / "inbox", partly / "inbox", dirs_exist_ok=True)
            today: date = TODAY + timedelta(days=number // 3)
            conserves(run(whole, today, None), whole)
            conserves(run(partly, today, None, How(whole_up_to=0)), partly)
            assert told(partly) == told(whole)
            assert published(partly) == published(whole)
            now = ids(whole)
            assert known.items() <= now.items(), "an id that was given never changes and never vanishes"
            known |= now
