"""Relays, and three-wire valves with an isolation relay: common practice and memory, no source."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference_circuits import REF_A
from small_benches import across, amps, at_volts, calling, changed, cooling, on_call, times

from solvers.circuit import OPEN, ohms_reading, volts_between
from solvers.faults.changes import Exchanged
from solvers.plant.part import Seen
from solvers.plant.parts import Boiler, Fuse, HeatedState, HeatMotorValve, Relay, RelayState, Splice, Stat, Transformer
from solvers.plant.running import at_rest, called, lifted, network, opener_set, switched, waited
from solvers.plant.topologies import Zone, three_wire_direct
from solvers.plant.wiring import Conductor, Installation

COIL = abs(complex(70, 187))
AS_RESISTOR = Relay("relay", coil_ohms=200.0, reactance=0.0)


def _reference_c(relay=None, *, source=(27.0, 0.96), trunk=0.001, contact="NO", coil_from="R bus.relay"):
    """Three three-wire valves on shared commons, a relay from R to the E bus, its contact to a dry T-T."""
    relay = Relay("relay") if relay is None else relay
    zones = ("zone1", "zone2", "zone3")
    good = (0.0005,) * 5
    parts = [
        Transformer("transformer", emf=source[0], ohms=source[1], va=75),
        Fuse("fuse", 3.0, 0.001),  # the trade reckons reference C without it
        Splice("R bus", (*zones, "fuse", "relay"), good),
        Splice("C bus", (*zones, "trunk", "spare"), good),
        Splice("E bus", (*zones, "relay"), good[:4]),
        relay,
        Boiler("boiler"),
    ]
    wires = [
        Conductor("R feed", "transformer.R", "fuse.in", 0.001),
        Conductor("R bus feed", "fuse.out", "R bus.fuse", 0.001),
        Conductor("C trunk", "C bus.trunk", "transformer.C", trunk),
        Conductor("coil feed", coil_from, "relay.A1", 0.001),
        Conductor("coil return", "E bus.relay", "relay.A2", 0.001),
        Conductor("T-T 1", "boiler.T1", "relay.COM", 0.001),
        Conductor("T-T 2", "boiler.T2", f"relay.{contact}", 0.001),
    ]
    for zone in zones:
        parts += [Stat(f"{zone}.stat", 0.05), HeatMotorValve(f"{zone}.valve", 3, 30.0, switch_ohms=0.1, ambient_degC=20.0)]
        wires += [
            Conductor(f"{zone}.R leg", f"R bus.{zone}", f"{zone}.stat.R", 0.32),
            Conductor(f"{zone}.W leg", f"{zone}.valve.H", f"{zone}.stat.W", 0.32),
            Conductor(f"{zone}.S lead", f"{zone}.valve.S", f"C bus.{zone}", 0.001),
            Conductor(f"{zone}.E lead", f"{zone}.valve.E", f"E bus.{zone}", 0.001),
        ]
    return Installation("reference C", tuple(parts), tuple(wires))


REF_C = _reference_c()


def _with(installation, state, made=(), calls=()):
    """A state with these end switches made and these zones calling, whatever made them so."""
    hot = HeatedState(made=True, stroke=1.0, lifted=True, opening=1.0, flow=1.0)
    parts = {**state.parts, **{f"{zone}.valve": hot for zone in made}}
    values = {**state.values, **{f"{zone}.valve.wax": 95.0 for zone in made}}
    state, _ = waited(installation, replace(state, parts=parts, values=values), 0.0)
    for zone in calls:
        state = called(installation, state, f"{zone}.stat", True)
    return state


def _coil(installation, state):
    return across(installation, state, "relay.A1", "relay.A2")


def _heater(installation, state, zone):
    return across(installation, state, f"{zone}.valve.H", f"{zone}.valve.S")


def _feels(relay, volts):
    return Seen({f"{relay.name}.coil": volts / COIL}, {}, {}, {})


# one relay ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("volts", "before", "pulled", "buzzing"),
    [
        (24.0, False, True, False),
        (18.6, False, True, False),
        (18.4, False, False, True),
        (18.4, True, True, True),
        (7.1, True, True, True),
        (6.9, True, False, False),
        (0.0, True, False, False),
    ],
)
def test_pull_in_and_drop_out(volts, before, pulled, buzzing):
    """It pulls in at 18.5 V, drops at 7, keeps between them what it had, and says that it buzzes."""
    relay = Relay("relay")
    assert RelayState(pulled, buzzing) == relay.settled(RelayState(before), _feels(relay, volts))
    here = at_volts(relay, volts, relay.coil_pair)
    assert (volts >= 18.5, 7 < volts < 18.5) == ((state := calling(here)[0].of("relay")).pulled, state.buzzing)


@given(st.lists(st.floats(0, 40), min_size=1, max_size=30))
def test_a_relay_has_hysteresis(path):
    """Whatever the volts do, what it has depends on nothing but the last of them outside 7 to 18.5 V."""
    relay, state = Relay("relay"), RelayState()
    for number, volts in enumerate(path):
        state = relay.settled(state, _feels(relay, volts))
        outside = [v for v in path[: number + 1] if v >= 18.5 or v <= 7]
        assert state.pulled == (bool(outside) and outside[-1] >= 18.5)
        assert state.buzzing == (7 < volts < 18.5)


def test_an_ohmmeter_reads_its_copper_alone():
    """The coil draws as 200 ohm on the line and reads 70 to an ohmmeter; an open one reads OL."""
    here = at_volts(Relay("relay"), 24.0, ("relay.A1", "relay.A2"))
    assert 24 / COIL == pytest.approx(amps(here, calling(here)[0], "relay.coil"), rel=1e-6)
    for relay, reads in ((Relay("relay"), 70.0), (Relay("relay", coil_ohms=OPEN), float("inf"))):
        here = at_volts(relay, 24.0, relay.coil_pair)
        dead = switched(here, at_rest(here), "transformer", False)
        found = ohms_reading(network(here, dead), network(here, dead, 0), "relay.A1", "relay.A2")
        assert reads == pytest.approx(found.value, abs=0.3)


def test_a_coil_draws_more_at_50_hertz():
    """Its reactance falls with the line's frequency, its resistance does not."""
    here = at_volts(Relay("relay"), 24.0, ("relay.A1", "relay.A2"), hz=50.0)
    assert 24 / abs(complex(70, 187 * 5 / 6)) == pytest.approx(amps(here, calling(here)[0], "relay.coil"), rel=1e-6)


