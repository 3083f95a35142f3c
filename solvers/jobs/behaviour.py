"""What a wiring does: run in every combination of calls, from every settled state by every stat, and posed at will."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import combinations, product

from ..circuit import Event
from ..plant.electrics import electrics
from ..plant.parts import (
    Boiler,
    Breaker,
    Fuse,
    HeatedValve,
    Loop,
    MotorValve,
    Part,
    Relay,
    Splice,
    Stat,
    Transformer,
    Valve,
)
from ..plant.running import PlantState, at_rest, called, waited
from ..plant.wiring import Installation

__all__ = [
    "Behaviour",
    "Settled",
    "Step",
    "behaved",
    "combinations_of",
    "condensed",
    "every_pose",
    "judged_as",
    "poses",
    "source_amps",
]

SETTLES_S = 7200.0
"""How long a call is left alone: the slowest wax has settled within the hundredth of a degree, and a fuse has had its say."""

FIRST_S = 600.0  # in which everything sound has done what it does
MOST_EVENTS = 24  # in that time; what does more than that never settles
OPEN_SHARE = 0.9  # of full travel: a valve counts as open
MOST_SEEN = 4  # settled states of one combination of calls that are followed further
FEW_STATS = 3  # up to so many, several stats are also moved at once

Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Settled:
    """One state of a wiring, and what is to be seen in it."""

    calls: tuple[str, ...]  # stats turned up
    state: PlantState
    amps: Mapping[str, float]  # A rms in every branch
    volts: Mapping[str, float]  # V across what opens each valve
    opened: tuple[str, ...]  # valves
    made: tuple[str, ...]  # valves whose end switch conducts
    fired: tuple[str, ...]  # boilers that are called
    pulled: tuple[str, ...]  # relays
    gone: tuple[str, ...]  # fuses blown, breakers tripped, windings and heaters burnt
    blank: tuple[str, ...]  # stats without supply
    chattering: tuple[str, ...]

    @property
    def looks(self) -> tuple[tuple[str, ...], ...]:
        """All that stays when nobody touches anything: two states that look alike behave alike from here on."""
        return self.calls, self.opened, self.made, self.fired, self.pulled, self.gone, self.blank, self.chattering


@dataclass(frozen=True, slots=True)
class Step:
    """From one settled state, by turning stats, to the next: what is true at once, what happens, what it comes to."""

    before: Settled
    at_once: Settled
    events: tuple[Event, ...]  # counted from the turn of the stat
    after: Settled


@dataclass(frozen=True, slots=True)
class Behaviour:
    """Everything seen of one installation, in the order of fewest calls."""

    installation: Installation
    rest: Settled
    steps: tuple[Step, ...]

    @property
    def settled(self) -> tuple[Settled, ...]:
        """Every settled state that was met, each once, fewest calls first."""
        found: dict[tuple, Settled] = {}
        for state in (self.rest, *(step.after for step in self.steps)):
            found.setdefault(state.looks, state)
        return tuple(sorted(found.values(), key=lambda state: len(state.calls)))

    def step(self, *calls: str) -> Step:
        """The step from rest to these calls; raises KeyError where it was not run."""
        for step in self.steps:
            if step.before is self.rest and step.after.calls == calls:
                return step
        raise KeyError(f"no step from rest to {calls}")


def judged_as(installation: Installation) -> Installation:
    """The installation with its burners kept off and its pipes left out: water has no say in what a wiring does."""
    kept = tuple(part for part in installation.parts if not isinstance(part, Loop))
    return replace(
        installation, parts=tuple(replace(part, safety="high limit") if isinstance(part, Boiler) else part for part in kept)
    )


def condensed(installation: Installation) -> Installation:
    """The same circuit with fewer nodes: each connector is one point, its ways' ohms counted with their wires.

    Terminals of parts, names of wires and every current in them stay as they were, but for a share of the joint's ohms.
    """
    hubs = {terminal: part for part in installation.parts if isinstance(part, Splice) for terminal in part.terminals}
    wires = []
    for wire in installation.conductors:
        ohms, ends = wire.ohms, []
        for end in (wire.a, wire.b):
            if end in hubs:
                ohms += next(way.z for way in hubs[end].branches(None, installation.hz) if way.a == end)
            ends.append(f"{hubs[end].name} middle" if end in hubs else end)
        if ends[0] != ends[1]:
            wires.append(replace(wire, a=ends[0], b=ends[1], ohms=ohms))
    parts = tuple(_Hub(part.name) if isinstance(part, Splice) else part for part in installation.parts)
    return replace(installation, parts=parts, conductors=tuple(wires))


@dataclass(frozen=True, slots=True)
class _Hub(Part):
    """A connector as one point."""

    @property
    def terminals(self) -> tuple[str, ...]:
        return (f"{self.name} middle",)


def behaved(installation: Installation, progress: Progress | None = None) -> Behaviour:
    """Run a wiring through its calls. Water is left out of it; see `judged_as`.

    From rest and then from every settled state that is met, each stat is turned by itself, and with few stats several at
    once, and the plant is left alone until it has settled: so every sequence of two calls, and every longer one, is among
    the steps. A state that never settles, or in which something
    has blown or burnt, is not followed further. `progress` is told how many steps
    are done, and how many there are in all if the wiring is sound.
    """
    here = judged_as(installation)
    stats = tuple(part.name for part in here.parts if isinstance(part, Stat))
    moves = _moves(stats)
    rest = _left(here, at_rest(here), ())[1]
    steps: list[Step] = []
    known: dict[tuple[str, ...], list[Settled]] = {(): [rest]}
    queue = deque([rest])
    total = 2 ** len(stats) * len(moves)
    while queue:
        before = queue.popleft()
        if before.gone or before.chattering:
            continue
        for move in moves:
            calls = tuple(stat for stat in stats if (stat in before.calls) != (stat in move))
            step = _step(here, before, calls)
            steps.append(step)
            met = known.setdefault(calls, [])
            if len(met) < MOST_SEEN and all(step.after.looks != other.looks for other in met):
                met.append(step.after)
                queue.append(step.after)
            if progress is not None:
                progress(min(len(steps), total), total)
    return Behaviour(here, rest, tuple(steps))


def poses(
    installation: Installation,
    calls: Iterable[str],
    made: Iterable[str] = (),
    *,
    off: Iterable[str] = (),
    off_leads: Iterable[str] = (),
) -> Settled:
    """The state with these stats calling and these valves open with their switches made, whatever brought them there.

    So a lead can be lifted, a source switched off, or a switch made by its opener, and the circuit asked at once. Water
    should be left out of the installation; see `judged_as`.
    """
    calls, made = tuple(calls), set(made)
    state = _rest(installation)
    parts, values = dict(state.parts), dict(state.values)
    for part in installation.parts:
        if isinstance(part, Stat) and part.name in calls:
            parts[part.name] = part.turned(parts[part.name], up=True)
        if isinstance(part, Valve) and part.name in made:
            parts[part.name] = replace(parts[part.name], made=True, lifted=True, stroke=1.0)
            values |= _open_values(part)
    for name in off:
        parts[name] = replace(parts[name], on=False)
    state = replace(state, parts=parts, values=values, lifted=tuple(off_leads))
    return _seen(installation, waited(installation, state, 0.0)[0], calls)


def source_amps(seen: Settled, installation: Installation) -> dict[str, float]:
    """Amperes of each transformer's secondary."""
    return {part.name: seen.amps[f"{part.name}.winding"] for part in installation.parts if isinstance(part, Transformer)}


