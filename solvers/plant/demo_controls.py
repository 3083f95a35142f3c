"""Two invented houses for the pages on step-down power and on thermostat switching: one supply, and four kinds of stat.

Values lie in the ranges of `facts`; lengths are invented too. They describe no real building.
"""

from __future__ import annotations

from . import facts
from .parts import Boiler, Fuse, HeatMotorValve, Stat, Transformer
from .thermostats import AnticipatorStat, BatteryStat, CPoweredStat, PowerStealingStat
from .topologies import Zone, four_wire
from .wiring import Installation

__all__ = ["gallery", "mill"]

MILL_FEET = 45.0


def mill(zones: int = 2, *, protection: str = "fuse", line_side: bool = False) -> Installation:
    """So many equal zones on one 40 VA transformer with leads for 120, 208 and 240 V; its line side shown when asked for."""
    leg = _leg(MILL_FEET)
    valve = HeatMotorValve("valve", 4, heater_ohms=29.6, switch_ohms=0.1, ambient_degC=19.0, wax_tau=108.0)
    each = Zone(valve, Stat("stat", 0.07), leg, leg, return_ohms=0.02, stat_cable_feet=MILL_FEET)
    return four_wire(
        "a mill, zones with four-wire valves",
        [each] * zones,
        transformer=Transformer(
            "transformer", emf=27.8, ohms=2.0, dc_ohms=0.9, taps=(120.0, 208.0, 240.0), protection=protection, line_side=line_side
        ),
        fuse=Fuse("fuse", ohms=0.04),
        boiler=Boiler("boiler", emf=26.1, ohms=1.9, dc_ohms=0.8, input_ohms=124.0, water_degC=70.0),
        trunk_ohms=0.02,
        tt_ohms=_copper(20.0),
    )


def gallery() -> Installation:
    """Four zones, each with another kind of stat: on cells, with an anticipator, fed by a C wire, living on the load."""
    kinds = (
        (BatteryStat("stat", 0.04), 29.8, 50.0),
        (AnticipatorStat("stat", 0.05, set_amps=0.8), 30.6, 40.0),
        (CPoweredStat("stat", 0.06), 28.7, 65.0),
        (PowerStealingStat("stat", 0.05), 31.2, 30.0),
    )
    return four_wire(
        "a gallery, four zones and four kinds of stat",
        [
            Zone(
                HeatMotorValve("valve", 4, heater_ohms=ohms, switch_ohms=0.1, ambient_degC=18.0, wax_tau=112.0),
                stat,
                _leg(feet),
                _leg(feet),
                return_ohms=0.02,
                stat_cable_feet=feet,
            )
            for stat, ohms, feet in kinds
        ],
        transformer=Transformer("transformer", emf=26.6, ohms=0.66, dc_ohms=0.4, va=100.0, primary_dc_ohms=8.0),
        fuse=Fuse("fuse", 3.5, ohms=0.04),
        boiler=Boiler("boiler", emf=25.8, ohms=2.0, dc_ohms=0.9, input_ohms=119.0, water_degC=69.0),
        trunk_ohms=0.02,
        tt_ohms=_copper(20.0),
    )


def _leg(feet: float) -> float:
    """One conductor of 18 AWG and the splice in it, ohms."""
    return _copper(feet) + facts.SPLICE_OHMS.value


def _copper(feet: float) -> float:
    return facts.COPPER_OHMS_PER_KFT[18] * feet / 1000
