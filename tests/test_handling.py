"""Hands at a job: jumpers and what they bypass, readings in the line-voltage box, making safe, handing over."""

import json

import pytest
from drawn_houses import FOUR, KINDS
from reference_circuits import REF_A
from small_benches import acted_out, changed, world_of

from solvers.circuit import OPEN, CircuitError
from solvers.faults.changes import Bridged, LineSwitched
from solvers.faults.fault import suspects
from solvers.faults.heater_loops import HEATER_LOOP_ROWS
from solvers.jobs.acts import _DONE, ACTS, WITHOUT_TOOLS, acted, checked
from solvers.jobs.admitting import ADMITS, admitting
from solvers.jobs.bench import Bench
from solvers.jobs.handling import TRADES
from solvers.jobs.job import Job, JobError
from solvers.jobs.misuses import BYPASSED, LINE_WORK, SHORTED, TIED
from solvers.jobs.sheet import BadSheet, Verdict, parsed, written
from solvers.plant.electrics import electrics
from solvers.plant.parts import Boiler, Breaker, HeatMotorValve, Transformer
from solvers.plant.running import at_rest
from solvers.plant.topologies import Zone
from solvers.plant.two_sources import separate_commons
from solvers.plant.wiring import Conductor

TWO_SOURCES = separate_commons("two sources", [Zone(HeatMotorValve("valve"))], [Zone(HeatMotorValve("valve"))])


def _jumper(first, second, on=True):
    return {"do": "jumper", "first": first, "second": second, "on": on}


def _volts(first, second):
    return {"do": "measure", "function": "volts", "first": first, "second": second}


def _amps(world, branch):
    return electrics(world.installation, world.state.parts, world.state.lifted).amps[branch]


# jumpers ---------------------------------------------------------------------------------------------------------------


def test_r_to_w_runs_a_zone_and_leaves_no_trace():
    """Across the base the heater has its 0.84 A as on a call; off again, everything is as before but for one second."""
    world, outcome = acted_out(world_of(REF_A), _jumper("zone1.stat.R", "zone1.stat.W"))
    assert ("The jumper is on.", "") == (outcome.text, outcome.misuse)
    called, _ = acted_out(world_of(REF_A), {"do": "call", "stat": "zone1.stat", "on": True})
    assert _amps(called, "zone1.valve.heater") == pytest.approx(_amps(world, "zone1.valve.heater"), rel=0.005)
    assert (("zone1.stat.R", "zone1.stat.W"),) == world.jumpers
    after, _ = acted_out(world, _jumper("zone1.stat.W", "zone1.stat.R", on=False))
    assert (REF_A, (), 1.0) == (after.installation, after.jumpers, after.state.time)
    assert set(at_rest(REF_A).parts) == set(after.state.parts)


def test_t_t_starts_the_boiler():
    """The momentary jumper is heard to start the boiler, and taking it off to stop it; it is no misuse."""
    world, outcome = acted_out(world_of(REF_A), _jumper("boiler.T1", "boiler.T2"))
    assert ("The boiler starts.", "") == (outcome.signal, outcome.misuse)
    assert "The boiler stops." == acted_out(world, _jumper("boiler.T1", "boiler.T2", on=False))[1].signal


def test_r_to_c_sparks_and_costs_the_fuse():
    """It is a misuse from wherever it is done, and the fuse is gone before anything can be read."""
    for first in ("R bus.zone1", "zone1.stat.R", "fuse.out"):
        world, outcome = acted_out(world_of(REF_A), _jumper(first, "transformer.C"))
        assert (SHORTED, True) == (outcome.misuse, world.state.of("fuse").blown)
    dead, _ = acted_out(world_of(REF_A), {"do": "switch", "part": "transformer", "on": False})
    _, outcome = acted_out(dead, _jumper("R bus.zone1", "transformer.C"))
    assert "" == outcome.misuse


def test_r_to_c_on_a_one_shot_takes_the_transformer():
    """With nothing but a link in the primary, the short holds until the link opens for good."""
    bare = changed(changed(REF_A, "transformer", protection="one-shot"), "fuse", amps=100.0)
    world, _ = acted_out(world_of(bare), _jumper("transformer.R", "transformer.C"), {"do": "wait", "seconds": 120})
    assert world.state.of("transformer").opened
    world, _ = acted_out(world, _jumper("transformer.R", "transformer.C", on=False))
    assert 0 == acted_out(world, _volts("transformer.R", "transformer.C"))[1].reading.value


