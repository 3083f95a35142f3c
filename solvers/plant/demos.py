"""Two invented houses for the book's pages. Their values lie in the ranges of `facts`; they describe no real building.

Cable lengths are invented too; a leg's ohms are its copper's and its splice's.
"""

from __future__ import annotations

from . import facts
from .parts import Boiler, Fuse, HeatMotorValve, Stat, Transformer
from .topologies import Zone, four_wire, three_wire_direct
from .wiring import Installation

__all__ = ["bungalow", "workshop"]


def bungalow() -> Installation:
    """Two zones with three-wire valves, shared commons spliced, T-T fed directly."""
    living = HeatMotorValve(
        "valve", 3, heater_ohms=29.3, switch_ohms=0.11, ambient_degC=18.0, wax_resistance=6.1, wax_tau=104.0, end_degC=88.5
    )
    bedrooms = HeatMotorValve(
        "valve", 3, heater_ohms=27.4, switch_ohms=0.09, ambient_degC=22.0, wax_resistance=5.8, wax_tau=117.0, end_degC=90.5
    )
    return three_wire_direct(
        "a bungalow, two zones with three-wire valves",
        [
            Zone(living, Stat("stat", 0.04), _leg(35), _leg(35), return_ohms=0.02, e_leg_ohms=0.01, stat_cable_feet=35.0),
            Zone(bedrooms, Stat("stat", 0.06), _leg(60), _leg(60), return_ohms=0.03, e_leg_ohms=0.01, stat_cable_feet=60.0),
        ],
        transformer=Transformer("transformer", emf=26.9, ohms=2.2, dc_ohms=0.8),
        fuse=Fuse("fuse", ohms=0.04),
        boiler=Boiler("boiler", emf=26.4, ohms=1.8, dc_ohms=0.7, input_ohms=128.0, water_degC=71.0),
        trunk_ohms=0.02,
        tt_ohms=_copper(20),
    )


def workshop() -> Installation:
    """Two zones with four-wire valves, end switches paralleled to a dry T-T."""
    hall = HeatMotorValve(
        "valve", 4, heater_ohms=31.2, switch_ohms=0.08, ambient_degC=17.0, wax_resistance=6.2, wax_tau=112.0, end_degC=89.0
    )
    office = HeatMotorValve(
        "valve", 4, heater_ohms=28.1, switch_ohms=0.13, ambient_degC=21.0, wax_resistance=5.9, wax_tau=99.0, end_degC=91.0
    )
    return four_wire(
        "a workshop, two zones with four-wire valves",
        [
            Zone(hall, Stat("stat", 0.07), _leg(80), _leg(80), return_ohms=0.02, stat_cable_feet=80.0),
            Zone(office, Stat("stat", 0.03), _leg(45), _leg(45), return_ohms=0.02, stat_cable_feet=45.0),
        ],
        transformer=Transformer("transformer", emf=27.8, ohms=1.7, dc_ohms=1.0),
        fuse=Fuse("fuse", ohms=0.06),
        boiler=Boiler("boiler", emf=25.2, ohms=2.1, dc_ohms=1.0, input_ohms=115.0, water_degC=68.0),
        trunk_ohms=0.02,
        tt_ohms=_copper(20),
    )


def _leg(feet: float) -> float:
    """One conductor of 18 AWG and the splice in it, ohms."""
    return _copper(feet) + facts.SPLICE_OHMS.value


def _copper(feet: float) -> float:
    return facts.COPPER_OHMS_PER_KFT[18] * feet / 1000
