"""A row of the fault catalogue as data, and one fault drawn from it for a zone."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace

from .changes import Change

__all__ = ["SIZE", "Fault", "FaultError", "Place", "Row", "Suspect"]

SIZE = "{size}"
"""Stands in a row's changes for the ohms, degrees or share that a draw decides."""


class FaultError(ValueError):
    """A row was asked for a zone, place or size that it does not have."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where in a zone a row can sit: words for it, and the names that its changes need."""

    words: str
    names: Mapping[str, str] = field(default_factory=dict)
    leads: tuple[int, ...] = (3, 4)  # valve kinds that have this place


@dataclass(frozen=True, slots=True)
class Fault:
    """One concrete fault: what is changed, where, and how much."""

    row: str
    zone: str
    place: str
    size: float | None
    changes: tuple[Change, ...]


@dataclass(frozen=True, slots=True)
class Suspect:
    """One answer a learner can give: a row at a zone and place, whatever its size."""

    id: str
    words: str  # the claim in a technician's words
    zone: str
    family: tuple[Fault, ...]  # the row at sizes from the least to the most
    row: Row
    place: Place

    def sized(self, size: float | None) -> Fault:
        """The fault at one size of the family's range; raises FaultError outside it."""
        if size is not None and self.row.sizes:
            low, high = self.row.sizes
            size = min(max(size, low), high) if math.isclose(size, min(max(size, low), high)) else size
        return self.row.at(self.zone, self.place, size)


@dataclass(frozen=True, slots=True)
class Row:
    """One kind of fault, with what a course needs to know of it.

    `changes` may hold the strings "{zone}", the names of a place, and SIZE. Numbers are typical and from memory.
    """

    id: str
    kind: str  # "wiring", "component", "resistance", "mechanical" or "nothing wrong"
    symptom: str  # what the customer notices first: "cold", "slow", "too warm", "dead" or "boiler runs"
    claim: str  # "The heater of {valve} is open."
    changes: tuple[Change, ...]
    complaint: str  # what the customer says, with {room}
    noticed: str  # what can be heard, felt or seen
    repair: str
    misdiagnosis: str
    severity: int  # 0 no fault, 1 nuisance, 5 danger
    prevalence: int  # relative weight in a draw
    objectives: tuple[str, ...]
    sizes: tuple[float, float] | None = None  # range of SIZE
    places: tuple[Place, ...] = (Place(""),)
    leads: tuple[int, ...] = (3, 4)
    cured_by: tuple[str, ...] = ()  # parts whose replacement ends it, as in `changes`

    def at(self, zone: str, place: Place, size: float | None = None) -> Fault:
        """The fault at one zone, place and size; raises FaultError where a size is missing, extra or out of range."""
        if (size is None) != (self.sizes is None):
            raise FaultError(f"{self.id} takes {'a size in ' + str(self.sizes) if self.sizes else 'no size'}; got {size!r}")
        if size is not None and not self.sizes[0] <= size <= self.sizes[1]:
            raise FaultError(f"{self.id} takes a size from {self.sizes[0]} to {self.sizes[1]}; got {size!r}")
        names = {"zone": zone, **place.names}
        changes = tuple(_filled(change, names, size) for change in self.changes)
        return Fault(self.id, zone, place.words, size, changes)

    def suspect(self, zone: str, place: Place, steps: int = 5) -> Suspect:
        """The answer for one zone and place, with its family of sizes in equal ratios."""
        number = zone.removeprefix("zone")
        words = self.claim.format(valve=f"valve {number}", stat=f"stat {number}", zone=f"zone {number}", place=place.words)
        slug = f"{self.id} {zone}" + (f" {place.words}" if place.words else "")
        if self.sizes is None:
            return Suspect(slug, words, zone, (self.at(zone, place),), self, place)
        low, high = self.sizes
        sizes = [min(high, low * (high / low) ** (step / (steps - 1))) for step in range(steps)]
        return Suspect(slug, words, zone, tuple(self.at(zone, place, size) for size in sizes), self, place)


def _filled(change: Change, names: Mapping[str, str], size: float | None) -> Change:
    found = {}
    for slot in fields(change):
        value = getattr(change, slot.name)
        if value == SIZE:
            found[slot.name] = size
        elif isinstance(value, str) and "{" in value:
            for _ in range(2):  # a place's own names may hold {zone}
                value = value.format(**names)
            found[slot.name] = value
    return replace(change, **found)
