"""The main numbers of the pages on step-down power and thermostat switching, worked by hand: one source, loops in parallel."""

import math
import re
from itertools import pairwise

import pytest

from solvers.chapters import (
    step_down_fault_readings,
    step_down_readings,
    step_down_worked,
    thermostat_readings,
    thermostat_wall_readings,
    thermostat_worked,
)

POWER_MODULES = (step_down_readings, step_down_fault_readings, step_down_worked)
STAT_MODULES = (thermostat_readings, thermostat_wall_readings, thermostat_worked)
NUMBER = re.compile(r"\d+(?:\.\d+)?")
FOOT_18 = 6.385 / 1000  # ohm, one conductor of 18 AWG
METER = 10e6  # ohm
LEADS = 0.2  # ohm


def _printed(modules, name):
    """What a name that one of these modules has to print gives."""
    (module,) = (each for each in modules if name in each.__all__)
    return getattr(module, name)()


def _agrees(by_hand, printed):
    """Same words, and numbers within one of the last digit that is printed."""
    assert NUMBER.sub("#", by_hand) == NUMBER.sub("#", printed)
    for mine, other in zip(NUMBER.findall(by_hand), NUMBER.findall(printed), strict=True):
        assert float(mine) == pytest.approx(float(other), abs=1.01 * 10.0 ** -len(other.partition(".")[2]))


def _v(volts):
    return f"{volts:.1f} V" if volts >= 1 else f"{volts:.2f} V"


def _span(seconds):
    if math.isinf(seconds):
        return "never"
    whole = round(seconds)
    return f"{whole} s" if whole < 120 else f"{whole // 60} min {whole % 60:02d} s"


# The mill: each branch from the R bus to the C bus, behind fuse and trunk.
EMF, ZS, FUSE, TRUNK = 27.8, 2.0, 0.04, 0.02
HEATER, LEG, STAT, RETURN = 29.6, 45 * FOOT_18 + 0.004, 0.07, 0.02
BRANCH = HEATER + 2 * LEG + STAT + RETURN


def _mill(zones, *, emf=EMF, source=ZS, fuse=FUSE):
    """Amperes in all, R to C, behind the fuse, across each heater."""
    amps = emf / (source + fuse + TRUNK + BRANCH / zones)
    return amps, emf - amps * source, emf - amps * (source + fuse), amps / zones * HEATER


def _click(volts, air=19.0):
    """The first-order wax of a typical heat motor: 6 K/W, 108 s, end at 90 degC."""
    final = air + 6.0 * volts**2 / HEATER
    return _span(108.0 * math.log((final - air) / (final - 90.0))) if final > 90 else "never"


ONE, BOTH, THREE, FOUR, SIX = (_mill(zones) for zones in (1, 2, 3, 4, 6))
CLIP = _mill(2, fuse=4.0)
SMALL = _mill(2, emf=28.0, source=4.8)
SUPPER = _mill(2, emf=EMF * 104 / 120)
ON_208 = _mill(1, emf=EMF * 120 / 208)
ON_240 = _mill(1, emf=EMF * 120 / 240)
SHORT = EMF / (ZS + FUSE + TRUNK + 2 * LEG + STAT + 1 / (1 / 0.3 + 1 / HEATER))

