"""What a learner may argue from: readings of what was there, not what new parts and repairs have shown."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from functools import partial

from .evidence import Case, Explained, cases
from .job import Job
from .treating import ended
from .working import Worked, worked

__all__ = ["argued"]


def argued(job: Job, done: Worked, fruitless: Collection[int] = ()) -> tuple[Mapping[str, Case], ...]:
    """Every suspect's case for each of the job's faults, by id, held against what was read before that fault was gone.

    `fruitless` are the lines at which a good part was replaced: the log is gone through without them, since that a new
    part changed nothing is no reading of the old one. Lines keep their numbers.
    """
    kept = [number for number in range(len(done.entries)) if number not in fruitless]
    log = done.entries
    if fruitless:
        again, _ = worked(job, tuple(done.entries[number] for number in kept))
        log, kept = again.entries, kept[: len(again.entries)]
    found = []
    for slot in range(len(job.faults)):
        gone = ended(job, done, slot)
        before = len(log) if gone is None else sum(number < gone for number in kept)
        found.append({case.suspect.id: _numbered(case, kept) for case in cases(job, log[:before], slot)})
    return tuple(found)


def _numbered(case: Case, lines: Sequence[int]) -> Case:
    """A case with the numbers of the whole log."""
    falls = lines[int(case.falls)] if math.isfinite(case.falls) else math.inf
    return Case(case.suspect, falls, partial(_renumbered, case, lines))


def _renumbered(case: Case, lines: Sequence[int]) -> Explained:
    return case.size, tuple(replace(one, line=lines[one.line]) for one in case.contradictions)
