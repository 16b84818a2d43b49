"""Keeps every file received, byte for byte, under its SHA-256."""

from __future__ import annotations

import shutil
from collections.abc import Iterable
from pathlib import Path

from pipeline.files.intake import Arrival


def keep_originals(folder: Path, arrivals: Iterable[Arrival]) -> None:
    """Copies each file beside the ledger unless its bytes are there already; written beside its place, then renamed."""
    folder.mkdir(parents=True, exist_ok=True)
    for arrival in arrivals:
        kept = folder / arrival.sha256
        if not kept.exists():
            half = kept.with_suffix(".part")
            shutil.copyfile(arrival.path, half)
            half.replace(kept)
