"""What the pages on the meter, on safe work and on wiring as found print, against arithmetic by hand."""

import math
import re
from xml.etree import ElementTree

import pytest

from solvers.chapters import as_found_readings, meter_act_readings, meter_readings, safe_work_readings
from solvers.pictures.found_examples import cottage_ladder, cottage_wires
from solvers.pictures.meter_examples import inn_ladder
from solvers.plant.demo_supplies import inn
from solvers.plant.found_demo import cottage
from solvers.plant.running import at_rest, called, waited

MODULES = (meter_readings, meter_act_readings, safe_work_readings, as_found_readings)
NUMBER = re.compile(r"\d+(?:\.\d+)?")
KFT, SPLICE, LEADS = 6.385, 0.004, 0.2  # 18 AWG ohms per 1000 ft; a good splice; the meter's own leads

# The workshop: one series loop a zone, ohms from the transformer's R round to its C.
EMF, SOURCE, SOURCE_DC, FUSE, TRUNK, RETURN = 27.8, 1.7, 1.0, 0.06, 0.02, 0.02
HEATER, STAT, LEG = 31.2, 0.07, 80 * KFT / 1000 + SPLICE
OFFICE = 2 * (45 * KFT / 1000 + SPLICE) + 0.03 + 28.1 + RETURN
HALL = 2 * LEG + STAT + HEATER + RETURN
SHARED = SOURCE + FUSE + TRUNK
AMPS = EMF / (SHARED + HALL)
BOTH = EMF / (SHARED + 1 / (1 / HALL + 1 / OFFICE))
ROTTEN, WEAK, LAMP = 6.5, 4.6, 29.0
SHORTED = HALL - HEATER - RETURN + 1 / (1 / 0.4 + 1 / (HEATER + RETURN))  # bare ends beside heater and return
AMPS_ROTTEN = EMF / (SHARED + HALL + ROTTEN)
AMPS_WEAK = EMF / (SHARED - SOURCE + WEAK + HALL)
BACK = SHARED - SOURCE + SOURCE_DC + HALL - HEATER  # what an ohmmeter finds beside heater 1, its stat closed
T_T = 25.2 / (2.1 + 115 + 2 * 20 * KFT / 1000)

# The cottage.
C_EMF, C_HEATER, C_SWITCH = 27.3, 28.9, 0.12
C_LOOP = 1.8 + 0.06 + (2 + 30 + 45 + 45 + 2 + 30) * KFT / 1000 + 2 * SPLICE + 0.06 + C_HEATER


def _terrace(zones):
    """Volts behind the fuse of four flats on one transformer, so many calling."""
    loads = [2 * feet * KFT / 1000 + 0.06 + ohms + 0.02 for ohms, feet in ((30.4, 40), (29.1, 55), (31.0, 70), (28.6, 85))]
    load = 0.03 + 1 / sum(1 / each for each in loads[:zones])
    return 27.6 * load / (2.0 + 0.05 + load)


def _click(amps, air):
    """First-order wax of valve 1 of the workshop, from the air's temperature to its end switch."""
    final = air + 6.2 * amps**2 * HEATER
    return 112.0 * math.log((final - air) / (final - 89.0))


