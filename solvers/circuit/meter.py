"""What a multimeter shows: the meter is one more branch, and it misleads just as a real one does."""

from __future__ import annotations

import math
from dataclasses import dataclass

from .network import Branch, CircuitError, Network, NoSuchNode
from .nodal import Solved, solved

__all__ = [
    "FUNCTIONS",
    "Meter",
    "Reading",
    "amps_reading",
    "beeper_reading",
    "displayed_amps",
    "displayed_volts",
    "ohms_reading",
    "shown",
    "uncertainty",
    "volts_between",
    "volts_reading",
]

FUNCTIONS = {
    "volts": "V",
    "volts low-Z": "V",
    "ohms": "ohm",
    "beeper": "ohm",
    "clamp": "A",
}
"""What the meter can be set to, with the unit of its reading."""


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


@dataclass(frozen=True, slots=True)
class Reading:
    """One look at the display. `value` is what stands there, or None where it shows no number."""

    function: str  # one of FUNCTIONS
    value: float | None  # volts, ohms or amperes as displayed; inf for OL (an open circuit, in ohms)
    step: float  # worth of one display digit
    text: str  # the display with its unit
    note: str = ""  # what a good technician would notice
    misuse: str = ""  # what was done to the meter or by it that safe practice forbids


def volts_between(network: Network, first: str, second: str, ohms: float) -> float:
    """Volts rms across a pair of nodes with a meter of that input resistance on it. Raises NoSuchNode."""
    for node in (first, second):
        if node not in network.nodes:
            raise NoSuchNode(f"no node {node!r}; there are {sorted(network.nodes)}")
    if first == second:
        return 0.0
    probed = Network([*network, Branch("meter", first, second, ohms)])
    return abs(solved(probed, second).volts[first])


def volts_reading(network: Network, first: str, second: str, *, low_z: bool = False, meter: Meter = Meter()) -> Reading:
    """Volts as displayed, on the usual 10 megohm input or on the low-impedance one. Raises NoSuchNode."""
    true = volts_between(network, first, second, meter.low_z_ohms if low_z else meter.volts_ohms)
    return displayed_volts(true, low_z=low_z, meter=meter)


def displayed_volts(true: float, *, low_z: bool = False, meter: Meter = Meter()) -> Reading:
    """Volts at the meter's input as its display shows them."""
    value, step = shown(true, 6.0, meter.counts)
    note = "under 0.5 V: no supply here" if low_z and true < meter.live_above else ""
    function = "volts low-Z" if low_z else "volts"
    return Reading(function, value, step, f"{value:.{_places(step)}f} V", note)


def displayed_amps(true: float, *, turns: int = 1, meter: Meter = Meter()) -> Reading:
    """Amperes in a conductor as the clamp's display shows them, every turn counted."""
    display = round(true * turns / meter.clamp_step) * meter.clamp_step
    return Reading("clamp", display / turns, meter.clamp_step / turns, f"{display:.2f} A" + _turned(display, turns))


def ohms_reading(ac: Network, dc: Network, first: str, second: str, *, meter: Meter = Meter()) -> Reading:
    """Ohms as displayed: the DC resistance of everything between the probes, leads included.

    `ac` decides whether the pair is live: then no number is given and the misuse is named.
    `dc` is the same circuit as an ohmmeter's direct current meets it.
    """
    if _live(ac, dc, first, second, meter):
        return Reading("ohms", None, 0.1, "OL, unsteady", "the pair carries voltage", "ohms on a live pair")
    true = _dc_ohms(dc, first, second) + meter.lead_ohms
    if true > meter.counts * 1e4:
        return Reading("ohms", math.inf, 0.1, "OL", "no path")
    value, step = shown(true, 600.0, meter.counts)
    scale, unit = (1e6, "Mohm") if value >= 1e6 else (1e3, "kohm") if value >= 1e3 else (1, "ohm")
    return Reading("ohms", value, step, f"{value / scale:.{_places(step / scale)}f} {unit}")


def beeper_reading(ac: Network, dc: Network, first: str, second: str, *, meter: Meter = Meter()) -> Reading:
    """Continuity: a beep below the meter's threshold, which a healthy heater may pass."""
    found = ohms_reading(ac, dc, first, second, meter=meter)
    if found.misuse:
        return Reading("beeper", None, 0.1, "stutters", found.note, "continuity on a live pair")
    if found.value < meter.beeps_below:
        return Reading("beeper", found.value, found.step, f"beep, {found.text}")
    return Reading("beeper", found.value, found.step, f"silent, {found.text}")


def amps_reading(network: Network, branch: str, *, turns: int = 1, meter: Meter = Meter()) -> Reading:
    """Amperes in one conductor by the clamp; the display counts every turn through the jaw.

    `value` is the display divided by the turns. Raises NoSuchBranch, and CircuitError for turns outside 1 to 10.
    """
    if turns not in range(1, 11):
        raise CircuitError(f"turns {turns!r}; wind 1 to 10 turns through the jaw")
    conductor = network.branch(branch)
    return displayed_amps(abs(solved(network, conductor.b).currents()[branch]), turns=turns, meter=meter)


def shown(true: float, first_range: float, counts: int) -> tuple[float, float]:
    """A value as an autoranging display of so many counts rounds it, and the worth of its last digit.

    >>> shown(27.4568, 6.0, 6000)
    (27.46, 0.01)
    """
    top = first_range
    while True:
        places = -math.floor(math.log10(top / counts) + 1e-9)
        value = round(true, places)
        if abs(value) < top or top >= 1e9:
            return value, 10.0**-places
        top *= 10


def uncertainty(reading: Reading) -> float:
    """Half-width of what the reading may be off by, in its unit; 0 where no number stands.

    1 % + 3 digits for volts and ohms, 2 % + 0.03 A (divided by the turns) for the clamp: typical, from memory.
    """
    if reading.value is None or not math.isfinite(reading.value):
        return 0.0
    if reading.function == "clamp":
        return 0.02 * reading.value + 3 * reading.step
    return 0.01 * reading.value + 3 * reading.step


def _live(ac: Network, dc: Network, first: str, second: str, meter: Meter) -> bool:
    return any(volts_between(network, first, second, meter.low_z_ohms) > meter.live_above for network in (ac, dc))


def _dc_ohms(dc: Network, first: str, second: str) -> float:
    if first == second:
        return 0.0
    seen: Solved = solved(dc, second)
    return seen.thevenin(first, second).z.real


def _places(step: float) -> int:
    return max(0, -math.floor(math.log10(step) + 1e-9))


def _turned(display: float, turns: int) -> str:
    return "" if turns == 1 else f" over {turns} turns: {display / turns:.3f} A"
