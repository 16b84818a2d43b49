"""eml.xml: who published the dataset, under which terms, how it was made and what it covers (EML 2.2.0)."""

from __future__ import annotations

from uuid import NAMESPACE_URL, uuid5
from xml.etree import ElementTree as ET

from pipeline.files.archive_meta import xml_text
from pipeline.files.eml_coverage import Coverage, Taxon
from pipeline.files.schemas import table
from pipeline.settings import Settings

NAMESPACE = "https://eml.ecoinformatics.org/eml-2.2.0"
STEPS = (
    "Volunteers catch a butterfly, put a small numbered tag on a wing and let it go; they note the tag, the day, the "
    "place and the sex, some of them also measures. Whoever finds a tagged butterfly later reports tag, day and place.",
    "The sheets are read by a program. Each row is held against the tags handed out, the season and the other rows; "
    "a doubt is put to the person who wrote the row, and the row is published after it has been answered. A find is "
    "joined to the release with the same tag code of the same season.",
    "Places near homes, places of minors and places of finds are rounded to the nearest {square:g} degree; the "
    "record then says so in dataGeneralizations, and its uncertainty is widened by half the square's diagonal. Names "
    "are published with their bearers' consent only.",
)


def eml_xml(settings: Settings, coverage: Coverage, published: str) -> str:
    """The description of the dataset; `published` is the day of its last batch, ISO 8601."""
    programme = settings.programme
    root = ET.Element(
        "eml:eml",
        {
            "xmlns:eml": NAMESPACE, "packageId": package_id(programme.id), "system": "tagsheaf", "scope": "system",
            "xml:lang": "en",
        },
    )  # fmt: skip
    dataset = _in(root, "dataset")
    if settings.portal.dataset_id:
        _in(dataset, "alternateIdentifier", settings.portal.dataset_id)
    _in(dataset, "title", f"{programme.name}: butterflies tagged, released and found again" if programme.name else "")
    for part in ("creator", "metadataProvider"):
        _party(dataset, part, settings)
    _in(dataset, "pubDate", published)
    _in(dataset, "language", "en")
    _para(_in(dataset, "abstract"), _abstract(settings, coverage))
    words = _in(dataset, "keywordSet")
    for word in ("Occurrence", "butterflies", "wing tagging", "mark and recapture", "community science"):
        _in(words, "keyword", word)
    _rights(dataset, programme.licence)
    _coverage(dataset, coverage)
    maintenance = _in(dataset, "maintenance")
    _para(_in(maintenance, "description"), "Grows while sheets, answers and finds come in.")
    _in(maintenance, "maintenanceUpdateFrequency", "asNeeded")
    _party(dataset, "contact", settings)
    _methods(dataset, settings, coverage)
    return xml_text(root)


def package_id(programme_id: str) -> str:
    """The same for every version of a programme's dataset."""
    return f"urn:uuid:{uuid5(NAMESPACE_URL, f'tagsheaf:{programme_id}')}"


def _in(parent: ET.Element, name: str, text: str = "") -> ET.Element:
    made = ET.SubElement(parent, name)
    made.text = text or None
    return made


def _para(parent: ET.Element, text: str) -> ET.Element:
    return _in(parent, "para", text)


def _party(parent: ET.Element, name: str, settings: Settings) -> None:
    """The programme itself: whoever holds an office there changes, the programme does not."""
    party, contact = _in(parent, name), settings.programme.contact.strip()
    _in(party, "organizationName", settings.programme.name or settings.programme.id)
    if "://" in contact:
        _in(party, "onlineUrl", contact)
    elif contact:
        _in(party, "electronicMailAddress", contact)


def _abstract(settings: Settings, coverage: Coverage) -> str:
    days = f" between {coverage.days[0]} and {coverage.days[1]}" if coverage.days else ""
    names = ", ".join(taxon.name for taxon in coverage.taxa[:10])
    return (
        f"Butterflies{f' ({names})' if names else ''} that volunteers of {settings.programme.name} caught, marked with "
        f"a numbered wing tag and released, and tagged butterflies that were found again{days}: "
        f"{_counted(coverage.releases, 'release')} and {_counted(coverage.finds, 'find')}."
    )


def _counted(count: int, what: str) -> str:
    return f"{count} {what}{'s' * (count != 1)}"


def _rights(dataset: ET.Element, licence: str) -> None:
    """The licence in words and, by its name and identifier, for a program."""
    address = licence.split("://")[-1].removeprefix("www.").removesuffix("/").removesuffix("/legalcode")
    known = {line["address"]: line for line in table("archive/licences.csv")}
    name = known[address]["name"] if address in known else licence
    para = _para(_in(dataset, "intellectualRights"), "This dataset may be used under the terms of ")
    link = ET.SubElement(para, "ulink", {"url": licence})
    _in(link, "citetitle", name)
    link.tail = "."
    if address in known:
        terms = _in(dataset, "licensed")
        _in(terms, "licenseName", name)
        _in(terms, "url", licence)
        _in(terms, "identifier", known[address]["identifier"])


def _coverage(dataset: ET.Element, coverage: Coverage) -> None:
    if not (coverage.box or coverage.days or coverage.taxa):
        return
    part = _in(dataset, "coverage")
    if coverage.box:
        places = _in(part, "geographicCoverage")
        _in(places, "geographicDescription", coverage.places or "the points of the records")
        box, sides = _in(places, "boundingCoordinates"), ("west", "east", "north", "south")
        for side, degrees in zip(sides, coverage.box, strict=True):
            _in(box, f"{side}BoundingCoordinate", degrees)
    if coverage.days:
        days = _in(_in(part, "temporalCoverage"), "rangeOfDates")
        for end, day in zip(("beginDate", "endDate"), coverage.days, strict=True):
            _in(_in(days, end), "calendarDate", day)
    if coverage.taxa:
        names = _in(part, "taxonomicCoverage")
        for taxon in coverage.taxa:
            _taxon(names, taxon)


def _taxon(parent: ET.Element, taxon: Taxon) -> None:
    for rank, value in (*taxon.above, (taxon.rank, taxon.name)):
        parent = _in(parent, "taxonomicClassification")
        if rank:
            _in(parent, "taxonRankName", rank)
        _in(parent, "taxonRankValue", value)
    if taxon.vernacular:
        _in(parent, "commonName", taxon.vernacular)


def _methods(dataset: ET.Element, settings: Settings, coverage: Coverage) -> None:
    methods = _in(dataset, "methods")
    for step in STEPS:
        text = step.format(square=settings.privacy.home_square_degrees)
        _para(_in(_in(methods, "methodStep"), "description"), text)
    sampling = _in(methods, "sampling")
    where = f" in {coverage.places}" if coverage.places else ""
    extent = f"Places that the volunteers chose{where}; finds wherever somebody met a tagged butterfly."
    _para(_in(_in(sampling, "studyExtent"), "description"), extent)
    _para(_in(sampling, "samplingDescription"), "Wing tagging by volunteers, and chance finds of tags.")
