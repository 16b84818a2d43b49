"""Puts question sheets and letters into the folders of the people they are for."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path

from pipeline.files.asked import Asked, Found
from pipeline.files.letters import Letter, finder_letter, letter
from pipeline.files.question_workbook import write_question_workbook

WORKBOOK = "questions.xlsx"
ONE_PROCESS_PEOPLE = 60  # below, a second process costs more than it gives
SHARE = 20  # people handed over at a time


def put(path: Path, content: bytes) -> str:
    """Writes beside the place and renames; the path if the old file is held open by another program."""
    beside = _beside(path)
    try:
        beside.write_bytes(content)
        beside.replace(path)
    except PermissionError:
        beside.unlink(missing_ok=True)
        return str(path)
    return ""


def _beside(path: Path) -> Path:
    return path.with_name(f".{path.name}.new")


def _put_letter(folder: Path, written: Letter) -> list[str]:
    contents = {
        "letter.txt": written.text.encode(),
        "letter.html": written.html.encode(),
        "letter.eml": written.eml_bytes,
    }
    return [stuck for name, content in contents.items() if (stuck := put(folder / name, content))]


def write_person(folder: Path, asked: Asked) -> list[str]:
    """Writes one person's letter, questions.xlsx if there are any; returns paths that were held open."""
    folder.mkdir(parents=True, exist_ok=True)
    workbook = write_question_workbook(asked) if asked.questions else b""
    stuck = _put_letter(folder, letter(asked, workbook))
    if workbook:
        return [*filter(None, [put(folder / WORKBOOK, workbook)]), *stuck]
    try:
        (folder / WORKBOOK).unlink(missing_ok=True)
        _beside(folder / WORKBOOK).unlink(missing_ok=True)  # left by a run that was ended
    except PermissionError:
        stuck.append(str(folder / WORKBOOK))
    return stuck


def write_finder(folder: Path, found: Found) -> list[str]:
    """Writes the letter to a finder who is not in people.csv; returns paths that were held open."""
    folder.mkdir(parents=True, exist_ok=True)
    return _put_letter(folder, finder_letter(found))


def _write_share(volunteers: Path, asked_list: Sequence[Asked]) -> list[str]:
    return [stuck for asked in asked_list for stuck in write_person(volunteers / asked.person_id, asked)]


def write_people(outbox: Path, asked_list: Sequence[Asked]) -> list[str]:
    """Writes everybody's folder below `outbox/volunteers`; returns the paths that were held open."""
    volunteers = outbox / "volunteers"
    if len(asked_list) <= ONE_PROCESS_PEOPLE:
        return _write_share(volunteers, asked_list)
    shares = [asked_list[start : start + SHARE] for start in range(0, len(asked_list), SHARE)]
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as helper:
        # The helper works from the front, we from the back until we meet: it starts late, and no share is like another.
        given = [helper.submit(_write_share, volunteers, share) for share in shares]
        stuck: list[str] = []
        for share, theirs in zip(reversed(shares), reversed(given), strict=True):
            if theirs.cancel():
                stuck += _write_share(volunteers, share)
        return sorted([*stuck, *(path for theirs in given if not theirs.cancelled() for path in theirs.result())])
