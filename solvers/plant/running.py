"""An installation at work: the coupled run of everything in it that moves, and what hands can do to it meanwhile."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from ..circuit import Event, Guard, Law, Network, run
from . import electrics as electrical
from .electrics import EARTH, lead
from .light_switch import LightSwitch
from .part import Part, PartState, Seen
from .parts import Boiler, Loop, Stat, Transformer, Valve
from .wiring import Installation, NoSuchPart, NoSuchTerminal

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
    "seen",
    "switched",
    "waited",
]

MOST_SETTLINGS = 40
MOST_REMEMBERED = 64  # installations
MOST_GUARDED = 2048  # states of the parts of one installation whose guards are kept


@dataclass(frozen=True, slots=True)
class PlantState:
    """Everything that can change without a tool: the clock, each part's state, temperatures, lifted leads."""

    time: float  # s since arrival
    parts: Mapping[str, PartState]
    values: Mapping[str, float]  # degC, shares and seconds, by name
    lifted: tuple[str, ...] = ()  # terminals whose lead is off
    chattering: tuple[str, ...] = ()  # parts that pull and drop without settling

    def of(self, part: str) -> PartState:
        """The state of one part; raises NoSuchPart."""
        if part not in self.parts:
            raise NoSuchPart(f"no part {part!r}; there are {sorted(self.parts)}")
        return self.parts[part]


@dataclass(slots=True)
class _Crew:
    """Who in an installation has anything to say to what; what is not in a list keeps the answers of a plain part."""

    installation: Installation
    owners: Mapping[str, Part]
    moving: tuple[Part, ...]  # in the order in which their laws are asked for
    guarded: tuple[Part, ...]
    following: tuple[Part, ...]
    answering: tuple[Part, ...]
    telling: tuple[Part, ...]
    loops: tuple[Loop, ...]
    direct: bool
    guards: dict[tuple[str, PartState], tuple[Guard, ...]] = field(default_factory=dict)
    emitting: tuple[Mapping[str, PartState], Mapping[str, float]] | None = None  # of the states asked about last
    felt: tuple[PlantState, Seen] | None = None  # the same of what was felt


_CREWS: OrderedDict[int, _Crew] = OrderedDict()


def at_rest(installation: Installation) -> PlantState:
    """The installation as it stands after hours without a call, power on."""
    values: dict[str, float] = {}
    for part in installation.parts:
        values |= part.start_values()
    return _settled(installation, PlantState(0.0, {part.name: part.initial() for part in installation.parts}, values))


def points(installation: Installation, state: PlantState) -> tuple[str, ...]:
    """Every place a probe can go: all terminals, ground where something is joined to it, the ends of lifted leads."""
    branches = (branch for part in installation.parts for branch in part.branches(state.parts[part.name], installation.hz))
    ground = (EARTH,) if any(EARTH in (branch.a, branch.b) for branch in branches) else ()
    open_to_probes = tuple(terminal for part in installation.parts if not part.hidden for terminal in part.terminals)
    return open_to_probes + ground + tuple(lead(terminal) for terminal in state.lifted)


def network(installation: Installation, state: PlantState, hz: float | None = None) -> Network:
    """The circuit as it is now, strays and leaks included; hz 0 is what an ohmmeter meets."""
    return electrical.network(installation, state.parts, state.lifted, hz)


def seen(installation: Installation, state: PlantState, laws: Mapping[str, Law] | None = None) -> Seen:
    """What every part feels of the plant in a state."""
    crew = _crew(installation)
    if laws is not None:
        return _felt(crew, state.parts, state.values, state.lifted, laws)
    if crew.felt is None or crew.felt[0] is not state:
        crew.felt = (state, _felt(crew, state.parts, state.values, state.lifted, {}))
    return crew.felt[1]


def _felt(
    crew: _Crew,
    parts: Mapping[str, PartState],
    values: Mapping[str, float],
    lifted: tuple[str, ...],
    laws: Mapping[str, Law],
) -> Seen:
    here = crew.installation
    now = electrical.electrics(here, parts, lifted)
    direct = electrical.electrics(here, parts, lifted, 0.0).amps if crew.direct else {}
    if crew.emitting is None or crew.emitting[0] is not parts:
        felt = Seen(now.amps, direct, parts, values, laws, {}, here.hz)
        crew.emitting = (parts, {part.name: part.heat_share(felt) for part in crew.loops})
    return Seen(now.amps, direct, parts, values, laws, crew.emitting[1], here.hz)


