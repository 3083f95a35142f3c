"""End switches, relays and the boiler's call: every row shows what the trade says. Values: common practice and memory."""

from dataclasses import replace

import pytest
from reference_circuits import REF_A, REF_B, REF_C, REF_E, zone_of
from small_benches import across, amps, calling, changed, cooling, times

from solvers.circuit import OPEN, ohms_reading, volts_between
from solvers.faults.changes import Bridged, Landed, LineSwitched, PartField
from solvers.faults.end_switches import END_SWITCH_ROWS
from solvers.faults.fault import suspects
from solvers.faults.heater_loops import HEATER_LOOP_ROWS
from solvers.faults.planting import planted
from solvers.jobs.acts import acted, arrival
from solvers.jobs.handling import TRADES
from solvers.jobs.objectives import OBJECTIVES
from solvers.plant.parts import Boiler, Fuse, Transformer
from solvers.plant.running import EARTH, at_rest, called, lifted, network, opener_set, switched, waited
from solvers.plant.senses import sensed
from solvers.plant.topologies import four_wire, three_wire_direct, three_wire_relay, two_wire
from solvers.plant.wiring import NoSuchTerminal

ROWS = {row.id: row for row in END_SWITCH_ROWS}
T_T = ("boiler.T1", "boiler.T2")
WITH_A_FUSE = 0.1  # V; the trade reckons these without the fuse's 0.05 ohm, which take 0.04 V

FORTY = Transformer("transformer", emf=27.5, ohms=2.1, dc_ohms=0.9)
BOILER = Boiler("boiler", emf=26.0, ohms=2.0, input_ohms=120.0)
REF_A_TWO = four_wire("reference A with two zones", [zone_of(), zone_of()], transformer=FORTY, fuse=Fuse("fuse"), boiler=BOILER)
DIRECT = three_wire_direct(
    "reference A's source, three-wire valve", [zone_of(3)], transformer=FORTY, fuse=Fuse("fuse"), boiler=BOILER
)
WEAK = three_wire_relay(
    "reference C on 40 VA",
    [zone_of(3) for _ in range(3)],
    transformer=FORTY,
    fuse=Fuse("fuse", 3.0, 0.001),
    relay=REF_C.part("relay"),
    boiler=BOILER,
)
REAL_C = three_wire_relay(
    "reference C with a real coil",
    [zone_of(3) for _ in range(3)],
    transformer=REF_C.part("transformer"),
    fuse=REF_C.part("fuse"),
    boiler=BOILER,
)
TWO_WIRE = two_wire("reference A, two-wire", [zone_of(2)])
DESIGNS = (REF_A, REF_A_TWO, REF_B, REF_C, WEAK, DIRECT, REF_E, TWO_WIRE)


def _plant(design, row, size=None, zone="zone1", place=None, other="zone2"):
    """The design with a row in it, at a size that may lie outside what is drawn."""
    row = ROWS[row] if size is None else replace(ROWS[row], sizes=(size, size))
    found = [where for where in row.places if place in (None, where.words)]
    return planted(design, row.at(zone, found[0], size, other))


def _t_t(here, state):
    return across(here, state, *T_T)


def _input(here, state):
    return amps(here, state, "boiler.input") * here.part("boiler").input_ohms


def _coil(here, state):
    return across(here, state, "relay.A1", "relay.A2")


def _heater(here, state, zone):
    valve = here.part(f"{zone}.valve")
    return across(here, state, *valve.heater_pair)


def _switch(here, state, zone="zone1"):
    return across(here, state, *here.part(f"{zone}.valve").switch_pair)


# valves and their leads -----------------------------------------------------------------------------------------------


def test_a_switch_that_never_makes():
    """Open: 26 V across EA-EB, 25.2 on the heater, no boiler; a jumper there starts it (ES-01)."""
    here = _plant(REF_A, "ES-01")
    state, _ = calling(here, 300, "zone1.stat")
    assert (26.0, 25.2) == pytest.approx((_switch(here, state), _heater(here, state, "zone1")), abs=WITH_A_FUSE)
    assert not state.of("boiler").called
    jumped = Bridged("jumper", "zone1.valve.EA", "zone1.valve.EB").made(here)
    assert at_rest(jumped).of("boiler").called


def test_a_welded_switch():
    """Idle T-T 0.02; of three E leads only the culprit's sends T-T to 26 V when it is lifted (ES-02)."""
    here = _plant(REF_B, "ES-02", zone="zone2")
    idle = at_rest(here)
    assert 0.02 == pytest.approx(_t_t(here, idle), abs=0.005)
    assert idle.of("boiler").called
    for zone in here.zones:
        off = lifted(here, idle, f"{zone}.valve.EA")
        assert (26.0 if zone == "zone2" else 0.02) == pytest.approx(_t_t(here, off), abs=0.005)
    _, events = waited(here, idle, 3600)
    assert times(events, "boiler stops on its limit")


