"""What is joined to what, put in the order in which a ladder shows it. One trace serves the drawing and its words.

Only landings count: which terminal each conductor ends at, and what a part holds between its own terminals. Ohms,
names and colours decide nothing, except that a zone's own parts are looked at before another zone's.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, replace

from ..plant.naming import home, zone_of
from ..plant.wiring import Installation
from .elements import DRIVES, PASSABLE, Element, bare, lone
from .graph import AHEAD, Bus, Graph

__all__ = ["Chain", "Step", "Trace", "traced"]


@dataclass(frozen=True, slots=True)
class Step:
    """An element as a chain passes it, left to right."""

    element: Element
    left: str
    right: str

    @property
    def turned(self) -> Step:
        """The same element passed the other way."""
        return replace(self, left=self.right, right=self.left)


@dataclass(frozen=True, slots=True)
class Chain:
    """Elements in series, left to right, and the conductors between them.

    `wires` has one name between every two steps, "" where the steps share a terminal inside one part. `first` and
    `last` are the conductors that tie the ends to a bus, at `first_way` and `last_way`; "" where none does.
    """

    steps: tuple[Step, ...]
    wires: tuple[str, ...]
    first: str = ""
    last: str = ""
    first_way: str = ""  # terminal
    last_way: str = ""

    @property
    def left(self) -> str:
        return self.steps[0].left

    @property
    def right(self) -> str:
        return self.steps[-1].right

    @property
    def groups(self) -> tuple[tuple[Step, ...], ...]:
        """The steps, those that follow each other inside one part together."""
        groups = [[self.steps[0]]]
        for step, wire in zip(self.steps[1:], self.wires, strict=True):
            if wire:
                groups.append([step])
            else:
                groups[-1].append(step)
        return tuple(tuple(group) for group in groups)

    @property
    def turned(self) -> Chain:
        """The same chain read from right to left."""
        steps = tuple(step.turned for step in reversed(self.steps))
        return Chain(steps, self.wires[::-1], self.last, self.first, self.last_way, self.first_way)


@dataclass(frozen=True, slots=True)
class Trace:
    """An installation in drawing order. Every element is in exactly one chain or hangs on one in `hung`."""

    buses: tuple[Bus, ...]
    supplies: tuple[Chain, ...]  # each holds a source's winding
    rungs: tuple[tuple[str, Chain], ...]  # zone, and a chain with a thermostat or from rail to rail
    strays: tuple[Chain, ...]  # whatever no rung reaches, on the heater side
    feeds: tuple[Chain, ...]  # the T-T side: end switches and contacts of their own, boilers
    hung: tuple[Element, ...]  # elements whose unit has another element in a chain
    lone: dict[str, tuple[str, ...]]  # unit: terminals at which no element ends
    apart: tuple[str, ...]  # conductors that belong to no chain
    loose: tuple[str, ...]  # terminals on which nothing is landed and something should be

    def bus_of(self, terminal: str) -> Bus | None:
        """The bus that a terminal is a way of, or None."""
        return next((bus for bus in self.buses if terminal in bus.ways), None)


def traced(installation: Installation) -> Trace:
    """The chains, buses and loose ends of an installation, each terminal and conductor once."""
    return _Tracing(installation).trace()


@dataclass(frozen=True, slots=True)
class _Arm:
    """One side of a chain, from its seed outward: steps, the conductor before each, and the conductor to a bus."""

    steps: tuple[Step, ...] = ()
    wires: tuple[str, ...] = ()
    last: str = ""
    way: str = ""  # terminal of the bus


class _Tracing:
    """The working tables of one trace."""

    def __init__(self, installation: Installation) -> None:
        self.installation = installation
        self.graph = Graph(installation)
        self.landed, self.at, self.way, self.buses = self.graph.landed, self.graph.at, self.graph.way, self.graph.buses
        self.elements = self.graph.elements
        self.units: dict[str, list[Element]] = {}
        for element in self.elements:
            self.units.setdefault(element.unit, []).append(element)
        self.used: set[Element] = set()

    def trace(self) -> Trace:
        rails = self._railed("R"), self._railed("C")
        supplies = tuple(self._grown(element, ("fuse", "breaker", "joint"), rails) for element in self._of("winding"))
        rungs = list(self._rungs())
        feeds, strays = [], []
        for element in self._of(*DRIVES, "coil", "switch", "contact", "boiler", "joint", "fuse", "breaker", "box"):
            if element in self.used:
                continue
            chain = self._grown(self._wired(element), () if element.kind in ("boiler", "box") else PASSABLE)
            if self._is_rung(chain):
                rungs.append((zone_of(chain.left) or zone_of(chain.right), chain))
            else:
                (feeds if self._is_feed(chain) else strays).append(chain)
        zones = list(dict.fromkeys(zone for zone, _ in rungs))
        rungs.sort(key=lambda rung: zones.index(rung[0]))
        feeds.sort(key=lambda chain: any(step.element.kind == "boiler" for step in chain.steps))
        chains = (*supplies, *(chain for _, chain in rungs), *strays, *feeds)
        told = {wire for chain in chains for wire in (*chain.wires, chain.first, chain.last)}
        stepped = {step.element for chain in chains for step in chain.steps}
        parts = self.installation.parts
        takes_none = {terminal for part in parts for terminal in bare(part)}
        return Trace(
            self.buses,
            supplies,
            tuple(rungs),
            tuple(strays),
            tuple(feeds),
            tuple(element for element in self.elements if element not in stepped),
            {unit: terminals for part in parts for unit, terminals in lone(part).items()},
            tuple(wire.name for wire in self.installation.conductors if wire.name not in told),
            tuple(terminal for terminal, wires in self.landed.items() if not wires and terminal not in takes_none),
        )

    def _of(self, *kinds: str) -> list[Element]:
        order = {kind: place for place, kind in enumerate(kinds)}
        return sorted((element for element in self.elements if element.kind in order), key=lambda e: order[e.kind])

    def _wired(self, element: Element) -> Element:
        """The element of the same kind and unit that has a conductor at both ends; this one where none has."""
        same = [other for other in self.units[element.unit] if other.kind == element.kind]
        return next((other for other in same if self.landed[other.a] and self.landed[other.b]), element)

    # Chains: arms grown from a seed until a bus, a branch or a loose end.

    def _rungs(self) -> tuple[tuple[str, Chain], ...]:
        """The zones' rungs. Each zone looks among its own parts first, before any zone looks among another's."""
        stats = {element: home(element.part) for element in self._of("stat")}
        for element in stats:
            self._close(element)
        turned = {element: self._is_turned(element, zone) for element, zone in stats.items()}
        arms: dict[tuple[Element, str], _Arm] = {}
        kinds = PASSABLE
        goals = {"left": self._railed("R"), "right": self._railed("C")}
        for own, bound in ((True, True), (False, True), (True, False)):
            for element, zone in stats.items():
                for side in ("left", "right"):
                    if (element, side) in arms:
                        continue
                    start = element.a if (side == "left") != turned[element] else element.b
                    arm = self._path(start, goals[side] if bound else None, kinds, zone if own else "")
                    if arm is not None:
                        arms[element, side] = arm
                        self._take(arm)
        for element, zone in stats.items():
            for side in ("left", "right"):
                if (element, side) not in arms:
                    start = element.a if (side == "left") != turned[element] else element.b
                    arms[element, side] = self._ramble(start, kinds, zone)
                    self._take(arms[element, side])
        sides = {element: (arms[element, "left"], arms[element, "right"]) for element in stats}
        return tuple((zone, self._joined(element, *sides[element], turned[element])) for element, zone in stats.items())

    def _is_turned(self, element: Element, zone: str) -> bool:
        """Whether a thermostat sits the other way round between the rails."""
        r, c = self._railed("R"), self._railed("C")

        def reaches(start: str, goal: frozenset[str]) -> bool:
            return self._path(start, goal, PASSABLE, zone) is not None

        if reaches(element.a, r) or reaches(element.b, c):
            return False
        return reaches(element.b, r) or reaches(element.a, c)

    def _grown(self, seed: Element, kinds: tuple[str, ...], goals: tuple[frozenset[str] | None, ...] = (None, None)) -> Chain:
        """The chain through a seed, the way round that its ends' places on the sheet ask for."""
        self.used.add(seed)
        self._close(seed)
        arms = []
        for start, goal in zip((seed.a, seed.b), goals, strict=True):
            arm = self._path(start, goal, kinds, "") or self._path(start, None, kinds, "") or self._ramble(start, kinds, "")
            self._take(arm)
            arms.append(arm)
        chain = self._joined(seed, *arms, False)
        return chain.turned if self._place(chain.first_way) > self._place(chain.last_way) else chain

    def _place(self, way: str) -> int:
        """Where the bus at an end of a chain stands: -1 leftmost. An end without one stands in the middle."""
        bus = next((bus for bus in self.buses if way in bus.ways), None)
        if bus is None:
            return 2
        if bus.role == "T":
            return 1 if bus.name == next(bus.name for bus in self.buses if bus.role == "T") else 3
        return {AHEAD["R"]: -1, "R": 0, "": 2, "C": 4, AHEAD["C"]: 5}[bus.role]

    def _joined(self, seed: Element, left: _Arm, right: _Arm, turned: bool) -> Chain:
        middle = Step(seed, seed.b, seed.a) if turned else Step(seed, seed.a, seed.b)
        steps = (*(step.turned for step in reversed(left.steps)), middle, *right.steps)
        return Chain(steps, (*left.wires[::-1], *right.wires), left.last, right.last, left.way, right.way)

    def _take(self, arm: _Arm) -> None:
        for step in arm.steps:
            self.used.add(step.element)
            self._close(step.element)

    def _close(self, element: Element) -> None:
        """A unit is drawn whole: with one element placed, the others have no chain of their own."""
        self.used |= set(self.units[element.unit])

    def _railed(self, role: str) -> frozenset[str]:
        """The buses that serve a supply terminal, those ahead of its rail included."""
        return frozenset(bus.name for bus in self.buses if bus.role in (role, AHEAD[role]))

    def _is_rung(self, chain: Chain) -> bool:
        """Whether a chain without a thermostat leads some load from rail to rail."""
        loaded = any(step.element.kind in (*DRIVES, "coil") for step in chain.steps)
        return loaded and self._place(chain.first_way) <= 0 and self._place(chain.last_way) >= 4

    def _is_feed(self, chain: Chain) -> bool:
        ends = {self._place(chain.first_way), self._place(chain.last_way)}
        if ends <= {1, 3} or any(step.element.kind == "boiler" for step in chain.steps):
            return True
        beyond = [other for end in (chain.left, chain.right) for _, other in self.landed[end]]
        return any(element.kind == "boiler" for other in beyond for element in self.at.get(other, ()))

    def _onward(self, here: str, arm: _Arm, kinds: tuple[str, ...], zone: str) -> list[tuple[str, Step]]:
        """Where a chain can go on from a terminal: along a conductor, or within a valve that shares the terminal."""

        def free(element: Element) -> bool:
            taken = element in self.used or any(step.element == element for step in arm.steps)
            whole = any(step.element.unit == element.unit for step in arm.steps[:-1])
            return element.kind in kinds and not taken and not whole and home(element.part) in ("", zone or home(element.part))

        found = []
        for wire, other in self.landed[here]:
            for element in self.at.get(other, ()):
                # Two elements of one unit follow each other inside it, never round by a conductor.
                around = arm.steps and arm.steps[-1].element.unit == element.unit
                if free(element) and not around and other not in self.way:
                    found.append((wire, Step(element, other, element.b if other == element.a else element.a)))
        if arm.steps:
            for element in self.at.get(here, ()):
                if element != arm.steps[-1].element and free(element):
                    found.append(("", Step(element, here, element.b if here == element.a else element.a)))
        return found

    def _path(self, start: str, goals: frozenset[str] | None, kinds: tuple[str, ...], zone: str) -> _Arm | None:
        """The shortest arm from a terminal to one of the goals, or to any bus; None where there is none."""
        queue, seen = deque([(start, _Arm())]), {start}
        while queue:
            here, arm = queue.popleft()
            for wire, other in self.landed[here]:
                if other in self.way and (goals is None or self.way[other] in goals) and wire not in arm.wires:
                    return replace(arm, last=wire, way=other)
            for wire, step in self._onward(here, arm, kinds, zone):
                if step.right not in seen:
                    seen.add(step.right)
                    queue.append((step.right, _Arm((*arm.steps, step), (*arm.wires, wire))))
        return None

    def _ramble(self, start: str, kinds: tuple[str, ...], zone: str) -> _Arm:
        """The arm that goes on as far as it can, where it comes to no bus."""
        here, arm = start, _Arm()
        while onward := self._onward(here, arm, kinds, zone):
            wire, step = onward[0]
            here, arm = step.right, _Arm((*arm.steps, step), (*arm.wires, wire))
        return arm
