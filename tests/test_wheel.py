"""The wheel stands alone: built, installed outside the checkout, run on a copy of the demo."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]


def test_the_wheel_runs_the_demo_outside_the_checkout(tmp_path: Path) -> None:
    source = tmp_path / "source"
    ignored = shutil.ignore_patterns(
        ".git", ".venv", "build", "*.egg-info", "outbox", "originals", "ledger.sqlite*", ".*cache"
    )
    shutil.copytree(ROOT, source, ignore=ignored)
    wheel = _built(source, tmp_path)
    site = tmp_path / "site"
    _install(wheel, site)
    folder = tmp_path / "season"
    for name in ("programme", "inbox"):
        shutil.copytree(source / name, folder / name)
    done = _run(site, folder)
    assert done.returncode == 1, done.stderr
    assert "wait for" in done.stdout.splitlines()[-2] + done.stdout.splitlines()[-1]
    assert (folder / "outbox" / "portal" / "2026-0001" / "occurrence.csv").is_file()


def _built(source: Path, tmp_path: Path) -> Path:
    """The wheel, built with the build tools of this environment."""
    command = [
        sys.executable,
        "-m",
        "build",
        "--wheel",
        "--no-isolation",
        "--outdir",
        str(tmp_path / "dist"),
        str(source),
    ]
    done = subprocess.run(command, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout[-2000:] + done.stderr[-2000:]
    return next((tmp_path / "dist").glob("tagsheaf-*.whl"))


def _install(wheel: Path, site: Path) -> None:
    """Into a folder of its own; the libraries are those of this environment."""
    command = [sys.executable, "-m", "pip", "install", "--no-deps", "--no-index", "--target", str(site), str(wheel)]
    done = subprocess.run(command, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr[-2000:]


def _run(site: Path, folder: Path) -> subprocess.CompletedProcess[str]:
    code = "import pipeline, sys; assert 'site' in pipeline.__file__; from pipeline.cli import entry; entry()"
    return subprocess.run(
        [sys.executable, "-c", code, "run", "--today", "2026-11-25"],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(site)},
        capture_output=True,
        text=True,
    )
