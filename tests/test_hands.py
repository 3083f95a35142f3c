"""Hands find no other word between the moments at which a run says so."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from solvers.chapters.shelf import drawn
from solvers.jobs.acts import acted, arrival
from solvers.plant.hands import FELT, handed
from solvers.plant.parts import Boiler, HeatedValve, Loop, MotorValve
from solvers.plant.running import waited
from solvers.plant.senses import SENSES, sensed

WATCHED = (HeatedValve, MotorValve, Loop, Boiler)


@pytest.mark.parametrize(
    ("chapter", "seed", "level"),
    [("heater-loops", "practice/2", 1), ("service-calls", "practice/3", 1), ("end-switches", "practice/7", 2)],
)
def test_words_change_only_where_a_run_stops(chapter, seed, level):
    """On a call, what every hand, ear and eye finds at the moving parts stays the same between two events of the watched run."""
    job = drawn(chapter, seed, level)
    house = replace(job.actual, parts=(*job.actual.parts, handed(job.actual)))
    world = arrival(job.design, house)
    for zone in job.design.zones:
        world, _ = acted(world, {"do": "call", "stat": f"{zone}.stat", "on": True})
    _, events = waited(house, world.state, 900.0)
    moments = sorted({0.0, *(event.time - world.state.time for event in events), 900.0})
    assert any(event.name.endswith(FELT) for event in events)
    for begun, ended in pairwise(moments):
        if ended - begun < 0.5:
            continue
        early, late = (_found(house, waited(house, world.state, at)[0]) for at in (begun + 0.1, ended - 0.1))
        assert early == late


def _found(house, state):
    return {
        (part.name, how): sensed(house, state, how, part.name, thermometer=False)
        for part in house.parts
        if isinstance(part, WATCHED)
        for how in SENSES
    }


def test_hands_change_nothing():
    """A house with hands on it runs as it does without: the same events at the same times."""
    job = drawn("heater-loops", "practice/2", 1)
    runs = []
    for parts in (job.actual.parts, (*job.actual.parts, handed(job.actual))):
        house = replace(job.actual, parts=parts)
        world = arrival(job.design, house)
        world, _ = acted(world, {"do": "call", "stat": "zone1.stat", "on": True})
        _, events = waited(house, world.state, 3600.0)
        runs.append([(event.name, round(event.time, 5)) for event in events if not event.name.endswith(FELT)])
    assert runs[0] == runs[1]
    assert runs[0]
