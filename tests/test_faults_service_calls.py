"""Between zones: every row shows what the trade says, alone and with another. Values: common practice and memory, no source."""

from dataclasses import replace

import pytest
from reference_circuits import REF_A, REF_B, REF_C, REF_D, REF_E, zone_of
from small_benches import across, amps, calling, changed, cooling, times

from solvers.circuit import OPEN, ohms_reading
from solvers.faults.catalogue import CATALOGUE, rows
from solvers.faults.changes import Split, Undersized
from solvers.faults.end_switches import END_SWITCH_ROWS
from solvers.faults.fault import suspects
from solvers.faults.planting import planted
from solvers.faults.service_calls import SERVICE_CALL_ROWS
from solvers.jobs.acts import acted, arrival
from solvers.jobs.handling import TRADES
from solvers.jobs.misuses import on_line_voltage
from solvers.jobs.objectives import OBJECTIVES
from solvers.jobs.world import places
from solvers.plant.joints import Chain
from solvers.plant.panels import priority, relay_panel
from solvers.plant.parts import Boiler, Fuse, SpringReturnValve, Stat, Transformer
from solvers.plant.running import EARTH, at_rest, called, lifted, network, switched, waited
from solvers.plant.senses import heard, sensed
from solvers.plant.thermostats import AnticipatorStat, CPoweredStat
from solvers.plant.topologies import four_wire, two_wire
from solvers.plant.traits import house_traits
from solvers.plant.two_sources import separate_commons, shared_return
from solvers.plant.wiring import WiringError

ROWS = {row.id: row for row in SERVICE_CALL_ROWS}
T_T = ("boiler.T1", "boiler.T2")
SOURCE = ("transformer.R", "transformer.C")
WITH_A_FUSE = 0.1  # V; the trade reckons two of 40 VA without a fuse's 0.05 ohm

FORTY = Transformer("transformer", emf=27.5, ohms=2.1, dc_ohms=0.9)
STIFF = Transformer("transformer", emf=27.0, ohms=0.5, dc_ohms=0.2, va=150.0)
LINK = Fuse("fuse", 3.0, 0.001)
BOILER = Boiler("boiler", emf=26.0, ohms=2.0, input_ohms=120.0)


def _forty(count, transformer=FORTY, **others):
    """Reference A with so many equal zones, as the trade reckons what zones share; without its fuse's ohms."""
    zones = [zone_of() for _ in range(count)]
    return four_wire(f"{count} zones", zones, transformer=transformer, fuse=LINK, boiler=BOILER, **others)


def _motor(**fields):
    return replace(zone_of(), valve=SpringReturnValve("valve", **fields))


def _shared(*, opposed, second=None):
    """Two of 40 VA, a zone on each, one return for both."""
    pair = {"transformers": (FORTY, FORTY), "fuses": (LINK, LINK)}
    return shared_return("shared", [zone_of()], [second or zone_of()], **pair, boiler=BOILER, opposed=opposed)


TWO, THREE = _forty(2), _forty(3)
LENDING = four_wire("a boiler that lends", [zone_of()] * 3, transformer=FORTY, fuse=LINK, boiler=replace(BOILER, lends=True))
PRIORITY = priority("priority", [zone_of(), zone_of()], transformer=FORTY, fuse=LINK, boiler=BOILER)
PANEL = relay_panel("relay panel", [zone_of(), zone_of()], transformer=FORTY, fuse=LINK, boiler=BOILER)
IN_PHASE, OPPOSED = _shared(opposed=False), _shared(opposed=True)
TWO_WIRE = two_wire("two-wire", [zone_of(2), zone_of(2)], transformer=FORTY, fuse=LINK)
DESIGNS = (REF_A, TWO, REF_B, REF_C, REF_D, REF_E, LENDING, PRIORITY, PANEL, IN_PHASE, OPPOSED, TWO_WIRE)


def _plant(design, row, size=None, zone="zone1", other="zone2"):
    """The design with a row in it, at a size that may lie outside what is drawn."""
    row = CATALOGUE[row] if size is None else replace(CATALOGUE[row], sizes=(size, size))
    return planted(design, row.at(zone, row.places[0], size, other))


def _cold(here, *zones):
    """The state at once after these zones call."""
    return calling(here, 0, *(f"{zone}.stat" for zone in zones))[0] if zones else at_rest(here)


def _heater(here, state, zone):
    return across(here, state, *here.part(f"{zone}.valve").drive_pair)


def _heaters(here, state):
    return [_heater(here, state, zone) for zone in here.zones]


# thermostats and valves -----------------------------------------------------------------------------------------------


def test_crossed_thermostats():
    """Zone 1 calls: 25.6 V at valve 2 and none at valve 1, whose head stays cold while the other opens (MZ-01)."""
    here = _plant(REF_B, "MZ-01")
    assert [0.0, 25.6, 0.0] == pytest.approx(_heaters(here, _cold(here, "zone1")), abs=0.06)
    _, events = calling(here, 300, "zone1.stat")
    assert times(events, "zone2.valve end switch makes")
    assert not times(events, "zone1.valve end switch makes")


