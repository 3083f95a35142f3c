"""Acts of the hands that leave every part as it is: switches, calls, openers, leads, jumpers, waiting, and handing over."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import replace

from ..plant.loose import LooseJoint
from ..plant.running import called, landed, lifted, opener_set, switched, waited
from ..plant.senses import heard, sensed
from ..plant.strays import Stray
from .admitting import admitted, is_supply
from .job import JobError
from .misuses import LINE_WORK, SHORTED, on_line_voltage, wiring_misuse
from .rewiring import landed_at, tightened
from .world import Outcome, World, follows, jumper_name, moments, named_terminal, places, rebuilt, reclipped, shows

__all__ = [
    "TRADES",
    "call_turned",
    "jumpered",
    "later",
    "lead_landed",
    "lead_lifted",
    "nudged",
    "opener_moved",
    "referred",
    "reset",
    "sensed_at",
    "service_valve_turned",
    "stopped",
    "supply_switched",
    "turned_words",
    "wait_checked",
    "waited_for",
]

TRADES = ("licensed electrician", "boiler technician", "plumber", "gas fitter", "heating designer", "emergency service")
"""Whose work something can be that is not the learner's. Common practice, no source."""

LONGEST_WAIT = 3600.0  # s, one act
LONGEST_TOLD = 460  # characters of what is heard during a wait
MORE = " And more."

JUMPER_OHMS = 0.02
"""A short wire with two clips. Source: memory."""

JUMPER_SECONDS = 1.0
"""What it takes to clip one on: enough for a fuse to open on a short. Source: model."""


