"""The trade's reference circuits: every printed reading out of the engine. Common practice and memory, no source."""

import pytest
from reference_circuits import REF_A, REF_E

from solvers.circuit import Approach, currents, volts_between
from solvers.faults.changes import Joint, PartField
from solvers.plant.part import Seen
from solvers.plant.parts import HeatMotorValve
from solvers.plant.running import EARTH, at_rest, called, lifted, network, waited

TEN_MEG = 10e6


def _ready(installation, calls, seconds, then=()):
    state = at_rest(installation)
    for zone in calls:
        state = called(installation, state, f"{zone}.stat", True)
    state, _ = waited(installation, state, seconds)
    for zone in then:
        state = called(installation, state, f"{zone}.stat", False)
    return state


def _readings(installation, state):
    circuit = network(installation, state)
    amps = currents(circuit, EARTH)
    boiler = installation.part("boiler")

    def volts(first, second):
        return volts_between(circuit, first, second, TEN_MEG)

    found = {"R-C": volts("R bus.fuse", "transformer.C"), "T-T": volts("boiler.T1", "boiler.T2")}
    for zone in installation.zones:
        found[f"{zone} stat"] = volts(f"{zone}.stat.R", f"{zone}.stat.W")
        found[f"{zone} heater"] = volts(*installation.part(f"{zone}.valve").heater_pair)
    found["source A"] = abs(amps["transformer.winding"])
    found["input A"] = abs(amps["boiler.input"])
    found["input V"] = found["input A"] * boiler.input_ohms
    return found


REF_E_ROWS = {
    "idle": ([], 0, [], {"R-C": 27.20, "zone1 stat": 27.2, "zone1 heater": 0, "zone2 heater": 0, "source A": 0, "T-T": 25.5, "input V": 0}),
    "zone 1 calls, cold": (["zone1"], 0, [], {"R-C": 25.49, "zone1 stat": 0.04, "zone1 heater": 24.84, "zone2 heater": 0, "source A": 0.875, "T-T": 25.5, "input A": 0}),
    "zone 1 calls, open": (["zone1"], 300, [], {"R-C": 25.49, "zone1 stat": 0.04, "zone1 heater": 24.84, "zone2 heater": 0, "source A": 0.875, "T-T": 0.11, "input V": 24.97, "input A": 0.212}),
    "zone 2 calls, open": (["zone2"], 300, [], {"R-C": 25.65, "zone1 stat": 25.6, "zone1 heater": 0, "zone2 heater": 25.06, "source A": 0.793, "T-T": 0.11, "input V": 24.97, "input A": 0.212}),
    "both call, both open": (["zone1", "zone2"], 400, [], {"R-C": 24.13, "zone1 stat": 0.04, "zone1 heater": 23.49, "zone2 heater": 23.55, "source A": 1.572, "T-T": 0.09, "input V": 24.98, "input A": 0.212}),
    "stats open, zone 1 coasting": (["zone1"], 300, ["zone1"], {"R-C": 27.20, "zone1 stat": 27.2, "zone1 heater": 0, "zone2 heater": 0, "source A": 0, "T-T": 0.09, "input V": 24.99, "input A": 0.212}),
}  # fmt: skip
DIGITS = {
    "R-C": 0.005,
    "zone1 heater": 0.005,
    "zone2 heater": 0.005,
    "source A": 0.0005,
    "input A": 0.0005,
    "T-T": 0.005,
    "input V": 0.005,
}


@pytest.mark.parametrize("row", REF_E_ROWS, ids=str)
def test_reference_e(row):
    """Two zones, three-wire, T-T fed directly: each reading to the last printed digit."""
    calls, seconds, then, printed = REF_E_ROWS[row]
    found = _readings(REF_E, _ready(REF_E, calls, seconds, then))
    for name, value in printed.items():
        assert value == pytest.approx(found[name], abs=max(DIGITS.get(name, 0.05), 0.0055 if name == "T-T" else 0)), name


REF_A_ROWS = {
    "idle": ([], 0, {"R-C": 27.5, "zone1 stat": 27.5, "zone1 heater": 0, "T-T": 26.0}),
    "cold call": (["zone1"], 0, {"R-C": 25.7, "zone1 stat": 0.04, "zone1 heater": 25.2, "source A": 0.84, "T-T": 26.0}),
    "open": (["zone1"], 200, {"R-C": 25.7, "zone1 heater": 25.2, "T-T": 0.02, "input A": 0.21}),
}


@pytest.mark.parametrize("row", REF_A_ROWS, ids=str)
def test_reference_a(row):
    """One zone, four-wire: each reading within 0.06 V or the last printed digit."""
    calls, seconds, printed = REF_A_ROWS[row]
    found = _readings(REF_A, _ready(REF_A, calls, seconds))
    for name, value in printed.items():
        tolerance = 0.1 if name == "zone1 heater" else 0.06 if name == "R-C" else 0.006
        assert value == pytest.approx(found[name], abs=tolerance), name


def _makes(installation, zone, ambient, warm_from=None):
    valve = f"{zone}.valve"
    here = PartField(valve, "ambient_degC", ambient).made(installation)
    state = at_rest(here)
    if warm_from is not None:
        state = type(state)(state.time, state.parts, {**state.values, f"{valve}.wax": warm_from})
    _, events = waited(here, called(here, state, f"{zone}.stat", True), 3600)
    return next((event.time for event in events if event.name == f"{valve} end switch makes"), None)


@pytest.mark.parametrize(("zone", "ambient", "seconds"), [
    ("zone1", 5, 116), ("zone1", 20, 85), ("zone1", 40, 53), ("zone2", 5, 137), ("zone2", 20, 97), ("zone2", 40, 60),
])  # fmt: skip
def test_reference_e_end_switches(zone, ambient, seconds):
    """Each end switch makes when its wax has had its time: no time of travel is a parameter."""
    assert seconds == pytest.approx(_makes(REF_E, zone, ambient), abs=1)


