"""The documents held against the code: commands, settings, exit codes, libraries, files of the contract."""

from __future__ import annotations

import argparse
import re
import tomllib
from collections.abc import Iterator
from dataclasses import asdict
from datetime import date
from pathlib import Path
from shutil import copytree
from types import ModuleType
from typing import Any

import pytest
import test_rules

from pipeline import cli
from pipeline.catalogue import Entry
from pipeline.commands.words import said_of
from pipeline.figures import Figures
from pipeline.files.gate_client import Gate
from pipeline.flow import exit_code, run
from pipeline.settings import Settings

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
SCHEMAS = (ROOT / "schemas" / "README.md").read_text(encoding="utf-8")

FIRST = "pip install -c constraints.txt . && tagsheaf run"
SECOND = 'pip install -c constraints.txt -e ".[test]" && pytest'
FENCE = re.compile(r"^ *```(\w*)\n(.*?)^ *```$", re.DOTALL | re.MULTILINE)
DEMO_DAY = date(2026, 11, 25)  # the day that README names beside the ending


def section(document: str, heading: str) -> str:
    """What stands under a heading, down to the next one of its rank or above."""
    rank = len(heading) - len(heading.lstrip("#"))
    after = document.split(f"\n{heading}\n", 1)[1]
    return re.split(rf"^#{{1,{rank}}} ", after, maxsplit=1, flags=re.MULTILINE)[0]


def blocks(text: str) -> list[str]:
    return [block.strip("\n") for _, block in FENCE.findall(text)]


def lines_of_tables(text: str) -> list[list[str]]:
    """The cells of every table line; an escaped bar inside a cell is a bar."""
    lines = (line for line in text.splitlines() if line.startswith("|") and not line.startswith("|-"))
    return [[cell.strip().replace("\\|", "|") for cell in re.split(r"(?<!\\)\|", line)[1:-1]] for line in lines]


def typed(document: str) -> str:
    """Everything that is set as code: what a reader would type."""
    return "\n".join([*blocks(document), *re.findall(r"`([^`\n]+)`", FENCE.sub("", document))])


def subparsers() -> dict[str, argparse.ArgumentParser]:
    actions = cli._parser()._actions
    return next(dict(action.choices) for action in actions if isinstance(action, argparse._SubParsersAction))


def settings() -> dict[str, dict[str, Any]]:
    """Every setting with its default, by section, as a programme.toml holds them."""
    return {
        name: {key: list(value) if isinstance(value, tuple) else value for key, value in keys.items()}
        for name, keys in asdict(Settings()).items()
    }


def figures(questions: int, for_the_coordinator: int) -> Figures:
    return Figures({}, {}, {}, {}, 0, {}, {}, questions, questions, for_the_coordinator, {}, [])


def test_the_first_two_blocks_under_start_are_the_two_commands() -> None:
    assert blocks(section(README, "## Start"))[:2] == [FIRST, SECOND]


def test_the_second_command_is_what_ci_types() -> None:
    typed_by_ci = (ROOT / ".ci" / "run").read_text(encoding="utf-8").replace("pip install -q ", "pip install ")
    assert SECOND in typed_by_ci


def test_the_ending_in_the_readme_is_what_the_demo_prints(tmp_path: Path, gate: Gate) -> None:
    for name in ("programme", "inbox"):
        copytree(ROOT / name, tmp_path / name)
    for made_by_a_run in (tmp_path / "programme").glob("ledger.sqlite*"):
        made_by_a_run.unlink()
    printed = "\n".join(said_of(run(tmp_path, DEMO_DAY, lambda: gate)))
    ending = blocks(section(README, "## Start"))[2]
    assert len(ending.splitlines()) > 5 and printed.endswith(ending)


@pytest.mark.parametrize("name", list(settings()))
def test_every_setting_stands_in_the_readme_with_its_default(name: str) -> None:
    told = lines_of_tables(section(README, f"### `[{name}]`"))[1:]
    defaults = {key.strip("`"): tomllib.loads(f"x = {default.strip('`')}")["x"] for key, default, _ in told}
    assert defaults == settings()[name] and all(meaning for _, _, meaning in told)


def test_the_demo_says_every_setting_and_no_other() -> None:
    said = tomllib.loads((ROOT / "programme" / "programme.toml").read_text(encoding="utf-8"))
    assert {name: set(keys) for name, keys in said.items()} == {name: set(keys) for name, keys in settings().items()}


def test_a_new_programme_says_every_setting_with_its_default() -> None:
    said = tomllib.loads((ROOT / "schemas" / "new_programme.toml").read_text(encoding="utf-8"))
    assert said == settings()


def test_every_command_stands_in_the_readme_and_no_other() -> None:
    told = set(re.findall(r"\btagsheaf ([a-z]\w*)", typed(README)))
    assert told == set(subparsers())


@pytest.mark.parametrize("document", [README, DEVELOPERS, SCHEMAS], ids=["README", "DEVELOPERS", "schemas"])
def test_no_document_promises_a_command_that_is_not_there(document: str) -> None:
    assert set(re.findall(r"\btagsheaf ([a-z]\w*)", typed(document))) <= set(subparsers())


