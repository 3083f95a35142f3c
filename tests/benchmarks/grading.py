"""A class graded with feedback in one go, against stock nbgrader that starts a kernel and runs the same lab's cells."""

from __future__ import annotations

import os
import shutil
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from benchmarks.timing import Row
from courses import LAB, handed_in, job_of, key_for, made, nbgrader

from solvers.classroom.grading import grade
from solvers.jobs.bench import Bench
from solvers.jobs.job import JobError
from solvers.jobs.sheet import written

__all__ = ["graded"]

GOAL_S = 15.0
GOAL_OF = 300
"""So many submissions with feedback are to be graded in so many seconds."""

STOCK = "c = get_config()\nc.CourseDirectory.course_id = 'call-for-heat'\n"


def graded(count: int = GOAL_OF, stock: int = 8) -> Iterator[Row]:
    """A class that worked a lab in some twelve lines each: graded for the first time, and again with what is known kept.

    Seconds are by the clock, since both ways start processes. Every learner has another job; a learner's lab file, which
    costs its opening besides, is not made here.
    """
    names = [f"learner{number}" for number in range(count)]
    with tempfile.TemporaryDirectory() as folder:
        course = made(Path(folder) / "course", key_for(names))
        for name in names:
            handed_in(course, name, _worked(name))
        theirs = _stock(shutil.copytree(course, Path(folder) / "stock"), names, stock)
        for what in ("for the first time", "with what is known of its job kept"):
            start = time.perf_counter()
            report = grade(course, LAB)
            spent = time.perf_counter() - start
            problems = [row.result.problem for row in report.rows if row.result.problem or not row.score]
            if problems or len(report.rows) != count:
                raise AssertionError(f"{len(report.rows)} of {count} graded, of them not as they should be: {problems[:3]}")
            yield Row(
                f"one of {count} submissions graded {what}",
                spent / count,
                f"stock nbgrader runs its cells ({stock} of them)",
                theirs,
                ratio_goal=100.0,
                seconds_goal=GOAL_S / GOAL_OF,
                note=f"by the clock, {os.cpu_count()} cores: {spent:.1f} s for {count} with feedback",
            )


def _worked(name: str) -> str:
    """A sheet of somebody who turns up every zone, waits, reads around the zone complained of, and claims the first suspect."""
    job = job_of(name)
    bench, zone = Bench(job, name), job.zone
    acts = [{"do": "call", "stat": f"{one}.stat", "on": True} for one in job.design.zones]
    acts += [{"do": "wait", "seconds": 300}, {"do": "feel", "part": f"{zone}.valve"}, {"do": "listen", "part": f"{zone}.valve"}]
    for first, second in (("transformer.R", "transformer.C"), (f"{zone}.stat.R", f"{zone}.stat.W")):
        acts.append({"do": "measure", "function": "volts", "first": first, "second": second})
    first, second = job.design.part(f"{zone}.valve").terminals[:2]
    acts.append({"do": "measure", "function": "volts", "first": first, "second": second})
    acts += [{"do": "clamp", "wire": f"{zone}.W leg", "turns": 1}, {"do": "wait", "seconds": 300}]
    acts += [{"do": "call", "stat": f"{one}.stat", "on": False} for one in job.design.zones]
    for act in acts:
        try:
            bench.step(act)
        except JobError:  # not every house has each of these points
            continue
    claim = job.suspects[0].id
    bench.step({"do": "verdict", "suspects": [claim], "proof": [0, 1], "explanation": "As read.", "customer": ""})
    return written(bench.sheet())


def _stock(course: Path, names: list[str], count: int) -> float:
    """Seconds that each further submission costs stock nbgrader with its own settings."""
    (course / "nbgrader_config.py").write_text(STOCK)
    shutil.move(course / "submitted", course / "everybody")
    spans = []
    for several in (names[:1], names[1 : 1 + count]):
        shutil.rmtree(course / "submitted", ignore_errors=True)
        for name in several:
            shutil.copytree(course / "everybody" / name, course / "submitted" / name)
        start = time.perf_counter()
        nbgrader(course, "autograde", LAB)
        spans.append(time.perf_counter() - start)
    return max(0.0, spans[1] - spans[0]) / max(1, len(names[1 : 1 + count]) - 1)
