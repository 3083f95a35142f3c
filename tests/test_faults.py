"""The catalogue: every row shows what the trade says it shows. Values: common practice and memory, no source."""

import pytest
from reference_circuits import REF_A, REF_E

from solvers.circuit import currents, volts_between
from solvers.faults.changes import Exchanged, Joint, Landed, PartField
from solvers.faults.fault import FaultError
from solvers.faults.heater_loops import HEATER_LOOP_ROWS
from solvers.faults.planting import planted
from solvers.jobs.objectives import OBJECTIVES
from solvers.plant.part import Seen
from solvers.plant.running import EARTH, at_rest, called, network, waited
from solvers.plant.wiring import NoSuchPart, NoSuchTerminal, WiringError

ROWS = {row.id: row for row in HEATER_LOOP_ROWS}


def _fault(row, size=None, place=None, zone="zone1"):
    places = [where for where in ROWS[row].places if place in (None, where.words)]
    return ROWS[row].at(zone, places[0], size)


def _on_call(installation, zone="zone1"):
    state = called(installation, at_rest(installation), f"{zone}.stat", True)
    circuit = network(installation, state)
    amps = currents(circuit, EARTH)

    def volts(first, second):
        return volts_between(circuit, first, second, 10e6)

    _, events = waited(installation, state, 3600)
    made = [event.time for event in events if event.name == f"{zone}.valve end switch makes"]
    return volts, amps, (made[0] if made else None), events


@pytest.mark.parametrize(
    ("row", "size", "heater", "amps", "r_c", "makes"),
    [
        ("HL-01", None, 27.5, 0.0, 27.5, None),
        ("HL-02", 3.0, None, 4.7, 17.5, None),
        ("HL-02", 1.0, None, 7.3, 12.3, None),
        ("HL-03", 50.0, 26.0, 0.52, None, 216),
        ("HL-03", 60.0, None, 0.44, None, None),
        ("HL-05", None, 25.2, 0.84, 25.7, None),
        ("HL-08", None, 25.2, 0.84, 25.7, 89),
        ("HL-09", 3.0, 23.1, None, None, 118),
        ("HL-09", 8.0, 20.2, 0.674, None, 213),
        ("HL-09", 12.0, None, None, None, None),
        ("HL-10", None, 0.0, 0.0, 27.5, None),
        ("HL-12", None, 0.0, 0.0, 27.5, None),
        ("HL-23", None, 25.2, 0.84, 25.7, 89),
    ],
)
def test_on_call(row, size, heater, amps, r_c, makes):
    """On reference A with its zone calling, volts, amperes and the moment of the end switch are the trade's.

    The trade reckons a shorted heater without the fuse's 0.05 ohm, which is worth 2 % at 7 A.
    """
    here = planted(REF_A, _fault(row, size))
    volts, currents_, made, _ = _on_call(here)
    if heater is not None:
        assert heater == pytest.approx(volts("zone1.valve.HA", "zone1.valve.HB"), abs=0.1)
    if amps is not None:
        assert amps == pytest.approx(abs(currents_["zone1.W leg"]), rel=0.025, abs=1e-4)
    if r_c is not None:
        assert r_c == pytest.approx(volts("R bus.fuse", "transformer.C"), abs=0.25)
    assert makes == pytest.approx(made, abs=2) if makes else made is None


@pytest.mark.parametrize(("ohms", "drop"), [(3.0, 2.3), (8.0, 5.4), (12.0, 7.4)])
def test_a_bad_joint_shows_under_load_only(ohms, drop):
    """A high-resistance joint drops volts on call; idle, the stat still reads the whole source."""
    here = planted(REF_A, _fault("HL-09", ohms, "W splice"))
    volts, *_ = _on_call(here)
    assert drop == pytest.approx(volts("zone1.W splice.1", "zone1.W splice.2"), abs=0.06)
    idle = network(here, at_rest(here))
    assert 27.5 == pytest.approx(volts_between(idle, "zone1.stat.R", "zone1.stat.W", 10e6), abs=0.06)


def test_a_shorted_heater_opens_the_fuse():
    """3 ohm opens a 3 A fuse in minutes, 1 ohm in about ten seconds; a new fuse opens again."""
    for ohms, low, high in ((3.0, 300, 900), (1.0, 5, 15)):
        *_, events = _on_call(planted(REF_A, _fault("HL-02", ohms)))
        assert low < next(event.time for event in events if event.name == "fuse opens") < high


def test_both_leads_on_one_side():
    """Each heater lead reads full volts to C, and nothing across the heater: no polarity, no current, no heat."""
    volts, *_ = _on_call(planted(REF_A, _fault("HL-12")))
    assert 27.5 == pytest.approx(volts("zone1.valve.HA", "transformer.C"), abs=0.05)
    assert 27.5 == pytest.approx(volts("zone1.valve.HB", "transformer.C"), abs=0.05)


