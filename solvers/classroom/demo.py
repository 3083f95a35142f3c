"""A whole course in an empty folder: labs made, worked by an invented class in its different ways, collected and graded."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable, Mapping, Sequence
from datetime import datetime, timedelta
from pathlib import Path

from ..jobs import question_set, sheet, wiring_task
from ..jobs.sealed import SealedBench, opened
from . import demo_learners
from .collecting import collected
from .collecting import told as collected_told
from .errors import ClassroomError
from .files import contents, saved
from .grading import grade
from .keys import Key, job_held, key_of, questions_held
from .labs import lab_file
from .making import Progress, labs_made
from .making import told as made_told
from .marks_table import kept as marks_kept
from .report import told as graded_told
from .report_pages import kept as reports_kept
from .roster import Learner, roster
from .seeds import seed_of
from .terms import term

__all__ = ["HABITS", "MOST_LABS", "demonstrated"]

LABS = (
    ("03-heater-loops", "job", "heater-loops", ""),
    ("01-first-wires", "wire-up", "step-down-power", 'task = "W1"\n'),
    ("02-switch-questions", "questions", "thermostat-switching", "questions = 6\n"),
    ("04-end-switches", "job", "end-switches", ""),
    ("05-service-questions", "questions", "service-calls", "questions = 6\n"),
)
MOST_LABS = len(LABS)

HABITS = (
    "works with care",
    "guesses",
    "swaps parts",
    "stops half-way",
    "is late",
    "sends a sheet and no notebook",
    "copies a neighbour",
    "sends a file cut short",
    "sends the sheet of another lab",
    "edits the sheet afterwards",
    "sends an empty file",
    "sends nothing",
)
"""What the twelve learners do, in the order of the class."""

CLASS = (
    "Ada Fell",
    "Ben Orrin",
    "Cato Lind",
    "Dora Weems",
    "Eli Marsh",
    "Fay Tolland",
    "Gus Harrow",
    "Hana Brisk",
    "Ivo Pell",
    "June Sarkey",
    "Kit Dunmore",
    "Lena Voss",
)
"""Invented, and kept here, so that no instructor's own roster is ever shown guessing and copying."""

DUE = datetime(2027, 1, 15, 18)
LARGEST = 2_000_000  # bytes of a lab file

Say = Callable[[str], None]


def demonstrated(
    folder: Path, exercises: Path, *, labs: int = 3, workers: int = 1, say: Say, progress: Progress | None = None
) -> None:
    """Set up a course in an empty or new folder, let an invented class of twelve work it, and say what came of it.

    The settings come from `exercises`. `say` hears one passage after the other, the class reports last. Raises
    ClassroomError, before anything is written, for a folder that holds something.
    """
    _check_empty(Path(folder))
    folder = Path(folder).resolve()  # nbgrader runs in it
    settings = exercises / "nbgrader_config.py"
    if not settings.is_file():
        raise ClassroomError(f"no {settings.name} in {exercises}; run this from a checkout of the course")
    folder.mkdir(parents=True, exist_ok=True)
    saved(folder / settings.name, contents(settings, LARGEST))
    saved(folder / "roster.csv", _roster().encode())
    saved(folder / "term.toml", _term(labs).encode())
    learners = roster(folder / "roster.csv")
    say("All that follows is invented: the class, its names, the houses and what is handed in.\n")
    plan = term(folder / "term.toml")
    say(made_told(labs_made(folder, plan.labs, learners, label=plan.seed, workers=workers, progress=progress)))
    for lab in plan.labs:
        _nbgrader(folder, "generate_assignment", lab.assignment)
    mail = folder / "handed-in"
    for lab in plan.labs:
        _handed_in(folder, mail, key_of(folder, lab.assignment), learners)
    say("".join(f"  {one.name}, {one.id}, {habit}\n" for one, habit in zip(learners, HABITS, strict=True)))
    say(collected_told(collected(mail, folder)))
    for lab in plan.labs:
        say(graded_told(grade(folder, lab.assignment, workers=workers)))
    say(f"Marks: {marks_kept(folder)}\nReports: {reports_kept(folder)}\n")
    say(f"The course is in {folder}: look into source/, keys/, handed-in/, submitted/, autograded/ and feedback/.\n")


def _check_empty(folder: Path) -> None:
    if folder.exists() and not folder.is_dir():
        raise ClassroomError(f"{folder} is a file; name an empty folder, or a new one")
    there = sorted(path.name for path in folder.iterdir()) if folder.is_dir() else []
    if there:
        raise ClassroomError(f"{folder} is not empty (it holds {', '.join(there[:3])}); name an empty folder, or a new one")


def _roster() -> str:
    half = len(CLASS) // 2
    groups = ["morning"] * half + ["evening"] * (len(CLASS) - half)
    lines = [f"{name.lower().replace(' ', '.')},{name} (invented),{group}" for name, group in zip(CLASS, groups, strict=True)]
    return "\n".join(["id,name,group", *lines]) + "\n"


