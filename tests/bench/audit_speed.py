"""How fast a table is audited: python tests/bench/audit_speed.py [--records 1000000] [--out]

The table has a different id and point in every record, days of two seasons, the words that taggers write, and slips
in one record of fifty. Printed are seconds and the peak memory of all processes together (the largest sum of their
resident sets, looked at five times a second) of

- **the baseline**: the same file read with pandas alone, all columns as text, nothing asked of it;
- **the audit**: `tagsheaf audit`, all tests, from start to end, with its page; with `--out` every response is written.

Load on the computer moves all figures; the seconds of a processor, of all processes together, it moves least.
"""

from __future__ import annotations

import argparse
import resource
import subprocess
import sys
import tempfile
import time
import uuid
from pathlib import Path
from typing import Any

import numpy as np
import pyarrow as pa
import pyarrow.csv as pacsv

ROOT = Path(__file__).parents[2]
SEED = 20260603
SHARE = 0.02  # of slips
STATES = (("CA", "Canada", "New Brunswick"), ("CA", "Canada", "Nova Scotia"), ("US", "United States", "Maine"))
FIXED = {
    "basisOfRecord": "HumanObservation", "scientificName": "Danaus plexippus", "kingdom": "Animalia",
    "phylum": "Arthropoda", "class": "Insecta", "order": "Lepidoptera", "family": "Nymphalidae", "genus": "Danaus",
    "specificEpithet": "plexippus", "taxonRank": "species", "geodeticDatum": "EPSG:4326",
    "occurrenceStatus": "present", "license": "https://creativecommons.org/licenses/by/4.0/legalcode",
    "type": "Event", "coordinateUncertaintyInMeters": "30",
}  # fmt: skip
SLIPS = {
    "eventDate": ("2026-13-01", "3/9/26", "1026-09-01", ""), "month": ("13", "Sept"), "sex": ("M", "mâle"),
    "countryCode": ("CAN", "", "MX"), "decimalLatitude": ("0", "95.1", "45,5", ""), "taxonRank": ("sp.",),
    "basisOfRecord": ("human observation",), "individualCount": ("-1", "few"), "geodeticDatum": ("WGS84", ""),
}  # fmt: skip
READ_ALONE = "import sys, pandas; pandas.read_csv(sys.argv[1], dtype=str, keep_default_na=False)"


def made(path: Path, count: int) -> Path:
    """The table; its ids and points differ in every record."""
    choose = np.random.default_rng(SEED)
    north, east = choose.permutation(count), choose.permutation(count)
    day = np.datetime64("2025-08-01") + choose.integers(0, 90, count) + 365 * choose.integers(0, 2, count)
    state = choose.integers(0, len(STATES), count)
    days = day.astype(str)
    columns: dict[str, Any] = {
        "occurrenceID": [f"urn:uuid:{uuid.UUID(bytes=choose.bytes(16))}" for _ in range(count)],
        "eventDate": days,
        "year": [text[:4] for text in days],
        "month": [str(int(text[5:7])) for text in days],
        "day": [str(int(text[8:])) for text in days],
        "decimalLatitude": [f"{44 + 3 * at / count:.7f}" for at in north.tolist()],
        "decimalLongitude": [f"{-67 + 6 * at / count:.7f}" for at in east.tolist()],
        "sex": np.array(["male", "female", ""])[choose.integers(0, 3, count)],
        "individualCount": ["1"] * count,
        "locality": [f"meadow {number}" for number in choose.integers(0, 5000, count).tolist()],
    }
    columns |= {
        name: np.array(each)[state]
        for name, each in zip(("countryCode", "country", "stateProvince"), zip(*STATES, strict=True), strict=True)
    }
    columns |= {name: [text] * count for name, text in FIXED.items()}
    for name, slips in SLIPS.items():
        texts = np.asarray(columns[name], dtype=object)
        where = choose.choice(count, int(count * SHARE), replace=False)
        texts[where] = np.array(slips, dtype=object)[choose.integers(0, len(slips), len(where))]
        columns[name] = texts
    table = pa.table({name: pa.array(texts, pa.string()) for name, texts in columns.items()})
    pacsv.write_csv(table, path, pacsv.WriteOptions(quoting_style="needed"))
    return path


def megabytes(process: int) -> float:
    """The resident sets of a process and of all that it started, where the system tells them."""
    try:
        pages = int(Path(f"/proc/{process}/statm").read_text().split()[1])
        children = Path(f"/proc/{process}/task/{process}/children").read_text().split()
    except (OSError, ValueError, IndexError):
        return 0.0
    return pages * 4096 / 1e6 + sum(megabytes(int(child)) for child in children)


def measured(*command: str, folder: Path) -> str:
    """Seconds and peak memory of a command and all its processes."""
    began, before, peak = time.perf_counter(), resource.getrusage(resource.RUSAGE_CHILDREN), 0.0
    process = subprocess.Popen([sys.executable, *command], cwd=folder, stdout=subprocess.PIPE, text=True)
    while process.poll() is None:
        peak = max(peak, megabytes(process.pid))
        time.sleep(0.2)
    seconds, after = time.perf_counter() - began, resource.getrusage(resource.RUSAGE_CHILDREN)
    work = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    assert process.returncode == 0 and process.stdout
    told = process.stdout.read()
    return f"{seconds:6.1f} s ({work:.1f} s of a processor), peak {peak:,.0f} MB" + (f"\n\n{told}" if told else "")


def main() -> None:
    """Makes the table and prints a line for each way of looking at it."""
    arguments = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    arguments.add_argument("--records", type=int, default=1_000_000)
    arguments.add_argument("--out", action="store_true", help="also write every response")
    told = arguments.parse_args()
    with tempfile.TemporaryDirectory() as made_here:
        folder = Path(made_here)
        file = made(folder / "occurrence.csv", told.records)
        print(f"{told.records:,} records, {file.stat().st_size / 1e6:,.0f} MB")
        print(f"pandas alone  {measured('-c', READ_ALONE, str(file), folder=folder)}")
        code = f"import sys; sys.path.insert(0, {str(ROOT)!r}); from pipeline.cli import entry; entry()"
        out = ["--out", "responses.csv"] if told.out else []
        command = ["-c", code, "audit", str(file), "--today", "2026-11-25", *out]
        print(f"tagsheaf audit  {measured(*command, folder=folder)}")
        if told.out:
            print(f"responses.csv: {(folder / 'responses.csv').stat().st_size / 1e9:.2f} GB")


if __name__ == "__main__":
    main()