@pytest.mark.parametrize(
    ("house", "first", "second"),
    [
        (REF_A, "fuse.in", "fuse.out"),
        (REF_A, "transformer.R", "R bus.zone1"),
        (REF_A.with_part(Breaker("fuse")), "transformer.R", "R bus.zone1"),
        (KINDS["thermostats"], "transformer.X", "fuse.in"),
    ],
    ids=["fuse", "round about", "breaker", "a transformer's own"],
)
def test_bypassing_what_protects_is_a_misuse(house, first, second):
    """Whichever points are taken, a jumper that spans the protection is named; one beside it is not."""
    assert BYPASSED == acted_out(world_of(house), _jumper(first, second))[1].misuse
    assert "" == acted_out(world_of(house), _jumper("zone1.stat.R", "zone1.stat.W"))[1].misuse


def test_wiring_that_does_what_a_jumper_does_is_named_too():
    """A wire moved round the fuse is a bypass, one moved onto C a short, however it came about."""
    moved = {"do": "move wire", "wire": "R bus feed", "end": "a"}
    assert BYPASSED == acted_out(world_of(REF_A), {**moved, "terminal": "fuse.in"})[1].misuse
    assert SHORTED == acted_out(world_of(REF_A), {**moved, "end": "b", "terminal": "transformer.C"})[1].misuse
    assert "" == acted_out(world_of(REF_A), {"do": "exchange", "first": "zone1.stat.R", "second": "zone1.stat.W"})[1].misuse


def test_tying_two_sources_is_a_misuse():
    """R to R of two transformers, or of a transformer and a boiler; what the drawing ties already is not."""
    assert TIED == acted_out(world_of(TWO_SOURCES), _jumper("transformer.R", "transformer 2.R"))[1].misuse
    assert TIED == acted_out(world_of(REF_A), _jumper("transformer.R", "boiler.T1"))[1].misuse
    lent = KINDS["boiler lends"]
    assert "" == acted_out(world_of(lent), _jumper("zone1.stat.R", "zone1.stat.W"))[1].misuse


def test_no_jumper_goes_on_line_voltage():
    """Drawn line-voltage points are refused; a hidden one is done, and named."""
    house = KINDS["line side"]
    with pytest.raises(JobError, match=r"'transformer\.L' is at line voltage; a jumper goes on 24-volt points only"):
        acted(world_of(house), _jumper("transformer.L", "transformer.P120"))
    wired = house.with_conductors([Conductor("tail", "transformer.P208", "zone1.W splice.1", 0.1)])
    with pytest.raises(JobError, match=r"'zone1\.W splice\.2' is at line voltage"):
        acted(world_of(wired), _jumper("zone1.W splice.2", "transformer.C"))
    pump = LineSwitched("pump", "zone1.valve.EA", "zone1.valve.EB").made(FOUR)
    assert LINE_WORK == acted_out(world_of(pump, FOUR), _jumper("zone1.valve.EA", "zone1.valve.EB"))[1].misuse


def test_a_jumper_stays_on_the_lead_it_hangs_on():
    """Clipped to a lifted lead it follows the lead back to its terminal, and comes off there."""
    world, _ = acted_out(
        world_of(REF_A),
        {"do": "lift", "terminal": "zone1.stat.W"},
        _jumper("zone1.stat.W lead", "zone1.stat.R"),
    )
    assert _amps(world, "zone1.valve.heater") > 0.8
    world, _ = acted_out(world, {"do": "land", "terminal": "zone1.stat.W"})
    assert (("zone1.stat.W", "zone1.stat.R"),) == world.jumpers
    assert _amps(world, "zone1.valve.heater") > 0.8
    world, _ = acted_out(world, _jumper("zone1.stat.W", "zone1.stat.R", on=False))
    assert (REF_A, ()) == (world.installation, world.jumpers)


# the line-voltage box ---------------------------------------------------------------------------------------------------


def _line(what, part="transformer"):
    return {"do": "line reading", "part": part, "what": what}


LINE_FAULTS = [
    ({}, 120.0, 120.0, 20.0),
    ({"line_volts": 108.0}, 108.0, 108.0, 20.0),
    ({"feed_open": True}, 120.0, 0.0, 20.0),
    ({"primary_open": True}, 120.0, 120.0, OPEN),
    ({"protection": "one-shot", "one_shot_open": True}, 120.0, 120.0, OPEN),
]


