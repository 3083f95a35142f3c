"""Grading against the lab files that were handed out: what a learner was shown is what a log is held against."""

import hashlib
import shutil
from dataclasses import replace

import pytest
from courses import KEYS, LAB, handed_in, job_of, key_for, made, nbgrader, rows

from solvers.classroom.grading import grade
from solvers.classroom.keys import key_path
from solvers.classroom.keys import written as key_written
from solvers.classroom.labs import lab_file
from solvers.classroom.report import told
from solvers.classroom.seeds import seed_of
from solvers.jobs.sealed import SealedBench, opened
from solvers.jobs.sealing import sealed
from solvers.jobs.sheet import written

LEARNERS = ("anna", "mo")


@pytest.fixture(scope="module")
def released(tmp_path_factory):
    """A course in which two learners have sealed jobs, with their digests in the key."""
    course, key = made(tmp_path_factory.mktemp("sealed"), key_for(LEARNERS)), KEYS["job"]
    held = {}
    for learner in LEARNERS:
        data = sealed(job_of(learner), name=seed_of(LAB, learner), learner=learner)
        lab_file(course, LAB, "job", learner).write_bytes(data)
        held[learner] = replace(key.held[learner], digest=hashlib.sha256(data).hexdigest())
    key_path(course, LAB).write_text(key_written(replace(key, held=held)))
    return course


@pytest.fixture
def course(released, tmp_path):
    """A copy of that course."""
    return shutil.copytree(released, tmp_path / "course")


def _worked(course, learner):
    """What a learner of theirs does with the file alone: a call, a wait, three readings, and the claim of the right number."""
    bench = SealedBench(opened(lab_file(course, LAB, "job", learner).read_bytes()), learner)
    bench.step({"do": "call", "stat": "zone1.stat", "on": True})
    bench.step({"do": "wait", "seconds": 420})
    for ends in (("transformer.R", "transformer.C"), ("zone1.stat.R", "zone1.stat.W"), ("zone1.stat.W", "transformer.C")):
        bench.step({"do": "measure", "function": "volts", "first": ends[0], "second": ends[1]})
    bench.step({"do": "call", "stat": "zone1.stat", "on": False})
    job = job_of(learner)
    number = [one.id for one in job.suspects].index(job.answers[0]) + 1
    bench.step({"do": "verdict", "suspects": [str(number)], "proof": [2, 3], "explanation": "As read.", "customer": ""})
    return bench.sheet()


def test_a_sheet_of_a_sealed_job_is_marked_without_a_flag(course, tmp_path):
    """What the file showed replays, the claim's number is read as the cause it stands for, and both doors agree."""
    for learner in LEARNERS:
        handed_in(course, learner, written(_worked(course, learner)))
    stock = shutil.copytree(course, tmp_path / "stock")
    report = grade(course, LAB)
    for learner in LEARNERS:
        result = report.row(learner).result
        assert ("", (), ()) == (result.problem, result.flags, result.notes)
        assert "Right" in " ".join(result.line("verdict").reasons)
    nbgrader(stock, "autograde", LAB)
    assert rows(course) == rows(stock)


def test_a_reading_that_was_never_shown_is_flagged_and_costs_nothing(course):
    """A forged reading is for a talk: the flag names its line, and the marks are those of what was really done."""
    honest = _worked(course, "anna")
    forged = replace(honest, log=(*honest.log[:2], replace(honest.log[2], value=12.34, text="12.34 V"), *honest.log[3:]))
    handed_in(course, "anna", written(honest))
    before = grade(course, LAB).row("anna").result
    (course / "submitted" / "anna" / LAB / f"{LAB}.sheet.json").write_text(written(forged))
    report = grade(course, LAB)
    assert before.lines == report.row("anna").result.lines
    assert "line 3 says '12.34 V'" in report.row("anna").result.flags[0]
    assert "For a talk, no marks:\n  anna: Log line 3" in told(report)


def test_a_neighbours_log_under_ones_own_name_is_named(course):
    """Mo hands in Anna's log as his own: it fits her lab file and not his, and the report names both; it is no mark."""
    anna = _worked(course, "anna")
    handed_in(course, "anna", written(anna))
    handed_in(course, "mo", written(replace(anna, learner="mo", seed=seed_of(LAB, "mo"))))
    report = grade(course, LAB)
    assert [("anna", "mo"), ("mo", "anna")] == [one.learners for one in report.copies]
    assert "fit the lab of anna" in report.copies[1].words
    assert "" == report.row("mo").result.problem
    assert f"How they began, and their pauses:\n  anna: {len(anna.log)} lines" in told(report)


@pytest.mark.parametrize("damage", ["gone", "changed"])
def test_a_lab_file_that_does_not_fit_the_key_is_told_and_the_job_itself_is_asked(course, damage):
    """Without the file that was handed out the flags come from the job, and the report says so beside the learner."""
    handed_in(course, "anna", written(_worked(course, "anna")))
    path = lab_file(course, LAB, "job", "anna")
    path.unlink() if damage == "gone" else path.write_bytes(path.read_bytes() + b" ")
    report = grade(course, LAB)
    result = report.row("anna").result
    assert ("", ()) == (result.problem, result.flags)
    assert "missing or is not the one" in result.notes[0]
    assert "About the course:\n  anna: " in told(report)
