"""The ledger: one SQLite file, brought forward from older versions, refused where it is newer or another's."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

from pipeline.files.ledger import (
    LedgerUnusable,
    add,
    frame,
    insert,
    keep_cells,
    kept_sheets,
    next_batch_id,
    open_ledger,
)
from pipeline.files.ledger_schema import NEWEST, VERSION_1, VERSIONS, bring_forward
from pipeline.model import FileRead, Sheet

ROW: dict[str, Any] = {
    "file": "p1/mine.csv", "sheet": "", "row": 2, "part": "", "file_sha256": "5a", "key": "k2", "person_id": "p1",
    "state": "clear", "reason": "", "occurrence_id": "urn:uuid:k2", "digest": "d", "modified": "2026-10-20",
    "batch_id": "2026-0001", "is_rounded": "",
}  # fmt: skip
FINDING: dict[str, Any] = {
    "identity": "i1", "ref": "K3H8M2Q", "number": 3, "addressee": "p1", "key": "k3", "person_id": "p1",
    "file": "p1/mine.csv", "file_sha256": "5a", "sheet": "", "row": 3, "column": "B", "field": "eventDate",
    "rule": "day_not_in_calendar", "severity": "must-answer", "asks": "tagger", "seen": "31/09/2026",
    "suggestion": "", "message": "?", "words": "{}", "state": "open", "run": 1,
}  # fmt: skip
OLD_ROWS: tuple[dict[str, Any], ...] = (
    {},
    {"row": 3, "key": "k3", "state": "held", "reason": "day_not_in_calendar", "occurrence_id": "", "digest": ""},
    {"row": 4, "key": "", "state": "left-out", "reason": "total", "occurrence_id": "", "digest": ""},
    {
        "file_sha256": "59",
        "key": "k0",
        "state": "replaced",
        "reason": "newer bytes came at the same path",
        "digest": "",
    },
    {"file": "p1/again.csv", "key": "k2", "state": "copy", "reason": "the same bytes as p1/mine.csv"},
    {"file": "found.csv", "file_sha256": "6b", "key": "k9", "person_id": "", "state": "held"},
)
OLD_FINDINGS: tuple[dict[str, Any], ...] = (
    {},
    {"identity": "i2", "key": "k4", "row": 4},
    {"identity": "i3", "ref": "A2B3C4D", "number": 4, "addressee": "coordinator"},
    {"identity": "i4", "ref": "", "number": 0, "severity": "for-information", "state": "noted"},
)


def old_ledger(path: Path, version: int = 1, programme: str = "marsh") -> Path:
    """A ledger of version 1 with a season in it, as the first tagsheaf left it."""
    with closing(sqlite3.connect(path)) as ledger:
        ledger.executescript(VERSION_1)
        ledger.execute("INSERT INTO about VALUES (?, ?)", (version, programme))
        insert(ledger, "rows", pd.DataFrame([ROW | row for row in OLD_ROWS]))
        insert(ledger, "findings", pd.DataFrame([FINDING | one for one in OLD_FINDINGS]))
        ledger.execute("INSERT INTO runs VALUES (1, '2026-10-20', 'mark', '{}', 1)")
        ledger.execute("INSERT INTO batches VALUES ('2026-0001', '2026-10-20', 1, 0, '{}', 1)")
        ledger.commit()
    return path


def version_of(path: Path) -> int:
    with closing(sqlite3.connect(path)) as ledger:
        return int(ledger.execute("SELECT schema_version FROM about").fetchone()[0])


def made_of(ledger: sqlite3.Connection) -> dict[str, list[tuple[Any, ...]]]:
    """Every table with its columns (name, type, not null, default, place in the key), and every index and trigger."""
    names = ledger.execute(
        "SELECT type, name FROM sqlite_master WHERE name NOT LIKE 'sqlite_%' ORDER BY name"
    ).fetchall()
    return {name: [column[1:] for column in ledger.execute(f"PRAGMA table_info({name})")] for _, name in names}


def test_a_new_ledger_is_of_the_newest_version_and_belongs_to_its_programme(tmp_path: Path) -> None:
    path = tmp_path / "programme" / "ledger.sqlite"
    with closing(open_ledger(path, "marsh")) as ledger:
        assert ledger.execute("SELECT * FROM about").fetchall() == [(NEWEST, "marsh")]
        assert ledger.in_transaction, "nobody else writes until this run has ended"
        ledger.execute("COMMIT")
    with closing(open_ledger(path, "marsh")) as again:
        assert again.execute("SELECT count(*) FROM about").fetchone() == (1,)


def test_an_older_ledger_is_brought_forward_to_what_a_new_one_is(tmp_path: Path) -> None:
    with (
        closing(open_ledger(old_ledger(tmp_path / "old.sqlite"), "marsh")) as old,
        closing(open_ledger(tmp_path / "new.sqlite", "marsh")) as new,
    ):
        assert made_of(old) == made_of(new)
        assert old.execute("SELECT schema_version FROM about").fetchall() == [(NEWEST,)]


def test_what_an_older_ledger_held_is_still_there(tmp_path: Path) -> None:
    with closing(open_ledger(old_ledger(tmp_path / "ledger.sqlite"), "marsh")) as ledger:
        kept = frame(ledger, "SELECT * FROM rows ORDER BY rowid")
        expected = pd.DataFrame([ROW | row for row in OLD_ROWS])[list(kept.columns)]
        assert kept.to_numpy().tolist() == expected.to_numpy().tolist()
        findings = frame(ledger, "SELECT * FROM findings ORDER BY identity")
        assert findings["identity"].tolist() == ["i1", "i2", "i3", "i4"]
        assert set(findings["fingerprint"]) == set(findings["value"]) == {""}
        assert ledger.execute("SELECT count(*) FROM batches").fetchone() == (1,)


def test_what_was_replaced_before_does_not_come_back(tmp_path: Path) -> None:
    # The first version had no versions of rows: a replaced row would be a current one again.
    with closing(open_ledger(old_ledger(tmp_path / "ledger.sqlite"), "marsh")) as ledger:
        gone = ledger.execute("SELECT key, why, who FROM withdrawals").fetchall()
    assert gone == [("k0", "newer bytes came at the same path", "tagsheaf")]


def test_files_of_an_older_ledger_are_not_held_against_each_other_anew(tmp_path: Path) -> None:
    with closing(open_ledger(old_ledger(tmp_path / "ledger.sqlite"), "marsh")) as ledger:
        matched = ledger.execute("SELECT sha256, person_id, older FROM matched ORDER BY sha256").fetchall()
    assert matched == [("59", "p1", ""), ("5a", "p1", "")], "a file of nobody known was never matched"


def test_questions_of_an_older_ledger_keep_their_ref_and_number(tmp_path: Path) -> None:
    with closing(open_ledger(old_ledger(tmp_path / "ledger.sqlite"), "marsh")) as ledger:
        query = "SELECT ref, number, addressee, rule, severity, leading, state FROM questions ORDER BY ref"
        asked = ledger.execute(query).fetchall()
    assert asked == [
        ("A2B3C4D", 4, "coordinator", "day_not_in_calendar", "must-answer", "i3", "closed"),
        ("K3H8M2Q", 3, "p1", "day_not_in_calendar", "must-answer", "i1", "closed"),
    ]


def test_a_ledger_is_brought_forward_with_the_run_or_not_at_all(tmp_path: Path) -> None:
    path = old_ledger(tmp_path / "ledger.sqlite")
    with closing(open_ledger(path, "marsh")) as ledger:
        ledger.execute("ROLLBACK")
    assert version_of(path) == 1
    with closing(open_ledger(path, "marsh")) as ledger:
        ledger.execute("COMMIT")
    assert version_of(path) == NEWEST


def test_a_trial_leaves_the_ledger_as_it_was(tmp_path: Path) -> None:
    path = old_ledger(tmp_path / "ledger.sqlite")
    before = path.read_bytes()
    with closing(open_ledger(path, "marsh", is_trial=True)) as trial:
        assert trial.execute("SELECT count(*) FROM rows").fetchone() == (len(OLD_ROWS),)
        add(trial, "delivered", {"batch_id": "2026-0001", "day": "2026-10-20", "run": 2})
        trial.execute("COMMIT")
    assert path.read_bytes() == before
    with closing(open_ledger(tmp_path / "none.sqlite", "marsh", is_trial=True)):
        assert not (tmp_path / "none.sqlite").exists()


def newer(path: Path) -> None:
    old_ledger(path, NEWEST + 1)


def anothers(path: Path) -> None:
    old_ledger(path, programme="dune")


def no_ledger(path: Path) -> None:
    path.write_text("person_id,name\np1,Ines\n" * 100, encoding="utf-8")


def another_program(path: Path) -> None:
    with closing(sqlite3.connect(path)) as other:
        other.execute("CREATE TABLE songs (title TEXT)")


REFUSED = [
    ("of a newer tagsheaf", newer, "written by a newer tagsheaf. Install that version"),
    ("of another programme", anothers, "belongs to the programme 'dune', but programme.toml says 'marsh'"),
    ("no database at all", no_ledger, "is not a ledger of ours, or it is damaged"),
    ("another program's database", another_program, "is not a ledger of ours, or it is damaged"),
]


@pytest.mark.parametrize(("made", "said"), [case[1:] for case in REFUSED], ids=[case[0] for case in REFUSED])
def test_a_ledger_that_is_not_ours_to_write_is_refused_in_words_and_stays_as_it_was(
    made: Callable[[Path], None], said: str, tmp_path: Path
) -> None:
    path = tmp_path / "ledger.sqlite"
    made(path)
    before = path.read_bytes()
    with pytest.raises(LedgerUnusable, match=said):
        open_ledger(path, "marsh")
    assert path.read_bytes() == before


def test_a_second_run_is_told_that_another_one_is_at_work(tmp_path: Path) -> None:
    path = tmp_path / "programme" / "ledger.sqlite"
    with (
        closing(open_ledger(path, "marsh")),
        pytest.raises(LedgerUnusable, match=r"Another run is at work on programme/ledger\.sqlite\. Wait"),
    ):
        open_ledger(path, "marsh")
    with closing(open_ledger(path, "marsh")) as after:
        assert after.in_transaction, "the first run has ended"


def test_where_no_ledger_can_be_made_it_is_said_plainly(tmp_path: Path) -> None:
    (tmp_path / "ledger.sqlite").mkdir()
    with pytest.raises(LedgerUnusable, match="cannot be written"):
        open_ledger(tmp_path / "ledger.sqlite", "marsh")


ENTRY = {"run": 1, "day": "2026-10-20", "who": "p1", "what": "x", "about": "k2", "was": "", "became": "", "why": ""}
# A line that is put in another's place fires no trigger about deleting (SQLite, "The OR REPLACE conflict resolution").
INSTEAD = "INSERT OR REPLACE INTO journal SELECT 1, 2, day, who, what, about, was, became, 'y' FROM journal"
CHANGES = [
    ("rewritten", "UPDATE journal SET why = 'another'"),
    ("one entry taken out", "DELETE FROM journal WHERE entry = 1"),
    ("emptied", "DELETE FROM journal"),
    ("an entry put in another's place", INSTEAD),
]


@pytest.mark.parametrize("change", [case[1] for case in CHANGES], ids=[case[0] for case in CHANGES])
@pytest.mark.parametrize("is_old", [False, True], ids=["of a new ledger", "of one brought forward"])
def test_the_journal_cannot_be_changed(change: str, is_old: bool, tmp_path: Path) -> None:
    path = tmp_path / "ledger.sqlite"
    if is_old:
        old_ledger(path)
    with closing(open_ledger(path, "marsh")) as ledger:
        add(ledger, "journal", ENTRY)
        with pytest.raises(sqlite3.DatabaseError, match="the journal is only added to"):
            ledger.execute(change)
        add(ledger, "journal", ENTRY | {"why": "added"})
        assert ledger.execute("SELECT run, why FROM journal ORDER BY entry").fetchall() == [(1, ""), (1, "added")]


def test_the_versions_follow_one_another_from_an_empty_file() -> None:
    assert len(VERSIONS) == NEWEST
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as ledger:
        bring_forward(ledger, 0)
        tables = {name for (name,) in ledger.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
    assert {"about", "rows", "findings", "journal", "answers", "waivers", "rounds"} <= tables


def test_a_line_with_the_same_key_takes_the_place_of_the_older(tmp_path: Path) -> None:
    with closing(open_ledger(tmp_path / "ledger.sqlite", "marsh")) as ledger:
        links = pd.DataFrame({"place": ["b:2", "b:3"], "key": ["a:2", "a:3"], "how": "copy", "run": 1})
        insert(ledger, "links", links)
        insert(ledger, "links", links.iloc[:1].assign(how="newer", run=2))
        insert(ledger, "links", links.iloc[:0])
        kept = frame(ledger, "SELECT place, how, run FROM links ORDER BY place")
    assert kept.to_numpy().tolist() == [["b:2", "newer", 2], ["b:3", "copy", 1]]
    assert [str(dtype) for dtype in kept.dtypes] == ["str", "str", "int64"]


def test_a_query_that_gives_nothing_has_its_columns(tmp_path: Path) -> None:
    with closing(open_ledger(tmp_path / "ledger.sqlite", "marsh")) as ledger:
        nothing = frame(ledger, "SELECT key, row FROM rows WHERE key = ?", ["k1"])
    assert nothing.empty and list(nothing.columns) == ["key", "row"]


def test_cells_come_back_as_they_were_read(tmp_path: Path) -> None:
    sheet = Sheet("p1/a.xlsx", "5a", "Étiquettes", (("Tag", "Day"), (), ("AB0001",)), ("tt", "", "t"), frozenset({3}))
    hidden = Sheet("p1/a.xlsx", "5a", "Notes", (("=1+1",),), ("f",), is_hidden=True)
    with closing(open_ledger(tmp_path / "ledger.sqlite", "marsh")) as ledger:
        keep_cells(ledger, [FileRead("p1/a.xlsx", "5a", (sheet, hidden)), FileRead("p2/b.xlsx", "5a", (sheet,))])
        assert kept_sheets(ledger, {"5a": "p1/a.xlsx"}) == {"5a": (sheet, hidden)}
        moved = kept_sheets(ledger, {"5a": "p1/late/a.xlsx", "6b": "none.csv"})
    assert [one.file for one in moved["5a"]] == ["p1/late/a.xlsx"] * 2 and moved["6b"] == ()


def test_batches_are_numbered_season_by_season(tmp_path: Path) -> None:
    with closing(open_ledger(tmp_path / "ledger.sqlite", "marsh")) as ledger:
        assert next_batch_id(ledger, "2026") == "2026-0001"
        for batch_id in ("2025-0001", "2025-0002", "2026-0001"):
            line = {"batch_id": batch_id, "day": "2026-10-20", "records": 1, "withdrawn": 0, "sha256s": json.dumps({})}
            add(ledger, "batches", line | {"run": 1})
        assert next_batch_id(ledger, "2026") == "2026-0002" and next_batch_id(ledger, "2027") == "2027-0001"
