"""Checking an assignment before it is released: whole, solvable, as hard for everybody, no two the same, nothing given away."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Mapping
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial
from itertools import combinations
from pathlib import Path

from ..chapters.drawing import proved
from ..jobs import question_set, sealed, wiring_task
from ..jobs.job import JobError
from ..jobs.reference import par
from ..jobs.wiring_answer import BadWiring, Wiring
from .class_set import ALIKE_WITHIN, Likeness, likeness
from .errors import ClassroomError, Refused
from .files import contents
from .given_away import given_away
from .keys import Key, job_held, key_of, questions_held, task_held
from .labs import lab_file
from .seeds import seed_of
from .words import plain

__all__ = ["CheckedLab", "Report", "labs_checked", "told"]

LARGEST = 2_000_000  # bytes of a lab file
LARGEST_JOB = 500_000  # bytes of a sealed job, so that it goes through mail

Progress = Callable[[str, int, int, str], None]


@dataclass(frozen=True, slots=True)
class CheckedLab:
    """One learner's lab as it was found."""

    learner: str
    title: str
    zones: int  # 0 where a lab has none
    suspects: int  # offered, of a job; 0 else
    difficulty: float
    par: float  # readings of a job, minutes of a wire-up, questions of a set
    size: int  # bytes
    problems: tuple[str, ...]
    stale: str = ""  # how what was released before is not up to date


@dataclass(frozen=True, slots=True)
class Report:
    """An assignment as it was found; `problems` are those of no one learner."""

    assignment: str
    kind: str
    labs: tuple[CheckedLab, ...]
    problems: tuple[str, ...]

    @property
    def sound(self) -> bool:
        """Whether it can be released."""
        return not self.problems and not any(lab.problems for lab in self.labs)


def labs_checked(course: Path, assignment: str, *, workers: int = 1, progress: Progress | None = None) -> Report:
    """Hold every learner's lab of an assignment against its key, and search what learners get for what they must not.

    Raises NoSuchAssignment and BadKey; whatever is wrong with a lab is told in the report.
    """
    course = Path(course)
    key = key_of(course, assignment)
    labs = []
    for lab in _checked_all(course, key, workers):
        labs.append(lab)
        if progress is not None:
            progress(assignment, len(labs), len(key.held), lab.learner)
    problems = [] if labs else ["it has no learner"]
    problems += _uneven(labs) + _alike(key, [lab.learner for lab in labs if not lab.problems])
    if not (course / "source" / assignment / f"{assignment}.ipynb").is_file():
        problems.append(f"source/{assignment}/{assignment}.ipynb is missing; labs new writes it")
    return Report(assignment, key.kind, tuple(labs), (*problems, *given_away(course, key)))


def told(report: Report) -> str:
    """A table with a line for each learner, and below it what is wrong."""
    costs = {"job": "par", "wire-up": "minutes", "questions": "questions"}[report.kind]
    title, width = _widest("title", report), _widest("learner", report)
    lines = [
        f"{report.assignment}: {len(report.labs)} labs of kind {report.kind}",
        f"  {'learner':{width}}  {'title':{title}}  zones  suspects  difficulty  {costs:>9}      kB  verdict",
    ]
    for lab in report.labs:
        suspects = str(lab.suspects or "")
        verdict = "NOT SOUND" if lab.problems else "sound, but release is old" if lab.stale else "sound"
        lines.append(
            f"  {lab.learner:{width}}  {plain(lab.title):{title}}  {lab.zones or '':5}  {suspects:>8}  {lab.difficulty:10.2f}"
            f"  {lab.par:9.1f}  {lab.size / 1000:6.1f}  {verdict}"
        )
    lines += [f"  {lab.learner}: {plain(problem)}." for lab in report.labs for problem in lab.problems]
    lines += [f"  {plain(problem)}." for problem in report.problems]
    lines += [f"  {lab.learner}: {plain(lab.stale)}." for lab in report.labs if lab.stale]
    return "\n".join([*lines, "  All sound." if report.sound else "  Not to be released as it is."]) + "\n"


def _widest(what: str, report: Report) -> int:
    return max([len(what), *(len(plain(getattr(lab, what))) for lab in report.labs)])


def _checked_all(course: Path, key: Key, workers: int) -> Iterable[CheckedLab]:
    if workers <= 1:
        yield from map(partial(_checked, course, key), key.held)
        return
    with ProcessPoolExecutor(workers) as pool:
        yield from pool.map(partial(_checked, course, key), key.held)


