"""Which rows are current: keys, rows written twice, tags that were not released, sheets that list finds."""

from __future__ import annotations

import uuid

import pandas as pd
import pytest
from example_tables import empty, read_examples
from hypothesis import given
from hypothesis import strategies as st

from pipeline.files.schemas import words
from pipeline.model import Heading, Sheet, Table
from pipeline.stages.match import ASIDE_COLUMNS, Matched, keys, match, says_find, set_aside, set_aside_by_reading

NAMESPACE = uuid.uuid5(uuid.NAMESPACE_URL, "urn:tagsheaf:occurrence")


def rows_of(text: str) -> pd.DataFrame:
    """Rows as they come from normalise: no key and no part yet."""
    return read_examples(text, "row")[0].cells.drop(columns="key").assign(file="a.csv", file_sha256="ab", sheet="Tags")


def matched(text: str) -> Matched:
    return match(rows_of(text), "saltmarsh")


def kept(text: str, withdrawn: dict[str, str] | None = None) -> Matched:
    """What stays of the rows of a sheet, none of which is written twice."""
    return set_aside(matched(text).rows, withdrawn or {})


# The name-based UUID of version 5 (RFC 9562, section 5.5; before it RFC 4122): Python's own uuid module.
@given(
    st.lists(
        st.tuples(st.text(max_size=8), st.text(max_size=8), st.integers(1, 10**6), st.sampled_from(["", "2"])),
        min_size=1, max_size=6,
    ),
    st.text(max_size=8),
)  # fmt: skip
def test_a_key_is_the_name_based_uuid_over_programme_bytes_sheet_row_and_part(
    places: list[tuple[str, str, int, str]], programme: str
) -> None:
    rows = pd.DataFrame(places, columns=["file_sha256", "sheet", "row", "part"])
    named = ["\x1f".join([programme, sha256, sheet, str(row), part]) for sha256, sheet, row, part in places]
    assert keys(rows, programme) == [str(uuid.uuid5(NAMESPACE, name)) for name in named]


def test_a_key_is_a_uuid_of_version_5() -> None:
    (key,) = matched("tagCode | row\nSM0001 | 2").rows["key"]
    assert uuid.UUID(key).version == 5 and uuid.UUID(key).variant == uuid.RFC_4122
    assert str(uuid.UUID(key)) == key


def test_a_key_stays_the_same_wherever_the_file_lies_and_whatever_else_is_read() -> None:
    rows = rows_of("tagCode | row\nSM0001 | 2\nSM0002 | 3")
    moved = rows.assign(file="p1/late/a.csv", table_id=9, tagCode="SM0009").iloc[1:]
    assert keys(rows.assign(part=""), "saltmarsh")[1:] == keys(moved.assign(part=""), "saltmarsh")


OTHER = [
    ("programme", "other", {}),
    ("bytes", "saltmarsh", {"file_sha256": "cd"}),
    ("sheet", "saltmarsh", {"sheet": "Two"}),
    ("row", "saltmarsh", {"row": 3}),
    ("part", "saltmarsh", {"part": "2"}),
]


@pytest.mark.parametrize(("programme", "changed"), [case[1:] for case in OTHER], ids=[case[0] for case in OTHER])
def test_another_place_has_another_key(programme: str, changed: dict[str, object]) -> None:
    row = rows_of("tagCode | row\nSM0001 | 2").assign(part="")
    assert keys(row, "saltmarsh") != keys(row.assign(**changed), programme)


def test_every_row_of_a_sheet_has_a_key_of_its_own() -> None:
    rows = pd.DataFrame({"file_sha256": "ab", "sheet": "Tags", "row": range(1, 5001), "part": ""})
    assert len(set(keys(rows, "saltmarsh"))) == 5000


COPIES = [
    ("the same in every cell", "SM0001 | F | 2026-09-03\nSM0001 | F | 2026-09-03", [3]),
    ("three times", "SM0001 | F | 2026-09-03\n" * 3, [3, 4]),
    ("with a row between", "SM0001 | F | 2026-09-03\nSM0002 | F | 2026-09-03\nSM0001 | F | 2026-09-03", [4]),
    ("another sex", "SM0001 | F | 2026-09-03\nSM0001 | M | 2026-09-03", []),
    ("another day", "SM0001 | F | 2026-09-03\nSM0001 | F | 2026-09-04", []),
    ("another tag", "SM0001 | F | 2026-09-03\nSM0002 | F | 2026-09-03", []),
    ("no tag", '"" | F | 2026-09-03\n"" | F | 2026-09-03', []),
]


@pytest.mark.parametrize(("lines", "copies"), [case[1:] for case in COPIES], ids=[case[0] for case in COPIES])
def test_a_row_written_twice_in_a_sheet_is_a_copy_of_the_first(lines: str, copies: list[int]) -> None:
    found = matched("tagCode | sex | eventDate\n" + lines)
    assert found.aside["row"].tolist() == copies
    assert set(found.aside["state"]) <= {"copy"}
    assert set(found.aside["reason"]) <= {"the same in every cell as row 2"}
    assert not set(found.rows["row"]) & set(copies)
    assert len(found.rows) + len(found.aside) == len(lines.strip().split("\n"))


def test_a_cell_that_is_typed_otherwise_makes_another_row_though_it_means_the_same() -> None:
    found = matched("tagCode | sex | sex_written\nSM0001 | female | F\nSM0001 | female | female")
    assert found.aside.empty


def test_the_same_row_in_another_table_is_no_copy() -> None:
    assert matched("table_id | tagCode | sex\n1 | SM0001 | F\n2 | SM0001 | F").aside.empty


