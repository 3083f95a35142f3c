"""The field topologies: reference readings, behaviour, and any wiring at all. Common practice and memory, no source."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference_circuits import REF_A, REF_B, REF_C, REF_D, REF_E, zone_of

from solvers.circuit import currents, volts_between
from solvers.faults.changes import Exchanged
from solvers.plant.panels import one_stat, priority, relay_panel
from solvers.plant.parts import Fuse, HeatMotorValve, Relay, SpringReturnValve, Stat, Transformer, WaxActuator
from solvers.plant.running import EARTH, at_rest, called, network, points, switched, waited
from solvers.plant.thermostats import CPoweredStat
from solvers.plant.topologies import Zone, four_wire, three_wire_direct, three_wire_relay, two_wire
from solvers.plant.two_sources import separate_commons, shared_return
from solvers.plant.wiring import Conductor, Enclosure, Installation, NoSuchPart, WiringError


def _after(installation, calls, seconds, state=None):
    state = state or at_rest(installation)
    for zone in calls:
        state = called(installation, state, f"{zone}.stat", True)
    return waited(installation, state, seconds)[0]


def _volts(installation, state, first, second):
    return volts_between(network(installation, state), first, second, 10e6)


def _amps(installation, state, branch):
    return abs(currents(network(installation, state), EARTH)[branch])


@pytest.mark.parametrize(
    ("zones", "secondary", "heater", "amps"),
    [(1, 26.2, 25.6, 0.85), (2, 25.4, 24.8, 1.66), (3, 24.7, 24.1, 2.41)],
)
def test_reference_b(zones, secondary, heater, amps):
    """75 VA, one to three zones calling: secondary, heaters and total current as printed."""
    state = _after(REF_B, [f"zone{number + 1}" for number in range(zones)], 0)
    assert secondary == pytest.approx(_volts(REF_B, state, "transformer.R", "transformer.C"), abs=0.06)
    assert heater == pytest.approx(_volts(REF_B, state, "zone1.valve.HA", "zone1.valve.HB"), abs=0.06)
    assert amps == pytest.approx(_amps(REF_B, state, "transformer.winding"), abs=0.006)


def _made(installation, state, zone):
    """The state with one end switch made although its heater never warmed: by an opener of the kind that does so."""
    valve = installation.part(f"{zone}.valve")
    here = installation.with_part(replace(valve, opener="by hand, makes the switch", engaged=True))
    mine = replace(state.of(valve.name), engaged=True)
    return here, waited(here, replace(state, parts={**state.parts, valve.name: mine}), 0)[0]


REF_C_ROWS = {
    # landings exchanged at zone 2: rows of (coil V, heater 2 V), zone 1's switch open / zone 1 calling and open
    None: {"idle": ((0, 0), (26.0, 0)), "cold": ((0, 25.6), (25.3, 24.7)), "made": ((26.0, 25.5), (25.3, 24.7)), "coasting": ((26.9, 0), (26.0, 0))},
    ("H", "E"): {"idle": ((23.4, 3.5), (26.0, 0)), "cold": ((23.4, 3.5), (26.0, 0)), "coasting": ((23.4, 3.5), (26.0, 0))},
    ("S", "E"): {"idle": ((0, 0), (26.0, 0)), "cold": ((0, 0), (25.2, 24.6)), "made": ((26.0, 25.4), (25.3, 24.7)), "coasting": ((26.9, 0), (26.0, 0))},
    ("H", "S"): {"idle": ((0, 0), (26.0, 0)), "cold": ((0, 25.6), (25.3, 24.7)), "made": ((0.6, 25.6), None), "coasting": ((23.4, 3.5), (26.0, 0))},
}  # fmt: skip


REF_C_CELLS = [
    (swap, row, other) for swap, rows in REF_C_ROWS.items() for row, pair in rows.items() for other in (0, 1) if pair[other]
]


@pytest.mark.parametrize(("swap", "row", "other"), REF_C_CELLS, ids=lambda value: str(value))
def test_reference_c_and_its_swaps(swap, row, other):
    """Coil and heater volts for every swap of a three-wire valve's leads at zone 2, in each state."""
    here = REF_C if swap is None else Exchanged(*(f"zone2.valve.{lead}" for lead in swap)).made(REF_C)
    state = _after(here, ["zone1"], 300) if other else at_rest(here)
    if row in ("cold", "made"):
        state = called(here, state, "zone2.stat", True)
    if row in ("made", "coasting"):
        here, state = _made(here, state, "zone2")
    coil, heater = REF_C_ROWS[swap][row][other]
    assert coil == pytest.approx(_volts(here, state, "relay.A1", "relay.A2"), abs=0.06)
    assert heater == pytest.approx(_volts(here, state, "zone2.valve.H", "zone2.valve.S"), abs=0.06)


