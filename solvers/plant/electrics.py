"""The electrical side of an installation in a state: its network, and each distinct state solved once."""

from __future__ import annotations

import math
from collections import OrderedDict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import combinations

from ..circuit import Begun, Branch, CircuitError, Network, Solved, begun, solved_once
from . import facts
from .part import Part
from .strays import Stray
from .wiring import Conductor, Installation

__all__ = ["EARTH", "Electrics", "branches", "electrics", "forgotten", "lead", "network"]

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


class _Amps(Mapping[str, float]):
    """Amperes rms by branch, each found when it is first asked for: of two hundred the plant feels two dozen."""

    __slots__ = ("_fixed", "_found", "_moving", "_solved")

    def __init__(self, whole: Solved, moving: Iterable[Branch], fixed: Mapping[str, Branch]) -> None:
        self._solved, self._fixed = whole, fixed
        self._moving = {branch.name: branch for branch in moving}
        self._found: dict[str, float] = {}

    def __getitem__(self, name: str) -> float:
        amps = self._found.get(name)
        if amps is None:
            branch = self._moving.get(name) or self._fixed[name]
            volts = self._solved.volts
            amps = self._found[name] = abs((volts[branch.a] - volts[branch.b] - branch.emf) * branch.admittance)
        return amps

    def __iter__(self) -> Iterator[str]:
        return iter((*self._moving, *self._fixed))

    def __len__(self) -> int:
        return len(self._moving) + len(self._fixed)


@dataclass(frozen=True, slots=True)
class _Fixed:
    """What only a screwdriver changes, by name, and the elimination that all states have in common."""

    branches: tuple[Branch, ...]
    named: Mapping[str, Branch]
    begun: Begun
    kept: frozenset[str]  # nodes that the parts with a state touch


@dataclass(slots=True)
class _Memory:
    """What has been built and solved of one installation. Holds it, so that its identity cannot be reused."""

    installation: Installation
    stateful: tuple[Part, ...]
    stateless: tuple[Part, ...]
    recent: dict[tuple[str, float], tuple[object, tuple[Branch, ...], int]] = field(default_factory=dict)
    known: dict[tuple[str, float, object], tuple[tuple[Branch, ...], int]] = field(default_factory=dict)
    numbers: dict[tuple[Branch, ...], int] = field(default_factory=dict)  # every set of branches that a part has had
    fixed: dict[tuple, _Fixed] = field(default_factory=dict)
    kept: dict[float, dict[str, None]] = field(default_factory=dict)  # by hz: nodes that parts with a state touch
    strays: dict[float, tuple[tuple[str, str, str, int, complex], ...]] = field(default_factory=dict)
    found: OrderedDict[tuple, Electrics] = field(default_factory=OrderedDict)
    latest: dict[tuple, tuple[Mapping[str, object], Electrics]] = field(default_factory=dict)


_MEMORIES: OrderedDict[int, _Memory] = OrderedDict()


def lead(terminal: str) -> str:
    """The test point on a lead that has been lifted off a terminal."""
    return f"{terminal} lead"


def branches(installation: Installation, parts: Mapping[str, object]) -> Iterator[Branch]:
    """The branches of every part in these states, conductors and strays left out."""
    for part in installation.parts:
        yield from _of_part(part, parts[part.name], installation.hz)


def network(
    installation: Installation, parts: Mapping[str, object], lifted: tuple[str, ...] = (), hz: float | None = None
) -> Network:
    """The circuit with its parts in these states, strays and leaks included; hz 0 is what an ohmmeter meets.

    It is solved meanwhile, from the elimination that all states share, for whoever measures on it.
    """
    try:
        return electrics(installation, parts, lifted, hz).solved.network
    except CircuitError:  # what cannot be solved can still be looked at
        pass
    frequency = installation.hz if hz is None else hz
    memory = _memory(installation)
    return Network((*_moving(memory, parts, frequency)[0], *_fixed(memory, lifted, frequency).branches))


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
        fixed = _fixed(memory, lifted, frequency)
        whole = solved_once(Network((*moving, *fixed.branches)), EARTH, fixed.begun, moving)
        known = Electrics(whole, _Amps(whole, moving, fixed.named))
        memory.found[key] = known
        if len(memory.found) > MOST_STATES:
            memory.found.popitem(last=False)
    if len(memory.latest) > MOST_REMEMBERED:
        memory.latest.clear()
    memory.latest[frequency, lifted] = (parts, known)
    return known


def forgotten(installation: Installation) -> None:
    """Let go of what is remembered of an installation."""
    _MEMORIES.pop(id(installation), None)


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


