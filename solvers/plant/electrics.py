"""The electrical side of an installation in a state: its network, and each distinct state solved once."""

from __future__ import annotations

import math
from collections import OrderedDict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from itertools import combinations

from ..circuit import Branch, Network, Solved, solved
from . import facts
from .part import Part
from .wiring import Conductor, Installation

__all__ = ["EARTH", "Electrics", "electrics", "lead", "network"]

EARTH = "earth"
"""The node that every leak ends at."""

MOST_REMEMBERED = 64  # installations
MOST_STATES = 512  # electrical states of one installation


@dataclass(frozen=True, slots=True)
class Electrics:
    """One electrical state, solved at one frequency."""

    solved: Solved
    amps: Mapping[str, float]  # A rms in every branch


@dataclass(slots=True)
class _Memory:
    """What has been built and solved of one installation. Holds it, so that its identity cannot be reused."""

    installation: Installation
    stateful: tuple[Part, ...]
    stateless: tuple[Part, ...]
    recent: dict[tuple[str, float], tuple[object, tuple[Branch, ...]]] = field(default_factory=dict)
    fixed: dict[tuple, tuple[Branch, ...]] = field(default_factory=dict)
    found: OrderedDict[tuple, Electrics] = field(default_factory=OrderedDict)


_MEMORIES: OrderedDict[int, _Memory] = OrderedDict()


def lead(terminal: str) -> str:
    """The test point on a lead that has been lifted off a terminal."""
    return f"{terminal} lead"


def network(
    installation: Installation, parts: Mapping[str, object], lifted: tuple[str, ...] = (), hz: float | None = None
) -> Network:
    """The circuit with its parts in these states, strays and leaks included; hz 0 is what an ohmmeter meets."""
    frequency = installation.hz if hz is None else hz
    memory = _memory(installation)
    return Network((*_moving(memory, parts, frequency), *_fixed(memory, lifted, frequency)))


def electrics(
    installation: Installation, parts: Mapping[str, object], lifted: tuple[str, ...] = (), hz: float | None = None
) -> Electrics:
    """The same circuit solved; a state that was met before is not solved again."""
    frequency = installation.hz if hz is None else hz
    memory = _memory(installation)
    moving = _moving(memory, parts, frequency)
    key = (frequency, lifted, moving)
    known = memory.found.get(key)
    if known is None:
        whole = solved(Network((*moving, *_fixed(memory, lifted, frequency))), EARTH)
        known = Electrics(whole, {name: abs(value) for name, value in whole.currents().items()})
        memory.found[key] = known
        if len(memory.found) > MOST_STATES:
            memory.found.popitem(last=False)
    return known


def _memory(installation: Installation) -> _Memory:
    known = _MEMORIES.get(id(installation))
    if known is None or known.installation is not installation:
        known = _MEMORIES[id(installation)] = _Memory(
            installation,
            tuple(part for part in installation.parts if part.initial() is not None),
            tuple(part for part in installation.parts if part.initial() is None),
        )
        while len(_MEMORIES) > MOST_REMEMBERED:
            _MEMORIES.popitem(last=False)
    else:
        _MEMORIES.move_to_end(id(installation))
    return known


def _moving(memory: _Memory, parts: Mapping[str, object], hz: float) -> tuple[Branch, ...]:
    found: list[Branch] = []
    for part in memory.stateful:
        state = parts[part.name]
        known = memory.recent.get((part.name, hz))
        if known is None or known[0] is not state:
            known = memory.recent[part.name, hz] = (state, part.branches(state, hz))
        found += known[1]
    return tuple(found)


def _fixed(memory: _Memory, lifted: tuple[str, ...], hz: float) -> tuple[Branch, ...]:
    """Conductors, joints, strays and leaks: what only a screwdriver changes."""
    key = (lifted, hz)
    if key not in memory.fixed:
        wires, off = memory.installation.conductors, set(lifted)
        ends = {wire.name: tuple(lead(end) if end in off else end for end in (wire.a, wire.b)) for wire in wires}
        branches = [Branch(wire.name, *ends[wire.name], wire.ohms) for wire in wires]
        branches += [branch for part in memory.stateless for branch in part.branches(None, hz)]
        branches += _strays(wires, ends, hz)
        inner = (branch for part in memory.stateful for branch in part.branches(part.initial(), hz))
        nodes = dict.fromkeys(node for branch in (*branches, *inner) for node in (branch.a, branch.b))
        nodes |= dict.fromkeys(memory.installation.terminals)
        nodes.pop(EARTH, None)
        branches += [Branch(f"leak {node}", node, EARTH, facts.LEAK_OHMS.value) for node in nodes]
        memory.fixed[key] = tuple(branches)
    return memory.fixed[key]


def _strays(conductors: Iterable[Conductor], ends: Mapping[str, tuple[str, ...]], hz: float) -> list[Branch]:
    """Half of each pair's capacitance at either end of the cable; none for direct current."""
    found: list[Branch] = []
    if hz == 0:
        return found
    cables: dict[str, list[Conductor]] = {}
    for wire in conductors:
        if wire.cable and wire.feet:
            cables.setdefault(wire.cable, []).append(wire)
    for wires in cables.values():
        for one, other in combinations(wires, 2):
            metres = min(one.feet, other.feet) * facts.METRES_PER_FOOT.value
            z = -1j / (2 * math.pi * hz * facts.STRAY_FARADS_PER_METRE.value * metres / 2)
            for which, (a, b) in enumerate(zip(ends[one.name], ends[other.name], strict=True)):
                if a != b:
                    found.append(Branch(f"stray {one.name} to {other.name} {which + 1}", a, b, z))
    return found