@pytest.mark.parametrize(("swap", "other", "amps"), [(("H", "E"), 0, 15.4), (("H", "E"), 1, 15.6), (("H", "S"), 1, 14.8)])
def test_the_swaps_that_short_the_source(swap, other, amps):
    """H and E exchanged with the switch made by the opener, H and S beside an open zone: the source is shorted."""
    here = Exchanged(*(f"zone2.valve.{lead}" for lead in swap)).made(REF_C)
    state = _after(here, ["zone1"], 300) if other else at_rest(here)
    here, state = _made(here, called(here, state, "zone2.stat", True), "zone2")
    assert amps == pytest.approx(_amps(here, state, "transformer.winding"), abs=0.3)
    after, events = waited(here, state, 30)
    assert after.of("fuse").blown
    assert any(event.name == "fuse opens" for event in events)


def test_reference_c_cold_and_open():
    """Zone 1 cold: E bus to C 26.2 V, coil 0; open: coil 26.0 V, E bus to C 0.01 V, and T-T made."""
    cold = _after(REF_C, ["zone1"], 0)
    assert 26.2 == pytest.approx(_volts(REF_C, cold, "E bus.zone1", "transformer.C"), abs=0.06)
    assert 0 == pytest.approx(_volts(REF_C, cold, "relay.A1", "relay.A2"), abs=0.01)
    opened = _after(REF_C, ["zone1"], 300)
    assert 26.0 == pytest.approx(_volts(REF_C, opened, "relay.A1", "relay.A2"), abs=0.06)
    assert opened.of("relay").pulled
    assert opened.of("boiler").called


@pytest.mark.parametrize(("parallel", "coil"), [((1, 0, 0), 30.7), ((1, 1, 0), 15.3), ((1, 1, 1), 10.2)])
def test_the_load_on_r_to_c(parallel, coil):
    """What the calls put on R to C, with the coil off: 30.7, 15.3 and 10.2 ohm."""
    state = at_rest(REF_C)
    for number, on in enumerate(parallel, 1):
        if on:
            state = called(REF_C, state, f"zone{number}.stat", True)
    volts = _volts(REF_C, state, "fuse.out", "transformer.C")
    assert coil == pytest.approx(volts / _amps(REF_C, state, "fuse.link"), abs=0.06)


def test_reference_d():
    """Two transformers: killing one leaves the other's zones working, and nothing but a ghost stands between their commons."""
    state = switched(REF_D, _after(REF_D, ["zone1", "zone3"], 300), "transformer", False)
    assert 0 == pytest.approx(_volts(REF_D, state, "zone1.valve.HA", "zone1.valve.HB"), abs=0.01)
    assert 25.1 == pytest.approx(_volts(REF_D, state, "zone3.valve.HA", "zone3.valve.HB"), abs=0.1)
    ghost = volts_between(network(REF_D, state), "transformer.C", "transformer 2.C", 3e3)
    assert ghost < 0.01


