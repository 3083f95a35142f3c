"""Chapter 3, valve heater loops: its objectives and its endless jobs."""

from __future__ import annotations

from ..faults.catalogue import rows
from ..faults.heater_loops import HEATER_LOOP_ROWS
from ..jobs.job import Job
from .drawing import Level, Plan, drawn_job

__all__ = ["CHAPTER", "LEVELS", "OBJECTIVES", "PLAN", "draw"]

CHAPTER = "heater-loops"
OBJECTIVES = ("3.1", "3.2", "3.3", "3.4", "3.5", "3.6", "3.7", "3.8")

_PLAIN = {"plain stat": 1.0}
_MIXED = {"plain stat": 3.0, "battery stat": 2.0, "anticipator": 1.0}

PLAN = Plan(
    chapter=CHAPTER,
    rows=HEATER_LOOP_ROWS,
    others=rows("SP-06", "ES-24", "TS-03", "TS-04", "TS-08"),
    levels={
        1: Level({"three-wire direct": 2.0, "four-wire": 1.0}, (2,), 9, _PLAIN, drawing="ladder"),
        2: Level({"three-wire direct": 2.0, "four-wire": 2.0, "three-wire relay": 1.0}, (2, 3), 10, _MIXED),
        3: Level(
            {"three-wire direct": 2.0, "four-wire": 2.0, "three-wire relay": 1.0},
            (2, 3),
            10,
            _MIXED,
            intermittent=True,
            faults=(0.6, 0.3, 0.1),
        ),
    },
)

LEVELS = tuple(PLAN.levels)


def draw(seed: str, level: int = 1) -> Job:
    """The job of a seed; see `drawn_job`."""
    return drawn_job(PLAN, seed, level)
