"""The command `check`: a look at single sheets, with nothing kept."""

from __future__ import annotations

import hashlib
import textwrap
from collections.abc import Sequence
from datetime import date
from pathlib import Path

import pandas as pd

from pipeline.commands.words import WIDTH
from pipeline.examine import Examined, examine
from pipeline.files.attachments import opened
from pipeline.files.boundaries import ATLAS
from pipeline.files.intake import Arrival
from pipeline.files.mail import is_mail
from pipeline.files.programme import default_programme, read_programme
from pipeline.files.reading import read_files
from pipeline.files.runs import Came
from pipeline.model import SEVERITIES
from pipeline.values.wording import KINDS

SHOWN = 20
NOT_HERE = "sender_not_known"  # whoever looks at a single sheet knows whose it is


def check_command(files: Sequence[Path], today: date | None) -> int:
    """Prints what the rules have to say about each file; 1 if anything would be asked."""
    programme = read_programme(Path()) if Path("programme/programme.toml").is_file() else default_programme()
    day = pd.Timestamp(today or date.today())
    missing = [file for file in files if not file.is_file()]
    for file in missing:
        print(f"{file}: there is no such file.")
    arrivals = [arrival for file in files if file not in missing for arrival in _arrivals(file)]
    reads = tuple(read_files(arrivals))
    examined = examine(Came(reads, {read.file_sha256: day for read in reads}, {}), programme, ATLAS)
    for read in reads:
        print("\n".join(_said(read.file, examined)))
    is_asked = (examined.questions["rule"] != NOT_HERE).any()
    return 1 if missing or is_asked else 0


def _arrivals(file: Path) -> tuple[Arrival, ...]:
    """The file, and of a mail those that came in it."""
    content = file.read_bytes()
    one = Arrival(file.as_posix(), file, hashlib.sha256(content).hexdigest(), len(content))
    return (one, *opened(one).files) if is_mail(content) else (one,)


def _said(file: str, examined: Examined) -> list[str]:
    rows = examined.rows[examined.rows["file"] == file]
    findings = examined.findings[(examined.findings["file"] == file) & (examined.findings["rule"] != NOT_HERE)]
    held = int((rows["state"] == "held").sum())
    lines = [f"{file}: {len(rows)} rows, {len(rows) - held} ready, {held} would wait for an answer"]
    for severity in SEVERITIES:
        found = findings[findings["severity"] == severity]
        if len(found):
            lines += ["", f"  {KINDS[severity]} ({len(found)})"]
            lines += [line for text in found["message"].head(SHOWN) for line in _wrapped(text)]
        if len(found) > SHOWN:
            lines.append(f"    ... showing {SHOWN} of {len(found)}")
    return lines


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent="  - ", subsequent_indent="    ")
