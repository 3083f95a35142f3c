"""Acts with the meter: two probes, the clamp, its own fuse, and line readings that somebody licensed takes."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace

from ..circuit import (
    FUNCTIONS,
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
from ..plant.probing import Probed, probed
from ..plant.protection import opening_seconds
from ..plant.running import network, waited
from ..plant.senses import noticed
from .admitting import admitted
from .job import JobError
from .world import MOST_AT_ONCE, Outcome, World, places, sentences

__all__ = ["LINE_READINGS", "MISSING", "clamped", "line_reading", "measured", "meter_fused", "probes_on"]

PROBED = tuple(function for function in FUNCTIONS if function != "clamp")

LINE_READINGS = ("panel volts", "primary volts", "primary ohms")
"""What is read in the line-voltage box of a transformer. Source: common practice."""

MISSING = Outcome("That wire is not there.", signal="wire: missing")


def measured(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """Two probes on two points. Raises JobError for an unknown function or point."""
    function, first, second = probes_on(act, places(world))
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


def probes_on(act: Mapping[str, object], there: Collection[str]) -> tuple[str, str, str]:
    """The function and the two points of a measurement; raises JobError for what the meter or the house does not have."""
    function, first, second = act["function"], act["first"], act["second"]
    if function not in PROBED:
        raise JobError(f"no meter function {function!r} for two probes; there are {list(PROBED)}")
    for point in (first, second):
        if point not in there:
            raise JobError(f"no test point {point!r}; there are {list(there)}")
    if first == second:
        raise JobError(f"both probes are on {first!r}; put the second on another point")
    return function, first, second


def clamped(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """The clamp round a conductor, or round a whole cable."""
    wire, drawn = act["wire"], world.design.conductors
    if not any(wire in (one.name, one.cable) for one in drawn):
        world.design.conductor(wire)  # raises with the names there are
    inside = [one.name for one in world.installation.conductors if wire in (one.name, one.cable)]
    if not inside:
        return world, MISSING
    reading = amps_reading(world.circuit(), *inside, turns=act["turns"], meter=world.meter)
    return world, Outcome(reading.text, reading, misuse=reading.misuse)


def meter_fused(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """A new fuse behind the meter's current jack."""
    return replace(world, meter=replace(world.meter, jack_blown=False)), Outcome("A new fuse is fitted in the meter.")


def line_reading(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """One reading in a transformer's line-voltage box, taken by somebody licensed; all is put back as it was.

    Volts are taken with the switch as it stands, ohms with it off and the lead lifted. Raises JobError.
    """
    name, what = admitted(world, "line reading", act["part"]), act["what"]
    if what not in LINE_READINGS:
        raise JobError(f"no line reading {what!r}; there are {list(LINE_READINGS)}")
    box = replace(world.installation.part(name), line_side=True)
    here, state = world.installation.with_part(box), world.state
    ohms = what == "primary ohms"
    if ohms:
        state = replace(state, parts={**state.parts, name: replace(state.of(name), on=False)})
    state, _ = waited(here, state, 0.0)
    common = f"{name}.P0"
    ac, dc = network(here, state), network(here, state, 0)
    if ohms:
        reading = ohms_reading(ac, dc, f"{name}.P{box.tap:g}", common, meter=world.meter)
    else:
        reading = volts_reading(ac, f"{name}.L" if what == "panel volts" else f"{name}.P{box.tap:g}", common, meter=world.meter)
    return world, Outcome(f"Read by somebody licensed: {reading.text}", replace(reading, misuse=""))


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
    return replace(world, state=there.off), Outcome(reading.text + told, reading, sentences(words), misuse=reading.misuse)
