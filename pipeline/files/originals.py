"""Keeps every file received, byte for byte, under its SHA-256."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from pipeline.files.intake import PIECE, Arrival
from pipeline.files.mail import part_of


def keep_originals(folder: Path, arrivals: Iterable[Arrival]) -> list[Arrival]:
    """Copies each file beside the ledger unless its bytes are there already; written beside its place, then renamed.

    Returns the arrivals as they are kept, for they are read from there; without those that vanished or changed since
    they were found, whose bytes are no longer what their SHA-256 says.
    """
    folder.mkdir(parents=True, exist_ok=True)
    for half in folder.glob("*.part"):
        half.unlink()  # left by a run that was ended
    return [
        replace(arrival, path=folder / arrival.sha256, part=()) for arrival in arrivals if _is_kept(folder, arrival)
    ]


def _is_kept(folder: Path, arrival: Arrival) -> bool:
    place = folder / arrival.sha256
    half = place.with_suffix(".part")
    if place.exists():
        return True
    try:
        is_as_found = (_taken_out if arrival.part else _copied)(arrival, half) == arrival.sha256
        if is_as_found:
            half.replace(place)
        return is_as_found
    finally:
        half.unlink(missing_ok=True)


def _taken_out(arrival: Arrival, half: Path) -> str:
    """The SHA-256 of what was taken out of a mail; "" if the mail cannot be opened any more."""
    try:
        mail = arrival.path.read_bytes()
    except OSError:
        return ""
    data = part_of(mail, arrival.part)
    half.write_bytes(data)
    return hashlib.sha256(data).hexdigest()


def _copied(arrival: Arrival, half: Path) -> str:
    """The SHA-256 of what was copied; "" if the file cannot be opened any more."""
    sha256 = hashlib.sha256()
    try:
        file = arrival.path.open("rb")
    except OSError:
        return ""
    with file, half.open("wb") as copy:
        while piece := file.read(PIECE):
            sha256.update(piece)
            copy.write(piece)
    return sha256.hexdigest()
