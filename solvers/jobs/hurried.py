"""A wiring in a hurry: a second stat is turned while what the first one began is still on its way."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace

from ..plant.running import waited
from ..plant.wiring import Installation
from .steps import Haste, Settled, Step, left_alone, seen_in, turned

__all__ = ["FEW_STATS", "hurried", "hurries"]

FEW_STATS = 3  # up to so many, everything is tried
MOMENT_S = 1.0
"""Relays have answered by then, and every valve stands where it stood."""


def hurries(stats: Sequence[str]) -> int:
    """How many hurried steps a sound wiring with these stats is run through."""
    count = len(stats)
    if count <= FEW_STATS:
        return 2 * 2**count * count * count
    return 2 * (8 * count * (count - 1) + 4 * count)


def hurried(
    installation: Installation,
    stats: Sequence[str],
    steps: Sequence[Step],
    known: Mapping[tuple[str, ...], Sequence[Settled]],
    told: Callable[[], None] = lambda: None,
) -> tuple[Step, ...]:
    """Two turns with no rest between, from each settled state: one stat, and a moment or half its time later another or the same.

    Half its time is half of what the first turn alone takes until the last thing has happened: wax is warm by then, or a
    switch still made. With more than three stats every two are tried while all the others are down, and while all the
    others are up: 528 steps for six stats in place of 4608, which would take longer than anybody waits. What needs a
    third stat up and a fourth one down is left to the settled steps. A first turn that by itself ends in something blown
    or restless is not hurried on: its own step tells that. `known` holds the settled states met for each set of calls.
    """
    found: list[Step] = []
    for step in steps:
        changed = {*step.before.calls} ^ {*step.after.calls}
        if len(changed) > 1 or step.after.gone or step.after.chattering:
            continue
        (first,) = changed
        seconds = tuple(second for second in stats if _is_tried(stats, step.before.calls, first, second))
        for gap, midway in _moments(installation, step) if seconds else ():
            for second in seconds:
                calls = tuple(stat for stat in stats if (stat in midway.calls) != (stat == second))
                found.append(_hurried(installation, midway, calls, Haste(first, second, gap), known.get(calls, ())))
                told()
    return tuple(found)


def _is_tried(stats: Sequence[str], calls: tuple[str, ...], first: str, second: str) -> bool:
    others = {*stats} - {first, second}
    return len(stats) <= FEW_STATS or not others & {*calls} or others <= {*calls}


def _moments(installation: Installation, step: Step) -> Iterator[tuple[float, Settled]]:
    """A moment after the turn of a step, and half-way to its last event; one of the two where they are the same."""
    half = step.events[-1].time / 2 if step.events else 0.0
    state = step.at_once.state
    for gap in (MOMENT_S, half) if half > MOMENT_S else (MOMENT_S,):
        state, _ = waited(installation, state, gap - state.time)
        yield gap, seen_in(installation, state, step.after.calls)


def _hurried(installation: Installation, midway: Settled, calls: tuple[str, ...], haste: Haste, known: Sequence[Settled]) -> Step:
    state = turned(installation, midway, calls)
    events, after = left_alone(installation, state, calls, known)
    at_once = replace(seen_in(installation, state, calls), haste=haste)
    if all(after is not other for other in known):
        after = replace(after, haste=haste)
    return Step(midway, at_once, events, after)