def waited(installation: Installation, state: PlantState, seconds: float) -> tuple[PlantState, tuple[Event, ...]]:
    """The state so many seconds later and what happened between, each event at its exact time."""
    crew = _crew(installation)
    owners = crew.owners

    def laws(now: PlantState) -> dict[str, Law]:
        found: dict[str, Law] = {}
        felt = _felt(crew, now.parts, now.values, now.lifted, found)
        for part in crew.moving:
            found |= part.laws(now.parts[part.name], felt)
        return found

    def guards(now: PlantState) -> list[Guard]:
        return _guards(crew, now.parts)

    def fired(now: PlantState, guard: Guard) -> PlantState:
        part = owners[guard.owner]
        return _with_part_state(now, part.name, part.fired(now.parts[part.name], guard))

    def followed(now: PlantState, values: Mapping[str, float]) -> PlantState:
        return _settled(installation, PlantState(now.time, now.parts, values, now.lifted, now.chattering))

    def noticed(before: PlantState, now: PlantState) -> list[str]:
        told = [
            f"{part.name} {words}"
            for part in crew.telling
            if before.parts[part.name] is not now.parts[part.name] and before.parts[part.name] != now.parts[part.name]
            for words in part.noticed(before.parts[part.name], now.parts[part.name])
        ]
        return told + [f"{name} chatters" for name in now.chattering if name not in before.chattering]

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
        resets=lambda now, guard: owners[guard.owner].resets(guard),
    )
    return replace(ended.state, time=ended.time, values=ended.values), ended.events


def called(installation: Installation, state: PlantState, stat: str, calling: bool) -> PlantState:
    """The state after a thermostat has been turned up or down; raises NoSuchPart for what is no thermostat."""
    part = _of_kind(installation, stat, (Stat,), "thermostat")
    return _settled(installation, _with_part_state(state, stat, part.turned(state.of(stat), up=calling)))


def switched(installation: Installation, state: PlantState, part: str, on: bool) -> PlantState:
    """The state after a light, or the feed of a transformer or boiler, has been switched; raises NoSuchPart for other parts."""
    _of_kind(installation, part, (Transformer, Boiler, LightSwitch), "supply")
    return _settled(installation, _with_part_state(state, part, replace(state.of(part), on=on)))


def opener_set(installation: Installation, state: PlantState, valve: str, engaged: bool) -> PlantState:
    """The state after a valve's manual opener has been moved; raises NoSuchPart for what is no valve."""
    _of_kind(installation, valve, (Valve,), "valve")
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


def _of_kind(installation: Installation, name: str, kinds: tuple[type, ...], word: str) -> Part:
    part = installation.part(name)
    if not isinstance(part, kinds):
        there = [part.name for part in installation.parts if isinstance(part, kinds)]
        raise NoSuchPart(f"{name!r} is no {word}; there are {there}")
    return part


def _with_part_state(state: PlantState, part: str, changed: PartState) -> PlantState:
    return PlantState(state.time, {**state.parts, part: changed}, state.values, state.lifted, state.chattering)


def _crew(installation: Installation) -> _Crew:
    known = _CREWS.get(id(installation))
    if known is not None and known.installation is installation:
        _CREWS.move_to_end(id(installation))
        return known
    parts = installation.parts

    def saying(what: str) -> tuple[Part, ...]:
        return tuple(part for part in parts if getattr(type(part), what) is not getattr(Part, what))

    known = _CREWS[id(installation)] = _Crew(
        installation,
        {part.name: part for part in parts},
        tuple(sorted(saying("laws"), key=lambda part: part.tier)),
        saying("guards"),
        saying("followed"),
        tuple(part for part in parts if part.answers),
        saying("noticed"),
        tuple(part for part in parts if isinstance(part, Loop)),
        any(part.direct for part in parts),
    )
    while len(_CREWS) > MOST_REMEMBERED:
        _CREWS.popitem(last=False)
    return known


def _guards(crew: _Crew, states: Mapping[str, PartState]) -> list[Guard]:
    """Every part's guards. They follow from its state alone, and most parts come back to the same few."""
    if len(crew.guards) > MOST_GUARDED:
        crew.guards.clear()
    found: list[Guard] = []
    for part in crew.guarded:
        key = (part.name, states[part.name])
        known = crew.guards.get(key)
        if known is None:
            known = crew.guards[key] = part.guards(key[1])
        found += known
    return found


def _settled(installation: Installation, state: PlantState) -> PlantState:
    """Everything that merely follows brought up to date, then every relay, until none moves.

    Relays answer one at a time, in order. One that comes back to a state it was in without time passing chatters: it is
    named, and left in the state it was found in last. The mapping of states is a new one only where a state is another.
    """
    crew = _crew(installation)
    parts, values = state.parts, state.values
    changed = {}
    for part in crew.following:
        before = parts[part.name]
        after = part.followed(before, values)
        if after is not before and after != before:
            changed[part.name] = after
    if changed:
        parts = {**parts, **changed}
    met: list[Mapping[str, PartState]] = []
    chattering: tuple[str, ...] = ()
    for _ in range(MOST_SETTLINGS):
        felt = _felt(crew, parts, values, state.lifted, {})
        moved = next(
            (
                (part.name, after)
                for part in crew.answering
                if part.name not in chattering and (after := part.settled(parts[part.name], felt)) != parts[part.name]
            ),
            None,
        )
        if moved is None:
            break
        after = {**parts, moved[0]: moved[1]}
        if after in met:
            chattering = (*chattering, moved[0])
            continue
        met.append(parts)
        parts = after
    return PlantState(state.time, parts, values, state.lifted, chattering)
