"""What a test does at a bench in a page: start one on a certain job, read, do acts, save the sheet."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import count
from pathlib import Path

from solvers.chapters.drawing import candidate
from solvers.chapters.heater_loops import CHAPTER, PLAN
from solvers.chapters.shelf import drawn
from solvers.jobs.job import Job
from solvers.jobs.sheet import Sheet, parsed

PATIENCE = 120_000  # ms; a browser's Python takes its time on a busy machine
BOOK = Path(__file__).resolve().parents[2] / "book"
PAGES = {page.stem[3:]: f"{page.stem}.html" for page in sorted(BOOK.glob("0[1-5]-*.md"))}  # by chapter: "01-step-down-power.html"


@lru_cache
def job_with(row: str, level: int) -> Job:
    """The first job of the browser's seeds that has one fault, of this row."""
    return next(job for job in _jobs(row, level) if [row] == [fault.row for fault in job.faults])


def _jobs(row: str, level: int) -> Iterator[Job]:
    for number in count():
        seed = f"browser/{number}"
        likely = candidate(PLAN, seed, level, 0)  # quick to draw; only the job that comes of it is shown to be solvable
        if likely and likely.faults[0].row == row:
            yield drawn(CHAPTER, seed, level)


class Bench:
    """A bench on a page with one job, and the hands of whoever works it."""

    def __init__(self, page, address: str, job: Job) -> None:
        self.page, self.job, self.lines = page, job, 0
        page.goto(f"{address}{PAGES[job.chapter]}")
        place = page.locator(f'.bench[data-chapter="{job.chapter}"]')
        place.evaluate("(node, [seed, level]) => Object.assign(node.dataset, {seed, level})", [job.seed, job.level])
        place.get_by_role("button", name="Start the bench").click()
        self.root = page.locator(".cfh-bench")
        self.root.locator(".point-target").first.wait_for(timeout=PATIENCE)
        page.wait_for_function("document.activeElement.closest('.cfh-bench')")  # the keys work from here on

    def logged(self) -> str:
        """Wait for one more line in the log; the text of that line."""
        self.lines += 1
        self.page.wait_for_function(
            "([node, lines]) => node.querySelectorAll('.log-lines li').length === lines",
            arg=[self.root.element_handle(), self.lines],
            timeout=PATIENCE,
        )
        return self.root.locator(".log-lines li").last.inner_text()

    def press(self, name: str) -> str:
        """Press a button that does one act; the text of its line in the log."""
        self.root.locator(".acts").get_by_role("button", name=name, exact=True).first.click()
        return self.logged()

    def kit(self, name: str) -> None:
        """Turn to one of the rows of acts on a wide screen."""
        self.root.get_by_role("navigation", name="Kinds of act").get_by_role("button", name=name).click()

    def probe(self, probe: str, point: str) -> None:
        """Put a probe on a point; where it stands already a press would take it up."""
        target = self.root.locator(f'.point-target[data-point="{point}"]')
        if f"{probe} probe is here" not in target.get_attribute("aria-label"):
            self.root.get_by_title(f"Move the {probe} probe next").click()
            target.locator(".hit").click(force=True)  # places to press overlap; the point nearest to the press is meant

    def read(self, function: str, first: str, second: str) -> str:
        """Turn the meter to a function, put both probes down and read."""
        self.root.get_by_role("radio", name=function, exact=True).check(force=True)
        self.probe("first", first)
        self.probe("second", second)
        self.root.get_by_role("button", name="Read", exact=True).click()
        return self.logged()

    def clamp(self, wire: str, turns: int = 1) -> str:
        """Close the clamp on a conductor or a cable and read."""
        self.root.get_by_role("radio", name="clamp", exact=True).check(force=True)
        self.root.get_by_label("Clamp around which conductor").select_option(wire)
        self.root.get_by_label("Turns through the jaw").select_option(str(turns))
        self.root.get_by_role("button", name="Read", exact=True).click()
        return self.logged()

    def fit(self, part: str) -> str:
        """Fit a new part, and say yes when asked."""
        self.kit("Tools and parts")
        self.group("Parts").get_by_label("Part").select_option(part)
        self.group("Parts").get_by_role("button", name="Fit a new one").click()
        self.page.get_by_role("button", name="Fit it", exact=True).click()
        return self.logged()

    def group(self, name: str):
        """One group of acts."""
        return self.root.get_by_role("group", name=name, exact=True)

    def tick(self, *lines: int) -> None:
        """Tick lines of the log as proving readings."""
        for line in lines:
            self.root.get_by_role("checkbox", name=f"Line {line} proves my verdict").check()

    def marks(self):
        """The marks' panel once they are there."""
        marks = self.root.get_by_role("region", name="Marks")
        marks.get_by_role("row", name="safety").wait_for(timeout=PATIENCE)
        return marks

    def sheet(self) -> Sheet:
        """The sheet as the page saves it."""
        with self.page.expect_download() as download:
            self.root.get_by_role("button", name="Save the sheet").last.click()
        return parsed(Path(download.value.path()).read_bytes())
