"""Drawing jobs: every chapter and level from a seed, solvable, in its band, and the same for good."""

import math

import pytest

from solvers.chapters.drawing import BANDS, candidate, difficulty, drawn_of, proved
from solvers.chapters.proven import known, practice, word
from solvers.chapters.proven_list import PROVEN
from solvers.chapters.shelf import CHAPTERS, drawn
from solvers.faults.catalogue import CATALOGUE, rows
from solvers.faults.fault import FaultError
from solvers.faults.planting import planted
from solvers.jobs.job import JobError
from solvers.jobs.objectives import OBJECTIVES
from solvers.jobs.survey import solvable
from solvers.plant.traits import zone_traits
from solvers.plant.wiring import WiringError

PLANS = {name: module.PLAN for name, module in CHAPTERS.items() if name != "stories"}
EVERY = [(chapter, level) for chapter, plan in PLANS.items() for level in plan.levels]


def test_the_catalogue_is_whole():
    """Every row that the trade's list has is there, under its id, in its chapter."""
    ends = {"SP": 20, "TS": 19, "HL": 30, "ES": 26, "MZ": 23, "NF": 6}
    assert {f"{tag}-{number:02}" for tag, last in ends.items() for number in range(1, last + 1)} <= set(CATALOGUE)


def test_every_row_can_be_told():
    """Each row has words of its own for everything that a course says of it, and objectives that exist."""
    for row in CATALOGUE.values():
        assert all((row.claim, row.complaint, row.noticed, row.repair, row.misdiagnosis)), row.id
        assert set(row.objectives) <= set(OBJECTIVES), row.id
        assert row.objectives, row.id
        assert 0 <= row.severity <= 5, row.id
        assert 1 <= row.prevalence <= 10, row.id
    complaints = [row.complaint for row in CATALOGUE.values()]
    assert len(set(complaints)) == len(complaints)


def test_an_unknown_row_is_refused():
    """A row that is not in the catalogue is refused with those that are."""
    with pytest.raises(FaultError, match="no row 'XX-01'; there are"):
        rows("XX-01")


@pytest.mark.parametrize(("chapter", "level"), EVERY)
def test_jobs_are_solvable_and_in_their_band(chapter, level):
    """Two seeds of each chapter and level: solvable by readings, of the level's difficulty, with the answers offered."""
    for number in range(2):
        job = drawn(chapter, f"some/{number}", level)
        low, high = BANDS[level]
        assert solvable(job), job.id
        assert low <= job.difficulty <= high, job.id
        assert set(job.answers) <= {suspect.id for suspect in job.suspects}
        assert len(job.suspects) >= 5
        assert job.drawing == ("ladder" if level == 1 and chapter != "service-calls" else "wires")


@pytest.mark.slow
@pytest.mark.parametrize(("chapter", "level"), EVERY)
def test_many_jobs_are_solvable(chapter, level):
    """Thirty-four seeds of each chapter and level, a hundred a chapter, are drawn and shown to be solvable."""
    for number in range(34):
        job = drawn(chapter, f"many/{number}", level)
        low, high = BANDS[level]
        assert solvable(job), job.id
        assert low <= job.difficulty <= high, job.id


@pytest.mark.parametrize(("chapter", "level"), EVERY)
def test_practice_jobs_are_what_the_list_says(chapter, level):
    """Each chapter and level has a list of proven seeds; two of them, proven again, keep the suspects it says."""
    seeds = practice(chapter, level)
    assert len(seeds) >= 20
    for seed in (seeds[0], seeds[-1]):
        attempt, kept = known(chapter, level, seed)
        job = candidate(PLANS[chapter], seed, level, attempt)
        found = proved(job)
        names = [suspect.id for suspect in job.suspects]
        assert [names[number] for number in kept or range(len(names))] == [suspect.id for suspect in found.suspects]
        assert drawn(chapter, seed, level).suspects == found.suspects


@pytest.mark.slow
@pytest.mark.parametrize(("chapter", "level"), EVERY)
def test_one_practice_job_in_four_is_solvable(chapter, level):
    """Every fourth of the list is proven again."""
    for seed in practice(chapter, level)[::4]:
        assert solvable(drawn(chapter, seed, level)), seed


