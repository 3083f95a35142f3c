"""The wire-ups: every right wiring accepted, every wrong one rejected for the right reason, and marks that follow."""

import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from wirings import RIGHT, WRONG, wired_for

from solvers.circuit import OPEN, volts_between
from solvers.jobs.behaviour import judged_as, poses
from solvers.jobs.injected import injected
from solvers.jobs.mistake import MISTAKES
from solvers.jobs.wireups import IDS, NoSuchWireUp, wire_up
from solvers.jobs.wiring_answer import Joint, Wire, Wiring
from solvers.jobs.wiring_draws import drawn
from solvers.jobs.wiring_marks import judged, marked
from solvers.jobs.wiring_questions import Leads, Ohms, Reading, lead_ohms, leads_found
from solvers.plant.electrics import network
from solvers.plant.parts import HeatMotorValve, Splice
from solvers.screens.table import Table

LONG = ("W13", "W14")


def _cases(table, long=LONG):
    """Every case of a table; the long tasks in full only when asked for."""
    return [
        pytest.param(id, name, marks=[pytest.mark.slow] if id in long and number else [], id=f"{id} {name}")
        for id in IDS
        for number, name in enumerate(table[id])
    ]


@pytest.mark.parametrize("id", IDS)
def test_enough_is_known_of_every_task(id):
    """For each task the tests hold at least three right wirings and eight wrong ones, each from a named mistake."""
    assert len(RIGHT[id]) >= 3
    assert len(WRONG[id]) >= 8
    assert all(mistake in MISTAKES for _, mistake in WRONG[id].values())


@pytest.mark.parametrize(("id", "name"), _cases(RIGHT))
def test_right_wirings_are_accepted(id, name):
    """Any wiring that does what is asked is accepted, however it is joined."""
    found = judged(wire_up(id), RIGHT[id][name])
    assert [] == [finding.words for finding in found.findings]
    assert found.accepted


@pytest.mark.parametrize(("id", "name"), _cases(WRONG))
def test_wrong_wirings_are_rejected_with_their_reason(id, name):
    """A named mistake is rejected, and it is that mistake which the first finding names."""
    wiring, mistake = WRONG[id][name]
    found = judged(wire_up(id), wiring)
    assert not found.accepted
    assert mistake in [finding.mistake for finding in found.findings]
    if mistake == "stat across R and C":
        # Its load has R all the time, which shows before anybody calls.
        assert found.findings[0].mistake in (mistake, "stat bypassed")
    else:
        assert mistake == found.findings[0].mistake


def test_a_finding_shows_the_first_combination_and_its_path():
    """H and S exchanged: fine alone but for the boiler, and a short through two switches, lit from the source."""
    found = judged(wire_up("W7"), WRONG["W7"]["H and S exchanged at 2"][0])
    shorts = [finding for finding in found.findings if finding.severity == "danger"]
    assert shorts
    assert {"zone1.valve.switch", "zone2.valve.switch", "transformer.winding"} <= set(shorts[0].path)
    order = [(finding.posed, len(finding.calls)) for finding in found.findings]
    assert order == sorted(order)


@pytest.mark.parametrize("id", IDS)
def test_no_words_speak_of_wires_expected(id):
    """What a learner reads is trade words: no wire that was expected, no name of a class."""
    for wiring, _ in list(WRONG[id].values())[:: 9 if id in LONG else 3 if id in ("W7", "W12") else 1]:
        for finding in judged(wire_up(id), wiring).findings:
            assert "expected" not in finding.words
            assert "zone1." not in finding.words
            assert finding.words.endswith(".")


def _shuffled(wiring, rng):
    """Wires in another order, turned round and renamed; every connector's ways permuted."""
    ways = {}
    for joint in wiring.splices:
        order = list(joint.terminals)
        rng.shuffle(order)
        ways |= dict(zip(joint.terminals, order, strict=True))
    wires = [
        replace(wire, name=f"x{rng.random()}", a=ways.get(wire.a, wire.a), b=ways.get(wire.b, wire.b)) for wire in wiring.wires
    ]
    rng.shuffle(wires)
    turned = tuple(replace(wire, a=wire.b, b=wire.a) if rng.random() < 0.5 else wire for wire in wires)
    joints = list(wiring.splices)
    rng.shuffle(joints)
    return Wiring(tuple(joints), turned)


