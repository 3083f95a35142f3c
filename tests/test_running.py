"""The coupled run: rooms, thermostats, heaters, end switches, boiler and water, against steps of a tenth of a second."""

import pytest

from solvers.circuit import solved
from solvers.plant import electrics, facts
from solvers.plant.drafting import Zone
from solvers.plant.parts import HeatMotorValve, Relay, Stat, Transformer
from solvers.plant.running import at_rest, called, waited
from solvers.plant.stat import false_heat
from solvers.plant.topologies import four_wire
from solvers.plant.weather import lived_in
from solvers.plant.wiring import Conductor, Installation, WiringError


def _house(count=1):
    stat = Stat("stat", differential=0.6, cycles_per_hour=3.0)
    zones = [Zone(HeatMotorValve("valve", leads=4), stat)] * count
    here = four_wire("a house", zones, transformer=Transformer("transformer", emf=27.5, ohms=0.5, va=100.0))
    numbers = range(1, count + 1)
    return lived_in(here, start_degC=[19.2 + 0.2 * n for n in numbers], taus=[15_000.0 + 2_000 * n for n in numbers])


def _stepped(here, hours, dt=0.05):
    """The same house by small steps and nothing of the event kernel: (time, what happened)."""
    valve, stat, room, boiler = (here.part(name) for name in ("zone1.valve", "zone1.stat", "zone1.room", "boiler"))
    source = here.part("transformer")
    loop = source.ohms + here.part("fuse").ohms + 0.32 + 0.32 + 0.05 + valve.heater_ohms + 0.008
    watts = (source.emf / loop) ** 2 * valve.heater_ohms
    air, heat, wax, water = room.start_degC, 0.0, valve.ambient_degC, facts.BOILER_STANDBY_DEGC.value
    calling = made = firing = lifted = False
    target = false_heat(stat.cycles_per_hour, stat.differential)
    found, t = [], 0.0
    for _ in range(int(hours * 3600 / dt)):
        called_ = made
        goal = valve.ambient_degC + (watts * valve.wax_resistance if calling else 0.0)
        wax += dt * (goal - wax) / valve.wax_tau
        heat += dt * ((target if calling else 0.0) - heat) / facts.FALSE_HEAT_TAU.value
        if firing:
            water += dt * (facts.BOILER_FIRED_DEGC.value - water) / facts.BOILER_FIRED_TAU.value
        elif called_:
            water += dt * (facts.BOILER_RETURN_DEGC.value - water) / facts.BOILER_EMITTING_TAU.value
        else:
            water += dt * (facts.BOILER_STANDBY_DEGC.value - water) / facts.BOILER_COOLING_TAU.value
        gain = room.gain * (water - facts.INDOOR_DEGC.value) if lifted and called_ else 0.0
        air += dt * (room.outdoor_degC + gain - air) / room.tau
        t += dt
        senses = air + heat
        if calling and senses >= stat.set_degC + stat.differential / 2:
            calling = False
            found.append((t, "zone1.stat stops calling"))
        elif not calling and senses <= stat.set_degC - stat.differential / 2:
            calling = True
            found.append((t, "zone1.stat calls"))
        if not lifted and wax >= valve.end_degC - 15:
            lifted = True
        elif lifted and wax <= valve.end_degC - 30:
            lifted = False
        if not made and wax >= valve.end_degC:
            made = True
            firing = water < boiler.water_degC
            found.append((t, "boiler starts"))
        elif made and wax <= valve.end_degC - 10:
            made, firing = False, False
            found.append((t, "boiler stops"))
        if firing and water >= boiler.water_degC:
            firing = False
            found.append((t, "boiler stops on its limit"))
        elif made and not firing and water <= boiler.water_degC - facts.BOILER_DIFFERENTIAL.value:
            firing = True
            found.append((t, "boiler fires again"))
    return found


