"""meta.xml: which file of the archive holds which table, and which term each column is (Darwin Core text guide)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from xml.etree import ElementTree as ET

from pipeline.files.schemas import table

NAMESPACE = "http://rs.tdwg.org/dwc/text/"
# Written out in full, for readers differ in what they take for granted.
HOW = {
    "encoding": "UTF-8", "fieldsTerminatedBy": ",", "linesTerminatedBy": "\\n", "fieldsEnclosedBy": '"',
    "ignoreHeaderLines": "1",
}  # fmt: skip


def meta_xml(columns: Mapping[str, Sequence[str]]) -> str:
    """The descriptor of the tables with these columns, the first of which is the id of the core's row."""
    terms = {(line["table"], line["column"]): line["term"] for line in table("portal_columns.csv")}
    root = ET.Element("archive", {"xmlns": NAMESPACE, "metadata": "eml.xml"})
    for file in table("archive/files.csv"):
        name, is_core = file["table"], file["kind"] == "core"
        part = ET.SubElement(root, file["kind"], {**HOW, "rowType": file["row_type"]})
        ET.SubElement(ET.SubElement(part, "files"), "location").text = f"{name}.csv"
        ET.SubElement(part, "id" if is_core else "coreid", {"index": "0"})
        for index, column in enumerate(columns[name]):
            if index or is_core:  # of an extension the first column is only the core's id
                ET.SubElement(part, "field", {"index": str(index), "term": terms[name, column]})
    return xml_text(root)


def xml_text(root: ET.Element) -> str:
    """A document as text, indented, in UTF-8 when written."""
    ET.indent(root)
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + ET.tostring(root, encoding="unicode") + "\n"
