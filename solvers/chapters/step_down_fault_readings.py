"""What the page on step-down power prints of supplies that are dead, shorted or weak. Each name is called without arguments."""

from __future__ import annotations

from ..jobs.metering import LINE_READINGS
from ..plant.sizing import percent_va
from .explorer import span_text
from .heater_loop_house import Scene
from .printed import Printed, amps, display, ohms, said, volts
from .step_down_house import (
    AGED_FUSE,
    BAD_CLIP,
    BLOWN_FUSE,
    BREAKER,
    FEED_OFF,
    FEED_OPEN,
    FUSE_BEHIND,
    FUSE_IN,
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
    on_line,
)
from .visits import ohms_text, volts_text

__all__ = [
    "aged_holds",
    "blown_call",
    "blown_idle",
    "blown_low_z",
    "breaker_across",
    "clip_behind",
    "clip_click",
    "clip_drop",
    "clip_drop_idle",
    "clip_heater",
    "clip_idle",
    "clip_source",
    "feels_sound",
    "feels_turns",
    "fuse_behind",
    "fuse_ohms",
    "fuse_panel",
    "fuse_primary",
    "fuse_source",
    "good_behind",
    "good_click",
    "good_heater",
    "good_idle",
    "good_source",
    "joint_behind",
    "joint_ohms",
    "joint_panel",
    "joint_primary",
    "joint_source",
    "lead_behind",
    "lead_click",
    "lead_heater",
    "lead_idle",
    "lead_source",
    "load_both",
    "load_none",
    "load_one",
    "low_behind",
    "low_click",
    "low_heater",
    "low_idle",
    "low_source",
    "off_behind",
    "off_ohms",
    "off_panel",
    "off_primary",
    "off_source",
    "primary_behind",
    "primary_ohms",
    "primary_panel",
    "primary_primary",
    "primary_source",
    "refit_amps",
    "ring_amps",
    "screw_in",
    "screw_out",
    "secondary_behind",
    "secondary_ohms",
    "secondary_panel",
    "secondary_primary",
    "secondary_source",
    "short_none",
    "short_one",
    "short_other",
    "small_behind",
    "small_click",
    "small_heater",
    "small_idle",
    "small_one",
    "small_share",
    "small_source",
    "sound_behind",
    "sound_ohms",
    "sound_panel",
    "sound_primary",
    "sound_source",
    "sound_to_ground",
    "staple_to_ground",
    "supper_line",
    "tripped_across",
    "tripped_behind",
    "tripped_inside",
    "tripped_ohms",
    "tripped_panel",
    "tripped_primary",
    "tripped_source",
    "turns_behind",
    "turns_click",
    "turns_heater",
    "turns_idle",
    "turns_source",
    "winding_open",
    "winding_sound",
]

R, C = "transformer.R", "transformer.C"
HALF_HOUR = 1800.0  # s
LOW_Z = "volts low-Z"
FEEL = {"do": "feel", "part": "transformer"}
FEED = {"do": "clamp", "wire": "R feed", "turns": 10}


def _click(scene: Scene) -> Printed:
    return lambda: span_text(scene.seconds_to_click())


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
    return f"{percent_va(SMALL.calling(1, 2).volts(R, C), SMALL.calling(1, 2).shown(FEED).reading.value, 20.0):.0f} %"


def supper_line() -> str:
    """Line volts at that hour."""
    return f"{LOW_LINE.world().installation.part('transformer').line_volts:.0f} V"


_PARTED = LOOSE_SCREW.calling(1, 2).waited(HALF_HOUR / 10)
screw_out = volts(_PARTED, R, FUSE_IN)
screw_in = volts(LOOSE_SCREW.calling(1), R, FUSE_IN)


def aged_holds() -> str:
    """How long the aged fuse stands the load of both zones."""
    through = AGED_FUSE.calling(1, 2).shown(FEED).reading.value
    return span_text(AGED_FUSE.world().installation.part("fuse").seconds_at(through))
