"""Zone valves of every kind: what they draw, when they move, what opens and switches. Common practice and memory, no source."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference_circuits import REF_A
from small_benches import across, amps, at_volts, calling, changed, cooling, on_call, times

from solvers.circuit import OPEN, ohms_reading
from solvers.plant.parts import HeatMotorValve, OpenCloseValve, SpringReturnValve, Stat, Transformer, WaxActuator
from solvers.plant.running import at_rest, called, lifted, network, opener_set, switched, waited
from solvers.plant.stroke import Travel
from solvers.plant.topologies import Zone, four_wire
from solvers.plant.wiring import Conductor, Installation

SHELF = [
    *(HeatMotorValve("valve", leads) for leads in (2, 3, 4)),
    *(WaxActuator("valve", leads) for leads in (2, 4)),
    *(SpringReturnValve("valve", leads) for leads in (2, 3, 4)),
    *(OpenCloseValve("valve", leads=leads) for leads in (3, 6)),
]


def _heat_motor(**fields):
    return HeatMotorValve("valve", **{"heater_ohms": 30.0, "ambient_degC": 20.0, **fields})


@pytest.mark.parametrize("valve", SHELF, ids=lambda valve: f"{type(valve).__name__} {valve.leads}")
def test_every_kind_offers_the_same(valve):
    """Each valve has a pair that opens it, an end-switch pair unless it lacks one, and opens once that pair is powered."""
    assert set(valve.drive_pair) <= set(valve.terminals)
    assert valve.switch_pair is None or set(valve.switch_pair) < set(valve.terminals)
    here = at_volts(valve, 24.0)
    cold = at_rest(here)
    assert (0.0, 0.0) == (cold.of("valve").opening, cold.of("valve").flow)
    warm, _ = calling(here, 600)
    assert (1.0, 1.0) == (warm.of("valve").opening, warm.of("valve").flow)
    if valve.switch_pair:
        assert 24.0 > across(here, warm, *valve.switch_pair)
        assert valve.switch_made(warm.of("valve"))


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: HeatMotorValve("valve", 5), "5 leads"),
        (lambda: WaxActuator("valve", 3), "3 leads"),
        (lambda: _heat_motor(opener="by foot"), "by foot"),
        (lambda: _heat_motor(stem="bent"), "bent"),
        (lambda: _heat_motor(switch="sticky"), "sticky"),
        (lambda: _heat_motor(limit="maybe"), "maybe"),
        (lambda: _heat_motor(leak=2.0), "leak 2"),
        (lambda: _heat_motor(insulation_at=-0.1), "insulation_at -0.1"),
        (lambda: _heat_motor(lead_opens_degC=60.0), "remakes colder"),
    ],
)
def test_a_valve_that_cannot_be_is_refused(make, words):
    """A field with an impossible value raises and shows it."""
    with pytest.raises(ValueError, match=words):
        make()


# heat motor -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("degC", "up", "down"), [(60, 0, 0), (70, 0, 0.5), (75, 0, 0.75), (80, 1 / 3, 1), (82.5, 0.5, 1), (90, 1, 1), (200, 1, 1)]
)
def test_stroke_of_a_heat_motor(degC, up, down):
    """Opening follows (T - 75)/15 and closing (T - 60)/20, both held to 0...1."""
    travel = _heat_motor(end_degC=90.0).travel
    assert up == pytest.approx(travel.reached(0.0, degC))
    assert down == pytest.approx(travel.reached(1.0, degC))


@pytest.mark.parametrize("end", [84.0, 90.0, 95.0])
def test_the_end_of_travel_shifts_all_four(end):
    """A head that ends at another temperature moves 15 K below it, opens its switch 10 K and is shut 30 K below it."""
    assert Travel(end - 15, end, end - 10, end - 30) == _heat_motor(end_degC=end).travel


@pytest.mark.parametrize(("ambient", "opens", "shut"), [(5.0, 47, 81), (20.0, 72, 116), (40.0, 116, 193)])
def test_coasting(ambient, opens, shut):
    """From a steady 24 V the end switch opens and the valve is shut after the trade's seconds, to one second."""
    here = at_volts(_heat_motor(ambient_degC=ambient), 24.0)
    hot, _ = calling(here, 7200)
    _, events = cooling(here, hot, 600)
    assert [pytest.approx(opens, abs=1)] == [time - 7200 for time in times(events, "valve end switch opens")]
    assert [pytest.approx(shut, abs=1)] == [time - 7200 for time in times(events, "valve is shut")]


def test_eighteen_volts_moves_and_falls_short():
    """At 18 V and 20 degC the stem starts after 208 s, and the end switch never makes."""
    here = at_volts(_heat_motor(), 18.0)
    state, events = calling(here, 7200)
    assert [pytest.approx(208, abs=1)] == times(events, "valve begins to open")
    assert [] == times(events, "valve end switch makes")
    assert 0 < state.of("valve").opening < 1


def test_reference_a_warms_through_the_bench_loop():
    """The hand-built loop is reference A's: 25.2 V, 0.84 A, and the end switch after 89 s."""
    here = on_call(_heat_motor())
    state, events = calling(here, 200)
    assert (25.2, 0.84) == pytest.approx(
        (across(here, state, "valve.HA", "valve.HB"), amps(here, state, "valve.heater")), abs=0.05
    )
    assert [pytest.approx(89, abs=1)] == times(events, "valve end switch makes")


def test_internal_limit_comes_and_goes():
    """Where a limit is fitted, reference A's heater is on 24 s and off 14 s at full stroke, the switch stays made (NF-05)."""
    here = changed(REF_A, "zone1.valve", limit="fitted")
    state, events = calling(here, 900, "zone1.stat")
    opens, remakes = times(events, "zone1.valve limit opens"), times(events, "zone1.valve limit remakes")
    assert 15 < len(opens)
    assert [pytest.approx(24, abs=0.5)] * 10 == [after - before for before, after in zip(remakes, opens[1:], strict=False)][:10]
    assert [pytest.approx(14, abs=0.5)] * 10 == [after - before for before, after in zip(opens, remakes, strict=False)][:10]
    assert 1 == len(times(events, "zone1.valve end switch makes"))
    assert [] == times(events, "zone1.valve end switch opens")
    assert state.of("boiler").called


