"""The reference: what a test is worth while these suspects stand, the best next one, and par for a job."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from .information import information
from .job import Job
from .survey import READING_COST, Probe, Survey, split, survey

__all__ = ["Step", "Worth", "best", "par", "path", "ranked", "worth"]


@dataclass(frozen=True, slots=True)
class Worth:
    """One test: the bits it is expected to give while these suspects stand, and what it costs."""

    probe: Probe
    bits: float
    cost: float

    @property
    def value(self) -> float:
        """Bits for each reading that it counts."""
        return self.bits / self.cost


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the reference: the test, and the suspects that stood before and after it."""

    probe: Probe
    before: tuple[int, ...]
    after: tuple[int, ...]


def worth(found: Survey, probe: Probe, live: Sequence[int]) -> Worth:
    """What one test is worth while these suspects stand."""
    groups = [[found.weights[number] for number in group] for group in split(found, probe, live)]
    return Worth(probe, information(groups), probe.cost)


def ranked(found: Survey, live: Sequence[int]) -> tuple[Worth, ...]:
    """Every test of the round, the most telling for its cost first."""
    every = [worth(found, probe, live) for probe in found.outcomes]
    return tuple(sorted(every, key=lambda one: (-one.value, one.cost, one.probe.situation)))


def best(found: Survey, live: Sequence[int]) -> Worth | None:
    """The most telling test for its cost; None where none tells anything. Of tests that part alike one is weighed."""
    chosen = max(
        (worth(found, probe, live) for probe in found.kinds),
        key=lambda one: (one.value, -one.cost, -one.probe.situation),
        default=None,
    )
    return chosen if chosen and chosen.bits > 0 else None


def path(found: Survey, answer: str) -> tuple[Step, ...]:
    """The tests of the reference tree on the way to one suspect: at each step the best one."""
    goal = found.suspects.index(answer)
    live, steps = tuple(range(len(found.suspects))), []
    while len(live) > 1:
        chosen = best(found, live)
        if chosen is None:
            break
        left = next(group for group in split(found, chosen.probe, live) if goal in group)
        steps.append(Step(chosen.probe, live, left))
        live = left
    return tuple(steps)


def par(job: Job) -> float:
    """Readings that the reference needs: its path to each fault, and the proving readings that the paths still lack.

    Two faults are found one after the other, the second once the first is repaired; the cheaper order counts, of those in
    which the first can be told while the second is there.
    """
    if len(job.faults) == 1:
        return _cost(survey(job), job.answers[0])
    orders = [
        ((survey(job, first), job.answers[first]), (survey(job, second, alone=True), job.answers[second]))
        for first, second in ((0, 1), (1, 0))
    ]
    able = [order for order in orders if all(_tells(found, answer) for found, answer in order)]
    return min(sum(_cost(found, answer) for found, answer in order) for order in able or orders)


def _tells(found: Survey, answer: str) -> bool:
    """Whether the reference's path leaves this suspect alone."""
    steps = path(found, answer)
    return len(steps[-1].after if steps else found.suspects) == 1


def _cost(found: Survey, answer: str) -> float:
    steps = path(found, answer)
    proving = sum(len(step.after) < len(step.before) for step in steps)
    return sum(step.probe.cost for step in steps) + READING_COST * max(0, 2 - proving)