@pytest.mark.parametrize("zone", ["zone1", "zone2"])
def test_two_ws_tied(zone):
    """Either thermostat: 24.3 V at both heaters and 1.6 A through its own W; the wire is seen at the splice (MZ-02)."""
    here = _plant(REF_B, "MZ-02")
    state = _cold(here, zone)
    assert [24.3, 24.3, 0.0] == pytest.approx(_heaters(here, state), abs=0.06)
    assert 1.6 == pytest.approx(amps(here, state, f"{zone}.W leg"), abs=0.05)
    assert "another zone" in sensed(here, state, "look", "zone1.W splice").text


def test_mixed_valves_on_one_thermostat():
    """The boiler starts with the motor at 13.5 s, long before the heat motor is open; both click, both work (MZ-13)."""
    here = _plant(TWO, "MZ-13")
    state, events = calling(here, 300, "zone1.stat")
    quick, slow = (times(events, f"zone1.{valve} end switch makes") for valve in ("second valve", "valve"))
    assert [13.5] == pytest.approx(quick, abs=0.1) == times(events, "boiler starts")
    assert 85 < slow[0] < 100
    assert "second valve 1 clicks" == heard(
        next(event for event in events if event.name == "zone1.second valve end switch makes")
    )
    assert "motor-driven" in sensed(here, state, "look", "zone1.W splice").text
    state, events = cooling(here, state, 1800, "zone1.stat")
    assert times(events, "zone1.second valve is shut")
    assert not state.of("boiler").called


def test_a_two_wire_valve_that_was_added():
    """Its heater has its volts and its water runs, only another zone starts the boiler, and it has two leads (MZ-14)."""
    here = _plant(TWO, "MZ-14")
    state, _ = calling(here, 300, "zone1.stat")
    assert 25.2 == pytest.approx(_heater(here, state, "zone1"), abs=0.06)
    assert (1.0, False) == (state.of("zone1.valve").flow, state.of("boiler").called)
    for zone, leads in (("zone1", 2), ("zone2", 4)):
        assert f"It has {leads} leads." in sensed(here, state, "look", f"{zone}.valve").text
    dead = switched(here, switched(here, state, "transformer", False), "boiler", False)
    pair = here.part("zone1.valve").switch_pair
    assert OPEN == ohms_reading(network(here, dead), network(here, dead, 0), *pair).value
    assert calling(here, 300, "zone2.stat", state=state)[0].of("boiler").called


def test_two_heaters_on_one_contact():
    """1.5 A at W where one heater takes 0.84, with every zone working; at 24.0 V on the heater (MZ-18)."""
    here = _plant(TWO, "MZ-18", 30.0)
    state, events = calling(here, 300, "zone1.stat")
    assert (1.55, 0.84) == pytest.approx(
        (amps(here, state, "zone1.W leg"), amps(TWO, _cold(TWO, "zone1"), "zone1.W leg")), abs=0.01
    )
    assert times(events, "zone1.valve end switch makes")
    assert state.of("boiler").called


def test_two_heaters_age_an_anticipator():
    """An anticipator set for one heater, 0.8 A at 0.12 W, has 3.5 times its heat of two (MZ-18)."""
    stats = [replace(zone_of(), stat=AnticipatorStat("stat", 0.05, set_amps=0.8))]
    one = four_wire("anticipator", stats, transformer=FORTY, fuse=LINK, boiler=BOILER)
    two = _plant(one, "MZ-18", 30.0)
    watts = [amps(here, _cold(here, "zone1"), "zone1.stat.anticipator") ** 2 * 0.1875 for here in (one, two)]
    assert (0.13, 0.43) == pytest.approx(watts, abs=0.02)


def test_a_pump_that_the_thermostat_calls():
    """Boiler and pump run in the second of the call with every valve shut, and stop with it; a look shows the relay (MZ-19)."""
    here = _plant(TWO, "MZ-19")
    state = _cold(here, "zone1")
    boiler = state.of("boiler")
    assert (True, True, 0.0) == (boiler.called, boiler.circulating, state.of("zone1.valve").flow)
    assert 0.0 == pytest.approx(across(here, state, *T_T), abs=0.1)
    assert "small relay" in sensed(here, state, "look", "boiler").text
    assert not called(here, state, "zone1.stat", False).of("boiler").called
    assert not _cold(here, "zone2").of("boiler").called
    assert not _cold(TWO, "zone1").of("boiler").called


def test_a_panel_calls_at_once_by_design():
    """A relay panel's spare pole does what MZ-19 does, so that a panel is not offered that row."""
    assert _cold(PANEL, "zone1").of("boiler").called
    assert "MZ-19" not in _offered_rows(PANEL)


