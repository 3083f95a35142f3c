"""Repairs: for every way a house can differ from its drawing, the act that undoes it; and what half a repair does."""

import math

import pytest
from drawn_houses import EVERY, KINDS
from hypothesis import given
from hypothesis import strategies as st
from reference_circuits import REF_A
from repairs import BY_KIND, fit
from small_benches import acted_out, changed, world_of

from solvers.circuit import OPEN, CircuitError, currents, potentials
from solvers.faults.additions import CalledByStat, LineTouched, SecondValved
from solvers.faults.changes import (
    Bridged,
    Change,
    Joint,
    Loosened,
    PartField,
    Removed,
    Spare,
    Split,
    Undersized,
)
from solvers.jobs.acts import ACTS, acted, arrival
from solvers.jobs.job import JobError
from solvers.jobs.leaving import LEFT, left_behind
from solvers.jobs.misuses import OVERSIZED
from solvers.plant.parts import Boiler, Stat, Transformer
from solvers.plant.running import EARTH, at_rest, points
from solvers.plant.thermostats import BatteryStat


def _planted(design, *changes):
    there = design
    for change in changes:
        there = change.made(there)
    return there


def _call(on=True, stat="zone1.stat"):
    return {"do": "call", "stat": stat, "on": on}


def _volts(first, second):
    return {"do": "measure", "function": "volts", "first": first, "second": second}


def _power(design, on):
    return [{"do": "switch", "part": part.name, "on": on} for part in design.parts if isinstance(part, Transformer | Boiler)]


# every kind of change is undone ----------------------------------------------------------------------------------------

LEFT_ALONE = {Spare}  # a spare conductor does no harm
ROW_BY_ROW = {CalledByStat, LineTouched, SecondValved, Split, Undersized}  # what repairs them, in test_faults_service_calls


def test_every_kind_of_change_has_its_repair():
    """No kind of change is left out of what follows."""
    assert set(Change.__args__) == {*BY_KIND, *LEFT_ALONE, *ROW_BY_ROW}


def _readings(world):
    """Potentials and amperes everywhere, for alternating and direct current."""
    found = {}
    for hz in (None, 0):
        circuit = world.circuit(hz)
        volts = potentials(circuit, EARTH)
        found |= {(hz, "V", node): volts[node] for node in sorted(volts)}
        found |= {(hz, "A", name): amps for name, amps in currents(circuit, EARTH).items()}
    return found


def _told(world, design):
    """What stands to be read once all supplies are on, then with every thermostat calling."""
    world, _ = acted_out(world, *_power(design, True))
    idle = _readings(world)
    calls = [_call(stat=part.name) for part in design.parts if isinstance(part, Stat)]
    return idle, _readings(acted_out(world, *calls)[0])


@pytest.mark.parametrize("kind", BY_KIND, ids=lambda kind: kind.__name__)
@given(data=st.data())
def test_what_undoes_a_change_restores_every_reading(kind, data):
    """Planted and repaired with the power off, any house reads as designed at every point and in every branch."""
    design = EVERY[data.draw(st.sampled_from(sorted(EVERY)))]
    change, repair = data.draw(BY_KIND[kind](design))
    off = _power(design, False)
    meant, _ = acted_out(world_of(design), *off)
    world, _ = acted_out(world_of(_planted(design, change), design), *off, *repair)
    assert design.conductors == world.installation.conductors
    assert design.parts == world.installation.parts
    assert {part.name for part in design.parts} == set(world.state.parts)
    assert set(at_rest(design).values) == set(world.state.values)
    for expected, actual in zip(_told(meant, design), _told(world, design), strict=True):
        assert expected.keys() == actual.keys()
        for name, value in expected.items():
            assert value == pytest.approx(actual[name], abs=1e-6), name


# half a repair --------------------------------------------------------------------------------------------------------


