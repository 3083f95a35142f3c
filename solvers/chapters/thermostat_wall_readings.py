"""What the page on thermostat switching prints of supplies, cables, screws and settings. Called without arguments."""

from __future__ import annotations

from .explorer import span_text
from .heater_loop_house import Scene
from .printed import Printed, amps, ohms, volts
from .thermostat_house import (
    BURNT,
    C_OPEN,
    C_W_EXCHANGED,
    CABLE_SHORT,
    FORGOTTEN,
    HEALTHY,
    HEATER,
    LOOSE,
    NO_JUMPER,
    ON_Y,
    PANEL,
    R_OPEN,
    RESTING,
    SET_BACK,
    SPARED,
    STAT,
    TRIAC,
    W_OPEN,
    WEAK_CELLS,
)

__all__ = [
    "apart_open",
    "apart_sound",
    "base_open",
    "base_open_far",
    "base_sound",
    "burnt_across",
    "burnt_good",
    "cable_down",
    "cable_near",
    "cable_r",
    "cable_w",
    "cells_closed",
    "cells_heater",
    "cells_later",
    "cells_open",
    "cells_soon",
    "coil_lifted",
    "coil_off",
    "exchanged_amps",
    "exchanged_idle",
    "exchanged_on_c",
    "exchanged_on_w",
    "fed_amps",
    "fed_closed",
    "fed_heater",
    "fed_later",
    "fed_open",
    "fed_soon",
    "forgotten_across",
    "held_heater",
    "joined_open",
    "joined_sound",
    "landed",
    "long_wait",
    "loose_amps",
    "nudged_amps",
    "old_closed",
    "old_heater",
    "old_later",
    "old_open",
    "old_soon",
    "resting_across",
    "resting_screen",
    "rests",
    "ropen_down",
    "ropen_near",
    "ropen_r",
    "ropen_w",
    "set_back_idle",
    "set_back_screen",
    "set_back_up",
    "short_wait",
    "shorted_down",
    "shorted_near",
    "shorted_r",
    "shorted_w",
    "spare_low_z",
    "spare_volts",
    "starves_after",
    "stealing_amps",
    "stealing_closed",
    "stealing_heater",
    "stealing_later",
    "stealing_open",
    "stealing_soon",
    "triac_closed",
    "triac_heater",
    "triac_later",
    "triac_open",
    "triac_soon",
    "two_h_c",
    "two_r_c",
    "two_w",
    "weak_across",
    "weak_amps",
    "wopen_down",
    "wopen_near",
    "wopen_r",
    "wopen_w",
    "y_screw",
    "y_wire",
]

C = "transformer.C"
LOW_Z = "volts low-Z"
W_LEG, FEED = "zone1.W leg", "R feed"
FAR, NEAR = STAT, ("zone1.R splice.2", "zone1.W splice.1")
TWO_MINUTES = 120.0
SHORT_WAIT = 20.0
LATER = 5.0
_LOOK = {"do": "look", "part": "zone1.stat"}


def _jumper(first: str, second: str) -> dict[str, object]:
    return {"do": "jumper", "first": first, "second": second, "on": True}


# What each kind lives on.
def _lives(zone: int, scene: Scene = HEALTHY) -> tuple[Printed, ...]:
    """Across R and W open and closed; at the heater while off; the screen soon and later without the transformer."""
    stat = f"zone{zone}.stat.R", f"zone{zone}.stat.W"

    def screen(seconds: float) -> Printed:
        def printed() -> str:
            told = scene.dead().waited(seconds).shown({"do": "look", "part": f"zone{zone}.stat"}).text
            return "blank" if "blank" in told else "as before"

        return printed

    return (
        volts(scene, *stat),
        volts(scene.calling(zone), *stat),
        volts(scene, f"zone{zone}.valve.HA", f"zone{zone}.valve.HB"),
        screen(SHORT_WAIT),
        screen(TWO_MINUTES),
    )


cells_open, cells_closed, cells_heater, cells_soon, cells_later = _lives(1)
old_open, old_closed, old_heater, old_soon, old_later = _lives(2)
fed_open, fed_closed, fed_heater, fed_soon, fed_later = _lives(3)
stealing_open, stealing_closed, stealing_heater, stealing_soon, stealing_later = _lives(4)
triac_open, triac_closed, triac_heater, triac_soon, triac_later = _lives(1, TRIAC)


def short_wait() -> str:
    """When the screen is looked at first."""
    return span_text(SHORT_WAIT)


def long_wait() -> str:
    """When it is looked at again."""
    return span_text(TWO_MINUTES)


def _milli(scene: Scene, wire: str) -> Printed:
    return lambda: f"{1000 * scene.shown({'do': 'clamp', 'wire': wire, 'turns': 10}).reading.value:.0f} mA"


