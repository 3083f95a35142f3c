"""An installation as a graph: which terminals conductors and parts join, and which joints serve as buses."""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from ..plant.naming import home
from ..plant.parts import Part, Splice, Stat
from ..plant.wiring import Installation
from .elements import DRIVES, Element, elements, is_bus

__all__ = ["AHEAD", "Bus", "Graph"]

AHEAD = {"R": "source R", "C": "source C"}
"""The role of a bus that stands between a source and the rail of that role."""

JOINED = ("joint", "fuse", "breaker")


@dataclass(frozen=True, slots=True)
class Bus:
    """A joint drawn as a rail. Its role says which supply terminal it serves: R, C, T or nothing, or one of AHEAD."""

    name: str
    ways: tuple[str, ...]  # terminals
    role: str = ""
    source: int = 0  # which of the sources feeds it, counted from 0


class Graph:
    """What lies on and behind every terminal of one installation."""

    def __init__(self, installation: Installation) -> None:
        self.installation = installation
        self.landed: dict[str, list[tuple[str, str]]] = {terminal: [] for terminal in installation.terminals}
        for wire in installation.conductors:
            self.landed[wire.a].append((wire.name, wire.b))
            self.landed[wire.b].append((wire.name, wire.a))
        self.elements = [element for part in installation.parts for element in elements(part)]
        self.at: dict[str, list[Element]] = {}
        # Where two elements share a terminal, one that is wired at its far end is looked at first.
        for element in sorted(self.elements, key=lambda e: not (self.landed[e.a] and self.landed[e.b])):
            for terminal in (element.a, element.b):
                self.at.setdefault(terminal, []).append(element)
        joints = [part for part in installation.parts if isinstance(part, Splice) and part.ways and is_bus(part)]
        self.way = {terminal: part.name for part in joints for terminal in part.terminals}
        self.windings = [element for element in self.elements if element.kind == "winding"]
        self.stats = [part for part in installation.parts if isinstance(part, Stat)]
        supplied = {
            "R": [self._first_bus(self._past_fuse(winding.a)) for winding in self.windings],
            "C": [self._first_bus(winding.b) for winding in self.windings],
        }
        nearest = {"R": [self._nearest(stat, 0) for stat in self.stats], "C": [self._nearest(stat, 1) for stat in self.stats]}
        roles, sources = self._roles(supplied, nearest), self._sources(supplied, joints)
        self.buses = tuple(Bus(part.name, part.terminals, roles.get(part.name, ""), sources.get(part.name, 0)) for part in joints)

    def _roles(self, supplied: dict[str, list[str]], nearest: dict[str, list[str]]) -> dict[str, str]:
        """Which buses are R rails, C rails and T-T rails.

        The sources name their rails, unless more thermostats come to another bus first. Where a source comes to the
        thermostats' bus by way of another one, that one stands ahead of the rail.
        """
        roles: dict[str, str] = {}
        for role, other in (("R", "C"), ("C", "R")):
            for name in dict.fromkeys(name for name in supplied[role] if name and name not in roles):
                beyond = self._beyond_contact(name) if role == "R" else self._beyond(name, JOINED)
                rails = [rail for rail in dict.fromkeys(nearest[role]) if rail in beyond and rail not in (name, *roles)]
                if rails and not set(rails) & {*supplied[other], *nearest[other]}:
                    roles[name] = AHEAD[role]
                    roles |= dict.fromkeys(rails, role)
        for role, other in (("R", "C"), ("C", "R")):
            left = {name for name in supplied[role] if name and name not in roles}
            if role in roles.values() and not left:
                continue
            votes = Counter([*supplied[role], *nearest[role]])
            found = [name for name, _ in votes.most_common() if name and name not in roles]
            found.sort(key=lambda name, elsewhere=supplied[other]: name in elsewhere)
            roles |= dict.fromkeys(found[: max(1, len(left))], role)
        for element in self.elements:
            for terminal in (element.a, element.b) if element.kind == "boiler" else ():
                if name := self._first_bus(terminal):
                    roles.setdefault(name, "T")
        return roles

    def _sources(self, supplied: dict[str, list[str]], joints: Iterable[Part]) -> dict[str, int]:
        """Which source feeds each bus, over conductors and contacts; a bus of two sources counts for the first."""
        found: dict[str, int] = {}
        for role in ("R", "C"):
            for number, name in enumerate(supplied[role]):
                if name:
                    found.setdefault(name, number)
        for name, number in list(found.items()):
            for beyond in self._beyond(name, (*JOINED, "contact")):
                found.setdefault(beyond, number)
        return found

    def _beyond_contact(self, bus: str) -> list[str]:
        """The buses that one is joined to by way of a contact, and not without it."""
        plain = self._beyond(bus, JOINED)
        return [name for name in self._beyond(bus, (*JOINED, "contact")) if name not in plain]

    def _beyond(self, bus: str, passed: tuple[str, ...]) -> list[str]:
        """The buses that one is joined to by conductors and these kinds of element."""
        ways = [way for way, name in self.way.items() if name == bus]
        reached = [end for way in ways for end in self._spread(way, lambda element: element.kind in passed)]
        return list(dict.fromkeys(self.way[end] for end in reached if self.way.get(end, bus) != bus))

    def _past_fuse(self, terminal: str) -> str:
        """The far side of the fuse or breaker that a terminal's conductors come to, "" where they come to none.

        Where there are fewer of them than sources, the terminal itself.
        """
        for reached in self._spread(terminal, lambda element: False):
            for element in self.at.get(reached, ()):
                if element.kind in ("fuse", "breaker"):
                    return element.b if reached == element.a else element.a
        protected = sum(element.kind in ("fuse", "breaker") for element in self.elements) >= len(self.windings)
        return "" if protected else terminal

    def _first_bus(self, terminal: str) -> str:
        """The first bus that a terminal's conductors come to, inline joints passed."""
        spread = self._spread(terminal, lambda element: element.kind == "joint") if terminal else []
        return next((self.way[reached] for reached in spread if reached in self.way), "")

    def _nearest(self, stat: Stat, end: int) -> str:
        """The first bus on one side of a thermostat, its own zone's load passed on the W side."""
        through = ("joint",) if end == 0 else ("joint", "coil", "switch", *DRIVES)
        spread = self._spread(stat.terminals[end], lambda element: element.kind in through, home(stat.name))
        return next((self.way[reached] for reached in spread if reached in self.way), "")

    def _spread(self, terminal: str, passes: Callable[[Element], bool], zone: str = "") -> list[str]:
        """Terminals by their distance from one, over conductors and what may be passed; within a zone, if one is given."""
        seen, queue = [terminal], deque([terminal])
        while queue:
            here = queue.popleft()
            onward = [other for _, other in self.landed[here]]
            onward += [element.b if here == element.a else element.a for element in self.at.get(here, ()) if passes(element)]
            for other in onward:
                if other not in seen and home(other) in ("", zone or home(other)):
                    seen.append(other)
                    queue.append(other)
        return seen