def test_a_new_head_on_a_starved_leg_stays_slow():
    """A 20 ohm joint keeps a new head as cold as the old one; with the joint remade the new head opens in its time."""
    starved = _planted(REF_A, PartField("zone1.valve", "heater_ohms", OPEN), Joint("zone1.W splice", "2", 20.0))
    world, _ = acted_out(world_of(starved, REF_A), *fit("zone1.valve"))
    _, outcome = acted_out(world, _call(), {"do": "wait", "seconds": 600})
    assert () == outcome.events
    world, _ = acted_out(world, {"do": "remake", "terminal": "zone1.W splice.2"})
    _, outcome = acted_out(world_of(REF_A), _call(), {"do": "wait", "seconds": 600})
    assert outcome.events == acted_out(world, _call(), {"do": "wait", "seconds": 600})[1].events
    assert ["valve 1 clicks", "the boiler starts"] == [words for _, words in outcome.events]


def test_a_new_fuse_on_a_short_opens_again():
    """Each fuse fitted before the short is found is lost; fitted after it, it holds through a whole call."""
    shorted = _planted(REF_A, Bridged("nail", "zone1.stat.W", "transformer.C", 0.0, "zone1 stat cable"))
    world = arrival(REF_A, shorted)
    assert world.state.of("fuse").blown
    for _ in range(2):
        world, _ = acted_out(world, _call(False), *fit("fuse"))
        assert not world.state.of("fuse").blown
        world, _ = acted_out(world, _call(), {"do": "wait", "seconds": 5})
        assert world.state.of("fuse").blown
    assert ("fuse", "fuse") == world.fitted
    world, _ = acted_out(world, _call(False), {"do": "new cable", "cable": "zone1 stat cable"}, *fit("fuse"), _call())
    world, outcome = acted_out(world, {"do": "wait", "seconds": 600})
    assert not world.state.of("fuse").blown
    assert ["valve 1 clicks", "the boiler starts"] == [words for _, words in outcome.events]


def test_a_bigger_fuse_holds_and_is_a_misuse():
    """Above the drawn rating it works, which the log names; at the drawn rating or below nothing is said."""
    world, outcome = acted_out(world_of(REF_A), {"do": "fit size", "part": "fuse", "size": 10})
    assert OVERSIZED == outcome.misuse
    assert 10.0 == world.installation.part("fuse").amps
    assert ["protection"] == [left.kind for left in left_behind(REF_A, world)]
    for size in (3, 2.0):
        world, outcome = acted_out(world, {"do": "fit size", "part": "fuse", "size": size})
        assert "" == outcome.misuse
        assert () == left_behind(REF_A, world)


def test_a_bigger_transformer_holds_its_volts():
    """Of 75 VA it gives the same volts idle and sags by 40/75 as many ohms under one heater."""
    off, on = ({"do": "switch", "part": "transformer", "on": way} for way in (False, True))
    world, _ = acted_out(world_of(REF_A), off, {"do": "fit size", "part": "transformer", "size": 75}, on)
    idle = acted_out(world, _volts("transformer.R", "transformer.C"))[1].reading.value
    loaded = acted_out(world, _call(), _volts("transformer.R", "transformer.C"))[1].reading.value
    assert 27.5 == idle
    ohms = 2.1 * 40 / 75
    assert 27.5 * 30.69 / (30.69 + ohms) == pytest.approx(loaded, abs=0.02)


def test_a_supply_is_changed_with_its_switch_off_only():
    """A transformer or a boiler that is on is not fitted, and the sentence says what to do first."""
    for part in ("transformer", "boiler"):
        with pytest.raises(JobError, match=f"the {part} is switched on; switch it off before you fit a new one"):
            acted(world_of(REF_A), {"do": "fit", "part": part})
    with pytest.raises(JobError, match="switch it off before"):
        acted(world_of(REF_A), {"do": "fit size", "part": "transformer", "size": 75})


# heads, water, cells, settings ------------------------------------------------------------------------------------------


