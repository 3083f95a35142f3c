"""Chapter 4, end-switch circuits: its objectives and its endless jobs."""

from __future__ import annotations

from ..faults.catalogue import rows
from ..faults.end_switches import END_SWITCH_ROWS
from ..jobs.job import Job
from .drawing import Level, Plan, drawn_job

__all__ = ["CHAPTER", "LEVELS", "OBJECTIVES", "PLAN", "draw"]

CHAPTER = "end-switches"
OBJECTIVES = ("4.1", "4.2", "4.3", "4.4", "4.5", "4.6", "4.7")

_STATS = {"plain stat": 3.0, "battery stat": 2.0}
_SHAPES = {"three-wire relay": 3.0, "four-wire": 2.0, "three-wire direct": 1.0}

PLAN = Plan(
    chapter=CHAPTER,
    rows=END_SWITCH_ROWS,
    others=rows("HL-05", "HL-08", "HL-23", "HL-10", "TS-04"),
    levels={
        1: Level(_SHAPES, (2,), 9, _STATS, drawing="ladder"),
        2: Level(_SHAPES, (2, 3), 10, _STATS),
        3: Level(_SHAPES, (2, 3), 10, _STATS, intermittent=True, faults=(0.6, 0.3, 0.1)),
    },
)

LEVELS = tuple(PLAN.levels)


def draw(seed: str, level: int = 1) -> Job:
    """The job of a seed; see `drawn_job`."""
    return drawn_job(PLAN, seed, level)
