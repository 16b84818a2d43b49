"""The command `audit`: any Darwin Core table in, a summary, a page and every response out."""

from __future__ import annotations

import csv
import io
import json
import zipfile
from collections.abc import Sequence
from datetime import date
from pathlib import Path

import pytest

from pipeline.audit.all_tests import all_tests
from pipeline.audit.audit import audited
from pipeline.audit.columns import column
from pipeline.cli import main
from pipeline.files import audit_archive, audit_processes, audit_records, audit_text
from pipeline.files.audit_form import CannotBeAudited, form_of
from pipeline.files.audit_processes import Task, said_of
from pipeline.files.audit_records import columns, pieces
from pipeline.files.audit_responses import HEADINGS
from pipeline.files.audit_sources import audit_sources
from pipeline.files.audit_table import audit_table
from tests.season_folder import make_folder, read_table

DAY = date(2026, 11, 25)
MONTH = "VALIDATION_MONTH_STANDARD"
COUNTRY = "VALIDATION_COUNTRY_NOTEMPTY"
ROWS = [
    ["occurrenceID", "month", "country", "countryCode"],
    ["a:1", "9", "Canada", "CA"],
    ["a:2", "Sept", "", "CA"],
    ["a:3", "", "Canada, the west", "CA"],
    ["a:4", "13", "NA", "CA"],
]
META = """<?xml version="1.0"?>
<archive xmlns="http://rs.tdwg.org/dwc/text/" metadata="eml.xml">
  <core encoding="{encoding}" fieldsTerminatedBy="\\t" linesTerminatedBy="\\n" fieldsEnclosedBy=""
        ignoreHeaderLines="{skip}" rowType="http://rs.tdwg.org/dwc/terms/Occurrence">
    <files><location>{file}</location></files>
    <id index="0"/>
    <field index="0" term="http://rs.tdwg.org/dwc/terms/occurrenceID"/>
    <field index="2" term="http://rs.tdwg.org/dwc/terms/month"/>
    <field index="3" term="http://rs.tdwg.org/dwc/terms/country" default="Canada"/>
    <field term="http://rs.tdwg.org/dwc/terms/countryCode" default="CA"/>
  </core>
</archive>
"""
CORE = 'id\tnotes\tmonth\tcountry\n1\tsaid "no\t9\t\n2\t\tSept\tCanada\n'


@pytest.fixture(autouse=True)
def _here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def written(rows: Sequence[Sequence[str]], delimiter: str = ",") -> str:
    text = io.StringIO()
    csv.writer(text, delimiter=delimiter, lineterminator="\n").writerows(rows)
    return text.getvalue()


def table(text: str | bytes = written(ROWS), name: str = "table.csv") -> Path:
    data = text if isinstance(text, bytes) else text.encode()
    Path(name).write_bytes(data)
    return Path(name)


def archive(members: dict[str, str | bytes], name: str = "archive.zip") -> Path:
    with zipfile.ZipFile(name, "w", zipfile.ZIP_DEFLATED) as file:
        for member, data in members.items():
            file.writestr(member, data)
    return Path(name)


def read(path: Path) -> list[dict[str, str]]:
    """The records of a file as the audit reads them."""
    with audit_table(path) as found:
        records: list[dict[str, str]] = []
        for piece in pieces(found.files, found.form):
            known = columns(piece.table, found.form)
            texts = {term: [one.values[place] for place in one.places.tolist()] for term, one in known.items()}
            records += [
                {term: each[at] for term, each in texts.items() if each[at]} for at in range(piece.table.num_rows)
            ]
        return records


def responses(path: Path) -> list[dict[str, str]]:
    return [dict(line) for line in read_table(path)]


