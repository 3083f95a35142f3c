"""On every chapter's own page one whole job is worked to its end in a real browser, act by act as a good player works it."""

import pytest
from browser.benches import PATIENCE, Bench
from browser.chromium import opened
from browser.hands import done, shown, signed
from players import follows

from solvers.chapters.shelf import drawn
from solvers.jobs.marking import mark

WIDE, NARROW = {"width": 1280, "height": 900}, {"width": 390, "height": 844}
MOST_SHIFT = 0.05  # of the layout, in the browser's own measure
FIRST = 1  # the level that a page offers first

WATCHED = """
window.shifts = { since: Infinity, all: [] };
addEventListener("click", ({ target }) => {
  if (target.closest?.(".bench-start")) shifts.since = performance.now();
}, true);
shifts.observer = new PerformanceObserver((list) => shifts.all.push(...list.getEntries()));
shifts.observer.observe({ type: "layout-shift", buffered: true });
"""

SHIFTED = """async () => {
  for (let frame = 0; frame < 3; frame += 1) await new Promise(requestAnimationFrame);
  const seen = [...shifts.all, ...shifts.observer.takeRecords()].filter(({ startTime }) => startTime > shifts.since);
  return { started: Number.isFinite(shifts.since), shift: seen.reduce((sum, { value }) => sum + value, 0) };
}"""

SEEDS = {
    "step-down-power": "page/10",
    "thermostat-switching": "page/11",
    "heater-loops": "page/4",
    "end-switches": "page/24",
    "service-calls": "page/18",
}
"""Jobs that are short: made safe and handed over; a new cable; leads exchanged; a conductor run anew; a joint remade."""

MORE = [
    ("step-down-power", "page/6"),  # supplies off and on, leads lifted and landed, ohms, a reset
    ("thermostat-switching", "page/8"),  # a setting
    ("thermostat-switching", "page/18"),  # cells
    ("heater-loops", "page/3"),  # a look under the head
    ("heater-loops", "page/12"),  # a stem freed, a new part
    ("heater-loops", "page/16"),  # an opener
    ("heater-loops", "page/19"),  # a head seated
    ("end-switches", "page/0"),  # ears
    ("end-switches", "page/14"),  # a conductor moved
    ("end-switches", "page/34"),  # something found and taken off
    ("service-calls", "page/9"),  # the clamp; handed over
    ("service-calls", "page/31"),  # air bled
    ("service-calls", "page/32"),  # a jumper
    ("service-calls", "page/35"),  # a service valve
]
"""Jobs that need what those do not: together they go through nearly every control there is."""


@pytest.fixture(scope="module")
def window(chromium):
    """One browser window for all chapters, that notes what moves on a page."""
    with opened(chromium, WIDE["width"], WIDE["height"]) as (page, seen):
        page.add_init_script(WATCHED)
        yield page, seen


def _sideways(bench):
    """On a phone's screen: by how many pixels the page is wider than it, at each view of the bench."""
    page, found = bench.page, {}
    page.set_viewport_size(NARROW)
    bench.root.and_(page.locator('[data-layout="narrow"]')).wait_for(timeout=PATIENCE)
    for tab in reversed(bench.root.locator(".tabs button").all()):  # the drawing last, which is what the hands need
        tab.click()
        found[tab.inner_text()] = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    page.set_viewport_size(WIDE)
    bench.root.and_(page.locator('[data-layout="wide"]')).wait_for(timeout=PATIENCE)
    return found


FEWER = ("step-down-power", "thermostat-switching")
"""Chapters whose job is played in every run; the others with the long sets."""

EVERY = [
    *(each for each in SEEDS.items() if each[0] in FEWER),
    *(pytest.param(*each, marks=pytest.mark.slow) for each in (*SEEDS.items(), *MORE) if each[0] not in FEWER or each in MORE),
]


@pytest.mark.parametrize(("chapter", "seed"), EVERY)
def test_a_whole_job_on_the_chapters_page(site, window, chapter, seed):
    """Read, repaired or handed over, proven and signed: what the page shows at each act and in the marks is what Python says."""
    page, seen = window
    told = len(seen.complaints)
    job = drawn(chapter, seed, FIRST)
    player = follows(job)
    bench = Bench(page, site, job)
    moved = page.evaluate(SHIFTED)
    assert moved["started"]
    assert moved["shift"] < MOST_SHIFT
    assert f"Job {chapter}/{FIRST}/{seed}" == bench.root.locator(".job").text_content()
    assert job.story == bench.root.locator(".story").inner_text()
    assert {suspect.id for suspect in job.suspects} == {
        box.get_attribute("value") for box in bench.root.locator(".suspects input").all()
    }
    assert {0} == set(_sideways(bench).values())
    for line in player.log:
        done(bench, line.act)
        assert (line.act, line.text) == (line.act, shown(bench))
    signed(bench, player.verdict)
    words = bench.marks().inner_text()
    sheet = bench.sheet()
    assert tuple(player.log) == sheet.log
    given = mark(job, sheet)
    assert given.right
    assert given.argued
    assert ((), (), ()) == (given.closing.unproven, given.closing.untreated, given.closing.left)
    assert f"{given.points:g} of 90 points" in words
    assert all(sentence in words for sentence in given.feedback)
    assert all(reason in words for line in given.lines for reason in line.reasons)
    assert {0} == set(_sideways(bench).values())
    assert [] == seen.complaints[told:]
    assert [] == seen.outside()
