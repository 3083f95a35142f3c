"""Every reading that the heater-loops page prints: each name is called without arguments and gives a text with its unit.

Volts to one decimal, amperes and ohms to three figures; what is smaller than a volt keeps the digits that tell something.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from .heater_loop_house import (
    BAD_JOINT,
    BLOWN_FUSE,
    CROSSED_LEADS,
    DEAD_FEED,
    HEALTHY,
    HOUSE,
    LOST_STROKE,
    OPEN_HEATER,
    OPEN_RETURN,
    OPENER_LEFT,
    Scene,
)

__all__ = [
    "amps_bad_joint",
    "amps_by_nameplate",
    "amps_dead_feed",
    "amps_healthy",
    "amps_idle",
    "amps_lost_stroke",
    "amps_one_turn",
    "amps_open_heater",
    "amps_open_return",
    "beep_bad_joint",
    "beep_open_stat",
    "clamp_ten_turns",
    "fewer_volts",
    "fewer_watts",
    "fuse_out_blown",
    "fuse_out_calling",
    "fuse_out_idle",
    "ghost",
    "ghost_low_z",
    "h_calling",
    "h_dead_feed",
    "h_idle",
    "h_open_heater",
    "h_open_return",
    "heater_bad_joint",
    "heater_both_calling",
    "heater_crossed_leads",
    "heater_dead_feed",
    "heater_healthy",
    "heater_idle",
    "heater_lost_stroke",
    "heater_ohms",
    "heater_open_heater",
    "heater_open_return",
    "heater_opener_left",
    "heater_watts",
    "in_place_good",
    "in_place_open",
    "joint_bad",
    "joint_good",
    "joint_idle",
    "joint_ohms",
    "joint_watts",
    "leg_calling",
    "leg_idle",
    "lifted_good",
    "lifted_open",
    "other_heater_ohms",
    "s_calling",
    "s_dead_feed",
    "s_idle",
    "s_open_heater",
    "s_open_return",
    "source_both_calling",
    "stat_across_bad_joint_idle",
    "stat_across_blown_fuse",
    "stat_across_calling",
    "stat_across_idle",
    "stat_r_calling",
    "stat_r_idle",
    "stat_w_calling",
    "stat_w_idle",
]

Printed = Callable[[], str]

C = "transformer.C"
H = "zone1.valve.H"
S = "zone1.valve.S"
STAT = ("zone1.stat.R", "zone1.stat.W")
JOINT = ("zone1.W splice.1", "zone1.W splice.2")
R_LEG = ("zone1.R splice.2", "zone1.stat.R")

_CALL = HEALTHY.calling(1)


def volts_text(volts: float) -> str:
    """Volts as the page prints them: "24.8 V", "0.04 V", "0.003 V".

    >>> volts_text(24.84), volts_text(0.044), volts_text(0.0032), volts_text(0.0)
    ('24.8 V', '0.04 V', '0.003 V', '0 V')
    """
    if volts < 0.0005:
        return "0 V"
    return f"{volts:.1f} V" if volts >= 1 else f"{volts:.2f} V" if volts >= 0.01 else f"{volts:.3f} V"


def ohms_text(ohms: float) -> str:
    """Ohms as the page prints them, "OL" where the meter finds no path.

    >>> ohms_text(28.6), ohms_text(1.8), ohms_text(math.inf)
    ('28.6 ohms', '1.8 ohms', 'OL')
    """
    return "OL" if math.isinf(ohms) else f"{ohms:.3g} ohms"


def _volts(scene: Scene, first: str, second: str, function: str = "volts") -> Printed:
    return lambda: volts_text(scene.volts(first, second, function))


def _amps(scene: Scene) -> Printed:
    return lambda: f"{scene.amps():.3g} A"


def _ohms(scene: Scene, first: str, second: str) -> Printed:
    act = {"do": "measure", "function": "ohms", "first": first, "second": second}
    return lambda: ohms_text(scene.shown(act).reading.value)


def _display(scene: Scene, function: str, first: str, second: str) -> Printed:
    act = {"do": "measure", "function": function, "first": first, "second": second}
    return lambda: scene.shown(act).text.replace(" ohm", " ohms")


# The walk along a healthy loop: one probe on transformer C.
fuse_out_idle = _volts(HEALTHY, "fuse.out", C)
fuse_out_calling = _volts(_CALL, "fuse.out", C)
stat_r_idle = _volts(HEALTHY, STAT[0], C)
stat_r_calling = _volts(_CALL, STAT[0], C)
stat_w_idle = _volts(HEALTHY, STAT[1], C)
stat_w_calling = _volts(_CALL, STAT[1], C)
h_idle = _volts(HEALTHY, H, C)
h_calling = _volts(_CALL, H, C)
s_idle = _volts(HEALTHY, S, C)
s_calling = _volts(_CALL, S, C)
stat_across_idle = _volts(HEALTHY, *STAT)
stat_across_calling = _volts(_CALL, *STAT)
heater_idle = _volts(HEALTHY, H, S)
heater_healthy = _volts(_CALL, H, S)
amps_idle = _amps(HEALTHY)
amps_healthy = _amps(_CALL)
leg_idle = _volts(HEALTHY, *R_LEG)
leg_calling = _volts(_CALL, *R_LEG)
heater_both_calling = _volts(HEALTHY.calling(1, 2), H, S)
source_both_calling = _volts(HEALTHY.calling(1, 2), "fuse.out", C)


def heater_ohms() -> str:
    """Heater 1."""
    return ohms_text(HOUSE.part("zone1.valve").heater_ohms)


def other_heater_ohms() -> str:
    """Heater 2."""
    return ohms_text(HOUSE.part("zone2.valve").heater_ohms)


def heater_watts() -> str:
    """Heat in heater 1 on a call."""
    return f"{_CALL.heater_volts() * _CALL.amps():.1f} W"


def amps_by_nameplate() -> str:
    """What 24 volts would drive through heater 1."""
    return f"{24 / HOUSE.part('zone1.valve').heater_ohms:.3g} A"


def amps_one_turn() -> str:
    """The clamp's display with the W leg passed through once."""
    return f"{_CALL.amps(turns=1):.2f} A"


