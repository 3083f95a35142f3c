"""From a folder of files, as they come from mail or a shared drive, to a course's submitted folder."""

from __future__ import annotations

import os
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from ..jobs.sheet import LARGEST, BadSheet, parsed
from .errors import BadLearner, NotAFolder, Refused
from .files import contents, saved
from .labs import LABS, lab_named
from .seeds import learner_id
from .submissions import LARGEST_NOTEBOOK
from .words import plain, short

__all__ = ["Collected", "Left", "collected", "told"]

_SHEET = re.compile(r"(?P<stem>.+)\.sheet\b[^.]*\.json", re.IGNORECASE)  # a browser adds " (1)" to a second download


@dataclass(frozen=True, slots=True)
class Left:
    """A file that was not taken as it should be, and why."""

    path: Path
    reason: str  # one sentence


@dataclass(frozen=True, slots=True)
class Collected:
    """What became of a folder of files."""

    learners: tuple[str, ...]  # whose sheets are now submitted
    unchanged: tuple[str, ...]  # whose sheets were there already, the same
    damaged: tuple[Left, ...]  # submitted all the same: the file's name tells whose they are
    left: tuple[Left, ...]  # copied nowhere


@dataclass(frozen=True, slots=True)
class _Found:
    path: Path
    learner: str
    data: bytes
    damage: str = ""


def collected(folder: Path, course: Path, assignment: str) -> Collected:
    """Put every sheet of an assignment, with the notebook beside it, into `submitted/<learner>/<assignment>`.

    The sheet says whose it is; where it cannot be read, a name like `anna.03-heater-loops.sheet.json` does. Links are not
    followed. The time a file was last written is taken as the time it was handed in. Where two different sheets claim one
    learner, none is taken. Raises NotAFolder and NoSuchAssignment; OSError where the course cannot be written.
    """
    lab_named(assignment)
    folder, course = Path(folder), Path(course)
    for place in (folder, course):
        if not place.is_dir():
            raise NotAFolder(f"no folder {str(place)!r}")
    found, left = _found(folder, assignment, passing=course)
    done: dict[str, list[str]] = {"new": [], "same": []}
    damaged: list[Left] = []
    for learner in sorted({one.learner for one in found}):
        mine, others = _chosen([one for one in found if one.learner == learner])
        left += others
        if mine is None:
            continue
        if mine.damage and _sheet_of(mine, course, assignment).exists():
            left.append(Left(mine.path, f"{mine.damage} What {learner} handed in before stays."))
            continue
        done["new" if _submitted(mine, course, assignment) else "same"].append(learner)
        if mine.damage:
            damaged.append(Left(mine.path, mine.damage))
    return Collected(tuple(done["new"]), tuple(done["same"]), tuple(damaged), tuple(left))


def told(report: Collected) -> str:
    """The report as lines for a terminal."""
    lines = [f"Collected {len(report.learners)}, unchanged {len(report.unchanged)}."]
    for title, names in (("Collected", report.learners), ("Unchanged", report.unchanged)):
        lines += [f"{title}: {', '.join(names)}"] if names else []
    for title, files in (("Collected though damaged, will score 0", report.damaged), ("Left where they were", report.left)):
        lines += [f"{title}:", *(f"  {plain(str(one.path))}: {plain(one.reason)}" for one in files)] if files else []
    return "\n".join(lines) + "\n"


def _found(folder: Path, assignment: str, *, passing: Path) -> tuple[list[_Found], list[Left]]:
    found, left = [], []
    for path in sorted(_sheets(folder, passing)):
        data = b""
        try:
            data = contents(path, LARGEST)
            sheet = parsed(data)
            learner = learner_id(sheet.learner)
        except (BadSheet, BadLearner, Refused, OSError) as problem:
            owner = _named(path, assignment)
            if owner is None:
                left.append(Left(path, _sentence(problem)))
            else:
                found.append(_Found(path, owner, data, _sentence(problem)))
            continue
        other = sheet.seed.partition("/")[0]
        if other != assignment and other in LABS:
            left.append(Left(path, f"This sheet belongs to {other}."))
        else:
            found.append(_Found(path, learner, data))
    return found, left


