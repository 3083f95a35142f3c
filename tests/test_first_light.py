"""The whole way on files: jobs are drawn, worked, handed in, graded by either door, and explained."""

import html
import re
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from courses import LAB, MACHINE, feedback, job_of, made, nbgrader, rows, sheet_of
from players import careful, lucky, mistaken

from solvers.classroom.collecting import collected
from solvers.classroom.grading import grade
from solvers.jobs.bench import Bench
from solvers.jobs.evidence import against
from solvers.jobs.sheet import parsed

PLAYERS = {"dev": careful, "farid": lucky, "gita": mistaken, "hal": lucky}


@pytest.fixture(scope="module")
def sheets():
    """A sheet from each invented learner."""
    return {learner: sheet_of(player, learner) for learner, player in PLAYERS.items()}


@pytest.fixture(scope="module")
def collected_course(tmp_path_factory, sheets):
    """A course whose learners' files have been collected; Hal's arrived cut short."""
    folder, inbox = made(tmp_path_factory.mktemp("course")), tmp_path_factory.mktemp("inbox")
    for learner, text in sheets.items():
        (inbox / f"{learner}.{LAB}.sheet.json").write_text(text[:300] if learner == "hal" else text, encoding="utf-8")
    report = collected(inbox, folder, LAB)
    return folder, report


@pytest.fixture(scope="module")
def graded(collected_course):
    """That course, graded in one go, with feedback."""
    folder, _ = collected_course
    report = grade(folder, LAB)
    nbgrader(folder, "generate_feedback", LAB, "--force")
    return folder, report


def test_every_file_is_collected_under_its_learner(collected_course):
    """Each sheet lands in its learner's folder, the damaged one too, named as damaged."""
    folder, report = collected_course
    learners = [learner for _, learner in report.taken]
    assert ["dev", "farid", "gita", "hal"] == learners
    assert ["hal"] == [Path(left.path).name.partition(".")[0] for left in report.damaged]
    assert [] == [learner for learner in learners if not (folder / "submitted" / learner / LAB / f"{LAB}.ipynb").exists()]


def test_a_careful_learner_has_every_machine_point(graded):
    """A sheet that measures sensibly, proves its verdict and tidies up has 90 of 90, and no flag."""
    _, report = graded
    row = report.row("dev")
    assert [line.out_of for line in row.result.lines if line.points is not None] == [20, 20, 10, 20, 10, 10]
    assert 90 == row.result.points == row.score
    assert () == row.result.flags
    assert row.waiting, "the explanation is a person's to mark"


def test_a_right_guess_earns_no_verdict_points(graded, sheets):
    """The right cause without a reading that proves it has 0 of the verdict's 20 points, and is told why."""
    _, report = graded
    assert parsed(sheets["farid"]).verdict.suspects == job_of("farid").answers
    line = report.row("farid").result.line("verdict")
    assert 0 == line.points
    assert "guess" in " ".join(line.reasons)


def test_a_wrong_verdict_is_held_against_the_learners_own_readings(graded, sheets):
    """What the feedback says the claim would have shown is what a bench with that very fault does show."""
    _, report = graded
    job, sheet = job_of("gita"), parsed(sheets["gita"])
    claim = job.suspect(sheet.verdict.suspects[0])
    bench = Bench(replace(job, faults=(_fault_of(job, claim, sheet.log),)))
    for entry in sheet.log:
        bench.step(entry.act)
    line = report.row("gita").result.line("verdict")
    named = [re.fullmatch(r"Line (\d+): you found (.+); had that been so, it would show (.+)\.", one) for one in line.reasons]
    named = [one.groups() for one in named if one]
    assert 0 == line.points
    assert named
    for number, found, shown in named:
        assert _holds(found.strip("'\""), sheet.log, int(number) - 1)
        assert _holds(shown.strip("'\""), bench.log, int(number) - 1)


def test_a_damaged_file_is_named_and_stops_nobody(graded):
    """Hal's sheet scores 0 for a stated reason and is left to a person; the others are graded."""
    folder, report = graded
    hal = report.row("hal").result
    assert "The sheet is damaged: it is not whole JSON." == hal.problem
    assert 0 == hal.points
    assert {(0.0, None, True)} == {row for (learner, _), row in rows(folder).items() if learner == "hal"}
    assert 4 == len(report.rows)


def test_nbgrader_gives_the_same_marks(graded, collected_course, tmp_path):
    """Stock `nbgrader autograde` writes the gradebook rows that one-go grading writes, for every learner and cell."""
    folder, _ = graded
    twin = made(tmp_path)
    shutil.copytree(folder / "submitted", twin / "submitted")
    nbgrader(twin, "autograde", LAB)
    ours, theirs = rows(folder), rows(twin)
    assert {(learner, cell) for learner in PLAYERS for cell in (*MACHINE, "explanation")} == set(ours)
    assert ours == theirs
    one, other = ((course / "autograded" / "dev" / LAB / f"{LAB}.ipynb").read_text(encoding="utf-8") for course in (folder, twin))
    assert one == other


@pytest.mark.parametrize("learner", sorted(PLAYERS))
def test_feedback_says_why(graded, learner):
    """The feedback page carries every reason of every criterion, word for word."""
    folder, report = graded
    page = html.unescape(feedback(folder, learner))
    for line in report.row(learner).result.lines:
        for reason in line.reasons:
            assert reason in page


def test_nobody_is_paid_for_handing_in_the_blank_lab(tmp_path):
    """The released notebook, handed in as it is, scores 0 in every cell by either door."""
    course = made(tmp_path)
    folder = course / "submitted" / "ira" / LAB
    folder.mkdir(parents=True)
    shutil.copy(course / "release" / LAB / f"{LAB}.ipynb", folder)
    nbgrader(course, "autograde", LAB)
    stock = rows(course)
    report = grade(course, LAB)
    expected = {("ira", cell): (0.0, None, False) for cell in (*MACHINE, "explanation")}
    assert expected == stock
    assert expected == rows(course)
    assert ("No sheet was handed in.", 0) == (report.row("ira").result.problem, report.row("ira").score)


def _fault_of(job, claim, log):
    """The claimed fault at the size that explains a log best."""
    size = against(job, claim, log).size
    return claim.family[0] if size is None else claim.sized(size)


def _holds(words, log, line):
    """Whether a log shows what a reason quotes: a line's text, a click at its time, or a click that never came."""
    heard = {f"{said} at {time:.0f} s" for entry in log for time, said in entry.events}
    never, _, sound = words.partition("never: ")
    if sound and not never:
        return not [one for one in heard if one.startswith(f"{sound} at ")]
    return words == log[line].text or words in heard