FATES = [
    ("lost", "the tag was lost"),
    ("spoiled", "the tag was spoiled"),
    ("not used", "the tag was not used"),
    ("released", ""),
    ("", ""),
    ("eaten", ""),
]


@pytest.mark.parametrize(("fate", "reason"), FATES, ids=[fate or "blank" for fate, _ in FATES])
def test_a_row_that_says_what_else_became_of_the_tag_is_left_out(fate: str, reason: str) -> None:
    found = kept(f'tagCode | tagFate\nSM0001 | "{fate}"\nSM0002 | released')
    assert found.aside["reason"].tolist() == [reason] * bool(reason)
    assert set(found.aside["state"]) <= {"left-out"}
    assert len(found.rows) == 2 - bool(reason)


def test_a_lost_tag_written_twice_is_left_out_once_and_the_second_is_a_copy() -> None:
    text = "tagCode | tagFate\nSM0001 | lost\nSM0001 | lost\nSM0001 | released"
    assert matched(text).aside[["row", "state"]].to_numpy().tolist() == [[3, "copy"]]
    assert kept(text).aside[["row", "state"]].to_numpy().tolist() == [[2, "left-out"]]
    assert kept(text).rows["row"].tolist() == [4]


THREE = "tagCode | row\nSM0001 | 2\nSM0002 | 3\nSM0003 | 4"


def test_a_row_that_its_sender_took_back_is_withdrawn_for_the_reason_that_was_given() -> None:
    second = matched(THREE).rows["key"].tolist()[1]
    found = kept(THREE, {second: "typed by mistake", "a key of another file": "no"})
    assert found.rows["tagCode"].tolist() == ["SM0001", "SM0003"]
    assert found.aside[["key", "state", "reason"]].to_numpy().tolist() == [[second, "withdrawn", "typed by mistake"]]


def test_a_lost_tag_whose_row_was_taken_back_is_withdrawn_and_not_left_out() -> None:
    text = "tagCode | tagFate\nSM0001 | lost\nSM0002 | spoiled"
    first = matched(text).rows["key"].tolist()[0]
    found = kept(text, {first: "asked to"})
    assert found.rows.empty
    assert found.aside[["state", "reason"]].to_numpy().tolist() == [
        ["withdrawn", "asked to"],
        ["left-out", "the tag was spoiled"],
    ]


def test_where_nothing_is_put_aside_every_row_stays() -> None:
    found = kept(THREE)
    assert found.rows["tagCode"].tolist() == ["SM0001", "SM0002", "SM0003"]
    assert found.aside.empty and list(found.aside.columns) == ASIDE_COLUMNS


def test_what_is_put_aside_has_its_address_and_key() -> None:
    found = kept("tagCode | tagFate\nSM0001 | lost\nSM0002 | released")
    assert list(found.aside.columns) == ASIDE_COLUMNS
    assert found.aside["tagCode"].tolist() == ["SM0001"]
    assert uuid.UUID(found.aside["key"].tolist()[0]).version == 5
    copy = matched("tagCode\nSM0001\nSM0001").aside
    assert list(copy.columns) == ASIDE_COLUMNS
    assert copy["tagCode"].tolist() == ["SM0001"] and uuid.UUID(copy["key"].tolist()[0]).version == 5


def test_no_rows_make_no_current_rows() -> None:
    found = match(empty("row").drop(columns="key").assign(file="", file_sha256="", sheet=""), "saltmarsh")
    assert found.rows.empty and found.aside.empty
    assert "key" in found.rows
    left = set_aside(found.rows, {"k": "gone"})
    assert left.rows.empty and left.aside.empty


def table(file: str = "a.xlsx", sheet: str = "Sheet1", *headings: tuple[str, str]) -> Table:
    columns = tuple(Heading(at, written, field) for at, (written, field) in enumerate(headings))
    return Table(Sheet(file, "ab", sheet, (), ()), 1, 1, columns, 2, 4, {3: "total", 4: "note"})


SAYS_FIND = [
    ("the name of the file", table("rosa/finds 2026.xlsx"), True),
    ("the name of the file in Spanish", table("hallazgos.csv"), True),
    ("the name of the file in French", table("Étiquettes retrouvées.ods"), True),
    ("the name of the sheet", table("a.xlsx", "Recoveries and finds"), True),
    ("a heading", table("a.xlsx", "Sheet1", ("Date found", "eventDate")), True),
    ("a heading of another field", table("a.xlsx", "Sheet1", ("Found dead", "vitality")), False),
    ("the folder alone", table("finds/a.xlsx"), False),
    ("nothing", table(), False),
    ("releases", table("releases.xlsx", "Finds"), False),
    (
        "a release date beside a find date",
        table("a.xlsx", "S", ("Date found", "eventDate"), ("Released by", "recordedBy")),
        False,
    ),
]


@pytest.mark.parametrize(("sheet", "is_find"), [case[1:] for case in SAYS_FIND], ids=[case[0] for case in SAYS_FIND])
def test_file_sheet_or_heading_say_that_a_table_lists_finds(sheet: Table, is_find: bool) -> None:
    assert says_find(sheet, words("record_kind")) is is_find


def test_rows_that_are_no_records_are_put_aside_with_their_reason() -> None:
    aside = set_aside_by_reading({0: table(), 1: table("b.csv", "")})
    assert list(aside.columns) == ASIDE_COLUMNS
    assert aside[["file", "row", "state", "reason"]].to_numpy().tolist() == [
        ["a.xlsx", 3, "left-out", "total"],
        ["a.xlsx", 4, "left-out", "note"],
        ["b.csv", 3, "left-out", "total"],
        ["b.csv", 4, "left-out", "note"],
    ]
    assert set_aside_by_reading({}).empty
