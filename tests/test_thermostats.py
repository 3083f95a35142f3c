"""Thermostats and rooms. Values: common practice and memory, no source, unless a test says otherwise."""

import math
from dataclasses import replace

import pytest
from reference_circuits import REF_A

from solvers.circuit import OPEN, Branch, Network, currents, volts_between
from solvers.plant.parts import HeatMotorValve, Room, Stat
from solvers.plant.running import EARTH, at_rest, called, network, waited
from solvers.plant.stat import false_heat
from solvers.plant.thermostats import AnticipatorStat, BatteryStat, CPoweredStat, PowerStealingStat, TriacStat, TwoSupplyStat
from solvers.plant.topologies import Zone, four_wire
from solvers.plant.wiring import Conductor, NoSuchPart


def _with_stat(stat):
    """Reference A with another thermostat on its wall; a C terminal gets a conductor of its own."""
    here = REF_A.with_part(replace(stat, name="zone1.stat"))
    if "zone1.stat.C" in here.terminals:
        here = here.with_conductors([Conductor("zone1.stat C leg", "zone1.stat.C", "C bus.trunk", 0.32)])
    return here


def _on_call(installation):
    state = called(installation, at_rest(installation), "zone1.stat", True)
    circuit = network(installation, state)
    return state, circuit, currents(circuit, EARTH)


def _volts(circuit, first, second):
    return volts_between(circuit, first, second, 10e6)


@pytest.mark.parametrize(
    ("ohms", "across", "heater", "seconds"), [(2, 1.6, None, None), (5, 3.6, 21.9, 145), (15, 8.6, 17.3, math.inf)]
)
def test_a_pitted_contact(ohms, across, heater, seconds):
    """2, 5 and 15 ohm of contact drop 1.6, 3.6 and 8.6 V; the heater is late, or never makes."""
    here = _with_stat(Stat("stat", ohms=float(ohms)))
    state, circuit, _ = _on_call(here)
    assert across == pytest.approx(_volts(circuit, "zone1.stat.R", "zone1.stat.W"), abs=0.06)
    if heater:
        assert heater == pytest.approx(_volts(circuit, "zone1.valve.HA", "zone1.valve.HB"), abs=0.1)
        _, events = waited(here, state, 3600)
        made = [event.time for event in events if "end switch makes" in event.name]
        assert (made or [math.inf])[0] == pytest.approx(seconds, abs=2)


@pytest.mark.parametrize(("amps", "ohms"), [(0.8, 0.2), (0.2, 3.0)])
def test_anticipator_ohms(amps, ohms):
    """The element has about 0.12 W at its setting: 0.2 ohm at 0.8 A, 3 ohm at 0.2 A."""
    assert ohms == pytest.approx(AnticipatorStat("stat", set_amps=amps).anticipator_ohms, rel=0.07)


def test_an_anticipator_burns_before_the_fuse():
    """Valve leads shorted on a call: the anticipator opens first, the stat then reads full volts though its contact is made."""
    short = Conductor("slip", "zone1.W splice.2", "zone1.C splice.1", 0.05)
    here = _with_stat(AnticipatorStat("stat", set_amps=0.8)).with_conductors([short])
    state, _, _ = _on_call(here)
    after, events = waited(here, state, 60)
    assert "zone1.stat anticipator burns open" == events[0].name
    assert 0.5 == pytest.approx(events[0].time, abs=1e-9)
    assert not after.of("fuse").blown
    assert 27.5 == pytest.approx(_volts(network(here, after), "zone1.stat.R", "zone1.stat.W"), abs=0.06)


def test_an_anticipator_left_alone_stays_whole():
    """A healthy call never hurts an anticipator."""
    here = _with_stat(AnticipatorStat("stat", set_amps=0.8))
    after, _ = waited(here, _on_call(here)[0], 3600)
    assert not after.of("zone1.stat").burnt


@pytest.mark.parametrize(("cells", "closes"), [(3.0, True), (2.2, True), (2.0, False)])
def test_cells(cells, closes):
    """Below about 2.1 V under the pulse the relay no longer closes: the screen calls, and R to W reads the whole source."""
    here = _with_stat(BatteryStat("stat", cell_volts=cells))
    state, circuit, _ = _on_call(here)
    assert state.of("zone1.stat").calling
    assert (0.04 if closes else 27.5) == pytest.approx(_volts(circuit, "zone1.stat.R", "zone1.stat.W"), abs=0.06)
    assert "calls" in here.part("zone1.stat").screen(state.of("zone1.stat"), state.values)