def supply_switched(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """The switch of a transformer or boiler."""
    name = admitted(world, "switch", act["part"])
    after = switched(world.installation, world.state, name, act["on"])
    return follows(world, after, turned_words(act))


def call_turned(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """A thermostat turned all the way up or down."""
    name = admitted(world, "call", act["stat"])
    after = called(world.installation, world.state, name, act["on"])
    return follows(world, after, turned_words(act), name)


def turned_words(act: Mapping[str, object]) -> str:
    """What is told of a supply that has been switched, or a stat that has been turned."""
    if act["do"] == "call":
        return f"The thermostat is turned {'up' if act['on'] else 'down'}."
    return f"The {act['part']} is switched {'on' if act['on'] else 'off'}."


def opener_moved(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """A valve's manual opener."""
    after = opener_set(world.installation, world.state, admitted(world, "opener", act["valve"]), act["engaged"])
    return follows(world, after, "The opener is engaged." if act["engaged"] else "The opener is back in auto.")


def lead_lifted(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """Whatever is landed on a terminal taken off it. A screw that was loose is not loose any more once it is landed again."""
    terminal = named_terminal(world, act["terminal"])
    loose = landed_at(world.installation, terminal) != world.installation.landed(terminal)
    here = rebuilt(world, tightened(world.installation, (terminal,))) if loose else world
    return shows(world, replace(here, state=lifted(here.installation, here.state, terminal)), "Lifted and held clear.")


def lead_landed(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """A lifted lead back on its terminal, with the jumpers that hang on it."""
    after = reclipped(replace(world, state=landed(world.installation, world.state, act["terminal"])))
    return shows(world, after, "Landed and tugged.")


def sensed_at(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """A look, a listen, or a hand on a part."""
    sense = sensed(world.installation, world.state, act["do"], admitted(world, act["do"], act["part"]))
    return world, Outcome(sense.text, signal=sense.signal)


def waited_for(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """Time goes by, and what is heard meanwhile."""
    seconds = wait_checked(act["seconds"])
    state, events = waited(world.installation, world.state, seconds)
    text = later(seconds, [(event.time - world.state.time, heard(event)) for event in events])
    return replace(world, state=state), Outcome(text, events=moments(events))


def later(seconds: float, heard_at: Iterable[tuple[float, str]]) -> str:
    """What is told of a wait: how long it was, and what was heard after how many seconds; "" is nothing that is heard."""
    text = f"{_minutes(seconds)} later."
    for after, words in heard_at:
        sentence = f" After {after:.0f} s {words}." if words else ""
        if not text.endswith(MORE):
            text += sentence if len(text + sentence) <= LONGEST_TOLD else MORE
    return text


def wait_checked(seconds: float) -> float:
    """The seconds of one wait; raises JobError for what nobody waits at a time."""
    if not (math.isfinite(seconds) and 1 <= seconds <= LONGEST_WAIT):
        raise JobError(f"wait of {seconds!r} s; wait from 1 s to {LONGEST_WAIT:.0f} s at a time")
    return seconds


def reset(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """A breaker's button pushed in; where what tripped it is still hot it comes out again at once."""
    name, state = admitted(world, "reset", act["part"]), world.state
    pushed = replace(state, parts={**state.parts, name: world.installation.part(name).reset(state.of(name))})
    after, _ = waited(world.installation, pushed, 0.0)
    return follows(world, after, "The button comes out again at once." if after.of(name).tripped else "The button is in.")


def nudged(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """A part and its leads moved a little: what is loose inside it or under its screws parts, or joins again."""
    name = admitted(world, "nudge", act["part"])
    terminals = world.installation.part(name).terminals
    parts = dict(world.state.parts)
    for part in world.installation.parts:
        if part.name == name or (isinstance(part, LooseJoint) and part.terminal in terminals):
            parts[part.name] = part.nudged(parts[part.name], world.state.values)
    after, _ = waited(world.installation, replace(world.state, parts=parts), 0.0)
    return follows(world, after, "Moved a little and let go.")


def service_valve_turned(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """The service valve of a loop opened or shut."""
    name = admitted(world, "service valve", act["loop"])
    there = world.installation.with_part(replace(world.installation.part(name), flows=act["open"]))
    return shows(world, rebuilt(world, there), f"The service valve is {'open' if act['open'] else 'shut'}.")


def jumpered(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """A jumper wire between two points put on or taken off. Raises JobError, above all for line voltage."""
    first, second = act["first"], act["second"]
    if not act["on"]:
        return _jumper_off(world, first, second)
    there = places(world)
    for point in (first, second):
        if point not in there:
            raise JobError(f"no test point {point!r}; there are {list(there)}")
        if on_line_voltage(world.design, point):
            raise JobError(f"{point!r} is at line voltage; a jumper goes on 24-volt points only")
    if first == second:
        raise JobError(f"both clips are on {first!r}; put the second on another point")
    if {first, second} in [set(pair) for pair in world.jumpers]:
        raise JobError(f"a jumper is on {first!r} and {second!r} already; on are {_told(world)}")
    wire = Stray(jumper_name(first, second), first, second, JUMPER_OHMS)
    there = replace(world.installation, parts=(*world.installation.parts, wire))
    put = rebuilt(replace(world, jumpers=(*world.jumpers, (first, second))), there)
    state, events = waited(put.installation, put.state, JUMPER_SECONDS)
    live = any(on_line_voltage(world.installation, point) for point in (first, second))
    misuse = LINE_WORK if live else wiring_misuse(world, put)
    text = "The jumper is on, with a spark." if misuse == SHORTED else "The jumper is on."
    after, outcome = shows(world, replace(put, state=state), text, misuse=misuse)
    return after, replace(outcome, events=moments(events))


def stopped(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """Everything switched off and hands off: what is left to do is to hand over."""
    here, state = world.installation, world.state
    for part in here.parts:
        if is_supply(part) and state.of(part.name).on:
            state = switched(here, state, part.name, False)
    return shows(world, replace(world, state=state, stopped=True), "Everything is off. Nothing more is touched.")


def referred(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """The job, or what is left of it, handed over to another trade. Raises JobError for one that there is not."""
    to = act["to"]
    if to not in TRADES:
        raise JobError(f"no trade {to!r} to hand over to; there are {list(TRADES)}")
    return replace(world, referred=to), Outcome(f"Handed over to: {to}.")


def _jumper_off(world: World, first: str, second: str) -> tuple[World, Outcome]:
    on = next((pair for pair in world.jumpers if set(pair) == {first, second}), None)
    if on is None:
        raise JobError(f"no jumper is on {first!r} and {second!r}; on are {_told(world)}")
    name = jumper_name(*on)
    there = replace(world.installation, parts=tuple(part for part in world.installation.parts if part.name != name))
    kept = tuple(pair for pair in world.jumpers if pair != on)
    return shows(world, rebuilt(replace(world, jumpers=kept), there), "The jumper is off.")


def _told(world: World) -> list[str]:
    return [" to ".join(pair) for pair in world.jumpers]


def _minutes(seconds: float) -> str:
    return f"{seconds:.0f} s" if seconds < 60 else f"{seconds / 60:.0f} min {seconds % 60:02.0f} s".replace(" 00 s", "")