@pytest.mark.parametrize("poles", [1, 2])
@pytest.mark.parametrize("contacts", ["follow", "welded"])
@pytest.mark.parametrize("pulled", [False, True])
def test_contacts(poles, contacts, pulled):
    """On every pole exactly one of NO and NC conducts, NO when pulled in; welded contacts stay as pulled in."""
    relay = Relay("relay", poles, contacts=contacts)
    made = {branch.name: branch.z != OPEN for branch in relay.branches(RelayState(pulled), 60.0)}
    for number in range(1, poles + 1):
        _, normally_open, normally_closed = relay.pole(number)
        assert (pulled or contacts == "welded") == made[normally_open] != made[normally_closed]
    assert 2 + 3 * poles == len(set(relay.terminals))


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: Relay("relay", 3), "3 poles"),
        (lambda: Relay("relay", contacts="loose"), "loose"),
        (lambda: Relay("relay", drop_volts=20.0), "drops lower"),
        (lambda: Relay("relay").pole(2), "no pole 2"),
    ],
)
def test_a_relay_that_cannot_be_is_refused(make, words):
    """A field with an impossible value raises and shows it."""
    with pytest.raises(ValueError, match=words):
        make()


def test_events_of_a_relay():
    """Running names a relay that pulls in, drops out or buzzes, at the moment what feeds it changes."""
    fed = Relay("relay")
    here = at_volts(HeatMotorValve("valve", 4, 30.0, ambient_degC=20.0), 24.0, more=(fed,), wires=[
        Conductor("to the switch", "transformer.R", "valve.EA", 0.001), Conductor("to the coil", "valve.EB", "relay.A1", 0.001),
        Conductor("from the coil", "relay.A2", "transformer.C", 0.001),
    ])  # fmt: skip
    state, events = calling(here, 300)
    assert times(events, "valve end switch makes") == times(events, "relay pulls in")
    _, events = cooling(here, state, 300)
    assert times(events, "valve end switch opens") == times(events, "relay drops out")
    weak = changed(here, "valve", switch_ohms=120.0)
    _, events = calling(weak, 300)
    assert times(events, "valve end switch makes") == times(events, "relay buzzes")


