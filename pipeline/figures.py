"""What a run says in figures."""

from __future__ import annotations

from dataclasses import dataclass, replace


@dataclass(frozen=True)
class Figures:
    """What a run says in figures: both conservation laws, what is asked, what went out."""

    rows: dict[str, int]  # by state, over the whole ledger
    rows_of_run: dict[str, int]  # the same for the files that are new in this run
    left_out: dict[str, int]  # by reason
    tags: dict[str, int]  # by what became of them, this season's
    never_allotted: int  # released tags that were never allotted
    files: dict[str, int]  # read, copies, refused
    finds: dict[str, int]  # matched, waiting
    questions: int
    people_asked: int
    coordinator_questions: int
    batch: dict[str, str]  # id, records, withdrawn; empty without one
    refusals: list[str]  # what the gate refused, in plain words

    def with_nothing_new(self) -> Figures:
        """The same ledger, as a run over an unchanged inbox tells it."""
        none = dict.fromkeys(self.rows_of_run, 0)
        return replace(self, rows_of_run=none, files={**self.files, "new": 0}, batch={})

    @property
    def rows_read(self) -> int:
        """Every sheet row that was ever read: the sum of the states."""
        return sum(self.rows.values())
