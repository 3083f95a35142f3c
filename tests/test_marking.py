"""Marks: each criterion moves for its own reason, and every reason is a sentence."""

from dataclasses import replace

import pytest

from solvers.chapters.shelf import drawn
from solvers.jobs.bench import Bench
from solvers.jobs.evidence import against
from solvers.jobs.job import JobError
from solvers.jobs.marking import MACHINE_POINTS, mark
from solvers.jobs.survey import nearest, survey


def _job(row, seed="marks"):
    numbers = range(400)
    return next(job for job in (drawn("heater-loops", f"{seed}/{n}") for n in numbers) if job.fault.row == row)


def _volts(first, second, function="volts"):
    return {"do": "measure", "function": function, "first": first, "second": second}


def _worked(job, *more, verdict=True, claim=None):
    """A tidy run at an open heater: source, call, volts across, amperes, call off."""
    zone, bench = job.zone, Bench(job, "ada")
    heater = job.design.part(f"{zone}.valve").heater_pair
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
        bench.step({"do": "verdict", "suspect": claim or job.answer, "proof": [2, 3], "explanation": "No current."})
    return bench


def _lines(job, bench):
    return {line.criterion: line for line in mark(job, bench.sheet()).lines}


def test_a_tidy_job_gets_all_a_machine_can_give():
    """Few readings, the right part, two proving readings, everything put back: 90 of 90, the rest is a person's."""
    job = _job("HL-01")
    marks = mark(job, _worked(job).sheet())
    assert MACHINE_POINTS == marks.points == sum(line.out_of for line in marks.lines if line.points is not None)
    assert [None] == [line.points for line in marks.lines if line.criterion == "explanation"]
    assert () == marks.flags
    assert marks.right
    assert marks.argued


def test_a_guess_earns_nothing_for_being_right():
    """The right suspect without a reading that rules out its look-alike: 0 of 20, and the look-alike is named."""
    job = _job("HL-01")
    bench = Bench(job)
    bench.step({"do": "look", "part": "fuse"})
    bench.step({"do": "verdict", "suspect": job.answer, "proof": [0]})
    line = _lines(job, bench)["verdict"]
    assert 0 == line.points
    assert job.suspect(nearest(survey(job), job.answer)).words in line.reasons


def test_a_wrong_verdict_is_argued_with():
    """A wrong claim gets its own contradictions: what was read, and what the claim would have shown."""
    job = _job("HL-01")
    claim = next(suspect for suspect in job.suspects if suspect.row.id == "HL-03")
    bench = _worked(job, claim=claim.id)
    line = _lines(job, bench)["verdict"]
    case = against(job, claim, bench.log)
    assert 0 == line.points
    assert case.contradictions
    for one in case.contradictions[:3]:
        assert any(repr(one.observed) in reason and repr(one.expected) in reason for reason in line.reasons)


def test_ohms_on_a_live_pair_cost_safety():
    """Ohms where volts stand cost ten points a time; on a pair proven dead they cost none."""
    job = _job("HL-01")
    heater = job.design.part(f"{job.zone}.valve").heater_pair
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
    bench.step({"do": "fit", "part": "fuse"})
    bench.step({"do": "call", "stat": f"{job.zone}.stat", "on": True})
    bench.step({"do": "wait", "seconds": 1800})
    line = _lines(job, bench)["safety"]
    assert 10 == line.points
    assert "opened again once" in line.reasons[0]


def test_a_good_part_replaced_is_counted():
    """Fitting a good boiler costs all ten, fitting the bad head none."""
    job = _job("HL-01")
    bad = {"do": "fit", "part": f"{job.zone}.valve"}
    assert 10 == _lines(job, _worked(job, bad))["good parts kept"].points
    line = _lines(job, _worked(job, {"do": "fit", "part": "boiler"}))["good parts kept"]
    assert 0 == line.points
    assert "boiler" in line.reasons[0]


@pytest.mark.parametrize(
    ("left", "words"),
    [
        ({"do": "lift", "terminal": "fuse.in"}, "lead at fuse.in is still lifted"),
        ({"do": "switch", "part": "boiler", "on": False}, "boiler is still switched off"),
        ({"do": "opener", "valve": "zone1.valve", "engaged": True}, "opener of zone1.valve is still engaged"),
    ],
)
def test_what_is_left_behind_costs(left, words):
    """One thing left undone halves the points for restoring, and is named."""
    job = _job("HL-01")
    line = _lines(job, _worked(job, left))["restored"]
    assert 5 == line.points
    assert words in line.reasons[0]


def test_wandering_costs_economy_and_method():
    """Reading everything gives the right answer and few points for economy."""
    job = _job("HL-01")
    more = [_volts(terminal, "transformer.C") for terminal in job.design.terminals if terminal != "transformer.C"][:20]
    lines = _lines(job, _worked(job, *more))
    assert 0 == lines["economy"].points
    assert lines["method"].points < 20
    assert "ruled nothing out" in lines["method"].reasons[1]


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
    job, other = _job("HL-01"), _job("HL-05")
    with pytest.raises(JobError, match="this job is heater-loops"):
        mark(job, _worked(other).sheet())


def test_a_verdict_that_the_job_does_not_offer_is_named():
    """A sheet whose verdict names no suspect of the job is flagged and scored as no verdict."""
    job = _job("HL-01")
    sheet = _worked(job).sheet()
    marks = mark(job, replace(sheet, verdict=replace(sheet.verdict, suspect="the cat")))
    assert "'the cat'" in marks.flags[0]
    assert 0 == next(line.points for line in marks.lines if line.criterion == "verdict")