def test_a_house_against_small_steps():
    """Five hours of one zone: the same events in the same order, each within what the small steps can tell."""
    here = _house()
    stepped = _stepped(here, 5)
    _, events = waited(here, at_rest(here), 5 * 3600)
    mine = [(event.time, event.name) for event in events if event.name in {name for _, name in stepped}]
    assert [name for _, name in stepped] == [name for _, name in mine]
    assert len(mine) > 20
    for (theirs, _), (ours, name) in zip(stepped, mine, strict=True):
        assert theirs == pytest.approx(ours, abs=2.0), name


def test_waiting_in_pieces_is_waiting_at_once():
    """Looking in between changes nothing: a day in one wait and in odd pieces ends in the same state at the same events."""
    here = _house(2)
    whole, events = waited(here, at_rest(here), 12 * 3600)
    state, pieces = at_rest(here), []
    for seconds in (1, 59, 600.5, 3333, 7, 20_000, 12 * 3600 - 24_000.5):
        state, more = waited(here, state, seconds)
        pieces += more
    assert [event.name for event in events] == [event.name for event in pieces]
    for one, other in zip(events, pieces, strict=True):
        assert one.time == pytest.approx(other.time, abs=1e-6)
    assert [part.calling for part in map(whole.of, ("zone1.stat", "zone2.stat"))] == [
        part.calling for part in map(state.of, ("zone1.stat", "zone2.stat"))
    ]
    for name, value in whole.values.items():
        assert value == pytest.approx(state.values[name], abs=1e-6), name


def test_a_day_keeps_the_rooms_where_they_are_set():
    """Through a cold day every room stays within a kelvin of its set-point, and every call ends."""
    here = _house(3)
    state, events = waited(here, at_rest(here), 24 * 3600)
    for zone in here.zones:
        assert 20 == pytest.approx(state.values[f"{zone}.room.air"], abs=1.0)
        starts = sum(event.name == f"{zone}.stat calls" for event in events)
        stops = sum(event.name == f"{zone}.stat stops calling" for event in events)
        assert starts > 5
        assert starts - stops in (0, 1)


def test_each_electrical_state_is_solved_once(monkeypatch):
    """A day of many events needs one solve for each state of the contacts, and the next day none that is not new."""
    here, solves = _house(4), []
    monkeypatch.setattr(
        electrics, "solved_once", lambda circuit, reference, *_: solves.append(circuit) or solved(circuit, reference)
    )
    state, events = waited(here, at_rest(here), 24 * 3600)
    assert len(solves) == len(set(solves))
    assert len(solves) < len(events) / 4
    before = len(solves)
    waited(here, state, 24 * 3600)
    assert len(solves) == len(set(solves))
    assert len(solves) - before <= before


def test_rooms_and_zones_must_match():
    """Starts or losses for another number of zones are refused with both numbers."""
    with pytest.raises(WiringError, match="start_degC has 2 values for 1 zones"):
        lived_in(_house(), start_degC=[20.0, 21.0])


def test_a_relay_through_its_own_contact_chatters_and_is_named():
    """A coil fed through its own NC contact pulls and drops without end: the run goes on, and the relay is named."""
    source = Transformer("transformer")
    relay = Relay("relay")
    wires = (
        Conductor("a", "transformer.R", "relay.COM", 0.1),
        Conductor("b", "relay.NC", "relay.A1", 0.1),
        Conductor("c", "relay.A2", "transformer.C", 0.1),
    )
    here = Installation("a buzzer", (source, relay), wires)
    state, _ = waited(here, at_rest(here), 60)
    assert ("relay",) == state.chattering


def test_time_runs_forward_only():
    """A wait of nothing changes nothing; a wait into the past is refused."""
    here = _house()
    state = called(here, at_rest(here), "zone1.stat", True)
    again, events = waited(here, state, 0.0)
    assert () == tuple(events)
    assert state.time == again.time
    with pytest.raises(ValueError, match="cannot run from"):
        waited(here, state, -1.0)
