"""Grading a class in one go: every submission read, marked and recorded; no code of a learner's is ever run."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from .errors import BadLearner
from .gradebook import Course
from .labs import lab_named
from .report import ClassReport
from .scoring import scored
from .seeds import learner_id
from .submissions import submission

__all__ = ["grade"]


def grade(
    course: Path, assignment: str, *, db_url: str | None = None, progress: Callable[[int, int, str], None] | None = None
) -> ClassReport:
    """Mark all that was submitted and leave what `nbgrader autograde` leaves: gradebook rows and autograded notebooks.

    `progress` is told (how many are done, of how many, whose). A person's points survive. One bad submission is named
    in the report and scores 0; only a fault of the course itself raises ClassroomError, and then no row has changed.
    """
    lab_named(assignment)
    here = Course.opened(Path(course), db_url)
    blank = here.blank(assignment)
    folders = here.folders(assignment)
    results, strangers = [], []
    for number, folder in enumerate(folders, 1):
        try:
            learner_id(folder.parent.name)
            results.append(scored(submission(folder, assignment, blank=blank), assignment))
        except BadLearner as problem:
            strangers.append(f"{problem}.")
        if progress is not None:
            progress(number, len(folders), folder.parent.name)
    return ClassReport(assignment, here.recorded(assignment, results), tuple(strangers))
