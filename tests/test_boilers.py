"""Boilers by their T-T inputs, and the water of their loops: common practice and memory, no source."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference_circuits import REF_A, REF_E
from small_benches import across, amps, at_volts, calling, changed, cooling, on_call, times

from solvers.circuit import Approach, ohms_reading
from solvers.plant.part import Seen
from solvers.plant.parts import Boiler, BoilerState, HeatMotorValve, Loop, Splice, Stat, ValveState
from solvers.plant.running import at_rest, called, network, opener_set, seen, switched, waited
from solvers.plant.wiring import Conductor, Installation


def _alone(boiler, *wires, more=()):
    """A boiler with whatever is brought to its T-T."""
    return Installation("a boiler", (boiler, *more), tuple(wires))


def _bridged(boiler, ohms=0.1):
    return _alone(boiler, Conductor("bridge", "boiler.T1", "boiler.T2", ohms))


def _t_t(installation, state, hz=None):
    return across(installation, state, "boiler.T1", "boiler.T2", hz=hz)


# inputs ---------------------------------------------------------------------------------------------------------------


def test_own_supply():
    """26 V open; bridged 0.02 V and 0.21 A, and the boiler is called, fires and circulates."""
    boiler = Boiler("boiler")
    idle = at_rest(_alone(boiler))
    assert 26.0 == pytest.approx(_t_t(_alone(boiler), idle), abs=0.001)
    assert (False, False, False) == (idle.of("boiler").called, idle.of("boiler").firing, idle.of("boiler").circulating)
    here = _bridged(boiler)
    state = at_rest(here)
    assert (0.02, 0.21) == pytest.approx((_t_t(here, state), amps(here, state, "boiler.input")), abs=0.005)
    assert (True, True, True) == (state.of("boiler").called, state.of("boiler").firing, state.of("boiler").circulating)


@pytest.mark.parametrize(
    ("ohms", "before", "is_called", "buzzes"),
    [
        (50.0, False, False, True),
        (50.0, True, True, True),
        (150.0, True, True, True),
        (46.0, False, True, False),
        (400.0, True, False, False),
    ],
)
def test_an_input_relay_has_hysteresis(ohms, before, is_called, buzzes):
    """The input pulls from 18.5 V, drops at 7, and between them keeps what it had and buzzes."""
    here = _bridged(Boiler("boiler"), ohms)
    state = at_rest(here)
    state = replace(state, parts={"boiler": replace(state.of("boiler"), called=before)})
    state, _ = waited(here, state, 0.0)
    assert (is_called, buzzes) == (state.of("boiler").called, state.of("boiler").buzzing)


def test_board_sensed():
    """12 V of direct current open and none of alternating; closed 5 mA, and that is a call."""
    board = Boiler("boiler", input="board-sensed")
    here = _alone(board)
    idle = at_rest(here)
    assert (0.0, 12.0) == pytest.approx((_t_t(here, idle), _t_t(here, idle, hz=0)), abs=0.01)
    assert not idle.of("boiler").called
    here = _bridged(board)
    state = at_rest(here)
    assert 0.005 == pytest.approx(amps(here, state, "boiler.input", hz=0), rel=1e-3)
    assert state.of("boiler").called
    assert not switched(here, state, "boiler", False).of("boiler").called


@pytest.mark.parametrize(("meter", "starts"), [(10e6, False), (3e3, True)])
def test_a_low_impedance_meter_is_a_call_to_a_board(meter, starts):
    """Volts on low-Z across a sensed T-T pass 2.2 mA and start the boiler; a 10 megohm meter does not (10.7)."""
    here = _bridged(Boiler("boiler", input="board-sensed"), meter)
    state = at_rest(here)
    assert 12 / (2400 + meter) == pytest.approx(amps(here, state, "boiler.input", hz=0), rel=0.01)  # leaks beside 10 megohm
    assert starts == state.of("boiler").called


@pytest.mark.parametrize(("dry_ohms", "board", "relay"), [(0.0, True, True), (20_000.0, False, True)])
def test_oxide_stops_a_board_first(dry_ohms, board, relay):
    """An end switch whose oxide a relay's current burns through does not call a board that senses milliamperes (ES-03)."""
    for kind, is_called in (("board-sensed", board), ("own supply", relay)):
        here = changed(changed(REF_A, "zone1.valve", dry_ohms=dry_ohms), "boiler", input=kind)
        state, _ = calling(here, 300, "zone1.stat")
        assert is_called == state.of("boiler").called


