"""Four invented houses for the pages on end switches and on service calls: a relay, mixed valves, a shared return, six zones.

Values lie in the ranges of `facts`; lengths are invented too. They describe no real building.
"""

from __future__ import annotations

from . import facts
from .parts import Boiler, Fuse, HeatMotorValve, Relay, SpringReturnValve, Stat, Transformer, Valve, WaxActuator
from .topologies import Zone, four_wire, three_wire_relay
from .two_sources import separate_commons, shared_return
from .wiring import Installation

__all__ = ["boathouse", "farmhouse", "lodge", "schoolhouse"]

TRANSFORMERS = {
    40.0: Transformer("transformer", emf=27.6, ohms=2.1, dc_ohms=0.9),
    75.0: Transformer("transformer", emf=27.1, ohms=0.96, dc_ohms=0.5, va=75.0),
    100.0: Transformer("transformer", emf=26.8, ohms=0.7, dc_ohms=0.3, va=100.0),
}
"""The transformers of these houses by VA."""


def schoolhouse() -> Installation:
    """Three zones with three-wire valves, whose end switches feed one isolation relay."""
    sizes = ((29.4, 104.0, 40.0), (30.6, 115.0, 55.0), (28.7, 109.0, 65.0))
    return three_wire_relay(
        "a schoolhouse, three zones and an isolation relay",
        [_zone(_head(3, ohms, tau), feet) for ohms, tau, feet in sizes],
        transformer=TRANSFORMERS[75.0],
        fuse=Fuse("fuse", amps=3.5, ohms=0.05),
        relay=Relay("relay"),
        boiler=_boiler(),
        trunk_ohms=0.03,
        tt_ohms=_copper(20.0),
    )


def farmhouse() -> Installation:
    """Four zones on two transformers with commons apart: heat motors, a motor-driven valve, a wax actuator, one boiler."""
    return separate_commons(
        "a farmhouse, four zones of three kinds on two transformers",
        [_zone(_head(4, 29.8, 108.0), 45.0), _zone(WaxActuator("valve", 4, ambient_degC=19.0), 60.0)],
        [_zone(_head(4, 30.9, 112.0), 50.0), _zone(SpringReturnValve("valve", 4), 70.0)],
        transformers=(TRANSFORMERS[40.0], Transformer("transformer", emf=27.3, ohms=2.0, dc_ohms=1.0)),
        fuses=(Fuse("fuse", ohms=0.05), Fuse("fuse", ohms=0.05)),
        boiler=_boiler(),
        trunk_ohms=0.03,
        tt_ohms=_copper(20.0),
    )


def boathouse(*, opposed: bool = True) -> Installation:
    """Three zones on two transformers that share one return: a heat motor on the one, its like and a motor on the other."""
    return shared_return(
        "a boathouse, three zones on two transformers with one return",
        [_zone(_head(4, 29.6, 106.0), 50.0)],
        [_zone(_head(4, 29.6, 106.0), 50.0), _zone(SpringReturnValve("valve", 4), 50.0)],
        transformers=(TRANSFORMERS[40.0], TRANSFORMERS[40.0]),
        fuses=(Fuse("fuse", ohms=0.05), Fuse("fuse", ohms=0.05)),
        boiler=_boiler(),
        opposed=opposed,
        trunk_ohms=0.03,
        tt_ohms=_copper(20.0),
    )


def lodge(zones: int = 6, va: float = 40.0, trunk_ohms: float = 0.03) -> Installation:
    """So many equal zones on one transformer of so many VA, their returns on one trunk of so many ohms.

    Raises KeyError for a size there is not, WiringError for a number of zones there cannot be.
    """
    return four_wire(
        f"a lodge, {zones} equal zones on {va:g} VA",
        [_zone(_head(4, 29.6, 110.0), 50.0) for _ in range(zones)],
        transformer=TRANSFORMERS[va],
        fuse=Fuse("fuse", amps=3.0 if va < 75 else 3.5, ohms=0.05),
        boiler=_boiler(),
        trunk_ohms=trunk_ohms,
        tt_ohms=_copper(20.0),
    )


def _head(leads: int, ohms: float, tau: float) -> HeatMotorValve:
    return HeatMotorValve(
        "valve", leads, heater_ohms=ohms, switch_ohms=0.1, ambient_degC=19.0, wax_resistance=6.0, wax_tau=tau, end_degC=90.0
    )


def _zone(valve: Valve, feet: float) -> Zone:
    return Zone(valve, Stat("stat", 0.06), _copper(feet), _copper(feet), return_ohms=0.02, stat_cable_feet=feet)


def _boiler() -> Boiler:
    return Boiler("boiler", emf=26.2, ohms=2.0, dc_ohms=0.8, input_ohms=120.0, water_degC=72.0)


def _copper(feet: float) -> float:
    return facts.COPPER_OHMS_PER_KFT[18] * feet / 1000
