"""What all thermostats share: a contact from R to W, a hand on the set-point, and a room that moves the contact."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import ClassVar

from ..circuit import OPEN, Approach, Branch, Guard, Law, Path, Ramp, added
from . import facts
from .part import Part, Seen

__all__ = ["Stat", "StatState", "false_heat"]

MOUNTINGS = ("level", "askew", "draught")
"""How it sits on the wall: "draught" is warm air out of the hole behind it."""


@dataclass(frozen=True, slots=True)
class StatState:
    """What a thermostat asks for, and whether it is able to."""

    calling: bool = False  # what it asks for, and what its screen or lever says
    turned: str = ""  # "up" or "down" by a hand; "" for the room to decide
    wants: bool = False  # what the hand or the room asks for, its least time off aside
    rested: bool = True  # off for its least time
    alive: bool = True  # its electronics have supply
    burnt: bool = False  # its anticipator is open


@dataclass(frozen=True, slots=True)
class Stat(Part):
    """A thermostat that needs no supply: a contact in series, R to W.

    With a `room` it closes when what it senses falls below the set-point by half the differential and opens as far
    above. It senses the room plus a little false heat while it calls, which makes it open early: from a cycle rate, as
    electronic kinds do. Without a room only a hand moves it. Source: common practice; values from memory.
    """

    ohms: float = facts.STAT_OHMS.value
    room: str = ""  # name of the room part
    set_degC: float = facts.SET_DEGC.value
    differential: float = facts.STAT_DIFFERENTIAL.value  # K between closing and opening
    least_off_s: float = 0.0
    cycles_per_hour: float = 0.0  # at half load; 0 for no false heat
    offset: float = 0.0  # K that it senses too much: a level askew, a draught in the wall
    mounting: str = "level"  # one of MOUNTINGS
    contact: str = "follows"  # one of CONTACTS
    found_calling: bool = False  # by what it feels, for longer than a visit

    tier: ClassVar[int] = 3
    CONTACTS: ClassVar[tuple[str, ...]] = ("follows", "open", "welded")

    def __post_init__(self) -> None:
        if self.contact not in self.CONTACTS:
            *most, last = map(repr, self.CONTACTS)
            raise ValueError(f"{self.name} has contact {self.contact!r}; there are {', '.join(most)} and {last}")
        if self.mounting not in MOUNTINGS:
            raise ValueError(f"{self.name} has mounting {self.mounting!r}; there are {list(MOUNTINGS)}")

    @property
    def terminals(self) -> tuple[str, ...]:
        return (f"{self.name}.R", f"{self.name}.W")

    @property
    def supply_terminal(self) -> str:
        """Where the R conductor belongs."""
        return self.terminals[0]

    @property
    def aims_degC(self) -> float:
        """The set-point that counts now."""
        return self.set_degC

    @property
    def clocked(self) -> bool:
        """Whether it counts the seconds since it last stopped calling."""
        return bool(self.room) or self.least_off_s > 0

    def settings(self) -> Mapping[str, tuple]:
        return {"mounting": MOUNTINGS[:1]}

    def set_to(self, name: str, value: object) -> Stat:
        """Levelled, with the hole behind it sealed, it senses the room and nothing else."""
        return replace(self, mounting=value, offset=0.0)

    def initial(self) -> StatState:
        return StatState(calling=self.found_calling, wants=self.found_calling)

    def start_values(self) -> dict[str, float]:
        off = {f"{self.name}.off": 0.0} if self.clocked else {}
        if not self.room:
            return off
        return {f"{self.name}.false heat": 0.0, f"{self.name}.senses": facts.INDOOR_DEGC.value + self.offset, **off}

    def turned(self, state: StatState, *, up: bool) -> StatState:
        """The state after a hand has turned the set-point above or below anything the room can be."""
        return self.followed(replace(state, turned="up" if up else "down"), {})

    def asked(self, state: StatState) -> bool:
        """What the hand that was last on it asks for, or else the room."""
        return state.turned == "up" if state.turned else state.wants

    def followed(self, state: StatState, values: Mapping[str, float]) -> StatState:
        """The state with the call that its program, its least time off and the hand or the room make."""
        wants = self.asked(state)
        rested = state.rested or self.least_off_s <= 0
        calling = wants and rested
        if state.calling and not calling:
            rested = self.least_off_s <= 0
        if (calling, wants, rested) == (state.calling, state.wants, state.rested):
            return state
        return replace(state, calling=calling, wants=wants, rested=rested)

    def asks(self, state: StatState) -> bool:
        """Whether it asks its heating contact to close."""
        return state.calling

    def closed(self, state: StatState) -> bool:
        """Whether the contact really conducts."""
        return self.contact == "welded" or (self.contact == "follows" and self.asks(state) and state.alive and not state.burnt)

    def branches(self, state: StatState, hz: float) -> tuple[Branch, ...]:
        return (
            Branch(f"{self.name}.contact", self.supply_terminal, f"{self.name}.W", self.ohms if self.closed(state) else OPEN),
        )

    def heats(self, state: StatState, seen: Seen) -> float:
        """Where the false heat is going, in K."""
        return false_heat(self.cycles_per_hour, self.differential) if state.calling and self.cycles_per_hour else 0.0

    def laws(self, state: StatState, seen: Seen) -> dict[str, Law]:
        off: dict[str, Law] = {}
        if self.clocked:
            off = {f"{self.name}.off": Ramp(0.0 if state.calling or state.rested else 1.0)}
        if not self.room:
            return off
        heat, senses = f"{self.name}.false heat", f"{self.name}.senses"
        warming = Approach(self.heats(state, seen), facts.FALSE_HEAT_TAU.value)
        air = f"{self.room}.air"
        room = seen.laws[air].path(seen.values[air])
        sensed = added((room, warming.path(seen.values[heat]), Path(self.offset)))
        return {heat: warming, senses: sensed, **off}

    def guards(self, state: StatState) -> tuple[Guard, ...]:
        found = []
        if self.room and not state.turned:
            senses = f"{self.name}.senses"
            if state.wants:
                found.append(Guard(f"{self.name} is satisfied", senses, self.aims_degC + self.differential / 2, True, self.name))
            else:
                found.append(Guard(f"{self.name} wants heat", senses, self.aims_degC - self.differential / 2, False, self.name))
        if not state.rested:
            found.append(Guard(f"{self.name} has rested", f"{self.name}.off", self.least_off_s, True, self.name))
        return tuple(found)

    def fired(self, state: StatState, guard: Guard) -> StatState:
        if guard.variable == f"{self.name}.off":
            return self.followed(replace(state, rested=True), {})
        return self.followed(replace(state, wants=not guard.rising), {})

    def resets(self, guard: Guard) -> dict[str, float]:
        """The clock of its least time off goes back to nought once it has done its work: a call always ends with it there."""
        return {guard.variable: 0.0} if guard.variable == f"{self.name}.off" else {}

    def noticed(self, before: StatState, after: StatState) -> tuple[str, ...]:
        told = []
        if self.asks(before) != self.asks(after):
            told.append("calls" if after.calling else "stops calling")
        if before.alive != after.alive:
            told.append("screen comes back" if after.alive else "screen goes blank")
        return tuple(told)

    def screen(self, state: StatState, values: Mapping[str, float]) -> str:
        """What its scale or screen says."""
        return "It calls for heat." if self.asks(state) else "It does not call for heat."


def false_heat(cycles_per_hour: float, differential: float) -> float:
    """Kelvin of false heat that make so many cycles an hour at half load, with the model's time constant.

    From the symmetric cycle between two levels: A = d (x + 1) / (x - 1) with x = exp(half period / tau).
    """
    x = math.exp(1800.0 / cycles_per_hour / facts.FALSE_HEAT_TAU.value)
    return differential * (x + 1) / (x - 1)
