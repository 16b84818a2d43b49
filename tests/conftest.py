"""What several test files share: the gate, started once, the same process that `run` asks."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from pipeline.files.gate_client import Gate, start_gate, stop


@pytest.fixture(scope="session")
def gate() -> Iterator[Gate]:
    at_work = start_gate()
    yield at_work
    stop(at_work)
