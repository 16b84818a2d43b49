"""The tables of the ledger, version by version: a ledger of an older version is brought forward, never rewritten."""

from __future__ import annotations

import sqlite3

VERSION_1 = """
CREATE TABLE about (schema_version INTEGER NOT NULL, programme_id TEXT NOT NULL);
CREATE TABLE runs (
    run INTEGER PRIMARY KEY, today TEXT NOT NULL, mark TEXT NOT NULL, figures TEXT NOT NULL,
    exit_code INTEGER NOT NULL
);
CREATE TABLE files (
    file_id INTEGER PRIMARY KEY, file TEXT NOT NULL, sha256 TEXT NOT NULL, size INTEGER NOT NULL,
    received TEXT NOT NULL, refusal TEXT NOT NULL, what TEXT NOT NULL, copy_of TEXT NOT NULL,
    replaced_by TEXT NOT NULL DEFAULT '', run INTEGER NOT NULL
);
CREATE TABLE cells (
    sha256 TEXT NOT NULL, sheet_number INTEGER NOT NULL, sheet TEXT NOT NULL, is_hidden INTEGER NOT NULL,
    hidden_rows TEXT NOT NULL, kinds TEXT NOT NULL, texts TEXT NOT NULL,
    PRIMARY KEY (sha256, sheet_number)
);
CREATE TABLE rows (
    file TEXT NOT NULL, sheet TEXT NOT NULL, row INTEGER NOT NULL, part TEXT NOT NULL, file_sha256 TEXT NOT NULL,
    key TEXT NOT NULL, person_id TEXT NOT NULL, state TEXT NOT NULL, reason TEXT NOT NULL,
    occurrence_id TEXT NOT NULL, digest TEXT NOT NULL, modified TEXT NOT NULL, batch_id TEXT NOT NULL,
    is_rounded TEXT NOT NULL
);
CREATE TABLE findings (
    identity TEXT PRIMARY KEY, ref TEXT NOT NULL, number INTEGER NOT NULL, addressee TEXT NOT NULL, key TEXT NOT NULL,
    person_id TEXT NOT NULL, file TEXT NOT NULL, file_sha256 TEXT NOT NULL, sheet TEXT NOT NULL, row INTEGER NOT NULL,
    "column" TEXT NOT NULL, field TEXT NOT NULL, rule TEXT NOT NULL, severity TEXT NOT NULL, asks TEXT NOT NULL,
    seen TEXT NOT NULL, suggestion TEXT NOT NULL, message TEXT NOT NULL, words TEXT NOT NULL, state TEXT NOT NULL,
    run INTEGER NOT NULL
) WITHOUT ROWID;
CREATE TABLE batches (
    batch_id TEXT PRIMARY KEY, day TEXT NOT NULL, records INTEGER NOT NULL, withdrawn INTEGER NOT NULL,
    sha256s TEXT NOT NULL, run INTEGER NOT NULL
)
"""

