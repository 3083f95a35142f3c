"""Covers come off where terminals are reached, and somebody has to put them on again."""

from __future__ import annotations

import pytest

from solvers.chapters.shelf import drawn
from solvers.jobs.bench import Bench
from solvers.jobs.graded import GradedBench
from solvers.jobs.leaving import left_behind

JOB = ("heater-loops", "practice/12", 1)


@pytest.mark.parametrize("kind", [Bench, GradedBench])
def test_a_probe_takes_the_cover_off(kind):
    """Probes at a stat or the boiler uncover it, once; probes elsewhere uncover nothing; one act puts all covers on."""
    bench = kind(drawn(*JOB))
    for first, second in (("transformer.R", "transformer.C"), ("zone1.stat.R", "boiler.T1"), ("zone1.stat.W", "boiler.T2")):
        bench.step({"do": "measure", "function": "volts", "first": first, "second": second})
    assert ["zone1.stat", "boiler"] == bench.view()["uncovered"]
    assert ["cover", "cover"] == [one.kind for one in left_behind(bench.job.design, bench.world)]
    assert "Every cover is on." == bench.step({"do": "covers"})["shows"]["text"]
    assert [] == bench.view()["uncovered"]
    assert () == left_behind(bench.job.design, bench.world)


def test_a_lead_that_is_lifted_uncovers_its_part():
    """Lifting a lead and probing the lead alone uncover the part that it belongs to; what is refused uncovers nothing."""
    bench = Bench(drawn(*JOB))
    with pytest.raises(ValueError, match="no test point"):
        bench.step({"do": "measure", "function": "volts", "first": "zone1.stat.R", "second": "moon"})
    assert [] == bench.view()["uncovered"]
    bench.step({"do": "lift", "terminal": "zone2.stat.W"})
    assert ["zone2.stat"] == bench.view()["uncovered"]
    bench.step({"do": "covers"})
    bench.step({"do": "measure", "function": "volts", "first": "zone2.stat.W lead", "second": "transformer.C"})
    assert ["zone2.stat"] == bench.view()["uncovered"]


def test_made_safe_leaves_covers_to_others():
    """Once everything has been made safe nothing more is touched, covers neither."""
    bench = Bench(drawn(*JOB))
    bench.step({"do": "lift", "terminal": "zone1.stat.R"})
    bench.step({"do": "stop"})
    assert "cover" not in [one.kind for one in left_behind(bench.job.design, bench.world)]
    with pytest.raises(ValueError, match="made safe"):
        bench.step({"do": "covers"})