@pytest.mark.parametrize(
    ("ohms", "switch", "coil", "buzzes"), [(50.0, 7.6, 18.1, True), (75.0, 9.9, 15.8, True), (150.0, 14.3, 11.5, True)]
)
def test_an_oxidised_contact(ohms, switch, coil, buzzes):
    """Made, 50 ohm drop 7.6 V and leave the input 18.1, 150 ohm 14.3 and 11.5: it buzzes and does not pull (ES-03)."""
    here = _plant(REF_A, "ES-03", ohms)
    state, events = calling(here, 300, "zone1.stat")
    assert times(events, "zone1.valve end switch makes")
    assert (switch, coil) == pytest.approx((_switch(here, state), _input(here, state)), abs=0.06)
    assert (False, buzzes) == (state.of("boiler").called, state.of("boiler").buzzing)


def test_an_oxidised_contact_and_a_board():
    """A board that senses milliamperes does not see the contact at all (ES-03)."""
    board = changed(REF_A, "boiler", input="board-sensed")
    assert calling(board, 300, "zone1.stat")[0].of("boiler").called
    assert not calling(_plant(board, "ES-03", 75.0), 300, "zone1.stat")[0].of("boiler").called


@pytest.mark.parametrize("size", [75.0, 500.0])
def test_the_softest_input_does_not_take_the_least_ohms(size):
    """No boiler within the drawn range pulls in through the least size of ES-03 or ES-11, so the complaint is true."""
    soft = Boiler("boiler", emf=27.4, ohms=1.6, input_ohms=150.0)
    for row, design in (("ES-03", REF_A), ("ES-11", REF_C)):
        here = _plant(design.with_part(soft), row, size)
        assert not calling(here, 300, "zone1.stat")[0].of("boiler").called


def test_a_switch_that_is_never_reached():
    """11.6 ohm in the feed: heater 18.6 V, the wax ends at 89 degC, 26 V across the switch for ever (ES-04)."""
    here = _plant(REF_A, "ES-04", 11.6)
    state, events = calling(here, 3600, "zone1.stat")
    assert (18.6, 26.0) == pytest.approx((_heater(here, state, "zone1"), _switch(here, state)), abs=0.06)
    assert 89 == pytest.approx(state.values["zone1.valve.wax"], abs=0.5)
    assert 0.8 < state.of("zone1.valve").stroke < 1
    assert not times(events, "zone1.valve end switch makes")
    assert 7.2 == pytest.approx(across(here, state, "R bus.fuse", "R bus.zone1"), abs=0.06)


@pytest.mark.parametrize("size", [95.0, 115.0])
def test_a_switch_that_opens_in_the_heat(size):
    """T-T 0.02 V, then 26 with the heater still fed; cooled and called again it makes as if nothing were wrong (ES-05)."""
    here = _plant(REF_A, "ES-05", size)
    state, events = calling(here, 95, "zone1.stat")
    assert 0.02 == pytest.approx(_t_t(here, state), abs=0.005)
    state, events = waited(here, state, 600)
    assert times(events, "boiler stops") == times(events, "zone1.valve end switch parts in the heat") != []
    assert (26.0, 25.2) == pytest.approx((_t_t(here, state), _heater(here, state, "zone1")), abs=WITH_A_FUSE)
    cold, _ = cooling(here, state, 3600, "zone1.stat")
    again, _ = calling(here, 95, "zone1.stat", state=cold)
    assert again.of("boiler").called


def test_switches_in_series():
    """One zone open: 26 V across the other's switch and no boiler; both open: the boiler starts (ES-06)."""
    here = _plant(REF_A_TWO, "ES-06")
    for one, other in (("zone1", "zone2"), ("zone2", "zone1")):
        alone, _ = calling(here, 300, f"{one}.stat")
        assert (0.0, 26.0) == pytest.approx((_switch(here, alone, one), _switch(here, alone, other)), abs=0.05)
        assert not alone.of("boiler").called
    both, _ = calling(here, 300, "zone1.stat", "zone2.stat")
    assert both.of("boiler").called
    assert 0.05 == pytest.approx(_t_t(here, both), abs=0.02)


