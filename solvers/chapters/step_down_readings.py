"""Every reading that the page on step-down power prints: each name is called without arguments and gives a text with its unit."""

from __future__ import annotations

from ..jobs.metering import LINE_READINGS
from ..plant.sizing import percent_va
from .explorer import both_air, span_text
from .heater_loop_house import Scene
from .printed import Printed, amps, display, ohms, said, volts
from .step_down_house import (
    AGED_FUSE,
    BAD_CLIP,
    BLOWN_FUSE,
    BOXED,
    BREAKER,
    FEED_OFF,
    FEED_OPEN,
    FUSE_BEHIND,
    FUSE_IN,
    GROUNDED,
    HEALTHY,
    HEATER,
    LOOSE_SCREW,
    LOW_LINE,
    NICKED_R,
    PRIMARY_OPEN,
    SECONDARY_OPEN,
    SHORTED,
    SHORTED_TURNS,
    SMALL,
    TRIPPED,
    C,
    R,
    on_line,
    staged,
)
from .visits import ohms_text, volts_text

__all__ = []

COLD_DEGC = 5.0
LOW_LINE_VOLTS, HIGH_LINE_VOLTS = 108.0, 126.0
HALF_HOUR = 1800.0  # s
LOW_Z = "volts low-Z"
FEEL = {"do": "feel", "part": "transformer"}

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
    through = scene.shown({"do": "clamp", "wire": "R feed", "turns": 10}).reading.value
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


# A dead house: how far the volts get, and ohms with the feed off.
def _dead(scene: Scene) -> tuple[Printed, ...]:
    """R to C, behind the fuse to C, then what somebody licensed reads in the box."""

    def in_box(what: str) -> Printed:
        def printed() -> str:
            value = scene.shown({"do": "line reading", "part": "transformer", "what": what}).reading.value
            return ohms_text(value) if what.endswith("ohms") else volts_text(value)

        return printed

    return volts(scene, R, C, LOW_Z), volts(scene, FUSE_BEHIND, C, LOW_Z), *(in_box(what) for what in LINE_READINGS)


sound_source, sound_behind, sound_panel, sound_primary, sound_ohms = _dead(HEALTHY)
off_source, off_behind, off_panel, off_primary, off_ohms = _dead(FEED_OFF)
joint_source, joint_behind, joint_panel, joint_primary, joint_ohms = _dead(FEED_OPEN)
primary_source, primary_behind, primary_panel, primary_primary, primary_ohms = _dead(PRIMARY_OPEN)
secondary_source, secondary_behind, secondary_panel, secondary_primary, secondary_ohms = _dead(SECONDARY_OPEN)
fuse_source, fuse_behind, fuse_panel, fuse_primary, fuse_ohms = _dead(BLOWN_FUSE)
tripped_source, tripped_behind, tripped_panel, tripped_primary, tripped_ohms = _dead(TRIPPED)
winding_sound, winding_open = (ohms(scene.dead().lifted(R), R, C) for scene in (HEALTHY, SECONDARY_OPEN))
tripped_inside = volts(TRIPPED, "transformer.X", C)
tripped_across = volts(TRIPPED.calling(1), "transformer.X", R)
breaker_across = volts(BREAKER.calling(1), "transformer.X", R)
blown_idle, blown_low_z = (volts(BLOWN_FUSE, FUSE_IN, FUSE_BEHIND, how) for how in ("volts", LOW_Z))
blown_call = volts(BLOWN_FUSE.calling(1), FUSE_IN, FUSE_BEHIND, LOW_Z)


# A short: ohms behind the fuse with the lead lifted, and what a new fuse would meet.
def _behind(scene: Scene, *zones: int) -> Printed:
    return ohms(scene.dead().lifted(FUSE_BEHIND).calling(*zones), f"{FUSE_BEHIND} lead", C)


load_none, load_one, load_both = _behind(HEALTHY), _behind(HEALTHY, 1), _behind(HEALTHY, 1, 2)
short_none, short_one, short_other = _behind(SHORTED), _behind(SHORTED, 1), _behind(SHORTED, 2)
refit_amps = amps(SHORTED.after({"do": "fit", "part": "fuse"}).calling(1), "R feed", 1)
ring_amps = amps(HEALTHY.after({"do": "jumper", "first": FUSE_IN, "second": C, "on": True}), "R feed", 1)
staple_to_ground = display(NICKED_R.dead().lifted(FUSE_BEHIND), "ohms", f"{FUSE_BEHIND} lead", "earth")
sound_to_ground = display(HEALTHY.dead().lifted(FUSE_BEHIND).lifted(C), "ohms", f"{FUSE_BEHIND} lead", "earth")


# What makes all zones slow: idle, then with both on call.
def _slow(scene: Scene) -> tuple[Printed, ...]:
    """R to C idle; R to C, behind the fuse, across heater 1, and the click with both zones on call."""
    both = scene.calling(1, 2)
    return volts(scene, R, C), volts(both, R, C), volts(both, FUSE_BEHIND, C), volts(both, *HEATER), _click(both)


good_idle, good_source, good_behind, good_heater, good_click = _slow(HEALTHY)
clip_idle, clip_source, clip_behind, clip_heater, clip_click = _slow(BAD_CLIP)
small_idle, small_source, small_behind, small_heater, small_click = _slow(SMALL)
low_idle, low_source, low_behind, low_heater, low_click = _slow(LOW_LINE)
turns_idle, turns_source, turns_behind, turns_heater, turns_click = _slow(SHORTED_TURNS)
lead_idle, lead_source, lead_behind, lead_heater, lead_click = _slow(on_line(120.0, 208.0))
clip_drop = volts(BAD_CLIP.calling(1, 2), FUSE_IN, FUSE_BEHIND)
clip_drop_idle = volts(BAD_CLIP, FUSE_IN, FUSE_BEHIND)
small_one = volts(SMALL.calling(1), *HEATER)
feels_sound, feels_turns = said(HEALTHY, FEEL), said(SHORTED_TURNS, FEEL)


def small_share() -> str:
    """The load of the 20 VA unit with both zones on call, by VA."""
    return f"{percent_va(SMALL.calling(1, 2).volts(R, C), SMALL.calling(1, 2).shown(_FEED).reading.value, 20.0):.0f} %"


def supper_line() -> str:
    """Line volts at that hour."""
    return f"{LOW_LINE.world().installation.part('transformer').line_volts:.0f} V"


_FEED = {"do": "clamp", "wire": "R feed", "turns": 10}
_PARTED = LOOSE_SCREW.calling(1, 2).waited(HALF_HOUR / 10)
screw_out = volts(_PARTED, R, FUSE_IN)
screw_in = volts(LOOSE_SCREW.calling(1), R, FUSE_IN)


def aged_holds() -> str:
    """How long the aged fuse stands the load of both zones."""
    through = AGED_FUSE.calling(1, 2).shown(_FEED).reading.value
    return span_text(AGED_FUSE.world().installation.part("fuse").seconds_at(through))