def test_a_board_has_hysteresis_too():
    """From 2 mA it is called, and it stays so down to 1.5 mA."""
    board, path = Boiler("boiler", input="board-sensed"), []
    state = board.initial()
    for milliamperes in (1.9, 2.1, 1.6, 1.4, 1.6):
        felt = Seen({}, {"boiler.input": milliamperes / 1000}, {}, {"boiler.water": 60.0})
        state = board.settled(state, felt)
        path.append(state.called)
    assert [False, True, True, False, False] == path


def test_alternating_current_is_no_call_to_a_board():
    """26 V of alternating current on a sensed T-T neither calls nor burns it."""
    here = at_volts(Boiler("boiler", input="board-sensed"), 26.0, ("boiler.T1", "boiler.T2"))
    board = Boiler("boiler", input="board-sensed")
    felt = Seen({"boiler.input": 26.0 / 2400}, {"boiler.input": 0.0}, {}, {"boiler.water": 60.0})
    assert not board.settled(board.initial(), felt).called
    state, events = calling(here, 7200)
    assert [] == times(events, "boiler input burns open")
    assert not state.of("boiler").burnt


def test_fed_from_outside():
    """0 V open, and a dry contact does nothing; with 24 V brought to it through a switch it is called."""
    old = Boiler("boiler", input="fed from outside")
    assert 0.0 == pytest.approx(_t_t(_alone(old), at_rest(_alone(old))), abs=1e-6)
    assert not at_rest(_bridged(old)).of("boiler").called
    here = at_volts(HeatMotorValve("valve", 4, 30.0, ambient_degC=20.0), 24.0, more=(old,), wires=[
        Conductor("feed", "transformer.R", "valve.EA", 0.001), Conductor("T-T 1", "valve.EB", "boiler.T1", 0.1),
        Conductor("T-T 2", "boiler.T2", "transformer.C", 0.1),
    ])  # fmt: skip
    state, events = calling(here, 300)
    assert state.of("boiler").called
    assert times(events, "valve end switch makes") == times(events, "boiler starts")


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: Boiler("boiler", input="wireless"), "wireless"),
        (lambda: Boiler("boiler", safety="door"), "door"),
        (lambda: Boiler("boiler", circulator="tired"), "tired"),
        (lambda: Boiler("boiler", input="board-sensed", lends=True), "lends"),
        (lambda: Loop("loop", ghost=1.5), "ghost 1.5"),
    ],
)
def test_a_part_that_cannot_be_is_refused(make, words):
    """A field with an impossible value raises and shows it."""
    with pytest.raises(ValueError, match=words):
        make()


# two supplies in one loop ---------------------------------------------------------------------------------------------


def _tied_to_a_live_pair(emf):
    """T-T across R and the end-switch lead of a three-wire valve instead of a dry contact."""
    return on_call(HeatMotorValve("valve", 3, 30.0, ambient_degC=20.0), more=(Boiler("boiler", emf=emf),), wires=[
        Conductor("T-T 1", "transformer.R", "boiler.T1", 0.001), Conductor("T-T 2", "valve.E", "boiler.T2", 0.001),
    ])  # fmt: skip


def test_tied_in_phase():
    """In phase the boiler is silent: T-T 26 idle and 25.7 with the valve open, the input sees 0.3 V (ES-08)."""
    here = _tied_to_a_live_pair(26.0)
    assert 26.0 == pytest.approx(_t_t(here, at_rest(here)), abs=0.06)
    state, _ = calling(here, 300)
    assert 25.7 == pytest.approx(_t_t(here, state), abs=0.06)
    assert 0.3 == pytest.approx(amps(here, state, "boiler.input") * 120, abs=0.06)
    assert 0.002 == pytest.approx(amps(here, state, "boiler.input"), abs=0.0005)
    assert not state.of("boiler").called