def test_limit_at_fault():
    """A limit that is stuck open looks like an open heater; a welded one lets 0.84 A flow for ever (HL-15)."""
    here = on_call(_heat_motor(limit="open"))
    state, _ = calling(here, 600)
    assert 27.5 == pytest.approx(across(here, state, "valve.HA", "valve.HB"), abs=0.01)
    assert 0 == pytest.approx(amps(here, state, "valve.heater"), abs=1e-6)
    here = on_call(_heat_motor(limit="welded"))
    state, events = calling(here, 7200)
    assert 0.84 == pytest.approx(amps(here, state, "valve.heater"), abs=0.005)
    assert 140 < state.values["valve.wax"]
    assert [] == times(events, "valve limit opens")


@pytest.mark.parametrize(("opens", "remakes"), [(92.0, 60.0), (98.0, 65.0), (105.0, 70.0)])
def test_lead_that_opens_when_hot(opens, remakes):
    """A lead opens after about 90 to 120 s, full volts stand at the heater, the switch opens before it remakes (HL-11)."""
    here = on_call(_heat_motor(lead_opens_degC=opens, lead_remakes_degC=remakes))
    _, events = calling(here, 900)
    gone, back = times(events, "valve heater lead opens"), times(events, "valve heater lead remakes")
    assert 90 < gone[0] < 123
    state, _ = calling(here, gone[0] + 1)
    assert 27.5 == pytest.approx(across(here, state, "valve.HA", "valve.HB"), abs=0.01)
    assert 0 == pytest.approx(amps(here, state, "valve.heater"), abs=1e-6)
    assert gone[0] < times(events, "valve end switch opens")[0] < back[0]
    assert 3 <= len(gone)


@pytest.mark.parametrize(
    ("share", "source", "secondary", "lead"), [(0.1, 4.7, None, None), (0.5, 1.55, 24.3, 23.2), (0.9, 0.92, None, None)]
)
def test_heater_touching_the_body(share, source, secondary, lead):
    """With C bonded, a heater that touches its body draws by where it touches; without a bond nothing shows (HL-04)."""
    valve = _heat_motor(insulation_ohms=0.0, insulation_at=share, body=True)
    bonded = on_call(valve, grounded=True)
    state, _ = calling(bonded)
    assert source == pytest.approx(amps(bonded, state, "transformer.winding"), rel=0.01)
    if secondary:
        assert secondary == pytest.approx(across(bonded, state, "transformer.R", "transformer.C"), abs=0.1)
        assert lead == pytest.approx(across(bonded, state, "valve.HA", "valve.HB"), abs=0.1)
    floating = on_call(valve)
    healthy = on_call(_heat_motor())
    assert amps(healthy, calling(healthy)[0], "transformer.winding") == pytest.approx(
        amps(floating, calling(floating)[0], "transformer.winding"), rel=1e-6
    )


@pytest.mark.parametrize("touching", [0.0, 100.0])
def test_ohms_to_the_body(touching):
    """Lifted, a heater lead reads less than 130 ohm to the pipe where the insulation is gone, and OL where it is sound."""
    here = on_call(_heat_motor(insulation_ohms=touching, insulation_at=0.5, body=True))
    sound = on_call(_heat_motor(body=True))
    for installation, bad in ((here, True), (sound, False)):
        dead = switched(installation, at_rest(installation), "transformer", False)
        dead = lifted(installation, lifted(installation, dead, "valve.HA"), "valve.HB")
        reading = ohms_reading(network(installation, dead), network(installation, dead, 0), "valve.HA", "valve.body")
        assert (reading.value < 130) == bad


def test_wet_actuator():
    """20 ohm from HA to the body, C bonded, on call: 1.86 A from the source and 22.3 V across the heater (HL-21)."""
    here = on_call(_heat_motor(insulation_ohms=20.0, insulation_at=0.0), grounded=True)
    state, _ = calling(here)
    assert 1.86 == pytest.approx(amps(here, state, "transformer.winding"), abs=0.01)
    assert 22.3 == pytest.approx(across(here, state, "valve.HA", "valve.HB"), abs=0.05)


def test_heat_is_that_of_both_parts_of_a_touching_heater():
    """Whatever part of the heater carries what, the wax has all of its watts."""
    valve = _heat_motor(insulation_ohms=5.0, insulation_at=0.3)
    here = on_call(valve, grounded=True)
    state, _ = calling(here, 20000)
    watts = amps(here, state, "valve.heater") ** 2 * 9.0 + amps(here, state, "valve.heater beyond") ** 2 * 21.0
    assert 20.0 + 6.0 * watts == pytest.approx(state.values["valve.wax"], abs=1e-6)


def test_heads_for_other_voltages():
    """A 720 ohm head takes 0.04 A and never warms; an 8 ohm head 2.5 A, 52 W, and burns open after 147 s (HL-14)."""
    line = on_call(_heat_motor(heater_ohms=720.0))
    state, events = calling(line, 7200)
    assert 0.04 == pytest.approx(amps(line, state, "valve.heater"), abs=0.005)
    assert () == events
    twelve = on_call(_heat_motor(heater_ohms=8.0))
    state, _ = calling(twelve)
    assert (2.5, 52) == pytest.approx(
        (amps(twelve, state, "valve.heater"), amps(twelve, state, "valve.heater") ** 2 * 8), rel=0.02
    )
    state, events = calling(twelve, 600)
    assert [pytest.approx(147, abs=1)] == times(events, "valve heater burns open")
    assert state.of("valve").burnt


