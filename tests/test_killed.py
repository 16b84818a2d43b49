"""A run that is killed at any moment: the next one goes on by itself, and nothing is lost or doubled."""

from __future__ import annotations

import re
import shutil
import signal
import sqlite3
import subprocess
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, closing
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from pipeline.files.gate_client import Gate
from pipeline.files.intake import find_files
from pipeline.flow import run
from tests.killed_run import Killer, killer, typed
from tests.season_folder import TODAY, clean_rows, findings, make_folder, read_table, rows, write_sheet

pytestmark = pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="only POSIX kills without a word")

DOUBTFUL = ["31/09/2026", "male", "Amherst", "Nova Scotia", "51"]
# What tells one run from another: it changes where a run was killed after its commit, for then there was one more.
OF_THE_RUN = {
    ".eml": re.compile(rb"^(Message-ID: .*| boundary=.*|--[0-9a-f]{32}(--)?)$", re.MULTILINE),
    ".html": re.compile(
        rb"New in this run: \d+|<br>Of this run: .*?(?=</p>)|"
        rb"<p>[^<]*(No batch in this run|left with [^<]*<code>[^<]*</code>)\. "
    ),
}
Picture = dict[str, Any]


def first_sheets(folder: Path) -> Path:
    """Two sheets of two people, each with a row to ask about."""
    make_folder(folder)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 12), ["AB0013", *DOUBTFUL]])
    write_sheet(folder / "inbox" / "p2" / "fiche.csv", [*clean_rows(31, 6), ["AB0037", *DOUBTFUL]])
    return folder


def news_after_a_run(folder: Path) -> Path:
    """After a first run: a new sheet, a newer version with a day corrected, a copy, and an answered question sheet."""
    run(first_sheets(folder), TODAY, None)
    inbox = folder / "inbox"
    first, *others = clean_rows(1, 12)
    write_sheet(inbox / "p1" / "mine final v2.csv", [[first[0], "2026-09-30", *first[2:]], *others, *clean_rows(14, 2)])
    write_sheet(inbox / "p3" / "new.csv", clean_rows(61, 4))
    shutil.copyfile(inbox / "p2" / "fiche.csv", inbox / "p2" / "fiche again.csv")
    book = load_workbook(folder / "outbox" / "volunteers" / "p2" / "questions.xlsx")
    book.worksheets[0]["H2"], book.worksheets[0]["I2"] = "3", "29/09/2026"
    book.save(inbox / "p2" / "questions.xlsx")
    return folder


def files_of(folder: Path) -> Picture:
    """Every file but the ledger and the stamp, without what tells one run from another."""
    return {
        path.relative_to(folder).as_posix(): OF_THE_RUN.get(path.suffix, re.compile(b"$^")).sub(b"", path.read_bytes())
        for path in folder.rglob("*")
        if path.is_file() and path.name not in ("ledger.sqlite", "ledger.sqlite-journal", "stamp.txt")
    }


def ledger_of(folder: Path) -> Picture:
    """Every line of the ledger but the runs themselves, without the numbers of the runs."""
    lines: Picture = {}
    with closing(sqlite3.connect(folder / "programme" / "ledger.sqlite")) as ledger:
        lines["integrity"] = ledger.execute("PRAGMA integrity_check").fetchall()
        for (name,) in ledger.execute("SELECT name FROM sqlite_master WHERE type = 'table' AND name != 'runs'"):
            cursor = ledger.execute(f"SELECT * FROM {name}")
            columns = [column for column, *_ in cursor.description]
            lines[name] = [{c: v for c, v in zip(columns, line, strict=True) if c != "run"} for line in cursor]
        last = ledger.execute("SELECT max(run) FROM runs").fetchone()[0]
    stamp = (folder / "outbox" / "coordinator" / "stamp.txt").read_text(encoding="utf-8")
    return lines | {"stamp is of the last run": stamp == f"run {last}\n{TODAY.isoformat()}\n"}


def picture(folder: Path) -> Picture:
    """All that a folder holds, inbox and originals too."""
    return files_of(folder) | ledger_of(folder)


def unlike(one: Picture, other: Picture) -> list[str]:
    """What stands in one and not, or otherwise, in the other."""
    return sorted(name for name in one.keys() | other.keys() if one.get(name) != other.get(name))


def half_written(folder: Path) -> list[str]:
    """What is never to be left lying about."""
    return [path.name for path in folder.rglob("*") if path.suffix in (".part", ".new") or path.name == ".staging"]


