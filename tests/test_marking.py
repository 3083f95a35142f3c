"""Marks: each criterion moves for its own reason, and every reason is a sentence."""

from dataclasses import replace
from functools import cache

import pytest
from players import follows

from solvers.chapters import end_switches, heater_loops, step_down_power
from solvers.chapters.drawing import drawn_of
from solvers.faults.catalogue import rows
from solvers.faults.fault import suspects
from solvers.jobs.arguing import argued
from solvers.jobs.bench import Bench
from solvers.jobs.evidence import cases
from solvers.jobs.job import JobError
from solvers.jobs.marking import mark
from solvers.jobs.marks import MACHINE_POINTS
from solvers.jobs.survey import nearest, survey
from solvers.jobs.swaps import wasted
from solvers.jobs.treating import treated
from solvers.jobs.working import worked


@cache
def _job(row, chapter=heater_loops):
    """A job with a fault of this row, of the chapter's first level."""
    return drawn_of(chapter.PLAN, row, f"marks/{row}", 1)


def _volts(first, second, function="volts"):
    return {"do": "measure", "function": function, "first": first, "second": second}


def _worked(job, *more, verdict=True, claim=None):
    """A tidy run at an open heater: source, call, volts across, amperes, call off."""
    zone, bench = job.zone, Bench(job, "ada")
    heater = job.design.part(f"{zone}.valve").drive_pair
    for act in (
        _volts("R bus.fuse", "transformer.C"),
        {"do": "call", "stat": f"{zone}.stat", "on": True},
        _volts(*heater),
        {"do": "clamp", "wire": f"{zone}.W leg", "turns": 1},
        *more,
        {"do": "call", "stat": f"{zone}.stat", "on": False},
    ):
        bench.step(act)
    if verdict:
        bench.step({"do": "verdict", "suspects": [claim or job.answers[0]], "proof": [2, 3], "explanation": "No current."})
    return bench


def _lines(job, bench):
    return {line.criterion: line for line in mark(job, bench.sheet()).lines}


def test_a_tidy_job_gets_all_a_machine_can_give():
    """Few readings, the right part, two proving readings, repaired, proven, put back: 90 of 90, the rest is a person's."""
    job = _job("HL-01")
    marks = mark(job, follows(job).sheet())
    assert MACHINE_POINTS == marks.points == sum(line.out_of for line in marks.lines if line.points is not None)
    assert [None] == [line.points for line in marks.lines if line.criterion == "explanation"]
    assert () == marks.flags
    assert (True, True, job.objectives) == (marks.right, marks.argued, marks.objectives)
    assert (0.0, "low") == (marks.closing.risk, marks.closing.grade)


def test_a_guess_earns_nothing_for_being_right():
    """The right suspect without a reading that rules out its look-alike: 0 of 20, and the look-alike is named."""
    job = _job("HL-01")
    bench = Bench(job)
    bench.step({"do": "look", "part": "fuse"})
    bench.step({"do": "verdict", "suspects": [job.answers[0]], "proof": [0]})
    line = _lines(job, bench)["verdict"]
    assert 0 == line.points
    assert job.suspect(nearest(survey(job), job.answers[0])).words in line.reasons


def test_a_wrong_verdict_is_argued_with():
    """A wrong claim gets its own contradictions: what was read, and what the claim would have shown."""
    job = _job("HL-01")
    log = _worked(job).log
    case = max(cases(job, log), key=lambda case: len(case.contradictions))
    line = _lines(job, _worked(job, claim=case.suspect.id))["verdict"]
    assert 0 == line.points
    assert case.contradictions
    for one in case.contradictions[:3]:
        assert any(repr(one.observed) in reason and repr(one.expected) in reason for reason in line.reasons)