def test_tied_opposed_burns_the_input():
    """Opposed: T-T 24.9 with the valve open, 50 V and 0.42 A in the input, which burns in ten minutes (ES-09)."""
    here = _tied_to_a_live_pair(-26.0)
    assert 26.0 == pytest.approx(_t_t(here, at_rest(here)), abs=0.06)
    state, events = calling(here, 300)
    assert 24.9 == pytest.approx(_t_t(here, state), abs=0.06)
    assert (50, 0.42) == pytest.approx((amps(here, state, "boiler.input") * 120, amps(here, state, "boiler.input")), abs=0.1)
    made = times(events, "valve end switch makes")[0]
    state, events = waited(here, state, 900)
    assert [pytest.approx(made + 600)] == times(events, "boiler input burns open")
    assert (True, False) == (state.of("boiler").burnt, state.of("boiler").called)
    for installation, volts in ((_alone(Boiler("boiler")), 26.0), (_bridged(Boiler("boiler")), 0.02)):
        dead = at_rest(installation)
        dead = replace(dead, parts={"boiler": replace(dead.of("boiler"), burnt=True)})
        dead, _ = waited(installation, dead, 60)
        assert volts == pytest.approx(_t_t(installation, dead), abs=0.04)
        assert not dead.of("boiler").called


@pytest.mark.parametrize(("volts", "burns"), [(38.9, False), (39.1, True)])
def test_over_voltage_on_the_input(volts, burns):
    """More than 39 V on the relay of an input for ten minutes opens its winding for good."""
    here = at_volts(Boiler("boiler", input="fed from outside"), volts, ("boiler.T1", "boiler.T2"))
    state, events = calling(here, 599)
    assert (True, False) == (state.of("boiler").called, state.of("boiler").burnt)
    state, events = waited(here, state, 3000)
    assert [pytest.approx(600)] * burns == times(events, "boiler input burns open")
    assert burns != state.of("boiler").called


# what keeps it from firing --------------------------------------------------------------------------------------------


def test_a_dead_input():
    """26 V open and 0.02 V bridged, as in a sound one, and nothing happens (ES-19)."""
    boiler = Boiler("boiler", input_sound=False)
    assert 26.0 == pytest.approx(_t_t(_alone(boiler), at_rest(_alone(boiler))), abs=0.001)
    here = _bridged(boiler)
    state, events = waited(here, at_rest(here), 600)
    assert 0.02 == pytest.approx(_t_t(here, state), abs=0.005)
    assert (False, False, ()) == (state.of("boiler").called, state.of("boiler").firing, events)


def test_own_transformer_dead():
    """T-T 0 V open, whatever the field does, and the display is dark; its winding still reads 0.9 ohm (ES-20)."""
    here = changed(REF_A, "boiler", dead=True)
    state, _ = calling(here, 300, "zone1.stat")
    assert 0.0 == pytest.approx(_t_t(here, state), abs=0.01)
    assert (False, "") == (state.of("boiler").called, here.part("boiler").display(state.of("boiler")))
    alone = _alone(Boiler("boiler", dead=True))
    found = ohms_reading(network(alone, at_rest(alone)), network(alone, at_rest(alone), 0), "boiler.T1", "boiler.T2")
    assert 120.9 + 0.2 == pytest.approx(found.value, abs=0.1)


@pytest.mark.parametrize("safety", ["high limit", "low-water cutoff", "spill switch", "pressure switch"])
def test_a_safety_stands_open(safety):
    """The call is there and T-T 0.02 V, the circulator runs, nothing fires, and the display names the safety (ES-21)."""
    here = changed(REF_A, "boiler", safety=safety)
    state, _ = calling(here, 1800, "zone1.stat")
    boiler = state.of("boiler")
    assert 0.02 == pytest.approx(_t_t(here, state), abs=0.01)
    assert (True, False, True) == (boiler.called, boiler.firing, boiler.circulating)
    assert f"call, no fire: {safety} open" == here.part("boiler").display(boiler)
    assert state.values["boiler.water"] < 45


def test_display():
    """Dark without power, then no call, firing, water hot, each in its turn."""
    boiler = Boiler("boiler")
    here = _bridged(boiler)
    state = at_rest(here)
    assert "" == boiler.display(switched(here, state, "boiler", False).of("boiler"))
    assert "no call" == boiler.display(at_rest(_alone(boiler)).of("boiler"))
    assert "call, firing" == boiler.display(state.of("boiler"))
    state, events = waited(here, state, 3600)
    stopped = times(events, "boiler stops on its limit")[0]
    assert "call, water hot" == boiler.display(waited(here, at_rest(here), stopped + 1)[0].of("boiler"))


