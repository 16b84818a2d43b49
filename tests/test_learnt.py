"""A heading that somebody explained once is known in that person's other sheets of the same layout."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from pipeline.cli import main
from pipeline.files.gate_client import Gate
from pipeline.flow import Outcome, run
from pipeline.model import Heading, Sheet, Table
from pipeline.stages.learnt import with_learnt
from tests.season_folder import HEADINGS, TODAY, clean_rows, findings, make_folder, write_sheet
from tests.test_season import answered

Go = Callable[..., Outcome]
OURS = ("Bug no.", "Date", "Town")


@pytest.fixture
def go(gate: Gate) -> Go:
    return lambda folder, today=TODAY: run(folder, today, lambda: gate)


def table(sha256: str, *headings: str, sheet: str = "") -> Table:
    named = tuple(Heading(column, written) for column, written in enumerate(headings))
    return Table(Sheet(f"{sha256}.csv", sha256, sheet, (), ()), 1, 1, named, 2, 2)


CASES = [
    ("the same headings", OURS, "p1", {"Bug no.": "tagCode"}),
    ("the same in another order", OURS[::-1], "p1", {"Bug no.": "tagCode"}),
    ("the same and one more", (*OURS, "Wind"), "p1", {"Bug no.": "tagCode"}),
    ("the same but for capitals", ("BUG NO", "Date", "Town"), "p1", {"BUG NO": "tagCode"}),
    ("one of them missing", OURS[:2], "p1", None),
    ("another person's", OURS, "p2", None),
    ("nobody's", OURS, "", None),
]


@pytest.mark.parametrize(
    ("headings", "person", "follows"), [case[1:] for case in CASES], ids=[case[0] for case in CASES]
)
def test_an_answer_holds_for_sheets_of_the_same_person_and_layout(
    headings: tuple[str, ...], person: str, follows: dict[str, str] | None
) -> None:
    told = with_learnt(
        [table("a", *OURS), table("b", *headings)], {0: "p1", 1: person}, {("a", ""): {"Bug no.": "tagCode"}}
    )
    assert told.get(("b", "")) == follows
    assert told["a", ""] == {"Bug no.": "tagCode"}


def test_what_was_answered_about_a_sheet_itself_goes_first() -> None:
    said = {("a", ""): {"Bug no.": "tagCode"}, ("b", ""): {"Bug no.": "individualCount"}}
    assert with_learnt([table("a", *OURS), table("b", *OURS)], {0: "p1", 1: "p1"}, said) == said


def test_a_later_sheet_with_the_explained_heading_is_not_asked_about_again(
    tmp_path: Path, go: Go, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = make_folder(tmp_path)
    head = ["Bug code", *HEADINGS[1:]]
    write_sheet(folder / "inbox" / "p1" / "first.csv", clean_rows(1, 6), head)
    go(folder)
    asked = [line for line in findings(folder) if line["rule"] == "heading_may_be_a_needed_one"]
    assert len(asked) == 1, "tests only something if the heading is not known"
    answered(folder, "p1", {1: ("Other value", "tag code", "")})
    assert go(folder).figures.rows["clear"] == 6
    write_sheet(folder / "inbox" / "p1" / "second.csv", clean_rows(11, 6), head)
    write_sheet(folder / "inbox" / "p2" / "other.csv", clean_rows(31, 6), head)
    assert go(folder).figures.rows["clear"] == 12
    open_now = [line for line in findings(folder) if line["state"] == "open" and line["rule"].startswith("heading")]
    assert [line["person_id"] for line in open_now] == ["p2"], "what one person means is not what another means"
    main(["status", str(folder)])
    out = " ".join(capsys.readouterr().out.split())
    assert 'p1 "Bug code" is tagCode' in out