def test_ohms_on_a_live_pair_cost_safety():
    """Ohms where volts stand cost ten points a time; on a pair proven dead they cost none."""
    job = _job("HL-01")
    heater = job.design.part(f"{job.zone}.valve").drive_pair
    live = _lines(job, _worked(job, _volts(*heater, "ohms")))["safety"]
    assert (10, 20) == (live.points, live.out_of)
    dead = [
        {"do": "switch", "part": "transformer", "on": False},
        {"do": "switch", "part": "boiler", "on": False},
        {"do": "lift", "terminal": heater[0]},
        _volts(*heater, "ohms"),
        {"do": "land", "terminal": heater[0]},
        {"do": "switch", "part": "transformer", "on": True},
        {"do": "switch", "part": "boiler", "on": True},
    ]
    assert 20 == _lines(job, _worked(job, *dead))["safety"].points


def test_current_jacks_across_a_source_cost_more():
    """Leads left in the current jacks across a source cost fifteen points, and the reason says where they belong."""
    job = _job("HL-01")
    line = _lines(job, _worked(job, _volts("R bus.fuse", "transformer.C", "amps jack")))["safety"]
    assert 5 == line.points
    assert "volts jack" in line.reasons[0]


def test_a_fuse_fed_to_a_short_costs():
    """A new fuse that opens again is money and safety; the reason says to find the short first."""
    job = _job("HL-02")
    bench = Bench(job)
    for act in (
        {"do": "look", "part": "fuse"},
        {"do": "fit", "part": "fuse"},
        {"do": "call", "stat": f"{job.zone}.stat", "on": True},
        {"do": "wait", "seconds": 1800},
    ):
        bench.step(act)
    line = _lines(job, bench)["safety"]
    assert 10 == line.points
    assert "opened again once" in line.reasons[0]


def _fitted(*parts):
    """New parts, with the supplies off meanwhile."""
    off = [{"do": "switch", "part": part, "on": False} for part in ("transformer", "boiler")]
    on = [{"do": "switch", "part": part, "on": True} for part in ("transformer", "boiler")]
    return [*off, *({"do": "fit", "part": part} for part in parts), *on]


def test_a_good_part_replaced_is_counted():
    """Fitting a good boiler costs all ten and fifteen of safety, a good connector half and fifteen, the bad head none."""
    job = _job("HL-01")
    for parts, kept, safety in (((f"{job.zone}.valve",), 10, 20), (("boiler",), 0, 5), ((f"{job.zone}.R splice",), 5, 5)):
        lines = _lines(job, _worked(job, *_fitted(*parts)))
        assert (kept, safety) == (lines["good parts kept"].points, lines["safety"].points), parts
        assert all(part in lines["good parts kept"].reasons[0] for part in parts) or kept == 10


def test_a_bad_part_replaced_unread_costs_safety():
    """The right part, fitted before anything was read at it, costs ten: it was luck."""
    job = _job("HL-01")
    bench = Bench(job)
    for act in _fitted(f"{job.zone}.valve"):
        bench.step(act)
    lines = _lines(job, bench)
    assert (10, 10) == (lines["safety"].points, lines["good parts kept"].points)
    assert "before anything spoke against it" in lines["safety"].reasons[0]


def test_a_new_part_that_cures_nothing_replaced_a_good_one():
    """A new head does not turn a body that stands backwards: the old one was good, and it costs what a good part costs."""
    job = _job("HL-25")
    bench = Bench(job)
    valve = f"{job.faults[0].zone}.valve"
    for act in ({"do": "feel", "part": valve}, *_fitted(valve)):
        bench.step(act)
    kept = _lines(job, bench)["good parts kept"]
    assert kept.points == 0
    assert kept.reasons[0].startswith("Replaced though good")


