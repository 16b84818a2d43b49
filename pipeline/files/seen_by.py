"""seen-by.html: what each file that may go out tells of people, read from the finished files as its reader would."""

from __future__ import annotations

import hashlib
import re
import sqlite3
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor
from html import escape
from importlib.metadata import version
from multiprocessing import get_context
from pathlib import Path

from pipeline.files.intake import natural_order
from pipeline.files.programme import ProgrammeFolder
from pipeline.files.seen_by_looking import (
    ADDRESS,
    CHILD,
    KINDS,
    NAME,
    POINT,
    Found,
    Known,
    found_in_text,
)
from pipeline.files.seen_by_readers import OTHERS, Readers, in_order, readers_of, whose
from pipeline.files.seen_by_reading import parts_of
from pipeline.files.seen_by_tables import MORE, SHOWN, found_in_table

PAGE = "seen-by.html"
SECTION = re.compile(r'<section data-mark="([0-9a-f]+)" .*?</section>\n', re.DOTALL)
OF_A_RUN = re.compile(rb"\b[0-9a-f]{32}\b")  # ids and boundaries of mails differ from run to run and tell of nobody
APART_UNITS = 200  # below, a second process costs more than it gives
Unit = tuple[str, str, list[Path]]  # what is handed over as one: its name, its mark, its files
PLURALS = {NAME: "names", ADDRESS: "addresses", POINT: "exact points", CHILD: "children's records"}
STYLE = """
  :root { color: #1a1a1a; background: #faf8f4; font: 16px/1.5 Georgia, "DejaVu Serif", serif; }
  body { max-width: 62rem; margin: 0 auto; padding: 1.5rem 1rem 4rem; }
  h1 { font-size: 1.7rem; margin: 0; } h2 { font-size: 1.1rem; margin: 1.6rem 0 .4rem; }
  table { border-collapse: collapse; width: 100%; font-size: .92rem; }
  th, td { text-align: left; padding: .3rem .6rem; border-bottom: 1px solid #d9d3c7; vertical-align: top; }
  th { background: #efeae0; } strong { color: #9a3412; } p { margin: .3rem 0; }
"""


def write_seen_by(outbox: Path, programme: ProgrammeFolder, ledger: sqlite3.Connection) -> None:
    """Writes the page anew; a folder that is as it was when the page was last written is not read again."""
    place = outbox / "coordinator" / PAGE
    before = place.read_text(encoding="utf-8") if place.is_file() else ""
    sections = {found[1]: found[0] for found in SECTION.finditer(before)}
    readers = readers_of(programme, ledger)
    salt = hashlib.sha256(f"{version('tagsheaf')}{in_order(readers)}".encode()).hexdigest()
    marked = [(name, _mark(name, paths, salt), paths) for name, paths in _units(outbox)]
    new = [one for one in marked if one[1] not in sections]
    sections |= dict(zip((mark for _, mark, _ in new), _sections(new, readers), strict=True))
    told = [sections[mark] for _, mark, _ in marked]
    beside = place.with_name(f".{PAGE}.new")
    beside.write_text(_page(programme.settings.programme.name, told), encoding="utf-8", newline="\n")
    beside.replace(place)


def _units(outbox: Path) -> Iterator[tuple[str, list[Path]]]:
    """What is handed over as one: a batch, the archive, somebody's folder; with its files."""
    for kind in ("portal", "volunteers", "finders"):
        for path in sorted((outbox / kind).glob("*"), key=lambda each: natural_order(each.name)):
            files = sorted(each for each in path.rglob("*") if each.is_file()) if path.is_dir() else [path]
            yield path.relative_to(outbox).as_posix(), files


def _mark(name: str, paths: Iterable[Path], salt: str) -> str:
    told = hashlib.sha256(f"{salt}{name}".encode())
    for path in paths:
        told.update(path.name.encode())
        if path.suffix == ".eml":
            told.update(OF_A_RUN.sub(b"", path.read_bytes()))
            continue
        with path.open("rb") as file:
            told.update(hashlib.file_digest(file, "sha256").digest())
    return told.hexdigest()[:32]


