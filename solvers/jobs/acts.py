"""Everything a learner can do on a job, as data; doing it on a world gives another world and an outcome."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache

from ..circuit import (
    FUNCTIONS,
    Meter,
    Network,
    Reading,
    amps_reading,
    beeper_reading,
    jack_reading,
    millivolts_reading,
    ohms_reading,
    volts_between,
    volts_dc_reading,
    volts_reading,
)
from ..plant.parts import Boiler, Breaker, Part, Stat, Transformer
from ..plant.probing import Probed, probed
from ..plant.protection import opening_seconds
from ..plant.running import PlantState, at_rest, called, landed, lifted, network, opener_set, points, switched, waited
from ..plant.senses import SENSES, heard, noticed, sensed, telling
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
    "reset": {"part": (str,)},
    "meter fuse": {},
}
"""Every act by name with its fields and their types. A clamp's wire may be a whole cable."""

PROBED = tuple(function for function in FUNCTIONS if function != "clamp")

LONGEST_WAIT = 3600.0  # s, one act
MORE = " And more."
LONGEST_TOLD = 460  # characters of what is heard during a wait
MOST_AT_ONCE = 12  # things that a person can tell apart in one moment
MOST_OF_A_KIND = 4  # moments of one kind in one wait that evidence may rest on; what keeps repeating drifts apart
A_LONG_CALL = 1800.0  # s
A_LONG_REST = 10_800.0  # s


@dataclass(frozen=True, slots=True)
class World:
    """What a learner stands before: the design on paper, what is really there, and its state."""

    design: Installation
    installation: Installation
    state: PlantState
    meter: Meter = field(default_factory=Meter)  # the learner's own

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
        return _measured(world, act["function"], act["first"], act["second"])
    if name == "clamp":
        return world, _clamped(world, act["wire"], act["turns"])
    if name in SENSES:
        sense = sensed(world.installation, world.state, name, act["part"])
        return world, Outcome(sense.text, signal=sense.signal)
    if name == "wait":
        return _waited(world, act["seconds"])
    if name == "fit":
        return _fitted(world, act["part"])
    if name == "reset":
        return _reset(world, act["part"])
    if name == "meter fuse":
        return replace(world, meter=replace(world.meter, jack_blown=False)), Outcome("A new fuse is fitted in the meter.")
    return _moved(world, act)


def replayed(world: World, acts: Iterable[object]) -> tuple[Outcome, ...]:
    """What each act of a log shows when it is done on this world."""
    outcomes = []
    for act in acts:
        world, outcome = acted(world, act)
        outcomes.append(outcome)
    return tuple(outcomes)


def _measured(world: World, function: str, first: str, second: str) -> tuple[World, Outcome]:
    if function not in PROBED:
        raise JobError(f"no meter function {function!r} for two probes; there are {list(PROBED)}")
    there = points(world.installation, world.state)
    for point in (first, second):
        if point not in there:
            raise JobError(f"no test point {point!r}; there are {list(there)}")
    if first == second:
        raise JobError(f"both probes are on {first!r}; put the second on another point")
    if function == "volts low-Z":
        return _loaded(world, first, second)
    if function == "amps jack":
        return _jacked(world, first, second)
    ac, dc, meter = world.circuit(), world.circuit(0), world.meter
    if function in ("ohms", "beeper"):
        look = ohms_reading if function == "ohms" else beeper_reading
        reading = look(ac, dc, first, second, meter=meter)
    elif function == "volts DC":
        reading = volts_dc_reading(dc, first, second, meter=meter)
    else:
        look = millivolts_reading if function == "millivolts" else volts_reading
        reading = look(ac, first, second, meter=meter)
    return world, Outcome(reading.text, reading, misuse=reading.misuse)


def _loaded(world: World, first: str, second: str) -> tuple[World, Outcome]:
    """Low-impedance volts. The milliamperes that they pass can only be a call to an input that a board senses.

    What an ohmmeter's own current does to such an input is not modelled: across it the pair is live, and no test.
    """
    if any(part.direct for part in world.installation.parts):
        there = probed(world.installation, world.state, first, second, world.meter.low_z_ohms)
        circuit = network(world.installation, there.on)
        return _touched(world, there, volts_reading(circuit, first, second, low_z=True, meter=world.meter))
    reading = volts_reading(world.circuit(), first, second, low_z=True, meter=world.meter)
    return world, Outcome(reading.text, reading)


def _jacked(world: World, first: str, second: str) -> tuple[World, Outcome]:
    """Leads left in the current jack: the plant has the near short for as long as the meter's fuse lasts."""
    meter = world.meter
    reading = jack_reading(world.circuit(), world.circuit(0), first, second, meter=meter)
    if meter.jack_blown:
        return world, Outcome(reading.text, reading, misuse=reading.misuse)
    seconds = 0.0
    if reading.value is None:
        amps = volts_between(world.circuit(), first, second, meter.jack_ohms) / meter.jack_ohms
        seconds = opening_seconds(amps / meter.jack_amps)
        world = replace(world, meter=replace(meter, jack_blown=True))
    return _touched(world, probed(world.installation, world.state, first, second, meter.jack_ohms, seconds), reading)


