"""Two ways of doing one thing, measured in turn in one run, so that whatever else the machine does meets both."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass

__all__ = ["Row", "side_by_side"]


@dataclass(frozen=True, slots=True)
class Row:
    """One measurement. Seconds are CPU time of this process, so that other work on the machine does not count."""

    what: str
    seconds: float  # ours
    against: str = ""  # the other way
    other_seconds: float | None = None
    ratio_goal: float | None = None  # other over ours, at least
    seconds_goal: float | None = None  # ours, at most
    error: float | None = None  # the largest, in `unit`
    allowed: float | None = None
    unit: str = ""
    note: str = ""

    @property
    def ratio(self) -> float | None:
        """How many times faster ours is."""
        return None if self.other_seconds is None else self.other_seconds / self.seconds


def side_by_side(*ways: Callable[[], object], repeat: int) -> list[float]:
    """Median CPU seconds of each way, all of them called in turn `repeat` times after one call that does not count."""
    spans: list[list[float]] = [[] for _ in ways]
    for count in range(repeat + 1):
        for way, span in zip(ways, spans, strict=True):
            start = time.process_time()
            way()
            if count:
                span.append(time.process_time() - start)
    return [statistics.median(span) for span in spans]
