"""What a multimeter shows: the meter is one more branch, and it misleads just as a real one does."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from .network import OPEN, Branch, CircuitError, Network, NoSuchNode
from .nodal import FloatingNodes, met, solved_once

__all__ = [
    "ACCURACY",
    "FUNCTIONS",
    "MILLIVOLTS_TOP",
    "THRESHOLDS",
    "VOLTS_TOP",
    "Meter",
    "Reading",
    "amps_reading",
    "beeped",
    "beeper_reading",
    "direct_volts",
    "displayed_amps",
    "displayed_millivolts",
    "displayed_ohms",
    "displayed_volts",
    "displayed_volts_dc",
    "jack_reading",
    "millivolts_reading",
    "ohms_reading",
    "shown",
    "uncertainty",
    "volts_between",
    "volts_dc_reading",
    "volts_reading",
    "wound",
]

FUNCTIONS = {
    "volts": "V",
    "volts low-Z": "V",
    "volts DC": "V",
    "millivolts": "V",
    "ohms": "ohm",
    "beeper": "ohm",
    "clamp": "A",
    "amps jack": "A",
}
"""What the meter can be set to, with the unit of its reading. All but "volts DC", "ohms" and "beeper" follow alternating
current alone. With "amps jack" the leads are left in the socket for milliamperes, which is a near short."""

ACCURACY = {
    "volts": (0.01, 3),
    "volts low-Z": (0.01, 3),
    "volts DC": (0.005, 2),
    "millivolts": (0.01, 3),
    "ohms": (0.01, 3),
    "beeper": (0.01, 3),
    "clamp": (0.02, 3),
    "amps jack": (0.015, 3),
}
"""Share of the reading, and digits besides, that each function may be off by. A hand-held meter of the 1 % class: 6000
counts, so 1 mV steps below 6 V, 10 mV below 60, 0.1 V below 600; millivolts in 0.1 mV, ohms in 0.1; the clamp in 0.01 A,
whose three digits are the 0.03 A that strays and a worn jaw put there with nothing in it. Typical, from memory."""

THRESHOLDS = (20.0, 40.0, 150.0)
"""Ohms below which one meter's beeper or another's sounds: typical, from memory. A heater of 30 ohms may beep or not."""

MILLIVOLTS_TOP = 0.6  # V, where the millivolt range ends

VOLTS_TOP = 6.0  # V, where the first range of volts ends

JACK_BLOWS = 2.75
"""Times its rating at which the fuse behind the current jack is gone before the display can be read: typical, from memory."""


@dataclass(frozen=True, slots=True)
class Meter:
    """A hand-held multimeter with a clamp. Values are typical and from memory, no maker's data.

    Source: 10 megohms is "a common amount" (Lessons In Electric Circuits I, ch. 8); the rest is common practice.
    """

    volts_ohms: float = 10e6  # input resistance, volts
    low_z_ohms: float = 3e3  # input resistance, low-impedance volts
    lead_ohms: float = 0.2  # both test leads together
    beeps_below: float = 40.0  # ohms
    live_above: float = 0.5  # volts on low-Z above which a pair counts as live for ohms
    counts: int = 6000  # display
    clamp_step: float = 0.01  # amperes, smallest step of the clamp
    jack_ohms: float = 0.1  # shunt, fuse and leads behind the milliampere jack
    jack_amps: float = 0.4  # rating of the fuse there
    jack_blown: bool = False


@dataclass(frozen=True, slots=True)
class Reading:
    """One look at the display. `value` is what stands there, or None where it shows no number."""

    function: str  # one of FUNCTIONS
    value: float | None  # volts, ohms or amperes as displayed; inf for OL (an open circuit in ohms, too much in millivolts)
    step: float  # worth of one display digit
    text: str  # the display with its unit
    note: str = ""  # what a good technician would notice
    misuse: str = ""  # what was done to the meter or by it that safe practice forbids


def volts_between(network: Network, first: str, second: str, ohms: float) -> float:
    """Volts rms across a pair of nodes with a meter of that input resistance on it. Raises NoSuchNode."""
    return abs(_probed(network, first, second, ohms))


def direct_volts(network: Network, first: str, second: str, ohms: float) -> float:
    """Volts of direct current, the first node against the second; below zero with the probes the wrong way round."""
    return complex(_probed(network, first, second, ohms)).real


def volts_reading(network: Network, first: str, second: str, *, low_z: bool = False, meter: Meter = Meter()) -> Reading:
    """Volts as displayed, on the usual 10 megohm input or on the low-impedance one. Raises NoSuchNode."""
    true = volts_between(network, first, second, meter.low_z_ohms if low_z else meter.volts_ohms)
    return displayed_volts(true, low_z=low_z, meter=meter)


def displayed_volts(true: float, *, low_z: bool = False, meter: Meter = Meter()) -> Reading:
    """Volts at the meter's input as its display shows them."""
    value, step = shown(true, VOLTS_TOP, meter.counts)
    note = "under 0.5 V: no supply here" if low_z and true < meter.live_above else ""
    function = "volts low-Z" if low_z else "volts"
    return Reading(function, value, step, f"{value:.{_places(step)}f} V", note)


