"""An installation at work: its network in any state, and the coupled run of wax, switches, fuse, boiler and pipes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import combinations

from ..circuit import Approach, Branch, Event, Guard, Law, Network, run, solved
from . import facts
from .parts import Boiler, Fuse, HeatMotorValve, PartState, Stat, Transformer
from .wiring import Conductor, Installation, NoSuchPart, NoSuchTerminal

__all__ = [
    "EARTH",
    "PlantState",
    "at_rest",
    "called",
    "landed",
    "lead",
    "lifted",
    "network",
    "opener_set",
    "points",
    "switched",
    "waited",
]

EARTH = "earth"
"""The node that every leak ends at."""


@dataclass(frozen=True, slots=True)
class PlantState:
    """Everything that can change without a tool: the clock, each part's state, temperatures, lifted leads."""

    time: float  # s since arrival
    parts: Mapping[str, PartState]
    values: Mapping[str, float]  # degC and used-up shares, by name
    lifted: tuple[str, ...] = ()  # terminals whose lead is off

    def of(self, part: str) -> PartState:
        """The state of one part; raises NoSuchPart."""
        if part not in self.parts:
            raise NoSuchPart(f"no part {part!r}; there are {sorted(self.parts)}")
        return self.parts[part]


def at_rest(installation: Installation) -> PlantState:
    """The installation as it stands after hours without a call, power on."""
    values: dict[str, float] = {}
    for part in installation.parts:
        if isinstance(part, Fuse | HeatMotorValve):
            values |= part.start_values()
        if isinstance(part, HeatMotorValve):
            values[f"{part.name}.pipe"] = part.ambient_degC
    return _settled(installation, PlantState(0.0, {part.name: part.initial() for part in installation.parts}, values))


def lead(terminal: str) -> str:
    """The test point on a lead that has been lifted off a terminal."""
    return f"{terminal} lead"


def points(installation: Installation, state: PlantState) -> tuple[str, ...]:
    """Every place a probe can go: all terminals, and the ends of lifted leads."""
    return installation.terminals + tuple(lead(terminal) for terminal in state.lifted)


def network(installation: Installation, state: PlantState, hz: float | None = None) -> Network:
    """The circuit as it is now, strays and leaks included; hz 0 is what an ohmmeter meets."""
    frequency = installation.hz if hz is None else hz
    branches: list[Branch] = []
    for part in installation.parts:
        branches.extend(part.branches(state.parts[part.name], frequency))
    off = set(state.lifted)
    ends = {wire.name: tuple(lead(end) if end in off else end for end in (wire.a, wire.b)) for wire in installation.conductors}
    branches.extend(Branch(wire.name, *ends[wire.name], wire.ohms) for wire in installation.conductors)
    branches.extend(_strays(installation.conductors, ends, frequency))
    nodes = dict.fromkeys(node for branch in branches for node in (branch.a, branch.b))
    branches.extend(Branch(f"leak {node}", node, EARTH, facts.LEAK_OHMS.value) for node in nodes)
    return Network(branches)


def waited(installation: Installation, state: PlantState, seconds: float) -> tuple[PlantState, tuple[Event, ...]]:
    """The state so many seconds later and what happened between, each event at its exact time."""

    def laws(now: PlantState) -> dict[str, Law]:
        amps = _amps(network(installation, now))
        found: dict[str, Law] = {}
        for part in installation.parts:
            if isinstance(part, Fuse | HeatMotorValve):
                found |= part.laws(now.parts[part.name], amps)
        return found | _pipe_laws(installation, now)

    def guards(now: PlantState) -> list[Guard]:
        return [
            guard
            for part in installation.parts
            if isinstance(part, Fuse | HeatMotorValve)
            for guard in part.guards(now.parts[part.name])
        ]

    def fired(now: PlantState, guard: Guard) -> PlantState:
        part = installation.part(guard.variable.rpartition(".")[0])
        return _with_part_state(now, part.name, part.fired(now.parts[part.name], guard))

    def followed(now: PlantState, values: Mapping[str, float]) -> PlantState:
        return _settled(installation, replace(now, values=values))

    def noticed(before: PlantState, now: PlantState) -> list[str]:
        was = {name: before.parts[name].called for name in boilers}
        return [
            f"{name} {'starts' if now.parts[name].called else 'stops'}" for name in boilers if now.parts[name].called != was[name]
        ]

    boilers = [part.name for part in installation.parts if isinstance(part, Boiler)]
    ended = run(
        state.values,
        state,
        start=state.time,
        stop=state.time + seconds,
        laws=laws,
        guards=guards,
        fired=fired,
        followed=followed,
        noticed=noticed,
    )
    return replace(ended.state, time=ended.time, values=ended.values), ended.events


