"""A learner's progress: which objectives were shown, on which seeds, when; and what that makes of each. Pure.

An objective counts when it has been shown twice, on different seeds, at least 24 hours apart, with no safety gate at
either. Source: a choice of this course.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import combinations

from .job import JobError
from .objectives import OBJECTIVES
from .strict import fields, listed, shortened, text_of, whole_json

__all__ = [
    "APART_S",
    "FORMAT",
    "LARGEST",
    "STATES",
    "BadProgress",
    "Progress",
    "Showing",
    "counts",
    "merged",
    "noted",
    "parsed",
    "state_of",
    "written",
]

FORMAT = "call-for-heat progress 1"
APART_S = 24 * 3600.0
LARGEST = 2_000_000  # bytes
MOST = 20_000  # showings in a file
LONGEST = 200  # characters of a seed
LATEST = 1e12  # s since 1970

STATES = ("not tried", "tried", "shown once", "shown twice", "counts")
"""What an objective can be, from least to most. "shown twice" is twice on different seeds, but too soon to count."""


class BadProgress(JobError):
    """Progress that cannot be read; the message says where and what was expected."""


@dataclass(frozen=True, slots=True, order=True)
class Showing:
    """One time an objective was tried."""

    at: float  # s since 1970
    objective: str  # a key of OBJECTIVES
    seed: str  # of the job or question, with what it belongs to
    shown: bool  # whether the objective was shown
    gate: bool = False  # a safety gate was tripped: it shows nothing then


@dataclass(frozen=True, slots=True)
class Progress:
    """What was tried, in the order of time."""

    showings: tuple[Showing, ...] = ()

    def of(self, objective: str) -> tuple[Showing, ...]:
        """What was tried of one objective; raises BadProgress for one that the course does not have."""
        if objective not in OBJECTIVES:
            raise BadProgress(f"no objective {shortened(objective)}; there are {list(OBJECTIVES)}")
        return tuple(each for each in self.showings if each.objective == objective)


def noted(progress: Progress, objectives: Iterable[str], *, seed: str, at: float, shown: bool, gate: bool = False) -> Progress:
    """The progress with these objectives tried once more; raises BadProgress for what cannot be noted.

    Of tries alike in all but their time the first and the last are kept: those between prove nothing more.
    """
    fresh = [Showing(_time(at, "at"), _objective(name, "an objective"), _seed(seed, "seed"), shown, gate) for name in objectives]
    return merged(progress, Progress(tuple(fresh)))


def merged(one: Progress, other: Progress) -> Progress:
    """Both together, without repeats: what an import does, so that nothing that counts is lost."""
    alike: dict[tuple[str, str, bool, bool], list[Showing]] = {}
    for each in sorted({*one.showings, *other.showings}):
        alike.setdefault((each.objective, each.seed, each.shown, each.gate), []).append(each)
    return Progress(tuple(sorted({end for tries in alike.values() for end in (tries[0], tries[-1])})))


def counts(progress: Progress, objective: str) -> bool:
    """Whether the objective counts."""
    clean = [each for each in progress.of(objective) if each.shown and not each.gate]
    return any(one.seed != other.seed and abs(one.at - other.at) >= APART_S for one, other in combinations(clean, 2))


def state_of(progress: Progress, objective: str) -> str:
    """One of STATES; raises BadProgress for an objective that the course does not have."""
    tried = progress.of(objective)
    if not tried:
        return STATES[0]
    if counts(progress, objective):
        return STATES[4]
    seeds = {each.seed for each in tried if each.shown and not each.gate}
    return STATES[1 + min(2, len(seeds))]


def parsed(text: str | bytes) -> Progress:
    """Progress read from its text; raises BadProgress with the path of the first fault."""
    body = whole_json(text, "progress", LARGEST, BadProgress)
    if body.get("format") != FORMAT:
        raise BadProgress(f"format is {shortened(body.get('format'))}; it must be {FORMAT!r}")
    fields(body, "the progress", ("format", "showings"), BadProgress)
    found = []
    for number, each in enumerate(listed(body["showings"], "showings", MOST, BadProgress)):
        path = f"showings[{number}]"
        fields(each, path, ("at", "objective", "seed", "shown", "gate"), BadProgress)
        for name in ("shown", "gate"):
            if not isinstance(each[name], bool):
                raise BadProgress(f"{path}.{name} is {shortened(each[name])}; it is true or false")
        at, objective = _time(each["at"], f"{path}.at"), _objective(each["objective"], f"{path}.objective")
        found.append(Showing(at, objective, _seed(each["seed"], f"{path}.seed"), each["shown"], each["gate"]))
    return merged(Progress(), Progress(tuple(found)))


def written(progress: Progress) -> str:
    """The same as JSON text, readable by a person and by `parsed`."""
    body = [
        {"at": each.at, "objective": each.objective, "seed": each.seed, "shown": each.shown, "gate": each.gate}
        for each in progress.showings
    ]
    return json.dumps({"format": FORMAT, "showings": body}, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def _time(value: object, path: str) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not (math.isfinite(value) and 0 <= value <= LATEST):
        raise BadProgress(f"{path} is {shortened(value)}; it is a time in seconds since 1970, 0 to {LATEST:g}")
    return float(value)


def _objective(value: object, path: str) -> str:
    if not isinstance(value, str) or value not in OBJECTIVES:
        raise BadProgress(f"{path} is {shortened(value)}; there are {list(OBJECTIVES)}")
    return value


def _seed(value: object, path: str) -> str:
    return text_of(value, path, LONGEST, BadProgress)