@pytest.mark.parametrize(("design", "place"), [(REF_A_TWO, "EA"), (REF_A_TWO, "EB"), (REF_E, "E")])
def test_a_switch_lead_not_landed(design, place):
    """The switch closes and T-T stays open: a jumper at T-T starts the boiler, one at the valve does not (ES-07)."""
    here = _plant(design, "ES-07", place=place)
    state, _ = calling(here, 300, "zone1.stat")
    source = here.part("boiler").emf
    assert source == pytest.approx(_t_t(here, state), abs=0.05)
    assert not state.of("boiler").called
    for ends, starts in ((here.part("zone1.valve").switch_pair, False), (T_T, True)):
        jumped = Bridged("jumper", *ends).made(here)
        assert starts == calling(jumped, 0, "zone1.stat")[0].of("boiler").called
    assert calling(here, 300, "zone2.stat")[0].of("boiler").called
    dead = switched(here, switched(here, state, "transformer", False), "boiler", False)
    for end in here.part("zone1.valve").switch_pair:
        dead = lifted(here, dead, end) if here.landed(end) else dead
    found = ohms_reading(network(here, dead), network(here, dead, 0), *here.part("zone1.valve").switch_pair)
    assert here.part("zone1.valve").switch_ohms + 0.2 == pytest.approx(found.value, abs=0.06)


def test_line_voltage_on_a_switch():
    """A look tells it; EA to EB reads 120 V with the switch open, EA to ground 120 V always, and T-T is never called (ES-18)."""
    here = _plant(REF_A, "ES-18")
    idle = at_rest(here)
    assert "line-voltage cable" in sensed(here, idle, "look", "zone1.valve").text
    assert 120 == pytest.approx(_switch(here, idle), abs=0.5)
    assert 120 == pytest.approx(across(here, idle, "zone1.valve.EA", EARTH), abs=0.5)
    state, _ = calling(here, 300, "zone1.stat")
    assert 0.75 == pytest.approx(amps(here, state, "zone1.valve.switch"), abs=0.01)
    assert 120 == pytest.approx(across(here, state, "zone1.valve.EB", EARTH), abs=0.5)
    assert not state.of("boiler").called
    loads = [part for part in here.parts if getattr(part, "line_terminals", ())]
    assert [("zone1.valve.EA", "zone1.valve.EB")] == [load.line_terminals for load in loads]


# three-wire leads exchanged -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("design", "coil", "heater"), [(REF_C, 23.4, 3.5), (REAL_C, 25.4, 3.8)], ids=["resistor", "coil"])
def test_heater_and_switch_leads_exchanged(design, coil, heater):
    """Idle coil 23.4 V and heater 3.5 (a real coil 25.4 and 3.8), boiler on; 15.4 A once its opener makes the switch (ES-23)."""
    here = _plant(design, "ES-23", zone="zone2")
    idle = at_rest(here)
    assert (coil, heater) == pytest.approx((_coil(here, idle), _heater(here, idle, "zone2")), abs=0.06)
    assert idle.of("boiler").called
    for terminal, runs in (("zone1.valve.E", True), ("zone2.valve.H", False), ("zone3.valve.E", True)):
        assert runs == lifted(here, idle, terminal).of("boiler").called
    state, events = calling(here, 1800, "zone2.stat")
    assert not times(events, "zone2.valve begins to open")
    makes = changed(here, "zone2.valve", opener="by hand, makes the switch")
    state = opener_set(makes, called(makes, at_rest(makes), "zone2.stat", True), "zone2.valve", True)
    assert 15.4 == pytest.approx(amps(makes, state, "transformer.winding"), rel=0.01)


def test_shared_and_switch_leads_exchanged():
    """Alone W2-C and E bus to C 27.0, no amperes; with zone 1 open the heater has 24.6 V, opens and holds itself (ES-24)."""
    here = _plant(REF_C, "ES-24", zone="zone2")
    alone, events = calling(here, 1800, "zone2.stat")
    assert not times(events, "zone2.valve end switch makes")
    for point in ("zone2.stat.W", "E bus.relay"):
        assert 27.0 == pytest.approx(across(here, alone, point, "transformer.C"), abs=0.06)
    assert (0.0, 0.0) == pytest.approx((_heater(here, alone, "zone2"), amps(here, alone, "zone2.W leg")), abs=1e-3)
    state = called(here, alone, "zone1.stat", True)
    state, _ = waited(here, state, 120)  # zone 1 open, zone 2 not yet
    assert (True, False) == (state.of("zone1.valve").made, state.of("zone2.valve").made)
    assert 24.6 == pytest.approx(_heater(here, state, "zone2"), abs=0.06)
    state, events = waited(here, state, 600)
    assert times(events, "zone2.valve end switch makes")
    held, _ = cooling(here, state, 1800, "zone1.stat")
    assert (False, True, True) == (held.of("zone1.valve").made, held.of("zone2.valve").made, held.of("boiler").called)


