"""A sealed job shows, act by act, what the real circuit shows, and its file tells nobody what is wrong."""

from __future__ import annotations

import base64
import json
import random
import zlib
from itertools import combinations

import pytest

from solvers.chapters.shelf import drawn
from solvers.jobs.bench import entry
from solvers.jobs.declared import declared
from solvers.jobs.graded import GradedBench, NotSealable
from solvers.jobs.job import JobError
from solvers.jobs.sealed import LARGEST, BadSealed, SealedBench, named, opened, unlike
from solvers.jobs.sealing import sealed
from solvers.jobs.situations import situations
from solvers.jobs.working import replays

ONE = ("heater-loops", "practice/12", 1)
JOBS = (
    ONE,
    ("step-down-power", "practice/9", 1),
    ("thermostat-switching", "practice/2", 1),
    ("end-switches", "practice/2", 1),
    ("service-calls", "practice/7", 1),
)
FUNCTIONS = ("volts", "volts low-Z", "ohms", "beeper", "millivolts", "volts DC")


@pytest.fixture(scope="module")
def files():
    """The sealed file of each job, made once."""
    known = {}

    def file(job):
        if job not in known:
            known[job] = sealed(drawn(*job), name="lab/anna", learner="anna")
        return known[job]

    return file


def _acts(bench, chance):
    """One act by chance: a reading, a sense, a wait, or whatever may be changed now."""
    view, house, kind = bench.view(), bench.house, chance.random()
    if kind < 0.45:
        first, second = chance.sample(view["points"], 2)
        return {"do": "measure", "function": chance.choice(FUNCTIONS), "first": first, "second": second}
    if kind < 0.5:
        wires = [wire.name for wire in house.design.conductors] + bench.brief()["cables"]
        return {"do": "clamp", "wire": chance.choice(wires), "turns": chance.choice([1, 10])}
    if kind < 0.6:
        return {"do": chance.choice(["look", "listen", "feel"]), "part": chance.choice(house.design.parts).name}
    if kind < 0.62:
        return {"do": "covers"}
    if kind < 0.7:
        return {"do": "wait", "seconds": chance.choice([5, 30, 60, 90, 200, 600, 1500])}
    return chance.choice(list(house.rules.begins(house.standing)))


def _walk(live, tape, seed, steps):
    """Both benches worked alike; whatever one refuses the other refuses in the same words."""
    chance = random.Random(seed)
    for _ in range(steps):
        act, said = _acts(tape, chance), []
        for bench in (live, tape):
            try:
                bench.step(act)
                said.append("")
            except ValueError as problem:
                said.append(str(problem))
        assert said[0] == said[1]
    return live.log, tape.log


def _alike(one, other):
    """Whether two lines show the same, but for the warmth of pipes, which outlasts a call: a tape has no yesterday."""
    if one.act["do"] not in ("look", "listen", "feel"):
        return replays(one, other)
    lines = [dict(thing.split(": ", 1) for thing in line.signal.split("; ")) for line in (one, other)]
    for things in lines:
        for pipe in {"pipe", "supply", "return"} & things.keys():
            del things[pipe]
    return lines[0] == lines[1]


@pytest.mark.parametrize("job", JOBS, ids=lambda job: job[0])
def test_a_tape_shows_what_the_circuit_shows(job, files):
    """Whatever is done on a sealed job shows, within one digit and half a second, what the live graded bench shows."""
    real = drawn(*job)
    for walk in range(3):
        live, tape = GradedBench(real), SealedBench(opened(files(job)))
        ours, theirs = _walk(live, tape, f"{job}/{walk}", 40)
        assert [line.act for line in ours] == [line.act for line in theirs]
        assert [_alike(one, other) for one, other in zip(ours, theirs, strict=True)] == [True] * len(ours)
        mine, yours = live.view(), tape.view()
        for slot in ("lifted", "jumpers", "uncovered", "calls", "supplies", "seen", "stopped", "referred"):
            assert mine[slot] == yours[slot]
        assert sorted(mine["points"]) == sorted(yours["points"])
        assert live.house.stands().outside.lifted == tape.house.stands().outside.lifted


