"""How a class did in one assignment, as data and as the lines that a terminal shows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from .copying import Alike
from .scoring import Result
from .words import plain, span

__all__ = ["ClassReport", "Given", "Row", "Standing", "told"]


@dataclass(frozen=True, slots=True)
class Given:
    """The points of one cell as the gradebook holds them: a person's where a person gave any."""

    notebook: str
    grade_id: str
    points: float | None  # None while a person still has to give them
    out_of: float
    comment: str = ""  # what a person wrote


@dataclass(frozen=True, slots=True)
class Row:
    """One learner: what the machine gave, and what the gradebook now holds."""

    result: Result
    score: float  # with a person's points, late penalty taken off
    out_of: float
    penalty: float = 0.0  # for handing in late
    waiting: bool = False  # a person still has points to give
    given: tuple[Given, ...] = ()
    late: float = 0.0  # s after the due time, with an extension where one was given


@dataclass(frozen=True, slots=True)
class Standing:
    """How one learner stands in one assignment, as the gradebook and the marked notebooks tell it."""

    learner: str
    assignment: str
    score: float  # late penalty taken off
    out_of: float
    penalty: float
    waiting: bool  # a person still has points to give
    at: datetime | None = None  # when it was handed in
    tried: tuple[str, ...] = ()  # objectives
    shown: tuple[str, ...] = ()
    late: float = 0.0  # s after the due time
    talk: tuple[str, ...] = ()  # for a talk with the learner


@dataclass(frozen=True, slots=True)
class ClassReport:
    """A graded class. `strangers` are sentences about folders that name no learner; they are in no gradebook."""

    assignment: str
    rows: tuple[Row, ...]
    strangers: tuple[str, ...] = ()
    copies: tuple[Alike, ...] = ()  # sheets that are too much alike, for a talk
    patterns: Mapping[str, str] = field(default_factory=dict)  # by learner: how the work began and where it paused

    def row(self, learner: str) -> Row:
        """The row of one learner; raises KeyError with the learners there are."""
        for row in self.rows:
            if row.result.learner == learner:
                return row
        raise KeyError(f"no learner {learner!r}; there are {[row.result.learner for row in self.rows]}")


def told(report: ClassReport) -> str:
    """The report as lines: a table, then one sentence for each thing that a person should look at."""
    width = max([7, *(len(row.result.learner) for row in report.rows)])
    lines = [f"{report.assignment}: {_count(len(report.rows), 'submission')}"]
    lines += [f"  {plain(row.result.learner):<{width}}  {row.score:6.1f} of {row.out_of:g}{_beside(row)}" for row in report.rows]
    rows = [row.result for row in report.rows]
    named = dict.fromkeys(learner for one in report.copies for learner in one.learners)
    beginnings = [f"  {learner}: {report.patterns[learner]}" for learner in named if report.patterns.get(learner)]
    for title, found in (
        ("Not marked", [f"  {one.learner}: {one.problem}" for one in rows if one.problem]),
        ("For a talk, no marks", [f"  {one.learner}: {flag}" for one in rows for flag in one.flags]),
        ("Much alike, for a talk, no marks", [f"  {one.words}" for one in report.copies]),
        ("How they began, and their pauses", beginnings),
        ("About the course", [f"  {one.learner}: {note}" for one in rows for note in one.notes]),
        ("Not a learner", [f"  {one}" for one in report.strangers]),
    ):
        if found:
            lines += [f"{title}:", *(f"  {plain(line)}" for line in found)]
    return "\n".join(lines) + "\n"


def _beside(row: Row) -> str:
    told = [f"late by {span(row.late)}"] if row.late else []
    told += [f"{row.penalty:g} off for it"] if row.penalty else []
    told += ["waits for a person"] if row.waiting else []
    return f"   ({', '.join(told)})" if told else ""


def _count(number: int, thing: str) -> str:
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"