def _sections(units: list[Unit], readers: Readers) -> list[str]:
    """The sections of folders that are to be read; of many, half are read in a second process."""
    if len(units) < APART_UNITS:
        return [_section(*unit, readers) for unit in units]
    half = len(units) // 2
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as helper:
        theirs = helper.submit(_sections_apart, units[half:], readers)
        return [*(_section(*unit, readers) for unit in units[:half]), *theirs.result()]


def _sections_apart(units: list[Unit], readers: Readers) -> list[str]:
    return [_section(*unit, readers) for unit in units]


def _section(name: str, mark: str, paths: Iterable[Path], readers: Readers) -> str:
    """What one reader gets: a sentence a file that tells of nobody else, a line for everything else."""
    reader = "" if name.startswith("portal/") else name.partition("/")[2]
    about = (
        Counter({(CHILD, "all of it: rows of a child, for the guardian"): 1}) if reader in readers.children else None
    )
    lines = [_of_part(file, found, reader, readers) for file, found in _found_in(paths, readers.known, about)]
    body = "".join(lines)
    return f'<section data-mark="{mark}" aria-label="{escape(name)}"><h2>{escape(name)}</h2>\n{body}</section>\n'


def _found_in(paths: Iterable[Path], known: Known, about: Found | None) -> Iterator[tuple[str, Found]]:
    for path in paths:
        for part in parts_of(path):
            is_text = part.table is None
            yield part.name, found_in_text(part.text, known) if is_text else found_in_table(part.table or (), known)
    if about is not None:
        yield "the folder", about


def _of_part(file: str, found: Found, reader: str, readers: Readers) -> str:
    if not found:
        return f"<p>{escape(file)}: no name, no address, no exact point, no child's record.</p>\n"
    told = {kind: {text: count for (each, text), count in found.items() if each == kind} for kind in KINDS}
    missing = [f"no {kind}" for kind in KINDS if not told[kind]]
    cells = [
        f"<tr><td>{PLURALS[kind]}, {sum(texts.values())}</td><td>{_listed(texts)}</td><td>{_loudly(owner)}</td></tr>\n"
        for kind in KINDS
        for owner, texts in _by_owner(told[kind], kind, reader, readers).items()
    ]
    rest = f"<p>{', '.join(missing).capitalize()}.</p>\n" if missing else ""
    heads = "<tr><th>what</th><th>as its reader sees it</th><th>whose</th></tr>\n"
    return f"<p>{escape(file)}</p>\n<table>{heads}{''.join(cells)}</table>\n{rest}"


def _listed(texts: Mapping[str, int]) -> str:
    """The first few; what is somebody else's is never cut short, for it is told apart."""
    named = [text for text in texts if text != MORE]
    some = [f"{escape(text)}{f' ({texts[text]} times)' * (texts[text] > 1)}" for text in named[: 2 * SHOWN]]
    more = sum(texts[text] for text in (*named[2 * SHOWN :], MORE) if text in texts)
    return "; ".join([*some, *([f"and {more} more"] if more else [])])


def _loudly(owner: str) -> str:
    return f"<strong>{escape(owner)}</strong>" if owner == OTHERS else escape(owner)


def _by_owner(texts: Mapping[str, int], kind: str, reader: str, readers: Readers) -> dict[str, dict[str, int]]:
    owners: dict[str, dict[str, int]] = {}
    for text, count in texts.items():
        owners.setdefault(whose(text, kind, reader, readers), {})[text] = count
    return owners


def _page(name: str, sections: list[str]) -> str:
    strange = sum("<strong>" in section for section in sections)
    summary = (
        f"{strange} of {len(sections)} hold something of somebody else: look for {OTHERS} below before you send them."
        if strange
        else "Nothing of somebody else stands in any of them."
    )
    policy = "default-src 'none'; style-src 'unsafe-inline'"
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
        f"<title>{escape(name)}: what leaves the house</title>\n<style>{STYLE}</style>\n</head>\n<body>\n"
        f"<h1>What leaves the house</h1>\n<p>Read from the {len(sections)} finished folders and files themselves, as "
        "whoever gets them would. This page is for the coordinator only: it names people.</p>\n"
        f"<p>{summary}</p>\n{''.join(sections)}</body>\n</html>\n"
    )
