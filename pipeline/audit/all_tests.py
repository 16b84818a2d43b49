"""Every test, found by walking the subjects: to add a test is to add one file."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from pkgutil import iter_modules

import pipeline.audit
from pipeline.audit.audit_test import AuditTest, Response


@dataclass(frozen=True)
class Entry:
    """A test with its subject and the function that stands in its file."""

    subject: str
    test: AuditTest
    responds: Callable[..., Response]


@cache
def all_tests() -> tuple[Entry, ...]:
    """Every test, by subject and label; those that count the responses of others stand last."""
    subjects = sorted(part.name for part in iter_modules(pipeline.audit.__path__) if part.ispkg)
    subjects.sort(key=lambda subject: subject == "counts")
    return tuple(_entry(subject, module) for subject in subjects for module in _modules(subject))


def _modules(subject: str) -> list[str]:
    package = import_module(f"pipeline.audit.{subject}")
    return sorted(module.name for module in iter_modules(package.__path__))


def _entry(subject: str, module: str) -> Entry:
    found = import_module(f"pipeline.audit.{subject}.{module}")
    return Entry(subject, found.TEST, found.responds)
