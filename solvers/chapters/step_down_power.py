"""Chapter 1, step-down power: its objectives and its endless jobs."""

from __future__ import annotations

from ..faults.catalogue import rows
from ..faults.step_down_power import STEP_DOWN_POWER_ROWS
from ..jobs.job import Job
from .drawing import Level, Plan, drawn_job

__all__ = ["CHAPTER", "LEVELS", "OBJECTIVES", "PLAN", "draw"]

CHAPTER = "step-down-power"
OBJECTIVES = ("1.1", "1.2", "1.3", "1.4", "1.5", "1.6", "1.7")

_STATS = {"plain stat": 3.0, "battery stat": 1.0, "C-powered stat": 2.0}
_SHAPES = {"four-wire": 2.0, "three-wire direct": 1.0}

PLAN = Plan(
    chapter=CHAPTER,
    rows=STEP_DOWN_POWER_ROWS,
    others=rows("HL-02", "TS-13", "HL-03"),
    levels={
        1: Level(_SHAPES, (1, 2), 9, _STATS, drawing="ladder"),
        2: Level(_SHAPES, (2, 3), 10, _STATS),
        3: Level(_SHAPES, (2, 3), 10, _STATS, intermittent=True, faults=(0.6, 0.3, 0.1)),
    },
)

LEVELS = tuple(PLAN.levels)


def draw(seed: str, level: int = 1) -> Job:
    """The job of a seed; see `drawn_job`."""
    return drawn_job(PLAN, seed, level)
