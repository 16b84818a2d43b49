"""eml.xml: the parts and their order as EML 2.2.0 has them, and what the records cover."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from lxml import etree

from pipeline.files.archive_tables import whole
from pipeline.files.eml import eml_xml, package_id
from pipeline.files.eml_coverage import Coverage, coverage_of
from pipeline.settings import Settings, read_settings
from tests.published_ledger import ledger_with

# The order of the parts of a dataset, and of a party, after the documentation of EML 2.2.0; those that we may write.
DATASET = (
    "alternateIdentifier", "shortName", "title", "creator", "metadataProvider", "associatedParty", "pubDate",
    "language", "series", "abstract", "keywordSet", "additionalInfo", "intellectualRights", "licensed", "distribution",
    "coverage",
    "annotation", "purpose", "introduction", "gettingStarted", "acknowledgements", "maintenance", "contact",
    "publisher", "pubPlace", "methods", "project",
)  # fmt: skip
PARTY = ("individualName", "organizationName", "positionName", "address", "phone", "electronicMailAddress", "onlineUrl")
WITHIN = {
    "geographicCoverage": ("geographicDescription", "boundingCoordinates"),
    "boundingCoordinates": tuple(f"{side}BoundingCoordinate" for side in ("west", "east", "north", "south")),
    "coverage": ("geographicCoverage", "temporalCoverage", "taxonomicCoverage"),
    "rangeOfDates": ("beginDate", "endDate"),
    "taxonomicClassification": ("taxonRankName", "taxonRankValue", "commonName", "taxonomicClassification"),
    "methods": ("methodStep", "sampling", "qualityControl"),
    "sampling": ("studyExtent", "samplingDescription"),
    "maintenance": ("description", "maintenanceUpdateFrequency"),
    "licensed": ("licenseName", "url", "identifier"),
}
A, B = (f"urn:uuid:00000000-0000-5000-8000-00000000000{digit}" for digit in "ab")
NAMED = '[programme]\nid = "marsh"\nname = "Marsh Test Society"\ncontact = "desk@example.org"\n'


def coverage(folder: Path, *records: dict[str, str]) -> Coverage:
    named = {f"urn:uuid:00000000-0000-5000-8000-{number:012d}": cells for number, cells in enumerate(records)}
    return coverage_of(whole(ledger_with(folder, named))["occurrence"])


def document(covers: Coverage, settings: Settings) -> Any:
    return etree.fromstring(eml_xml(settings, covers, "2026-10-20").encode())


def in_order(names: list[str], order: tuple[str, ...]) -> bool:
    assert set(names) <= set(order), set(names) - set(order)
    places = [order.index(name) for name in names]
    return places == sorted(places)


def test_the_parts_stand_in_the_order_of_the_standard(tmp_path: Path) -> None:
    settings = read_settings(f'{NAMED}[portal]\ndataset_id = "https://doi.org/10.1234/marsh"\n')
    root = document(coverage(tmp_path, {}, {"eventType": "Find"}), settings)
    assert root.tag == "{https://eml.ecoinformatics.org/eml-2.2.0}eml"
    (dataset,) = root
    assert dataset.tag == "dataset" and in_order([part.tag for part in dataset], DATASET)
    for name, order in WITHIN.items():
        assert list(root.iter(name)), name
        assert all(in_order([part.tag for part in one], order) for one in root.iter(name)), name
    for party in (*root.iter("creator"), *root.iter("contact"), *root.iter("metadataProvider")):
        assert in_order([part.tag for part in party], PARTY)


def test_every_part_that_the_standard_and_a_desk_want_says_something(tmp_path: Path) -> None:
    root = document(coverage(tmp_path, {}), read_settings(NAMED))
    assert root.get("packageId") and root.get("system")
    for path in ("title", "creator/organizationName", "contact/electronicMailAddress", "pubDate", "language",
                 "abstract/para", "intellectualRights/para/ulink/citetitle", "licensed/identifier",
                 "methods/methodStep/description/para", "methods/sampling/samplingDescription/para"):  # fmt: skip
        assert (root.findtext(f"dataset/{path}") or "").strip(), path
    assert not [each.tag for each in root.iter() if not len(each) and not (each.text or "").strip()]


def test_the_package_id_stays_whatever_is_published(tmp_path: Path) -> None:
    settings = read_settings(NAMED)
    first, second = document(coverage(tmp_path, {}), settings), document(coverage(tmp_path / "b", {}, {}), settings)
    assert first.get("packageId") == second.get("packageId") == package_id("marsh") != package_id("fen")


def test_a_contact_that_is_a_page_is_no_mail_address(tmp_path: Path) -> None:
    settings = read_settings('[programme]\ncontact = "https://example.org/marsh"\n')
    party = document(coverage(tmp_path, {}), settings).find("dataset/contact")
    assert party.findtext("onlineUrl") == "https://example.org/marsh" and party.find("electronicMailAddress") is None


def test_a_licence_that_is_not_on_our_list_stands_as_its_address(tmp_path: Path) -> None:
    settings = read_settings('[programme]\nlicence = "https://example.org/our-terms"\n')
    dataset = document(coverage(tmp_path, {}), settings).find("dataset")
    assert dataset.find("intellectualRights//ulink").get("url") == "https://example.org/our-terms"
    assert dataset.find("licensed") is None


@pytest.mark.parametrize("address", ["http://creativecommons.org/publicdomain/zero/1.0/legalcode",
                                     "https://creativecommons.org/publicdomain/zero/1.0/"])  # fmt: skip
def test_a_licence_is_known_however_its_address_is_written(address: str, tmp_path: Path) -> None:
    dataset = document(coverage(tmp_path, {}), read_settings(f'[programme]\nlicence = "{address}"\n')).find("dataset")
    assert dataset.findtext("licensed/identifier") == "CC0-1.0" and dataset.findtext("licensed/url") == address


DAYS = {
    "days": (("2026-09-03", "2026-11-01", "2026-10-01"), ("2026-09-03", "2026-11-01")),
    "a month counts to its last day": (("2026-09", "2026-09-10"), ("2026-09-01", "2026-09-30")),
    "the February of a leap year": (("2028-02",), ("2028-02-01", "2028-02-29")),
    "a year": (("2026", "2026-09-10"), ("2026-01-01", "2026-12-31")),
    "an interval": (("2026-08-01/2026-11-10", "2026-09-10"), ("2026-08-01", "2026-11-10")),
    "none": (("",), None),
}


@pytest.mark.parametrize("name", DAYS)
def test_the_days_covered(name: str, tmp_path: Path) -> None:
    written, days = DAYS[name]
    assert coverage(tmp_path, *({"eventDate": day} for day in written)).days == days


def point(latitude: str, longitude: str) -> dict[str, str]:
    return {"decimalLatitude": latitude, "decimalLongitude": longitude}


BOXES = {
    "one point": ((point("46.10", "-64.80"),), ("-64.80", "-64.80", "46.10", "46.10")),
    "points as written": ((point("46.1", "-64.8"), point("19.60", "-100.24")), ("-100.24", "-64.8", "46.1", "19.60")),
    "none": ((point("", ""),), None),
    "round the 180th meridian": (
        (point("-17.8", "177.4"), point("-16.5", "-179.9"), point("-18", "179.2")), ("177.4", "-179.9", "-16.5", "-18"),
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", BOXES)
def test_the_box_covered(name: str, tmp_path: Path) -> None:
    records, box = BOXES[name]
    assert coverage(tmp_path, *records).box == box


def test_places_are_named_by_country_and_no_state_twice(tmp_path: Path) -> None:
    told = coverage(
        tmp_path, {}, {"stateProvince": "Nova Scotia"}, {"country": "Mexico", "stateProvince": ""},
        {"country": "", "stateProvince": "Nova Scotia"}, {"country": "", "stateProvince": "Texas"},
    ).places  # fmt: skip
    assert told == "Texas; New Brunswick, Nova Scotia (Canada); Mexico"


def test_names_stand_below_their_ranks(tmp_path: Path) -> None:
    root = document(coverage(tmp_path, {"vernacularName": "monarch"}, {}), read_settings(NAMED))
    ranks = [
        (each.findtext("taxonRankName"), each.findtext("taxonRankValue"))
        for each in root.iter("taxonomicClassification")
    ]
    assert ranks == [("kingdom", "Animalia"), ("family", "Nymphalidae"), ("genus", "Danaus"),
                     ("species", "Danaus plexippus")]  # fmt: skip
    assert [each.text for each in root.iter("commonName")] == ["monarch"]


def test_releases_and_finds_are_counted_in_the_abstract(tmp_path: Path) -> None:
    root = document(coverage(tmp_path, {}, {}, {"eventType": "Find"}), read_settings(NAMED))
    assert "2 releases and 1 find." in root.findtext("dataset/abstract/para")