def combinations_of(names: Iterable[str]) -> Iterator[tuple[str, ...]]:
    """Every subset, fewest first."""
    names = tuple(names)
    for count in range(len(names) + 1):
        yield from combinations(names, count)


_RESTS: dict[int, tuple[Installation, PlantState]] = {}
"""The last installation posed, at rest: hundreds of poses begin there."""


def _rest(installation: Installation) -> PlantState:
    known = _RESTS.get(id(installation))
    if known is None or known[0] is not installation:
        _RESTS.clear()
        known = _RESTS[id(installation)] = (installation, at_rest(installation))
    return known[1]


def _moves(stats: tuple[str, ...]) -> tuple[tuple[str, ...], ...]:
    """Which stats are turned together: each by itself, and with few of them every set; none where there is no stat."""
    if len(stats) > FEW_STATS:
        return tuple((stat,) for stat in stats)
    return tuple(move for move in combinations_of(stats) if move)


def _step(installation: Installation, before: Settled, calls: tuple[str, ...]) -> Step:
    state = replace(before.state, time=0.0)
    parts = dict(state.parts)
    *others, last = sorted({*before.calls} ^ {*calls})
    for name in others:
        parts[name] = installation.part(name).turned(parts[name], up=name in calls)
    state = called(installation, replace(state, parts=parts), last, last in calls)
    events, after = _left(installation, state, calls)
    return Step(before, _seen(installation, state, calls), events, after)


