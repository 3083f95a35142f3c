"""Joints: splices of two or more conductors."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..circuit import OPEN, Branch
from . import facts
from .part import Part

__all__ = ["Chain", "Splice"]


@dataclass(frozen=True, slots=True)
class Splice(Part):
    """A joint of two or more conductors: each way has its own contact resistance to the middle."""

    ways: tuple[str, ...] = ("1", "2")
    ohms: tuple[float, ...] = ()  # one a way; empty for a good joint

    @property
    def terminals(self) -> tuple[str, ...]:
        return tuple(f"{self.name}.{way}" for way in self.ways)

    def initial(self) -> None:
        return None

    def branches(self, state: None, hz: float) -> tuple[Branch, ...]:
        each = self.ohms or (facts.SPLICE_OHMS.value / 2,) * len(self.ways)
        return tuple(
            Branch(terminal, terminal, f"{self.name} middle", ohms) for terminal, ohms in zip(self.terminals, each, strict=True)
        )

    def with_way(self, way: str, ohms: float) -> Splice:
        """The same joint with one way at so many ohms, or OPEN; raises ValueError for an unknown way."""
        if way not in self.ways:
            raise ValueError(f"{self.name} has no way {way!r}; it has {list(self.ways)}")
        each = self.ohms or (facts.SPLICE_OHMS.value / 2,) * len(self.ways)
        return replace(self, ohms=tuple(ohms if name == way else z for name, z in zip(self.ways, each, strict=True)))


@dataclass(frozen=True, slots=True)
class Chain(Splice):
    """A joint of many ways that is really a chain from terminal to terminal, with a bad link: some ways lie beyond it.

    To land the first way beyond the link anew is to make the link anew. Source: common practice.
    """

    beyond: tuple[str, ...] = ()
    link_ohms: float = OPEN

    def branches(self, state: None, hz: float) -> tuple[Branch, ...]:
        near, far = f"{self.name} middle", f"{self.name} beyond the link"
        ways = zip(self.ways, Splice.branches(self, state, hz), strict=True)
        found = (replace(branch, b=far) if way in self.beyond else branch for way, branch in ways)
        return (*found, Branch(f"{self.name} link", near, far, self.link_ohms))

    def with_way(self, way: str, ohms: float) -> Splice:
        after = Splice.with_way(self, way, ohms)
        return Splice(self.name, self.ways, after.ohms) if way == self.beyond[0] else after
