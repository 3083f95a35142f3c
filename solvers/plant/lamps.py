"""Lamps: the plainest load, for learning what a switch in series does."""

from __future__ import annotations

from dataclasses import dataclass

from ..circuit import Branch
from . import facts
from .part import Part

__all__ = ["Lamp"]


@dataclass(frozen=True, slots=True)
class Lamp(Part):
    """A 24 V lamp of about 20 W, taken as the ohms of its hot filament in every state. Source: facts.LAMP_OHMS."""

    ohms: float = facts.LAMP_OHMS.value

    @property
    def terminals(self) -> tuple[str, ...]:
        return (f"{self.name}.A", f"{self.name}.B")

    def initial(self) -> None:
        return None

    def branches(self, state: None, hz: float) -> tuple[Branch, ...]:
        return (Branch(f"{self.name}.filament", *self.terminals, self.ohms),)
