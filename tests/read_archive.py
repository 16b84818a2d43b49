"""Reads an archive as a stranger would: zipfile, lxml, pandas as text; nothing of it has a part in writing one."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path
from typing import Any

import pandas as pd
from lxml import etree

TEXT = "{http://rs.tdwg.org/dwc/text/}"
UNESCAPED = {"\\n": "\n", "\\t": "\t", "\\r": "\r"}


def read_archive(path: Path) -> dict[str, pd.DataFrame]:
    """Every table by the last word of its kind of row; columns are named by their terms, and `id` is the record's."""
    with zipfile.ZipFile(path) as archive:
        root = etree.fromstring(archive.read("meta.xml"))
        return {
            part.get("rowType").rpartition("/")[2]: _table(part, archive)
            for part in root
            if part.tag in (f"{TEXT}core", f"{TEXT}extension")
        }


def _table(part: Any, archive: zipfile.ZipFile) -> pd.DataFrame:
    file = part.findtext(f"{TEXT}files/{TEXT}location")
    identifier = part.find(f"{TEXT}id") if part.tag == f"{TEXT}core" else part.find(f"{TEXT}coreid")
    raw = pd.read_csv(
        io.BytesIO(archive.read(file)), sep=UNESCAPED.get(part.get("fieldsTerminatedBy"), ","),
        quotechar=part.get("fieldsEnclosedBy"), encoding=part.get("encoding"), header=None,
        skiprows=int(part.get("ignoreHeaderLines")), dtype=str, keep_default_na=False, na_filter=False,
        lineterminator=UNESCAPED.get(part.get("linesTerminatedBy")),
    ) if archive.getinfo(file).file_size and _lines(archive.read(file)) > 1 else pd.DataFrame()  # fmt: skip
    names = {int(field.get("index")): field.get("term").rpartition("/")[2] for field in part.iter(f"{TEXT}field")}
    columns = {"id": raw[int(identifier.get("index"))]} if len(raw) else {"id": pd.Series(dtype=str)}
    columns |= {name: raw[index] if len(raw) else pd.Series(dtype=str) for index, name in names.items()}
    return pd.DataFrame(columns)


def _lines(content: bytes) -> int:
    return content.count(b"\n")


def described(path: Path) -> Any:
    """The root of eml.xml, named by meta.xml."""
    with zipfile.ZipFile(path) as archive:
        root = etree.fromstring(archive.read("meta.xml"))
        return etree.fromstring(archive.read(root.get("metadata")))


def read_batch(folder: Path, name: str) -> pd.DataFrame:
    """A file of a batch as text, as pandas sees it."""
    return pd.read_csv(folder / name, dtype=str, keep_default_na=False, na_filter=False)


def applied(portal: Path) -> dict[str, pd.DataFrame]:
    """What a portal has that takes one batch after the other: newer lines replace older, withdrawn ids leave."""
    core: dict[str, dict[str, str]] = {}
    parts: dict[str, dict[str, list[dict[str, str]]]] = {"measurementOrFact": {}, "resourceRelationship": {}}
    for folder in sorted(path for path in portal.iterdir() if (path / "occurrence.csv").is_file()):
        for line in read_batch(folder, "occurrence.csv").to_dict("records"):
            core[line["occurrenceID"]] = line
            for by_record in parts.values():
                by_record[line["occurrenceID"]] = []
        for name, by_record in parts.items():
            for line in read_batch(folder, f"{name}.csv").to_dict("records"):
                by_record[line["occurrenceID"]].append(line)
        for record in read_batch(folder, "withdrawn.csv")["occurrenceID"]:
            core.pop(record, None)
            for by_record in parts.values():
                by_record.pop(record, None)
    told = {"occurrence": pd.DataFrame(list(core.values()))}
    told |= {name: pd.DataFrame([line for of in by.values() for line in of]) for name, by in parts.items()}
    return told
