"""The readings that the page on multi-zone service calls prints, but for those of its staged tables.

Each name is called without arguments and gives a text with its unit.
"""

from __future__ import annotations

import math

from ..plant import facts
from .end_switch_readings import seconds_text
from .heater_loop_house import Scene
from .printed import Printed, amps, volts
from .service_call_house import (
    BAD_TRUNK,
    C_CHAIN,
    C_TRUNK_OPEN,
    CROSSED,
    FARMHOUSE,
    IN_PHASE,
    LOST,
    LOST_IN_PHASE,
    LOST_MOTOR,
    OVERLOADED,
    R_CHAIN,
    SECOND_DEAD,
    SHARED,
    SOUND,
    TIED,
    calling_first,
)
from .visits import ohms_text, volts_text

__all__ = [
    "between_rs",
    "both_sources",
    "c_chain_feed",
    "c_chain_four",
    "c_chain_one",
    "c_chain_return",
    "c_chain_two",
    "crossed_feed",
    "crossed_four",
    "crossed_one",
    "crossed_own_call",
    "crossed_two",
    "dead_first",
    "dead_second",
    "dead_third",
    "equal_heater",
    "equal_loop",
    "first_loaded",
    "halving_readings",
    "halvings",
    "heat_motor_amps",
    "heat_motor_click",
    "idle_first",
    "idle_second",
    "joint_feed",
    "joint_four",
    "joint_one",
    "joint_two",
    "lost_alone_bus",
    "lost_alone_heater",
    "lost_motor_amps",
    "lost_motor_bus",
    "lost_motor_heater",
    "lost_motor_motor",
    "lost_pair_amps",
    "lost_pair_bus",
    "lost_pair_first",
    "lost_pair_second",
    "lost_phase_first",
    "motor_amps",
    "motor_burns",
    "motor_click",
    "motor_factor",
    "motor_va",
    "motor_watts",
    "other_heat_motor_amps",
    "other_heat_motor_click",
    "overloaded_feed",
    "overloaded_four",
    "overloaded_one",
    "overloaded_two",
    "r_chain_feed",
    "r_chain_four",
    "r_chain_one",
    "r_chain_stat",
    "r_chain_two",
    "second_excess",
    "second_feed_amps",
    "second_fourth_amps",
    "second_loaded",
    "second_plain_sum",
    "second_plain_va",
    "second_third_amps",
    "second_true_va",
    "shared_difference",
    "shared_each",
    "shared_sum",
    "sound_feed",
    "sound_four",
    "sound_one",
    "sound_two",
    "tied_feed",
    "tied_four",
    "tied_one",
    "tied_two",
    "trunk_open_bus",
    "trunk_open_feed",
    "trunk_open_four",
    "trunk_open_one",
    "trunk_open_two",
    "wax_amps",
    "wax_click",
    "wax_holds_amps",
    "whole_motor",
]

FIRST = "fuse.out", "transformer.C"
SECOND = "fuse 2.out", "transformer 2.C"
TRUNK = "C bus.trunk", "transformer.C"
HOLDING = 900.0  # s on call; a wax actuator has long gone over to what it holds on
HALVED = 8  # suspects in the example of halving


def _heater(zone: int) -> tuple[str, str]:
    return f"zone{zone}.valve.HA", f"zone{zone}.valve.HB"


# The farmhouse, zone by zone.
idle_first, idle_second = volts(FARMHOUSE, *FIRST), volts(FARMHOUSE, *SECOND)
heat_motor_amps, wax_amps, other_heat_motor_amps, motor_amps = (
    amps(FARMHOUSE.calling(zone), f"zone{zone}.W leg") for zone in (1, 2, 3, 4)
)
wax_holds_amps = amps(FARMHOUSE.calling(2).waited(HOLDING), "zone2.W leg")
first_loaded, second_loaded = volts(FARMHOUSE.calling(1, 2), *FIRST), volts(FARMHOUSE.calling(3, 4), *SECOND)
second_feed_amps = amps(FARMHOUSE.calling(3, 4), "R 2 feed")
second_third_amps, second_fourth_amps = (amps(FARMHOUSE.calling(3, 4), f"zone{zone}.W leg") for zone in (3, 4))


def _click(zone: int) -> Printed:
    return lambda: seconds_text(FARMHOUSE.calling(zone).seconds_to(f"valve {zone} clicks"))


heat_motor_click, wax_click, other_heat_motor_click, motor_click = (_click(zone) for zone in (1, 2, 3, 4))


def second_plain_sum() -> str:
    """The two currents on the second transformer, added as plain numbers."""
    return f"{sum(_mixed()[:2]):.3g} A"


def second_plain_va() -> str:
    """Their volt-amperes, added as plain numbers."""
    return f"{sum(_mixed()[:2]) * _mixed()[3]:.1f} VA"


def second_true_va() -> str:
    """The volt-amperes that the transformer really gives."""
    return f"{_mixed()[2] * _mixed()[3]:.1f} VA"


def second_excess() -> str:
    """By how much the plain sum is too high."""
    return f"{100 * (sum(_mixed()[:2]) / _mixed()[2] - 1):.0f} %"


