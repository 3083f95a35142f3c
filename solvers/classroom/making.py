"""Making the labs of a class: what is drawn goes into the course whole or not at all, and what is there stays as it is."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path

from .class_set import class_set, sealed_lab
from .course_secret import course_secret
from .errors import ClassroomError, NotAFolder
from .files import Staged, alone
from .foretelling import kept_with
from .keys import Key, key_of, key_path, keys_of, written
from .lab_notebooks import lab_notebook
from .labs import LabPlan, lab_file
from .roster import Learner
from .seeds import secret_seed

__all__ = ["Made", "Progress", "labs_made", "next_steps", "told"]

Progress = Callable[[str, int, int, str], None]

_SAME = ("kind", "chapter", "level", "task", "count")
"""What an assignment cannot change once it is made."""


@dataclass(frozen=True, slots=True)
class Made:
    """What became of one assignment."""

    assignment: str
    title: str
    new: tuple[str, ...]  # learners who got a lab
    restored: tuple[str, ...]  # learners whose lab file was missing, and is there again as it was
    there: int  # learners who had theirs
    tries: int  # draws that the new ones took


def labs_made(
    course: Path,
    plans: Sequence[LabPlan],
    learners: Sequence[Learner],
    *,
    label: str = "",
    workers: int = 1,
    progress: Progress | None = None,
) -> tuple[Made, ...]:
    """Make each assignment's labs for every learner who has none yet; files and keys of the others are not touched.

    `label` tells years or classes apart. An assignment is drawn whole before the first of its files is written; one that is
    interrupted leaves the course as it was, and those before it stand. `progress` is told the assignment, how many of its
    labs are drawn, of how many, and whose. Raises ClassroomError before anything is drawn where a plan is at odds with an
    assignment that is there.
    """
    course = Path(course)
    if not course.is_dir():
        raise NotAFolder(f"no folder {str(course)!r}; name the folder of the course")
    begun = [(plan, _begun(course, plan)) for plan in plans]  # refused before a secret is made
    secret = course_secret(course)
    with alone(course / "keys"):  # whoever makes labs at the same time waits, and finds these
        begun = [(plan, _begun(course, plan)) for plan in plans]
        return tuple(
            _made(course, key, plan, secret, learners, label=label, workers=workers, progress=progress) for plan, key in begun
        )


def told(made: Sequence[Made]) -> str:
    """What was made, one line an assignment."""
    width = max(len(one.assignment) for one in made)
    lines = ["Labs:"]
    for one in made:
        words = [f"{len(one.new)} new in {one.tries} draws" if one.new else "nothing new"]
        words += [f"{len(one.restored)} lost and put back"] if one.restored else []
        words += [f"{one.there} there already"] if one.there else []
        lines.append(f"  {one.assignment:<{width}}  {', '.join(words)}: {one.title}")
    return "\n".join(lines) + "\n"


def next_steps(made: Sequence[Made]) -> str:
    """What an instructor does next with what was made; empty where nothing is new."""
    names = [one.assignment for one in made if one.new or one.restored]
    if not names:
        return ""
    lines = ["Next, in the folder of the course:", "  python -m solvers labs check --course ."]
    for name in names:
        lines.append(f"  nbgrader generate_assignment --force {name}")
    return "\n".join(lines) + "\n"


def _begun(course: Path, plan: LabPlan) -> Key:
    """The assignment's key as it stands, with the plan's due time; an empty one where it is new."""
    new = Key(plan.assignment, plan.kind, plan.chapter, plan.level, plan.title, plan.due, plan.task, plan.count)
    if plan.assignment not in keys_of(course):
        labs = course / "source" / plan.assignment / "labs"
        if labs.is_dir() and any(labs.iterdir()):
            raise ClassroomError(
                f"{plan.assignment} has labs but no key: put back keys/{key_path(course, plan.assignment).name} from your copy, "
                f"or remove source/{plan.assignment}/labs to begin anew"
            )
        return new
    key = key_of(course, plan.assignment)
    for what in _SAME:
        if getattr(key, what) != getattr(new, what):
            there, wanted = getattr(key, what), getattr(new, what)
            raise ClassroomError(f"{plan.assignment} is there with {what} {there!r}, not {wanted!r}; give another --assignment")
    return replace(key, due=plan.due or key.due)


def _made(
    course: Path,
    key: Key,
    plan: LabPlan,
    secret: str,
    learners: Sequence[Learner],
    *,
    label: str,
    workers: int,
    progress: Progress | None,
) -> Made:
    assignment = plan.assignment
    seeds = {one.id: secret_seed(secret, assignment, one.id, label) for one in learners if one.id not in key.held}
    heard = None if progress is None else lambda done, of, who: progress(assignment, done, of, who)
    drawn = class_set(key, seeds, [one.id for one in learners], workers=workers, progress=heard)
    lost = _lost(course, key)
    fresh = {one: replace(held, digest=_digest(drawn.files[one])) for one, held in drawn.held.items()}
    whole = replace(key, held={**key.held, **fresh})
    _put(course, whole, plan, {**drawn.files, **lost})
    if drawn.known:
        with suppress(OSError):  # the labs stand; grading works it out again
            kept_with(course, whole, drawn.known)
    return Made(assignment, key.title, tuple(fresh), tuple(lost), len(key.held), drawn.tries)


def _lost(course: Path, key: Key) -> dict[str, bytes]:
    """The files that learners had and that are gone, made again; raises ClassroomError where they would not be the same."""
    found = {}
    for learner, held in key.held.items():
        if lab_file(course, key.assignment, key.kind, learner).exists():
            continue
        data = sealed_lab(key, learner)
        if _digest(data) != held.digest:
            raise ClassroomError(
                f"the lab of {learner} in {key.assignment} is missing and cannot be made again as it was; put back your copy"
            )
        found[learner] = data
    return found


def _put(course: Path, key: Key, plan: LabPlan, files: Mapping[str, bytes]) -> None:
    """Write the key first, so that a loss of power half-way leaves files that the next run puts back, and never orphans."""
    folder = course / "source" / key.assignment
    with Staged() as stage:
        for place in (course / "keys", folder / "labs"):
            stage.folder(place)
        path, text = key_path(course, key.assignment), written(key).encode("utf-8")
        if not path.exists() or path.read_bytes() != text:
            stage.add(path, text, mode=0o600)
        notebook = folder / f"{key.assignment}.ipynb"
        if not notebook.exists():
            stage.add(notebook, lab_notebook(plan))
        for learner, data in files.items():
            stage.add(lab_file(course, key.assignment, key.kind, learner), data)
        stage.settle()


def _digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()
