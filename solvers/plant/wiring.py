"""An installation: parts, and conductors between their terminals. Any wiring at all can be written down."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from ..circuit import CircuitError
from .parts import Part, Stat

__all__ = ["Conductor", "Enclosure", "Installation", "NoSuchPart", "NoSuchTerminal", "WiringError"]


class WiringError(CircuitError):
    """A wiring that cannot be written down; the message names the conductor or terminal."""


class NoSuchPart(WiringError):
    """A part or conductor was asked for by a name that the installation does not have."""


class NoSuchTerminal(WiringError):
    """A terminal was named that the installation does not have."""


@dataclass(frozen=True, slots=True)
class Conductor:
    """One wire from terminal to terminal."""

    name: str
    a: str  # terminal
    b: str  # terminal
    ohms: float  # at its temperature, or OPEN
    cable: str = ""  # conductors of one cable lie side by side and couple
    feet: float = 0.0
    colour: str = ""  # insulation: a hint, never proof
    gauge: int = 18  # AWG
    label: str = ""  # what somebody has written on it
    line: bool = False  # carries line voltage


@dataclass(frozen=True, slots=True)
class Enclosure:
    """A box or compartment and the parts that stand in it."""

    name: str
    parts: tuple[str, ...]
    barrier: bool = False  # whether a barrier keeps line voltage and class 2 apart inside


@dataclass(frozen=True, slots=True)
class Installation:
    """Parts and conductors as they are in the building. Frozen: a repair or a fault makes another one."""

    name: str
    parts: tuple[Part, ...]
    conductors: tuple[Conductor, ...]
    hz: float = 60.0
    enclosures: tuple[Enclosure, ...] = ()

    def __post_init__(self) -> None:
        names = [part.name for part in self.parts] + [conductor.name for conductor in self.conductors]
        for name in names:
            if names.count(name) > 1:
                raise WiringError(f"{name!r} is used twice")
        known = set(self.terminals)
        for conductor in self.conductors:
            for end in (conductor.a, conductor.b):
                if end not in known:
                    raise NoSuchTerminal(f"conductor {conductor.name!r} ends at {end!r}; terminals are {sorted(known)}")
            if conductor.a == conductor.b:
                raise WiringError(f"conductor {conductor.name!r} begins and ends at {conductor.a!r}")
        housed = [name for box in self.enclosures for name in box.parts]
        there = {part.name for part in self.parts}
        for name in housed:
            if name not in there:
                raise NoSuchPart(f"an enclosure holds {name!r}; there are {sorted(there)}")
            if housed.count(name) > 1:
                raise WiringError(f"{name!r} stands in two enclosures")

    @property
    def terminals(self) -> tuple[str, ...]:
        """Every terminal of every part, in order."""
        return tuple(terminal for part in self.parts for terminal in part.terminals)

    @property
    def zones(self) -> tuple[str, ...]:
        """The zones that have a thermostat and a valve, in order: 'zone1', 'zone2' and so on."""
        names = {part.name for part in self.parts}
        tags = (part.name.removesuffix(".stat") for part in self.parts if isinstance(part, Stat))
        return tuple(tag for tag in tags if f"{tag}.valve" in names)

    def part(self, name: str) -> Part:
        """The part of that name; raises NoSuchPart with the names there are."""
        for part in self.parts:
            if part.name == name:
                return part
        raise NoSuchPart(f"no part {name!r}; there are {sorted(part.name for part in self.parts)}")

    def conductor(self, name: str) -> Conductor:
        """The conductor of that name; raises NoSuchPart with the names there are."""
        for conductor in self.conductors:
            if conductor.name == name:
                return conductor
        raise NoSuchPart(f"no conductor {name!r}; there are {sorted(wire.name for wire in self.conductors)}")

    def landed(self, terminal: str) -> tuple[Conductor, ...]:
        """The conductors that end at a terminal; raises NoSuchTerminal."""
        if terminal not in self.terminals:
            raise NoSuchTerminal(f"no terminal {terminal!r}; there are {sorted(self.terminals)}")
        return tuple(conductor for conductor in self.conductors if terminal in (conductor.a, conductor.b))

    def crowded(self) -> tuple[tuple[str, int, int], ...]:
        """The terminals that hold more conductors than they take: (terminal, how many there are, how many it takes)."""
        takes = {terminal: part.holds(terminal) for part in self.parts for terminal in part.terminals}
        counts = {terminal: len(self.landed(terminal)) for terminal in takes}
        return tuple((terminal, counts[terminal], takes[terminal]) for terminal in takes if counts[terminal] > takes[terminal])

    def mixed(self) -> tuple[str, ...]:
        """The enclosures in which line voltage and class 2 conductors end side by side without a barrier.

        Source: the separation that NFPA 70 article 725.136 (2017) asks for; the local code decides.
        """
        found = []
        for box in self.enclosures:
            terminals = {terminal for name in box.parts for terminal in self.part(name).terminals}
            kinds = {wire.line for wire in self.conductors if wire.a in terminals or wire.b in terminals}
            if len(kinds) == 2 and not box.barrier:
                found.append(box.name)
        return tuple(found)

    def with_part(self, part: Part) -> Installation:
        """The same installation with a part of the same name in another condition; raises NoSuchPart."""
        self.part(part.name)
        return replace(self, parts=tuple(part if old.name == part.name else old for old in self.parts))

    def with_conductor(self, name: str, **changes: object) -> Installation:
        """The same installation but for fields of one conductor; raises NoSuchPart."""
        changed = replace(self.conductor(name), **changes)
        return replace(self, conductors=tuple(changed if old.name == name else old for old in self.conductors))

    def with_conductors(self, more: Iterable[Conductor]) -> Installation:
        """The same installation with conductors added."""
        return replace(self, conductors=self.conductors + tuple(more))
