"""What a workbook's cells come out as: texts, kinds and addresses; and that no file brings a run down."""

import datetime
import io
import os
import struct
import subprocess
import sys
import time
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import xlsxwriter
import xlwt
from odf import opendocument, style, table
from odf.text import P
from openpyxl import Workbook

from pipeline.files.intake import Arrival, find_files
from pipeline.files.reading import read_file, read_files
from pipeline.model import FileRead, Sheet

DAY = datetime.datetime(2026, 9, 3)
MOMENT = datetime.datetime(2026, 9, 3, 14, 5)
CLOCK = datetime.time(14, 5)
KNOWN = ["Mâle ♀ 東 \u0301", 45.5, 12, DAY, MOMENT, CLOCK, True]
KNOWN_TEXTS = ("Mâle ♀ 東 \u0301", "45.5", "12", "2026-09-03", "2026-09-03T14:05", "14:05", "TRUE")
KNOWN_KINDS = "tnnddcb"
FORMATS = {datetime.datetime: "yyyy-mm-dd hh:mm", datetime.time: "hh:mm"}


def sheets_of(tmp_path: Path, data: bytes) -> tuple[Sheet, ...]:
    path = tmp_path / "sheet"
    path.write_bytes(data)
    read = read_file(path, "p01/sheet", "f" * 64)
    assert (read.refusal, read.what) == ("", "")
    assert all((sheet.file, sheet.file_sha256) == ("p01/sheet", "f" * 64) for sheet in read.sheets)
    return read.sheets


def xlsx(fill: Callable[[Any, Any], None], **options: Any) -> bytes:
    kept = io.BytesIO()
    workbook = xlsxwriter.Workbook(kept, {"in_memory": True, **options})
    fill(workbook, workbook.add_worksheet("A"))
    workbook.close()
    return kept.getvalue()


def xlsx_from_c5(cells: list[Any], **options: Any) -> bytes:
    def fill(workbook: Any, sheet: Any) -> None:
        for at, cell in enumerate(cells):
            shown = FORMATS.get(type(cell))
            sheet.write(4, 2 + at, cell, workbook.add_format({"num_format": shown}) if shown else None)

    return xlsx(fill, **options)


def xls(fill: Callable[[Any], None], is_1904: bool = False) -> bytes:
    kept = io.BytesIO()
    workbook = xlwt.Workbook(encoding="utf-8")
    workbook.dates_1904 = is_1904
    fill(workbook.add_sheet("A"))
    workbook.save(kept)
    return kept.getvalue()


def xls_from_c5(cells: list[Any], is_1904: bool = False) -> bytes:
    def fill(sheet: Any) -> None:
        for at, cell in enumerate(cells):
            shown = FORMATS.get(type(cell), "General")
            sheet.write(4, 2 + at, cell, xlwt.easyxf(num_format_str=shown))

    return xls(fill, is_1904)


def ods_cell(cell: Any) -> Any:
    if isinstance(cell, bool):
        return table.TableCell(valuetype="boolean", booleanvalue=str(cell).lower())
    if isinstance(cell, int | float):
        return table.TableCell(valuetype="float", value=str(cell))
    if isinstance(cell, datetime.datetime):
        return table.TableCell(valuetype="date", datevalue=cell.isoformat().removesuffix("T00:00:00"))
    if isinstance(cell, datetime.time):
        return table.TableCell(valuetype="time", timevalue=cell.strftime("PT%HH%MM%SS"))
    written = table.TableCell(valuetype="string")
    written.addElement(P(text=cell))
    return written


def ods(*rows: Any) -> bytes:
    document = opendocument.OpenDocumentSpreadsheet()
    sheet = table.Table(name="A")
    for row in rows:
        sheet.addElement(row)
    document.spreadsheet.addElement(sheet)
    kept = io.BytesIO()
    document.write(kept)
    return kept.getvalue()


def ods_row(*cells: Any, **about: Any) -> Any:
    row = table.TableRow(**about)
    for cell in cells:
        row.addElement(cell)
    return row