# water and boiler -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("size", "back"), [(0.5, 50), (0.9, 56)])
def test_ghost_flow(size, back):
    """Idle zone: 0 V, a cold head, and pipes as hot as the open zone's while that runs (MZ-15)."""
    here = _plant(TWO, "MZ-15", size)
    state, _ = calling(here, 900, "zone2.stat")
    assert 0.0 == pytest.approx(_heater(here, state, "zone1"), abs=0.1)
    pipes = sensed(here, state, "feel", "zone1.loop").signal
    assert "supply: hot; return: hot" == pipes
    assert state.values["zone1.loop.return"] > back
    assert 20 == pytest.approx(at_rest(here).values["zone1.loop.return"])


def test_ghost_flow_and_dirt_on_the_seat_differ():
    """Dirt at its worst leaves the return no more than warm, ghost flow at its least makes it hot (HL-27, MZ-15)."""
    dirt = _plant(TWO, "HL-27", CATALOGUE["HL-27"].sizes[1])
    state, _ = calling(dirt, 900, "zone2.stat")
    assert "return: hot" not in sensed(dirt, state, "feel", "zone1.loop").signal


def test_an_air_bound_loop():
    """Heater 25.2 V, switch made, T-T 0.02 V; the supply pipe warm and the return at room temperature (MZ-20)."""
    here = _plant(TWO, "MZ-20")
    state, _ = calling(here, 900, "zone1.stat")
    assert (25.2, 0.02) == pytest.approx((_heater(here, state, "zone1"), across(here, state, *T_T)), abs=0.06)
    assert "supply: hot; return: at room temperature" == sensed(here, state, "feel", "zone1.loop").signal


def test_a_shut_service_valve():
    """Electrics perfect, both pipes at room temperature, and the handle seen (MZ-23)."""
    here = _plant(TWO, "MZ-23")
    state, _ = calling(here, 900, "zone1.stat")
    assert (25.2, 0.02) == pytest.approx((_heater(here, state, "zone1"), across(here, state, *T_T)), abs=0.06)
    assert "supply: at room temperature; return: at room temperature" == sensed(here, state, "feel", "zone1.loop").signal
    assert "stands shut" in sensed(here, state, "look", "zone1.loop").text


def test_priority_of_hot_water():
    """While the tank calls a zone has no R; as soon as it is turned down the zone has 25.2 V (MZ-21)."""
    here = _plant(PRIORITY, "MZ-21")
    state = _cold(here, "zone1")
    assert (0.0, 0.0) == pytest.approx(
        (across(here, state, "R bus.zone1", "transformer.C"), _heater(here, state, "zone1")), abs=0.1
    )
    assert 27 < across(here, state, "R joint.zones", "transformer.C")
    assert "It calls for heat." in sensed(here, state, "look", "tank.stat").text
    freed = called(here, state, "tank.stat", False)
    assert 25.2 == pytest.approx(_heater(here, freed, "zone1"), abs=WITH_A_FUSE)  # R comes through one contact more
    assert arrival(PRIORITY, here).state.of("tank.stat").calling


@pytest.mark.parametrize("kind", [Stat, AnticipatorStat, CPoweredStat])
def test_every_kind_of_thermostat_can_be_found_on_a_call(kind):
    """It calls before anybody touches it, and a hand turns it down."""
    stat = kind("stat", found_calling=True)
    state = stat.initial()
    assert stat.asks(stat.followed(state, stat.start_values()))
    assert not stat.asks(stat.turned(state, up=False))


def test_warm_weather_shutdown():
    """T-T 0.02 V, the boiler called, and neither fire nor pump; its display says why (MZ-22)."""
    here = _plant(TWO, "MZ-22")
    state, _ = calling(here, 900, "zone1.stat")
    boiler = state.of("boiler")
    assert 0.02 == pytest.approx(across(here, state, *T_T), abs=0.005)
    assert (True, False, False) == (boiler.called, boiler.firing, boiler.circulating)
    assert "call, held off: outdoor 18 °C" in sensed(here, state, "look", "boiler").text
    assert "no call" in sensed(here, at_rest(here), "look", "boiler").text


# commons, buses and what one transformer carries ----------------------------------------------------------------------


def test_an_open_trunk():
    """Every W 27.5 V to the transformer's C, every heater 0, and 27.5 V along a wire that should have none (MZ-03)."""
    here = _plant(THREE, "MZ-03")
    state = _cold(here, *here.zones)
    assert [0.0] * 3 == pytest.approx(_heaters(here, state), abs=0.01)
    for point in ("zone1.stat.W", "zone2.stat.W", "zone3.stat.W", "C bus.zone1"):
        assert 27.5 == pytest.approx(across(here, state, point, "transformer.C"), abs=0.05)


