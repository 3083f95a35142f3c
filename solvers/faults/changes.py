"""The ways in which an installation can differ from its design: each a frozen change that makes another installation."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..plant.parts import Splice
from ..plant.wiring import Installation, WiringError

__all__ = ["Change", "Exchanged", "Joint", "Landed", "PartField"]


@dataclass(frozen=True, slots=True)
class PartField:
    """One field of one part has another value."""

    part: str
    field: str
    value: object

    def made(self, installation: Installation) -> Installation:
        """The installation so changed; raises NoSuchPart, or WiringError for a field the part does not have."""
        part = installation.part(self.part)
        if not hasattr(part, self.field):
            raise WiringError(f"{self.part!r} has no {self.field!r}")
        return installation.with_part(replace(part, **{self.field: self.value}))


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
        return installation.with_part(part.with_way(self.way, self.ohms))


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


Change = PartField | Joint | Landed | Exchanged