EXPECTED = [{head: cell for head, cell in zip(ROWS[0], row, strict=True) if cell} for row in ROWS[1:]]
AS_WRITTEN = {
    "plain": written(ROWS).encode(),
    "with prefixes": written([["dwc:occurrenceID", "dwc:month", "DWC:Country", "dwc:countrycode"], *ROWS[1:]]).encode(),
    "with addresses": written(
        [[f"http://rs.tdwg.org/dwc/terms/{name}" for name in ROWS[0]], *ROWS[1:]]
    ).encode(),
    "in any case": written([[name.upper() for name in ROWS[0]], *ROWS[1:]]).encode(),
    "with a mark": written(ROWS).encode("utf-8-sig"),
    "in two bytes a letter": written(ROWS).encode("utf-16"),
    "in two bytes without a mark": written(ROWS).encode("utf-16-le"),
    "with tabs": written(ROWS, "\t").encode(),
    "with semicolons": written(ROWS, ";").encode(),
    "with a sign that is rare": written(ROWS, "^").encode(),
    "with a sign that is no ASCII": written(ROWS, "¦").encode(),
    "with the delimiter named": b"sep=;\n" + written(ROWS, ";").encode(),
    "with blank lines": b"\n\n" + written(ROWS).replace("\n", "\n\n").encode(),
    "as Windows ends lines": written(ROWS).replace("\n", "\r\n").encode(),
    "as old Macs did": written(ROWS).replace("\n", "\r").encode(),
    "without an end": written(ROWS).strip().encode(),
    "with columns of others": written([[row[0], "x", *row[1:], "y"] for row in ROWS]).encode(),
}  # fmt: skip


@pytest.mark.parametrize("how", AS_WRITTEN)
def test_a_table_is_read_however_it_is_written(how: str) -> None:
    assert read(table(AS_WRITTEN[how])) == EXPECTED


def test_what_a_cell_holds_stays_as_it_is() -> None:
    odd = ["NA", "007", "1e5", "null", "true", "2026-09-01T00:00", " a ", "with\nlines", 'a "b"', "-", "é"]
    found = read(table(written([["occurrenceID", "country"], *([str(at), text] for at, text in enumerate(odd))])))
    assert [record["country"] for record in found] == odd


def test_letters_of_other_encodings_are_read() -> None:
    rows = [["occurrenceID", "country"], *([str(at), "Forêt près de la rivière Françoise"] for at in range(20))]
    found = read(table(written(rows).encode("cp1252")))
    assert {record["country"] for record in found} == {"Forêt près de la rivière Françoise"}


def test_records_of_any_width_are_read_from_the_left_and_counted(capsys: pytest.CaptureFixture[str]) -> None:
    text = 'occurrenceID,month,country\n1,9,Canada\n2,10\n3,11,"a\nb"\n4,1,c,beyond\n5,12,"open\n6,1,5" x\n7,2,6" y\n'
    found = read(table(text + '8,3,"so ""z"""\n'))
    assert [(one["occurrenceID"], one["month"], one.get("country", "")) for one in found] == [
        ("1", "9", "Canada"), ("2", "10", ""), ("3", "11", "a\nb"), ("4", "1", "c"), ("5", "12", '"open'),
        ("6", "1", '5" x'), ("7", "2", '6" y'), ("8", "3", 'so "z"'),
    ]  # fmt: skip
    assert main(["audit", "table.csv"]) == 0
    assert "have more or fewer cells than there are headings" in capsys.readouterr().out


def test_quotation_marks_that_quote_nothing_are_letters() -> None:
    found = read(table('occurrenceID\tcountry\tmonth\n1\t"Big Tree\t9\n2\t5" deep\t9\n3\t"x\t9\n'))
    assert [record["country"] for record in found] == ['"Big Tree', '5" deep', '"x']


def test_an_archive_is_read_as_its_descriptor_says() -> None:
    path = archive(
        {"meta.xml": META.format(encoding="UTF-8", skip=1, file="o.txt"), "o.txt": CORE, "eml.xml": "<eml/>"}
    )
    assert read(path) == [
        {"occurrenceID": "1", "month": "9", "country": "Canada", "countryCode": "CA"},
        {"occurrenceID": "2", "month": "Sept", "country": "Canada", "countryCode": "CA"},
    ]
    core = CORE.partition("\n")[2].replace("Canada", "Québec")
    folder = {
        "set/meta.xml": META.format(encoding="ISO-8859-1", skip=0, file="o.txt"),
        "set/o.txt": core.encode("latin-1"),
    }
    assert [record["country"] for record in read(archive(folder))] == ["Canada", "Québec"]


def test_a_descriptor_that_counts_heading_lines_below_nothing_has_none() -> None:
    members = {"meta.xml": META.format(encoding="UTF-8", skip=-1, file="o.txt"), "o.txt": CORE}
    assert [record["occurrenceID"] for record in read(archive(members))] == ["id", "1", "2"]


