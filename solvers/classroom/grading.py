"""Grading a class in one go: every submission read, marked and recorded; no code of a learner's is ever run."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from .copying import alike, pattern
from .errors import BadLearner, NotAFolder
from .gradebook import Course
from .keys import key_of, keys_of
from .pool import marked
from .report import ClassReport
from .seeds import learner_id

__all__ = ["grade", "waiting"]


def grade(
    course: Path,
    assignment: str,
    *,
    db_url: str | None = None,
    workers: int | None = None,
    with_feedback: bool = True,
    progress: Callable[[int, int, str], None] | None = None,
) -> ClassReport:
    """Mark all that was submitted and leave what `nbgrader autograde` and `generate_feedback` leave.

    `progress` is told (how many are done, of how many, whose). `workers` is how many processes mark, by default one a core.
    A person's points survive. One bad submission is named in the report and scores 0; only a fault of the course itself
    raises ClassroomError, and then nothing has changed.
    """
    if not Path(course).is_dir():
        raise NotAFolder(f"no course folder {str(course)!r}")
    key = key_of(Path(course), assignment)
    here = Course.opened(Path(course), db_url)
    blank = here.blank(assignment)
    folders, strangers = [], []
    for folder in here.folders(assignment):
        try:
            learner_id(folder.parent.name)
            folders.append(folder)
        except BadLearner as problem:
            strangers.append(f"{problem}.")
    results, sheets = [], {}
    for number, (folder, (handed_in, result)) in enumerate(
        zip(folders, marked(folders, key, here.root, blank=blank, workers=workers), strict=True), 1
    ):
        results.append(result)
        if handed_in.sheet is not None and not result.problem:
            sheets[handed_in.learner] = handed_in.sheet
        if progress is not None:
            progress(number, len(folders), folder.parent.name)
    rows = here.recorded(assignment, results, with_feedback=with_feedback)
    patterns = {learner: words for learner, sheet in sheets.items() if (words := pattern(sheet))}
    return ClassReport(assignment, rows, tuple(strangers), alike(key, here.root, sheets), patterns)


def waiting(course: Path, *, db_url: str | None = None) -> tuple[str, ...]:
    """The assignments that have a key and that something was handed in for; raises NotAFolder."""
    here = Course.opened(Path(course), db_url)
    return tuple(name for name in keys_of(here.root) if here.folders(name))
