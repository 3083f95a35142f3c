"""What the page on multi-zone service calls prints where zones are added one at a time, and where nothing is wrong.

Each name is called without arguments and gives a text with its unit.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..faults.changes import PartField
from ..plant import facts
from .end_switch_readings import seconds_text
from .heater_loop_house import Scene
from .heater_loop_times import celsius
from .printed import Printed, amps, volts
from .service_call_house import (
    BAD_TRUNK,
    COLD_DEGC,
    FARMHOUSE,
    ROOMY,
    SIX,
    SOUND,
    THICK_TRUNK,
    THICK_TRUNK_OHMS,
    THIN_TRUNK,
    THIN_TRUNK_OHMS,
    TRUNK_FEET,
    all_in_air,
    calling_first,
)
from .story_houses import STORY_HOUSES
from .visits import ohms_text

__all__ = [
    "cold_air",
    "held_off_says",
    "joint_amps",
    "joint_click_1",
    "joint_click_2",
    "joint_click_3",
    "joint_click_4",
    "joint_drop_1",
    "joint_drop_2",
    "joint_drop_3",
    "joint_drop_4",
    "joint_heater_1",
    "joint_heater_2",
    "joint_heater_3",
    "joint_heater_4",
    "joint_ohms",
    "joint_source_1",
    "joint_source_2",
    "joint_source_3",
    "joint_source_4",
    "joint_watts",
    "near_click_4",
    "near_heater_4",
    "near_va",
    "roomy_heater_4",
    "roomy_nameplate",
    "roomy_va",
    "set_back_across",
    "set_back_amps",
    "set_back_click",
    "six_air",
    "six_amps",
    "six_click_1",
    "six_click_2",
    "six_click_3",
    "six_click_4",
    "six_click_5",
    "six_click_6",
    "six_cold_1",
    "six_cold_2",
    "six_cold_3",
    "six_cold_4",
    "six_cold_5",
    "six_cold_6",
    "six_fuse",
    "six_heater_1",
    "six_heater_2",
    "six_heater_3",
    "six_heater_4",
    "six_heater_5",
    "six_heater_6",
    "six_idle",
    "six_nameplate",
    "six_share",
    "six_source_1",
    "six_source_2",
    "six_source_3",
    "six_source_4",
    "six_source_5",
    "six_source_6",
    "six_source_ohms",
    "six_trunk",
    "six_va_1",
    "six_va_2",
    "six_va_3",
    "six_va_4",
    "six_va_5",
    "six_va_6",
    "sound_nameplate",
    "thick_drop_4",
    "thick_heater_4",
    "thick_ohms",
    "thin_click_4",
    "thin_drop_1",
    "thin_drop_4",
    "thin_heater_1",
    "thin_heater_4",
    "thin_ohms",
    "thin_va",
    "trunk_length",
]

SOURCE = "fuse.out", "transformer.C"
TRUNK = "C bus.zone1", "transformer.C"
HEATER = "zone1.valve.HA", "zone1.valve.HB"
STAT = "zone1.stat.R", "zone1.stat.W"
MOST = 6


def _staged(scene: Scene, first: str, second: str, count: int = MOST) -> Iterator[Printed]:
    """Volts between two points with one zone on call, with two, and so on."""
    return (volts(calling_first(scene, zones), first, second) for zones in range(1, count + 1))


def _clicks(scene: Scene, count: int = MOST) -> Iterator[Printed]:
    """From the call of one zone, of two and so on, all from cold, to the first click."""
    return (lambda zones=zones: seconds_text(calling_first(scene, zones).seconds_to_click()) for zones in range(1, count + 1))


def _va(scene: Scene, zones: int) -> Printed:
    """Volts times amperes of the transformer with so many zones on call."""

    def told() -> str:
        there = calling_first(scene, zones)
        feed = there.shown({"do": "clamp", "wire": "R feed", "turns": 10}).reading.value
        return f"{there.volts(*SOURCE) * feed:.1f} VA"

    return told


# Six equal zones on 40 VA, indoors and in the cold.
six_idle = volts(SIX, *SOURCE)
six_source_1, six_source_2, six_source_3, six_source_4, six_source_5, six_source_6 = _staged(SIX, *SOURCE)
six_heater_1, six_heater_2, six_heater_3, six_heater_4, six_heater_5, six_heater_6 = _staged(SIX, *HEATER)
six_va_1, six_va_2, six_va_3, six_va_4, six_va_5, six_va_6 = (_va(SIX, zones) for zones in range(1, MOST + 1))
six_click_1, six_click_2, six_click_3, six_click_4, six_click_5, six_click_6 = _clicks(SIX)
six_cold_1, six_cold_2, six_cold_3, six_cold_4, six_cold_5, six_cold_6 = _clicks(all_in_air(SIX, MOST, COLD_DEGC))
six_amps = amps(calling_first(SIX, MOST), "R feed")
six_trunk = volts(calling_first(SIX, MOST), *TRUNK)


def six_share() -> str:
    """What six zones ask of the transformer, of its nameplate."""
    there = calling_first(SIX, MOST)
    feed = there.shown({"do": "clamp", "wire": "R feed", "turns": 10}).reading.value
    return f"{100 * there.volts(*SOURCE) * feed / SIX.house.part('transformer').va:.0f} %"


def six_fuse() -> str:
    """What its fuse is marked."""
    return f"{SIX.house.part('fuse').amps:g} A"


def six_nameplate() -> str:
    """What the transformer is marked."""
    return f"{SIX.house.part('transformer').va:g} VA"


def six_source_ohms() -> str:
    """Its source impedance, from the sag of one zone and its amperes."""
    one = calling_first(SIX, 1)
    feed = one.shown({"do": "clamp", "wire": "R feed", "turns": 10}).reading.value
    return ohms_text((SIX.volts(*SOURCE) - one.volts(*SOURCE)) / feed)


def six_air() -> str:
    """Air at the valves of the lodge."""
    return celsius(SIX.house.part("zone1.valve").ambient_degC)


def cold_air() -> str:
    """The same on a winter morning in a crawlspace."""
    return celsius(COLD_DEGC)


# A bad joint in the trunk of four zones on 75 VA.
joint_source_1, joint_source_2, joint_source_3, joint_source_4 = _staged(BAD_TRUNK, *SOURCE, 4)
joint_drop_1, joint_drop_2, joint_drop_3, joint_drop_4 = _staged(BAD_TRUNK, *TRUNK, 4)
joint_heater_1, joint_heater_2, joint_heater_3, joint_heater_4 = _staged(BAD_TRUNK, *HEATER, 4)
joint_click_1, joint_click_2, joint_click_3, joint_click_4 = _clicks(BAD_TRUNK, 4)
joint_amps = amps(calling_first(BAD_TRUNK, 4), "R feed")


def joint_ohms() -> str:
    """The trunk's ohms, from its drop and the clamp."""
    there = calling_first(BAD_TRUNK, 4)
    return ohms_text(there.volts(*TRUNK) / there.shown({"do": "clamp", "wire": "C trunk", "turns": 10}).reading.value)