def volts_dc_reading(dc: Network, first: str, second: str, *, meter: Meter = Meter()) -> Reading:
    """Volts of direct current as displayed, signed; alternating current shows nothing here, and none of this on "volts".

    `dc` is the circuit as direct current meets it. Raises NoSuchNode.
    """
    return displayed_volts_dc(direct_volts(dc, first, second, meter.volts_ohms), meter=meter)


def displayed_volts_dc(true: float, *, meter: Meter = Meter()) -> Reading:
    """Volts of direct current at the meter's input as its display shows them."""
    value, step = shown(true, VOLTS_TOP, meter.counts)
    value += 0.0  # a rounded -0.0 shows no sign
    return Reading("volts DC", value, step, f"{value:.{_places(step)}f} V DC")


def millivolts_reading(network: Network, first: str, second: str, *, meter: Meter = Meter()) -> Reading:
    """Small alternating volts, for the drop across a closed contact or a joint under load; OL from 600 mV. Raises NoSuchNode.

    `value` stays in volts.
    """
    return displayed_millivolts(volts_between(network, first, second, meter.volts_ohms), meter=meter)


def displayed_millivolts(true: float, *, meter: Meter = Meter()) -> Reading:
    """Volts at the meter's input as its millivolt range shows them."""
    step = MILLIVOLTS_TOP / meter.counts
    value = round(true / step) * step
    if value >= MILLIVOLTS_TOP:
        return Reading("millivolts", math.inf, step, "OL", "600 mV or more: turn to volts")
    return Reading("millivolts", value, step, f"{value * 1e3:.{_places(step * 1e3)}f} mV")


def displayed_amps(true: float, *, turns: int = 1, meter: Meter = Meter()) -> Reading:
    """Amperes in a conductor as the clamp's display shows them, every turn counted."""
    display = round(true * turns / meter.clamp_step) * meter.clamp_step
    return Reading("clamp", display / turns, meter.clamp_step / turns, f"{display:.2f} A" + _turned(display, turns))


def ohms_reading(ac: Network, dc: Network, first: str, second: str, *, meter: Meter = Meter()) -> Reading:
    """Ohms as displayed: the DC resistance of everything between the probes, leads included.

    `ac` decides whether the pair is live: then no number is given and the misuse is named.
    `dc` is the same circuit as an ohmmeter's direct current meets it.
    """
    live = _live(ac, dc, first, second, meter)
    return displayed_ohms(math.nan if live else _dc_ohms(dc, first, second) + meter.lead_ohms, live=live, meter=meter)


def displayed_ohms(true: float, *, live: bool = False, meter: Meter = Meter()) -> Reading:
    """Ohms between the tips as the display shows them; of a live pair no number."""
    if live:
        return Reading("ohms", None, 0.1, "OL, unsteady", "the pair carries voltage", "ohms on a live pair")
    if true > meter.counts * 1e4:
        return Reading("ohms", math.inf, 0.1, "OL", "no path")
    value, step = shown(true, 600.0, meter.counts)
    scale, unit = (1e6, "Mohm") if value >= 1e6 else (1e3, "kohm") if value >= 1e3 else (1, "ohm")
    return Reading("ohms", value, step, f"{value / scale:.{_places(step / scale)}f} {unit}")


def beeper_reading(ac: Network, dc: Network, first: str, second: str, *, meter: Meter = Meter()) -> Reading:
    """Continuity: a beep below the meter's threshold, which a healthy heater may pass."""
    return beeped(ohms_reading(ac, dc, first, second, meter=meter), meter=meter)


def beeped(found: Reading, *, meter: Meter = Meter()) -> Reading:
    """The same pair of probes with the beeper on, from what ohms show there."""
    if found.misuse:
        return Reading("beeper", None, 0.1, "stutters", found.note, "continuity on a live pair")
    if found.value < meter.beeps_below:
        return Reading("beeper", found.value, found.step, f"beep, {found.text}")
    return Reading("beeper", found.value, found.step, f"silent, {found.text}")


