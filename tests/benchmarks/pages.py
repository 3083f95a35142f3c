"""One act on the bench as the learner's browser does it: the site's own Pyodide and course, in headless Chromium."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from pathlib import Path

from benchmarks.timing import Row

__all__ = ["browser_acts", "in_the_browser"]

BOOK = Path(__file__).resolve().parents[2] / "book"
GOALS = {4: 0.1, 16: 1.0}  # s

# Runs inside the browser: nothing of the tests is there, only what the site carries.
MEASURE = """
import json, statistics, time
from solvers.jobs.acts import acted, arrival
from solvers.plant.drafting import Zone
from solvers.plant.parts import Fuse, HeatMotorValve, Transformer
from solvers.plant.topologies import three_wire_relay

def measured(zones):
    here = three_wire_relay(
        "house", [Zone(HeatMotorValve("valve", leads=3, heater_ohms=29.0 + n)) for n in range(zones)],
        transformer=Transformer("transformer", ohms=0.05, va=1000.0), fuse=Fuse("fuse", amps=30.0))
    world, spans = arrival(here, here), {}
    def did(word, act):
        nonlocal world
        start = time.perf_counter()
        world, _ = acted(world, act)
        spans.setdefault(word, []).append(time.perf_counter() - start)
    for n in range(1, zones + 1):
        did("call", {"do": "call", "stat": f"zone{n}.stat", "on": True})
        did("measure", {"do": "measure", "function": "volts", "first": f"zone{n}.valve.H", "second": f"zone{n}.valve.S"})
        did("wait", {"do": "wait", "seconds": 60})
        did("clamp", {"do": "clamp", "wire": f"zone{n}.W leg", "turns": 1})
        did("ohms", {"do": "measure", "function": "ohms", "first": "boiler.T1", "second": "boiler.T2"})
        did("feel", {"do": "feel", "part": f"zone{n}.valve"})
        did("lift", {"do": "lift", "terminal": f"zone{n}.valve.E"})
        did("land", {"do": "land", "terminal": f"zone{n}.valve.E"})
    return {word: statistics.median(span) for word, span in spans.items()}

json.dumps({zones: measured(zones) for zones in ZONES})
"""

START = """async (zones_and_code) => {
  const live = new URL("_static/live/", document.baseURI);
  const course = await (await fetch(new URL("course.json", live))).json();
  const runtime = new URL(course.python, live).href;
  const { loadPyodide } = await import(runtime + "pyodide.mjs");
  const python = await loadPyodide({ indexURL: runtime, stdLibURL: new URL(course.library, live).href });
  const zip = await (await fetch(new URL(course.course, live))).arrayBuffer();
  python.FS.writeFile("/course.zip", new Uint8Array(zip));
  python.runPython("import sys; sys.path.insert(0, '/course.zip')");
  return python.runPython(zones_and_code);
}"""


def in_the_browser(program: str, code: str) -> str:
    """What Python code evaluates to in a Chromium that has the site open and nothing else."""
    from browser.chromium import opened, shown

    from solvers.screens.site import build

    with shown(build(BOOK, progress=lambda step, share: None)) as address, opened(program, 800, 600) as (page, _):
        page.goto(f"{address}intro.html")
        return page.evaluate(START, code)


def browser_acts(zones: tuple[int, ...] = (4, 16)) -> Iterator[Row | str]:
    """The slowest kind of act on the bench for each number of zones, medians in wall time; a line where it cannot be had."""
    program = shutil.which("chromium")
    if program is None:
        yield "Acts in the browser are not measured: chromium is not installed."
        return
    found = json.loads(in_the_browser(program, f"ZONES = {zones!r}\n{MEASURE}"))
    for count, spans in found.items():
        word = max(spans, key=spans.get)
        told = ", ".join(f"{each} {spans[each] * 1e3:.1f}" for each in spans)
        yield Row(
            f"one bench act in Pyodide, {count} zones with relay: the slowest kind, '{word}'",
            spans[word],
            seconds_goal=GOALS.get(int(count)),
            note=f"wall time in Chromium, medians in ms: {told}",
        )
