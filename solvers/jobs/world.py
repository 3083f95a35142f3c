"""What a learner stands before, what an act shows, and how one world follows from another."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache

from ..circuit import Event, Meter, Network, Reading
from ..plant.part import PartState
from ..plant.running import EARTH, PlantState, at_rest, called, lead, network, points, waited
from ..plant.senses import heard, noticed, telling
from ..plant.wiring import Installation, NoSuchPart, NoSuchTerminal

__all__ = [
    "MOST_AT_ONCE",
    "Outcome",
    "World",
    "arrival",
    "first_few",
    "follows",
    "jumper_name",
    "moments",
    "named_part",
    "named_terminal",
    "places",
    "rebuilt",
    "reclipped",
    "sentences",
    "shows",
    "without_jumpers",
]

MOST_AT_ONCE = 12  # things that a person can tell apart in one moment
MOST_OF_A_KIND = 4  # moments of one kind in one wait that evidence may rest on; what keeps repeating drifts apart
A_LONG_CALL = 1800.0  # s
A_LONG_REST = 10_800.0  # s


@dataclass(frozen=True, slots=True)
class World:
    """What a learner stands before: the design on paper, what is really there, its state, and what was done to it.

    The design is what acts are checked against, so that a refusal names nothing that only a look would show.
    """

    design: Installation
    installation: Installation
    state: PlantState
    meter: Meter = field(default_factory=Meter)  # the learner's own
    jumpers: tuple[tuple[str, str], ...] = ()  # points, in the order in which the wires were put on
    fitted: tuple[str, ...] = ()  # parts and cables that were replaced
    moved: tuple[str, ...] = ()  # conductors that were landed elsewhere, run or remade
    adjusted: tuple[tuple[str, str], ...] = ()  # (part, setting)
    uncovered: tuple[str, ...] = ()  # parts whose cover is off
    stopped: bool = False  # made safe: nothing more is touched
    referred: str = ""  # to whom it was handed over

    def circuit(self, hz: float | None = None) -> Network:
        """The circuit as it is now."""
        return network(self.installation, self.state, hz)


@dataclass(frozen=True, slots=True)
class Outcome:
    """What an act shows: a sentence, and the parts of it that evidence may rest on."""

    text: str
    reading: Reading | None = None
    signal: str = ""  # a sense's finding
    events: tuple[tuple[float, str], ...] = ()  # (seconds since arrival, what was heard)
    misuse: str = ""  # what safe practice forbids


def arrival(design: Installation, installation: Installation) -> World:
    """The world as a learner finds it: each zone has called in turn since yesterday, and all has cooled down again.

    So a fuse that the fault would open is already open. Power is on, nobody calls, the clock stands at 0.
    """
    return World(design, installation, _day_after(installation))


@lru_cache(maxsize=512)
def _day_after(installation: Installation) -> PlantState:
    state = at_rest(installation)
    for zone in installation.zones:
        state, _ = waited(installation, called(installation, state, f"{zone}.stat", True), A_LONG_CALL)
        state = called(installation, state, f"{zone}.stat", False)
    state, _ = waited(installation, state, A_LONG_REST)
    return replace(state, time=0.0)


def named_part(world: World, name: str) -> str:
    """The name of a part that the design has; raises NoSuchPart with those."""
    if name not in (names := sorted(part.name for part in world.design.parts)):
        raise NoSuchPart(f"no part {name!r}; there are {names}")
    return name


def named_terminal(world: World, terminal: str) -> str:
    """A terminal that the design has; raises NoSuchTerminal with those."""
    if terminal not in world.design.terminals:
        raise NoSuchTerminal(f"no terminal {terminal!r}; there are {sorted(world.design.terminals)}")
    return terminal


def places(world: World) -> tuple[str, ...]:
    """Every place a probe or a clip can go. Ground is always one: that it reads anything is for the meter to tell."""
    there, lifted = points(world.installation, world.state), len(world.state.lifted)
    at = len(there) - lifted
    return there if EARTH in there else (*there[:at], EARTH, *there[at:])


def rebuilt(world: World, installation: Installation, states: Mapping[str, PartState] | None = None) -> World:
    """The same world after work on it: `states` are those of parts that are new, whose variables start anew.

    Everything else stays as it was; a lead stays lifted while there is one. What answers at once has answered.
    """
    before, new = world.state, states or {}
    parts, values = {}, {}
    for part in installation.parts:
        kept = part.name in before.parts and part.name not in new
        parts[part.name] = before.parts[part.name] if kept else new.get(part.name, part.initial())
        values |= {name: before.values.get(name, start) if kept else start for name, start in part.start_values().items()}
    there = set(installation.terminals)
    lifted = tuple(end for end in before.lifted if end in there and installation.landed(end))
    changed = replace(before, parts=parts, values=values, lifted=lifted)
    here = reclipped(replace(world, installation=installation, state=changed))
    state, _ = waited(here.installation, here.state, 0.0)
    return replace(here, state=state)


def reclipped(world: World) -> World:
    """The world with each jumper that hung on a lifted lead on the terminal where that lead is now landed."""
    back = {lead(end): end for end in world.design.terminals if end not in world.state.lifted}
    jumpers, parts, states = [], list(world.installation.parts), dict(world.state.parts)
    for first, second in world.jumpers:
        ends = back.get(first, first), back.get(second, second)
        if ends == (first, second):
            jumpers.append(ends)
            continue
        old = world.installation.part(jumper_name(first, second))
        parts.remove(old)
        del states[old.name]
        if ends[0] != ends[1] and ends not in jumpers:
            jumpers.append(ends)
            clip = replace(old, name=jumper_name(*ends), a=ends[0], b=ends[1])
            parts.append(clip)
            states[clip.name] = None
    if tuple(jumpers) == world.jumpers:
        return world
    here = replace(world.installation, parts=tuple(parts))
    return replace(world, installation=here, state=replace(world.state, parts=states), jumpers=tuple(jumpers))


def without_jumpers(world: World) -> Installation:
    """The installation without the learner's own jumper wires."""
    own = {jumper_name(*ends) for ends in world.jumpers}
    if not own:
        return world.installation
    return replace(world.installation, parts=tuple(part for part in world.installation.parts if part.name not in own))