POWER = {
    "source_idle": _v(EMF),
    "source_one": _v(ONE[1]),
    "source_both": _v(BOTH[1]),
    "heater_both": _v(BOTH[3]),
    "amps_both": f"{BOTH[0]:.2f} A",
    "fuse_both": _v(BOTH[0] * FUSE),
    "three_va": f"{THREE[0] * THREE[1]:.1f} VA",
    "three_share": f"{100 * THREE[0] * THREE[1] / 40:.0f} %",
    "three_click": _click(THREE[3]),
    "four_heater": _v(FOUR[3]),
    "four_cold": _click(FOUR[3], 5.0),
    "six_heater": _v(SIX[3]),
    "six_click": _click(SIX[3]),
    "six_cold": _click(SIX[3], 5.0),
    "idle_low_line": _v(EMF * 108 / 120),
    "idle_high_line": _v(EMF * 126 / 120),
    "on_208_idle": _v(EMF * 120 / 208),
    "on_208_heater": _v(ON_208[3]),
    "on_208_click": _click(ON_208[3]),
    "on_240_idle": _v(EMF / 2),
    "on_240_heater": _v(ON_240[3]),
    "higher_idle": _v(EMF * 208 / 240),
    "danger_idle": _v(2 * EMF),
    "spare_between": "32.0 V",
    "short_one": f"{2 * LEG + STAT + 1 / (1 / 0.3 + 1 / HEATER) + LEADS:.1f} ohms",
    "load_one": f"{BRANCH + TRUNK + LEADS:.1f} ohms",
    "load_both": f"{BRANCH / 2 + TRUNK + LEADS:.1f} ohms",
    "refit_amps": f"{SHORT:.3g} A",
    "clip_drop": _v(CLIP[0] * 4.0),
    "clip_source": _v(CLIP[1]),
    "clip_heater": _v(CLIP[3]),
    "small_heater": _v(SMALL[3]),
    "small_share": f"{100 * SMALL[0] * SMALL[1] / 20:.0f} %",
    "low_idle": _v(EMF * 104 / 120),
    "low_heater": _v(SUPPER[3]),
}
"""Readings of the mill by Ohm's law."""

VA = 24**2 / HEATER
MIXED = 2 * VA + 3 * 6.5 * (0.6 + 0.8j) + 3 * complex(0.4, math.sqrt(1 - 0.4**2))
FULL = EMF - ZS * 40 / 24


def _open_after(times):
    """Straight on log-log paper between 1.35 (an hour), 2 (60 s), 3 (1 s) and 5 (0.2 s) times the rating."""
    points = ((1.35, 3600.0), (2.0, 60.0), (3.0, 1.0), (5.0, 0.2))
    (x0, t0), (x1, t1) = next(pair for pair in pairwise(points) if pair[0][0] <= times < pair[1][0])
    return t0 * (t1 / t0) ** (math.log(times / x0) / math.log(x1 / x0))


SUMS = {
    "heater_va": f"{VA:.1f} VA",
    "three_sum": f"{3 * VA + 3:.1f} VA",
    "three_wanted": f"{(3 * VA + 3) / 0.8:.1f} VA",
    "three_size": "100 VA",
    "two_size": "50 VA",
    "stats_size": "75 VA",
    "motors_sum": "29.0 VA",
    "motors_size": "40 VA",
    "mixed_sum": f"{2 * VA + 22.5:.1f} VA",
    "mixed_phasor": f"{abs(MIXED):.1f} VA",
    "mixed_over": f"{100 * ((2 * VA + 22.5) / abs(MIXED) - 1):.0f} %",
    "fuse_rule": f"{1.8 * 40 / 24:.2f} A",
    "ceiling_mill": f"{100 / EMF:.2f} A",
    "ceiling_big": f"{100 / 26.5:.2f} A",
    "fuses_mill": "2 A or 3 A",
    "fuses_big": "3 A or 3.5 A",
    "three_fuse_share": f"{100 * THREE[0] / 3:.0f} %",
    "three_amps_share": f"{100 * THREE[0] / (40 / 24):.0f} %",
    "own_opens": _span(_open_after(SHORT / 3)),
    "bigger_opens": _span(_open_after(SHORT / 5)),
    "full_volts": _v(FULL),
    "regulation": f"{100 * (EMF - FULL) / FULL:.1f} %",
    "regulation_other": f"{100 * (EMF - FULL) / EMF:.1f} %",
    "short_bound": f"{EMF / ZS:.1f} A",
}
"""The sums, of the mill and of loads on paper."""

