"""The numbers of the pages on end switches and on service calls: right by sums that know nothing of the package."""

import cmath
import importlib
import math
import re

import pytest

MODULES = (
    "end_switch_readings",
    "end_switch_contacts",
    "end_switch_causes",
    "service_call_readings",
    "service_call_stages",
)
NUMBER = re.compile(r"\d+(?:\.\d+)?")


def _printed(name):
    found = [module for module in map(_module, MODULES) if name in module.__all__]
    assert len(found) == 1, name
    return getattr(found[0], name)()


def _module(name):
    return importlib.import_module(f"solvers.chapters.{name}")


def _number(name):
    return float(NUMBER.search(_printed(name)).group())


# The lodge: equal loops side by side on one source; ohms by 18 AWG, two legs of 50 ft, stat and return.
HEATER = 29.6
LOOP = HEATER + 2 * 50 * 6.385 / 1000 + 0.06 + 0.02
E40, Z40, E75, Z75 = 27.6, 2.1, 27.1, 0.96
FUSE, TRUNK, JOINT = 0.05, 0.03, 4.0
AIR, RESISTANCE, TAU, END = 19.0, 6.0, 110.0, 90.0  # degC, K/W, s, degC


def _lodge(zones, emf, source, trunk=TRUNK):
    """Amperes of the source, volts behind its fuse, and volts across a heater."""
    amps = emf / (source + FUSE + trunk + LOOP / zones)
    return amps, emf - amps * (source + FUSE), amps / zones * HEATER


def _click(volts, air=AIR):
    """First-order wax, from the air's temperature to the end of its stroke, as the page prints a time."""
    final = air + RESISTANCE * volts**2 / HEATER
    if final <= END:
        return "never"
    seconds = TAU * math.log((final - air) / (final - END))
    return f"{seconds // 60:.0f} min {seconds % 60:.0f} s" if seconds >= 180 else f"{seconds:.0f} s"


def _staged():
    by_hand = {}
    for zones in range(1, 7):
        amps, source, heater = _lodge(zones, E40, Z40)
        by_hand[f"six_source_{zones}"] = f"{source:.1f} V"
        by_hand[f"six_va_{zones}"] = f"{amps * source:.1f} VA"
        by_hand[f"six_heater_{zones}"] = f"{heater:.1f} V"
        by_hand[f"six_click_{zones}"] = _click(heater)
        by_hand[f"six_cold_{zones}"] = _click(heater, 5.0)
    for zones in range(1, 5):
        amps, source, heater = _lodge(zones, E75, Z75, TRUNK + JOINT)
        by_hand[f"joint_source_{zones}"] = f"{source:.1f} V"
        by_hand[f"joint_drop_{zones}"] = f"{amps * (TRUNK + JOINT):.1f} V"
        by_hand[f"joint_heater_{zones}"] = f"{heater:.1f} V"
    by_hand["joint_watts"] = f"{amps**2 * (TRUNK + JOINT):.1f} W"
    amps, source, heater = _lodge(6, E40, Z40)
    by_hand["six_amps"] = f"{amps:.2f} A"
    by_hand["six_share"] = f"{100 * amps * source / 40:.0f} %"
    by_hand["six_source_ohms"] = f"{Z40 + FUSE:.2f} ohms"
    for name, trunk in (("thin", 80 * 16.143 / 1000), ("thick", 80 * 2.525 / 1000)):
        amps, _, heater = _lodge(4, E75, Z75, trunk)
        by_hand[f"{name}_heater_4"] = f"{heater:.1f} V"
        by_hand[f"{name}_drop_4"] = f"{amps * trunk:.2f} V" if amps * trunk < 1 else f"{amps * trunk:.1f} V"
    return by_hand


# The boathouse: both sources in series round two loops that have lost their return.
REST = 2 * (Z40 + FUSE) + 2 * (LOOP - HEATER)
PAIR = 2 * E40 / (REST + 2 * HEATER)
MOTOR = 54 + 72j
UNEQUAL = 2 * E40 / (REST + HEATER + MOTOR)
BUS = E40 - UNEQUAL * (Z40 + FUSE + LOOP)

# The farmhouse's second transformer: a heater and a motor side by side, as phasors.
SECOND, SECOND_Z = 27.3, 2.0
THREE = 30.9 + 2 * 50 * 6.385 / 1000 + 0.06 + 0.02
FOUR = MOTOR + 2 * 70 * 6.385 / 1000 + 0.06 + 0.02
SIDE = 1 / (1 / THREE + 1 / FOUR)
FEED = SECOND / (SECOND_Z + FUSE + TRUNK + SIDE)
OVER = FEED * SIDE
SEEN = abs(SECOND - FEED * (SECOND_Z + FUSE))

# The schoolhouse's relay, and the workshop's oxidised contact.
COIL, REACTANCE = 70.0, 187.0
IMPEDANCE = math.hypot(COIL, REACTANCE)
OXIDE = 25.2 / (140.0 + 115.0 + 2.1 + 2 * 20 * 6.385 / 1000)
LIVE = 26.4 + 26.9  # V; the bungalow's two sources opposed, round valve 1's heater, which holds the middle of them