def jumper_name(first: str, second: str) -> str:
    """What a jumper wire between two points goes by."""
    return f"jumper {first} to {second}"


def shows(before: World, after: World, text: str, own: str = "", signal: str = "", misuse: str = "") -> tuple[World, Outcome]:
    """A world and its outcome: what follows at once from what a hand has done, as far as it is heard or seen.

    `own` names a part whose own change the hand has made; `signal` is what the hand itself has found.
    """
    here = replace(before.state, parts={**after.state.parts, **before.state.parts})
    words = sentences(noticed(after.installation, here, after.state, apart_from=own))
    found = "; ".join(part for part in (signal, words) if part)
    return after, Outcome(f"{text} {words}".strip(), signal=found, misuse=misuse)


def follows(world: World, state: PlantState, text: str, own: str = "") -> tuple[World, Outcome]:
    """The same installation in another state, and what is noticed of it."""
    return shows(world, replace(world, state=state), text, own)


def moments(events: tuple[Event, ...]) -> tuple[tuple[float, str], ...]:
    """What is heard and may be held against a claim; what keeps repeating only the first few times."""
    return first_few((event.time, heard(event)) for event in events if telling(event))


def first_few(heard_at: Iterable[tuple[float, str]]) -> tuple[tuple[float, str], ...]:
    """The same without what has been heard often enough."""
    found, counts = [], {}
    for time, words in heard_at:
        counts[words] = counts.get(words, 0) + 1
        if counts[words] <= MOST_OF_A_KIND:
            found.append((time, words))
    return tuple(found)


def sentences(words: tuple[str, ...]) -> str:
    """Things noticed at one moment as sentences."""
    return " ".join(f"{word[0].upper()}{word[1:]}." for word in words[:MOST_AT_ONCE])
