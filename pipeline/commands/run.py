"""The command `run`: the whole pipeline, then what it means in words."""

from __future__ import annotations

import json
import sys
from dataclasses import asdict
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from pipeline.files.gate_client import Gate, start_gate, stop
from pipeline.settings import SettingsWrong

if TYPE_CHECKING:
    from pipeline.flow import Outcome


def run_command(folder: Path, today: date | None, is_trial: bool, as_json: bool, delivers: bool = False) -> int:
    """Runs the pipeline on a folder and prints what came of it; a delivery writes one batch of all that waits."""
    if not (folder / "inbox").is_dir():
        raise SettingsWrong(f"There is no inbox in {folder.resolve().name}: go to your programme's folder.")
    # The gate takes seconds to get up: where there is news it starts while our own libraries are read.
    gates = [start_gate()] if delivers or has_news(folder) else []
    try:
        outcome = _outcome(folder, today or date.today(), gates, (is_trial, delivers))
    finally:
        for one in gates:
            stop(one)
    return _told(outcome, is_trial, as_json)


def has_news(folder: Path) -> bool:
    """Whether anything in the inbox or of the programme is younger than the ledger, as far as file times tell.

    A guess for the sake of speed: what is new is decided by the bytes.
    """
    ledger = folder / "programme" / "ledger.sqlite"
    since = ledger.stat().st_mtime if ledger.is_file() else 0.0
    paths = [*(folder / "inbox").rglob("*"), *(folder / "programme").glob("*.*")]
    return any(path != ledger and path.stat().st_mtime > since for path in paths)


def _outcome(folder: Path, today: date, gates: list[Gate], wish: tuple[bool, bool]) -> Outcome:
    from pipeline.flow import How, run

    def gate() -> Gate:
        if not gates:
            gates.append(start_gate())
        return gates[0]

    if not sys.stderr.isatty():
        return run(folder, today, gate, How(*wish))
    from rich.console import Console
    from rich.progress import MofNCompleteColumn, Progress, TextColumn

    columns = (TextColumn("{task.description}"), MofNCompleteColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as shown:
        reading = shown.add_task("Sheets read")
        return run(folder, today, gate, How(*wish, lambda _: shown.advance(reading)))


def _told(outcome: Outcome, is_trial: bool, as_json: bool) -> int:
    from pipeline.commands.words import said_of

    if as_json:
        print(json.dumps({**asdict(outcome.figures), "notes": outcome.notes, "exit_code": outcome.exit_code}, indent=2))
    else:
        print("\n".join(said_of(outcome, is_trial)))
    return outcome.exit_code
