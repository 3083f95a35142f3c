"""The readings of end switches and of the leads of three-wire valves that the page on end-switch circuits prints.

Each name is called without arguments and gives a text with its unit.
"""

from __future__ import annotations

from .end_switch_house import (
    LATE,
    LONG_CALL,
    OXIDE,
    OXIDE_MILD,
    QUITS,
    SCHOOL,
    SERIES,
    SWAPPED_HE,
    SWAPPED_HS,
    SWAPPED_SE,
    WORKSHOP,
    WORKSHOP_OPEN,
    WORKSHOP_WELDED,
    opened,
)
from .end_switch_readings import seconds_text
from .heater_loop_house import Scene
from .printed import Printed, amps, display, ohms, volts
from .visits import ohms_text, volts_text

__all__ = [
    "across_closed",
    "across_idle",
    "across_mild",
    "across_open",
    "across_oxide",
    "across_welded_idle",
    "clamp_closed",
    "clamp_mild",
    "clamp_open",
    "clamp_oxide",
    "clamp_welded_idle",
    "cold_he",
    "cold_hs",
    "cold_se",
    "fuse_story",
    "he_coil_company",
    "he_coil_idle",
    "he_heater_alone",
    "he_heater_company",
    "healthy_coil_company",
    "healthy_coil_idle",
    "healthy_heater_alone",
    "healthy_heater_company",
    "hs_amps",
    "hs_coil_company",
    "hs_coil_idle",
    "hs_coil_made",
    "hs_heater_alone",
    "hs_heater_company",
    "late_across",
    "late_healthy",
    "late_heater",
    "left_closed",
    "left_mild",
    "left_oxide",
    "made_he",
    "made_hs",
    "made_se",
    "oxide_beep",
    "oxide_loop_ohms",
    "oxide_ohms",
    "parallel_both",
    "parallel_idle",
    "parallel_one",
    "parallel_two",
    "quits_after",
    "quits_click",
    "se_coil_company",
    "se_coil_idle",
    "se_heater_alone",
    "se_heater_company",
    "series_both",
    "series_idle",
    "series_one",
    "series_other_across",
    "series_two",
    "welded_beep",
]

COIL = "relay.A1", "relay.A2"
T_T = "boiler.T1", "boiler.T2"
SWITCH = "zone1.valve.EA", "zone1.valve.EB"
OTHER = "zone2.valve.EA", "zone2.valve.EB"
H2, S2, E2 = "zone2.valve.H", "zone2.valve.S", "zone2.valve.E"
SOON = 0.05  # s after a click: a current is there, and no fuse has had its time

# End switches side by side, and one behind the other.
parallel_idle, series_idle = (volts(scene, *T_T) for scene in (WORKSHOP, SERIES))
parallel_one, series_one = (volts(opened(scene, 1), *T_T) for scene in (WORKSHOP, SERIES))
parallel_two, series_two = (volts(opened(scene, 2), *T_T) for scene in (WORKSHOP, SERIES))
parallel_both, series_both = (volts(opened(scene, 1, 2), *T_T) for scene in (WORKSHOP, SERIES))
series_other_across = volts(opened(SERIES, 1), *OTHER)

# One end switch, in order and not.
across_idle, across_closed = (volts(scene, *SWITCH) for scene in (WORKSHOP, opened(WORKSHOP, 1)))
across_open, clamp_open = volts(opened(WORKSHOP_OPEN, 1), *SWITCH), amps(opened(WORKSHOP_OPEN, 1), "T-T cable A")
across_oxide, clamp_oxide = volts(opened(OXIDE, 1), *SWITCH), amps(opened(OXIDE, 1), "T-T cable A")
across_mild, clamp_mild = volts(opened(OXIDE_MILD, 1), *SWITCH), amps(opened(OXIDE_MILD, 1), "T-T cable A")
across_welded_idle, clamp_welded_idle = volts(WORKSHOP_WELDED, *SWITCH), amps(WORKSHOP_WELDED, "T-T cable A")
clamp_closed = amps(opened(WORKSHOP, 1), "T-T cable A")
_DEAD_OXIDE, _DEAD_WELDED = (
    scene.dead().after({"do": "switch", "part": "boiler", "on": False}).lifted(SWITCH[0])
    for scene in (opened(OXIDE, 1), WORKSHOP_WELDED)
)
oxide_beep, welded_beep = (display(scene, "beeper", *SWITCH) for scene in (_DEAD_OXIDE, _DEAD_WELDED))
late_heater, late_healthy = (volts(opened(scene, 1), "zone1.valve.HA", "zone1.valve.HB") for scene in (LATE, WORKSHOP))
late_across = volts(opened(LATE, 1), *SWITCH)


