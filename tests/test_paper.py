"""Paper exercises: the sheet tells no answer, the answers are right, and the command writes what it says."""

import json
import os
import subprocess
import sys
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest
from players import follows

from solvers.chapters.shelf import drawn
from solvers.classroom.errors import ClassroomError
from solvers.classroom.paper import answered, exercises, jobs_of
from solvers.classroom.paper_answers import hunts, proving
from solvers.classroom.paper_marks import letter
from solvers.faults.planting import planted
from solvers.jobs.acts import acted, arrival
from solvers.jobs.bench import Bench
from solvers.jobs.evidence import against
from solvers.jobs.marking import mark
from solvers.jobs.reference import par
from solvers.jobs.situations import situations

ROOT = Path(__file__).resolve().parent.parent
ONE = drawn("heater-loops", "practice/3", 1)
TWO = next(job for job in (drawn("heater-loops", f"practice/{number}", 3) for number in range(1, 60)) if len(job.faults) == 2)
STORY = drawn("stories", "1", 1)
JOBS = [ONE, TWO, STORY]


class Page(HTMLParser):
    """The words of a page, and the names of its elements; raises where elements are not closed in turn."""

    def __init__(self, text):
        super().__init__()
        self.words, self.open, self.names = [], [], []
        self.feed(text)
        assert self.open == []

    def handle_starttag(self, tag, attributes):
        self.names.append(tag)
        if tag not in ("meta", "br"):
            self.open.append(tag)

    def handle_startendtag(self, tag, attributes):
        self.names.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.words.append(data)


def _words(text):
    return " ".join(" ".join(Page(text).words).split())


def _log(job, there, probe):
    """The log of whoever walks to a probe's moment in this house and takes its reading."""
    plan, moments, number = situations(job.design, job.zone), [], probe.situation
    while number >= 0:
        moments.insert(0, number)
        number = plan[number].after
    bench = Bench(job)
    bench.house.world = arrival(job.design, there)
    acts = [act for moment in moments for act in plan[moment].acts]
    for act in [*acts, *([] if json.loads(probe.act)["do"] == "wait" else [json.loads(probe.act)])]:
        bench.step(dict(act))
    return bench.log


@pytest.mark.parametrize("job", JOBS, ids=lambda job: job.id)
def test_a_sheet_depends_on_nothing_that_is_wrong(job):
    """The sheet of a job is the same text, byte for byte, whichever of its suspects is the answer."""
    told = exercises([job])
    for suspect in job.suspects:
        other = replace(job, faults=(suspect.family[-1],), answers=(suspect.id,))
        assert told == exercises([other])
    assert [] == [suspect.id for suspect in job.suspects if suspect.words[1:] not in _words(told)]


@pytest.mark.parametrize("job", JOBS, ids=lambda job: job.id)
def test_the_answers_name_the_fault_and_par(job):
    """The answer page has the letter and the words of every fault, and par."""
    told = _words(answered([job]))
    for answer in job.answers:
        assert f"{letter(job, answer)}. {job.suspect(answer).words}" in told
    assert f"Par: {par(job):g} readings" in told


def test_the_proving_readings_prove():
    """Each proving reading, taken at the bench, shows what the answer page says, rules out its rival and leaves the answer."""
    for job in (ONE, STORY):
        (hunt,) = hunts(job)
        lines = proving(job, hunt)
        assert len(lines) >= 2
        for line in lines:
            log = _log(job, job.actual, line.probe)
            assert log[-1].text == line.shows
            assert against(job, job.suspect(line.rival), log).contradictions
            assert against(job, job.suspect(hunt.answer), log).survives
        assert lines[-1].left == (hunt.answer,)


def test_of_two_faults_both_are_proven():
    """Of two faults the second is read in the house with the first one repaired."""
    first, second = hunts(TWO)
    assert {first.answer, second.answer} == set(TWO.answers)
    assert first.there == TWO.actual
    assert second.there == planted(TWO.design, TWO.faults[TWO.answers.index(second.answer)])
    assert all(proving(TWO, hunt)[-1].left == (hunt.answer,) for hunt in (first, second))


def test_what_is_read_out_is_what_the_bench_shows():
    """A reading on call taken at the bench stands in the table that the instructor reads out, in the column of its moment."""
    told = answered([ONE])
    world = arrival(ONE.design, ONE.actual)
    world, _ = acted(world, {"do": "call", "stat": f"{ONE.zone}.stat", "on": True})
    valve = ONE.design.part(f"{ONE.zone}.valve")
    first, second = valve.drive_pair
    _, shown = acted(world, {"do": "measure", "function": "volts", "first": first, "second": second})
    place = f"{first.replace(ONE.zone + '.valve', 'valve ' + ONE.zone[4:])} to".replace(".", " ")
    table = told[told.index('<table class="values">') :]
    row = next(line for line in table.splitlines() if place in line and "<tr><td>" in line)
    assert row.split("<td>")[3].removesuffix("</td>") == shown.text


def test_sheets_and_answers_stand_apart():
    """A document with answers is the one without, and after all its sheets the answers."""
    plain, whole, told = exercises([ONE, TWO]), exercises([ONE, TWO], with_answers=True), answered([ONE, TWO])
    assert whole.startswith(plain.removesuffix("</body>\n</html>\n"))
    assert told[told.index("<body>") + 7 :] == whole[len(plain.removesuffix("</body>\n</html>\n")) :]
    assert "Answer" not in _words(plain)
    assert "script" not in Page(whole).names


def test_par_can_be_kept():
    """A player who takes the most telling reading each time stays within the par that is printed, and is marked for it."""
    bench = follows(ONE)
    marks = mark(ONE, bench.sheet())
    assert next(line for line in marks.lines if line.criterion == "economy").points == 10


@pytest.mark.parametrize(
    ("asked", "message"),
    [
        (("attic", 1, "paper", 1), "no chapter 'attic'; there are step-down-power"),
        (("heater-loops", 9, "paper", 1), "no level 9 of heater-loops; there are 1, 2, 3"),
        (("stories", 1, "40", 1), "no story '40' to begin with; --seed takes one of 1, 2"),
        (("heater-loops", 1, " ", 0), None),
    ],
)
def test_what_does_not_exist_is_refused(asked, message):
    """A chapter, level or story that does not exist is refused with those that do; no jobs are no error."""
    if message is None:
        assert jobs_of(*asked) == ()
        return
    with pytest.raises(ClassroomError, match=message):
        jobs_of(*asked)


def test_the_command_writes_both_files(tmp_path):
    """The command writes the sheets into one file and the answers into another, the jobs of the seeds it names."""
    words = ["paper", "--chapter", "stories", "--seed", "1", "--count", "1", "sheets.html", "--answers", "answers.html"]
    told = subprocess.run(
        [sys.executable, "-m", "solvers", *words], capture_output=True, text=True, cwd=tmp_path, timeout=300, env=_environment()
    )
    assert told.returncode == 0, told.stderr
    assert (tmp_path / "sheets.html").read_text(encoding="utf-8") == exercises([STORY])
    assert (tmp_path / "answers.html").read_text(encoding="utf-8") == answered([STORY])
    assert sorted(path.name for path in tmp_path.iterdir()) == ["answers.html", "sheets.html"]


def _environment():
    return {**os.environ, "PYTHONPATH": str(ROOT)}
