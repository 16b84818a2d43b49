"""Whose a tag is, what a doubtful code may have been, and where else a code stands."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd
import pytest
from example_tables import empty, read_examples
from geographiclib.geodesic import Geodesic

from pipeline.remembered import ELSEWHERE, nothing_elsewhere
from pipeline.settings import Settings
from pipeline.stages.look_up_releases import tags_elsewhere
from pipeline.stages.look_up_tags import own_tag_facts, tag_facts
from pipeline.values.allotment import Range, Tag, allotted_tags


def rows_of(text: str) -> pd.DataFrame:
    return read_examples(text, "row")[0].cells


def line(season: str, person: str, status: str, *codes: str) -> Range:
    return Range(season, person, status, codes)


ALLOTMENTS = [
    ("a range", [line("2026", "p1", "", "SM0001", "SM0002")], "SM0002", Tag("p1", "2026", "allotted")),
    (
        "handed on to another",
        [line("2026", "p1", "", "SM0001", "SM0002"), line("2026", "p2", "", "SM0002")],
        "SM0002", Tag("p2", "2026", "allotted"),
    ),
    (
        "lost, the person not said again",
        [line("2026", "p1", "", "SM0001", "SM0002"), line("2026", "", "lost", "SM0002")],
        "SM0002", Tag("p1", "2026", "lost"),
    ),
    ("spoiled before it was handed out", [line("2026", "", "spoiled", "SM0001")], "SM0001", Tag("", "2026", "spoiled")),
    (
        "this season's, though last year's line stands below",
        [line("2026", "p1", "", "SM0001"), line("2025", "p2", "returned", "SM0001")],
        "SM0001", Tag("p1", "2026", "allotted"),
    ),
    (
        "last year's, where this season does not name it",
        [line("2025", "p2", "returned", "SM0001"), line("2026", "p1", "", "SM0002")],
        "SM0001", Tag("p2", "2025", "returned"),
    ),
    (
        "returned and handed out again",
        [line("2026", "p1", "", "SM0001"), line("2026", "", "returned", "SM0001"), line("2026", "p2", "", "SM0001")],
        "SM0001", Tag("p2", "2026", "allotted"),
    ),
]  # fmt: skip


@pytest.mark.parametrize(
    ("ranges", "code", "tag"), [case[1:] for case in ALLOTMENTS], ids=[case[0] for case in ALLOTMENTS]
)
def test_a_later_line_about_a_code_overrides_an_earlier(ranges: list[Range], code: str, tag: Tag) -> None:
    assert allotted_tags(ranges, "2026")[code] == tag


TAGS = allotted_tags(
    [
        line("2025", "p1", "", "SM0900"),
        line("2026", "p1", "", "SM0001", "SM0002", "SM0003", "SM0004", "SM0050", "IO1001"),
        line("2026", "p2", "", "SM0101", "SM0102"),
        line("2026", "p1", "lost", "SM0004"),
        line("2026", "p3", "", "00123", "SEP02", "1E0003"),
    ],
    "2026",
)


NO_CODES = pd.Series([], dtype="str")


def facts(
    text: str, tags: dict[str, Tag] | None = None, elsewhere: pd.Series = NO_CODES, **groups: str
) -> pd.DataFrame:
    """Everything about the tags of these rows; they are p1's where the table does not say otherwise."""
    rows, told = rows_of(text), Settings()
    if "person_id" not in text:
        rows["person_id"] = "p1"
    known = TAGS if tags is None else tags
    rows = rows.assign(**tag_facts(rows, known, told, bool(known)))
    example = min(known, default="")
    return rows.assign(**own_tag_facts(rows, known, groups, told, (elsewhere, example)))


KNOWN = [
    ("one's own", "SM0001", True, "p1", "2026", "allotted"),
    ("somebody else's", "SM0101", True, "p2", "2026", "allotted"),
    ("of another season", "SM0900", True, "p1", "2025", "allotted"),
    ("lost", "SM0004", True, "p1", "2026", "lost"),
    ("never handed out", "SM0999", True, "", "", ""),
    ("of another shape", "SM00011", False, "", "", ""),
    ("of the other shape that is allowed", "1A0001", True, "", "", ""),
    ("blank", "", False, "", "", ""),
]


