"""From a submission to points and reasons, one line a criterion; no gradebook and no notebook here."""

from __future__ import annotations

import hashlib
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from ..jobs import question_set, wiring_marks
from ..jobs.foretold import Foretold
from ..jobs.job import Job, JobError
from ..jobs.marking import mark
from ..jobs.marks import MarkLine, Marks
from ..jobs.sealed import BadSealed, named, opened, unlike
from ..jobs.sheet import Entry, Sheet
from ..jobs.wiring_task import WireUpSheet
from .errors import ClassroomError
from .files import contents
from .keys import Key, draw_held, job_held, questions_held, task_held
from .labs import EXPLANATION, criteria_of, lab_file
from .submissions import Submission

__all__ = ["LARGEST_LAB", "Result", "Scored", "handed_out", "scored", "unmarked"]

LARGEST_LAB = 2_000_000  # bytes of a sealed job

Explained = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Result:
    """One learner's marks in an assignment."""

    learner: str
    kind: str  # one of labs.KINDS
    lines: tuple[MarkLine, ...]  # in the order of labs.criteria_of
    explanation: Explained = ()  # (where it was written, what)
    problem: str = ""  # why nothing could be marked, in one sentence
    review: bool = False  # a person has to look at it
    flags: tuple[str, ...] = ()  # for a talk with the learner
    notes: tuple[str, ...] = ()  # for whoever keeps the course
    tried: tuple[str, ...] = ()  # objectives that the work is about
    shown: tuple[str, ...] = ()  # those that it shows
    said: tuple[str, ...] = ()  # what a good instructor would say, in that order

    @property
    def points(self) -> float:
        """The machine's points."""
        return sum(line.points or 0.0 for line in self.lines)

    def line(self, grade_id: str) -> MarkLine | None:
        """The line that a grade cell carries; None for a cell that nothing is marked in."""
        for criterion, line in zip(criteria_of(self.kind), self.lines, strict=True):
            if criterion.grade_id == grade_id:
                return line
        return None


@dataclass(frozen=True, slots=True)
class Scored:
    """What the marking of one kind of lab gives."""

    lines: tuple[MarkLine, ...]
    flags: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    tried: tuple[str, ...] = ()
    shown: tuple[str, ...] = ()
    said: tuple[str, ...] = ()


def scored(handed_in: Submission, key: Key, course: Path, known: Foretold | None = None) -> Result:
    """Mark one submission. What cannot be marked scores 0 with the reason, and never raises.

    `known` is what was kept of the learner's job; it saves the time to work it out.
    """
    explanation = _explanation(handed_in)
    if handed_in.sheet is None:
        return unmarked(handed_in, key)
    try:
        marks = _marked(handed_in, key, course, known)
        lines = tuple(_sound(line) for line in marks.lines)
        if [line.criterion for line in lines] != [criterion.name for criterion in criteria_of(key.kind)]:
            raise ValueError("the marks have other criteria than the lab")
    except ClassroomError as problem:
        return _nothing(handed_in, key, f"{problem}.", explanation, review=True)
    except Exception as problem:  # one sheet must never stop a class; the reason goes into the report
        sentence = f"This sheet needs a person to look at it ({type(problem).__name__}: {problem})."
        return _nothing(handed_in, key, sentence, explanation, review=True)
    if not explanation:
        lines = tuple(_unwritten(line) for line in lines)
    return Result(
        handed_in.learner,
        key.kind,
        lines,
        explanation,
        flags=marks.flags,
        notes=marks.notes,
        tried=marks.tried,
        shown=marks.shown,
        said=marks.said,
    )


def unmarked(handed_in: Submission, key: Key) -> Result:
    """The result of a submission without a sheet that can be marked."""
    return _nothing(handed_in, key, handed_in.problem, _explanation(handed_in), review=handed_in.handed_in)


def handed_out(course: Path, key: Key, learner: str) -> bytes | None:
    """A learner's lab file; None where it is missing, or is not the one that the key has the digest of."""
    try:
        data = contents(lab_file(course, key.assignment, key.kind, learner), LARGEST_LAB)
        digest = key.of(learner).digest
    except (ClassroomError, OSError):
        return None
    return data if hashlib.sha256(data).hexdigest() == digest else None


