"""Valves that a heater opens by way of wax: the heater's circuit, the wax, and everything its temperature moves."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from ..circuit import OPEN, Approach, Branch, Guard, Law
from . import facts
from .part import Seen
from .stroke import Travel
from .transformers import GROUND
from .valves import Valve, ValveState

__all__ = ["HeatedState", "HeatedValve"]

_AFTER: Mapping[str, Mapping[str, bool]] = {
    "heater burns open": {"burnt": True},
    "heater lead opens": {"lead_open": True},
    "heater lead remakes": {"lead_open": False},
    "heater warms": {"hot": True},
    "heater cools": {"hot": False},
    "limit opens": {"limit_open": True},
    "limit remakes": {"limit_open": False},
    "begins to open": {"lifted": True},
    "is shut": {"lifted": False},
    "bangs shut": {"lifted": False},
    "end switch makes": {"made": True},
    "end switch opens": {"made": False},
    "is fully open": {"made": True},
    "begins to shut": {"made": False},
    "end switch parts in the heat": {"parted": True},
    "end switch joins again": {"parted": False},
}
"""What each happening leaves behind."""


@dataclass(frozen=True, slots=True)
class HeatedState(ValveState):
    """What a heated valve stands at, besides the temperature of its wax."""

    hot: bool = False  # the heater has its hot ohms
    limit_open: bool = False  # internal limit contact
    lead_open: bool = False  # a heater lead that heat opens


@dataclass(frozen=True, slots=True, kw_only=True)
class HeatedValve(Valve):
    """Heater, wax and spring. The wax follows a first-order law toward ambient plus watts times `wax_resistance`.

    No time of travel is a field. Kinds say what ohms the heater has and at which temperatures the stem travels. What
    opens the heater's circuit opens it next to its first lead. Source: model, fitted to typical ranges from memory.
    """

    wax_resistance: float = facts.WAX_RESISTANCE.value  # K/W
    wax_tau: float = facts.WAX_TAU.value  # s
    charge: float = 1.0  # share of the stroke that the wax still gives; 0 when it is lost
    heat_share: float = 1.0  # share of the heater's watts that reaches the wax
    insulation_ohms: float = OPEN  # from the heater to the metal body
    insulation_at: float = 0.0  # where along the heater, as a share from its first lead
    lead_opens_degC: float = math.inf  # a heater lead that opens when the head is so hot
    lead_remakes_degC: float = facts.HEATER_LEAD_REMAKES_DEGC.value
    switch_opens_degC: float = math.inf  # an end switch that opens again when the head is so hot

    def __post_init__(self) -> None:
        Valve.__post_init__(self)
        if not 0 <= self.insulation_at <= 1:
            raise ValueError(f"{self.name} has insulation_at {self.insulation_at!r}; it is a share of the heater, 0 to 1")
        if self.lead_remakes_degC >= self.lead_opens_degC:
            raise ValueError(
                f"{self.name} has a lead that opens at {self.lead_opens_degC!r} and remakes at {self.lead_remakes_degC!r} degC; "
                "it remakes colder than it opens"
            )

    @property
    def travel(self) -> Travel:
        """At which temperatures of the wax the stem moves."""
        raise TypeError(f"{type(self).__name__} does not say when its stem moves")

    @property
    def heater_pair(self) -> tuple[str, str]:
        """The two leads of the heater."""
        return self.drive_pair

    def heater_now(self, state: HeatedState) -> float:
        """Ohms of the heater itself in a state."""
        raise TypeError(f"{type(self).__name__} does not say its heater's ohms")

    def heater_guards(self, state: HeatedState) -> tuple[Guard, ...]:
        """What else the temperature does to the heater's circuit."""
        return ()

    def initial(self) -> HeatedState:
        return self.passed(HeatedState(engaged=self.engaged))

    def start_values(self) -> dict[str, float]:
        return {f"{self.name}.wax": self.ambient_degC}

    def heater_branches(self, state: HeatedState) -> tuple[Branch, ...]:
        """The heater in one piece, or in two where its insulation has failed between its ends."""
        (first, second), ohms = self.heater_pair, self.heater_now(state)
        broken = state.burnt or state.limit_open or state.lead_open
        if self.insulation_ohms == OPEN or self.insulation_at in (0, 1):
            return (Branch(f"{self.name}.heater", first, second, OPEN if broken else ohms),)
        tap = f"{self.name} heater tap"
        near, far = (self.insulation_at * ohms, (1 - self.insulation_at) * ohms)
        return (
            Branch(f"{self.name}.heater", first, tap, OPEN if broken else near),
            Branch(f"{self.name}.heater beyond", tap, second, far),
        )

    def body_branches(self) -> tuple[Branch, ...]:
        """The path from the heater to the body, where there is one, and from the body to ground."""
        if self.insulation_ohms == OPEN:
            return Valve.body_branches(self)
        ends = {0: self.heater_pair[0], 1: self.heater_pair[1]}
        at = ends.get(self.insulation_at, f"{self.name} heater tap")
        ohms = max(self.insulation_ohms, facts.ZERO_OHMS.value)
        return (
            Branch(f"{self.name}.insulation", at, f"{self.name}.body", ohms),
            Branch(f"{self.name}.pipe", f"{self.name}.body", GROUND, self.pipe_ohms),
        )

    def branches(self, state: HeatedState, hz: float) -> tuple[Branch, ...]:
        return (*self.heater_branches(state), *self.body_branches(), *self.switch_branches(state, hz))

    def watts(self, state: HeatedState, seen: Seen) -> float:
        """Heat made in the heater, in watts."""
        return sum(seen.amps[part.name] ** 2 * part.z for part in self.heater_branches(state) if part.z != OPEN)

    def laws(self, state: HeatedState, seen: Seen) -> dict[str, Law]:
        rise = self.watts(state, seen) * self.heat_share * self.wax_resistance
        return {f"{self.name}.wax": Approach(self.ambient_degC + rise, self.wax_tau)}

    def guards(self, state: HeatedState) -> tuple[Guard, ...]:
        found = [] if state.burnt else [self.at_wax("heater burns open", facts.HEATER_BURNS_DEGC.value, True)]
        found += self.heater_guards(state)
        if self.lead_opens_degC < math.inf:
            found.append(
                self.at_wax("heater lead remakes", self.lead_remakes_degC, False)
                if state.lead_open
                else self.at_wax("heater lead opens", self.lead_opens_degC, True)
            )
        if self.free and self.charge:
            found += self._stem_guards(state)
        if self.switch_pair and self.switch_opens_degC < math.inf:
            found.append(
                self.at_wax("end switch joins again", self.switch_opens_degC - facts.SWITCH_REMAKES_BELOW.value, False)
                if state.parted
                else self.at_wax("end switch parts in the heat", self.switch_opens_degC, True)
            )
        return tuple(found)

    def at_wax(self, happening: str, degC: float, rising: bool) -> Guard:
        """A guard on the temperature of the wax."""
        return Guard(f"{self.name} {happening}", f"{self.name}.wax", degC, rising, self.name)

    def fired(self, state: HeatedState, guard: Guard) -> HeatedState:
        happening = guard.name.removeprefix(f"{self.name} ")
        after = replace(state, **_AFTER[happening])
        at_full = happening in ("end switch makes", "is fully open")
        return replace(after, engaged=False) if at_full and self.opener == "by itself" else after

    def followed(self, state: HeatedState, values: Mapping[str, float]) -> HeatedState:
        """The state with the stroke that the wax has now reached, play between opening and closing included."""
        stroke = 0.0
        if self.free and self.charge:
            before = min(1.0, state.stroke / self.charge)
            stroke = self.charge * self.travel.reached(before, values[f"{self.name}.wax"])
        return self.passed(state if stroke == state.stroke else replace(state, stroke=stroke))

    def _stem_guards(self, state: HeatedState) -> list[Guard]:
        up, down = ("end switch makes", "end switch opens") if self.switch_pair else ("is fully open", "begins to shut")
        found = [
            self.at_wax(self.shutting, self.travel.shut, False)
            if state.lifted
            else self.at_wax("begins to open", self.travel.moves, True)
        ]
        if self.charge >= facts.SWITCH_LEAST_TRAVEL.value:
            found.append(self.at_wax(down, self.travel.closes, False) if state.made else self.at_wax(up, self.travel.full, True))
        return found