def test_what_a_new_part_shows_is_no_reading_of_the_old_one():
    """Swapping a good head rules nothing out: with the fit or without it the same suspects stand."""
    job = _job("HL-10")
    bench = Bench(job)
    call = {"do": "call", "stat": f"{job.zone}.stat", "on": True}
    for act in (*_fitted(f"{job.zone}.valve"), call, {"do": "wait", "seconds": 900}, {"do": "feel", "part": f"{job.zone}.valve"}):
        bench.step(act)
    done, _ = worked(job, bench.log)
    (swapped,) = argued(job, done, wasted(job, done))
    plain = argued(job, done)[0]
    heads = [id for id, case in swapped.items() if case.survives and case.suspect.row.id in ("HL-01", "HL-18", "HL-19", "HL-24")]
    assert heads
    assert [] == [id for id in heads if plain[id].survives]


@pytest.mark.parametrize(
    ("left", "words", "kinds"),
    [
        ({"do": "lift", "terminal": "fuse.in"}, "lead at fuse.in is still lifted", ("lead",)),
        ({"do": "switch", "part": "boiler", "on": False}, "boiler is still switched off", ("supply",)),
        ({"do": "opener", "valve": "zone1.valve", "engaged": True}, "opener of zone1.valve is still engaged", ("opener",)),
        (
            {"do": "jumper", "first": "zone1.stat.R", "second": "zone1.stat.W", "on": True},
            "jumper is still on from zone1.stat.R to zone1.stat.W",
            ("jumper", "cover"),
        ),
        (
            {"do": "measure", "function": "volts", "first": "boiler.T1", "second": "boiler.T2"},
            "cover of boiler is still off",
            ("cover",),
        ),
    ],
)
def test_what_is_left_behind_costs(left, words, kinds):
    """Each thing left undone is named once, costs points for restoring, and hands and jumpers raise the callback risk."""
    job = _job("HL-01")
    bench = follows(job)
    bench.verdict = None
    bench.step(left)
    marks = mark(job, bench.sheet())
    (line,) = [line for line in marks.lines if line.criterion == "restored"]
    assert kinds == tuple(one.kind for one in marks.closing.left)
    assert [1] == [sum(words in reason for reason in line.reasons)]
    assert line.points < 10
    assert (marks.closing.risk >= 0.2) == (kinds[0] in ("jumper", "opener"))


def test_a_valve_held_open_by_hand_proves_nothing():
    """A zone is proven by a call that opens its valve; an opener that holds it open is no proof."""
    job = _job("HL-01")
    bench = follows(job)
    bench.verdict = None
    bench.step({"do": "opener", "valve": "zone1.valve", "engaged": True})
    bench.step({"do": "call", "stat": "zone1.stat", "on": True})
    assert "zone1" not in worked(job, bench.log)[0].proven


def test_what_is_read_after_the_repair_only_verifies():
    """Readings once the fault is gone cost no economy; the same readings before do."""
    job = _job("HL-01")
    more = [_volts(terminal, "transformer.C") for terminal in job.design.terminals if terminal != "transformer.C"][:8]
    plain = mark(job, _worked(job).sheet()).readings
    assert plain + 8 <= mark(job, _worked(job, *more).sheet()).readings + 1  # one of them may be a place read before
    assert plain == mark(job, _worked(job, *_fitted(f"{job.zone}.valve"), *more).sheet()).readings


def test_wandering_costs_economy_and_method():
    """Reading everything gives the right answer and few points for economy."""
    job = _job("HL-01")
    more = [_volts(terminal, "transformer.C") for terminal in job.design.terminals if terminal != "transformer.C"][:20]
    lines = _lines(job, _worked(job, *more))
    assert 0 == lines["economy"].points
    assert lines["method"].points < 20
    assert "ruled nothing out" in lines["method"].reasons[-1]


def test_the_same_place_again_counts_half():
    """A reading repeated without a change in between counts half; after a change it counts whole."""
    job = _job("HL-01")
    again = _volts("R bus.fuse", "transformer.C")
    once = mark(job, _worked(job, again).sheet()).readings
    twice = mark(job, _worked(job, again, again).sheet()).readings
    assert 0.5 == twice - once


