"""How a class did in one assignment, as data and as the lines that a terminal shows."""

from __future__ import annotations

from dataclasses import dataclass

from .scoring import Result
from .words import plain

__all__ = ["ClassReport", "Row", "told"]


@dataclass(frozen=True, slots=True)
class Row:
    """One learner: what the machine gave, and what the gradebook now holds."""

    result: Result
    score: float  # with a person's points, late penalty taken off
    out_of: float
    penalty: float = 0.0  # for handing in late
    waiting: bool = False  # a person still has points to give


@dataclass(frozen=True, slots=True)
class ClassReport:
    """A graded class. `strangers` are sentences about folders that name no learner; they are in no gradebook."""

    assignment: str
    rows: tuple[Row, ...]
    strangers: tuple[str, ...] = ()

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
    problems = [f"  {row.result.learner}: {row.result.problem}" for row in report.rows if row.result.problem]
    talks = [f"  {row.result.learner}: {flag}" for row in report.rows for flag in row.result.flags]
    for title, found in (
        ("Not marked", problems),
        ("To talk about", talks),
        ("Not a learner", [f"  {one}" for one in report.strangers]),
    ):
        if found:
            lines += [f"{title}:", *(f"  {plain(line)}" for line in found)]
    return "\n".join(lines) + "\n"


def _beside(row: Row) -> str:
    told = [f"{row.penalty:g} off for handing in late"] if row.penalty else []
    told += ["waits for a person"] if row.waiting else []
    return f"   ({', '.join(told)})" if told else ""


def _count(number: int, thing: str) -> str:
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"
