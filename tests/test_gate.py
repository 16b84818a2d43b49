"""The gate lets a clean batch pass and refuses each planted fault, with the sentence that says so."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from importlib.resources import files
from pathlib import Path

import pandas as pd
import pytest
from portal_rows import A_FIND, FIND, POINT, RELEASE, batch_of, people_of, rows_of, table

from pipeline.files.csv_files import write_csv
from pipeline.files.gate_client import Gate, Refusal, judge, start_gate, stop

TABLES = ("occurrence", "measurementOrFact", "resourceRelationship")
THIRD = "urn:uuid:00000000-0000-5000-8000-000000000003"


def clean_batch() -> dict[str, pd.DataFrame]:
    rows = rows_of(
        {
            **POINT,
            "origin": "wild",
            "forewingLength": "51.5",
            "locality": "Salt Pan Marsh",
            "countryCode": "CA",
        },
        {**A_FIND, "eventTime": "14:05"},
        {"occurrence_id": THIRD, "tagCode": "SM0043", "municipality": "Sackville", "eventDate": "2026-09"},
    )
    batch = batch_of(rows, people=people_of({"person_id": "ps1", "name": "Oda Example", "minor": "no"}))
    tables = (batch.occurrence, batch.measurement_or_fact, batch.resource_relationship)
    return dict(zip(TABLES, tables, strict=True))


def written(folder: Path, tables: dict[str, pd.DataFrame]) -> Path:
    for name, frame in tables.items():
        write_csv(folder / f"{name}.csv", frame, guarded=False)
    return folder


def sentences(name: str) -> list[str]:
    suite = json.loads(files("schemas").joinpath(f"gate_{name}.json").read_text(encoding="utf-8"))
    return [each["means"] for group in suite.values() for each in group]


def test_a_clean_batch_passes(gate: Gate, tmp_path: Path) -> None:
    verdict = judge(gate, written(tmp_path, clean_batch()))
    assert verdict.refusals == ()
    assert verdict.passed and verdict.seconds > 0


def test_a_batch_of_no_rows_passes(gate: Gate, tmp_path: Path) -> None:
    verdict = judge(gate, written(tmp_path, {name: frame[:0] for name, frame in clean_batch().items()}))
    assert verdict.passed, verdict.refusals


# table, row, column, what is put there, how the sentence begins that must be printed
FAULTS = [
    ("occurrence", 0, "occurrenceID", "", "An occurrenceID is missing"),
    ("occurrence", 0, "occurrenceID", "row 12", "An occurrenceID is missing"),
    ("occurrence", 2, "occurrenceID", RELEASE, "An occurrenceID stands on"),
    ("occurrence", 0, "modified", "25/11/2026", "The day of the"),
    ("occurrence", 0, "license", "", "The licence is missing"),
    ("occurrence", 0, "basisOfRecord", "Butterfly", "The basis of record"),
    ("occurrence", 0, "occurrenceStatus", "seen", "The occurrence status is"),
    ("occurrence", 0, "sex", "F?", "The sex is neither"),
    ("occurrence", 0, "lifeStage", "imago", "The life stage is"),
    ("occurrence", 0, "vitality", "fine", "The vitality is not"),
    ("occurrence", 0, "causeOfDeath", "Maud stepped on it", "A cause of death is not"),
    ("occurrence", 0, "recordedByID", "0000-0002-1825-0097", "A recorder's id is not"),
    ("occurrence", 0, "establishmentMeans", "alien", "establishmentMeans is not a"),
    ("occurrence", 0, "eventType", "Party", "The event is neither"),
    ("occurrence", 0, "taxonRank", "sort", "The taxon rank is"),
    ("occurrence", 0, "organismID", "SM0042", "An organismID is not"),
    ("occurrence", 0, "individualCount", "two", "A count is not"),
    ("occurrence", 0, "eventDate", "", "An event date is"),
    ("occurrence", 0, "eventDate", "3/9/26", "An event date is"),
    ("occurrence", 0, "eventTime", "2 pm", "An event time is"),
    ("occurrence", 0, "year", "26", "A year is not"),
    ("occurrence", 0, "month", "13", "A month is not"),
    ("occurrence", 0, "day", "32", "A day is not"),
    ("occurrence", 0, "day", "4", "An event date does"),
    ("occurrence", 2, "eventDate", "2026-02-30", "An event date does"),
    ("occurrence", 2, "eventDate", "2026-09-05/2026-09-03", "An event date does"),
    ("occurrence", 2, "eventDate", "2027-09", "An event lies in"),
    ("occurrence", 0, "decimalLatitude", "45°30'N", "A latitude is not"),
    ("occurrence", 0, "decimalLongitude", "64,8", "A longitude is not"),
    ("occurrence", 0, "decimalLatitude", "95.1", "A latitude lies outside"),
    ("occurrence", 0, "decimalLongitude", "-181.5", "A longitude lies outside"),
    ("occurrence", 0, "decimalLongitude", "", "A latitude stands without"),
    ("occurrence", 0, "geodeticDatum", "", "A point has no"),
    ("occurrence", 0, "coordinateUncertaintyInMeters", "about 5", "An uncertainty is not"),
    ("occurrence", 0, "coordinateUncertaintyInMeters", "0", "An uncertainty is below"),
    ("occurrence", 0, "coordinateUncertaintyInMeters", "20037510", "An uncertainty is below"),
    ("occurrence", 0, "coordinatePrecision", "1'", "A coordinate precision is not"),
    ("occurrence", 0, "coordinatePrecision", "0", "A coordinate precision is zero"),
    ("occurrence", 0, "minimumElevationInMeters", "100 ft", "An elevation is not"),
    ("occurrence", 0, "minimumElevationInMeters", "9000", "An elevation is below"),
    ("occurrence", 0, "countryCode", "GRL", "A country code is"),
    ("occurrence", 1, "associatedOccurrences", FIND, "An associated occurrence is"),
    ("occurrence", 1, "locality", "behind the school", "A row whose place"),
    ("occurrence", 0, "locality", "=HYPERLINK(1)", "A cell starts like"),
    ("occurrence", 0, "municipality", "-64°48'", "A cell starts like"),
    ("occurrence", 0, "county", "＠SUM", "A cell starts like"),
    ("occurrence", 0, "behavior", "basking\nflying", "A cell holds a"),
    (
        "measurementOrFact",
        0,
        "occurrenceID",
        "urn:uuid:00000000-0000-5000-8000-00000000000f",
        "A row belongs to",
    ),
    ("measurementOrFact", 0, "measurementID", "", "A measurementID is missing."),
    ("measurementOrFact", 1, "measurementID", f"{RELEASE}#origin", "A measurementID stands on"),
    ("measurementOrFact", 0, "measurementType", "temperature", "A measurement is of"),
    ("measurementOrFact", 0, "measurementValue", "", "A measurement has no"),
    ("measurementOrFact", 1, "measurementUnit", "in", "A unit is neither"),
    ("measurementOrFact", 1, "measurementValue", "about 50", "A measurement with a"),
    ("measurementOrFact", 1, "measurementMethod", "=1+1", "A cell starts like"),
    ("measurementOrFact", 1, "measurementMethod", "a\tb", "A cell holds a"),
    (
        "resourceRelationship",
        0,
        "occurrenceID",
        "urn:uuid:00000000-0000-5000-8000-00000000000f",
        "A row belongs to",
    ),
    ("resourceRelationship", 0, "resourceRelationshipID", "", "A resourceRelationshipID is missing."),
    ("resourceRelationship", 0, "resourceID", "", "The find of a"),
    ("resourceRelationship", 0, "relatedResourceID", "SM0042", "The release of a"),
    ("resourceRelationship", 0, "relationshipOfResource", "", "A link does not"),
    ("resourceRelationship", 0, "relatedResourceID", FIND, "A link leads from"),
    ("resourceRelationship", 0, "relationshipRemarks", "@tag", "A cell starts like"),
    ("resourceRelationship", 0, "relationshipRemarks", "a\rb", "A cell holds a"),
]


Fault = tuple[str, int, str, str, str]


@pytest.mark.parametrize("fault", FAULTS, ids=[f"{column} {cell!r}" for _, _, column, cell, _ in FAULTS])
def test_a_planted_fault_is_refused(gate: Gate, tmp_path: Path, fault: Fault) -> None:
    name, row, column, cell, means = fault
    tables = clean_batch()
    tables[name].loc[row, column] = cell
    verdict = judge(gate, written(tmp_path, tables))
    assert not verdict.passed
    told = [each for each in verdict.refusals if each.means.startswith(means) and each.file == f"{name}.csv"]
    assert len(told) == 1, verdict.refusals
    assert told[0].rows >= 1
    assert len(told[0].some) <= 5


def changed_columns(tables: dict[str, pd.DataFrame], name: str, how: str) -> None:
    frame = tables[name]
    if how == "a private column":
        frame["occurrenceRemarks"] = "by the pond"
    elif how == "a column of no standard":
        frame["postcode"] = "x"
    elif how == "a needed column gone":
        tables[name] = frame.drop(columns=frame.columns[1])
    elif how == "another first column":
        tables[name] = frame[[*frame.columns[1:], "occurrenceID"]]


COLUMN_FAULTS = [
    ("a private column", "A column is not on the list of columns that may leave the house."),
    ("a column of no standard", "A heading is not a term of Darwin Core."),
    ("a needed column gone", "A needed column is missing."),
    ("another first column", "The first column is not occurrenceID."),
]


@pytest.mark.parametrize("name", TABLES)
@pytest.mark.parametrize(("how", "means"), COLUMN_FAULTS)
def test_a_wrong_set_of_columns_is_refused(gate: Gate, tmp_path: Path, name: str, how: str, means: str) -> None:
    tables = clean_batch()
    changed_columns(tables, name, how)
    refusals = judge(gate, written(tmp_path, tables)).refusals
    assert (f"{name}.csv", means) in {(each.file, each.means) for each in refusals}


@pytest.mark.parametrize("name", TABLES)
def test_a_column_that_stands_twice_is_refused(gate: Gate, tmp_path: Path, name: str) -> None:
    path = written(tmp_path, clean_batch()) / f"{name}.csv"
    lines = path.read_text(encoding="utf-8").splitlines()
    path.write_text("\n".join(f"{line},{line.split(',')[0]}" for line in lines) + "\n", encoding="utf-8")
    refusals = judge(gate, tmp_path).refusals
    assert (f"{name}.csv", "A column stands twice in the file.") in {(each.file, each.means) for each in refusals}


def test_every_expectation_has_its_planted_fault() -> None:
    planted = {(name, means) for name, *_, means in FAULTS}
    planted |= {(name, means) for name in TABLES for _, means in COLUMN_FAULTS}
    planted |= {(name, "A column stands twice in the file.") for name in TABLES}
    planted.add(("resourceRelationship", "A resourceRelationshipID stands on more than one row."))
    for name in TABLES:
        for sentence in sentences(name):
            assert any(table == name and sentence.startswith(means) for table, means in planted), (
                name,
                sentence,
            )


def test_a_link_that_stands_twice_is_refused(gate: Gate, tmp_path: Path) -> None:
    tables = clean_batch()
    tables["resourceRelationship"] = pd.concat([tables["resourceRelationship"]] * 2)
    assert judge(gate, written(tmp_path, tables)).refusals == (
        Refusal(
            "resourceRelationship.csv",
            "resourceRelationshipID",
            "A resourceRelationshipID stands on more than one row.",
            2,
            (f"{FIND}#release",),
        ),
    )


def test_a_batch_without_its_core_file_is_refused(gate: Gate, tmp_path: Path) -> None:
    (written(tmp_path, clean_batch()) / "occurrence.csv").unlink()
    refusals = judge(gate, tmp_path).refusals
    assert refusals[0] == Refusal("occurrence.csv", "", "The file is missing from the batch.", 0, ())


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"occurrenceID,sex\na,b,c\n",
        b'occurrenceID,sex\na,"b\n',
        b"occurrenceID,sex\na,M\xe2le\n",
        b"\x00\xff",
    ],
    ids=["nothing", "a cell too many", "a quotation mark left open", "not UTF-8", "no text"],
)
def test_a_damaged_file_is_refused_and_the_gate_goes_on(gate: Gate, tmp_path: Path, content: bytes) -> None:
    path = written(tmp_path, clean_batch()) / "occurrence.csv"
    whole = path.read_bytes()
    path.write_bytes(content)
    assert not judge(gate, tmp_path).passed
    path.write_bytes(whole)
    assert judge(gate, tmp_path).passed


def test_a_folder_with_letters_beyond_ascii_is_judged(gate: Gate, tmp_path: Path) -> None:
    assert judge(gate, written(tmp_path / "lâchers d’août", clean_batch())).passed


def test_the_country_list_is_that_of_iso_3166() -> None:
    # ISO 3166-1 alpha-2 as in Debian iso-codes 4.15.0; the gate adds XZ and ZZ, which countryCode has since 2025-06-12.
    outside = pd.read_csv(Path(__file__).parent / "outside" / "iso_3166_1.csv", dtype=str, keep_default_na=False)
    assert {line["code"] for line in table("vocabularies/countries.csv")} == set(outside["code"])


def test_the_gate_ends_when_its_input_closes_and_writes_one_line_a_folder(tmp_path: Path) -> None:
    written(tmp_path, clean_batch())
    ended = subprocess.run(
        [sys.executable, "-m", "pipeline.files.gate"],
        input="".join(f"verdict\t{folder}\n" for folder in (tmp_path, tmp_path / "nowhere")),
        capture_output=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONPATH": str(Path(__file__).parents[1])},
        timeout=120,
    )
    assert ended.returncode == 0, ended.stderr
    assert [json.loads(line)["passed"] for line in ended.stdout.splitlines()] == [True, False]


def test_a_gate_that_was_ended_is_our_fault_and_says_so(tmp_path: Path) -> None:
    ended = start_gate()
    ended.process.kill()
    ended.process.wait()
    with pytest.raises(RuntimeError, match="ended without a verdict"):
        judge(ended, tmp_path)
    stop(ended)
