"""What opens by itself when too much flows: fuses, and breakers that can be pushed in again."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from ..circuit import OPEN, Approach, Branch, Guard, Law, Ramp
from . import facts
from .part import Part, Seen

__all__ = ["Breaker", "BreakerState", "Fuse", "FuseState", "opening_law", "opening_seconds"]

COOLS = 60.0
"""Seconds in which an element that is not being used up forgets most of its past."""


def opening_seconds(times: float) -> float:
    """Seconds from cold to open at a steady current of so many times the rating; inf where it holds for ever.

    Straight lines on log-log paper between the points of facts.FUSE_CURVE.
    """
    (first, longest), *_, (last, shortest) = facts.FUSE_CURVE
    if times < first:
        return math.inf
    if times >= last:
        return shortest
    for (x0, t0), (x1, t1) in zip(facts.FUSE_CURVE, facts.FUSE_CURVE[1:], strict=False):
        if times < x1:
            return t0 * (t1 / t0) ** (math.log(times / x0) / math.log(x1 / x0))
    return longest


def opening_law(times: float) -> Law:
    """How the share of an element's life that is used up moves at so many times its rating; at 1 it opens."""
    seconds = opening_seconds(times)
    return Approach(0.0, COOLS) if seconds == math.inf else Ramp(1 / seconds)


@dataclass(frozen=True, slots=True)
class FuseState:
    """Whether the link has opened."""

    blown: bool = False


@dataclass(frozen=True, slots=True)
class Fuse(Part):
    """A fuse in the R leg with a time-current law; blown stays blown. Source: facts.FUSE_CURVE."""

    amps: float = facts.FUSE_AMPS.value
    ohms: float = facts.FUSE_OHMS.value
    blown: bool = False  # as found
    left: float = 1.0  # share of its rating that an aged link still carries

    @property
    def terminals(self) -> tuple[str, ...]:
        return (f"{self.name}.in", f"{self.name}.out")

    def initial(self) -> FuseState:
        return FuseState(self.blown)

    def start_values(self) -> dict[str, float]:
        return {f"{self.name}.used": 0.0}

    def branches(self, state: FuseState, hz: float) -> tuple[Branch, ...]:
        return (Branch(f"{self.name}.link", *self.terminals, OPEN if state.blown else self.ohms),)

    def laws(self, state: FuseState, seen: Seen) -> dict[str, Law]:
        times = 0.0 if state.blown else seen.amps[f"{self.name}.link"] / (self.amps * self.left)
        return {f"{self.name}.used": opening_law(times)}

    def guards(self, state: FuseState) -> tuple[Guard, ...]:
        return () if state.blown else (Guard(f"{self.name} opens", f"{self.name}.used", 1.0, True, self.name),)

    def fired(self, state: FuseState, guard: Guard) -> FuseState:
        return replace(state, blown=True)

    def seconds_at(self, amps: float) -> float:
        """Seconds from cold to open at a steady current; inf below 1.35 times what the link carries."""
        return opening_seconds(amps / (self.amps * self.left))


@dataclass(frozen=True, slots=True)
class BreakerState:
    """Whether the button stands out."""

    tripped: bool = False


@dataclass(frozen=True, slots=True)
class Breaker(Part):
    """A push-to-reset breaker with a fuse's time-current law; it stays tripped until somebody pushes it in."""

    amps: float = facts.BREAKER_AMPS.value
    ohms: float = facts.BREAKER_OHMS.value
    tripped: bool = False  # as found

    @property
    def terminals(self) -> tuple[str, ...]:
        return (f"{self.name}.in", f"{self.name}.out")

    def initial(self) -> BreakerState:
        return BreakerState(self.tripped)

    def start_values(self) -> dict[str, float]:
        return {f"{self.name}.used": 0.0}

    def branches(self, state: BreakerState, hz: float) -> tuple[Branch, ...]:
        return (Branch(f"{self.name}.contact", *self.terminals, OPEN if state.tripped else self.ohms),)

    def laws(self, state: BreakerState, seen: Seen) -> dict[str, Law]:
        times = 0.0 if state.tripped else seen.amps[f"{self.name}.contact"] / self.amps
        return {f"{self.name}.used": opening_law(times)}

    def guards(self, state: BreakerState) -> tuple[Guard, ...]:
        return () if state.tripped else (Guard(f"{self.name} trips", f"{self.name}.used", 1.0, True, self.name),)

    def fired(self, state: BreakerState, guard: Guard) -> BreakerState:
        return replace(state, tripped=True)

    def reset(self, state: BreakerState) -> BreakerState:
        """The state after a finger has pushed the button in; one still hot trips the sooner."""
        return replace(state, tripped=False)