def ods_from_c5(cells: list[Any]) -> bytes:
    gap = ods_row(table.TableCell(numbercolumnsrepeated=9), numberrowsrepeated=4)
    end = ods_row(table.TableCell(numbercolumnsrepeated=16384), numberrowsrepeated=1048571)
    filled = ods_row(table.TableCell(numbercolumnsrepeated=2), *map(ods_cell, cells))
    return ods(gap, filled, end)


@pytest.mark.parametrize(
    "data",
    [
        pytest.param(xlsx_from_c5(KNOWN), id="xlsx"),
        pytest.param(xlsx_from_c5(KNOWN, date_1904=True), id="xlsx-days-from-1904"),
        pytest.param(xls_from_c5(KNOWN), id="xls"),
        pytest.param(xls_from_c5(KNOWN, is_1904=True), id="xls-days-from-1904"),
        pytest.param(ods_from_c5(KNOWN), id="ods"),
    ],
)
def test_cells_keep_their_kind_and_address(tmp_path: Path, data: bytes) -> None:
    (sheet,) = sheets_of(tmp_path, data)
    assert sheet.name == "A"
    assert sheet.texts == ((), (), (), (), ("", "", *KNOWN_TEXTS))
    assert sheet.kinds == ("", "", "", "", "--" + KNOWN_KINDS)
    assert (sheet.hidden_rows, sheet.is_hidden) == (frozenset(), False)


def shown_as(number: float, number_format: str) -> bytes:
    return xlsx(lambda book, sheet: sheet.write(0, 0, number, book.add_format({"num_format": number_format})))


@pytest.mark.parametrize(
    ("data", "text", "kind"),
    [
        pytest.param(shown_as(123, "00000"), "00123", "n", id="xlsx-zeros-in-front"),
        pytest.param(shown_as(123, "00000;@"), "00123", "n", id="xlsx-zeros-in-the-first-section"),
        pytest.param(shown_as(123456, "0000"), "123456", "n", id="xlsx-number-longer-than-its-zeros"),
        pytest.param(shown_as(45.5, "000"), "45.5", "n", id="xlsx-zeros-hide-no-fraction"),
        pytest.param(shown_as(-7, "000"), "-7", "n", id="xlsx-negative-number"),
        pytest.param(shown_as(45.5, "0.00"), "45.5", "n", id="xlsx-decimals-are-no-zeros-in-front"),
        pytest.param(shown_as(1.0, "General"), "1", "n", id="whole-number"),
        pytest.param(shown_as(-64.85, "General"), "-64.85", "n", id="western-longitude"),
        pytest.param(shown_as(166198620, "General"), "166198620", "n", id="long-code"),
        pytest.param(shown_as(9007199254740993, "General"), "9007199254740990", "n", id="15-digits-as-shown"),
        pytest.param(shown_as(1e-05, "General"), "0.00001", "n", id="no-exponent"),
        pytest.param(shown_as(0, "General"), "0", "n", id="nought"),
        pytest.param(shown_as(1.25, "[h]:mm"), "30:00", "c", id="hours-past-a-day"),
        pytest.param(shown_as(0.58685185, "hh:mm:ss"), "14:05:04", "c", id="time-with-seconds"),
        pytest.param(shown_as(46268, '"den "d.m.yyyy'), "2026-09-03", "d", id="day-with-letters-in-its-format"),
        pytest.param(
            xls(lambda sheet: sheet.write(0, 0, 123, xlwt.easyxf(num_format_str="00000"))),
            "00123",
            "n",
            id="xls-zeros-in-front",
        ),
        pytest.param(xls(lambda sheet: sheet.write(0, 0, 45.5)), "45.5", "n", id="xls-number"),
        pytest.param(xls(lambda sheet: sheet.write(0, 0, " SM 1 ")), " SM 1 ", "t", id="blanks-are-kept"),
        pytest.param(xlsx(lambda _, sheet: sheet.write_string(0, 0, "=1+1")), "=1+1", "t", id="text-not-formula"),
        pytest.param(xlsx(lambda _, sheet: sheet.write_string(0, 0, "00123")), "00123", "t", id="zeros-as-text"),
        pytest.param(xlsx(lambda _, sheet: sheet.write_string(0, 0, " ")), " ", "t", id="only-a-blank"),
        pytest.param(xlsx(lambda _, sheet: sheet.write_string(0, 0, "a\nb")), "a\nb", "t", id="line-break"),
        pytest.param(xlsx(lambda _, sheet: sheet.write_boolean(0, 0, False)), "FALSE", "b", id="false"),
        pytest.param(xlsx(lambda _, sheet: sheet.write_formula(0, 0, "=40+2", None, 42)), "42", "n", id="saved-result"),
        pytest.param(
            xlsx(lambda _, sheet: sheet.write_formula(0, 0, '="S"&"M"', None, "SM")),
            "SM",
            "t",
            id="saved-text",
        ),
    ],
)
def test_a_cell_reads_as_its_owner_sees_it(tmp_path: Path, data: bytes, text: str, kind: str) -> None:
    (sheet,) = sheets_of(tmp_path, data)
    assert (sheet.texts, sheet.kinds) == (((text,),), (kind,))