def _touched(world: World, there: Probed, reading: Reading) -> tuple[World, Outcome]:
    """What a reading shows when the plant has answered to the probes, and what it was seen to do."""
    words = noticed(world.installation, world.state, there.on)
    told = f", {' and '.join(words[:MOST_AT_ONCE])} while the probes are on" if words else ""
    return replace(world, state=there.off), Outcome(reading.text + told, reading, _sentences(words), misuse=reading.misuse)


def _clamped(world: World, wire: str, turns: int) -> Outcome:
    inside = [conductor.name for conductor in world.installation.conductors if wire in (conductor.name, conductor.cable)]
    inside = inside or [world.installation.conductor(wire).name]
    reading = amps_reading(world.circuit(), *inside, turns=turns, meter=world.meter)
    return Outcome(reading.text, reading, misuse=reading.misuse)


def _waited(world: World, seconds: float) -> tuple[World, Outcome]:
    if not (math.isfinite(seconds) and 1 <= seconds <= LONGEST_WAIT):
        raise JobError(f"wait of {seconds!r} s; wait from 1 s to {LONGEST_WAIT:.0f} s at a time")
    state, events = waited(world.installation, world.state, seconds)
    text, moments, counts = f"{_minutes(seconds)} later.", [], {}
    for event in events:
        words = heard(event)
        sentence = f" After {event.time - world.state.time:.0f} s {words}." if words else ""
        if not text.endswith(MORE):
            text += sentence if len(text + sentence) <= LONGEST_TOLD else MORE
        if telling(event):
            counts[words] = counts.get(words, 0) + 1
            if counts[words] <= MOST_OF_A_KIND:
                moments.append((event.time, words))
    return replace(world, state=state), Outcome(text, events=tuple(moments))


def _moved(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    here, state, name = world.installation, world.state, act["do"]
    own = ""
    if name == "switch":
        after = switched(here, state, act["part"], act["on"])
        text = f"The {act['part']} is switched {'on' if act['on'] else 'off'}."
    elif name == "call":
        after, own = called(here, state, act["stat"], act["on"]), act["stat"]
        text = "The thermostat is turned up." if act["on"] else "The thermostat is turned down."
    elif name == "opener":
        after = opener_set(here, state, act["valve"], act["engaged"])
        text = "The opener is engaged." if act["engaged"] else "The opener is back in auto."
    elif name == "lift":
        after, text = lifted(here, state, act["terminal"]), "Lifted and held clear."
    else:
        after, text = landed(here, state, act["terminal"]), "Landed and tugged."
    return _done(world, after, text, own)


def _fitted(world: World, name: str) -> tuple[World, Outcome]:
    """A new part in the old one's place. The switch of a supply belongs to the place and stays as it was set."""
    state = world.state
    new = world.installation.part(name).refitted(world.design.part(name))
    if not new.terminals:
        raise JobError(f"{name!r} is nothing to replace; there are {[one.name for one in world.design.parts if one.terminals]}")
    fresh = new.initial()
    if isinstance(new, Transformer | Boiler):
        fresh = replace(fresh, on=state.of(name).on)
    changed = replace(state, parts={**state.parts, name: fresh}, values={**state.values, **new.start_values()})
    fitted = replace(world, installation=world.installation.with_part(new))
    settled, _ = waited(fitted.installation, changed, 0.0)
    return _done(fitted, settled, "A new one is fitted.", name if isinstance(new, Stat) else "")


def _reset(world: World, name: str) -> tuple[World, Outcome]:
    """A breaker's button pushed in; where what tripped it is still hot it comes out again at once."""
    part, state = world.installation.part(name), world.state
    buttons = [one.name for one in world.installation.parts if _has_button(one)]
    if name not in buttons:
        raise JobError(f"{name!r} has no button to reset; there are {buttons}")
    pushed = replace(state, parts={**state.parts, name: part.reset(state.of(name))})
    after, _ = waited(world.installation, pushed, 0.0)
    out = after.of(name).tripped
    return _done(world, after, "The button comes out again at once." if out else "The button is in.")


def _done(world: World, after: PlantState, text: str, own: str = "") -> tuple[World, Outcome]:
    """What follows at once from what a hand has done, as far as it is heard or seen."""
    words = noticed(world.installation, world.state, after, apart_from=own)
    signal = _sentences(words)
    return replace(world, state=after), Outcome(f"{text} {signal}".strip(), signal=signal)


def _has_button(part: Part) -> bool:
    return isinstance(part, Breaker) or (isinstance(part, Transformer) and part.protection == "breaker")


def _sentences(words: tuple[str, ...]) -> str:
    return " ".join(f"{word[0].upper()}{word[1:]}." for word in words[:MOST_AT_ONCE])


def _minutes(seconds: float) -> str:
    return f"{seconds:.0f} s" if seconds < 60 else f"{seconds / 60:.0f} min {seconds % 60:02.0f} s".replace(" 00 s", "")
