"""An installation at work: the coupled run of everything in it that moves, and what hands can do to it meanwhile."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from ..circuit import Event, Guard, Law, Network, run
from . import electrics as electrical
from .crews import answered, crew_of, felt, followed, guarded, noticed_of
from .electrics import EARTH, lead
from .light_switch import LightSwitch
from .pacing import Paced, paced, settled
from .part import Part, PartState, Seen
from .parts import Boiler, Stat, Transformer, Valve
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
    "plainly_waited",
    "points",
    "seen",
    "switched",
    "waited",
]


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


def at_rest(installation: Installation) -> PlantState:
    """The installation as it stands after hours without a call, power on."""
    values: dict[str, float] = {}
    for part in installation.parts:
        values |= part.start_values()
    return _settled(installation, PlantState(0.0, {part.name: part.initial() for part in installation.parts}, values))


def points(installation: Installation, state: PlantState) -> tuple[str, ...]:
    """Every place a probe can go: all terminals, ground where something is joined to it, the ends of lifted leads."""
    ends = ((branch.a, branch.b) for branch in electrical.branches(installation, state.parts))
    ground = (EARTH,) if any(EARTH in pair for pair in ends) else ()
    open_to_probes = tuple(terminal for part in installation.parts if not part.hidden for terminal in part.terminals)
    return open_to_probes + ground + tuple(lead(terminal) for terminal in state.lifted)


def network(installation: Installation, state: PlantState, hz: float | None = None) -> Network:
    """The circuit as it is now, strays and leaks included; hz 0 is what an ohmmeter meets."""
    return electrical.network(installation, state.parts, state.lifted, hz)


def seen(installation: Installation, state: PlantState, laws: Mapping[str, Law] | None = None) -> Seen:
    """What every part feels of the plant in a state."""
    crew = crew_of(installation)
    if laws is not None:
        return felt(crew, state.parts, state.values, state.lifted, laws)
    if crew.felt is None or crew.felt[0] is not state:
        crew.felt = (state, felt(crew, state.parts, state.values, state.lifted, {}))
    return crew.felt[1]


def waited(
    installation: Installation, state: PlantState, seconds: float, met: list[tuple[PlantState, int]] | None = None
) -> tuple[PlantState, tuple[Event, ...]]:
    """The state so many seconds later and what happened between, each event at its exact time.

    `met` is given the state after each guard that fired, all but its clock, and how many of the events that is.
    """
    stop, between = state.time + seconds, None if met is None else []
    if seconds >= 0:
        crew = crew_of(installation)
        found = paced(crew, state.parts, state.values, state.lifted, state.time, stop, between)
        if found is not None:

            def at(time: float, here: Paced) -> PlantState:
                return PlantState(time, here.parts, here.values, state.lifted, here.chattering)

            if met is not None:
                met += [(at(state.time, here), count) for here, count in between]
            return at(stop, found), found.events
    return plainly_waited(installation, state, seconds, met)


def plainly_waited(
    installation: Installation, state: PlantState, seconds: float, met: list[tuple[PlantState, int]] | None = None
) -> tuple[PlantState, tuple[Event, ...]]:
    """The same with everything looked at anew at every event: slower, and what `waited` is held against.

    Raises Chatter where something keeps happening without time passing.
    """
    crew = crew_of(installation)
    owners = crew.owners

    def laws(now: PlantState) -> dict[str, Law]:
        found: dict[str, Law] = {}
        feels = felt(crew, now.parts, now.values, now.lifted, found)
        for part in crew.moving:
            found |= part.laws(now.parts[part.name], feels)
        return found

    def guards(now: PlantState) -> list[Guard]:
        return [guard for part in crew.guarded for guard in guarded(crew, part.name, now.parts[part.name])]

    def fired(now: PlantState, guard: Guard) -> PlantState:
        part = owners[guard.owner]
        return _with_part_state(now, part.name, part.fired(now.parts[part.name], guard))

    def up_to_date(now: PlantState, values: Mapping[str, float]) -> PlantState:
        parts = followed(crew, crew.following, now.parts, values)
        parts, chattering = answered(crew, parts, values, now.lifted)
        return PlantState(now.time, parts, values, now.lifted, chattering)

    def noticed(before: PlantState, now: PlantState) -> list[str]:
        told = list(noticed_of(crew, before.parts, now.parts))
        told += [f"{name} chatters" for name in now.chattering if name not in before.chattering]
        if met is not None:
            met.append((now, 1 + len(told)))
        return told

    ended = run(
        state.values,
        state,
        start=state.time,
        stop=state.time + seconds,
        laws=laws,
        guards=guards,
        fired=fired,
        followed=up_to_date,
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


def _settled(installation: Installation, state: PlantState) -> PlantState:
    """Everything that merely follows brought up to date, then every relay, until none moves.

    Relays answer one at a time, in order. One that comes back to a state it was in without time passing chatters: it is
    named, and left in the state it was found in last. The mapping of states is a new one only where a state is another.
    """
    parts, chattering = settled(crew_of(installation), state.parts, state.values, state.lifted)
    return PlantState(state.time, parts, state.values, state.lifted, chattering)
