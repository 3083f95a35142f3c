"""Exact run of first-order variables between events: next-event times in closed form, no time step."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from .network import CircuitError
from .paths import Path

__all__ = ["TOGETHER", "Approach", "Chatter", "Event", "Guard", "Law", "Ramp", "Run", "run"]

State = TypeVar("State")


@dataclass(frozen=True, slots=True)
class Approach:
    """A variable on its way to a target: x(t) = target + (x - target) exp(-t/tau). Source: first-order law."""

    target: float
    tau: float  # seconds

    def at(self, x: float, t: float) -> float:
        """Value t seconds after x."""
        return self.target + (x - self.target) * math.exp(-t / self.tau)

    def time_to(self, x: float, level: float) -> float:
        """Seconds from x to a level; inf if it never gets there."""
        gap, left = x - self.target, level - self.target
        return self.tau * math.log(gap / left) if gap and 0 < left / gap <= 1 else math.inf

    def path(self, x: float) -> Path:
        """The same motion from x as a path that others can follow."""
        return Path(self.target, ((x - self.target, self.tau),))


@dataclass(frozen=True, slots=True)
class Ramp:
    """A variable that moves at a constant rate, a fuse element using up its time for instance."""

    rate: float  # units a second

    def at(self, x: float, t: float) -> float:
        """Value t seconds after x."""
        return x + self.rate * t

    def time_to(self, x: float, level: float) -> float:
        """Seconds from x to a level; inf if it never gets there."""
        wait = (level - x) / self.rate if self.rate else math.inf
        return wait if wait >= 0 else math.inf


Law = Approach | Ramp | Path


@dataclass(frozen=True, slots=True)
class Guard:
    """Something that happens when a variable reaches a level from one side."""

    name: str  # what happens, in words
    variable: str
    level: float
    rising: bool
    owner: str = ""  # whose it is, for whoever has to answer


@dataclass(frozen=True, slots=True)
class Event:
    """A guard that fired."""

    time: float  # seconds
    name: str


@dataclass(frozen=True, slots=True)
class Run(Generic[State]):
    """Where a run ended and what happened on the way."""

    time: float
    values: Mapping[str, float]
    state: State
    events: tuple[Event, ...]


class Chatter(CircuitError):
    """A contact that keeps opening itself: more events than time can hold. The message names it."""


TOGETHER = 1e-9
"""Seconds within which guards count as due at the same moment, so that rounding never decides their order."""


def run(
    values: Mapping[str, float],
    state: State,
    *,
    start: float,
    stop: float,
    laws: Callable[[State], Mapping[str, Law]],
    guards: Callable[[State], Sequence[Guard]],
    fired: Callable[[State, Guard], State],
    followed: Callable[[State, Mapping[str, float]], State] = lambda state, values: state,
    noticed: Callable[[State, State], Sequence[str]] = lambda before, after: (),
    resets: Callable[[State, Guard], Mapping[str, float]] = lambda state, guard: {},
    most_events: int = 10_000,
) -> Run[State]:
    """Carry the variables from `start` to `stop`, stopping exactly at every event between.

    `laws` and `guards` say what holds in a discrete state, `fired` what state follows a guard, and `followed` brings
    whatever merely follows the variables up to date, at the start, at each event and at the end; `noticed` names what
    else changed from the state before an event to the one after, and `resets` the variables that start anew with it.
    Guards that fall due together fire in written order. A guard fires when its level is met from its own side, at once
    if the variable already lies beyond it. Raises Chatter when the same state comes back without time passing.
    """
    if stop < start:
        raise CircuitError(f"cannot run from {start} s back to {stop} s")
    now, held, events = start, dict(values), []
    passed: list[State] = []  # states left since time last moved
    state = followed(state, held)
    while True:
        moving, watched = laws(state), guards(state)
        for name, law in moving.items():
            if law.__class__ is Path:
                held[name] = law.at(0.0, 0.0)
        needs = [_wait(moving.get(guard.variable), held[guard.variable], guard) for guard in watched]
        if None in needs:
            _paths_found(needs, watched, moving, stop - now)
        wait = min(needs, default=math.inf)
        if wait == math.inf or now + wait > stop:
            held = _moved(held, moving, stop - now)
            return Run(stop, held, followed(state, held), tuple(events))
        last = wait + TOGETHER
        together = [(needed, guard) for needed, guard in zip(needs, watched, strict=True) if needed <= last]
        due = together[0][1]
        passed = passed if wait == 0 else []
        if state in passed or len(events) >= most_events:
            raise Chatter(f"{due.name!r} keeps happening at {now:.3f} s without settling")
        passed.append(state)
        held = _moved(held, moving, wait)
        held.update({guard.variable: guard.level for needed, guard in together if needed})
        held.update(resets(state, due))
        now += wait
        before, state = state, followed(fired(state, due), held)
        events.append(Event(now, due.name))
        events.extend(Event(now, name) for name in noticed(before, state))


def _paths_found(needs: list[float | None], watched: Sequence[Guard], moving: Mapping[str, Law], left: float) -> None:
    """Fill in what paths need, after the rest: most of them are seen at once to come later than something else."""
    soonest = min([needed for needed in needs if needed is not None], default=math.inf)
    for place, guard in enumerate(watched):
        if needs[place] is None:
            needs[place] = moving[guard.variable].time_to(0.0, guard.level, min(soonest + TOGETHER, left))
            soonest = min(soonest, needs[place])


def _wait(law: Law | None, x: float, guard: Guard) -> float | None:
    """Seconds until a guard falls due; None for a path, whose crossing is dearer to find."""
    if x >= guard.level if guard.rising else x <= guard.level:
        return 0.0
    if isinstance(law, Path):
        return None
    return law.time_to(x, guard.level) if law else math.inf


def _moved(values: Mapping[str, float], laws: Mapping[str, Law], t: float) -> dict[str, float]:
    return {name: laws[name].at(x, t) if name in laws and t else x for name, x in values.items()}
