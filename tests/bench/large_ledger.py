"""Measures one new file of 100 rows on top of a ledger of 1,000,000 records.

    python tests/bench/large_ledger.py [--records 1000000] [--keep FOLDER]

The ledger is grown by runs over 1,000 new sheets each, without the gate. Then one sheet comes, and it is measured how
long reading to the settled ledger takes, and the whole run with every whole-ledger file rewritten; no gate, no archive.
Peak memory is that of the process and of the process that reads for it, added up. Linux and macOS.
"""

from __future__ import annotations

import argparse
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from datetime import date
from pathlib import Path

from make_sheets import ROWS, make

sys.path.insert(0, str(Path(__file__).parents[2]))
SHARE = 1_000  # sheets a run while the ledger grows
TODAY = date(2026, 11, 25)
KILOBYTES = 1024 if sys.platform == "darwin" else 1  # what ru_maxrss counts in


def grown(folder: Path, sheets: int) -> Path:
    """A programme whose ledger holds all sheets but the last, which waits beside its inbox."""
    made = folder / "made"
    make(made, sheets + 1, 1.0)
    season = folder / "season"
    shutil.copytree(made / "programme", season / "programme")
    (season / "inbox").mkdir(parents=True)
    people = sorted((made / "inbox").iterdir())
    for first in range(0, sheets, SHARE):
        for person in people[first : min(first + SHARE, sheets)]:
            shutil.move(person, season / "inbox" / person.name)
        began = time.perf_counter()
        subprocess.run([sys.executable, __file__, "--run", str(season)], check=True)
        print(f"{min(first + SHARE, sheets) * ROWS:10,} rows in the ledger, run of {time.perf_counter() - began:.0f} s",
              flush=True)  # fmt: skip
    return season


def run_once(folder: Path) -> None:
    """One run without the gate, in this process; prints when the ledger was settled, the end, and the peak memory."""
    from pipeline import flow
    from pipeline.hand_out import Handed

    settled = [0.0]
    hand_out = flow.hand_out

    def timed(*told: object) -> Handed:
        settled[0] = time.perf_counter()
        return hand_out(*told)  # type: ignore[arg-type]

    flow.hand_out = timed  # only to look at the clock between the ledger's commit and the files
    began = time.perf_counter()
    outcome = flow.run(folder, TODAY, None)
    ended = time.perf_counter()
    peak = sum(resource.getrusage(who).ru_maxrss for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    print(
        f"{outcome.figures.rows_read:10,} rows: settled after {settled[0] - began:.1f} s, all files after "
        f"{ended - began:.1f} s, peak {peak / KILOBYTES / 1024:,.0f} MB",
        flush=True,
    )


def main(records: int, keep: Path | None) -> None:
    """Grow the ledger, then measure one more sheet three times over."""
    with tempfile.TemporaryDirectory() as parent:
        folder = keep or Path(parent)
        sheets = records // ROWS
        season = folder / "season" if (folder / "season").is_dir() else grown(folder, sheets)
        print(f"ledger.sqlite: {(season / 'programme' / 'ledger.sqlite').stat().st_size / 1e6:,.0f} MB")
        last = sorted((folder / "made" / "inbox").iterdir())[-1]
        shutil.copytree(last, season / "inbox" / last.name, dirs_exist_ok=True)
        subprocess.run([sys.executable, __file__, "--run", str(season)], check=True)


if __name__ == "__main__":
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    arguments.add_argument("--records", type=int, default=1_000_000)
    arguments.add_argument("--keep", type=Path, help="a folder in which the grown ledger stays")
    arguments.add_argument("--run", type=Path, help="one measured run on a folder")
    asked = arguments.parse_args()
    if asked.run:
        run_once(asked.run)
    else:
        main(asked.records, asked.keep)