def test_an_open_trunk_and_thermostats_with_c():
    """Thermostats that live on R and C go blank (MZ-03)."""
    zones = [replace(zone_of(), stat=CPoweredStat("stat", 0.05))] * 2
    here = _plant(four_wire("C-powered", zones, transformer=FORTY, fuse=LINK, boiler=BOILER), "MZ-03")
    state, _ = waited(here, at_rest(here), 600)
    assert "blank" in sensed(here, state, "look", "zone2.stat").text


def test_an_open_link_in_the_commons():
    """Zones 2 and 3: heater 0, W2 and S2 to C 27.0; zone 1 open: its 25.5 V, coil 26 V (MZ-04)."""
    here = _plant(REF_C, "MZ-04", zone="zone2", other="zone3")
    state = _cold(here, "zone2")
    assert [0.0] * 3 == pytest.approx(_heaters(here, state), abs=0.01)
    for point in ("zone2.stat.W", "zone2.valve.S", "zone3.valve.S"):
        assert 27.0 == pytest.approx(across(here, state, point, "transformer.C"), abs=0.05)
    state, _ = calling(here, 300, "zone1.stat", "zone2.stat")
    assert [25.5, 0.0, 0.0] == pytest.approx(_heaters(here, state), abs=0.06)
    assert 26.0 == pytest.approx(across(here, state, "relay.A1", "relay.A2"), abs=0.06)


@pytest.mark.parametrize(
    ("count", "heater", "drop", "source", "makes"),
    [(1, 21.8, 3.6, 26.0, 146), (2, 18.4, 6.1, 24.9, None), (3, 15.9, 7.9, 24.2, None)],
)
def test_a_bad_joint_in_the_trunk(count, heater, drop, source, makes):
    """5 ohm on 40 VA: heaters 21.8, 18.4, 15.9 V, drop 3.6, 6.1, 7.9, transformer 26 to 24; together they never open (MZ-05)."""
    here = _plant(THREE, "MZ-05", 5.0)
    stats = [f"{zone}.stat" for zone in here.zones[:count]]
    state, events = calling(here, 3600, *stats)
    assert heater == pytest.approx(_heater(here, state, "zone1"), abs=0.06)
    assert drop == pytest.approx(across(here, state, "C bus.zone1", "transformer.C"), abs=0.06)
    assert source == pytest.approx(across(here, state, *SOURCE), abs=0.06)
    found = times(events, "zone1.valve end switch makes")
    assert (found == []) if makes is None else [makes] == pytest.approx(found, abs=1)


def test_an_open_link_in_r():
    """No R at the thermostats beyond the link, R before it; a jumper from the fuse brings it back (MZ-06)."""
    here = _plant(REF_B, "MZ-06", zone="zone2", other="zone3")
    state = _cold(here, *here.zones)
    assert [25.6, 0.0, 0.0] == pytest.approx(_heaters(here, state), abs=0.06)
    volts = [across(here, state, f"{zone}.stat.R", "transformer.C") for zone in here.zones]
    assert [0.0, 0.0] == pytest.approx(volts[1:], abs=0.1)
    assert 25 < volts[0]
    world, _ = acted(arrival(REF_B, here), {"do": "jumper", "first": "fuse.out", "second": "R bus.zone3", "on": True})
    for zone in ("zone2", "zone3"):
        world, _ = acted(world, {"do": "call", "stat": f"{zone}.stat", "on": True})
    now = world.installation, world.state
    assert [24.8, 24.8] == pytest.approx(
        [_heater(*now, zone) for zone in ("zone2", "zone3")], abs=WITH_A_FUSE
    )  # the jumper's 0.02 ohm


@pytest.mark.parametrize(
    ("count", "volts", "va", "amperes", "heater", "makes"),
    [(3, 22.8, 50.9, 2.23, 22.3, 134), (4, 21.6, 60.8, 2.81, 21.1, 170), (6, 19.5, 74.3, 3.81, 19.1, 365)],
)
def test_too_many_zones_on_forty_va(count, volts, va, amperes, heater, makes):
    """3, 4, 6 zones: 22.8, 21.6, 19.5 V, 50.9, 60.8, 74.3 VA; six take 365 s at 20 degC and never open at 5 (MZ-07)."""
    here = _plant(_forty(count, STIFF), "MZ-07")
    state, events = calling(here, 900, *(f"{zone}.stat" for zone in here.zones))
    found, flows = across(here, state, *SOURCE), amps(here, state, "transformer.winding")
    assert volts == pytest.approx(found, abs=0.06)
    assert va == pytest.approx(found * flows, abs=0.1)
    assert amperes == pytest.approx(flows, abs=0.006)
    assert heater == pytest.approx(_heater(here, state, "zone1"), abs=0.06)
    assert [makes] == pytest.approx(times(events, "zone1.valve end switch makes"), rel=0.02)
    assert "marked 40 VA" in sensed(here, state, "look", "transformer").text
    for zone in here.zones:
        here = changed(here, f"{zone}.valve", ambient_degC=5.0)
    _, events = calling(here, 3600, *(f"{zone}.stat" for zone in here.zones))
    assert (count < 6) == bool(times(events, "zone1.valve end switch makes"))