@pytest.mark.parametrize(
    ("code", "fits", "person", "season", "status"), [case[1:] for case in KNOWN], ids=[case[0] for case in KNOWN]
)
def test_a_code_is_known_by_the_allotment(code: str, fits: bool, person: str, season: str, status: str) -> None:
    (found,) = facts(f'tagCode\n"{code}"').to_dict("records")
    assert (found["tag_shape_fits"], found["tag_person_id"], found["tag_season"], found["tag_status"]) == (
        fits, person, season, status,
    )  # fmt: skip
    assert found["is_allotment_known"] is True and found["season"] == "2026"


def test_a_code_whose_check_character_does_not_fit_has_not_the_shape() -> None:
    found = facts('tagCode | tagCode_doubt\nSM0001 | check-character\nSM0001 | ""')
    assert found["tag_shape_fits"].tolist() == [False, True]


NEAREST = [
    ("a wrong figure", "SM0059", "SM0050"),
    ("a figure left out", "SM050", "SM0050"),
    ("two figures exchanged", "SM0005", ""),  # SM0001, SM0002 and SM0003 are as near
    ("two of them are as near", "SM000", ""),
    ("two slips", "SM0077", ""),
    ("one's own code", "SM0050", ""),
]


@pytest.mark.parametrize(("code", "own"), [case[1:] for case in NEAREST], ids=[case[0] for case in NEAREST])
def test_the_only_own_tag_one_slip_away_is_suggested(code: str, own: str) -> None:
    assert facts(f"tagCode\n{code}")["nearest_own_tag"].tolist() == [own]


def test_two_signs_exchanged_are_one_slip() -> None:
    assert facts("tagCode\nMS0050")["nearest_own_tag"].tolist() == ["SM0050"]


def test_a_tag_that_another_row_carries_is_not_suggested() -> None:
    assert facts("tagCode\nSM0059\nSM0050")["nearest_own_tag"].tolist() == ["", ""]
    one_used = facts("tagCode\nSM0011\nSM0002\nSM0003")
    assert one_used["nearest_own_tag"].tolist()[0] == "SM0001"


def test_a_tag_that_a_record_elsewhere_carries_is_not_suggested() -> None:
    elsewhere = pd.Series(["SM0050", "SM0002"], dtype="str")
    assert facts("tagCode\nSM0059", elsewhere=elsewhere)["nearest_own_tag"].tolist() == [""]
    assert facts("tagCode\nSMO050", elsewhere=elsewhere)["look_alike_tag"].tolist() == [""]
    assert not facts('tagCode\nSM0001\n""\nSM0003', elsewhere=elsewhere)["gap_tag"].any()
    assert facts("tagCode\nSM0011", elsewhere=pd.Series(["SM0002", "SM0003"]))["nearest_own_tag"].tolist() == ["SM0001"]


def test_a_tag_that_was_lost_or_is_anothers_is_not_suggested() -> None:
    assert facts("tagCode\nSM0044")["nearest_own_tag"].tolist() == [""], "SM0004 was lost, SM0050 is two slips away"
    assert facts("person_id | tagCode\np2 | SM0051")["nearest_own_tag"].tolist() == [""]


def test_nothing_is_suggested_for_the_code_of_a_find_or_for_a_blank() -> None:
    found = facts('recordKind | tagCode\nfind | SM0051\nrelease | ""')
    assert found["nearest_own_tag"].tolist() == found["look_alike_tag"].tolist() == ["", ""]


LOOK_ALIKES = [
    ("O for 0", "SMO050", "SM0050"),
    ("l for 1 and 0 for O", "I0100I", "IO1001"),
    ("S for 5", "SM00S0", "SM0050"),
    ("a sign that is not alike", "SMA050", ""),
    ("one's own code", "SM0050", ""),
]


@pytest.mark.parametrize(("code", "own"), [case[1:] for case in LOOK_ALIKES], ids=[case[0] for case in LOOK_ALIKES])
def test_signs_that_look_alike_lead_to_an_own_tag(code: str, own: str) -> None:
    assert facts(f"tagCode\n{code}")["look_alike_tag"].tolist() == [own]


