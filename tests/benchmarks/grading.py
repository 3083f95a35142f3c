"""A class graded with feedback in one go, against stock nbgrader that starts a kernel and runs the same lab's cells."""

from __future__ import annotations

import hashlib
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path

from benchmarks.timing import Row
from courses import LAB, ROOT, SET, TABLE, handed_in, key_for, made, nbgrader

from solvers.chapters.drawing import candidate, proved
from solvers.chapters.shelf import ENDLESS
from solvers.classroom.demo_learners import answers_all, careful, wires_well
from solvers.classroom.foretelling import kept_with
from solvers.classroom.keys import Held, Key, draw_held, job_held, questions_held
from solvers.classroom.seeds import seed_of
from solvers.jobs.bench import Bench
from solvers.jobs.foretold import Foretold, foretold
from solvers.jobs.graded import NotSealable
from solvers.jobs.question_set import QuestionSet, asked_of
from solvers.jobs.question_set import sheet_written as answers_written
from solvers.jobs.sealed import opened, unlike
from solvers.jobs.sealing import sealed
from solvers.jobs.sheet import parsed, written
from solvers.jobs.wiring_task import WiringTask
from solvers.jobs.wiring_task import sheet_written as wiring_written

__all__ = ["graded"]

GOAL_S = 15.0
GOAL_OF = 300
"""So many submissions with feedback are to be graded in so many seconds."""

STOCK = "c = get_config()\nc.CourseDirectory.course_id = 'call-for-heat'\n"
SEALED = 6  # files that are sealed to see what opening one costs


@dataclass(frozen=True, slots=True)
class _Class:
    """One assignment as it was made, what everybody hands in, and what was kept of the jobs."""

    key: Key
    sheets: dict[str, str]
    known: dict[str, Foretold]


def graded(count: int = GOAL_OF, stock: int = 6) -> Iterator[Row]:
    """A class in each kind of lab: everybody works with care, and nobody has another's job, wiring or questions.

    Seconds are by the clock, since both ways start processes; other work on the machine makes both longer. What `labs new`
    keeps of each job is kept. The lab files of so many jobs are not sealed here; what opening one and holding the log
    against it costs is measured of a few, and added.
    """
    names = [f"learner{number:03}" for number in range(count)]
    cores = os.cpu_count() or 1
    classes = {"job": _jobs(names), "wire-up": _wirings(names), "questions": _questions(names)}
    opening = _opening(classes["job"], min(count, SEALED))
    with tempfile.TemporaryDirectory() as folder:
        course = made(Path(folder) / "course", *(one.key for one in classes.values()))
        for one in classes.values():
            kept_with(course, one.key, one.known)
            for name, sheet in one.sheets.items():
                handed_in(course, name, sheet, assignment=one.key.assignment)
        for kind, one in classes.items():
            stock_course = shutil.copytree(course, Path(folder) / f"stock {kind}")
            theirs = _stock(stock_course, one.key.assignment, names, stock)
            cpu, clock = _graded(course, one.key.assignment, count)
            more = opening if kind == "job" else 0.0
            seconds = clock / count + more / cores
            note = f"{count * seconds:.1f} s for all {count} with the start of the command"
            note += f"; CPU {1000 * (cpu / count + more):.0f} ms each"
            note += f", {1000 * more:.0f} ms of it to open the sealed file" if more else ""
            yield Row(
                f"One {kind} submission of {count} graded with feedback",
                seconds,
                f"stock nbgrader's autograde without feedback ({stock} of them)",
                theirs,
                ratio_goal=100.0,
                seconds_goal=GOAL_S / GOAL_OF,
                note=f"{note}; {cores} cores, load {os.getloadavg()[0]:.1f}",
            )


def _cpu() -> float:
    """CPU seconds so far, of this process and of those it started that have ended."""
    return sum(os.times()[:4])