def test_chatter_is_found_and_named():
    """A relay fed through its own NC contact never settles: running says which one chatters, from when, and till when."""
    here = on_call(Relay("relay"), ("relay.COM", "relay.A2"), more=(Relay("other"),), wires=[
        Conductor("through itself", "relay.NC", "relay.A1", 0.001),
        Conductor("other feed", "stat.W", "other.A1", 0.001), Conductor("other return", "other.A2", "transformer.C", 0.001),
    ])  # fmt: skip
    assert () == at_rest(here).chattering
    state, _ = calling(here)
    assert ("relay",) == state.chattering
    assert state.of("other").pulled
    assert () == called(here, state, "stat", False).chattering
    timed = on_call(HeatMotorValve("valve", 4, 30.0, ambient_degC=20.0), more=(Relay("relay"),), wires=[
        Conductor("to the switch", "transformer.R", "valve.EA", 0.001), Conductor("to COM", "valve.EB", "relay.COM", 0.001),
        Conductor("through itself", "relay.NC", "relay.A1", 0.001), Conductor("back", "relay.A2", "transformer.C", 0.001),
    ])  # fmt: skip
    state, events = calling(timed, 300)
    assert times(events, "valve end switch makes") == times(events, "relay chatters")
    assert ("relay",) == state.chattering
    state, _ = cooling(timed, state, 300)
    assert () == state.chattering


@pytest.mark.parametrize(("coil", "volts"), [(AS_RESISTOR, 7.9), (Relay("relay"), 9.3)], ids=["resistor", "coil"])
def test_what_a_power_stealing_thermostat_leaves_on_a_coil(coil, volts):
    """40 mA through 490 ohm put 7.9 V on a coil as a resistor, 9.3 V on a real one, and that never lets it drop (TS-10)."""
    steals = Conductor("steals", "stat.R", "stat.W", 490.0)
    here = on_call(coil, coil.coil_pair, wires=[steals])
    off = at_rest(here)
    assert volts == pytest.approx(_coil(here, off), abs=0.06)
    held = called(here, called(here, off, "stat", True), "stat", False)
    assert (True, True) == (held.of("relay").pulled, held.of("relay").buzzing)
    valve = on_call(HeatMotorValve("valve", 4, 30.0), wires=[steals])
    assert 1.6 == pytest.approx(across(valve, at_rest(valve), "valve.HA", "valve.HB"), abs=0.06)


def test_one_zone_card_of_a_relay_panel():
    """The stat pulls a two-pole relay; one pole feeds two valves, the other makes T-T: 0.12 A in the stat, boiler on call."""
    valves = [HeatMotorValve(f"valve{number}", 4, 30.0, ambient_degC=20.0) for number in (1, 2)]
    wires = [
        Conductor("valve feed", "transformer.R", "relay.COM1", 0.3),
        *(Conductor(f"W{number}", "relay.NO1", f"valve{number}.HA", 0.3) for number in (1, 2)),
        *(Conductor(f"C{number}", f"valve{number}.HB", "transformer.C", 0.01) for number in (1, 2)),
        Conductor("T-T 1", "relay.COM2", "boiler.T1", 0.1),
        Conductor("T-T 2", "relay.NO2", "boiler.T2", 0.1),
    ]
    relay = Relay("relay", 2)
    here = on_call(relay, relay.coil_pair, more=(*valves, Boiler("boiler")), wires=wires)
    idle, _ = waited(here, at_rest(here), 60)
    assert not idle.of("boiler").called
    state, events = calling(here)
    assert state.of("boiler").called
    assert amps(here, state, "W leg") <= 0.2
    one, two = (across(here, state, f"valve{number}.HA", f"valve{number}.HB") for number in (1, 2))
    assert one == pytest.approx(two, rel=0.1)
    assert 22 < one
    state, events = waited(here, state, 300)
    assert 2 == sum(event.name.endswith("end switch makes") for event in events)


# reference C ----------------------------------------------------------------------------------------------------------


def test_reference_c():
    """Zone 1 cold: E bus to C 26.2 V, coil 0. Open: coil 26.0 V, E bus to C 0.01 V, relay in, boiler called."""
    here = _reference_c(AS_RESISTOR)
    cold, _ = calling(here, 0.0, "zone1.stat")
    assert 26.2 == pytest.approx(across(here, cold, "E bus.relay", "transformer.C"), abs=0.06)
    assert 0 == pytest.approx(_coil(here, cold), abs=0.01)
    state, events = calling(here, 300, "zone1.stat")
    assert 26.0 == pytest.approx(_coil(here, state), abs=0.06)
    assert 0.01 == pytest.approx(across(here, state, "E bus.relay", "transformer.C"), abs=0.01)
    assert state.of("relay").pulled
    assert state.of("boiler").called
    assert times(events, "zone1.valve end switch makes") == times(events, "relay pulls in") == times(events, "boiler starts")


