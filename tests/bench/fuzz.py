"""Damages sheets in thousands of ways and reads them: every mutant must come out as read or refused, and in time.

    python tests/bench/fuzz.py [--mutants 20000] [--seed 2026] [--inbox FOLDER]

Originals are the files of the inbox and workbooks, text tables and mails made here. A mutant is one of them with bytes
changed, with the XML in its archive changed (the archive itself stays whole, so that most still open), or with its
text changed. Each is read as a run reads it, its sheets are looked through for tables, and what came of it is counted:
opened, refused, raised, died or took too long. Mutants come from the seed and their own number alone: a line of the
report names the number, and `--only NUMBER` makes that mutant again. Peak memory is the reading processes'.
"""

from __future__ import annotations

import argparse
import hashlib
import io
import random
import re
import resource
import sys
import tempfile
import time
import traceback
import zipfile
from collections import Counter
from collections.abc import Callable, Iterator
from datetime import datetime
from email.message import EmailMessage
from functools import cache
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))
SEED = 2026
SECONDS = 30.0
LARGEST_ORIGINAL = 60_000  # bytes: a larger one is slow to mutate and no different
HEADINGS = ["Tag", "Date", "Sex", "Latitude", "Longitude", "Town", "Forewing (mm)", "Remarks"]
ROWS = [
    [f"SM{n:04d}", f"{n % 28 + 1}/9/2026", ("♀", "mâle", "F?")[n % 3], "45,9", "-64.3", "Pré-d'en-Haut", n, f"près {n}"]
    for n in range(40)
]
# What breaks readers: numbers at their ends, other programs' words, addresses far out, signs of other alphabets.
NUMBERS = [b"0", b"-1", b"1", b"60", b"2147483648", b"4294967295", b"99999999999999999999", b"1e308", b"NaN", b"", b"x"]
WORDS = [
    b"t",
    b"s",
    b"e",
    b"str",
    b"inlineStr",
    b"d",
    b"b",
    b"1",
    b"true",
    b"collapse",
    b"float",
    b"date",
    b"XFD1048576",
]
TEXTS = [
    "",
    '"',
    "\n",
    "\r",
    ";",
    ",",
    "\t",
    "|",
    "\0",
    "\ufeff",
    "=1+1",
    "_x000D_",
    "Ã©",
    "\u202e",
    "é",
    "#N/A",
    "12/13",
]
CREATED = datetime(2026, 9, 1)
Parts = dict[str, bytes]


@cache
def originals(inbox: Path) -> tuple[tuple[str, bytes], ...]:
    """Name and bytes of every file that mutants are made of."""
    found = [(path.name, path.read_bytes()) for path in sorted(inbox.rglob("*")) if path.is_file()]
    kept = [(name, data) for name, data in found if 0 < len(data) <= LARGEST_ORIGINAL]
    return (*kept, ("made.xlsx", _xlsx()), ("made.xls", _xls()), ("made.ods", _ods()), *_texts(), ("made.eml", _mail()))


def _xlsx() -> bytes:
    import xlsxwriter

    kept = io.BytesIO()
    with xlsxwriter.Workbook(kept, {"in_memory": True}) as workbook:
        workbook.set_properties({"created": CREATED})  # the same bytes every day
        sheet = workbook.add_worksheet("Août")
        zeros, struck = workbook.add_format({"num_format": "00000"}), workbook.add_format({"font_strikeout": True})
        sheet.merge_range(0, 0, 0, 3, "Monarchs 2026")
        for at, row in enumerate([HEADINGS, *ROWS], start=2):
            sheet.write_row(at, 0, row, struck if at == 9 else None)
            sheet.write_number(at, 8, at, zeros)
        sheet.write_formula(5, 6, "=1/0", None, "#DIV/0!")
        sheet.set_row(7, None, None, {"hidden": True})
        sheet.set_column(9, 11, None, None, {"hidden": True})
        workbook.add_worksheet("B").hide()
    return kept.getvalue()