@pytest.mark.slow
@pytest.mark.parametrize("job", JOBS, ids=lambda job: job[0])
def test_every_reading_of_a_state_is_the_circuits(job, files):
    """In states met by chance every pair with every function, every wire and every sense shows what the circuit shows."""
    real, file = drawn(*job), opened(files(job))
    for walk in range(4):
        live, tape = GradedBench(real), SealedBench(file)
        _walk(live, tape, f"every/{job}/{walk}", 25)
        acts = [
            {"do": "measure", "function": function, "first": first, "second": second}
            for first, second in combinations(tape.view()["points"], 2)
            for function in FUNCTIONS
        ]
        acts += [{"do": "clamp", "wire": wire, "turns": 10} for wire in tape.brief()["wires"]]
        acts += [{"do": how, "part": part.name} for part in file.design.parts for how in ("look", "listen", "feel")]
        for act in acts:
            [mine], [yours] = live.house.done(act), tape.house.done(act)
            assert _alike(entry(act, mine.clock, mine.outcome), entry(act, yours.clock, yours.outcome)), act


@pytest.mark.parametrize("job", JOBS, ids=lambda job: job[0])
def test_a_log_replays_on_its_file_and_one_changed_reading_does_not(job, files):
    """The log of a live graded bench replays on the sealed file; with one reading edited the line is named."""
    bench, file = GradedBench(drawn(*job)), opened(files(job))
    first, second = bench.view()["points"][:2]
    bench.step({"do": "call", "stat": "zone1.stat", "on": True})
    bench.step({"do": "wait", "seconds": 600})
    bench.step({"do": "measure", "function": "volts", "first": first, "second": second})
    sheet = bench.sheet()
    assert unlike(file, sheet.log) == ()
    edited = json.loads(json.dumps(bench.view()["log"][-1]))
    lines = list(sheet.log)
    lines[-1] = type(lines[-1])(lines[-1].act, lines[-1].clock, "1.23 V", edited["value"] + 1.0, lines[-1].step)
    [told] = unlike(file, lines)
    assert told.startswith(f"Log line {len(lines)} says '1.23 V' where this job shows ")
    assert unlike(file, [lines[0], lines[2], lines[1]])[0].startswith("Log line 2 ")


@pytest.mark.parametrize("job", JOBS, ids=lambda job: job[0])
def test_the_file_names_no_fault(job, files):
    """Neither rows, sizes nor ids of faults stand in the file, packed or unpacked; the claims stand there all alike."""
    real, data = drawn(*job), files(job)
    body = json.loads(data)
    texts = [data.decode(), *(_unpacked(one) for one in _packed(body))]
    answer = real.answers[0]
    for text in texts:
        for fault in real.faults:
            assert answer not in text
            assert fault.row not in text
            for change in fault.changes:
                assert f'"{type(change).__name__}"' not in text
        assert real.seed not in text
    assert body["suspects"] == [suspect.words for suspect in real.suspects]
    assert opened(data).design == real.design


def _packed(body):
    """Every packed text of a sealed file."""
    tables = [body["sense_rows"], body["rows"], *body["lead_rows"].values()]
    return [body["tape"], *(table[plane] for table in tables for plane in ("low", "high"))]


def _unpacked(text):
    return zlib.decompress(base64.b85decode(text)).decode("latin-1")


@pytest.mark.parametrize("job", JOBS, ids=lambda job: job[0])
def test_a_file_is_small(job, files):
    """A sealed job can be sent by mail: at most 500 kB."""
    assert len(files(job)) <= LARGEST == 500_000