def test_a_directory_that_points_out_of_the_archive_is_damage(capsys: pytest.CaptureFixture[str]) -> None:
    path = archive({"table.csv": written(ROWS)})
    data = bytearray(path.read_bytes())
    end = data.rindex(b"PK\x05\x06")
    data[end + 12 : end + 20] = b"\xff\xff\xff\x00" * 2
    path.write_bytes(data)
    assert main(["audit", str(path)]) == 1
    assert "it is a damaged archive" in capsys.readouterr().out


def test_a_table_alone_in_an_archive_is_taken() -> None:
    assert read(archive({"data/table.csv": written(ROWS), "__MACOSX/._table.csv": "x", "read me.pdf": "y"})) == EXPECTED


DTD = '<!DOCTYPE a [<!ENTITY b "c">]>'
CANNOT = {
    "no known term": (b"name,count\nx,1\n", "none of its headings is a term"),
    "one term twice": (b"month,dwc:Month\n9,9\n", "columns 1 and 2 are both the term month"),
    "nothing": (b"", "it is empty"),
    "only blanks": (b" \n\n", "it is empty"),
    "a picture": (b"\x89PNG\r\n\x1a\n" + bytes(100), "it looks like a picture"),
    "no text": (bytes(range(32)) * 100, "of a kind that we do not know"),
    "an old workbook": (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), "Save its sheet as CSV first"),
    "a damaged archive": (b"PK\x03\x04" + bytes(100), "it is a damaged archive"),
    "a workbook": ({"[Content_Types].xml": "x", "xl/a.csv": "y"}, "Save its sheet as CSV first"),
    "two tables": ({"a.csv": "x", "b.csv": "y"}, "with 2 tables and without a meta.xml"),
    "no table": ({"a.pdf": "x"}, "with no table and without"),
    "a file that is not there": (
        {"meta.xml": META.format(encoding="UTF-8", skip=1, file="../o.txt")}, "which is not in it",
    ),
    "a descriptor that is no XML": ({"meta.xml": "<archive>"}, "its meta.xml cannot be read"),
    "a descriptor with entities": ({"meta.xml": DTD + "<archive/>"}, "its meta.xml cannot be read"),
    "a descriptor without a core": ({"meta.xml": "<archive/>"}, "names no core file"),
    "an unknown encoding": (
        {"meta.xml": META.format(encoding="zip", skip=1, file="o.txt"), "o.txt": CORE}, "an encoding that is not known",
    ),
    "signs of two letters": (
        {"meta.xml": META.format(encoding="UTF-8", skip=1, file="o.txt").replace("\\t", "||"), "o.txt": CORE},
        "signs between lines or cells",
    ),
    "columns beyond all measure": (
        {"meta.xml": META.format(encoding="UTF-8", skip=1, file="o.txt").replace('"2"', '"999999999"'), "o.txt": CORE},
        "numbers columns in an unusual way",
    ),
    "more than it seems": ({"a.csv": b"month\n" + b"9\n" * 5_000_000}, "it unpacks to an unusual size"),
}  # fmt: skip


@pytest.mark.parametrize("what", CANNOT)
def test_what_cannot_be_audited_is_said_in_one_plain_line(what: str, capsys: pytest.CaptureFixture[str]) -> None:
    content, why = CANNOT[what]
    path = archive(content) if isinstance(content, dict) else table(content)
    assert main(["audit", str(path), "--out", "responses.csv"]) == 1
    told = capsys.readouterr()
    assert told.out.startswith(f"{path.name} cannot be audited: ") and why in told.out and told.out.count("\n") == 1
    assert told.err == "" and [each.name for each in Path().iterdir()] == [path.name], "nothing is left behind"


def test_what_a_damaged_archive_holds_is_not_taken_for_whole(capsys: pytest.CaptureFixture[str]) -> None:
    path = archive({"table.csv": written([ROWS[0], *ROWS[1:] * 200])})
    data = bytearray(path.read_bytes())
    data[100] ^= 0xFF
    path.write_bytes(data)
    assert main(["audit", str(path)]) == 1
    assert "it is a damaged archive" in capsys.readouterr().out


def test_too_large_for_the_disk_or_for_us_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    path = archive({"table.csv": written(ROWS)})
    monkeypatch.setattr(audit_archive, "LARGEST_TABLE", 10)
    with pytest.raises(CannotBeAudited, match="unusual size"):
        read(path)