def test_a_log_that_does_not_replay_is_flagged_not_failed():
    """A reading that was edited afterwards is named for a talk; points follow what the job really shows."""
    job = _job("HL-01")
    sheet = _worked(job).sheet()
    edited = replace(sheet, log=(replace(sheet.log[0], text="12.00 V", value=12.0), *sheet.log[1:]))
    marks = mark(job, edited)
    assert mark(job, sheet).points == marks.points
    assert "line 1 says '12.00 V'" in marks.flags[0]


def test_a_reading_one_digit_off_is_no_forgery():
    """Another machine may round the last digit the other way: that raises no flag."""
    job = _job("HL-01")
    sheet = _worked(job).sheet()
    first = sheet.log[0]
    near = replace(sheet, log=(replace(first, value=round(first.value + first.step, 4)), *sheet.log[1:]))
    assert () == mark(job, near).flags


def test_an_act_that_cannot_be_done_ends_the_log():
    """A log line that this job refuses is named, and what follows is left out."""
    job = _job("HL-01")
    sheet = _worked(job).sheet()
    broken = replace(sheet, log=(sheet.log[0], replace(sheet.log[1], act={"do": "dance"}), *sheet.log[2:]))
    marks = mark(job, broken)
    assert "line 2 cannot be done" in marks.flags[0]
    assert 1 == marks.readings


def test_an_empty_sheet_scores_nothing():
    """No act, no verdict: no points anywhere."""
    job = _job("HL-01")
    assert 0 == mark(job, Bench(job).sheet()).points


def test_another_jobs_sheet_is_refused():
    """A sheet of another job is refused by name."""
    job = _job("HL-01")
    other = replace(job, seed="another")
    with pytest.raises(JobError, match="this job is heater-loops/1/another"):
        mark(other, _worked(job).sheet())


def test_a_log_of_another_job_is_flagged_at_the_first_reading_that_does_not_fit():
    """A log carried over to another fault on the same house is named by its first line that shows something else."""
    job = _job("HL-01")
    sheet = _worked(job).sheet()
    claim = max(cases(job, sheet.log), key=lambda case: len(case.contradictions)).suspect
    other = replace(job, faults=(claim.family[0],), answers=(claim.id,))
    own = Bench(other)
    for line in sheet.log:
        own.step(line.act)
    first = next(n for n, (one, two) in enumerate(zip(sheet.log, own.log, strict=True)) if one.text != two.text)
    (flag,) = mark(other, sheet).flags
    assert flag.startswith(f"Log line {first + 1} says {sheet.log[first].text!r} where this job shows {own.log[first].text!r}")


def test_a_verdict_that_the_job_does_not_offer_is_named():
    """A sheet whose verdict names no suspect of the job is flagged and scored as no verdict."""
    job = _job("HL-01")
    sheet = _worked(job).sheet()
    marks = mark(job, replace(sheet, verdict=replace(sheet.verdict, suspects=("the cat",))))
    assert "'the cat'" in marks.flags[0]
    assert 0 == next(line.points for line in marks.lines if line.criterion == "verdict")


DANGERS = (("SP-15", step_down_power), ("ES-18", end_switches))


def _danger(row, chapter):
    """A dangerous job with its log up to the reading that shows it."""
    job = _job(row, chapter)
    bench = follows(job)
    stop = next(number for number, line in enumerate(bench.log) if line.act["do"] == "stop")
    return job, bench.log[:stop], bench


@pytest.mark.parametrize(("row", "chapter"), DANGERS, ids=("line on a screw", "line at an end switch"))
def test_a_danger_is_stopped_at_and_handed_over(row, chapter):
    """Who sees the danger, makes safe and refers has full marks and the objectives, without a repair or another reading."""
    job, _, bench = _danger(row, chapter)
    marks = mark(job, bench.sheet())
    assert ["stop", "refer"] == [line.act["do"] for line in bench.log[-2:]]
    assert (MACHINE_POINTS, (), True, job.objectives) == (marks.points, marks.gates, marks.right, marks.objectives)