stealing_amps, fed_amps = _milli(HEALTHY, "zone4.W leg"), _milli(HEALTHY, "zone3.C leg")
weak_across, weak_amps = volts(WEAK_CELLS.calling(1), *STAT), amps(WEAK_CELLS.calling(1), W_LEG)
base_sound = volts(HEALTHY, "zone3.stat.R", "zone3.stat.C", LOW_Z)
base_open = volts(C_OPEN, "zone3.stat.R", "zone3.stat.C", LOW_Z)
base_open_far = volts(C_OPEN, "zone3.stat.R", C, LOW_Z)
coil_off = volts(PANEL, "zone1.relay.A1", "zone1.relay.A2")
coil_lifted = volts(PANEL.lifted("zone1.stat.W"), "zone1.relay.A1", "zone1.relay.A2")
_OFF_AGAIN = PANEL.calling(1).waited(LATER).calling(1, on=False).waited(LATER)
held_heater = volts(_OFF_AGAIN, *HEATER)


def starves_after() -> str:
    """From a heater lead lifted to a blank screen."""
    return span_text(HEALTHY.lifted("zone4.valve.HA").seconds_to("the screen of stat 4 goes blank"))


# C and W exchanged: the first call is a short.
_REFITTED = C_W_EXCHANGED.after({"do": "fit", "part": "fuse"}).waited(LATER)
exchanged_idle = volts(_REFITTED, "zone3.stat.R", "zone3.stat.C")
exchanged_amps = amps(_REFITTED.calling(3), FEED, 1)
_APART = C_W_EXCHANGED.dead().lifted("zone3.stat.C").lifted("zone3.stat.W")
exchanged_on_c, exchanged_on_w = (ohms(_APART, f"zone3.stat.{letter} lead", C) for letter in "CW")


# The cable: volts at both ends, then ohms with both ends off.
def _cable(scene: Scene) -> tuple[Printed, ...]:
    """R at the stat, W at the stat and W behind the cable to C with stat 1 up; W behind the cable with it down."""
    up = scene.calling(1)
    return (
        volts(up, STAT[0], C, LOW_Z),
        volts(up, STAT[1], C, LOW_Z),
        volts(up, NEAR[1], C, LOW_Z),
        volts(scene, NEAR[1], C, LOW_Z),
    )


cable_r, cable_w, cable_near, cable_down = _cable(HEALTHY)
ropen_r, ropen_w, ropen_near, ropen_down = _cable(R_OPEN)
wopen_r, wopen_w, wopen_near, wopen_down = _cable(W_OPEN)
shorted_r, shorted_w, shorted_near, shorted_down = _cable(CABLE_SHORT)


def _off(scene: Scene) -> Scene:
    """Both conductors of the cable to stat 1 off at both ends, supply off."""
    for terminal in (*FAR, *NEAR):
        scene = scene.lifted(terminal)
    return scene


def _ends(scene: Scene) -> tuple[Printed, Printed]:
    """Ohms at the panel's ends with the stat's ends apart, then joined."""
    off = _off(scene.dead())
    joined = off.after(_jumper(*(f"{end} lead" for end in FAR)))
    pair = tuple(f"{end} lead" for end in NEAR)
    return ohms(off, *pair), ohms(joined, *pair)


apart_sound, joined_sound = _ends(HEALTHY)
apart_open, joined_open = _ends(W_OPEN)
landed = ohms(HEALTHY.dead(), *FAR)
spare_volts, spare_low_z = (volts(SPARED, "zone1.spare end at the stat.1", C, how) for how in ("volts", LOW_Z))


# Screws, settings and things that are left behind.
def _screen(scene: Scene, sentence: int) -> Printed:
    """One sentence of what a look at stat 1 tells."""
    return lambda: scene.shown(_LOOK).text.split(". ")[sentence].rstrip(".") + "."


two_r_c, two_h_c, two_w = (volts(NO_JUMPER.calling(1), f"zone1.stat.{letter}", C, LOW_Z) for letter in ("Rc", "Rh", "W"))
y_screw, y_wire = (volts(ON_Y.calling(1), point, C, LOW_Z) for point in (STAT[1], NEAR[1]))
forgotten_across = volts(FORGOTTEN.calling(1), "zone1.R splice.1", "zone1.R splice.2")
burnt_across, burnt_good = (volts(scene.calling(2), "zone2.stat.R", "zone2.stat.W") for scene in (BURNT, HEALTHY))
set_back_screen = _screen(SET_BACK, 1)
set_back_idle, set_back_up = volts(SET_BACK, *STAT), amps(SET_BACK.calling(1), W_LEG)
_AGAIN = RESTING.calling(1).calling(1, on=False).calling(1)
resting_screen = _screen(_AGAIN, 0)
resting_across = volts(_AGAIN, *STAT)
loose_amps, nudged_amps = (
    amps(scene, W_LEG) for scene in (LOOSE.calling(1), LOOSE.calling(1).after({"do": "nudge", "part": "zone1.stat"}))
)


def rests() -> str:
    """How long that stat waits."""
    return span_text(_AGAIN.seconds_to("stat 1 calls for heat"))
