"""Chapter 5, multi-zone service calls: its objectives and its endless jobs."""

from __future__ import annotations

from ..faults.catalogue import CATALOGUE
from ..jobs.job import Job
from .drawing import Level, Plan, drawn_job

__all__ = ["CHAPTER", "LEVELS", "OBJECTIVES", "PLAN", "draw"]

CHAPTER = "service-calls"
OBJECTIVES = ("5.1", "5.2", "5.3", "5.4", "5.5", "5.6")

_STATS = {"plain stat": 3.0, "battery stat": 2.0, "C-powered stat": 1.0}
_SHAPES = {
    "three-wire relay": 2.0,
    "four-wire": 2.0,
    "three-wire direct": 2.0,
    "two sources": 1.5,
    "shared return": 0.5,
    "priority": 0.5,
}

PLAN = Plan(
    chapter=CHAPTER,
    rows=tuple(CATALOGUE.values()),
    others=(),
    levels={
        1: Level(_SHAPES, (2, 3), 10, _STATS),
        2: Level(_SHAPES, (2, 3), 11, _STATS, faults=(0.6, 0.3, 0.1)),
        3: Level(_SHAPES, (3, 4), 12, _STATS, intermittent=True, faults=(0.6, 0.3, 0.1)),
    },
    leaning={"service-calls": 6.0},
)

LEVELS = tuple(PLAN.levels)


def draw(seed: str, level: int = 1) -> Job:
    """The job of a seed; see `drawn_job`."""
    return drawn_job(PLAN, seed, level)
