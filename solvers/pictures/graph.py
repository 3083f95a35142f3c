"""An installation as a graph: which terminals conductors and parts join, and which joints serve as buses."""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Callable
from dataclasses import dataclass

from ..plant.parts import Boiler, Fuse, HeatMotorValve, Part, Splice, Stat, Transformer
from ..plant.wiring import Installation, WiringError

__all__ = ["Bus", "Element", "Graph", "elements", "home"]


@dataclass(frozen=True, slots=True)
class Element:
    """Two terminals of one part and what lies between them."""

    part: str
    kind: str  # "winding", "fuse", "stat", "heater", "switch", "boiler" or "joint"
    a: str  # terminal
    b: str  # terminal


@dataclass(frozen=True, slots=True)
class Bus:
    """A joint drawn as a rail. Its role says which supply terminal it serves: R, C, T or nothing."""

    name: str
    ways: tuple[str, ...]  # terminals
    role: str = ""


def elements(part: Part) -> tuple[Element, ...]:
    """The two-terminal elements of a part; none for a bus. Raises WiringError for an unknown kind."""
    name = part.name
    if isinstance(part, HeatMotorValve):
        return Element(name, "heater", *part.heater_pair), Element(name, "switch", *part.switch_pair)
    if isinstance(part, Splice) and _is_bus(part):
        return ()
    kinds = {Transformer: "winding", Fuse: "fuse", Stat: "stat", Splice: "joint", Boiler: "boiler"}
    if type(part) not in kinds:
        raise WiringError(f"{name!r} is a {type(part).__name__}; a ladder has symbols for {[kind.__name__ for kind in kinds]}")
    return (Element(name, kinds[type(part)], *part.terminals),)


def _is_bus(part: Splice) -> bool:
    """Whether a joint is drawn as a rail: an inline one has sides 1 and 2, a bus has ways with names of their own."""
    return part.ways != ("1", "2")


def home(name: str) -> str:
    """The zone in a part's or terminal's name, "zone2" for "zone2.valve.H"; "" where it has none."""
    tag, dot, _ = name.partition(".")
    return tag if dot and tag.startswith("zone") and tag[4:].isdigit() else ""


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
        for element in self.elements:
            for terminal in (element.a, element.b):
                self.at.setdefault(terminal, []).append(element)
        joints = [part for part in installation.parts if isinstance(part, Splice) and _is_bus(part)]
        self.way = {terminal: part.name for part in joints for terminal in part.terminals}
        roles = self._roles()
        self.buses = tuple(Bus(part.name, part.terminals, roles.get(part.name, "")) for part in joints)

    def _roles(self) -> dict[str, str]:
        """Which buses are the R rail, the C rail and the T-T rails.

        The supply names its rails, unless more thermostats come to another bus first.
        """
        roles: dict[str, str] = {}
        parts = self.installation.parts
        transformers = [part for part in parts if isinstance(part, Transformer)]
        supplied = {
            "R": [self._first_bus(self._past_fuse(part.terminals[0])) for part in transformers],
            "C": [self._first_bus(part.terminals[1]) for part in transformers],
        }
        stats = [part for part in parts if isinstance(part, Stat)]
        for role, end in (("R", 0), ("C", 1)):
            votes = Counter([*supplied[role], *(self._nearest(stat, end) for stat in stats)])
            found = [name for name, _ in votes.most_common() if name and name not in roles]
            if found:
                roles[found[0]] = role
        for part in parts:
            for terminal in part.terminals if isinstance(part, Boiler) else ():
                if name := self._first_bus(terminal):
                    roles.setdefault(name, "T")
        return roles

    def _past_fuse(self, terminal: str) -> str:
        """The far side of the fuse that a terminal's conductors come to, "" where they come to none.

        Where there is no fuse at all, the terminal itself.
        """
        for reached in self._spread(terminal, lambda element: False):
            for element in self.at.get(reached, ()):
                if element.kind == "fuse":
                    return element.b if reached == element.a else element.a
        return "" if any(element.kind == "fuse" for element in self.elements) else terminal

    def _first_bus(self, terminal: str) -> str:
        """The first bus that a terminal's conductors come to, inline joints passed."""
        spread = self._spread(terminal, lambda element: element.kind == "joint") if terminal else []
        return next((self.way[reached] for reached in spread if reached in self.way), "")

    def _nearest(self, stat: Stat, end: int) -> str:
        """The first bus on one side of a thermostat, its own zone's valve passed on the W side."""
        through = ("joint",) if end == 0 else ("joint", "heater", "switch")
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
