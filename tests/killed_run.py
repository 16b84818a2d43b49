"""Runs in processes of their own that are killed before one of their steps, or are refused it by the system.

A step is a folder made, a file opened for writing, renamed or taken away, a process started, or a statement to the
ledger that writes and is unlike the one before.
"""

from __future__ import annotations

import json
import os
import signal
import sqlite3
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[1]
DAY = "2026-10-20"
WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT
OF_FILES = ("os.mkdir", "os.rename", "os.remove", "os.rmdir", "subprocess.Popen")
NEVER = -1
Last = int | str  # a step, by its number from 0 or in its words


def kill() -> None:
    """Ends this process as no program can prevent."""
    os.kill(os.getpid(), signal.SIGKILL)


def refuse(errno: str) -> None:
    """What the system does that cannot do as it is told."""
    raise OSError(int(errno), os.strerror(int(errno)), "")


def take_away(file: str) -> None:
    """Somebody moves a file that we have seen."""
    Path(file).unlink()


def write_on(file: str) -> None:
    """Somebody's program goes on with a file that we have seen."""
    with Path(file).open("a", encoding="utf-8") as half:
        half.write("AB0029,2026-09-09,male,Amherst,Nova Scotia,51\n")


DEEDS = {"refuse": refuse, "take away": take_away, "write on": write_on}


class Steps:
    """What the process has done so far, and what happens just before the last step."""

    def __init__(self, last: Last = NEVER, happens: Callable[[], None] = kill) -> None:
        self.done: list[str] = []
        self.last, self.happens = last, happens
        self.statement = ""

    def watch(self) -> None:
        """From now on every step of the process is taken down; there is no way back."""
        sys.dont_write_bytecode = True
        sqlite3.connect = self._connected  # type: ignore[assignment]
        sys.addaudithook(self._heard)

    def _take(self, step: str) -> None:
        if self.last in (len(self.done), step):
            self.happens()
        self.done.append(step)

    def _heard(self, event: str, told: tuple[Any, ...]) -> None:
        if event == "open" and isinstance(told[0], str) and told[2] & WRITES:
            self._take(f"open {Path(told[0]).name}")
        elif event in OF_FILES:
            self._take(" ".join([event, *(Path(one).name for one in told[:2] if isinstance(one, str))]))

    def _connected(self, *told: Any, **how: Any) -> sqlite3.Connection:
        ledger = sqlite3.Connection(*told, **how)
        ledger.set_trace_callback(self._told_to_ledger)
        return ledger

    def _told_to_ledger(self, statement: str) -> None:
        words = " ".join(statement.split()[:4])
        if words != self.statement and not words.startswith("SELECT"):
            self._take(words)
        self.statement = words


def run_as_typed(folder: str, last: str, *happens: str) -> None:
    """The command `run` with its gate; what happens before a step are pairs of words, or it is killed."""
    from pipeline.cli import main

    def happen() -> None:
        for deed, about in zip(happens[::2], happens[1::2], strict=True):
            DEEDS[deed](about)

    Steps(last, happen if happens else kill).watch()
    sys.exit(main(["run", folder, "--today", DAY]))


def runs_without_gate() -> None:
    """Runs the folders named on the input, without the gate, and tells what came of each.

    Where no last step stands beside a folder, its run goes to the end and all steps are told. Else the run has a
    process of its own, which is killed, and the process's exit code is told.
    """
    from datetime import date

    from pipeline.flow import run

    steps = Steps()
    steps.watch()
    for line in sys.stdin:
        folder, last = json.loads(line)
        steps.done, steps.statement = [], ""
        child = os.fork() if last != NEVER else 0
        if child:
            print(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), flush=True)
            continue
        steps.last = last
        run(Path(folder), date.fromisoformat(DAY), None)
        if last != NEVER:
            os._exit(0)
        print(json.dumps(steps.done), flush=True)


class Killer:
    """The process at work on `runs_without_gate`: everything is imported once, and each run starts at once."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        self.process = process

    def run(self, folder: Path, last: Last = NEVER) -> Any:
        """Runs a folder to its end, and gives the steps; or up to a step, and gives the exit code."""
        assert self.process.stdin is not None and self.process.stdout is not None
        self.process.stdin.write(json.dumps([str(folder), last]) + "\n")
        self.process.stdin.flush()
        return json.loads(self.process.stdout.readline())


@contextmanager
def killer() -> Iterator[Killer]:
    """A process that kills runs, ended with its input."""
    code = "from tests.killed_run import runs_without_gate; runs_without_gate()"
    with subprocess.Popen(
        [sys.executable, "-c", code], cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, encoding="utf-8"
    ) as process:
        yield Killer(process)


def typed(folder: Path, last: str, *happens: object) -> subprocess.Popen[str]:
    """The command `run` at work in a session of its own, to be killed before a step, or what happens then."""
    code = "import sys; from tests.killed_run import run_as_typed; run_as_typed(*sys.argv[1:])"
    return subprocess.Popen(
        [sys.executable, "-c", code, str(folder), last, *map(str, happens)],
        cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, encoding="utf-8", start_new_session=True,
    )  # fmt: skip