def _harmless(wiring, task, rng):
    """Heater and switch leads of two- and four-wire valves exchanged among themselves, for some of the valves."""
    swap = {}
    for part in task.parts:
        if isinstance(part, HeatMotorValve) and part.leads in (2, 4):
            for pair in (part.drive_pair, part.switch_pair):
                if pair and rng.random() < 0.5:
                    swap |= {pair[0]: pair[1], pair[1]: pair[0]}
    wires = tuple(replace(wire, a=swap.get(wire.a, wire.a), b=swap.get(wire.b, wire.b)) for wire in wiring.wires)
    return replace(wiring, wires=wires)


QUICK = [id for id in IDS if id not in ("W7", "W12", "W13", "W14")]


@settings(max_examples=60)
@given(id=st.sampled_from(QUICK), pick=st.integers(0, 99), seed=st.integers(0, 10**6))
def test_what_does_not_matter_changes_no_verdict(id, pick, seed):
    """Order, names and direction of wires, the ways of a connector and harmless lead swaps never change a verdict."""
    task, rng = wire_up(id), random.Random(seed)
    cases = [*RIGHT[id].values(), *(wiring for wiring, _ in WRONG[id].values())]
    wiring = cases[pick % len(cases)]
    before, after = (judged(task, each) for each in (wiring, _harmless(_shuffled(wiring, rng), task, rng)))
    assert [criterion.kind for criterion in before.right] == [criterion.kind for criterion in after.right]


@pytest.mark.parametrize(
    "id", [pytest.param(id, marks=[pytest.mark.slow] if id in ("W7", "W12", "W13", "W14") else []) for id in IDS]
)
@pytest.mark.parametrize("how", ["in connectors", "screw to screw"])
def test_every_wire_is_needed(id, how):
    """Any one wire taken out of a wiring without a spare one is noticed."""
    task, wiring = wire_up(id), RIGHT[id][how]
    for wire in wiring.wires:
        assert not judged(task, wiring.without(wire.name)).accepted, (wire.a, wire.b)


@settings(max_examples=15)
@given(number=st.integers(0, 99), how=st.sampled_from(["in connectors", "screw to screw"]), id=st.sampled_from(["W7", "W12"]))
def test_any_wire_of_the_bigger_tasks_is_needed(number, how, id):
    """The same for wires drawn from the bigger tasks."""
    wiring = RIGHT[id][how]
    wire = wiring.wires[number % len(wiring.wires)]
    assert not judged(wire_up(id), wiring.without(wire.name)).accepted, (wire.a, wire.b)


def _answers(task, wiring, seed):
    """The right answers, worked out from the wiring."""
    here = task.made(wiring)
    given = {}
    for question in task.questions:
        if isinstance(question, Leads):
            given[question.id] = leads_found(here.part(question.valve), seed)
        elif isinstance(question, Reading | Ohms):
            given[question.id] = question.expected(here)
        else:
            given[question.id] = question.right
    fault = injected(task, wiring, seed)
    return {**given, "prediction": list(fault.zones) if fault.asks == "zones" else fault.volts}


@pytest.mark.parametrize("id", [pytest.param(id, marks=[pytest.mark.slow] if id in LONG else []) for id in IDS])
def test_a_right_wiring_with_right_answers_gets_full_marks(id):
    """Fifty, twenty and three times ten points are a hundred."""
    task, wiring = wire_up(id), RIGHT[id]["in connectors"]
    found = marked(task, wiring, _answers(task, wiring, "a"), seed="a")
    assert [50, 20, 10, 10, 10] == [line.points for line in found.lines]
    assert 100 == found.points


def test_an_empty_bench_gets_nothing_for_what_it_does():
    """Where nothing is joined nothing is right, and it is said once."""
    found = marked(wire_up("W4"), Wiring())
    assert [0, 0] == [line.points for line in found.lines[:2]]
    assert 0 == found.lines[3].points
    assert 0 == found.points


