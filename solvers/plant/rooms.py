"""Rooms: air that the loop's water warms and the weather cools."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ..circuit import Approach, Law, following
from . import facts
from .part import Part, Seen

__all__ = ["Room"]


@dataclass(frozen=True, slots=True)
class Room(Part):
    """One zone's air: first order toward the weather, plus what its emitters give for every kelvin of water.

    The water does not feel the room: its own law already has the emitters' draw in it. Source: model.
    """

    loop: str = "loop"  # name of the loop part
    boiler: str = "boiler"
    outdoor_degC: float = facts.OUTDOOR_DEGC.value
    start_degC: float = facts.INDOOR_DEGC.value
    tau: float = facts.ROOM_TAU.value  # s
    gain: float = facts.ROOM_GAIN.value  # K above outdoors for each K of water above indoors

    tier: ClassVar[int] = 2

    def start_values(self) -> dict[str, float]:
        return {f"{self.name}.air": self.start_degC}

    def laws(self, state: None, seen: Seen) -> dict[str, Law]:
        air, water = f"{self.name}.air", f"{self.boiler}.water"
        start = seen.values[air]
        gain = self.gain * seen.emitting.get(self.loop, 0.0)
        if not gain:
            return {air: Approach(self.outdoor_degC, self.tau)}
        path = seen.laws[water].path(seen.values[water])
        base = self.outdoor_degC - gain * facts.INDOOR_DEGC.value
        return {air: following(path, start=start, tau=self.tau, gain=gain, base=base)}