def _xls() -> bytes:
    import xlwt

    workbook = xlwt.Workbook(encoding="utf-8")
    sheet = workbook.add_sheet("Août")
    for at, row in enumerate([HEADINGS, *ROWS]):
        for column, cell in enumerate(row):
            sheet.write(
                at, column, cell, xlwt.easyxf(num_format_str="0000") if column == 6 else xlwt.Style.default_style
            )
    sheet.row(3).hidden = True
    sheet.row(4).set_cell_error(9, 42)
    sheet.write_merge(50, 50, 0, 3, "total")
    kept = io.BytesIO()
    workbook.save(kept)
    return kept.getvalue()


def _ods() -> bytes:
    from odf import opendocument, table
    from odf.text import P

    document = opendocument.OpenDocumentSpreadsheet()
    sheet = table.Table(name="Août")
    for row in [HEADINGS, *ROWS]:
        line = table.TableRow()
        for cell in row:
            written = (
                table.TableCell(valuetype="float", value=str(cell))
                if isinstance(cell, int)
                else table.TableCell(valuetype="string")
            )
            written.addElement(P(text=str(cell)))
            line.addElement(written)
        sheet.addElement(line)
    sheet.addElement(table.TableRow(numberrowsrepeated=1_048_000))
    document.spreadsheet.addElement(sheet)
    kept = io.BytesIO()
    document.write(kept)
    return _packed(_unpacked(kept.getvalue()))


def _texts() -> list[tuple[str, bytes]]:
    made = []
    for name, sign, encoding in (
        ("a.csv", ",", "utf-8-sig"),
        ("b.csv", ";", "cp1252"),
        ("c.txt", "\t", "utf-16"),
        ("d.csv", ",", "mac_roman"),
    ):
        rows = [[f'"{cell}"' if sign in str(cell) else str(cell) for cell in row] for row in [HEADINGS, *ROWS]]
        text = "\r\n".join(sign.join(row) for row in rows)
        made.append((name, text.encode(encoding, "replace")))
    return made


def _mail() -> bytes:
    mail = EmailMessage()
    mail["From"], mail["To"], mail["Date"] = (
        "Anna <anna@example.org>",
        "c@example.org",
        "Mon, 5 Oct 2026 23:30:00 -0300",
    )
    mail["Subject"] = "Été, réponses"
    mail.set_content("1 yes\n2 café\n")
    mail.add_attachment(_texts()[0][1], "text", "csv", filename="réponses.csv")
    mail.add_attachment(_xlsx(), "application", "octet-stream", filename="sheet.xlsx")
    mail.set_boundary("fuzz")
    return mail.as_bytes()


def mutant(number: int, seed: int, inbox: Path) -> tuple[str, bytes]:
    """The mutant of that number: a name that says how it was made, and its bytes."""
    dice = random.Random(f"{seed}-{number}")
    name, data = dice.choice(originals(inbox))
    ways: list[Callable[[bytes, random.Random], bytes]] = [_bytes_changed]
    if data.startswith(b"PK"):
        ways = [_bytes_changed, _members_changed, _members_changed, _members_changed, _members_changed]
    elif name.endswith((".csv", ".txt", ".tsv", ".eml")):
        ways = [_bytes_changed, _text_changed, _text_changed]
    way = dice.choice(ways)
    return f"{number} {name} {way.__name__[1:]}", way(data, dice)


def _bytes_changed(data: bytes, dice: random.Random) -> bytes:
    changed = bytearray(data)
    for _ in range(dice.choice((1, 1, 2, 5, 30))):
        at = dice.randrange(len(changed) or 1)
        kind = dice.randrange(5)
        if kind == 0:
            changed[at : at + 1] = bytes([dice.randrange(256)])
        elif kind == 1:
            del changed[at : at + dice.choice((1, 2, 8, 512))]
        elif kind == 2:
            changed[at:at] = dice.choice((b"\0", b"\xff", b"\r", b'"', bytes(dice.randrange(256) for _ in range(16))))
        elif kind == 3:
            changed[at : at + 4] = dice.choice((b"\0\0\0\0", b"\xff\xff\xff\xff", b"\x7f\xff\xff\xff", b"\x01\0\0\0"))
        else:
            there = dice.randrange(len(changed) or 1)
            changed[at:at] = changed[there : there + dice.choice((4, 64, 512))]
    if dice.random() < 0.05:
        del changed[dice.randrange(len(changed) or 1) :]
    return bytes(changed)


