"""The electrical side of an installation in a state: its network, and each distinct state solved once."""

from __future__ import annotations

import math
from collections import OrderedDict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import combinations

from ..circuit import Branch, Network, Solved, solved_once
from . import facts
from .part import Part
from .strays import Stray
from .wiring import Conductor, Installation

__all__ = ["EARTH", "Electrics", "electrics", "lead", "network"]

EARTH = "earth"
"""The node that every leak ends at."""

MOST_REMEMBERED = 64  # installations
MOST_STATES = 512  # electrical states of one installation
MOST_SETS = 4096  # of branches that its parts have had
MOST_BRANCHES = 8192  # that are kept, so that the same conductor in two installations is the same branch


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
    recent: dict[tuple[str, float], tuple[object, tuple[Branch, ...], int]] = field(default_factory=dict)
    known: dict[tuple[str, float, object], tuple[tuple[Branch, ...], int]] = field(default_factory=dict)
    numbers: dict[tuple[Branch, ...], int] = field(default_factory=dict)  # every set of branches that a part has had
    fixed: dict[tuple, tuple[Branch, ...]] = field(default_factory=dict)
    found: OrderedDict[tuple, Electrics] = field(default_factory=OrderedDict)
    latest: dict[tuple, tuple[Mapping[str, object], Electrics]] = field(default_factory=dict)


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
    return Network((*_moving(memory, parts, frequency)[0], *_fixed(memory, lifted, frequency)))


def electrics(
    installation: Installation, parts: Mapping[str, object], lifted: tuple[str, ...] = (), hz: float | None = None
) -> Electrics:
    """The same circuit solved; a state that was met before is not solved again. `parts` must not be changed afterwards."""
    frequency = installation.hz if hz is None else hz
    memory = _memory(installation)
    last = memory.latest.get((frequency, lifted))
    if last is not None and last[0] is parts:  # asked again of the very same states, as after every event
        return last[1]
    if len(memory.numbers) > MOST_SETS:
        for kept in (memory.numbers, memory.recent, memory.known, memory.found):
            kept.clear()
    moving, numbers = _moving(memory, parts, frequency)
    key = (frequency, lifted, numbers)
    known = memory.found.get(key)
    if known is None:
        whole = solved_once(Network((*moving, *_fixed(memory, lifted, frequency))), EARTH)
        known = Electrics(whole, {name: abs(value) for name, value in whole.currents().items()})
        memory.found[key] = known
        if len(memory.found) > MOST_STATES:
            memory.found.popitem(last=False)
    if len(memory.latest) > MOST_REMEMBERED:
        memory.latest.clear()
    memory.latest[frequency, lifted] = (parts, known)
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


def _moving(memory: _Memory, parts: Mapping[str, object], hz: float) -> tuple[list[Branch], tuple[int, ...]]:
    """The branches of every part with a state, and a number for each part's: comparing them takes no look into a branch."""
    found: list[Branch] = []
    numbers: list[int] = []
    for part in memory.stateful:
        state = parts[part.name]
        known = memory.recent.get((part.name, hz))
        if known is None or known[0] is not state:
            known = memory.recent[part.name, hz] = (state, *_branched(memory, part, state, hz))
        found += known[1]
        numbers.append(known[2])
    return found, tuple(numbers)


def _branched(memory: _Memory, part: Part, state: object, hz: float) -> tuple[tuple[Branch, ...], int]:
    """A part's branches and their number, remembered by its state: what opens and shuts comes back to the same few."""
    found = memory.known.get((part.name, hz, state))
    if found is None:
        if len(memory.known) > MOST_SETS:
            memory.known.clear()
        branches = _of_part(part, state, hz)
        number = memory.numbers.setdefault(branches, len(memory.numbers))
        found = memory.known[part.name, hz, state] = (branches, number)
    return found


def _fixed(memory: _Memory, lifted: tuple[str, ...], hz: float) -> tuple[Branch, ...]:
    """Conductors, joints, strays and leaks: what only a screwdriver changes."""
    key = (lifted, hz)
    if key not in memory.fixed:
        wires, off = memory.installation.conductors, set(lifted)
        ends = {wire.name: tuple(lead(end) if end in off else end for end in (wire.a, wire.b)) for wire in wires}
        branches = [_branch(wire.name, *ends[wire.name], wire.ohms) for wire in wires]
        branches += [branch for part in memory.stateless for branch in _lying(part, wires, off, hz)]
        branches += _strays(wires, ends, hz)
        inner = (branch for part in memory.stateful for branch in _of_part(part, part.initial(), hz))
        nodes = dict.fromkeys(node for branch in (*branches, *inner) for node in (branch.a, branch.b))
        nodes |= dict.fromkeys(memory.installation.terminals)
        nodes.pop(EARTH, None)
        branches += [_branch(f"leak {node}", node, EARTH, facts.LEAK_OHMS.value) for node in nodes]
        memory.fixed[key] = tuple(branches)
    return memory.fixed[key]


def _lying(part: Part, wires: Iterable[Conductor], off: set[str], hz: float) -> tuple[Branch, ...]:
    """The branches of a part without a state; a stray inside a cable goes along with the ends of it that are lifted."""
    found = _of_part(part, None, hz)
    if not (off and isinstance(part, Stray) and any(wire.cable == part.belongs for wire in wires if wire.cable)):
        return found
    moved = {terminal: lead(terminal) for terminal in off}
    return tuple(replace(branch, a=moved.get(branch.a, branch.a), b=moved.get(branch.b, branch.b)) for branch in found)


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
                    found.append(_branch(f"stray {one.name} to {other.name} {which + 1}", a, b, z))
    return found


_branch = lru_cache(maxsize=MOST_BRANCHES)(Branch)

_PARTS: dict[tuple[int, object, float], tuple[Part, tuple[Branch, ...]]] = {}


def _of_part(part: Part, state: object, hz: float) -> tuple[Branch, ...]:
    """A part's branches in a state, the very same ones wherever the same part stands: a fault elsewhere leaves it as it is."""
    known = _PARTS.get((id(part), state, hz))
    if known is not None and known[0] is part:
        return known[1]
    if len(_PARTS) > MOST_BRANCHES:
        _PARTS.clear()
    found = part.branches(state, hz)
    _PARTS[id(part), state, hz] = (part, found)
    return found
