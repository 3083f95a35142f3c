"""Solve one network: node potentials, branch currents, and what any two nodes look like to a load.

Nodes are eliminated one by one, fewest neighbours first, by the star-mesh rule: a node's branches are replaced
by branches between its neighbours. Admittances are only added, multiplied and divided, never subtracted, and a
source stays volts in series with its branch, never amperes into a node, so a microhm joint and a gigohm leak in
one circuit do not spoil each other's digits.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from typing import NamedTuple

from .network import CircuitError, Network, NoSuchNode

__all__ = ["RESONANCE", "FloatingNodes", "Solved", "Thevenin", "currents", "potentials", "solved", "solved_once", "thevenin"]

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


class _Step(NamedTuple):
    """One eliminated node: its neighbours at that moment, its ties to them, and their sum."""

    node: int
    ties: tuple[tuple[int, complex, complex], ...]  # (neighbour, siemens, emf over that neighbour)
    total: complex  # siemens


@dataclass(frozen=True, slots=True)
class Solved:
    """A network eliminated once; answers any number of questions by substitution alone."""

    network: Network
    reference: str
    index: Mapping[str, int]
    steps: tuple[_Step, ...]
    volts: Mapping[str, complex]  # potential of every node against the reference

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


def solved(network: Network, reference: str) -> Solved:
    """Eliminate a network with potentials counted from `reference`.

    Raises NoSuchNode for an unknown reference and FloatingNodes when some nodes have no path to it.
    """
    index = {node: number for number, node in enumerate(network.nodes)}
    root = _known(index, reference)
    ties: list[_Ties] = [{} for _ in index]
    try:
        for branch in network:
            if y := branch.admittance:
                _tied(ties, index[branch.a], index[branch.b], y, branch.emf)
        steps = _eliminated(ties, root)
    except ZeroDivisionError:
        raise CircuitError(RESONANCE) from None
    except _Lonely:
        raise FloatingNodes(_floating(network, reference)) from None
    found = [0j] * len(index)
    for step in reversed(steps):
        found[step.node] = sum(y * (found[other] + emf) for other, y, emf in step.ties) / step.total
    return Solved(network, reference, index, steps, {node: found[number] for node, number in index.items()})


_KNOWN: OrderedDict[tuple[str, tuple[int, ...]], Solved] = OrderedDict()
MOST_KNOWN = 256


def solved_once(network: Network, reference: str) -> Solved:
    """As `solved`, but a circuit of the very same branch objects is not eliminated again; raises as `solved` does.

    What has been solved holds its branches, so that their identities cannot be reused while it is known.
    """
    key = (reference, tuple(map(id, network.branches)))
    known = _KNOWN.get(key)
    if known is None:
        known = _KNOWN[key] = solved(network, reference)
        if len(_KNOWN) > MOST_KNOWN:
            _KNOWN.popitem(last=False)
    else:
        _KNOWN.move_to_end(key)
    return known


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


def _eliminated(ties: list[_Ties], root: int) -> tuple[_Step, ...]:
    """Eliminate every node but the root, fewest neighbours first and of those the first in order."""
    count = len(ties)
    # A node stands in the queue once for every number of neighbours it has had; only the last of them counts.
    queue = [len(around) * count + node for node, around in enumerate(ties) if node != root]
    heapify(queue)
    done, steps = [False] * count, []
    while queue:
        neighbours, node = divmod(heappop(queue), count)
        if done[node] or neighbours != len(ties[node]):
            continue
        if not neighbours:
            raise _Lonely
        done[node] = True
        around = tuple([(other, y, emf) for other, (y, emf) in ties[node].items()])
        total = sum([y for _, y, _ in around])
        steps.append(_Step(node, around, total))
        for position, (first, y_first, emf_first) in enumerate(around, 1):
            share = y_first / total
            del ties[first][node]
            for second, y_second, emf_second in around[position:]:
                _tied(ties, first, second, share * y_second, emf_second - emf_first)
        for other, _, _ in around:
            if other != root:
                heappush(queue, len(ties[other]) * count + other)
    return tuple(steps)


def _between(steps: tuple[_Step, ...], count: int, first: int, second: int) -> complex:
    """Ohms between two nodes. One ampere in and out loses to each eliminated node the square of what reaches it."""
    reaching = [0j] * count
    reaching[first], reaching[second] = 1 + 0j, -1 + 0j
    ohms = 0j
    for step in steps:
        here = reaching[step.node]
        if here:
            share = here / step.total
            ohms += here * share
            for other, y, _ in step.ties:
                reaching[other] += share * y
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