def _sheets(folder: Path, passing: Path) -> list[Path]:
    """Every file named like a sheet, at any depth; hidden folders, links to folders and the course are passed by."""
    sheets = []
    for at, folders, names in os.walk(folder, followlinks=False):
        folders[:] = sorted(name for name in folders if not name.startswith(".") and not passing.samefile(Path(at) / name))
        sheets += [Path(at) / name for name in names if _SHEET.fullmatch(name) and not name.startswith(".")]
    return sheets


def _named(path: Path, assignment: str) -> str | None:
    """The learner that a file's own name tells: `anna.03-heater-loops.sheet.json`."""
    stem = _SHEET.fullmatch(path.name)["stem"]
    if not stem.lower().endswith(f".{assignment}"):
        return None
    try:
        return learner_id(stem[: -len(assignment) - 1])
    except BadLearner:
        return None


def _chosen(mine: Sequence[_Found]) -> tuple[_Found | None, list[Left]]:
    """The one sheet of a learner: a whole one before a damaged one; of two that differ, none."""
    best = [one for one in mine if not one.damage] or list(mine)
    if len({one.data for one in best}) > 1:
        names = " and ".join(plain(one.path.name) for one in best[:3])
        reason = f"{len(best)} different sheets say they are {best[0].learner}'s ({names}); keep one and collect again."
        return None, [Left(one.path, reason) for one in best]
    return best[0], [Left(one.path, one.damage) for one in mine if one.damage and one is not best[0]]


def _submitted(mine: _Found, course: Path, assignment: str) -> bool:
    """Write one submission, its timestamp last; False where the very same sheet was there already."""
    sheet = _sheet_of(mine, course, assignment)
    target = sheet.parent
    target.mkdir(parents=True, exist_ok=True)
    notebook = _notebook(mine.path, course, assignment, alone=_alone(mine.path))
    if notebook and _differs(target / f"{assignment}.ipynb", notebook, LARGEST_NOTEBOOK):
        saved(target / f"{assignment}.ipynb", notebook)
    if not _differs(sheet, mine.data, LARGEST):
        return False
    saved(sheet, mine.data)
    saved(target / "timestamp.txt", _when(mine.path).strftime("%Y-%m-%d %H:%M:%S UTC\n").encode())
    return True


def _sheet_of(mine: _Found, course: Path, assignment: str) -> Path:
    return course / "submitted" / mine.learner / assignment / f"{assignment}.sheet.json"


def _when(path: Path) -> datetime:
    """When a file was last written; now, where its time is none that a calendar has."""
    try:
        return datetime.fromtimestamp(path.lstat().st_mtime, UTC)
    except (OverflowError, ValueError, OSError):
        return datetime.now(UTC)


def _alone(path: Path) -> bool:
    return sum(1 for name in os.listdir(path.parent) if _SHEET.fullmatch(name)) == 1


def _notebook(sheet: Path, course: Path, assignment: str, *, alone: bool) -> bytes:
    """The learner's notebook, else the released one, so that nbgrader sees a submission; empty where there is neither.

    A notebook under the assignment's plain name is the learner's only where their sheet is alone in its folder.
    """
    stem = _SHEET.fullmatch(sheet.name)["stem"]
    choices = [sheet.parent / f"{stem}.ipynb"] if alone or stem != assignment else []
    choices += [sheet.parent / f"{assignment}.ipynb"] if alone else []
    for path in [*choices, course / "release" / assignment / f"{assignment}.ipynb"]:
        try:
            return contents(path, LARGEST_NOTEBOOK)
        except (Refused, OSError):
            continue
    return b""


def _differs(path: Path, data: bytes, most: int) -> bool:
    try:
        return contents(path, most) != data
    except (Refused, OSError):
        return True


def _sentence(problem: Exception) -> str:
    words = short((problem.strerror or "") if isinstance(problem, OSError) else str(problem), 300)
    return f"{words[:1].upper()}{words[1:]}."
