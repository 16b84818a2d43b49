"""Asks the gate: a process that is started early, so that its slow import overlaps the reading."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import IO, Any

SECONDS_TO_END = 10
VERDICT, AUDIT = "verdict", "audit"  # what the gate may be asked


@dataclass(frozen=True)
class Refusal:
    """What the gate refuses in a column of a file, and some of the cells; column "" is the file itself."""

    file: str
    column: str
    means: str
    rows: int
    some: tuple[str, ...]


@dataclass(frozen=True)
class Verdict:
    """Whether the batch may leave, and why not."""

    passed: bool
    refusals: tuple[Refusal, ...]
    seconds: float


@dataclass(frozen=True)
class Gate:
    """The gate at work."""

    process: subprocess.Popen[str]
    complaints: IO[str]


def start_gate() -> Gate:
    """Starts the gate and does not wait for it; `stop` ends it."""
    complaints = tempfile.TemporaryFile("w+", encoding="utf-8", errors="replace")  # noqa: SIM115
    home = str(Path(__file__).resolve().parents[2])
    paths = [home, *filter(None, [os.environ.get("PYTHONPATH")])]
    process = subprocess.Popen(
        [sys.executable, "-P", "-m", "pipeline.files.gate"],  # -P: no file of the current folder is imported
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=complaints,
        encoding="utf-8",
        env={**os.environ, "PYTHONPATH": os.pathsep.join(paths), "GX_ANALYTICS_ENABLED": "false"},
    )
    return Gate(process, complaints)


def judge(gate: Gate, folder: Path) -> Verdict:
    """The gate's verdict on the CSV files of a folder."""
    ask(gate, folder)
    return verdict_of(gate)


def ask(gate: Gate, folder: Path) -> None:
    """Has the gate look at the CSV files of a folder, and does not wait for it."""
    _ask(gate, f"{VERDICT}\t{folder.resolve()}\n")


def ask_audit(gate: Gate, folder: Path, today: date) -> None:
    """Has the batch in a folder audited, and does not wait for it; asked only after a verdict was heard."""
    _ask(gate, f"{AUDIT}\t{today.isoformat()}\t{folder.resolve()}\n")


def _ask(gate: Gate, line: str) -> None:
    assert gate.process.stdin is not None
    with suppress(BrokenPipeError):  # a gate that has ended gives no verdict, and then its complaints are told
        gate.process.stdin.write(line)
        gate.process.stdin.flush()


def verdict_of(gate: Gate) -> Verdict:
    """The verdict on the folder that was asked about, as soon as there is one."""
    said = said_by(gate)
    refusals = tuple(Refusal(**{**each, "some": tuple(each["some"])}) for each in said["refusals"])
    return Verdict(said["passed"], refusals, said["seconds"])


def said_by(gate: Gate) -> dict[str, Any]:
    """What the gate answers to the question that was asked first, as soon as it does."""
    assert gate.process.stdout is not None
    line = gate.process.stdout.readline()
    if not line:
        gate.process.wait()
        gate.complaints.seek(0)
        raise RuntimeError(f"the gate ended without a verdict:\n{gate.complaints.read()}")
    said: dict[str, Any] = json.loads(line)
    return said


def stop(gate: Gate) -> None:
    """Ends the gate by closing its input."""
    assert gate.process.stdin is not None and gate.process.stdout is not None
    with suppress(BrokenPipeError):
        gate.process.stdin.close()
    try:
        gate.process.wait(SECONDS_TO_END)
    except subprocess.TimeoutExpired:
        gate.process.kill()
        gate.process.wait()
    gate.process.stdout.close()
    gate.complaints.close()
