"""Grading a class in one go: every submission read, marked and recorded; no code of a learner's is ever run."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from .copying import alike, pattern
from .errors import BadLearner, NotAFolder
from .foretelling import kept, kept_with
from .gradebook import Course
from .keys import key_of, keys_of
from .pool import Held, Marked, marked
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
    folders, strangers = [], []
    for folder in here.folders(assignment):
        try:
            learner_id(folder.parent.name)
            folders.append(folder)
        except BadLearner as problem:
            strangers.append(f"{problem}.")
    held = Held(key, here.root, here.blank(assignment), kept(here.root, key))
    done: list[Marked] = []
    for folder, one in zip(folders, marked(folders, held, workers), strict=True):
        done.append(one)
        if progress is not None:
            progress(len(done), len(folders), folder.parent.name)
    rows = here.recorded(assignment, [one.result for one in done], due=key.due, with_feedback=with_feedback)
    if fresh := {learner_id(one.handed_in.learner): one.fresh for one in done if one.fresh is not None}:
        with suppress(OSError):  # the marks stand; the next grading works it out again
            kept_with(here.root, key, fresh)
    sheets = {one.handed_in.learner: one.handed_in.sheet for one in done if one.handed_in.sheet and not one.result.problem}
    flagged = [one.handed_in.learner for one in done if one.result.flags]
    drawn = {one.handed_in.learner: one.asked for one in done if one.asked is not None}
    copies = alike(key, here.root, sheets, flagged, drawn)
    patterns = {learner: words for learner, sheet in sheets.items() if (words := pattern(sheet))}
    return ClassReport(assignment, rows, tuple(strangers), copies, patterns)


def waiting(course: Path, *, db_url: str | None = None) -> tuple[str, ...]:
    """The assignments that have a key and that something was handed in for; raises NotAFolder."""
    here = Course.opened(Path(course), db_url)
    return tuple(name for name in keys_of(here.root) if here.folders(name))
