"""The readings of relay, T-T and two transformers that the page on end-switch circuits prints.

Each name is called without arguments and gives a text with its unit.
"""

from __future__ import annotations

import math

from ..jobs.acts import acted
from .end_switch_house import (
    BACK_FED,
    BOARD,
    BUNGALOW,
    FARMHOUSE,
    FED_FROM_OUTSIDE,
    LIVE_IN_PHASE,
    LIVE_OPPOSED,
    PHASED,
    PHASED_OPPOSED,
    SCHOOL,
    STARVED,
    UNPHASED_OPPOSED,
    WORKSHOP,
    first_call,
    opened,
)
from .heater_loop_house import Scene
from .printed import amps, display, ohms, volts
from .visits import ohms_text, volts_text

__all__ = [
    "back_fed",
    "board_ac",
    "board_dc",
    "board_field",
    "clamp_direct",
    "clamp_idle",
    "clamp_live_opposed",
    "clamp_live_phase",
    "clamp_made",
    "coil_amps",
    "coil_by_ohms",
    "coil_called",
    "coil_dead_contacts",
    "coil_drops",
    "coil_idle",
    "coil_impedance",
    "coil_in_circuit",
    "coil_made",
    "coil_ohms",
    "coil_pulls",
    "coil_starved_one",
    "coil_starved_three",
    "coil_starved_two",
    "contact_idle",
    "contact_made",
    "contact_ohms_pulled",
    "drop_out",
    "e_idle",
    "e_made",
    "field_live",
    "input_direct",
    "input_opposed",
    "input_phase",
    "nc_dead",
    "nc_pulled",
    "outside_ac",
    "outside_dc",
    "own_ac",
    "own_dc",
    "own_field",
    "own_to_c",
    "own_to_c_low_z",
    "phase_nothing_tied",
    "phase_nothing_tied_low_z",
    "phase_opposed",
    "phase_same",
    "r_first",
    "r_second",
    "relay_click",
    "tt_direct",
    "tt_idle",
    "tt_live_idle",
    "tt_live_opposed",
    "tt_live_phase",
    "tt_made",
    "tt_transformer_off",
]

COIL = "relay.A1", "relay.A2"
NO = "relay.COM", "relay.NO"
T_T = "boiler.T1", "boiler.T2"
LEADS = "boiler.T1 lead", "boiler.T2 lead"
E, C = "zone1.valve.E", "transformer.C"
RS = "fuse.out", "fuse 2.out"
FIRST_OPEN = 95.0  # s into the first call; valve 1 of the bungalow has clicked by then


def seconds_text(seconds: float) -> str:
    """Seconds as a person with a watch has them; minutes where there are many.

    >>> seconds_text(84.7), seconds_text(209.0), seconds_text(math.inf)
    ('85 s', '3 min 29 s', 'never')
    """
    if math.isinf(seconds):
        return "never"
    minutes, rest = divmod(round(seconds), 60)
    return f"{minutes} min {rest} s" if minutes >= 3 else f"{round(seconds)} s"


_OPEN = opened(SCHOOL, 1)

# The healthy schoolhouse: nobody calls, then zone 1 is open.
e_idle, e_made = (volts(scene, E, C) for scene in (SCHOOL, _OPEN))
coil_idle, coil_called, coil_made = (volts(scene, *COIL) for scene in (SCHOOL, SCHOOL.calling(1), _OPEN))
contact_idle, contact_made = (volts(scene, *NO) for scene in (SCHOOL, _OPEN))
tt_idle, tt_made = (volts(scene, *T_T) for scene in (SCHOOL, _OPEN))
tt_transformer_off = volts(SCHOOL.dead(), *T_T)
clamp_idle, clamp_made = (amps(scene, "T-T cable A") for scene in (SCHOOL, _OPEN))
coil_amps = amps(_OPEN, "relay R")
coil_ohms = ohms(_OPEN.dead().lifted("relay.A1"), *COIL)
coil_in_circuit = ohms(_OPEN.dead(), *COIL)
coil_dead_contacts, contact_ohms_pulled = (
    ohms(scene.after({"do": "switch", "part": "boiler", "on": False}).lifted("relay.COM"), *NO) for scene in (SCHOOL, _OPEN)
)
nc_dead, nc_pulled = (
    ohms(scene.after({"do": "switch", "part": "boiler", "on": False}).lifted("relay.COM"), "relay.COM", "relay.NC")
    for scene in (SCHOOL, _OPEN)
)


def relay_click() -> str:
    """From the call to relay and boiler, in the same moment as the end switch."""
    return seconds_text(SCHOOL.calling(1).seconds_to("the boiler starts"))


def drop_out() -> str:
    """From the end of the call until the boiler stops."""
    return seconds_text(_OPEN.calling(1, on=False).seconds_to("the boiler stops"))