PREFIXED = [
    ("its letters left off", "0050", "another-shape", "", "SM0050"),
    ("its letters and zeros left off", "50", "became-a-number", "", "SM0050"),
    ("a sign for number before", "#0050", "another-shape", "", "SM0050"),
    ("the end of two own tags", "1", "another-shape", "", ""),
    ("a lost tag", "0004", "another-shape", "", ""),
    ("somebody else's", "0101", "another-shape", "", ""),
    ("a letter beside", "X0050", "another-shape", "", ""),
    ("several codes", "0050", "several-codes", "", ""),
    ("figures in place of others", "0004 fell off, now 0050", "re-tagged", "", "SM0050"),
    ("a code in place of another", "SM0004 fell off, now SM0050", "re-tagged", "SM0050", ""),
]


@pytest.mark.parametrize(
    ("code", "doubt", "inside", "own"), [case[1:] for case in PREFIXED], ids=[case[0] for case in PREFIXED]
)
def test_figures_alone_lead_to_the_only_own_tag_that_ends_so(code: str, doubt: str, inside: str, own: str) -> None:
    found = facts(f"tagCode | tagCode_doubt | tagCode_candidates\n{code} | {doubt} | {inside}")
    assert found["prefixed_tag"].tolist() == [own]


def test_without_an_allotment_list_the_shape_says_what_looks_alike() -> None:
    assert facts("tagCode\nAMO050\nAM0O5l", tags={})["look_alike_tag"].tolist() == ["AM0050", "AM0051"]


# What spreadsheets make of a code: common practice (numbers lose zeros, month words become dates, E is a power).
DAMAGED = [
    ("zeros lost", "123", "n", "became-a-number", "00123"),
    ("a date", "2026-09-02", "d", "became-a-day", "SEP02"),
    ("a date typed in another year", "2025-09-02", "d", "became-a-day", "SEP02"),
    ("a power of ten", "1000", "n", "became-a-number", "1E0003"),
    ("a power of ten as text", "1.00E+03", "t", "became-a-number", "1E0003"),
    ("no own tag", "124", "n", "became-a-number", ""),
    ("a text that is not damaged", "123", "t", "another-shape", ""),
    ("no year at its head", "Sept", "d", "became-a-day", ""),
]


@pytest.mark.parametrize(
    ("text", "kind", "doubt", "was"), [case[1:] for case in DAMAGED], ids=[case[0] for case in DAMAGED]
)
def test_a_damaged_code_leads_back_to_the_own_tag(text: str, kind: str, doubt: str, was: str) -> None:
    found = facts(f"person_id | tagCode | tagCode_kind | tagCode_doubt\np3 | {text} | {kind} | {doubt}")
    assert found["damaged_tag_was"].tolist() == [was]


GAPS = [
    ("one tag between", ["SM0001", "", "SM0003"], "SM0002"),
    ("two tags between", ["SM0001", "", "SM0050"], ""),
    ("none between", ["SM0002", "", "SM0003"], ""),
    ("the last row", ["SM0001", "SM0003", ""], ""),
    ("two gaps in a row", ["SM0001", "", "", "SM0003"], ""),
    ("codes of another length around", ["SM001", "", "SM0003"], ""),
]


@pytest.mark.parametrize(("codes", "tag"), [case[1:] for case in GAPS], ids=[case[0] for case in GAPS])
def test_a_missing_code_is_the_only_own_tag_between_its_neighbours(codes: list[str], tag: str) -> None:
    found = facts("tagCode\n" + "\n".join(f'"{code}"' for code in codes))
    assert [gap for gap in found["gap_tag"] if gap] == [tag] * bool(tag)


def test_a_gap_is_not_filled_across_tables_nor_for_a_find_nor_for_a_stranger() -> None:
    assert not facts('table_id | tagCode\n1 | SM0001\n1 | ""\n2 | SM0003')["gap_tag"].any()
    assert not facts('recordKind | tagCode\nrelease | SM0001\nfind | ""\nrelease | SM0003')["gap_tag"].any()
    assert not facts('person_id | tagCode\np2 | SM0001\np2 | ""\np2 | SM0003')["gap_tag"].any()


