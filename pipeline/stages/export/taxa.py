"""The butterfly's name and classification as the portal takes them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import pandas as pd

from pipeline.stages.export.cells import kept

HIGHER_TAXA = {"kingdom": "Animalia", "phylum": "Arthropoda", "class": "Insecta", "order": "Lepidoptera"}


def taxon(rows: pd.DataFrame, taxa: Sequence[Mapping[str, str]]) -> dict[str, pd.Series]:
    """The columns of a taxon; what the list does not say of it stays blank."""
    name = kept(rows, "scientificName")
    known = {line["scientificName"]: line for line in taxa}

    def of_taxon(column: str, otherwise: str = "") -> pd.Series:
        facts = {each: known.get(each, {}).get(column, "") or (otherwise if each else "") for each in name.unique()}
        return name.map(facts).astype("str")

    words = name.str.count(" ") + 1
    by_words = words.map({1: "genus", 2: "species", 3: "subspecies"}).fillna("").astype("str").mask(name == "", "")
    listed = of_taxon("rank")
    return {
        "scientificName": name,
        "scientificNameAuthorship": of_taxon("authorship"),
        "taxonRank": listed.where(listed != "", by_words),
        **{rank: of_taxon(rank, fixed) for rank, fixed in HIGHER_TAXA.items()},
        "family": of_taxon("family"),
        "genus": name.str.split(" ").str[0].fillna(""),
        "vernacularName": of_taxon("vernacular_en").str.replace(r" \| .*", "", regex=True),  # the first of several
    }