def coil_by_ohms() -> str:
    """What the coil would draw by its ohms alone."""
    return f"{_OPEN.volts(*COIL) / SCHOOL.house.part('relay').coil_ohms:.2f} A"


def coil_impedance() -> str:
    """Volts over amperes of the coil."""
    return ohms_text(_OPEN.volts(*COIL) / _amps(_OPEN, "relay R"))


def coil_pulls() -> str:
    """Volts from which this relay pulls in."""
    return volts_text(SCHOOL.house.part("relay").pull_volts)


def coil_drops() -> str:
    """Volts down to which it holds."""
    return volts_text(SCHOOL.house.part("relay").drop_volts)


# A relay that starves as zones are added, each called once the one before is open.
coil_starved_one = volts(opened(STARVED, 1), *COIL)
coil_starved_two = volts(opened(STARVED, 1).calling(2), *COIL)
coil_starved_three = volts(opened(STARVED, 1).calling(2, 3), *COIL)

# Whose volts: AC and DC on the boiler's own terminals, on the lifted field pair, and to the valves' common.
_BOTH = WORKSHOP.lifted("boiler.T1").lifted("boiler.T2")
own_ac, own_dc = volts(WORKSHOP, *T_T), display(WORKSHOP, "volts DC", *T_T)
own_field, own_to_c = volts(_BOTH, *LEADS), volts(WORKSHOP, "boiler.T1", C)
own_to_c_low_z = volts(WORKSHOP, "boiler.T1", C, "volts low-Z")
board_ac, board_dc = volts(BOARD, *T_T), display(BOARD, "volts DC", *T_T)
board_field = display(BOARD.lifted("boiler.T1").lifted("boiler.T2"), "volts DC", *LEADS)
outside_ac, outside_dc = volts(FED_FROM_OUTSIDE, *T_T), display(FED_FROM_OUTSIDE, "volts DC", *T_T)

# T-T on a live pair. Opposed, the input has burnt by the time somebody arrives; so its first call is read.
tt_live_idle = volts(LIVE_IN_PHASE, *T_T)
tt_live_phase = volts(opened(LIVE_IN_PHASE, 1), *T_T)
clamp_live_phase = amps(opened(LIVE_IN_PHASE, 1), "T-T cable E")
field_live = volts(opened(LIVE_IN_PHASE, 1).lifted("boiler.T1").lifted("boiler.T2"), *LEADS)


tt_direct, clamp_direct = volts(opened(BUNGALOW, 1), *T_T), amps(opened(BUNGALOW, 1), "T-T cable E")


def input_direct() -> str:
    """Volts across the boiler's input in the same house as it should be."""
    return volts_text(_input_amps(BUNGALOW) * BUNGALOW.house.part("boiler").input_ohms)


def input_phase() -> str:
    """Volts across the boiler's input, in phase."""
    return volts_text(_input_amps(LIVE_IN_PHASE) * LIVE_IN_PHASE.house.part("boiler").input_ohms)


def input_opposed() -> str:
    """Volts across the boiler's input, opposed."""
    return volts_text(_input_amps(LIVE_OPPOSED) * LIVE_OPPOSED.house.part("boiler").input_ohms)


def clamp_live_opposed() -> str:
    """Amperes in the T-T pair, opposed."""
    return f"{_input_amps(LIVE_OPPOSED):.3g} A"


def tt_live_opposed() -> str:
    """Volts at T-T meanwhile."""
    act = {"do": "measure", "function": "volts", "first": T_T[0], "second": T_T[1]}
    return volts_text(acted(first_call(LIVE_OPPOSED, FIRST_OPEN), act)[1].reading.value)


# Two transformers.
r_first, r_second = volts(FARMHOUSE, "fuse.out", "transformer.C"), volts(FARMHOUSE, "fuse 2.out", "transformer 2.C")
phase_nothing_tied, phase_nothing_tied_low_z = (volts(UNPHASED_OPPOSED, *RS, function) for function in ("volts", "volts low-Z"))
phase_same, phase_opposed = volts(PHASED, *RS), volts(PHASED_OPPOSED, *RS)


def back_fed() -> str:
    """Volts on the primary of a transformer that is switched off, its secondary tied to a live one."""
    return volts_text(BACK_FED.shown({"do": "line reading", "part": "transformer 2", "what": "primary volts"}).reading.value)


def _amps(scene: Scene, wire: str) -> float:
    return scene.shown({"do": "clamp", "wire": wire, "turns": 10}).reading.value


def _input_amps(scene: Scene) -> float:
    """Amperes in the T-T pair in the first call of zone 1, its valve open."""
    act = {"do": "clamp", "wire": "T-T cable E", "turns": 10}
    return acted(first_call(scene, FIRST_OPEN), act)[1].reading.value
