"""A course's marks as two tables that a spreadsheet opens: points, and which objectives each learner has shown."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from ..jobs.mastery import Progress, merged, noted, state_of
from ..jobs.objectives import OBJECTIVES
from .files import Staged
from .gradebook import Course
from .report import Standing
from .roster import Learner, roster
from .words import plain

__all__ = ["MARKS", "OBJECTIVES_SHOWN", "grid", "kept", "marks", "objectives"]

MARKS, OBJECTIVES_SHOWN = "marks.csv", "objectives.csv"

_FORMULA = ("=", "+", "-", "@")
"""How a cell begins that a spreadsheet would take for a formula."""


def kept(course: Path, *, db_url: str | None = None) -> str:
    """Write both tables into the course's folder, whole or not at all, and name them. Raises ClassroomError or OSError."""
    here = Course.opened(Path(course), db_url)
    standing = here.standing()
    people = {one.id: one for one in _people(here.root)}
    with Staged() as stage:
        stage.add(here.root / MARKS, marks(standing, people).encode("utf-8"), mode=0o600)
        stage.add(here.root / OBJECTIVES_SHOWN, objectives(standing, people).encode("utf-8"), mode=0o600)
        stage.settle()
    return f"{here.root / MARKS}, {OBJECTIVES_SHOWN}"


def marks(standing: Iterable[Standing], people: Mapping[str, Learner]) -> str:
    """One line a learner and assignment."""
    head = ("learner", "name", "group", "assignment", "score", "out of", "off for lateness", "waits for a person", "handed in")
    lines = [
        (
            *_who(one.learner, people),
            one.assignment,
            f"{one.score:g}",
            f"{one.out_of:g}",
            f"{one.penalty:g}",
            "yes" if one.waiting else "no",
            "" if one.at is None else one.at.strftime("%Y-%m-%d %H:%M:%S UTC"),
        )
        for one in standing
    ]
    return _table([head, *lines])


def objectives(standing: Sequence[Standing], people: Mapping[str, Learner]) -> str:
    """One line a learner, one column an objective: not tried, tried, shown once, shown twice, or counts."""
    states = grid(standing)
    head = ("learner", "name", "group", *OBJECTIVES)
    return _table([head, *((*_who(learner, people), *states[learner].values()) for learner in states)])


def grid(standing: Iterable[Standing]) -> dict[str, dict[str, str]]:
    """By learner and objective, one of mastery.STATES. What was handed in without a time counts as handed in at once."""
    progress: dict[str, Progress] = {}
    for one in standing:
        so_far = progress.get(one.learner, Progress())
        at = 0.0 if one.at is None else max(0.0, one.at.timestamp())
        for name in (name for name in one.tried if name in OBJECTIVES):
            so_far = merged(so_far, noted(Progress(), [name], seed=one.assignment, at=at, shown=name in one.shown))
        progress[one.learner] = so_far
    return {learner: {name: state_of(mine, name) for name in OBJECTIVES} for learner, mine in progress.items()}


def _people(root: Path) -> tuple[Learner, ...]:
    path = root / "roster.csv"
    return roster(path) if path.exists() else ()


def _who(learner: str, people: Mapping[str, Learner]) -> tuple[str, str, str]:
    known = people.get(learner)
    return (learner, known.name, known.group) if known else (learner, "", "")


def _table(lines: Iterable[Sequence[str]]) -> str:
    file = io.StringIO()
    csv.writer(file).writerows([_cell(cell) for cell in line] for line in lines)
    return file.getvalue()


def _cell(text: str) -> str:
    """A cell that a spreadsheet shows as it is."""
    line = plain(text)
    return f"'{line}" if line.startswith(_FORMULA) else line