# The gallery: what the C-powered stat and the power-stealing one take is there all the time.
G_EMF, G_ZS = 26.6, 0.66
STEALS = 1000.0 + 31.2 + 2 * (30 * FOOT_18 + 0.004) + 0.02
FED = 480.0 + 2 * (65 * FOOT_18 + 0.004)
LEG_1 = 50 * FOOT_18 + 0.004


def _zone_1(stat=0.04, joint=0.0):
    """Amperes in zone 1 and volts between the buses while it calls."""
    loop = 29.8 + 2 * LEG_1 + stat + joint + 0.02
    others = 1 / STEALS + 1 / FED
    buses = G_EMF / (1 + (G_ZS + 0.04 + 0.02) * (1 / loop + others))
    return buses / loop, buses


CALL, FIVE, FIFTEEN = (_zone_1(ohms)[0] for ohms in (0.04, 5.0, 15.0))
BAD = _zone_1(joint=6.0)[0]
IDLE = G_EMF / (1 + (G_ZS + 0.06) * (1 / STEALS + 1 / FED))


def _ghost():
    """The spare hangs between R and W of its cable: two capacitances of 50 ft at 80 pF a metre, one to R and one to C."""
    stray = 1 / (2j * math.pi * 60 * 80e-12 * 50 * 0.3048)
    low = 1 / (1 / stray + 1 / METER)
    return IDLE * abs(low / (stray + low))


STATS = {
    "across_idle": _v(IDLE),
    "across_call": _v(CALL * 0.04),
    "amps_call": f"{CALL:.3f} A",
    "heater_call": _v(CALL * 29.8),
    "leg_call": _v(CALL * (LEG_1 - 0.004)),
    "jump_stuck_base": f"{CALL:.3f} A",
    "jump_r_base": "0 A",
    "five_across": _v(FIVE * 5),
    "five_amps": f"{FIVE:.3f} A",
    "five_heater": _v(FIVE * 29.8),
    "fifteen_heater": _v(FIFTEEN * 29.8),
    "fifteen_click": "never",
    "joint_bad": _v(BAD * 6),
    "joint_amps": f"{BAD:.3f} A",
    "stealing_amps": f"{1000 * IDLE / STEALS:.0f} mA",
    "stealing_heater": _v(IDLE / STEALS * 31.2),
    "fed_amps": f"{1000 * IDLE / FED:.0f} mA",
    "joined_sound": f"{2 * (LEG_1 - 0.004) + LEADS:.1f} ohms",
    "joined_open": "OL",
    "spare_volts": _v(_ghost()),
    "rests": "5 min 00 s",
    "starves_after": "60 s",
}
"""Readings of the gallery by Ohm's law."""


def _anticipated(mark):
    """Kelvin of false heat in the end: watts in the element at its mark, 12 K for each."""
    element = 0.12 / mark**2
    loop = 30.6 + 2 * (40 * FOOT_18 + 0.004) + 0.05 + element + 0.02
    buses = G_EMF / (1 + (G_ZS + 0.06) * (1 / loop + 1 / STEALS + 1 / FED))
    kelvin = (buses / loop) ** 2 * element * 12
    return f"{kelvin:.1f} \u00b0C ({kelvin * 1.8:.1f} \u00b0F)"


STAT_SUMS = {
    "contact_watts": f"{FIVE**2 * 5:.1f} W",
    "joint_watts": f"{BAD**2 * 6:.1f} W",
    "low_heat": _anticipated(0.4),
    "right_heat": _anticipated(0.8),
    "high_heat": _anticipated(1.2),
    "right_element": f"{0.12 / 0.8**2:.3f} ohms",
    "thrice_long": "10 min",
}
"""What is worked out from them."""

BY_HAND = [
    (modules, name, text)
    for modules, worked in ((POWER_MODULES, POWER | SUMS), (STAT_MODULES, STATS | STAT_SUMS))
    for name, text in worked.items()
]


