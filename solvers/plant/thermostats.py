"""The kinds of thermostat, by what they need to stay alive and what that does to the circuit."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import ClassVar

from ..circuit import OPEN, Approach, Branch, Guard, Law, Ramp
from . import facts
from .part import Seen
from .programmable import ProgrammableStat
from .stat import Stat, StatState

__all__ = ["AnticipatorStat", "BatteryStat", "CPoweredStat", "PowerStealingStat", "TriacStat", "TwoSupplyStat"]


@dataclass(frozen=True, slots=True)
class AnticipatorStat(Stat):
    """A mechanical thermostat whose anticipator stands in series with the contact: 0.12 W at the amperes it is set to."""

    set_amps: float = facts.ANTICIPATOR_AMPS.value
    burnt: bool = False  # found open

    def initial(self) -> StatState:
        return replace(Stat.initial(self), burnt=self.burnt)

    def settings(self) -> Mapping[str, tuple]:
        return {**Stat.settings(self), "anticipator": facts.ANTICIPATOR_MARKS}

    def set_to(self, name: str, value: object) -> Stat:
        return replace(self, set_amps=value) if name == "anticipator" else Stat.set_to(self, name, value)

    @property
    def anticipator_ohms(self) -> float:
        """Ohms of the element at its setting."""
        return facts.ANTICIPATOR_WATTS.value / self.set_amps**2

    def start_values(self) -> dict[str, float]:
        return {**Stat.start_values(self), f"{self.name}.overload": 0.0}

    def closed(self, state: StatState) -> bool:
        return self.contact == "welded" or (self.contact == "follows" and state.calling)

    def branches(self, state: StatState, hz: float) -> tuple[Branch, ...]:
        inside = f"{self.name} inside"
        return (
            Branch(f"{self.name}.contact", f"{self.name}.R", inside, self.ohms if self.closed(state) else OPEN),
            Branch(f"{self.name}.anticipator", inside, f"{self.name}.W", OPEN if state.burnt else self.anticipator_ohms),
        )

    def heats(self, state: StatState, seen: Seen) -> float:
        watts = seen.amps[f"{self.name}.anticipator"] ** 2 * self.anticipator_ohms
        return watts * facts.ANTICIPATOR_RESISTANCE.value

    def laws(self, state: StatState, seen: Seen) -> dict[str, Law]:
        over = seen.amps[f"{self.name}.anticipator"] >= facts.ANTICIPATOR_BURNS_TIMES.value * self.set_amps
        overload: Law = Ramp(1.0) if over else Approach(0.0, 1.0)
        return {**Stat.laws(self, state, seen), f"{self.name}.overload": overload}

    def guards(self, state: StatState) -> tuple[Guard, ...]:
        if state.burnt:
            return Stat.guards(self, state)
        seconds = facts.ANTICIPATOR_BURNS_S.value
        burns = Guard(f"{self.name} anticipator burns open", f"{self.name}.overload", seconds, True, self.name)
        return (*Stat.guards(self, state), burns)

    def fired(self, state: StatState, guard: Guard) -> StatState:
        if guard.variable == f"{self.name}.overload":
            return replace(state, burnt=True)
        return Stat.fired(self, state, guard)


@dataclass(frozen=True, slots=True)
class BatteryStat(ProgrammableStat):
    """A thermostat on two cells: its relay clicks and moves only while they hold under the pulse.

    The relay latches. A "frozen" one was closed when the cells died, and moves again once there are new ones.
    """

    cell_volts: float = facts.CELLS_VOLTS.value  # both, under the relay's pulse
    cells_rest_volts: float = facts.CELLS_REST_VOLTS.value  # both, nothing drawn
    relay_works: bool = True

    CONTACTS: ClassVar[tuple[str, ...]] = (*Stat.CONTACTS, "frozen")

    @property
    def fed(self) -> bool:
        """Whether the cells move the relay."""
        return self.cell_volts >= facts.CELLS_DROP_VOLTS.value

    def with_new_cells(self) -> BatteryStat:
        """The same thermostat on fresh cells."""
        return replace(self, cell_volts=facts.CELLS_VOLTS.value, cells_rest_volts=facts.CELLS_REST_VOLTS.value)

    def closed(self, state: StatState) -> bool:
        if self.contact == "frozen" and not self.fed:
            return True
        moves = self.contact in ("follows", "frozen") and self.fed and self.relay_works
        return self.contact == "welded" or (moves and self.asks(state))

    def screen(self, state: StatState, values: Mapping[str, float]) -> str:
        if self.cell_volts < facts.CELLS_BLANK_VOLTS.value:
            return "The screen is blank."
        low = " A battery sign shows." if self.cell_volts < facts.CELLS_WARN_VOLTS.value else ""
        return ProgrammableStat.screen(self, state, values) + low

    def cells_text(self) -> str:
        """What a meter on its cells shows at rest, and at the least while its relay is pulsed."""
        return f"Its cells have {self.cells_rest_volts:.1f} V at rest and {self.cell_volts:.1f} V while it clicks."


@dataclass(frozen=True, slots=True)
class _Electronic(ProgrammableStat):
    """A thermostat whose electronics live on the circuit, hold out for a while without it, and then go blank."""

    @property
    def holds_s(self) -> float:
        """How long it lives on what it has stored."""
        raise TypeError(f"{type(self).__name__} does not say how long it lives on its store")

    def fed(self, seen: Seen) -> bool:
        """Whether the circuit keeps it alive."""
        raise TypeError(f"{type(self).__name__} does not say how it is fed")

    def start_values(self) -> dict[str, float]:
        return {**Stat.start_values(self), f"{self.name}.starving": 0.0}

    def laws(self, state: StatState, seen: Seen) -> dict[str, Law]:
        filling = Approach(0.0, facts.SCREEN_RETURNS_S.value / 3)
        law: Law = filling if self.fed(seen) else Ramp(1.0 if state.alive else 0.0)
        return {**Stat.laws(self, state, seen), f"{self.name}.starving": law}

    def guards(self, state: StatState) -> tuple[Guard, ...]:
        starving = f"{self.name}.starving"
        if state.alive:
            mine = Guard(f"{self.name} starves", starving, self.holds_s, True, self.name)
        else:
            mine = Guard(f"{self.name} is fed again", starving, self.holds_s * math.exp(-3), False, self.name)
        return (*Stat.guards(self, state), mine)

    def fired(self, state: StatState, guard: Guard) -> StatState:
        if guard.variable == f"{self.name}.starving":
            return replace(state, alive=not guard.rising)
        return Stat.fired(self, state, guard)

    def screen(self, state: StatState, values: Mapping[str, float]) -> str:
        return ProgrammableStat.screen(self, state, values) if state.alive else "The screen is blank."


@dataclass(frozen=True, slots=True)
class CPoweredStat(_Electronic):
    """A thermostat fed from R and C, with its contact R to W. Below 16 V it goes blank and the contact opens."""

    supply_ohms: float = facts.C_STAT_OHMS.value

    @property
    def holds_s(self) -> float:
        return facts.C_STAT_HOLDS_S.value

    @property
    def terminals(self) -> tuple[str, ...]:
        return (f"{self.name}.R", f"{self.name}.W", f"{self.name}.C")

    def branches(self, state: StatState, hz: float) -> tuple[Branch, ...]:
        supply = OPEN if hz == 0 else self.supply_ohms  # electronics behind a rectifier: nothing to an ohmmeter
        return (*Stat.branches(self, state, hz), Branch(f"{self.name}.supply", f"{self.name}.R", f"{self.name}.C", supply))

    def fed(self, seen: Seen) -> bool:
        return seen.amps[f"{self.name}.supply"] * self.supply_ohms >= facts.C_STAT_BLANK_VOLTS.value


@dataclass(frozen=True, slots=True)
class PowerStealingStat(_Electronic):
    """A thermostat without C that lives on what it draws through the load; without a path it starves in a minute."""

    off_ohms: float = facts.STEALING_OHMS.value
    store_s: float = facts.STEALING_STARVES_S.value

    @property
    def holds_s(self) -> float:
        return self.store_s

    def branches(self, state: StatState, hz: float) -> tuple[Branch, ...]:
        (contact,) = Stat.branches(self, state, hz)
        steals = OPEN if hz == 0 else self.off_ohms
        return contact, Branch(f"{self.name}.supply", f"{self.name}.R", f"{self.name}.W", steals)

    def fed(self, seen: Seen) -> bool:
        through = max(seen.amps[f"{self.name}.supply"], seen.amps[f"{self.name}.contact"])
        return through >= facts.STEALING_LEAST_AMPS.value


@dataclass(frozen=True, slots=True)
class TriacStat(CPoweredStat):
    """A C-powered thermostat that switches with a triac: about a volt across it closed, a leak through it open."""

    ohms: float = facts.TRIAC_ON_OHMS.value
    leak_ohms: float = facts.TRIAC_OFF_OHMS.value

    def branches(self, state: StatState, hz: float) -> tuple[Branch, ...]:
        leak = OPEN if hz == 0 else self.leak_ohms
        return (*CPoweredStat.branches(self, state, hz), Branch(f"{self.name}.leak", f"{self.name}.R", f"{self.name}.W", leak))


@dataclass(frozen=True, slots=True)
class TwoSupplyStat(ProgrammableStat):
    """A thermostat with Rh for heating and Rc for cooling, joined by a factory jumper while it is there.

    Its heating contact stands between Rh and W, its cooling contact between Rc and Y: with R on Rc and no jumper the
    screen says heat and nothing closes the loop. Source: common practice.
    """

    jumper: bool = True

    MODES: ClassVar[tuple[str, ...]] = ("heat", "off", "cool")

    @property
    def terminals(self) -> tuple[str, ...]:
        return tuple(f"{self.name}.{letter}" for letter in ("Rh", "W", "Rc", "Y"))

    def settings(self) -> Mapping[str, tuple]:
        return {**ProgrammableStat.settings(self), "jumper": ("in place", "missing")}

    def set_to(self, name: str, value: object) -> Stat:
        return replace(self, jumper=value == "in place") if name == "jumper" else ProgrammableStat.set_to(self, name, value)

    def branches(self, state: StatState, hz: float) -> tuple[Branch, ...]:
        joined = facts.ZERO_OHMS.value if self.jumper else OPEN
        cools = self.ohms if self.mode == "cool" and state.calling else OPEN
        return (
            *Stat.branches(self, state, hz),
            Branch(f"{self.name}.jumper", f"{self.name}.Rc", f"{self.name}.Rh", joined),
            Branch(f"{self.name}.cooling", f"{self.name}.Rc", f"{self.name}.Y", cools),
        )