def _left(scene: Scene) -> Printed:
    """Volts that the boiler's input gets, from the clamp and its ohms."""
    return lambda: volts_text(_amps(opened(scene, 1), "T-T cable A") * WORKSHOP.house.part("boiler").input_ohms)


left_closed, left_mild, left_oxide = (_left(scene) for scene in (WORKSHOP, OXIDE_MILD, OXIDE))


def oxide_ohms() -> str:
    """The oxidised contact, from its volts and the clamp."""
    scene = opened(OXIDE, 1)
    return ohms_text(scene.volts(*SWITCH) / _amps(scene, "T-T cable A"))


def oxide_loop_ohms() -> str:
    """What the boiler's own volts see besides the contact."""
    boiler = WORKSHOP.house.part("boiler")
    return ohms_text(boiler.input_ohms + boiler.ohms)


def quits_click() -> str:
    """From the call to the first click of a switch that will not stay."""
    return seconds_text(QUITS.calling(1).seconds_to("the boiler starts"))


def quits_after() -> str:
    """From the call until the boiler quits in the middle of it."""
    return seconds_text(QUITS.calling(1).seconds_to("the boiler stops"))


# Three leads by ohms: lifted, cold; then lifted with the head still hot and its switch made.
_COLD, _MADE = (scene.dead().lifted(H2).lifted(S2).lifted(E2) for scene in (SCHOOL, opened(SCHOOL, 2)))
cold_hs, cold_se, cold_he = (ohms(_COLD, *pair) for pair in ((H2, S2), (S2, E2), (H2, E2)))
made_hs, made_se, made_he = (ohms(_MADE, *pair) for pair in ((H2, S2), (S2, E2), (H2, E2)))


def _swap(scene: Scene) -> tuple[Printed, Printed, Printed, Printed]:
    """Coil with nobody calling; heater 2 on its own call, cold; coil and heater 2 with zone 1 open and zone 2 just called."""
    company = opened(scene, 1).calling(2)
    return volts(scene, *COIL), volts(scene.calling(2), H2, S2), volts(company, *COIL), volts(company, H2, S2)


healthy_coil_idle, healthy_heater_alone, healthy_coil_company, healthy_heater_company = _swap(SCHOOL)
he_coil_idle, he_heater_alone, he_coil_company, he_heater_company = _swap(SWAPPED_HE)
se_coil_idle, se_heater_alone, se_coil_company, se_heater_company = _swap(SWAPPED_SE)
hs_coil_idle, hs_heater_alone, hs_coil_company, hs_heater_company = _swap(SWAPPED_HS)
hs_coil_made = volts(opened(SWAPPED_HS, 2), *COIL)


def hs_amps() -> str:
    """What the fuse carries in the moment when both zones are open, with H and S exchanged at valve 2."""
    company = opened(SWAPPED_HS, 1).calling(2)
    both = company.waited(company.seconds_to("valve 2 clicks") + SOON)
    return f"{_amps(both, 'R bus feed'):.3g} A"


def fuse_story() -> str:
    """How long after that the fuse is found open."""
    company = opened(SWAPPED_HS, 1).calling(2).waited(LONG_CALL)
    return "open" if company.world().state.of("fuse").blown else "whole"


def _amps(scene: Scene, wire: str) -> float:
    return scene.shown({"do": "clamp", "wire": wire, "turns": 10}).reading.value
