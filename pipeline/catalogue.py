"""Every rule, found by walking `pipeline/rules/`: to add a rule is to add one file."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from pkgutil import iter_modules, walk_packages
from typing import Any

import pipeline.rules
from pipeline.rule import Rule


@dataclass(frozen=True)
class Entry:
    """A rule with its name, its subject and the functions that stand in its file."""

    name: str
    subject: str
    rule: Rule
    finds: Callable[[Any], Any]
    suggests: Callable[[Any], dict[str, Any]] | None
    stands_on: Callable[[Any], Any] | None  # the field of each found row, where it is not always the same


@cache
def catalogue() -> tuple[Entry, ...]:
    """Every rule, by subject and name."""
    subjects = [package.name for package in iter_modules(pipeline.rules.__path__) if package.ispkg]
    modules = [
        (subject, module.name)
        for subject in sorted(subjects)
        for module in walk_packages([f"{path}/{subject}" for path in pipeline.rules.__path__])
    ]
    return tuple(_entry(subject, name) for subject, name in modules)


def _entry(subject: str, name: str) -> Entry:
    module = import_module(f"pipeline.rules.{subject}.{name}")
    suggests, stands_on = (getattr(module, function, None) for function in ("suggests", "stands_on"))
    return Entry(name, subject, module.RULE, module.finds, suggests, stands_on)