@pytest.mark.parametrize(("opposed", "volts"), [(False, 1.2), (True, 41.0)])
def test_shared_and_switch_leads_exchanged_on_a_direct_t_t(opposed, volts):
    """On reference A's source with T-T fed directly the cold call leaves the input 1.2 V in phase, 41 V opposed (ES-24)."""
    design = changed(DIRECT, "transformer", opposed=opposed)
    here = _plant(design, "ES-24")
    state, _ = calling(here, 0, "zone1.stat")
    assert volts == pytest.approx(_input(here, state), abs=0.5 if opposed else 0.06)


def test_heater_and_shared_leads_exchanged():
    """Hot alone: coil 0.6 V, E bus to C 25.6, boiler silent; coasting coil 23.4 V and the boiler runs (ES-25)."""
    here = _plant(REF_C, "ES-25", zone="zone2")
    state, _ = calling(here, 300, "zone2.stat")
    assert (True, False) == (state.of("zone2.valve").made, state.of("boiler").called)
    assert (0.6, 25.6) == pytest.approx((_coil(here, state), across(here, state, "E bus.relay", "transformer.C")), abs=0.06)
    coasting = called(here, state, "zone2.stat", False)
    assert 23.4 == pytest.approx(_coil(here, coasting), abs=0.06)
    assert coasting.of("boiler").called


def test_heater_and_shared_leads_exchanged_open_the_fuse():
    """With zone 1 open too 14.3 A flow through two switches, 14.8 from the source, and the fuse opens at once (ES-25)."""
    here = _plant(REF_C, "ES-25", zone="zone2")
    here = changed(here, "zone1.valve", opener="by hand, makes the switch")
    state, _ = calling(here, 300, "zone2.stat")
    state = opener_set(here, called(here, state, "zone1.stat", True), "zone1.valve", True)
    assert 14.3 == pytest.approx(amps(here, state, "zone1.valve.switch"), rel=0.01)
    assert 14.8 == pytest.approx(amps(here, state, "transformer.winding"), rel=0.01)
    _, events = waited(here, state, 5)
    assert [pytest.approx(0.2, abs=0.05)] == [time - state.time for time in times(events, "fuse opens")]


# isolation relay ------------------------------------------------------------------------------------------------------


def test_an_open_coil():
    """Valve open: 26 V across the coil, no pull; lifted it reads OL to an ohmmeter, where a good one reads its copper (ES-10)."""
    here = _plant(REAL_C, "ES-10")
    state, _ = calling(here, 300, "zone1.stat")
    assert 26.0 == pytest.approx(_coil(here, state), abs=0.25)  # the trade's 26.0 is with a coil that draws
    assert (False, False) == (state.of("relay").pulled, state.of("boiler").called)
    for design, ohms in ((here, float("inf")), (REAL_C, 70.2)):
        off = lifted(design, switched(design, at_rest(design), "transformer", False), "relay.A1")
        assert ohms == pytest.approx(ohms_reading(network(design, off), network(design, off, 0), "relay.A1", "relay.A2").value)


@pytest.mark.parametrize(
    ("ohms", "contact", "input_volts", "works"), [(20.0, 3.7, 22.0, True), (60.0, 8.6, 17.1, False), (1e6, 26.0, 0.0, False)]
)
def test_a_bad_relay_contact(ohms, contact, input_volts, works):
    """Coil in: 20 ohm drop 3.7 V and the boiler still works, 60 ohm 8.6 V, as good as open 26 V (ES-11)."""
    here = _plant(REF_C, "ES-11", ohms)
    state, _ = calling(here, 300, "zone1.stat")
    assert state.of("relay").pulled
    assert contact == pytest.approx(across(here, state, "relay.COM", "relay.NO"), abs=0.06)
    assert input_volts == pytest.approx(_input(here, state), abs=0.06)
    assert works == state.of("boiler").called


def test_welded_relay_contacts():
    """Idle coil 0 V and T-T 0.02, the armature seen in; with the contact's lead off the boiler stops (ES-12)."""
    here = _plant(REF_C, "ES-12")
    idle = at_rest(here)
    assert (0.0, 0.02) == pytest.approx((_coil(here, idle), _t_t(here, idle)), abs=0.011)
    assert "pulled in" in sensed(here, idle, "look", "relay").text
    assert (True, False) == (idle.of("boiler").called, lifted(here, idle, "relay.NO").of("boiler").called)