# links: a sheet row that came before (how: copy or newer), by the key of the place where it stands.
# matched: files held against the sender's earlier ones, and of which of them each is a newer version.
# answers: one line a question and cell. waivers: what was confirmed, as long as what the rule read stays so.
VERSION_2 = """
CREATE TABLE journal (
    entry INTEGER PRIMARY KEY, run INTEGER NOT NULL, day TEXT NOT NULL, who TEXT NOT NULL, what TEXT NOT NULL,
    about TEXT NOT NULL, was TEXT NOT NULL, became TEXT NOT NULL, why TEXT NOT NULL
);
CREATE TRIGGER journal_is_never_changed BEFORE UPDATE ON journal
    BEGIN SELECT RAISE(ABORT, 'the journal is only added to'); END;
CREATE TRIGGER journal_is_never_shortened BEFORE DELETE ON journal
    BEGIN SELECT RAISE(ABORT, 'the journal is only added to'); END;
CREATE TRIGGER journal_entries_keep_their_place BEFORE INSERT ON journal
    WHEN NEW.entry IN (SELECT entry FROM journal)
    BEGIN SELECT RAISE(ABORT, 'the journal is only added to'); END;
CREATE TABLE links (
    place TEXT PRIMARY KEY, key TEXT NOT NULL, how TEXT NOT NULL, run INTEGER NOT NULL
) WITHOUT ROWID;
CREATE TABLE matched (
    sha256 TEXT NOT NULL, person_id TEXT NOT NULL, older TEXT NOT NULL, run INTEGER NOT NULL,
    PRIMARY KEY (sha256, person_id)
) WITHOUT ROWID;
CREATE TABLE questions (
    ref TEXT PRIMARY KEY, number INTEGER NOT NULL, addressee TEXT NOT NULL, rule TEXT NOT NULL,
    severity TEXT NOT NULL, leading TEXT NOT NULL, n_rows INTEGER NOT NULL, is_sheet INTEGER NOT NULL,
    state TEXT NOT NULL, since TEXT NOT NULL, run INTEGER NOT NULL
) WITHOUT ROWID;
CREATE TABLE answers (
    answer_id INTEGER PRIMARY KEY, ref TEXT NOT NULL, key TEXT NOT NULL, field TEXT NOT NULL, choice TEXT NOT NULL,
    value TEXT NOT NULL, kind TEXT NOT NULL, base_written TEXT NOT NULL, base_value TEXT NOT NULL, why TEXT NOT NULL,
    who TEXT NOT NULL, day TEXT NOT NULL, run INTEGER NOT NULL
);
CREATE TABLE answer_lines (
    file TEXT NOT NULL, file_sha256 TEXT NOT NULL, sheet TEXT NOT NULL, row INTEGER NOT NULL, person_id TEXT NOT NULL,
    ref TEXT NOT NULL, typed TEXT NOT NULL, value TEXT NOT NULL, why TEXT NOT NULL, outcome TEXT NOT NULL,
    key TEXT NOT NULL, field TEXT NOT NULL, was TEXT NOT NULL, answered TEXT NOT NULL, run INTEGER NOT NULL
);
CREATE TABLE waivers (
    key TEXT NOT NULL, rule TEXT NOT NULL, fingerprint TEXT NOT NULL, ref TEXT NOT NULL, why TEXT NOT NULL,
    who TEXT NOT NULL, day TEXT NOT NULL, run INTEGER NOT NULL
);
CREATE TABLE withdrawals (
    key TEXT NOT NULL, why TEXT NOT NULL, who TEXT NOT NULL, day TEXT NOT NULL, run INTEGER NOT NULL
);
CREATE TABLE tag_fates (
    tag TEXT NOT NULL, fate TEXT NOT NULL, who TEXT NOT NULL, day TEXT NOT NULL, run INTEGER NOT NULL
);
CREATE TABLE tags_of_people (
    person_id TEXT PRIMARY KEY, counts TEXT NOT NULL, unheard TEXT NOT NULL
) WITHOUT ROWID;
CREATE TABLE rounds (
    person_id TEXT NOT NULL, day TEXT NOT NULL, refs TEXT NOT NULL, run INTEGER NOT NULL
);
CREATE TABLE past (
    occurrence_id TEXT PRIMARY KEY, season TEXT NOT NULL, tag TEXT NOT NULL, kind TEXT NOT NULL, day TEXT NOT NULL,
    latitude TEXT NOT NULL, longitude TEXT NOT NULL, sex TEXT NOT NULL, species TEXT NOT NULL, file TEXT NOT NULL,
    run INTEGER NOT NULL
) WITHOUT ROWID;
CREATE TABLE delivered (batch_id TEXT NOT NULL, day TEXT NOT NULL, run INTEGER NOT NULL);
CREATE TABLE undone (run INTEGER PRIMARY KEY, day TEXT NOT NULL);
CREATE TABLE records (
    key TEXT PRIMARY KEY, file_sha256 TEXT NOT NULL, person_id TEXT NOT NULL, tag TEXT NOT NULL, kind TEXT NOT NULL,
    tag_written TEXT NOT NULL DEFAULT '', first_day TEXT, last_day TEXT, latitude REAL, longitude REAL, metres REAL,
    sex TEXT, scientificName TEXT, eventDate TEXT, stateProvince TEXT, is_allotted INTEGER NOT NULL DEFAULT 1
) WITHOUT ROWID;
CREATE TABLE values_now (
    file_sha256 TEXT NOT NULL, sheet TEXT NOT NULL, "table" INTEGER NOT NULL, rows TEXT NOT NULL,
    fields TEXT NOT NULL, PRIMARY KEY (file_sha256, sheet, "table")
) WITHOUT ROWID;
CREATE TABLE changes (
    file TEXT NOT NULL, file_sha256 TEXT NOT NULL, lines TEXT NOT NULL, PRIMARY KEY (file_sha256)
) WITHOUT ROWID;
CREATE TABLE tables (
    file_sha256 TEXT NOT NULL, number INTEGER NOT NULL, line TEXT NOT NULL, PRIMARY KEY (file_sha256, number)
) WITHOUT ROWID;
CREATE TABLE finds (
    key TEXT PRIMARY KEY, file_sha256 TEXT NOT NULL, is_matched INTEGER NOT NULL, line TEXT NOT NULL
) WITHOUT ROWID;
ALTER TABLE findings ADD COLUMN fingerprint TEXT NOT NULL DEFAULT '';
ALTER TABLE findings ADD COLUMN value TEXT NOT NULL DEFAULT '';
CREATE INDEX changes_of_path ON changes (file);
CREATE INDEX rows_of_file ON rows (file_sha256);
CREATE INDEX rows_of_path ON rows (file);
CREATE INDEX rows_of_person ON rows (person_id, file_sha256);
CREATE INDEX rows_of_key ON rows (key);
CREATE INDEX records_of_tag ON records (tag);
CREATE INDEX records_never_allotted ON records (tag) WHERE is_allotted = 0;
CREATE INDEX records_of_file ON records (file_sha256);
CREATE INDEX findings_of_file ON findings (file_sha256);
CREATE INDEX findings_of_ref ON findings (ref);
CREATE INDEX answers_of_key ON answers (key);
INSERT INTO withdrawals SELECT key, reason, 'tagsheaf', '', 0 FROM rows WHERE state = 'replaced';
INSERT INTO matched SELECT DISTINCT file_sha256, person_id, '', 0 FROM rows WHERE person_id != '';
INSERT INTO questions
    SELECT ref, max(number), addressee, min(rule), min(severity), min(identity), 1, 0, 'closed', '', max(run)
    FROM findings WHERE ref != '' GROUP BY ref
"""