@pytest.mark.parametrize(("fields", "panel", "primary", "ohms"), LINE_FAULTS, ids=lambda value: str(value)[:40])
def test_three_line_readings_part_the_faults_of_a_feed(fields, panel, primary, ohms):
    """Panel volts, primary volts and primary ohms are the plant's own, within the meter's leads and digits."""
    world = world_of(changed(REF_A, "transformer", **fields), REF_A)
    found = [acted_out(world, _line(what))[1] for what in ("panel volts", "primary volts", "primary ohms")]
    assert panel == pytest.approx(found[0].reading.value, rel=0.002)
    assert primary == pytest.approx(found[1].reading.value, abs=0.3)
    assert ohms + 0.2 == pytest.approx(found[2].reading.value, abs=0.11)
    assert all("licensed" in one.text and not one.misuse for one in found)


def test_a_line_reading_changes_nothing():
    """Ohms are taken with the feed off, and the house runs on as it did."""
    world, _ = acted_out(world_of(REF_A), {"do": "call", "stat": "zone1.stat", "on": True}, {"do": "wait", "seconds": 300})
    assert all(world == acted_out(world, _line(what))[0] for what in ("panel volts", "primary volts", "primary ohms"))


def test_back_feed_is_read_on_a_primary_that_is_off():
    """With two secondaries tied, the one that is switched off shows line volts on its leads (MZ-09)."""
    off = {"do": "switch", "part": "transformer 2", "on": False}
    apart, _ = acted_out(world_of(TWO_SOURCES), off)
    assert acted_out(apart, _line("primary volts", "transformer 2"))[1].reading.value < 1
    tied, _ = acted_out(apart, _jumper("transformer.R", "transformer 2.R"), _jumper("transformer.C", "transformer 2.C"))
    assert acted_out(tied, _line("primary volts", "transformer 2"))[1].reading.value > 90


# stop and hand over -----------------------------------------------------------------------------------------------------


def test_stop_switches_everything_off_and_ends_all_work():
    """Every supply is off, nothing more is done but handing over, and the sentence says so."""
    for house in (REF_A, KINDS["boiler lends"], TWO_SOURCES):
        world, _ = acted_out(world_of(house), {"do": "stop"})
        assert not any(world.state.of(part.name).on for part in house.parts if isinstance(part, Transformer | Boiler))
        with pytest.raises(JobError, match=r"no 'look' after that, only \['refer'\] and the verdict"):
            acted(world, {"do": "look", "part": "boiler"})
        world, outcome = acted_out(world, {"do": "refer", "to": TRADES[0]})
        assert (TRADES[0], f"Handed over to: {TRADES[0]}.") == (world.referred, outcome.text)


WRONG = [
    ({"do": "refer", "to": "cat"}, "no trade 'cat' to hand over to; there are ['licensed electrician'"),
    (_line("cat"), "no line reading 'cat'; there are ['panel volts', 'primary volts', 'primary ohms']"),
    (_line("panel volts", "boiler"), "'boiler' has no line-voltage box; there are ['transformer']"),
    (_jumper("cat", "fuse.in"), "no test point 'cat'; there are ["),
    (_jumper("fuse.in", "fuse.in"), "both clips are on 'fuse.in'"),
    (_jumper("fuse.in", "fuse.out", on=False), "no jumper is on 'fuse.in' and 'fuse.out'; on are []"),
    ({**_jumper("fuse.in", "fuse.out"), "on": 1}, "on is 1; give bool"),
]


@pytest.mark.parametrize(("act", "message"), WRONG, ids=lambda value: str(value)[:50])
def test_a_wrong_act_of_the_hands_is_refused_in_a_sentence(act, message):
    """One line that shows the value and the choices."""
    with pytest.raises((JobError, CircuitError)) as caught:
        acted(world_of(REF_A), act)
    assert message in str(caught.value)
    assert "\n" not in str(caught.value)


def test_the_same_jumper_goes_on_once():
    """A second wire between the same two points is refused with what is on."""
    world, _ = acted_out(world_of(REF_A), _jumper("zone1.stat.R", "zone1.stat.W"))
    with pytest.raises(JobError, match=r"on are \['zone1.stat.R to zone1.stat.W'\]"):
        acted(world, _jumper("zone1.stat.W", "zone1.stat.R"))


