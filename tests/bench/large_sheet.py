"""Reads one sheet of 200,000 rows, as a workbook and as a text table, and says what it takes.

    python tests/bench/large_sheet.py [--rows 200000]

Printed are seconds and peak memory (the largest resident set of any process) of reading alone, and of `tagsheaf check`.
"""

from __future__ import annotations

import argparse
import csv
import random
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

import xlsxwriter

ROOT = Path(__file__).parents[2]
HEADINGS = [
    "Tag", "Date", "Sex", "Latitude", "Longitude", "Town", "Province", "Forewing (mm)", "Weight (g)", "Observer",
    "Weather", "Remarks",
]  # fmt: skip
TOWNS = ("Truro", "Sackville", "Amherst", "Bouctouche", "Tignish", "Antigonish")
READING = """
import sys
sys.path.insert(0, {root!r})
from pathlib import Path
from pipeline.files.reading import read_file
read = read_file(Path({file!r}), "sheet", "0" * 64)
assert not read.refusal and sum(len(sheet.texts) for sheet in read.sheets) > {rows}, read.what
"""
MEASURED = """
import resource, subprocess, sys
done = subprocess.run(sys.argv[1:], stdout=subprocess.DEVNULL)
print(done.returncode, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)
"""


def rows(count: int) -> Iterator[list[str | float]]:
    """Rows that differ in every cell that may; the codes run through two letters and four figures."""
    chance = random.Random(200_000)
    for number in range(count):
        letters = chr(65 + number // 10_000 // 26 % 26) + chr(65 + number // 10_000 % 26)
        yield [
            f"{letters}{number % 10_000:04d}", f"2026-{chance.randint(8, 10):02d}-{chance.randint(1, 28):02d}",
            chance.choice("MF"), round(chance.uniform(44, 47), 4), round(chance.uniform(-66, -61), 4),
            chance.choice(TOWNS), "Nova Scotia", chance.randint(46, 56), round(chance.uniform(0.4, 0.7), 2),
            f"Observer {chance.randint(1, 40)}", "sunny", f"seen on aster number {number}",
        ]  # fmt: skip


def made(folder: Path, count: int) -> tuple[Path, Path]:
    """The same sheet as a workbook and as a text table."""
    workbook, table = folder / "large.xlsx", folder / "large.csv"
    with xlsxwriter.Workbook(str(workbook)) as book:  # with its texts in one list, as spreadsheets write them
        sheet = book.add_worksheet()
        sheet.write_row(0, 0, HEADINGS)
        for at, row in enumerate(rows(count), 1):
            sheet.write_row(at, 0, row)
    with table.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([HEADINGS, *rows(count)])
    return workbook, table


def measured(*command: str) -> str:
    """Seconds and peak memory of a command and all its processes."""
    began = time.perf_counter()
    told = subprocess.run([sys.executable, "-c", MEASURED, *command], capture_output=True, text=True, check=True)
    code, kilobytes = told.stdout.split()
    assert code in "01", told.stderr
    return f"{time.perf_counter() - began:5.1f} s, peak {int(kilobytes) // 1024:,} MB"


def main() -> None:
    """Makes the sheets and prints a line for each way of looking at them."""
    arguments = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    arguments.add_argument("--rows", type=int, default=200_000 - 1)  # with its heading row as large as a sheet may be
    count = arguments.parse_args().rows
    with tempfile.TemporaryDirectory() as folder:
        for file in made(Path(folder), count):
            reading = measured(sys.executable, "-c", READING.format(root=str(ROOT), file=str(file), rows=count))
            checking = measured(sys.executable, "-m", "pipeline.cli", "check", str(file))
            print(f"{file.suffix} of {count:,} rows: reading {reading}; tagsheaf check {checking}")


if __name__ == "__main__":
    main()
