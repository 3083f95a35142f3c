"""What a good instructor would say of a sheet: what was right, where it stopped splitting, what would have ended it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from .evidence import Case
from .foretold import Foretold
from .habits import habits
from .job import Job
from .marks import Marks
from .said import act_words
from .swaps import Swap
from .verdicts import Claimed
from .working import Worked

__all__ = ["feedback", "first_idle"]


def feedback(
    job: Job,
    done: Worked,
    standing: Sequence[Mapping[str, Case]],
    claims: Claimed,
    swapped: Sequence[Swap],
    marks: Marks,
    known: Foretold,
) -> tuple[str, ...]:
    """In this order: what was right, the first reading that split nothing, the one that would have ended it, safety, habits."""
    told = [_good(job, claims, marks)]
    idle = first_idle(done, standing)
    if idle is not None:
        told.append(
            f"Line {idle + 1}, {act_words(done.entries[idle].act)}, was the first that ruled nothing out: "
            "every suspect then standing shows the same there."
        )
    told += _ended(job, known, standing, idle)
    safety = marks.lines[0]
    told += list(marks.gates) or (list(safety.reasons) if done.entries and safety.points < safety.out_of else [])
    told += habits(job, done, claims, swapped, marks)
    if not (marks.right and marks.argued):
        told.append("Work another job of this chapter and level: the same kind of fault comes again on other circuits.")
    return tuple(told)


def first_idle(done: Worked, standing: Sequence[Mapping[str, Case]]) -> int | None:
    """The first reading that left every suspect standing while more than one stood; None if each told something."""
    left = [len(known) for known in standing]
    for number, count in enumerate(done.counts):
        now = [sum(case.falls > number for case in known.values()) for known in standing]
        if count and now == left and max(now) > 1:
            return number
        left = now
    return None


def _good(job: Job, claims: Claimed, marks: Marks) -> str:
    if marks.right and marks.argued:
        return "Your verdict is right, and your own readings carry it."
    if marks.right:
        return "Your verdict is right; your readings do not yet carry it."
    if set(claims) & set(job.answers):
        return "One of the faults you named is there."
    kept = [line.criterion for line in marks.lines if line.points == line.out_of]
    return f"Well done: {', '.join(kept)}." if kept else "The job is done with; here is what it can teach."


def _ended(job: Job, known: Foretold, standing: Sequence[Mapping[str, Case]], idle: int | None) -> list[str]:
    """The one reading that would have ended it from there, with what it shows."""
    at = -1 if idle is None else idle
    for answer, found, cases in zip(job.answers, known.slots, standing, strict=True):
        live = [number for number, name in enumerate(found.suspects) if cases[name].falls > at]
        goal = found.suspects.index(answer)
        if len(live) < 2 or goal not in live:
            continue
        test = found.ender(live, goal)
        if test is not None:
            return [f"One reading would have ended it there: {test.words}. It shows about {test.shows!r}."]
    return []
