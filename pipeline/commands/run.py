"""The command `run`: the whole pipeline, then what it means in words."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from dataclasses import asdict
from datetime import date
from pathlib import Path

from pipeline.commands.words import said_of
from pipeline.files.gate_client import Gate, start_gate, stop
from pipeline.flow import Outcome, run
from pipeline.settings import SettingsWrong


def run_command(folder: Path, today: date | None, is_trial: bool, as_json: bool) -> int:
    """Runs the pipeline on a folder and prints what came of it."""
    if not (folder / "inbox").is_dir():
        raise SettingsWrong(f"There is no inbox in {folder.resolve().name}: go to your programme's folder.")
    gates: list[Gate] = []

    def gate() -> Gate:
        gates.append(start_gate())
        return gates[0]

    try:
        outcome = _with_progress(folder, today or date.today(), gate, is_trial)
    finally:
        for one in gates:
            stop(one)
    if as_json:
        print(json.dumps({**asdict(outcome.figures), "notes": outcome.notes, "exit_code": outcome.exit_code}, indent=2))
    else:
        print("\n".join(said_of(outcome, is_trial)))
    return outcome.exit_code


def _with_progress(folder: Path, today: date, gate: Callable[[], Gate], is_trial: bool) -> Outcome:
    if not sys.stderr.isatty():
        return run(folder, today, gate, is_trial)
    from rich.console import Console
    from rich.progress import MofNCompleteColumn, Progress, TextColumn

    columns = (TextColumn("{task.description}"), MofNCompleteColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as shown:
        reading = shown.add_task("Sheets read")
        return run(folder, today, gate, is_trial, lambda _: shown.advance(reading))