def test_fifty_volts_burns_a_heater():
    """50 V on 30 ohm opens the heater for good after 67 s, and it stays open when it is cold again."""
    here = at_volts(_heat_motor(), 50.0)
    state, events = calling(here, 120)
    assert [pytest.approx(67, abs=1)] == times(events, "valve heater burns open")
    state, _ = waited(here, state, 7200)
    assert 0 == pytest.approx(amps(here, state, "valve.heater"), abs=1e-6)
    assert 20 == pytest.approx(state.values["valve.wax"], abs=0.01)


def test_two_heaters_in_series():
    """Two heads in series have 13.1 V each at 0.44 A, end near 55 degC and never open (HL-26)."""
    second = replace(_heat_motor(), name="second")
    here = on_call(
        _heat_motor(), ("valve.HA", "second.HB"), more=(second,), wires=[Conductor("link", "valve.HB", "second.HA", 0.001)]
    )
    state, events = calling(here, 7200)
    assert 0.44 == pytest.approx(amps(here, state, "valve.heater"), abs=0.005)
    assert 13.1 == pytest.approx(across(here, state, "valve.HA", "valve.HB"), abs=0.05)
    assert 55 == pytest.approx(state.values["valve.wax"], abs=1)
    assert () == events


def test_lost_shared_return_makes_a_motor_valve_burn():
    """Opposed sources in series through heater and motor: 0.48 A, 14.4 V and 43.1 V, and the motor burns (MZ-11)."""
    motor = SpringReturnValve("motor")
    here = Installation(
        "two sources, the shared return lost",
        (Transformer("one"), Transformer("two", opposed=True), Stat("stat"), Stat("stat2"), _heat_motor(), motor),
        (
            Conductor("R leg", "one.R", "stat.R", 0.3195),
            Conductor("W leg", "stat.W", "valve.HA", 0.3195),
            Conductor("R2 leg", "two.R", "stat2.R", 0.3195),
            Conductor("W2 leg", "stat2.W", "motor.HA", 0.3195),
            Conductor("bus", "valve.HB", "motor.HB", 0.001),
            Conductor("commons", "one.C", "two.C", 0.001),
        ),
    )
    state, events = calling(here, 3600, "stat", "stat2")
    first, _ = calling(here, 0.0, "stat", "stat2")
    assert 0.48 == pytest.approx(amps(here, first, "motor.motor"), abs=0.003)
    assert 14.4 == pytest.approx(across(here, first, "valve.HA", "valve.HB"), abs=0.06)
    assert 43.1 == pytest.approx(across(here, first, "motor.HA", "motor.HB"), abs=0.06)
    assert [pytest.approx(600)] == times(events, "motor motor burns open")
    assert state.of("motor").burnt
    assert [] == times(events, "valve end switch makes")


def test_cold_ohms():
    """A heater that is given cold ohms has them when cold and its own when warm, and again when it has cooled."""
    here = at_volts(_heat_motor(cold_ohms=28.0), 24.0)
    state, _ = calling(here)
    assert 24 / 28 == pytest.approx(amps(here, state, "valve.heater"), rel=1e-4)
    hot, events = calling(here, 600)
    assert 24 / 30 == pytest.approx(amps(here, hot, "valve.heater"), rel=1e-4)
    assert 1 == len(times(events, "valve heater warms"))
    _, events = cooling(here, hot, 600)
    assert 1 == len(times(events, "valve heater cools"))


# openers, end switches, bodies ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("valve", "full"),
    [(_heat_motor(opener="by itself"), 103), (SpringReturnValve("valve", opener="by itself"), 15)],
    ids=["heat", "motor"],
)
def test_opener_that_releases_by_itself(valve, full):
    """Kind 1: engaged it is open whatever the head does; the head's own full stroke releases it; then the head has it."""
    here = at_volts(valve, 24.0)
    state = opener_set(here, at_rest(here), "valve", True)
    assert (1.0, 1.0) == (state.of("valve").opening, state.of("valve").flow)
    assert not valve.switch_made(state.of("valve"))
    before, _ = calling(here, full - 2, state=state)
    assert before.of("valve").engaged
    after, _ = waited(here, before, 4)
    assert not after.of("valve").engaged
    assert 1.0 == after.of("valve").opening
    shut, _ = cooling(here, after, 600)
    assert 0.0 == shut.of("valve").opening


@pytest.mark.parametrize(
    "valve", [_heat_motor(), SpringReturnValve("valve"), WaxActuator("valve")], ids=lambda valve: type(valve).__name__
)
@pytest.mark.parametrize("opener", ["by hand", "by hand, makes the switch"])
def test_opener_that_a_hand_releases(valve, opener):
    """Kinds 2 and 3: stays engaged through a stroke; kind 3 makes the switch meanwhile; on release the head has it."""
    here = at_volts(replace(valve, opener=opener), 24.0)
    part = here.part("valve")
    state = opener_set(here, at_rest(here), "valve", True)
    assert (opener == "by hand, makes the switch") == part.switch_made(state.of("valve"))
    state, _ = calling(here, 600, state=state)
    state, _ = cooling(here, state, 1200)
    assert state.of("valve").engaged
    assert 1.0 == state.of("valve").opening
    released = opener_set(here, state, "valve", False)
    assert 0.0 == released.of("valve").opening
    assert not part.switch_made(released.of("valve"))


def test_released_warm_it_falls_to_what_the_wax_allows():
    """Let go while the wax is at 70 degC on its way up, the valve is shut; on its way down, half open."""
    here = at_volts(_heat_motor(opener="by hand"), 24.0)
    state = opener_set(here, at_rest(here), "valve", True)
    up = replace(state, values={**state.values, "valve.wax": 70.0})
    assert 0.0 == opener_set(here, waited(here, up, 0.0)[0], "valve", False).of("valve").opening
    hot, _ = calling(here, 3600, state=state)
    cold = called(here, hot, "stat", False)
    seconds = 110 * math.log((hot.values["valve.wax"] - 20) / 50)
    down, _ = waited(here, cold, seconds)
    assert 0.5 == pytest.approx(opener_set(here, down, "valve", False).of("valve").opening)


