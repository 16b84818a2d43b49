"""A process that takes a folder through a run and, if told to, kills itself just before one of its steps.

A step is a folder made, a file opened for writing, renamed or taken away, a process started, or a statement to the
ledger that writes and is unlike the one before.
"""

from __future__ import annotations

import json
import os
import signal
import sqlite3
import sys
from pathlib import Path
from typing import Any

from pipeline.cli import main
from tests.season_folder import TODAY

WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT
OF_FILES = ("os.mkdir", "os.rename", "os.remove", "os.rmdir", "subprocess.Popen")
NEVER = -1


class Steps:
    """What the process has done so far; it ends itself before the step of this number, or of these words."""

    def __init__(self, last: int | str = NEVER) -> None:
        self.done: list[str] = []
        self.last = last
        self.statement = ""

    def watch(self) -> None:
        """From now on every step is taken down; there is no way back."""
        sys.dont_write_bytecode = True
        sqlite3.connect = self._connected  # type: ignore[assignment]
        sys.addaudithook(self._heard)

    def _take(self, step: str) -> None:
        if self.last in (len(self.done), step):
            os.kill(os.getpid(), signal.SIGKILL)
        self.done.append(step)

    def _heard(self, event: str, told: tuple[Any, ...]) -> None:
        if event == "open" and isinstance(told[0], str) and told[2] & WRITES:
            self._take(f"open {Path(told[0]).name}")
        elif event in OF_FILES:
            self._take(f"{event} {' '.join(Path(one).name for one in told[:2] if isinstance(one, str))}".strip())

    def _connected(self, *told: Any, **how: Any) -> sqlite3.Connection:
        ledger = sqlite3.Connection(*told, **how)
        ledger.set_trace_callback(self._told_to_ledger)
        return ledger

    def _told_to_ledger(self, statement: str) -> None:
        words = " ".join(statement.split()[:4])
        if words != self.statement and not words.startswith("SELECT"):
            self._take(words)
        self.statement = words


def runs_without_gate() -> None:
    """Runs the first folder named on the input and tells its steps; of each that follows, in a process of its own,
    it kills the run before the step named beside it, and tells the process's exit code.
    """
    from pipeline.flow import run

    steps = Steps()
    steps.watch()
    for line in sys.stdin:
        folder, last = json.loads(line)
        steps.done, steps.statement = [], ""
        if last == NEVER:
            run(Path(folder), TODAY, None)
            print(json.dumps(steps.done), flush=True)
            continue
        child = os.fork()
        if not child:
            steps.last = last
            run(Path(folder), TODAY, None)
            os._exit(0)
        print(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), flush=True)


def run_as_typed(folder: str, last: str) -> None:
    """The command `run` with its gate, killed before a step."""
    Steps(last).watch()
    sys.exit(main(["run", folder, "--today", TODAY.isoformat()]))
