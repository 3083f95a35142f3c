"""The times, temperatures, lengths and impressions that the heater-loops page prints; each name is called without arguments."""

from __future__ import annotations

import math
from collections.abc import Callable

from ..plant import facts
from ..plant.parts import HeatMotorValve
from .heater_loop_house import (
    BAD_JOINT,
    COLD_AIR_DEGC,
    HEALTHY,
    HOT_AIR_DEGC,
    HOUSE,
    LOST_STROKE,
    OPENER_LEFT,
    Scene,
    joint_of,
)

__all__ = [
    "cable_length",
    "click_bad_joint_cold",
    "click_bad_joint_hot",
    "click_bad_joint_indoors",
    "click_both_cold",
    "click_both_hot",
    "click_both_indoors",
    "click_cold",
    "click_hot",
    "click_indoors",
    "click_mild_joint_cold",
    "click_mild_joint_hot",
    "click_mild_joint_indoors",
    "click_warm_valve",
    "cold_air_celsius",
    "cold_air_fahrenheit",
    "end_wax",
    "head_lost_stroke",
    "heard_lost_stroke",
    "heater_mild_joint",
    "hot_air_celsius",
    "hot_air_fahrenheit",
    "indoor_air_celsius",
    "indoor_air_fahrenheit",
    "lever_opener_left",
    "longer_bad_joint",
    "mild_joint_ohms",
    "moving_wax",
    "opening_wax",
    "pipe_lost_stroke",
    "shut_after_hot",
    "shut_after_indoors",
    "shut_wax",
]

Printed = Callable[[], str]

MILD_JOINT_OHMS = 4.0
LONG_CALL = 900.0  # s, after which nothing moves any more
SHORT_REST = 180.0  # s


def celsius(degC: float) -> str:
    """A temperature in both scales.

    >>> celsius(88.5)
    '88.5 \u00b0C (191 \u00b0F)'
    """
    return f"{degC:g} \u00b0C ({degC * 9 / 5 + 32:.0f} \u00b0F)"


def _air(degC: float) -> tuple[Printed, Printed]:
    """Both scales apart, for the narrow heads of a table."""
    one, _, other = celsius(degC).partition(" (")
    return lambda: one, lambda: other.rstrip(")")


def seconds_text(seconds: float) -> str:
    """Seconds as a person with a watch has them; "never" where nothing comes.

    >>> seconds_text(84.7), seconds_text(math.inf)
    ('85 s', 'never')
    """
    return "never" if math.isinf(seconds) else f"{seconds:.0f} s"


def _click(scene: Scene, air: float, *zones: int) -> Printed:
    return lambda: seconds_text(scene.in_air(air).calling(*zones).seconds_to_click())


def _shut(air: float) -> Printed:
    return lambda: seconds_text(HEALTHY.in_air(air).calling(1).waited(LONG_CALL).calling(1, on=False).seconds_to_shut())


INDOOR_DEGC = HOUSE.part("zone1.valve").ambient_degC
MILD_JOINT = joint_of(MILD_JOINT_OHMS)

# Air at valve 1: a crawlspace in winter, the house as it stands, a closet with a boiler in it.
cold_air_celsius, cold_air_fahrenheit = _air(COLD_AIR_DEGC)
indoor_air_celsius, indoor_air_fahrenheit = _air(INDOOR_DEGC)
hot_air_celsius, hot_air_fahrenheit = _air(HOT_AIR_DEGC)

# From the call to the click, by what the heater gets and what air stands around the valve.
click_cold = _click(HEALTHY, COLD_AIR_DEGC, 1)
click_indoors = _click(HEALTHY, INDOOR_DEGC, 1)
click_hot = _click(HEALTHY, HOT_AIR_DEGC, 1)
click_both_cold = _click(HEALTHY, COLD_AIR_DEGC, 1, 2)
click_both_indoors = _click(HEALTHY, INDOOR_DEGC, 1, 2)
click_both_hot = _click(HEALTHY, HOT_AIR_DEGC, 1, 2)
click_mild_joint_cold = _click(MILD_JOINT, COLD_AIR_DEGC, 1)
click_mild_joint_indoors = _click(MILD_JOINT, INDOOR_DEGC, 1)
click_mild_joint_hot = _click(MILD_JOINT, HOT_AIR_DEGC, 1)
click_bad_joint_cold = _click(BAD_JOINT, COLD_AIR_DEGC, 1)
click_bad_joint_indoors = _click(BAD_JOINT, INDOOR_DEGC, 1)
click_bad_joint_hot = _click(BAD_JOINT, HOT_AIR_DEGC, 1)

# From the end of a long call.
shut_after_indoors = _shut(INDOOR_DEGC)
shut_after_hot = _shut(HOT_AIR_DEGC)


def click_warm_valve() -> str:
    """From a second call to the click, three minutes after a long one."""
    warm = HEALTHY.calling(1).waited(LONG_CALL).calling(1, on=False).waited(SHORT_REST)
    return seconds_text(warm.calling(1).seconds_to_click())


def longer_bad_joint() -> str:
    """How many times as long the valve takes behind the bad joint, indoors."""
    times = BAD_JOINT.calling(1).seconds_to_click() / HEALTHY.calling(1).seconds_to_click()
    return f"{times:.1f} times"


def mild_joint_ohms() -> str:
    """The joint that is not yet so bad."""
    return f"{MILD_JOINT_OHMS:.3g} ohms"


def heater_mild_joint() -> str:
    """Volts across heater 1 behind it."""
    return f"{MILD_JOINT.calling(1).heater_volts():.1f} V"


def moving_wax() -> str:
    """Where the stem begins to move on the way up."""
    return celsius(_valve().travel.moves)


def end_wax() -> str:
    """Where the valve is fully open and the end switch makes."""
    return celsius(_valve().end_degC)


def opening_wax() -> str:
    """Where the end switch opens on the way down."""
    return celsius(_valve().travel.closes)


def shut_wax() -> str:
    """Where the valve is shut on the way down."""
    return celsius(_valve().travel.shut)


def cable_length() -> str:
    """One way from the transformer to stat 1."""
    feet = HOUSE.conductor("zone1.R leg").feet
    return f"{feet:.0f} ft ({feet * facts.METRES_PER_FOOT.value:.0f} m)"


def heard_lost_stroke() -> str:
    """What a long call of a head that has lost its stroke lets hear."""
    events = LOST_STROKE.calling(1).waited(LONG_CALL).told().events
    return ", ".join(words for _, words in events) or "nothing"


def head_lost_stroke() -> str:
    """How the head of valve 1 feels after a long call when it has lost its stroke."""
    return _at_valve(LOST_STROKE.calling(1).waited(LONG_CALL), "feel", "head")


def pipe_lost_stroke() -> str:
    """How the pipe beyond it feels then."""
    return _at_valve(LOST_STROKE.calling(1).waited(LONG_CALL), "feel", "pipe")


def lever_opener_left() -> str:
    """How the lever of valve 1 stands when the opener was left engaged."""
    return _at_valve(OPENER_LEFT, "look", "lever")


def _at_valve(scene: Scene, sense: str, thing: str) -> str:
    """What a sense tells about one thing at valve 1: the words behind "is" in its sentence."""
    told = scene.shown({"do": sense, "part": "zone1.valve"}).text
    return next(sentence for sentence in told.split(". ") if sentence.startswith(f"The {thing}")).partition(" is ")[2].rstrip(".")


def _valve() -> HeatMotorValve:
    return HOUSE.part("zone1.valve")