def test_a_relay_on_its_nc_contact():
    """T-T 0.02 V idle and 26 on call (ES-13)."""
    here = _plant(REF_C, "ES-13")
    idle = at_rest(here)
    assert 0.02 == pytest.approx(_t_t(here, idle), abs=0.011)
    assert idle.of("boiler").called
    state, events = calling(here, 300, "zone1.stat")
    assert 26.0 == pytest.approx(_t_t(here, state), abs=0.011)
    assert times(events, "relay pulls in") == times(events, "boiler stops") != []


def test_a_relay_under_volts():
    """6 ohm in the trunk of 40 VA: coil 21.1, 17.5, 15.0 V as zones are added; it buzzes and holds (ES-14).

    The heaters starve too, so in the end the switch that held it opens, and the boiler stops.
    """
    here = _plant(WEAK, "ES-14", 6.0)
    state, _ = calling(here, 600, "zone1.stat")
    assert state.of("boiler").called
    for count, volts in enumerate((21.1, 17.5, 15.0), 1):
        state = called(here, state, f"zone{count}.stat", True)
        assert volts == pytest.approx(_coil(here, state), abs=0.1)
        assert (True, count > 1) == (state.of("relay").pulled, state.of("relay").buzzing)
    assert "buzzes" in sensed(here, state, "listen", "relay").text
    state, events = waited(here, state, 1200)
    assert times(events, "relay drops out") == times(events, "boiler stops") != []
    assert not state.of("boiler").called


@pytest.mark.parametrize(("degC", "buzzing"), [(20.0, False), (40.0, True)])
def test_a_relay_under_volts_from_the_start(degC, buzzing):
    """Two zones called in one moment never give heat: at 20 degC no switch makes, in a hot closet the relay only buzzes."""
    here = _plant(WEAK, "ES-14", 6.0)
    for zone in ("zone1", "zone2"):
        here = changed(here, f"{zone}.valve", ambient_degC=degC)
    state, events = calling(here, 1800, "zone1.stat", "zone2.stat")
    assert buzzing == bool(times(events, "zone1.valve end switch makes"))
    assert (17.5 if buzzing else 0.0) == pytest.approx(_coil(here, state), abs=0.1)
    assert not times(events, "relay pulls in")
    assert (buzzing, False) == (state.of("relay").buzzing, state.of("boiler").called)


def test_a_coil_on_the_common():
    """Coil 0 V and E bus to C 0 in both states, where a healthy cold zone has 26.2; R to E bus 26 to 27 on low-Z too (ES-26)."""
    healthy, _ = calling(REF_C, 0, "zone1.stat")
    assert 26.2 == pytest.approx(across(REF_C, healthy, "E bus.relay", "transformer.C"), abs=0.06)
    here = _plant(REF_C, "ES-26")
    for seconds in (0, 300):
        state, _ = calling(here, seconds, "zone1.stat")
        assert (0, 0) == pytest.approx((_coil(here, state), across(here, state, "E bus.relay", "transformer.C")), abs=0.02)
        assert 26 <= across(here, state, "R bus.relay", "E bus.relay") <= 27
        loaded = volts_between(network(here, state), "R bus.relay", "E bus.relay", 3e3)
        # shut, the meter's 3 kilohm stand in series with the coil's 200 ohm
        assert (24.5 if seconds == 0 else 26.2) == pytest.approx(loaded, abs=0.1)
        assert not state.of("relay").pulled


# T-T ------------------------------------------------------------------------------------------------------------------


def test_a_live_pair_in_phase():
    """T-T 26 V idle, 25.7 with the valve open and never 0.02; input 0.3 V, clamp 0.00 A; lifted, two sources (ES-08)."""
    here = _plant(DIRECT, "ES-08")
    assert 26.0 == pytest.approx(_t_t(here, at_rest(here)), abs=0.06)
    state, _ = calling(here, 300, "zone1.stat")
    assert (25.7, 0.3) == pytest.approx((_t_t(here, state), _input(here, state)), abs=0.06)
    assert 0.002 == pytest.approx(amps(here, state, "T-T cable E"), abs=5e-4)
    assert not state.of("boiler").called
    off = lifted(here, lifted(here, state, "boiler.T1"), "boiler.T2")
    field = across(here, off, "boiler.T1 lead", "boiler.T2 lead")
    assert (26.0, 25.7) == pytest.approx((_t_t(here, off), field), abs=0.06)


