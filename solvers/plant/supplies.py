"""What feeds the 24-volt side: the transformer, and the fuse in its R leg."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..circuit import OPEN, Approach, Branch, Guard, Law, Ramp
from . import facts
from .part import Part, Seen

__all__ = ["Fuse", "FuseState", "Transformer", "TransformerState"]


@dataclass(frozen=True, slots=True)
class TransformerState:
    """Whether the transformer's own feed is on."""

    on: bool = True


@dataclass(frozen=True, slots=True)
class Transformer(Part):
    """A 120/24 V class 2 transformer, secondary only: volts behind a resistance."""

    emf: float = facts.TRANSFORMER_EMF.value  # volts rms, open circuit
    ohms: float = facts.TRANSFORMER_OHMS.value  # source impedance
    dc_ohms: float = facts.TRANSFORMER_DC_OHMS.value
    va: float = facts.TRANSFORMER_VA.value  # nameplate

    @property
    def terminals(self) -> tuple[str, ...]:
        return (f"{self.name}.R", f"{self.name}.C")

    def initial(self) -> TransformerState:
        return TransformerState()

    def branches(self, state: TransformerState, hz: float) -> tuple[Branch, ...]:
        r, c = self.terminals
        if hz == 0:
            return (Branch(f"{self.name}.winding", r, c, self.dc_ohms),)
        return (Branch(f"{self.name}.winding", r, c, self.ohms, emf=self.emf if state.on else 0.0),)


@dataclass(frozen=True, slots=True)
class FuseState:
    """Whether the link has opened."""

    blown: bool = False


@dataclass(frozen=True, slots=True)
class Fuse(Part):
    """A fuse in the R leg with a time-current law. Source: facts.FUSE_CURVE."""

    amps: float = facts.FUSE_AMPS.value
    ohms: float = facts.FUSE_OHMS.value
    blown: bool = False  # as found

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
        seconds = math.inf if state.blown else self.seconds_at(seen.amps[f"{self.name}.link"])
        # A fuse that is not being used up cools within a minute or so.
        return {f"{self.name}.used": Approach(0.0, 60.0) if seconds == math.inf else Ramp(1 / seconds)}

    def guards(self, state: FuseState) -> tuple[Guard, ...]:
        return () if state.blown else (Guard(f"{self.name} opens", f"{self.name}.used", 1.0, True, self.name),)

    def fired(self, state: FuseState, guard: Guard) -> FuseState:
        return FuseState(blown=True)

    def seconds_at(self, amps: float) -> float:
        """Seconds from cold to open at a steady current; inf below 1.35 times the rating."""
        times = amps / self.amps
        (first, longest), *_, (last, shortest) = facts.FUSE_CURVE
        if times < first:
            return math.inf
        if times >= last:
            return shortest
        for (x0, t0), (x1, t1) in zip(facts.FUSE_CURVE, facts.FUSE_CURVE[1:], strict=False):
            if times < x1:
                return t0 * (t1 / t0) ** (math.log(times / x0) / math.log(x1 / x0))
        return longest
