"""A termination that conducts until current has warmed it, or a hand has moved it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import ClassVar

from ..circuit import OPEN, Approach, Branch, Guard, Law
from . import facts
from .part import Part, Seen

__all__ = ["LooseJoint", "LooseState"]

REMAKES = 0.3
"""Share of the warmth that opened it at which it touches again. Source: model."""


@dataclass(frozen=True, slots=True)
class LooseState:
    """Whether it conducts: warmth and a hand each open it on their own."""

    warm: bool = False  # so warm that it has parted
    moved: bool = False  # a nudge has parted it; the next one joins it


@dataclass(frozen=True, slots=True)
class LooseJoint(Part):
    """One conductor's end under a loose screw or in a loose connector.

    The conductor ends at `lead`; the joint lies between that and the `terminal` where it belongs. Its warmth follows the
    square of its amperes with `tau`, and parts it where a steady `opens_amps` would in the end. Nothing here is left to chance.
    """

    terminal: str = ""
    ohms: float = facts.SPLICE_OHMS.value  # while it touches
    opens_amps: float = math.inf  # steady amperes that part it in the end; more part it sooner
    tau: float = 300.0  # s
    nudges: bool = True  # whether a nudge parts it and joins it again

    hidden: ClassVar[bool] = True  # no place of its own for a probe

    @property
    def terminals(self) -> tuple[str, ...]:
        return (self.lead,)

    @property
    def lead(self) -> str:
        """The end of the conductor."""
        return f"{self.name}.lead"

    def initial(self) -> LooseState:
        return LooseState()

    def start_values(self) -> dict[str, float]:
        return {} if self.opens_amps == math.inf else {f"{self.name}.warmth": 0.0}

    def branches(self, state: LooseState, hz: float) -> tuple[Branch, ...]:
        parted = state.warm or state.moved
        return (Branch(f"{self.name}.joint", self.terminal, self.lead, OPEN if parted else self.ohms),)

    def laws(self, state: LooseState, seen: Seen) -> dict[str, Law]:
        if self.opens_amps == math.inf:
            return {}
        share = (seen.amps[f"{self.name}.joint"] / self.opens_amps) ** 2
        return {f"{self.name}.warmth": Approach(share, self.tau)}

    def guards(self, state: LooseState) -> tuple[Guard, ...]:
        if self.opens_amps == math.inf:
            return ()
        if state.warm:
            return (Guard(f"{self.name} touches again", f"{self.name}.warmth", REMAKES, False, self.name),)
        return (Guard(f"{self.name} parts", f"{self.name}.warmth", 1.0, True, self.name),)

    def fired(self, state: LooseState, guard: Guard) -> LooseState:
        return replace(state, warm=guard.rising)

    def nudged(self, state: LooseState, values: Mapping[str, float]) -> LooseState:
        """The state after a nudge."""
        return replace(state, moved=not state.moved) if self.nudges else state