BY_HAND = {
    **_staged(),
    "lost_pair_amps": f"{PAIR:.2f} A",
    "lost_pair_first": f"{PAIR * HEATER:.1f} V",
    "lost_motor_amps": f"{abs(UNEQUAL):.3f} A",
    "lost_motor_heater": f"{abs(UNEQUAL) * HEATER:.1f} V",
    "lost_motor_motor": f"{abs(UNEQUAL * MOTOR):.1f} V",
    "lost_motor_bus": f"{abs(BUS):.1f} V",
    "both_sources": f"{2 * E40:.1f} V",
    "second_third_amps": f"{abs(OVER) / THREE:.1f} A",
    "second_fourth_amps": f"{abs(OVER / FOUR):.3f} A",
    "second_feed_amps": f"{abs(FEED):.3f} A",
    "second_plain_sum": f"{abs(OVER) / THREE + abs(OVER / FOUR):.2f} A",
    "second_plain_va": f"{SEEN * (abs(OVER) / THREE + abs(OVER / FOUR)):.1f} VA",
    "second_true_va": f"{SEEN * abs(FEED):.1f} VA",
    "motor_factor": f"{math.cos(cmath.phase(MOTOR)):.2f}",
    "motor_watts": f"{abs(OVER / FOUR) ** 2 * MOTOR.real:.1f} W",
    "coil_impedance": f"{IMPEDANCE:.0f} ohms",
    "coil_ohms": f"{COIL + 0.2:.1f} ohms",
    "across_oxide": f"{OXIDE * 140:.1f} V",
    "clamp_oxide": f"{OXIDE:.3f} A",
    "left_oxide": f"{OXIDE * 115:.1f} V",
    "phase_same": f"{E40 - SECOND:.2f} V",
    "phase_opposed": f"{E40 + SECOND:.1f} V",
    "cold_hs": f"{30.6 + 0.2:.1f} ohms",
    "made_se": f"{0.1 + 0.2:.1f} ohms",
    "tt_made": f"{26.2 / 122.4 * (0.05 + 2 * 20 * 6.385 / 1000):.2f} V",
    "clamp_made": f"{26.2 / 122.4:.3f} A",
}


@pytest.mark.parametrize("name", BY_HAND)
def test_readings_agree_with_sums_by_hand(name):
    """What the pages print is what ohms, phasors and one exponential give by hand, within one of its last digit."""
    by_hand, printed = BY_HAND[name], _printed(name)
    if " min " in by_hand + printed:
        assert _seconds(by_hand) == pytest.approx(_seconds(printed), rel=0.02)  # splices left out; near "never" they tell
        return
    assert NUMBER.sub("#", by_hand) == NUMBER.sub("#", printed)
    for mine, other in zip(NUMBER.findall(by_hand), NUMBER.findall(printed), strict=True):
        digits = min(len(mine.partition(".")[2]), len(other.partition(".")[2]))
        assert float(mine) == pytest.approx(float(other), abs=1.01 * 10.0**-digits)


def _seconds(text):
    numbers = [float(number) for number in NUMBER.findall(text)]
    return numbers[0] * 60 + numbers[1] if " min " in text else numbers[0]


def test_a_supply_that_faces_another_is_told_by_the_clamp():
    """In phase two supplies leave next to nothing for the boiler's input, opposed nearly their sum, and T-T looks alike."""
    assert abs(_number("tt_live_phase") - _number("tt_live_opposed")) < 2.0
    assert _number("input_phase") < 2.0
    assert 0.9 * LIVE < _number("input_opposed") < LIVE
    assert _number("clamp_live_opposed") > 10 * _number("clamp_live_phase")


def test_the_end_switch_page_argues_from_readings_that_hold():
    """The comparisons that the page makes in words are true of the readings it prints."""
    assert _number("coil_by_ohms") > 2 * _number("coil_amps")
    assert _printed("oxide_beep").startswith("silent")
    assert _printed("welded_beep").startswith("beep")
    assert _number("late_heater") < 0.8 * _number("late_healthy")
    assert _number("across_oxide") > 0.5 * _number("across_idle")
    assert _number("left_mild") > 18.5 > _number("left_oxide") > 7.0
    assert _number("coil_starved_one") > _number("coil_pulls") > _number("coil_starved_two")
    assert _number("coil_starved_three") > _number("coil_drops")
    assert _printed("series_one") == _printed("series_two") == _printed("series_idle") == _printed("series_other_across")
    assert _printed("fuse_story") == "open"
    assert _number("hs_amps") > 10
    assert _number("back_fed") > 100


def test_each_cause_of_a_silent_boiler_has_a_row_of_its_own():
    """No two causes show the same readings, but for the pair that the text parts with one more."""
    columns = ("coil", "contact", "tt", "near", "far")
    causes = ("switch_open", "coil_open", "coil_on_c", "contact_bad", "cable_open", "input_dead", "supply_dead")
    rows = {cause: tuple(_printed(f"{cause}_{column}") for column in columns) for cause in causes}
    assert len(set(rows.values())) == len(rows)
    alike = {tuple(row[1:]) for row in (rows["switch_open"], rows["coil_on_c"])}
    assert len(alike) == 1
    assert max(_number("switch_open_coil"), _number("coil_on_c_coil")) < 0.1


def test_the_service_page_argues_from_readings_that_hold():
    """The comparisons that the page makes in words are true of the readings it prints."""
    assert _number("six_va_2") < 40 < _number("six_va_3")
    assert _number("joint_source_4") > _number("six_source_4") + 3
    assert _number("second_plain_sum") > _number("second_feed_amps")
    assert _number("lost_motor_motor") > _number("motor_burns") > _number("whole_motor")
    assert _number("crossed_one") == 0 < _number("crossed_two")
    assert _number("tied_feed") > 1.8 * _number("sound_feed")
    assert _number("trunk_open_bus") > 20
    assert _number("thin_heater_1") > 24 > _number("thin_heater_4")
