"""Thermostats: a contact in series, whatever moves it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..circuit import OPEN, Branch
from . import facts
from .part import Part

__all__ = ["Stat", "StatState"]


@dataclass(frozen=True, slots=True)
class StatState:
    """Whether the thermostat calls."""

    calling: bool = False


@dataclass(frozen=True, slots=True)
class Stat(Part):
    """A thermostat that needs no supply: a contact in series, R to W."""

    ohms: float = facts.STAT_OHMS.value

    @property
    def terminals(self) -> tuple[str, ...]:
        return (f"{self.name}.R", f"{self.name}.W")

    def initial(self) -> StatState:
        return StatState()

    def branches(self, state: StatState, hz: float) -> tuple[Branch, ...]:
        return (Branch(f"{self.name}.contact", *self.terminals, self.ohms if state.calling else OPEN),)

    def turned(self, state: StatState, *, up: bool) -> StatState:
        """The state after a hand has turned the set-point above or below anything the room can be."""
        return replace(state, calling=up)
