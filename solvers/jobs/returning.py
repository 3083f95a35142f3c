"""Spaced return: a kind of question that was missed comes back, after gaps that grow. Pure; the caller says what time it is.

The gaps are a choice of this course and come from no study: soon enough to still know the slip, then after a night, then
after the next few days, then once more.
"""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from random import Random

from .job import JobError
from .strict import fields, shortened, text_of, whole_json

__all__ = ["FORMAT", "GAPS_S", "LARGEST", "BadReturning", "Missed", "Returning", "answered", "chosen", "due", "parsed", "written"]

FORMAT = "call-for-heat returning 1"
GAPS_S = (600.0, 86_400.0, 3 * 86_400.0, 8 * 86_400.0)  # s: 10 min, then 1, 3 and 8 days
LARGEST = 200_000  # bytes
MOST = 1000  # kinds
LONGEST = 200  # characters of a kind's name
LATEST = 1e12  # s since 1970; beyond any clock


class BadReturning(JobError):
    """What was kept cannot be read; the message says where and what was expected."""


@dataclass(frozen=True, slots=True)
class Missed:
    """One kind that was missed: how many of the gaps it has passed, and when it is due."""

    box: int
    due: float  # s since 1970


@dataclass(frozen=True, slots=True)
class Returning:
    """Every kind that is to come back, by its name."""

    missed: Mapping[str, Missed] = field(default_factory=dict)


def answered(kept: Returning, kind: str, right: bool, now: float) -> Returning:
    """What is kept after the first answer to a question of a kind.

    A miss puts it into the first box. A right answer to one that is due moves it on, out of the last box for good; one
    that is not due yet stays where it is, for answering at once proves little.
    """
    others = {name: one for name, one in kept.missed.items() if name != kind}
    if not right:
        return Returning({**others, kind: Missed(0, now + GAPS_S[0])})
    before = kept.missed.get(kind)
    if before is None or now < before.due:
        return kept
    box = before.box + 1
    return Returning(others if box == len(GAPS_S) else {**others, kind: Missed(box, now + GAPS_S[box])})


def due(kept: Returning, now: float) -> tuple[str, ...]:
    """The kinds whose time has come, the longest overdue first."""
    ready = [(one.due, name) for name, one in kept.missed.items() if one.due <= now]
    return tuple(name for _, name in sorted(ready))


def chosen(kept: Returning, kinds: Sequence[str], count: int, now: float, seed: str) -> tuple[str, ...]:
    """So many of these kinds, each once: those due first, then others by chance, and last those that wait for their time."""
    ready = [name for name in due(kept, now) if name in kinds]
    fresh = [name for name in kinds if name not in kept.missed]
    Random(f"{seed}/order of kinds").shuffle(fresh)
    waiting = sorted(
        (name for name in kinds if name in kept.missed and name not in ready), key=lambda name: kept.missed[name].due
    )
    return tuple([*ready, *fresh, *waiting][:count])


def parsed(text: str | bytes) -> Returning:
    """What was kept, read from its text; raises BadReturning. A kind that the course no longer has is kept all the same."""
    body = whole_json(text, "list of what returns", LARGEST, BadReturning)
    if body.get("format") != FORMAT:
        raise BadReturning(f"format is {shortened(body.get('format'))}; it must be {FORMAT!r}")
    fields(body, "the list of what returns", ("format", "missed"), BadReturning)
    missed = body["missed"]
    if not isinstance(missed, dict) or len(missed) > MOST:
        raise BadReturning(f"missed must be an object of at most {MOST} kinds; got {shortened(missed)}")
    found = {}
    for kind, one in missed.items():
        text_of(kind, "a kind in missed", LONGEST, BadReturning)
        path = f"missed[{kind!r}]"
        fields(one, path, ("box", "due"), BadReturning)
        box, when = one["box"], one["due"]
        if isinstance(box, bool) or not isinstance(box, int) or not 0 <= box < len(GAPS_S):
            raise BadReturning(f"{path}.box is {shortened(box)}; it is one of {list(range(len(GAPS_S)))}")
        if isinstance(when, bool) or not isinstance(when, int | float) or not (math.isfinite(when) and 0 <= when <= LATEST):
            raise BadReturning(f"{path}.due is {shortened(when)}; it is a time in seconds, 0 to {LATEST:g}")
        found[kind] = Missed(box, float(when))
    return Returning(found)


def written(kept: Returning) -> str:
    """The same as JSON text, readable by a person and by `parsed`."""
    missed = {kind: {"box": one.box, "due": one.due} for kind, one in sorted(kept.missed.items())}
    return json.dumps({"format": FORMAT, "missed": missed}, indent=1, ensure_ascii=False, allow_nan=False) + "\n"