@pytest.mark.parametrize(("row", "chapter"), DANGERS, ids=("line on a screw", "line at an end switch"))
def test_going_on_after_a_danger_is_a_gate(row, chapter):
    """One more reading after the one that shows the danger: at most 40 in all, and the sentence says where to stop."""
    job, seen, _ = _danger(row, chapter)
    bench = Bench(job)
    for line in seen:
        bench.step(line.act)
    bench.step(_volts("fuse.in", "fuse.out") if "fuse.in" in job.design.terminals else {"do": "look", "part": "boiler"})
    bench.step({"do": "stop"})
    bench.step({"do": "refer", "to": job.suspect(job.answers[0]).row.refer})
    bench.step({"do": "verdict", "suspects": list(job.answers), "proof": []})
    marks = mark(job, bench.sheet())
    assert 40 == marks.cap >= marks.points
    assert ["Stop, make safe, refer." in gate for gate in marks.gates] == [True]
    assert () == marks.objectives
    assert marks.gates[0] in marks.feedback


def test_handing_over_unseen_is_no_refusal():
    """Stopping before anything has shown the danger earns no verdict points: nothing was recognised."""
    job = _job(*DANGERS[0])
    bench = Bench(job)
    bench.step({"do": "stop"})
    bench.step({"do": "refer", "to": job.suspect(job.answers[0]).row.refer})
    bench.step({"do": "verdict", "suspects": list(job.answers), "proof": []})
    assert 0 == _lines(job, bench)["verdict"].points


def _hidden_short():
    """A blown fuse of its own fault in front of a shorted heater."""
    job = _job("SP-06", step_down_power)
    zone = job.zone
    short = next(one for one in suspects(job.design, zone, rows("HL-02")))
    known = (*(one for one in job.suspects if one.id != short.id), short)
    return replace(job, faults=(*job.faults, short.family[0]), answers=(*job.answers, short.id), suspects=known)


def test_a_blown_fuse_hides_a_short():
    """With two faults a new fuse opens again until the shorted head is gone too; only both repairs prove the zones."""
    job = _hidden_short()
    call = [{"do": "call", "stat": f"{job.zone}.stat", "on": True}, {"do": "wait", "seconds": 900}]
    found = []
    for parts in (("fuse",), (f"{job.zone}.valve", "fuse")):
        bench = Bench(job)
        for act in (*_fitted(*parts), *call):
            bench.step(act)
        done, _ = worked(job, bench.log)
        found.append((done.fuses_lost, [treated(job, done, slot) for slot in (0, 1)], job.zone in done.proven))
    assert [(1, [True, False], False), (0, [True, True], True)] == found


@pytest.mark.parametrize(
    ("row", "chapter", "undo"),
    [
        ("SP-01", step_down_power, {"do": "switch", "part": "transformer", "on": False}),
        ("HL-08", heater_loops, {"do": "opener", "valve": "{zone}.valve", "engaged": True}),
    ],
)
def test_a_repair_by_hand_counts_while_it_lasts(row, chapter, undo):
    """A switch put on or an opener put back ends the fault; put back as it was found, the fault is there again."""
    job = _job(row, chapter)
    bench = follows(job)
    assert treated(job, worked(job, bench.log)[0], 0)
    bench.verdict = None
    bench.step({key: value.format(zone=job.zone) if isinstance(value, str) else value for key, value in undo.items()})
    assert not treated(job, worked(job, bench.log)[0], 0)


def test_a_line_reading_counts_two():
    """A reading that somebody licensed has to come for counts as two."""
    job = _job("SP-01", step_down_power)
    bench = Bench(job)
    bench.step({"do": "line reading", "part": "transformer", "what": "panel volts"})
    assert 2 == mark(job, bench.sheet()).readings
