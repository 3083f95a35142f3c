"""Everything a learner can do on a job, as data; doing it on a world gives another world and an outcome."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from ..circuit import FUNCTIONS, Network, Reading, amps_reading, beeper_reading, ohms_reading, volts_reading
from ..plant.parts import Boiler
from ..plant.running import PlantState, at_rest, called, landed, lifted, network, opener_set, points, switched, waited
from ..plant.senses import SENSES, heard, sensed
from ..plant.wiring import Installation
from .job import JobError

__all__ = ["ACTS", "Outcome", "World", "acted", "arrival", "checked", "replayed"]

ACTS: Mapping[str, Mapping[str, tuple[type, ...]]] = {
    "switch": {"part": (str,), "on": (bool,)},
    "call": {"stat": (str,), "on": (bool,)},
    "measure": {"function": (str,), "first": (str,), "second": (str,)},
    "clamp": {"wire": (str,), "turns": (int,)},
    "lift": {"terminal": (str,)},
    "land": {"terminal": (str,)},
    "opener": {"valve": (str,), "engaged": (bool,)},
    "wait": {"seconds": (int, float)},
    "look": {"part": (str,)},
    "listen": {"part": (str,)},
    "feel": {"part": (str,)},
    "fit": {"part": (str,)},
}
"""Every act by name with its fields and their types."""

LONGEST_WAIT = 3600.0  # s, one act
A_LONG_CALL = 1800.0  # s
A_LONG_REST = 10_800.0  # s


@dataclass(frozen=True, slots=True)
class World:
    """What a learner stands before: the design on paper, what is really there, and its state."""

    design: Installation
    installation: Installation
    state: PlantState

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


def checked(act: object) -> dict[str, object]:
    """An act with its fields proven; raises JobError that names the field and the choices."""
    if not isinstance(act, Mapping):
        raise JobError(f"an act is an object with a field 'do'; got {act!r}")
    name = act.get("do")
    if not isinstance(name, str) or name not in ACTS:
        raise JobError(f"no act {name!r}; there are {list(ACTS)}")
    wanted = ACTS[name]
    extra, missing = sorted(set(act) - set(wanted) - {"do"}), sorted(set(wanted) - set(act))
    if extra or missing:
        raise JobError(f"act {name!r} takes {list(wanted)}; unknown {extra}, missing {missing}")
    for slot, kinds in wanted.items():
        value = act[slot]
        if not isinstance(value, kinds) or (isinstance(value, bool) and bool not in kinds):
            raise JobError(f"act {name!r}: {slot} is {value!r}; give {' or '.join(kind.__name__ for kind in kinds)}")
    return dict(act)


def acted(world: World, act: object) -> tuple[World, Outcome]:
    """The world and what is seen once an act is done. Raises JobError, or what the plant raises, and changes nothing."""
    act = checked(act)
    name = act["do"]
    if name == "measure":
        return world, _measured(world, act["function"], act["first"], act["second"])
    if name == "clamp":
        world.installation.conductor(act["wire"])
        reading = amps_reading(world.circuit(), act["wire"], turns=act["turns"])
        return world, Outcome(reading.text, reading, misuse=reading.misuse)
    if name in SENSES:
        sense = sensed(world.installation, world.state, name, act["part"])
        return world, Outcome(sense.text, signal=sense.signal)
    if name == "wait":
        return _waited(world, act["seconds"])
    if name == "fit":
        return _fitted(world, act["part"])
    return _moved(world, act)


def replayed(world: World, acts: Iterable[object]) -> tuple[Outcome, ...]:
    """What each act of a log shows when it is done on this world."""
    outcomes = []
    for act in acts:
        world, outcome = acted(world, act)
        outcomes.append(outcome)
    return tuple(outcomes)


def _measured(world: World, function: str, first: str, second: str) -> Outcome:
    if function not in FUNCTIONS or function == "clamp":
        raise JobError(f"no meter function {function!r} for two probes; there are {[f for f in FUNCTIONS if f != 'clamp']}")
    there = points(world.installation, world.state)
    for point in (first, second):
        if point not in there:
            raise JobError(f"no test point {point!r}; there are {list(there)}")
    if first == second:
        raise JobError(f"both probes are on {first!r}; put the second on another point")
    if function in ("ohms", "beeper"):
        look = ohms_reading if function == "ohms" else beeper_reading
        reading = look(world.circuit(), world.circuit(0), first, second)
    else:
        reading = volts_reading(world.circuit(), first, second, low_z=function == "volts low-Z")
    return Outcome(reading.text, reading, misuse=reading.misuse)


def _waited(world: World, seconds: float) -> tuple[World, Outcome]:
    if not (math.isfinite(seconds) and 1 <= seconds <= LONGEST_WAIT):
        raise JobError(f"wait of {seconds!r} s; wait from 1 s to {LONGEST_WAIT:.0f} s at a time")
    state, events = waited(world.installation, world.state, seconds)
    noise = tuple((event.time, words) for event in events if (words := heard(event)))
    told = [f"After {time - world.state.time:.0f} s {words}." for time, words in noise]
    return replace(world, state=state), Outcome(" ".join([f"{_minutes(seconds)} later.", *told]), events=noise)


def _burner(world: World, after: PlantState, boiler: str) -> str:
    before, now = world.state.of(boiler).called, after.of(boiler).called
    return "" if before == now else "The boiler starts." if now else "The boiler stops."


def _moved(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    here, state, name = world.installation, world.state, act["do"]
    if name == "switch":
        after = switched(here, state, act["part"], act["on"])
        text = f"The {act['part']} is switched {'on' if act['on'] else 'off'}."
    elif name == "call":
        after = called(here, state, act["stat"], act["on"])
        text = "The thermostat is turned up." if act["on"] else "The thermostat is turned down."
    elif name == "opener":
        after = opener_set(here, state, act["valve"], act["engaged"])
        text = "The opener is engaged." if act["engaged"] else "The opener is back in auto."
    elif name == "lift":
        after, text = lifted(here, state, act["terminal"]), "Lifted and held clear."
    else:
        after, text = landed(here, state, act["terminal"]), "Landed and tugged."
    moved = replace(world, state=after)
    sounds = [_burner(world, after, part.name) for part in here.parts if isinstance(part, Boiler)]
    signal = " ".join(words for words in sounds if words)
    return moved, Outcome(f"{text} {signal}".strip(), signal=signal)


def _fitted(world: World, name: str) -> tuple[World, Outcome]:
    new = world.installation.part(name).refitted(world.design.part(name))
    values = {**world.state.values, **new.start_values()}
    state = replace(world.state, parts={**world.state.parts, name: new.initial()}, values=values)
    fitted = replace(world, installation=world.installation.with_part(new), state=state)
    settled, _ = waited(fitted.installation, fitted.state, 0.0)
    return replace(fitted, state=settled), Outcome("A new one is fitted.")


def _minutes(seconds: float) -> str:
    return f"{seconds:.0f} s" if seconds < 60 else f"{seconds / 60:.0f} min {seconds % 60:02.0f} s".replace(" 00 s", "")