def test_what_the_command_line_gets_wrong_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["audit", "nothing.csv"]) == 4
    assert main(["audit", str(table()), "--out", "table.csv"]) == 4
    assert main(["audit", "table.csv", "--out", "responses.html"]) == 4
    told = capsys.readouterr().err
    assert told.count("\n") == 3 and "There is no file nothing.csv" in told and "write over" in told


def test_the_terminal_says_what_was_found_in_eighty_columns(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["audit", str(table()), "--today", "2026-11-25"]) == 0
    told = capsys.readouterr().out.splitlines()
    assert max(map(len, told)) <= 80 and "a draft" in " ".join(told[:3])
    (line,) = [each for each in told if each.startswith("MONTH_STANDARD ")]
    assert line.split() == ["MONTH_STANDARD", "2", "1", "1"], "did not, complied, cannot say"
    assert "table-audit.html" in " ".join(told[-4:]) and told[-1].endswith("Nothing was changed.")
    assert Path("table-audit.html").is_file()


def test_a_table_without_records_is_read(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["audit", str(table(written(ROWS[:1]))), "--out", "responses.csv"]) == 0
    assert "headings and no records" in capsys.readouterr().out
    assert Path("responses.csv").read_bytes() == HEADINGS


def test_json_says_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["audit", str(table()), "--json", "--out", "made/responses.csv"]) == 0
    told = json.loads(capsys.readouterr().out)
    by_name = {test["test"]: test for test in told["tests"]}
    assert (told["records"], told["is_a_draft"], len(by_name)) == (4, True, len(all_tests()))
    assert by_name[MONTH]["records"] == {"did not comply": 2, "complied": 1, "could not say": 1}
    assert {tuple(one["for_example"]) for one in by_name[MONTH]["found"]} == {(2,), (4,)}
    assert (told["responses"], told["page"]) == ("made/responses.csv", "made/responses.html")
    assert Path(told["page"]).is_file()


def test_the_responses_are_those_of_the_tests_in_the_order_of_records_and_tests() -> None:
    assert main(["audit", str(table()), "--out", "responses.csv", "--today", "2026-11-25"]) == 0
    known = {head: column([row[at] for row in ROWS[1:]]) for at, head in enumerate(ROWS[0])}
    answers = audited(known, 4, audit_sources(DAY))
    expected = [
        {
            "record": str(at + 1), "occurrenceID": ROWS[at + 1][0], "test": one.entry.test.label,
            "test_id": one.entry.test.test_id, **one.responses.values[one.responses.places[at]]._asdict(),
        }
        for at in range(4)
        for one in answers
    ]  # fmt: skip
    assert responses(Path("responses.csv")) == expected
    assert Path("responses.csv").read_bytes().startswith(HEADINGS) and b"\r" not in Path("responses.csv").read_bytes()


def test_an_id_that_a_spreadsheet_would_run_is_guarded() -> None:
    rows = [["occurrenceID", "month"], ["=1+1", "9"], ['a,"b"\nc', "9"]]
    assert main(["audit", str(table(written(rows))), "--out", "responses.csv"]) == 0
    ids = {line["record"]: line["occurrenceID"] for line in responses(Path("responses.csv"))}
    assert ids == {"1": "'=1+1", "2": 'a,"b"\nc'}


def test_two_processes_write_the_same_as_one(monkeypatch: pytest.MonkeyPatch) -> None:
    rows = [["occurrenceID", "month", "country"], *([f"a:{at}", str(at % 14), "é" * (at % 3)] for at in range(1, 701))]
    path = table(written(rows))
    assert main(["audit", str(path), "--out", "one.csv", "--today", "2026-11-25"]) == 0
    with audit_table(path) as found:
        Path("two.csv").write_bytes(HEADINGS)
        task = Task(found.form, DAY, Path("two.csv"))
        few = list(pieces(found.files, found.form))
        small = [audit_records.Piece(at + 1, few[0].table.slice(at, 100)) for at in range(0, 700, 100)]
        said = said_of(iter(small), task, len(HEADINGS))
    assert Path("two.csv").read_bytes() == Path("one.csv").read_bytes()
    assert list(dict.fromkeys(line["record"] for line in responses(Path("two.csv")))) == [str(n) for n in range(1, 701)]
    month = said.tests[MONTH]
    assert said.records == 700 and month.outcomes["NOT_COMPLIANT"] == 100 and month.number_not_said() == 0
    ((_, _, zero), (_, _, thirteen)) = sorted(month.most_frequent(), key=lambda each: each[1])
    assert [each.record for each in zero.examples] == [14, 28, 42] and zero.records == 50
    assert [each.record for each in thirteen.examples] == [13, 27, 41]


