"""Beliefs about end switches, and the one reading among true ones that each cannot be squared with."""

from __future__ import annotations

import math

from ..faults.changes import Bridged, PartField
from ..jobs.questions import Question
from ..plant.wiring import Installation
from .asking import Draw, refuted
from .visits import Visit, house, ohms_text, visited, volts_text
from .zone_readings import heater_pair, heater_volts

__all__ = ["belief"]

OPENED = 900.0  # s on call; every valve in order is open by then
T_T = ("boiler.T1", "boiler.T2")
FITS = "That is just what they would expect. It cannot change their mind."
Told = tuple[str, dict[str, str], str]


def belief(draw: Draw) -> Question:
    """One true reading among three that a common belief about end switches cannot be squared with."""
    asked = {7: _beep, 9: _coil, 13: _one_circuit, 17: _colours, 20: _boiler_runs}
    which = draw.chance.among("belief", tuple(asked))
    shape = {7: "four-wire", 9: "three-wire relay", 13: "four-wire", 17: "two sources", 20: "four-wire"}[which]
    design = house(
        draw.chance,
        (2,),
        shapes={shape: 1.0},
        needs=("own supply", "heat motor"),
        bars=("50 Hz", "internal limit", "breaker", "grounded"),
    )
    right, wrong, why = asked[which](design)
    return refuted(draw, which, right, wrong, why=why)


def _display(visit: Visit, function: str, pair: tuple[str, str]) -> str:
    return visit.shown({"do": "measure", "function": function, "first": pair[0], "second": pair[1]}).text


def _beep(design: Installation) -> Told:
    dead = visited(design).dead()
    pair = ("zone1.stat.R", "zone1.stat.W")
    beep, ohms = _display(dead, "beeper", pair), ohms_text(dead.ohms(*pair))
    closed = visited(design).calling("zone1").dead()
    return (
        f"Power off, thermostat 1 turned down, nothing lifted: from its R to its W the beeper says \u201c{beep}\u201d, "
        f"and the ohmmeter {ohms}.",
        {
            f"Power off, thermostat 1 turned up: from its R to its W the beeper says "
            f"\u201c{_display(closed, 'beeper', pair)}\u201d.": FITS,
            f"Power off, valve 1 cold, its EA lifted: across its end switch the beeper says "
            f"\u201c{_display(dead.lifted('zone1.valve.EA'), 'beeper', ('zone1.valve.EA', 'zone1.valve.EB'))}\u201d.": FITS,
        },
        "The contact is open. The beeper found heater, return and winding, and a few tens of ohms are enough for it.",
    )


def _coil(design: Installation) -> Told:
    there = visited(design).calling("zone1").waited(OPENED)
    pair = ("relay.A1", "relay.A2")
    volts, amps, ohms = there.volts(*pair), there.amps("relay R"), there.dead().lifted(pair[0]).ohms(*pair)
    first, second = heater_pair(there)
    heater = there.dead().lifted(first).ohms(first, second)
    return (
        f"A relay's coil shows {ohms_text(ohms)} lifted, and on {volts_text(volts)} the clamp finds {amps:.3f} A in it.",
        {
            f"A heater shows {ohms_text(heater)} lifted, and on {volts_text(heater_volts(there))} "
            f"the clamp finds {there.amps('zone1.W leg'):.3f} A in it.": FITS,
            f"With nobody calling the clamp finds {visited(design).amps('relay R'):.3f} A in a relay's coil of "
            f"{ohms_text(ohms)}.": FITS,
        },
        f"By its ohms it would draw {volts / ohms:.2f} A. Its iron holds alternating current back: {volts / amps:.0f} "
        f"ohms in all.",
    )


def _one_circuit(design: Installation) -> Told:
    dead = visited(design).dead()
    there = visited(design).calling("zone1").waited(OPENED)
    return (
        f"The valves' transformer is switched off, every valve is cold, and T-T shows {volts_text(dead.volts(*T_T))}.",
        {
            f"Zone 1 calls, its valve has opened, and T-T shows {volts_text(there.volts(*T_T))}.": FITS,
            f"Nobody calls, and across the heater of valve 1 there are {volts_text(heater_volts(visited(design)))}.": FITS,
        },
        "The boiler brings its own volts to T-T. The valves only open and close a switch in that circuit.",
    )


def _colours(design: Installation) -> Told:
    def across(opposed: bool) -> str:
        tie = Bridged("a resistor between the commons", "transformer.C", "transformer 2.C", 1000.0)
        there = visited(design, PartField("transformer 2", "opposed", opposed), tie)
        return volts_text(there.volts("fuse.out", "fuse 2.out"))

    return (
        f"With the commons joined through 1000 ohms, two red R wires showed {across(False)} to each other; "
        f"a breaker was moved to the other leg of the house, and the same two wires show {across(True)}.",
        {
            f"With the commons joined through 1000 ohms, two red R wires show {across(False)} to each other.": FITS,
            f"With nothing joined, a red R wire shows {volts_text(visited(design).volts('fuse.out', 'transformer.C'))} to "
            f"its own C.": FITS,
        },
        "No colour changed, and the phase did. It is set by how the line is landed and how the windings are.",
    )


def _boiler_runs(design: Installation) -> Told:
    welded = visited(design, PartField("zone2.valve", "switch", "welded"))
    lifted = welded.lifted("boiler.T1")
    runs, stops = (visit.shown({"do": "listen", "part": "boiler"}).text for visit in (welded, lifted))
    healthy = visited(design).calling("zone1").waited(OPENED)
    field = welded.dead().lifted("boiler.T1", "boiler.T2").ohms("boiler.T1 lead", "boiler.T2 lead")
    return (
        f"Nobody calls and T-T shows {volts_text(welded.volts(*T_T))} (boiler: {runs}). "
        f"With T1 lifted it shows {volts_text(lifted.volts(*T_T))}, the boiler: {stops} "
        f"The lifted pair shows {ohms_text(field)}.",
        {
            f"Nobody calls, and at the boiler: {runs}": FITS,
            f"Zone 1 calls, its valve is open, and T-T shows {volts_text(healthy.volts(*T_T))}.": FITS,
        },
        "With the field lifted the boiler is no longer called. What joined T-T stands in the field."
        + ("" if math.isfinite(field) else " It has opened meanwhile."),
    )