def test_a_lost_fuse_costs():
    """Each fuse that was blown on the way costs points of the safety line."""
    task, wiring = wire_up("W1"), RIGHT["W1"]["in connectors"]
    assert 15 == marked(task, wiring, fuses_lost=1).lines[1].points
    assert 0 == marked(task, wiring, fuses_lost=9).lines[1].points


def test_workmanship_counts_apart():
    """No labels, an idle connector and a crowded screw cost labels, and the first two no verdict."""
    task, wiring = wire_up("W1"), RIGHT["W1"]["in connectors"]
    bare = replace(wiring, wires=tuple(replace(wire, label="") for wire in wiring.wires))
    found = marked(task, bare)
    assert found.judgement.accepted
    assert 0 == found.lines[3].points
    spare = replace(wiring, splices=(*wiring.splices, Joint("spare", 2)))
    found = marked(task, spare)
    assert found.judgement.accepted
    assert 8 == found.lines[3].points
    assert "spare holds no wire" in found.lines[3].reasons[0]


def test_more_under_a_screw_than_it_holds():
    """Three conductors at one screw are named with both numbers, and the task asks for better."""
    wires = RIGHT["W16"]["in connectors"]
    extra = [replace(wires.wires[0], name=f"more {n}", a="zone1.valve.S", b="zone2.valve.S") for n in range(2)]
    found = judged(wire_up("W16"), replace(wires, wires=(*wires.wires, *extra)))
    assert ["Room"] == [finding.criterion for finding in found.findings]
    assert "3 conductors at lead S of valve 1, which holds 2" in found.findings[0].words


def test_feedback_says_first_what_is_right():
    """What holds comes first, then the first combination that misbehaves, once a mistake."""
    found = marked(wire_up("W4"), WRONG["W4"]["in series"][0])
    kinds = [line.startswith("This holds: ") for line in found.feedback]
    assert kinds == sorted(kinds, reverse=True)
    assert any("With stat 1 alone calling" in line and "in series" in line for line in found.feedback)
    assert 1 == sum("in series" in line for line in found.feedback)


@pytest.mark.parametrize("seed", ["a", "b", "c", "d", "e", "f"])
@pytest.mark.parametrize("id", ["W1", "W4", "W16"])
def test_the_injected_fault_is_solved(id, seed):
    """The zones that fail, or the volts shown, are what the broken wiring does when it is run by itself."""
    task, wiring = wire_up(id), RIGHT[id]["in connectors"]
    fault = injected(task, wiring, seed)
    broken = judged_as(task.made(wiring)).with_conductor(fault.wire, ohms=OPEN)
    if fault.asks == "volts":
        shown = volts_between(network(broken, poses(broken, ()).state.parts), "zone1.stat.R", "zone1.stat.W", 10e6)
        assert shown == pytest.approx(fault.volts, abs=1e-9)
        assert (1.0, 0.0) == (fault.share(fault.volts + 0.9), fault.share(fault.volts + 1.1))
        return
    failing = []
    for zone in broken.zones:
        seen = poses(broken, (f"{zone}.stat",), (f"{zone}.valve",))
        if seen.volts[f"{zone}.valve"] < 22 or not seen.fired:
            failing.append(zone)
    assert failing == list(fault.zones)
    assert (1.0, 0.0) == (fault.share(failing), fault.share([*failing, "zone9"]))


def test_a_seed_decides_and_names_do_not():
    """Different seeds draw different faults; other names and another order of wires draw the same one."""
    task, wiring = wire_up("W4"), RIGHT["W4"]["in connectors"]
    drawn = {injected(task, wiring, str(seed)).words for seed in range(20)}
    assert len(drawn) > 5
    renamed = Wiring(wiring.splices, tuple(replace(wire, name=f"other {wire.name}") for wire in reversed(wiring.wires)))
    assert injected(task, wiring, "x").words == injected(task, renamed, "x").words


