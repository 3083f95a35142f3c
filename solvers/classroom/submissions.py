"""A submission as it lies in its folder, read without running or trusting anything in it."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from ..jobs.job import JobError
from ..jobs.sheet import Sheet
from .errors import BadLearner, ClassroomError, Refused
from .files import contents
from .keys import Key
from .labs import EXPLANATION
from .seeds import learner_id, seed_of
from .sheets import LARGEST, AnySheet, header, parsed
from .words import short

__all__ = ["LARGEST_NOTEBOOK", "MOST_ACTS", "Submission", "submission"]

MOST_ACTS = 300
"""Log lines that a machine marks; the par of a job is about five readings, and marking time grows with every act."""

LARGEST_NOTEBOOK = 4_000_000  # bytes


@dataclass(frozen=True, slots=True)
class Submission:
    """What one learner handed in: a sheet that can be marked, or the reason why there is none."""

    learner: str  # as the folder is named
    sheet: AnySheet | None
    problem: str = ""  # one sentence
    handed_in: bool = True  # something was there that a person may want to look at
    typed: str = ""  # what the learner wrote into the notebook's explanation cell


def submission(folder: Path, key: Key, *, blank: str = "") -> Submission:
    """The submission in `submitted/<learner>/<assignment>`; only the folder's name says whose it is.

    `blank` is what the explanation cell holds before anybody writes in it. Nothing a learner can hand in raises.
    """
    learner = folder.parent.name
    if folder.is_symlink() or folder.parent.is_symlink():
        return Submission(learner, None, "The folder is a link to another folder; hand in the files themselves.")
    typed = _typed(folder, key.assignment, blank)
    try:
        path = _only_sheet(folder, key.assignment)
        if path is None:
            return Submission(learner, None, "No sheet was handed in.", handed_in=bool(typed), typed=typed)
        sheet = _own(contents(path, LARGEST), key, learner)
    except (JobError, ClassroomError, OSError) as problem:
        return Submission(learner, None, _sentence(problem), typed=typed)
    return Submission(learner, sheet, typed=typed)


def _only_sheet(folder: Path, assignment: str) -> Path | None:
    """The sheet beside the notebook: the one of the assignment's own name, else the only one there is."""
    found = sorted(path for path in folder.iterdir() if path.name.endswith(".sheet.json"))
    own = [path for path in found if path.name == f"{assignment}.sheet.json"]
    if len(found) > 1 and not own:
        raise Refused(f"{len(found)} sheets were handed in ({', '.join(path.name for path in found[:3])}); keep one")
    return (own or found or [None])[0]


def _own(data: bytes, key: Key, learner: str) -> AnySheet:
    """The learner's sheet of this assignment; raises Refused where it is somebody's or something else."""
    said = header(data)
    try:
        same = learner_id(said.learner) == learner_id(learner)
    except BadLearner:
        same = False
    if not same:
        raise Refused(f"the sheet was made by {said.learner!r} and handed in as {learner!r}")
    if (due := seed_of(key.assignment, learner)) != said.seed:
        raise Refused(f"the sheet is of lab {said.seed!r}; this learner's is {due!r}")
    sheet = parsed(data, key, learner)
    if isinstance(sheet, Sheet):
        if (sheet.chapter, sheet.level) != (key.chapter, key.level):
            given = f"{sheet.chapter}, level {sheet.level}"
            raise Refused(f"the sheet is of a job of {given}; this lab is of {key.chapter}, level {key.level}")
        if len(sheet.log) > MOST_ACTS:
            raise Refused(f"the log has {len(sheet.log)} lines; more than {MOST_ACTS} are for a person to read")
    return sheet


def _typed(folder: Path, assignment: str, blank: str) -> str:
    """What the learner wrote into the notebook's explanation cell; empty where nothing can be read."""
    try:
        notebook = json.loads(contents(folder / f"{assignment}.ipynb", LARGEST_NOTEBOOK))
        sources = [_source(cell) for cell in notebook["cells"] if _is_explanation(cell)]
    except (Refused, OSError, ValueError, RecursionError, KeyError, TypeError):
        return ""
    written = [source for source in sources if source.strip() and source.strip() != blank.strip()]
    return written[-1][:20_000] if written else ""


def _is_explanation(cell: object) -> bool:
    mark = cell.get("metadata", {}) if isinstance(cell, Mapping) else {}
    mark = mark.get("nbgrader", {}) if isinstance(mark, Mapping) else {}
    return isinstance(mark, Mapping) and mark.get("grade_id") == EXPLANATION


def _source(cell: Mapping[str, object]) -> str:
    source = cell.get("source", "")
    if isinstance(source, str):
        return source
    return "".join(line for line in source if isinstance(line, str)) if isinstance(source, Iterable) else ""


def _sentence(problem: Exception) -> str:
    words = problem.strerror or "" if isinstance(problem, OSError) else str(problem)
    words = short(words or type(problem).__name__, 300)
    return f"{words[0].upper()}{words[1:]}" + ("" if words.endswith((".", "...")) else ".")