def test_fires_between_two_temperatures():
    """While it is called the water goes up to the limit, falls by the differential, and up again; off, nothing fires."""
    here = _bridged(Boiler("boiler", water_degC=75.0))
    state, events = waited(here, at_rest(here), 7200)
    stops, again = times(events, "boiler stops on its limit"), times(events, "boiler fires again")
    assert 3 < len(stops)
    assert 240 * math.log((110 - 45) / (110 - 75)) == pytest.approx(stops[0])
    assert 900 * math.log((75 - 35) / (65 - 35)) == pytest.approx(again[0] - stops[0])
    state = switched(here, state, "boiler", False)
    assert (False, False, False) == (state.of("boiler").called, state.of("boiler").firing, state.of("boiler").circulating)


def test_a_circulator_that_does_not_turn():
    """Seized, the boiler fires on its limit and the zone's pipes stay cold, with T-T and heater perfect (ES-22)."""
    here = changed(REF_A, "boiler", circulator="seized")
    state, events = calling(here, 1800, "zone1.stat")
    assert 0.02 == pytest.approx(_t_t(here, state), abs=0.01)
    assert (True, False) == (state.of("boiler").called, state.of("boiler").circulating)
    assert 1 <= len(times(events, "boiler stops on its limit"))
    assert (20.0, 20.0) == pytest.approx((state.values["zone1.loop.supply"], state.values["zone1.loop.return"]))


def test_keeps_its_water_hot():
    """A boiler that keeps hot holds its water between limit and differential without a call, its circulator always on (TP1)."""
    here = _alone(Boiler("boiler", keeps_hot=True, circulator="always"))
    state = at_rest(here)
    for _ in range(20):
        state, _ = waited(here, state, 600)
        assert 65.0 - 1e-6 <= state.values["boiler.water"] <= 75.0 + 1e-6
        assert not state.of("boiler").called
        assert state.of("boiler").circulating
    assert "keeping hot" in here.part("boiler").display(state.of("boiler"))


def test_two_wire_zone_on_a_boiler_that_keeps_hot():
    """A zone without an end switch warms as soon as its valve is open (TP1)."""
    valve = HeatMotorValve("valve", 2, 30.0, ambient_degC=20.0)
    loop = Loop("loop", "valve", "boiler")
    here = on_call(valve, more=(Boiler("boiler", keeps_hot=True, circulator="always"), loop))
    idle, _ = waited(here, at_rest(here), 3600)
    assert 20.0 == pytest.approx(idle.values["loop.supply"])
    state, events = calling(here, 900, state=idle)
    assert 1 == len(times(events, "valve is fully open"))
    assert 55 < state.values["loop.supply"]


# the boiler's own transformer lent ------------------------------------------------------------------------------------


def _borrowed():
    """Three heater loops on the boiler's own 26 V, 2 ohm transformer, whose own load is 24 ohm; T-T bridged."""
    boiler = Boiler("boiler", lends=True, load_ohms=24.0)
    good = (0.0005,) * 4
    parts = [boiler, Splice("R bus", ("boiler", "1", "2", "3"), good), Splice("C bus", ("boiler", "1", "2", "3"), good)]
    wires = [
        Conductor("R feed", "boiler.R", "R bus.boiler", 0.0005),
        Conductor("C feed", "boiler.C", "C bus.boiler", 0.0005),
        Conductor("bridge", "boiler.T1", "boiler.T2", 0.1),
    ]
    for number in "123":
        parts += [Stat(f"stat{number}", 0.05), HeatMotorValve(f"valve{number}", 2, 30.0)]
        wires += [
            Conductor(f"R{number}", f"R bus.{number}", f"stat{number}.R", 0.32),
            Conductor(f"W{number}", f"stat{number}.W", f"valve{number}.HA", 0.32),
            Conductor(f"C{number}", f"valve{number}.HB", f"C bus.{number}", 0.001),
        ]
    return Installation("valves on the boiler's transformer", tuple(parts), tuple(wires))


