"""Jobs: drawn from a seed, solvable, worked on a bench whose log replays anywhere."""

import json

import pytest
from reference_circuits import REF_A

from solvers.chapters.shelf import CHAPTERS, drawn
from solvers.circuit import CircuitError
from solvers.faults.planting import planted
from solvers.jobs.acts import ACTS, acted, arrival, checked, replayed
from solvers.jobs.bench import Bench
from solvers.jobs.evidence import against, cases, survivors
from solvers.jobs.job import JobError
from solvers.jobs.sheet import BadSheet, parsed, written
from solvers.jobs.survey import inseparable, nearest, par, separating, survey

SEEDS = [f"proof/{number}" for number in range(200)]
PINNED = (
    "HL-08 zone2",
    "HL-05 zone2",
    "HL-23 zone1",
    "HL-09 zone1 W splice",
    "HL-05 zone2",
    "HL-23 zone2",
    "HL-10 zone1 R splice",
    "HL-23 zone2",
    "HL-03 zone1",
    "HL-01 zone2",
    "HL-08 zone2",
    "HL-09 zone2 C splice",
    "HL-05 zone2",
    "HL-29 zone1",
    "HL-23 zone2",
    "HL-10 zone1 C splice",
    "HL-01 zone2",
    "HL-08 zone1",
    "HL-08 zone2",
    "HL-02 zone2",
)  # fmt: skip


def _volts(first, second):
    return {"do": "measure", "function": "volts", "first": first, "second": second}


def _whole_round(job):
    """A log that looks everywhere in the zone that is complained of."""
    zone, bench = job.zone, Bench(job)
    valve = job.design.part(f"{zone}.valve")
    bench.step({"do": "look", "part": valve.name})
    bench.step(_volts("R bus.fuse", "transformer.C"))
    bench.step({"do": "call", "stat": f"{zone}.stat", "on": True})
    for joint in (f"{zone}.R splice", f"{zone}.W splice"):
        bench.step(_volts(f"{joint}.1", f"{joint}.2"))
    bench.step(_volts(*valve.heater_pair))
    bench.step(_volts(valve.heater_pair[1], "transformer.C"))
    bench.step(_volts(f"C bus.{zone}", "C bus.trunk"))
    bench.step({"do": "clamp", "wire": f"{zone}.W leg", "turns": 1})
    bench.step({"do": "wait", "seconds": 900})
    bench.step({"do": "feel", "part": valve.name})
    bench.step(_volts("boiler.T1", "boiler.T2"))
    bench.step({"do": "call", "stat": f"{zone}.stat", "on": False})
    for supply in ("transformer", "boiler"):
        bench.step({"do": "switch", "part": supply, "on": False})
    for terminal in valve.heater_pair:
        bench.step({"do": "lift", "terminal": terminal})
    bench.step({"do": "measure", "function": "ohms", "first": valve.heater_pair[0], "second": valve.heater_pair[1]})
    return bench


def test_the_first_twenty_jobs_stay_what_they_are():
    """A seed keeps its job for good: adding a decision never reshuffles old ones."""
    found = tuple(drawn("heater-loops", f"pin/{number}").answer for number in range(20))
    assert PINNED == found


def test_a_job_follows_from_its_seed_alone():
    """The same seed gives the same job; another seed another circuit."""
    assert drawn("heater-loops", "a") == drawn("heater-loops", "a")
    assert drawn("heater-loops", "a").design != drawn("heater-loops", "b").design


def test_every_row_is_drawn_sooner_or_later():
    """Two hundred seeds plant every row of the chapter."""
    rows = {suspect.row.id for seed in SEEDS for suspect in drawn("heater-loops", seed).suspects}
    assert rows == {drawn("heater-loops", seed).fault.row for seed in SEEDS}


@pytest.mark.parametrize("block", range(8))
def test_two_hundred_jobs_are_solvable(block):
    """In each of the first 200 seeds some allowed reading parts every pair of suspects, whatever their sizes."""
    for seed in SEEDS[block::8]:
        assert () == inseparable(survey(drawn("heater-loops", seed))), seed


@pytest.mark.parametrize("seed", SEEDS[:12])
def test_the_survey_reads_what_the_bench_reads(seed):
    """A probe of the survey that is done on the bench shows the same display: one physics, two ways of solving it."""
    job = drawn("heater-loops", seed)
    found = survey(job)
    answer = found.suspects.index(job.answer)
    world = arrival(job.design, planted(job.design, job.suspect(job.answer).family[0]))
    compared = 0
    for probe, outcomes in found.outcomes.items():
        if probe.situation == 0:
            _, outcome = acted(world, json.loads(probe.act))
            assert outcome == outcomes[answer][0]
            compared += 1
    assert compared > 20