def test_a_live_pair_opposed():
    """T-T 26 V idle and 24.9 with the valve open; input 50 V, 0.42 A where a healthy one has 0.21; it hums, and burns (ES-09)."""
    here = _plant(DIRECT, "ES-09")
    assert 26.0 == pytest.approx(_t_t(here, at_rest(here)), abs=0.06)
    state, events = calling(here, 300, "zone1.stat")
    assert 24.9 == pytest.approx(_t_t(here, state), abs=WITH_A_FUSE)
    assert 50 == pytest.approx(_input(here, state), abs=0.2)
    clamped = amps(here, state, "T-T cable S")
    healthy = amps(DIRECT, calling(DIRECT, 300, "zone1.stat")[0], "T-T cable S")
    assert (0.42, 0.21) == pytest.approx((clamped, healthy), abs=0.005)
    assert 3.8 == pytest.approx((clamped / healthy) ** 2, abs=0.1)
    assert "hums hard" in sensed(here, state, "listen", "boiler").text
    made = times(events, "zone1.valve end switch makes")[0]
    state, events = waited(here, state, 900)
    assert [pytest.approx(made + 600)] == times(events, "boiler input burns open")
    assert "burnt" in sensed(here, state, "look", "boiler").text
    assert not state.of("boiler").called


@pytest.mark.parametrize(
    ("design", "conductor", "pair"),
    [
        (REF_A, "conductor A", ("EA bus.T-T", "EB bus.T-T")),
        (REF_C, "conductor B", ("relay.COM", "relay.NO")),
        (REF_E, "conductor S", ("E bus.T-T", "C bus.T-T")),
    ],
)
def test_an_open_t_t_cable(design, conductor, pair):
    """The boiler's own volts at its terminals, 0 on low-Z at the field's end; a jumper works there and not here (ES-15)."""
    here = _plant(design, "ES-15", place=conductor)
    idle = at_rest(here)
    assert here.part("boiler").emf == pytest.approx(_t_t(here, idle), abs=0.06)
    assert 0.0 == pytest.approx(volts_between(network(here, idle), *pair, 3e3), abs=0.1)
    for ends, starts in ((T_T, True), (pair, False)):
        assert starts == at_rest(Bridged("jumper", *ends).made(here)).of("boiler").called
    assert not calling(here, 300, "zone1.stat")[0].of("boiler").called


def _fields_end(design):
    return next(wire.a for wire in design.conductors if wire.cable == "T-T cable")


@pytest.mark.parametrize("design", [REF_A, REF_C, REF_E], ids=["four-wire", "relay", "direct"])
def test_a_shorted_t_t_cable(design):
    """The boiler always runs; it stops with the cable lifted at the boiler, and not with it lifted at the field's end (ES-16)."""
    here = _plant(design, "ES-16")
    idle = at_rest(here)
    assert 0.0 == pytest.approx(_t_t(here, idle), abs=0.02)
    assert (True, False) == (idle.of("boiler").called, lifted(here, idle, "boiler.T1").of("boiler").called)
    assert lifted(here, idle, _fields_end(here)).of("boiler").called
    assert lifted(here, idle, "boiler.T2").of("boiler").called is False


@pytest.mark.parametrize("design", [REF_A, REF_C, REF_E], ids=["four-wire", "relay", "direct"])
def test_a_forgotten_jumper(design):
    """T-T 0 V and the boiler on with its cable off; a look at the boiler names the jumper, at other parts not (ES-17)."""
    here = _plant(design, "ES-17")
    idle = at_rest(here)
    assert 0.0 == pytest.approx(_t_t(here, idle), abs=0.01)
    assert lifted(here, idle, "boiler.T1").of("boiler").called
    seen = sensed(here, idle, "look", "boiler")
    assert "joins its two T-T screws" in seen.text
    assert "jumper at T-T: there" in seen.signal
    assert "jumper" not in sensed(here, idle, "look", "transformer").signal
    assert "jumper" not in sensed(design, at_rest(design), "look", "boiler").signal


# boiler ---------------------------------------------------------------------------------------------------------------


def test_a_dead_input():
    """26 V open, 0.02 V with a jumper at the boiler, and it does nothing (ES-19)."""
    here = _plant(REF_A, "ES-19")
    assert 26.0 == pytest.approx(_t_t(here, at_rest(here)), abs=0.01)
    state, _ = calling(here, 300, "zone1.stat")
    assert 0.02 == pytest.approx(_t_t(here, state), abs=0.01)
    assert not state.of("boiler").called
    assert not at_rest(Bridged("jumper", *T_T).made(here)).of("boiler").called


