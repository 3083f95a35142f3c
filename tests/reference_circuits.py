"""The reference circuits that the trade's check values belong to: common practice and memory, no source."""

from solvers.plant.parts import Boiler, Fuse, HeatMotorValve, Relay, Stat, Transformer
from solvers.plant.topologies import Zone, four_wire, three_wire_direct, three_wire_relay
from solvers.plant.two_sources import separate_commons

__all__ = ["REF_A", "REF_B", "REF_C", "REF_D", "REF_E", "zone_of"]


def zone_of(leads=4, *, heater=30.0, switch=0.1, returns=0.001, e_leg=0.001):
    """One zone of the reference circuits: 0.32 ohm R leg, 0.32 ohm W leg, 0.05 ohm stat, the reference wax."""
    return Zone(
        HeatMotorValve(
            "valve",
            leads=leads,
            heater_ohms=heater,
            switch_ohms=switch,
            ambient_degC=20.0,
            wax_resistance=6.0,
            wax_tau=110.0,
            end_degC=90.0,
        ),
        Stat("stat", 0.05),
        r_leg_ohms=0.32,
        w_leg_ohms=0.32,
        return_ohms=returns,
        e_leg_ohms=e_leg,
    )


_FORTY = Transformer("transformer", emf=27.5, ohms=2.1, dc_ohms=0.9)
_SEVENTY_FIVE = Transformer("transformer", emf=27.0, ohms=0.96, dc_ohms=0.45, va=75.0)
_FUSE = Fuse("fuse", 3.0, 0.05)
_SMALL_FUSE = Fuse("fuse", 3.0, 0.001)  # the trade reckons references B to D without it
_BOILER = Boiler("boiler", emf=26.0, ohms=2.0, input_ohms=120.0)

REF_A = four_wire("reference A: one zone, four-wire", [zone_of()], transformer=_FORTY, fuse=_FUSE, boiler=_BOILER)

REF_B = four_wire(
    "reference B: three zones, four-wire, 75 VA",
    [zone_of() for _ in range(3)],
    transformer=_SEVENTY_FIVE,
    fuse=_SMALL_FUSE,
    boiler=_BOILER,
)

REF_C = three_wire_relay(
    "reference C: three zones, three-wire, isolation relay",
    [zone_of(3) for _ in range(3)],
    transformer=_SEVENTY_FIVE,
    fuse=_SMALL_FUSE,
    relay=Relay("relay", coil_ohms=200.0, reactance=0.0),
    boiler=_BOILER,
)

REF_D = separate_commons(
    "reference D: four zones on two transformers",
    [zone_of(), zone_of()],
    [zone_of(), zone_of()],
    transformers=(_FORTY, _FORTY),
    fuses=(_FUSE, _FUSE),
    boiler=_BOILER,
)

REF_E = three_wire_direct(
    "reference E: two zones, three-wire, T-T fed directly",
    [zone_of(3, heater=ohms, switch=0.08, returns=0.025, e_leg=0.005) for ohms in (28.4, 31.6)],
    transformer=Transformer("transformer", emf=27.2, ohms=1.9, dc_ohms=0.9),
    fuse=_FUSE,
    boiler=Boiler("boiler", emf=25.5, ohms=2.0, input_ohms=118.0),
    trunk_ohms=0.03,
    tt_ohms=0.15,
)
