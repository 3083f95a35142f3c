"""The moments at which a hand or an eye would find another word: where a temperature or a stroke leaves one band for the next."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from ..circuit import Guard
from . import facts
from .impressions import WARMTH, Scale
from .looks import TRAVEL
from .part import Part
from .parts import Boiler, HeatedValve, Loop, MotorValve
from .touches import HEAD_SHARE
from .wiring import Installation

__all__ = ["Hands", "handed"]

FELT = "is felt otherwise"


@dataclass(frozen=True, slots=True)
class Hands(Part):
    """Somebody who keeps a hand on everything: no circuit knows of it, and a run stops where a word would change.

    `levels` are those of each variable, rising. The state counts, for each, the levels that lie below it.
    """

    levels: tuple[tuple[str, tuple[float, ...]], ...] = ()

    hidden: ClassVar[bool] = True

    def initial(self) -> tuple[int, ...]:
        return (-1,) * len(self.levels)

    def followed(self, state: tuple[int, ...], values: Mapping[str, float]) -> tuple[int, ...]:
        """The counts as the variables have them, where nobody has counted yet."""
        if -1 not in state:
            return state
        return tuple(bisect_right(levels, values[name]) for name, levels in self.levels)

    def guards(self, state: tuple[int, ...]) -> tuple[Guard, ...]:
        found = []
        for (name, levels), below in zip(self.levels, state, strict=True):
            if below < len(levels):
                found.append(Guard(f"{name} {FELT}", name, levels[below], True, self.name))
            if below > 0:
                found.append(Guard(f"{name} {FELT}", name, levels[below - 1] - 1e-6, False, self.name))
        return tuple(found)

    def fired(self, state: tuple[int, ...], guard: Guard) -> tuple[int, ...]:
        step = 1 if guard.rising else -1
        return tuple(
            below + step if name == guard.variable else below for (name, _), below in zip(self.levels, state, strict=True)
        )


def handed(installation: Installation, name: str = "hands") -> Hands:
    """The hands that an installation needs: every warmth that follows a call within minutes, and every mark that moves."""
    found: dict[str, tuple[float, ...]] = {}
    for part in installation.parts:
        if isinstance(part, HeatedValve):
            air = part.ambient_degC
            found[f"{part.name}.wax"] = tuple(air + (level - air) / HEAD_SHARE for level in _edges(WARMTH))
        elif isinstance(part, MotorValve):
            found[f"{part.name}.travel"] = _edges(TRAVEL)
        elif isinstance(part, Loop):
            found |= {f"{part.name}.{pipe}": _edges(WARMTH) for pipe in ("supply", "return")}
        elif isinstance(part, Boiler):
            below = part.water_degC - facts.BOILER_DIFFERENTIAL.value - 2.0
            found[f"{part.name}.water"] = tuple(sorted((*_edges(WARMTH), below)))
    return Hands(name, tuple(found.items()))


def _edges(scale: Scale) -> tuple[float, ...]:
    """Where the words of a scale change: both ends of every doubt."""
    return tuple(sorted(level + way * scale.doubt for level in scale.levels for way in (-1, 1)))
