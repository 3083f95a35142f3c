"""Three invented houses for the pages on the meter and on safe work: many zones, two transformers, an isolation relay.

Values lie in the ranges of `facts`; lengths are invented too. They describe no real building.
"""

from __future__ import annotations

from . import facts
from .parts import Boiler, Fuse, HeatMotorValve, Relay, SpringReturnValve, Stat, Transformer
from .topologies import Zone, four_wire, three_wire_relay
from .two_sources import separate_commons
from .wiring import Installation

__all__ = ["inn", "studio", "terrace"]


def terrace(trunk_ohms: float = 0.03) -> Installation:
    """Four flats on one 40 VA transformer, their returns on one trunk of so many ohms."""
    sizes = ((30.4, 40.0), (29.1, 55.0), (31.0, 70.0), (28.6, 85.0))
    return four_wire(
        "a terrace, four zones with four-wire valves",
        [
            Zone(
                HeatMotorValve("valve", 4, heater_ohms=ohms, switch_ohms=0.12, ambient_degC=19.0, wax_tau=106.0),
                Stat("stat", 0.06),
                _copper(feet),
                _copper(feet),
                return_ohms=0.02,
                stat_cable_feet=feet,
            )
            for ohms, feet in sizes
        ],
        transformer=Transformer("transformer", emf=27.6, ohms=2.0, dc_ohms=0.8),
        fuse=Fuse("fuse", ohms=0.05),
        boiler=_boiler(),
        trunk_ohms=trunk_ohms,
        tt_ohms=_copper(20.0),
    )


def inn() -> Installation:
    """Two zones on each of two transformers, commons apart, one boiler."""
    zones = [
        Zone(HeatMotorValve("valve", 4, heater_ohms=ohms, switch_ohms=0.11, ambient_degC=19.0, wax_tau=112.0), Stat("stat", 0.06))
        for ohms in (30.2, 29.3, 27.9, 31.4)
    ]
    return separate_commons(
        "an inn, four zones on two transformers",
        zones[:2],
        zones[2:],
        transformers=(
            Transformer("transformer", emf=27.4, ohms=2.0, dc_ohms=0.8),
            Transformer("transformer", emf=27.1, ohms=2.2, dc_ohms=1.0),
        ),
        boiler=_boiler(),
    )


def studio() -> Installation:
    """One zone with a motor-driven valve, whose end switch feeds an isolation relay."""
    return three_wire_relay(
        "a studio, one zone and an isolation relay",
        [Zone(SpringReturnValve("valve", 3), Stat("stat", 0.06))],
        transformer=Transformer("transformer", emf=26.8, ohms=2.3, dc_ohms=1.1),
        relay=Relay("relay"),
        boiler=_boiler(),
    )


def _boiler() -> Boiler:
    return Boiler("boiler", emf=26.3, ohms=1.9, dc_ohms=0.8, input_ohms=122.0, water_degC=72.0)


def _copper(feet: float) -> float:
    return facts.COPPER_OHMS_PER_KFT[18] * feet / 1000