def test_low_cells_are_shown():
    """The screen warns below 2.5 V and goes blank when the cells are gone."""
    stat = BatteryStat("stat", cell_volts=2.3)
    assert "battery" in stat.screen(stat.initial(), {})
    assert "blank" in replace(stat, cell_volts=1.0).screen(stat.initial(), {})


def test_a_dead_relay_driver():
    """Good cells and a contact that never closes look, from outside, like empty cells."""
    _, circuit, _ = _on_call(_with_stat(BatteryStat("stat", relay_works=False)))
    assert 27.5 == pytest.approx(_volts(circuit, "zone1.stat.R", "zone1.stat.W"), abs=0.06)


def test_c_powered():
    """Fed from R and C it is alive in both states; with C broken it goes blank and the zone with it."""
    here = _with_stat(CPoweredStat("stat"))
    state, _, amps = _on_call(here)
    assert state.of("zone1.stat").alive
    assert 25.2 == pytest.approx(_volts(network(here, state), "zone1.valve.HA", "zone1.valve.HB"), abs=0.25)
    assert 0.02 <= abs(amps["zone1.stat.supply"]) <= 0.15
    broken = here.with_conductor("zone1.stat C leg", ohms=OPEN)
    dead, _ = waited(broken, _on_call(broken)[0], 10)
    circuit = network(broken, dead)
    assert not dead.of("zone1.stat").alive
    assert 0 == pytest.approx(_volts(circuit, "zone1.valve.HA", "zone1.valve.HB"), abs=0.06)
    assert "blank" in broken.part("zone1.stat").screen(dead.of("zone1.stat"), dead.values)


def test_c_on_the_valve_wire_shorts_the_source_on_the_first_call():
    """C and W exchanged at the base: alive and idle through the heater, 9.9 A on call, and the fuse opens."""
    here = _with_stat(CPoweredStat("stat"))
    swapped = here.with_conductor("zone1.stat C leg", a="zone1.stat.W").with_conductor("zone1.W leg", b="zone1.stat.C")
    state = at_rest(swapped)
    assert state.of("zone1.stat").alive
    assert 23 < _volts(network(swapped, state), "zone1.stat.R", "zone1.stat.C") < 27
    state = called(swapped, state, "zone1.stat", True)
    circuit = network(swapped, state)
    assert 9.9 == pytest.approx(abs(currents(circuit, EARTH)["fuse.link"]), abs=0.25)
    assert 6.8 == pytest.approx(_volts(circuit, "R bus.fuse", "transformer.C"), abs=0.6)
    after, events = waited(swapped, state, 60)
    assert "fuse opens" in [event.name for event in events]
    assert after.of("fuse").blown


@pytest.mark.parametrize(("load", "volts"), [(70 + 187j, 9.3), (200.0, 7.9), (30.0, 1.6)])
def test_power_stealing_through_a_load(load, volts):
    """Off, 490 ohm hold 9.3 V on a relay coil (7.9 V on a resistor of 200 ohm) and 1.6 V on a heater."""
    stat = PowerStealingStat("stat", off_ohms=490.0)
    source = [Branch("source", "stat.R", "C", 2.1, emf=27.5), Branch("load", "stat.W", "C", load)]
    amps = currents(Network([*source, *stat.branches(stat.initial(), 60.0)]), "C")
    assert volts == pytest.approx(abs(amps["load"] * load), abs=0.06)


def test_power_stealing_starves_without_a_path():
    """With the load's path open it goes blank after a minute, and comes back once it is fed again."""
    here = _with_stat(PowerStealingStat("stat"))
    fed, events = waited(here, at_rest(here), 600)
    assert fed.of("zone1.stat").alive
    assert not [event.name for event in events if "screen" in event.name]
    cut = here.with_part(replace(here.part("zone1.valve"), heater_ohms=OPEN))
    dead, events = waited(cut, at_rest(cut), 600)
    assert [("zone1.stat screen goes blank", 60.0)] == [
        (event.name, round(event.time, 6)) for event in events if "screen" in event.name
    ]
    back, events = waited(here, dead, 60)
    assert ["zone1.stat screen comes back"] == [event.name for event in events if "screen" in event.name]
    assert back.of("zone1.stat").alive


def test_a_triac_drops_a_volt_and_leaks():
    """Closed, about 1 V across it is healthy; open, it passes 0.5 to 5 mA."""
    here = _with_stat(TriacStat("stat"))
    _, circuit, _ = _on_call(here)
    assert 0.8 <= _volts(circuit, "zone1.stat.R", "zone1.stat.W") <= 1.5
    idle = currents(network(here, at_rest(here)), EARTH)
    assert 0.0005 <= abs(idle["zone1.stat.leak"]) <= 0.005


