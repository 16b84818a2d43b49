"""What a file is decides its bytes; what we do not open is refused by the right rule in plain words."""

import io
import struct
import sys
import zipfile
from pathlib import Path

import pytest
import xlsxwriter
import xlwt
from openpyxl import Workbook

from pipeline.files import unpack
from pipeline.files.intake import find_files
from pipeline.files.limits import SPREAD, TOO_MANY
from pipeline.files.reading import POINTS_OUT, read_file, read_files
from pipeline.files.safety import look
from pipeline.model import FileRead

OLE2 = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"


def xlsx() -> bytes:
    kept = io.BytesIO()
    workbook = Workbook()
    workbook["Sheet"].append(["tag", "day"])
    workbook.save(kept)
    return kept.getvalue()


def xls() -> bytes:
    kept = io.BytesIO()
    workbook = xlwt.Workbook()
    workbook.add_sheet("A").write(0, 0, "tag")
    workbook.save(kept)
    return kept.getvalue()


def packed(**parts: str | bytes) -> bytes:
    kept = io.BytesIO()
    with zipfile.ZipFile(kept, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, part in parts.items():
            archive.writestr(name.replace("__", "/").replace("_dot_", "."), part)
    return kept.getvalue()


def with_part(workbook: bytes, name: str, part: bytes) -> bytes:
    kept = io.BytesIO(workbook)
    with zipfile.ZipFile(kept, "a", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(name, part)
    return kept.getvalue()


def container(*streams: str) -> bytes:
    """The bytes of an OLE2 container as far as its directory: an entry of 128 bytes a stream."""
    entries = [name.encode("utf-16-le").ljust(64, b"\0") + b"\0" * 64 for name in ("Root Entry", *streams)]
    return OLE2 + b"\0" * 504 + b"".join(entries)


def xls_with_password() -> bytes:
    """An .xls whose first record after BOF is FilePass, as [MS-XLS] has it for a locked workbook."""
    locked = bytearray(xls())
    after_bof = locked.find(b"\x09\x08\x10\x00") + 20
    locked[after_bof : after_bof + 2] = b"\x2f\x00"
    return bytes(locked)


def ods(part: str = "", **more: str) -> bytes:
    spreadsheet = "application/vnd.oasis.opendocument.spreadsheet"
    content = f"<office:body><office:spreadsheet>{part}</office:spreadsheet></office:body>"
    return packed(mimetype=spreadsheet, content_dot_xml=content, **more)


def lying() -> bytes:
    """A workbook whose archive lists a sheet of 20 bytes that unpacks to two million."""
    honest = with_part(xlsx(), "xl/worksheets/sheet9.xml", b"<!--" + b"0" * 2_000_000 + b"-->")
    return honest.replace((2_000_007).to_bytes(4, "little"), (20).to_bytes(4, "little"))


def endless() -> bytes:
    """An .xls whose directory's chain of sectors leads back into itself, so that a reader would never be done."""
    looped = bytearray(xls())
    table = (int.from_bytes(looped[76:80], "little") + 1) * 512
    first = int.from_bytes(looped[48:52], "little")
    looped[table + 4 * first : table + 4 * first + 4] = first.to_bytes(4, "little")
    return bytes(looped)


def ends_before_it_starts() -> bytes:
    """An .xls whose sheet says that it goes from row 9 to row 3: fewer than no cells, which is a very large number."""
    told = bytearray(xls())
    at = told.rfind(b"\x00\x02\x0e\x00")  # [MS-XLS] 2.4.90: the Dimensions record
    told[at + 4 : at + 16] = struct.pack("<IIHH", 9, 3, 0, 1)
    return bytes(told)


def changed(workbook: bytes, name: str, was: bytes, becomes: bytes) -> bytes:
    kept = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(workbook)) as old, zipfile.ZipFile(kept, "w", zipfile.ZIP_DEFLATED) as new:
        for part in old.namelist():
            content = old.read(part)
            assert part != name or was in content
            new.writestr(part, content.replace(was, becomes) if part == name else content)
    return kept.getvalue()


STYLES, TYPES = "xl/styles.xml", "[Content_Types].xml"
BOASTFUL = changed(xlsx(), STYLES, b'<cellXfs count="1"', b'<cellXfs count="2147483647"')
IN_TWO_BYTES = '<?xml version="1.0" encoding="UTF-16"?><!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>'.encode("utf-16")
TYPED = changed(xlsx(), TYPES, b"</Types>", b'<Override ContentType="application/vnd.ms-office.vbaProject"/></Types>')
PNG = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR"
REFUSED = [
    pytest.param(b"", "file_not_opened", "nothing (0 bytes)", id="nothing"),
    pytest.param(b"%PDF-1.7\n%\xe2\xe3", "file_not_opened", "a PDF", id="pdf"),
    pytest.param(PNG, "file_not_opened", "a picture", id="png"),
    pytest.param(b"\xff\xd8\xff\xe0\0\x10JFIF", "file_not_opened", "a picture", id="jpeg"),
    pytest.param(b"\0\0\0\x18ftypheic", "file_not_opened", "a picture", id="heic-of-a-telephone"),
    pytest.param(b"\0\0\0\x18ftypmp42", "file_not_opened", "a recording or a film", id="mp4"),
    pytest.param(b"RIFF\x1a\0\0\0WEBPVP8 ", "file_not_opened", "a picture", id="webp"),
    pytest.param(b"GIF89a\1\0\1\0", "file_not_opened", "a picture", id="gif"),
    pytest.param(b"II*\0\x08\0\0\0", "file_not_opened", "a picture", id="tiff"),
    pytest.param(b"<svg xmlns='http://www.w3.org/2000/svg'/>", "file_not_opened", "a picture", id="svg"),
    pytest.param(b"Rar!\x1a\x07\x01\0", "file_not_opened", "an archive", id="rar"),
    pytest.param(b"7z\xbc\xaf\x27\x1c\0\4", "file_not_opened", "an archive", id="7z"),
    pytest.param(b"tags.csv".ljust(257, b"\0") + b"ustar\x0000", "file_not_opened", "an archive", id="tar"),
    pytest.param(packed(tags_dot_xlsx=xlsx()), "file_not_opened", "an archive", id="zip-with-a-workbook-in-it"),
    pytest.param(b"SQLite format 3\0\x10\0", "file_not_opened", "a database", id="sqlite"),
    pytest.param(b"\0\1\0\0Standard Jet DB\0", "file_not_opened", "a database", id="mdb"),
    pytest.param(container("__properties_version1.0"), "file_not_opened", "an e-mail", id="msg"),
    pytest.param(
        packed(mimetype="application/vnd.oasis.opendocument.text", content_dot_xml="<a/>"),
        "file_not_opened",
        "a word-processor document",
        id="odt",
    ),
    pytest.param(
        packed(Index__Document_dot_iwa=b"x"),
        "file_not_opened",
        "a sheet or document of another program (.numbers or .pages)",
        id="numbers",
    ),
    pytest.param(
        b'{"url": "https://sheets.example.org/open?id=1", "doc_id": "1", "email": "anna@example.org"}',
        "file_not_opened",
        "a link to a sheet on the web",
        id="link-file-of-an-online-sheet",
    ),
    pytest.param(
        b"[InternetShortcut]\r\nURL=https://sheets.example.org/1\r\n",
        "file_not_opened",
        "a link to a sheet on the web",
        id="link-of-windows",
    ),
    pytest.param(b"L\0\0\0\1\x14\2\0\0\0\0\0", "file_not_opened", "a shortcut to a file", id="shortcut"),
    pytest.param(
        b'<?xml version="1.0"?><office:document office:mimetype="application/vnd.oasis.opendocument.spreadsheet">',
        "file_not_opened",
        "a workbook in an old XML form",
        id="open-document-as-one-xml",
    ),
    pytest.param(b"{\\rtf1 tags}", "file_not_opened", "a word-processor document", id="rtf"),
    pytest.param(packed(word__document_dot_xml="<w/>"), "file_not_opened", "a word-processor document", id="docx"),
    pytest.param(container("WordDocument"), "file_not_opened", "a word-processor document", id="doc"),
    pytest.param(packed(ppt__slides="<p/>"), "file_not_opened", "a set of slides", id="pptx"),
    pytest.param(packed(a_dot_txt="x"), "file_not_opened", "an archive", id="zip"),
    pytest.param(b"\x1f\x8b\x08\0", "file_not_opened", "an archive", id="gzip"),
    pytest.param(b"  <!DOCTYPE html><table>", "file_not_opened", "a web page", id="web-page"),
    pytest.param(b"\xef\xbb\xbf<html><body>", "file_not_opened", "a web page", id="web-page-with-a-mark"),
    pytest.param(
        b'<?xml version="1.0"?><Workbook xmlns="urn:schemas-microsoft-com:office:spreadsheet">',
        "file_not_opened",
        "a workbook in an old XML form",
        id="workbook-as-xml",
    ),
    pytest.param(packed(xl__workbook_dot_bin=b"x"), "file_not_opened", "a binary workbook (.xlsb)", id="xlsb"),
    pytest.param(xlsx()[:3000], "file_not_opened", "a damaged workbook", id="half-an-xlsx"),
    pytest.param(xlsx()[:-40], "file_not_opened", "a damaged workbook", id="xlsx-without-its-end"),
    pytest.param(packed(xl__workbook_dot_xml="<a"), "file_not_opened", "a damaged workbook", id="xlsx-of-nothing"),
    pytest.param(xls()[:600], "file_not_opened", "a damaged workbook", id="half-an-xls"),
    pytest.param(OLE2, "file_not_opened", "a damaged workbook", id="eight-bytes-of-an-xls"),
    pytest.param(bytes(range(256)) * 40, "file_not_opened", "a file of a kind that we do not know", id="bytes"),
    pytest.param(b"\0" * 4000, "file_not_opened", "a file of a kind that we do not know", id="only-zero-bytes"),
    pytest.param(
        with_part(xlsx(), "xl/worksheets/sheet9.xml", b'<!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>'),
        "file_not_opened",
        "a damaged workbook",
        id="xml-with-entities",
    ),
    pytest.param(
        with_part(xlsx(), "xl/worksheets/sheet9.xml", IN_TWO_BYTES),
        "file_not_opened",
        "a damaged workbook",
        id="xml-with-entities-in-two-bytes-a-letter",
    ),
    pytest.param(BOASTFUL, "file_not_opened", "a damaged workbook", id="more-styles-told-than-there-are-bytes"),
    pytest.param(endless(), "file_not_opened", "a damaged workbook", id="xls-without-end"),
    pytest.param(ends_before_it_starts(), "file_not_opened", "a damaged workbook", id="xls-that-ends-before-it-starts"),
    pytest.param(
        container("EncryptedPackage"),
        "file_locked_by_password",
        "a workbook with a password",
        id="xlsx-password",
    ),
    pytest.param(xls_with_password(), "file_locked_by_password", "a workbook with a password", id="xls-password"),
    pytest.param(
        ods(**{"META-INF__manifest_dot_xml": "<manifest:encryption-data/>"}),
        "file_locked_by_password",
        "a workbook with a password",
        id="ods-password",
    ),
    pytest.param(
        with_part(xlsx(), "xl/vbaProject.bin", b"x"),
        "workbook_with_macros",
        "a workbook with macros",
        id="xlsm",
    ),
    pytest.param(TYPED, "workbook_with_macros", "a workbook with macros", id="xlsm-under-another-part-name"),
    pytest.param(
        container("Workbook", "_VBA_PROJECT_CUR"),
        "workbook_with_macros",
        "a workbook with macros",
        id="xls-macros",
    ),
    pytest.param(
        ods(Basic__Standard__Module1_dot_xml="<a/>"),
        "workbook_with_macros",
        "a workbook with macros",
        id="ods-macros",
    ),
    pytest.param(
        with_part(xlsx(), "xl/worksheets/sheet9.xml", b"0" * 5_000_000),
        "file_unpacks_too_large",
        "a workbook that unpacks to an unusual size",
        id="packed-a-thousand-to-one",
    ),
    pytest.param(
        lying(),
        "file_unpacks_too_large",
        "a workbook that unpacks to an unusual size",
        id="directory-that-lies",
    ),
]


@pytest.mark.parametrize(("data", "refusal", "what"), REFUSED)
@pytest.mark.parametrize("name", ["sheet.xlsx", "sheet.csv"])
def test_a_file_is_refused_by_its_bytes_whatever_its_name(
    tmp_path: Path, name: str, data: bytes, refusal: str, what: str
) -> None:
    path = tmp_path / name
    path.write_bytes(data)
    read = read_file(path, f"p01/{name}", "0" * 64)
    assert (read.refusal, read.what, read.sheets) == (refusal, what, ())
    assert (read.file, read.file_sha256) == (f"p01/{name}", "0" * 64)
    assert path.read_bytes() == data


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        pytest.param(xlsx(), "xlsx", id="xlsx"),
        pytest.param(xls(), "xls", id="xls"),
        pytest.param(ods(), "ods", id="ods"),
        pytest.param(with_part(ods(), "Basic/Standard/script-lb.xml", b"<a/>"), "ods", id="ods-empty-macro-list"),
        pytest.param(b"tag,day\n", "text", id="text"),
        pytest.param("tag;Größe\n".encode("cp1252"), "text", id="text-of-windows"),
        pytest.param(b"BM0001,2026-09-03\n", "text", id="text-that-starts-like-a-picture"),
        pytest.param(b"PK0001,2026-09-03\n", "text", id="text-that-starts-like-an-archive"),
        pytest.param(b"BZh,2026-09-03\n", "text", id="text-that-starts-like-another-archive"),
        pytest.param(b"ID3,2026-09-03\n", "text", id="text-that-starts-like-a-recording"),
        pytest.param(b"PAR1,2026-09-03\n", "text", id="text-that-starts-like-another-table"),
        pytest.param(b"https://example.org/a,SM0001\n", "text", id="text-that-starts-with-a-link"),
    ],
)
def test_what_we_read_is_known_by_its_bytes(data: bytes, kind: str) -> None:
    seen = look(data)
    assert (seen.kind, seen.refusal, seen.what) == (kind, "", "")


