"""Damaged sheets come out as read or refused, whatever is wrong with them: some hundred mutants of the long bench."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent / "bench"))
from fuzz import ROOT, SEED, mutant, outcomes

MUTANTS = range(400)


def test_every_mutant_is_read_or_refused_and_most_still_open() -> None:
    came = [told[0] if told else "died or hung" for _, told in outcomes(MUTANTS, SEED, ROOT / "inbox", 1)]
    assert [what for what in came if not what.startswith(("opened", "refused"))] == []
    assert sum(what.startswith("opened") for what in came) * 2 >= len(MUTANTS)


def test_a_mutant_comes_from_its_seed_and_number_alone() -> None:
    assert mutant(7, SEED, ROOT / "inbox") == mutant(7, SEED, ROOT / "inbox")
    assert mutant(7, SEED, ROOT / "inbox") != mutant(7, SEED + 1, ROOT / "inbox")