def test_what_is_under_a_head_parts_a_lost_stroke_from_a_stuck_stem():
    """HL-05's pin is slack on a stem that gives, HL-06's is firm on one that does not; freed, the stem gives."""
    lost, stuck = (changed(REF_A, "zone1.valve", **field) for field in ({"charge": 0.0}, {"stem": "stuck shut"}))
    look = {"do": "head off", "valve": "zone1.valve"}
    signals = [acted_out(world_of(there, REF_A), look)[1].signal for there in (REF_A, lost, stuck)]
    assert 3 == len(set(signals))
    world, _ = acted_out(world_of(stuck, REF_A), {"do": "free stem", "valve": "zone1.valve"})
    assert signals[0] == acted_out(world, look)[1].signal
    assert REF_A.parts == world.installation.parts


def test_a_loose_head_is_seated():
    """A head that is off its latch opens nothing; pressed on, its zone has flow."""
    loose = changed(REF_A, "zone1.valve", latched=False)
    before, _ = acted_out(world_of(loose, REF_A), _call(), {"do": "wait", "seconds": 300})
    assert 0 == before.state.of("zone1.valve").flow
    after, _ = acted_out(before, {"do": "seat head", "valve": "zone1.valve"})
    assert 1 == after.state.of("zone1.valve").flow


def test_air_is_bled_and_a_service_valve_is_turned():
    """Air spits once; a loop whose service valve was shut has flow again once it is open."""
    airy = changed(REF_A, "zone1.loop", air_bound=True, flows=False)
    world, first = acted_out(world_of(airy, REF_A), {"do": "bleed", "loop": "zone1.loop"})
    world, second = acted_out(world, {"do": "bleed", "loop": "zone1.loop"})
    assert ("bleeder: air", "bleeder: water") == (first.signal, second.signal)
    world, _ = acted_out(world, {"do": "service valve", "loop": "zone1.loop", "open": True})
    assert REF_A.parts == world.installation.parts
    world, _ = acted_out(world, {"do": "service valve", "loop": "zone1.loop", "open": False})
    assert ["service valve"] == [left.kind for left in left_behind(REF_A, world)]


def test_new_cells_make_a_stat_close_again():
    """On flat cells it calls and does not close; on new ones 0.85 A flows at once."""
    design = REF_A.with_part(BatteryStat("zone1.stat"))
    flat = changed(design, "zone1.stat", cell_volts=2.0)
    world, _ = acted_out(world_of(flat, design), _call())
    across = _volts("zone1.valve.HA", "zone1.valve.HB")
    assert acted_out(world, across)[1].reading.value < 0.1
    world, _ = acted_out(world, {"do": "cells", "stat": "zone1.stat"})
    assert acted_out(world, across)[1].reading.value > 25
    assert design.parts == world.installation.parts


def test_a_setting_goes_to_a_value_and_back_as_designed():
    """An anticipator set to 0.2 A has more ohms and is left behind; as designed it is as drawn again."""
    design = KINDS["thermostats"]
    act = {"do": "set", "part": "zone1.stat", "what": "anticipator"}
    world, _ = acted_out(world_of(design), {**act, "value": 0.2})
    assert (("zone1.stat", "anticipator"),) == world.adjusted
    assert 0.2 == world.installation.part("zone1.stat").set_amps
    assert ["setting"] == [left.kind for left in left_behind(design, world)]
    world, _ = acted_out(world, {**act, "value": "as designed"})
    assert design.parts == world.installation.parts
    assert () == left_behind(design, world)


def test_a_stat_askew_is_levelled_as_designed():
    """A setting with one good value is put there by its name and as designed alike."""
    askew = changed(REF_A, "zone1.stat", mounting="askew", offset=3.0)
    assert ["setting"] == [left.kind for left in left_behind(REF_A, world_of(askew, REF_A))]
    for value in ("level", "as designed"):
        world, _ = acted_out(world_of(askew, REF_A), {"do": "set", "part": "zone1.stat", "what": "mounting", "value": value})
        assert REF_A.parts == world.installation.parts