def test_an_end_switch_that_never_makes_or_never_opens():
    """Open (ES-01) and welded (ES-02) contacts override head and opener alike; the head moves as ever."""
    for switch, made in (("open", False), ("welded", True)):
        here = changed(REF_A, "zone1.valve", switch=switch, opener="by hand, makes the switch")
        idle = at_rest(here)
        assert (0.02 if made else 26.0) == pytest.approx(across(here, idle, "boiler.T1", "boiler.T2"), abs=0.01)
        assert made == idle.of("boiler").called
        engaged = opener_set(here, idle, "zone1.valve", True)
        assert made == engaged.of("boiler").called
        state, _ = calling(here, 300, "zone1.stat")
        assert (1.0, made) == (state.of("zone1.valve").opening, state.of("boiler").called)
        assert 25.2 == pytest.approx(across(here, state, "zone1.valve.HA", "zone1.valve.HB"), abs=0.1)


@pytest.mark.parametrize(
    ("ohms", "drop", "coil", "pulls"), [(50.0, 7.6, 18.1, False), (150.0, 14.3, 11.5, False), (20.0, 3.7, 22.0, True)]
)
def test_an_oxidised_end_switch(ohms, drop, coil, pulls):
    """50 ohm in the contact drop 7.6 V and leave the input 18.1 V, which buzzes; 150 ohm leave 11.5 V (ES-03)."""
    here = changed(REF_A, "zone1.valve", switch_ohms=ohms)
    state, events = calling(here, 300, "zone1.stat")
    assert drop == pytest.approx(across(here, state, "zone1.valve.EA", "zone1.valve.EB"), abs=0.06)
    assert coil == pytest.approx(amps(here, state, "boiler.input") * 120, abs=0.06)
    assert (pulls, not pulls) == (state.of("boiler").called, state.of("boiler").buzzing)
    assert (1 if not pulls else 0) == len(times(events, "boiler buzzes"))


def test_heat_in_a_bad_contact():
    """The watts in a contact are its volts times its amperes: 1.16 W in 50 ohm on reference A's T-T, 4 mW in a good one."""
    from solvers.plant.running import seen

    for ohms, watts in ((50.0, 7.56 * 0.1512), (0.1, 0.1 * 0.213**2)):
        here = changed(REF_A, "zone1.valve", switch_ohms=ohms)
        state, _ = calling(here, 300, "zone1.stat")
        valve = here.part("zone1.valve")
        assert watts == pytest.approx(valve.contact_watts(state.of("zone1.valve"), seen(here, state)), rel=0.01)
        assert 0.0 == valve.contact_watts(valve.initial(), seen(here, at_rest(here)))


def test_an_end_switch_that_opens_when_hot():
    """The contact parts above its temperature with W still hot, and joins 5 K lower (ES-05)."""
    here = changed(REF_A, "zone1.valve", switch_opens_degC=105.0)
    state, events = calling(here, 600, "zone1.stat")
    assert 1 == len(times(events, "zone1.valve end switch parts in the heat"))
    assert 26.0 == pytest.approx(across(here, state, "boiler.T1", "boiler.T2"), abs=0.01)
    assert 25.2 == pytest.approx(across(here, state, "zone1.valve.HA", "zone1.valve.HB"), abs=0.1)
    assert (False, 1.0) == (state.of("boiler").called, state.of("zone1.valve").opening)
    start = state.time
    _, events = cooling(here, state, 600, "zone1.stat")
    wax = state.values["zone1.valve.wax"]
    joined = start + 110 * math.log((wax - 20) / (100 - 20))
    assert [pytest.approx(joined)] == times(events, "zone1.valve end switch joins again")
    assert [pytest.approx(joined)] == times(events, "boiler starts")


@pytest.mark.parametrize(
    ("fields", "idle", "on_call_", "made"),
    [
        ({"charge": 0.0}, (0.0, 0.0), (0.0, 0.0), False),  # HL-05
        ({"stem": "stuck shut"}, (0.0, 0.0), (0.0, 0.0), False),  # HL-06
        ({"stem": "stuck open"}, (1.0, 1.0), (1.0, 1.0), True),  # HL-07
        ({"latched": False}, (0.0, 0.0), (0.0, 0.0), True),  # HL-24
        ({"latched": False, "stem": "stuck shut"}, (0.0, 0.0), (0.0, 0.0), True),
        ({"leak": 0.1}, (0.1, 0.1), (1.0, 1.0), True),  # HL-27
        ({"latched": False, "leak": 0.1}, (0.1, 0.1), (0.1, 0.1), True),
    ],
)
@pytest.mark.parametrize(
    "valve", [_heat_motor(), WaxActuator("valve"), SpringReturnValve("valve")], ids=lambda valve: type(valve).__name__
)
def test_bodies_and_heads(valve, fields, idle, on_call_, made):
    """What is wrong between head and seat shows in the water alone; the amperes are those of a sound valve."""
    if "charge" in fields and isinstance(valve, SpringReturnValve):
        fields = {"gear": 0.0}  # the motor's way to lose its stroke
    here, sound = on_call(replace(valve, **fields)), on_call(valve)
    cold = at_rest(here).of("valve")
    assert idle == (cold.opening, cold.flow)
    state, _ = calling(here, 900)
    assert on_call_ == (state.of("valve").opening, state.of("valve").flow)
    assert made == here.part("valve").switch_made(state.of("valve"))
    branch = "valve.motor" if isinstance(valve, SpringReturnValve) else "valve.heater"
    assert amps(sound, calling(sound, 900)[0], branch) == pytest.approx(amps(here, state, branch), rel=1e-9)