@pytest.mark.parametrize(("count", "minutes"), [(3, 51), (6, 9)])
def test_an_overload_opens_the_one_shot(count, minutes):
    """Three zones on 40 VA open its one-shot after 51 minutes from cold, six after nine, and no fuse goes (MZ-07, SP-04)."""
    here = _plant(_forty(count, replace(STIFF, protection="one-shot")), "MZ-07")
    state, events = calling(here, 4000, *(f"{zone}.stat" for zone in here.zones))
    assert [minutes] == pytest.approx([time / 60 for time in times(events, "transformer one-shot opens")], abs=0.7)
    assert not state.of("fuse").blown
    assert [0.0] * count == pytest.approx(_heaters(here, state), abs=0.1)


def test_a_transformer_that_is_no_smaller_is_refused():
    """40 VA in place of 40 or less is no fault, and what is no transformer has no VA."""
    for change in (Undersized("transformer", 40.0), Undersized("fuse", 40.0)):
        with pytest.raises(WiringError):
            change.made(THREE)
    kept = Undersized("transformer", 40.0).made(_forty(3, replace(STIFF, grounded=True, line_volts=116.0))).part("transformer")
    assert (40.0, True, 116.0) == (kept.va, kept.grounded, kept.line_volts)


def test_a_link_needs_zones_on_both_sides():
    """A link with no zone before it, or one behind, is another row's fault: it is refused, as is a bus without that zone."""
    for bus, zone in (("C bus", "zone1"), ("C bus", "zone3"), ("EA bus", "zone9"), ("fuse", "zone2")):
        with pytest.raises(WiringError):
            Split(bus, zone).made(THREE)
    made = Split("C bus", "zone2").made(THREE).part("C bus")
    assert ("zone2", "zone3") == made.beyond
    assert Chain is type(made.with_way("zone3", 0.1))
    assert THREE.part("C bus") == made.with_way("zone2", THREE.part("C bus").ohms[1])


def test_a_line_conductor_on_r():
    """R to ground 120 V, C to ground 92, R to C 27.5 as ever; a look shows it, and jumpers there are line work (MZ-16)."""
    here = _plant(TWO, "MZ-16")
    idle = at_rest(here)
    volts = [across(here, idle, point, EARTH) for point in ("R bus.zone1", "transformer.C")]
    assert [120, 92.5] == pytest.approx(volts, abs=0.5)
    assert 27.5 == pytest.approx(across(here, idle, *SOURCE), abs=0.05)
    assert "nicked" in sensed(here, idle, "look", "transformer").text
    assert on_line_voltage(here, "zone1.R splice.1")
    assert not on_line_voltage(TWO, "zone1.R splice.1")
    assert "MZ-16" not in _offered_rows(changed(TWO, "transformer", grounded=True))


@pytest.mark.parametrize(("count", "volts"), [(0, 24.0), (1, 22.6), (2, 21.4), (3, 20.3)])
def test_a_borrowed_transformer(count, volts):
    """The boiler's own R to C 24.0, 22.6, 21.4, 20.3 V as zones are added; at three its gas valve drops out (MZ-17).

    Once a valve is open the input relay draws from the same winding, which takes another 0.2 to 0.4 V.
    """
    here = _plant(LENDING, "MZ-17")
    calls = here.zones[:count]
    state = _cold(here, *calls)
    assert volts == pytest.approx(across(here, state, "boiler.R", "boiler.C"), abs=0.06)
    state, _ = waited(here, state, 300)
    less = volts - across(here, state, "boiler.R", "boiler.C")
    assert (0.2 < less < 0.4) if calls else 0.0 == pytest.approx(less, abs=0.01)
    assert (count == 3) == state.of("boiler").starved == ("low control voltage" in sensed(here, state, "look", "boiler").text)
    assert 0.0 == pytest.approx(amps(here, state, "transformer.winding"), abs=1e-3)


# two transformers -----------------------------------------------------------------------------------------------------


def test_secondaries_tied_opposed():
    """With a sound fuse some 13 A flow and one opens at once; across the melted one stand 55 V, and zones still work (MZ-08)."""
    here = _plant(REF_D, "MZ-08")
    idle = at_rest(here)
    assert 55.0 == pytest.approx(across(here, idle, "fuse 2.in", "fuse 2.out"), abs=0.05)
    assert [25.1] * 2 == pytest.approx([_heater(here, _cold(here, zone), zone) for zone in ("zone1", "zone3")], abs=WITH_A_FUSE)
    fresh = changed(here, "fuse 2", blown=False)
    assert 13 == pytest.approx(amps(fresh, at_rest(fresh), "transformer.winding"), abs=0.3)
    _, events = waited(fresh, at_rest(fresh), 2)
    assert 0 < min(time for name in ("fuse", "fuse 2") for time in times(events, f"{name} opens")) < 1
    assert "outlet of fuse 2" in sensed(here, idle, "look", "fuse").text