def test_ohms_of_three_leads():
    """Cold, H-S 30 ohm and E open to both; with the switch made by the opener S-E 0.1 and H-E 30.1: H and S part (10.4)."""
    here = changed(REF_C, "zone1.valve", opener="by hand, makes the switch")
    off = switched(here, switched(here, at_rest(here), "transformer", False), "boiler", False)
    for lead in "HSE":
        off = lifted(here, off, f"zone1.valve.{lead}")
    for state, expected in (
        (off, (30.0, float("inf"), float("inf"))),
        (opener_set(here, off, "zone1.valve", True), (30.0, 0.1, 30.1)),
    ):
        for pair, ohms in zip(("HS", "SE", "HE"), expected, strict=True):
            points = [f"zone1.valve.{lead}" for lead in pair]
            found = ohms_reading(network(here, state), network(here, state, 0), *points)
            assert ohms + (0.2 if ohms < 1e9 else 0) == pytest.approx(found.value, abs=0.06), pair


LEADS_EXCHANGED = {"healthy": None, "H-E": ("H", "E"), "S-E": ("S", "E"), "H-S": ("H", "S")}
SITUATIONS = {
    "idle": ((), ()),
    "call, cold": ((), ("zone2",)),
    "call, switch made": (("zone2",), ("zone2",)),
    "stat open, switch made": (("zone2",), ()),
}
CELLS = {  # coil V and heater 2 V, zone 1 shut and then calling and open; a single number is the source's amperes
    "idle": {
        "healthy": ((0, 0), (26.0, 0)),
        "H-E": ((23.4, 3.5), (26.0, 0)),
        "S-E": ((0, 0), (26.0, 0)),
        "H-S": ((0, 0), (26.0, 0)),
    },
    "call, cold": {
        "healthy": ((0, 25.6), (25.3, 24.7)),
        "H-E": ((23.4, 3.5), (26.0, 0)),
        "S-E": ((0, 0), (25.2, 24.6)),
        "H-S": ((0, 25.6), (25.3, 24.7)),
    },
    "call, switch made": {
        "healthy": ((26.0, 25.5), (25.3, 24.7)),
        "H-E": (15.4, 15.6),
        "S-E": ((26.0, 25.4), (25.3, 24.7)),
        "H-S": ((0.6, 25.6), 14.8),
    },
    "stat open, switch made": {
        "healthy": ((26.9, 0), (26.0, 0)),
        "H-E": ((23.4, 3.5), (26.0, 0)),
        "S-E": ((26.9, 0), (26.0, 0)),
        "H-S": ((23.4, 3.5), (26.0, 0)),
    },
}


def _exchanged(installation, which):
    leads = LEADS_EXCHANGED[which]
    if leads is None:
        return installation
    return Exchanged(*(f"zone2.valve.{lead}" for lead in leads)).made(installation)


@pytest.mark.parametrize("which", LEADS_EXCHANGED)
@pytest.mark.parametrize("situation", SITUATIONS)
@pytest.mark.parametrize("zone1_open", [False, True])
def test_three_wire_leads_exchanged(situation, which, zone1_open):
    """Every cell of the trade's table of exchanged leads, the coil taken as 200 ohm as it is there."""
    here = _exchanged(_reference_c(AS_RESISTOR), which)
    made, calls = SITUATIONS[situation]
    also = ("zone1",) if zone1_open else ()
    state = _with(here, at_rest(here), (*also, *made), (*also, *calls))
    printed = CELLS[situation][which][zone1_open]
    if isinstance(printed, tuple):
        assert printed == pytest.approx((_coil(here, state), _heater(here, state, "zone2")), abs=0.06)
    else:
        assert printed == pytest.approx(amps(here, state, "transformer.winding"), rel=0.01)


def test_the_rows_that_a_real_coil_moves():
    """With 70 + j187 ohm, H and E exchanged read 25.4 and 3.8 V idle, H and S exchanged 25.4 V coasting."""
    here = _exchanged(REF_C, "H-E")
    idle = at_rest(here)
    assert (25.4, 3.8) == pytest.approx((_coil(here, idle), _heater(here, idle, "zone2")), abs=0.06)
    assert idle.of("boiler").called
    here = _exchanged(REF_C, "H-S")
    assert 25.4 == pytest.approx(_coil(here, _with(here, at_rest(here), ("zone2",))), abs=0.06)


