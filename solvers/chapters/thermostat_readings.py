"""What the page on thermostat switching prints of one loop: its switch, its jumpers, its drops. Called without arguments."""

from __future__ import annotations

from .explorer import span_text
from .heater_loop_house import Scene
from .printed import Printed, amps, volts
from .thermostat_house import (
    BAD_JOINT,
    BLOWN_FUSE,
    CABLE_SHORT,
    FUSED,
    HEALTHY,
    HEATER,
    OPEN_CONTACT,
    OPEN_HEATER,
    R_OPEN,
    STAT,
    W_OPEN,
    pitted,
)

__all__ = [
    "across_call",
    "across_idle",
    "amps_call",
    "amps_idle",
    "contact_idle",
    "down_across",
    "down_amps",
    "down_r",
    "down_supply",
    "down_w",
    "fifteen_across",
    "fifteen_amps",
    "fifteen_click",
    "fifteen_heater",
    "five_across",
    "five_amps",
    "five_click",
    "five_heater",
    "fuse_across",
    "fuse_amps",
    "fuse_down_across",
    "fuse_r",
    "fuse_supply",
    "fuse_w",
    "heater_call",
    "heater_down_across",
    "heater_down_amps",
    "heater_down_r",
    "heater_down_supply",
    "heater_down_w",
    "heater_idle",
    "heater_up_across",
    "heater_up_amps",
    "heater_up_r",
    "heater_up_supply",
    "heater_up_w",
    "joint_amps",
    "joint_bad",
    "joint_good",
    "jump_heater_base",
    "jump_heater_panel",
    "jump_r_base",
    "jump_r_panel",
    "jump_sound_base",
    "jump_sound_panel",
    "jump_stuck_base",
    "jump_stuck_panel",
    "jump_w_base",
    "jump_w_panel",
    "leg_call",
    "leg_idle",
    "lifted_w",
    "lifted_wire",
    "new_across",
    "new_amps",
    "new_click",
    "new_heater",
    "r_call",
    "r_idle",
    "r_open_across",
    "r_open_amps",
    "r_open_r",
    "r_open_supply",
    "r_open_w",
    "short_across",
    "short_amps",
    "short_r",
    "short_supply",
    "short_w",
    "slip_amps",
    "stuck_across",
    "stuck_amps",
    "stuck_r",
    "stuck_supply",
    "stuck_w",
    "supply_call",
    "supply_idle",
    "two_across",
    "two_amps",
    "two_click",
    "two_heater",
    "up_across",
    "up_amps",
    "up_r",
    "up_supply",
    "up_w",
    "w_call",
    "w_idle",
]

C = "transformer.C"
LOW_Z = "volts low-Z"
W_LEG, LEAD, FEED = "zone1.W leg", "zone1.HA lead", "R feed"
JOINT = "zone1.W splice.1", "zone1.W splice.2"
R_LEG = "zone1.R splice.2", STAT[0]

_CALL = HEALTHY.calling(1)


def _jumper(first: str, second: str) -> dict[str, object]:
    return {"do": "jumper", "first": first, "second": second, "on": True}


# The loop with the switch open, then closed.
supply_idle, supply_call = (volts(scene, FUSED, C) for scene in (HEALTHY, _CALL))
r_idle, r_call = (volts(scene, STAT[0], C) for scene in (HEALTHY, _CALL))
w_idle, w_call = (volts(scene, STAT[1], C) for scene in (HEALTHY, _CALL))
across_idle, across_call = (volts(scene, *STAT) for scene in (HEALTHY, _CALL))
heater_idle, heater_call = (volts(scene, *HEATER) for scene in (HEALTHY, _CALL))
amps_idle, amps_call = (amps(scene, W_LEG) for scene in (HEALTHY, _CALL))
lifted_w = volts(_CALL.lifted(STAT[0]), STAT[1], C, LOW_Z)
lifted_wire = volts(_CALL.lifted(STAT[0]), f"{STAT[0]} lead", C)


# Eight cases across one switch.
def _case(scene: Scene) -> tuple[Printed, ...]:
    """R to W, behind the fuse to C, R to C, W to C, all low-impedance; amperes at the heater."""
    return (
        volts(scene, *STAT, LOW_Z),
        volts(scene, FUSED, C, LOW_Z),
        volts(scene, STAT[0], C, LOW_Z),
        volts(scene, STAT[1], C, LOW_Z),
        amps(scene, LEAD),
    )


down_across, down_supply, down_r, down_w, down_amps = _case(HEALTHY)
up_across, up_supply, up_r, up_w, up_amps = _case(_CALL)
fuse_across, fuse_supply, fuse_r, fuse_w, fuse_amps = _case(BLOWN_FUSE.calling(1))
r_open_across, r_open_supply, r_open_r, r_open_w, r_open_amps = _case(R_OPEN.calling(1))
stuck_across, stuck_supply, stuck_r, stuck_w, stuck_amps = _case(OPEN_CONTACT.calling(1))
heater_down_across, heater_down_supply, heater_down_r, heater_down_w, heater_down_amps = _case(OPEN_HEATER)
heater_up_across, heater_up_supply, heater_up_r, heater_up_w, heater_up_amps = _case(OPEN_HEATER.calling(1))
short_across, short_supply, short_r, short_w, short_amps = _case(CABLE_SHORT)
fuse_down_across = volts(BLOWN_FUSE, *STAT)


# A jumper at the base, then at the transformer.
def _jumped(scene: Scene) -> tuple[Printed, Printed]:
    """Amperes at the heater with R joined to W at the base; with the fuse joined to the valve's side of the cable."""
    base, panel = scene.after(_jumper(*STAT)), scene.after(_jumper(FUSED, JOINT[0]))
    return amps(base, LEAD), amps(panel, LEAD)


jump_sound_base, jump_sound_panel = _jumped(HEALTHY)
jump_stuck_base, jump_stuck_panel = _jumped(OPEN_CONTACT)
jump_r_base, jump_r_panel = _jumped(R_OPEN)
jump_w_base, jump_w_panel = _jumped(W_OPEN)
jump_heater_base, jump_heater_panel = _jumped(OPEN_HEATER)
slip_amps = amps(HEALTHY.after(_jumper("fuse.in", C)), FEED, 1)


# Millivolts under load.
contact_idle = volts(BAD_JOINT, *JOINT)
leg_idle, leg_call = volts(HEALTHY, *R_LEG), volts(_CALL, *R_LEG)
joint_good, joint_bad = volts(_CALL, *JOINT), volts(BAD_JOINT.calling(1), *JOINT)
joint_amps = amps(BAD_JOINT.calling(1), W_LEG)


def _contact(number: float) -> tuple[Printed, ...]:
    """Across stat 1, its current, at heater 1, and from call to click."""
    scene = pitted(number).calling(1)
    return volts(scene, *STAT), amps(scene, W_LEG), volts(scene, *HEATER), lambda: span_text(scene.seconds_to_click())


new_across, new_amps, new_heater, new_click = _contact(HEALTHY.house.part("zone1.stat").ohms)
two_across, two_amps, two_heater, two_click = _contact(2.0)
five_across, five_amps, five_heater, five_click = _contact(5.0)
fifteen_across, fifteen_amps, fifteen_heater, fifteen_click = _contact(15.0)
