"""Solve one network: node potentials, branch currents, and what any two nodes look like to a load.

Nodes are eliminated one by one, fewest neighbours first, by the star-mesh rule: a node's branches are replaced
by branches between its neighbours. Admittances are only added, multiplied and divided, never subtracted, and a
source stays volts in series with its branch, never amperes into a node, so a microhm joint and a gigohm leak in
one circuit do not spoil each other's digits.
"""

from __future__ import annotations

import math
from collections import OrderedDict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from itertools import pairwise
from typing import NamedTuple

from .network import Branch, CircuitError, Network, NoSuchNode

__all__ = [
    "RESONANCE",
    "Begun",
    "FloatingNodes",
    "Solved",
    "Thevenin",
    "begun",
    "currents",
    "met",
    "potentials",
    "solved",
    "solved_once",
    "thevenin",
]

RESONANCE = "a coil and a capacitor cancel each other exactly (a lossless resonance)"
"""What is said of a circuit with reactances that leave nothing between them."""


class FloatingNodes(CircuitError):
    """Part of the circuit has no path at all to the node that potentials are counted from."""


@dataclass(frozen=True, slots=True)
class Thevenin:
    """What two nodes look like from outside: open-circuit volts and source impedance."""

    emf: complex  # volts rms, first node against second
    z: complex  # ohms


_Ties = dict[int, tuple[complex, complex]]  # neighbour -> (siemens, emf of the node over that neighbour)


class _Steps(NamedTuple):
    """Nodes eliminated one after the other, all in one row of numbers: a few objects, and not hundreds, for each circuit.

    A step is its node's number, the sum of its siemens, and of each neighbour then: number, siemens, emf over it.
    """

    numbers: tuple[complex, ...]
    marks: tuple[int, ...]  # where each step begins, and the end of the last


@dataclass(frozen=True, slots=True)
class Solved:
    """A network eliminated once; answers any number of questions by substitution alone."""

    network: Network
    reference: str
    index: Mapping[str, int]
    steps: tuple[_Steps, ...]
    volts: Mapping[str, complex]  # potential of every node against the reference, found when it is first asked for

    def thevenin(self, a: str, b: str) -> Thevenin:
        """Open-circuit volts and source ohms between two nodes; raises NoSuchNode."""
        first, second = _known(self.index, a), _known(self.index, b)
        if first == second:
            return Thevenin(0.0, 0.0)
        return Thevenin(self.volts[a] - self.volts[b], _between(self.steps, len(self.index), first, second))

    def currents(self) -> dict[str, complex]:
        """Amperes rms in every branch, counted from its node a to its node b."""
        return {
            branch.name: (self.volts[branch.a] - self.volts[branch.b] - branch.emf) * branch.admittance for branch in self.network
        }


@dataclass(frozen=True, slots=True)
class Begun:
    """A circuit without some of its branches, eliminated as far as none of those can matter: what many circuits share."""

    reference: str
    index: Mapping[str, int]
    ties: tuple[_Ties, ...]  # of every node; empty for those that are eliminated
    gone: tuple[bool, ...]
    steps: _Steps


def begun(branches: Iterable[Branch], reference: str, kept: Collection[str]) -> Begun:
    """Eliminate what these branches make of a circuit as far as it concerns none of the nodes that are to be `kept`.

    Nodes with many neighbours are left too: taken out too early they would tie all of those to one another.
    """
    index: dict[str, int] = {reference: 0}
    ties: list[_Ties] = [{}]
    for branch in branches:
        for node in (branch.a, branch.b):
            if node not in index:
                index[node] = len(ties)
                ties.append({})
        if y := branch.admittance:
            _tied(ties, index[branch.a], index[branch.b], y, branch.emf)
    gone = [False] * len(ties)
    among = [number for node, number in index.items() if number and node not in kept]
    steps = _eliminated(ties, 0, among, gone, MOST_NEIGHBOURS)
    return Begun(reference, index, tuple(ties), tuple(gone), steps)


MOST_NEIGHBOURS = 5
NOTHING = _Steps((), (0,))


