"""Stories: a folder with an inbox goes through a run, and the whole outbox is held against the one written down.

To write an outbox down anew after reading the difference: TAGSHEAF_WRITE_STORIES=1 pytest tests/test_stories.py
"""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from pipeline.files.gate_client import Gate
from pipeline.flow import run
from tests.season_folder import TODAY

STORIES = Path(__file__).parent / "stories"
COMPARED = (".csv", ".txt")  # the words; pages, mails and workbooks are named and looked at in tests of their own


def told(outbox: Path) -> dict[str, str]:
    """The outbox as text: the words of its tables and letters, and the names of all its files."""
    paths = sorted(path for path in outbox.rglob("*") if path.is_file())
    names = "".join(path.relative_to(outbox).as_posix() + "\n" for path in paths if path.name != "files.txt")
    texts = {
        path.relative_to(outbox).as_posix(): path.read_text(encoding="utf-8")
        for path in paths
        if path.suffix in COMPARED
    }
    return {**texts, "files.txt": names}


@pytest.mark.parametrize("name", sorted(path.name for path in STORIES.iterdir() if path.is_dir()))
def test_a_story_ends_as_it_is_written_down(name: str, tmp_path: Path, gate: Gate) -> None:
    story, folder = STORIES / name, tmp_path / "season"
    for part in ("programme", "inbox"):
        shutil.copytree(story / part, folder / part)
    run(folder, TODAY, lambda: gate)
    came = told(folder / "outbox")
    if os.environ.get("TAGSHEAF_WRITE_STORIES"):
        _write_down(story / "outbox", came)
    written_down = {
        path.relative_to(story / "outbox").as_posix(): path.read_text(encoding="utf-8")
        for path in sorted((story / "outbox").rglob("*"))
        if path.is_file()
    }
    assert came == written_down


def _write_down(outbox: Path, came: dict[str, str]) -> None:
    shutil.rmtree(outbox, ignore_errors=True)
    for name, text in came.items():
        path = outbox / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="")
