"""A ledger or a disk that cannot be used, files half there: one plain line, nothing lost, and the next run is fine."""

from __future__ import annotations

import errno
import hashlib
import os
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from pipeline.cli import main
from pipeline.files.ledger import LedgerUnusable, disk_in_words
from pipeline.flow import run
from tests.killed_run import ROOT, typed
from tests.season_folder import TODAY, clean_rows, make_folder, rows, write_sheet

LONG_AGO = 1_000_000_000  # in seconds since 1970: `run` starts its gate early only for files younger than the ledger
posix = pytest.mark.skipif(os.name != "posix", reason="permissions, limits and signals of POSIX")
Undo = Callable[[], object]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A programme after its first run, with a sheet that is new."""
    made = make_folder(tmp_path / "season")
    write_sheet(made / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    run(made, TODAY, None)
    write_sheet(made / "inbox" / "p2" / "fiche.csv", clean_rows(31, 10))
    return as_of_long_ago(made)


def as_of_long_ago(folder: Path) -> Path:
    """Everything older than the ledger."""
    for path in (*(folder / "inbox").rglob("*"), *(folder / "programme").glob("*.*")):
        if path != ledger_of(folder):
            os.utime(path, (LONG_AGO, LONG_AGO))
    return folder


def ledger_of(folder: Path) -> Path:
    return folder / "programme" / "ledger.sqlite"


def contents(folder: Path) -> dict[str, bytes]:
    """Every file of a folder."""
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def outbox_and_ledger(folder: Path) -> dict[str, bytes]:
    """All that counts as written: what is staged, or kept beside the ledger, is made good by the next run."""
    kept = contents(folder).items()
    return {name: content for name, content in kept if ".staging" not in name and "originals" not in name}


def is_one_plain_line(said: str) -> bool:
    return len(said.strip().splitlines()) == 1 and "Traceback" not in said and "fault" not in said


def is_made_good(folder: Path) -> bool:
    """The next run takes everything, each row once, and leaves nothing half done."""
    run(folder, TODAY, None)
    states = [line["state"] for line in rows(folder)]
    left = [path.name for path in folder.rglob("*") if path.suffix in (".part", ".new") or path.name == ".staging"]
    letters = {path.parent.name for path in (folder / "outbox" / "volunteers").glob("*/letter.eml")}
    return (states, left, letters) == (["clear"] * 22, [], {"p1", "p2"})


def changed_by_hand(change: str) -> Callable[[Path], Undo]:
    """Changes the ledger; undone by the bytes that were there."""

    def spoil(folder: Path) -> Undo:
        before = ledger_of(folder).read_bytes()
        with closing(sqlite3.connect(ledger_of(folder))) as ledger, ledger:
            ledger.execute(change)
        return lambda: ledger_of(folder).write_bytes(before)

    return spoil


def another_at_work(folder: Path) -> Undo:
    other = sqlite3.connect(ledger_of(folder), isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    return other.close


def no_database(folder: Path) -> Undo:
    before = ledger_of(folder).read_bytes()
    ledger_of(folder).write_text("Dear Maud, the ledger is in the other folder.\n" * 40, encoding="utf-8")
    return lambda: ledger_of(folder).write_bytes(before)


def damaged(folder: Path) -> Undo:
    before = ledger_of(folder).read_bytes()
    middle, piece = len(before) // 2, len(before) // 5
    ledger_of(folder).write_bytes(before[: middle - piece] + b"\xff" * (2 * piece) + before[middle + piece :])
    return lambda: ledger_of(folder).write_bytes(before)


def a_folder_in_its_place(folder: Path) -> Undo:
    aside = ledger_of(folder).rename(folder / "aside")
    ledger_of(folder).mkdir()

    def put_back() -> None:
        ledger_of(folder).rmdir()
        aside.rename(ledger_of(folder))

    return put_back


ANOTHERS = "UPDATE about SET programme_id = 'dune'"
NEWER = "UPDATE about SET schema_version = 99"
UNUSABLE = {
    "another run at work": (another_at_work, "Another run is at work"),
    "of another programme": (changed_by_hand(ANOTHERS), "belongs to the programme 'dune'"),
    "of a newer tagsheaf": (changed_by_hand(NEWER), "written by a newer tagsheaf"),
    "no database": (no_database, "is not a ledger of ours, or it is damaged"),
    "damaged in the middle": (damaged, "is not a ledger of ours, or it is damaged"),
    "a folder of its name": (a_folder_in_its_place, "cannot be written"),
}


@pytest.mark.parametrize(("spoil", "words"), UNUSABLE.values(), ids=UNUSABLE)
def test_a_ledger_that_cannot_be_used_is_one_plain_line_and_nothing_is_written(
    spoil: Callable[[Path], Undo], words: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    put_right = spoil(folder)
    before = outbox_and_ledger(folder)
    code = main(["run", str(folder), "--today", TODAY.isoformat()])
    said = capsys.readouterr().err
    assert code == 4 and words in said and is_one_plain_line(said), said
    assert outbox_and_ledger(folder) == before
    put_right()
    assert is_made_good(folder)


def test_status_can_be_asked_while_a_run_is_at_work(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    ends = another_at_work(folder)
    assert main(["status", str(folder), "--today", TODAY.isoformat()]) == 0
    assert "1 file is new in the inbox" in capsys.readouterr().out
    ends()


def test_wherever_a_ledger_is_damaged_a_run_is_fine_or_says_so_and_a_copy_put_back_is_fine(folder: Path) -> None:
    before = ledger_of(folder).read_bytes()
    refused = 0
    for at in range(4096, len(before), len(before) // 6):
        ledger_of(folder).write_bytes(before[:at] + b"\xff" * 2048 + before[at + 2048 :])
        try:
            run(folder, TODAY, None)
        except (LedgerUnusable, sqlite3.DatabaseError) as fault:
            said = str(fault) if isinstance(fault, LedgerUnusable) else disk_in_words(fault)
            assert "it is damaged" in said and "Put back a copy" in said, at
            refused += 1
    assert refused > 2
    ledger_of(folder).write_bytes(before)
    assert is_made_good(folder)


def test_a_batch_that_a_ledger_put_back_does_not_know_is_not_written_again(folder: Path) -> None:
    copy = ledger_of(folder).read_bytes()
    run(folder, TODAY, None)
    portal = folder / "outbox" / "portal"
    before = contents(portal)
    before.pop("archive.zip")  # the whole as of the last batch: the one file there that is written anew
    ledger_of(folder).write_bytes(copy)
    write_sheet(folder / "inbox" / "p3" / "late.csv", clean_rows(61, 4))
    outcome = run(folder, TODAY, None)
    assert outcome.figures.batch == {"id": "2026-0003", "records": "14", "withdrawn": "0"}
    assert sorted(path.name for path in portal.glob("2026-*")) == ["2026-0001", "2026-0002", "2026-0003"]
    assert before.items() <= contents(portal).items()


def test_a_ledger_is_only_refused_for_what_a_person_can_put_right(folder: Path) -> None:
    with closing(sqlite3.connect(ledger_of(folder))) as ledger, pytest.raises(sqlite3.OperationalError) as slip:
        ledger.execute("SELECT wings FROM butterflies")
    assert disk_in_words(slip.value) == "", "a slip in our own words to the database is our fault"


def without_the_rights_of_root() -> None:
    """Even root may then only write what its permissions say (Linux, capabilities(7): CAP_DAC_OVERRIDE is 1)."""
    import ctypes

    if os.geteuid() == 0:
        ctypes.CDLL(None).prctl(24, 1, 0, 0, 0)  # PR_CAPBSET_DROP


READ_ONLY = {
    "the programme's folder": ("programme", 0o555),
    "the ledger": ("programme/ledger.sqlite", 0o444),
}


@posix
@pytest.mark.skipif(
    os.name == "posix" and os.geteuid() == 0 and sys.platform != "linux", reason="root may write everything"
)
@pytest.mark.parametrize(("name", "mode"), READ_ONLY.values(), ids=READ_ONLY)
def test_what_is_read_only_is_said_plainly(name: str, mode: int, folder: Path) -> None:
    before, usual = contents(folder), (folder / name).stat().st_mode
    (folder / name).chmod(mode)
    try:
        done = subprocess.run(
            [sys.executable, "-m", "pipeline.cli", "run", str(folder), "--today", TODAY.isoformat()],
            cwd=ROOT, capture_output=True, text=True, preexec_fn=without_the_rights_of_root,
        )  # fmt: skip
    finally:
        (folder / name).chmod(usual)
    assert done.returncode == 4 and is_one_plain_line(done.stderr), done.stderr
    assert "cannot be written" in done.stderr or "Permission denied" in done.stderr
    assert contents(folder) == before
    assert is_made_good(folder)


def limited_to(size: int) -> Callable[[], None]:
    """No file may grow beyond a size, as on a disk that is full or a quota used up."""

    def limit() -> None:
        import resource

        resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))

    return limit


ROOM = {
    # how large a file may grow, how many rows the new sheet has, what is said
    "for nothing": (lambda size: 100, 5, "The disk is full"),
    "for no new original": (lambda size: 30_000, 1_000, os.strerror(errno.EFBIG)),
    "for one page more in the ledger": (lambda size: size + 4096, 200, "The disk is full"),
}


@posix
@pytest.mark.parametrize(("most", "count", "words"), ROOM.values(), ids=ROOM)
def test_a_full_disk_is_said_plainly_and_nothing_is_lost(
    most: Callable[[int], int], count: int, words: str, folder: Path
) -> None:
    write_sheet(folder / "inbox" / "p2" / "long.csv", clean_rows(41, count))
    as_of_long_ago(folder)
    size = most(ledger_of(folder).stat().st_size)
    before = outbox_and_ledger(folder)
    done = subprocess.run(
        [sys.executable, "-m", "pipeline.cli", "run", str(folder), "--today", TODAY.isoformat()],
        cwd=ROOT, capture_output=True, text=True, preexec_fn=limited_to(size),
    )  # fmt: skip
    assert done.returncode == 4 and is_one_plain_line(done.stderr), done.stderr
    assert words in done.stderr
    (folder / "inbox" / "p2" / "long.csv").unlink()
    after = outbox_and_ledger(folder)
    after.pop("programme/ledger.sqlite-journal", None)
    before.pop("inbox/p2/long.csv")
    assert after == before
    assert is_made_good(folder)


@posix
def test_a_disk_that_is_full_once_the_ledger_is_written_is_made_good_by_the_next_run(folder: Path) -> None:
    process = typed(folder, "open .letter.txt.new", "refuse", errno.ENOSPC)
    _, said = process.communicate(timeout=120)
    assert process.returncode == 4 and is_one_plain_line(said) and os.strerror(errno.ENOSPC) in said, said
    assert not list((folder / "outbox" / "volunteers" / "p2").glob("letter.*"))
    assert is_made_good(folder)
    assert sorted(path.name for path in (folder / "outbox" / "portal").glob("2026-*")) == ["2026-0001", "2026-0002"]


@posix
def test_a_file_that_a_program_holds_open_is_named_and_written_by_the_next_run(folder: Path) -> None:
    """On Windows a file that is open elsewhere cannot be replaced: the rename is refused, as it is here."""
    letters = folder / "outbox" / "volunteers"
    process = typed(folder, "os.rename .letter.txt.new letter.txt", "refuse", errno.EACCES)
    said, faults = process.communicate(timeout=120)
    assert process.returncode == 0 and not faults
    told = " ".join(said.split())
    assert "letter.txt is open in another program: close it and run again" in told
    assert (letters / "p2" / "letter.eml").is_file() and not (letters / "p2" / "letter.txt").exists()
    assert is_made_good(folder)
    assert (letters / "p2" / "letter.txt").is_file(), "although nothing is new in the inbox"


def test_what_is_half_copied_is_left_lying_and_taken_when_it_is_whole(folder: Path) -> None:
    sheet = folder / "inbox" / "p2" / "fiche.csv"
    half = sheet.rename(sheet.with_name("fiche.csv.part"))
    for name in ("~$fiche.xlsx", ".~lock.fiche.ods#"):
        (sheet.parent / name).write_bytes(b"Remi".ljust(165))
    outcome = run(folder, TODAY, None)
    left = [note for note in outcome.notes if note.endswith("is not yet whole")]
    assert len(left) == 3 and sum(outcome.figures.rows.values()) == 12
    assert run(folder, TODAY, None).is_unchanged
    half.rename(sheet)
    for name in ("~$fiche.xlsx", ".~lock.fiche.ods#"):
        (sheet.parent / name).unlink()
    assert is_made_good(folder)


@posix
def test_a_file_that_vanishes_or_grows_while_we_look_is_taken_next_time_and_the_others_at_once(folder: Path) -> None:
    sheets = folder / "inbox" / "p1"
    vanishes = write_sheet(sheets / "x vanishes.csv", clean_rows(13, 2))
    grows = write_sheet(sheets / "y grows.csv", clean_rows(15, 3))
    shutil.copyfile(grows, sheets / "z copy of what grows.csv")
    seen_first = hashlib.sha256((folder / "inbox" / "p2" / "fiche.csv").read_bytes()).hexdigest()
    process = typed(folder, f"open {seen_first}.part", "take away", vanishes, "write on", grows)
    said, faults = process.communicate(timeout=120)
    assert process.returncode == 0 and not faults, faults
    told = " ".join(said.split())
    for name in ("x vanishes", "y grows"):
        assert f"p1/{name}.csv changed or vanished while we looked at it; it will be taken next time" in told
    assert {line["file"] for line in rows(folder)} == {"p1/mine.csv", "p2/fiche.csv"}
    run(folder, TODAY, None)
    files = [line["file"] for line in rows(folder)]
    assert {file: files.count(file) for file in files} == {
        "p1/mine.csv": 12, "p2/fiche.csv": 10, "p1/y grows.csv": 4, "p1/z copy of what grows.csv": 3,
    }  # fmt: skip
    originals = list((folder / "programme" / "originals").iterdir())
    assert len(originals) == 4
    assert all(hashlib.sha256(path.read_bytes()).hexdigest() == path.name for path in originals)