def _fixed(memory: _Memory, lifted: tuple[str, ...], hz: float) -> _Fixed:
    """Conductors, joints, strays and leaks: what only a screwdriver changes, eliminated where no part's state matters."""
    key = (lifted, hz)
    if key not in memory.fixed:
        wires, off = memory.installation.conductors, set(lifted)
        ends = {wire.name: (wire.a, wire.b) for wire in wires}
        for wire in wires:
            if wire.a in off or wire.b in off:
                ends[wire.name] = tuple(lead(end) if end in off else end for end in (wire.a, wire.b))
        branches = [_branch(wire.name, *ends[wire.name], wire.ohms) for wire in wires]
        branches += [branch for part in memory.stateless for branch in _lying(part, wires, off, hz)]
        branches += _strays(memory, ends, hz)
        kept = memory.kept.get(hz)
        if kept is None:
            inner = (branch for part in memory.stateful for branch in _of_part(part, part.initial(), hz))
            kept = memory.kept[hz] = dict.fromkeys(node for branch in inner for node in (branch.a, branch.b))
        nodes = dict.fromkeys([node for branch in branches for node in (branch.a, branch.b)])
        nodes |= kept
        nodes |= dict.fromkeys(memory.installation.terminals)
        nodes.pop(EARTH, None)
        branches += [_leak(node) for node in nodes]
        memory.fixed[key] = _begun(branches, frozenset(kept))
    return memory.fixed[key]


def _lying(part: Part, wires: Iterable[Conductor], off: set[str], hz: float) -> tuple[Branch, ...]:
    """The branches of a part without a state; a stray inside a cable goes along with the ends of it that are lifted."""
    found = _of_part(part, None, hz)
    if not (off and isinstance(part, Stray) and any(wire.cable == part.belongs for wire in wires if wire.cable)):
        return found
    moved = {terminal: lead(terminal) for terminal in off}
    return tuple(replace(branch, a=moved.get(branch.a, branch.a), b=moved.get(branch.b, branch.b)) for branch in found)


def _strays(memory: _Memory, ends: Mapping[str, tuple[str, ...]], hz: float) -> list[Branch]:
    """Half of each pair's capacitance at either end of the cable; none for direct current."""
    if hz == 0:
        return []
    if hz not in memory.strays:
        memory.strays[hz] = _pairs(memory.installation.conductors, hz)
    found: list[Branch] = []
    for name, one, other, which, z in memory.strays[hz]:
        a, b = ends[one][which], ends[other][which]
        if a != b:
            found.append(_branch(name, a, b, z))
    return found


def _pairs(conductors: Iterable[Conductor], hz: float) -> tuple[tuple[str, str, str, int, complex], ...]:
    """Each pair of wires in a cable, at either end of it: the branch's name, the wires', which end, and ohms."""
    cables: dict[str, list[Conductor]] = {}
    for wire in conductors:
        if wire.cable and wire.feet:
            cables.setdefault(wire.cable, []).append(wire)
    found: list[tuple[str, str, str, int, complex]] = []
    for wires in cables.values():
        for one, other in combinations(wires, 2):
            metres = min(one.feet, other.feet) * facts.METRES_PER_FOOT.value
            z = -1j / (2 * math.pi * hz * facts.STRAY_FARADS_PER_METRE.value * metres / 2)
            found += [(f"stray {one.name} to {other.name} {which + 1}", one.name, other.name, which, z) for which in (0, 1)]
    return tuple(found)


@lru_cache(maxsize=1024)
def _leak(node: str) -> Branch:
    return _branch(f"leak {node}", node, EARTH, facts.LEAK_OHMS.value)


_branch = lru_cache(maxsize=MOST_BRANCHES)(Branch)

_SAME: dict[Branch, Branch] = {}


def _same(branch: Branch) -> Branch:
    """The branch that stands for all that are equal: what a fault leaves as it was is then known to be the same circuit."""
    if len(_SAME) > MOST_BRANCHES:
        _SAME.clear()
    return _SAME.setdefault(branch, branch)


_BEGUN: OrderedDict[tuple[int, ...], _Fixed] = OrderedDict()


def _begun(branches: Iterable[Branch], kept: frozenset[str]) -> _Fixed:
    """The elimination that begins with these branches, which are held so that their identities cannot be reused."""
    branches = tuple(branches)
    key = tuple(map(id, branches))
    known = _BEGUN.get(key)
    if known is None or known.kept != kept:
        named = {branch.name: branch for branch in branches}
        known = _BEGUN[key] = _Fixed(branches, named, begun(branches, EARTH, kept), kept)
        while len(_BEGUN) > MOST_REMEMBERED:
            _BEGUN.popitem(last=False)
    else:
        _BEGUN.move_to_end(key)
    return known


_PARTS: dict[tuple[int, object, float], tuple[Part, tuple[Branch, ...]]] = {}


def _of_part(part: Part, state: object, hz: float) -> tuple[Branch, ...]:
    """A part's branches in a state, the very same ones wherever the same part stands: a fault elsewhere leaves it as it is."""
    known = _PARTS.get((id(part), state, hz))
    if known is not None and known[0] is part:
        return known[1]
    if len(_PARTS) > MOST_BRANCHES:
        _PARTS.clear()
    found = tuple([_same(branch) for branch in part.branches(state, hz)])
    _PARTS[id(part), state, hz] = (part, found)
    return found
