"""Every reading that the page on wiring as found prints; each name is called without arguments."""

from __future__ import annotations

from ..faults.changes import PartField
from ..plant import facts
from ..plant.found_demo import cottage
from .explorer import span_text
from .heater_loop_house import Scene
from .printed import Printed, amps, ohms, volts

__all__ = [
    "blue_amps",
    "blue_amps_open",
    "boiler_pair",
    "c_call_1",
    "c_call_2",
    "c_idle",
    "c_no_boiler",
    "c_to_c",
    "c_to_r",
    "c_to_t1",
    "click_1",
    "closet_cable",
    "cold_he",
    "cold_hs",
    "cold_se",
    "e_call_1",
    "e_call_2",
    "e_idle",
    "e_no_boiler",
    "e_open_1",
    "e_to_c",
    "e_to_r",
    "e_to_t1",
    "held_he",
    "held_hs",
    "held_se",
    "lifted_heater",
    "lifted_heater_2",
    "lifted_s",
    "r_call_1",
    "r_call_2",
    "r_idle",
    "r_no_boiler",
    "r_to_c",
    "r_to_r",
    "r_to_t1",
    "r_to_t1_live",
    "r_to_t1_opposed",
    "spare_call_1",
    "spare_call_2",
    "spare_idle",
    "spare_low_z",
    "spare_no_boiler",
    "spare_to_c",
    "spare_to_r",
    "spare_to_t1",
    "t2_amps",
    "w1_call_1",
    "w1_call_2",
    "w1_idle",
    "w1_no_boiler",
    "w1_to_c",
    "w1_to_r",
    "w1_to_t1",
    "w2_call_1",
    "w2_call_2",
    "w2_idle",
    "w2_no_boiler",
    "w2_to_c",
    "w2_to_r",
    "w2_to_t1",
    "white_amps",
    "whole_heater",
]

C = "transformer.C"
R = "fuse.out"
T1 = "boiler.T1"
VALVE = "zone1.valve"
H, S, E = (f"{VALVE}.{lead}" for lead in "HSE")
WIRE_2, WIRE_3, WIRE_4, WIRE_5 = "splice A.1", "splice C.1", "cap 1.1", "splice D.1"
WIRE_7, WIRE_9 = H, "splice B.1"
LONG_S = 600.0

COTTAGE = Scene(house=cottage())
_BOILER_OFF = {"do": "switch", "part": "boiler", "on": False}

_CALL_1 = COTTAGE.calling(1)
_CALL_2 = COTTAGE.calling(2)
_OPEN_1 = _CALL_1.waited(LONG_S)
_NO_BOILER = COTTAGE.after(_BOILER_OFF)
_DEAD = COTTAGE.dead().after(_BOILER_OFF).lifted("fuse.in")
_LOOSE_VALVE = _DEAD.lifted(H).lifted(S).lifted(E)
_HELD_OPEN = _LOOSE_VALVE.after({"do": "opener", "valve": VALVE, "engaged": True})
_SPARE_LIFTED = COTTAGE.lifted(WIRE_3)
_T_T_LIFTED = COTTAGE.lifted("boiler.T1").lifted("boiler.T2")
_OPPOSED = COTTAGE.where(PartField("transformer", "opposed", True))


def closet_cable() -> str:
    """One way from the boiler room to the valves."""
    feet = COTTAGE.house.conductor("wire 3").feet
    return f"{feet:.0f} ft ({feet * facts.METRES_PER_FOOT.value:.0f} m)"


# Live: each point to C at the transformer.
def _to_c(point: str) -> tuple[Printed, Printed, Printed, Printed]:
    return tuple(volts(scene, point, C) for scene in (COTTAGE, _CALL_1, _CALL_2, _NO_BOILER))


r_idle, r_call_1, r_call_2, r_no_boiler = _to_c(WIRE_2)
c_idle, c_call_1, c_call_2, c_no_boiler = _to_c(WIRE_3)
w1_idle, w1_call_1, w1_call_2, w1_no_boiler = _to_c(WIRE_7)
w2_idle, w2_call_1, w2_call_2, w2_no_boiler = _to_c(WIRE_9)
e_idle, e_call_1, e_call_2, e_no_boiler = _to_c(WIRE_5)
spare_idle, spare_call_1, spare_call_2, spare_no_boiler = _to_c(WIRE_4)
e_open_1 = volts(_OPEN_1, WIRE_5, C)
spare_low_z = volts(COTTAGE, WIRE_4, C, "volts low-Z")


# Dead: supplies off, the lead at the fuse's supply side lifted.
def _dead_to(point: str) -> tuple[Printed, Printed, Printed]:
    return tuple(ohms(_DEAD, point, known) for known in (R, C, T1))


r_to_r, r_to_c, r_to_t1 = _dead_to(WIRE_2)
c_to_r, c_to_c, c_to_t1 = _dead_to(WIRE_3)
w1_to_r, w1_to_c, w1_to_t1 = _dead_to(WIRE_7)
w2_to_r, w2_to_c, w2_to_t1 = _dead_to(WIRE_9)
e_to_r, e_to_c, e_to_t1 = _dead_to(WIRE_5)
spare_to_r, spare_to_c, spare_to_t1 = _dead_to(WIRE_4)

# The three leads of valve 1, off everything: cold, and held open by its opener.
cold_hs, cold_he, cold_se = (ohms(_LOOSE_VALVE, *pair) for pair in ((H, S), (H, E), (S, E)))
held_hs, held_he, held_se = (ohms(_HELD_OPEN, *pair) for pair in ((H, S), (H, E), (S, E)))

# What the wire in a spare's colour carries, and what goes with it.
blue_amps = amps(_CALL_1, "wire 3")
blue_amps_open = amps(_OPEN_1, "wire 3")
white_amps = amps(_CALL_1, "wire 4")
t2_amps = amps(_OPEN_1, "wire 15")
lifted_s = volts(_SPARE_LIFTED.calling(1), S, C)
lifted_heater = volts(_SPARE_LIFTED.calling(1), H, S)
lifted_heater_2 = volts(_SPARE_LIFTED.calling(2), "zone2.valve.H", "zone2.valve.S")
whole_heater = volts(_CALL_1, H, S)

# The two sources.
boiler_pair = volts(_T_T_LIFTED, "boiler.T1", "boiler.T2")
r_to_t1_live = volts(COTTAGE, R, T1)
r_to_t1_opposed = volts(_OPPOSED, R, T1)


def click_1() -> str:
    """From the call of zone 1 to its click."""
    return span_text(_CALL_1.seconds_to_click())