def test_the_boilers_own_transformer():
    """T-T 0 V open with the valves fine, and the display dark (ES-20)."""
    here = _plant(REF_A, "ES-20")
    assert 0.0 == pytest.approx(_t_t(here, at_rest(here)), abs=0.01)
    state, _ = calling(here, 300, "zone1.stat")
    assert 25.2 == pytest.approx(_heater(here, state, "zone1"), abs=WITH_A_FUSE)
    assert "dark" in sensed(here, state, "look", "boiler").text


@pytest.mark.parametrize("place", [place.words for place in ROWS["ES-21"].places])
def test_a_safety_that_is_open(place):
    """T-T 0.02 V, the display names it, the circulator runs and nothing fires (ES-21)."""
    here = _plant(REF_A, "ES-21", place=place)
    state, _ = calling(here, 1800, "zone1.stat")
    boiler = state.of("boiler")
    assert 0.02 == pytest.approx(_t_t(here, state), abs=0.01)
    assert (True, False, True) == (boiler.called, boiler.firing, boiler.circulating)
    assert place in sensed(here, state, "look", "boiler").text


def test_a_circulator_that_does_not_turn():
    """T-T 0.02 V, the boiler hot on its limit, the zone's pipes cold and the circulator still to the ear (ES-22)."""
    here = _plant(REF_A, "ES-22")
    state, events = calling(here, 1800, "zone1.stat")
    assert 0.02 == pytest.approx(_t_t(here, state), abs=0.01)
    assert times(events, "boiler stops on its limit")
    assert 20.0 == pytest.approx(state.values["zone1.loop.supply"], abs=0.1)
    assert "circulator: still" in sensed(here, state, "listen", "boiler").signal


# all rows -------------------------------------------------------------------------------------------------------------


def test_the_rows_are_all_there():
    """Every row from ES-01 to ES-26 stands here once, and none of them among the heater loops."""
    assert [f"ES-{number:02}" for number in range(1, 27)] == [row.id for row in END_SWITCH_ROWS]
    assert not {row.id for row in HEATER_LOOP_ROWS} & set(ROWS)


@pytest.mark.parametrize("row", ROWS)
def test_every_row_is_whole(row):
    """A row has its texts, known objectives, a weight, and either acts that repair it or somebody it is handed to."""
    row = ROWS[row]
    assert all((row.claim, row.complaint, row.noticed, row.repair, row.misdiagnosis))
    assert "end-switches" == row.chapter
    assert set(row.objectives) <= set(OBJECTIVES)
    assert 1 <= row.prevalence <= 10
    assert 1 <= row.severity <= 5
    assert row.repairs or row.refer
    assert row.refer in ("", *TRADES)
    assert (row.severity == 5) == (row.symptom == "danger")
    assert row.house == ("{zone}" not in repr(row.changes) + repr(row.places))
    assert "{room}" not in row.complaint or not row.house


def _offered(design):
    """The suspects of every zone, with that zone."""
    return [(zone, suspect) for zone in design.zones for suspect in suspects(design, zone, END_SWITCH_ROWS)]


@pytest.mark.parametrize("row", ROWS)
def test_every_row_fits_somewhere_and_is_a_change(row):
    """At least one kind of wiring offers the row; planted at any size it differs from the design, which stays as it was."""
    families = [
        (design, fault) for design in DESIGNS for _, suspect in _offered(design) for fault in suspect.family if fault.row == row
    ]
    assert families
    for design, fault in families:
        before = repr(design)
        assert design != planted(design, fault)
        assert before == repr(design)


def test_what_a_house_cannot_have_is_not_offered():
    """Two-wire valves are offered no row of end switches, a house without a relay none of a relay, and so on."""
    rows = {design.name: {row.id for _, suspect in _offered(design) for row in suspect.rows} for design in DESIGNS}
    assert set() == rows[TWO_WIRE.name]
    relays = {"ES-10", "ES-11", "ES-12", "ES-13", "ES-14", "ES-26"}
    assert relays <= rows[REF_C.name]
    assert not relays & (rows[REF_A.name] | rows[REF_E.name])
    assert {"ES-23", "ES-24", "ES-25"} <= rows[REF_E.name] & rows[REF_C.name]
    assert "ES-24" not in rows[DIRECT.name]  # there is no other zone to return through
    assert "ES-06" in rows[REF_A_TWO.name]
    assert "ES-06" not in rows[REF_A.name]
    assert {"ES-08", "ES-09"} <= rows[REF_E.name]
    opposed = changed(REF_E, "transformer", opposed=True)
    assert not {"ES-08", "ES-09"} & {row.id for _, suspect in _offered(opposed) for row in suspect.rows}


