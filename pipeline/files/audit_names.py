"""Names of countries and states for the audit, by their codes."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from pipeline.files.schemas import table
from pipeline.values.text import tidy

AMBIGUOUS = frozenset({"eu"})  # the European Union as well as, in French, the United States
NAMES_THAT_ARE_CODES = frozenset({"USA", "UK"})  # said as names everywhere


def country_codes() -> frozenset[str]:
    """The alpha-2 codes of ISO 3166-1, with those that Darwin Core has for the high seas and for not known."""
    return frozenset(line["code"] for line in table("vocabularies/countries.csv")) | {"XZ", "ZZ"}


@cache
def countries() -> Mapping[str, str]:
    """The code of each spelling, abbreviation and code of three letters of a country."""
    known = {tidy(line["written"]): line["code"] for line in table("vocabularies/countries.csv")}
    return {name: code for name, code in known.items() if name not in AMBIGUOUS}


@cache
def country_names() -> Mapping[str, str]:
    """The code of each name of a country; codes of two and three letters are no names."""
    lines = table("vocabularies/countries.csv")
    codes = {tidy(line["written"]) for line in lines if not line["language"]} - set(map(tidy, NAMES_THAT_ARE_CODES))
    return {name: code for name, code in countries().items() if name not in codes}


@cache
def states() -> Mapping[str, frozenset[str]]:
    """The codes of each name of a state; a part of a larger division of the same name counts as that."""
    named: dict[str, set[str]] = {}
    for line in (*table("vocabularies/states.csv"), *table("boundaries/divisions.csv")):
        if line["written"] != line["code"]:
            named.setdefault(tidy(line["written"]), set()).add(line["code"])
    part_of = {line["state"] or line["shape"]: line["part_of"] for line in table("boundaries/codes.csv")}
    return {
        name: frozenset(code for code in codes if part_of.get(code) not in codes)
        for name, codes in named.items()
        if name
    }
