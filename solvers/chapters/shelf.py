"""The chapters by name, and the one way to draw a job of any of them."""

from __future__ import annotations

from collections.abc import Mapping
from types import ModuleType

from ..jobs.job import Job, JobError
from ..jobs.sheet import Sheet
from . import heater_loops

__all__ = ["CHAPTERS", "drawn", "job_of"]

CHAPTERS: Mapping[str, ModuleType] = {heater_loops.CHAPTER: heater_loops}


def drawn(chapter: str, seed: str, level: int = 1) -> Job:
    """The job of a chapter, level and seed; raises JobError with the choices."""
    if chapter not in CHAPTERS:
        raise JobError(f"no chapter {chapter!r}; there are {list(CHAPTERS)}")
    return CHAPTERS[chapter].draw(seed, level)


def job_of(sheet: Sheet) -> Job:
    """The job that a sheet says it belongs to; raises JobError with the choices."""
    return drawn(sheet.chapter, sheet.seed, sheet.level)
