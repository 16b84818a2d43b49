"""Sheets that come again: which row is which, what each says now, what was left out or sorted by itself."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, NamedTuple

import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.stages.come_again import ADDRESS, ASPECTS, CameAgain, Known, come_again

FIELDS = ("tagCode", "recordKind", "eventDate", "sex", "municipality", "decimalLatitude", "forewingLength", "tagFate")
HEAD = ("tagCode", "eventDate", "sex", "municipality", "forewingLength")
Line = tuple[str, ...]
SHEET: tuple[Line, ...] = (
    ("AB0001", "2026-09-03", "male", "Sackville", "51"),
    ("AB0012", "2026-09-04", "female", "Amherst", "48"),
    ("AB0023", "2026-09-07", "male", "Tignish", "53"),
    ("AB0034", "2026-09-11", "female", "Sackville", "47"),
    ("AB0045", "2026-09-12", "male", "Amherst", "52"),
    ("AB0056", "2026-09-16", "female", "Tignish", "49"),
    ("AB0067", "2026-09-21", "male", "Sackville", "50"),
    ("AB0078", "2026-09-23", "female", "Amherst", "46"),
)
OTHER: Line = ("AB0089", "2026-09-25", "male", "Truro", "54")
ANOTHER: Line = ("AB0090", "2026-09-26", "female", "Truro", "55")
STRANGERS: tuple[Line, ...] = tuple((f"AC{number:04d}", *OTHER[1:]) for number in range(8))


class File(NamedTuple):
    """A file as it was read; its name stands for its bytes too, and its heading is in row 1."""

    name: str
    lines: Sequence[Line] = SHEET
    head: Line = HEAD
    person: str = "p1"
    aspects: Mapping[str, Sequence[str]] = {}  # `eventDate_candidates` and the like, a text for each line


def rows_of(*files: File) -> pd.DataFrame:
    """The rows of all files, each with the key of its place: "b:3" for row 3 of file b."""
    told = [_row(table, file, at) for table, file in enumerate(files) for at in range(len(file.lines))]
    names = dict.fromkeys([*ADDRESS, "table_id", *(field + aspect for field in FIELDS for aspect in ASPECTS)])
    frame = pd.DataFrame(told, columns=list(names))
    return frame.astype({name: "int64" if name in ("table_id", "row") else "str" for name in names})


def _row(table: int, file: File, at: int) -> dict[str, Any]:
    said = {"recordKind": "release", **dict(zip(file.head, file.lines[at], strict=True))}
    row: dict[str, Any] = {
        "file": f"inbox/{file.name}.csv", "file_sha256": file.name, "sheet": "", "row": at + 2, "part": "",
        "key": f"{file.name}:{at + 2}", "person_id": file.person, "table_id": table,
    }  # fmt: skip
    for field in FIELDS:
        text = said.get(field, "")
        row |= {field: text, f"{field}_written": text, f"{field}_kind": "t" if text else "-"}
        row |= {f"{field}_doubt": "", f"{field}_candidates": ""}
    return row | {name: texts[at] for name, texts in file.aspects.items()}


def came(
    *files: File, before: Mapping[str, str] | None = None, knowing: CameAgain | None = None, order: str = ""
) -> CameAgain:
    """These files looked at in one run, in the order in which they came; `knowing` what an earlier run has learnt."""
    names = order.split() or list(dict.fromkeys(file.name for file in files))
    places = [(table, field) for table, file in enumerate(files) for field in file.head]
    known = Known(
        links=knowing.links if knowing else {},
        matched=knowing.matched if knowing else {},
        order={name: number for number, name in enumerate(names, start=1)},
        before=before or {},
    )
    return come_again(rows_of(*files), pd.DataFrame(places, columns=["table_id", "field"]), known)


def how(again: CameAgain, file: File) -> list[str]:
    """What each row of a file is: "copy a:2", "newer a:2" or "new"."""
    links = [again.links.get(f"{file.name}:{at + 2}") for at in range(len(file.lines))]
    return [f"{link[1]} {link[0]}" if link else "new" for link in links]


def current(again: CameAgain, key: str) -> dict[str, Any]:
    (row,) = again.rows[again.rows["key"] == key].to_dict("records")
    return {str(name): value for name, value in row.items()}


def by_key(again: CameAgain, fact: str) -> dict[str, str]:
    """The current rows of which something is told."""
    told = again.rows[again.rows[fact] != ""]
    return dict(zip(told["key"], told[fact], strict=True))


def with_line(at: int, **said: str) -> list[Line]:
    """The sheet with some cells of one line written otherwise, lines counted from 0."""
    line = dict(zip(HEAD, SHEET[at], strict=True)) | said
    return [*SHEET[:at], tuple(line.values()), *SHEET[at + 1 :]]


COPIES = [f"copy a:{row}" for row in range(2, 10)]


def but(at: int, said: str) -> list[str]:
    return [*COPIES[:at], said, *COPIES[at + 1 :]]


VERSIONS = [
    ("identical rows", SHEET, COPIES),
    ("sorted the other way round", SHEET[::-1], COPIES[::-1]),
    ("sorted by place", sorted(SHEET, key=lambda line: line[3]), [COPIES[at] for at in (1, 4, 7, 0, 3, 6, 2, 5)]),
    ("a row put in at the top", [OTHER, *SHEET], ["new", *COPIES]),
    ("a row put in in the middle", [*SHEET[:4], OTHER, *SHEET[4:]], [*COPIES[:4], "new", *COPIES[4:]]),
    ("a longer file", [*SHEET, OTHER, ANOTHER], [*COPIES, "new", "new"]),
    ("a row left out", SHEET[1:], COPIES[1:]),
    ("a day corrected", with_line(2, eventDate="2026-09-08"), but(2, "newer a:4")),
    ("a cell emptied", with_line(2, sex=""), but(2, "newer a:4")),
    ("all but the tag corrected", [*SHEET[:7], ("AB0078", *OTHER[1:])], but(7, "newer a:9")),
    ("a code corrected by one sign", with_line(2, tagCode="AB0022"), but(2, "newer a:4")),
    ("a code corrected by a sign more", with_line(2, tagCode="AB00233"), but(2, "newer a:4")),
    ("another code alone between the same two rows", with_line(2, tagCode="CD7777"), but(2, "newer a:4")),
    ("another code in the first row", with_line(0, tagCode="CD7777"), but(0, "newer a:2")),
    ("another code in the last row", with_line(7, tagCode="CD7777"), but(7, "newer a:9")),
    ("a code and a day corrected", with_line(2, tagCode="AB0022", eventDate="2026-09-08"), but(2, "newer a:4")),
    (
        "a code corrected by one sign, and all rows sorted",
        with_line(2, tagCode="AB0022")[::-1],
        but(2, "newer a:4")[::-1],
    ),
    ("another code in a row that says nothing else of the same", [*SHEET[:7], OTHER], but(7, "new")),
    (
        "two other codes side by side",
        [*SHEET[:2], ("CD7777", *SHEET[2][1:]), ("CD8888", *SHEET[3][1:]), *SHEET[4:]],
        [*COPIES[:2], "new", "new", *COPIES[4:]],
    ),
    (
        "two codes side by side, each corrected by one sign",
        [("AB0002", *SHEET[0][1:]), ("AB0019", *SHEET[1][1:]), *SHEET[2:]],
        ["newer a:2", "newer a:3", *COPIES[2:]],
    ),
    ("a code taken out", with_line(2, tagCode=""), but(2, "newer a:4")),
]


@pytest.mark.parametrize(("newer", "said"), [case[1:] for case in VERSIONS], ids=[case[0] for case in VERSIONS])
def test_a_sheet_that_comes_again_is_compared_row_by_row(newer: Sequence[Line], said: list[str]) -> None:
    b = File("b", newer)
    again = came(File("a"), b)
    assert how(again, b) == said
    assert again.matched == {("a", "p1"): "", ("b", "p1"): "a"}


@pytest.mark.parametrize("field", HEAD)
def test_a_row_in_which_a_blank_cell_was_filled_is_a_newer_one(field: str) -> None:
    assert how(came(File("a", with_line(2, **{field: ""})), File("b")), File("b")) == but(2, "newer a:4")


def test_of_two_rows_that_a_corrected_code_may_have_been_neither_is_taken() -> None:
    # Both old rows say the same and are one sign away; which of them AB0012 is now, nobody can tell.
    alike = SHEET[0][1:]
    a = File("a", [("AB0011", *alike), ("AB0013", *alike), *SHEET[3:]])
    b = File("b", [*SHEET[3:], ("AB0012", *alike), ("CD7777", *alike)])
    assert how(came(a, b), b) == [f"copy a:{row}" for row in range(4, 9)] + ["new", "new"]


def test_a_copy_and_an_older_row_are_put_aside_with_the_row_that_counts() -> None:
    b = File("b", with_line(0, eventDate="2026-09-30"))
    again = came(File("a", SHEET), b)
    aside = {(line["file"], line["row"]): line for line in again.aside.to_dict("records")}
    assert list(again.aside.columns) == [*ADDRESS, "state", "reason"]
    older = aside["inbox/a.csv", 2]
    assert (older["key"], older["state"]) == ("a:2", "replaced")
    assert older["reason"] == "a newer version came as row 2 of inbox/b.csv"
    copy = aside["inbox/b.csv", 3]
    assert (copy["key"], copy["state"]) == ("a:3", "copy")
    assert copy["reason"] == "the same came before as row 3 of inbox/a.csv"
    assert len(aside) == 8 and len(again.rows) == 8
    row = current(again, "a:2")
    assert (row["file"], row["row"], row["eventDate"]) == ("inbox/b.csv", 2, "2026-09-30")


def test_an_added_column_makes_newer_rows_where_it_is_filled() -> None:
    head = (*HEAD, "decimalLatitude")
    b = File("b", [(*line, "45.9" if at < 2 else "") for at, line in enumerate(SHEET)], head)
    again = came(File("a"), b)
    assert how(again, b) == ["newer a:2", "newer a:3", *COPIES[2:]]
    assert current(again, "a:2")["decimalLatitude"] == "45.9"


def without(field: str, lines: Sequence[Line] = SHEET) -> tuple[list[Line], Line]:
    at = HEAD.index(field)
    return [(*line[:at], *line[at + 1 :]) for line in lines], (*HEAD[:at], *HEAD[at + 1 :])


def test_rows_that_lack_only_a_column_are_copies() -> None:
    b = File("b", *without("forewingLength"))
    assert how(came(File("a"), b), b) == COPIES


def test_an_edited_row_keeps_what_the_older_one_said_in_a_column_that_was_left_out() -> None:
    aspects = {
        "forewingLength_written": ["51 mm"] * 8, "forewingLength_kind": ["n"] * 8,
        "forewingLength_doubt": ["two-values"] * 8, "forewingLength_candidates": ["51 | 52"] * 8,
    }  # fmt: skip
    b = File("b", *without("forewingLength", with_line(0, eventDate="2026-09-30")))
    again = came(File("a", aspects=aspects), b)
    assert how(again, b) == but(0, "newer a:2")
    row = current(again, "a:2")
    kept = [row["forewingLength" + aspect] for aspect in ASPECTS]
    assert kept == ["51", "51 mm", "n", "two-values", "51 | 52"]
    assert (row["eventDate"], row["file_sha256"]) == ("2026-09-30", "b")


def test_an_edited_row_keeps_it_through_two_newer_sheets_without_the_column() -> None:
    b = File("b", *without("forewingLength", with_line(0, eventDate="2026-09-29")))
    c = File("c", *without("forewingLength", with_line(0, eventDate="2026-09-30")))
    row = current(came(File("a"), b, c), "a:2")
    assert (row["eventDate"], row["forewingLength"]) == ("2026-09-30", "51")


def test_a_row_that_says_now_that_its_tag_was_lost_is_a_newer_one() -> None:
    head = (*HEAD, "tagFate")
    a = File("a", [(*line, "released") for line in SHEET], head)
    b = File("b", [(*line, "lost" if at == 2 else "released") for at, line in enumerate(SHEET)], head)
    again = came(a, b)
    assert how(again, b) == but(2, "newer a:4")
    assert current(again, "a:4")["tagFate"] == "lost"


def test_a_cell_that_was_emptied_in_a_column_that_is_still_there_is_blank() -> None:
    assert current(came(File("a"), File("b", with_line(0, sex="", forewingLength=""))), "a:2")["forewingLength"] == ""


# The same sheet as a workbook and as text: numbers lose or gain zeros, a day is a true date or what was typed.
SAME = [
    ("a zero more", ("forewingLength", "45.50", ""), ("forewingLength", "45.5", "")),
    ("a zero less", ("forewingLength", "51", ""), ("forewingLength", "51.0", "")),
    ("a coordinate", ("decimalLatitude", "45.9000000", ""), ("decimalLatitude", "45.9", "")),
    ("a day that may be two", ("eventDate", "2026-09-03", ""), ("eventDate", "3/9/2026", "2026-09-03 | 2026-03-09")),
    (
        "a day that may be two, written otherwise",
        ("eventDate", "3/9/2026", "2026-09-03 | 2026-03-09"),
        ("eventDate", "3.9.26", "2026-09-03 | 2026-03-09"),
    ),
]
OTHERWISE = [
    ("a number that differs", ("forewingLength", "45.50", ""), ("forewingLength", "45.05", "")),
    ("zeros at the head of a word", ("municipality", "007", ""), ("municipality", "7", "")),
    ("the one of two days", ("eventDate", "3/9/2026", "2026-09-03 | 2026-03-09"), ("eventDate", "2026-03-09", "")),
    ("neither of two days", ("eventDate", "2026-09-04", ""), ("eventDate", "3/9/2026", "2026-09-03 | 2026-03-09")),
]
Cell = tuple[str, str, str]


def again_as(first: Cell, then: Cell) -> list[str]:
    """What a row is that says `then` where it said `first` (field, value, candidates)."""

    def file(name: str, cell: Cell) -> File:
        field, value, candidates = cell
        head = HEAD if field in HEAD else (*HEAD, field)
        said = [dict(zip(HEAD, line, strict=True)) | {field: value} for line in SHEET]
        lines = [tuple(line[name] for name in head) for line in said]
        return File(name, lines, head, aspects={f"{field}_candidates": [candidates] * len(SHEET)})

    b = file("b", then)
    return how(came(file("a", first), b), b)


@pytest.mark.parametrize(("first", "then"), [case[1:] for case in SAME], ids=[case[0] for case in SAME])
def test_a_sheet_that_comes_in_another_format_says_the_same(first: Cell, then: Cell) -> None:
    assert again_as(first, then) == COPIES


@pytest.mark.parametrize(("first", "then"), [case[1:] for case in OTHERWISE], ids=[case[0] for case in OTHERWISE])
def test_a_cell_that_means_something_else_is_not_the_same(first: Cell, then: Cell) -> None:
    assert again_as(first, then) == [f"newer a:{row}" for row in range(2, 10)]


def test_another_file_with_one_tag_in_common_is_no_version() -> None:
    b = File("b", [SHEET[0][:1] + OTHER[1:], OTHER, ANOTHER, *STRANGERS])
    again = came(File("a"), b)
    assert how(again, b) == ["new"] * 11
    assert again.matched["b", "p1"] == ""
    assert again.aside.empty and not by_key(again, "missing_from"), "the tag that stands in both is asked about"


def test_in_another_file_only_a_row_that_says_the_same_in_every_cell_is_a_copy() -> None:
    b = File("b", [SHEET[0], (SHEET[1][0], *OTHER[1:]), OTHER, ANOTHER, *STRANGERS])
    again = came(File("a"), b)
    assert how(again, b) == ["copy a:2", *["new"] * 11]
    assert again.matched["b", "p1"] == "" and not by_key(again, "missing_from")


NOT_OURS = [("another person's", "p2"), ("nobody's known", "")]


@pytest.mark.parametrize("person", [case[1] for case in NOT_OURS], ids=[case[0] for case in NOT_OURS])
def test_a_row_is_never_matched_to_another_persons(person: str) -> None:
    b = File("b", SHEET, person=person)
    again = came(File("a"), b)
    assert again.links == {} and again.aside.empty
    assert sorted(again.rows["key"]) == sorted(
        [f"a:{row}" for row in range(2, 10)] + [f"b:{row}" for row in range(2, 10)]
    )


def test_a_file_that_turns_out_to_be_another_persons_lets_go_of_the_first_ones_rows() -> None:
    first = came(File("a"), File("b", with_line(0, sex="female")))
    again = came(File("a"), File("b", with_line(0, sex="female"), person="p2"), knowing=first)
    assert again.rows["person_id"].tolist() == ["p1"] * 8 + ["p2"] * 8
    assert again.aside.empty


def test_two_files_of_which_nobody_knows_the_sender_are_not_held_against_each_other() -> None:
    again = came(File("a", person=""), File("b", person=""))
    assert again.links == {} and again.matched == {} and len(again.rows) == 16


def test_each_row_of_a_sheet_of_two_people_is_held_against_its_own_senders() -> None:
    a, b = (
        File("a", SHEET[:4]),
        File("a", SHEET[4:], person="p2", aspects={"key": [f"a:{row}" for row in range(20, 24)]}),
    )
    c, d = File("c", SHEET, person="p1"), File("d", SHEET, person="p2")
    again = came(a, b, c, d)
    assert how(again, c) == [*COPIES[:4], *["new"] * 4]
    assert how(again, d) == [*["new"] * 4, *(f"copy a:{row}" for row in range(20, 24))]


TWICE = (("AB0001", "2026-09-04", "male", "Sackville", "51"), *SHEET)
DOUBLES = [
    ("both again", TWICE, TWICE, ["copy a:2", "copy a:3"]),
    ("both again in the other order", TWICE, [TWICE[1], TWICE[0], *TWICE[2:]], ["copy a:3", "copy a:2"]),
    (
        "the first edited",
        TWICE,
        [("AB0001", "2026-09-05", *TWICE[0][2:]), *TWICE[1:]],
        ["newer a:2", "copy a:3"],
    ),
    (
        "the second edited to what the first was",
        TWICE,
        [("AB0001", "2026-09-05", *TWICE[0][2:]), TWICE[0], *TWICE[2:]],
        ["newer a:3", "copy a:2"],
    ),
    ("one of them put in", SHEET, [*TWICE], ["new", "copy a:2"]),
]


@pytest.mark.parametrize(("older", "newer", "said"), [case[1:] for case in DOUBLES], ids=[case[0] for case in DOUBLES])
def test_of_rows_with_the_same_tag_those_that_say_the_same_go_together(
    older: Sequence[Line], newer: Sequence[Line], said: list[str]
) -> None:
    b = File("b", newer)
    again = came(File("a", older), b)
    assert how(again, b)[:2] == said
    assert again.rows["key"].is_unique


def test_rows_without_a_tag_come_again_only_if_they_say_the_same() -> None:
    blank = [("", *line[1:]) for line in SHEET[:3]]
    b = File("b", [blank[0], ("", *OTHER[1:]), ("", *ANOTHER[1:]), *SHEET[3:]])
    assert how(came(File("a", [*blank, *SHEET[3:]]), b), b)[:3] == ["copy a:2", "new", "new"]


def test_a_find_is_no_newer_version_of_a_release() -> None:
    head = (*HEAD, "recordKind")
    b = File("b", [*((*line, "release") for line in SHEET[1:]), (*SHEET[0], "find")], head)
    assert how(came(File("a"), b), b) == [*COPIES[1:], "new"]


LEFT_OUT = [
    ("in the newer file", [File("a"), File("b", SHEET[1:])], {"a:2": "b.csv"}),
    ("two of them", [File("a"), File("b", SHEET[:6])], {"a:8": "b.csv", "a:9": "b.csv"}),
    ("in it, though others were put in", [File("a"), File("b", [*SHEET[1:], OTHER])], {"a:2": "b.csv"}),
    ("and back in a later one", [File("a"), File("b", SHEET[1:]), File("c", SHEET)], {}),
    (
        "and back with another day",
        [File("a"), File("b", SHEET[1:]), File("c", with_line(0, eventDate="2026-09-30"))],
        {},
    ),
    ("in the two that followed", [File("a"), File("b", SHEET[1:]), File("c", SHEET[1:])], {"a:2": "b.csv"}),
    ("in the last of three", [File("a"), File("b"), File("c", SHEET[1:])], {"a:2": "c.csv"}),
    ("after it was edited", [File("a"), File("b", with_line(0, sex="female")), File("c", SHEET[1:])], {"a:2": "c.csv"}),
    ("a row that was put in and taken out", [File("a"), File("b", [*SHEET, OTHER]), File("c")], {"b:10": "c.csv"}),
    ("only by another person", [File("a"), File("b", SHEET[1:], person="p2")], {}),
    ("by a short file with one corrected row", [File("a"), File("b", with_line(2, sex="female")[2:3])], {}),
    ("by a short file with corrected rows and others", [File("a"), File("b", [*with_line(2, sex="")[:3], OTHER])], {}),
    ("by half of the file", [File("a"), File("b", SHEET[:4])], {f"a:{row}": "b.csv" for row in (6, 7, 8, 9)}),
    ("nothing", [File("a"), File("b", SHEET[::-1])], {}),
]


@pytest.mark.parametrize(("files", "missing"), [case[1:] for case in LEFT_OUT], ids=[case[0] for case in LEFT_OUT])
def test_a_row_that_the_newer_file_leaves_out_is_told_its_name(files: list[File], missing: dict[str, str]) -> None:
    again = came(*files)
    assert by_key(again, "missing_from") == missing


def test_a_file_at_the_same_path_is_a_newer_version_whatever_it_holds() -> None:
    b = File("b", [OTHER, *SHEET[7:]])
    again = came(File("a"), b, before={"b": "a"})
    assert again.matched["b", "p1"] == "a"
    assert how(again, b) == ["new", "copy a:9"]
    assert by_key(again, "missing_from") == {f"a:{row}": "b.csv" for row in range(2, 9)}


def test_a_file_at_the_same_path_with_none_of_the_rows_leaves_all_of_them_out() -> None:
    b = File("b", [("CD7777", *OTHER[1:]), ("CD8888", *ANOTHER[1:])])
    again = came(File("a"), b, before={"b": "a"})
    assert again.matched["b", "p1"] == "a" and how(again, b) == ["new", "new"]
    assert by_key(again, "missing_from") == {f"a:{row}": "b.csv" for row in range(2, 10)}


def test_three_versions_in_a_row_hand_the_key_on() -> None:
    b, c = File("b", with_line(0, eventDate="2026-09-05")), File("c", with_line(0, eventDate="2026-09-06"))
    again = came(File("a"), b, c)
    assert how(again, c) == but(0, "newer a:2")
    row = current(again, "a:2")
    assert (row["file"], row["eventDate"]) == ("inbox/c.csv", "2026-09-06")
    replaced = again.aside[again.aside["state"] == "replaced"]
    assert replaced["file"].tolist() == ["inbox/a.csv", "inbox/b.csv"] and set(replaced["key"]) == {"a:2"}
    assert set(replaced["reason"]) == {"a newer version came as row 2 of inbox/c.csv"}


def test_what_goes_back_to_the_first_words_is_a_newer_version_and_no_copy() -> None:
    again = came(File("a"), File("b", with_line(0, sex="female")), File("c"))
    assert how(again, File("c")) == but(0, "newer a:2")
    assert current(again, "a:2")["sex"] == "male"


def test_the_order_in_which_the_files_came_counts_and_not_that_of_the_rows() -> None:
    a, b = File("a"), File("b", with_line(0, sex="female"))
    again = came(b, a, order="a b")
    assert how(again, b) == but(0, "newer a:2") and current(again, "a:2")["sex"] == "female"


def sorted_alone(*fields: str) -> list[Line]:
    """The sheet with these columns turned by one row, all others as they were."""
    columns = dict(zip(HEAD, zip(*SHEET, strict=True), strict=True))
    columns |= {field: (*columns[field][1:], columns[field][0]) for field in fields}
    return list(zip(*columns.values(), strict=True))


def test_a_column_that_was_sorted_by_itself_is_named_with_what_each_row_said_before() -> None:
    again = came(File("a"), File("b", sorted_alone("eventDate")))
    assert by_key(again, "sorted_alone") == {f"a:{row}": "eventDate" for row in range(2, 10)}
    assert by_key(again, "value_before") == {f"a:{at + 2}": line[1] for at, line in enumerate(SHEET)}


def test_rows_whose_value_stayed_where_it_was_are_not_told_of_it() -> None:
    days = [*(line[1] for line in SHEET[1:6]), SHEET[0][1], *(line[1] for line in SHEET[6:])]
    newer = [(line[0], day, *line[2:]) for line, day in zip(SHEET, days, strict=True)]
    assert by_key(came(File("a"), File("b", newer)), "sorted_alone") == {f"a:{row}": "eventDate" for row in range(2, 8)}


MOVED = [
    ("every column against the tags", sorted_alone(*HEAD[1:]), "tagCode"),
    ("two columns against the tags", sorted_alone("eventDate", "municipality"), "tagCode"),
    ("the tags alone", sorted_alone("tagCode"), "tagCode"),
]


@pytest.mark.parametrize(("newer", "field"), [case[1:] for case in MOVED], ids=[case[0] for case in MOVED])
def test_where_several_columns_moved_it_was_the_tags_that_moved(newer: list[Line], field: str) -> None:
    again = came(File("a"), File("b", newer))
    assert set(by_key(again, "sorted_alone").values()) == {field}
    assert not by_key(again, "value_before"), "a tag has no earlier value, for it is by the tags that rows are known"


def test_a_sheet_without_places_for_what_moved_is_told_of_what_moved_in_it() -> None:
    lines, head = without("sex", sorted_alone("eventDate"))
    assert set(by_key(came(File("a"), File("b", lines, head)), "sorted_alone").values()) == {"eventDate"}


EXCHANGED = [(SHEET[0][0], SHEET[1][1], *SHEET[0][2:]), (SHEET[1][0], SHEET[0][1], *SHEET[1][2:]), *SHEET[2:]]
CORRECTED = [
    ("every day corrected", [(line[0], f"2026-10-{at + 1:02d}", *line[2:]) for at, line in enumerate(SHEET)]),
    ("two days exchanged", EXCHANGED),
    ("all rows sorted together", SHEET[::-1]),
    ("nothing", SHEET),
]


@pytest.mark.parametrize("newer", [case[1] for case in CORRECTED], ids=[case[0] for case in CORRECTED])
def test_corrections_are_no_column_sorted_by_itself(newer: Sequence[Line]) -> None:
    again = came(File("a"), File("b", newer))
    assert not by_key(again, "sorted_alone") and not by_key(again, "value_before")


def test_a_column_that_was_put_back_is_not_told_of_again() -> None:
    again = came(File("a"), File("b", sorted_alone("eventDate")), File("c"))
    assert [current(again, f"a:{row}")["eventDate"] for row in (2, 9)] == ["2026-09-03", "2026-09-23"]
    assert not by_key(again, "sorted_alone"), "what came last says what was said first"


def test_what_was_matched_once_stays_as_it_was_matched() -> None:
    a, b = File("a"), File("b")
    knowing = CameAgain(pd.DataFrame(), pd.DataFrame(), {"b:2": ("a:3", "newer")}, {("a", "p1"): "", ("b", "p1"): "a"})
    again = came(a, b, knowing=knowing)
    assert again.links == {} and again.matched == {}, "nothing new is learnt"
    assert current(again, "a:3")["file"] == "inbox/b.csv"
    assert again.aside[["file", "row", "state"]].to_numpy().tolist() == [["inbox/a.csv", 3, "replaced"]]
    assert len(again.rows) == 15


def test_a_file_that_was_once_no_version_of_another_stays_so() -> None:
    knowing = CameAgain(pd.DataFrame(), pd.DataFrame(), {}, {("a", "p1"): "", ("b", "p1"): ""})
    again = came(File("a"), File("b"), knowing=knowing)
    assert again.aside.empty and len(again.rows) == 16


def test_a_new_file_is_held_against_what_is_known_of_the_earlier_ones() -> None:
    a, b, c = File("a"), File("b", with_line(0, sex="female")), File("c", with_line(0, sex="female"))
    first = came(a, b)
    again = came(a, b, c, knowing=first)
    assert how(again, c) == COPIES and again.matched == {("c", "p1"): "b"}
    assert current(again, "a:2")["file"] == "inbox/b.csv"


def test_files_of_which_none_came_before_are_left_as_they_are() -> None:
    again = came(File("a"))
    assert again.links == {} and again.aside.empty and again.matched == {("a", "p1"): ""}
    assert again.rows["key"].tolist() == [f"a:{row}" for row in range(2, 10)]
    assert not again.rows[["missing_from", "sorted_alone", "value_before"]].to_numpy().any()
    assert list(again.aside.columns) == [*ADDRESS, "state", "reason"]


def test_no_rows_come_again() -> None:
    again = came(File("a", []))
    assert again.rows.empty and again.aside.empty and again.links == {} and again.matched == {}


# Any sequence of edits, as a tagger makes them before the sheet is sent again.
towns = st.sampled_from(["Sackville", "Amherst", "Tignish", "Truro"])
days = st.sampled_from([f"2026-09-{day:02d}" for day in range(1, 29)])
tags = st.sampled_from(["", *(f"AB{number:04d}" for number in range(1, 25)), "AB00011", "CD7777"])
lines_of_sheet = st.lists(
    st.tuples(tags, days, st.sampled_from(["male", "female", ""]), towns, st.sampled_from(["51", "48", "", "53.0"])),
    min_size=1, max_size=9,
)  # fmt: skip
Edit = Callable[[list[Line]], list[Line]]


def put_in(at: int, line: Line) -> Edit:
    return lambda lines: [*lines[: at % (len(lines) + 1)], line, *lines[at % (len(lines) + 1) :]]


def take_out(at: int) -> Edit:
    return lambda lines: [line for number, line in enumerate(lines) if number != at % len(lines)] if lines else lines


def say(at: int, column: int, text: str) -> Edit:
    def edit(lines: list[Line]) -> list[Line]:
        place = at % max(1, len(lines))
        return [
            (*line[:column], text, *line[column + 1 :]) if number == place else line
            for number, line in enumerate(lines)
        ]

    return edit


def sort_by(column: int) -> Edit:
    return lambda lines: sorted(lines, key=lambda line: line[column])


def sort_column(column: int) -> Edit:
    def edit(lines: list[Line]) -> list[Line]:
        cells = sorted(line[column] for line in lines)
        return [(*line[:column], cell, *line[column + 1 :]) for line, cell in zip(lines, cells, strict=True)]

    return edit


numbers, columns = st.integers(0, 20), st.integers(0, 4)
edits = st.one_of(
    st.builds(put_in, numbers, st.tuples(tags, days, st.just("male"), towns, st.just("50"))),
    st.builds(take_out, numbers),
    st.builds(say, numbers, st.just(0), tags),
    st.builds(say, numbers, st.just(1), days),
    st.builds(say, numbers, st.just(3), towns),
    st.builds(sort_by, columns),
    st.builds(sort_column, columns),
)
Versions = tuple[list[Line], list[tuple[list[Edit], str]]]
versions = st.tuples(
    lines_of_sheet, st.lists(st.tuples(st.lists(edits, max_size=5), st.sampled_from(["p1", "p1", "p2"])), max_size=3)
)


def files_of(told: Versions) -> list[File]:
    """The first sheet and its versions, each made of the one before."""
    first, then = told
    files = [File("a", first)]
    for name, (changes, person) in zip("bcd", then, strict=False):
        lines = list(files[-1].lines)
        for change in changes:
            lines = change(lines)
        files.append(File(name, lines, person=person))
    return files


@settings(max_examples=40, deadline=None)
@given(versions)
def test_no_row_is_lost_or_doubled_whatever_is_sent_again(
    told: Versions,
) -> None:
    files = files_of(told)
    again = came(*files)
    read = sorted((f"inbox/{file.name}.csv", at + 2) for file in files for at in range(len(file.lines)))
    kept = [*again.rows[["file", "row"]].itertuples(index=False, name=None)]
    aside = [*again.aside[["file", "row"]].itertuples(index=False, name=None)]
    assert sorted([*kept, *aside]) == read, "every row stands once, among the current ones or aside"
    assert again.rows["key"].is_unique
    assert (again.rows["key"] != "").all() and (again.aside["key"] != "").all()
    assert set(again.aside["key"]) <= set(again.rows["key"]), "what was put aside has a row that counts instead"


@settings(max_examples=40, deadline=None)
@given(versions)
def test_keys_of_earlier_files_never_vanish_and_keep_their_person(
    told: Versions,
) -> None:
    files = files_of(told)
    again = came(*files)
    people = {f"{file.name}:{at + 2}": file.person for file in files for at in range(len(file.lines))}
    for count in range(1, len(files)):
        assert set(came(*files[:count]).rows["key"]) <= set(again.rows["key"])
    assert [people[key] for key in again.rows["key"]] == again.rows["person_id"].tolist()
    assert [people[key] for key in again.aside["key"]] == again.aside["person_id"].tolist()


@settings(max_examples=40, deadline=None)
@given(versions)
def test_file_by_file_comes_to_the_same_as_all_at_once(told: Versions) -> None:
    files = files_of(told)
    links: dict[str, tuple[str, str]] = {}
    matched: dict[tuple[str, str], str] = {}
    for count in range(1, len(files) + 1):
        knowing = CameAgain(pd.DataFrame(), pd.DataFrame(), links, matched)
        step = came(*files[:count], knowing=knowing)
        links, matched = {**links, **step.links}, {**matched, **step.matched}
    whole = came(*files)
    assert links == whole.links and matched == whole.matched
    pd.testing.assert_frame_equal(step.rows, whole.rows)
    pd.testing.assert_frame_equal(step.aside, whole.aside)


@settings(max_examples=40, deadline=None)
@given(lines_of_sheet, st.randoms(use_true_random=False))
def test_a_sheet_in_any_order_holds_nothing_new(lines: list[Line], chance: Any) -> None:
    lines = list(dict.fromkeys(lines))  # a row written twice in a sheet never comes so far
    shuffled = [*lines]
    chance.shuffle(shuffled)
    again = came(File("a", lines), File("b", shuffled))
    assert {link[1] for link in again.links.values()} == {"copy"} and len(again.links) == len(lines)
    assert not by_key(again, "missing_from") and not by_key(again, "sorted_alone")