def test_a_new_head_does_not_mend_the_body():
    """A new head leaves a stuck stem, a leak and the air where they were; a reseated body has neither."""
    old = _heat_motor(stem="stuck shut", leak=0.1, charge=0.0, latched=False, ambient_degC=5.0)
    new = old.refitted(_heat_motor())
    assert ("stuck shut", 0.1, 5.0) == (new.stem, new.leak, new.ambient_degC)
    assert (1.0, True) == (new.charge, new.latched)
    assert ("free", 0.0) == (new.reseated().stem, new.reseated().leak)


def test_weak_charge():
    """A head that has lost part of its charge travels as much less, and with less than 80 % never reaches its switch."""
    for charge, made in ((0.9, True), (0.6, False)):
        here = on_call(_heat_motor(charge=charge))
        state, _ = calling(here, 600)
        assert (charge, made) == (pytest.approx(state.of("valve").opening), state.of("valve").made)


def test_a_sensing_board_and_an_ohmmeter_meet_the_oxide():
    """Oxide that a relay's 0.2 A burns through stands in the way of a few milliamperes, and an ohmmeter shows it."""
    here = changed(REF_A, "zone1.valve", dry_ohms=20_000.0)
    state, _ = calling(here, 300, "zone1.stat")
    assert state.of("boiler").called
    state = switched(here, switched(here, state, "transformer", False), "boiler", False)
    state = lifted(here, state, "zone1.valve.EA")
    reading = ohms_reading(network(here, state), network(here, state, 0), "zone1.valve.EA", "zone1.valve.EB")
    assert 20_000 == pytest.approx(reading.value, rel=0.01)


# wax actuator ---------------------------------------------------------------------------------------------------------


def test_low_draw_wax():
    """At 24 V and 20 degC: open after 125 s, held on 92 mA at 91 degC, shut 282 s after the call."""
    here = at_volts(WaxActuator("valve"), 24.0)
    state, events = calling(here, 7200)
    assert [pytest.approx(125, abs=1)] == times(events, "valve end switch makes")
    assert 0.092 == pytest.approx(amps(here, state, "valve.heater"), abs=0.0005)
    assert 91 == pytest.approx(state.values["valve.wax"], abs=0.5)
    _, events = cooling(here, state, 600)
    assert [pytest.approx(7200 + 282, abs=1)] == times(events, "valve is shut")


def test_low_draw_wax_on_reference_a():
    """On reference A it holds on 105 mA; with hot ohms 1.67 times too high on 63 mA, and sags shut in the cold (HL-28)."""
    for hot_ohms, milliamperes in ((260.0, 105), (433.0, 63)):
        here = on_call(WaxActuator("valve", hot_ohms=hot_ohms))
        state, _ = calling(here, 7200)
        assert milliamperes == pytest.approx(1000 * amps(here, state, "valve.heater"), abs=0.6)
        assert state.of("valve").made
    cold = on_call(WaxActuator("valve", hot_ohms=433.0, ambient_degC=8.0))
    _, events = calling(cold, 7200)
    assert 1 == len(times(events, "valve end switch makes")) == len(times(events, "valve end switch opens"))
    sound = on_call(WaxActuator("valve", ambient_degC=8.0))
    _, events = calling(sound, 7200)
    assert [] == times(events, "valve end switch opens")


@pytest.mark.parametrize("ohms", [60.0, 80.0, 100.0])
def test_low_draw_inrush_and_hold(ohms):
    """Cold it draws 0.24 to 0.40 A; hot it holds on 1.5 to 3 W: the trade's ranges, to the last digit it gives."""
    here = at_volts(WaxActuator("valve", cold_ohms=ohms), 24.0)
    assert 0.24 - 1e-6 <= amps(here, calling(here)[0], "valve.heater") <= 0.40
    state, _ = calling(here, 3600)
    assert 1.5 <= amps(here, state, "valve.heater") ** 2 * 260 <= 3.0


def test_wax_without_an_end_switch():
    """A two-lead actuator travels as the other, says when it is fully open, and has nothing to switch."""
    two, four = (at_volts(WaxActuator("valve", leads), 24.0) for leads in (2, 4))
    (_, bare), (_, switched_) = calling(two, 600), calling(four, 600)
    assert times(switched_, "valve end switch makes") == times(bare, "valve is fully open")
    assert two.part("valve").switch_pair is None
    assert ("valve.HA", "valve.HB") == two.part("valve").terminals


def test_ohmmeter_reads_a_ptc_as_it_is():
    """Power off, an ohmmeter reads 80 ohm in a cold actuator and 260 in a hot one."""
    here = at_volts(WaxActuator("valve"), 24.0)
    for seconds, ohms in ((0.0, 80.0), (600.0, 260.0)):
        state = called(here, calling(here, seconds)[0], "stat", False)
        state = switched(here, state, "transformer", False)
        found = ohms_reading(network(here, state), network(here, state, 0), "valve.HA", "valve.HB")
        assert ohms == pytest.approx(found.value, abs=0.3)


# motor-driven ---------------------------------------------------------------------------------------------------------


def test_motor_driven_spring_return():
    """Opens in 15 s and shuts in 6; the switch makes at 0.9 and opens at 0.8 of the travel, and the motor stalls at 6.4 VA."""
    here = at_volts(SpringReturnValve("valve", opens_s=15.0, shuts_s=6.0), 24.0)
    state, events = calling(here, 60)
    assert [pytest.approx(0.9 * 15)] == times(events, "valve end switch makes")
    assert [pytest.approx(15)] == times(events, "valve is fully open")
    assert 1.0 == state.values["valve.travel"]
    assert 24 / 90 == pytest.approx(amps(here, state, "valve.motor"), rel=1e-4)
    shut, events = cooling(here, state, 60)
    assert [pytest.approx(60 + 0.2 * 6)] == times(events, "valve end switch opens")
    assert [pytest.approx(60 + 6)] == times(events, "valve is shut")
    assert (0.0, 0.0, "resting") == (shut.of("valve").opening, shut.of("valve").flow, shut.of("valve").drive)