def amps_reading(network: Network, branch: str, *others: str, turns: int = 1, meter: Meter = Meter()) -> Reading:
    """Amperes in one conductor by the clamp; the display counts every turn through the jaw.

    With others in the jaw it shows their sum, each counted from its node a to its node b: a whole cable shows next to
    nothing. `value` is the display divided by the turns. Raises NoSuchBranch, and CircuitError for turns outside 1 to 10.
    """
    wound(turns)
    inside = [network.branch(name) for name in (branch, *others)]
    volts = met(network, inside[0].b).volts
    total = sum((volts[one.a] - volts[one.b] - one.emf) * one.admittance for one in inside)
    return displayed_amps(abs(total), turns=turns, meter=meter)


def wound(turns: int) -> None:
    """Raise CircuitError for a number of turns that does not go through the jaw."""
    if turns not in range(1, 11):
        raise CircuitError(f"turns {turns!r}; wind 1 to 10 turns through the jaw")


def jack_reading(ac: Network, dc: Network, first: str, second: str, *, meter: Meter = Meter()) -> Reading:
    """Amperes through leads that were left in the current jack and laid across a pair: a near short.

    Across volts that is a misuse, named whatever comes of it. From 2.75 times its rating the jack's fuse is gone before
    the display can be read; a meter whose fuse has gone shows nothing at all, which looks like no current.
    Raises NoSuchNode.
    """
    ohms = math.inf if meter.jack_blown else meter.jack_ohms
    amps = volts_between(ac, first, second, ohms) / ohms
    gone = amps > JACK_BLOWS * meter.jack_amps
    misuse = "current jacks across a source" if gone or _live(ac, dc, first, second, meter) else ""
    if gone:
        return Reading("amps jack", None, 0.0, "the meter's fuse has blown", "fit a new one in the meter", misuse)
    value, step = shown(amps, 0.6, meter.counts)
    note = "the fuse behind this jack has blown: it shows nothing anywhere" if meter.jack_blown else ""
    return Reading("amps jack", value, step, f"{value * 1e3:.{_places(step * 1e3)}f} mA", note, misuse)


def shown(true: float, first_range: float, counts: int) -> tuple[float, float]:
    """A value as an autoranging display of so many counts rounds it, and the worth of its last digit.

    >>> shown(27.4568, 6.0, 6000)
    (27.46, 0.01)
    """
    *ranges, (_, places, step) = _ranges(first_range, counts)
    for top, fewer, coarser in ranges:
        value = round(true, fewer)
        if abs(value) < top:
            return value, coarser
    return round(true, places), step


@lru_cache(maxsize=16)
def _ranges(first: float, counts: int) -> tuple[tuple[float, int, float], ...]:
    """Each range of an autoranging display: where it ends, its decimal places and the worth of its last digit."""
    found, top = [], first
    while True:
        places = -math.floor(math.log10(top / counts) + 1e-9)
        found.append((top, places, 10.0**-places))
        if top >= 1e9:
            return tuple(found)
        top *= 10


def uncertainty(reading: Reading) -> float:
    """Half-width of what the reading may be off by, in its unit; 0 where no number stands. Source: ACCURACY.

    The clamp's 0.03 A is divided by the turns as its reading is.
    """
    if reading.value is None or not math.isfinite(reading.value):
        return 0.0
    share, digits = ACCURACY[reading.function]
    return share * abs(reading.value) + digits * reading.step


def _probed(network: Network, first: str, second: str, ohms: float) -> complex:
    try:
        seen = met(network, second).thevenin(first, second)
    except FloatingNodes:  # without the meter nothing joins the two
        for node in (first, second):
            if node not in network.nodes:
                raise NoSuchNode(f"no node {node!r}; there are {sorted(network.nodes)}") from None
        if first == second:
            return 0.0
        return solved_once(Network([*network, _branch(first, second, ohms)]), second).volts[first]
    return seen.emf if ohms == OPEN else seen.emf * ohms / (ohms + seen.z)


@lru_cache(maxsize=1024)
def _branch(first: str, second: str, ohms: float) -> Branch:
    return Branch("meter", first, second, ohms)


def _live(ac: Network, dc: Network, first: str, second: str, meter: Meter) -> bool:
    return any(volts_between(network, first, second, meter.low_z_ohms) > meter.live_above for network in (ac, dc))


def _dc_ohms(dc: Network, first: str, second: str) -> float:
    if first == second:
        return 0.0
    return met(dc, second).thevenin(first, second).z.real


def _places(step: float) -> int:
    return max(0, -math.floor(math.log10(step) + 1e-9))


def _turned(display: float, turns: int) -> str:
    return "" if turns == 1 else f" over {turns} turns: {display / turns:.3f} A"
