"""Water: the loop behind a valve, whose pipe a hand can feel."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ..circuit import Approach, Law, following
from . import facts
from .part import Part, Seen

__all__ = ["Loop"]


@dataclass(frozen=True, slots=True)
class Loop(Part):
    """The piping of one zone, from its valve through the emitters and back."""

    valve: str = "valve"  # name of the valve part
    boiler: str = "boiler"  # name of the boiler part
    ambient_degC: float = facts.INDOOR_DEGC.value
    flows: bool = True  # False: air-bound, or a service valve is shut

    tier: ClassVar[int] = 1

    def start_values(self) -> dict[str, float]:
        return {f"{self.name}.supply": self.ambient_degC}

    def flowing(self, seen: Seen) -> bool:
        """Whether hot water moves here: the boiler is called, the valve lets through, nothing blocks."""
        return self.flows and seen.parts[self.boiler].called and seen.parts[self.valve].opening > 0.05

    def laws(self, state: None, seen: Seen) -> dict[str, Law]:
        pipe, water = f"{self.name}.supply", f"{self.boiler}.water"
        start, tau = seen.values[pipe], facts.PIPE_TAU.value
        if not self.flowing(seen):
            return {pipe: Approach(self.ambient_degC, facts.PIPE_COOLING_TAU.value)}
        return {pipe: following(seen.laws[water].path(seen.values[water]), start=start, tau=tau)}