@pytest.mark.parametrize("job", JOBS, ids=lambda job: job[0])
def test_the_standard_round_can_be_worked_under_the_rules(job):
    """Every situation from which a job's proof reads can be reached on a graded bench, and every such reading taken."""
    real = drawn(*job)
    round_ = situations(real.design, real.zone)
    for situation in round_:
        bench = GradedBench(real)
        for act in _way(round_, situation):
            bench.step(dict(act))
        for act in situation.reads or ():
            bench.step(dict(act))
        assert bench.log or not situation.acts


def _way(round_, situation):
    before = () if situation.after < 0 else _way(round_, round_[situation.after])
    return (*before, *situation.acts)


REFUSED = (
    ({"do": "measure", "function": "amps jack", "first": "transformer.R", "second": "transformer.C"}, "current jack"),
    ({"do": "jumper", "first": "transformer.R", "second": "transformer.C", "on": True}, "is not among what this job admits"),
    ({"do": "meter fuse"}, "is not among what this job admits"),
    ({"do": "land", "terminal": "zone1.stat.R"}, "is not lifted"),
    ({"do": "look", "part": "cellar"}, "no part 'cellar'"),
    ({"do": "switch", "part": "zone1.stat", "on": True}, "is no supply"),
    ({"do": "dance"}, "no act 'dance'"),
    ({"do": "wait", "seconds": 0}, "wait from 1 s"),
    ({"do": "measure", "function": "volts", "first": "zone1.stat.R", "second": "moon"}, "no test point 'moon'"),
    ({"do": "clamp", "wire": "zone1.W leg", "turns": 11}, "wind 1 to 10 turns"),
    ({"do": "refer", "to": "baker"}, "no trade 'baker'"),
    ({"do": "line reading", "part": "transformer", "what": "smell"}, "no line reading 'smell'"),
)


@pytest.mark.parametrize(("act", "words"), REFUSED, ids=lambda one: one["do"] if isinstance(one, dict) else None)
def test_what_is_not_admitted_is_refused_alike(act, words, files):
    """A graded bench refuses what the job does not admit in one sentence, the same live and sealed, and nothing changes."""
    said = []
    for bench in (GradedBench(drawn(*ONE)), SealedBench(opened(files(ONE)))):
        before = bench.view()
        with pytest.raises(ValueError, match=r".") as refused:
            bench.step(act)
        assert bench.view() == before
        said.append(str(refused.value))
    assert said[0] == said[1]
    assert words in said[0]


def test_one_thing_is_set_apart_at_a_time(files):
    """With a lead lifted no other part's lead is lifted, no jumper goes on, and no second zone calls."""
    bench = SealedBench(opened(files(ONE)))
    bench.step({"do": "lift", "terminal": "zone1.stat.R"})
    for act, words in (
        ({"do": "lift", "terminal": "zone2.stat.R"}, "the lead at zone1.stat.R is lifted: land it first"),
        ({"do": "jumper", "first": "boiler.T1", "second": "boiler.T2", "on": True}, "land it first"),
        ({"do": "call", "stat": "zone2.stat", "on": True}, "turn zone2.stat down first"),
    ):
        with pytest.raises(JobError, match=words):
            bench.step(act)
    bench.step({"do": "call", "stat": "zone1.stat", "on": True})
    bench.step({"do": "land", "terminal": "zone1.stat.R"})
    assert bench.view()["lifted"] == []


def test_what_moves_is_let_finish(files):
    """An act while a valve is on its way is preceded by a wait that stands in the log; a reading is not."""
    for bench in (GradedBench(drawn(*ONE)), SealedBench(opened(files(ONE)))):
        zone = next(zone for zone in bench.job.design.zones if zone != drawn(*ONE).zone)
        bench.step({"do": "call", "stat": f"{zone}.stat", "on": True})
        bench.step({"do": "measure", "function": "volts", "first": "transformer.R", "second": "transformer.C"})
        bench.step({"do": "call", "stat": f"{zone}.stat", "on": False})
        assert [line.act["do"] for line in bench.log] == ["call", "measure", "wait", "call"]
        assert bench.log[2].act["seconds"] == 1200.0
        assert bench.log[2].events
        assert bench.log[3].clock == bench.log[2].clock


