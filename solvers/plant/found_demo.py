"""An invented house whose wiring somebody else did, for the page on reading wiring as found. It works, and it is untidy.

Values lie in the ranges of `facts`; colours, labels and lengths are invented too. It describes no real building.
"""

from __future__ import annotations

from . import facts
from .parts import Boiler, Fuse, HeatMotorValve, Loop, Splice, Stat, Transformer
from .wiring import Conductor, Installation

__all__ = ["cottage"]

OPENER = "by hand, makes the switch"

WIRES = (  # name, from, to, cable, feet, colour, label
    ("1", "transformer.R", "fuse.in", "", 2, "brown", ""),
    ("2", "fuse.out", "splice A.1", "closet cable", 30, "red", "R"),
    ("3", "transformer.C", "splice C.1", "closet cable", 30, "blue", "spare"),
    ("4", "cap 1.1", "cap 2.1", "closet cable", 30, "white", ""),
    ("5", "splice D.1", "boiler.T1", "closet cable", 30, "green", ""),
    ("6", "splice A.2", "zone1.stat.R", "stat 1 cable", 45, "white", ""),
    ("7", "zone1.stat.W", "zone1.valve.H", "stat 1 cable", 45, "red", ""),
    ("8", "splice A.3", "zone2.stat.R", "stat 2 cable", 60, "red", "R"),
    ("9", "zone2.stat.W", "splice B.1", "stat 2 cable", 60, "white", ""),
    ("10", "splice B.2", "zone2.valve.H", "", 3, "yellow", ""),
    ("11", "splice C.2", "zone1.valve.S", "", 2, "white", ""),
    ("12", "splice C.3", "zone2.valve.S", "", 3, "red", ""),
    ("13", "splice D.2", "zone1.valve.E", "", 2, "green", ""),
    ("14", "splice D.3", "zone2.valve.E", "", 3, "white", ""),
    ("15", "transformer.C", "boiler.T2", "", 4, "black", ""),
)


def cottage() -> Installation:
    """Two zones with three-wire valves; the shared common lies on a conductor in the colour of a spare."""
    upper = HeatMotorValve(
        "zone1.valve",
        3,
        heater_ohms=28.9,
        switch_ohms=0.12,
        ambient_degC=19.0,
        wax_resistance=5.9,
        wax_tau=108.0,
        end_degC=89.5,
        opener=OPENER,
    )
    lower = HeatMotorValve(
        "zone2.valve",
        3,
        heater_ohms=32.3,
        switch_ohms=0.09,
        ambient_degC=18.0,
        wax_resistance=6.3,
        wax_tau=114.0,
        end_degC=88.0,
        opener=OPENER,
    )
    parts = (
        Transformer("transformer", emf=27.3, ohms=1.8, dc_ohms=0.7),
        Fuse("fuse", ohms=0.06),
        *(Splice(f"splice {letter}", tuple("123"[:ways])) for letter, ways in (("A", 3), ("B", 2), ("C", 3), ("D", 3))),
        *(Splice(f"cap {number}", ("1",)) for number in (1, 2)),
        Stat("zone1.stat", 0.06),
        Stat("zone2.stat", 0.04),
        upper,
        lower,
        *(
            Loop(f"{valve.name.removesuffix('.valve')}.loop", valve=valve.name, ambient_degC=valve.ambient_degC)
            for valve in (upper, lower)
        ),
        Boiler("boiler", emf=26.1, ohms=2.2, dc_ohms=0.8, input_ohms=124.0, water_degC=70.0),
    )
    wires = (
        Conductor(f"wire {name}", a, b, facts.COPPER_OHMS_PER_KFT[18] * feet / 1000, cable, float(feet), colour, 18, label)
        for name, a, b, cable, feet, colour, label in WIRES
    )
    return Installation("a cottage, two zones as somebody left them", parts, tuple(wires))
