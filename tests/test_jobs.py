"""Jobs: drawn from a seed, solvable, worked on a bench whose log replays anywhere."""

import ast
import json
from functools import cache
from pathlib import Path

import pytest
from reference_circuits import REF_A

from solvers import jobs
from solvers.chapters import heater_loops
from solvers.chapters.drawing import candidate, drawn_of
from solvers.chapters.shelf import CHAPTERS, drawn
from solvers.circuit import CircuitError
from solvers.faults import fault
from solvers.faults.catalogue import CATALOGUE
from solvers.faults.planting import planted
from solvers.jobs.acts import ACTS, acted, arrival, checked, replayed
from solvers.jobs.bench import Bench
from solvers.jobs.evidence import against, cases, survivors
from solvers.jobs.job import JobError
from solvers.jobs.reference import par, path
from solvers.jobs.sheet import BadSheet, parsed, written
from solvers.jobs.survey import inseparable, nearest, separating, solvable, survey

SEEDS = [f"proof/{number}" for number in range(100)]
DRAWN = fault.CHAPTERS
LEVELS = [(name, level) for name in DRAWN for level in CHAPTERS[name].LEVELS]

PINNED: dict[str, tuple[str, ...]] = {
    "step-down-power": (
        "SP-06 aged",
        "SP-01",
        "SP-03",
        "SP-03",
        "SP-03",
        "SP-13",
        "SP-12",
        "SP-03",
        "SP-05 zone2 W to C at the W splice",
        "nothing zone2",
        "SP-15",
        "SP-09",
        "SP-11",
        "SP-12",
        "nothing zone1",
        "SP-19",
        "SP-06 too small",
        "SP-07",
        "SP-13",
        "nothing zone1",
    ),
    "thermostat-switching": (
        "TS-07 zone1 it hangs askew",
        "TS-13 zone1",
        "NF-01 zone1",
        "nothing zone1",
        "TS-06 zone1",
        "nothing zone2",
        "TS-12 zone1",
        "TS-06 zone1",
        "TS-13 zone1",
        "TS-09 zone1",
        "TS-04 zone2",
        "nothing zone2",
        "TS-08 zone1 R conductor",
        "NF-02 zone1 vacation hold on",
        "TS-06 zone1",
        "TS-02 zone1",
        "TS-09 zone2",
        "NF-01 zone1",
        "TS-04 zone1",
        "TS-09 zone1",
    ),
    "heater-loops": (
        "HL-24 zone2",
        "HL-27 zone2",
        "HL-04 zone2",
        "nothing zone2",
        "HL-16 zone1",
        "HL-01 zone2",
        "HL-24 zone2",
        "HL-24 zone2",
        "HL-27 zone2",
        "HL-27 zone2",
        "HL-26 zone1",
        "HL-16 zone1",
        "nothing zone2",
        "nothing zone1",
        "HL-05 zone1",
        "HL-13 zone2",
        "HL-01 zone2",
        "HL-21 zone2",
        "HL-16 zone2",
        "HL-21 zone1",
    ),
    "end-switches": (
        "ES-19",
        "ES-15 conductor A",
        "ES-11",
        "ES-02 zone1",
        "ES-11",
        "ES-16",
        "ES-06 zone2",
        "ES-26",
        "ES-18 zone2",
        "ES-16",
        "ES-01 zone2",
        "ES-16",
        "ES-12",
        "ES-22",
        "ES-03 zone1",
        "ES-26",
        "ES-19",
        "ES-26",
        "ES-23 zone1",
        "ES-08",
    ),
    "service-calls": (
        "TS-18 zone1",
        "MZ-22",
        "MZ-22",
        "HL-03 zone3",
        "MZ-22",
        "SP-03",
        "SP-05 zone3 W to C at the W splice",
        "MZ-14 zone3",
        "MZ-22",
        "nothing zone1",
        "MZ-20 zone1",
        "MZ-18 zone3",
        "MZ-06 zone2",
        "MZ-22",
        "MZ-13 zone1",
        "MZ-14 zone2",
        "MZ-03",
        "TS-01 zone1",
        "ES-08",
        "MZ-17",
    ),
}  # fmt: skip
"""By chapter, the answers of the first twenty practice jobs of its first level, two faults joined by " + "."""


@cache
def _drawn(chapter, seed, level=1):
    return drawn(chapter, seed, level)


@cache
def _of(row):
    return drawn_of(heater_loops.PLAN, row, f"jobs/{row}", 1)


def _volts(first, second):
    return {"do": "measure", "function": "volts", "first": first, "second": second}