@pytest.mark.parametrize(("other", "circulates"), [(26.6, 0.2), (25.5, 0.5)])
def test_secondaries_tied_in_phase(other, circulates):
    """Unlike volts make 0.2 to 0.5 A circulate; switched off, a primary is fed back to 110 to 120 V and hums (MZ-09)."""
    here = changed(_plant(REF_D, "MZ-09"), "transformer 2", emf=other)
    idle = at_rest(here)
    assert circulates == pytest.approx(amps(here, idle, "transformer.winding"), abs=0.04)
    off = switched(here, idle, "transformer", False)
    assert 107 < off.of("transformer").fed_back < 120
    assert "hums faintly, although" in sensed(here, off, "listen", "transformer").text
    apart = switched(REF_D, at_rest(REF_D), "transformer", False)
    assert 0 == apart.of("transformer").fed_back


def test_commons_tied_and_sources_opposed():
    """R to R 55 V with every zone working; in phase it is 0, and without the tie nothing refers one to the other (MZ-10)."""
    here = _plant(REF_D, "MZ-10")
    ends = ("transformer.R", "transformer 2.R")
    assert 55.0 == pytest.approx(across(here, at_rest(here), *ends), abs=0.05)
    in_phase = changed(here, "transformer 2", opposed=False)
    assert 0.0 == pytest.approx(across(in_phase, at_rest(in_phase), *ends), abs=0.05)
    assert 55.0 - across(REF_D, at_rest(REF_D), *ends) > 1
    for zone in here.zones:
        assert 25.2 == pytest.approx(_heater(here, _cold(here, zone), zone), abs=WITH_A_FUSE)


@pytest.mark.parametrize(
    ("design", "zones", "heaters", "amperes", "bus"),
    [
        (OPPOSED, ("zone1", "zone2"), (25.2, 25.2), 0.84, 0.0),
        (OPPOSED, ("zone1",), (0.0, 0.0), 0.0, 27.5),
        (IN_PHASE, ("zone1", "zone2"), (0.0, 0.0), 0.0, 27.5),
        (_shared(opposed=True, second=_motor(motor_ohms=90.0, reactance=0.0)), ("zone1", "zone2"), (13.1, 39.4), 0.438, 13.1),
        (_shared(opposed=True, second=_motor(motor_ohms=54.0, reactance=72.0)), ("zone1", "zone2"), (14.4, 43.1), 0.479, 18.2),
    ],
    ids=["opposed, both", "opposed, one", "in phase", "motor as ohms", "motor as a coil"],
)
def test_a_lost_shared_return(design, zones, heaters, amperes, bus):
    """Opposed two heaters share 55 V as if nothing were wrong, one alone has none, a motor gets 39 V or 43 (MZ-11)."""
    here = _plant(design, "MZ-11")
    state = _cold(here, *zones)
    assert heaters == pytest.approx(_heaters(here, state), abs=0.06)
    assert amperes == pytest.approx(amps(here, state, "zone1.W leg"), abs=0.002)
    assert bus == pytest.approx(across(here, state, "C bus.trunk", "transformer.C"), abs=0.06)


def test_a_lost_shared_return_burns_the_motor():
    """The motor in series with a heater burns out after ten minutes of both on call (MZ-11)."""
    here = _plant(_shared(opposed=True, second=_motor()), "MZ-11")
    _, events = calling(here, 900, "zone1.stat", "zone2.stat")
    assert [600] == pytest.approx(times(events, "zone2.valve motor burns open"), abs=1)


def test_a_dead_second_transformer():
    """R 2 to C 2 0 V: zones 3 and 4 dead, 1 and 2 fine (MZ-12)."""
    here = _plant(REF_D, "MZ-12")
    state = _cold(here, *here.zones)
    assert (0.0, 0.0) == pytest.approx(
        (across(here, state, "transformer 2.R", "transformer 2.C"), _heater(here, state, "zone4")), abs=0.1
    )
    assert [23.65] * 2 == pytest.approx([_heater(here, state, zone) for zone in ("zone1", "zone2")], abs=WITH_A_FUSE)


# two at once ----------------------------------------------------------------------------------------------------------


def _both(design, first, second):
    """The design with two rows in it, each (id, size, zone)."""
    for row, size, zone in (first, second):
        design = _plant(design, row, size, zone)
    return design


def test_an_overload_behind_a_bad_trunk():
    """The trunk hides the overload: 24.2 V and 96 % of 40 VA while it is bad, 22.8 V and 127 % once made anew (MZ-05, MZ-07)."""
    design = _forty(3, STIFF)
    both = _both(design, ("MZ-07", None, "zone1"), ("MZ-05", 5.0, "zone1"))
    world = arrival(design, both)
    shares = []
    for act in (None, {"do": "remake", "terminal": "C bus.trunk"}):
        world = world if act is None else acted(world, act)[0]
        state = _cold(world.installation, *design.zones)
        volts = across(world.installation, state, *SOURCE)
        shares.append((volts, volts * amps(world.installation, state, "transformer.winding") / 40))
    assert (24.2, 0.96) == pytest.approx(shares[0], abs=0.06)
    assert (22.8, 1.27) == pytest.approx(shares[1], abs=0.06)