# the table of acts, and the bench ---------------------------------------------------------------------------------------


def test_every_act_is_done_and_every_part_is_asked():
    """The table of forms, the table of doings and the table of what admits what name the same acts."""
    assert list(ACTS) == list(_DONE)
    assert set(ADMITS) <= set(ACTS)
    assert set(WITHOUT_TOOLS) <= set(ACTS)


def test_where_a_wiring_is_judged_nothing_is_rewired():
    """Among the acts without tools no wire is moved, no jumper put on, and the sentence lists what there is."""
    for act in ({"do": "move wire", "wire": "R feed", "end": "a", "terminal": "fuse.in"}, _jumper("fuse.in", "fuse.out")):
        with pytest.raises(JobError, match=f"no act '{act['do']}'; there are \\['switch', 'call'"):
            checked(act, WITHOUT_TOOLS)
        assert act == checked(act)


@pytest.mark.parametrize("house", [*KINDS, "REF_A"])
def test_what_a_part_admits_is_not_refused(house):
    """Each act that a part admits is done on it with a value it offers, power off; each other one is refused."""
    design = KINDS.get(house, REF_A)
    off = [{"do": "switch", "part": part.name, "on": False} for part in design.parts if isinstance(part, Transformer | Boiler)]
    world, _ = acted_out(world_of(design), *off)
    values = {"on": True, "engaged": True, "open": True, "what": "panel volts"}
    for part in design.parts:
        for name in ADMITS:
            act = {"do": name} | {slot: values.get(slot, part.name) for slot in ACTS[name]}
            if name == "set" and part.settings():
                what, choices = next(iter(part.settings().items()))
                act |= {"what": what, "value": choices[0]}
            if name == "fit size":
                act["size"] = getattr(part, "amps", getattr(part, "va", 1.0))
            if name in admitting(part):
                acted(world, act)
            else:
                with pytest.raises(JobError, match=r"; there are \["):
                    acted(world, act)


def _bench(actual_change=None):
    class Planted(Job):
        @property
        def actual(self):
            return self.design if actual_change is None else actual_change.made(self.design)

    named = dict.fromkeys(Job.__dataclass_fields__, ())
    named |= {"chapter": "heater-loops", "level": 1, "seed": "s", "rooms": {}, "design": FOUR}
    named |= {"title": "t", "story": "s", "zone": "zone1", "drawing": "ladder", "difficulty": 0.0}
    named["suspects"] = suspects(FOUR, "zone1", HEATER_LOOP_ROWS)
    return Bench(Planted(**named))


LEFT_JUMPER = Bridged("jumper at T-T", "boiler.T1", "boiler.T2", seen_at="boiler", words="A jumper joins the two T-T screws.")


def test_a_stray_is_named_once_a_look_has_shown_it():
    """Before the look nothing in brief or view names it and it cannot be taken off; after the look both."""
    bench = _bench(LEFT_JUMPER)
    off = {"do": "take off", "what": "jumper at T-T"}
    assert "jumper at T-T" not in json.dumps([bench.brief(), bench.view()])
    with pytest.raises(JobError, match=r"no look has shown 'jumper at T-T'; looks have shown \[\]"):
        bench.step(off)
    assert [] == bench.step({"do": "look", "part": "fuse"})["seen"]
    view = bench.step({"do": "look", "part": "boiler"})
    assert [{"name": "jumper at T-T", "words": LEFT_JUMPER.words}] == view["seen"]
    assert LEFT_JUMPER.words in view["shows"]["text"]
    view = bench.step(off)
    assert [] == view["seen"]
    assert FOUR == bench.world.installation


def test_the_brief_says_what_each_part_admits():
    """Loops are there to be felt, a stat is called, a transformer has sizes; cables and trades can be chosen from."""
    brief = _bench().brief()
    parts = {part["name"]: part for part in brief["parts"]}
    assert {part.name for part in FOUR.parts} == set(parts)
    assert {"feel", "bleed", "service valve"} <= set(parts["zone1.loop"]["acts"])
    assert {"look", "feel", "opener", "seat head", "head off", "free stem", "fit"} <= set(parts["zone1.valve"]["acts"])
    assert "fit" not in parts["zone1.loop"]["acts"]
    assert 75.0 in parts["transformer"]["sizes"]
    assert {"mounting": ["level"]} == parts["zone1.stat"]["settings"]
    assert "zone1 stat cable" in brief["cables"]
    assert list(TRADES) == brief["trades"]
    json.dumps(brief, allow_nan=False)


