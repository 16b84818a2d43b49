"""Towns that the coordinator placed in an answer: into the programme's own list of places."""

from __future__ import annotations

import csv
import io
import sqlite3
from collections.abc import Mapping
from pathlib import Path

from pipeline.files.ledger import LIVE
from pipeline.files.programme import SITES
from pipeline.remembered import TOWN
from pipeline.values.towns import town_key

CLOSED = "programme/sites.csv is open in another program: close it and run again"


def placed_towns(ledger: sqlite3.Connection) -> dict[str, str]:
    """By name: the point, and metres round it, that the coordinator gave; "" where there is none."""
    query = f"SELECT key, value FROM answers WHERE key LIKE '{TOWN}%' AND {LIVE} ORDER BY answer_id"
    return {key.removeprefix(TOWN): value for key, value in ledger.execute(query)}


def add_sites(path: Path, placed: Mapping[str, str]) -> tuple[str, ...]:
    """Adds the towns that the list lacks, each with a line; says so where it cannot be written."""
    text = path.read_text(encoding="utf-8-sig") if path.is_file() else ""
    known = {town_key(line.get("name") or "") for line in csv.DictReader(io.StringIO(text))}
    new = {name: point.split() for name, point in placed.items() if point and town_key(name) not in known}
    if not new:
        return ()
    lines = io.StringIO(newline="")
    writer = csv.writer(lines, lineterminator="\n")
    if not text.strip():
        writer.writerow(SITES)
    for name, (latitude, longitude, *metres) in new.items():
        writer.writerow((name, latitude, longitude, *(metres or [""]), "yes"))
    break_before = "\n" if text.strip() and not text.endswith("\n") else ""
    try:
        with path.open("a", encoding="utf-8", newline="") as file:
            file.write(break_before + lines.getvalue())
    except OSError:
        return (CLOSED,)
    return ()
