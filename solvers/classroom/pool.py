"""Marking a class's submissions in several processes; what one process would give, in the same order."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from pathlib import Path

from .keys import Key
from .scoring import Result, scored, unmarked
from .submissions import Submission, submission

__all__ = ["marked"]

FEWEST = 8
"""Submissions from which on further processes save more than they cost."""

_HELD: list[tuple[Key, Path, str]] = []
"""In a process of the pool: the key, the course and the blank explanation, told once when it starts."""

Marked = tuple[Submission, Result]


def marked(folders: Sequence[Path], key: Key, course: Path, *, blank: str = "", workers: int | None = None) -> Iterator[Marked]:
    """Every submission with its result, in the order of the folders; nothing a learner hands in stops it.

    A submission that ends its process (or eats all its memory) is given to a process of its own, and where it ends that
    one too, scores 0 and is left to a person.
    """
    count = min(workers or os.cpu_count() or 1, len(folders))
    if count <= 1 or (workers is None and len(folders) < FEWEST):
        for folder in folders:
            yield _one(folder, key, course, blank)
        return
    with _pool(count, key, course, blank) as pool:
        waiting = [pool.submit(_task, folder) for folder in folders]
        for folder, one in zip(folders, waiting, strict=True):
            yield _kept(one) or _apart(folder, key, course, blank)


def _pool(count: int, key: Key, course: Path, blank: str) -> ProcessPoolExecutor:
    return ProcessPoolExecutor(count, initializer=_begin, initargs=(key, course, blank))


def _begin(key: Key, course: Path, blank: str) -> None:
    _HELD[:] = [(key, course, blank)]


def _task(folder: Path) -> Marked:
    return _one(folder, *_HELD[0])


def _one(folder: Path, key: Key, course: Path, blank: str) -> Marked:
    handed_in = submission(folder, key, blank=blank)
    return handed_in, scored(handed_in, key, course)


def _kept(one: Future[Marked]) -> Marked | None:
    try:
        return one.result()
    except BrokenProcessPool:
        return None


def _apart(folder: Path, key: Key, course: Path, blank: str) -> Marked:
    """One submission in a process of its own."""
    with _pool(1, key, course, blank) as pool:
        found = _kept(pool.submit(_task, folder))
    if found is not None:
        return found
    problem = "Marking this sheet ended the process that marked it; it needs a person to look at it."
    lost = Submission(folder.parent.name, None, problem)
    return lost, unmarked(lost, key)