def clamp_ten_turns() -> str:
    """The clamp's display with ten turns of the W leg, before it is divided."""
    return f"{10 * _CALL.amps(turns=10):.2f} A"


# A cold zone on a call: four causes, four readings.
heater_dead_feed = _volts(DEAD_FEED.calling(1), H, S)
h_dead_feed = _volts(DEAD_FEED.calling(1), H, C)
s_dead_feed = _volts(DEAD_FEED.calling(1), S, C)
amps_dead_feed = _amps(DEAD_FEED.calling(1))
heater_open_heater = _volts(OPEN_HEATER.calling(1), H, S)
h_open_heater = _volts(OPEN_HEATER.calling(1), H, C)
s_open_heater = _volts(OPEN_HEATER.calling(1), S, C)
amps_open_heater = _amps(OPEN_HEATER.calling(1))
heater_open_return = _volts(OPEN_RETURN.calling(1), H, S)
h_open_return = _volts(OPEN_RETURN.calling(1), H, C)
s_open_return = _volts(OPEN_RETURN.calling(1), S, C)
amps_open_return = _amps(OPEN_RETURN.calling(1))
heater_crossed_leads = _volts(CROSSED_LEADS.calling(1), H, S)

# Volts that mean nothing, and zeros that mean two things.
ghost = _volts(OPEN_HEATER, STAT[1], C)
ghost_low_z = _volts(OPEN_HEATER, STAT[1], C, "volts low-Z")
stat_across_blown_fuse = _volts(BLOWN_FUSE.calling(1), *STAT)
fuse_out_blown = _volts(BLOWN_FUSE.calling(1), "fuse.out", C)
beep_open_stat = _display(HEALTHY.dead(), "beeper", *STAT)

# A bad joint.
stat_across_bad_joint_idle = _volts(BAD_JOINT, *STAT)
joint_idle = _volts(BAD_JOINT, *JOINT)
joint_good = _volts(_CALL, *JOINT)
joint_bad = _volts(BAD_JOINT.calling(1), *JOINT)
heater_bad_joint = _volts(BAD_JOINT.calling(1), H, S)
amps_bad_joint = _amps(BAD_JOINT.calling(1))
beep_bad_joint = _display(BAD_JOINT.dead(), "beeper", *JOINT)


def joint_ohms() -> str:
    """The bad joint's ohms, from its drop and the clamp."""
    scene = BAD_JOINT.calling(1)
    return ohms_text(scene.volts(*JOINT) / scene.amps())


def joint_watts() -> str:
    """Heat in the bad joint on a call."""
    scene = BAD_JOINT.calling(1)
    return f"{scene.volts(*JOINT) * scene.amps():.1f} W"


def fewer_volts() -> str:
    """How much of its volts heater 1 loses to the bad joint."""
    return f"{100 * (1 - _kept_volts()):.0f} %"


def fewer_watts() -> str:
    """How much of its heat heater 1 loses to the bad joint."""
    return f"{100 * (1 - _kept_volts() ** 2):.0f} %"


# Ohms on a dead circuit, and what is no electrical failure.
in_place_good = _ohms(HEALTHY.calling(1).dead(), H, S)
in_place_open = _ohms(OPEN_HEATER.calling(1).dead(), H, S)
lifted_good = _ohms(HEALTHY.calling(1).dead().lifted(H), H, S)
lifted_open = _ohms(OPEN_HEATER.calling(1).dead().lifted(H), H, S)
heater_lost_stroke = _volts(LOST_STROKE.calling(1), H, S)
amps_lost_stroke = _amps(LOST_STROKE.calling(1))
heater_opener_left = _volts(OPENER_LEFT, H, S)


def _kept_volts() -> float:
    return BAD_JOINT.calling(1).heater_volts() / _CALL.heater_volts()
