"""Measures a run beside its floor and beside a straightforward script, and the cold starts.

    python tests/bench/bench.py                              everything
    python tests/bench/bench.py --sheets 2000 --clean 0.8    one comparison
    python tests/bench/bench.py --cold                       only the cold starts

Every figure is of whole processes, each on a fresh copy of the folder. Linux and macOS.
"""

from __future__ import annotations

import argparse
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import NamedTuple

from make_sheets import ROWS, make

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
TAGSHEAF = [sys.executable, "-c", "import sys; from pipeline.cli import main; sys.exit(main(sys.argv[1:]))"]
TODAY = ["--today", "2026-11-25"]
KILOBYTES = 1024 if sys.platform == "darwin" else 1  # what ru_maxrss counts in


class Measured(NamedTuple):
    """One process with its children: seconds on the clock, megabytes of the largest of them, exit code."""

    seconds: float
    megabytes: float
    code: int


def measured(command: list[str]) -> Measured:
    """Run a command to its end, its output kept for a failure only."""
    with tempfile.TemporaryFile() as output:
        began = time.perf_counter()
        process = subprocess.Popen(command, cwd=ROOT, stdout=output, stderr=subprocess.STDOUT)
        _, status, usage = os.wait4(process.pid, 0)
        seconds = time.perf_counter() - began
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode not in (0, 1):  # 1: questions wait
            output.seek(0)
            sys.exit(f"{command} ended with {process.returncode}:\n{output.read().decode()[-3000:]}")
    return Measured(seconds, usage.ru_maxrss / KILOBYTES / 1024, process.returncode)


def on_a_copy(folder: Path, command: list[str], *options: str) -> Measured:
    """The command on a fresh copy of the folder, which is put after it."""
    with tempfile.TemporaryDirectory() as parent:
        copy = Path(parent) / "programme"
        shutil.copytree(folder, copy)
        return measured([*command, str(copy), *options])


def compare(sheets: int, clean: float) -> None:
    """Print what reading, our run and the script need for so many sheets, and their ratios."""
    with tempfile.TemporaryDirectory() as parent:
        folder = Path(parent) / "made"
        make(folder, sheets, clean)
        of = f"{clean:.0%} of the sheets clean" if clean else "faults in every sheet"
        print(f"\n{sheets:,} sheets of {ROWS} rows in 6 layouts, {of}")
        print(f"{'':34}{'seconds':>9}{'files/s':>9}{'rows/s':>10}{'peak MB':>9}")
        floor = show("(a) only reading, one CSV", sheets, on_a_copy(folder, _script("floor.py")))
        ours = show("(b) tagsheaf run", sheets, on_a_copy(folder, [*TAGSHEAF, "run"], *TODAY))
        bare = show("(b) without the gate", sheets, on_a_copy(folder, _script("without_gate.py")))
        script = show("(c) straightforward script", sheets, on_a_copy(folder, _script("straightforward.py")))
    print(
        f"(c) : (b) = {script / ours:.1f}   without the gate {script / bare:.1f}   (b) : (a) = {ours / floor:.1f}",
        flush=True,
    )


def _script(name: str) -> list[str]:
    return [sys.executable, str(HERE / name)]


def show(name: str, sheets: int, run: Measured) -> float:
    """Print a line, give back its seconds."""
    rates = f"{sheets / run.seconds:9.1f}{sheets * ROWS / run.seconds:10,.0f}"
    print(f"{name:34}{run.seconds:9.1f}{rates}{run.megabytes:9.0f}", flush=True)
    return run.seconds


def cold_starts(times: int = 3) -> None:
    """Print what a first command costs beside the bare imports that it cannot do without."""
    print(f"\nCold starts, median of {times}, seconds")
    bare = {
        name: show_cold(f"import {name}", [[sys.executable, "-c", f"import {name}"]] * times)
        for name in ("great_expectations", "pandera.pandas", "pandas")
    }
    helped = show_cold("tagsheaf --help", [[*TAGSHEAF, "--help"]] * times)
    sheet = str(ROOT / "inbox" / "p02" / "tagging-2026.xlsx")
    checked = show_cold("tagsheaf check, one sheet", [[*TAGSHEAF, "check", sheet]] * times)
    with tempfile.TemporaryDirectory() as parent:
        runs = []
        for number in range(times):
            copy = Path(parent) / str(number)
            shutil.copytree(ROOT / "inbox", copy / "inbox")
            shutil.copytree(ROOT / "programme", copy / "programme", ignore=shutil.ignore_patterns("ledger*"))
            runs.append([*TAGSHEAF, "run", str(copy), *TODAY])
        ran = show_cold("tagsheaf run, the demo", runs)
    print(f"run - import great_expectations = {ran - bare['great_expectations']:.1f} s")
    print(f"check - import pandera.pandas = {checked - bare['pandera.pandas']:.1f} s")
    print(f"--help : import pandas = {helped / bare['pandas']:.2f}")


def show_cold(name: str, commands: list[list[str]]) -> float:
    """Print the median of some commands that are alike."""
    runs = [measured(command) for command in commands]
    seconds = statistics.median(run.seconds for run in runs)
    print(f"{name:34}{seconds:9.2f}{'':19}{max(run.megabytes for run in runs):9.0f}", flush=True)
    return seconds


if __name__ == "__main__":
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    arguments.add_argument("--sheets", type=int, help="how many sheets; without it all comparisons are made")
    arguments.add_argument("--clean", type=float, default=0.0, help="share of sheets without faults, 0 to 1")
    arguments.add_argument("--cold", action="store_true", help="only the cold starts")
    asked = arguments.parse_args()
    if asked.sheets:
        compare(asked.sheets, asked.clean)
    elif not asked.cold:
        for sheets, clean in ((300, 0.0), (2000, 0.0), (2000, 0.8)):
            compare(sheets, clean)
    if not asked.sheets:
        cold_starts()
