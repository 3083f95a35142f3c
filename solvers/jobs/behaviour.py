"""What a wiring does: run in every combination of calls, from every settled state by every stat, and posed at will."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, product

from ..plant.parts import Boiler, HeatedValve, Loop, MotorValve, Part, Splice, Stat, Transformer, Valve
from ..plant.running import PlantState, at_rest, waited
from ..plant.wiring import Installation
from .hurried import FEW_STATS, hurried, hurries
from .steps import Settled, Step, left_alone, seen_in, turned

__all__ = [
    "Behaviour",
    "Progress",
    "behaved",
    "combinations_of",
    "condensed",
    "every_pose",
    "judged_as",
    "poses",
    "source_amps",
]

MOST_SEEN = 4  # settled states of one combination of calls that are followed further

Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Behaviour:
    """Everything seen of one installation, in the order of fewest calls."""

    installation: Installation
    rest: Settled
    steps: tuple[Step, ...]  # from one settled state to the next
    hurried: tuple[Step, ...]  # from half-way to the next

    @property
    def settled(self) -> tuple[Settled, ...]:
        """Every settled state that was met, each once, fewest calls first; then those that only haste leads to."""
        found: dict[tuple, Settled] = {}
        for state in (self.rest, *(step.after for step in (*self.steps, *self.hurried))):
            found.setdefault(state.looks, state)
        return tuple(sorted(found.values(), key=lambda state: (state.haste is not None, len(state.calls))))

    @property
    def turns(self) -> tuple[Step, ...]:
        """Every step, settled ones first, each fewest calls first."""
        return tuple(step for steps in (self.steps, self.hurried) for step in sorted(steps, key=_count))

    def step(self, *calls: str) -> Step:
        """The step from rest to these calls; raises KeyError where it was not run."""
        for step in self.steps:
            if step.before is self.rest and step.after.calls == calls:
                return step
        raise KeyError(f"no step from rest to {calls}")


def _count(step: Step) -> int:
    return len(step.after.calls)


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
    the steps. A state that never settles, or in which something has blown or burnt, is not followed further. Then stats
    are turned in haste; see `hurried`. `progress` is told how many turns are done, and of how many; a wiring in which
    something blows or never settles needs fewer, and comes to the end early.
    """
    here = judged_as(installation)
    stats = tuple(part.name for part in here.parts if isinstance(part, Stat))
    moves = _moves(stats)
    settling = 2 ** len(stats) * len(moves)
    counted = _Counted(settling, settling + hurries(stats), progress or (lambda done, total: None))
    rest = left_alone(here, at_rest(here), ())[1]
    steps: list[Step] = []
    known: dict[tuple[str, ...], list[Settled]] = {(): [rest]}
    queue = deque([rest])
    while queue:
        before = queue.popleft()
        if before.gone or before.chattering:
            continue
        for move in moves:
            calls = tuple(stat for stat in stats if (stat in before.calls) != (stat in move))
            met = known.setdefault(calls, [])
            step = _step(here, before, calls, met)
            steps.append(step)
            if len(met) < MOST_SEEN and all(step.after.looks != other.looks for other in met):
                met.append(step.after)
                queue.append(step.after)
            counted.one_more()
    counted.reach(settling)
    counted.most = counted.total
    found = hurried(here, stats, steps, known, counted.one_more)
    counted.reach(counted.total)
    return Behaviour(here, rest, tuple(steps), found)


class _Counted:
    """Turns as they are told: never back, never more than there is room for."""

    def __init__(self, most: int, total: int, progress: Progress) -> None:
        self.done, self.most, self.total, self.progress = 0, most, total, progress

    def one_more(self) -> None:
        self.reach(min(self.done + 1, self.most))

    def reach(self, done: int) -> None:
        if done > self.done:
            self.done = done
            self.progress(done, self.total)


def _step(installation: Installation, before: Settled, calls: tuple[str, ...], known: Sequence[Settled]) -> Step:
    state = turned(installation, before, calls)
    events, after = left_alone(installation, state, calls, known)
    return Step(before, seen_in(installation, state, calls), events, after)


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
    return seen_in(installation, waited(installation, state, 0.0)[0], calls)


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
