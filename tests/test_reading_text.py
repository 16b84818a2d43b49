"""How a text table of any common encoding and delimiter becomes rows."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.files.limits import TOO_MANY
from pipeline.files.reading import read_file
from pipeline.files.text_records import records
from pipeline.files.text_tables import decoded


def rows_of(tmp_path: Path, data: bytes, name: str = "sheet.csv") -> tuple[tuple[str, ...], ...]:
    path = tmp_path / name
    path.write_bytes(data)
    read = read_file(path, name, "0" * 64)
    assert (read.refusal, read.what) == ("", "")
    assert [sheet.name for sheet in read.sheets] == [""]
    return read.sheets[0].texts


FRENCH = "étiquette,remarque\nSM0001,mâle près du café – « à côté »\n"
MANY = "tag,place\n" + "SM0001,Pré-d'en-Haut\n" * 20 + "SM0002,l’étang à Noël\n"
DOS = "étiquette,lieu\nSM0001,mâle près du café\nSM0002,Île à Noël\n"


@pytest.mark.parametrize(
    ("text", "encoding"),
    [
        pytest.param(FRENCH, "utf-8", id="utf-8"),
        pytest.param(FRENCH, "utf-8-sig", id="utf-8-with-its-mark"),
        pytest.param(FRENCH, "utf-16", id="utf-16-with-its-mark"),
        pytest.param(FRENCH, "utf-16-le", id="utf-16-little-without"),
        pytest.param(FRENCH, "utf-16-be", id="utf-16-big-without"),
        pytest.param(FRENCH, "utf-32", id="utf-32-with-its-mark"),
        pytest.param(FRENCH, "cp1252", id="windows-1252"),
        pytest.param(FRENCH, "mac_roman", id="mac-roman"),
        pytest.param(MANY, "cp1252", id="windows-1252-few-accents"),
        pytest.param(MANY, "mac_roman", id="mac-roman-few-accents"),
        pytest.param("tag,notes\nSM0001,year’s first…\n", "cp1252", id="windows-quote-and-ellipsis"),
        pytest.param("tag,notes\nSM0001,year’s first\n", "mac_roman", id="mac-apostrophe"),
        pytest.param("código,año\nSM0001,niño\n¿dónde?,sí\n", "cp1252", id="spanish-of-windows"),
        pytest.param("código,año\nSM0001,niño\n¿dónde?,sí\n", "mac_roman", id="spanish-of-a-mac"),
        pytest.param(DOS, "cp850", id="dos"),
        pytest.param("tag,lat\nSM0001,45°30'N\n", "cp1252", id="windows-degree"),
        pytest.param("tag,lat\nSM0001,45°30'N\n", "mac_roman", id="mac-degree"),
        pytest.param("tag,sex\nSM0001,♀\nSM0002,♂\n", "utf-8", id="signs-of-sex"),
        pytest.param("ÉTIQUETTE,LIEU\nSM0001,PRÉ À NOËL\n", "cp1252", id="capitals-of-windows"),
    ],
)
def test_letters_come_out_as_they_were_typed(text: str, encoding: str) -> None:
    assert decoded(text.encode(encoding)) == text


@pytest.mark.parametrize(
    ("data", "text"),
    [
        pytest.param("été,".encode() * 3 + b"caf\xe9", "été,été,été,café", id="a-pasted-byte-within-utf-8"),
        pytest.param(b"\xef\xbb\xbf" + b"caf\xe9", "café", id="a-mark-that-promises-too-much"),
        pytest.param("tag,lieu".encode("utf-16") + b"\0", "tag,lieu\ufffd", id="half-a-letter-at-the-end"),
    ],
)
def test_a_few_wrong_bytes_cost_no_file(data: bytes, text: str) -> None:
    assert decoded(data) == text


TABLE = (("tag", "day", "place"), ("SM0001", "3/9/26", "Sackville"), ("SM0002", "", "Tantramar"))


@pytest.mark.parametrize(
    ("data", "rows"),
    [
        pytest.param(b"tag,day,place\nSM0001,3/9/26,Sackville\nSM0002,,Tantramar\n", TABLE, id="comma"),
        pytest.param(b"tag;day;place\nSM0001;3/9/26;Sackville\nSM0002;;Tantramar\n", TABLE, id="semicolon"),
        pytest.param(b"tag\tday\tplace\r\nSM0001\t3/9/26\tSackville\r\nSM0002\t\tTantramar\r\n", TABLE, id="tab"),
        pytest.param(b"tag|day|place\nSM0001|3/9/26|Sackville\nSM0002||Tantramar\n", TABLE, id="bar"),
        pytest.param(b"tag;day;place\rSM0001;3/9/26;Sackville\rSM0002;;Tantramar\r", TABLE, id="bare-cr"),
        pytest.param(b"tag,day,place\nSM0001,3/9/26,Sackville\nSM0002,,Tantramar", TABLE, id="no-last-line-end"),
        pytest.param(
            b'"tag","day","place"\n"SM0001","3/9/26","Sackville"\n"SM0002","","Tantramar"\n',
            TABLE,
            id="all-quoted",
        ),
        pytest.param(
            b"sep=;\r\ntag;day;place\r\nSM0001;3/9/26;Sackville\r\nSM0002;;Tantramar\r\n",
            TABLE,
            id="delimiter-named-in-a-line-that-programs-hide",
        ),
        pytest.param(
            b"tag;lat;lon\nSM0001;45,5;-64,8\nSM0002;45,6;-64,9\n",
            (("tag", "lat", "lon"), ("SM0001", "45,5", "-64,8"), ("SM0002", "45,6", "-64,9")),
            id="decimal-commas-between-semicolons",
        ),
        pytest.param(
            b"tag,who\nSM0001,EG; LS\nSM0002,EG; AS\nSM0003,AS\n",
            (("tag", "who"), ("SM0001", "EG; LS"), ("SM0002", "EG; AS"), ("SM0003", "AS")),
            id="semicolons-within-a-column",
        ),
        pytest.param(
            b"Our season\n\ntag,day\nSM0001,3/9/26\n",
            (("Our season",), (), ("tag", "day"), ("SM0001", "3/9/26")),
            id="blank-lines-count",
        ),
        pytest.param(
            b"tag,day\nSM0001,3/9/26\n,,,\n,,,\n\n",
            (("tag", "day"), ("SM0001", "3/9/26")),
            id="rows-of-commas-at-the-end",
        ),
        pytest.param(
            b'tag,notes\nSM0001,"saw it,\nthen rain"\nSM0002,sun\n',
            (("tag", "notes"), ("SM0001", "saw it,\nthen rain"), ("SM0002", "sun")),
            id="line-break-in-quotes-is-one-row",
        ),
        pytest.param(
            b'tag,notes\nSM0001,"the ""big"" one"\n',
            (("tag", "notes"), ("SM0001", 'the "big" one')),
            id="doubled-quotes",
        ),
        pytest.param(
            b'tag,notes\nSM0001,"big" one\nSM0002,sun\n',
            (("tag", "notes"), ("SM0001", "big one"), ("SM0002", "sun")),
            id="text-behind-a-quotation",
        ),
        pytest.param(
            b'tag,notes\nSM0001,"never closed\nSM0002,sun\nSM0003,rain\n',
            (("tag", "notes"), ("SM0001", '"never closed'), ("SM0002", "sun"), ("SM0003", "rain")),
            id="a-quotation-never-closed-swallows-no-row",
        ),
        pytest.param(
            b'tag,notes\nSM0001,"never closed\nSM0002,sun\nSM0003,"rain"\nSM0004,sun\n',
            (
                ("tag", "notes"),
                ("SM0001", '"never closed'),
                ("SM0002", "sun"),
                ("SM0003", "rain"),
                ("SM0004", "sun"),
            ),
            id="a-quotation-closed-by-another-ones-start-swallows-no-row",
        ),
        pytest.param(
            b'tag,notes\nSM0001,"sun\nSM0002,rain\nSM0003,sun"\nSM0004,"a, b\nc, d"\n',
            (
                ("tag", "notes"),
                ("SM0001", '"sun'),
                ("SM0002", "rain"),
                ("SM0003", 'sun"'),
                ("SM0004", "a, b\nc, d"),
            ),
            id="two-broken-quotations-that-look-like-one-long-cell",
        ),
        pytest.param(
            b'tag,day,notes\nSM0001,3/9/26,"saw it,\nthen, rain"\nSM0002,"3/9/26,sun\nSM0003,4/9/26,"in, out"\n',
            (
                ("tag", "day", "notes"),
                ("SM0001", "3/9/26", "saw it,\nthen, rain"),
                ("SM0002", '"3/9/26', "sun"),
                ("SM0003", "4/9/26", "in, out"),
            ),
            id="one-broken-quotation-costs-one-cell",
        ),
        pytest.param(
            b'tag;day;notes\r\nSM0001;3/9/26;"12" tall\r\nSM0002;"4/9/26";"a;b"\r\n',
            (("tag", "day", "notes"), ("SM0001", "3/9/26", "12 tall"), ("SM0002", "4/9/26", "a;b")),
            id="an-inch-sign-at-the-end-of-a-quotation",
        ),
        pytest.param(
            b"tag,day\nSM0001,3/9/26\r\nSM0002,4/9/26\rSM0003,5/9/26",
            (("tag", "day"), ("SM0001", "3/9/26"), ("SM0002", "4/9/26"), ("SM0003", "5/9/26")),
            id="three-kinds-of-line-ends",
        ),
        pytest.param(b"tag,day\nSM0001,3/9/26\n" + b"\0" * 4096, (("tag", "day"), ("SM0001", "3/9/26")), id="padded"),
        pytest.param(b"tag,notes\nSM0001,a\0b\n", (("tag", "notes"), ("SM0001", "a\0b")), id="nul"),
        pytest.param(b"tag,notes\n SM0001 , a \n", (("tag", "notes"), (" SM0001 ", " a ")), id="blanks-are-kept"),
        pytest.param(b"tag\nSM0001\nSM0002\n", (("tag",), ("SM0001",), ("SM0002",)), id="one-column"),
        pytest.param(
            "tag,notes\nSM0001,a\u2028b\n".encode(),
            (("tag", "notes"), ("SM0001", "a\u2028b")),
            id="unicode-line-separator-parts-no-rows",
        ),
        pytest.param(b"\n\n", (), id="nothing-but-line-ends"),
        pytest.param(b"\xef\xbb\xbf", (), id="nothing-but-a-mark"),
    ],
)
def test_a_text_table_becomes_its_rows(tmp_path: Path, data: bytes, rows: tuple[tuple[str, ...], ...]) -> None:
    assert rows_of(tmp_path, data) == rows


@pytest.mark.parametrize("name", ["sheet.xlsx", "sheet.xls", "sheet.txt", "sheet", "SHEET.TSV"])
def test_a_text_table_is_read_under_any_name(tmp_path: Path, name: str) -> None:
    assert rows_of(tmp_path, b"tag\tday\nSM0001\t3/9/26\n", name) == (("tag", "day"), ("SM0001", "3/9/26"))


def test_the_kinds_of_a_text_table_are_text_and_blank(tmp_path: Path) -> None:
    (tmp_path / "sheet.csv").write_bytes(b"tag,n,,note\nSM0001,12,, \n\n,,,x\n")
    sheet = read_file(tmp_path / "sheet.csv", "sheet.csv", "").sheets[0]
    assert sheet.kinds == ("tt-t", "tt-t", "", "---t")


@pytest.mark.parametrize(
    "data",
    [
        pytest.param(b"x\n" * 200_001, id="too-many-rows"),
        pytest.param(b"x," * 300 + b"x\n", id="too-many-columns"),
    ],
)
def test_a_text_table_is_held_against_the_limits(tmp_path: Path, data: bytes) -> None:
    (tmp_path / "sheet.csv").write_bytes(data)
    read = read_file(tmp_path / "sheet.csv", "sheet.csv", "")
    assert (read.refusal, read.what) == ("file_not_opened", TOO_MANY)


def test_the_limits_are_said_in_words() -> None:
    assert TOO_MANY == "a sheet with more than 200,000 rows or 300 columns"


CELL = st.text(st.characters(exclude_categories=["Cs", "Cc"], exclude_characters='"'), max_size=8)


@given(
    st.lists(st.lists(CELL, min_size=3, max_size=3), min_size=2, max_size=8),
    st.sampled_from(["\n", "\r\n", "\r"]),
)
def test_a_quoted_table_of_any_letters_comes_back(rows: list[list[str]], line_end: str) -> None:
    text = "".join(",".join(f'"{cell}"' for cell in row) + line_end for row in rows)
    assert records(text) == rows


@given(st.binary(max_size=300))
def test_no_bytes_bring_the_reader_down(data: bytes) -> None:
    text = decoded(data)
    if text is not None:
        assert all(isinstance(cell, str) for record in records(text) for cell in record)
