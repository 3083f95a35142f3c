"""Paths that nobody drew: a nail through a cable, a forgotten jumper, a bare end against a box."""

from __future__ import annotations

from dataclasses import dataclass

from ..circuit import Branch
from . import facts
from .part import Part
from .transformers import GROUND

__all__ = ["Stray"]


@dataclass(frozen=True, slots=True)
class Stray(Part):
    """A resistive path between two terminals, or from one to ground, that has no terminals of its own.

    It goes away with what it belongs to: a new cable, a new part; or with the hand that takes it off where it can be seen.
    """

    a: str = ""  # terminal
    b: str = GROUND  # terminal, or ground
    ohms: float = facts.ZERO_OHMS.value
    belongs: str = ""  # cable or part whose replacement ends it; "" for one that is simply taken off
    seen_at: str = ""  # part at which a look shows it; "" for one hidden in a wall
    words: str = ""  # what the look shows

    def branches(self, state: None, hz: float) -> tuple[Branch, ...]:
        return (Branch(self.name, self.a, self.b, max(self.ohms, facts.ZERO_OHMS.value)),)