def test_leads_are_found_by_ohms():
    """Cold ohms tell E of a three-wire valve alone; with the switch made H and S part too."""
    valve = wire_up("W6").parts[3]
    named = {name: lead for lead, name in leads_found(valve, "s").items()}
    assert 30.2 == pytest.approx(lead_ohms(valve, "s", named["H"], named["S"]), abs=0.1)
    assert float("inf") == lead_ohms(valve, "s", named["S"], named["E"])
    assert 0.3 == pytest.approx(lead_ohms(valve, "s", named["S"], named["E"], made=True), abs=0.1)
    assert 30.3 == pytest.approx(lead_ohms(valve, "s", named["H"], named["E"], made=True), abs=0.1)


def test_leads_that_are_alike_may_be_exchanged():
    """Heater leads of a four-wire valve are alike, those of the switch too; a pair for a pair is not."""
    here = wire_up("W4").made(RIGHT["W4"]["in connectors"])
    right = leads_found(here.part("zone1.valve"), "s")
    alike = {"HA": "HB", "HB": "HA", "EA": "EB", "EB": "EA"}
    crossed = {"HA": "EA", "HB": "EB", "EA": "HA", "EB": "HB"}
    question = Leads("leads 1", "zone1.valve")
    assert 1.0 == question.share(here, {lead: alike[name] for lead, name in right.items()}, "s")
    assert 0.0 == question.share(here, {lead: crossed[name] for lead, name in right.items()}, "s")
    assert 0.0 == question.share(here, None, "s")


@pytest.mark.parametrize(("name", "ohms"), [("in connectors", 0.3), ("C and W exchanged", 30.3)])
def test_c_and_w_are_told_apart_before_power(name, ohms):
    """From C of the stat to C of the transformer stand 0.3 ohm, and the heater's 30 where C and W are exchanged."""
    task = wire_up("W3")
    wiring = RIGHT["W3"].get(name) or WRONG["W3"][name][0]
    assert ohms == pytest.approx(task.questions[1].expected(task.made(wiring)), abs=0.3)


def test_the_stat_is_only_a_switch():
    """A stat that does not call has full volts and its lamp none; calling it is the other way round."""
    task = wire_up("W15")
    here = task.made(RIGHT["W15"]["in connectors"])
    shown = [question.expected(here) for question in task.questions]
    assert [27.5, 0.0, 0.0, 25.6] == pytest.approx(shown, abs=0.3)


def test_no_task_knows_a_wiring():
    """A task holds parts and numbers; the splices are the learner's."""
    for id in IDS:
        task = wire_up(id)
        assert not any(isinstance(part, Splice) for part in task.parts)
        assert task.minutes >= 10
        assert all(criterion.asks().endswith(".") for criterion in task.criteria)
    with pytest.raises(NoSuchWireUp, match="no wire-up 'W99'"):
        wire_up("W99")


@pytest.mark.parametrize("seed", [str(number) for number in range(24)])
def test_a_drawn_wire_up_can_be_wired(seed):
    """Every drawn task has a wiring that is accepted, and an empty bench is not."""
    task = drawn(seed, 1 + int(seed) % 4)
    assert [] == [finding.words for finding in judged(task, wired_for(task)).findings]
    assert not judged(task, Wiring()).accepted


@pytest.mark.slow
@pytest.mark.parametrize("seed", [str(number) for number in range(12)])
def test_a_big_drawn_wire_up_can_be_wired(seed):
    """The same for five and six zones."""
    task = drawn(seed, 5 + int(seed) % 2)
    assert [] == [finding.words for finding in judged(task, wired_for(task)).findings]


def test_draws_are_spread_and_repeat():
    """All sizes, valve kinds and stats come up; a seed gives the same task again; sizes outside are refused."""
    tasks = [drawn(str(seed)) for seed in range(60)]
    assert {1, 2, 3, 4, 5, 6} == {len([part for part in task.parts if part.name.endswith(".stat")]) for task in tasks}
    kinds = {type(part).__name__ for task in tasks for part in task.parts}
    assert {"HeatMotorValve", "SpringReturnValve", "WaxActuator", "Stat", "BatteryStat", "CPoweredStat", "Relay"} <= kinds
    assert tasks[7] == drawn("7")
    with pytest.raises(ValueError, match="7 zones; a drawn wire-up has 1 to 6"):
        drawn("x", 7)


