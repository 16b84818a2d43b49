"""The house keeps its own rules: style, types, layers, sizes."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
MODULES = sorted((ROOT / "pipeline").rglob("*.py"))
WORDS_NOT_OURS = ("utils", "helpers", "base", "core", "manager")


@pytest.mark.parametrize(
    "command",
    [
        pytest.param(["ruff", "check", "."], id="ruff finds nothing"),
        pytest.param(["ruff", "format", "--check", "."], id="every file is formatted alike"),
        pytest.param(["mypy"], id="mypy in its strict mode finds nothing"),
        pytest.param(["lint-imports", "--no-cache"], id="no layer imports what stands above it"),
    ],
)
def test_the_tools_of_the_house_are_content(command: list[str]) -> None:
    program = Path(sys.executable).with_name(command[0])
    done = subprocess.run([str(program), *command[1:]], cwd=ROOT, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout[-4000:] + done.stderr[-2000:]


def test_no_module_is_longer_than_two_hundred_lines() -> None:
    long = {str(path.relative_to(ROOT)): n for path in MODULES if (n := len(path.read_text().splitlines())) > 200}
    assert long == {}


def test_no_function_is_longer_than_forty_lines() -> None:
    long = [
        f"{path.relative_to(ROOT)}:{node.lineno} {node.name}"
        for path in MODULES
        for node in ast.walk(ast.parse(path.read_text()))
        if isinstance(node, ast.FunctionDef) and (node.end_lineno or 0) - node.lineno >= 40
    ]
    assert long == []


def test_no_module_is_a_drawer_for_odds_and_ends() -> None:
    assert [path for path in MODULES if path.stem in WORDS_NOT_OURS] == []


def test_every_public_function_says_in_a_sentence_what_it_does() -> None:
    silent = [
        f"{path.relative_to(ROOT)}:{node.lineno} {node.name}"
        for path in MODULES
        if "rules" not in path.parts and path.parent.parent.name != "audit"
        for node in ast.parse(path.read_text()).body
        if isinstance(node, (ast.FunctionDef, ast.ClassDef))
        and not node.name.startswith("_")
        and not ast.get_docstring(node)
    ]
    assert silent == []


def test_the_command_line_imports_nothing_heavy_before_it_knows_the_command() -> None:
    code = (
        "import sys, pipeline.cli; print(sorted({'pandas', 'numpy', 'pandera', 'pyarrow', 'rich'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
