"""CSV files come back as they were written, and people's files hold nothing that a spreadsheet would run."""

from __future__ import annotations

import csv
from pathlib import Path

import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.files.csv_files import read_columns, write_csv

# Common practice (OWASP, CSV injection): what gets an apostrophe in a file for people, and what does not.
GUARDED = [
    ("=1+1", "'=1+1"),
    ("@SUM(A1)", "'@SUM(A1)"),
    ("+45 or so", "'+45 or so"),
    ("-64°48'", "'-64°48'"),
    ("\tx", "'\tx"),
    ("\nx", "'\nx"),
    ("\x00x", "'\x00x"),
    ("＝1", "'＝1"),
    ("＠x", "'＠x"),
    ("＋5", "'＋5"),
    ("－5", "'－5"),
    ("-", "'-"),
    ("--5", "'--5"),
    ("-64.8123", "-64.8123"),
    ("+45.5", "+45.5"),
    ("-5", "-5"),
    ("-1.5e-7", "-1.5e-7"),
    ("-.5", "-.5"),
    ("SM0042", "SM0042"),
    ("", ""),
    ("'quoted", "'quoted"),
    ("a=b", "a=b"),
    ("−64.8", "−64.8"),
]


def read_back(path: Path) -> pd.DataFrame:
    return pd.DataFrame(
        {name: values.take(places).reset_index(drop=True) for name, (values, places) in read_columns(path).items()}
    )


def rows(path: Path) -> list[list[str]]:
    with path.open(encoding="utf-8", newline="") as lines:
        return list(csv.reader(lines))


@pytest.mark.parametrize(("cell", "written"), GUARDED, ids=[repr(pair[0]) for pair in GUARDED])
def test_a_text_that_may_run_gets_an_apostrophe_and_a_number_never(tmp_path: Path, cell: str, written: str) -> None:
    path = tmp_path / "rows.csv"
    write_csv(path, pd.DataFrame({"tag": ["SM1"], "seen": [cell]}), guarded=True)
    assert rows(path)[1][1] == written
    write_csv(path, pd.DataFrame({"tag": ["SM1"], "seen": [cell]}), guarded=False)
    assert rows(path)[1][1] == cell


def test_days_numbers_and_yes_no_are_written_in_plain_forms(tmp_path: Path) -> None:
    frame = pd.DataFrame(
        {
            "row": [12, -3],
            "km": [2.5, float("nan")],
            "day": pd.to_datetime(["2026-09-03", None]),
            "is_minor": [True, False],
        }
    )
    write_csv(tmp_path / "a.csv", frame, guarded=True)
    assert rows(tmp_path / "a.csv") == [
        ["row", "km", "day", "is_minor"],
        ["12", "2.5", "2026-09-03", "yes"],
        ["-3", "", "", "no"],
    ]


def test_the_file_is_utf_8_without_mark_and_with_line_feeds(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "a.csv"
    write_csv(path, pd.DataFrame({"place": ["Étang, salé", 'the "old" dyke', "two\nlines"]}), guarded=False)
    assert path.read_bytes() == 'place\n"Étang, salé"\n"the ""old"" dyke"\n"two\nlines"\n'.encode()
    assert [each.name for each in path.parent.iterdir()] == ["a.csv"]


def test_a_table_of_no_rows_is_a_heading_line(tmp_path: Path) -> None:
    write_csv(tmp_path / "a.csv", pd.DataFrame({"a": [], "b": []}, dtype="str"), guarded=True)
    assert (tmp_path / "a.csv").read_bytes() == b"a,b\n"
    assert list(read_back(tmp_path / "a.csv").columns) == ["a", "b"]


def test_a_write_that_fails_leaves_the_file_that_was_there(tmp_path: Path) -> None:
    path = tmp_path / "a.csv"
    write_csv(path, pd.DataFrame({"a": ["1"]}), guarded=False)
    with pytest.raises(UnicodeEncodeError):
        write_csv(path, pd.DataFrame({"a": pd.Series(["\ud800"], dtype=object)}), guarded=False)
    assert path.read_bytes() == b'a\n"1"\n'
    assert [each.name for each in tmp_path.iterdir()] == ["a.csv"]


def test_nothing_is_taken_for_a_number_or_a_missing_value(tmp_path: Path) -> None:
    path = tmp_path / "a.csv"
    path.write_text("code,size,mark\n0042,51.50000,NA\n,,null\n", encoding="utf-8")
    frame = read_back(path)
    assert frame.to_dict("list") == {"code": ["0042", ""], "size": ["51.50000", ""], "mark": ["NA", "null"]}
    assert all(dtype == "str" for dtype in frame.dtypes)


CELLS = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)


@settings(deadline=None)
@given(st.lists(st.tuples(CELLS, CELLS), min_size=1, max_size=6))
def test_what_was_written_comes_back(tmp_path_factory: pytest.TempPathFactory, cells: list[tuple[str, str]]) -> None:
    path = tmp_path_factory.mktemp("csv") / "a.csv"
    frame = pd.DataFrame(cells, columns=["a", "b"], dtype="str")
    write_csv(path, frame, guarded=False)
    pd.testing.assert_frame_equal(read_back(path), frame)
