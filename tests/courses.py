"""A course in a folder of its own with small keys made here, and the gradebook read back."""

import hashlib
import os
import shutil
import subprocess
import sys
from functools import cache
from pathlib import Path

from nbgrader.api import Gradebook

from solvers.chapters.drawing import MOST_ATTEMPTS, candidate, proved
from solvers.chapters.shelf import ENDLESS
from solvers.classroom.keys import Held, Key, job_held, key_path
from solvers.classroom.keys import written as key_written
from solvers.classroom.lab_notebooks import lab_notebook
from solvers.jobs.sheet import written

LAB = "03-heater-loops"
SET = "03-questions"
TABLE = "03-wiring"
ROOT = Path(__file__).resolve().parent.parent
MACHINE = ("safety", "method", "economy", "verdict", "good_parts", "restored")
LEARNERS = (
    *("anna", "ben", "carla", "dev", "coder", "double", "noise", "script", "linker", "thief", "copycat", "named", "two"),
    *("shadow", "retype", "points", "kim", "lea", "mo", "farid", "gita", "hal", "ira"),
)
SOUND = ("anna", "dev", "farid", "gita")
"""Whose jobs are proven solvable: those that somebody works with care."""


@cache
def held(learner):
    """What a key holds of one learner's job."""
    seed = hashlib.sha256(f"test/{learner}".encode()).hexdigest()
    for attempt in range(MOST_ATTEMPTS):
        job = candidate(ENDLESS["heater-loops"].PLAN, seed, 1, attempt)
        job = proved(job) if job and learner in SOUND else job
        if job:
            return Held(seed, attempt, tuple(one.id for one in job.suspects), job.difficulty)
    raise AssertionError(f"no job for {learner}")


def key_for(learners=LEARNERS, *, assignment=LAB, kind="job", **more):
    """A key of a lab of heater loops, with the same seeds for every kind."""
    return Key(assignment, kind, "heater-loops", 1, "A lab", held={one: held(one) for one in learners}, **more)


KEYS = {
    "job": key_for(),
    "questions": key_for(assignment=SET, kind="questions", count=4),
    "wire-up": key_for(assignment=TABLE, kind="wire-up", task="W1"),
}


def made(folder, *keys):
    """A course as an instructor first has it: source, keys, settings, and the assignments generated."""
    folder.mkdir(exist_ok=True)
    (folder / "keys").mkdir(mode=0o700)
    shutil.copy(ROOT / "exercises" / "nbgrader_config.py", folder)
    for key in keys or (KEYS["job"],):
        key_path(folder, key.assignment).write_text(key_written(key))
        (folder / "source" / key.assignment / "labs").mkdir(parents=True)
        (folder / "source" / key.assignment / f"{key.assignment}.ipynb").write_bytes(lab_notebook(key.plan))
        nbgrader(folder, "generate_assignment", key.assignment)
    return folder


def nbgrader(course, *words, fails=False):
    """Run stock nbgrader in a course; its programs must be on the path, its settings are the course's alone."""
    path = os.pathsep.join([str(Path(sys.executable).parent), os.environ.get("PATH", "")])
    own = {"PATH": path, "JUPYTER_CONFIG_DIR": str(course / ".jupyter"), "JUPYTER_NO_CONFIG": "1"}
    own["PYTHONPATH"] = os.pathsep.join([str(ROOT), *filter(None, [os.environ.get("PYTHONPATH")])])
    done = subprocess.run(
        [sys.executable, "-m", "nbgrader", *words], cwd=course, env=os.environ | own, capture_output=True, text=True, timeout=300
    )
    assert fails == bool(done.returncode), done.stdout + done.stderr
    return done.stdout + done.stderr


def job_of(learner, assignment=LAB):
    """One learner's job, under its public name."""
    return job_held(key_for((learner,), assignment=assignment), learner)


def sheet_of(player, learner):
    """The text of the sheet that a player makes of a learner's own job."""
    return written(player(job_of(learner), learner).sheet())


def handed_in(course, learner, sheet=None, notebook=None, assignment=LAB):
    """Put files where nbgrader would have collected them; without a notebook, the released one."""
    folder = course / "submitted" / learner / assignment
    folder.mkdir(parents=True)
    if sheet is not None:
        (folder / f"{assignment}.sheet.json").write_bytes(sheet if isinstance(sheet, bytes) else sheet.encode("utf-8"))
    if notebook is None:
        shutil.copy(course / "release" / assignment / f"{assignment}.ipynb", folder)
    else:
        (folder / f"{assignment}.ipynb").write_bytes(notebook)
    return folder


def rows(course, db_url=None, assignment=LAB):
    """What the gradebook holds: (learner, cell) -> (machine's points, a person's, whether a person has to look)."""
    with Gradebook(db_url or f"sqlite:///{course}/gradebook.db", "call-for-heat") as book:
        return {
            (one.student.id, grade.name): (grade.auto_score, grade.manual_score, grade.needs_manual_grade)
            for one in book.assignment_submissions(assignment)
            for notebook in one.notebooks
            for grade in notebook.grades
        }


def feedback(course, learner, assignment=LAB):
    """The feedback page of one learner."""
    return (course / "feedback" / learner / assignment / f"{assignment}.html").read_text(encoding="utf-8")


__all__ = [
    "KEYS",
    "LAB",
    "LEARNERS",
    "MACHINE",
    "SET",
    "TABLE",
    "feedback",
    "handed_in",
    "held",
    "job_of",
    "key_for",
    "made",
    "nbgrader",
    "rows",
    "sheet_of",
]