BY_HAND = {
    "source_one": f"{EMF - AMPS * (SOURCE + FUSE):.1f} V",
    "source_both": f"{EMF - BOTH * (SOURCE + FUSE):.1f} V",
    "weak_one": f"{EMF - AMPS_WEAK * (WEAK + FUSE):.1f} V",
    "stat_closed": f"{AMPS * STAT:.2f} V",
    "ha_call": f"{AMPS * (HEATER + RETURN + TRUNK):.1f} V",
    "hb_open_return": f"{EMF:.1f} V",
    "joint_rotten": f"{AMPS_ROTTEN * ROTTEN:.1f} V",
    "joint_amps": f"{AMPS_ROTTEN:.3f} A",
    "joint_watts": f"{AMPS_ROTTEN**2 * ROTTEN:.1f} W",
    "leg_good": f"{AMPS * LEG:.2f} V",
    "lifted_good": f"{HEATER + LEADS:.1f} ohms",
    "in_place_good": f"{1 / (1 / HEATER + 1 / BACK) + LEADS:.1f} ohms",
    "in_place_open": f"{BACK + LEADS:.1f} ohms",
    "beep_open_stat": f"beep, {HEATER + BACK - STAT + LEADS:.1f} ohms",
    "clamp_true": f"{AMPS:.3f} A",
    "clamp_ten_display": f"{10 * AMPS:.2f} A",
    "tt_amps": f"{T_T:.3f} A",
    "click_alone": f"{_click(AMPS, 17.0):.0f} s",
    "click_cold": f"{_click(AMPS, 5.0):.0f} s",
    "source_1": f"{_terrace(1):.1f} V",
    "source_2": f"{_terrace(2):.1f} V",
    "source_3": f"{_terrace(3):.1f} V",
    "source_4": f"{_terrace(4):.1f} V",
    "source_ohms": f"{SOURCE:.2f} ohms",
    "weak_ohms": f"{WEAK:.2f} ohms",
    "in_phase": f"{27.4 - 27.1:.2f} V",
    "against": f"{27.4 + 27.1:.1f} V",
    "lamp_dim": f"{EMF * LAMP / (SHARED - FUSE + LAMP + HALL):.1f} V",
    "lamp_bright": f"{EMF * LAMP / (SHARED - FUSE + LAMP + SHORTED):.1f} V",
    "refit_amps": f"{EMF / (SHARED + SHORTED):.2f} A",
    "short_amps": f"{EMF / (SOURCE + 0.02):.1f} A",
    "wet_amps": f"{EMF:.0f} mA",
    "dry_amps": f"{EMF / 17:.1f} mA",
    "blue_amps": f"{C_EMF / C_LOOP:.3f} A",
    "whole_heater": f"{C_EMF / C_LOOP * C_HEATER:.1f} V",
    "lifted_s": f"{C_EMF:.1f} V",
    "cold_hs": f"{C_HEATER + LEADS:.1f} ohms",
    "held_he": f"{C_HEATER + C_SWITCH + LEADS:.1f} ohms",
    "held_se": f"{C_SWITCH + LEADS:.1f} ohms",
    "e_to_c": f"{124 + 0.8 + 34 * KFT / 1000 + LEADS:.0f} ohms",
    "r_to_t1_live": f"{C_EMF - 26.1:.1f} V",
    "r_to_t1_opposed": f"{C_EMF + 26.1:.1f} V",
}


def _printed(name):
    module = next(module for module in MODULES if name in module.__all__)
    return getattr(module, name)()


def _number(name):
    return float(NUMBER.search(_printed(name)).group())


@pytest.mark.parametrize("name", BY_HAND)
def test_readings_agree_with_hand_arithmetic(name):
    """What the pages print is what Ohm's law and one exponential give by hand, within one of its last digit."""
    by_hand, printed = BY_HAND[name], _printed(name)
    assert NUMBER.sub("#", by_hand) == NUMBER.sub("#", printed)
    for mine, other in zip(NUMBER.findall(by_hand), NUMBER.findall(printed), strict=True):
        assert float(mine) == pytest.approx(float(other), abs=1.01 * 10.0 ** -len(other.partition(".")[2]))