def test_a_tag_of_the_same_group_is_known_and_counted() -> None:
    found = facts("person_id | tagCode\np1 | SM0101\np2 | SM0102\np3 | SM0001", p1="family", p2="family", p3="")
    assert found["is_group_tag"].tolist() == [True, False, False]
    assert found["tags_of_person"].tolist() == [8.0, 8.0, 3.0]


def test_two_people_without_a_group_are_no_group() -> None:
    assert facts("person_id | tagCode\np1 | SM0101", p1="", p2="")["is_group_tag"].tolist() == [False]


def test_tags_of_another_season_are_not_counted() -> None:
    assert facts("person_id | tagCode\np1 | SM0001\nnobody | SM0002")["tags_of_person"].tolist() == [6.0, 0.0]


SHAPES = [
    ("one's own", TAGS, "p2", "like SM0101"),
    ("anybody's", TAGS, "p9", "like 00123"),
    ("no tags at all", {}, "p1", "[A-Z]{2}[0-9]{4}|[0-9][A-Z][0-9]{4}"),
]


@pytest.mark.parametrize(("tags", "person", "shape"), [case[1:] for case in SHAPES], ids=[case[0] for case in SHAPES])
def test_the_shape_of_a_tag_is_shown_by_an_example(tags: dict[str, Tag], person: str, shape: str) -> None:
    assert facts(f"person_id | tagCode\n{person} | x", tags)["tag_shape"].tolist() == [shape]


def test_without_an_allotment_list_nothing_is_said_about_whose_a_tag_is() -> None:
    (found,) = facts("tagCode\nSM0051", {}).to_dict("records")
    assert found["is_allotment_known"] is False
    assert (found["tag_person_id"], found["nearest_own_tag"], found["gap_tag"]) == ("", "", "")
    assert np.isnan(found["tags_of_person"])


def record(text: str, **changed: Any) -> pd.DataFrame:
    """Records of the ledger that are not looked at, as it remembers them; clear where the table does not say more."""
    rows = rows_of(text).assign(state="clear", sheet="Tags", occurrence_id="", metres=np.nan, file="p9/a.csv")
    return rows.assign(**changed)[list(ELSEWHERE)].reset_index(drop=True)


def placed(text: str, *others: pd.DataFrame) -> pd.DataFrame:
    beside = pd.concat(others, ignore_index=True) if others else nothing_elsewhere()
    rows = rows_of(text)
    return pd.DataFrame(
        tags_elsewhere(rows.assign(place_latitude=rows["latitude"], place_longitude=rows["longitude"]), beside)
    )


COUNTED = (
    "recordKind | person_id | tagCode\nrelease | p1 | SM0001\nrelease | p1 | SM0001\nrelease | p2 | SM0001\n"
    'release | p2 | SM0002\nrelease | p2 | ""\nrelease | p1 | ""\nfind | "" | SM0001\nfind | "" | SM0002\n'
    "find | p1 | SM0009\nfind | p2 | SM0009"
)


def test_release_rows_and_people_of_a_code_are_counted_over_the_whole_ledger() -> None:
    found = placed(COUNTED)
    assert found["rows_of_tag"].tolist() == [3, 3, 3, 1, 0, 0, 3, 1, 0, 0]
    assert found["people_of_tag"].tolist() == [2, 2, 2, 1, 0, 0, 2, 1, 0, 0]


def test_records_that_are_not_looked_at_count_too() -> None:
    others = record(
        "recordKind | person_id | tagCode\nrelease | p3 | SM0002\nfind | p4 | SM0001\nrelease | p3 | SM0009"
    )
    found = placed(COUNTED, others)
    assert found["rows_of_tag"].tolist() == [3, 3, 3, 2, 0, 0, 3, 2, 1, 1]
    assert found["people_of_tag"].tolist() == [2, 2, 2, 2, 0, 0, 2, 2, 1, 1]


@pytest.mark.parametrize("at", [0, 100], ids=["from 0", "from 100"])
def test_rows_are_counted_whatever_their_numbers(at: int) -> None:
    rows = rows_of("recordKind | person_id | tagCode\nrelease | p1 | SM0001\nrelease | p1 | SM0002")
    found = tags_elsewhere(rows.set_axis(pd.RangeIndex(at, at + 2)), record("person_id | tagCode\np2 | SM0002"))
    assert found["rows_of_tag"].tolist() == [1, 2] and found["people_of_tag"].tolist() == [1, 2]


