"""From a submission to points and reasons, one line a criterion; no gradebook and no notebook here."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..jobs.marking import mark
from ..jobs.marks import MarkLine
from .labs import CRITERIA, EXPLANATION, job_for
from .submissions import Submission

__all__ = ["Result", "scored"]


@dataclass(frozen=True, slots=True)
class Result:
    """One learner's marks in an assignment."""

    learner: str
    lines: tuple[MarkLine, ...]  # in the order of labs.CRITERIA
    explanation: tuple[tuple[str, str], ...] = ()  # (where it was written, what)
    problem: str = ""  # why nothing could be marked, in one sentence
    review: bool = False  # a person has to look at it
    flags: tuple[str, ...] = ()  # for a talk with the learner

    @property
    def points(self) -> float:
        """The machine's points."""
        return sum(line.points or 0.0 for line in self.lines)

    def line(self, grade_id: str) -> MarkLine | None:
        """The line that a grade cell carries; None for a cell that nothing is marked in."""
        for criterion, line in zip(CRITERIA, self.lines, strict=True):
            if criterion.grade_id == grade_id:
                return line
        return None


def scored(handed_in: Submission, assignment: str) -> Result:
    """Mark one submission. What cannot be marked scores 0 with the reason, and never raises."""
    explanation = _explanation(handed_in)
    if handed_in.sheet is None:
        return _nothing(handed_in, handed_in.problem, explanation, review=handed_in.handed_in)
    try:
        marks = mark(job_for(assignment, handed_in.learner), handed_in.sheet)
        lines = tuple(_sound(line) for line in marks.lines)
        if [line.criterion for line in lines] != [criterion.name for criterion in CRITERIA]:
            raise ValueError("the marks have other criteria than the lab")
    except Exception as problem:  # one sheet must never stop a class; the reason goes into the report
        sentence = f"This sheet needs a person to look at it ({type(problem).__name__}: {problem})."
        return _nothing(handed_in, sentence, explanation, review=True)
    if not explanation:
        lines = tuple(_unwritten(line) for line in lines)
    return Result(handed_in.learner, lines, explanation, flags=marks.flags)


def _nothing(handed_in: Submission, problem: str, explanation: tuple[tuple[str, str], ...], *, review: bool) -> Result:
    lines = tuple(MarkLine(criterion.name, 0.0, criterion.out_of, (problem,)) for criterion in CRITERIA)
    return Result(handed_in.learner, lines, explanation, problem, review)


def _explanation(handed_in: Submission) -> tuple[tuple[str, str], ...]:
    verdict = None if handed_in.sheet is None else handed_in.sheet.verdict
    written = [
        ("At the bench", "" if verdict is None else verdict.explanation),
        ("To the customer", "" if verdict is None else verdict.customer),
        ("In the notebook", handed_in.typed),
    ]
    return tuple((where, text) for where, text in written if text.strip())


def _unwritten(line: MarkLine) -> MarkLine:
    """An explanation that nobody wrote is worth nothing, and no person needs to say so."""
    if line.criterion != EXPLANATION:
        return line
    return MarkLine(line.criterion, 0.0, line.out_of, ("No explanation was written.",))


def _sound(line: MarkLine) -> MarkLine:
    """A line whose points a gradebook can hold; raises ValueError otherwise, since it would take NaN for full marks."""
    if line.points is None:
        return line
    if not math.isfinite(line.points) or not 0 <= line.points <= line.out_of:
        raise ValueError(f"{line.criterion} has {line.points!r} points of {line.out_of!r}")
    return line
