"""From the button on a page to the first reading: the site as it is built, and the same site with nothing compiled beforehand."""

from __future__ import annotations

import json
import shutil
import statistics
import tempfile
from collections.abc import Iterator
from pathlib import Path

from benchmarks.timing import Row

__all__ = ["first_readings", "uncompiled"]

BOOK = Path(__file__).resolve().parents[2] / "book"
PAGE = "03-heater-loops.html"
GOAL = 5.0  # s

# Presses the buttons as soon as they are there, so that no time of a learner's is in it, and notes when each stage ended.
PRESS = """async () => {
  const PATIENCE = 120_000; // ms
  const bench = document.querySelector(".bench"), note = bench.querySelector("[role=status]"), stages = {};
  const begun = performance.now();
  let last = begun;
  const ended = (stage) => ([stages[stage], last] = [performance.now() - last, performance.now()]);
  const seen = (found) => new Promise((resolve, reject) => {
    const look = () => {
      const it = found();
      if (it) resolve(it);
      else if (bench.dataset.state === "failed" || performance.now() - begun > PATIENCE) reject(new Error(note.textContent));
      else setTimeout(look, 2);
    };
    look();
  });
  const button = (words) => [...bench.querySelectorAll("button")].find((each) => each.textContent.trim() === words);
  button("Start the bench").click();
  await seen(() => note.textContent.startsWith("Starting Python") || !note.isConnected);
  ended("the worker");
  await seen(() => note.textContent.startsWith("Laying out") || !note.isConnected);
  ended("Python");
  const begin = await seen(() => bench.dataset.state === "running" && button("Begin a new job"));
  ended("the course");
  begin.click();
  await seen(() => bench.querySelector('.cfh-bench[aria-busy="false"] .point-target')); // hands can begin
  const points = bench.querySelectorAll(".point-target .hit");
  ended("a job");
  for (const point of [points[0], points[points.length - 1]]) {
    const { x, y, width, height } = point.getBoundingClientRect();
    point.dispatchEvent(new MouseEvent("click", { bubbles: true, clientX: x + width / 2, clientY: y + height / 2 }));
  }
  button("Read").click();
  await seen(() => bench.querySelector(".log-lines li"));
  ended("the reading");
  return { whole: performance.now() - begun, stages };
}"""


def uncompiled(html: Path, target: Path) -> Path:
    """A copy of the built site in `target` whose pages start from sources, as the runtime and the package have them."""
    from solvers.screens import bundle, compiled, lite

    shutil.copytree(html, target, ignore=shutil.ignore_patterns(lite.FOLDER, lite.WHEELS_FOLDER))
    live = target / "_static" / "live"
    (live / "sources.zip").write_bytes(bundle.packed(bundle.contents()))
    course = json.loads((live / "course.json").read_text(encoding="utf-8"))
    course |= {"library": course["library"].replace(compiled.LIBRARY, compiled.SOURCES), "course": "sources.zip"}
    (live / "course.json").write_text(json.dumps(course), encoding="utf-8")
    return target


def first_readings(repeat: int = 3) -> Iterator[Row | str]:
    """First reading of a fresh browser, ours and from sources in turn, medians in wall time; else a line that says why not."""
    program = shutil.which("chromium")
    if program is None:
        yield "The first reading on a page is not measured: chromium is not installed."
        return
    from browser.chromium import opened, shown

    from solvers.screens.site import build

    html = build(BOOK, progress=lambda step, share: None)
    found: tuple[list[dict], list[dict]] = ([], [])
    with tempfile.TemporaryDirectory() as scratch:
        for _ in range(repeat):
            for folder, runs in zip((html, Path(scratch) / "site"), found, strict=True):
                if not folder.exists():
                    uncompiled(html, folder)
                with shown(folder) as address, opened(program, 1280, 900) as (page, _seen):
                    page.goto(f"{address}{PAGE}")
                    page.wait_for_load_state("networkidle")
                    runs.append(page.evaluate(PRESS))
    ours, sources = (statistics.median(run["whole"] for run in runs) / 1e3 for runs in found)
    told = ", ".join(f"{each} {statistics.median(run['stages'][each] for run in found[0]):.0f}" for each in found[0][0]["stages"])
    yield Row(
        "from the button to the first reading on a page",
        ours,
        "the same with nothing compiled beforehand",
        sources,
        seconds_goal=GOAL,
        note=f"wall time in Chromium, a fresh one each time, medians in ms: {told}",
    )
