"""The reference circuits that the trade's check values belong to: common practice and memory, no source."""

from solvers.plant.parts import Boiler, Fuse, HeatMotorValve, Stat, Transformer
from solvers.plant.topologies import Zone, four_wire, three_wire_direct

__all__ = ["REF_A", "REF_E"]

REF_A = four_wire(
    "reference A: one zone, four-wire",
    [
        Zone(
            HeatMotorValve(
                "valve",
                leads=4,
                heater_ohms=30.0,
                switch_ohms=0.1,
                ambient_degC=20.0,
                wax_resistance=6.0,
                wax_tau=110.0,
                end_degC=90.0,
            ),
            Stat("stat", 0.05),
            r_leg_ohms=0.32,
            w_leg_ohms=0.32,
            return_ohms=0.001,
        )
    ],
    transformer=Transformer("transformer", emf=27.5, ohms=2.1, dc_ohms=0.9),
    fuse=Fuse("fuse", 3.0, 0.05),
    boiler=Boiler("boiler", emf=26.0, ohms=2.0, input_ohms=120.0),
)

REF_E = three_wire_direct(
    "reference E: two zones, three-wire, T-T fed directly",
    [
        Zone(
            HeatMotorValve(
                "valve",
                leads=3,
                heater_ohms=ohms,
                switch_ohms=0.08,
                ambient_degC=20.0,
                wax_resistance=6.0,
                wax_tau=110.0,
                end_degC=90.0,
            ),
            Stat("stat", 0.05),
            r_leg_ohms=0.32,
            w_leg_ohms=0.32,
            return_ohms=0.025,
            e_leg_ohms=0.005,
        )
        for ohms in (28.4, 31.6)
    ],
    transformer=Transformer("transformer", emf=27.2, ohms=1.9, dc_ohms=0.9),
    fuse=Fuse("fuse", 3.0, 0.05),
    boiler=Boiler("boiler", emf=25.5, ohms=2.0, input_ohms=118.0),
    trunk_ohms=0.03,
    tt_ohms=0.15,
)