@pytest.mark.parametrize(
    ("name", "limit"),
    [
        pytest.param("LARGEST_TOTAL", 10_000, id="all-parts-together"),
        pytest.param("LARGEST_MEMBER", 3_000, id="one-part"),
        pytest.param("MOST_MEMBERS", 5, id="number-of-parts"),
    ],
)
def test_each_limit_refuses_an_ordinary_workbook_once_it_is_set_lower(
    monkeypatch: pytest.MonkeyPatch, name: str, limit: int
) -> None:
    assert look(xlsx()).kind == "xlsx"
    monkeypatch.setattr(unpack, name, limit)
    assert look(xlsx()).refusal == "file_unpacks_too_large"


def test_the_limits_are_those_of_a_careful_intake() -> None:
    # Common practice: 200 MB in all, 100 MB a part, 100 to 1, 2,000 parts.
    limits = (unpack.LARGEST_TOTAL, unpack.LARGEST_MEMBER, unpack.LARGEST_RATIO, unpack.MOST_MEMBERS)
    assert limits == (200_000_000, 100_000_000, 100, 2_000)


def written(cells: list[tuple[int, int, str | None]]) -> bytes:
    kept = io.BytesIO()
    workbook = xlsxwriter.Workbook(kept, {"in_memory": True})
    sheet, bold = workbook.add_worksheet(), workbook.add_format({"bold": True})
    for row, column, text in cells:
        sheet.write(row, column, text, bold)
    workbook.close()
    return kept.getvalue()


