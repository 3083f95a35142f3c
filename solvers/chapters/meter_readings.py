"""Every reading in volts, ohms and beeps that the page on the meter prints; each name is called without arguments."""

from __future__ import annotations

from ..circuit.meter import THRESHOLDS, Meter
from ..plant import facts
from .meter_house import (
    BAD_COMMON,
    BLOWN_FUSE,
    DEAD_FEED,
    HEALTHY,
    OPEN_HEATER,
    OPEN_RETURN,
    OPEN_STAT,
    ROTTEN,
    STUDIO,
    WEAK,
)
from .printed import amps, display, ohms, volts
from .visits import ohms_text

__all__ = [
    "ahead_blown",
    "beep_open_stat",
    "beep_rotten",
    "beep_thresholds",
    "beep_winding",
    "behind_blown",
    "cable_length",
    "coil_amps",
    "coil_by_ohms",
    "coil_lifted",
    "coil_volts",
    "fuse_blown",
    "fuse_good",
    "ghost",
    "ghost_low_z",
    "ha_call",
    "ha_dead_feed",
    "ha_open_return",
    "hb_call",
    "hb_dead_feed",
    "hb_open_return",
    "heater_nominal",
    "heater_open_return",
    "high_z_ohms",
    "in_place_good",
    "in_place_idle",
    "in_place_open",
    "joint_amps",
    "joint_good",
    "joint_idle",
    "joint_ohms",
    "joint_rotten",
    "joint_watts",
    "leads_ohms",
    "leg_good",
    "lifted_good",
    "lifted_open",
    "low_z_ohms",
    "motor_lifted",
    "on_live",
    "return_bad",
    "return_good",
    "return_open",
    "source_both",
    "source_dead_feed",
    "source_idle",
    "source_one",
    "source_open_return",
    "stat_blown",
    "stat_closed",
    "stat_low_z",
    "stat_open",
    "stat_open_heater",
    "stat_r_call",
    "stat_r_dead_feed",
    "stat_r_open_return",
    "stat_stuck",
    "stat_w_call",
    "stat_w_dead_feed",
    "stat_w_open_return",
    "weak_idle",
    "weak_one",
]

C = "transformer.C"
R = "fuse.out"
STAT = "zone1.stat.R", "zone1.stat.W"
HA, HB = HEATER = "zone1.valve.HA", "zone1.valve.HB"
JOINT = "zone1.W splice.1", "zone1.W splice.2"
R_LEG = "zone1.R splice.2", "zone1.stat.R"
RETURN = HB, C
COIL = "relay.A1", "relay.A2"
MOTOR = "zone1.valve.H", "zone1.valve.S"

_CALL = HEALTHY.calling(1)
_DEAD_FEED = DEAD_FEED.calling(1)
_OPEN_HEATER = OPEN_HEATER.calling(1)
_OPEN_RETURN = OPEN_RETURN.calling(1)


def cable_length() -> str:
    """One way from the panel to stat 1."""
    feet = HEALTHY.house.conductor("zone1.R leg").feet
    return f"{feet:.0f} ft ({feet * facts.METRES_PER_FOOT.value:.0f} m)"


def heater_nominal() -> str:
    """Heater 1 of the workshop."""
    return ohms_text(HEALTHY.house.part("zone1.valve").heater_ohms)


# 1: the source.
source_idle = volts(HEALTHY, R, C)
source_one = volts(_CALL, R, C)
source_both = volts(HEALTHY.calling(1, 2), R, C)
ahead_blown = volts(BLOWN_FUSE, "fuse.in", C)
behind_blown = volts(BLOWN_FUSE, R, C)
weak_idle = volts(WEAK, R, C)
weak_one = volts(WEAK.calling(1), R, C)

# 2 and 3: across a switch, and what the whole loop shows there.
stat_open = volts(HEALTHY, *STAT)
stat_closed = volts(_CALL, *STAT)
stat_blown = volts(BLOWN_FUSE.calling(1), *STAT)
stat_stuck = volts(OPEN_STAT.calling(1), *STAT)
fuse_good = volts(_CALL, "fuse.in", R)
fuse_blown = volts(BLOWN_FUSE.calling(1), "fuse.in", R)
stat_low_z = volts(HEALTHY, *STAT, "volts low-Z")
stat_open_heater = volts(OPEN_HEATER, *STAT)