@pytest.mark.parametrize(
    ("which", "situation"),
    [
        (which, situation)
        for which in LEADS_EXCHANGED
        for situation in SITUATIONS
        if which != "H-E" and (which, situation) != ("H-S", "stat open, switch made")
    ],
)
def test_a_real_coil_moves_no_other_row(situation, which):
    """All other cells move less than 0.3 V between the two coils."""
    made, calls = SITUATIONS[situation]
    real, resistor = (_exchanged(_reference_c(relay), which) for relay in (Relay("relay"), AS_RESISTOR))
    for read in (_coil, lambda here, state: _heater(here, state, "zone2")):
        one, other = (read(here, _with(here, at_rest(here), made, calls)) for here in (real, resistor))
        assert one == pytest.approx(other, abs=0.3)


def test_shared_and_switch_exchanged_holds_itself():
    """Zone 2 alone: W2-C 27.0, no amperes, E bus at 27; once zone 1 is open it opens too, and then holds itself (ES-24)."""
    here = _exchanged(REF_C, "S-E")
    alone, events = calling(here, 1800, "zone2.stat")
    assert [] == times(events, "zone2.valve end switch makes")
    assert 27.0 == pytest.approx(across(here, alone, "zone2.stat.W", "transformer.C"), abs=0.06)
    assert 27.0 == pytest.approx(across(here, alone, "E bus.relay", "transformer.C"), abs=0.06)
    assert 0 == pytest.approx(amps(here, alone, "zone2.W leg"), abs=1e-3)
    both, events = calling(here, 600, "zone1.stat", state=alone)
    assert 1 == len(times(events, "zone2.valve end switch makes"))
    held, _ = cooling(here, both, 1800, "zone1.stat")
    assert (False, True) == (held.of("zone1.valve").made, held.of("zone2.valve").made)
    assert held.of("relay").pulled


def test_heater_and_shared_exchanged_blows_the_fuse():
    """Alone hot: coil 0.6 V, boiler silent, E bus to C 25.6; with zone 1 open 14.3 A through two switches and a fuse (ES-25)."""
    here = _exchanged(REF_C, "H-S")
    alone, _ = calling(here, 600, "zone2.stat")
    assert (True, False) == (alone.of("zone2.valve").made, alone.of("boiler").called)
    assert 25.6 == pytest.approx(across(here, alone, "E bus.relay", "transformer.C"), abs=0.1)
    state = _with(here, alone, ("zone1",), ("zone1",))
    assert 14.3 == pytest.approx(amps(here, state, "zone2.valve.switch"), rel=0.01)
    assert 14.8 == pytest.approx(amps(here, state, "transformer.winding"), rel=0.01)
    _, events = waited(here, state, 5)
    assert [pytest.approx(0.2, abs=0.05)] == [time - state.time for time in times(events, "fuse opens")]


def test_coil_across_shared_and_switch():
    """A coil from C to the E bus has 0 V shut and open; R to E bus is 26 to 27 V, and real on low-Z too (ES-26)."""
    here = _reference_c(coil_from="C bus.spare")
    for seconds, low in ((0.0, 26.0), (600.0, 25.9)):
        state, _ = calling(here, seconds, "zone1.stat")
        assert (0, 0) == pytest.approx((_coil(here, state), across(here, state, "E bus.relay", "transformer.C")), abs=0.02)
        for meter in (10e6, 3e3):
            found = volts_between(network(here, state), "R bus.relay", "E bus.relay", meter)
            assert low <= found <= 27.0 or (meter == 3e3 and seconds == 0.0 and 24 < found)
        assert not state.of("relay").pulled


def test_open_coil():
    """An open coil has 26 V across it, does not pull, and reads OL lifted (ES-10)."""
    here = changed(REF_C, "relay", coil_ohms=OPEN)
    state, _ = calling(here, 300, "zone1.stat")
    assert 26 == pytest.approx(_coil(here, state), abs=0.5)
    assert (False, False) == (state.of("relay").pulled, state.of("boiler").called)