def test_a_valve_still_warm_is_quicker():
    """A valve still at 60 degC from its last call makes in about 45 s, a cold one takes a minute and more."""
    assert pytest.approx(44, abs=1) == _makes(REF_E, "zone1", 20, warm_from=60.0)
    assert 60 < _makes(REF_E, "zone1", 20)


WARM_UP = {  # heater volts on 30 ohm: seconds at 5, 20 and 40 degC; None is never
    25.2: (122, 88, 55), 24.0: (147, 103, 63), 22.3: (212, 134, 77), 21.0: (365, 174, 92),
    20.0: (None, 229, 108), 19.0: (None, 384, 130), 18.0: (None, None, 162), 16.0: (None, None, 413),
}  # fmt: skip


@pytest.mark.parametrize("volts", WARM_UP)
@pytest.mark.parametrize(("column", "ambient"), [(0, 5.0), (1, 20.0), (2, 40.0)])
def test_warm_up_table(volts, column, ambient):
    """Heater volts, ambient and seconds to the end switch agree with the trade's table to one second."""
    valve = HeatMotorValve("valve", heater_ohms=30.0, ambient_degC=ambient, wax_resistance=6.0, wax_tau=110.0, end_degC=90.0)
    law = valve.laws(valve.initial(), Seen({"valve.heater": volts / 30.0}, {}, {}, {}))["valve.wax"]
    assert isinstance(law, Approach)
    seconds, printed = law.time_to(ambient, valve.end_degC), WARM_UP[volts][column]
    if printed is None:
        assert seconds == float("inf")
    else:
        assert printed == pytest.approx(seconds, abs=1)


def test_healthy_24_volts():
    """A loaded heater on a healthy nominal 24 V transformer reads about 25 V; with the stat open it reads 0 V."""
    for installation in (REF_A, REF_E):
        assert pytest.approx(25, abs=0.3) == _readings(installation, _ready(installation, ["zone1"], 0))["zone1 heater"]
        assert pytest.approx(0, abs=0.005) == _readings(installation, _ready(installation, [], 0))["zone1 heater"]


def test_open_heater_reads_the_whole_source():
    """An open heater shows 27.2 V on call and no current worth the name."""
    here = PartField("zone1.valve", "heater_ohms", float("inf")).made(REF_E)
    found = _readings(here, _ready(here, ["zone1"], 0))
    assert 27.2 == pytest.approx(found["zone1 heater"], abs=0.005)
    # what is left charges the stat cable
    assert 0 == pytest.approx(found["source A"], abs=1e-4)


def test_lost_shared_lead_finds_a_sneak_way_back():
    """Zone 1's S off the C bus: dead alone, still dead beside zone 2, but alive through two end switches and the E bus."""
    here = Joint("C bus", "zone1", float("inf")).made(REF_E)

    def seen(state):
        circuit = network(here, state)
        return (
            volts_between(circuit, *here.part("zone1.valve").heater_pair, TEN_MEG),
            volts_between(circuit, "zone1.valve.S", "transformer.C", TEN_MEG),
        )

    assert (0, 27.2) == pytest.approx(seen(_ready(here, ["zone1"], 0)), abs=0.06)
    assert (0, 25.7) == pytest.approx(seen(_ready(here, ["zone1", "zone2"], 300)), abs=0.06)
    both = _ready(here, ["zone2"], 300)
    parts = {**both.parts, "zone1.valve": type(both.of("zone1.valve"))(made=True, stroke=1.0)}
    values = {**both.values, "zone1.valve.wax": 95.0}
    both = called(here, type(both)(both.time, parts, values), "zone1.stat", True)
    assert (23.3, 0.25) == pytest.approx(seen(both), abs=0.06)


def test_open_trunk_kills_both():
    """The C trunk open: both heaters dead, and the C bus stands at full volts against the transformer's C."""
    here = REF_E.with_conductor("C trunk", ohms=float("inf"))
    state = _ready(here, ["zone1", "zone2"], 0)
    found = _readings(here, state)
    assert (0, 0) == pytest.approx((found["zone1 heater"], found["zone2 heater"]), abs=0.01)
    assert 27.2 == pytest.approx(volts_between(network(here, state), "C bus.trunk", "transformer.C", TEN_MEG), abs=0.06)


def test_open_t_t_conductor():
    """A T-T conductor off the C bus: heaters perfect, the boiler never called."""
    here = REF_E.with_conductor("T-T cable S", ohms=float("inf"))
    state = _ready(here, ["zone1"], 300)
    assert 24.84 == pytest.approx(_readings(here, state)["zone1 heater"], abs=0.005)
    assert state.of("zone1.valve").made
    assert not state.of("boiler").called


def test_lifting_a_lead_opens_exactly_that_loop():
    """A lifted lead carries nothing, its end can be probed, and the other zone does not notice."""
    state = called(REF_E, called(REF_E, at_rest(REF_E), "zone1.stat", True), "zone2.stat", True)
    state = lifted(REF_E, state, "zone1.valve.H")
    circuit = network(REF_E, state)
    assert 0 == pytest.approx(volts_between(circuit, "zone1.valve.H", "transformer.C", TEN_MEG), abs=0.05)
    # the two zones share the source, so with one lifted the other stands as if alone
    assert 25.06 == pytest.approx(volts_between(circuit, *REF_E.part("zone2.valve").heater_pair, TEN_MEG), abs=0.005)
    assert 25.65 == pytest.approx(volts_between(circuit, "zone1.valve.H lead", "transformer.C", TEN_MEG), abs=0.005)