# published: the files of every batch as they left the house, packed, so that the whole follows from the ledger.
# mails: who wrote each, by SHA-256, and what came in it: part "2.1" is the first file of a mail that is its second.
# layout: what a sheet says beside its cells, as JSON: hidden columns, rows struck through, merged cells.
VERSION_3 = """
CREATE TABLE published (
    batch_id TEXT NOT NULL, name TEXT NOT NULL, size INTEGER NOT NULL, packed BLOB NOT NULL,
    PRIMARY KEY (batch_id, name)
);
CREATE TABLE mails (
    mail TEXT NOT NULL, part TEXT NOT NULL, name TEXT NOT NULL, sha256 TEXT NOT NULL, size INTEGER NOT NULL,
    writer TEXT NOT NULL, written_on TEXT NOT NULL, skipped TEXT NOT NULL, run INTEGER NOT NULL
);
CREATE INDEX mails_by_mail ON mails (mail);
ALTER TABLE cells ADD COLUMN layout TEXT NOT NULL DEFAULT '';
CREATE INDEX rows_in_states ON rows (person_id, state, reason);
CREATE INDEX rows_waiting ON rows (file_sha256) WHERE reason IN ('gate', 'waits for the next delivery');
CREATE INDEX records_not_released ON records (tag, kind) WHERE kind IN ('lost', 'spoiled', 'not used')
"""

VERSIONS = (VERSION_1, VERSION_2, VERSION_3)
NEWEST = len(VERSIONS)


def bring_forward(ledger: sqlite3.Connection, version: int) -> None:
    """Takes a ledger from a version, 0 for an empty file, to the newest."""
    for script in VERSIONS[version:]:
        for statement in _statements(script):
            ledger.execute(statement)
    ledger.execute("UPDATE about SET schema_version = ?", (NEWEST,))


def _statements(script: str) -> list[str]:
    """The statements of a script, one by one, for all of them belong to the transaction at work."""
    statements, begun = [], ""
    for piece in script.split(";"):
        begun += piece
        if sqlite3.complete_statement(f"{begun};"):
            statements.append(begun)
            begun = ""
        else:
            begun += ";"
    return statements
