"""Low-draw wax actuators: a heater whose ohms rise when it is hot, so that it holds on a tenth of an ampere."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import ClassVar

from ..circuit import Guard
from . import facts
from .heated_valve import HeatedState, HeatedValve
from .stroke import Travel

__all__ = ["WaxActuator"]


@dataclass(frozen=True, slots=True, kw_only=True)
class WaxActuator(HeatedValve):
    """A wax actuator with a PTC heater, of two leads, or of four with an end switch.

    The heater has `cold_ohms` until it reaches 85 degC, then `hot_ohms` until it falls to 55: two steps for what is a
    smooth curve in a real one. The ampere readings between, cold and held, are therefore one step off at worst; the
    times of travel are fitted to the typical ranges. Source: model.
    """

    cold_ohms: float = field(default=facts.LOW_DRAW_COLD_OHMS.value, kw_only=False)
    hot_ohms: float = field(default=facts.LOW_DRAW_HOT_OHMS.value, kw_only=False)
    wax_resistance: float = facts.LOW_DRAW_RESISTANCE.value  # K/W
    wax_tau: float = facts.LOW_DRAW_TAU.value  # s

    LEADS: ClassVar[Mapping[int, tuple[str, ...]]] = {2: ("HA", "HB"), 4: ("HA", "HB", "EA", "EB")}

    @property
    def travel(self) -> Travel:
        return Travel(
            moves=facts.LOW_DRAW_MOVES_DEGC.value,
            full=facts.LOW_DRAW_FULL_DEGC.value,
            closes=facts.LOW_DRAW_CLOSES_DEGC.value,
            shut=facts.LOW_DRAW_SHUT_DEGC.value,
        )

    def heater_now(self, state: HeatedState) -> float:
        return self.hot_ohms if state.hot else self.cold_ohms

    def heater_guards(self, state: HeatedState) -> tuple[Guard, ...]:
        if state.hot:
            return (self.at_wax("heater cools", facts.LOW_DRAW_TURNS_COLD_DEGC.value, False),)
        return (self.at_wax("heater warms", facts.LOW_DRAW_TURNS_HOT_DEGC.value, True),)
