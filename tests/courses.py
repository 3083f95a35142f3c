"""A course in a folder of its own, made from `exercises/`, and the gradebook read back."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

from nbgrader.api import Gradebook

from solvers.classroom import job_for
from solvers.jobs.sheet import written

LAB = "03-heater-loops"
ROOT = Path(__file__).resolve().parent.parent
MACHINE = ("safety", "method", "economy", "verdict", "good_parts", "restored")


def made(folder):
    """A course as an instructor first has it: the source, its settings, and the assignment generated."""
    shutil.copytree(ROOT / "exercises" / "source", folder / "source")
    shutil.copy(ROOT / "exercises" / "nbgrader_config.py", folder)
    nbgrader(folder, "generate_assignment", LAB)
    return folder


def nbgrader(course, *words):
    """Run stock nbgrader in a course; its programs must be on the path, its settings are the course's alone."""
    path = os.pathsep.join([str(Path(sys.executable).parent), os.environ.get("PATH", "")])
    own = {"PATH": path, "PYTHONPATH": str(ROOT), "JUPYTER_CONFIG_DIR": str(course / ".jupyter"), "JUPYTER_NO_CONFIG": "1"}
    done = subprocess.run(
        [sys.executable, "-m", "nbgrader", *words], cwd=course, env=os.environ | own, capture_output=True, text=True, timeout=300
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout + done.stderr


def sheet_of(player, learner):
    """The text of the sheet that a player makes of a learner's own job."""
    return written(player(job_for(LAB, learner), learner).sheet())


def handed_in(course, learner, sheet=None, notebook=None):
    """Put files where nbgrader would have collected them; without a notebook, the released one."""
    folder = course / "submitted" / learner / LAB
    folder.mkdir(parents=True)
    if sheet is not None:
        (folder / f"{LAB}.sheet.json").write_bytes(sheet if isinstance(sheet, bytes) else sheet.encode("utf-8"))
    if notebook is None:
        shutil.copy(course / "release" / LAB / f"{LAB}.ipynb", folder)
    else:
        (folder / f"{LAB}.ipynb").write_bytes(notebook)
    return folder


def rows(course, db_url=None):
    """What the gradebook holds: (learner, cell) -> (machine's points, a person's, whether a person has to look)."""
    with Gradebook(db_url or f"sqlite:///{course}/gradebook.db", "call-for-heat") as book:
        return {
            (one.student.id, grade.name): (grade.auto_score, grade.manual_score, grade.needs_manual_grade)
            for one in book.assignment_submissions(LAB)
            for notebook in one.notebooks
            for grade in notebook.grades
        }


def feedback(course, learner):
    """The feedback page of one learner."""
    return (course / "feedback" / learner / LAB / f"{LAB}.html").read_text(encoding="utf-8")
