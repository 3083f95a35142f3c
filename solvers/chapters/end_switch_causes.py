"""The two tables of causes on the page on end-switch circuits: no boiler on a call, and a boiler that runs with none.

Each name is called without arguments and gives one cell.
"""

from __future__ import annotations

from .end_switch_house import (
    CABLE_OPEN,
    CABLE_SHORT,
    COIL_ON_C,
    COIL_OPEN,
    CONTACT_BAD,
    CONTACT_WELDED,
    INPUT_DEAD,
    JUMPER_LEFT,
    ON_NC,
    SAFETY_OPEN,
    SCHOOL,
    SUPPLY_DEAD,
    SWAPPED_HE,
    SWITCH_OPEN,
    SWITCH_WELDED,
    jumpered,
    opened,
)
from .heater_loop_house import Scene
from .printed import Printed, volts

__all__ = [
    "cable_open_coil",
    "cable_open_contact",
    "cable_open_far",
    "cable_open_near",
    "cable_open_tt",
    "coil_on_c_coil",
    "coil_on_c_contact",
    "coil_on_c_far",
    "coil_on_c_near",
    "coil_on_c_tt",
    "coil_open_coil",
    "coil_open_contact",
    "coil_open_far",
    "coil_open_near",
    "coil_open_tt",
    "contact_bad_coil",
    "contact_bad_contact",
    "contact_bad_far",
    "contact_bad_near",
    "contact_bad_tt",
    "input_dead_coil",
    "input_dead_contact",
    "input_dead_far",
    "input_dead_near",
    "input_dead_tt",
    "runs_cable_coil",
    "runs_cable_coil_lifted",
    "runs_cable_contact_lifted",
    "runs_cable_tt_lifted",
    "runs_jumper_coil",
    "runs_jumper_coil_lifted",
    "runs_jumper_contact_lifted",
    "runs_jumper_tt_lifted",
    "runs_nc_coil",
    "runs_nc_coil_lifted",
    "runs_nc_contact_lifted",
    "runs_nc_tt_lifted",
    "runs_relay_coil",
    "runs_relay_coil_lifted",
    "runs_relay_contact_lifted",
    "runs_relay_tt_lifted",
    "runs_swap_coil",
    "runs_swap_coil_lifted",
    "runs_swap_contact_lifted",
    "runs_swap_tt_lifted",
    "runs_switch_coil",
    "runs_switch_coil_lifted",
    "runs_switch_contact_lifted",
    "runs_switch_tt_lifted",
    "safety_says",
    "sound_coil",
    "sound_contact",
    "sound_tt",
    "supply_dead_coil",
    "supply_dead_contact",
    "supply_dead_far",
    "supply_dead_near",
    "supply_dead_tt",
    "switch_open_coil",
    "switch_open_contact",
    "switch_open_far",
    "switch_open_near",
    "switch_open_tt",
]

COIL = "relay.A1", "relay.A2"
NO = "relay.COM", "relay.NO"
T_T = "boiler.T1", "boiler.T2"


def _starts(scene: Scene) -> str:
    return "runs" if scene.world().state.of("boiler").called else "stays off"


def _runs(scene: Scene) -> str:
    return "runs on" if scene.world().state.of("boiler").called else "stops"


def _silent(scene: Scene) -> tuple[Printed, Printed, Printed, Printed, Printed]:
    """Zone 1 open: volts on the coil, across the NO contact and at T-T; the boiler with a jumper at T-T, and at the relay."""
    there = opened(scene, 1)
    read = (volts(there, *pair) for pair in (COIL, NO, T_T))
    return *read, *(lambda pair=pair: _starts(jumpered(there, *pair)) for pair in (T_T, NO))


sound_coil, sound_contact, sound_tt, *_ = _silent(SCHOOL)
switch_open_coil, switch_open_contact, switch_open_tt, switch_open_near, switch_open_far = _silent(SWITCH_OPEN)
coil_open_coil, coil_open_contact, coil_open_tt, coil_open_near, coil_open_far = _silent(COIL_OPEN)
coil_on_c_coil, coil_on_c_contact, coil_on_c_tt, coil_on_c_near, coil_on_c_far = _silent(COIL_ON_C)
contact_bad_coil, contact_bad_contact, contact_bad_tt, contact_bad_near, contact_bad_far = _silent(CONTACT_BAD)
cable_open_coil, cable_open_contact, cable_open_tt, cable_open_near, cable_open_far = _silent(CABLE_OPEN)
input_dead_coil, input_dead_contact, input_dead_tt, input_dead_near, input_dead_far = _silent(INPUT_DEAD)
supply_dead_coil, supply_dead_contact, supply_dead_tt, supply_dead_near, supply_dead_far = _silent(SUPPLY_DEAD)


def safety_says() -> str:
    """The display of a boiler that is called while its high limit is open."""
    there = opened(SAFETY_OPEN, 1).world()
    return there.installation.part("boiler").display(there.state.of("boiler"))


def _busy(scene: Scene) -> tuple[Printed, Printed, Printed, Printed]:
    """Nobody calls: volts on the coil; the boiler with a lead of the coil lifted, with COM lifted, with T1 lifted."""
    ends = ("relay.A2", "relay.COM", "boiler.T1")
    return volts(scene, *COIL), *(lambda end=end: _runs(scene.lifted(end)) for end in ends)


runs_switch_coil, runs_switch_coil_lifted, runs_switch_contact_lifted, runs_switch_tt_lifted = _busy(SWITCH_WELDED)
runs_swap_coil, runs_swap_coil_lifted, runs_swap_contact_lifted, runs_swap_tt_lifted = _busy(SWAPPED_HE)
runs_relay_coil, runs_relay_coil_lifted, runs_relay_contact_lifted, runs_relay_tt_lifted = _busy(CONTACT_WELDED)
runs_nc_coil, runs_nc_coil_lifted, runs_nc_contact_lifted, runs_nc_tt_lifted = _busy(ON_NC)
runs_cable_coil, runs_cable_coil_lifted, runs_cable_contact_lifted, runs_cable_tt_lifted = _busy(CABLE_SHORT)
runs_jumper_coil, runs_jumper_coil_lifted, runs_jumper_contact_lifted, runs_jumper_tt_lifted = _busy(JUMPER_LEFT)
