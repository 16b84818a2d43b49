"""The butterfly's name and classification as the portal takes them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import pandas as pd

from pipeline.stages.export.cells import kept, spread

HIGHER_TAXA = {"kingdom": "Animalia", "phylum": "Arthropoda", "class": "Insecta", "order": "Lepidoptera"}
RANK_BY_WORDS = {1: "genus", 2: "species", 3: "subspecies"}
COLUMNS = ("scientificNameAuthorship", "taxonRank", *HIGHER_TAXA, "family", "genus", "vernacularName")


def taxon(rows: pd.DataFrame, taxa: Sequence[Mapping[str, str]]) -> dict[str, pd.Series]:
    """The columns of a taxon; what the list does not say of it stays blank."""
    name = kept(rows, "scientificName")
    codes, unique = pd.factorize(name)
    known: dict[str, dict[str, str]] = {}
    for line in taxa:  # the programme's lines come last, and say no more than they hold
        said = {column: cell for column, cell in line.items() if cell}
        known[line["scientificName"]] = known.get(line["scientificName"], {}) | said
    told = [_of_taxon(each, known.get(each, {})) for each in unique]
    return {
        "scientificName": name,
        **{column: spread([facts[column] for facts in told], codes, name.index) for column in COLUMNS},
    }


def _of_taxon(name: str, listed: Mapping[str, str]) -> dict[str, str]:
    words = name.split(" ") if name else []
    higher = {rank: listed.get(rank) or (fixed if name else "") for rank, fixed in HIGHER_TAXA.items()}
    return {
        "scientificNameAuthorship": listed.get("authorship", ""),
        "taxonRank": listed.get("rank") or RANK_BY_WORDS.get(len(words), ""),
        **higher,
        "family": listed.get("family", ""),
        "genus": words[0] if words else "",
        "vernacularName": listed.get("vernacular_en", "").split(" | ")[0],  # the first of several
    }
