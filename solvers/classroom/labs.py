"""The kinds of graded lab: what is marked in each, what a plan for one may say, and where its files lie."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from ..chapters.quiz import KINDS as QUESTIONS
from ..chapters.shelf import ENDLESS
from ..jobs.job import JobError
from ..jobs.question_set import MOST_QUESTIONS
from ..jobs.wiring_task import task_named
from .errors import ClassroomError
from .seeds import learner_id

__all__ = ["EXPLANATION", "KINDS", "Criterion", "LabPlan", "criteria_of", "lab_file", "named", "planned"]

KINDS = ("job", "wire-up", "questions")
"""A sealed fault-finding job, a wire-up at the table, a set of questions."""

EXPLANATION = "explanation"
"""The one cell whose points a person gives."""

_ENDINGS = {"job": "job", "wire-up": "task", "questions": "questions"}
_NAME = re.compile(r"[a-z0-9][a-z0-9-]{0,63}")


@dataclass(frozen=True, slots=True)
class Criterion:
    """One thing that is marked: the cell that carries it, its name in the marks, and its points."""

    grade_id: str
    name: str
    out_of: float


@dataclass(frozen=True, slots=True)
class LabPlan:
    """One lab as an instructor asks for it."""

    assignment: str
    kind: str  # one of KINDS
    chapter: str
    level: int
    title: str = ""
    due: str = ""  # ISO time, or "" for none
    task: str = ""  # of a wire-up: its id, or "drawn:3"
    count: int = 0  # of questions


_EXPLAINED = Criterion(EXPLANATION, "explanation", 10)

_CRITERIA: Mapping[str, tuple[Criterion, ...]] = {
    "job": (
        Criterion("safety", "safety", 20),
        Criterion("method", "method", 20),
        Criterion("economy", "economy", 10),
        Criterion("verdict", "verdict", 20),
        Criterion("good_parts", "good parts kept", 10),
        Criterion("restored", "restored", 10),
        _EXPLAINED,
    ),
    "wire-up": (
        Criterion("behaviour", "behaviour", 50),
        Criterion("safety", "safety", 20),
        Criterion("before_power", "before power", 10),
        Criterion("labels", "labels", 10),
        Criterion("prediction", "prediction", 10),
        _EXPLAINED,
    ),
    "questions": (Criterion("answers", "answers", 90), _EXPLAINED),
}


def criteria_of(kind: str) -> tuple[Criterion, ...]:
    """What is marked in a lab of this kind, in order; raises ClassroomError with the kinds there are.

    A job and a set of questions have 100 points; a wire-up has the 100 of its own marks and 10 for the explanation.
    """
    if kind not in _CRITERIA:
        raise ClassroomError(f"no kind {kind!r}; there are {', '.join(KINDS)}")
    return _CRITERIA[kind]


def named(chapter: str, number: int = 1, name: str = "") -> str:
    """What a lab is called where nobody says otherwise: the chapter's number and name, and from the second on its own number.

    >>> named("heater-loops", 2)
    '03-heater-loops-2'
    """
    own = name or f"{list(ENDLESS).index(_chapter(chapter, 'chapter')) + 1:02}-{chapter}"
    return own if number == 1 else f"{own}-{number}"


def lab_file(course: Path, assignment: str, kind: str, learner: str, *, stage: str = "source") -> Path:
    """Where a learner's lab lies: in `source`, or in `release` once nbgrader has generated it. Raises BadLearner."""
    return Path(course) / stage / assignment / "labs" / f"{learner_id(learner)}.{_ENDINGS[kind]}.json"


def planned(
    assignment: object, kind: object, chapter: object, level: object, *, at: str = "", title: object = "", **more: object
) -> LabPlan:
    """A plan, each of its fields proven; raises ClassroomError with the path (`at` and the field) and the choices.

    `more` holds `due` (a time, as text or as a TOML time), `task` of a wire-up, `questions` of a set.
    """
    if not isinstance(assignment, str) or not _NAME.fullmatch(assignment):
        raise ClassroomError(f"{at}assignment is {assignment!r}; use 1 to 64 of a-z 0-9 - and begin with a letter or a figure")
    if kind not in KINDS:
        raise ClassroomError(f"{at}kind is {kind!r}; there are {', '.join(KINDS)}")
    chapter = _chapter(chapter, f"{at}chapter")
    levels = ENDLESS[chapter].LEVELS
    if isinstance(level, bool) or level not in levels:
        raise ClassroomError(f"{at}level is {level!r}; {chapter} has {', '.join(map(str, levels))}")
    if not isinstance(title, str) or len(title) > 120:
        raise ClassroomError(f"{at}title is {title!r}; give text of at most 120 characters")
    extra = {"task", "questions"} - {{"wire-up": "task", "questions": "questions"}.get(kind, "")}
    for name in sorted(extra):
        if more.get(name) not in (None, ""):
            raise ClassroomError(f"{at}{name} is {more[name]!r}; a lab of kind {kind!r} takes none")
    task = _task(more.get("task"), f"{at}task") if kind == "wire-up" else ""
    count = _count(more.get("questions"), f"{at}questions") if kind == "questions" else 0
    plan = LabPlan(assignment, kind, chapter, level, title, _due(more.get("due"), f"{at}due"), task, count)
    return plan if title else LabPlan(assignment, kind, chapter, level, _title(plan), plan.due, task, count)


def _chapter(chapter: object, path: str) -> str:
    if not isinstance(chapter, str) or chapter not in ENDLESS or chapter not in QUESTIONS:
        raise ClassroomError(f"{path} is {chapter!r}; there are {', '.join(ENDLESS)}")
    return chapter


def _task(task: object, path: str) -> str:
    try:
        task_named(task, "any")
    except JobError as problem:
        raise ClassroomError(f"{path}: {problem}") from None
    return task


def _count(count: object, path: str) -> int:
    if isinstance(count, bool) or not isinstance(count, int) or not 1 <= count <= MOST_QUESTIONS:
        raise ClassroomError(f"{path} is {count!r}; give 1 to {MOST_QUESTIONS}")
    return count


def _due(due: object, path: str) -> str:
    if due in (None, ""):
        return ""
    try:
        when = due if isinstance(due, datetime) else datetime.fromisoformat(due)
    except (TypeError, ValueError):
        shown = due.isoformat() if isinstance(due, date) else due
        raise ClassroomError(f"{path} is {shown!r}; give a day and a time, for instance 2027-01-15T18:00") from None
    return when.isoformat(timespec="minutes")


def _title(plan: LabPlan) -> str:
    chapter = plan.chapter.replace("-", " ")
    if plan.kind == "wire-up":
        drawn = plan.task.partition(":")[2]
        zones = f"{drawn} zone{'' if drawn == '1' else 's'} from a bag of parts"
        return f"Wire-up: {zones if drawn else task_named(plan.task).title}"
    return f"Questions on {chapter}" if plan.kind == "questions" else f"{chapter.capitalize()}, level {plan.level}"