@pytest.fixture(scope="module")
def killers() -> Iterator[list[Killer]]:
    """Two at work, for two points at a time."""
    with ExitStack() as at_work:
        yield [at_work.enter_context(killer()) for _ in range(2)]


@pytest.fixture
def at_work(killers: Sequence[Killer]) -> Killer:
    return killers[0]


class Scene:
    """A folder ready to be run, what a run makes of it that nobody kills, and that run's steps."""

    def __init__(self, killers: Sequence[Killer], prepared: Path) -> None:
        never = shutil.copytree(prepared, prepared.with_name(f"{prepared.name} never killed"))
        self.prepared, self.never_killed = prepared, never
        self.steps: list[str] = killers[0].run(never)
        self.before, self.after, self.expected = files_of(prepared), files_of(never), picture(never)

    def points(self, count: int) -> list[int]:
        """As many steps: all of those about the commit, the others evenly from the first to the last."""
        commit = self.steps.index("COMMIT")
        about = range(commit - 2, commit + 4)
        others = [step for step in range(len(self.steps)) if step not in about]
        left = count - len(about)
        return sorted([*about, *(others[at * (len(others) - 1) // (left - 1)] for at in range(left))])

    def copy(self, name: str) -> Path:
        """The folder once more, as it was before the run."""
        return shutil.copytree(self.prepared, self.prepared.with_name(f"{self.prepared.name} {name}"))


@pytest.fixture(scope="module")
def news(killers: Sequence[Killer], tmp_path_factory: pytest.TempPathFactory) -> Scene:
    return Scene(killers, news_after_a_run(tmp_path_factory.mktemp("killed") / "news"))


@pytest.fixture(scope="module")
def first(killers: Sequence[Killer], tmp_path_factory: pytest.TempPathFactory) -> Scene:
    return Scene(killers, first_sheets(tmp_path_factory.mktemp("killed") / "first"))


def torn(folder: Path, scene: Scene) -> list[str]:
    """Right after a kill: the files that are neither as they were before the run nor as they are after it."""
    return [
        name
        for name, content in files_of(folder).items()
        if not Path(name).match("*.part") and not Path(name).match("*.new") and ".staging" not in name
        if content not in (scene.before.get(name), scene.after.get(name))
    ]


def what_is_wrong(scene: Scene, point: int, at_work: Killer) -> list[str]:
    """Nothing, if a kill leaves no half file in the place of a whole one, and the next run makes it good."""
    folder = scene.copy(f"killed at {point}")
    exit_code = at_work.run(folder, point)
    wrong = [f"ended with {exit_code}"] if exit_code != -signal.SIGKILL else []
    wrong += [f"{name} is half written" for name in torn(folder, scene)]
    at_work.run(folder)
    wrong += [f"{name} is left" for name in half_written(folder)]
    return wrong + unlike(picture(folder), scene.expected)


@pytest.mark.parametrize(("scene", "count"), [("first", 16), ("news", 24)], ids=["the first run", "a run with news"])
def test_a_run_killed_at_any_of_40_points_is_made_good_by_the_next(
    scene: str, count: int, killers: Sequence[Killer], request: pytest.FixtureRequest
) -> None:
    killed: Scene = request.getfixturevalue(scene)
    points = killed.points(count)
    assert len(set(points)) == count

    def share(at: int) -> dict[str, list[str]]:
        own = points[at :: len(killers)]
        return {f"{point} {killed.steps[point]}": what_is_wrong(killed, point, killers[at]) for point in own}

    with ThreadPoolExecutor() as threads:
        wrong = [case for found in threads.map(share, range(len(killers))) for case in found.items() if case[1]]
    assert wrong == []


def test_a_run_that_nobody_kills_loses_and_doubles_nothing(news: Scene) -> None:
    """What the killed runs are held against is itself as it should be."""
    folder, batches = news.never_killed, sorted((news.never_killed / "outbox" / "portal").glob("2026-*"))
    assert [batch.name for batch in batches] == ["2026-0001", "2026-0002"]
    published: dict[str, str] = {}
    for batch in batches:
        records, gone = (read_table(batch / f"{name}.csv") for name in ("occurrence", "withdrawn"))
        ids = [line["occurrenceID"] for line in (*records, *gone)]
        assert len(ids) == len(set(ids)), batch.name
        published |= {line["occurrenceID"]: batch.name for line in records}
    clear = [line["occurrence_id"] for line in rows(folder) if line["state"] == "clear"]
    origin = read_table(folder / "outbox" / "coordinator" / "origin.csv")
    assert sorted(clear) == sorted(published) == sorted(line["occurrenceID"] for line in origin) and len(clear) == 25
    assert {line["occurrenceID"]: line["batch_id"] for line in origin} == published
    assert {line["state"] for line in rows(folder)} == {"clear", "held", "copy", "replaced"}
    assert {line["state"] for line in findings(folder)} >= {"open", "answered"}
    assert half_written(folder) == [] and news.expected["integrity"] == [("ok",)]
    kept = {path.name for path in (folder / "programme" / "originals").iterdir()}
    assert kept == {arrival.sha256 for arrival in find_files(folder / "inbox").arrivals}


def test_runs_killed_one_after_the_other_are_made_good_by_the_one_that_is_not(news: Scene, at_work: Killer) -> None:
    folder = news.copy("killed again and again")
    for step in (
        "INSERT INTO runs VALUES",
        "os.rename occurrence.csv.part occurrence.csv",
        "COMMIT",
        "os.rename 2026-0002 2026-0002",
        "os.rename rows.csv.part rows.csv",
    ):
        assert at_work.run(folder, step) == -signal.SIGKILL, step
    at_work.run(folder)
    assert unlike(picture(folder), news.expected) == [] and half_written(folder) == []


def sheet_put_right(folder: Path) -> None:
    corrected = ["AB0037", "2026-09-29", *DOUBTFUL[1:]]
    write_sheet(folder / "inbox" / "p2" / "fiche.csv", [*clean_rows(31, 6), corrected])


def sheet_taken_out(folder: Path) -> None:
    (folder / "inbox" / "p2" / "fiche.csv").unlink()
    write_sheet(folder / "inbox" / "p3" / "new.csv", clean_rows(61, 4))


CAME_MEANWHILE = {
    "a question sheet begun, then nothing to ask": ("os.rename .questions.xlsx.new questions.xlsx", sheet_put_right),
    "an original begun, then the file taken out": ("os.rename {sha256}.part {sha256}", sheet_taken_out),
}  # fmt: skip


@pytest.mark.parametrize(("step", "meanwhile"), CAME_MEANWHILE.values(), ids=CAME_MEANWHILE)
def test_what_a_killed_run_began_is_not_left_lying_if_the_next_has_no_use_for_it(
    step: str, meanwhile: Callable[[Path], None], first: Scene, at_work: Killer
) -> None:
    folder = first.copy(f"with news after {step[:20]}")
    (folder / "inbox" / "p1" / "mine.csv").unlink()  # so that the first letter and original are those of p2
    (arrival,) = find_files(folder / "inbox").arrivals
    assert at_work.run(folder, step.format(sha256=arrival.sha256)) == -signal.SIGKILL
    assert half_written(folder)
    meanwhile(folder)
    at_work.run(folder)
    assert half_written(folder) == [] and {line["state"] for line in findings(folder)} <= {"withdrawn", "noted"}
    kept = {path.name for path in (folder / "programme" / "originals").iterdir()}
    assert kept >= {one.sha256 for one in find_files(folder / "inbox").arrivals}


def processes_of(session: int) -> list[str]:
    """The processes of a session that are still at work."""
    told = subprocess.run(["ps", "-A", "-o", "pgid=,stat=,args="], capture_output=True, text=True, check=True).stdout
    lines = [line.split(maxsplit=2) for line in told.splitlines()]
    return [" ".join(line[2:]) for line in lines if int(line[0]) == session and not line[1].startswith("Z")]


@pytest.mark.parametrize("step", ["SAVEPOINT judged", "COMMIT"], ids=["while the gate is looking", "after its verdict"])
def test_the_command_killed_with_its_gate_is_made_good_and_leaves_nothing_at_work(
    step: str, news: Scene, gate: Gate
) -> None:
    folder = news.copy(f"typed and killed at {step}")
    process = typed(folder, step)
    process.communicate(timeout=120)
    assert process.returncode == -signal.SIGKILL
    run(folder, TODAY, lambda: gate)
    # The scene was made without a gate, and so without its audit.
    assert unlike(picture(folder), news.expected) == ["outbox/coordinator/audit.csv"] and half_written(folder) == []
    patience = time.monotonic() + 60
    while processes_of(process.pid) and time.monotonic() < patience:
        time.sleep(0.2)
    assert processes_of(process.pid) == []