def motor_watts() -> str:
    """Watts in the motor of zone 4."""
    current = _mixed()[1]
    return f"{current**2 * FARMHOUSE.house.part('zone4.valve').motor_ohms:.1f} W"


def motor_va() -> str:
    """Volt-amperes of the motor of zone 4."""
    scene = FARMHOUSE.calling(3, 4)
    return f"{scene.volts(*_heater(4)) * _mixed()[1]:.1f} VA"


def motor_factor() -> str:
    """Its power factor."""
    motor = FARMHOUSE.house.part("zone4.valve")
    return f"{motor.motor_ohms / math.hypot(motor.motor_ohms, motor.reactance):.2f}"


def _mixed() -> tuple[float, float, float, float]:
    """Amperes of zones 3 and 4 and of their feed, and the second transformer's volts, both on call."""
    scene = FARMHOUSE.calling(3, 4)
    wires = ("zone3.W leg", "zone4.W leg", "R 2 feed")
    three, four, feed = (scene.shown({"do": "clamp", "wire": wire, "turns": 10}).reading.value for wire in wires)
    return three, four, feed, scene.volts(*SECOND)


dead_second, dead_first = volts(SECOND_DEAD, *SECOND), volts(SECOND_DEAD, *FIRST)
dead_third = volts(SECOND_DEAD.calling(3), *_heater(3))

# What many zones have in common: zone 1 called alone, then all four.


def _common(scene: Scene) -> tuple[Printed, Printed, Printed, Printed]:
    """Zone 1 alone: heaters 1 and 2, and the feed; all four: heater 4."""
    alone, together = scene.calling(1), calling_first(scene, 4)
    return volts(alone, *_heater(1)), volts(alone, *_heater(2)), amps(alone, "R feed"), volts(together, *_heater(4))


sound_one, sound_two, sound_feed, sound_four = _common(SOUND)
crossed_one, crossed_two, crossed_feed, crossed_four = _common(CROSSED)
tied_one, tied_two, tied_feed, tied_four = _common(TIED)
trunk_open_one, trunk_open_two, trunk_open_feed, trunk_open_four = _common(C_TRUNK_OPEN)
joint_one, joint_two, joint_feed, joint_four = _common(BAD_TRUNK)
c_chain_one, c_chain_two, c_chain_feed, c_chain_four = _common(C_CHAIN)
r_chain_one, r_chain_two, r_chain_feed, r_chain_four = _common(R_CHAIN)
overloaded_one, overloaded_two, overloaded_feed, overloaded_four = _common(OVERLOADED)
crossed_own_call = volts(CROSSED.calling(2), *_heater(1))
trunk_open_bus = volts(C_TRUNK_OPEN.calling(1), "C bus.zone1", "transformer.C")
c_chain_return = volts(calling_first(C_CHAIN, 4), "zone4.valve.HB", "transformer.C")
r_chain_stat = volts(R_CHAIN, "zone4.stat.R", "transformer.C")

# A shared return, whole and lost, the transformers opposed.
shared_sum, shared_difference = amps(IN_PHASE.calling(1, 2), "C trunk"), amps(SHARED.calling(1, 2), "C trunk")
shared_each = amps(SHARED.calling(1, 2), "zone1.W leg")
lost_alone_heater, lost_alone_bus = volts(LOST.calling(1), *_heater(1)), volts(LOST.calling(1), *TRUNK)
lost_pair_first, lost_pair_second = (volts(LOST.calling(1, 2), *_heater(zone)) for zone in (1, 2))
lost_pair_bus, lost_pair_amps = volts(LOST.calling(1, 2), *TRUNK), amps(LOST.calling(1, 2), "zone1.W leg")
lost_motor_heater, lost_motor_motor = (volts(LOST_MOTOR, *_heater(zone)) for zone in (1, 3))
lost_motor_bus, lost_motor_amps = volts(LOST_MOTOR, *TRUNK), amps(LOST_MOTOR, "zone1.W leg")
lost_phase_first = volts(LOST_IN_PHASE.calling(1, 2), *_heater(1))
whole_motor = volts(SHARED.calling(1, 3), *_heater(3))
between_rs = volts(SHARED, "fuse.out", "fuse 2.out")


def equal_heater() -> str:
    """The heaters of the lodge and of the boathouse."""
    return ohms_text(SOUND.house.part("zone1.valve").heater_ohms)


def equal_loop() -> str:
    """What stands with each of them in its own loop: legs, stat, return."""
    return ohms_text(2 * SOUND.house.conductor("zone1.W leg").ohms + SOUND.house.part("zone1.stat").ohms + 0.03)


def both_sources() -> str:
    """The volts of both of the boathouse's transformers together, with nothing on them."""
    pair = ("transformer", "transformer 2")
    return volts_text(sum(SHARED.house.part(name).emf for name in pair))


def motor_burns() -> str:
    """Volts above which the model's motor ages fast."""
    return volts_text(facts.MOTOR_BURNS_VOLTS.value)


def halvings() -> str:
    """How many suspects the example of halving starts with."""
    return str(HALVED)


def halving_readings() -> str:
    """Readings that halve them down to one."""
    return str(math.ceil(math.log2(HALVED)))
