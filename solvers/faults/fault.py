"""A row of the fault catalogue as data, one fault drawn from it, and the suspects that a job can offer."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, fields, replace

from ..plant.traits import TRAITS, house_traits, zone_traits
from ..plant.wiring import Installation, WiringError
from .changes import Change

__all__ = ["CHAPTERS", "KINDS", "NOTHING", "SIZE", "SYMPTOMS", "Fault", "FaultError", "Place", "Row", "Suspect", "suspects"]

SIZE = "{size}"
"""Stands in a row's changes for the ohms, degrees or share that a draw decides."""

STEPS = 5
"""Sizes at which a suspect with a range is tried."""

KINDS = ("wiring", "component", "resistance", "intermittent", "mechanical", "nothing wrong")

NOTHING = "Nothing is wrong with {zone}: what is there works as it should."
"""The one answer of all rows that change nothing, or nothing that matters: those say so in `as_one`."""

SYMPTOMS = ("cold", "slow", "too warm", "dead", "boiler runs", "no boiler", "odd", "danger")
"""What the customer notices first. "odd" is a noise, a smell, a screen; "danger" is nothing to be measured further."""

CHAPTERS = ("step-down-power", "thermostat-switching", "heater-loops", "end-switches", "service-calls")


class FaultError(ValueError):
    """A row was asked for a zone, place or size that it does not have, or says something that no row can say."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where in a zone or house a row can sit: words for it, and the names that its changes need."""

    words: str
    names: Mapping[str, str] = field(default_factory=dict)
    needs: tuple[str, ...] = ()  # traits


@dataclass(frozen=True, slots=True)
class Fault:
    """One concrete fault: what is changed, where, and how much."""

    row: str
    zone: str  # "" for one of the whole house
    place: str
    size: float | None
    changes: tuple[Change, ...]


@dataclass(frozen=True, slots=True)
class Suspect:
    """One answer a learner can give: a row at a zone and place, whatever its size; or rows that no reading parts."""

    id: str
    words: str  # the claim in a technician's words
    zone: str
    family: tuple[Fault, ...]  # what the claim can be: rows, at sizes from the least to the most
    rows: tuple[Row, ...]
    place: Place
    weight: float  # how often, against the others

    @property
    def row(self) -> Row:
        """The first of its rows."""
        return self.rows[0]

    @property
    def nothing(self) -> bool:
        """Whether it says that nothing is wrong, or nothing that matters."""
        return not self.row.changes or self.row.as_one == NOTHING

    def sized(self, size: float | None) -> Fault:
        """The fault at one size of the family's range; raises FaultError outside it."""
        row = self.row
        if size is not None and row.sizes:
            low, high = row.sizes
            size = min(max(size, low), high) if math.isclose(size, min(max(size, low), high)) else size
        template = self.family[0]
        return row.at(template.zone, self.place, size)


