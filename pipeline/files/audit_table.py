"""Opens any Darwin Core table for the audit: a text table, or an archive with or without meta.xml."""

from __future__ import annotations

import codecs
import csv
import io
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from itertools import islice
from pathlib import Path
from tempfile import TemporaryDirectory

from pipeline.files import ole2
from pipeline.files.audit_archive import unpacked
from pipeline.files.audit_form import CannotBeAudited, Form, form_of
from pipeline.files.audit_text import in_utf_8
from pipeline.files.first_bytes import look_of
from pipeline.files.text_tables import decoded

HEAD = 1 << 20  # bytes by which a table's form is told


@dataclass(frozen=True)
class AuditTable:
    """A table that can be audited: its files in UTF-8, and how they are written."""

    files: tuple[Path, ...]
    form: Form


@contextmanager
def audit_table(path: Path) -> Iterator[AuditTable]:
    """The table of a file; copies that had to be made are gone afterwards."""
    with path.open("rb") as file:
        head = file.read(HEAD)
    with TemporaryDirectory(prefix="tagsheaf-audit-", ignore_cleanup_errors=True) as made:
        folder = Path(made)
        if head.startswith(b"PK\x03\x04") or head.startswith(b"PK\x05\x06"):
            found = unpacked(path, folder)
            files = tuple(in_utf_8(each, folder, found.encoding) for each in found.files)
            yield AuditTable(files, _completed(found.form, files[0]) if found.form else form_of(_head(files[0])))
        else:
            _hold_against_its_look(head)
            whole = in_utf_8(path, folder)
            yield AuditTable((whole,), form_of(_head(whole)))


def _hold_against_its_look(head: bytes) -> None:
    """What is no text table is not read as one."""
    if not head.strip():
        raise CannotBeAudited("it is empty")
    if head.startswith(ole2.FIRST_BYTES):
        raise CannotBeAudited("it is a workbook or another document. Save its sheet as CSV first")
    if what := look_of(head):
        raise CannotBeAudited(f"it looks like {what}")
    if decoded(head[: head.rfind(b"\n") + 1] or head) is None:
        raise CannotBeAudited("it is a file of a kind that we do not know")


def _head(path: Path) -> str:
    """The beginning of a table in UTF-8, in whole lines if it has any."""
    with path.open("rb") as file:
        head = file.read(HEAD)
    text = codecs.getincrementaldecoder("utf-8-sig")().decode(head)
    is_cut = len(head) == HEAD
    return text[: text.rfind("\n") + 1] or text if is_cut else text


def _completed(form: Form, file: Path) -> Form:
    """A descriptor need not tell of every column, so how many there are says the first record."""
    text = io.StringIO(_head(file), newline="")
    if form.quote:
        rows = csv.reader(text, delimiter=form.delimiter, quotechar=form.quote)
    else:
        rows = csv.reader(text, delimiter=form.delimiter, quoting=csv.QUOTE_NONE)
    first = next((row for row in islice(rows, form.skipped, None) if row), [])
    return replace(form, width=max(form.width, len(first)))