@pytest.mark.parametrize("volts", [15.9, 16.0, 18.9, 19.0, 24.0])
def test_motor_by_volts(volts):
    """From 19 V it drives, from 16 it holds and hums, below that the spring shuts it."""
    here = at_volts(SpringReturnValve("valve"), volts + 1e-4)
    state = at_rest(here)
    half = replace(state.of("valve"), lifted=True)
    state = replace(state, parts={**state.parts, "valve": half}, values={**state.values, "valve.travel": 0.5})
    state, _ = calling(here, 60, state=state)
    drive = "opening" if volts >= 19 else "holding" if volts >= 16 else "resting"
    assert ({"opening": 1.0, "holding": 0.5, "resting": 0.0}[drive], drive) == (
        state.values["valve.travel"],
        state.of("valve").drive,
    )
    assert (volts >= 16) == here.part("valve").hums(state.of("valve"))


def test_motor_at_fault():
    """An open winding takes no current (HL-18); a stripped gear hums and stays (HL-19); a broken spring stays open (HL-20)."""
    here = on_call(SpringReturnValve("valve", motor_ohms=OPEN))
    state, events = calling(here, 60)
    assert (27.5, 0.0) == pytest.approx((across(here, state, "valve.HA", "valve.HB"), amps(here, state, "valve.motor")), abs=1e-3)
    assert () == events
    here = on_call(SpringReturnValve("valve", gear=0.0))
    state, events = calling(here, 60)
    assert 0.25 <= amps(here, state, "valve.motor") <= 0.301
    assert (0.0, (), True) == (state.of("valve").opening, events, here.part("valve").hums(state.of("valve")))
    here = four_wire("a broken spring", [Zone(SpringReturnValve("valve", spring=0.0, found=1.0))])
    idle = at_rest(here)
    assert (1.0, True) == (idle.of("zone1.valve").opening, idle.of("boiler").called)
    assert 0 == pytest.approx(across(here, idle, "zone1.valve.HA", "zone1.valve.HB"), abs=0.005)
    assert 0.02 == pytest.approx(across(here, idle, "boiler.T1", "boiler.T2"), abs=0.01)
    later, events = cooling(here, calling(here, 60, "zone1.stat")[0], 600, "zone1.stat")
    assert (1.0, []) == (later.of("zone1.valve").opening, times(events, "zone1.valve is shut"))


@pytest.mark.parametrize(("ohms", "reads"), [(40.0, 40.0), (None, math.inf)])
def test_ohmmeter_on_a_motor(ohms, reads):
    """An ohmmeter reads the winding's 40 ohm, not the 90 it has on the line; an open winding reads OL."""
    valve = SpringReturnValve("valve") if ohms else SpringReturnValve("valve", motor_ohms=OPEN)
    here = at_volts(valve, 24.0)
    dead = switched(here, at_rest(here), "transformer", False)
    found = ohms_reading(network(here, dead), network(here, dead, 0), "valve.HA", "valve.HB")
    assert reads == pytest.approx(found.value, abs=0.3)


def test_motor_at_50_hertz():
    """At 50 Hz a synchronous motor takes a fifth longer and draws more; its spring takes as long as ever."""
    slow, fast = (at_volts(SpringReturnValve("valve", opens_s=15.0, shuts_s=6.0), 24.0, hz=hz) for hz in (50.0, 60.0))
    (at_50, events), (at_60, _) = calling(slow, 60), calling(fast, 60)
    assert [pytest.approx(15 * 1.2)] == times(events, "valve is fully open")
    more = amps(slow, at_50, "valve.motor") / amps(fast, at_60, "valve.motor")
    assert 90 / abs(54 + 60j) == pytest.approx(more, rel=1e-6)
    assert 1 < more <= 1.2
    _, events = cooling(slow, at_50, 60)
    assert [pytest.approx(60 + 6)] == times(events, "valve is shut")


@pytest.mark.parametrize(("volts", "burns"), [(31.9, False), (33.0, True)])
def test_over_voltage_burns_a_motor(volts, burns):
    """More than 32 V for ten minutes opens the winding for good; the spring then shuts the valve."""
    here = at_volts(SpringReturnValve("valve"), volts)
    state, events = calling(here, 599)
    assert not state.of("valve").burnt
    state, events = waited(here, state, 601)
    assert [pytest.approx(600)] * burns == times(events, "valve motor burns open")
    assert (0.0 if burns else 1.0) == state.of("valve").opening
    state, _ = calling(here, 60, state=cooling(here, state, 7200)[0])
    assert (0.0 if burns else 1.0) == state.of("valve").opening


def test_a_motor_that_cools_between_does_not_burn():
    """Nine minutes of 40 V, an hour off, and nine minutes again leave the winding whole; two minutes more do not."""
    here = at_volts(SpringReturnValve("valve"), 40.0)
    state, _ = cooling(here, calling(here, 540)[0], 3600)
    state, _ = calling(here, 540, state=state)
    assert not state.of("valve").burnt
    state, _ = waited(here, state, 120)
    assert state.of("valve").burnt