def _whole_round(job):
    """A log that looks everywhere in the zone that is complained of."""
    zone, bench = job.zone, Bench(job)
    valve = job.design.part(f"{zone}.valve")
    bench.step({"do": "look", "part": valve.name})
    bench.step(_volts("transformer.R", "transformer.C"))
    bench.step({"do": "call", "stat": f"{zone}.stat", "on": True})
    for joint in (f"{zone}.R splice", f"{zone}.W splice"):
        bench.step(_volts(f"{joint}.1", f"{joint}.2"))
    bench.step(_volts(*valve.drive_pair))
    bench.step(_volts(valve.drive_pair[1], "transformer.C"))
    bench.step(_volts("C bus.trunk", f"C bus.{zone}"))
    bench.step({"do": "clamp", "wire": f"{zone}.W leg", "turns": 1})
    bench.step({"do": "wait", "seconds": 900})
    bench.step({"do": "feel", "part": valve.name})
    bench.step(_volts("boiler.T1", "boiler.T2"))
    bench.step({"do": "call", "stat": f"{zone}.stat", "on": False})
    for supply in ("transformer", "boiler"):
        bench.step({"do": "switch", "part": supply, "on": False})
    for terminal in valve.drive_pair:
        bench.step({"do": "lift", "terminal": terminal})
    bench.step({"do": "measure", "function": "ohms", "first": valve.drive_pair[0], "second": valve.drive_pair[1]})
    return bench


@pytest.mark.parametrize("chapter", DRAWN)
def test_the_first_twenty_jobs_stay_what_they_are(chapter):
    """A seed keeps its job for good: adding a decision never reshuffles old ones."""
    found = tuple(" + ".join(_drawn(chapter, f"practice/{number}").answers) for number in range(1, 21))
    assert PINNED[chapter] == found


def test_a_job_follows_from_its_seed_alone():
    """The same seed gives the same job; another seed another circuit."""
    fresh = drawn_of(heater_loops.PLAN, "HL-05", "jobs/HL-05", 1)
    assert _of("HL-05") == fresh
    assert _of("HL-05").design != drawn_of(heater_loops.PLAN, "HL-05", "jobs/another", 1).design


@pytest.mark.parametrize("chapter", DRAWN)
def test_a_drawn_job_is_solvable(chapter):
    """Some allowed reading parts every pair of suspects, whatever their sizes; the answers are among those offered."""
    job = _drawn(chapter, SEEDS[0])
    assert solvable(job)
    assert {*job.answers} <= {suspect.id for suspect in job.suspects}
    assert len(job.answers) == len(job.faults)


@pytest.mark.slow
@pytest.mark.parametrize("chapter", DRAWN)
def test_many_rows_are_drawn(chapter):
    """A hundred seeds of the last level plant at least half of the chapter's rows."""
    plan = CHAPTERS[chapter].PLAN
    own = {row.id for row in plan.rows if row.chapter == chapter}
    first = (candidate(plan, seed, max(plan.levels), 0) for seed in SEEDS)
    planted_rows = {one.row for job in first if job for one in job.faults}
    assert len(own & planted_rows) >= len(own) / 2


@pytest.mark.parametrize("chapter", DRAWN)
def test_the_survey_reads_what_the_bench_reads(chapter):
    """A probe of the survey that is done on the bench shows the same display: one physics, two ways of solving it."""
    job = _drawn(chapter, SEEDS[0])
    found = survey(job)
    answer = found.suspects.index(job.answers[0])
    world = arrival(job.design, planted(job.design, job.suspect(job.answers[0]).family[0]))
    compared = 0
    for probe, outcomes in found.outcomes.items():
        if probe.situation == 0 and outcomes[answer]:
            _, outcome = acted(world, json.loads(probe.act))
            assert outcome == outcomes[answer][0], probe.act
            compared += 1
    assert compared > 20


@pytest.mark.parametrize("row", ["HL-01", "HL-05", "HL-09", "HL-10"])
def test_the_planted_fault_is_never_spoken_against(row):
    """Whatever is read, the true suspect survives, while what the readings do not fit falls."""
    job = _of(row)
    found = {case.suspect.id: case for case in cases(job, _whole_round(job).log)}
    assert () == found[job.answers[0]].contradictions
    assert [case for case in found.values() if not case.survives]


def test_a_contradiction_comes_from_simulating_the_claim():
    """The text in a contradiction is what the claimed fault shows on this circuit for the same act."""
    job = _of("HL-05")
    log = _whole_round(job).log
    claims = [suspect for suspect in job.suspects if suspect.id != job.answers[0] and len(suspect.family) == 1]
    checked_lines = 0
    for claim in claims:
        shown = replayed(arrival(job.design, planted(job.design, claim.family[0])), [line.act for line in log])
        for one in against(job, claim, log).contradictions:
            if one.observed == log[one.line].text:
                assert one.expected == shown[one.line].text
                checked_lines += 1
    assert checked_lines