@pytest.mark.parametrize(
    ("cells", "what"),
    [
        pytest.param([(1_048_575, 16_383, "x")], "too many", id="a-cell-at-the-far-corner"),
        pytest.param([(200_000, 0, "x")], "too many", id="one-row-too-many"),
        pytest.param([(0, 300, "x")], "too many", id="one-column-too-many"),
        pytest.param([(199_999, 0, "x")], "", id="the-last-row-allowed"),
        pytest.param([(0, 299, "x")], "", id="the-last-column-allowed"),
        pytest.param([(1_048_575, 16_383, None)], "", id="only-a-format-at-the-far-corner"),
    ],
)
def test_a_sheet_is_held_against_the_limits_by_its_filled_cells(
    tmp_path: Path, cells: list[tuple[int, int, str | None]], what: str
) -> None:
    path = tmp_path / "sheet.xlsx"
    path.write_bytes(written([(0, 0, "tag"), *cells]))
    read = read_file(path, "sheet.xlsx", "")
    if what:
        assert (read.refusal, read.what) == ("file_not_opened", TOO_MANY)
    else:
        assert read.refusal == ""
        assert read.sheets[0].texts[0][0] == "tag"


def test_two_cells_far_apart_are_refused_before_all_between_them_is_laid_out(tmp_path: Path) -> None:
    path = tmp_path / "sheet.xlsx"
    path.write_bytes(written([(0, 299, "x"), (199_999, 0, "x")]))
    read = read_file(path, "sheet.xlsx", "")
    assert (read.refusal, read.what) == ("file_not_opened", SPREAD)