def solved(network: Network, reference: str) -> Solved:
    """Eliminate a network with potentials counted from `reference`.

    Raises NoSuchNode for an unknown reference and FloatingNodes when some nodes have no path to it.
    """
    index = {node: number for number, node in enumerate(network.nodes)}
    root = _known(index, reference)
    ties: list[_Ties] = [{} for _ in index]
    return _finished(network, network, reference, index, root, ties, [False] * len(ties), NOTHING)


def _finished(
    network: Network,
    more: Iterable[Branch],
    reference: str,
    index: Mapping[str, int],
    root: int,
    ties: list[_Ties],
    gone: list[bool],
    before: _Steps,
) -> Solved:
    """Put the branches that are still missing into the ties, eliminate what is left, and substitute back that far."""
    try:
        for branch in more:
            if y := branch.admittance:
                _tied(ties, index[branch.a], index[branch.b], y, branch.emf)
        left = [number for number, is_gone in enumerate(gone) if not is_gone and number != root]
        steps = _eliminated(ties, root, left, gone)
    except ZeroDivisionError:
        raise CircuitError(RESONANCE) from None
    except _Lonely:
        raise FloatingNodes(_floating(network, reference)) from None
    found: list[complex | None] = [None] * len(index)
    found[root] = 0j
    _substituted(steps, found)
    return Solved(network, reference, index, (before, steps), _Volts(index, found, before))


def _substituted(steps: _Steps, found: list[complex | None]) -> None:
    numbers, (*starts, end) = steps
    for start in reversed(starts):
        amps = 0j
        for at in range(start + 2, end, 3):
            amps += numbers[at + 1] * (found[numbers[at]] + numbers[at + 2])
        found[numbers[start]] = amps / numbers[start + 1]
        end = start


class _Volts(Mapping[str, complex]):
    """The potential of every node; of those that were eliminated beforehand only once one of them is asked for."""

    __slots__ = ("_before", "_found", "_index")

    def __init__(self, index: Mapping[str, int], found: list[complex | None], before: _Steps) -> None:
        self._index, self._found, self._before = index, found, before

    def __getitem__(self, node: str) -> complex:
        number = self._index[node]
        volts = self._found[number]
        if volts is None:
            _substituted(self._before, self._found)
            volts = self._found[number]
        return volts

    def __iter__(self) -> Iterator[str]:
        return iter(self._index)

    def __len__(self) -> int:
        return len(self._index)


_KNOWN: OrderedDict[tuple[str, tuple[int, ...]], Solved] = OrderedDict()
MOST_KNOWN = 1024  # each circuit counts twice


def solved_once(network: Network, reference: str, start: Begun | None = None, more: Sequence[Branch] = ()) -> Solved:
    """As `solved`, but a circuit of the very same branch objects is not eliminated again; raises as `solved` does.

    Where all but the branches `more` have been `begun` with, only what is left is eliminated. What has been solved holds
    its branches, so that their identities cannot be reused while it is known.
    """
    circuit = tuple(map(id, network.branches))
    known = _KNOWN.get((reference, circuit))
    if known is None:
        known = _continued(network, start, more) if start is not None and start.reference == reference else None
        known = known or solved(network, reference)
        _KNOWN[reference, circuit] = _KNOWN["", circuit] = known
        while len(_KNOWN) > MOST_KNOWN:
            _KNOWN.popitem(last=False)
    else:
        _KNOWN.move_to_end((reference, circuit))
    return known


def met(network: Network, reference: str) -> Solved:
    """The same solved once, with potentials counted from whatever node: for what stands between two nodes it is all one."""
    known = _KNOWN.get(("", tuple(map(id, network.branches))))
    return solved_once(network, reference) if known is None else known


def _continued(network: Network, start: Begun, more: Sequence[Branch]) -> Solved | None:
    """What has been begun with these branches besides; None where they touch what is eliminated already."""
    index, gone = start.index, start.gone
    for branch in more:
        for node in (branch.a, branch.b):
            if node not in index or gone[index[node]]:
                return None
    ties = [around if is_gone else around.copy() for around, is_gone in zip(start.ties, gone, strict=True)]
    return _finished(network, more, start.reference, index, 0, ties, list(gone), start.steps)


def potentials(network: Network, reference: str) -> dict[str, complex]:
    """Volts rms of every node against `reference`; raises as `solved` does.

    >>> from solvers.circuit import Branch
    >>> loop = Network([Branch("source", "R", "C", 2.0, emf=28.0), Branch("heater", "R", "C", 26.0)])
    >>> round(potentials(loop, "C")["R"].real, 6)
    26.0
    """
    return dict(solved(network, reference).volts)


