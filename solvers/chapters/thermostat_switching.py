"""Chapter 2, thermostat switching: its objectives and its endless jobs."""

from __future__ import annotations

from ..faults.catalogue import rows
from ..faults.thermostat_switching import THERMOSTAT_SWITCHING_ROWS
from ..jobs.job import Job
from .drawing import Level, Plan, drawn_job

__all__ = ["CHAPTER", "LEVELS", "OBJECTIVES", "PLAN", "draw"]

CHAPTER = "thermostat-switching"
OBJECTIVES = ("2.1", "2.2", "2.3", "2.4", "2.5", "2.6", "2.7", "5.6")

_STATS = {
    "plain stat": 2.0,
    "battery stat": 3.0,
    "C-powered stat": 3.0,
    "anticipator": 2.0,
    "power-stealing stat": 1.5,
    "two-supply stat": 1.0,
}
_SHAPES = {"four-wire": 2.0, "three-wire direct": 2.0, "three-wire relay": 1.0}

PLAN = Plan(
    chapter=CHAPTER,
    rows=THERMOSTAT_SWITCHING_ROWS,
    others=rows("HL-01", "HL-10", "HL-09", "SP-06", "HL-08", "HL-23"),
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
