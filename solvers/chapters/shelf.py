"""The chapters by name, and the one way to draw a job of any of them."""

from __future__ import annotations

from collections.abc import Mapping
from types import ModuleType

from ..jobs.job import Job, JobError
from ..jobs.sheet import Sheet
from . import end_switches, heater_loops, service_calls, step_down_power, story_jobs, thermostat_switching

__all__ = ["CHAPTERS", "ENDLESS", "drawn", "job_of"]

ENDLESS: Mapping[str, ModuleType] = {
    module.CHAPTER: module for module in (step_down_power, thermostat_switching, heater_loops, end_switches, service_calls)
}
"""The chapters that draw a job for any seed."""

CHAPTERS: Mapping[str, ModuleType] = {**ENDLESS, story_jobs.CHAPTER: story_jobs}
"""Those, and the stories, whose seeds are their numbers."""


def drawn(chapter: str, seed: str, level: int = 1) -> Job:
    """The job of a chapter, level and seed; raises JobError with the choices."""
    if not isinstance(chapter, str) or chapter not in CHAPTERS:
        raise JobError(f"no chapter {chapter!r}; there are {list(CHAPTERS)}")
    return CHAPTERS[chapter].draw(seed, level)


def job_of(sheet: Sheet) -> Job:
    """The job that a sheet says it belongs to; raises JobError with the choices."""
    return drawn(sheet.chapter, sheet.seed, sheet.level)
