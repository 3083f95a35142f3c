"""The house that the page on thermostat switching talks about, in each condition the page needs. It is invented."""

from __future__ import annotations

from ..circuit import OPEN
from ..faults.changes import Bridged, ConductorField, Exchanged, Interposed, Joint, Landed, Loosened, PartField, Spare
from ..plant.demo_controls import gallery
from ..plant.panels import relay_panel
from ..plant.parts import HeatMotorValve
from ..plant.thermostats import PowerStealingStat, TriacStat, TwoSupplyStat
from ..plant.topologies import Zone, four_wire
from .heater_loop_house import Scene

__all__ = [
    "BAD_JOINT",
    "BLOWN_FUSE",
    "BURNT",
    "CABLE_SHORT",
    "C_OPEN",
    "C_W_EXCHANGED",
    "FORGOTTEN",
    "FUSED",
    "HEALTHY",
    "HEATER",
    "LOOSE",
    "NO_JUMPER",
    "ON_Y",
    "OPEN_CONTACT",
    "OPEN_HEATER",
    "PANEL",
    "RESTING",
    "R_OPEN",
    "SET_BACK",
    "SPARED",
    "STAT",
    "TRIAC",
    "WEAK_CELLS",
    "W_OPEN",
    "pitted",
]

JOINT_OHMS = 6.0
SHORT_OHMS = 0.4
PANEL_OFF_OHMS = 500.0

FUSED = "fuse.out"
STAT = "zone1.stat.R", "zone1.stat.W"
HEATER = "zone1.valve.HA", "zone1.valve.HB"

HEALTHY = Scene(house=gallery())
TRIAC = Scene(house=four_wire("one zone, triac", [Zone(HeatMotorValve("valve", 4), TriacStat("stat"))]))
TWO_SUPPLIES = Scene(house=four_wire("one zone, two R screws", [Zone(HeatMotorValve("valve", 4), TwoSupplyStat("stat"))]))
PANEL = Scene(
    house=relay_panel(
        "one zone behind a relay", [Zone(HeatMotorValve("valve", 4), PowerStealingStat("stat", off_ohms=PANEL_OFF_OHMS))]
    )
)

BLOWN_FUSE = HEALTHY.where(PartField("fuse", "blown", True))
OPEN_CONTACT = HEALTHY.where(PartField("zone1.stat", "contact", "open"))
OPEN_HEATER = HEALTHY.where(PartField("zone1.valve", "heater_ohms", OPEN))
R_OPEN = HEALTHY.where(ConductorField("zone1.R leg", "ohms", OPEN))
W_OPEN = HEALTHY.where(ConductorField("zone1.W leg", "ohms", OPEN))
C_OPEN = HEALTHY.where(ConductorField("zone3.C leg", "ohms", OPEN))
CABLE_SHORT = HEALTHY.where(Bridged("cable short", "zone1.R splice.2", "zone1.W splice.1", SHORT_OHMS, "zone1 stat cable"))
BAD_JOINT = HEALTHY.where(Joint("zone1.W splice", "2", JOINT_OHMS))
WEAK_CELLS = HEALTHY.where(PartField("zone1.stat", "cells_rest_volts", 3.0), PartField("zone1.stat", "cell_volts", 1.9))
BURNT = HEALTHY.where(PartField("zone2.stat", "burnt", True))
C_W_EXCHANGED = HEALTHY.where(Exchanged("zone3.stat.C", "zone3.stat.W"))
FORGOTTEN = HEALTHY.where(Interposed("zone1.R splice", "zone1.stat"))
LOOSE = HEALTHY.where(Loosened("zone1.W leg", "b"))
NO_JUMPER = TWO_SUPPLIES.where(Landed("zone1.R leg", "b", "zone1.stat.Rc"), PartField("zone1.stat", "jumper", False))
ON_Y = TWO_SUPPLIES.where(Landed("zone1.W leg", "b", "zone1.stat.Y"))
SET_BACK = HEALTHY.where(PartField("zone1.stat", "program", "set-back"))
RESTING = HEALTHY.where(PartField("zone1.stat", "least_off_s", 300.0))
SPARED = HEALTHY.where(Spare("zone1.spare", "zone1 stat cable"))


def pitted(ohms: float) -> Scene:
    """The house with so many ohms in the contact of stat 1."""
    return HEALTHY.where(PartField("zone1.stat", "ohms", ohms))
