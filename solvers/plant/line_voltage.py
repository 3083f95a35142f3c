"""What line voltage is brought to: a feed from the panel, and a circulator."""

from __future__ import annotations

from dataclasses import dataclass

from ..circuit import Branch
from . import facts
from .part import Part
from .transformers import GROUND

__all__ = ["Circulator", "LineFeed"]


@dataclass(frozen=True, slots=True)
class _OnLine(Part):
    """A part with hot and neutral, and no state of its own."""

    @property
    def terminals(self) -> tuple[str, ...]:
        return (f"{self.name}.L", f"{self.name}.N")

    @property
    def line_terminals(self) -> tuple[str, ...]:
        """The terminals at which line voltage stands."""
        return self.terminals


@dataclass(frozen=True, slots=True)
class LineFeed(_OnLine):
    """Hot and neutral from the panel, its neutral bonded to ground there."""

    volts: float = facts.LINE_VOLTS.value

    def branches(self, state: None, hz: float) -> tuple[Branch, ...]:
        volts = self.volts if hz else 0.0
        return (
            Branch(f"{self.name}.source", *self.terminals, facts.LINE_OHMS.value, emf=volts),
            Branch(f"{self.name}.bond", f"{self.name}.N", GROUND, facts.BOND_OHMS.value),
        )


@dataclass(frozen=True, slots=True)
class Circulator(_OnLine):
    """A circulator on line voltage, taken as a resistor: it turns while it has its volts. Source: facts.CIRCULATOR_OHMS."""

    ohms: float = facts.CIRCULATOR_OHMS.value

    def branches(self, state: None, hz: float) -> tuple[Branch, ...]:
        return (Branch(f"{self.name}.motor", *self.terminals, self.ohms),)