def test_every_supply_goes_with_one(files):
    """One switch switches transformer and boiler, each with its own line of the log."""
    bench = SealedBench(opened(files(ONE)))
    bench.step({"do": "switch", "part": "boiler", "on": False})
    assert [line.act["part"] for line in bench.log] == ["transformer", "boiler"]
    assert set(bench.view()["supplies"].values()) == {False}


def test_the_verdict_names_numbers_and_marks_find_the_ids(files):
    """A sheet of a sealed job claims a number of its list; with the job's ids put back it is marked as any other."""
    real = drawn(*ONE)
    bench = SealedBench(opened(files(ONE)))
    number = str([suspect.id for suspect in real.suspects].index(real.answers[0]) + 1)
    bench.step({"do": "look", "part": "zone1.valve"})
    bench.step({"do": "verdict", "suspects": [number], "proof": [0]})
    assert bench.sheet().seed == "lab/anna"
    assert bench.sheet().learner == "anna"
    assert named(bench.sheet(), real).verdict.suspects == real.answers
    with pytest.raises(JobError, match="no suspect '99'"):
        bench.job.suspect("99")


def test_what_no_tape_can_hold_is_refused():
    """A job of two faults, or of a head that cycles on its limit, cannot be sealed, and the reason is told."""
    two = next(job for job in (drawn("heater-loops", f"practice/{n}", 3) for n in range(1, 30)) if len(job.faults) == 2)
    with pytest.raises(NotSealable, match="2 faults"):
        sealed(two, name="x")


def _damaged(data):
    """Files that are no sealed job, with a word of what is said of each."""
    whole = json.loads(data)

    def but(**changes):
        return json.dumps({**whole, **changes}).encode()

    bomb = base64.b85encode(zlib.compress(b"0" * 200_000_000)).decode()
    far = {**whole["rows"], "after": [5, *whole["rows"]["after"][1:]]}
    return (
        (b"", "not whole JSON"),
        (data[: len(data) // 2], "not whole JSON"),
        (b"\xff\xfe" + data, "UTF-8"),
        (b"[]", "one JSON object"),
        (b" " * 600_000, "larger than"),
        (but(format="other"), "format is 'other'"),
        (but(tape=bomb), "unpacks to more than"),
        (but(tape="???"), "damaged"),
        (but(tape=base64.b85encode(zlib.compress(b"{}")).decode()), "damaged"),
        (but(rows={**whole["rows"], "low": bomb}), "unpacks to more than"),
        (but(rows=far), "rows.after"),
        (but(rows={**whole["rows"], "width": 10**9}), "rows.width"),
        (but(design={"kind": "Bomb"}), "of kind 'Bomb'"),
        (but(design={**whole["design"], "parts": []}), "."),
        (but(suspects="all"), "suspects must be a list"),
        (but(extra=1), "unknown"),
        (json.dumps({name: one for name, one in whole.items() if name != "story"}).encode(), "missing ['story']"),
    )


@pytest.mark.parametrize("number", range(17))
def test_a_damaged_file_is_refused_in_a_sentence(number, files):
    """Whatever is wrong with a file is told with its place; nothing is unpacked beyond what a tape may hold."""
    data, words = _damaged(files(ONE))[number]
    with pytest.raises(BadSealed, match=r".") as refused:
        opened(data)
    assert words in str(refused.value)


def test_rules_come_from_drawing_and_suspects_alone():
    """Two jobs that differ in their fault alone admit the same acts."""
    job = drawn(*ONE)
    other = type(job)(**{slot: getattr(job, slot) for slot in type(job).__dataclass_fields__} | {"faults": ()})
    assert declared(job) == declared(other)