def ods_shown(value_type: str, shown: str, **about: Any) -> bytes:
    cell = table.TableCell(**({"valuetype": value_type} if value_type else {}), **about)
    if shown:
        cell.addElement(P(text=shown))
    return ods(ods_row(ods_cell("tag"), cell), ods_row(ods_cell("x")))


def xlsx_error(error: str) -> bytes:
    def fill(_: Any, sheet: Any) -> None:
        sheet.write(0, 0, "tag")
        sheet.write_formula(0, 1, "=1/0", None, error)
        sheet.write(1, 0, "x")

    return xlsx(fill)


def unsaved(formula: str) -> bytes:
    kept = io.BytesIO()
    workbook = Workbook()
    for cell, content in (("A1", "tag"), ("B1", formula), ("A2", "x")):
        workbook["Sheet"][cell] = content
    workbook.save(kept)
    return kept.getvalue()


def xls_error() -> bytes:
    def fill(sheet: Any) -> None:
        sheet.write(0, 0, "tag")
        sheet.row(0).set_cell_error(1, 42)  # [MS-XLS] 2.5.10: 0x2A is #N/A
        sheet.write(1, 0, "x")

    return xls(fill)


@pytest.mark.parametrize(
    ("data", "text", "kind"),
    [
        *(
            pytest.param(xlsx_error(error), error, "e", id=f"xlsx-{error}")
            for error in ("#DIV/0!", "#N/A", "#NAME?", "#NULL!", "#NUM!", "#REF!", "#VALUE!")
        ),
        pytest.param(xls_error(), "#N/A", "e", id="xls-error-value"),
        pytest.param(ods_shown("string", "#N/A", formula="of:=NA()"), "#N/A", "e", id="ods-error-value"),
        pytest.param(ods_shown("float", "Err:502", formula="of:=A(1)", value="0"), "Err:502", "e", id="ods-502"),
        pytest.param(unsaved("=SUM(1,2)"), "=SUM(1,2)", "f", id="xlsx-formula-without-saved-result"),
        pytest.param(ods_shown("", "", formula="of:=SUM(1;2)"), "=SUM(1;2)", "f", id="ods-formula-without-result"),
        pytest.param(ods_shown("float", "00123", value="123"), "00123", "n", id="ods-zeros-in-front"),
        pytest.param(ods_shown("float", "00124", value="123"), "123", "n", id="ods-shown-text-of-another-number"),
        pytest.param(ods_shown("time", "27:30", timevalue="PT27H30M00S"), "27:30", "c", id="ods-hours"),
        pytest.param(ods_shown("string", "#1"), "#1", "t", id="ods-text-with-a-number-sign"),
    ],
)
def test_what_the_fast_reader_loses_is_read_again(tmp_path: Path, data: bytes, text: str, kind: str) -> None:
    (sheet,) = sheets_of(tmp_path, data)
    assert sheet.texts == (("tag", text), ("x",))
    assert sheet.kinds == ("t" + kind, "t")


