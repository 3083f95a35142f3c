"""A probe: one reading in one situation of the standard round, and what an act counts against par."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

__all__ = ["COSTS", "READING_COST", "SENSE_COST", "Probe", "cost_of"]

READING_COST = 1.0
SENSE_COST = 0.5  # a look, a listen, a hand: less than a reading, but not nothing
LINE_COST = 2.0  # a reading that somebody licensed has to come for

COSTS: Mapping[str, float] = {
    "measure": READING_COST,
    "clamp": READING_COST,
    "wait": READING_COST,
    "line reading": LINE_COST,
    "look": SENSE_COST,
    "listen": SENSE_COST,
    "feel": SENSE_COST,
    "head off": READING_COST,
}


@dataclass(frozen=True, slots=True)
class Probe:
    """One reading in one situation: what has been done before, and the act that reads."""

    situation: int
    act: str  # JSON, as the bench takes it

    @property
    def cost(self) -> float:
        """What it counts against par."""
        return _cost(self.act)


def cost_of(act: str) -> float:
    """What one act of this name counts against par; acts that read nothing count nothing."""
    return COSTS.get(act, 0.0)


@lru_cache(maxsize=4096)
def _cost(act: str) -> float:
    return cost_of(json.loads(act)["do"])
