"""A job sealed, by its number of zones; and an act on the sealed bench against the same act on the live one."""

from __future__ import annotations

import statistics
import time
from collections.abc import Iterator

from benchmarks.timing import Row

from solvers.chapters.shelf import drawn
from solvers.jobs.bench import Bench
from solvers.jobs.graded import GradedBench, NotSealable
from solvers.jobs.sealed import SealedBench, SealedJob, opened
from solvers.jobs.sealing import sealed

__all__ = ["sealings"]

GOALS = {3: 1.0}  # zones -> s
CHAPTER, LEVELS, SEEDS = "service-calls", (1, 2), 30


def sealings(zones: tuple[int, ...] = (1, 2, 3), several: int = 5) -> Iterator[Row]:
    """Median CPU time of sealing so many jobs, and of an act; the notes give sizes and states."""
    for count in zones:
        spans, sizes, states, acts = [], [], [], []
        for job in _jobs(count, several):
            start = time.process_time()
            data = sealed(job, name="benchmark/anna")
            spans.append(time.process_time() - start)
            file = opened(data)
            sizes.append(len(data))
            states.append(len(file.tape.nodes))
            acts.append((_worked(SealedBench(file), file), _worked(GradedBench(job), file)))
        if not spans:
            continue
        note = f"median of {len(spans)}; {min(sizes) / 1000:.0f} to {max(sizes) / 1000:.0f} kB, {max(states)} states at most"
        yield Row(f"A job of {count} zones sealed", statistics.median(spans), seconds_goal=GOALS.get(count), note=note)
        mine, theirs = (statistics.median(way) for way in zip(*acts, strict=True))
        yield Row(f"An act on a sealed job of {count} zones", mine, "the live graded bench", theirs)


def _jobs(zones: int, several: int) -> Iterator[object]:
    for level in LEVELS:
        for seed in range(1, SEEDS):
            job = drawn(CHAPTER, f"practice/{seed}", level)
            if len(job.design.zones) != zones:
                continue
            try:
                sealed(job, name="benchmark/anna")  # warms what is kept between jobs, and tells which can be sealed
            except NotSealable:
                continue
            yield job
            several -= 1
            if not several:
                return


def _worked(bench: Bench, file: SealedJob) -> float:
    """CPU seconds of an act in a short visit: calls, waits, readings."""
    zone = file.design.zones[0]
    acts = [
        {"do": "call", "stat": f"{zone}.stat", "on": True},
        {"do": "wait", "seconds": 300},
        *({"do": "measure", "function": "volts", "first": one, "second": "transformer.C"} for one in file.tape.points[1:12]),
        {"do": "feel", "part": f"{zone}.valve"},
        {"do": "call", "stat": f"{zone}.stat", "on": False},
        {"do": "wait", "seconds": 300},
    ]
    acts = [act for act in acts if act.get("first") != "transformer.C"]
    start = time.process_time()
    for act in acts:
        bench.step(act)
    return (time.process_time() - start) / len(acts)
