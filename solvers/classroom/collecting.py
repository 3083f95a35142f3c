"""From a folder of files, as they come from mail, a shared drive or a learning platform, to a course's submitted folder."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from ..jobs.job import JobError
from .archives import Left, Piece, pieces
from .errors import BadLearner, ClassroomError, NoSuchAssignment, NotAFolder, Refused
from .files import Staged, contents
from .keys import Key, key_of, keys_of
from .seeds import learner_id
from .sheets import LARGEST, header, parsed
from .submissions import LARGEST_NOTEBOOK
from .words import plain, short

__all__ = ["Collected", "Left", "collected", "told"]

_SHEET = re.compile(r"(?P<stem>.+)\.sheet\b[^.]*\.json", re.IGNORECASE)  # a browser adds " (1)" to a second download
_NOTEBOOK = re.compile(r"(?P<stem>.+)\.ipynb", re.IGNORECASE)
_OTHER = re.compile(r".+\.json", re.IGNORECASE)

Owner = tuple[str, str]
"""(assignment, learner)"""


@dataclass(frozen=True, slots=True)
class Collected:
    """What became of a folder of files."""

    taken: tuple[Owner, ...]  # whose sheets are now submitted
    unchanged: tuple[Owner, ...]  # whose sheets were there already, the same
    damaged: tuple[Left, ...]  # submitted all the same: the file's name or folder tells whose they are
    left: tuple[Left, ...]  # copied nowhere


@dataclass(frozen=True, slots=True)
class _Found:
    """A sheet, or a notebook without one, and whose it is."""

    piece: Piece
    owner: Owner
    data: bytes  # of the sheet; empty where there is none
    damage: str = ""


def collected(folder: Path, course: Path, assignment: str | None = None) -> Collected:
    """Put every sheet, with the notebook beside it, into `submitted/<learner>/<assignment>`; zip files are looked into.

    A sheet says whose it is and of what; where it cannot be read, a name like `anna.03-heater-loops.sheet.json` or the
    learner's own folder does. The time a file was last written is taken as the time it was handed in. Where two different
    sheets claim one learner, none is taken. With an assignment, only its sheets. Raises NotAFolder and NoSuchAssignment;
    OSError where the course cannot be written.
    """
    folder, course = Path(folder), Path(course)
    for place in (folder, course):
        if not place.is_dir():
            raise NotAFolder(f"no folder {str(place)!r}")
    names = keys_of(course)
    if assignment is not None or not names:
        names = (key_of(course, assignment or "").assignment,)
    keys = {name: key_of(course, name) for name in names}
    found, notebooks, left = _found(folder, keys, set(keys_of(course)), passing=course)
    taken: list[Owner] = []
    unchanged: list[Owner] = []
    damaged: list[Left] = []
    for owner in sorted({one.owner for one in found}):
        mine, others = _chosen([one for one in found if one.owner == owner])
        left += others
        if mine is None:
            continue
        if (mine.damage or not mine.data) and _sheet_of(course, owner).exists():
            why = mine.damage or "It came without a sheet."
            left.append(Left(mine.piece.path, f"{why} What {owner[1]} handed in before stays."))
            continue
        (taken if _submitted(mine, course, _notebook(mine, found, notebooks, course)) else unchanged).append(owner)
        if mine.damage:
            damaged.append(Left(mine.piece.path, mine.damage))
    return Collected(tuple(taken), tuple(unchanged), tuple(damaged), tuple(left))


def told(report: Collected) -> str:
    """The report as lines for a terminal."""
    lines = [f"Collected {len(report.taken)}, unchanged {len(report.unchanged)}."]
    for title, owners in (("Collected", report.taken), ("Unchanged", report.unchanged)):
        for name in sorted({assignment for assignment, _ in owners}):
            lines.append(f"{title} for {name}: {', '.join(learner for assignment, learner in owners if assignment == name)}")
    for title, files in (("Collected though damaged, will score 0", report.damaged), ("Left where they were", report.left)):
        lines += [f"{title}:", *(f"  {plain(one.path)}: {plain(one.reason)}" for one in files)] if files else []
    return "\n".join(lines) + "\n"


def _found(
    folder: Path, keys: Mapping[str, Key], every: set[str], *, passing: Path
) -> tuple[list[_Found], list[Piece], list[Left]]:
    """Sheets with their owners, then notebooks of owners without a sheet; all notebooks; what was left."""
    found: list[_Found] = []
    notebooks: list[Piece] = []
    left: list[Left] = []
    for piece in pieces(folder, _wanted, passing=passing):
        if isinstance(piece, Left):
            left.append(piece)
        elif _SHEET.fullmatch(piece.name):
            one = _sheet(piece, keys, every)
            (left if isinstance(one, Left) else found).append(one)
        elif _OTHER.fullmatch(piece.name):
            left += _misnamed(piece)
        else:
            notebooks.append(piece)
    owners = {one.owner for one in found}
    for piece in notebooks:
        owner = _named(piece, keys)
        if owner is not None and owner not in owners:
            found.append(_Found(piece, owner, b""))
    return found, notebooks, left


def _wanted(name: str) -> bool:
    return bool(_OTHER.fullmatch(name) or _NOTEBOOK.fullmatch(name))


def _misnamed(piece: Piece) -> list[Left]:
    """A sheet under a name that is no sheet's is told, so that nobody's work is passed over; any other JSON file is not."""
    try:
        said = header(piece.read(LARGEST))
    except (JobError, ClassroomError, OSError):
        return []
    words = f"It is a sheet of {short(said.learner)!r} by its content; end its name in .sheet.json and collect again."
    return [Left(piece.path, words)]


def _sheet(piece: Piece, keys: Mapping[str, Key], every: set[str]) -> _Found | Left:
    data = b""
    try:
        data = piece.read(LARGEST)
        said = header(data)
        learner, assignment = learner_id(said.learner), said.seed.rpartition("/")[0]
        if assignment in every and assignment not in keys:
            return Left(piece.path, f"This sheet belongs to {assignment}.")
        if assignment not in keys:
            raise NoSuchAssignment(f"the sheet is of {short(said.seed)!r}; assignments are {', '.join(every)}")
        keys[assignment].of(learner)
        parsed(data, keys[assignment], learner)
    except (JobError, ClassroomError, OSError) as problem:
        owner = _named(piece, keys)
        return Left(piece.path, _sentence(problem)) if owner is None else _Found(piece, owner, data, _sentence(problem))
    homes = _homes(piece, keys[assignment])
    if homes and learner not in homes:
        return Left(piece.path, f"The sheet says that it is {learner}'s, and lies in the folder of {homes[0]}.")
    return _Found(piece, (assignment, learner), data)


def _named(piece: Piece, keys: Mapping[str, Key]) -> Owner | None:
    """Whose a file is by its name, `anna.03-heater-loops.sheet.json`, or by its name and the folder that it lies in."""
    stem = (_SHEET.fullmatch(piece.name) or _NOTEBOOK.fullmatch(piece.name))["stem"].lower()
    for assignment, key in keys.items():
        homes = _homes(piece, key)
        if stem == assignment and len(homes) == 1:
            return assignment, homes[0]
        if stem.endswith(f".{assignment}"):
            try:
                learner = learner_id(stem[: -len(assignment) - 1])
            except BadLearner:
                continue
            if learner in key.held:
                return assignment, learner
    return None


def _homes(piece: Piece, key: Key) -> list[str]:
    """The learners after whom the folders and zip files around a file are named, innermost first."""
    names = [one.lower().removesuffix(".zip").strip() for one in reversed(piece.above)]
    return [name for name in names if name in key.held]


def _chosen(mine: Sequence[_Found]) -> tuple[_Found | None, list[Left]]:
    """The one sheet of a learner: a whole one before a damaged one; of two that differ, none."""
    best = [one for one in mine if not one.damage] or list(mine)
    if len({one.data for one in best}) > 1:
        names = " and ".join(plain(one.piece.name) for one in best[:3])
        reason = f"{len(best)} different sheets say they are {best[0].owner[1]}'s ({names}); keep one and collect again."
        return None, [Left(one.piece.path, reason) for one in best]
    return best[0], [Left(one.piece.path, one.damage) for one in mine if one.damage and one is not best[0]]


def _submitted(mine: _Found, course: Path, notebook: bytes) -> bool:
    """Write one submission whole or not at all; False where the very same sheet was there already."""
    sheet = _sheet_of(course, mine.owner)
    assignment, target = mine.owner[0], sheet.parent
    fresh = _differs(sheet, mine.data, LARGEST) if mine.data else not target.exists()
    with Staged() as stage:
        stage.folder(target)
        if notebook and _differs(target / f"{assignment}.ipynb", notebook, LARGEST_NOTEBOOK):
            stage.add(target / f"{assignment}.ipynb", notebook)
        if fresh:
            when = mine.piece.when.strftime("%Y-%m-%d %H:%M:%S UTC\n")
            stage.add(target / "timestamp.txt", when.encode())
            if mine.data or mine.damage:
                stage.add(sheet, mine.data)
        stage.settle()
    return fresh


def _sheet_of(course: Path, owner: Owner) -> Path:
    assignment, learner = owner
    return course / "submitted" / learner / assignment / f"{assignment}.sheet.json"


def _notebook(mine: _Found, found: Iterable[_Found], notebooks: Iterable[Piece], course: Path) -> bytes:
    """The learner's notebook, else the released one, so that nbgrader sees a submission; empty where there is neither.

    A notebook under the assignment's plain name is the learner's only where their sheet is alone in its folder.
    """
    assignment, learner = mine.owner
    beside = [one for one in notebooks if one.above == mine.piece.above]
    stem = (_SHEET.fullmatch(mine.piece.name) or _NOTEBOOK.fullmatch(mine.piece.name))["stem"]
    names = {f"{stem}.ipynb".lower(), f"{learner}.{assignment}.ipynb"} - {f"{assignment}.ipynb"}
    choices = [one for one in beside if one.name.lower() in names]
    if sum(one.piece.above == mine.piece.above for one in found) == 1:
        choices += [one for one in beside if one.name.lower() == f"{assignment}.ipynb"]
    for one in choices:
        try:
            return one.read(LARGEST_NOTEBOOK)
        except (Refused, OSError):
            continue
    try:
        return contents(course / "release" / assignment / f"{assignment}.ipynb", LARGEST_NOTEBOOK)
    except (Refused, OSError):
        return b""


def _differs(path: Path, data: bytes, most: int) -> bool:
    try:
        return contents(path, most) != data
    except (Refused, OSError):
        return True


def _sentence(problem: Exception) -> str:
    words = short((problem.strerror or "") if isinstance(problem, OSError) else str(problem), 300)
    return f"{words[:1].upper()}{words[1:]}."
