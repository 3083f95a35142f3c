"""The run of a plant from event to event that looks again only at what an event has changed.

A plant comes back to the same few moods: the states of its parts, and with them amperes, laws and guards. What a mood
leaves as it was keeps the moment and the value from which it moves, and with them the times at which its guards fall due.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from weakref import WeakKeyDictionary

from ..circuit import TOGETHER, Event, Guard, Law, Path
from .crews import Crew, answered, felt, guarded, noticed_of
from .part import Part, PartState, Seen

__all__ = ["Paced", "paced", "settled"]

MOST_AT_ONCE = 64  # events without time passing, after which the plain run has to say what chatters
MOST_EVENTS = 9_000
MOST_MOODS = 1_000

_States = Mapping[str, PartState]
_Start = tuple[float, float, Law]  # what a variable was, when, and how it has moved since


@dataclass(frozen=True, slots=True)
class Paced:
    """Where a run ended and what happened on the way."""

    parts: _States
    values: Mapping[str, float]
    chattering: tuple[str, ...]
    events: tuple[Event, ...]


@dataclass(slots=True, eq=False)
class _Mood:
    """What follows from the states of all parts, whatever the variables are."""

    laws: Mapping[str, Law]  # of all variables but those that follow the water
    stream: tuple  # all that the laws of what follows the water depend on, apart from values
    guards: tuple[Guard, ...]
    seen: Seen


@dataclass(slots=True, eq=False)
class _Moods:
    """What one crew has been met in. Every state and every mapping of states is kept once, and known by its identity."""

    states: dict[tuple[str, PartState], PartState] = field(default_factory=dict)
    seen: dict[int, PartState] = field(default_factory=dict)  # the same by identity
    wholes: dict[tuple[int, ...], _States] = field(default_factory=dict)
    own: dict[int, _States] = field(default_factory=dict)  # the same by identity
    steps: dict[tuple[int, str, int], _States] = field(default_factory=dict)
    moods: dict[tuple[int, tuple[str, ...]], _Mood] = field(default_factory=dict)
    answers: dict[tuple[int, tuple[str, ...]], tuple[_States, tuple[str, ...]]] = field(default_factory=dict)
    laws: dict[Law, Law] = field(default_factory=dict)
    moved: dict[tuple[int, str, int], tuple[object, Mapping[str, Law]]] = field(default_factory=dict)
    changes: dict[tuple[int, int], tuple[tuple[tuple[str, Law], ...], tuple[str, ...]]] = field(default_factory=dict)
    told: dict[tuple[int, int], tuple[str, ...]] = field(default_factory=dict)
    guards: dict[tuple[str, int], tuple[Guard, ...]] = field(default_factory=dict)
    alike: dict[Guard, Guard] = field(default_factory=dict)
    fired: dict[tuple[int, int], PartState] = field(default_factory=dict)
    unknown: bool = False  # a law asked for a value


_KNOWN: WeakKeyDictionary[Crew, _Moods] = WeakKeyDictionary()


class _Values(Mapping[str, float]):
    """Every variable at the moment, worked out when it is asked for; remembers that it was asked."""

    __slots__ = ("asked", "now", "starts", "still")

    def __init__(self, still: dict[str, float], now: float) -> None:
        self.still, self.now, self.asked = still, now, False
        self.starts: dict[str, _Start] = {}

    def __getitem__(self, name: str) -> float:
        self.asked = True
        start = self.starts.get(name)
        if start is None:
            return self.still[name]
        x, since, law = start
        return law.at(x, self.now - since) if self.now != since else x

    def __iter__(self) -> Iterator[str]:
        return iter(self.still)

    def __len__(self) -> int:
        return len(self.still)


def paced(
    crew: Crew,
    parts: _States,
    values: Mapping[str, float],
    lifted: tuple[str, ...],
    start: float,
    stop: float,
    met: list[tuple[Paced, int]] | None = None,
) -> Paced | None:
    """Carry a plant from `start` to `stop`; None where only the plain run can: chatter, or laws of an unknown kind.

    `met` is given where the run stood after each guard that fired, without events, and how many of them that is.
    """
    known = _moods(crew)
    if known.unknown or not crew.simple:
        return None
    now = _Values(dict(values), start)
    due: dict[int, tuple[_Start | None, float]] = {}
    events: list[Event] = []
    parts = _followed(crew.following, known, _whole(known, parts), now)
    parts, chattering = _answered(crew, known, parts, now, lifted)
    parts, chattering, mood = _entered(crew, known, parts, chattering, now, lifted, None)
    at_once, starts = 0, now.starts
    while mood is not None:
        times: list[float] = []
        soonest = math.inf
        for guard in mood.guards:
            kept = due.get(id(guard))
            time = kept[1] if kept is not None and kept[0] is starts.get(guard.variable) else _due(due, guard, now)
            times.append(time)
            if time < soonest:
                soonest = time
        if soonest == math.inf or soonest > stop:
            break
        at_once = at_once + 1 if soonest <= now.now else 0
        if at_once > MOST_AT_ONCE or len(events) > MOST_EVENTS:
            return None
        last = soonest + TOGETHER
        together = [guard for guard, time in zip(mood.guards, times, strict=True) if time <= last]
        fired, before, hummed = together[0], parts, chattering
        if soonest > now.now:
            now.now = soonest
            for guard in together:
                if due[id(guard)][1] >= soonest:
                    _put(now, due, guard.variable, guard.level)
        owner = crew.owners[fired.owner]
        for name, value in owner.resets(fired).items():
            _put(now, due, name, value)
        state = parts[owner.name]
        after = known.fired.get((id(state), id(fired)))
        if after is None:
            after = owner.fired(state, fired)
            after = known.fired[id(state), id(fired)] = _state(known, owner.name, after)
        parts = _stepped(known, parts, owner.name, after)
        if owner in crew.following:
            parts = _followed((owner,), known, parts, now)
        parts, chattering = _answered(crew, known, parts, now, lifted)
        parts, chattering, mood = _entered(crew, known, parts, chattering, now, lifted, mood, owner)
        events.append(Event(now.now, fired.name))
        told = known.told.get((id(before), id(parts)))
        if told is None:
            told = known.told[id(before), id(parts)] = tuple(noticed_of(crew, before, parts))
        told += tuple([f"{name} chatters" for name in chattering if name not in hummed])
        events += [Event(now.now, words) for words in told]
        if met is not None:
            here = _followed(crew.following, known, parts, now)
            met.append((Paced(here, {name: now[name] for name in values}, chattering, ()), 1 + len(told)))
    if mood is None:
        known.unknown = True
        return None
    now.now = stop
    parts = _followed(crew.following, known, parts, now)
    parts, chattering = _answered(crew, known, parts, now, lifted)
    return Paced(parts, {name: now[name] for name in values}, chattering, tuple(events))


def settled(crew: Crew, parts: _States, values: Mapping[str, float], lifted: tuple[str, ...]) -> tuple[_States, tuple[str, ...]]:
    """The states once everything that follows and everything that answers at once is up to date, and who chatters."""
    known, now = _moods(crew), _Values(values, 0.0)
    return _answered(crew, known, _followed(crew.following, known, _whole(known, parts), now), now, lifted)


def _moods(crew: Crew) -> _Moods:
    known = _KNOWN.get(crew)
    if known is None or len(known.wholes) > MOST_MOODS:
        known = _KNOWN[crew] = _Moods()
    return known


def _whole(known: _Moods, parts: _States) -> _States:
    """The same states as the one mapping that stands for them."""
    if known.own.get(id(parts)) is parts:
        return parts
    own = [_state(known, name, state) for name, state in parts.items()]
    return _kept(known, dict(zip(parts, own, strict=True)))


def _state(known: _Moods, name: str, state: PartState) -> PartState:
    """The same state as the one object that stands for it."""
    if known.seen.get(id(state)) is state:
        return state
    state = known.states.setdefault((name, state), state)
    if state is not None:
        known.seen[id(state)] = state
    return state


def _kept(known: _Moods, whole: _States) -> _States:
    whole = known.wholes.setdefault(tuple(map(id, whole.values())), whole)
    known.own[id(whole)] = whole
    return whole


def _stepped(known: _Moods, parts: _States, name: str, state: PartState) -> _States:
    """The same with one part in another state."""
    state = _state(known, name, state)
    after = known.steps.get((id(parts), name, id(state)))
    if after is None:
        after = known.steps[id(parts), name, id(state)] = _kept(known, {**parts, name: state})
    return after


def _followed(following: Iterable[Part], known: _Moods, parts: _States, now: _Values) -> _States:
    """The same with what merely follows the variables brought up to date."""
    for part in following:
        before = parts[part.name]
        after = part.followed(before, now)
        if after is not before and after != before:
            parts = _stepped(known, parts, part.name, after)
    return parts


def _answered(
    crew: Crew, known: _Moods, parts: _States, now: _Values, lifted: tuple[str, ...]
) -> tuple[_States, tuple[str, ...]]:
    """What answers at once has answered; where no value had a say in that, it is so whenever the states are the same."""
    found = known.answers.get((id(parts), lifted))
    if found is None:
        now.asked = False
        after, chattering = answered(crew, parts, now, lifted)
        found = _whole(known, after) if after is not parts else parts, chattering
        if not now.asked:
            known.answers[id(parts), lifted] = found
    return found


def _entered(
    crew: Crew,
    known: _Moods,
    parts: _States,
    chattering: tuple[str, ...],
    now: _Values,
    lifted: tuple[str, ...],
    before: _Mood | None,
    done: Part | None = None,
) -> tuple[_States, tuple[str, ...], _Mood | None]:
    """Let the variables that a mood moves in another way begin to, and bring what follows them up to date.

    `done` is a part that is up to date already.
    """
    while True:
        mood = known.moods.get((id(parts), lifted))
        if mood is None:
            mood = _mood(crew, known, parts, now, lifted)
            if mood is None:
                return parts, chattering, None
            known.moods[id(parts), lifted] = mood
        starts = now.starts
        changes = known.changes.get((id(before), id(mood)))
        if changes is None:
            changes = known.changes[id(before), id(mood)] = _changes(before, mood)
        moved, stopped = changes
        for name in stopped:
            now.still[name] = now[name]
            del starts[name]
        for name, law in moved:
            starts[name] = now[name], now.now, law
        if before is None or before.stream != mood.stream:
            _laid(crew, parts, mood, now)
        before = mood
        touched = [crew.follows[name] for name, _ in moved if name in crew.follows]
        after = _followed([part for part in touched if part is not done], known, parts, now)
        if after is parts:
            return parts, chattering, mood
        parts, chattering = _answered(crew, known, after, now, lifted)


def _changes(before: _Mood | None, mood: _Mood) -> tuple[tuple[tuple[str, Law], ...], tuple[str, ...]]:
    """The variables that move in another way in this mood than in the one before, and those that stand still now."""
    old = {} if before is None else before.laws
    moved = tuple((name, law) for name, law in mood.laws.items() if old.get(name) is not law)
    return moved, tuple(name for name in old if name not in mood.laws)


def _mood(crew: Crew, known: _Moods, parts: _States, now: _Values, lifted: tuple[str, ...]) -> _Mood | None:
    """What these states come to; None where a law that should not asks for a value."""
    now.asked = False
    seen = felt(crew, parts, now, lifted, {})
    laws: dict[str, Law] = {}
    for part in crew.steady:
        state = parts[part.name]
        key = (id(seen.amps), part.name, id(state))
        met = known.moved.get(key)
        if met is None:
            found = {name: known.laws.setdefault(law, law) for name, law in part.laws(state, seen).items()}
            met = known.moved[key] = (seen.amps, found)
        laws |= met[1]
    if now.asked:
        return None
    stream = tuple(
        (parts[loop.boiler].circulating, parts[loop.valve].flow, laws.get(f"{loop.boiler}.water")) for loop in crew.loops
    )
    guards: list[Guard] = []
    for part in crew.guarded:
        state = parts[part.name]
        own = known.guards.get((part.name, id(state)))
        if own is None:
            own = tuple(known.alike.setdefault(guard, guard) for guard in guarded(crew, part.name, state))
            known.guards[part.name, id(state)] = own
        guards += own
    return _Mood(
        laws,
        stream,
        tuple(guards),
        seen,
    )


def _laid(crew: Crew, parts: _States, mood: _Mood, now: _Values) -> None:
    """Lay the paths of what follows the water anew, from where it is."""
    laws = dict(mood.laws)
    seen = Seen(mood.seen.amps, mood.seen.direct_amps, parts, now, laws, mood.seen.emitting, mood.seen.hz)
    own: dict[str, Law] = {}
    for part in crew.laid:
        found = part.laws(parts[part.name], seen)
        laws |= found
        own |= found
    for name, value in [(name, now[name]) for name in own]:
        now.starts[name] = value, now.now, own[name]


def _put(now: _Values, due: dict[int, tuple[_Start | None, float]], name: str, value: float) -> None:
    """Set a variable; one that follows the water already is as near as its crossing was found."""
    start = now.starts.get(name)
    if start is None:
        now.still[name] = value
        due.clear()
    elif start[2].__class__ is not Path:
        now.starts[name] = value, now.now, start[2]


def _due(due: dict[int, tuple[_Start | None, float]], guard: Guard, now: _Values) -> float:
    """When a guard falls due: now, if its variable lies beyond its level already."""
    start = now.starts.get(guard.variable)
    met = due.get(id(guard))
    if met is not None and met[0] is start:
        return met[1]
    x = start[0] if start is not None and start[1] == now.now else now[guard.variable]
    if x >= guard.level if guard.rising else x <= guard.level:
        time = now.now
    elif start is None:
        time = math.inf
    else:
        law = start[2]
        if law.__class__ is Path and start[1] != now.now:
            gone = now.now - start[1]
            law = Path(law.constant, tuple((amplitude * math.exp(-gone / tau), tau) for amplitude, tau in law.terms))
            start = now.starts[guard.variable] = x, now.now, law
        time = now.now + law.time_to(x, guard.level)
    due[id(guard)] = start, time
    return time