def test_a_formula_with_an_empty_text_as_its_result_is_blank_and_not_unsaved(tmp_path: Path) -> None:
    def fill(_: Any, sheet: Any) -> None:
        sheet.write(0, 0, "tag")
        sheet.write_formula(0, 1, '=IF(A1="","x","")', None, "")
        sheet.write(1, 0, "x")

    data = xlsx(fill)
    sheet_xml = zipfile.ZipFile(io.BytesIO(data)).read("xl/worksheets/sheet1.xml")
    before, _, after = sheet_xml.partition(b'<c r="B1"')
    formula = b'<c r="B1" t="str"><f>IF(A1="","x","")</f><v></v></c>'  # as office programs save it
    (sheet,) = sheets_of(tmp_path, with_sheet_xml(data, before + formula + after.partition(b"</c>")[2]))
    assert sheet.texts == (("tag",), ("x",))


def test_cells_without_addresses_or_under_a_prefix_are_read_again_too(tmp_path: Path) -> None:
    data = xlsx(lambda _, sheet: sheet.write(0, 0, "tag"))
    bare = (
        b'<x:worksheet xmlns:x="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><x:sheetData>'
        b'<x:row><x:c t="inlineStr"><x:is><x:t>tag</x:t></x:is></x:c><x:c t="e"><x:v>#N/A</x:v></x:c></x:row>'
        b'<x:row hidden="true"><x:c t="inlineStr"><x:is><x:t>x</x:t></x:is></x:c></x:row>'
        b"</x:sheetData></x:worksheet>"
    )
    (sheet,) = sheets_of(tmp_path, with_sheet_xml(data, bare))
    assert (sheet.texts, sheet.kinds) == ((("tag", "#N/A"), ("x",)), ("te", "t"))
    assert sheet.hidden_rows == {2}


def test_a_workbook_whose_second_reading_does_not_succeed_is_read_and_says_so(tmp_path: Path) -> None:
    damaged = bytearray(xls_error())
    at, code, length = 512, 0, 0
    while code != 0x0293:  # [MS-XLS] 2.4.269: a Style record, which the fast reader does not look at
        at += 4 + length if code else 0
        code, length = struct.unpack_from("<HH", damaged, at)
    damaged[at + 4 : at + 4 + length] = b"\xff" * length
    (tmp_path / "sheet.xls").write_bytes(damaged)
    read = read_file(tmp_path / "sheet.xls", "sheet.xls", "")
    assert read.refusal == ""
    assert read.sheets[0].texts == (("tag",), ("x",))
    assert read.what == "a workbook whose damaged cells and hidden rows we could not tell"


