"""What was learnt about people's sheets from answers: which heading of theirs is which field."""

from __future__ import annotations

import sqlite3

from pipeline.files.ledger import LIVE
from pipeline.files.recall import HEADING, UNKNOWN


def headings_learnt(ledger: sqlite3.Connection) -> list[tuple[str, str, str]]:
    """Person, heading as written and field of every heading that was answered about, each once."""
    query = f"""
        SELECT DISTINCT (SELECT person_id FROM rows WHERE file_sha256 = substr(answers.key, 1, 64)), base_written, value
        FROM answers WHERE field = ? AND choice != ? AND {LIVE} ORDER BY 1, 2
    """
    lines = ledger.execute(query, (HEADING, UNKNOWN))
    return [(person or "somebody", written, field) for person, written, field in lines]
