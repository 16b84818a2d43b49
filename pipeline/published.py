"""What becomes of a batch: when it is written, what is published of each row, what the gate said."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

import pandas as pd

from pipeline.files.gate_client import Gate, Verdict

GATE_REASON = "gate"
UNDONE = "undone"  # why a row of a file that was taken back is withdrawn
DELIVER_REASON = "waits for the next delivery"


@dataclass(frozen=True)
class Occasion:
    """When and how a batch is written: the day, the gate if there is one, and whether somebody asked for a delivery."""

    today: date
    gate: Gate | None = None
    delivers: bool = False


@dataclass(frozen=True)
class Published:
    """The rows with what is published of each, the finds, and the batch of this run if there is one.

    `rows` has beside the columns of the examined rows occurrence_id, digest (blank if not at the portal),
    modified, batch_id. `staged` is the folder where the batch waits for its rename, `if_refused` what stands
    instead if the gate keeps it in the house.
    """

    rows: pd.DataFrame
    finds: pd.DataFrame
    batch_id: str = ""
    records: int = 0
    withdrawn: int = 0
    sha256s: dict[str, str] = field(default_factory=dict)
    staged: Path | None = None
    verdict: Verdict | None = None
    if_refused: Published | None = None
    waits: int = 0  # records that wait for the next delivery, where batches are written when asked

    @property
    def is_refused(self) -> bool:
        """Whether the gate kept the batch in the house."""
        return self.verdict is not None and not self.verdict.passed
