"""The sums and settings that the page on thermostat switching works out; each name is called without arguments."""

from __future__ import annotations

from ..plant import facts
from ..plant.stat import false_heat
from ..plant.thermostats import AnticipatorStat
from .heater_loop_house import Scene
from .printed import Printed
from .thermostat_house import BAD_JOINT, HEALTHY, STAT, WEAK_CELLS, pitted
from .visits import ohms_text, volts_text

__all__ = [
    "blank_below",
    "cable_length",
    "cells_needed",
    "cells_pulse",
    "cells_rest",
    "clamp_ten",
    "contact_ohms",
    "contact_watts",
    "good_drop",
    "good_ohms",
    "high_current",
    "high_element",
    "high_heat",
    "high_mark",
    "joint_ohms",
    "joint_watts",
    "low_current",
    "low_element",
    "low_heat",
    "low_mark",
    "marks",
    "once_heat",
    "once_long",
    "right_current",
    "right_element",
    "right_heat",
    "right_mark",
    "six_heat",
    "six_long",
    "thrice_heat",
    "thrice_long",
    "unit_size",
]

JOINT = "zone1.W splice.1", "zone1.W splice.2"
GOOD_VOLTS = 0.05  # across a joint or contact under load; common practice, no source
LOW_MARK, HIGH_MARK = 0.4, 1.2  # A, far from what flows

_HOUSE = HEALTHY.house


def cable_length() -> str:
    """One way from the transformer to stat 1."""
    feet = _HOUSE.conductor("zone1.R leg").feet
    return f"{feet:.0f} ft ({feet * facts.METRES_PER_FOOT.value:.0f} m)"


def unit_size() -> str:
    """The gallery's transformer."""
    return f"{_HOUSE.part('transformer').va:g} VA"


def good_drop() -> str:
    """Under this a joint is good."""
    return volts_text(GOOD_VOLTS)


# From a drop and a current to ohms and heat.
def _worked(scene: Scene, pair: tuple[str, str]) -> tuple[Printed, Printed]:
    def both() -> tuple[float, float]:
        return scene.volts(*pair), scene.amps()

    def ohms() -> str:
        drop, through = both()
        return ohms_text(drop / through)

    def watts() -> str:
        drop, through = both()
        return f"{drop * through:.1f} W"

    return ohms, watts


contact_ohms, contact_watts = _worked(pitted(5.0).calling(1), STAT)
joint_ohms, joint_watts = _worked(BAD_JOINT.calling(1), JOINT)


def good_ohms() -> str:
    """The contact of stat 1 as it should be."""
    scene = HEALTHY.calling(1)
    return ohms_text(scene.volts(*STAT) / scene.amps())


# Cells and supplies.
def cells_rest() -> str:
    """The weak cells with nothing drawn."""
    return f"{WEAK_CELLS.world().installation.part('zone1.stat').cells_rest_volts:.1f} V"


def cells_pulse() -> str:
    """The same cells while the relay is moved."""
    return f"{WEAK_CELLS.world().installation.part('zone1.stat').cell_volts:.1f} V"


def cells_needed() -> str:
    """The least that moves it."""
    return f"{facts.CELLS_DROP_VOLTS.value:.1f} V"


def blank_below() -> str:
    """Under this a C-powered stat goes blank."""
    return f"{facts.C_STAT_BLANK_VOLTS.value:g} V"


# The anticipator: watts at its setting, and how warm the stat makes itself.
def _at_setting(amps: float) -> tuple[Printed, Printed, Printed]:
    """Ohms of the element, the current there is, and the false heat that it ends in."""

    def current() -> float:
        stat = AnticipatorStat("zone2.stat", _HOUSE.part("zone2.stat").ohms, set_amps=amps)
        scene = Scene(house=_HOUSE.with_part(stat)).calling(2)
        return scene.shown({"do": "clamp", "wire": "zone2.W leg", "turns": 10}).reading.value

    element = facts.ANTICIPATOR_WATTS.value / amps**2

    def heat() -> str:
        kelvin = current() ** 2 * element * facts.ANTICIPATOR_RESISTANCE.value
        return f"{kelvin:.1f} \u00b0C ({kelvin * 9 / 5:.1f} \u00b0F)"

    return lambda: ohms_text(element), lambda: f"{current():.2f} A", heat


low_element, low_current, low_heat = _at_setting(LOW_MARK)
right_element, right_current, right_heat = _at_setting(_HOUSE.part("zone2.stat").set_amps)
high_element, high_current, high_heat = _at_setting(HIGH_MARK)


def low_mark() -> str:
    """A mark far below the current."""
    return f"{LOW_MARK:g} A"


def right_mark() -> str:
    """The mark nearest to the current."""
    return f"{min(facts.ANTICIPATOR_MARKS, key=lambda mark: abs(mark - float(right_current().split()[0]))):g} A"


def high_mark() -> str:
    """A mark far above it."""
    return f"{HIGH_MARK:g} A"


def marks() -> str:
    """What is printed on its scale."""
    *most, last = (f"{mark:g}" for mark in facts.ANTICIPATOR_MARKS)
    return f"{', '.join(most)} and {last} A"


def clamp_ten() -> str:
    """The display with ten turns of W of zone 2, before it is divided."""
    return f"{10 * float(right_current().split()[0]):.1f} A"


# The cycle rate of electronic kinds, at half load.
def _rate(cycles: float) -> tuple[Printed, Printed]:
    """How long each call lasts when the stat is on half of the time; the false heat that makes it so."""
    kelvin = false_heat(cycles, facts.STAT_DIFFERENTIAL.value)
    return (
        lambda: f"{60 / cycles / 2:.0f} min",
        lambda: f"{kelvin:.1f} \u00b0C ({kelvin * 9 / 5:.1f} \u00b0F)",
    )


once_long, once_heat = _rate(1.0)
thrice_long, thrice_heat = _rate(3.0)
six_long, six_heat = _rate(6.0)
