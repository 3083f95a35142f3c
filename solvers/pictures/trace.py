"""What is joined to what, put in the order in which a ladder shows it. One trace serves the drawing and its words.

Only landings count: which terminal each conductor ends at, and what a part holds between its own terminals. Ohms,
names and colours decide nothing, except that a zone's own parts are looked at before another zone's.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, replace

from ..plant.parts import HeatMotorValve
from ..plant.wiring import Installation
from .graph import Bus, Element, Graph, home

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
    `last` are the conductors that tie the ends to a bus, "" where none does.
    """

    steps: tuple[Step, ...]
    wires: tuple[str, ...]
    first: str = ""
    last: str = ""

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
        return Chain(tuple(step.turned for step in reversed(self.steps)), self.wires[::-1], self.last, self.first)


@dataclass(frozen=True, slots=True)
class Trace:
    """An installation in drawing order. Every element is in exactly one chain or hangs on one in `hung`."""

    buses: tuple[Bus, ...]
    supplies: tuple[Chain, ...]  # each holds a transformer's winding
    rungs: tuple[tuple[str, Chain], ...]  # zone, chain with its thermostat
    strays: tuple[Chain, ...]  # whatever no rung reaches, on the heater side
    feeds: tuple[Chain, ...]  # the T-T side: end switches of their own, boilers
    hung: tuple[Element, ...]  # halves of three-wire valves whose other half is in a chain
    apart: tuple[str, ...]  # conductors that belong to no chain
    loose: tuple[str, ...]  # terminals on which nothing is landed

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


class _Tracing:
    """The working tables of one trace."""

    def __init__(self, installation: Installation) -> None:
        self.installation = installation
        self.graph = Graph(installation)
        self.landed, self.at, self.way, self.buses = self.graph.landed, self.graph.at, self.graph.way, self.graph.buses
        self.shared = {part.name for part in installation.parts if isinstance(part, HeatMotorValve) and part.leads == 3}
        self.elements = self.graph.elements
        self.used: set[Element] = set()

    def trace(self) -> Trace:
        rails = self._roled("R"), self._roled("C")
        supplies = tuple(self._grown(element, ("fuse", "joint"), rails) for element in self._of("winding"))
        rungs = self._rungs()
        feeds, strays = [], []
        for element in self._of("heater", "switch", "boiler", "joint", "fuse"):
            if element in self.used:
                continue
            chain = self._grown(element, () if element.kind == "boiler" else ("joint", "heater", "switch"))
            (feeds if self._is_feed(chain) else strays).append(chain)
        feeds.sort(key=lambda chain: any(step.element.kind == "boiler" for step in chain.steps))
        chains = (*supplies, *(chain for _, chain in rungs), *strays, *feeds)
        told = {wire for chain in chains for wire in (*chain.wires, chain.first, chain.last)}
        stepped = {step.element for chain in chains for step in chain.steps}
        return Trace(
            self.buses,
            supplies,
            rungs,
            tuple(strays),
            tuple(feeds),
            tuple(element for element in self.elements if element not in stepped),
            tuple(wire.name for wire in self.installation.conductors if wire.name not in told),
            tuple(terminal for terminal, wires in self.landed.items() if not wires),
        )

    def _of(self, *kinds: str) -> list[Element]:
        order = {kind: place for place, kind in enumerate(kinds)}
        return sorted((element for element in self.elements if element.kind in order), key=lambda e: order[e.kind])

    # Chains: arms grown from a seed until a bus, a branch or a loose end.

    def _rungs(self) -> tuple[tuple[str, Chain], ...]:
        """The zones' rungs. Each zone looks among its own parts first, before any zone looks among another's."""
        stats = {element: home(element.part) for element in self._of("stat")}
        self.used |= set(stats)
        turned = {element: self._is_turned(element, zone) for element, zone in stats.items()}
        arms: dict[tuple[Element, str], _Arm] = {}
        kinds = ("joint", "heater", "switch")
        goals = {"left": self._roled("R"), "right": self._roled("C")}
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
        r, c, kinds = self._roled("R"), self._roled("C"), ("joint", "heater", "switch")

        def reaches(start: str, goal: frozenset[str]) -> bool:
            return self._path(start, goal, kinds, zone) is not None

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
        left, right = self._place(chain.left, chain.first), self._place(chain.right, chain.last)
        return chain.turned if left > right else chain

    def _place(self, terminal: str, wire: str) -> int:
        """Where the bus at an end of a chain stands: 0 leftmost. An end without one stands in the middle."""
        other = next((end for name, end in self.landed[terminal] if name == wire), "")
        bus = next((bus for bus in self.buses if other in bus.ways), None)
        if bus is None:
            return 2
        if bus.role == "T":
            return 1 if bus.name == next(bus.name for bus in self.buses if bus.role == "T") else 3
        return {"R": 0, "": 2, "C": 4}[bus.role]

    def _joined(self, seed: Element, left: _Arm, right: _Arm, turned: bool) -> Chain:
        middle = Step(seed, seed.b, seed.a) if turned else Step(seed, seed.a, seed.b)
        steps = (*(step.turned for step in reversed(left.steps)), middle, *right.steps)
        return Chain(steps, (*left.wires[::-1], *right.wires), left.last, right.last)

    def _take(self, arm: _Arm) -> None:
        for step in arm.steps:
            self.used.add(step.element)
            self._close(step.element)

    def _close(self, element: Element) -> None:
        """A three-wire valve is drawn whole: with one half placed, the other has no chain of its own."""
        if element.part in self.shared:
            self.used |= {other for other in self.elements if other.part == element.part}

    def _roled(self, role: str) -> frozenset[str]:
        return frozenset(bus.name for bus in self.buses if bus.role == role)

    def _is_feed(self, chain: Chain) -> bool:
        ends = {self._place(chain.left, chain.first), self._place(chain.right, chain.last)}
        return ends <= {1, 3} or any(step.element.kind == "boiler" for step in chain.steps)

    def _onward(self, here: str, arm: _Arm, kinds: tuple[str, ...], zone: str) -> list[tuple[str, Step]]:
        """Where a chain can go on from a terminal: along a conductor, or within a valve that shares the terminal."""

        def free(element: Element) -> bool:
            taken = element in self.used or any(step.element == element for step in arm.steps)
            whole = element.part in self.shared and any(step.element.part == element.part for step in arm.steps[:-1])
            return element.kind in kinds and not taken and not whole and home(element.part) in ("", zone or home(element.part))

        found = []
        for wire, other in self.landed[here]:
            for element in self.at.get(other, ()):
                # The two halves of one valve follow each other inside it, never round by a conductor.
                around = arm.steps and arm.steps[-1].element.part == element.part and element.part in self.shared
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
                    return replace(arm, last=wire)
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