def _members_changed(data: bytes, dice: random.Random) -> bytes:
    """The archive packed anew with one or a few parts changed; all parts stay what their directory says."""
    parts = _unpacked(data)
    sheets = [
        name for name in parts if re.search(r"worksheets/|content\.xml|styles\.xml|sharedStrings|workbook\.xml", name)
    ]
    for _ in range(dice.choice((1, 1, 1, 2, 3))):
        name = dice.choice(sheets if dice.random() < 0.9 and sheets else sorted(parts))
        parts[name] = _xml_changed(parts[name], dice)
    if dice.random() < 0.03:
        del parts[dice.choice(sorted(parts))]
    return _packed(parts)


def _unpacked(data: bytes) -> Parts:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def _packed(parts: Parts) -> bytes:
    kept = io.BytesIO()
    with zipfile.ZipFile(kept, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, part in parts.items():
            archive.writestr(zipfile.ZipInfo(name), part, zipfile.ZIP_DEFLATED)  # dated 1980
    return kept.getvalue()


ATTRIBUTE = re.compile(rb'="([^"]*)"')
ELEMENT = re.compile(rb"<([a-zA-Z:]+)[^<>]*?(?:/>|>[^<>]*</\1>)")
BETWEEN = re.compile(rb">([^<>]+)<")


def _xml_changed(xml: bytes, dice: random.Random) -> bytes:
    """XML with an attribute, a text or an element changed, doubled or taken out; mostly still well formed."""
    kind = dice.randrange(8)
    if kind == 7:
        return _bytes_changed(xml, dice)
    pattern = ATTRIBUTE if kind < 3 else BETWEEN if kind < 5 else ELEMENT
    found = list(pattern.finditer(xml))
    if not found:
        return xml
    one = dice.choice(found)
    if pattern is ELEMENT:
        return xml[: one.start()] + (b"" if kind == 5 else one[0] * dice.choice((2, 3, 50))) + xml[one.end() :]
    put = dice.choice((*NUMBERS, *WORDS, *(text.encode() for text in TEXTS if text not in ('"', "\0"))))
    put = put.replace(b"&", b"").replace(b"<", b"")
    return xml[: one.start(1)] + put + xml[one.end(1) :]


def _text_changed(data: bytes, dice: random.Random) -> bytes:
    encoding = "utf-16" if data[:2] == b"\xff\xfe" else "latin-1"
    text = data.decode(encoding, "replace")
    for _ in range(dice.choice((1, 1, 3, 10))):
        at = dice.randrange(len(text) or 1)
        kind = dice.randrange(4)
        if kind == 0:
            text = text[:at] + dice.choice(TEXTS) * dice.choice((1, 1, 40)) + text[at:]
        elif kind == 1:
            text = text[:at] + text[at + dice.choice((1, 10, 200)) :]
        elif kind == 2:
            text = text.replace(
                dice.choice((",", ";", "\r\n", '"', "-", "e")), dice.choice(TEXTS), dice.choice((1, 5, -1))
            )
        else:
            there = dice.randrange(len(text) or 1)
            text = text[:at] + text[there : there + dice.choice((10, 300))] + text[at:]
    return text.encode(encoding, "replace" if encoding == "latin-1" else "surrogatepass")


def read_mutant(number: int, seed: int, inbox: str, folder: str) -> tuple[str, str, float]:
    """What came of a mutant: opened, what it was refused as, or a traceback; its name; the seconds it took.

    Of a mail all its files are read, and the last one counts.
    """
    from pipeline.files.mail import is_mail, read_mail
    from pipeline.files.reading import read_file
    from pipeline.files.schemas import heading_names
    from pipeline.stages.map_headings import map_headings

    name, data = mutant(number, seed, Path(inbox))
    path = Path(folder) / f"{number}"
    path.write_bytes(data)
    began = time.perf_counter()
    try:
        came_in = range(1, len(read_mail(data).attachments) + 1) if is_mail(data) else ()
        for part in ((), *((number,) for number in came_in)):
            read = read_file(path, name, hashlib.sha256(data).hexdigest(), part)
            tables = [table for sheet in read.sheets for table in map_headings(sheet, heading_names())]
            _hold_to_the_contract(read, tables)
        came = f"refused: {read.what}" if read.refusal else f"opened, {'with' if tables else 'without'} a table"
    except BaseException:
        came = traceback.format_exc()
    finally:
        path.unlink()
    return came, name, time.perf_counter() - began


def _hold_to_the_contract(read: Any, tables: list[Any]) -> None:
    """What every sheet promises to those who work on it, however damaged its file was."""
    assert bool(read.refusal) == bool(read.refusal and read.what) and not (read.refusal and read.sheets)
    for sheet in read.sheets:
        assert len(sheet.texts) == len(sheet.kinds)
        for texts, kinds in zip(sheet.texts, sheet.kinds, strict=True):
            assert len(texts) == len(kinds) and set(kinds) <= set("tndcbef-")
            "".join(texts).encode("utf-8")  # halves of characters would stop the ledger
        assert all(1 <= row <= len(sheet.texts) for row in sheet.hidden_rows | sheet.struck_rows)
        assert all(1 <= top <= bottom and 0 <= left <= right for top, left, bottom, right in sheet.merged)
    for table in tables:
        assert 1 <= table.heading_row < table.first_row <= table.last_row + 1


def outcomes(
    mutants: range, seed: int, inbox: Path, processes: int
) -> Iterator[tuple[int, tuple[str, str, float] | None]]:
    """What came of each mutant, read in processes as a run does; None where its process died twice or hung."""
    from pipeline.files.workers import done_apart

    with tempfile.TemporaryDirectory() as folder:
        jobs = [(number, seed, str(inbox), folder) for number in mutants]
        for at, came in done_apart(read_mutant, jobs, processes, SECONDS):
            yield mutants[at], came


def main(mutants: range, seed: int, inbox: Path) -> int:
    """Reads all mutants and prints what came of them; 1 if any was neither read nor refused."""
    began, counts, slowest, bad = time.perf_counter(), Counter[str](), (0.0, ""), 0
    for number, came in outcomes(mutants, seed, inbox, 2):
        what, name, seconds = came or ("died or hung", mutant(number, seed, inbox)[0], SECONDS)
        is_bad = not what.startswith(("opened", "refused"))
        if is_bad:
            bad += 1
            print(f"mutant {name}:\n{what}", flush=True)
        counts["neither read nor refused" if is_bad else what] += 1
        slowest = max(slowest, (seconds, name))
    opened = sum(count for what, count in counts.items() if what.startswith("opened"))
    for what, count in counts.most_common():
        print(f"{count:8,}  {what}")
    made = f"{len(mutants):8,}  mutants of {len(originals(inbox))} files, seed {seed}"
    print(f"{made}: {opened / len(mutants):.1%} still open, {bad} crashes or hangs")
    print(f"          in {time.perf_counter() - began:.0f} s; the slowest took {slowest[0]:.2f} s ({slowest[1]})")
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / (1024 * 1024 if sys.platform == "darwin" else 1024)
    print(f"          peak memory of a reading process {peak:,.0f} MB")
    return 1 if bad else 0


if __name__ == "__main__":
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    arguments.add_argument("--mutants", type=int, default=20_000)
    arguments.add_argument("--seed", type=int, default=SEED)
    arguments.add_argument("--inbox", type=Path, default=ROOT / "inbox")
    arguments.add_argument("--only", type=int, help="read this mutant alone")
    asked = arguments.parse_args()
    chosen = range(asked.mutants) if asked.only is None else range(asked.only, asked.only + 1)
    sys.exit(main(chosen, asked.seed, asked.inbox))
