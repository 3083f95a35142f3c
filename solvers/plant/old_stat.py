"""A joint that is none: its two conductors go off to a thermostat that somebody has forgotten."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from ..circuit import OPEN, Branch, Guard
from . import facts
from .joints import Splice

__all__ = ["OldStat", "OldStatState"]


@dataclass(frozen=True, slots=True)
class OldStatState:
    """Whether its contact is closed."""

    closed: bool = False


@dataclass(frozen=True, slots=True)
class OldStat(Splice):
    """A splice whose last way goes through the contact of an old thermostat, set back and left in series.

    With a room it closes once the air is as cold as its low set-point, so both must call for heat; without one nobody
    ever turns it up. A new joint in its place leaves it out. Source: common practice; values from memory.
    """

    room: str = ""  # name of the room part
    set_degC: float = facts.SET_BACK_DEGC.value
    differential: float = facts.STAT_DIFFERENTIAL.value

    tier: ClassVar[int] = 3

    def initial(self) -> OldStatState:
        return OldStatState()

    def branches(self, state: OldStatState | None, hz: float) -> tuple[Branch, ...]:
        """Its ways; as it is found, the contact is open."""
        *others, last = Splice.branches(self, None, hz)
        closed = state is not None and state.closed
        return (*others, replace(last, z=last.z + facts.STAT_OHMS.value if closed else OPEN))

    def guards(self, state: OldStatState) -> tuple[Guard, ...]:
        if not self.room:
            return ()
        half = self.differential / 2
        if state.closed:
            return (Guard(f"{self.name} opens", f"{self.room}.air", self.set_degC + half, True, self.name),)
        return (Guard(f"{self.name} closes", f"{self.room}.air", self.set_degC - half, False, self.name),)

    def fired(self, state: OldStatState, guard: Guard) -> OldStatState:
        return OldStatState(not guard.rising)
