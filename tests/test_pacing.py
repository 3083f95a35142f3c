"""The run that looks again only at what has changed, against the plain one that looks at everything at every event."""

import dataclasses
import random

import pytest

from solvers.chapters.drawing import candidate
from solvers.chapters.shelf import CHAPTERS
from solvers.faults.planting import planted
from solvers.plant.crews import crew_of
from solvers.plant.drafting import Zone
from solvers.plant.pacing import paced
from solvers.plant.parts import HeatMotorValve, Stat, Transformer
from solvers.plant.running import at_rest, called, plainly_waited, switched, waited
from solvers.plant.topologies import four_wire
from solvers.plant.weather import lived_in

DRAWN = [name for name, chapter in CHAPTERS.items() if chapter.PLAN.rows]
NEAR = 1e-8
"""Seconds, degC and shares: sums of floats in another order, over some hundreds of events."""


def _houses(chapter, level, jobs=1):
    """The design of the first jobs of a level with each suspect's fault in it."""
    plan = CHAPTERS[chapter].PLAN
    drawn = (candidate(plan, f"pacing/{seed}", level, 0) for seed in range(40))
    for job in [one for one in drawn if one and len(one.faults) == 1][:jobs]:
        for suspect in job.suspects:
            yield planted(job.design, suspect.family[-1])


def _same_state(one, other):
    """Whether two states of a part are equal, shares but for rounding."""
    if one is None or other is None:
        return one is other
    pairs = [(getattr(one, field.name), getattr(other, field.name)) for field in dataclasses.fields(one)]
    return all(mine == (pytest.approx(yours, abs=NEAR) if isinstance(yours, float) else yours) for mine, yours in pairs)


def _both(here, state, seconds):
    """Wait both ways, hold one against the other, and go on from the plain one; the number of events."""
    expected, events = plainly_waited(here, state, seconds)
    actual, told = waited(here, state, seconds)
    assert [event.name for event in events] == [event.name for event in told]
    assert [event.time for event in events] == pytest.approx([event.time for event in told], abs=NEAR)
    assert list(expected.values) == list(actual.values)
    assert list(expected.values.values()) == pytest.approx(list(actual.values.values()), abs=NEAR)
    assert (expected.time, expected.lifted, expected.chattering) == (actual.time, actual.lifted, actual.chattering)
    assert expected.parts.keys() == actual.parts.keys()
    assert [] == [name for name, state in expected.parts.items() if not _same_state(state, actual.parts[name])]
    return expected, len(events)


@pytest.mark.parametrize("level", [1, 3])
@pytest.mark.parametrize("chapter", DRAWN)
def test_the_day_before_is_the_plain_one(chapter, level):
    """Half an hour's call of each zone and a rest, and then all at once: same events, same end, for every suspect's fault."""
    if level not in CHAPTERS[chapter].PLAN.levels:
        pytest.skip(f"{chapter} has no level {level}")
    count = 0
    for here in _houses(chapter, level):
        state = at_rest(here)
        for zone in here.zones:
            state, more = _both(here, called(here, state, f"{zone}.stat", True), 1800.0)
            count += more
            state = called(here, state, f"{zone}.stat", False)
        state, more = _both(here, state, 10_800.0)
        count += more
        for zone in here.zones:
            state = called(here, state, f"{zone}.stat", True)
        state, more = _both(here, state, 613.0)
        count += more
        assert paced(crew_of(here), state.parts, state.values, state.lifted, state.time, state.time + 1.0) is not None
    assert count > 100


@pytest.mark.parametrize("chapter", DRAWN)
def test_any_order_of_calls_and_switches_ends_as_the_plain_run_does(chapter):
    """Stats and supplies turned at random with odd waits between end in the same states at the same events."""
    for number, here in enumerate(_houses(chapter, 2)):
        chance = random.Random(f"{chapter}/{number}")
        state = at_rest(here)
        for _ in range(6):
            zone = chance.choice(here.zones)
            state = called(here, state, f"{zone}.stat", chance.random() < 0.7)
            if chance.random() < 0.3:
                state = switched(here, state, "transformer", not state.of("transformer").on)
            state, _ = _both(here, state, chance.uniform(0.5, 1500.0))


def test_rooms_that_call_run_the_plain_way():
    """Where a thermostat follows its room the pace does not try: the plain run carries the plant, and says the same."""
    zone = Zone(HeatMotorValve("valve", leads=4), Stat("stat", differential=0.6, cycles_per_hour=3.0))
    here = lived_in(four_wire("a house", [zone], transformer=Transformer("transformer", va=100.0)), start_degC=[19.4])
    state = at_rest(here)
    assert paced(crew_of(here), state.parts, state.values, (), 0.0, 3600.0) is None
    assert plainly_waited(here, state, 7200.0) == waited(here, state, 7200.0)


def test_what_is_met_on_the_way_is_what_the_plain_run_meets():
    """Whoever asks for the states between gets the plain run's, each with its count of events; the end stays the same."""
    here = four_wire("a house", [Zone(HeatMotorValve("valve", leads=4, limit="fitted"), Stat("stat"))])
    state = called(here, at_rest(here), "zone1.stat", True)
    between, expected = [], []
    ended, events = waited(here, state, 900.0, between)
    plainly_waited(here, state, 900.0, expected)
    assert ended == waited(here, state, 900.0)[0]
    assert len(events) == sum(count for _, count in between)
    assert [count for _, count in expected] == [count for _, count in between]
    for (mine, _), (yours, _) in zip(expected, between, strict=True):
        assert (mine.time, mine.lifted, mine.chattering) == (yours.time, yours.lifted, yours.chattering)
        assert mine.values == pytest.approx(yours.values, abs=NEAR)
        assert all(_same_state(part, yours.parts[name]) for name, part in mine.parts.items())
    assert len(between) > 20
