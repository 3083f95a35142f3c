"""A job drawn and proven, with its par, chapter by chapter; and how far the reference is from the best tree of tests."""

from __future__ import annotations

import statistics
import time
from collections.abc import Iterator

from benchmarks.timing import Row
from reference_trees import cheapest, followed

from solvers.chapters.drawing import Plan, candidate, proved
from solvers.chapters.shelf import CHAPTERS
from solvers.jobs.reference import par
from solvers.jobs.survey import survey

__all__ = ["jobs"]

GOALS = {2: 0.1, 4: 0.5}  # zones -> s
SEEDS = 60
MOST_SUSPECTS = 9  # of which the best tree is found in a moment


def jobs(several: int = 5, zones: tuple[int, ...] = tuple(GOALS), *, repeat: int = 0) -> Iterator[Row | str]:
    """Median CPU time of so many jobs a chapter with one fault and so many zones, no seed twice; `repeat` 1 takes one job."""
    several = 1 if repeat == 1 else several
    found = []
    for chapter, module in CHAPTERS.items():
        for count in zones:
            spans = []
            for _, seconds, kept in _proven(module.PLAN, chapter, count, several):
                spans.append(seconds)
                found += [kept] if len(kept.suspects) <= MOST_SUSPECTS else []
            if spans:
                words = f"A job of {chapter} drawn, proven and with par, {count} zones"
                yield Row(words, statistics.median(spans), seconds_goal=GOALS[count], note=f"median of {len(spans)}")
    surveys = [survey(job) for job in found]
    if surveys:
        start = time.process_time()
        least = [cheapest(one) for one in surveys]
        each = (time.process_time() - start) / len(surveys)
        gaps = [followed(one) / best for one, best in zip(surveys, least, strict=True)]
        yield (
            f"The reference's expected readings over those of the best tree, {len(gaps)} jobs of at most {MOST_SUSPECTS} "
            f"suspects: {statistics.mean(gaps):.3f} on average, {max(gaps):.3f} at most; the best tree takes "
            f"{each * 1e3:.0f} ms to find."
        )


def _proven(plan: Plan, chapter: str, zones: int, several: int) -> Iterator:
    """Jobs of the lowest level that has so many zones: the seed, what one took, and the job."""
    level = next((number for number, rules in plan.levels.items() if zones in rules.zones and plan.rows), None)
    for seed in range(SEEDS if level else 0):
        start = time.process_time()
        job = candidate(plan, f"benchmark/{chapter}/{seed}", level, 0)
        if job is None or len(job.design.zones) != zones or len(job.faults) > 1:
            continue
        kept = proved(job)
        if kept is None:
            continue
        par(kept)
        yield seed, time.process_time() - start, kept
        several -= 1
        if not several:
            return
