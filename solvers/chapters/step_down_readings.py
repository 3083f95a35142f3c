"""What the page on step-down power prints of a sound supply: no load to six zones, line and lead, what is bonded."""

from __future__ import annotations

from ..plant.sizing import percent_va
from .explorer import both_air, span_text
from .heater_loop_house import Scene
from .printed import Printed, amps, volts
from .step_down_house import BOXED, FUSE_BEHIND, FUSE_IN, GROUNDED, HEALTHY, HEATER, on_line, staged

__all__ = [
    "air_cold",
    "air_mild",
    "amps_both",
    "amps_idle",
    "amps_one",
    "bonded_c",
    "bonded_r",
    "danger_amps",
    "danger_click",
    "danger_idle",
    "five_click",
    "five_cold",
    "five_heater",
    "five_share",
    "five_va",
    "five_volts",
    "floating_c",
    "floating_r",
    "four_click",
    "four_cold",
    "four_heater",
    "four_share",
    "four_va",
    "four_volts",
    "fuse_both",
    "fuse_idle",
    "fuse_one",
    "heater_both",
    "heater_one",
    "higher_click",
    "higher_heater",
    "higher_idle",
    "idle_high_line",
    "idle_low_line",
    "line_high",
    "line_low",
    "on_208_click",
    "on_208_heater",
    "on_208_idle",
    "on_240_click",
    "on_240_heater",
    "on_240_idle",
    "one_click",
    "one_cold",
    "one_heater",
    "one_share",
    "one_va",
    "one_volts",
    "right_click",
    "right_heater",
    "right_idle",
    "six_click",
    "six_cold",
    "six_heater",
    "six_share",
    "six_va",
    "six_volts",
    "source_both",
    "source_idle",
    "source_one",
    "spare_208",
    "spare_240",
    "spare_between",
    "three_amps",
    "three_click",
    "three_cold",
    "three_heater",
    "three_share",
    "three_va",
    "three_volts",
    "two_click",
    "two_cold",
    "two_heater",
    "two_share",
    "two_va",
    "two_volts",
    "wax_208",
    "wax_moves",
]

R, C = "transformer.R", "transformer.C"
COLD_DEGC = 5.0
LOW_LINE_VOLTS, HIGH_LINE_VOLTS = 108.0, 126.0
HALF_HOUR = 1800.0  # s
LOW_Z = "volts low-Z"
FEED = {"do": "clamp", "wire": "R feed", "turns": 10}

_ONE = HEALTHY.calling(1)
_BOTH = HEALTHY.calling(1, 2)


def _click(scene: Scene) -> Printed:
    return lambda: span_text(scene.seconds_to_click())


# A sound supply, from no load to both zones.
source_idle, source_one, source_both = (volts(scene, R, C) for scene in (HEALTHY, _ONE, _BOTH))
fuse_idle, fuse_one, fuse_both = (volts(scene, FUSE_IN, FUSE_BEHIND) for scene in (HEALTHY, _ONE, _BOTH))
heater_one, heater_both = (volts(scene, *HEATER) for scene in (_ONE, _BOTH))
amps_idle, amps_one, amps_both = (amps(scene, "R feed") for scene in (HEALTHY, _ONE, _BOTH))


# More and more equal zones on the same transformer.
def _load(scene: Scene) -> tuple[float, float]:
    """VA that the transformer gives, and percent of its nameplate."""
    there = scene.volts(R, C)
    through = scene.shown(FEED).reading.value
    return there * through, percent_va(there, through, scene.house.part("transformer").va)


def _staged(zones: int) -> tuple[Printed, ...]:
    scene = staged(zones)
    return (
        volts(scene, R, C),
        volts(scene, *HEATER),
        lambda: f"{_load(scene)[0]:.1f} VA",
        lambda: f"{_load(scene)[1]:.0f} %",
        _click(scene),
        _click(scene.in_air(COLD_DEGC)),
    )


one_volts, one_heater, one_va, one_share, one_click, one_cold = _staged(1)
two_volts, two_heater, two_va, two_share, two_click, two_cold = _staged(2)
three_volts, three_heater, three_va, three_share, three_click, three_cold = _staged(3)
four_volts, four_heater, four_va, four_share, four_click, four_cold = _staged(4)
five_volts, five_heater, five_va, five_share, five_click, five_cold = _staged(5)
six_volts, six_heater, six_va, six_share, six_click, six_cold = _staged(6)
three_amps = amps(staged(3), "R feed")


def air_mild() -> str:
    """The air at the mill's valves."""
    return both_air(HEALTHY.house.part("zone1.valve").ambient_degC)


def air_cold() -> str:
    """A crawlspace in winter."""
    return both_air(COLD_DEGC)


# Line and lead.
line_low, line_high = (lambda: f"{LOW_LINE_VOLTS:.0f} V"), (lambda: f"{HIGH_LINE_VOLTS:.0f} V")
idle_low_line = volts(on_line(LOW_LINE_VOLTS, 120.0), R, C)
idle_high_line = volts(on_line(HIGH_LINE_VOLTS, 120.0), R, C)


def _landed(line: float, tap: float) -> tuple[Printed, Printed, Printed]:
    """R to C with nobody calling; across heater 1 on a call; from call to click."""
    scene = on_line(line, tap)
    return volts(scene, R, C), volts(scene.calling(1), *HEATER), _click(scene.calling(1))


right_idle, right_heater, right_click = _landed(120.0, 120.0)
on_208_idle, on_208_heater, on_208_click = _landed(120.0, 208.0)
on_240_idle, on_240_heater, on_240_click = _landed(120.0, 240.0)
higher_idle, higher_heater, higher_click = _landed(208.0, 240.0)
danger_idle = volts(on_line(240.0, 120.0), R, C)
danger_amps = amps(on_line(240.0, 120.0).calling(1), "zone1.W leg")
danger_click = _click(on_line(240.0, 120.0).calling(1))
spare_208, spare_240 = (volts(BOXED, f"transformer.P{tap}", "transformer.P0") for tap in (208, 240))
spare_between = volts(BOXED, "transformer.P208", "transformer.P240")


def wax_208() -> str:
    """Where the wax of valve 1 ends up with the line on the lead for 208 V."""
    return both_air(on_line(120.0, 208.0).calling(1).waited(HALF_HOUR).world().state.values["zone1.valve.wax"])


def wax_moves() -> str:
    """Where its stem begins to move."""
    return both_air(HEALTHY.house.part("zone1.valve").travel.moves)


# Isolation, and a side that is bonded.
floating_r, floating_c = (volts(HEALTHY, point, "earth", LOW_Z) for point in (R, C))
bonded_r, bonded_c = (volts(GROUNDED, point, "earth") for point in (R, C))