def _term(labs: int) -> str:
    lines = ['title = "A demonstration"\nroster = "roster.csv"\nseed = "demo"\n']
    for assignment, kind, chapter, more in LABS[:labs]:
        lines.append(
            f'\n[[labs]]\nassignment = "{assignment}"\nkind = "{kind}"\nchapter = "{chapter}"\n{more}due = {DUE.isoformat()}\n'
        )
    return "".join(lines)


def _handed_in(course: Path, mail: Path, key: Key, learners: Sequence[Learner]) -> None:
    """Lay what each learner hands in for one lab into a folder of theirs, as mail would."""
    notebook = contents(course / "source" / key.assignment / f"{key.assignment}.ipynb", LARGEST)
    names = [one.id for one in learners]
    for learner, habit in zip(names, HABITS, strict=True):
        data = _sheet(course, key, learner, habit, beside=names[names.index(learner) - 1])
        if data is None:
            continue
        home = mail / learner
        home.mkdir(parents=True, exist_ok=True)
        files = {f"{key.assignment}.sheet.json": data}
        files |= {f"{key.assignment}.ipynb": notebook} if habit != "sends a sheet and no notebook" else {}
        when = (DUE + timedelta(days=1 if habit == "is late" else -1)).timestamp()
        for name, content in files.items():
            saved(home / name, content)
            os.utime(home / name, (when, when))


def _sheet(course: Path, key: Key, learner: str, habit: str, *, beside: str) -> bytes | None:
    """The file that a learner of this habit hands in; None for nothing."""
    if habit in ("sends an empty file", "sends nothing"):
        return b"" if "empty" in habit else None
    work = _WORK[key.kind]
    if habit == "copies a neighbour":
        return _as_of(work(course, key, beside, "works with care"), learner, seed_of(key.assignment, learner))
    data = work(course, key, learner, habit)
    if habit == "sends a file cut short":
        return data[: len(data) // 2]
    if habit == "sends the sheet of another lab":
        return _as_of(data, learner, seed_of(f"{key.assignment}-of-last-year", learner))
    return _edited(data) if habit == "edits the sheet afterwards" else data


def _job(course: Path, key: Key, learner: str, habit: str) -> bytes:
    data = contents(lab_file(course, key.assignment, key.kind, learner), LARGEST)
    bench, job = SealedBench(opened(data), learner), job_held(key, learner)
    match habit:
        case "guesses":
            worked = demo_learners.guesses(bench, learner)
        case "swaps parts":
            worked = demo_learners.swaps(bench, learner)
        case "stops half-way":
            worked = demo_learners.half_done(bench, job)
        case _:
            worked = demo_learners.careful(bench, job)
    return sheet.written(worked.sheet(thinking_s=480.0)).encode()


def _wire_up(course: Path, key: Key, learner: str, habit: str) -> bytes:
    task = wiring_task.opened(contents(lab_file(course, key.assignment, key.kind, learner), LARGEST))
    well = habit not in ("guesses", "swaps parts", "stops half-way")
    done = demo_learners.wires_well(task) if well else demo_learners.wires_badly(task)
    return wiring_task.sheet_written(done).encode()


def _questions(course: Path, key: Key, learner: str, habit: str) -> bytes:
    asked = question_set.opened(contents(lab_file(course, key.assignment, key.kind, learner), LARGEST))
    if habit in ("guesses", "swaps parts"):
        done = demo_learners.guesses_all(asked, learner)
    elif habit == "stops half-way":
        done = demo_learners.answers_half(questions_held(key, learner), asked)
    else:
        done = demo_learners.answers_all(questions_held(key, learner), asked)
    return question_set.sheet_written(done).encode()


_WORK: Mapping[str, Callable[[Path, Key, str, str], bytes]] = {"job": _job, "wire-up": _wire_up, "questions": _questions}


def _as_of(data: bytes, learner: str, seed: str) -> bytes:
    """The same sheet under another name, as though it were of another lab."""
    body = json.loads(data)
    body.get("job", body)["seed"] = seed
    return json.dumps({**body, "learner": learner}, indent=1).encode()


def _edited(data: bytes) -> bytes:
    """A sheet with a reading made better than it was; one without readings gets points written into it."""
    body = json.loads(data)
    read = [line for line in body.get("log", ()) if isinstance(line["value"], int | float)]
    for line in read[:1]:
        line["value"] = line["value"] + 20.0
        line["text"] = "20 volts more than there were"
    return json.dumps(body if read else {**body, "points": 100}, indent=1).encode()


def _nbgrader(course: Path, *words: str) -> None:
    """Run stock nbgrader in the course with the settings that lie there; its own programs must be found on the path."""
    path = os.pathsep.join([str(Path(sys.executable).parent), os.environ.get("PATH", "")])
    package = str(Path(__file__).resolve().parents[2])
    found = os.pathsep.join([package, *filter(None, [os.environ.get("PYTHONPATH")])])
    env = {**os.environ, "PATH": path, "PYTHONPATH": found, "JUPYTER_CONFIG_DIR": str(course / ".jupyter")}
    done = subprocess.run([sys.executable, "-m", "nbgrader", *words], cwd=course, env=env, capture_output=True, text=True)
    if done.returncode:
        last = (done.stderr or done.stdout).strip().splitlines()[-1:]
        raise ClassroomError(f"nbgrader {' '.join(words)} failed: {''.join(last)}")