def test_pairs_exchanged():
    """The heater sits across T-T: T-T 5.1 V idle, the boiler's input held in at 20.5 V, the W wire live and idle."""
    here = planted(REF_A, _fault("HL-13"))
    state = at_rest(here)
    circuit = network(here, state)
    assert 5.1 == pytest.approx(volts_between(circuit, "boiler.T1", "boiler.T2", 10e6), abs=0.06)
    assert 20.5 == pytest.approx(abs(currents(circuit, EARTH)["boiler.input"]) * 120, abs=0.06)
    assert state.of("boiler").called
    volts, amps, *_ = _on_call(here)
    assert 27.5 == pytest.approx(volts("zone1.valve.EA", "zone1.C splice.1"), abs=0.05)
    assert 0 == pytest.approx(abs(amps["zone1.W leg"]), abs=1e-4)


def test_shared_and_switch_leads_exchanged():
    """S and E exchanged on direct T-T: alone the heater returns through the boiler's input, 1.2 V on it cold in phase."""
    here = planted(REF_A_THREE_WIRE, _fault("ES-24"))
    _volts, amps, made, _ = _on_call(here)
    assert made is None
    assert 1.2 == pytest.approx(abs(amps["boiler.input"]) * 120, abs=0.1)


def test_a_hot_closet_closes_slowly():
    """At 45 degC, from a 24 V steady state, the end switch opens after 131 s and the valve is shut after 224 s."""
    here = planted(REF_A, _fault("HL-29", 45.0))
    valve = here.part("zone1.valve")
    steady = 45 + 24.0**2 / 30 * 6
    cooling = valve.laws(valve.initial(), Seen({"zone1.valve.heater": 0.0}, {}, {}, {}))["zone1.valve.wax"]
    assert 131 == pytest.approx(cooling.time_to(steady, 80), abs=1)
    assert 224 == pytest.approx(cooling.time_to(steady, 60), abs=1)


def test_lost_stroke_is_hot_and_shut():
    """A head without its charge heats as any other and lets nothing through."""
    here = planted(REF_A, _fault("HL-05"))
    state, _ = waited(here, called(here, at_rest(here), "zone1.stat", True), 1200)
    assert 100 < state.values["zone1.valve.wax"]
    assert 0 == here.part("zone1.valve").opening(state.of("zone1.valve"))
    assert not state.of("boiler").called


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_planting_leaves_its_input_alone(row):
    """A planted installation is another one; the design is what it was, and a fault with changes differs from it."""
    fault = _all(row)[0]
    design = REF_A if 4 in ROWS[row].leads else REF_E
    before = repr(design)
    found = planted(design, fault)
    assert before == repr(design)
    assert (found == design) == (not fault.changes)


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_every_row_is_whole(row):
    """A row has its texts, a weight, known objectives, and names parts that exist wherever it may be planted."""
    whole = ROWS[row]
    assert all((whole.claim, whole.complaint, whole.noticed, whole.repair, whole.misdiagnosis))
    assert 0 <= whole.severity <= 5
    assert 1 <= whole.prevalence <= 10
    assert set(whole.objectives) <= set(OBJECTIVES)
    for design, leads in ((REF_A, 4), (REF_E, 3)):
        for place in whole.places:
            if leads in whole.leads and leads in place.leads:
                for fault in whole.suspect("zone1", place).family:
                    planted(design, fault)
                for part in whole.cured_by:
                    names = {"zone": "zone1", **place.names}
                    design.part(part.format(**names).format(**names))


def test_a_size_is_asked_for_and_checked():
    """A row with a range refuses no size and a size outside it; a row without one refuses any."""
    with pytest.raises(FaultError, match="takes a size"):
        _fault("HL-09")
    with pytest.raises(FaultError, match=r"3\.0 to 20\.0; got 40"):
        _fault("HL-09", 40.0)
    with pytest.raises(FaultError, match="takes no size"):
        _fault("HL-01", 3.0)


@pytest.mark.parametrize(
    ("change", "error"),
    [
        (PartField("zone9.valve", "heater_ohms", 3.0), NoSuchPart),
        (PartField("zone1.valve", "colour", 3.0), WiringError),
        (Joint("zone1.valve", "1", 3.0), WiringError),
        (Landed("zone1.W leg", "b", "zone1.valve.Q"), NoSuchTerminal),
        (Exchanged("zone1.valve.Q", "zone1.valve.HA"), NoSuchTerminal),
    ],
)
def test_a_change_that_cannot_be_made_is_refused(change, error):
    """A change that names what is not there raises and shows what is."""
    with pytest.raises(error):
        change.made(REF_A)


def _all(row):
    return [fault for place in ROWS[row].places for fault in ROWS[row].suspect("zone1", place).family]


def _three_wire_a():
    from solvers.plant.parts import Boiler, Fuse, HeatMotorValve, Stat, Transformer
    from solvers.plant.topologies import Zone, three_wire_direct

    return three_wire_direct(
        "reference A's source with a three-wire valve",
        [Zone(HeatMotorValve("valve", leads=3, heater_ohms=30.0, ambient_degC=20.0), Stat("stat", 0.05))],
        transformer=Transformer("transformer", emf=27.5, ohms=2.1),
        fuse=Fuse("fuse", 3.0, 0.05),
        boiler=Boiler("boiler", emf=26.0, ohms=2.0, input_ohms=120.0),
    )


REF_A_THREE_WIRE = _three_wire_a()
