"""A wire-up judged: every combination of calls and every turn of a stat, on CPython and in the learner's browser."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator

from benchmarks.pages import in_the_browser
from benchmarks.timing import Row, side_by_side
from wirings import RIGHT

from solvers.jobs.behaviour import behaved
from solvers.jobs.wireups import wire_up
from solvers.jobs.wiring_answer import parsed, written
from solvers.jobs.wiring_marks import judged

__all__ = ["judgements"]

GOALS = {"W7": (0.2, 1.5), "W14": (3.0, 20.0)}  # s on CPython, s in the browser

MEASURE = """
import json, statistics, time
from solvers.jobs.wireups import wire_up
from solvers.jobs.wiring_answer import parsed
from solvers.jobs.wiring_marks import judged

def measured(id, text):
    spans = []
    for _ in range(REPEAT):
        wiring = parsed(text)
        start = time.perf_counter()
        assert judged(wire_up(id), wiring).accepted
        spans.append(time.perf_counter() - start)
    return statistics.median(spans)

json.dumps({id: measured(id, text) for id, text in WIRINGS.items()})
"""


def judgements(ids: tuple[str, ...] = ("W7", "W14"), *, repeat: int = 5) -> Iterator[Row | str]:
    """A right wiring of each task judged, CPU time on CPython, then wall time in Chromium; a line where that cannot be had."""
    texts = {id: written(RIGHT[id]["in connectors"]) for id in ids}
    ours: dict[str, float] = {}
    for id, text in texts.items():
        (ours[id],) = side_by_side(lambda id=id, text=text: judged(wire_up(id), parsed(text)), repeat=repeat)
        yield Row(_words(id, text), ours[id], seconds_goal=GOALS[id][0])
    program = shutil.which("chromium")
    if program is None:
        yield "Judging in the browser is not measured: chromium is not installed."
        return
    few = min(repeat, 3)
    found = json.loads(in_the_browser(program, f"REPEAT, WIRINGS = {few}, {texts!r}\n{MEASURE}"))
    for id, seconds in found.items():
        yield Row(
            f"{id} judged in Pyodide",
            seconds,
            "the same on CPython, CPU time",
            ours[id],
            seconds_goal=GOALS[id][1],
            note=f"wall time in Chromium, median of {few}",
        )


def _words(id: str, text: str) -> str:
    told: list[int] = []
    behaved(wire_up(id).made(parsed(text)), lambda done, total: told.append(done))
    zones = len(wire_up(id).made(parsed(text)).zones)
    return f"{id} judged: {zones} zones, {2**zones} combinations of calls, {told[-1]} turns of a stat"