@settings(max_examples=60)
@given(
    id=st.sampled_from(["W2", "W3", "W6", "W9", "W10", "W11", "W13", "W15", "W16"]),
    seed=st.integers(0, 10**6),
    count=st.integers(0, 14),
    base=st.booleans(),
)
def test_any_wiring_at_all_can_be_judged(id, seed, count, base):
    """Wires between any terminals, alone or on top of a right wiring, are judged and marked without an exception."""
    task, rng = wire_up(id), random.Random(seed)
    wiring = RIGHT[id]["in connectors"] if base else Wiring((Joint("splice 1", 4),), ())
    ends = [*task.terminals, *(end for joint in wiring.splices for end in joint.terminals)]
    more = tuple(Wire(f"more {number}", *rng.sample(ends, 2)) for number in range(count))
    found = marked(task, replace(wiring, wires=(*wiring.wires, *more)), {"prediction": 1}, seed="x")
    assert 0 <= found.points <= 100
    assert found.judgement.accepted == (not found.judgement.findings)


@pytest.mark.parametrize("other", ["transformer.R", "zone1.stat.W", "fuse.out"])
def test_line_voltage_on_class_2_is_never_powered(other):
    """A primary lead joined to a class 2 conductor is refused before anything is run, and gets no points but for labels."""
    wiring = RIGHT["W11"]["in connectors"]
    joined = replace(wiring, wires=(*wiring.wires, Wire("joined", "transformer.L", other, label="?")))
    found = marked(wire_up("W11"), joined)
    assert ["line on class 2"] == [finding.mistake for finding in found.judgement.findings]
    assert [0, 0, 0, 0] == [line.points for line in (*found.lines[:3], found.lines[4])]


def test_a_source_shorted_before_any_call():
    """R on C blows the fuse before anybody calls; that is said, and nothing is run from there."""
    wiring = RIGHT["W2"]["in connectors"]
    short = replace(wiring, wires=(*wiring.wires, Wire("short", "fuse.out", "transformer.C")))
    found = judged(wire_up("W2"), short)
    assert "danger" == found.findings[0].severity
    assert () == found.findings[0].calls
    assert any("fuse opens for good" in finding.words or "a short" in finding.words for finding in found.findings)


@pytest.mark.parametrize("id", IDS)
def test_each_mistake_is_told_once(id):
    """However many things go wrong by one mistake, marks and feedback say its sentence a single time."""
    for wiring, _ in list(WRONG[id].values())[:: 9 if id in LONG else 2]:
        found = marked(wire_up(id), wiring)
        reasons = " ".join(reason for line in found.lines for reason in line.reasons)
        for told in (reasons, " ".join(found.feedback)):
            for mistake in found.judgement.mistakes:
                assert told.count(mistake.words[1:]) <= 1
        first = found.judgement.findings[0]
        (words,) = [mistake.words for mistake in found.judgement.mistakes if first.words.endswith(mistake.words[1:])]
        assert words[1:] in reasons


def test_a_way_of_a_splice_has_one_wording():
    """The fault that is put in names a way of a splice as the table does, whatever the splice is called."""
    task, wiring = wire_up("W4"), RIGHT["W4"]["in connectors"]
    renamed = {f"{joint.name}.{way}": f"zone2 nut {n}.{way}" for n, joint in enumerate(wiring.splices) for way in range(1, 7)}
    joints = tuple(replace(joint, name=f"zone2 nut {n}") for n, joint in enumerate(wiring.splices))
    wires = tuple(replace(wire, a=renamed.get(wire.a, wire.a), b=renamed.get(wire.b, wire.b)) for wire in wiring.wires)
    for each in (wiring, Wiring(joints, wires)):
        words = Table(task, each).laid()["point_words"]
        ways = {f"{joint.name}.{way}" for joint in each.splices for way in range(1, joint.ways + 1)}
        told = [injected(task, each, str(seed)) for seed in range(12)]
        ends = {fault.words: {wire.a, wire.b} & ways for fault in told for wire in each.wires if wire.name == fault.wire}
        assert any(ends.values())
        assert all(words[way] in said for said, ends in ends.items() for way in ends)