@pytest.mark.parametrize("seed", SEEDS[:25])
def test_the_planted_fault_is_never_spoken_against(seed):
    """Whatever is read, the true suspect survives, and after a whole round nobody else does."""
    job = drawn("heater-loops", seed)
    found = {case.suspect.id: case for case in cases(job, _whole_round(job).log)}
    assert () == found[job.answer].contradictions
    assert [job.answer] == [id for id, case in found.items() if case.survives]


def test_a_contradiction_comes_from_simulating_the_claim():
    """The number in a contradiction is what the claimed fault shows on this circuit for the same act."""
    job = next(job for job in (drawn("heater-loops", seed) for seed in SEEDS) if job.fault.row == "HL-05")
    log = _whole_round(job).log
    claim = next(suspect for suspect in job.suspects if suspect.row.id == "HL-01")
    case = against(job, claim, log)
    shown = replayed(arrival(job.design, planted(job.design, claim.family[0])), [line.act for line in log])
    assert case.contradictions
    for one in case.contradictions:
        assert one.observed == log[one.line].text
        assert one.expected == shown[one.line].text


def test_a_size_between_the_steps_is_found():
    """A suspect with a range is tried at the size that fits: the ohms come out within a tenth."""
    job = next(job for job in (drawn("heater-loops", seed) for seed in SEEDS) if job.fault.row == "HL-09")
    case = next(case for case in cases(job, _whole_round(job).log) if case.suspect.id == job.answer)
    assert job.fault.size == pytest.approx(case.size, rel=0.1)


def test_an_empty_log_proves_nothing():
    """Before the first reading every suspect stands."""
    job = drawn("heater-loops", SEEDS[0])
    assert tuple(suspect.id for suspect in job.suspects) == survivors(job, [])


def test_par_is_a_path_that_ends():
    """Par is small, at least the two proving readings, and the look-alike is another suspect that can be told apart."""
    for seed in SEEDS[:10]:
        job = drawn("heater-loops", seed)
        found = survey(job)
        assert 2 <= par(found, job.answer) <= 9
        twin = nearest(found, job.answer)
        assert twin != job.answer
        assert separating(found, job.answer, twin)


def test_one_conductor_changes_the_reading():
    """Moving one end of one conductor in the data changes what the meter shows."""
    job = drawn("heater-loops", SEEDS[0])
    act = _volts("C bus.trunk", "transformer.C")
    _, before = acted(arrival(job.design, job.design), act)
    _, after = acted(arrival(job.design, job.design.with_conductor("C trunk", b="transformer.R")), act)
    assert before.text != after.text


def test_the_bench_tells_nothing():
    """Neither brief nor view of a job holds the fault, its size or anything that only the planted circuit has."""
    for seed in SEEDS[:20]:
        job = drawn("heater-loops", seed)
        bench = Bench(job)
        brief = bench.brief()
        shown = json.dumps([{key: brief[key] for key in brief if key != "suspects"}, bench.view()])
        assert job.answer not in shown
        assert job.fault.row not in shown
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
    ({"do": "verdict", "suspect": "the cat", "proof": []}, "no suspect 'the cat'; there are"),
    ({"do": "verdict", "suspect": "HL-01 zone1", "proof": [0, 1, 2]}, "give the numbers of two log lines"),
    ({"do": "verdict", "suspect": "HL-01 zone1", "proof": [7]}, "log line 7"),
    ({"do": "verdict", "suspect": "HL-01 zone1", "proof": [], "explanation": 3}, "explanation must be text"),
]


@pytest.mark.parametrize(("act", "message"), BAD_ACTS, ids=lambda value: str(value)[:60])
def test_a_bad_act_is_refused_in_a_sentence(act, message):
    """Unknown acts, parts, points, functions and sizes get one sentence with the choices, and nothing changes."""
    job = next(job for job in (drawn("heater-loops", seed) for seed in SEEDS) if job.zone == "zone1")
    bench = Bench(job)
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
        (("cellar-lights", "a", 1), "no chapter 'cellar-lights'; there are ['heater-loops']"),
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
    bench = _whole_round(drawn("heater-loops", SEEDS[3]))
    bench.step({"do": "verdict", "suspect": bench.job.answer, "proof": [1, 5], "explanation": "ωhy", "customer": "so"})
    assert bench.sheet(12.5) == parsed(written(bench.sheet(12.5)))
    assert bench.sheet() == parsed(written(bench.sheet()).encode())


def _edited(path, value):
    body = json.loads(written(_whole_round(drawn("heater-loops", SEEDS[3])).sheet()))
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
        ('{"format": "call-for-heat sheet 1"', "damaged"),
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