def called(installation: Installation, state: PlantState, stat: str, calling: bool) -> PlantState:
    """The state after a thermostat has been turned up or down; raises NoSuchPart for what is no thermostat."""
    _of_kind(installation, stat, (Stat,), "thermostat")
    return _settled(installation, _with_part_state(state, stat, replace(state.of(stat), calling=calling)))


def switched(installation: Installation, state: PlantState, part: str, on: bool) -> PlantState:
    """The state after the feed of a transformer or boiler has been switched; raises NoSuchPart for anything else."""
    _of_kind(installation, part, (Transformer, Boiler), "supply")
    return _settled(installation, _with_part_state(state, part, replace(state.of(part), on=on)))


def opener_set(installation: Installation, state: PlantState, valve: str, engaged: bool) -> PlantState:
    """The state after a valve's manual opener has been moved; raises NoSuchPart for what is no valve."""
    _of_kind(installation, valve, (HeatMotorValve,), "valve")
    return _settled(installation, _with_part_state(state, valve, replace(state.of(valve), engaged=engaged)))


def lifted(installation: Installation, state: PlantState, terminal: str) -> PlantState:
    """The state with whatever is landed on a terminal taken off it, as one bundle; raises NoSuchTerminal."""
    if not installation.landed(terminal):
        raise NoSuchTerminal(f"nothing is landed on {terminal!r}")
    if terminal in state.lifted:
        raise NoSuchTerminal(f"the lead at {terminal!r} is already lifted; lifted are {list(state.lifted)}")
    return _settled(installation, replace(state, lifted=(*state.lifted, terminal)))


def landed(installation: Installation, state: PlantState, terminal: str) -> PlantState:
    """The state with a lifted lead back on its terminal; raises NoSuchTerminal when it is not lifted."""
    if terminal not in state.lifted:
        raise NoSuchTerminal(f"the lead at {terminal!r} is not lifted; lifted are {list(state.lifted)}")
    return _settled(installation, replace(state, lifted=tuple(name for name in state.lifted if name != terminal)))


def _of_kind(installation: Installation, name: str, kinds: tuple[type, ...], word: str) -> None:
    if not isinstance(installation.part(name), kinds):
        there = [part.name for part in installation.parts if isinstance(part, kinds)]
        raise NoSuchPart(f"{name!r} is no {word}; there are {there}")


def _with_part_state(state: PlantState, part: str, changed: PartState) -> PlantState:
    return replace(state, parts={**state.parts, part: changed})


def _settled(installation: Installation, state: PlantState) -> PlantState:
    """Strokes and relays brought up to what the wax and the volts now say."""
    parts = dict(state.parts)
    for part in installation.parts:
        if isinstance(part, HeatMotorValve):
            parts[part.name] = part.followed(parts[part.name], state.values)
    moved = replace(state, parts=parts)
    amps = _amps(network(installation, moved))
    for part in installation.parts:
        if isinstance(part, Boiler):
            parts[part.name] = part.settled(parts[part.name], amps)
    return replace(moved, parts=dict(parts))


def _pipe_laws(installation: Installation, state: PlantState) -> dict[str, Law]:
    boilers = [part for part in installation.parts if isinstance(part, Boiler)]
    water = next((part.water_degC for part in boilers if state.parts[part.name].called), None)
    found: dict[str, Law] = {}
    for part in installation.parts:
        if isinstance(part, HeatMotorValve):
            flows = water is not None and part.opening(state.parts[part.name]) > 0.05
            found[f"{part.name}.pipe"] = Approach(water if flows else part.ambient_degC, facts.PIPE_TAU.value)
    return found


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


@lru_cache(maxsize=256)
def _amps(circuit: Network) -> dict[str, float]:
    return {name: abs(value) for name, value in solved(circuit, EARTH).currents().items()}