WHOSE = [
    ("two people", 'p1 | SM0001 | ""\np2 | SM0001 | ""', [2, 2]),
    ("a sheet whose sender is not known yet", 'p1 | SM0001 | ""\n"" | SM0001 | ""', [1, 1]),
    ("two such sheets", '"" | SM0001 | ""\n"" | SM0001 | ""', [1, 1]),
    ("a word that two people wrote", "p1 | none | not-a-code\np2 | none | not-a-code", [1, 1]),
    ("one who wrote it without doubt", 'p1 | 1234 | became-a-number\np2 | 1234 | ""', [1, 1]),
]


@pytest.mark.parametrize(("lines", "people"), [case[1:] for case in WHOSE], ids=[case[0] for case in WHOSE])
def test_people_of_a_code_are_those_known_by_name_who_wrote_it_without_doubt(lines: str, people: list[int]) -> None:
    found = placed("person_id | tagCode | tagCode_doubt\n" + lines)
    assert found["people_of_tag"].tolist() == people
    assert found["rows_of_tag"].tolist() == [2, 2]


def past(text: str, season: str = "2025") -> pd.DataFrame:
    """Records that were published before the ledger began."""
    return record(text, state="past", sheet=season, person_id="", row=0)


BEFORE = [
    ("released before", "release", "SM0001", "release | SM0001", "2025"),
    ("found before", "release", "SM0001", "find | SM0001", ""),
    ("another code released before", "release", "SM0001", "release | SM0002", ""),
    ("a find of what was released before", "find", "SM0001", "release | SM0001", ""),
    ("no code", "release", '""', "release | SM0001", ""),
]


@pytest.mark.parametrize(
    ("kind", "code", "published", "season"), [case[1:] for case in BEFORE], ids=[case[0] for case in BEFORE]
)
def test_a_release_is_told_the_season_in_which_its_code_was_published_before(
    kind: str, code: str, published: str, season: str
) -> None:
    rows = f"recordKind | tagCode\n{kind} | {code}"
    assert placed(rows, past(f"recordKind | tagCode\n{published}"))["released_before"].tolist() == [season]


def test_a_release_that_stands_in_a_sheet_now_was_not_published_in_an_earlier_season() -> None:
    assert placed("tagCode\nSM0001", record("tagCode\nSM0001"))["released_before"].tolist() == [""]


def test_what_was_published_before_is_no_release_of_another_person_now() -> None:
    found = placed("person_id | tagCode\np1 | SM0001\np1 | SM0001", past("tagCode\nSM0001"))
    assert found["rows_of_tag"].tolist() == [2, 2] and found["people_of_tag"].tolist() == [1, 1]


FIND = (
    "recordKind | person_id | tagCode | sex | scientificName | first_day | last_day | latitude | longitude | received"
    " | season_first_day | season_last_day\n"
)
RELEASED = (
    "release | p1 | SM0001 | male | Danaus plexippus | 2026-09-03 | 2026-09-04 | 45.898 | -64.369 | 2026-11-25"
    " | 2026-08-01 | 2026-11-10\n"
)
FOUND = (
    'find | "" | SM0001 | female | "" | 2026-11-20 | 2026-11-20 | 19.618 | -100.284 | 2026-11-25'
    " | 2026-08-01 | 2026-11-10\n"
)


def only(found: pd.DataFrame, at: int = 1) -> dict[str, Any]:
    return found.to_dict("records")[at]


def test_a_find_is_told_what_its_release_says() -> None:
    found = only(placed(FIND + RELEASED + FOUND))
    assert found["has_release"] is True
    assert (found["release_sex"], found["release_species"]) == ("male", "Danaus plexippus")
    assert found["release_person_id"] == "p1"
    assert (str(found["release_day"].date()), str(found["release_last_day"].date())) == ("2026-09-03", "2026-09-04")
    assert str(found["earliest_day"].date()) == "2026-09-03" and str(found["latest_day"].date()) == "2026-11-25"


