"""A job drawn and proven, with its par, chapter by chapter; and how far the reference is from the best tree of tests."""

from __future__ import annotations

import statistics
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from benchmarks.timing import Row
from reference_trees import cheapest, followed

from solvers.chapters.drawing import Plan, candidate, proved
from solvers.chapters.shelf import CHAPTERS
from solvers.jobs import rounds
from solvers.jobs import survey as surveying
from solvers.jobs.reference import par
from solvers.jobs.survey import survey

__all__ = ["jobs"]

GOALS = {2: 0.1, 4: 0.5}  # zones -> s
SEEDS = 60
MOST_SUSPECTS = 9  # of which the best tree is found in a moment
STAGES = {
    (rounds, "arrival"): "the day before",
    (rounds, "_tried"): "acts",
    (rounds, "_looked"): "readings",
    (surveying, "confusions"): "comparing",
}
"""Where a proof spends its time: what is timed, and what it is called."""


def jobs(several: int = 5, zones: tuple[int, ...] = tuple(GOALS), *, repeat: int = 0) -> Iterator[Row | str]:
    """Median CPU time of so many jobs a chapter and level with one fault and so many zones, no seed twice.

    The note gives the median milliseconds of each stage. `repeat` 1 takes one job.
    """
    several = 1 if repeat == 1 else several
    found = []
    for chapter, module in CHAPTERS.items():
        for count in zones:
            levels = [level for level, rules in module.PLAN.levels.items() if count in rules.zones and module.PLAN.rows]
            for level in levels[:1] if repeat == 1 else levels:
                spans, stages = [], []
                for seconds, each, kept in _proven(module.PLAN, chapter, level, count, several):
                    spans.append(seconds)
                    stages.append(each)
                    found += [kept] if len(kept.suspects) <= MOST_SUSPECTS else []
                if spans:
                    words = f"A job of {chapter}, level {level}, drawn, proven and with par, {count} zones"
                    note = f"median of {len(spans)}; ms: {_told(stages)}"
                    yield Row(words, statistics.median(spans), seconds_goal=GOALS[count], note=note)
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


def _proven(plan: Plan, chapter: str, level: int, zones: int, several: int) -> Iterator:
    """Jobs of a level: what one took, what each stage of it took, and the job."""
    for seed in range(SEEDS):
        start = time.process_time()
        job = candidate(plan, f"benchmark/{chapter}/{seed}", level, 0)
        if job is None or len(job.design.zones) != zones or len(job.faults) > 1:
            continue
        drawn = time.process_time()
        with _timed() as each:
            kept = proved(job)
        proven = time.process_time()
        if kept is None:
            continue
        par(kept)
        end = time.process_time()
        rest = proven - drawn - sum(each.values())
        yield end - start, {"drawing": drawn - start, **each, "the rest": rest, "par": end - proven}, kept
        several -= 1
        if not several:
            return


@contextmanager
def _timed() -> Iterator[Counter[str]]:
    """CPU seconds by stage of whatever is done meanwhile; what one stage calls of another counts for the inner one alone."""
    spent: Counter[str] = Counter(dict.fromkeys(STAGES.values(), 0.0))
    inner: list[float] = []
    plain = {(module, name): getattr(module, name) for module, name in STAGES}
    for (module, name), function in plain.items():
        setattr(module, name, _timing(function, STAGES[module, name], spent, inner))
    try:
        yield spent
    finally:
        for (module, name), function in plain.items():
            setattr(module, name, function)


def _timing(function: Callable, stage: str, spent: Counter[str], inner: list[float]) -> Callable:
    def timed(*given: object) -> object:
        start = time.process_time()
        inner.append(0.0)
        try:
            return function(*given)
        finally:
            whole = time.process_time() - start
            spent[stage] += whole - inner.pop()
            if inner:
                inner[-1] += whole

    return timed


def _told(stages: list[dict[str, float]]) -> str:
    return ", ".join(f"{name} {statistics.median(one[name] for one in stages) * 1e3:.0f}" for name in stages[0])