def test_a_size_between_the_steps_is_found():
    """A suspect with a range is tried at the size that fits: the ohms come out within a tenth."""
    job = _of("HL-09")
    case = next(case for case in cases(job, _whole_round(job).log) if case.suspect.id == job.answers[0])
    assert job.faults[0].size == pytest.approx(case.size, rel=0.1)


def test_an_empty_log_proves_nothing():
    """Before the first reading every suspect stands."""
    job = _of("HL-05")
    assert tuple(suspect.id for suspect in job.suspects) == survivors(job, [])


@pytest.mark.parametrize("chapter", DRAWN)
def test_par_is_a_path_that_ends(chapter):
    """The reference's tests leave the answer alone; par is their cost and the proving readings still missing."""
    job = _drawn(chapter, SEEDS[0])
    found, steps = survey(job), path(survey(job), job.answers[0])
    assert (found.suspects.index(job.answers[0]),) == steps[-1].after
    assert par(job) == sum(step.probe.cost for step in steps) + max(0, 2 - len(steps))
    twin = nearest(found, job.answers[0])
    assert twin != job.answers[0]
    assert separating(found, job.answers[0], twin)
    assert () == inseparable(found)


def test_one_conductor_changes_the_reading():
    """Moving one end of one conductor in the data changes what the meter shows."""
    act = _volts("C bus.trunk", "transformer.C")
    _, before = acted(arrival(REF_A, REF_A), act)
    _, after = acted(arrival(REF_A, REF_A.with_conductor("C trunk", b="transformer.R")), act)
    assert before.text != after.text


@pytest.mark.parametrize("chapter", DRAWN)
def test_the_bench_tells_nothing(chapter):
    """Neither brief nor view of a job holds the fault, its size or anything that only the planted circuit has."""
    job = _drawn(chapter, SEEDS[0])
    bench = Bench(job)
    brief = bench.brief()
    shown = json.dumps([{key: brief[key] for key in brief if key != "suspects"}, bench.view()])
    assert job.answers[0] not in shown
    assert job.faults[0].row not in shown
    assert {suspect["id"] for suspect in brief["suspects"]} == {suspect.id for suspect in job.suspects}


BAD_ACTS = [
    ("jump", "an act is an object"),
    ({"do": "dance"}, "no act 'dance'; there are"),
    ({"do": "wait"}, "missing ['seconds']"),
    ({"do": "wait", "seconds": 5, "minutes": 1}, "unknown ['minutes']"),
    ({"do": "wait", "seconds": "5"}, "give int or float"),
    ({"do": "wait", "seconds": True}, "give int or float"),
    ({"do": "wait", "seconds": float("nan")}, "wait from 1 s to 3600 s"),
    ({"do": "wait", "seconds": -1}, "wait from 1 s to 3600 s"),
    ({"do": "call", "stat": "zone9.stat", "on": True}, "no part 'zone9.stat'; there are"),
    ({"do": "call", "stat": "boiler", "on": True}, "'boiler' is no thermostat; there are"),
    ({"do": "switch", "part": "fuse", "on": False}, "'fuse' is no supply; there are"),
    ({"do": "opener", "valve": "fuse", "engaged": False}, "'fuse' is no valve; there are"),
    ({"do": "measure", "function": "amps", "first": "fuse.in", "second": "fuse.out"}, "no meter function 'amps'"),
    ({"do": "measure", "function": "volts", "first": "fuse.inn", "second": "fuse.out"}, "no test point 'fuse.inn'"),
    ({"do": "measure", "function": "volts", "first": "fuse.in", "second": "fuse.in"}, "both probes are on"),
    ({"do": "clamp", "wire": "R leg", "turns": 1}, "no conductor 'R leg'; there are"),
    ({"do": "clamp", "wire": "R feed", "turns": 11}, "turns 11"),
    ({"do": "lift", "terminal": "fuse.q"}, "no terminal 'fuse.q'"),
    ({"do": "land", "terminal": "fuse.in"}, "is not lifted"),
    ({"do": "look", "part": "cat"}, "no part 'cat'"),
    ({"do": "fit", "part": "cat"}, "no part 'cat'"),
    ({"do": "verdict", "suspects": ["the cat"], "proof": []}, "no suspect 'the cat'; there are"),
    ({"do": "verdict", "suspects": ["HL-01 zone1"], "proof": [0, 1, 2, 3, 4]}, "give the numbers of at most 4 log lines"),
    ({"do": "verdict", "suspects": ["HL-01 zone1"], "proof": [7]}, "log line 7"),
    ({"do": "verdict", "suspects": ["HL-01 zone1"], "proof": [], "explanation": 3}, "explanation must be text"),
]