def test_the_way_from_release_to_find_is_that_on_the_ellipsoid() -> None:
    km = Geodesic.WGS84.Inverse(45.898, -64.369, 19.618, -100.284)["s12"] / 1000
    assert only(placed(FIND + RELEASED + FOUND))["release_km"] == pytest.approx(km, abs=1e-6)


FROM_LEDGER = [
    ("in a sheet that is not looked at", {"state": "clear"}),
    ("held there", {"state": "held"}),
    ("published in an earlier season", {"state": "past", "sheet": "2025", "person_id": ""}),
]


@pytest.mark.parametrize("changed", [case[1] for case in FROM_LEDGER], ids=[case[0] for case in FROM_LEDGER])
def test_a_find_is_told_of_a_release_that_stands_elsewhere(changed: dict[str, Any]) -> None:
    found = only(placed(FIND + FOUND, record(FIND + RELEASED, **changed)), 0)
    assert (found["has_release"], found["rows_of_tag"], found["people_of_tag"]) == (True, 1, 1)
    assert (found["release_sex"], str(found["release_day"].date())) == ("male", "2026-09-03")
    assert found["release_person_id"] == changed.get("person_id", "p1")
    assert found["release_km"] == only(placed(FIND + RELEASED + FOUND))["release_km"]


def test_a_find_is_told_of_the_release_now_rather_than_of_one_published_before() -> None:
    before = record(FIND + RELEASED.replace("male", "female"), state="past", sheet="2025", person_id="")
    assert only(placed(FIND + FOUND, before, record(FIND + RELEASED)), 0)["release_sex"] == "male"


def test_of_two_releases_with_a_code_a_find_is_told_the_first() -> None:
    second = RELEASED.replace("p1", "p2").replace("male", "female")
    assert only(placed(FIND + RELEASED + second + FOUND), 2)["release_sex"] == "male"


NO_WAY = [
    ("no release", FIND + FOUND.replace("SM0001", "SM0002") + RELEASED),
    ("no code", FIND + FOUND.replace("SM0001", '""') + RELEASED.replace("SM0001", '""')),
    ("only another find", FIND + FOUND + FOUND),
]


@pytest.mark.parametrize("text", [case[1] for case in NO_WAY], ids=[case[0] for case in NO_WAY])
def test_a_find_without_a_release_is_told_nothing(text: str) -> None:
    found = only(placed(text), 0)
    assert found["has_release"] is False
    assert (found["release_sex"], found["release_person_id"]) == ("", "")
    assert pd.isna(found["release_day"]) and pd.isna(found["earliest_day"]) and np.isnan(found["release_km"])


NO_POINTS = [
    ("no point of the find", FOUND.replace("19.618 | -100.284", '"" | ""'), RELEASED),
    ("a find off the globe", FOUND.replace("19.618", "119.618"), RELEASED),
    ("a release off the globe", FOUND, RELEASED.replace("45.898", "95.898")),
]


@pytest.mark.parametrize(("find", "release"), [case[1:] for case in NO_POINTS], ids=[case[0] for case in NO_POINTS])
def test_without_two_points_on_the_globe_there_is_no_way(find: str, release: str) -> None:
    assert np.isnan(only(placed(FIND + release + find))["release_km"])


def test_a_release_is_told_of_no_release_and_is_possible_within_the_season() -> None:
    found = only(placed(FIND + RELEASED + FOUND), 0)
    assert found["has_release"] is False and found["release_sex"] == "" and np.isnan(found["release_km"])
    assert str(found["earliest_day"].date()) == "2026-08-01" and str(found["latest_day"].date()) == "2026-11-10"
    early = only(placed(FIND + RELEASED.replace("2026-11-25", "2026-10-20")), 0)
    assert str(early["latest_day"].date()) == "2026-10-20", "no release is later than the day on which its sheet came"


def test_facts_do_not_fail_without_any_rows() -> None:
    none = empty("row")
    for found in (tag_facts(none, TAGS, Settings(), True), own_tag_facts(none, TAGS, {}, Settings(), (NO_CODES, ""))):
        assert all(len(fact) == 0 for fact in found.values())
    for beside in (nothing_elsewhere(), record("tagCode\nSM0001"), past("tagCode\nSM0001")):
        assert all(len(fact) == 0 for fact in tags_elsewhere(none, beside).values())