def _marked(handed_in: Submission, key: Key, course: Path, known: Foretold | None) -> Scored:
    sheet, learner = handed_in.sheet, handed_in.learner
    if isinstance(sheet, Sheet):
        return _of_job(sheet, key, learner, course, known)
    if isinstance(sheet, WireUpSheet):
        return _of_wiring(sheet, key, learner)
    asked = questions_held(key, learner)
    line = question_set.marked(asked, sheet.answers)
    shares = [question_set.marked([one], {1: sheet.answers.get(number)}).points for number, one in enumerate(asked, 1)]
    shown = [one.objective for one, points in zip(asked, shares, strict=True) if points == question_set.OUT_OF]
    return Scored((line, _for_a_person(sheet.explanation)), tried=_once(one.objective for one in asked), shown=_once(shown))


def _of_job(sheet: Sheet, key: Key, learner: str, course: Path, known: Foretold | None) -> Scored:
    job = job_held(key, learner)
    unseen, notes = _unlike(handed_out(course, key, learner), sheet.log)
    marks = mark(job, _by_id(sheet, job), unlike=unseen, known=known)
    return Scored(_capped(marks), marks.flags, notes, job.objectives, marks.objectives, marks.feedback)


def _capped(marks: Marks) -> tuple[MarkLine, ...]:
    """The lines as a gradebook adds them up: past a safety gate each is cut by the same share, so that the cap holds."""
    total = sum(line.points or 0.0 for line in marks.lines)
    if total <= marks.points:
        return marks.lines
    share, words = marks.points / total, f"Cut to {marks.cap:g} points in all, past the safety gate."
    return tuple(
        replace(line, points=math.floor(10 * line.points * share) / 10, reasons=(*line.reasons, words)) if line.points else line
        for line in marks.lines
    )


def _by_id(sheet: Sheet, job: Job) -> Sheet:
    """The sheet with its suspects' ids, which a lab file gives numbers; one that names none of them stays as it is."""
    try:
        return named(sheet, job)
    except JobError:
        return sheet


def _unlike(lab: bytes | None, log: Sequence[Entry]) -> tuple[tuple[str, ...] | None, tuple[str, ...]]:
    """Where a log is not what the lab file shows; None, and a note, where there is no lab file to hold it against."""
    if lab is not None:
        try:
            return unlike(opened(lab), log), ()
        except BadSealed:
            lab = None
    return None, ("The lab file is missing or is not the one that was handed out: the log was gone through on the job itself.",)


def _of_wiring(sheet: WireUpSheet, key: Key, learner: str) -> Scored:
    task = task_held(key, learner)
    draw = draw_held(key, learner)
    marks = wiring_marks.marked(task, sheet.wiring, sheet.answers, seed=draw, fuses_lost=sheet.kept.spent)
    return Scored((*marks.lines, _for_a_person(sheet.explanation)), said=marks.feedback)


def _for_a_person(explanation: str) -> MarkLine:
    count = len(explanation.split())
    words = f"{count} words of explanation." if count else "No explanation was written."
    return MarkLine(EXPLANATION, None, 10, (f"{words} A person gives these points.",))


def _once(names: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name for name in names if name))


def _nothing(handed_in: Submission, key: Key, problem: str, explanation: Explained, *, review: bool) -> Result:
    lines = tuple(MarkLine(criterion.name, 0.0, criterion.out_of, (problem,)) for criterion in criteria_of(key.kind))
    return Result(handed_in.learner, key.kind, lines, explanation, problem, review)


def _explanation(handed_in: Submission) -> Explained:
    sheet = handed_in.sheet
    if isinstance(sheet, Sheet):
        verdict = sheet.verdict
        written = [
            ("At the bench", "" if verdict is None else verdict.explanation),
            ("To the customer", "" if verdict is None else verdict.customer),
        ]
    else:
        written = [("On the sheet", "" if sheet is None else sheet.explanation)]
    return tuple((where, text) for where, text in (*written, ("In the notebook", handed_in.typed)) if text.strip())


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
