"""Whether the groups that a record names can all hold at once, as far as the names that we carry tell."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from pipeline.audit.audit_test import is_empty
from pipeline.audit.names import RANKS, KnownNames
from pipeline.audit.word_lists import loosely

# A genus of plants or fungi may lawfully be named like one of animals (Pieris); the codes settle these endings.
_ENDINGS_OF_PLANTS_AND_FUNGI = ("aceae", "ales", "opsida", "phyta", "mycota", "mycetes", "phyceae")
_OTHER_KINGDOMS = frozenset({"plantae", "fungi", "chromista", "protozoa", "bacteria", "archaea", "viruses"})


class Placed(NamedTuple):
    """What our names say of a record's groups: the lowest that we know, what disagrees, what we do not know."""

    lowest: str = ""
    disagrees: str = ""
    unknown: tuple[str, ...] = ()


def placed(groups: Mapping[str, str], taxa: KnownNames) -> Placed:
    """The lowest group that we know with the first group above it that is another than we have."""
    filled = {rank: groups[rank] for rank in RANKS if not is_empty(groups[rank])}
    elsewhere = is_of_plants_or_fungi(filled)
    known = [rank for rank in filled if (rank, loosely(filled[rank])) in taxa.above]
    if elsewhere and "genus" in known:
        known.remove("genus")
    if not known:
        return Placed(unknown=tuple(filled))
    lowest = known[-1]
    should = taxa.above[lowest, loosely(filled[lowest])]
    wrong = [rank for rank in should if rank in filled and loosely(filled[rank]) != loosely(should[rank])]
    wrong = [rank for rank in wrong if rank != "kingdom" or loosely(filled[rank]) in _OTHER_KINGDOMS]
    other_name = [rank for rank in should if rank == "kingdom" and rank in filled and rank not in known + wrong]
    below = [rank for rank in filled if RANKS.index(rank) > RANKS.index(lowest)]
    disagrees = f"{filled[lowest]} belongs to {should[wrong[-1]]}, not to {filled[wrong[-1]]}" if wrong else ""
    return Placed(filled[lowest], disagrees, (*other_name, *below))


def is_of_plants_or_fungi(groups: Mapping[str, str]) -> bool:
    """Whether a kingdom or the ending of a group says that the record is about no animal."""
    kingdom = loosely(groups.get("kingdom", ""))
    above = [loosely(value) for rank, value in groups.items() if rank not in ("kingdom", "genus")]
    return kingdom in _OTHER_KINGDOMS or any(value.endswith(_ENDINGS_OF_PLANTS_AND_FUNGI) for value in above)
