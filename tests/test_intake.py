"""Which files are taken from the inbox, in which order, and which are left lying."""

import hashlib
import os
import sys
from pathlib import Path

import pytest

from pipeline.files.intake import find_files, natural_order
from pipeline.files.originals import keep_originals


def put(inbox: Path, *files: str) -> None:
    for file in files:
        path = inbox / file
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(file.encode())


def test_files_at_any_depth_are_found_with_their_sha_256(tmp_path: Path) -> None:
    put(tmp_path, "p03/2026/late/sheet.xlsx", "p01/sheet.csv", "README.md")
    arrivals = find_files(tmp_path).arrivals
    assert [arrival.file for arrival in arrivals] == [
        "p01/sheet.csv",
        "p03/2026/late/sheet.xlsx",
        "README.md",
    ]
    assert arrivals[0].sha256 == hashlib.sha256(b"p01/sheet.csv").hexdigest()
    assert arrivals[0].size == len(b"p01/sheet.csv")
    assert arrivals[0].path == tmp_path / "p01" / "sheet.csv"


@pytest.mark.parametrize(
    ("earlier", "later"),
    [
        pytest.param("p01/v2.xlsx", "p01/v10.xlsx", id="numbers-count"),
        pytest.param("p01/tags.xlsx", "p01/tags final.xlsx", id="plain-name-before-final"),
        pytest.param("p01/tags.xlsx", "p01/tags (1).xlsx", id="plain-name-before-its-copy"),
        pytest.param("P1/a.csv", "p1/b.csv", id="capitals-do-not-count"),
        pytest.param("p2/z.csv", "p10/a.csv", id="folders-in-natural-order-too"),
        pytest.param("p01/9.csv", "p01/tags.csv", id="a-number-before-a-word"),
        pytest.param("p01/tags.csv", "p01/tags.xlsx", id="suffix-last"),
    ],
)
def test_names_sort_as_people_count(earlier: str, later: str) -> None:
    assert sorted([later, earlier], key=natural_order) == [earlier, later]


@pytest.mark.parametrize(
    "name",
    [
        pytest.param("~$sheet.xlsx", id="lock-of-one-office-program"),
        pytest.param(".~lock.sheet.ods#", id="lock-of-another"),
        pytest.param("sheet.xlsx.part", id="half-a-download"),
        pytest.param("sheet (Jo's conflicted copy 2026-09-03).xlsx", id="conflicted-copy"),
    ],
)
def test_what_a_program_left_is_skipped_and_mentioned(tmp_path: Path, name: str) -> None:
    put(tmp_path, f"p01/{name}", "p01/sheet.xlsx")
    intake = find_files(tmp_path)
    assert [arrival.file for arrival in intake.arrivals] == ["p01/sheet.xlsx"]
    assert [left.file for left in intake.skipped] == [f"p01/{name}"]
    assert "program" in intake.skipped[0].why


def test_an_operating_systems_own_files_are_skipped_in_silence(tmp_path: Path) -> None:
    put(tmp_path, ".gitkeep", "p01/Thumbs.db", "p01/desktop.ini", "p01/.DS_Store", ".sync/state/sheet.xlsx")
    intake = find_files(tmp_path)
    assert (intake.arrivals, intake.skipped) == ((), ())


@pytest.mark.skipif(sys.platform == "win32", reason="links need a right of their own there")
def test_links_are_followed_only_inside_the_inbox(tmp_path: Path) -> None:
    inbox, outside = tmp_path / "inbox", tmp_path / "outside"
    put(inbox, "p01/sheet.csv")
    put(outside, "private.csv")
    (inbox / "inside.csv").symlink_to(inbox / "p01" / "sheet.csv")
    (inbox / "leak.csv").symlink_to(outside / "private.csv")
    (inbox / "folder").symlink_to(outside)
    (inbox / "round").symlink_to(inbox)
    intake = find_files(inbox)
    assert [arrival.file for arrival in intake.arrivals] == ["inside.csv", "p01/sheet.csv"]
    assert [left.file for left in intake.skipped] == ["folder", "leak.csv", "round"]


@pytest.mark.skipif(sys.platform == "win32", reason="there are no such files there")
def test_a_file_that_cannot_be_opened_just_now_is_left_for_next_time(tmp_path: Path) -> None:
    put(tmp_path, "p01/sheet.csv")
    os.mkfifo(tmp_path / "p01" / "pipe.csv")
    (tmp_path / "p01" / "gone.csv").symlink_to(tmp_path / "p01" / "nowhere.csv")
    intake = find_files(tmp_path)
    assert [arrival.file for arrival in intake.arrivals] == ["p01/sheet.csv"]
    assert [left.file for left in intake.skipped] == ["p01/gone.csv", "p01/pipe.csv"]
    assert all("next time" in left.why for left in intake.skipped)


@pytest.mark.skipif(sys.platform == "win32" or os.getuid() == 0, reason="nothing is closed to this user")
def test_a_file_without_permission_is_left_for_next_time(tmp_path: Path) -> None:
    put(tmp_path, "p01/sheet.csv")
    (tmp_path / "p01" / "sheet.csv").chmod(0)
    assert [left.file for left in find_files(tmp_path).skipped] == ["p01/sheet.csv"]


@pytest.mark.skipif(sys.platform != "linux", reason="other systems keep names as letters")
def test_a_name_that_is_no_text_or_would_mislead_is_shown_with_a_mark(tmp_path: Path) -> None:
    (tmp_path / os.fsdecode(b"caf\xe9.csv")).write_bytes(b"a")
    (tmp_path / "tags\u202exslx.csv").write_bytes(b"b")
    files = [arrival.file for arrival in find_files(tmp_path).arrivals]
    assert files == ["caf\ufffd.csv", "tags\ufffdxslx.csv"]


@pytest.mark.skipif(sys.platform != "linux", reason="other systems do not allow all of these names")
def test_names_that_try_to_be_paths_are_only_names(tmp_path: Path) -> None:
    inbox, kept = tmp_path / "inbox", tmp_path / "programme" / "originals"
    tricks = ("..\\..\\evil.csv", "C:\\evil.csv", "CON.csv", "aux", "x" * 240 + ".csv", "=cmd.csv", "a\nb.csv")
    for number, name in enumerate(tricks):
        put(inbox, "p01/sheet.csv")
        (inbox / "p01" / name).write_bytes(b"tag\n%d\n" % number)
    arrivals = find_files(inbox).arrivals
    originals = keep_originals(kept, arrivals)
    assert len(arrivals) == len(tricks) + 1
    assert {file.name for file in kept.iterdir()} == {arrival.sha256 for arrival in arrivals}
    assert all(arrival.path.parent == kept for arrival in originals)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["inbox", "programme"]


@pytest.mark.skipif(sys.platform != "linux", reason="other systems do not allow such names")
def test_two_names_that_would_look_the_same_are_told_apart(tmp_path: Path) -> None:
    for mark in ("\u202d", "\u202e"):
        (tmp_path / f"tags{mark}.csv").write_bytes(mark.encode())
    files = [arrival.file for arrival in find_files(tmp_path).arrivals]
    assert len(set(files)) == 2
    assert all(file.startswith("tags\ufffd.csv ~") for file in files)
    assert files == [arrival.file for arrival in find_files(tmp_path).arrivals]


def test_an_inbox_that_is_not_there_is_empty(tmp_path: Path) -> None:
    assert find_files(tmp_path / "inbox").arrivals == ()