def currents(network: Network, reference: str) -> dict[str, complex]:
    """Amperes rms in every branch, from its node a to its node b; raises as `solved` does."""
    return solved(network, reference).currents()


def thevenin(network: Network, a: str, b: str) -> Thevenin:
    """Open-circuit volts and source ohms between two nodes; raises as `solved` does."""
    _known(dict.fromkeys(network.nodes, 0), a)
    return solved(network, b).thevenin(a, b)


def _known(index: Mapping[str, int], node: str) -> int:
    if node not in index:
        raise NoSuchNode(f"no node {node!r}; there are {sorted(index)}")
    return index[node]


class _Lonely(Exception):
    """A node lost its last neighbour before it was eliminated."""


def _tied(ties: list[_Ties], a: int, b: int, y: complex, emf: complex) -> None:
    """Join two nodes by one more branch: parallel branches become one, its emf their weighted mean."""
    around = ties[a]
    if b in around:
        before, held = around[b]
        together = before + y
        if held != emf:
            emf = (before * held + y * emf) / together
        y = together
    around[b] = y, emf
    ties[b][a] = y, -emf


def _eliminated(ties: list[_Ties], root: int, among: Sequence[int], gone: list[bool], most: float = math.inf) -> _Steps:
    """Eliminate these nodes, fewest neighbours first and of those the first in order, while they have at most so many."""
    count = len(ties)
    # A node stands in the queue once for every number of neighbours it has had; only the last of them counts.
    queue = [len(ties[node]) * count + node for node in among]
    heapify(queue)
    wanted = [False] * count
    for node in among:
        wanted[node] = True
    numbers: list[complex] = []
    starts: list[int] = []
    while queue:
        neighbours, node = divmod(heappop(queue), count)
        if gone[node] or neighbours != len(ties[node]):
            continue
        if neighbours > most:
            break
        if not neighbours:
            raise _Lonely
        gone[node] = True
        around = [(other, y, emf) for other, (y, emf) in ties[node].items()]
        start, total = len(numbers), 0.0
        starts.append(start)
        numbers += (node, total)
        for tie in around:
            total += tie[1]
            numbers += tie
        numbers[start + 1] = total
        for position, (first, y_first, emf_first) in enumerate(around, 1):
            share = y_first / total
            mine = ties[first]
            del mine[node]
            for second, y_second, emf_second in around[position:]:
                y, emf = share * y_second, emf_second - emf_first
                # As _tied does; written out, because this is where solving spends its time.
                if second in mine:
                    before, held = mine[second]
                    together = before + y
                    if held != emf:
                        emf = (before * held + y * emf) / together
                    y = together
                mine[second] = y, emf
                ties[second][first] = y, -emf
        for other, _, _ in around:
            if wanted[other]:
                heappush(queue, len(ties[other]) * count + other)
    return _Steps(tuple(numbers), (*starts, len(numbers)))


def _between(steps: tuple[_Steps, ...], count: int, first: int, second: int) -> complex:
    """Ohms between two nodes. One ampere in and out loses to each eliminated node the square of what reaches it."""
    reaching = [0j] * count
    reaching[first], reaching[second] = 1 + 0j, -1 + 0j
    ohms = 0j
    for numbers, marks in steps:
        for start, end in pairwise(marks):
            here = reaching[numbers[start]]
            if here:
                share = here / numbers[start + 1]
                ohms += here * share
                for at in range(start + 2, end, 3):
                    reaching[numbers[at]] += share * numbers[at + 1]
    return ohms


def _floating(network: Network, reference: str) -> str:
    reached, edge = {reference}, [reference]
    joined = [(branch.a, branch.b) for branch in network if branch.admittance]
    while edge:
        here = edge.pop()
        for a, b in joined:
            for near, far in ((a, b), (b, a)):
                if near == here and far not in reached:
                    reached.add(far)
                    edge.append(far)
    return (
        f"no path from {sorted(set(network.nodes) - reached)} to {reference!r}: an open contact, a lifted lead or a "
        "separate supply leaves that part floating; give it its stray leakage, or count volts from a node it is joined to"
    )
