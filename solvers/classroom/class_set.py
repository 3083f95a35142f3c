"""The labs of a class: each drawn from its learner's secret seed, all as hard as one another, no two the same."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, fields, replace
from functools import partial

from ..chapters.drawing import candidate, proved
from ..chapters.shelf import ENDLESS
from ..faults.fault import Fault
from ..jobs.foretold import Foretold, foretold
from ..jobs.graded import NotSealable
from ..jobs.job import Job, JobError
from ..jobs.question_set import QuestionSet, asked_of
from ..jobs.question_set import written as questions_written
from ..jobs.wireup import WireUp
from ..jobs.wiring_task import WiringTask
from ..jobs.wiring_task import written as task_written
from ..plant.parts import Transformer, Valve
from .errors import ClassroomError
from .keys import Held, Key, draw_held, job_held, questions_held, task_held
from .seeds import seed_of

__all__ = ["ALIKE_WITHIN", "CannotDraw", "Drawn", "Likeness", "class_set", "likeness", "neighbours", "sealed_lab", "too_like"]

ALIKE_WITHIN = 0.5
"""How far a lab's difficulty may lie from the middle of its class; common practice, no source."""

STRICT_TRIES = 150
"""Draws after which a learner may have a fault that another has, with another house; that class is larger than the variety."""

MOST_TRIES = 400

Progress = Callable[[int, int, str], None]


class CannotDraw(ClassroomError):
    """No lab for a learner that is as hard as the others and differs from them."""


@dataclass(frozen=True, slots=True)
class Likeness:
    """What is compared between two learners' labs: the fault's row, zone and branch, and what is built."""

    row: str
    zone: str
    branch: str
    built: object

    def apart(self, other: Likeness) -> int:
        """In how many of row, zone and branch two labs differ."""
        return (self.row != other.row) + (self.zone != other.zone) + (self.branch != other.branch)


@dataclass(frozen=True, slots=True)
class Drawn:
    """A class's new labs, and how many draws they took."""

    held: Mapping[str, Held]  # by learner
    files: Mapping[str, bytes]  # what each is handed out
    known: Mapping[str, Foretold]  # of each job, what marking will ask of it
    tries: int


@dataclass(frozen=True, slots=True)
class _Proof:
    """A draw that can be solved, and what marking will ask of it while that is still at hand."""

    held: Held
    known: Foretold | None = None


@dataclass(slots=True)
class _Seat:
    """One learner while the class is drawn."""

    learner: str
    seed: str
    tries: int = 0


def class_set(
    key: Key,
    seeds: Mapping[str, str],
    order: Sequence[str],
    *,
    workers: int = 1,
    progress: Progress | None = None,
) -> Drawn:
    """Draw a lab for each learner of `seeds`, beside those that the key holds already; the same for any number of workers.

    `order` is how the class sits. Draws go on in rounds: a draw that is not sealable, not as hard as the others, or too like
    another learner's gives way to the next. Raises CannotDraw where a learner's draws run out.
    """
    there = {learner: likeness(key, learner) for learner in key.held}
    middle = _middle([held.difficulty for held in key.held.values()])
    waiting = [_Seat(learner, seed) for learner, seed in seeds.items()]
    held: dict[str, Held] = {}
    files: dict[str, bytes] = {}
    known: dict[str, Foretold] = {}
    tries = 0
    with _mapping(workers) as mapped:
        while waiting:
            drawn = _round(key, waiting, there, order)
            proofs = dict(zip(drawn, mapped(partial(_proof, key), drawn.values()), strict=True))
            proofs = {learner: proof for learner, proof in proofs.items() if proof is not None}
            if middle is None and proofs:
                middle = _commonest([proof.held.difficulty for proof in proofs.values()])
            fitting = {one: proof for one, proof in proofs.items() if abs(proof.held.difficulty - middle) <= ALIKE_WITHIN}
            alone = [replace(key, held={one: proof.held}) for one, proof in fitting.items()]
            for one, data in zip(fitting, mapped(_sealed, alone), strict=True):
                if data is not None:
                    held[one], files[one] = fitting[one].held, data
                    if fitting[one].known is not None:
                        known[one] = fitting[one].known
                    there[one] = likeness(replace(key, held=held), one)
                    if progress is not None:
                        progress(len(held), len(seeds), one)
            tries += len(drawn)
            waiting = [seat for seat in waiting if seat.learner not in held]
    return Drawn({one: held[one] for one in seeds}, {one: files[one] for one in seeds}, known, tries)


def likeness(key: Key, learner: str) -> Likeness:
    """What one learner's lab is compared by; raises as `job_held` does."""
    if key.kind == "job":
        job = job_held(key, learner)
        return _of_job(job)
    if key.kind == "wire-up":
        # The tasks that have an id are the same for all; what differs is which lead is which.
        task = task_held(key, learner)
        return Likeness("", "", "", (task.parts, draw_held(key, learner)))
    return Likeness("", "", "", tuple(asked_of(question) for question in questions_held(key, learner)))


def too_like(kind: str, one: Likeness, other: Likeness, *, beside: bool, strict: bool = True) -> bool:
    """Whether two learners' labs are too much alike; those who sit beside each other have to differ more."""
    if one.built == other.built:
        return True
    if kind != "job":
        return False
    return one.apart(other) < (2 if beside else 1 if strict else 0)


