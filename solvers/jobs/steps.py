"""What is seen of a wiring in one moment, and one step: stats are turned, things happen, all comes to rest."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ..circuit import Event
from ..plant.electrics import electrics
from ..plant.parts import Boiler, Breaker, Fuse, Part, Relay, Stat, Transformer, Valve
from ..plant.running import PlantState, called, waited
from ..plant.wiring import Installation

__all__ = ["Haste", "Settled", "Step", "left_alone", "seen_in", "turned"]

SETTLES_S = 7200.0
"""How long a call is left alone: the slowest wax has settled within the hundredth of a degree, and a fuse has had its say."""

FIRST_S = 600.0  # in which everything sound has done what it does
MOST_EVENTS = 24  # in that time; what does more than that never settles
OPEN_SHARE = 0.9  # of full travel: a valve counts as open


@dataclass(frozen=True, slots=True)
class Haste:
    """Two turns in a row, the second before the first had come to anything."""

    first: str  # stat
    second: str  # stat, perhaps the same
    seconds: float  # between them


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
    haste: Haste | None = None  # where two quick turns led here

    @property
    def looks(self) -> tuple[tuple[str, ...], ...]:
        """All that stays when nobody touches anything: two states that look alike behave alike from here on."""
        return self.calls, self.opened, self.made, self.fired, self.pulled, self.gone, self.blank, self.chattering


@dataclass(frozen=True, slots=True)
class Step:
    """From one state, by turning stats, to the next: what is true at once, what happens, what it comes to."""

    before: Settled
    at_once: Settled
    events: tuple[Event, ...]  # counted from the turn of the stat
    after: Settled


def turned(installation: Installation, before: Settled, calls: tuple[str, ...]) -> PlantState:
    """The state, its clock at nought, just after stats have been turned so that these and no others call."""
    state = replace(before.state, time=0.0)
    parts = dict(state.parts)
    *others, last = sorted({*before.calls} ^ {*calls})
    for name in others:
        parts[name] = installation.part(name).turned(parts[name], up=name in calls)
    return called(installation, replace(state, parts=parts), last, last in calls)


def left_alone(
    installation: Installation, state: PlantState, calls: tuple[str, ...], known: Sequence[Settled] = ()
) -> tuple[tuple[Event, ...], Settled]:
    """What happens until everything has settled, and what it comes to.

    What soon looks like a settled state that is `known` goes the way that one did: it ends as that state itself.
    """
    state, events = waited(installation, state, FIRST_S)
    seen = seen_in(installation, state, calls) if known or len(events) > MOST_EVENTS else None
    if len(events) > MOST_EVENTS:
        return events, replace(seen, chattering=_restless(installation, events))
    for other in known:
        if seen.looks == other.looks:
            return events, other
    state, more = waited(installation, state, SETTLES_S - FIRST_S)
    return (*events, *more), seen_in(installation, state, calls)


def seen_in(installation: Installation, state: PlantState, calls: tuple[str, ...]) -> Settled:
    """Everything that is to be seen in a state."""
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


def _restless(installation: Installation, events: tuple[Event, ...]) -> tuple[str, ...]:
    """The parts that most of the events are about."""
    counts = {part.name: sum(event.name.startswith(f"{part.name} ") for event in events) for part in installation.parts}
    most = max(counts.values())
    return tuple(name for name, count in counts.items() if count == most)


def _is_gone(part: Part, state: object) -> bool:
    if isinstance(part, Fuse):
        return state.blown
    if isinstance(part, Breaker):
        return state.tripped
    if isinstance(part, Transformer):
        return state.opened or state.tripped
    return isinstance(part, Valve | Boiler | Stat) and state.burnt
