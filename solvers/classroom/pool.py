"""Marking a class's submissions in several processes; what one process would give, in the same order."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, field
from pathlib import Path

from ..jobs.foretold import Foretold, foretold
from ..jobs.question_set import QuestionSheet
from ..jobs.questions import Question
from ..jobs.sheet import Sheet
from .keys import Key, job_held, questions_held
from .scoring import Result, scored, unmarked
from .seeds import learner_id
from .submissions import Submission, submission

__all__ = ["Held", "Marked", "marked"]

FEWEST = 8
"""Submissions from which on further processes save more than they cost."""


@dataclass(frozen=True, slots=True)
class Marked:
    """One submission, its result, and what was worked out for it: of its job where that had not been kept, its questions."""

    handed_in: Submission
    result: Result
    fresh: Foretold | None = None
    asked: tuple[Question, ...] | None = None


@dataclass(frozen=True, slots=True)
class Held:
    """What a process that marks has to know; told once when it starts."""

    key: Key
    course: Path
    blank: str = ""  # what the explanation cell holds before anybody writes in it
    known: Mapping[str, Foretold] = field(default_factory=dict)  # by learner


_HELD: list[Held] = []
"""In a process of the pool, the one that it was told."""


def marked(folders: Sequence[Path], held: Held, workers: int | None = None) -> Iterator[Marked]:
    """Every submission with its result, in the order of the folders; nothing a learner hands in stops it.

    A submission that ends its process (or eats all its memory) is given to a process of its own, and where it ends that
    one too, scores 0 and is left to a person.
    """
    count = min(workers or os.cpu_count() or 1, len(folders))
    if count <= 1 or (workers is None and len(folders) < FEWEST):
        for folder in folders:
            yield _one(folder, held)
        return
    with _pool(count, held) as pool:
        waiting = [pool.submit(_task, folder) for folder in folders]
        for folder, one in zip(folders, waiting, strict=True):
            yield _kept(one) or _apart(folder, held)


def _pool(count: int, held: Held) -> ProcessPoolExecutor:
    return ProcessPoolExecutor(count, initializer=_begin, initargs=(held,))


def _begin(held: Held) -> None:
    _HELD[:] = [held]


def _task(folder: Path) -> Marked:
    return _one(folder, _HELD[0])


def _one(folder: Path, held: Held) -> Marked:
    handed_in = submission(folder, held.key, blank=held.blank)
    if isinstance(handed_in.sheet, QuestionSheet):
        result = scored(handed_in, held.key, held.course)
        return Marked(handed_in, result, asked=None if result.problem else questions_held(held.key, handed_in.learner))
    if not isinstance(handed_in.sheet, Sheet):
        return Marked(handed_in, scored(handed_in, held.key, held.course))
    known = held.known.get(learner_id(handed_in.learner))
    fresh = _foretold(held.key, handed_in.learner) if known is None else None
    return Marked(handed_in, scored(handed_in, held.key, held.course, known or fresh), fresh)


def _foretold(key: Key, learner: str) -> Foretold | None:
    try:
        return foretold(job_held(key, learner))
    except ValueError:  # why, the marking says
        return None


def _kept(one: Future[Marked]) -> Marked | None:
    try:
        return one.result()
    except BrokenProcessPool:
        return None


def _apart(folder: Path, held: Held) -> Marked:
    """One submission in a process of its own."""
    with _pool(1, held) as pool:
        found = _kept(pool.submit(_task, folder))
    if found is not None:
        return found
    problem = "Marking this sheet ended the process that marked it; it needs a person to look at it."
    lost = Submission(folder.parent.name, None, problem)
    return Marked(lost, unmarked(lost, held.key))
