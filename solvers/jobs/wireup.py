"""A wire-up as data: parts on the bench, criteria, questions; and the sizes that the tasks share.

Sizes are typical, from memory.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..plant.parts import HeatMotorValve, Part, Transformer
from ..plant.wiring import Enclosure, Installation
from .criteria import Feeds
from .findings import Criterion
from .wiring_answer import Wiring, wired
from .wiring_questions import Question

__all__ = ["WireUp", "fed", "forty", "heat_motor", "seventy_five"]


@dataclass(frozen=True, slots=True)
class WireUp:
    """One wiring task: what lies on the bench and what it has to do in the end."""

    id: str
    title: str
    brief: str
    parts: tuple[Part, ...]
    criteria: tuple[Criterion, ...]
    minutes: int
    gauges: tuple[int, ...] = (18, 20)  # AWG, in the bag
    questions: tuple[Question, ...] = ()  # before power
    enclosures: tuple[Enclosure, ...] = ()
    found: Wiring | None = None  # what is wired already

    def made(self, wiring: Wiring) -> Installation:
        """The installation that a wiring makes of the parts; raises BadWiring for what cannot be."""
        return wired(self.parts, wiring, enclosures=self.enclosures, name=f"{self.id}: {self.title}")

    @property
    def terminals(self) -> tuple[str, ...]:
        """Every terminal of the parts, in order."""
        return tuple(terminal for part in self.parts for terminal in part.terminals)


def forty(name: str = "transformer") -> Transformer:
    """A 40 VA transformer."""
    return Transformer(name, emf=27.5, ohms=2.1, dc_ohms=0.9)


def seventy_five(name: str = "transformer") -> Transformer:
    """A 75 VA transformer."""
    return Transformer(name, emf=27.0, ohms=0.96, dc_ohms=0.45, va=75.0)


def heat_motor(zone: int, leads: int) -> HeatMotorValve:
    """A high-draw heat motor of so many leads: 30 ohm, about a minute and a half to open at 20 degC."""
    return HeatMotorValve(
        f"zone{zone}.valve", leads, heater_ohms=30.0, ambient_degC=20.0, wax_resistance=6.0, wax_tau=110.0, end_degC=90.0
    )


def fed(zones: Sequence[int]) -> Feeds:
    """Each zone's valve on its own stat."""
    return tuple((f"zone{zone}.valve", (f"zone{zone}.stat",)) for zone in zones)