def _left(installation: Installation, state: PlantState, calls: tuple[str, ...]) -> tuple[tuple[Event, ...], Settled]:
    state, events = waited(installation, state, FIRST_S)
    if len(events) > MOST_EVENTS:
        return events, replace(_seen(installation, state, calls), chattering=_restless(installation, events))
    state, more = waited(installation, state, SETTLES_S - FIRST_S)
    return (*events, *more), _seen(installation, state, calls)


def _restless(installation: Installation, events: tuple[Event, ...]) -> tuple[str, ...]:
    """The parts that most of the events are about."""
    counts = {part.name: sum(event.name.startswith(f"{part.name} ") for event in events) for part in installation.parts}
    most = max(counts.values())
    return tuple(name for name, count in counts.items() if count == most)


def _seen(installation: Installation, state: PlantState, calls: tuple[str, ...]) -> Settled:
    now = electrics(installation, state.parts, state.lifted)
    volts = now.solved.volts
    of: Mapping[str, object] = state.parts
    valves = [part for part in installation.parts if isinstance(part, Valve)]
    return Settled(
        calls,
        state,
        now.amps,
        {part.name: abs(volts[part.drive_pair[0]] - volts[part.drive_pair[1]]) for part in valves},
        tuple(part.name for part in valves if of[part.name].opening >= OPEN_SHARE),
        tuple(part.name for part in valves if part.switch_pair and part.switch_made(of[part.name])),
        tuple(part.name for part in installation.parts if isinstance(part, Boiler) and of[part.name].called),
        tuple(part.name for part in installation.parts if isinstance(part, Relay) and of[part.name].pulled),
        tuple(part.name for part in installation.parts if _is_gone(part, of[part.name])),
        tuple(part.name for part in installation.parts if isinstance(part, Stat) and not of[part.name].alive),
        state.chattering,
    )


def _is_gone(part: Part, state: object) -> bool:
    if isinstance(part, Fuse):
        return state.blown
    if isinstance(part, Breaker):
        return state.tripped
    if isinstance(part, Transformer):
        return state.opened or state.tripped
    return isinstance(part, Valve | Boiler | Stat) and state.burnt


def _open_values(valve: Valve) -> dict[str, float]:
    """The variables of a valve that stands open."""
    if isinstance(valve, HeatedValve):
        return {f"{valve.name}.wax": valve.travel.full + 1.0}
    if isinstance(valve, MotorValve):
        return {f"{valve.name}.travel": 1.0}
    return {}


def every_pose(stats: Iterable[str], valves: Iterable[str]) -> Iterator[tuple[tuple[str, ...], tuple[str, ...]]]:
    """Every combination of calls with every combination of switches, fewest first."""
    yield from sorted(
        product(combinations_of(stats), combinations_of(valves)), key=lambda pose: (len(pose[0]) + len(pose[1]), len(pose[1]))
    )