# 4: the walk, one probe on C.
stat_r_call = volts(_CALL, STAT[0], C)
stat_w_call = volts(_CALL, STAT[1], C)
ha_call = volts(_CALL, HA, C)
hb_call = volts(_CALL, HB, C)
source_dead_feed = volts(_DEAD_FEED, R, C)
stat_r_dead_feed = volts(_DEAD_FEED, STAT[0], C)
stat_w_dead_feed = volts(_DEAD_FEED, STAT[1], C)
ha_dead_feed = volts(_DEAD_FEED, HA, C)
hb_dead_feed = volts(_DEAD_FEED, HB, C)
source_open_return = volts(_OPEN_RETURN, R, C)
stat_r_open_return = volts(_OPEN_RETURN, STAT[0], C)
stat_w_open_return = volts(_OPEN_RETURN, STAT[1], C)
ha_open_return = volts(_OPEN_RETURN, HA, C)
hb_open_return = volts(_OPEN_RETURN, HB, C)

# 6 and 7: drop under load.
joint_good = volts(_CALL, *JOINT)
joint_rotten = volts(ROTTEN.calling(1), *JOINT)
joint_idle = volts(ROTTEN, *JOINT)
joint_amps = amps(ROTTEN.calling(1), "zone1.W leg")
leg_good = volts(_CALL, *R_LEG)
return_good = volts(_CALL, *RETURN)
return_bad = volts(BAD_COMMON.calling(1), *RETURN)
return_open = volts(_OPEN_RETURN, *RETURN)
heater_open_return = volts(_OPEN_RETURN, *HEATER)


def joint_ohms() -> str:
    """The rotten joint's ohms, by its drop and the clamp."""
    scene = ROTTEN.calling(1)
    return ohms_text(scene.volts(*JOINT) / scene.amps())


def joint_watts() -> str:
    """Heat in it on a call."""
    scene = ROTTEN.calling(1)
    return f"{scene.volts(*JOINT) * scene.amps():.1f} W"


# 8 and 9: ohms with a lead lifted, and in place.
lifted_good = ohms(HEALTHY.dead().lifted(HA), *HEATER)
lifted_open = ohms(OPEN_HEATER.dead().lifted(HA), *HEATER)
coil_lifted = ohms(STUDIO.dead().lifted("relay.A1"), *COIL)
coil_amps = amps(STUDIO.calling(1).waited(60), "relay R")
coil_volts = volts(STUDIO.calling(1).waited(60), *COIL)
motor_lifted = ohms(STUDIO.dead().lifted("zone1.valve.H"), *MOTOR)
in_place_idle = ohms(HEALTHY.dead(), *HEATER)
in_place_good = ohms(_CALL.dead(), *HEATER)
in_place_open = ohms(_OPEN_HEATER.dead(), *HEATER)
on_live = display(HEALTHY, "ohms", R, C)


def coil_by_ohms() -> str:
    """The current that the coil's ohms would let through on its volts."""
    volts_there = STUDIO.calling(1).waited(60).volts(*COIL)
    return f"{volts_there / STUDIO.house.part('relay').coil_ohms:.3g} A"


def leads_ohms() -> str:
    """Both test leads of this meter."""
    return ohms_text(Meter().lead_ohms)


# 10 and 11: the beeper, and ghosts.
beep_open_stat = display(HEALTHY.dead(), "beeper", *STAT)
beep_winding = display(HEALTHY.dead(), "beeper", "transformer.R", C)
beep_rotten = display(ROTTEN.dead(), "beeper", *JOINT)
ghost = volts(OPEN_HEATER, STAT[1], C)
ghost_low_z = volts(OPEN_HEATER, STAT[1], C, "volts low-Z")


def beep_thresholds() -> str:
    """From the deafest to the keenest beeper."""
    return f"{THRESHOLDS[0]:.0f} to {THRESHOLDS[-1]:.0f} ohms"


def low_z_ohms() -> str:
    """What the low-impedance function puts between the probes."""
    return f"{Meter().low_z_ohms / 1000:.0f} kilohms"


def high_z_ohms() -> str:
    """What the usual function puts there."""
    return f"{Meter().volts_ohms / 1e6:.0f} megohms"