def test_the_view_follows_jumpers_and_handing_over():
    """Jumpers on, made safe and handed over stand in the view."""
    bench = _bench()
    view = bench.step(_jumper("zone1.stat.R", "zone1.stat.W"))
    assert ([["zone1.stat.R", "zone1.stat.W"]], False, "") == (view["jumpers"], view["stopped"], view["referred"])
    bench.step({"do": "stop"})
    view = bench.step({"do": "refer", "to": "plumber"})
    assert (True, "plumber") == (view["stopped"], view["referred"])


# verdicts ---------------------------------------------------------------------------------------------------------------


def _signed(*claims, proof=(), acts=4):
    bench = _bench()
    for _ in range(acts):
        bench.step(_volts("transformer.R", "transformer.C"))
    bench.step({"do": "verdict", "suspects": list(claims), "proof": list(proof), "explanation": "so", "customer": "well"})
    return bench


IDS = tuple(suspect.id for suspect in suspects(FOUR, "zone1", HEATER_LOOP_ROWS))


@pytest.mark.parametrize(("claims", "proof"), [(IDS[:1], (0, 3)), (IDS[:2], (3, 0, 2, 1)), (IDS[1:2], ())])
def test_a_verdict_of_one_or_two_causes_comes_back_from_its_sheet(claims, proof):
    """One or two suspects and up to four lines survive writing and reading, in their order."""
    bench = _signed(*claims, proof=proof)
    assert Verdict(claims, proof, "so", "well") == bench.verdict == parsed(written(bench.sheet())).verdict
    assert "call-for-heat sheet 2" == json.loads(written(bench.sheet()))["format"]


@pytest.mark.parametrize(
    ("changed_to", "message"),
    [
        ({"suspects": []}, "suspects is []; give the ids of one or of 2"),
        ({"suspects": "HL-01 zone1"}, "suspects is 'HL-01 zone1'; give the ids of one or of 2"),
        ({"suspects": list(IDS[:3])}, "give the ids of one or of 2"),
        ({"suspects": [IDS[0], IDS[0]]}, "name each only once"),
        ({"suspects": ["cat"]}, "no suspect 'cat'; there are"),
        ({"suspects": [7]}, "no suspect 7; there are"),
        ({"suspect": IDS[0]}, "unknown ['suspect']"),
        ({"proof": [0, 0]}, "name each log line only once"),
        ({"proof": [0, 1, 2, 3, 0]}, "give the numbers of at most 4 log lines"),
    ],
    ids=lambda value: str(value)[:40],
)
def test_a_bad_verdict_is_refused(changed_to, message):
    """The sentence shows the value and what is taken, and the job stays open."""
    bench = _bench()
    for _ in range(4):
        bench.step(_volts("transformer.R", "transformer.C"))
    with pytest.raises(JobError) as caught:
        bench.step({"do": "verdict", "suspects": [IDS[0]], "proof": [], **changed_to})
    assert message in str(caught.value)
    assert not bench.view()["closed"]


@pytest.mark.parametrize(
    ("changed_to", "message"),
    [
        ({"suspects": []}, "verdict.suspects must be one id or two different ones; got []"),
        ({"suspects": [IDS[0], IDS[0]]}, "verdict.suspects must be one id or two different ones"),
        ({"suspects": list(IDS[:3])}, "verdict.suspects must be a list of at most 2"),
        ({"suspects": IDS[0]}, "verdict.suspects must be a list of at most 2"),
        ({"suspects": [7]}, "verdict.suspects[0] must be text"),
        ({"suspect": IDS[0]}, "unknown ['suspect']"),
        ({"proof": [0, 1, 2, 3, 0]}, "verdict.proof must be a list of at most 4"),
        ({"proof": [4]}, "verdict.proof[0] is 4; the log has lines 0 to 3"),
        ({"proof": [1, 1]}, "verdict.proof must name each log line only once"),
    ],
    ids=lambda value: str(value)[:40],
)
def test_a_bad_verdict_on_a_sheet_is_refused(changed_to, message):
    """The sentence has the path of the field."""
    body = json.loads(written(_signed(IDS[0], proof=(0, 1)).sheet()))
    body["verdict"] |= changed_to
    with pytest.raises(BadSheet) as caught:
        parsed(json.dumps(body))
    assert message in str(caught.value)