def neighbours(order: Sequence[str], learner: str) -> tuple[str, ...]:
    """Who sits beside a learner: before and after them in the roster."""
    if learner not in order:
        return ()
    at = order.index(learner)
    return tuple(order[place] for place in (at - 1, at + 1) if 0 <= place < len(order))


def sealed_lab(key: Key, learner: str) -> bytes:
    """The file that one learner is handed out; raises NotSealable for a job that cannot be sealed."""
    name = seed_of(key.assignment, learner)
    if key.kind == "job":
        from ..jobs.sealing import sealed  # numpy, which only whoever makes labs needs

        return sealed(job_held(key, learner), name=name, learner=learner)
    if key.kind == "wire-up":
        return task_written(WiringTask(learner, name, key.chapter, key.task, draw_held(key, learner))).encode()
    questions = tuple(asked_of(question) for question in questions_held(key, learner))
    return questions_written(QuestionSet(learner, name, key.chapter, key.level, key.title, questions)).encode()


def _round(
    key: Key, waiting: Sequence[_Seat], there: Mapping[str, Likeness], order: Sequence[str]
) -> dict[str, tuple[str, Held]]:
    """The next draw of each learner who has none yet that is not too like those that are there or proposed."""
    taken, found = dict(there), {}
    for seat in waiting:
        beside = neighbours(order, seat.learner)
        while True:
            if seat.tries == MOST_TRIES:
                raise CannotDraw(
                    f"{key.assignment}: no lab for {seat.learner} in {MOST_TRIES} draws that is within {ALIKE_WITHIN} of the "
                    f"class's difficulty, can be sealed and differs from the others; try another level, seed or a smaller class"
                )
            held = Held(seat.seed, seat.tries)
            seat.tries += 1
            like = _drawn(key, seat.learner, held)
            strict = seat.tries <= STRICT_TRIES
            if like and not any(
                too_like(key.kind, like, other, beside=one in beside, strict=strict) for one, other in taken.items()
            ):
                taken[seat.learner] = like
                found[seat.learner] = (seat.learner, held)
                break
    return found


def _drawn(key: Key, learner: str, held: Held) -> Likeness | None:
    """What a draw is compared by, before anything is proven of it; None for one that no class is given."""
    if key.kind == "job":
        job = candidate(ENDLESS[key.chapter].PLAN, held.seed, key.level, held.attempt)
        return _of_job(job) if job and len(job.faults) == 1 else None
    try:
        return likeness(replace(key, held={learner: held}), learner)
    except JobError:
        return None


def _proof(key: Key, drawn: tuple[str, Held]) -> _Proof | None:
    """The draw with its difficulty, and of a job the suspects that its readings part; None where it cannot be solved."""
    learner, held = drawn
    alone = replace(key, held={learner: held})
    if key.kind == "wire-up":
        return _Proof(replace(held, difficulty=_wiring_difficulty(task_held(alone, learner))))
    if key.kind == "questions":
        return _Proof(replace(held, difficulty=float(key.level)))
    job = candidate(ENDLESS[key.chapter].PLAN, held.seed, key.level, held.attempt)
    found = proved(job)
    if found is None:
        return None
    kept = tuple(suspect.id for suspect in found.suspects)
    return _Proof(replace(held, kept=kept, difficulty=found.difficulty), foretold(found))


def _sealed(alone: Key) -> bytes | None:
    (learner,) = alone.held
    try:
        return sealed_lab(alone, learner)
    except NotSealable:
        return None


def _of_job(job: Job) -> Likeness:
    fault = job.faults[0]
    return Likeness(fault.row, fault.zone, _branch(fault), job.design)


def _branch(fault: Fault) -> str:
    """Where a fault sits, whichever zone it is: its place in words, else the parts and conductors that it changes."""
    if fault.place:
        return fault.place
    names = [getattr(change, slot.name) for change in fault.changes for slot in fields(change)]
    touched = {name for name in names if isinstance(name, str)}
    return " ".join(sorted(name.removeprefix(f"{fault.zone}.") for name in touched))


def _wiring_difficulty(task: WireUp) -> float:
    """The index of a wire-up, after that of jobs: bits of where a wire can go, parallel paths, two sources."""
    index = math.log2(len(task.terminals))
    index += any(isinstance(part, Valve) and part.leads == 3 for part in task.parts)
    return round(index + (sum(isinstance(part, Transformer) for part in task.parts) > 1), 2)


def _commonest(difficulties: Sequence[float]) -> float:
    """The difficulty that most of the first draws lie near, so that the rest are soon found."""
    near = {one: sum(abs(one - other) <= ALIKE_WITHIN for other in difficulties) for one in sorted(difficulties)}
    return max(near, key=near.__getitem__)


def _middle(difficulties: Sequence[float]) -> float | None:
    return (min(difficulties) + max(difficulties)) / 2 if difficulties else None


@contextmanager
def _mapping(workers: int) -> Iterator[Callable[[Callable, Iterable], Iterable]]:
    """How to apply a function to many things: one after the other, or in so many processes."""
    if workers <= 1:
        yield map
        return
    pool = ProcessPoolExecutor(workers)
    try:
        yield pool.map
    finally:
        pool.shutdown(cancel_futures=True)
