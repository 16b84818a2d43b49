"""Does jobs in processes of their own, so that one that dies or hangs costs no other job anything.

A pool breaks as a whole when one of its processes dies, and cannot stop a task that hangs. Here
each process has a pipe of its own and answers job by job, so it is known which job it was at:
that one is tried once more if the process died, and given up if it hung or died again; the jobs
behind it go to another process. On Linux the system holds each process to a limit of memory.
"""

from __future__ import annotations

import os
import signal
import sys
import time
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from multiprocessing import get_context
from multiprocessing.connection import Connection, wait
from pathlib import Path
from typing import Any

from pipeline.files.limits import LARGEST_MEMORY

AHEAD = 4  # jobs handed to a process at a time, so that it never waits for the next
READY = -1  # what a process says before its first job


@dataclass
class Worker:
    """A process, the numbers of the jobs that it was given, and since when it is at the first of them."""

    process: Any  # multiprocessing's own type for it differs between systems
    pipe: Connection
    jobs: deque[int] = field(default_factory=deque)
    since: float = field(default_factory=time.monotonic)
    has_started: bool = False


def done_apart(
    do: Callable[..., object], jobs: Sequence[tuple[Any, ...]], processes: int, seconds: float
) -> Iterator[tuple[int, Any]]:
    """Yields each job's number and what `do(*job)` gave, as they get done.

    None stands for a job that raised, whose process died twice, or that took longer than `seconds`.
    """
    waiting = deque(range(len(jobs)))
    died_once: set[int] = set()
    workers: list[Worker] = []
    try:
        while waiting or workers:
            while waiting and len(workers) < processes:
                workers.append(_started(do))
                _hand_over(workers[-1], waiting, jobs)
            ready = _with_news(workers, seconds)
            for worker in list(workers):
                has_news = worker.pipe in ready
                answer = _heard(worker) if has_news else None
                if answer and answer[0] != READY:
                    yield answer
                if answer is None and (has_news or time.monotonic() - worker.since > seconds):
                    workers.remove(worker)
                    yield from _given_up(worker, waiting, died_once if has_news else None)
                    continue
                _hand_over(worker, waiting, jobs)
                if not worker.jobs:
                    workers.remove(worker)
                    _end(worker)
    finally:
        for worker in workers:
            _end(worker)


def _started(do: Callable[..., object]) -> Worker:
    spawn = get_context("spawn")  # the only way that every system knows, and free of inherited threads
    ours, theirs = spawn.Pipe()
    process = spawn.Process(target=_work, args=(do, theirs), daemon=True)
    process.start()
    theirs.close()  # else the end of the process would not show as the end of the pipe
    return Worker(process, ours)


def _work(do: Callable[..., object], pipe: Connection) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # an interruption is for the process that started us
    _hold_to_its_memory()
    _say_nothing()
    try:
        pipe.send((READY, None))
        while True:
            number, job = pipe.recv()
            try:
                result = do(*job)
            except Exception:
                result = None
            pipe.send((number, result))
    except (EOFError, BrokenPipeError, ConnectionResetError):
        return  # nobody listens any more


def _say_nothing() -> None:
    """A parser written in another language tells the terminal of its breakdown: nothing that a reader can use."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 2)
    os.close(nowhere)


def _hold_to_its_memory() -> None:
    """What needs more than its share ends this process, not the computer; elsewhere only the intake's limits do."""
    if sys.platform == "linux":
        import resource

        loaded = int(Path("/proc/self/statm").read_text().split()[0]) * resource.getpagesize()
        _, hard = resource.getrlimit(resource.RLIMIT_AS)
        most = loaded + LARGEST_MEMORY  # the libraries that are loaded already are not the file's
        resource.setrlimit(resource.RLIMIT_AS, (most if hard == resource.RLIM_INFINITY else min(most, hard), hard))


def _hand_over(worker: Worker, waiting: deque[int], jobs: Sequence[tuple[Any, ...]]) -> None:
    while waiting and len(worker.jobs) < AHEAD:
        if not worker.jobs:
            worker.since = time.monotonic()
        number = waiting.popleft()
        worker.jobs.append(number)
        try:
            worker.pipe.send((number, jobs[number]))
        except (BrokenPipeError, ConnectionResetError):
            return  # it has just died, which its pipe tells next


def _with_news(workers: list[Worker], seconds: float) -> set[Any]:
    patience = min(worker.since for worker in workers) + seconds - time.monotonic()
    return set(wait([worker.pipe for worker in workers], timeout=max(patience, 0.0) + 0.01))


def _heard(worker: Worker) -> tuple[int, Any] | None:
    """The next answer, None if the process is no more."""
    try:
        answer: tuple[int, Any] = worker.pipe.recv()
    except (EOFError, OSError):
        return None
    worker.since = time.monotonic()
    worker.has_started = True
    if answer[0] != READY:
        worker.jobs.popleft()
    return answer


def _given_up(worker: Worker, waiting: deque[int], died_once: set[int] | None) -> Iterator[tuple[int, Any]]:
    """Ends a process that died or hung (`died_once` is None); its other jobs wait for another one."""
    _end(worker)
    if not worker.has_started:
        raise RuntimeError("a process for reading files could not be started")
    number = worker.jobs.popleft()
    waiting.extendleft(reversed(worker.jobs))
    if died_once is None or number in died_once:
        yield number, None
    else:
        died_once.add(number)
        waiting.appendleft(number)


def _end(worker: Worker) -> None:
    worker.pipe.close()
    worker.process.kill()
    worker.process.join()