@dataclass(frozen=True, slots=True)
class Row:
    """One kind of fault, with what a course needs to know of it.

    `changes` and `repairs` may hold "{zone}", "{other}" (another zone), names of a place, and SIZE. A row of the whole house
    has no zone. Numbers are typical and from memory; common practice, no source. Raises FaultError for an unknown word.
    """

    id: str
    chapter: str  # one of CHAPTERS
    kind: str  # one of KINDS
    symptom: str  # one of SYMPTOMS
    claim: str  # "The heater of {valve} is open."
    changes: tuple[Change, ...]
    complaint: str  # what the customer says, with {room}
    noticed: str  # what can be heard, felt or seen
    repair: str  # what a technician does, in words
    misdiagnosis: str
    severity: int  # 0 no fault, 1 nuisance, 5 danger
    prevalence: int  # relative weight in a draw, 1 to 10
    objectives: tuple[str, ...]
    sizes: tuple[float, float] | None = None  # range of SIZE
    places: tuple[Place, ...] = (Place(""),)
    house: bool = False  # belongs to no zone
    needs: tuple[str, ...] = ()  # traits that zone and house must have
    bars: tuple[str, ...] = ()  # traits that they must not have
    repairs: tuple[tuple[Mapping[str, object], ...], ...] = ()  # each a series of acts that ends it
    refer: str = ""  # whose work it is, if not the learner's: "licensed electrician" or another
    trigger: str = ""  # what brings an intermittent one out: "time on call", "another zone", "a nudge"
    parallel: bool = False  # whether a parallel path misleads an ohmmeter or a voltmeter
    as_one: str = ""  # claim of the one answer that this row shares with others no reading parts it from

    def __post_init__(self) -> None:
        for what, known in (("chapter", CHAPTERS), ("kind", KINDS), ("symptom", SYMPTOMS)):
            if getattr(self, what) not in known:
                raise FaultError(f"{self.id} has {what} {getattr(self, what)!r}; there are {list(known)}")
        for word in (*self.needs, *self.bars, *(word for place in self.places for word in place.needs)):
            if word not in TRAITS:
                raise FaultError(f"{self.id} asks for {word!r}; traits are {list(TRAITS)}")

    def at(self, zone: str, place: Place, size: float | None = None, other: str = "") -> Fault:
        """The fault at one zone, place and size; raises FaultError where a size is missing, extra or out of range."""
        if (size is None) != (self.sizes is None):
            raise FaultError(f"{self.id} takes {'a size in ' + str(self.sizes) if self.sizes else 'no size'}; got {size!r}")
        if size is not None and not self.sizes[0] <= size <= self.sizes[1]:
            raise FaultError(f"{self.id} takes a size from {self.sizes[0]} to {self.sizes[1]}; got {size!r}")
        names = self._names(zone, place, other)
        changes = tuple(_filled(change, names, size) for change in self.changes)
        return Fault(self.id, "" if self.house else zone, place.words, size, changes)

    def fits(self, installation: Installation, zone: str, place: Place) -> bool:
        """Whether this row can be at this place of this installation."""
        there = house_traits(installation) if self.house else zone_traits(installation, zone)
        wanted = {*self.needs, *place.needs}
        if not wanted <= there or there & set(self.bars):
            return False
        if not self.changes:
            return True
        fault = self.at(zone, place, None if self.sizes is None else self.sizes[0], _other(installation, zone))
        planted = installation
        try:
            for change in fault.changes:
                planted = change.made(planted)
        except (WiringError, ValueError):
            return False
        return planted != installation

    def repaired_by(self, zone: str, place: Place, other: str = "") -> tuple[tuple[Mapping[str, object], ...], ...]:
        """The series of acts any of which ends it, with names filled in."""
        names = self._names(zone, place, other)
        return tuple(tuple({key: _named(value, names) for key, value in act.items()} for act in acts) for acts in self.repairs)

    def suspect(self, zone: str, place: Place, other: str = "") -> Suspect:
        """The answer for one zone and place, with its family of sizes in equal ratios."""
        names = self._names(zone, place, other)
        tag = zone.removeprefix("zone")
        words = self.claim.format(
            valve=f"valve {tag}",
            stat=f"stat {tag}",
            zone=f"zone {tag}",
            other=f"zone {other.removeprefix('zone')}",
            place=place.words,
            **{name: text for name, text in names.items() if name not in ("zone", "other")},
        )
        slug = self.id + ("" if self.house else f" {zone}") + (f" {place.words}" if place.words else "")
        where = "" if self.house else zone
        if self.sizes is None:
            family: tuple[Fault, ...] = (self.at(zone, place, other=other),)
        else:
            low, high = self.sizes
            ratio = high / low if low > 0 else 0.0
            sizes = [
                min(high, low * ratio ** (step / (STEPS - 1)) if ratio else low + (high - low) * step / (STEPS - 1))
                for step in range(STEPS)
            ]
            family = tuple(self.at(zone, place, size, other) for size in sizes)
        return Suspect(slug, words, where, family, (self,), place, self.prevalence)

    def _names(self, zone: str, place: Place, other: str) -> dict[str, str]:
        return {"zone": zone, "other": other, **place.names}


def suspects(installation: Installation, zone: str, rows: Iterable[Row]) -> tuple[Suspect, ...]:
    """Everything that rows can be at one zone of an installation, and at the house; what no reading parts, as one answer."""
    other = _other(installation, zone)
    found: dict[str, Suspect] = {}
    for row in rows:
        places = [place for place in row.places if row.fits(installation, zone, place)]
        for place in places:
            one = replace(row.suspect(zone, place, other), weight=row.prevalence / len(places))
            key = f"{row.as_one} {one.zone}" if row.as_one else one.id
            if one.nothing:
                key, words = f"nothing {zone}", NOTHING.format(zone=f"zone {zone.removeprefix('zone')}")
                one = replace(one, id=key, words=words, zone=zone)
            found[key] = _joined(found[key], one) if key in found else one
    return tuple(found.values())


def _joined(first: Suspect, second: Suspect) -> Suspect:
    tag = first.zone.removeprefix("zone")
    names = {"valve": f"valve {tag}", "stat": f"stat {tag}", "zone": f"zone {tag}", "place": first.place.words}
    return replace(
        first,
        words=first.words if first.nothing else first.row.as_one.format(**names),
        family=first.family + second.family,
        rows=first.rows + tuple(row for row in second.rows if row not in first.rows),
        weight=first.weight + second.weight,
    )


def _other(installation: Installation, zone: str) -> str:
    """The zone after this one, round the house; itself where it is alone."""
    zones = installation.zones
    return zones[(zones.index(zone) + 1) % len(zones)] if zone in zones else ""


def _filled(change: Change, names: Mapping[str, str], size: float | None) -> Change:
    found = {}
    for slot in fields(change):
        value = getattr(change, slot.name)
        if value == SIZE:
            found[slot.name] = size
        elif isinstance(value, str):
            found[slot.name] = _named(value, names)
    return replace(change, **found)


def _named(value: object, names: Mapping[str, str]) -> object:
    """A text with its names filled in; a place's own names may hold {zone}."""
    if not isinstance(value, str):
        return value
    for _ in range(2):
        if "{" in value:
            value = value.format(**names)
    return value