@pytest.mark.parametrize("leads", [3, 6])
def test_motor_open_motor_close(leads):
    """Powered open it opens and its cam takes the winding off; unpowered it stays; powered shut it shuts."""
    valve = OpenCloseValve("valve", leads=leads, opens_s=30.0)
    here = at_volts(valve, 24.0, more=(Stat("shuts"),), wires=[
        Conductor("R2", "transformer.R", "shuts.R", 1e-6), Conductor("HC wire", "shuts.W", "valve.HC", 1e-6),
    ])  # fmt: skip
    state, events = calling(here, 10, "stat")
    assert 24 / 164.01 == pytest.approx(amps(here, state, "valve.motor open"), rel=1e-3)
    state, _ = cooling(here, state, 3600, "stat")
    assert (1 / 3, "resting") == (pytest.approx(state.of("valve").opening), state.of("valve").drive)
    state, events = calling(here, 60, "stat", state=state)
    assert [pytest.approx(3610 + 20)] == times(events, "valve is fully open")
    assert 0 == pytest.approx(amps(here, state, "valve.motor open"), abs=1e-6)
    both, events = calling(here, 60, "shuts", state=state)
    # the cam keeps the other winding off for a twentieth of the way; then the two stall it
    assert (0.95, "holding") == (pytest.approx(both.of("valve").opening), both.of("valve").drive)
    state, _ = cooling(here, both, 0, "stat")
    state, events = waited(here, state, 60)
    assert [pytest.approx(both.time + 0.95 * 30)] == times(events, "valve is shut")
    assert (0.0, 0.0) == (state.of("valve").opening, state.of("valve").flow)
    assert 1 == len(times(events, "valve is shut"))


def test_both_windings_powered_stall_it():
    """With both windings powered between its ends it stands and hums, and moves again when one is let go."""
    here = at_volts(OpenCloseValve("valve"), 24.0, more=(Stat("shuts"),), wires=[
        Conductor("R2", "transformer.R", "shuts.R", 1e-6), Conductor("HC wire", "shuts.W", "valve.HC", 1e-6),
    ])  # fmt: skip
    state, _ = calling(here, 12, "stat")
    state, _ = calling(here, 600, "shuts", state=state)
    assert (0.4, "holding") == (pytest.approx(state.of("valve").opening), state.of("valve").drive)
    state, _ = cooling(here, state, 6, "stat")
    assert 0.2 == pytest.approx(state.of("valve").opening)


def test_a_plain_thermostat_never_shuts_it():
    """On a single-throw thermostat a motor-open, motor-close valve opens once and stays open."""
    here = at_volts(OpenCloseValve("valve"), 24.0)
    state, _ = cooling(here, calling(here, 60)[0], 36000)
    assert 1.0 == state.of("valve").opening
    assert here.part("valve").switch_made(state.of("valve"))


def test_its_double_throw_switch():
    """Exactly one throw of a sound switch conducts, whatever the travel."""
    valve = OpenCloseValve("valve")
    for state in (valve.initial(), replace(valve.initial(), made=True)):
        made = {branch.name: branch.z != OPEN for branch in valve.branches(state, 60.0)}
        assert made["valve.switch"] != made["valve.switch shut"]
        assert made["valve.switch"] == state.made


# exactness and laws ---------------------------------------------------------------------------------------------------


def _stepped(seconds, dt, ambient, resistance, tau, watts, react):
    """Midpoint steps of the wax; `react` names each happening and its level, placed within its step by a straight line."""
    wax, found, time = ambient, [], 0.0
    while time < seconds:
        slope = (ambient + resistance * watts() - wax) / tau
        after = wax + (ambient + resistance * watts() - (wax + slope * dt / 2)) / tau * dt
        name, level = react(after)
        part = (level - wax) / (after - wax) if name else 1.0
        wax, time = (level, time + part * dt) if name else (after, time + dt)
        while name:
            found.append((name, time))
            name, level = react(wax)
    return found


def test_limit_cycles_against_fine_steps():
    """Every change of a head with a limit contact, over 15 min, agrees with 10 ms steps to a millisecond."""
    here = on_call(_heat_motor(limit="fitted", ambient_degC=15.0))
    _, events = calling(here, 900)
    heater = {"on": True, "made": False, "lifted": False}
    amperes = 27.5 / (2.1 + 2 * 0.3195 + 0.05 + 0.001 + 30.0)

    def react(wax):
        if heater["on"] and wax >= 105:
            heater["on"] = False
            return "valve limit opens", 105
        if not heater["on"] and wax <= 95:
            heater["on"] = True
            return "valve limit remakes", 95
        if not heater["lifted"] and wax >= 75:
            heater["lifted"] = True
            return "valve begins to open", 75
        if not heater["made"] and wax >= 90:
            heater["made"] = True
            return "valve end switch makes", 90
        return None, 0.0

    stepped = _stepped(900, 0.01, 15.0, 6.0, 110.0, lambda: amperes**2 * 30.0 if heater["on"] else 0.0, react)
    assert 20 < len(stepped)
    assert [name for name, _ in stepped] == [event.name for event in events]
    assert [time for _, time in stepped] == pytest.approx([event.time for event in events], abs=0.001)


def test_low_draw_hunting_against_fine_steps():
    """A PTC actuator too weakly fed hunts between its two ohms as 10 ms steps say to a millisecond, for two hours."""
    here = on_call(WaxActuator("valve", hot_ohms=700.0, ambient_degC=10.0), emf=22.0)
    _, events = calling(here, 7200)
    head = {"hot": False, "made": False, "lifted": False}
    rest = 2.1 + 2 * 0.3195 + 0.05 + 0.001

    def watts():
        ohms = 700.0 if head["hot"] else 80.0
        return (22.0 / (rest + ohms)) ** 2 * ohms

    def react(wax):
        for key, up, down, rises, falls in (
            ("hot", 85, 55, "valve heater warms", "valve heater cools"),
            ("lifted", 60, 55, "valve begins to open", "valve is shut"),
            ("made", 82, 72, "valve end switch makes", "valve end switch opens"),
        ):
            if not head[key] and wax >= up:
                head[key] = True
                return rises, up
            if head[key] and wax <= down:
                head[key] = False
                return falls, down
        return None, 0.0

    stepped = _stepped(7200, 0.01, 10.0, 32.0, 400.0, watts, react)
    assert 20 < len(stepped)
    assert [name for name, _ in stepped] == [event.name for event in events]
    assert [time for _, time in stepped] == pytest.approx([event.time for event in events], abs=0.001)


