"""An installation: parts, and conductors between their terminals. Any wiring at all can be written down."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from ..circuit import CircuitError
from .parts import Part, Stat

__all__ = ["Conductor", "Installation", "NoSuchPart", "NoSuchTerminal", "WiringError"]


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


@dataclass(frozen=True, slots=True)
class Installation:
    """Parts and conductors as they are in the building. Frozen: a repair or a fault makes another one."""

    name: str
    parts: tuple[Part, ...]
    conductors: tuple[Conductor, ...]
    hz: float = 60.0

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

    @property
    def terminals(self) -> tuple[str, ...]:
        """Every terminal of every part, in order."""
        return tuple(terminal for part in self.parts for terminal in part.terminals)

    @property
    def zones(self) -> tuple[str, ...]:
        """The zones that have a thermostat, in order: 'zone1', 'zone2' and so on."""
        return tuple(part.name.removesuffix(".stat") for part in self.parts if isinstance(part, Stat))

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
