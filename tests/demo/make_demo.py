"""Makes the demo: `programme/`, `inbox/` and beside this file what must come of it.

    python tests/demo/make_demo.py [FOLDER]

The same seed gives the same cells every time. With FOLDER everything is written there instead.
"""

from __future__ import annotations

import csv
import io
import re
import sys
import zipfile
from datetime import date, datetime, time
from pathlib import Path
from shutil import copyfile

import demo_sheets as sent
import demo_strays as stray
import xlwt
from demo_book import Book, Cell, Rows
from demo_faults import FAULTS, INFORMATION
from demo_programme import FILES
from odf.opendocument import OpenDocumentSpreadsheet
from odf.table import Table, TableCell, TableRow
from odf.text import P
from openpyxl import Workbook

SHEETS = (
    sent.arsenault, sent.fennimore, sent.fennimore_october, sent.wetmore, sent.bourgoin, sent.class_5b,
    sent.juniper, sent.juniper_october, sent.matheo, sent.pickersgill, sent.okafor, sent.doucette,
    sent.doucette_last, sent.rushworth, stray.rushworth_second, sent.rushworth_last, sent.solheim,
    sent.gagnon, sent.quillfeather, sent.macaskill, sent.benoit, stray.guides, stray.brackenridge,
    sent.old_mac, stray.stall, stray.finds, stray.hallazgos, stray.mariposas,
)  # fmt: skip
HERE = Path(__file__).parent
MADE_ON = datetime(2026, 11, 20, 9, 0)
SAVED_ON = re.compile(rb"(<dcterms:modified[^>]*>)[^<]*")
# The first bytes of a picture, under the name of a workbook.
PICTURE = bytes.fromhex(
    "89504e470d0a1a0a0000000d4948445200000001000000010802000000907753de"
    "0000000c4944415408d763f8cfc0000003010100c9fe92ef0000000049454e44ae426082"
)


def main(target: Path | None) -> None:
    """Write the programme, the inbox and the lists of what is planted."""
    folder, beside = (target, target) if target else (HERE.parent.parent, HERE)
    for name, text in FILES.items():
        _write_text(folder / "programme" / name, text)
    made = [_with_faults(maker()) for maker in SHEETS]
    for book in made:
        _write_book(folder / "inbox" / book.path, book)
    inbox = folder / "inbox"
    (inbox / "p03/IMG_0412.xlsx").write_bytes(PICTURE)
    _write_text(inbox / "p07/a remplir.csv", "Étiquette,Date,Sexe,Ville\n")
    copyfile(inbox / "p12/solheim-2026.xlsx", inbox / "p12/wings again.xlsx")
    _write_lists(beside, made)


def _with_faults(book: Book) -> Book:
    """The book as it was sent, slips and all."""
    for fault in FAULTS:
        if fault.file == book.path and fault.typed:
            rows = book.sheets[fault.sheet]
            for letter, typed in fault.typed.items():
                rows[fault.row - 1][ord(letter) - ord("A")] = typed
    return book


def _write_lists(beside: Path, made: list[Book]) -> None:
    """planted.csv, information.csv, and sheets.csv with the rows below each heading that hold a cell."""
    planted = [(f.file, f.sheet, f.row or "", f.field, f.rule, f.suggestion) for f in FAULTS]
    sheets = [(book.path, name, *_heading_and_rows(rows)) for book in made for name, rows in book.sheets.items()]
    sheets += [("p12/wings again.xlsx", *line[1:]) for line in sheets if line[0] == "p12/solheim-2026.xlsx"]
    _write_csv(beside / "planted.csv", "file,sheet,row,field,rule,suggestion", planted)
    _write_csv(beside / "information.csv", "rule,why", INFORMATION)
    _write_csv(beside / "sheets.csv", "file,sheet,heading_row,rows,headings", sheets)


def _heading_and_rows(rows: Rows) -> tuple[int, int, str]:
    """The heading row is the first with three cells: the lines above a table are narrower."""
    heading = next(number for number, row in enumerate(rows, 1) if sum(cell is not None for cell in row) >= 3)
    below = sum(any(cell not in (None, "") for cell in row) for row in rows[heading:])
    return heading, below, " | ".join(str(cell) for cell in rows[heading - 1])


def _write_csv(path: Path, heading: str, lines: object) -> None:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(heading.split(","))
    writer.writerows(lines)  # type: ignore[arg-type]
    _write_text(path, out.getvalue())


def _write_text(path: Path, text: str, encoding: str = "utf-8") -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(text.encode(encoding))


def _write_book(path: Path, book: Book) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    if book.written[0]:
        out = io.StringIO()
        csv.writer(out, delimiter=book.written[0], lineterminator="\r\n").writerows(book.sheets[""])
        _write_text(path, out.getvalue(), book.written[1])
    else:
        {".xlsx": _write_xlsx, ".xls": _write_xls, ".ods": _write_ods}[path.suffix](path, book.sheets)


def _write_xlsx(path: Path, sheets: dict[str, Rows]) -> None:
    workbook = Workbook()
    workbook.remove(workbook.worksheets[0])
    for name, rows in sheets.items():
        sheet = workbook.create_sheet(name)
        for row in rows:
            sheet.append(row)
    workbook.properties.created = MADE_ON
    workbook.save(path)
    _keep_still(path)


def _write_xls(path: Path, sheets: dict[str, Rows]) -> None:
    workbook = xlwt.Workbook()
    day = xlwt.easyxf(num_format_str="DD/MM/YYYY")
    for name, rows in sheets.items():
        sheet = workbook.add_sheet(name)
        for i, row in enumerate(rows):
            for j, cell in enumerate(row):
                if cell is not None:
                    sheet.write(i, j, cell, *([day] if isinstance(cell, date) else []))
    workbook.save(str(path))


def _write_ods(path: Path, sheets: dict[str, Rows]) -> None:
    document = OpenDocumentSpreadsheet()
    for name, rows in sheets.items():
        table = Table(name=name)
        for row in rows:
            line = TableRow()
            for cell in row or [None]:
                line.addElement(_ods_cell(cell))
            table.addElement(line)
        document.spreadsheet.addElement(table)
    document.save(str(path))
    _keep_still(path)


def _ods_cell(cell: Cell) -> TableCell:
    if cell is None:
        return TableCell()
    if isinstance(cell, date):
        made = TableCell(valuetype="date", datevalue=cell.isoformat())
    elif isinstance(cell, time):
        made = TableCell(valuetype="time", timevalue=f"PT{cell:%HH%MM%S}S")
    elif isinstance(cell, int | float):
        made = TableCell(valuetype="float", value=cell)
    else:
        made = TableCell(valuetype="string")
    made.addElement(P(text=str(cell)))
    return made


def _keep_still(path: Path) -> None:
    """Write a zipped workbook's members again with one fixed date, so that it changes only with its cells."""
    with zipfile.ZipFile(path) as packed:
        members = [(member, packed.read(member)) for member in packed.infolist()]
    with zipfile.ZipFile(path, "w") as packed:
        for member, content in members:
            still = zipfile.ZipInfo(member.filename, (1980, 1, 1, 0, 0, 0))
            still.compress_type = member.compress_type
            packed.writestr(still, SAVED_ON.sub(rb"\g<1>2026-11-20T09:00:00Z", content))


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else None)