def joint_watts() -> str:
    """Heat in the joint."""
    there = calling_first(BAD_TRUNK, 4)
    return f"{there.volts(*TRUNK) * there.shown({'do': 'clamp', 'wire': 'C trunk', 'turns': 10}).reading.value:.1f} W"


# A long common of thin copper, of thick copper, and a transformer at the valves.
thin_heater_1, thin_heater_4 = (volts(calling_first(THIN_TRUNK, zones), *HEATER) for zones in (1, 4))
thin_drop_1, thin_drop_4 = (volts(calling_first(THIN_TRUNK, zones), *TRUNK) for zones in (1, 4))
thick_heater_4, thick_drop_4 = volts(calling_first(THICK_TRUNK, 4), *HEATER), volts(calling_first(THICK_TRUNK, 4), *TRUNK)
near_heater_4, roomy_heater_4 = volts(calling_first(SOUND, 4), *HEATER), volts(calling_first(ROOMY, 4), *HEATER)
thin_va, near_va, roomy_va = (_va(scene, 4) for scene in (THIN_TRUNK, SOUND, ROOMY))
thin_click_4, near_click_4 = (
    lambda scene=scene: seconds_text(calling_first(scene, 4).seconds_to_click()) for scene in (THIN_TRUNK, SOUND)
)


def thin_ohms() -> str:
    """That common in thin copper, 22 AWG."""
    return ohms_text(THIN_TRUNK_OHMS)


def thick_ohms() -> str:
    """The same in thick copper, 14 AWG."""
    return ohms_text(THICK_TRUNK_OHMS)


def trunk_length() -> str:
    """How long it is."""
    return f"{TRUNK_FEET:.0f} ft ({TRUNK_FEET * facts.METRES_PER_FOOT.value:.0f} m)"


def sound_nameplate() -> str:
    """What the transformer of the four zones is marked."""
    return f"{SOUND.house.part('transformer').va:g} VA"


def roomy_nameplate() -> str:
    """The next size."""
    return f"{ROOMY.house.part('transformer').va:g} VA"


# Nothing is wrong.
_SET_BACK = Scene(house=STORY_HOUSES[14]).where(PartField("zone1.stat", "program", "set-back"))
set_back_across = volts(_SET_BACK, *STAT)
set_back_amps = amps(_SET_BACK.calling(1), "zone1.W leg")


def set_back_click() -> str:
    """From turning it up to the click."""
    return seconds_text(_SET_BACK.calling(1).seconds_to_click())


def held_off_says() -> str:
    """The display of a boiler that its warm-weather shutdown holds off."""
    there = FARMHOUSE.where(PartField("boiler", "held_off", True)).calling(1).waited(200.0).world()
    return there.installation.part("boiler").display(there.state.of("boiler"))