def test_motors_on_a_sagging_source_against_fine_steps():
    """A spring-return valve that loses its volts while three heaters come and go agrees with 1 ms steps to 0.1 s."""
    heaters = [
        replace(_heat_motor(limit="fitted", wax_resistance=18.0, wax_tau=20.0 + 5 * number), name=f"valve{number}")
        for number in range(3)
    ]
    wires = [
        Conductor(f"{lead}{number}", end, f"valve{number}.{lead}", 0.001)
        for number in range(3)
        for lead, end in (("HA", "valve.HA"), ("HB", "valve.HB"))
    ]
    here = on_call(SpringReturnValve("valve", opens_s=6.0), emf=27.0, ohms=8.0, more=heaters, wires=wires)
    _, events = calling(here, 200)
    ours = [(event.time, event.name) for event in events if event.name.startswith("valve ")]
    wax, on, travel, made, up, lifted, found = [20.0] * 3, [True] * 3, 0.0, False, False, False, []
    dt = 0.001
    for step in range(200_000):
        y = sum(1 / (30.002) for heater in on if heater) + 1 / complex(54, 72)
        volts = abs(27.0 / (8.0 + 2 * 0.3195 + 0.05 + 0.001 + 1 / y) / y)
        for number in range(3):
            power = (volts / 30.002) ** 2 * 30 if on[number] else 0.0
            tau = 20.0 + 5 * number
            target = 20 + 18 * power
            wax[number] = target + (wax[number] - target) * (1 - dt / tau + dt**2 / (2 * tau**2))
            on[number] = wax[number] < 105 if on[number] else wax[number] <= 95
        rate = 1 / 6 if volts >= 19 else 0.0 if volts >= 16 else -1 / 6
        travel = min(1.0, max(0.0, travel + rate * dt))
        time = (step + 1) * dt
        lifted = lifted or rate > 0
        for name, now, before in (
            ("valve end switch makes", not made and travel >= 0.9, made),
            ("valve end switch opens", made and travel <= 0.8, made),
        ):
            if now:
                made = not before
                found.append((time, name))
        if rate > 0 and travel >= 1 and not up:
            found.append((time, "valve is fully open"))
        up = travel >= 1
        if rate < 0 and travel <= 0 and lifted:
            lifted = False
            found.append((time, "valve is shut"))
    assert 30 < len(found)
    assert 3 == len({name for _, name in found})
    assert [name for _, name in found] == [name for _, name in ours]
    assert [time for time, _ in found] == pytest.approx([time for time, _ in ours], abs=0.1)


TRAVELS = st.builds(
    lambda end, play, span: Travel(end - 15, end, end - play, end - play - span),
    st.floats(80, 100),
    st.floats(1, 14),
    st.floats(15, 30),
)


@given(TRAVELS, st.lists(st.floats(-20, 260), min_size=1, max_size=20))
def test_stroke_stays_between_shut_and_open(travel, path):
    """Wherever the wax goes, a stroke lies between 0 and 1, and between what rising and falling allow."""
    stroke = 0.0
    for wax in path:
        stroke = travel.reached(stroke, wax)
        assert travel.reached(0.0, wax) <= stroke <= travel.reached(1.0, wax)
        assert 0.0 <= stroke <= 1.0


@given(TRAVELS, st.floats(0, 1), st.lists(st.floats(-20, 260), min_size=2, max_size=20))
def test_stroke_follows_the_wax_one_way(travel, start, path):
    """While the wax rises no stroke falls, while it falls none rises, and steps on the way change nothing."""
    for rising in (True, False):
        ordered = sorted(path, reverse=not rising)
        strokes = [travel.reached(start, ordered[0])]
        for wax in ordered[1:]:
            strokes.append(travel.reached(strokes[-1], wax))
        assert sorted(strokes, reverse=not rising) == strokes
        assert strokes[-1] == pytest.approx(travel.reached(strokes[0], ordered[-1]), abs=1e-12)


@given(
    st.floats(16, 30), st.floats(0, 45), st.sampled_from(["none", "fitted"]), st.lists(st.floats(1, 400), min_size=1, max_size=8)
)
def test_end_switch_has_hysteresis(volts, ambient, limit, waits):
    """However a zone is called, its switch is made at the end of travel, open 10 K below it, and keeps what it has between."""
    here = at_volts(_heat_motor(ambient_degC=ambient, limit=limit), volts)
    valve, state = here.part("valve"), at_rest(here)
    for number, seconds in enumerate(waits):
        before = state.of("valve").made
        state, events = waited(here, called(here, state, "stat", number % 2 == 0), seconds)
        wax, now = state.values["valve.wax"], state.of("valve")
        assert now.made or wax <= valve.end_degC + 1e-9
        assert not now.made or wax >= valve.end_degC - 10 - 1e-9
        changes = len(times(events, "valve end switch makes")) + len(times(events, "valve end switch opens"))
        assert (before != now.made) == changes % 2
        assert now.lifted == (now.stroke > 0) or wax == pytest.approx(75) or wax == pytest.approx(60)
        assert 0.0 <= now.opening <= 1.0


@given(st.floats(0.1, 45), st.lists(st.tuples(st.booleans(), st.floats(0.1, 40)), min_size=1, max_size=10))
def test_motor_travel_stays_between_its_ends(volts, pattern):
    """Whatever its volts and calls, a spring-return valve stands between shut and open, and its switch has its hysteresis."""
    here = at_volts(SpringReturnValve("valve"), volts)
    state = at_rest(here)
    for up, seconds in pattern:
        state, _ = waited(here, called(here, state, "stat", up), seconds)
        travel, now = state.values["valve.travel"], state.of("valve")
        assert 0.0 <= travel <= 1.0
        assert now.made or travel <= 0.9 + 1e-9
        assert not now.made or travel >= 0.8 - 1e-9