def test_what_a_workbook_points_at_is_not_opened_and_said(tmp_path: Path) -> None:
    link = b'<externalLink><externalBook r:id="rId1"/></externalLink>'
    path = tmp_path / "sheet.xlsx"
    path.write_bytes(with_part(xlsx(), "xl/externalLinks/externalLink1.xml", link))
    read = read_file(path, "sheet.xlsx", "")
    assert (read.refusal, read.what) == ("", POINTS_OUT)
    assert read.sheets[0].texts == (("tag", "day"),)


def takes_three_gigabytes(path: Path, file: str, sha256: str, part: tuple[int, ...]) -> FileRead:
    """A reader that wants too much memory for some files; given where `read_file` goes."""
    if "hungry" in file:
        bytearray(3_000_000_000)
    return read_file(path, file, sha256, part)


@pytest.mark.skipif(sys.platform != "linux", reason="only there the system holds a process to its memory")
def test_a_file_that_takes_too_much_memory_costs_no_other_file(tmp_path: Path) -> None:
    for name in ("1.csv", "2 hungry.csv", "3.csv"):
        (tmp_path / name).write_text(f"tag\n{name}\n")
    reads = read_files(find_files(tmp_path).arrivals, read=takes_three_gigabytes)
    assert [read.what for read in reads] == ["", "a file that our reader could not finish", ""]


def test_a_parsers_own_breakdown_does_not_reach_the_terminal(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    # Cut within its directory: the parser panics, and would say so on its own.
    (tmp_path / "cut.xls").write_bytes(xls()[:-100])
    (tmp_path / "half.xls").write_bytes(xls()[:2000])
    read_files(find_files(tmp_path).arrivals)
    assert capfd.readouterr().err == ""