def test_a_bigger_transformer_alone_leaves_the_bad_trunk():
    """With the transformer right and the trunk bad three zones still never open, and the joint gets more watts (MZ-05, MZ-07)."""
    design = _forty(3, STIFF)
    both, trunk = _both(design, ("MZ-07", None, "zone1"), ("MZ-05", 5.0, "zone1")), _plant(design, "MZ-05", 5.0)
    watts = []
    for here in (both, trunk):
        state, events = calling(here, 3600, *(f"{zone}.stat" for zone in here.zones))
        assert not times(events, "zone1.valve end switch makes")
        watts.append(amps(here, state, "C trunk") ** 2 * 5.0)
    assert watts[0] < watts[1]


def test_a_welded_switch_under_a_moved_lever():
    """The lever back in auto, the boiler still runs: the contact is welded as well (ES-02, HL-08)."""
    both = _both(REF_B, ("ES-02", None, "zone3"), ("HL-08", None, "zone3"))
    world = arrival(REF_B, both)
    assert (True, True) == (world.state.of("boiler").called, world.state.of("zone3.valve").engaged)
    world, _ = acted(world, {"do": "opener", "valve": "zone3.valve", "engaged": False})
    world, _ = acted(world, {"do": "wait", "seconds": 600})
    assert (True, 0.0) == (world.state.of("boiler").called, world.state.of("zone3.valve").flow)
    assert not lifted(world.installation, world.state, "zone3.valve.EA").of("boiler").called


def test_a_low_line_and_a_bad_splice_add_up():
    """At 5 degC a low line alone opens late and a bad splice alone does too; the two together never (SP-13, HL-09)."""
    cold = changed(REF_A, "zone1.valve", ambient_degC=5.0)
    splice = _plant(cold, "HL-09", 3.0)
    low, both = (changed(here, "transformer", line_volts=106.0) for here in (cold, splice))
    found = [times(calling(here, 3600, "zone1.stat")[1], "zone1.valve end switch makes") for here in (cold, splice, low, both)]
    assert [True, True, True, False] == list(map(bool, found))
    assert found[0] < min(found[1:3])


def test_a_fuse_hides_the_short_that_opened_it():
    """With the fuse open nothing shows of a shorted heater; a new fuse and one call open it again (SP-05, HL-02)."""
    both = planted(_plant(TWO, "HL-02", 0.5), rows("SP-05")[0].at("zone2", rows("SP-05")[0].places[0], 0.5, "zone1"))
    world = arrival(TWO, both)
    assert 0.0 == pytest.approx(
        across(world.installation, _cold(world.installation, "zone1"), "R bus.zone1", "C bus.zone1"), abs=0.1
    )
    for act in (*rows("SP-05")[0].repaired_by("zone2", rows("SP-05")[0].places[0], "zone1")[0], {"do": "wait", "seconds": 5}):
        world, _ = acted(world, act)
    assert not world.state.of("fuse").blown
    world, _ = acted(world, {"do": "call", "stat": "zone2.stat", "on": True})
    world, _ = acted(world, {"do": "wait", "seconds": 60})
    assert not world.state.of("fuse").blown
    world, _ = acted(world, {"do": "call", "stat": "zone1.stat", "on": True})
    world, _ = acted(world, {"do": "wait", "seconds": 60})
    assert world.state.of("fuse").blown


# all rows -------------------------------------------------------------------------------------------------------------


def test_the_rows_are_all_there():
    """Every row from MZ-01 to MZ-23 stands here once."""
    assert [f"MZ-{number:02}" for number in range(1, 24)] == [row.id for row in SERVICE_CALL_ROWS]


@pytest.mark.parametrize("row", ROWS)
def test_every_row_is_whole(row):
    """A row has its texts, known objectives, a weight, and acts that repair it, a trade it is handed to, or nothing wrong."""
    row = ROWS[row]
    assert all((row.claim, row.complaint, row.noticed, row.repair, row.misdiagnosis))
    assert "service-calls" == row.chapter
    assert set(row.objectives) <= set(OBJECTIVES)
    assert 1 <= row.prevalence <= 10
    assert 0 <= row.severity <= 5
    assert (row.severity == 0) == (row.kind == "nothing wrong")
    assert row.repairs or row.refer or row.severity == 0
    assert row.refer in ("", *TRADES)
    assert (row.severity == 5) == (row.symptom == "danger")
    assert row.house == ("{zone}" not in repr(row.changes) + repr(row.places) + row.claim)
    assert "{room}" not in row.complaint or not row.house


