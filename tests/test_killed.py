"""A run that is killed at any moment: the next one goes on by itself, and nothing is lost or doubled."""

from __future__ import annotations

import hashlib
import json
import shutil
import signal
import sqlite3
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest
from openpyxl import load_workbook

from pipeline.files.gate_client import Gate
from pipeline.flow import run
from tests.killed_run import NEVER
from tests.season_folder import TODAY, clean_rows, make_folder, read_table, write_sheet

pytestmark = pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="no SIGKILL outside POSIX")

ROOT = Path(__file__).parents[1]


def first_sheets(folder: Path) -> Path:
    """Two sheets of two people, each with a row to ask about."""
    make_folder(folder)
    doubtful = ["31/09/2026", "male", "Amherst", "Nova Scotia", "51"]
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 12), ["AB0013", *doubtful]])
    write_sheet(folder / "inbox" / "p2" / "fiche.csv", [*clean_rows(31, 6), ["AB0037", *doubtful]])
    return folder


def with_news(folder: Path) -> Path:
    """After a first run: a new sheet, a newer version with a day corrected, a copy, and an answered question sheet."""
    run(first_sheets(folder), TODAY, None)
    inbox = folder / "inbox"
    first, *others = clean_rows(1, 12)
    corrected = [first[0], "2026-09-30", *first[2:]]
    write_sheet(inbox / "p1" / "mine final v2.csv", [corrected, *others, *clean_rows(14, 2)])
    write_sheet(inbox / "p3" / "new.csv", clean_rows(61, 4))
    shutil.copyfile(inbox / "p2" / "fiche.csv", inbox / "p2" / "fiche again.csv")
    book = load_workbook(folder / "outbox" / "volunteers" / "p2" / "questions.xlsx")
    book.worksheets[0]["H2"], book.worksheets[0]["I2"] = "3", "29/09/2026"
    book.save(inbox / "p2" / "questions.xlsx")
    return folder


class Mortal:
    def __init__(self) -> None:
        code = "from tests.killed_run import runs_without_gate; runs_without_gate()"
        self.process = subprocess.Popen([sys.executable, "-c", code], cwd=ROOT, stdin=-1, stdout=-1, encoding="utf-8")

    def told(self, folder, last):
        self.process.stdin.write(json.dumps([str(folder), last]) + "\n")
        self.process.stdin.flush()

    def heard(self):
        return json.loads(self.process.stdout.readline())


def contents(folder):
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def tables(folder):
    said = {}
    with closing(sqlite3.connect(folder / "programme" / "ledger.sqlite")) as ledger:
        assert ledger.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        for (name,) in ledger.execute("SELECT name FROM sqlite_master WHERE type='table'").fetchall():
            c = ledger.execute(f"SELECT * FROM {name}")
            cols = [d[0] for d in c.description]
            said["ledger/" + name] = [dict(zip(cols, line)) for line in c.fetchall()]
    return said


def test_x(tmp_path):
    m = Mortal()
    for scene in (first_sheets, with_news):
        prepared = scene(tmp_path / scene.__name__)
        ref = shutil.copytree(prepared, tmp_path / "ref" / scene.__name__)
        m.told(ref, NEVER)
        steps = m.heard()
        print(len(steps), steps)
        never = contents(ref) | tables(ref)
        n = 12 if scene is first_sheets else 28
        points = [i * (len(steps) - 1) // (n - 1) for i in range(n)]
        for p in points:
            shutil.copytree(prepared, tmp_path / str(p))
            m.told(tmp_path / str(p), p)
        for p in points:
            code = m.heard()
            f = tmp_path / str(p)
            run(f, TODAY, None)
            now = contents(f) | tables(f)
            diff = [k for k in sorted({*now, *never}) if now.get(k) != never.get(k)]
            print(p, steps[p], code, diff)
            shutil.rmtree(f)
