"""The survey: sets of bits against the definition, fewer suspects against a fresh survey, and how good the reference is."""

from dataclasses import replace
from functools import lru_cache

import pytest
from reference_trees import gap

from solvers.chapters.drawing import candidate, proved
from solvers.chapters.shelf import CHAPTERS
from solvers.circuit import volts_reading
from solvers.faults.planting import planted
from solvers.jobs.differences import outcomes_apart
from solvers.jobs.job import Job
from solvers.jobs.reference import best, worth
from solvers.jobs.rounds import _volts
from solvers.jobs.situations import pairs
from solvers.jobs.survey import carried, inseparable, narrowed, nearest, separating, split, survey
from solvers.jobs.world import arrival
from solvers.plant import crews
from solvers.plant.electrics import electrics, network

DRAWN = [name for name, chapter in CHAPTERS.items() if chapter.PLAN.rows]
"""Chapters that draw their jobs; one that has fixed jobs alone takes them from these."""


@lru_cache(maxsize=64)
def _job(chapter: str, number: int = 0) -> Job:
    """The first job with one fault that a chapter draws from some seed on."""
    plan = CHAPTERS[chapter].PLAN
    tried = (candidate(plan, f"survey/{number}/{seed}", 1, 0) for seed in range(40))
    return next(job for job in tried if job and len(job.faults) == 1)


def _parted(mine, yours):
    return bool(mine) and bool(yours) and all(outcomes_apart(one, other) for one in mine for other in yours)


def _groups(outcomes, live):
    """By the definition: whoever might be confused stays together, and with whomever that one might be confused."""
    groups = []
    for number in live:
        touching = [group for group in groups if any(not _parted(outcomes[number], outcomes[other]) for other in group)]
        groups = [group for group in groups if group not in touching] + [{number}.union(*touching)]
    return {frozenset(group) for group in groups}


@pytest.mark.parametrize("chapter", DRAWN)
def test_sets_of_bits_split_as_the_definition_says(chapter):
    """Every probe parts the suspects, all of them or some, into the groups that comparing outcome with outcome gives."""
    found = survey(_job(chapter))
    everyone = tuple(range(len(found.suspects)))
    parting = 0
    for live in (everyone, everyone[::2], everyone[1:4]):
        for probe, outcomes in found.outcomes.items():
            expected = _groups(outcomes, live)
            assert expected == {frozenset(group) for group in split(found, probe, live)}
            parting += len(expected) > 1
    assert parting > 50


@pytest.mark.parametrize("chapter", DRAWN)
def test_pairs_are_parted_as_the_definition_says(chapter):
    """Separating probes, inseparable pairs and the nearest look-alike are those that comparing outcome with outcome gives."""
    found = survey(_job(chapter))
    names = found.suspects
    parting = {
        (one, other): [probe for probe, outcomes in found.outcomes.items() if _parted(outcomes[one], outcomes[other])]
        for one in range(len(names))
        for other in range(len(names))
        if one != other
    }
    for (one, other), probes in parting.items():
        assert tuple(probes) == separating(found, names[one], names[other])
    alike = {(names[one], names[other]) for (one, other), probes in parting.items() if one < other and not probes}
    assert alike == set(inseparable(found))
    for one, name in enumerate(names):
        fewest = min(len(parting[one, other]) for other in range(len(names)) if other != one)
        assert fewest == len(parting[one, names.index(nearest(found, name))])


@pytest.mark.parametrize("chapter", DRAWN)
def test_a_survey_of_fewer_suspects_is_the_survey_of_the_narrower_job(chapter):
    """What is carried over when suspects are dropped equals, probe for probe, what is foretold afresh for the rest."""
    job = _job(chapter)
    kept = [one.id for number, one in enumerate(job.suspects) if one.id in job.answers or number % 3]
    fewer = replace(job, suspects=tuple(one for one in job.suspects if one.id in kept))
    afresh, taken = survey(fewer), narrowed(survey(job), kept)
    assert len(kept) < len(job.suspects)
    assert taken.weights == pytest.approx(afresh.weights)
    assert replace(afresh, weights=taken.weights) == taken
    assert list(afresh.outcomes) == list(taken.outcomes)
    assert (afresh.close, afresh.kinds) == (taken.close, taken.kinds)
    twin = replace(fewer)
    survey(job)
    assert carried(job, twin) is twin
    assert survey(twin) == taken


@pytest.mark.parametrize("chapter", DRAWN)
def test_no_test_is_worth_more_than_the_best(chapter):
    """Weighing one probe of each kind finds a test that no probe of the whole round beats."""
    found = survey(_job(chapter))
    everyone = range(len(found.suspects))
    for live in (everyone, everyone[::2]):
        chosen = best(found, live)
        every = [worth(found, probe, live) for probe in found.outcomes]
        assert max(one.value for one in every) == pytest.approx(chosen.value, abs=1e-12)
        assert chosen == worth(found, chosen.probe, live)


@pytest.mark.parametrize("chapter", DRAWN)
def test_bounded_volts_are_those_of_the_meter_itself(chapter):
    """Every display of the round's volts is the one that a meter as a branch of the circuit gives, for every suspect."""
    job = _job(chapter)
    across = pairs(job.design)
    for suspect in job.suspects:
        for fault in (suspect.family[0], suspect.family[-1]):
            world = arrival(job.design, planted(job.design, fault))
            now = electrics(world.installation, world.state.parts)
            circuit = network(world.installation, world.state.parts)
            shown = [outcome.reading for outcome in _volts(now.solved, across)]
            assert [volts_reading(circuit, first, second) for first, second in across] == shown


def test_a_survey_leaves_no_installation_behind():
    """What has been worked out of each suspect's house is let go with the survey: only the outcomes stay."""
    job = replace(_job(DRAWN[0]))
    before = {id(crew.installation) for crew in crews._CREWS.values()}
    survey(job)
    left = [crew.installation for crew in crews._CREWS.values() if id(crew.installation) not in before]
    houses = [planted(job.design, fault) for suspect in job.suspects for fault in suspect.family]
    assert [] == [house for house in left if house in houses]


@pytest.mark.slow
@pytest.mark.parametrize("chapter", DRAWN)
def test_the_reference_is_near_the_optimum(chapter):
    """Over four jobs of a chapter the reference tree is expected to cost at most 15 % more than the best tree there is."""
    jobs = (proved(_job(chapter, number)) for number in range(8))
    gaps = [gap(survey(job)) for job in jobs if job and len(job.suspects) <= 10][:4]
    assert len(gaps) >= 2
    assert all(one >= 1 - 1e-9 for one in gaps)
    assert sum(gaps) / len(gaps) <= 1.15