def test_every_option_stands_in_the_readme() -> None:
    parsers = [cli._parser(), *subparsers().values()]
    options = {option for parser in parsers for action in parser._actions for option in action.option_strings}
    long = {option for option in options if option.startswith("--")}
    assert long and {option for option in long if option not in typed(README)} == set()


def test_the_exit_codes_stand_in_the_readme() -> None:
    told = {int(line[0]) for line in lines_of_tables(section(README, "## Commands")) if line[0].isdigit()}
    of_runs = {exit_code(figures(n, own), refused) for n in (0, 2) for own in (0, 2) for refused in (False, True)}
    assert told == of_runs | {cli.OURS, cli.SETTINGS, cli.WRONG_USAGE, cli.INTERRUPTED}


def test_every_library_has_its_line_for_developers() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    extras = [one for extra in project["optional-dependencies"].values() for one in extra]
    needed = {re.split(r"[\[<>=!~; ]", one)[0].lower() for one in [*project["dependencies"], *extras]}
    told = lines_of_tables(section(DEVELOPERS, "## Why each library"))
    lines = {line[0]: line[1:] for line in told if line[0] != "library"}
    assert set(lines) == needed and all(licence and why for licence, why in lines.values())


def test_every_file_of_the_contract_is_named() -> None:
    folder = ROOT / "schemas"
    named = set(re.findall(r"`([\w./-]+\.\w+)`", SCHEMAS))
    files = {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}
    there = {file for file in files if not file.endswith((".py", ".pyc", "py.typed", "README.md"))}
    assert there - named == set()
    in_the_table = {file for line in lines_of_tables(SCHEMAS) for file in re.findall(r"`([\w./-]+\.\w+)`", line[0])}
    assert in_the_table == there


def test_the_example_of_a_rule_keeps_its_own_promises() -> None:
    code = next(block for language, block in FENCE.findall(DEVELOPERS) if language == "python")
    module = ModuleType("several_butterflies_in_one_row")
    exec(compile(code, "DEVELOPERS.md", "exec"), module.__dict__)
    entry = Entry(module.__name__, "stage", module.RULE, module.finds, None, None)
    test_rules.test_a_rule_finds_the_rows_that_it_promises(entry)
    for kind in ("leaves", "near_misses"):
        test_rules.test_a_rule_leaves_alone_what_it_promises_to_leave(entry, kind)
    test_rules.test_a_rule_says_nothing_about_a_table_without_rows(entry)
    test_rules.test_a_rule_declares_known_columns_and_reads_each(entry)
    test_rules.test_the_message_of_a_rule_can_be_filled_in(entry)
    test_rules.test_a_rule_is_told_in_our_own_words_with_its_reason(entry)


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md", "schemas/README.md"])
def test_every_link_leads_somewhere(name: str) -> None:
    page = ROOT / name
    text = page.read_text(encoding="utf-8")
    for target in re.findall(r"\]\(([^)\s]+)\)", text):
        file, _, place = target.partition("#")
        there = (page.parent / file) if file else page
        assert there.is_file(), target
        assert not place or place in anchors(there.read_text(encoding="utf-8")), target


def anchors(text: str) -> set[str]:
    """The names by which a page's headings are linked to."""
    headings = re.findall(r"^#+ (.+)$", FENCE.sub("", text), re.MULTILINE)
    return {re.sub(r"[^\w -]", "", heading.lower()).replace(" ", "-") for heading in headings}


def test_the_pictures_are_small() -> None:
    sizes = {path.name: path.stat().st_size for path in (ROOT / "docs").glob("*.png")}
    assert set(sizes) == {"question-sheet.png", "report.png"} and max(sizes.values()) < 250_000


# What a run or a tool leaves behind is nobody's text.
LEFT_BEHIND = re.compile(
    r"\.(?!ci/)[^/]+/|(?:build|dist|outbox|[^/]+\.egg-info|programme/originals)/|programme/ledger\.sqlite|(?:.*/)?__pycache__/"
)
# Put together from parts, so that this file does not hold what it looks for.
HOSTS = [
    ".".join(parts)
    for parts in (
        ("pypi", "org"), ("pythonhosted", "org"), ("npmjs", "org"), ("npmjs", "com"), ("anaconda", "org"),
        ("crates", "io"), ("rubygems", "org"), ("proxy", "golang", "org"),
    )
]  # fmt: skip
MACHINE_PATHS = re.compile(
    r"(?<![\w./~-])/(?:home|Users|root|tmp|work|mnt|opt|var/folders)/\w|\b[A-Z]:\\+(?:Users|Documents)\b"
)


def texts_of_the_repository() -> Iterator[tuple[str, str]]:
    for path in sorted(ROOT.rglob("*")):
        file = path.relative_to(ROOT).as_posix()
        if LEFT_BEHIND.match(file) or not path.is_file():
            continue
        try:
            yield file, path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue  # a workbook or a picture


def test_no_text_names_a_place_on_somebodys_machine_or_a_registry() -> None:
    told = dict(texts_of_the_repository())
    assert {"README.md", ".ci/run", "constraints.txt", "pipeline/flow.py"} <= set(told)
    found = {
        file: [*MACHINE_PATHS.findall(text), *(host for host in HOSTS if host in text)] for file, text in told.items()
    }
    assert {file: what for file, what in found.items() if what} == {}