def test_an_open_conductor_of_the_t_t_cable_is_one_answer():
    """Whichever conductor of the cable is open, the claim and the repair are the same, and it is offered once."""
    found = [suspect for suspect in suspects(REF_A, "zone1", END_SWITCH_ROWS) if suspect.row.id == "ES-15"]
    assert [{"conductor A", "conductor B"}] == [{fault.place for fault in suspect.family} for suspect in found]


def _planted_somewhere(row):
    """A design that the row fits, and the row planted there at its greatest size, with its names."""
    row = ROWS[row]
    design, place = next((design, place) for design in DESIGNS for place in row.places if row.fits(design, "zone1", place))
    other = design.zones[1 % len(design.zones)]
    return design, planted(design, row.at("zone1", place, row.sizes and row.sizes[1], other)), place, other


@pytest.mark.parametrize(("row", "which"), [(row.id, which) for row in END_SWITCH_ROWS for which in range(len(row.repairs))])
def test_each_repair_ends_the_fault(row, which):
    """From the house as it is found, the acts leave it as designed: nothing runs idle, and each zone starts the boiler."""
    design, here, place, other = _planted_somewhere(row)
    world = arrival(design, here)
    for act in ROWS[row].repaired_by("zone1", place, other)[which]:
        world, outcome = acted(world, act)
        assert not outcome.misuse
    found = world.installation
    assert {part.name: part for part in design.parts} == {part.name: part for part in found.parts}
    assert {wire.name: wire for wire in design.conductors} == {wire.name: wire for wire in found.conductors}
    assert not world.state.of("boiler").called
    for zone in design.zones:
        state, _ = calling(found, 300, f"{zone}.stat", state=world.state)
        assert state.of("boiler").called


def test_landing_a_line_load_where_nothing_is():
    """A load on terminals that the house does not have raises and shows those there are."""
    with pytest.raises(NoSuchTerminal, match=r"zone1\.valve\.Q"):
        LineSwitched("pump", "zone1.valve.Q", "zone1.valve.EB").made(REF_A)


def test_a_stray_in_a_cable_goes_with_its_ends():
    """A short inside a stat's cable still calls with the stat's leads off; a bridge on its terminals does not."""
    ends = ("zone1.stat.R", "zone1.stat.W")
    for belongs, calls in (("zone1 stat cable", True), ("", False)):
        here = Bridged("short", *ends, belongs=belongs).made(REF_A)
        off = at_rest(here)
        assert 0.84 == pytest.approx(amps(here, off, "zone1.W leg"), abs=0.01)
        for end in ends:
            off = lifted(here, off, end)
        assert (0.84 if calls else 0.0) == pytest.approx(amps(here, off, "zone1.W leg"), abs=0.01)


def test_the_rows_moved_by_a_welded_switch_and_by_its_look_alikes_differ():
    """Four claims of a boiler that never rests part by what stops it: the valve's lead, the cable, the jumper, the relay."""
    lifts = ("zone1.valve.E", "E bus.relay", "relay.NO", "boiler.T1")
    table = {}
    for row in ("ES-02", "ES-12", "ES-16", "ES-17"):
        here = _plant(REF_C, row)
        idle = at_rest(here)
        assert idle.of("boiler").called
        table[row] = tuple(lifted(here, idle, terminal).of("boiler").called for terminal in lifts)
    assert {
        "ES-02": (False, False, False, False),
        "ES-12": (True, True, False, False),
        "ES-16": (True, True, True, False),
        "ES-17": (True, True, True, True),
    } == table


def test_the_lead_order_alone_makes_a_live_pair_opposed():
    """The same pair with its two conductors exchanged turns a silent boiler into one whose input burns."""
    silent = _plant(DIRECT, "ES-08")
    order = (Landed("T-T cable E", "a", "E bus.T-T"), Landed("T-T cable S", "a", "R bus.fuse"))
    other = order[1].made(order[0].made(silent))
    assert {(wire.name, wire.a, wire.b) for wire in other.conductors} == {
        (wire.name, wire.a, wire.b) for wire in _plant(DIRECT, "ES-09").conductors
    }
    assert 0.3 == pytest.approx(_input(silent, calling(silent, 300, "zone1.stat")[0]), abs=0.06)
    assert 50 == pytest.approx(_input(other, calling(other, 300, "zone1.stat")[0]), abs=0.2)


def test_a_field_that_does_not_exist_is_refused():
    """A boiler has no such field: planting it names the field."""
    with pytest.raises(Exception, match="ohm_of_input"):
        PartField("boiler", "ohm_of_input", OPEN).made(REF_A)
