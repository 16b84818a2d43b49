"""Names of countries and states as the draft's tests look them up: one name, with nothing round it."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from pipeline.audit.outer_blanks import has_outer_blanks
from pipeline.values.text import tidy

_NO_PART_OF_A_NAME = frozenset("?*[]|;/{}<>=_#~")


def code_of_country(name: str, names: Mapping[str, str]) -> str:
    """The code of the country of this name, "" where it is none.

    >>> names = {"canada": "CA"}
    >>> [code_of_country(name, names) for name in ("Canada", "CANADA", "Canada ", "Canada?", "Kanada")]
    ['CA', 'CA', '', '', '']
    """
    return names.get(_one_name(name), "")


def codes_of_state(name: str, states: Mapping[str, frozenset[str]]) -> frozenset[str]:
    """The codes of every state of this name, none where it is no name of one.

    >>> sorted(codes_of_state("N.B.", {"n b": frozenset({"CA-NB"})})), codes_of_state("NB/NS", {})
    (['CA-NB'], frozenset())
    """
    return states.get(_one_name(name), frozenset())


@lru_cache(maxsize=100_000)
def _one_name(name: str) -> str:
    """The name as it is compared, "" where more than one name stands there."""
    return "" if has_outer_blanks(name) or not _NO_PART_OF_A_NAME.isdisjoint(name) else tidy(name)