def test_the_page_on_the_meter_argues_from_readings_that_hold():
    """The comparisons that the page on the meter makes in words are true of the readings it prints."""
    assert _printed("weak_idle") == _printed("source_idle")
    assert _number("stat_open_heater") < 0.5 < 20 < _number("stat_low_z")
    assert abs(_number("in_place_good") - _number("in_place_open")) < 0.3
    assert all(_printed(name).startswith("beep") for name in ("beep_open_stat", "beep_winding", "beep_rotten"))
    assert _number("ghost") > 20 > 0.5 > _number("ghost_low_z")
    assert _number("coil_amps") < 0.5 * _number("coil_by_ohms")
    assert _number("clamp_cable") == 0 == _number("stuck_amps") == _number("jumped_dead_feed")
    assert _number("jumped_amps") == pytest.approx(_number("clamp_true"), rel=0.01)
    assert all(_number(f"source_{n}") - _number(f"heater_{n}") == pytest.approx(0.5, abs=0.1) for n in range(1, 5))
    assert _number("trunk_source_4") > _number("source_4")
    assert _number("trunk_heater_4") < _number("heater_4") - 3
    assert _number("board_ac") == 0 < _number("board_dc")
    assert "the boiler starts" == _printed("board_low_z_heard")
    assert _number("welded") == _number("welded_first_lifted") < 0.5 < 20 < _number("welded_second_lifted")
    assert _number("lamp_bright") > 1.5 * _number("lamp_dim")
    assert _number("return_good_pipe") > _number("return_air") + 20
    assert _number("loose_first") == _number("loose_again") > 20 < _number("loose_joint")


def test_the_page_on_safe_work_argues_from_readings_that_hold():
    """A switched-off primary that is fed from behind is nearly as live as before, and an unproven meter shows nothing on it."""
    assert _number("line_neutral_live") == 120 == _number("line_ground_live")
    assert _number("line_neutral_dead") == 0 == _number("line_ground_dead")
    assert 100 < _number("line_neutral_back") < 120
    assert _number("direct_on_live") == 0 == _number("jack_later")
    assert "the meter's fuse has blown" == _printed("jack_first")


def test_the_page_on_wiring_as_found_tells_every_conductor_apart():
    """Of six conductors no two show the same in both tables, and what the page says of each pair is so."""
    rows = {
        wire: tuple(_printed(f"{wire}_{column}") for column in ("idle", "call_1", "call_2", "no_boiler", "to_r", "to_c", "to_t1"))
        for wire in ("r", "c", "w1", "w2", "e", "spare")
    }
    assert len(rows) == len(set(rows.values()))
    assert _number("w1_call_1") > 20 > 1 > _number("w1_call_2")
    assert _number("w2_call_2") > 20 > 1 > _number("w2_call_1")
    assert abs(_number("w2_call_1") - _number("c_call_1")) < 0.1
    assert abs(_number("r_idle") - _number("e_idle")) < 2 < 20 < _number("r_no_boiler")
    assert _number("e_open_1") < 0.5
    assert _number("spare_idle") > 10 > 0.5 > _number("spare_low_z")
    assert _number("blue_amps_open") == pytest.approx(_number("blue_amps") + _number("t2_amps"), abs=0.01)
    assert _number("white_amps") == 0 == _number("lifted_heater") == _number("lifted_heater_2")
    assert ["OL", "OL"] == [_printed(name) for name in ("cold_he", "cold_se")]


@pytest.mark.parametrize(
    ("drawn", "house"),
    [(cottage_wires, cottage()), (cottage_ladder, cottage()), (inn_ladder, inn())],
    ids=lambda value: getattr(value, "__name__", ""),
)
def test_the_drawings_show_every_conductor(drawn, house):
    """Each drawing of these pages has every conductor of its house once, under its own name."""
    root = ElementTree.fromstring(drawn())
    shown = [group.get("data-wire") for group in root.iter() if group.get("class") == "wire"]
    assert sorted(wire.name for wire in house.conductors) == sorted(shown)


def test_the_cottage_works_and_nothing_in_it_is_crowded():
    """Either stat of the cottage opens its own valve alone, and that calls the boiler."""
    house = cottage()
    assert () == house.crowded()
    for zone, other in (("zone1", "zone2"), ("zone2", "zone1")):
        state, _ = waited(house, called(house, at_rest(house), f"{zone}.stat", True), 300.0)
        assert 1.0 == state.of(f"{zone}.valve").opening
        assert 0.0 == state.of(f"{other}.valve").opening
        assert state.of("boiler").called