BUILDERS = {
    "two-wire": lambda n: two_wire("x", [zone_of(2)] * n),
    "four-wire": lambda n: four_wire("x", [zone_of(4)] * n),
    "three-wire direct": lambda n: three_wire_direct("x", [zone_of(3)] * n),
    "three-wire relay": lambda n: three_wire_relay("x", [zone_of(3)] * n),
    "separate commons": lambda n: separate_commons("x", [zone_of(4)] * max(1, n // 2), [zone_of(4)] * (n - n // 2)),
    "shared return": lambda n: shared_return("x", [zone_of(4)] * max(1, n // 2), [zone_of(4)] * (n - n // 2)),
    "relay panel": lambda n: relay_panel("x", [zone_of(2)] * n),
    "mixed": lambda n: four_wire("x", [_mixed(number) for number in range(n)]),
    "one stat": lambda n: one_stat("x", zone_of(4), [zone_of(4)] * max(1, n - 1)),
    "priority": lambda n: priority("x", [zone_of(4)] * n),
}
BIG = Transformer("transformer", emf=27.0, ohms=0.02, va=1000.0)


def _mixed(number):
    kinds = (HeatMotorValve("valve", leads=4), SpringReturnValve("valve", leads=4), WaxActuator("valve", leads=4))
    return Zone(kinds[number % 3])


@pytest.mark.parametrize("kind", BUILDERS)
@pytest.mark.parametrize("count", [1, 2, 5, 16])
def test_every_zone_opens_its_own_valve(kind, count):
    """In each topology, 1 to 16 zones: a zone's call opens its valve and, where something says so, calls the boiler."""
    here = BUILDERS[kind](count)
    here = replace(here, parts=tuple(_strong(part) for part in here.parts))
    zone = here.zones[-1]
    state = _after(here, [zone], 900)
    opened = [
        part.name for part in here.parts if hasattr(state.parts[part.name], "opening") and state.of(part.name).opening > 0.9
    ]
    wanted = [name for name in (part.name for part in here.parts) if name.startswith(zone) and name.endswith(".valve")]
    assert wanted == opened
    assert state.of("boiler").called == (kind != "two-wire")
    idle = called(here, state, f"{zone}.stat", False)
    shut = waited(here, idle, 1800)[0]
    assert not shut.of("boiler").called
    assert all(shut.of(name).opening < 0.1 for name in opened)


def _strong(part):
    """Sources that no number of zones can pull down, so that only the wiring is under test."""
    if isinstance(part, Transformer):
        return replace(part, ohms=0.02, va=1000.0)
    return replace(part, amps=30.0) if isinstance(part, Fuse) else part


def test_times_by_kind():
    """Mixed valves on one T-T: a motor's in 6 to 25 s, a heat motor's in 70 to 140 s, a wax actuator's in 1.5 to 4 min."""
    here = four_wire("mixed", [_mixed(0), _mixed(1), _mixed(2)], transformer=BIG)
    for zone, low, high in (("zone1", 70, 140), ("zone2", 6, 25), ("zone3", 90, 240)):
        _, events = waited(here, called(here, at_rest(here), f"{zone}.stat", True), 600)
        assert low <= next(event.time for event in events if event.name == "boiler starts") <= high


def test_series_end_switches_wait_for_all():
    """One stat, two valves, switches in series: the boiler waits for the slower; in parallel it starts with the quicker."""
    slow = replace(zone_of(4), valve=replace(zone_of(4).valve, wax_tau=150.0))
    starts = {}
    for in_series in (False, True):
        here = one_stat("x", zone_of(4), [slow], in_series=in_series, transformer=BIG)
        _, events = waited(here, called(here, at_rest(here), "zone1.stat", True), 600)
        starts[in_series] = next(event.time for event in events if event.name == "boiler starts")
        makes = sorted(event.time for event in events if "end switch makes" in event.name)
        assert starts[in_series] == pytest.approx(makes[-1] if in_series else makes[0], abs=1e-6)
    assert starts[False] < starts[True]


def test_one_stat_carries_both_heaters():
    """Two high-draw heaters on one W: about 1.6 A through a contact that is made for 1 A."""
    here = one_stat("x", zone_of(4), [zone_of(4)], transformer=Transformer("transformer", emf=27.5, ohms=2.1))
    state = _after(here, ["zone1"], 0)
    assert 1.58 == pytest.approx(_amps(here, state, "zone1.stat.contact"), abs=0.05)


def test_a_panel_spares_the_stat():
    """Through a relay the stat carries the coil's current alone, and T-T makes with the call, travel or no travel."""
    here = relay_panel("x", [zone_of(2)], relay=Relay("relay", poles=2))
    state = _after(here, ["zone1"], 0)
    assert _amps(here, state, "zone1.stat.contact") <= 0.2
    assert state.of("boiler").called
    assert state.of("zone1.valve").opening == 0


def test_hot_water_takes_r_away_from_the_zones():
    """While the tank calls every zone is dead at its stat; afterwards R is back within the same moment."""
    here = priority("x", [zone_of(4), zone_of(4)])
    state = _after(here, ["zone1"], 300)
    tank = called(here, state, "tank.stat", True)
    assert 0 == pytest.approx(_volts(here, tank, "zone1.stat.R", "transformer.C"), abs=0.06)
    back = called(here, tank, "tank.stat", False)
    assert 25 < _volts(here, back, "zone1.valve.HA", "zone1.valve.HB")


@pytest.mark.parametrize(("opposed", "alone", "both"), [(True, 0.0, 25.2), (False, 0.0, 0.0)])
def test_a_lost_shared_return(opposed, alone, both):
    """Opposed, two equal heaters share 55 V as if nothing were wrong, and neither works alone; in phase both are dead."""
    here = shared_return("x", [zone_of(4)], [zone_of(4)], transformers=(_source(), _source()), opposed=opposed)
    lost = here.with_conductor("C trunk", ohms=float("inf"))
    one = _after(lost, ["zone1"], 0)
    assert alone == pytest.approx(_volts(lost, one, "zone1.valve.HA", "zone1.valve.HB"), abs=0.06)
    two = _after(lost, ["zone1", "zone2"], 0)
    assert both == pytest.approx(_volts(lost, two, "zone1.valve.HA", "zone1.valve.HB"), abs=0.1)


def _source():
    return Transformer("transformer", emf=27.5, ohms=2.1)


@pytest.mark.parametrize(("opposed", "volts"), [(False, 0.0), (True, 55.0)])
def test_phase_between_two_sources(opposed, volts):
    """R against R, commons joined: nothing in phase, 55 V opposed."""
    here = shared_return("x", [zone_of(4)], [zone_of(4)], transformers=(_source(), _source()), opposed=opposed)
    assert volts == pytest.approx(_volts(here, at_rest(here), "fuse.out", "fuse 2.out"), abs=0.1)


def test_a_stat_with_c_lives_on_the_common():
    """A C-powered stat anywhere gets its C from the C bus and stays alive in both states."""
    here = four_wire("x", [replace(zone_of(4), stat=CPoweredStat("stat")), zone_of(4)])
    for calls in ([], ["zone1"]):
        assert _after(here, calls, 60).of("zone1.stat").alive


@pytest.mark.parametrize(
    ("build", "message"),
    [
        (lambda: four_wire("x", []), "0 zones; an installation here has 1 to 16"),
        (lambda: four_wire("x", [zone_of(4)] * 17), "17 zones"),
        (lambda: four_wire("x", [zone_of(4), zone_of(3)]), "zone 2 has a valve with 3 leads; this wiring takes 4 or 2"),
        (lambda: three_wire_relay("x", [zone_of(4)]), "takes 3"),
        (lambda: one_stat("x", zone_of(4), []), "one stat for one valve"),
    ],
)
def test_a_house_that_cannot_be_built(build, message):
    """Too few or too many zones, or a valve that does not fit, raise one sentence with the choices."""
    with pytest.raises(WiringError) as caught:
        build()
    assert message in str(caught.value)


@given(
    seed=st.integers(0, 10_000),
    extra=st.lists(st.tuples(st.integers(0, 500), st.integers(0, 500), st.sampled_from([0.01, 1.0, 50.0])), max_size=4),
    cut=st.lists(st.integers(0, 500), max_size=4),
    moved=st.lists(st.tuples(st.integers(0, 500), st.sampled_from("ab"), st.integers(0, 500)), max_size=4),
)
def test_any_wiring_can_be_solved_and_run(seed, extra, cut, moved):
    """Conductors added, cut and landed anywhere: the circuit is solved, and a minute of it runs, without an exception."""
    here = (REF_A, REF_C, REF_D, REF_E)[seed % 4]
    terminals = here.terminals
    for number, (a, b, ohms) in enumerate(extra):
        one, other = terminals[a % len(terminals)], terminals[b % len(terminals)]
        if one != other:
            here = here.with_conductors([Conductor(f"extra {number}", one, other, ohms)])
    for number in cut:
        here = here.with_conductor(here.conductors[number % len(here.conductors)].name, ohms=float("inf"))
    for number, end, where in moved:
        wire, terminal = here.conductors[number % len(here.conductors)], terminals[where % len(terminals)]
        if terminal not in (wire.a, wire.b):
            here = here.with_conductor(wire.name, **{end: terminal})
    state = at_rest(here)
    for zone in here.zones:
        state = called(here, state, f"{zone}.stat", True)
    state, _ = waited(here, state, 60)
    for point in points(here, state):
        assert 0 <= _volts(here, state, point, "transformer.C") < 200 if point != "transformer.C" else True


def test_230_volts_50_hertz():
    """On 230 V 50 Hz the same wiring works; a synchronous motor takes a fifth longer than on 60 Hz."""
    source = Transformer("transformer", line_volts=230.0, taps=(230.0,), tap=230.0, line_hz=50.0, rated_hz=50.0)
    opened = {}
    for hz in (50.0, 60.0):
        sixty = {"transformer": source} if hz == 50 else {}
        here = replace(four_wire("x", [_mixed(0), _mixed(1)], **sixty), hz=hz)
        _, events = waited(here, called(here, at_rest(here), "zone2.stat", True), 120)
        opened[hz] = next(event.time for event in events if event.name == "zone2.valve end switch makes")
        assert 24 < _volts(here, called(here, at_rest(here), "zone1.stat", True), "zone1.valve.HA", "zone1.valve.HB") < 27
    assert 1.2 == pytest.approx(opened[50.0] / opened[60.0], abs=0.01)


def test_terminals_hold_so_many():
    """A terminal with more conductors than it takes is named, with both numbers."""
    assert () == REF_E.crowded()
    more = REF_E.with_conductors([Conductor(f"more {n}", "zone1.stat.R", "zone2.stat.R", 0.1) for n in range(2)])
    assert (("zone1.stat.R", 3, 2), ("zone2.stat.R", 3, 2)) == more.crowded()


def test_line_voltage_beside_class_2():
    """An enclosure in which a line conductor ends beside class 2 ones is named, unless it has a barrier."""
    line = Conductor("pump feed", "fuse.in", "boiler.T1", 0.1, line=True)
    box = Enclosure("valve box", ("fuse",))
    here = replace(REF_A.with_conductors([line]), enclosures=(box,))
    assert ("valve box",) == here.mixed()
    assert () == replace(here, enclosures=(replace(box, barrier=True),)).mixed()
    with pytest.raises(NoSuchPart, match="an enclosure holds 'cat'"):
        replace(REF_A, enclosures=(Enclosure("box", ("cat",)),))
    with pytest.raises(WiringError, match="stands in two enclosures"):
        replace(REF_A, enclosures=(box, Enclosure("other", ("fuse",))))


def test_a_stat_is_a_zone_only_with_a_valve():
    """The tank's stat is a thermostat and no zone."""
    assert ("zone1",) == priority("x", [zone_of(4)]).zones
    assert isinstance(priority("x", [zone_of(4)]).part("tank.stat"), Stat)


@pytest.mark.parametrize("on", [True, False])
def test_a_transformer_wired_to_its_own_primary_is_solved(on):
    """The most absurd wiring there is, the secondary across its own line leads, ends in a state and not in an exception."""
    source = Transformer("transformer", line_side=True)
    leads = [terminal for terminal in source.terminals if terminal not in source.secondary_pair]
    wires = (
        Conductor("one", source.secondary_pair[0], leads[-1], 0.1),
        Conductor("two", source.secondary_pair[1], leads[-2], 0.1),
    )
    here = Installation("absurd", (source,), wires)
    state, _ = waited(here, switched(here, at_rest(here), "transformer", on), 60)
    for point in here.terminals:
        if point != "transformer.C":
            assert _volts(here, state, point, "transformer.C") < 1000