@pytest.mark.parametrize(("modules", "name", "by_hand"), BY_HAND, ids=[name for _, name, _ in BY_HAND])
def test_readings_agree_with_the_sums_of_two_houses(modules, name, by_hand):
    """What the pages print is what parallel loops behind one source give by hand, within one of its last digit."""
    _agrees(by_hand, _printed(modules, name))


def test_the_page_on_power_argues_from_readings_that_hold():
    """The comparisons that it makes in words are true of what it prints."""

    def read(name):
        return float(NUMBER.search(_printed(POWER_MODULES, name))[0])

    assert read("source_idle") > read("source_one") > read("source_both") > 24
    assert read("two_share") < 100 < read("three_share")
    counts = ("one", "two", "three", "four", "five", "six")
    assert "never" not in [_printed(POWER_MODULES, f"{count}_click") for count in counts]
    assert "never" != _printed(POWER_MODULES, "four_cold")
    assert ["never", "never"] == [_printed(POWER_MODULES, f"{count}_cold") for count in ("five", "six")]
    assert read("blown_idle") > 20 > 0.5 > read("blown_low_z")
    assert read("wax_208") < read("wax_moves")
    assert read("three_fuse_share") < 100 < read("three_amps_share")
    assert _printed(POWER_MODULES, "both_predicted") == _printed(POWER_MODULES, "source_both")
    assert _printed(POWER_MODULES, "short_none") == _printed(POWER_MODULES, "load_none") == "OL"
    assert _printed(POWER_MODULES, "short_other") == _printed(POWER_MODULES, "load_one")
    assert _printed(POWER_MODULES, "danger_amps") == "0 A"


def test_each_open_place_of_a_dead_supply_reads_unlike_the_others():
    """Of what can be open, only a switch and a bad joint in the feed read alike, and the page says so."""
    places = ("sound", "off", "joint", "primary", "secondary", "fuse", "tripped")
    kinds = ("source", "behind", "panel", "primary", "ohms")
    rows = {
        place: (
            *(_printed(POWER_MODULES, f"{place}_{kind}") for kind in kinds),
            {"secondary": "OL"}.get(place, ""),  # a lifted secondary parts it from a breaker inside
        )
        for place in places
    }
    alike = {frozenset((a, b)) for a in places for b in places if a != b and rows[a] == rows[b]}
    assert {frozenset(("off", "joint"))} == alike
    assert _printed(POWER_MODULES, "winding_open") == "OL" != _printed(POWER_MODULES, "winding_sound")


def test_the_page_on_stats_argues_from_readings_that_hold():
    """The comparisons that it makes in words are true of what it prints."""

    def text(name):
        return _printed(STAT_MODULES, name)

    def number(name):
        return float(NUMBER.search(text(name))[0])

    cases = ("down", "up", "fuse", "r_open", "stuck", "heater_down", "heater_up", "short")
    rows = [tuple(text(f"{case}_{kind}") for kind in ("across", "supply", "r", "w", "amps")) for case in cases]
    assert len({*rows}) == len(rows) - 1  # a contact that never closes reads as one does that is down
    assert text("fuse_down_across") == text("fuse_across") == "0 V"
    assert number("jump_stuck_base") == pytest.approx(number("up_amps"), abs=0.0015)
    assert text("jump_r_panel") == text("jump_w_panel") != text("jump_heater_panel") == "0 A"
    assert [text(f"{kind}_later") for kind in ("cells", "old", "fed", "stealing")] == ["as before", "as before", "blank", "blank"]
    assert text("stealing_soon") == "as before"
    assert number("base_open_far") > 20
    assert text("base_open").endswith("mV")
    assert number("spare_volts") > 5 > 0.5 > number("spare_low_z")
    assert number("coil_off") < 18.5
    assert number("held_heater") > 20
    assert number("exchanged_on_c") > 20 > number("exchanged_on_w")
    assert number("cable_r") > 20
    assert text("ropen_r") == text("wopen_near")
    assert number("shorted_down") > 20
    assert "set-back" in text("set_back_screen")
    assert "waits" in text("resting_screen")