def test_a_word_of_the_list_reads_back():
    """What is written for a seed reads back as the attempt and the suspects it keeps; a seed not listed is unknown."""
    assert ("0", "2:0134", "-") == (word(0, None), word(2, (0, 1, 3, 4)), word(-1, None))
    chapter, levels = next(iter(PROVEN.items()))
    level, words = next(iter(levels.items()))
    for number, text in enumerate(words.split(), 1):
        found = known(chapter, level, f"practice/{number}")
        assert text == ("-" if found is None else word(*found))
    for seed in ("practice/0", "practice/01", "practice/9999", "practice/", "practice/one", "autumn/1", "practice/²"):
        assert known(chapter, level, seed) is None


def test_the_index_of_difficulty():
    """Faults, bits of doubt, half a point a distractor, and a point each for an intermittent, a parallel path, two sources."""
    job = drawn("heater-loops", "some/0", 1)
    row = job.suspect(job.answers[0]).row
    expected = 1 + math.log2(len(job.suspects)) + 0.5 + bool(row.trigger) + row.parallel
    assert expected == pytest.approx(difficulty(job), abs=0.01)


@pytest.mark.parametrize("chapter", PLANS)
def test_a_seed_and_a_level_decide_everything(chapter):
    """The same seed gives the same job; another seed another house."""
    plan = PLANS[chapter]
    one, again, other = (candidate(plan, seed, 1, 0) for seed in ("a", "a", "b"))
    assert one == again
    assert one is None or other is None or one.design != other.design


@pytest.mark.parametrize("row", ["HL-01", "HL-09", "HL-26"])
def test_a_job_with_a_fault_of_one_row(row):
    """A row can be asked for; its place, size and house follow from the seed."""
    job = drawn_of(PLANS["heater-loops"], row, "asked", 1)
    assert row == job.faults[0].row
    assert row in [one.id for one in job.suspect(job.answers[0]).rows]


def test_a_row_of_another_chapter_is_refused():
    """A row that a chapter does not draw is refused with those it does."""
    with pytest.raises(JobError, match="no row 'TS-01' in heater-loops; there are"):
        drawn_of(PLANS["heater-loops"], "TS-01", "asked", 1)


def test_intermittents_wait_for_the_third_level():
    """Levels one and two draw no fault that comes and goes."""
    for chapter, plan in PLANS.items():
        for number in range(20):
            job = candidate(plan, f"steady/{number}", 2, 0)
            if job:
                assert not any(job.suspect(answer).row.trigger for answer in job.answers), chapter


def test_two_faults_touch_different_things():
    """Where two faults are drawn they differ in what they change, and both are among the suspects."""
    found = []
    for number in range(60):
        job = candidate(PLANS["service-calls"], f"two/{number}", 3, 0)
        if job and len(job.faults) == 2:
            found.append(job)
            assert job.faults[0].changes != job.faults[1].changes
            assert len(set(job.answers)) == 2
    assert len(found) >= 5


def test_a_house_has_what_its_fault_asks_for():
    """Every row of every chapter is drawn in a house that has the traits it needs."""
    for chapter, plan in PLANS.items():
        if chapter == "service-calls":
            continue
        for row in plan.rows:
            job = next((job for attempt in range(12) if (job := candidate(plan, "house", 3, attempt, [row]))), None)
            assert job is not None, row.id
            assert set(row.needs) <= zone_traits(job.design, job.zone), row.id


def test_a_suspect_that_cannot_stand_beside_the_other_fault_ends_the_attempt():
    """Where one fault has taken away the wire that a suspect for the other would break, the job is not kept: another is drawn."""
    job = candidate(PLANS["end-switches"], "speed/6", 3, 0)
    assert len(job.faults) == 2
    with pytest.raises(WiringError, match="no conductor"):
        [planted(job.given(slot), fault) for slot in (0, 1) for one in job.rivals(slot) for fault in one.family]
    assert proved(job) is None