@cache
def _first_zone():
    """A job at zone 1 that offers an open heater there."""
    jobs = (drawn_of(heater_loops.PLAN, "HL-01", f"zone/{number}", 1) for number in range(40))
    return next(job for job in jobs if job.zone == "zone1")


@pytest.mark.parametrize(("act", "message"), BAD_ACTS, ids=lambda value: str(value)[:60])
def test_a_bad_act_is_refused_in_a_sentence(act, message):
    """Unknown acts, parts, points, functions and sizes get one sentence with the choices, and nothing changes."""
    bench = Bench(_first_zone())
    before = bench.view()
    with pytest.raises((JobError, CircuitError)) as caught:
        bench.step(act)
    assert message in str(caught.value)
    assert "\n" not in str(caught.value)
    assert before == bench.view()


def test_every_act_has_a_form():
    """What `checked` lets through is what the table of acts says."""
    for name, slots in ACTS.items():
        act = {"do": name} | {slot: {str: "x", bool: True, int: 1}[kinds[0]] for slot, kinds in slots.items()}
        assert act == checked(act)


@pytest.mark.parametrize(
    ("ask", "message"),
    [
        (("cellar-lights", "a", 1), "no chapter 'cellar-lights'; there are ['step-down-power', "),
        (("heater-loops", "a", 9), "level 9 of heater-loops; there are"),
        (("heater-loops", "", 1), "seed ''; give some text"),
        (("heater-loops", 7, 1), "seed 7; give some text"),
    ],
)
def test_a_job_that_does_not_exist(ask, message):
    """An unknown chapter, level or seed gets one sentence with the choices."""
    with pytest.raises(JobError) as caught:
        drawn(*ask)
    assert message in str(caught.value)


def test_sheets_go_out_and_come_back():
    """A sheet survives writing and reading, verdict and OL readings included."""
    bench = _whole_round(_of("HL-05"))
    bench.step({"do": "verdict", "suspects": [bench.job.answers[0]], "proof": [1, 5], "explanation": "ωhy", "customer": "so"})
    assert bench.sheet(12.5) == parsed(written(bench.sheet(12.5)))
    assert bench.sheet() == parsed(written(bench.sheet()).encode())


def _edited(path, value):
    body = json.loads(written(_whole_round(_of("HL-05")).sheet()))
    here = body
    for step in path[:-1]:
        here = here[step]
    here[path[-1]] = value
    return json.dumps(body)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "damaged"),
        ("[]", "one JSON object"),
        ('{"format": "call-for-heat sheet 2"', "damaged"),
        (b"\xff\xfe{}", "not UTF-8"),
        ("[" * 100_000, "damaged"),
        ("x" * 500_000, "larger than"),
        ('{"format": NaN}', "NaN, which is no number"),
        (_edited(["format"], "sheet 99"), "format is 'sheet 99'"),
        (_edited(["extra"], 1), "unknown ['extra']"),
        (_edited(["job", "level"], True), "job.level must be a whole number"),
        (_edited(["job", "seed"], "x" * 1000), "job.seed must be text"),
        (_edited(["log"], {}), "log must be a list"),
        (_edited(["log", 2, "act"], "x"), "log[2].act must be an object"),
        (_edited(["log", 2, "value"], "27"), "log[2].value must be a number"),
        (_edited(["log", 2, "value"], 1e300), "log[2].value must be a number"),
        (_edited(["log", 2, "events"], [[1]]), "log[2].events[0] must be a time and a text"),
        (_edited(["verdict"], {"suspect": "x"}), "verdict takes"),
    ],
    ids=str,
)
def test_a_bad_sheet_is_refused_in_a_sentence(text, message):
    """A sheet that is not as it must be is refused with the path of the field, never a traceback of ours."""
    with pytest.raises(BadSheet) as caught:
        parsed(text)
    assert message in str(caught.value)


def test_every_chapter_is_on_the_shelf_under_its_name():
    """The shelf knows each chapter by the name that the chapter gives itself."""
    assert {name: module.CHAPTER for name, module in CHAPTERS.items()} == {name: name for name in CHAPTERS}


def test_reference_a_is_a_world_like_any_other():
    """A world can be built from any installation, not only from a drawn job."""
    world, outcome = acted(arrival(REF_A, REF_A), _volts("transformer.R", "transformer.C"))
    assert "27.50 V" == outcome.text
    assert world.state.time == 0


@pytest.mark.parametrize("path", sorted(Path(jobs.__file__).parent.glob("*.py")), ids=lambda path: path.name)
def test_no_row_is_known_by_name(path):
    """No text in the program of a job is a row's id, or the letters that ids begin with: what a row does is in its data."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    texts = {node.value for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str)}
    heads = {id.partition("-")[0] for id in CATALOGUE}
    assert set() == {text for text in texts if text in CATALOGUE or text.rstrip("-") in heads}