def test_borrowed_transformer():
    """R-C of the boiler falls from 24.0 to 22.6, 21.4, 20.3 V with 1, 2, 3 zones, and its gas valve drops out (MZ-17)."""
    here = _borrowed()
    state = at_rest(here)
    assert state.of("boiler").firing
    # the trade's figures are without the input relay, which takes 0.2 A more
    without = here.with_conductor("bridge", ohms=float("inf"))
    for count, volts in enumerate((24.0, 22.6, 21.4, 20.3)):
        bare = at_rest(without)
        for number in range(1, count + 1):
            bare = called(without, bare, f"stat{number}", True)
        assert volts == pytest.approx(across(without, bare, "boiler.R", "boiler.C"), abs=0.06)
        assert (count == 3) == bare.of("boiler").starved
    for number in (1, 2, 3):
        state = called(here, state, f"stat{number}", True)
    boiler = state.of("boiler")
    assert (True, False, True) == (boiler.called, boiler.firing, boiler.starved)
    assert "low control voltage" in here.part("boiler").display(boiler)
    state = called(here, state, "stat3", False)
    assert not state.of("boiler").starved
    state, _ = waited(here, state, 60)
    assert state.of("boiler").firing


# water ----------------------------------------------------------------------------------------------------------------


def test_pipes_of_a_zone_that_opens():
    """Supply and return have risen 5 K within three minutes of a valve's opening, the return after the supply."""
    state, events = calling(REF_A, 3600, "zone1.stat")
    made = times(events, "zone1.valve end switch makes")[0]
    state, _ = calling(REF_A, made + 180, "zone1.stat")
    supply, back = state.values["zone1.loop.supply"], state.values["zone1.loop.return"]
    assert 25 < back < supply
    later, _ = waited(REF_A, state, 3600)
    assert 5 < later.values["zone1.loop.supply"] - later.values["zone1.loop.return"] < 15
    cold, _ = cooling(REF_A, later, 7200, "zone1.stat")
    assert (20.0, 20.0) == pytest.approx((cold.values["zone1.loop.supply"], cold.values["zone1.loop.return"]), abs=0.1)


@pytest.mark.parametrize(
    ("fields", "supply", "back"),
    [
        ({"flows": False}, (19.9, 20.1), (19.9, 20.1)),  # MZ-23
        ({"air_bound": True}, (45, 75), (19.9, 20.1)),  # MZ-20
        ({"air_bound": True, "flows": False}, (19.9, 20.1), (19.9, 20.1)),
        ({}, (55, 80), (50, 75)),
    ],
)
def test_loops_that_do_not_flow(fields, supply, back):
    """Air-bound, the supply is hot and the return cold; with a service valve shut both are cold; heater and T-T perfect."""
    here = changed(REF_A, "zone1.loop", **fields)
    state, _ = calling(here, 3600, "zone1.stat")
    assert (25.2, 0.02) == pytest.approx((across(here, state, "zone1.valve.HA", "zone1.valve.HB"), _t_t(here, state)), abs=0.1)
    assert supply[0] <= state.values["zone1.loop.supply"] <= supply[1]
    assert back[0] <= state.values["zone1.loop.return"] <= back[1]


@pytest.mark.parametrize(
    ("part", "fields", "warm", "hot"),
    [
        ("zone1.valve", {"leak": 0.05}, True, False),  # HL-27
        ("zone1.valve", {"leak": 0.2}, True, True),
        ("zone1.loop", {"ghost": 0.1}, True, True),  # MZ-15
        ("zone1.valve", {"stem": "stuck open"}, True, True),  # HL-07
        ("zone1.valve", {"latched": False}, False, False),  # HL-24
        ("zone1.loop", {}, False, False),
    ],
)
def test_a_zone_that_did_not_call(part, fields, warm, hot):
    """With the other zone running, what leaks or is lifted warms a zone that never called, its return the least."""
    here = changed(REF_E, part, **fields)
    idle, _ = waited(here, at_rest(here), 3600)
    assert 20.0 == pytest.approx(idle.values["zone1.loop.supply"])
    state, _ = calling(here, 3600, "zone2.stat", state=idle)
    supply, back = state.values["zone1.loop.supply"], state.values["zone1.loop.return"]
    assert (warm, hot) == (supply > 30, supply > 52)
    assert 20.0 - 1e-9 <= back <= supply
    if fields.get("leak") == 0.05:
        assert back < 25


def test_opener_left_engaged_lets_the_other_zone_warm_it():
    """A lever left open lets a zone's pipes warm whenever the boiler runs for another (HL-08)."""
    state = opener_set(REF_E, at_rest(REF_E), "zone1.valve", True)
    state, _ = calling(REF_E, 1800, "zone2.stat", state=state)
    assert 50 < state.values["zone1.loop.supply"]


