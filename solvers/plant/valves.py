"""Zone valves: what heats, moves, opens and switches in them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from ..circuit import OPEN, Approach, Branch, Guard, Law
from . import facts
from .part import Part, Seen

__all__ = ["HeatMotorValve", "ValveState"]


@dataclass(frozen=True, slots=True)
class ValveState:
    """What a valve's head stands at, besides the temperature of its wax."""

    made: bool = False  # end switch, as the wax drives it
    stroke: float = 0.0  # 0 shut to 1 open, as the wax drives it
    engaged: bool = False  # manual opener
    burnt: bool = False  # heater open for good
    opening: float = 0.0  # how far water can pass, 0 to 1


@dataclass(frozen=True, slots=True)
class HeatMotorValve(Part):
    """A heat-motor zone valve: heater, wax, spring, end switch, manual opener; three or four leads.

    The wax follows a first-order law toward ambient plus watts times `wax_resistance`. No time of travel is a field.
    Four-wire leads are HA HB (heater) and EA EB (end switch); three-wire leads are H, S (shared) and E.
    """

    leads: int = 4  # 3 or 4
    heater_ohms: float = facts.HEATER_OHMS.value
    switch_ohms: float = facts.SWITCH_OHMS.value
    ambient_degC: float = facts.INDOOR_DEGC.value
    wax_resistance: float = facts.WAX_RESISTANCE.value  # K/W
    wax_tau: float = facts.WAX_TAU.value  # s
    end_degC: float = facts.WAX_END_DEGC.value
    heat_share: float = 1.0  # share of the heater's watts that reaches the wax
    charge: float = 1.0  # share of the stroke that the wax still gives; 0 when it is lost
    opener: str = "by hand"  # "by itself", "by hand", "by hand, makes the switch"
    engaged: bool = False  # manual opener as found

    def __post_init__(self) -> None:
        if self.leads not in (3, 4):
            raise ValueError(f"{self.name} has {self.leads!r} leads; a heat-motor valve has 3 or 4")
        if self.opener not in ("by itself", "by hand", "by hand, makes the switch"):
            raise ValueError(f"{self.name} has opener {self.opener!r}")

    @property
    def terminals(self) -> tuple[str, ...]:
        return tuple(f"{self.name}.{lead}" for lead in (("HA", "HB", "EA", "EB") if self.leads == 4 else "HSE"))

    @property
    def heater_pair(self) -> tuple[str, str]:
        """The two leads of the heater."""
        return self.terminals[0], self.terminals[1]

    @property
    def switch_pair(self) -> tuple[str, str]:
        """The two leads of the end switch; a three-wire valve shares S."""
        return self.terminals[-2], self.terminals[-1]

    def initial(self) -> ValveState:
        return ValveState(engaged=self.engaged)

    def start_values(self) -> dict[str, float]:
        return {f"{self.name}.wax": self.ambient_degC}

    def refitted(self, new: HeatMotorValve) -> HeatMotorValve:
        """A new head where this one stands: the surroundings stay."""
        return replace(new, ambient_degC=self.ambient_degC)

    def switch_made(self, state: ValveState) -> bool:
        """Whether the end switch conducts, by the wax or by an opener of the kind that makes it."""
        return state.made or (state.engaged and self.opener == "by hand, makes the switch")

    def opening(self, state: ValveState) -> float:
        """How far the valve lets water through, 0 to 1."""
        return 1.0 if state.engaged else state.stroke * self.charge

    def branches(self, state: ValveState, hz: float) -> tuple[Branch, ...]:
        heater = OPEN if state.burnt else self.heater_ohms
        return (
            Branch(f"{self.name}.heater", *self.heater_pair, heater),
            Branch(f"{self.name}.switch", *self.switch_pair, self.switch_ohms if self.switch_made(state) else OPEN),
        )

    def laws(self, state: ValveState, seen: Seen) -> dict[str, Law]:
        through = seen.amps[f"{self.name}.heater"]
        watts = through**2 * self.heater_ohms * self.heat_share if through else 0.0
        return {f"{self.name}.wax": Approach(self.ambient_degC + watts * self.wax_resistance, self.wax_tau)}

    def guards(self, state: ValveState) -> tuple[Guard, ...]:
        wax = f"{self.name}.wax"
        found = []
        if not state.burnt:
            found.append(Guard(f"{self.name} heater burns open", wax, facts.HEATER_BURNS_DEGC.value, True, self.name))
        if self.charge:
            if state.made:
                opens = self.end_degC - facts.WAX_OPENS_BELOW_END.value
                found.append(Guard(f"{self.name} end switch opens", wax, opens, False, self.name))
            else:
                found.append(Guard(f"{self.name} end switch makes", wax, self.end_degC, True, self.name))
        return tuple(found)

    def fired(self, state: ValveState, guard: Guard) -> ValveState:
        if guard.level == facts.HEATER_BURNS_DEGC.value:
            return replace(state, burnt=True)
        engaged = state.engaged and not (guard.rising and self.opener == "by itself")
        return replace(state, made=guard.rising, engaged=engaged)

    def followed(self, state: ValveState, values: Mapping[str, float]) -> ValveState:
        """The state with the stroke that the wax has now reached, play between opening and closing included."""
        wax = values[f"{self.name}.wax"]
        up = (wax - self.end_degC + facts.WAX_MOVES_BELOW_END.value) / facts.WAX_MOVES_BELOW_END.value
        closes = self.end_degC - facts.WAX_OPENS_BELOW_END.value - facts.WAX_CLOSING_SPAN.value
        down = (wax - closes) / facts.WAX_CLOSING_SPAN.value
        moved = replace(state, stroke=max(_share(up), min(state.stroke, _share(down))))
        return replace(moved, opening=self.opening(moved))


def _share(x: float) -> float:
    return min(1.0, max(0.0, x))