def _graded(course: Path, assignment: str, count: int) -> tuple[float, float]:
    """CPU seconds of all processes, and seconds by the clock, of the command with its start."""
    begun, start = _cpu(), time.perf_counter()
    words = [sys.executable, "-m", "solvers", "grade", "--course", str(course), "--assignment", assignment]
    told = subprocess.run(words, cwd=ROOT, check=True, capture_output=True, text=True, timeout=1800).stdout
    spent = _cpu() - begun, time.perf_counter() - start
    if f"{count} submissions" not in told or "Not marked" in told or " 0.0 of" in told:
        raise AssertionError(f"not everybody of {count} was graded: {told[:1000]}")
    return spent


def _jobs(names: Sequence[str]) -> _Class:
    with ProcessPoolExecutor() as pool:
        found = dict(zip(names, pool.map(_worked, names), strict=True))
    key = replace(key_for(()), held={name: held for name, (held, _, _) in found.items()})
    return _Class(
        key, {name: sheet for name, (_, sheet, _) in found.items()}, {name: known for name, (_, _, known) in found.items()}
    )


def _worked(name: str) -> tuple[Held, str, Foretold]:
    """A proven job, the sheet of somebody who works it with care to the end, and what is foretold of it."""
    seed = hashlib.sha256(f"benchmark/{name}".encode()).hexdigest()
    plan = ENDLESS["heater-loops"].PLAN
    drawn = ((attempt, candidate(plan, seed, 1, attempt)) for attempt in range(400))
    attempt, job = next((attempt, sound) for attempt, job in drawn if job and (sound := proved(job)))
    job = replace(job, seed=seed_of(LAB, name))
    bench = careful(Bench(job, name), job)
    return Held(seed, attempt, tuple(one.id for one in job.suspects), job.difficulty), written(bench.sheet()), foretold(job)


def _wirings(names: Sequence[str]) -> _Class:
    key = _key(names, assignment=TABLE, kind="wire-up", task="W1")
    tasks = [WiringTask(name, seed_of(TABLE, name), key.chapter, key.task, draw_held(key, name)) for name in names]
    return _Class(key, {task.learner: wiring_written(wires_well(task)) for task in tasks}, {})


def _questions(names: Sequence[str]) -> _Class:
    key = _key(names, assignment=SET, kind="questions", count=6)
    sheets = {}
    for name in names:
        asked = questions_held(key, name)
        shown = QuestionSet(name, seed_of(SET, name), key.chapter, key.level, key.title, tuple(asked_of(one) for one in asked))
        sheets[name] = answers_written(answers_all(asked, shown))
    return _Class(key, sheets, {})


def _key(names: Sequence[str], **more: object) -> Key:
    held = {name: Held(hashlib.sha256(f"benchmark/{name}".encode()).hexdigest()) for name in names}
    return replace(key_for((), **more), held=held)


def _opening(jobs: _Class, most: int) -> float:
    """CPU seconds to open a sealed file and to go through a log on it: the median of some that can be sealed."""
    spans: list[float] = []
    names = list(jobs.sheets)[: most + 2]
    with ProcessPoolExecutor() as pool:
        files = list(pool.map(_sealed, (replace(jobs.key, held={name: jobs.key.held[name]}) for name in names)))
    for name, data in zip(names, files, strict=True):
        if data is not None and len(spans) < most:
            log = parsed(jobs.sheets[name]).log
            start = time.process_time()
            unlike(opened(data), log)
            spans.append(time.process_time() - start)
    return statistics.median(spans) if spans else 0.0


def _sealed(alone: Key) -> bytes | None:
    (name,) = alone.held
    try:
        return sealed(job_held(alone, name), name=seed_of(LAB, name), learner=name)
    except NotSealable:
        return None


def _stock(course: Path, assignment: str, names: Sequence[str], count: int) -> float:
    """Seconds that each further submission costs stock nbgrader with its own settings."""
    (course / "nbgrader_config.py").write_text(STOCK)
    shutil.move(course / "submitted", course / "everybody")
    spans = []
    for several in (names[:1], names[1 : 1 + count]):
        shutil.rmtree(course / "submitted", ignore_errors=True)
        for name in several:
            shutil.copytree(course / "everybody" / name, course / "submitted" / name)
        start = time.perf_counter()
        nbgrader(course, "autograde", assignment)
        spans.append(time.perf_counter() - start)
    return max(0.0, spans[1] - spans[0]) / max(1, len(names[1 : 1 + count]) - 1)