def with_sheet_xml(data: bytes, sheet_xml: bytes) -> bytes:
    kept = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(kept, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            new.writestr(name, sheet_xml if name == "xl/worksheets/sheet1.xml" else old.read(name))
    return kept.getvalue()


def three_rows(hide: Callable[[Any], None]) -> Callable[..., None]:
    def fill(*parts: Any) -> None:
        for row in range(3):
            parts[-1].write(row, 0, row)
        hide(parts[-1])

    return fill


def hidden_in_xls(sheet: Any) -> None:
    sheet.row(1).hidden = True


@pytest.mark.parametrize(
    "data",
    [
        pytest.param(xlsx(three_rows(lambda sheet: sheet.set_row(1, None, None, {"hidden": True}))), id="xlsx"),
        pytest.param(xls(three_rows(hidden_in_xls)), id="xls"),
        pytest.param(
            ods(
                ods_row(ods_cell(0)),
                ods_row(ods_cell(1), visibility="collapse"),
                ods_row(ods_cell(2)),
                ods_row(table.TableCell(), visibility="collapse", numberrowsrepeated=1048573),
            ),
            id="ods",
        ),
        pytest.param(
            ods(ods_row(ods_cell(0)), ods_row(ods_cell(1), visibility="filter"), ods_row(ods_cell(2))),
            id="ods-by-a-filter",
        ),
    ],
)
def test_hidden_rows_are_read_and_named(tmp_path: Path, data: bytes) -> None:
    (sheet,) = sheets_of(tmp_path, data)
    assert sheet.texts == (("0",), ("1",), ("2",))
    assert sheet.hidden_rows == {2}


def test_hidden_sheets_are_read_blank_ones_have_no_rows_and_charts_are_no_sheets(tmp_path: Path) -> None:
    def fill(workbook: Any, sheet: Any) -> None:
        sheet.write(0, 0, "tag")
        hidden = workbook.add_worksheet("B")
        hidden.write(1, 1, "kept")
        hidden.hide()
        secret = workbook.add_worksheet("C")
        secret.very_hidden()
        chart = workbook.add_chart({"type": "line"})
        chart.add_series({"values": "=A!$A$1:$A$2"})
        workbook.add_chartsheet("D").set_chart(chart)

    sheets = sheets_of(tmp_path, xlsx(fill))
    assert [(sheet.name, sheet.is_hidden) for sheet in sheets] == [("A", False), ("B", True), ("C", True)]
    assert [sheet.texts for sheet in sheets] == [(("tag",),), ((), ("", "kept")), ()]


def test_a_hidden_sheet_of_an_open_document_is_known(tmp_path: Path) -> None:
    document = opendocument.OpenDocumentSpreadsheet()
    unseen = style.Style(name="ta1", family="table")
    unseen.addElement(style.TableProperties(display="false"))
    document.automaticstyles.addElement(unseen)
    for name, about in (("A", {}), ("B", {"stylename": unseen})):
        sheet = table.Table(name=name, **about)
        sheet.addElement(ods_row(ods_cell("tag")))
        document.spreadsheet.addElement(sheet)
    kept = io.BytesIO()
    document.write(kept)
    assert [sheet.is_hidden for sheet in sheets_of(tmp_path, kept.getvalue())] == [False, True]


@pytest.mark.parametrize(
    "row",
    [
        pytest.param(ods_row(ods_cell("x"), numberrowsrepeated=200_001), id="rows"),
        pytest.param(ods_row(table.TableCell(numbercolumnsrepeated=300), ods_cell("x")), id="columns"),
    ],
)
def test_repeated_cells_of_an_open_document_are_held_against_the_limits(tmp_path: Path, row: Any) -> None:
    (tmp_path / "sheet.ods").write_bytes(ods(row))
    read = read_file(tmp_path / "sheet.ods", "sheet.ods", "")
    assert (read.refusal, read.what) == (
        "file_not_opened",
        "a sheet with more than 200,000 rows or 300 columns",
    )


def test_a_row_that_repeats_counts_as_often_as_it_does(tmp_path: Path) -> None:
    zeros = table.TableCell(valuetype="float", value="7")
    zeros.addElement(P(text="007"))
    (sheet,) = sheets_of(tmp_path, ods(ods_row(ods_cell("x"), zeros, numberrowsrepeated=3), ods_row(ods_cell("y"))))
    assert sheet.texts == (("x", "007"), ("x", "007"), ("x", "007"), ("y",))


@pytest.mark.parametrize(
    ("name", "data"),
    [
        pytest.param("sheet.xls", xlsx_from_c5(["SM0001"]), id="xlsx-named-xls"),
        pytest.param("sheet.csv", xls_from_c5(["SM0001"]), id="xls-named-csv"),
        pytest.param("sheet.xlsx", ods_from_c5(["SM0001"]), id="ods-named-xlsx"),
        pytest.param("sheet", xlsx_from_c5(["SM0001"]), id="no-suffix"),
    ],
)
def test_a_workbook_is_read_under_any_name(tmp_path: Path, name: str, data: bytes) -> None:
    (tmp_path / name).write_bytes(data)
    assert read_file(tmp_path / name, name, "").sheets[0].texts[4] == ("", "", "SM0001")


# Reading in processes of their own. The stand-ins below are other readers, given where read_file goes.


def arrivals(folder: Path, *names: str) -> list[Arrival]:
    for name in names:
        (folder / name).write_bytes(f"tag\n{name}\n".encode())
    return [arrival for arrival in find_files(folder).arrivals if arrival.file in names]


def dies_at_some(path: Path, file: str, sha256: str, part: tuple[int, ...]) -> FileRead:
    if "dies" in file:
        os._exit(9)
    return read_file(path, file, sha256, part)


def dies_once(path: Path, file: str, sha256: str, part: tuple[int, ...]) -> FileRead:
    if "dies" in file and not path.with_suffix(".seen").exists():
        path.with_suffix(".seen").write_text("")
        os._exit(9)
    return read_file(path, file, sha256, part)


def hangs_at_some(path: Path, file: str, sha256: str, part: tuple[int, ...]) -> FileRead:
    if "hangs" in file:
        time.sleep(600)
    return read_file(path, file, sha256, part)


def raises_at_some(path: Path, file: str, sha256: str, part: tuple[int, ...]) -> FileRead:
    if "raises" in file:
        raise RecursionError
    return read_file(path, file, sha256, part)


UNFINISHED = ("file_not_opened", "a file that our reader could not finish")


def test_files_are_read_in_the_order_in_which_they_were_given(tmp_path: Path) -> None:
    given = arrivals(tmp_path, *(f"{number}.csv" for number in range(130)))
    heard: list[str] = []
    reads = read_files(given, on_done=lambda read: heard.append(read.file))
    assert [read.file for read in reads] == [arrival.file for arrival in given]
    assert [read.sheets[0].texts[1] for read in reads] == [(arrival.file,) for arrival in given]
    assert [read.file_sha256 for read in reads] == [arrival.sha256 for arrival in given]
    assert sorted(heard) == sorted(read.file for read in reads)


def test_no_files_are_read_without_a_process() -> None:
    assert read_files([]) == []


@pytest.mark.parametrize(
    ("reader", "name"),
    [
        pytest.param(dies_at_some, "4dies.csv", id="dies"),
        pytest.param(hangs_at_some, "4hangs.csv", id="hangs"),
        pytest.param(raises_at_some, "4raises.csv", id="raises"),
    ],
)
def test_a_file_whose_reading_does_not_end_well_costs_no_other_file(
    tmp_path: Path, reader: Callable[..., FileRead], name: str
) -> None:
    given = arrivals(tmp_path, "1.csv", "2.csv", "3.csv", name, "5.csv", "6.csv", "7.csv")
    reads = read_files(given, read=reader, seconds=3)
    assert [read.file for read in reads if read.refusal] == [name]
    assert (reads[3].refusal, reads[3].what) == UNFINISHED
    assert [len(read.sheets) for read in reads] == [1, 1, 1, 0, 1, 1, 1]


def test_with_two_processes_many_files_that_bring_theirs_down_cost_no_other_file(tmp_path: Path) -> None:
    names = [f"{number}{'dies' if number in (7, 57) else ''}.csv" for number in range(110)]
    reads = read_files(arrivals(tmp_path, *names), read=dies_at_some)
    assert [read.file for read in reads if read.refusal] == [name for name in names if "dies" in name]


def test_a_file_whose_process_died_by_chance_is_read_the_second_time(tmp_path: Path) -> None:
    reads = read_files(arrivals(tmp_path, "1.csv", "2dies.csv"), read=dies_once)
    assert [read.refusal for read in reads] == ["", ""]


def test_a_file_that_vanished_meanwhile_is_said_to_be_held_open(tmp_path: Path) -> None:
    read = read_file(tmp_path / "gone.csv", "gone.csv", "")
    assert (read.refusal, read.what) == ("file_not_opened", "a file that another program holds open")


def test_a_reading_process_loads_nothing_heavy() -> None:
    heavy = {"pandas", "numpy", "pyarrow", "openpyxl", "xlrd", "defusedxml", "pandera", "prefect"}
    shown = subprocess.run(
        [sys.executable, "-c", "import sys, pipeline.files.reading; print(*sys.modules)"],
        capture_output=True,
        text=True,
        check=True,
    ).stdout.split()
    assert heavy.isdisjoint(shown)
    assert "pipeline.files.reading" in shown