def _offered(design):
    """The suspects of every zone, with that zone."""
    return [(zone, suspect) for zone in design.zones for suspect in suspects(design, zone, SERVICE_CALL_ROWS)]


def _offered_rows(design):
    return {row.id for _, suspect in _offered(design) for row in suspect.rows}


@pytest.mark.parametrize("row", ROWS)
def test_every_row_fits_somewhere_and_is_a_change(row):
    """At least one kind of wiring offers the row; planted at any size it differs from the design, which stays as it was."""
    found = [
        (design, fault) for design in DESIGNS for _, suspect in _offered(design) for fault in suspect.family if fault.row == row
    ]
    assert found
    for design, fault in found:
        before = repr(design)
        assert design != planted(design, fault)
        assert before == repr(design)


def test_what_a_house_cannot_have_is_not_offered():
    """One zone is offered nothing of two, one transformer nothing of two, a house without a tank no priority, and so on."""
    assert not {"MZ-01", "MZ-02", "MZ-03", "MZ-05", "MZ-15"} & _offered_rows(REF_A)
    two = {f"MZ-{number:02}" for number in (8, 9, 10, 11, 12)}
    assert {"MZ-08", "MZ-09", "MZ-10", "MZ-12"} == two & _offered_rows(REF_D)
    assert {"MZ-11", "MZ-12"} == two & _offered_rows(IN_PHASE)
    assert not two & _offered_rows(REF_B)
    for row, design in (("MZ-21", PRIORITY), ("MZ-17", LENDING)):
        assert [design] == [one for one in DESIGNS if row in _offered_rows(one)]
    assert {"MZ-20", "MZ-23"} <= _offered_rows(REF_E)
    assert not {"MZ-20", "MZ-22", "MZ-23"} & _offered_rows(TWO_WIRE)
    assert "separate commons" in house_traits(REF_D)
    assert "separate commons" not in house_traits(IN_PHASE)


def test_a_bad_trunk_in_a_relay_house_is_one_answer():
    """There MZ-05 and ES-14 are the same joint, told in the same words, and offered once."""
    found = [
        suspect
        for suspect in suspects(REF_C, "zone1", (*END_SWITCH_ROWS, *SERVICE_CALL_ROWS))
        if {"MZ-05", "ES-14"} & {row.id for row in suspect.rows}
    ]
    assert [("ES-14", "MZ-05")] == [tuple(row.id for row in suspect.rows) for suspect in found]
    assert "There is a high-resistance joint in the C trunk." == found[0].words


def _planted_somewhere(row):
    """A design and zone that the row fits, and the row planted there at its greatest size, with the zone after."""
    row = ROWS[row]
    design, zone = next((one, zone) for one in DESIGNS for zone in one.zones if row.fits(one, zone, row.places[0]))
    other = design.zones[(design.zones.index(zone) + 1) % len(design.zones)]
    return design, planted(design, row.at(zone, row.places[0], row.sizes and row.sizes[1], other)), zone, other


@pytest.mark.parametrize(("row", "which"), [(row.id, which) for row in SERVICE_CALL_ROWS for which in range(len(row.repairs))])
def test_each_repair_ends_the_fault(row, which):
    """From the house as it is found, the acts leave it as designed: nothing runs idle, and each zone warms its own pipe."""
    design, here, zone, other = _planted_somewhere(row)
    world = arrival(design, here)
    for act in ROWS[row].repaired_by(zone, ROWS[row].places[0], other)[which]:
        world, outcome = acted(world, act)
        assert not outcome.misuse
    found = world.installation
    turned = (
        ("tank.stat", "transformer 2") if row in ("MZ-08", "MZ-10", "MZ-21") else ()
    )  # a hand on it; a phase that matters no more
    for name in {part.name for part in (*design.parts, *found.parts)} - set(turned):
        assert design.part(name) == found.part(name)
    assert {wire.name: wire for wire in design.conductors} == {wire.name: wire for wire in found.conductors}
    assert not world.state.of("boiler").called
    for zone in design.zones:
        state, _ = calling(found, 900, f"{zone}.stat", state=world.state)
        assert state.of("boiler").called
        assert "supply: hot; return: hot" == sensed(found, state, "feel", f"{zone}.loop").signal


@pytest.mark.parametrize("row", ROWS)
def test_nothing_that_can_be_probed_gives_a_row_away(row):
    """The places for a probe are those of the drawing, whatever has been added or left out."""
    design, here, _, _ = _planted_somewhere(row)
    assert places(arrival(design, design)) == places(arrival(design, here))


def test_a_second_house_of_two_sources():
    """Of three zones on two transformers with separate commons, only those of the second are lost with it (MZ-12)."""
    house = separate_commons("three", [zone_of(), zone_of()], [zone_of()], transformers=(FORTY, FORTY), fuses=(LINK, LINK))
    here = _plant(house, "MZ-12")
    assert [True, True, False] == [_heater(here, _cold(here, zone), zone) > 20 for zone in here.zones]
