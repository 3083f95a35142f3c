"""Simulated players: the one that reads with a plan comes out at par, and every bad habit shows and is named."""

import json
from functools import cache
from statistics import fmean

import pytest
from players import PLAYERS, follows

from solvers.chapters.shelf import CHAPTERS
from solvers.faults import fault
from solvers.jobs.marking import mark
from solvers.jobs.survey import survey

DRAWN = fault.CHAPTERS
FEW = [(name, 1, 0) for name in DRAWN]
MORE = [(name, level, seed) for name in DRAWN for level in CHAPTERS[name].LEVELS for seed in range(1, 5)]
HABITS = {
    "guesses": "This was a guess",
    "replaces": "You replaced parts to see what happens",
    "beeps": "You trusted the beeper",
    "hasty": "You did not wait: valve",
    "everything": "You measured everything",
}


@cache
def _job(chapter, level, seed):
    return CHAPTERS[chapter].draw(f"players/{seed}", level)


@cache
def _marks(player, *which):
    job = _job(*which)
    return mark(job, PLAYERS[player](job, player, str(which[-1])).sheet())


def _holds_marks(marks):
    assert fmean(one.points for one in marks) >= 85
    assert [True] * len(marks) == [one.right and one.argued for one in marks]
    assert {()} == {one.flags for one in marks}


def test_the_best_next_reading_comes_out_at_par():
    """Who follows the best next reading needs par, within a tenth on average, and gets at least 85 of the machine's 90."""
    marks = [_marks("follows", *which) for which in FEW]
    assert fmean(one.par for one in marks) == pytest.approx(fmean(one.readings for one in marks), rel=0.1)
    _holds_marks(marks)


@pytest.mark.slow
def test_the_best_next_reading_needs_no_more_than_par_on_many_jobs():
    """Over every level the same player needs at most a tenth more than par, and has at least 85 of 90.

    It may need less: a danger is not proven twice, and what was read for a first fault serves for a second.
    """
    marks = [_marks("follows", *which) for which in MORE]
    assert fmean(one.readings for one in marks) <= 1.1 * fmean(one.par for one in marks)
    _holds_marks(marks)


@pytest.mark.parametrize("which", FEW, ids=str)
def test_a_guess_earns_no_verdict_points(which):
    """Naming the likeliest cause without a reading gets nothing for the verdict, right or wrong."""
    assert 0 == next(line.points for line in _marks("guesses", *which).lines if line.criterion == "verdict")


@pytest.mark.parametrize("which", FEW, ids=str)
def test_replacing_parts_at_random_stays_under_forty(which):
    """Parts swapped until the complaint is gone earn less than 40, however soon the right one is hit."""
    assert _marks("replaces", *which).points < 40


@pytest.mark.slow
@pytest.mark.parametrize("which", MORE, ids=str)
def test_replacing_parts_at_random_stays_under_forty_on_many_jobs(which):
    """The same holds over every level."""
    assert _marks("replaces", *which).points < 40


def test_who_measures_everything_is_right_and_pays():
    """Reading the whole round ends with the right verdict, and with nothing for economy."""
    for which in FEW[3:4]:
        marks = _marks("everything", *which)
        points = {line.criterion: line.points for line in marks.lines}
        assert (True, True, 20, 0) == (marks.right, marks.argued, points["verdict"], points["economy"])


def _told(player, which):
    marks = _marks(player, *which)
    assert [1] == [sum(HABITS[player] in sentence for sentence in marks.feedback)]


@pytest.mark.parametrize("player", HABITS)
def test_every_habit_is_named(player):
    """Each bad habit is told in one sentence of the feedback that names it."""
    for which in FEW[3:4] if player == "everything" else FEW[1::2]:
        _told(player, which)


@pytest.mark.slow
@pytest.mark.parametrize("player", HABITS)
def test_every_habit_is_named_on_many_jobs(player):
    """The same holds over every level."""
    for which in MORE[::6]:
        _told(player, which)


def test_a_good_learner_is_told_no_habit():
    """Who works well hears of no bad habit."""
    said = [sentence for which in FEW for sentence in _marks("follows", *which).feedback]
    assert [] == [sentence for sentence in said if sentence.startswith(tuple(HABITS.values()))]


def test_a_patience_sentence_names_the_valve_and_its_time():
    """Who condemns a valve after half a minute reads how long it had, and how long a good one takes."""
    which = next(which for which in FEW if which[0] == "heater-loops")
    (said,) = [sentence for sentence in _marks("hasty", *which).feedback if HABITS["hasty"] in sentence]
    number = _job(*which).zone.removeprefix("zone")
    assert f"valve {number} had 30 s on call" in said


def test_feedback_keeps_its_order():
    """What was right comes first, then the first idle reading, then the one that would have ended it, then safety, habits."""
    heads = (
        "was the first that ruled nothing out",
        "One reading would have ended it",
        "continuity on a live pair",
        HABITS["beeps"],
        "Work another job",
    )
    most = 0
    for which in FEW[1::2]:
        told = _marks("beeps", *which).feedback
        places = [place for head in heads for place, one in enumerate(told) if head in one]
        assert sorted(places) == places
        assert places[0] > 0
        most = max(most, len(places))
    assert len(heads) - 1 <= most


@pytest.mark.slow
def test_two_faults_are_found_one_after_the_other():
    """With two faults at once both are told, repaired and proven: at least 85 points."""
    chapter = CHAPTERS["step-down-power"]
    job = next(job for job in (chapter.draw(f"two/{number}", 3) for number in range(40)) if len(job.faults) == 2)
    bench = follows(job)
    marks = mark(job, bench.sheet())
    assert set(job.answers) == set(bench.verdict.suspects)
    assert (True, True, (), ()) == (marks.right, marks.argued, marks.closing.untreated, marks.closing.unproven)
    assert marks.points >= 85


def test_a_reading_of_the_round_is_one_of_the_bench():
    """What the player reads are tests of the survey, done on the bench word for word."""
    job = _job(*FEW[0])
    known = {probe.act for probe in survey(job).outcomes}
    read = {json.dumps(line.act) for line in follows(job).log if line.act["do"] in ("measure", "clamp", "look", "feel", "listen")}
    assert read
    assert set() == read - known
