"""The command `audit`: the tests of TDWG's data quality draft on any Darwin Core table, ours or anybody's."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Any

from pipeline.audit.all_tests import all_tests
from pipeline.audit.tally import Found, Tallied
from pipeline.audit.tally_words import DRAFT, next_step, numbers_of
from pipeline.commands.words import WIDTH, line_of
from pipeline.files.audit_form import CannotBeAudited
from pipeline.files.audit_page import SHOWN, write_audit_page
from pipeline.files.audit_processes import Task, said_of
from pipeline.files.audit_records import pieces
from pipeline.files.audit_responses import HEADINGS
from pipeline.files.audit_table import AuditTable, audit_table
from pipeline.settings import SettingsWrong

NUMBER = 11  # places of a column of numbers
SHOWN_AS = {"Validation": "Validations", "Issue": "Issues", "Amendment": "Amendments"}
SHORT = {  # the outcomes of `numbers_of`, short enough for a column
    "Validation": ("did not", "complied", "cannot say"),
    "Issue": ("to look at", "nothing", "cannot say"),
    "Amendment": ("proposed", "nothing", "cannot say"),
}


def audit_command(file: Path, out: Path | None, today: date | None, as_json: bool) -> int:
    """Prints what the tests found, writes the page and, if wanted, every response; 0 if the file could be read."""
    if not file.is_file():
        raise SettingsWrong(f"There is no file {file}.")
    page = _page_beside(file, out)
    day = today or date.today()
    try:
        with audit_table(file) as table:
            said = _said(table, out, day)
    except CannotBeAudited as why:
        print(f"{file.name} cannot be audited: {why}.")
        return 1
    words = next_step(said, f"in {page.as_posix()}")
    write_audit_page(page, file.name, said, day)
    print(_as_json(file, said, (page, out), words) if as_json else "\n".join(_lines(file, said, out, words)))
    return 0


def _page_beside(file: Path, out: Path | None) -> Path:
    """Beside the responses, else with the coordinator's files, else here."""
    if out:
        page = out.with_suffix(".html")
        if file.exists() and out.exists() and out.samefile(file):
            raise SettingsWrong(f"--out would write over {file}. Name another file for the responses.")
        if page == out:
            raise SettingsWrong("--out names the table of responses. Let its name end in .csv.")
        return page
    if Path("programme/programme.toml").is_file():
        return Path("outbox/coordinator/audit.html")
    return Path(f"{file.stem}-audit.html")


def _said(table: AuditTable, out: Path | None, today: date) -> Tallied:
    if out is None:
        return said_of(pieces(table.files, table.form), Task(table.form, today, None), 0)
    with _beside(out) as responses:
        responses.write_bytes(HEADINGS)
        return said_of(pieces(table.files, table.form), Task(table.form, today, responses), len(HEADINGS))


@contextmanager
def _beside(path: Path) -> Iterator[Path]:
    """A file beside its place, renamed to it when it is finished."""
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_name(f"{path.name}.part")
    try:
        yield beside
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)


def _lines(file: Path, said: Tallied, out: Path | None, words: str) -> list[str]:
    tests = f"{len(all_tests())} tests of {DRAFT} (a draft, no standard)"
    lines = line_of("", f"{file.name}: {said.records:,} records, {tests}.")
    for kind, title in SHOWN_AS.items():
        lines += _of_kind(kind, title, said)
    silent = sum(tally.number_not_said() == said.records for tally in said.tests.values()) if said.records else 0
    lines.append("")
    if silent:
        lines += line_of("", f"{silent} tests could say nothing about any record: what they look at is not there.")
    if said.uneven:
        lines += line_of("", f"{said.uneven:,} records have more or fewer cells than there are headings: begin there.")
    if said.with_findings:
        some = f"{said.with_findings:,} of {said.records:,} records"
        lines += line_of("", f"In {some} something did not comply or is to be looked at.")
    if out:
        lines += line_of("", f"{said.records * len(said.tests):,} responses stand in {out.as_posix()}.")
    return [*lines, *line_of("", words)]


def _of_kind(kind: Any, title: str, said: Tallied) -> list[str]:
    """A line for each test of this kind that found something."""
    tests = [entry.test for entry in all_tests() if entry.test.kind == kind and entry.test.label in said.tests]
    found = [(test, said.tests[test.label]) for test in tests if said.tests[test.label].number_found()]
    if not found:
        return []
    found.sort(key=lambda each: -each[1].number_found())
    heads = SHORT[kind]
    lines = ["", title.ljust(WIDTH - NUMBER * len(heads)) + "".join(head.rjust(NUMBER) for head in heads)]
    for test, tally in found:
        numbers = "".join(f"{number:,}".rjust(NUMBER) for number in numbers_of(kind, tally).values())
        lines.append(test.label.partition("_")[2].ljust(WIDTH - NUMBER * len(heads)) + numbers)
    return lines


def _as_json(file: Path, said: Tallied, written: tuple[Path, Path | None], words: str) -> str:
    tests = [_test_as_json(entry.test, said) for entry in all_tests() if entry.test.label in said.tests]
    told = {
        "file": file.name, "records": said.records, "tests_of": DRAFT, "is_a_draft": True,
        "records_with_something_found": said.with_findings, "records_of_uneven_width": said.uneven, "tests": tests,
        "page": written[0].as_posix(), "responses": written[1].as_posix() if written[1] else None, "next": words,
    }  # fmt: skip
    return json.dumps(told, ensure_ascii=False, indent=2)


def _test_as_json(test: Any, said: Tallied) -> dict[str, Any]:
    tally = said.tests[test.label]
    return {
        "test": test.label, "test_id": test.test_id, "kind": test.kind, "records": numbers_of(test.kind, tally),
        "least": tally.least, "greatest": tally.greatest, "found_are_exact": tally.are_exact(),
        "found": [
            {"records": one.records, "result": result, "comment": comment, "for_example": _records(one)}
            for result, comment, one in tally.most_frequent()[:SHOWN]
        ],
    }  # fmt: skip


def _records(one: Found) -> list[int]:
    return [each.record for each in one.examples]
