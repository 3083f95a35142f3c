"""What line voltage is brought to: a feed from the panel, and a circulator."""

from __future__ import annotations

from dataclasses import dataclass

from ..circuit import Branch
from . import facts
from .part import Part
from .strays import Stray
from .transformers import GROUND

__all__ = ["Circulator", "LineFeed", "LineLoad", "LineTouch"]


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


@dataclass(frozen=True, slots=True)
class LineLoad(Stray):
    """A circulator on line voltage that somebody has led through a switch of the 24-volt side.

    Its hot wire comes to `a`; what joins `a` and `b` lets it run; its neutral is bonded to ground at the panel. `ohms` are
    those of the circulator. It has no terminals of its own. Source: facts.CIRCULATOR_OHMS.
    """

    ohms: float = facts.CIRCULATOR_OHMS.value

    @property
    def line_terminals(self) -> tuple[str, ...]:
        """The terminals at which line voltage stands."""
        return (self.a, self.b)

    def branches(self, state: None, hz: float) -> tuple[Branch, ...]:
        volts = facts.LINE_VOLTS.value if hz else 0.0
        neutral = f"{self.name} neutral"
        return (
            Branch(f"{self.name}.line", self.a, neutral, facts.LINE_OHMS.value, emf=volts),
            Branch(f"{self.name}.motor", self.b, neutral, self.ohms),
            Branch(f"{self.name}.bond", neutral, GROUND, facts.BOND_OHMS.value),
        )


@dataclass(frozen=True, slots=True)
class LineTouch(Stray):
    """Bare copper of a line-voltage conductor that lies against a 24-volt terminal, `a`; its neutral is bonded at the panel.

    It has no terminals of its own. Source: common practice.
    """

    ohms: float = facts.LINE_OHMS.value

    @property
    def line_terminals(self) -> tuple[str, ...]:
        """The terminal at which line voltage stands."""
        return (self.a,)

    def branches(self, state: None, hz: float) -> tuple[Branch, ...]:
        return (Branch(f"{self.name}.line", self.a, GROUND, self.ohms, emf=facts.LINE_VOLTS.value if hz else 0.0),)
