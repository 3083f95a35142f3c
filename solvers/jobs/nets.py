"""What is joined to what in a wiring: terminals that are one electrical point, and where two sources meet."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from heapq import heappop, heappush

from ..circuit import Branch, Network, solved
from ..plant.parts import Splice
from ..plant.running import EARTH, PlantState, network
from ..plant.wiring import Installation

__all__ = ["APART", "LOOP", "ONE_POINT", "Nets", "current_path", "meeting", "nets"]

APART, ONE_POINT, LOOP = "apart", "one point", "loop"
"""How two sources can stand to each other: no path between them, joined at one point, or together in one loop."""

LEAST_SHARE = 0.02  # of the current looked at: less is leak and rounding
LEAST_AMPS = 1e-3


@dataclass(frozen=True, slots=True)
class Nets:
    """The electrical points of a wiring. Copper and connectors join terminals; nothing else does."""

    of: Mapping[str, str]  # node -> the first terminal of its point
    members: Mapping[str, tuple[str, ...]]  # first terminal -> terminals of parts at that point, connectors aside

    def same(self, first: str, second: str) -> bool:
        """Whether two terminals are one point."""
        return self.of[first] == self.of[second]

    def beside(self, terminal: str) -> tuple[str, ...]:
        """The terminals of parts that share a point with a terminal."""
        return tuple(other for other in self.members[self.of[terminal]] if other != terminal)


def nets(installation: Installation) -> Nets:
    """The points of an installation with every contact, fuse and load taken as a gap."""
    joins = [(wire.a, wire.b) for wire in installation.conductors]
    joins += [
        (branch.a, branch.b)
        for part in installation.parts
        if isinstance(part, Splice)
        for branch in part.branches(None, installation.hz)
    ]
    of = _joined(installation.terminals, joins)
    connectors = {terminal for part in installation.parts if isinstance(part, Splice) for terminal in part.terminals}
    members: dict[str, list[str]] = {}
    for terminal in installation.terminals:
        here = members.setdefault(of[terminal], [])
        if terminal not in connectors:
            here.append(terminal)
    return Nets(of, {point: tuple(there) for point, there in members.items()})


def meeting(points: Nets, branches: Iterable[Branch], first: str, second: str) -> str:
    """APART, ONE_POINT or LOOP: how the sources with these branch names stand to each other while `branches` conduct.

    Two sources stand in one loop when their branches lie in one biconnected block of the circuit: then each can drive
    amperes through the other. Where the blocks differ but hang together, they meet at single points only.
    """
    edges = [
        (branch.name, points.of.get(branch.a, branch.a), points.of.get(branch.b, branch.b))
        for branch in branches
        if branch.admittance
    ]
    edges = [edge for edge in edges if edge[1] != edge[2]]
    blocks = _blocks(edges)
    mine, other = blocks.get(first), blocks.get(second)
    if mine is None or other is None:
        return APART
    if mine == other:
        return LOOP
    ends = {name: (a, b) for name, a, b in edges}
    of = _joined(dict.fromkeys(node for _, a, b in edges for node in (a, b)), [(a, b) for _, a, b in edges])
    return ONE_POINT if of[ends[first][0]] == of[ends[second][0]] else APART


def current_path(installation: Installation, state: PlantState, branch: str) -> tuple[str, ...]:
    """The branches, in order round the loop, that carry a branch's current; empty where it carries none.

    Of several sources the one that drives most of that current is looked at alone; then, from the branch round to itself,
    the way is taken that carries most of it all along. Currents of one phase close in loops, so there always is one.
    """
    whole = [each for each in network(installation, state) if not each.name.startswith("stray ")]
    driven = [_driven(whole, source.name) for source in whole if source.emf]
    amps = max(driven, key=lambda found: abs(found.get(branch, 0.0)), default={})
    most = abs(amps.get(branch, 0.0))
    if most < LEAST_AMPS:
        return ()
    turn = amps[branch].conjugate() / most
    out: dict[str, list[tuple[float, str, str]]] = {}
    begin = here = ""
    for each in whole:
        flow = (amps[each.name] * turn).real
        tail, head = (each.a, each.b) if flow > 0 else (each.b, each.a)
        if each.name == branch:
            begin, here = tail, head
        elif EARTH not in (each.a, each.b) and abs(flow) > LEAST_SHARE * most:
            out.setdefault(tail, []).append((abs(flow), each.name, head))
    return (branch, *_widest(out, here, begin, most))


def _driven(branches: Iterable[Branch], source: str) -> dict[str, complex]:
    """Amperes of every branch with one source alone at work."""
    alone = Network(each if each.name == source else replace(each, emf=0.0) for each in branches)
    return {name: complex(flow) for name, flow in solved(alone, EARTH).currents().items()}


def _widest(out: Mapping[str, list[tuple[float, str, str]]], begin: str, end: str, most: float) -> tuple[str, ...]:
    """The branches from one node to another along which the least current is largest; among equals the fewest."""
    queue: list[tuple[float, int, tuple[str, ...], str]] = [(-most, 0, (), begin)]
    done: set[str] = set()
    while queue:
        width, hops, names, here = heappop(queue)
        if here == end:
            return names
        if here in done:
            continue
        done.add(here)
        for flow, name, head in out.get(here, ()):
            if head not in done:
                heappush(queue, (max(width, -0.99 * flow), hops + 1, (*names, name), head))
    return ()


def _joined(nodes: Iterable[str], joins: Iterable[tuple[str, str]]) -> dict[str, str]:
    """Every node with the first node of its group."""
    order = list(nodes)
    above = {node: node for node in order}

    def top(node: str) -> str:
        above.setdefault(node, node)
        while above[node] != node:
            above[node] = above[above[node]]
            node = above[node]
        return node

    for a, b in joins:
        above[top(a)] = top(b)
    first: dict[str, str] = {}
    for node in (*order, *(extra for extra in above if extra not in set(order))):
        first.setdefault(top(node), node)
    return {node: first[top(node)] for node in above}


def _blocks(edges: list[tuple[str, str, str]]) -> dict[str, int]:
    """The biconnected block of every edge, by number; depth first, edges stacked until a cut vertex closes a block."""
    around: dict[str, list[tuple[str, str]]] = {}
    for name, a, b in edges:
        around.setdefault(a, []).append((name, b))
        around.setdefault(b, []).append((name, a))
    depth: dict[str, int] = {}
    low: dict[str, int] = {}
    block: dict[str, int] = {}
    count = 0
    for root in around:
        if root in depth:
            continue
        depth[root] = low[root] = 0
        stack: list[str] = []
        visits = [(root, "", iter(around[root]))]
        used: set[str] = set()
        while visits:
            node, came_by, more = visits[-1]
            step = next(more, None)
            if step is not None:
                name, other = step
                if name in used:
                    continue
                used.add(name)
                stack.append(name)
                if other in depth:
                    low[node] = min(low[node], depth[other])
                else:
                    depth[other] = low[other] = depth[node] + 1
                    visits.append((other, name, iter(around[other])))
                continue
            visits.pop()
            if not visits:
                continue
            parent = visits[-1][0]
            low[parent] = min(low[parent], low[node])
            if low[node] >= depth[parent]:
                count += 1
                while stack:
                    name = stack.pop()
                    block[name] = count
                    if name == came_by:
                        break
    return block