@pytest.mark.parametrize(
    ("ohms", "contact", "input_volts", "fires"), [(20.0, 3.7, 22.0, True), (60.0, 8.6, 17.1, False), (OPEN, 26.0, 0.0, False)]
)
def test_a_resistive_contact(ohms, contact, input_volts, fires):
    """With the coil in, 20 ohm in the NO contact drop 3.7 V and work, 60 ohm 8.6 V and do not, an open one has 26 V (ES-11)."""
    here = changed(REF_C, "relay", no_ohms=ohms)
    state, _ = calling(here, 300, "zone1.stat")
    assert state.of("relay").pulled
    assert contact == pytest.approx(across(here, state, "relay.COM", "relay.NO"), abs=0.06)
    assert input_volts == pytest.approx(amps(here, state, "boiler.input") * 120, abs=0.06)
    assert fires == state.of("boiler").called


def test_a_welded_contact():
    """The coil dead and T-T 0.02 V: the boiler never stops, and does once the contact's lead is lifted (ES-12)."""
    here = changed(REF_C, "relay", contacts="welded")
    idle = at_rest(here)
    assert (0, 0.02) == pytest.approx((_coil(here, idle), across(here, idle, "boiler.T1", "boiler.T2")), abs=0.011)
    assert idle.of("boiler").called
    assert not lifted(here, idle, "relay.NO").of("boiler").called


def test_a_relay_on_its_nc_contact():
    """T-T is 0.02 V idle and 26 V on call: the boiler runs without a call and stops with one (ES-13)."""
    here = _reference_c(contact="NC")
    idle = at_rest(here)
    assert 0.02 == pytest.approx(across(here, idle, "boiler.T1", "boiler.T2"), abs=0.011)
    assert idle.of("boiler").called
    state, events = calling(here, 300, "zone1.stat")
    assert 26.0 == pytest.approx(across(here, state, "boiler.T1", "boiler.T2"), abs=0.011)
    assert times(events, "relay pulls in") == times(events, "boiler stops")


def test_a_relay_under_volts():
    """6 ohm in a 40 VA trunk: coil 21.1, 17.5, 15.0 V; staged it holds and buzzes, together it never pulls (ES-14)."""
    here = _reference_c(AS_RESISTOR, source=(27.5, 2.1), trunk=6.0)
    zones = ("zone1", "zone2", "zone3")
    for count, volts in ((1, 21.1), (2, 17.5), (3, 15.0)):
        state = _with(here, at_rest(here), zones[:count], zones[:count])
        assert volts == pytest.approx(_coil(here, state), abs=0.1)
    real = _reference_c(source=(27.5, 2.1), trunk=6.0)
    staged = at_rest(real)
    for zone in zones:
        staged = _with(real, staged, (zone,), (zone,))
    assert (True, True) == (staged.of("relay").pulled, staged.of("relay").buzzing)
    cold = at_rest(real)
    for zone in zones:
        cold = called(real, cold, f"{zone}.stat", True)
    together = _with(real, cold, zones)
    assert (False, True) == (together.of("relay").pulled, together.of("relay").buzzing)


# T-T fed directly -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("exchanged", "made", "in_phase", "opposed"),
    [(("H", "E"), False, 20.5, 20.5), (("S", "E"), False, 1.2, 41.0), (("H", "S"), True, 0.8, 49.0)],
    ids=["H-E", "S-E", "H-S"],
)
def test_exchanged_leads_with_t_t_fed_directly(exchanged, made, in_phase, opposed):
    """Volts on the boiler's input, in phase and opposed, with two leads of the only valve exchanged (10.4)."""
    ref_a = [REF_A.part("transformer"), REF_A.part("fuse"), REF_A.part("boiler")]
    for sign, volts in ((1, in_phase), (-1, opposed)):
        here = three_wire_direct(
            "reference A's source, T-T fed directly",
            [Zone(HeatMotorValve("valve", 3, 30.0, ambient_degC=20.0), Stat("stat", 0.05))],
            transformer=ref_a[0],
            fuse=ref_a[1],
            boiler=replace(ref_a[2], emf=sign * ref_a[2].emf),
        )
        here = Exchanged(*(f"zone1.valve.{lead}" for lead in exchanged)).made(here)
        state = at_rest(here) if exchanged == ("H", "E") else _with(here, at_rest(here), ("zone1",) if made else (), ("zone1",))
        assert volts == pytest.approx(amps(here, state, "boiler.input") * 120, abs=0.5 if sign < 0 else 0.06)
        if exchanged == ("H", "E"):
            assert state.of("boiler").called
        if exchanged == ("H", "S") and sign < 0:
            assert 0.41 == pytest.approx(amps(here, state, "boiler.input"), abs=0.006)