def test_records_are_numbered_over_the_edges_of_pieces_and_files(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(audit_records, "BLOCK_BYTES", 64)
    text = "occurrenceID,month\n" + "".join(f'{at},"9\n"\n' for at in range(1, 101))
    paths = (table(text, "a.csv"), table(text, "b.csv"))
    found = list(pieces(paths, form_of(text), most=7))
    assert found[0].first == 1 and len(found) > 20
    firsts = [piece.first for piece in found]
    assert firsts == [1 + sum(piece.table.num_rows for piece in found[:at]) for at in range(len(found))]
    ids = [text for piece in found for text in piece.table["occurrenceID"].to_pylist()]
    assert ids == [str(at) for at in range(1, 101)] * 2


def test_a_process_that_ends_before_its_time_is_our_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(audit_processes, "_work", broken)
    with audit_table(table()) as found:
        (piece,) = pieces(found.files, found.form)
        with pytest.raises(RuntimeError, match="before its time"):
            said_of(iter([piece, piece]), Task(found.form, DAY, None), 0)


def broken(pipe: object, task: Task) -> None:
    """A process that ends at once."""


def test_a_large_table_in_an_old_encoding_is_read_in_pieces(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(audit_text, "PIECE", 50)
    rows = [["occurrenceID", "country"], *([str(at), "Forêt près de la rivière"] for at in range(50))]
    found = read(table(written(rows).encode("cp1252")))
    assert [record["country"] for record in found] == ["Forêt près de la rivière"] * 50


def test_what_is_found_in_too_many_ways_is_said_to_be_more_often() -> None:
    rows = [["occurrenceID", "month"], *([str(at), "Sept" if at % 2 else f"no {at}"] for at in range(1, 601))]
    assert main(["audit", str(table(written(rows)))]) == 0
    page = Path("table-audit.html").read_text(encoding="utf-8")
    assert "The most frequent are shown" in page and '"Records">at least' not in page, (
        "of one piece the numbers are exact"
    )
    with audit_table(Path("table.csv")) as found:
        (piece,) = pieces(found.files, found.form)
        halves = [audit_records.Piece(at + 1, piece.table.slice(at, 300)) for at in (0, 300)]
        month = said_of(iter(halves), Task(found.form, DAY, None), 0).tests[MONTH]
    assert (month.number_found(), month.are_all, month.are_exact()) == (600, False, False)
    assert month.most_frequent()[0][2].records == 300 and len(month.found) <= 200


def test_the_page_escapes_what_stands_in_a_record() -> None:
    rows = [["occurrenceID", "month"], ["1", "<script>alert(1)</script>\t& more"]]
    assert main(["audit", str(table(written(rows), "a&b.csv"))]) == 0
    page = Path("a&b-audit.html").read_text(encoding="utf-8")
    assert "<script" not in page and "&lt;script&gt;alert(1)&lt;/script&gt;" in page and "a&amp;b.csv" in page
    assert "http" not in page.partition("<body>")[2].replace("http-equiv", ""), "nothing is loaded from elsewhere"


def test_the_page_has_a_section_for_each_test_with_its_advice() -> None:
    assert main(["audit", str(table())]) == 0
    page = Path("table-audit.html").read_text(encoding="utf-8")
    for entry in all_tests():
        assert page.count(f'<section class="test" id="{entry.test.label}">') == 1
    assert page.index(f'id="{MONTH}"') < page.index(f'id="{COUNTRY}"'), "what was found most stands first"
    assert "draft" in page and "@media print" in page


def test_in_a_programmes_folder_the_page_is_the_coordinators(capsys: pytest.CaptureFixture[str]) -> None:
    make_folder(Path())
    assert main(["audit", str(table())]) == 0
    assert Path("outbox/coordinator/audit.html").is_file()
    assert "outbox/coordinator/audit.html" in capsys.readouterr().out