# what a hand finds missing or loose -------------------------------------------------------------------------------------


def test_running_a_wire_that_is_there_changes_nothing_and_is_a_finding():
    """Whoever would run a wire finds whether it is there: the one answer is signed apart from the other."""
    run = {"do": "run wire", "wire": "zone1.R leg"}
    there, found = acted_out(world_of(REF_A), run)
    assert ("wire: there", world_of(REF_A)) == (found.signal, there)
    _, found = acted_out(world_of(_planted(REF_A, Removed("zone1.R leg")), REF_A), run)
    assert "wire: missing" == found.signal


def test_a_missing_wire_is_neither_clamped_nor_moved():
    """Both say that it is not there, and change nothing."""
    world = world_of(_planted(REF_A, Removed("zone1.R leg")), REF_A)
    clamp = {"do": "clamp", "wire": "zone1.R leg", "turns": 1}
    move = {"do": "move wire", "wire": "zone1.R leg", "end": "a", "terminal": "fuse.in"}
    for act in (clamp, move):
        after, outcome = acted_out(world, act)
        assert (world, "wire: missing") == (after, outcome.signal)


def test_a_loose_end_is_lifted_like_any_other():
    """Its lead is where the terminal's name says, and landed again it is tight: nudged, it holds."""
    loose = _planted(REF_A, Loosened("zone1.W leg", "b"))
    nudge = {"do": "nudge", "part": "zone1.stat"}
    world, _ = acted_out(world_of(loose, REF_A), _call(), nudge)
    across = _volts("zone1.valve.HA", "zone1.valve.HB")
    assert acted_out(world, across)[1].reading.value < 0.1
    assert acted_out(world, nudge, across)[1].reading.value > 25
    world, _ = acted_out(world, {"do": "lift", "terminal": "zone1.stat.W"})
    assert "zone1.stat.W lead" in points(world.installation, world.state)
    world, _ = acted_out(world, {"do": "land", "terminal": "zone1.stat.W"}, nudge)
    assert acted_out(world, across)[1].reading.value > 25


def test_refusals_name_nothing_that_was_not_drawn():
    """A wrong name is answered from the drawing: no stray, no loose joint and no missing wire is given away."""
    hidden = [Bridged("nail", "zone1.stat.W", "transformer.C"), Loosened("zone1.R leg", "b"), Removed("C trunk")]
    world, design = world_of(_planted(REF_A, *hidden), REF_A), world_of(REF_A)
    names = {"part", "stat", "valve", "loop", "wire", "terminal", "first", "second", "cable"}
    for name, slots in ACTS.items():
        if not names & set(slots):
            continue
        act = {"do": name} | {slot: {str: "cat", bool: True, int: 1}[kinds[0]] for slot, kinds in slots.items()}
        told = []
        for one in (world, design):
            with pytest.raises((JobError, CircuitError)) as caught:
                acted(one, act)
            told.append(str(caught.value))
        assert told[0] == told[1]


# refusals ---------------------------------------------------------------------------------------------------------------

