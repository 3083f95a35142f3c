"""What thermostats with electronics have beside a set-point: a mode, a program, and a menu."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import ClassVar

from . import facts
from .stat import Stat, StatState

__all__ = ["ProgrammableStat"]

PROGRAMS = ("comfort", "set-back", "vacation")

FIELDS = {"mode": "mode", "program": "program", "least time off": "least_off_s", "cycle rate": "cycles_per_hour"}
"""The field that each of its settings is kept in."""


@dataclass(frozen=True, slots=True)
class ProgrammableStat(Stat):
    """A thermostat that a mode switches, and whose set-point a program may lower for hours or days.

    In set-back a hand may still turn it up. On vacation it holds a low set-point and heeds no hand, and switched off it
    heeds nothing. Cooling is asked for by a hand alone. The program outlasts any visit. Source: common practice; model.
    """

    mode: str = "heat"  # one of MODES
    program: str = "comfort"  # one of PROGRAMS

    MODES: ClassVar[tuple[str, ...]] = ("heat", "off")

    def __post_init__(self) -> None:
        Stat.__post_init__(self)
        for what, known in (("mode", self.MODES), ("program", PROGRAMS)):
            if getattr(self, what) not in known:
                raise ValueError(f"{self.name} has {what} {getattr(self, what)!r}; there are {list(known)}")

    @property
    def clocked(self) -> bool:
        return True

    @property
    def aims_degC(self) -> float:
        low = {"set-back": facts.SET_BACK_DEGC.value, "vacation": facts.VACATION_DEGC.value}
        return min(self.set_degC, low.get(self.program, self.set_degC))

    def settings(self) -> Mapping[str, tuple]:
        own = {"mode": self.MODES, "program": PROGRAMS, "least time off": facts.LEAST_OFF_S, "cycle rate": facts.CYCLE_RATES}
        return {**Stat.settings(self), **own}

    def set_to(self, name: str, value: object) -> Stat:
        return replace(self, **{FIELDS[name]: value}) if name in FIELDS else Stat.set_to(self, name, value)

    def asked(self, state: StatState) -> bool:
        if self.mode == "off" or (self.program == "vacation" and state.turned):
            return False
        if self.mode == "cool":
            return state.turned == "down"
        return Stat.asked(self, state)

    def asks(self, state: StatState) -> bool:
        return state.calling and self.mode == "heat"

    def screen(self, state: StatState, values: Mapping[str, float]) -> str:
        if self.mode == "off":
            said = "It is switched off."
        elif self.mode == "cool":
            said = "It calls for cooling." if state.calling else "It is set to cool and does not call."
        elif state.wants and not state.calling:
            said = "It wants heat and waits."
        else:
            said = Stat.screen(self, state, values)
        program = {"set-back": " It is in set-back until 22:00.", "vacation": " It is on vacation hold."}
        return said + program.get(self.program, "")

    def menu(self) -> str:
        """What its menu is set to."""
        rate = f", {self.cycles_per_hour:g} cycles an hour" if self.cycles_per_hour else ""
        return f"Its menu says: least time off {self.least_off_s / 60:g} min{rate}."