def test_a_zone_that_shuts_beside_one_that_runs():
    """Its pipes begin to cool at the moment its valve is shut, not before and not at the next event elsewhere."""
    state, _ = calling(REF_E, 1200, "zone1.stat", "zone2.stat")
    state, events = cooling(REF_E, state, 600, "zone1.stat")
    (shut,) = times(events, "zone1.valve is shut")
    before, _ = calling(REF_E, 1200, "zone1.stat", "zone2.stat")
    before, _ = cooling(REF_E, before, shut - 1200 + 1e-6, "zone1.stat")
    cooled = 20 + (before.values["zone1.loop.supply"] - 20) * math.exp(-(1800 - shut) / 600)
    assert cooled == pytest.approx(state.values["zone1.loop.supply"], abs=1e-4)


def _felt(flow, water=70.0):
    parts = {"boiler": BoilerState(circulating=True), "valve": ValveState(flow=flow)}
    return Seen({}, {}, parts, {"boiler.water": water, "loop.supply": 20.0, "loop.return": 20.0})


@given(st.floats(0.02, 1), st.floats(0.02, 1))
def test_more_flow_is_more_heat(one, other):
    """Of two flows the greater gives more heat, a warmer supply and a warmer return, and none more than full flow."""
    loop, less, more = Loop("loop"), min(one, other), max(one, other)
    ends = []
    for flow in (less, more, 1.0):
        felt = replace(_felt(flow), laws={"boiler.water": Approach(70.0, 100.0)})
        laws = loop.laws(None, felt)
        ends.append((loop.heat_share(felt), laws["loop.supply"].at(20.0, 1e6), laws["loop.return"].at(20.0, 1e6)))
    for lower, higher in pairwise(ends):
        assert all(low <= high + 1e-9 for low, high in zip(lower, higher, strict=True))
    assert (1.0, 70.0) == pytest.approx(ends[-1][:2])
    assert ends[0][2] <= ends[0][1] + 1e-9


def test_water_and_pipes_against_fine_steps():
    """Water, supply and return over an hour of firing on a limit agree with 20 ms steps of the test's own to 0.01 K and 1 ms."""
    state, events = calling(REF_A, 3600, "zone1.stat")
    (start,) = times(events, "boiler starts")
    water, supply, back, firing, time, dt = 45.0, 20.0, 20.0, True, start, 0.02
    kept, stops = math.exp(-0.2), []
    while time < 3600:
        target, tau, level = (110, 240, 75) if firing else (35, 900, 65)
        middle = water + (target - water) / tau * dt / 2
        after = water + (target - middle) / tau * dt
        step = min(1.0, (3600 - time) / dt)
        crossed = after >= level if firing else after <= level
        if crossed:
            step = min(step, (level - water) / (after - water))
        next_water = level if crossed else water + (after - water) * step
        next_supply = supply + ((water + next_water) / 2 - supply) / 90 * dt * step
        back += (20 + kept * ((supply + next_supply) / 2 - 20) - back) / 150 * dt * step
        water, supply, time = next_water, next_supply, time + dt * step
        if crossed:
            stops += [time] if firing else []
            firing = not firing
    found = [state.values[name] for name in ("boiler.water", "zone1.loop.supply", "zone1.loop.return")]
    assert (water, supply, back) == pytest.approx(found, abs=0.01)
    assert stops == pytest.approx(times(events, "boiler stops on its limit"), abs=0.001)


def test_a_field_of_end_switches_calls_a_board():
    """Direct amperes reach the boiler's input through a whole field: its end switch makes, and the board takes the call."""
    here = changed(REF_A, "boiler", input="board-sensed")
    state, events = calling(here, 300, "zone1.stat")
    assert times(events, "zone1.valve end switch makes") == times(events, "boiler starts")
    assert 0.005 == pytest.approx(seen(here, state).direct_amps["boiler.input"], rel=1e-3)
    tied = changed(REF_E, "boiler", input="board-sensed")
    assert not calling(tied, 0.0, "zone1.stat")[0].of("boiler").called
    assert calling(tied, 300, "zone1.stat")[0].of("boiler").called


def test_a_grounded_transformer_calls_no_board():
    """A grounded valve transformer and a sensed T-T on a three-wire common still make no call by themselves."""
    here = changed(changed(REF_E, "boiler", input="board-sensed"), "transformer", grounded=True)
    state = called(here, called(here, at_rest(here), "zone1.stat", True), "zone2.stat", True)
    assert not state.of("boiler").called
