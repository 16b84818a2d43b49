"""The word lists that readings are made with, carried together from the files to the stages."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from pipeline.values.choice import Words


class Field(NamedTuple):
    """A field of the contract: how it is read, from which list, and whether a sheet needs it."""

    name: str
    read_as: str
    list: str
    needed: str  # yes, place (one of several will do) or no


class State(NamedTuple):
    """A first division of a country as it is published, with its ISO 3166-2 code."""

    name: str
    code: str
    country: str


class Lists(NamedTuple):
    """Every list of `schemas/` and of the programme that a cell may be read against."""

    fields: tuple[Field, ...]
    choices: dict[str, Words]  # list name: its words
    countries: dict[str, str]  # tidied spelling: ISO 3166-1 code
    states: dict[str, tuple[State, ...]]  # tidied spelling: states of that name
    taxa: dict[str, tuple[str, ...]]  # tidied name: the scientific names it may stand for
    taxon_ranks: dict[str, str]  # scientific name: rank
    datums: Mapping[str, str] = {}  # compact name: EPSG code, "none" where it names no datum


class PortalLists(NamedTuple):
    """What the portal is told beyond the rows, and the columns that may leave the house, by table."""

    columns: Mapping[str, Sequence[str]]
    taxa: Sequence[Mapping[str, str]]
    countries: Mapping[str, str]  # code: name
    causes: Mapping[str, str] = {}  # tidied words for what a butterfly died of: as the portal takes it
    orcids: Mapping[str, str] = {}  # name that its bearer lets us publish: the bearer's ORCID
