"""The batches in the ledger: every file as it left the house, so that the whole follows from the ledger alone."""

from __future__ import annotations

import hashlib
import json
import sqlite3
from pathlib import Path

import pyarrow as pa

CODEC = "zstd"
BATCHES = "SELECT batch_id FROM batches ORDER BY run, batch_id"


def keep_batch(ledger: sqlite3.Connection, batch_id: str, folder: Path) -> None:
    """Keeps the files of a batch, packed; a hundred thousand records take about 4 MB."""
    for path in sorted(folder.iterdir()):
        with pa.OSFile(str(path)) as file:
            content = file.read_buffer()
        packed = pa.compress(content, codec=CODEC, asbytes=True) if content.size else b""
        line = (batch_id, path.name, content.size, packed)
        ledger.execute("INSERT OR REPLACE INTO published VALUES (?, ?, ?, ?)", line)


def take_in_batches(ledger: sqlite3.Connection, portal: Path) -> None:
    """Keeps batches that an older ledger only named, from their folders if those are what was written."""
    query = "SELECT batch_id, sha256s FROM batches WHERE batch_id NOT IN (SELECT batch_id FROM published)"
    for batch_id, sha256s in ledger.execute(query).fetchall():
        written, folder = json.loads(sha256s), portal / batch_id
        if all(_sha256(folder / name) == sha256 for name, sha256 in written.items()):
            keep_batch(ledger, batch_id, folder)


def _sha256(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest() if path.is_file() else ""


def batch_ids(ledger: sqlite3.Connection) -> list[str]:
    """The batches that passed the gate, in their order."""
    return [batch_id for (batch_id,) in ledger.execute(BATCHES)]


def lost_batches(ledger: sqlite3.Connection) -> list[str]:
    """Batches of an older ledger whose files are neither kept nor in the outbox as they were written."""
    kept = {batch_id for (batch_id,) in ledger.execute("SELECT DISTINCT batch_id FROM published")}
    return [batch_id for batch_id in batch_ids(ledger) if batch_id not in kept]


def batch_file(ledger: sqlite3.Connection, batch_id: str, name: str) -> pa.Buffer | None:
    """A file of a batch, byte for byte; None if the batch has no such file."""
    query = "SELECT size, packed FROM published WHERE batch_id = ? AND name = ?"
    kept = ledger.execute(query, (batch_id, name)).fetchone()
    if kept is None:
        return None
    size, packed = kept
    return pa.decompress(packed, decompressed_size=size, codec=CODEC) if size else pa.py_buffer(b"")


def put_back_batches(ledger: sqlite3.Connection, outbox: Path) -> None:
    """Writes the folder of a batch again that is gone from the outbox; one that is there stays as it is."""
    for batch_id in batch_ids(ledger):
        place, staged = outbox / "portal" / batch_id, outbox / ".staging" / batch_id
        names = [name for (name,) in ledger.execute("SELECT name FROM published WHERE batch_id = ?", (batch_id,))]
        if place.exists() or not names:
            continue
        staged.mkdir(parents=True, exist_ok=True)
        for name in names:
            (staged / name).write_bytes(batch_file(ledger, batch_id, name) or b"")
        place.parent.mkdir(parents=True, exist_ok=True)
        staged.rename(place)
