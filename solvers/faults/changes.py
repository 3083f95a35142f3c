"""The ways in which an installation can differ from its design: each a frozen change that makes another installation."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import chain, count

from ..circuit import OPEN
from ..plant.cable import run
from ..plant.joints import Chain
from ..plant.line_voltage import LineLoad
from ..plant.loose import LooseJoint
from ..plant.old_stat import OldStat
from ..plant.parts import Splice, Stat, Transformer
from ..plant.strays import Stray
from ..plant.transformers import GROUND
from ..plant.wiring import Installation, WiringError
from .additions import CalledByStat, LineTouched, SecondValved

__all__ = [
    "Bridged",
    "Change",
    "ConductorField",
    "Exchanged",
    "Interposed",
    "Joint",
    "Landed",
    "LineSwitched",
    "Loosened",
    "PartField",
    "Recabled",
    "Removed",
    "Scaled",
    "Spare",
    "Split",
    "Undersized",
]


@dataclass(frozen=True, slots=True)
class PartField:
    """One field of one part has another value; where the field is a number, a text that names one will do."""

    part: str
    field: str
    value: object

    def made(self, installation: Installation) -> Installation:
        """The installation so changed; raises NoSuchPart, or WiringError for a field the part does not have."""
        part = installation.part(self.part)
        if not hasattr(part, self.field):
            raise WiringError(f"{self.part!r} has no {self.field!r}")
        number = isinstance(self.value, str) and isinstance(getattr(part, self.field), float)
        return installation.with_part(replace(part, **{self.field: float(self.value) if number else self.value}))


@dataclass(frozen=True, slots=True)
class Scaled:
    """One number of one part is so many times what it was."""

    part: str
    field: str
    times: float

    def made(self, installation: Installation) -> Installation:
        """The installation so changed; raises NoSuchPart, or WiringError for a field the part does not have."""
        part = installation.part(self.part)
        if not hasattr(part, self.field):
            raise WiringError(f"{self.part!r} has no {self.field!r}")
        return installation.with_part(replace(part, **{self.field: getattr(part, self.field) * self.times}))


@dataclass(frozen=True, slots=True)
class Joint:
    """One way of a splice has another contact resistance, in ohms or OPEN."""

    splice: str
    way: str
    ohms: float

    def made(self, installation: Installation) -> Installation:
        """The installation so changed; raises NoSuchPart, or WiringError where there is no splice."""
        part = installation.part(self.splice)
        if not isinstance(part, Splice):
            raise WiringError(f"{self.splice!r} is no splice")
        if self.way not in part.ways:
            raise WiringError(f"{self.splice!r} has no way {self.way!r}; it has {list(part.ways)}")
        return installation.with_part(part.with_way(self.way, self.ohms))


@dataclass(frozen=True, slots=True)
class ConductorField:
    """One field of a conductor has another value: its ohms in a nailed cable, its gauge, its label."""

    conductor: str
    field: str
    value: object

    def made(self, installation: Installation) -> Installation:
        """The installation so changed; raises NoSuchPart, or WiringError for a field that conductors do not have."""
        if not hasattr(installation.conductor(self.conductor), self.field):
            raise WiringError(f"a conductor has no {self.field!r}")
        return installation.with_conductor(self.conductor, **{self.field: self.value})


@dataclass(frozen=True, slots=True)
class Recabled:
    """Every conductor of a cable is of another gauge and length."""

    cable: str
    gauge: int  # AWG
    feet: float

    def made(self, installation: Installation) -> Installation:
        """The installation so changed; raises WiringError for a cable that is not there, ValueError for a gauge there is not."""
        inside = [wire.name for wire in installation.conductors if wire.cable == self.cable]
        if not inside:
            there = dict.fromkeys(wire.cable for wire in installation.conductors if wire.cable)
            raise WiringError(f"no cable {self.cable!r}; there are {list(there)}")
        changed = installation
        for name in inside:
            changed = changed.with_conductor(name, ohms=run(self.gauge, self.feet), gauge=self.gauge, feet=self.feet)
        return changed


@dataclass(frozen=True, slots=True)
class Landed:
    """One end of a conductor is landed on another terminal."""

    conductor: str
    end: str  # "a" or "b"
    terminal: str

    def made(self, installation: Installation) -> Installation:
        """The installation so changed; raises NoSuchPart or NoSuchTerminal."""
        return installation.with_conductor(self.conductor, **{self.end: self.terminal})


@dataclass(frozen=True, slots=True)
class Exchanged:
    """Whatever is landed on two terminals is exchanged."""

    first: str
    second: str

    def made(self, installation: Installation) -> Installation:
        """The installation so changed; raises NoSuchTerminal."""
        other = {self.first: self.second, self.second: self.first}
        moving = {wire.name for terminal in other for wire in installation.landed(terminal)}
        changed = installation
        for name in sorted(moving):
            wire = installation.conductor(name)
            changed = changed.with_conductor(name, a=other.get(wire.a, wire.a), b=other.get(wire.b, wire.b))
        return changed


@dataclass(frozen=True, slots=True)
class Removed:
    """A conductor is not there: nobody landed it, or a new part came without it."""

    conductor: str

    def made(self, installation: Installation) -> Installation:
        """The installation so changed; raises NoSuchPart."""
        gone = installation.conductor(self.conductor)
        return replace(installation, conductors=tuple(wire for wire in installation.conductors if wire != gone))


@dataclass(frozen=True, slots=True)
class Loosened:
    """One end of a conductor is loose where it is landed; see `plant.loose`."""

    conductor: str
    end: str  # "a" or "b"
    opens_amps: float = math.inf
    tau: float = 300.0  # s
    nudges: bool = True

    def made(self, installation: Installation) -> Installation:
        """The installation so changed; raises NoSuchPart."""
        terminal = getattr(installation.conductor(self.conductor), self.end)
        joint = LooseJoint(f"{terminal} loose", terminal, opens_amps=self.opens_amps, tau=self.tau, nudges=self.nudges)
        with_joint = replace(installation, parts=(*installation.parts, joint))
        return with_joint.with_conductor(self.conductor, **{self.end: joint.lead})


@dataclass(frozen=True, slots=True)
class Bridged:
    """A path that nobody drew, from one terminal to another or to ground; see `plant.strays`."""

    name: str
    a: str
    b: str = GROUND
    ohms: float = 0.0
    belongs: str = ""  # cable or part whose replacement ends it; "" for what a hand takes off
    seen_at: str = ""
    words: str = ""

    def made(self, installation: Installation) -> Installation:
        """The installation so changed; raises NoSuchTerminal."""
        installation.landed(self.a)
        if self.b != GROUND:
            installation.landed(self.b)
        names = {part.name for part in installation.parts}
        more = (f"{self.name} {number}" for number in count(2))
        name = next(name for name in chain((self.name,), more) if name not in names)
        stray = Stray(name, self.a, self.b, self.ohms, self.belongs, self.seen_at, self.words)
        return replace(installation, parts=(*installation.parts, stray))


@dataclass(frozen=True, slots=True)
class LineSwitched:
    """A circulator on line voltage is switched by what joins two terminals; see `plant.line_voltage`."""

    name: str
    a: str  # terminal, hot
    b: str  # terminal
    seen_at: str = ""
    words: str = ""

    def made(self, installation: Installation) -> Installation:
        """The installation so changed; raises NoSuchTerminal."""
        installation.landed(self.a)
        installation.landed(self.b)
        load = LineLoad(self.name, self.a, self.b, seen_at=self.seen_at, words=self.words)
        return replace(installation, parts=(*installation.parts, load))


@dataclass(frozen=True, slots=True)
class Interposed:
    """Where a splice was thought to be, an old thermostat stands in series; see `plant.old_stat`."""

    splice: str
    stat: str  # the thermostat that everybody knows of: the old one feels the same room

    def made(self, installation: Installation) -> Installation:
        """The installation so changed; raises NoSuchPart, or WiringError where there is no splice or no thermostat."""
        part, stat = installation.part(self.splice), installation.part(self.stat)
        if not isinstance(part, Splice):
            raise WiringError(f"{self.splice!r} is no splice")
        if not isinstance(stat, Stat):
            raise WiringError(f"{self.stat!r} is no thermostat")
        return installation.with_part(OldStat(part.name, part.ways, part.ohms, room=stat.room))


@dataclass(frozen=True, slots=True)
class Spare:
    """A cable has one conductor more than is used, capped at both ends."""

    name: str
    cable: str

    def made(self, installation: Installation) -> Installation:
        """The installation so changed; raises WiringError for a cable that is not there."""
        inside = [wire for wire in installation.conductors if wire.cable == self.cable]
        if not inside:
            there = dict.fromkeys(wire.cable for wire in installation.conductors if wire.cable)
            raise WiringError(f"no cable {self.cable!r}; there are {list(there)}")
        caps = [Splice(f"{self.name} end at the {where}", ("1",)) for where in ("panel", "stat")]
        ends = [cap.terminals[0] for cap in caps]
        wire = replace(inside[0], name=self.name, a=ends[0], b=ends[1], colour="", label="")
        return replace(installation, parts=(*installation.parts, *caps), conductors=(*installation.conductors, wire))


@dataclass(frozen=True, slots=True)
class Split:
    """A bus is a chain from zone to zone, and the link to one of them is bad: that zone and all after it lie beyond it."""

    splice: str
    first: str  # zone, the first beyond the link
    ohms: float = OPEN

    def made(self, installation: Installation) -> Installation:
        """The installation so changed; raises NoSuchPart, or WiringError where that would leave one zone alone on a side.

        With all zones beyond it the link is the trunk's, and with one it is that zone's own landing.
        """
        part, zones = installation.part(self.splice), installation.zones
        if not isinstance(part, Splice):
            raise WiringError(f"{self.splice!r} is no splice")
        places = {way: zones.index(way.partition(" ")[0]) for way in part.ways if way.partition(" ")[0] in zones}
        if self.first not in places:
            raise WiringError(f"{self.splice!r} has no way for {self.first!r}; it has {list(part.ways)}")
        beyond = tuple(way for way, place in places.items() if place >= places[self.first])
        counts = len({places[way] for way in beyond}), len(set(places.values()))
        if counts[0] < 2 or counts[0] == counts[1]:
            raise WiringError(f"{counts[0]} of {counts[1]} zones are beyond the link to {self.first!r}; two must be, and one not")
        return installation.with_part(Chain(part.name, part.ways, part.ohms, beyond, self.ohms))


@dataclass(frozen=True, slots=True)
class Undersized:
    """A transformer of fewer VA than the one that is drawn has been fitted; see `Transformer.from_nameplate`."""

    part: str
    va: float

    def made(self, installation: Installation) -> Installation:
        """The installation so changed; raises NoSuchPart, or WiringError where that is no smaller transformer."""
        drawn = installation.part(self.part)
        if not isinstance(drawn, Transformer):
            raise WiringError(f"{self.part!r} is no transformer")
        if self.va >= drawn.va:
            raise WiringError(f"{self.va:g} VA are not less than the {drawn.va:g} VA of {self.part!r}")
        sized = Transformer.from_nameplate(drawn.name, self.va, drawn.rated_volts, protection=drawn.protection)
        times = drawn.va / self.va
        less = {"dc_ohms": drawn.dc_ohms * times, "no_load_watts": drawn.no_load_watts / times}
        return installation.with_part(replace(drawn, va=sized.va, emf=sized.emf, ohms=sized.ohms, **less))


Change = (
    PartField
    | Split
    | Undersized
    | SecondValved
    | CalledByStat
    | LineTouched
    | Interposed
    | Spare
    | Scaled
    | Joint
    | ConductorField
    | Landed
    | Exchanged
    | Recabled
    | Removed
    | LineSwitched
    | Loosened
    | Bridged
)
