"""Heat-motor zone valves: a heater of about 30 ohm, wax, spring, perhaps a limit contact inside."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache

from ..circuit import Guard
from . import facts
from .heated_valve import HeatedState, HeatedValve
from .stroke import Travel

__all__ = ["LIMITS", "HeatMotorValve"]

LIMITS = ("none", "fitted", "open", "welded")
"""What the limit contact inside a head may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HeatMotorValve(HeatedValve):
    """A heat-motor zone valve of two, three or four leads.

    A head for another voltage is one of other ohms. The limit contact, where fitted, takes the heater off 15 K above
    the end of travel and puts it on again 10 K lower, so that the amperes come and go while the end switch stays made.
    """

    heater_ohms: float = field(default=facts.HEATER_OHMS.value, kw_only=False)
    cold_ohms: float = 0.0  # heater below 55 degC; 0 for the same as warm
    end_degC: float = facts.WAX_END_DEGC.value
    limit: str = "none"  # one of LIMITS

    def __post_init__(self) -> None:
        HeatedValve.__post_init__(self)
        if self.limit not in LIMITS:
            raise ValueError(f"{self.name} has limit {self.limit!r}; there are {list(LIMITS)}")

    @property
    def travel(self) -> Travel:
        return _travel(self.end_degC)

    def initial(self) -> HeatedState:
        return self.passed(HeatedState(engaged=self.engaged, limit_open=self.limit == "open"))

    def heater_now(self, state: HeatedState) -> float:
        return self.cold_ohms if self.cold_ohms and not state.hot else self.heater_ohms

    def heater_guards(self, state: HeatedState) -> tuple[Guard, ...]:
        found = []
        if self.cold_ohms:
            cools, warms = facts.HEATER_COOL_DEGC.value, facts.HEATER_WARM_DEGC.value
            found.append(self.at_wax("heater cools", cools, False) if state.hot else self.at_wax("heater warms", warms, True))
        if self.limit == "fitted":
            opens = self.end_degC + facts.LIMIT_OPENS_ABOVE_END.value
            remakes = self.end_degC + facts.LIMIT_REMAKES_ABOVE_END.value
            found.append(
                self.at_wax("limit remakes", remakes, False) if state.limit_open else self.at_wax("limit opens", opens, True)
            )
        return tuple(found)


@lru_cache(maxsize=256)
def _travel(end_degC: float) -> Travel:
    """The travel that ends at a temperature. Asked for at every event, and always the same for a head."""
    closes = end_degC - facts.WAX_OPENS_BELOW_END.value
    return Travel(
        moves=end_degC - facts.WAX_MOVES_BELOW_END.value,
        full=end_degC,
        closes=closes,
        shut=closes - facts.WAX_CLOSING_SPAN.value,
    )