def _checked(course: Path, key: Key, learner: str) -> CheckedLab:
    held, problems = key.held[learner], []
    path, data = lab_file(course, key.assignment, key.kind, learner), b""
    try:
        data = contents(path, LARGEST)
    except FileNotFoundError:
        problems.append(f"{path.name} is not there; labs new puts it back")
    except (Refused, OSError) as problem:
        problems.append(f"{path.name} cannot be read: {problem.strerror if isinstance(problem, OSError) else problem}")
    else:
        if hashlib.sha256(data).hexdigest() != held.digest:
            problems.append(f"{path.name} is not the file that was made; remove it, and labs new puts it back as it was")
    stale = "" if problems else _released(course, key, learner, data)
    title, zones, suspects, cost = key.title, 0, 0, 0.0
    try:
        title, zones, suspects, cost, found = _CHECKS[key.kind](key, learner, data)
        problems += found
    except (ClassroomError, JobError) as problem:
        problems.append(str(problem))
    return CheckedLab(learner, title, zones, suspects, held.difficulty, cost, len(data), tuple(problems), stale)


def _released(course: Path, key: Key, learner: str, data: bytes) -> str:
    """Where an assignment was generated before and this learner's file did not go along as it is: what to do."""
    there = lab_file(course, key.assignment, key.kind, learner, stage="release")
    if not there.parent.is_dir() or (there.is_file() and there.read_bytes() == data):
        return ""
    state = "another file" if there.exists() else "no file"
    return f"release has {state} for {learner}; run nbgrader generate_assignment --force {key.assignment}"


_Found = tuple[str, int, int, float, list[str]]


def _job_checked(key: Key, learner: str, data: bytes) -> _Found:
    job, problems = job_held(key, learner), []
    found = proved(job)
    if found is None or len(found.suspects) < len(job.suspects):
        problems.append("its readings do not part all of its suspects")
    elif abs(found.difficulty - key.held[learner].difficulty) > 1e-9:
        problems.append(f"its difficulty is {found.difficulty:g}, and the key says {key.held[learner].difficulty:g}")
    if data:
        there = sealed.opened(data)
        said = (f"{there.chapter}, level {there.level}", there.seed, there.learner, there.title)
        due = (f"{key.chapter}, level {key.level}", seed_of(key.assignment, learner), learner, job.title)
        problems += [f"its file is of {', '.join(said)}; it has to be of {', '.join(due)}"] if said != due else []
        problems += [f"its file has {len(data)} bytes, more than {LARGEST_JOB}"] if len(data) > LARGEST_JOB else []
    return job.title, len(job.design.zones), len(job.suspects), par(job), problems


def _task_checked(key: Key, learner: str, data: bytes) -> _Found:
    task, problems = task_held(key, learner), []
    try:
        task.made(task.found or Wiring())
    except BadWiring as problem:
        problems.append(str(problem))
    if data and wiring_task.opened(data).made != task:
        problems.append("its file makes another wire-up than the key")
    zones = sum(part.name.startswith("zone") and part.name.endswith(".valve") for part in task.parts)
    return task.title, zones, 0, float(task.minutes), problems


def _questions_checked(key: Key, learner: str, data: bytes) -> _Found:
    questions, problems = questions_held(key, learner), []
    if data:
        there = question_set.opened(data)
        if there.questions != tuple(question_set.asked_of(question) for question in questions):
            problems.append("its file asks other questions than the key")
        if question_set.written(there).encode() != data:
            problems.append("its file holds more than what is asked")
    line = question_set.marked(questions, {number: _right(one.expected) for number, one in enumerate(questions, 1)})
    if line.points != line.out_of:
        problems.append("its own answers do not get full points")
    return key.title, 0, 0, float(len(questions)), problems


_CHECKS: Mapping[str, Callable[[Key, str, bytes], _Found]] = {
    "job": _job_checked,
    "wire-up": _task_checked,
    "questions": _questions_checked,
}


def _right(expected: object) -> object:
    return list(expected) if isinstance(expected, tuple) else expected


def _uneven(labs: Iterable[CheckedLab]) -> list[str]:
    """Where the class is not within so much of its middle."""
    found = {lab.learner: lab.difficulty for lab in labs}
    if not found or max(found.values()) - min(found.values()) <= 2 * ALIKE_WITHIN + 1e-9:
        return []
    easiest, hardest = min(found, key=found.__getitem__), max(found, key=found.__getitem__)
    apart = f"{easiest} has {found[easiest]:g} and {hardest} {found[hardest]:g}"
    return [f"not equally hard: {apart}, more than {ALIKE_WITHIN:g} to either side of the middle"]


def _alike(key: Key, learners: Iterable[str]) -> list[str]:
    """Pairs who have the same lab."""
    like: dict[str, Likeness] = {learner: likeness(key, learner) for learner in learners}
    same = [(one, other) for one, other in combinations(like, 2) if like[one].built == like[other].built]
    return [f"{one} and {other} have the same lab" for one, other in same]
