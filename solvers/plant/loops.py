"""Water: the loop behind a valve, whose pipes a hand can feel."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from ..circuit import Approach, Law, following
from . import facts
from .part import Part, Seen

__all__ = ["Loop"]


@dataclass(frozen=True, slots=True)
class Loop(Part):
    """The piping of one zone, from its valve through the emitters and back.

    At a small share of full flow the water is cool before it is round: the supply is warm and the return cold. Air
    stops the water but not the warmth that climbs into the pipe beyond an open valve. Source: model.
    """

    valve: str = "valve"  # name of the valve part
    boiler: str = "boiler"  # name of the boiler part
    ambient_degC: float = facts.INDOOR_DEGC.value
    flows: bool = True  # False: a service valve is shut
    air_bound: bool = False
    ghost: float = 0.0  # share of full flow that the circulator forces through a valve that is shut

    tier: ClassVar[int] = 1

    def __post_init__(self) -> None:
        if not 0 <= self.ghost <= 1:
            raise ValueError(f"{self.name} has ghost {self.ghost!r}; it is a share of full flow, 0 to 1")

    def start_values(self) -> dict[str, float]:
        return {f"{self.name}.supply": self.ambient_degC, f"{self.name}.return": self.ambient_degC}

    def flow(self, seen: Seen) -> float:
        """Share of full flow: what the valve lets by, or the circulator forces, while the circulator runs."""
        if not self.flows or self.air_bound or not seen.parts[self.boiler].circulating:
            return 0.0
        return max(seen.parts[self.valve].flow, self.ghost)

    def flowing(self, seen: Seen) -> bool:
        """Whether any hot water moves here."""
        return self.flow(seen) > 0

    def heat_share(self, seen: Seen) -> float:
        """What the emitters give at the flow there is, as a share of what they give at full flow."""
        flow, units = self.flow(seen), facts.PIPE_RETURN_LOSS.value
        return flow * math.expm1(-units / flow) / math.expm1(-units) if flow else 0.0

    def laws(self, state: None, seen: Seen) -> dict[str, Law]:
        supply, back, water = f"{self.name}.supply", f"{self.name}.return", f"{self.boiler}.water"
        cooling = Approach(self.ambient_degC, facts.PIPE_COOLING_TAU.value)
        flow = self.flow(seen)
        if not flow:
            still = self.air_bound and self.flows and seen.parts[self.boiler].circulating and seen.parts[self.valve].flow
            if not still:
                return {supply: cooling, back: cooling}
            gain, tau = facts.PIPE_STILL_GAIN.value, facts.PIPE_STILL_TAU.value
            return {supply: self._after(seen, water, supply, gain, tau), back: cooling}
        # The loss on the way out is nought at full flow by definition, and grows as the water takes longer.
        gain = math.exp(-facts.PIPE_SUPPLY_LOSS.value * (1 / flow - 1))
        follows = self._after(seen, water, supply, gain, facts.PIPE_TAU.value)
        kept = math.exp(-facts.PIPE_RETURN_LOSS.value / flow)
        returns = following(
            follows,
            start=seen.values[back],
            tau=facts.PIPE_RETURN_TAU.value,
            gain=kept,
            base=(1 - kept) * self.ambient_degC,
        )
        return {supply: follows, back: returns}

    def _after(self, seen: Seen, water: str, pipe: str, gain: float, tau: float) -> Law:
        path = seen.laws[water].path(seen.values[water])
        return following(path, start=seen.values[pipe], tau=tau, gain=gain, base=(1 - gain) * self.ambient_degC)
