"""Runs the tests over a table's pieces, in two processes where it is large, and adds up what they said.

Each process asks for the next piece when it is ready. It says how many bytes its lines of responses.csv are, is told
where in the file they belong, and writes them there: so two processes write one file in the order of the records.
"""

from __future__ import annotations

import gc
import signal
from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from itertools import islice
from multiprocessing import get_context
from multiprocessing.connection import Connection, wait
from pathlib import Path
from traceback import format_exc
from typing import Any, NamedTuple

from pipeline.audit.audit import audited
from pipeline.audit.columns import blank
from pipeline.audit.sources import Sources
from pipeline.audit.tally import Tallied, tallied
from pipeline.files.audit_form import ID, Form
from pipeline.files.audit_records import Piece, columns
from pipeline.files.audit_responses import Lines, lines_of, size_of, write_lines
from pipeline.files.audit_sources import audit_sources

PROCESSES = 2
ENDED = "a process of the audit has ended before its time"


class Task(NamedTuple):
    """What every process must know: how the table is written, the day, and the file of responses, if there is one."""

    form: Form
    today: date
    responses: Path | None


class Fault(NamedTuple):
    """What went wrong in a process, in words, and where."""

    words: str
    trace: str


@dataclass
class Sum:
    """What was said so far, and where the next lines of the file of responses begin."""

    offset: int
    said: Tallied = field(default_factory=Tallied)

    def place(self, said: Tallied, size: int) -> int:
        """Takes a piece's counts and gives its lines their place."""
        self.said.add(said)
        self.offset += size
        return self.offset - size


def said_of(pieces: Iterator[Piece], task: Task, offset: int) -> Tallied:
    """What the tests said of all pieces; lines of responses, if they are wanted, stand from this byte on."""
    so_far = Sum(offset)
    first = deque(islice(pieces, 2))
    if len(first) > 1:
        _apart(_and_then(first, pieces), task, so_far)
    elif first:
        said, lines = _answered(first[0], task, audit_sources(task.today))
        _write(lines, task, so_far.place(said, size_of(lines) if lines else 0))
    return so_far.said


def _and_then(first: deque[Piece], others: Iterator[Piece]) -> Iterator[Piece]:
    while first:
        yield first.popleft()  # so that nobody holds it when it is done
    yield from others


def _answered(piece: Piece, task: Task, sources: Sources) -> tuple[Tallied, Lines | None]:
    known, records = columns(piece.table, task.form), piece.table.num_rows
    answers = audited(known, records, sources)
    said = tallied(answers, known, piece.first, records)
    said.uneven = piece.uneven
    return said, lines_of(answers, known.get(ID) or blank(records), piece.first) if task.responses else None


def _write(lines: Lines | None, task: Task, offset: int) -> None:
    if lines and task.responses:
        write_lines(lines, task.responses, offset)


def _apart(pieces: Iterator[Piece], task: Task, so_far: Sum) -> None:
    spawn = get_context("spawn")  # the only way that every system knows
    processes, pipes = [], []
    try:
        for _ in range(PROCESSES):
            ours, theirs = spawn.Pipe()
            process = spawn.Process(target=_work, args=(theirs, task), daemon=True)
            process.start()
            theirs.close()  # else the end of the process would not show as the end of the pipe
            processes.append(process)
            pipes.append(ours)
        _hand_out(pieces, pipes, so_far)
        for process in processes:
            process.join()
    finally:
        for process in processes:
            process.kill()
            process.join()


def _hand_out(pieces: Iterator[Piece], pipes: list[Any], so_far: Sum) -> None:
    """Gives each process that is ready the next piece, and each that has answered in its turn a place for its lines."""
    numbers: dict[Any, int] = {}  # of the piece that a process is at
    answers: dict[int, tuple[Any, tuple[Tallied, int]]] = {}
    handed, placed = 0, 0
    following = next(pieces, None)
    while pipes:
        ready: list[Any] = wait(pipes)
        for pipe in ready:
            message = _heard(pipe)
            if message is not None:
                answers[numbers[pipe]] = pipe, message
            elif following is None:
                _tell(pipe, None)
                pipes.remove(pipe)
            else:
                numbers[pipe] = handed
                _tell(pipe, following)
                handed += 1
                following = next(pieces, None)  # read while the processes are at work
        while placed in answers:
            pipe, (said, size) = answers.pop(placed)
            _tell(pipe, so_far.place(said, size))
            placed += 1


def _tell(pipe: Any, what: Piece | int | None) -> None:
    try:
        pipe.send(what)
    except OSError as fault:
        raise RuntimeError(ENDED) from fault


def _heard(pipe: Any) -> tuple[Tallied, int] | None:
    """A piece's counts and the size of its lines; None from a process that is ready for the next piece."""
    try:
        message = pipe.recv()
    except (EOFError, OSError) as fault:
        raise RuntimeError(ENDED) from fault
    if isinstance(message, OSError):
        raise message
    if isinstance(message, Fault):
        ours = RuntimeError(message.words)
        ours.add_note(message.trace)  # shown where --debug asks for it
        raise ours
    answer: tuple[Tallied, int] | None = message
    return answer


def _work(pipe: Connection, task: Task) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # an interruption is for the process that started us
    try:
        _answer(pipe, task)
    except (EOFError, BrokenPipeError, ConnectionResetError):
        return  # nobody listens any more
    except OSError as fault:
        pipe.send(fault)
    except Exception as fault:
        pipe.send(Fault(f"{type(fault).__name__}: {fault}", format_exc()))


def _answer(pipe: Connection, task: Task) -> None:
    sources = audit_sources(task.today)
    gc.disable()  # a piece makes millions of small things without a circle among them
    pipe.send(None)
    while piece := pipe.recv():
        said, lines = _answered(piece, task, sources)
        pipe.send((said, size_of(lines) if lines else 0))
        _write(lines, task, pipe.recv())
        del said, lines  # else two pieces would be held at a time
        pipe.send(None)
