"""Every state that a graded job's house can settle in, and what every declared act shows and leads to from there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from ..circuit import Event
from ..plant.electrics import electrics
from ..plant.hands import handed
from ..plant.impressions import Sense, either
from ..plant.parts import Boiler, Loop, Part, Room, Stat, Transformer, Valve
from ..plant.running import PlantState, seen, waited
from ..plant.senses import SENSES, sensed
from ..plant.sounds import heard, telling
from ..plant.wiring import Installation
from .acts import acted, arrival
from .declared import Declared, Standing, key_of
from .graded import NotSealable
from .house import left_there
from .job import Job
from .metering import LINE_READINGS
from .settling import HANDS, SETTLE_S, at_rest_after, same_house, settled_state, settled_states, stirring
from .tape import Edge, Moment, Node, slots_of
from .world import Outcome, World, without_jumpers

__all__ = ["Taping", "taped"]

MOST_NODES = 4_000
MOST_ZONES = 3
LATEST = 0.9
"""Share of the time to settle after which nothing may happen any more."""

A_LONG_WAIT = 7_200.0  # s: whatever trips in two hours would trip on a learner who takes a break


@dataclass(slots=True)
class Taping:
    """The tape as it grows."""

    job: Job
    rules: Declared
    acts: list[Mapping[str, object]] = field(default_factory=list)
    circuits: list[World] = field(default_factory=list)  # one world for each electrical state
    senses: list[Sense] = field(default_factory=list)
    sense_rows: list[tuple[int, ...]] = field(default_factory=list)
    nodes: list[Node] = field(default_factory=list)
    edges: list[dict[int, Edge | str]] = field(default_factory=list)  # by node: act -> edge, or why it cannot be done


def taped(job: Job, rules: Declared) -> Taping:
    """The tape of a job; raises NotSealable where its house never rests, or for what no table can hold."""
    _admit(job)
    taper = _Taper(job, rules)
    taper.run()
    return taper.tape


def _admit(job: Job) -> None:
    parts = job.actual.parts
    if len(job.faults) != 1:
        raise NotSealable(f"a job of {len(job.faults)} faults; a sealed one has 1")
    if len(job.design.zones) > MOST_ZONES:
        raise NotSealable(f"a house of {len(job.design.zones)} zones; a sealed job has at most {MOST_ZONES}")
    for part in parts:
        if isinstance(part, Room):
            raise NotSealable(f"{part.name} warms and cools for hours, and no table holds that")
        if part.direct:
            raise NotSealable(f"the input of {part.name} answers to the meter itself")


class _Taper:
    """Walks from node to node until every declared act has been done in each."""

    def __init__(self, job: Job, rules: Declared) -> None:
        design = job.design
        slots = slots_of(design)
        self.tape = Taping(job, rules)
        self.hands = handed(job.actual, HANDS)
        self.stats = [part.name for part in design.parts if isinstance(part, Stat)]
        self.supplies = [part.name for part in design.parts if isinstance(part, Transformer | Boiler)]
        self.boxes = [part.name for part in design.parts if isinstance(part, Transformer)]
        self._slot_of = {slot: number for number, slot in enumerate(slots)}
        self._acts: dict[str, int] = {}
        self._circuits: dict[int, int] = {}  # identity of the electrics -> circuit; they are held in _held
        self._held: list[object] = []
        self._senses: dict[Sense, int] = {}
        self._rows: dict[tuple[int, ...], int] = {}
        self._felt: dict[tuple, dict[int, int]] = {}
        self._carried: list[tuple[tuple[float, ...], ...]] = []  # by circuit and part
        levels = [name for name, _ in self.hands.levels]
        self._bands = [tuple(levels.index(name) for name in _felt_at(part, design) if name in levels) for part in design.parts]
        self._known: dict[tuple, int] = {}
        self._worlds: list[World] = []
        self._standings: list[Standing] = []
        self._installations: dict[Installation, Installation] = {}
        self._interned: dict[int, Installation] = {}

    def run(self) -> None:
        """Tape everything, beginning with the house as found."""
        job = self.tape.job
        actual = replace(job.actual, parts=(*job.actual.parts, self.hands))
        self._found = self._one_of(actual)
        self._node(arrival(job.design, self._found), Standing())
        done = 0
        while done < len(self._worlds):
            world, standing = self._worlds[done], self._standings[done]
            self.tape.edges.append(dict(self._edges(done, world, standing)))
            if not standing.words:
                self._check_rest(world)
            done += 1
            if len(self._worlds) > MOST_NODES:
                raise NotSealable(f"more than {MOST_NODES} states to hold")

    def _edges(self, here: int, world: World, standing: Standing) -> Iterator[tuple[int, Edge | str]]:
        for act in self.tape.rules.begins(standing):
            if _stands(world, self.tape.rules.acts_of(act)):
                continue
            number = self._acts.setdefault(key_of(act), len(self.tape.acts))
            if number == len(self.tape.acts):
                self.tape.acts.append(act)
            after, outcomes = world, []
            try:
                for one in self.tape.rules.acts_of(act):
                    after, outcome = acted(after, one)
                    outcomes.append(outcome)
            except ValueError as problem:
                yield number, str(problem)
                continue
            after = replace(after, installation=self._one_of(after.installation))
            yield number, self._edge(here, world, after, tuple(outcomes), self._standing(standing, act, world, after))

    def _standing(self, standing: Standing, act: Mapping[str, object], before: World, after: World) -> Standing:
        houses = [self._one_of(without_jumpers(world)) for world in (before, after)]
        then = standing.after(act, self.tape.rules.kind(act))
        return then.in_house(act, changed=houses[0] is not houses[1], as_found=houses[1] is self._found)

    def _edge(self, here: int, world: World, after: World, outcomes: tuple[Outcome, ...], standing: Standing) -> Edge:
        lasts = after.state.time - world.state.time
        if standing == self._standings[here] and same_house(world, after):
            node = self.tape.nodes[here]
            return Edge(outcomes, lasts, 0.0, (), (Moment(0.0, node.circuit, node.senses),), here)
        met: list[tuple[PlantState, int]] = []
        state, events = waited(after.installation, after.state, SETTLE_S, met)
        moving = stirring(events)
        begun = after.state.time
        if moving and moving[-1].time - begun > LATEST * SETTLE_S:
            raise NotSealable(f"something never comes to rest: {moving[-1].name} after {moving[-1].time - begun:.0f} s")
        rests = 0.0 if at_rest_after(after.state.values, state.values, events) else SETTLE_S
        told = tuple((round(event.time - begun, 1), words, telling(event)) for event in moving if (words := heard(event)))
        moments = self._moments(after, events, met)
        node = self._node(replace(after, state=replace(state, time=0.0)), standing)
        return Edge(outcomes, lasts, rests, told, moments, node)

    def _moments(self, after: World, events: Sequence[Event], met: Sequence[tuple[PlantState, int]]) -> tuple[Moment, ...]:
        """What a hand and a meter find at once, and after every event that changes it."""
        found: list[Moment] = []
        for at, state in ((0.0, after.state), *self._times(after, events, met)):
            here = replace(after, state=state)
            circuit = self._circuit(here)
            moment = Moment(at, circuit, self._row(here, circuit))
            if not found or (found[-1].circuit, found[-1].senses) != (moment.circuit, moment.senses):
                found.append(moment)
        return tuple(found)

    def _times(
        self, after: World, events: Sequence[Event], met: Sequence[tuple[PlantState, int]]
    ) -> list[tuple[float, PlantState]]:
        """The last state at each moment of a run, in seconds since the act."""
        found, place = {}, 0
        for state, count in met:
            found[events[place].time] = state
            place += count
        return [(round(time - after.state.time, 1), state) for time, state in found.items()]

    def _node(self, found: World, standing: Standing) -> int:
        world = replace(found, installation=self._one_of(found.installation))
        key = (_key(world), standing)
        number = self._known.get(key)
        if number is None:
            number = self._known[key] = len(self._worlds)
            self._worlds.append(world)
            circuit = self._circuit(world)
            state = world.state
            line = ()
            if not standing.words and not standing.up:
                acts = [{"do": "line reading", "part": box, "what": what} for box in self.boxes for what in LINE_READINGS]
                line = tuple(acted(world, act)[1] for act in acts)
            self._standings.append(standing)
            self.tape.nodes.append(
                Node(
                    circuit=circuit,
                    senses=self._row(world, circuit),
                    repaired=tuple(sorted(standing.repaired)),
                    calls=tuple(state.of(name).calling for name in self.stats),
                    supplies=tuple(state.of(name).on for name in self.supplies),
                    strays=left_there(world),
                    line=line,
                    stop=acted(world, {"do": "stop"})[1],
                )
            )
        return number

    def _one_of(self, installation: Installation) -> Installation:
        """The first of all equal installations, so that what is known of it is found again."""
        known = self._interned.get(id(installation))
        if known is None:
            known = self._installations.setdefault(installation, installation)
            self._interned[id(installation)] = known
            self._held.append(installation)  # whose identity must not be used again
        return known

    def _circuit(self, world: World) -> int:
        found = electrics(world.installation, world.state.parts, world.state.lifted)
        number = self._circuits.get(id(found))
        if number is None:
            number = self._circuits[id(found)] = len(self.tape.circuits)
            self._held.append(found)
            self.tape.circuits.append(world)
            self._carried.append(tuple(_carried(world, part, found.amps) for part in world.design.parts))
        return number

    def _row(self, world: World, circuit: int) -> int:
        """The row of what every sense tells of every part."""
        parts, bands, found = world.state.parts, world.state.parts[HANDS], {}
        house, carried = id(world.installation), self._carried[circuit]
        for place, part in enumerate(world.design.parts):
            # All that the senses at one part go by.
            own = [bands[band] for band in self._bands[place]]
            key = (house, place, settled_state(parts[part.name]), *own, carried[place], part.name in world.state.chattering)
            known = self._felt.get(key)
            if known is None:
                known = self._felt[key] = dict(self._told(world, part))
            found |= known
        row = tuple(found[slot] for slot in range(len(found)))
        number = self._rows.setdefault(row, len(self.tape.sense_rows))
        if number == len(self.tape.sense_rows):
            self.tape.sense_rows.append(row)
        return number

    def _told(self, world: World, part: Part) -> Iterator[tuple[int, int]]:
        for how in SENSES:
            sense = self._sense(world, how, part)
            yield self._slot_of[how, part.name], self._senses_number(sense)
        if isinstance(part, Valve):
            _, outcome = acted(world, {"do": "head off", "valve": part.name})
            yield self._slot_of["head off", part.name], self._senses_number(Sense(outcome.text, outcome.signal))

    def _sense(self, world: World, how: str, part: Part) -> Sense:
        here, state = world.installation, world.state
        sense = sensed(here, state, how, part.name, thermometer=False)
        if isinstance(part, Transformer):
            # Its case takes hours, and how many calls it has behind it is nothing that a table can hold.
            warmth = f"{part.name}.heat"
            idle = min(state.values[warmth], part.start_values()[warmth] if part.energised(state.of(part.name)) else 0.0)
            loaded = part.laws(state.of(part.name), seen(here, state))[warmth].target
            for heat in (idle, max(loaded, state.values[warmth])):
                other = replace(state, values={**state.values, warmth: heat})
                sense = either(sense, sensed(here, other, how, part.name, thermometer=False))
        return sense

    def _senses_number(self, sense: Sense) -> int:
        number = self._senses.setdefault(sense, len(self.tape.senses))
        if number == len(self.tape.senses):
            self.tape.senses.append(sense)
        return number

    def _check_rest(self, world: World) -> None:
        _, events = waited(world.installation, world.state, A_LONG_WAIT)
        if late := stirring(events):
            raise NotSealable(f"something happens hours later: {late[0].name} after {late[0].time:.0f} s")


def _felt_at(part: Part, design: Installation) -> tuple[str, ...]:
    """The variables that the senses at a part go by."""
    loops = [loop.name for loop in design.parts if isinstance(loop, Loop) and part.name in (loop.name, loop.valve)]
    return (
        *(f"{part.name}.{what}" for what in ("wax", "travel", "water")),
        *(f"{loop}.{pipe}" for loop in loops for pipe in ("supply", "return")),
    )


def _carried(world: World, part: Part, amps: Mapping[str, float]) -> tuple[float, ...]:
    """The amperes in a part, as finely as any sense tells them apart."""
    branches = world.installation.part(part.name).branches(world.state.parts[part.name], world.installation.hz)
    return tuple(round(amps[branch.name], 3) for branch in branches)


def _stands(world: World, acts: Sequence[Mapping[str, object]]) -> bool:
    """Whether stat and supplies are turned so already: then their acts change nothing, and tell nothing but that."""
    for act in acts:
        if act["do"] == "call":
            state = world.state.of(act["stat"])
            if act["on"] != (state.turned == "up") or (state.calling and not act["on"]):
                return False
        elif act["do"] != "switch" or world.state.of(act["part"]).on != act["on"]:
            return False
    return True


def _key(world: World) -> tuple:
    """What makes a settled state the one it is: not the hour, nor what comes and goes by itself."""
    values = tuple(
        round(value, 1 if name.endswith(".wax") else 3)
        for name, value in sorted(world.state.values.items())
        if name.endswith((".wax", ".travel"))
    )
    return (id(world.installation), settled_states(world), values, frozenset(world.state.lifted), world.state.chattering)
