"""The option `--data-package` of a run: the dataset once more, as a package of the draft standard."""

from __future__ import annotations

import sys
from pathlib import Path

from pipeline.files.data_package import write_data_package
from pipeline.files.ledger import NAME, open_ledger
from pipeline.files.programme import read_programme


def data_package_command(folder: Path) -> None:
    """Writes outbox/portal/data-package as of the last batch and says so beside the figures."""
    settings = read_programme(folder).settings
    ledger = open_ledger(folder / NAME, settings.programme.id)
    try:
        said = write_data_package(folder / "outbox", ledger, settings)
    finally:
        ledger.close()  # nothing was changed
    print(said, file=sys.stderr)