@pytest.mark.parametrize(("terminal", "jumper", "volts"), [("Rh", False, 25.2), ("Rc", True, 25.2), ("Rc", False, 0.0)])
def test_two_supply_terminals(terminal, jumper, volts):
    """R on Rh heats; on Rc it heats through the factory jumper, and never without it."""
    zone = Zone(REF_A.part("zone1.valve"), TwoSupplyStat("stat", jumper=jumper))
    here = four_wire("x", [zone], transformer=REF_A.part("transformer"), fuse=REF_A.part("fuse"))
    here = here.with_conductor("zone1.R leg", b=f"zone1.stat.{terminal}")
    _, circuit, _ = _on_call(here)
    assert volts == pytest.approx(_volts(circuit, "zone1.valve.HA", "zone1.valve.HB"), abs=0.15)


def test_electronics_are_nothing_to_an_ohmmeter():
    """At direct current only contacts and elements are left of a thermostat."""
    for stat in (CPoweredStat("s"), PowerStealingStat("s"), TriacStat("s")):
        assert all(branch.z == OPEN for branch in stat.branches(stat.initial(), 0.0))


def _house(stat, **room):
    zone = Zone(HeatMotorValve("valve", leads=4), replace(stat, name="stat", room="zone1.room"))
    here = four_wire("one room", [zone])
    return replace(here, parts=(*here.parts, Room("zone1.room", loop="zone1.loop", **room)))


def test_a_stat_closes_and_opens_around_its_set_point():
    """The room falls to the set-point less half the differential before it calls, and is warmer by as much when it stops."""
    here = _house(Stat("stat", differential=1.0, set_degC=20.0), start_degC=21.0, tau=7200.0)
    state, events = at_rest(here), ()
    marks = {}
    for _ in range(400):
        before = state
        state, events = waited(here, state, 60)
        for event in events:
            moment, _ = waited(here, before, event.time - before.time)
            marks.setdefault(event.name, moment.values["zone1.room.air"])
    assert 19.5 == pytest.approx(marks["zone1.stat wants heat"], abs=1e-6)
    assert 20.5 == pytest.approx(marks["zone1.stat is satisfied"], abs=1e-6)


@pytest.mark.parametrize("cycles", [2.0, 3.0, 6.0])
def test_cycle_rate(cycles):
    """With the room held between its limits the false heat alone makes the set number of cycles an hour at half load."""
    differential = 0.6
    heat = false_heat(cycles, differential)
    half = 300.0 * math.log((heat + differential) / (heat - differential))
    assert 3600 / cycles == pytest.approx(2 * half, rel=1e-9)


def test_least_time_off():
    """After a call the stat stays off for its least time, whatever the room says, and calls at exactly that moment."""
    here = _house(Stat("stat", differential=0.2, least_off_s=900.0), start_degC=19.0, tau=1800.0, gain=1.5)
    _, events = waited(here, at_rest(here), 6 * 3600)
    stops = [event.time for event in events if event.name == "zone1.stat is satisfied"]
    calls = [event.time for event in events if event.name == "zone1.stat calls"]
    again = [min((call for call in calls if call > stop), default=math.inf) - stop for stop in stops[:-1]]
    assert again
    assert min(again) >= 900 - 1e-6
    assert any(gap == pytest.approx(900, abs=1e-6) for gap in again)


def test_a_hand_overrules_the_room():
    """Turned up, a stat calls in a warm room; turned down, it does not call in a cold one."""
    here = _house(Stat("stat"), start_degC=25.0)
    state = called(here, at_rest(here), "zone1.stat", True)
    assert waited(here, state, 3600)[0].of("zone1.stat").calling
    cold = _house(Stat("stat"), start_degC=10.0)
    assert not waited(cold, called(cold, at_rest(cold), "zone1.stat", False), 3600)[0].of("zone1.stat").calling


def test_a_welded_contact_calls_for_ever():
    """A welded contact conducts at any setting; one that is open never does."""
    assert 25 < _volts(network(*_pair(Stat("stat", contact="welded"))), "zone1.valve.HA", "zone1.valve.HB")
    _, circuit, _ = _on_call(_with_stat(Stat("stat", contact="open")))
    assert 27.5 == pytest.approx(_volts(circuit, "zone1.stat.R", "zone1.stat.W"), abs=0.06)


def _pair(stat):
    here = _with_stat(stat)
    return here, at_rest(here)


def test_wrong_use_is_named():
    """An unknown contact condition and a call on what is no thermostat raise with the choices."""
    with pytest.raises(ValueError, match="'follows', 'open' and 'welded'"):
        Stat("stat", contact="sticky")
    with pytest.raises(NoSuchPart, match="'boiler' is no thermostat"):
        called(REF_A, at_rest(REF_A), "boiler", True)