WRONG = [
    ({"do": "fit size", "part": "fuse", "size": 6}, "no fuse of 6; there are [1.0, 2.0, 3.0"),
    ({"do": "fit size", "part": "fuse", "size": True}, "size is True; give int or float"),
    ({"do": "fit size", "part": "fuse", "size": math.nan}, "no fuse of nan; there are"),
    ({"do": "fit size", "part": "boiler", "size": 3}, "'boiler' comes in one size; there are ['transformer', 'fuse']"),
    ({"do": "new cable", "cable": "cat"}, "no cable 'cat'; there are ['T-T cable', 'zone1 stat cable'"),
    ({"do": "new cable", "cable": ""}, "no cable ''; there are ["),
    ({"do": "run wire", "wire": "cat"}, "no conductor 'cat'; there are ["),
    ({"do": "move wire", "wire": "R feed", "end": "c", "terminal": "fuse.in"}, "has no end 'c'; there are ['a', 'b']"),
    ({"do": "move wire", "wire": "R feed", "end": "a", "terminal": "cat"}, "no terminal 'cat'; there are ["),
    (
        {"do": "move wire", "wire": "R feed", "end": "a", "terminal": "fuse.in"},
        "the other end of 'R feed' is on 'fuse.in'",
    ),
    ({"do": "exchange", "first": "fuse.in", "second": "fuse.in"}, "both are 'fuse.in'; name the other terminal"),
    ({"do": "remake", "terminal": "cat"}, "no terminal 'cat'; there are ["),
    ({"do": "take off", "what": "cat"}, "nothing like 'cat' can be taken off here"),
    ({"do": "set", "part": "fuse", "what": "x", "value": 1}, "'fuse' has nothing to set; there are ['zone1.stat']"),
    ({"do": "set", "part": "zone1.stat", "what": "x", "value": 1}, "'zone1.stat' has no setting 'x'; there are ['mounting']"),
    ({"do": "set", "part": "zone1.stat", "what": "mounting", "value": 1}, "cannot be 1; there are ['as designed', 'level']"),
    ({"do": "set", "part": "zone1.stat", "what": "mounting", "value": None}, "value is None; give str or bool or int or float"),
    ({"do": "cells", "stat": "zone1.stat"}, "'zone1.stat' has no cells; there are []"),
    ({"do": "seat head", "valve": "fuse"}, "'fuse' is no valve; there are ['zone1.valve']"),
    ({"do": "head off", "valve": "fuse"}, "'fuse' is no valve; there are ['zone1.valve']"),
    ({"do": "bleed", "loop": "fuse"}, "'fuse' is no loop; there are ['zone1.loop']"),
    ({"do": "service valve", "loop": "zone1.loop", "open": 1}, "open is 1; give bool"),
    ({"do": "nudge", "part": "zone1.loop"}, "'zone1.loop' is nothing to nudge; there are ["),
]


@pytest.mark.parametrize(("act", "message"), WRONG, ids=lambda value: str(value)[:50])
def test_a_wrong_repair_is_refused_in_a_sentence(act, message):
    """One line that shows the value and the choices."""
    with pytest.raises((JobError, CircuitError)) as caught:
        acted(world_of(REF_A), act)
    assert message in str(caught.value)
    assert "\n" not in str(caught.value)


# what is left behind ----------------------------------------------------------------------------------------------------


def test_everything_left_behind_is_named():
    """One of each kind is found and no more; put back, nothing is left; made safe, power off is as it should be."""
    design = KINDS["thermostats"]
    left = [
        {"do": "jumper", "first": "zone1.stat.R", "second": "zone1.stat.W", "on": True},
        {"do": "opener", "valve": "zone1.valve", "engaged": True},
        {"do": "lift", "terminal": "transformer.R"},
        _call(stat="zone3.stat"),
        {"do": "set", "part": "zone1.stat", "what": "anticipator", "value": 0.2},
        {"do": "fit size", "part": "fuse", "size": 5},
        {"do": "service valve", "loop": "zone1.loop", "open": False},
        {"do": "switch", "part": "boiler", "on": False},
    ]
    back = [
        {**left[0], "on": False},
        {**left[1], "engaged": False},
        {"do": "land", "terminal": "transformer.R"},
        _call(False, stat="zone3.stat"),
        {**left[4], "value": "as designed"},
        {"do": "fit", "part": "fuse"},
        {**left[6], "open": True},
        {**left[7], "on": True},
        {"do": "covers"},
    ]
    world, _ = acted_out(arrival(design, design), *left)
    assert list(LEFT) == [one.kind for one in left_behind(design, world)]
    assert "supply" not in [one.kind for one in left_behind(design, acted_out(world, {"do": "stop"})[0])]
    world, _ = acted_out(world, *back)
    assert () == left_behind(design, world)
