"""The graded labs by name, the job each of them draws, and what is marked in it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ..chapters.shelf import drawn
from ..jobs.job import Job
from .errors import NoSuchAssignment
from .seeds import seed_of

__all__ = ["CRITERIA", "EXPLANATION", "LABS", "Criterion", "Lab", "job_for", "lab_named"]


@dataclass(frozen=True, slots=True)
class Lab:
    """One graded lab: every learner gets a job of this chapter and level."""

    assignment: str
    chapter: str
    level: int


@dataclass(frozen=True, slots=True)
class Criterion:
    """One thing that is marked: the cell that carries it, its name in the marks, and its points."""

    grade_id: str
    name: str
    out_of: float


LABS: Mapping[str, Lab] = {lab.assignment: lab for lab in (Lab("03-heater-loops", "heater-loops", 1),)}

EXPLANATION = "explanation"
"""The one cell whose points a person gives."""

CRITERIA = (
    Criterion("safety", "safety", 20),
    Criterion("method", "method", 20),
    Criterion("economy", "economy", 10),
    Criterion("verdict", "verdict", 20),
    Criterion("good_parts", "good parts kept", 10),
    Criterion("restored", "restored", 10),
    Criterion(EXPLANATION, "explanation", 10),
)


def lab_named(assignment: str) -> Lab:
    """The lab of that name; raises NoSuchAssignment with the names there are."""
    if assignment not in LABS:
        raise NoSuchAssignment(f"no assignment {assignment!r}; there are {list(LABS)}")
    return LABS[assignment]


def job_for(assignment: str, learner: str) -> Job:
    """The job that one learner has in a lab; raises NoSuchAssignment or BadLearner."""
    lab = lab_named(assignment)
    return drawn(lab.chapter, seed_of(assignment, learner), lab.level)
