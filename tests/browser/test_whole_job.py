"""A whole job in a real browser, from the page's start button to a marked sheet."""

import pytest
from browser.benches import PATIENCE, Bench, job_with
from browser.chromium import opened

from solvers.jobs.marking import mark

FIT_FOR_A_THUMB = """() => [...document.querySelectorAll('.cfh-bench :is(button, select)')].filter((node) => node.offsetParent)
    .map((node) => [node.textContent, node.getBoundingClientRect()])
    .filter(([, box]) => box.height < 43.5).map(([text]) => text)"""


@pytest.fixture(scope="module")
def job():
    """A ladder job with an open heater."""
    return job_with("HL-01", 1)


def _pair(job):
    return job.design.part(f"{job.zone}.valve").heater_pair


def test_a_job_by_mouse(site, chromium, job):
    """Probes, readings, a call, the verdict: the page shows the marks that Python gives the saved sheet, in plain words."""
    number = job.zone.removeprefix("zone")
    with opened(chromium, 1280, 900) as (page, seen):
        bench = Bench(page, site, job)
        assert job.story in bench.root.inner_text()
        bench.read("volts", "R bus.fuse", "transformer.C")
        bench.root.get_by_role("button", name=f"Call zone {number}").click()
        bench.logged()
        bench.read("volts", *_pair(job))
        bench.clamp(f"{job.zone}.W leg")
        bench.root.get_by_role("button", name=f"Stop call, zone {number}").click()
        bench.logged()
        bench.tick(3, 4)
        bench.root.get_by_role("button", name="Verdict", exact=True).first.click()
        bench.root.get_by_label(job.suspect(job.answers[0]).words).check()
        bench.root.get_by_role("button", name="Sign the verdict").click()
        page.get_by_role("button", name="Sign it").click()
        told = bench.marks().inner_text()
        given = mark(job, bench.sheet())
        assert given.right
        assert f"{given.points:g} of 90 points" in told
        for line in given.lines:
            assert line.criterion in told.lower()
            for reason in line.reasons:
                assert reason in told
        said = [told.index(sentence) for sentence in given.feedback]
        assert sorted(said) == said
        assert [] == seen.outside()
        assert [] == seen.complaints


def test_a_job_by_keyboard(site, chromium, job):
    """The keyboard alone works a job from its first reading to its marks."""
    with opened(chromium, 1280, 900) as (page, seen):
        bench = Bench(page, site, job)

        def go_to(kind, name, key):
            for _ in range(80):
                if page.evaluate(f"document.activeElement?.dataset?.{kind}") == name:
                    return
                page.keyboard.press(key)
            pytest.fail(f"the keyboard never reaches {name}")

        def probe(part, point, digit):
            page.keyboard.press("d")
            page.keyboard.press("ArrowUp")
            go_to("part", part, "ArrowRight")
            page.keyboard.press("ArrowDown")
            go_to("point", point, "ArrowRight")
            page.keyboard.press(digit)

        valve = f"{job.zone}.valve"
        for point, digit in zip(_pair(job), "12", strict=True):
            probe(valve, point, digit)
        page.keyboard.press("r")
        bench.logged()
        page.keyboard.press("w")
        bench.logged()
        page.keyboard.press("v")
        for _ in range(len(job.suspects)):
            if page.evaluate("document.activeElement?.value") == job.answers[0]:
                page.keyboard.press(" ")
                break
            page.keyboard.press("Tab")
        for _ in range(len(job.suspects) + 5):
            if page.evaluate("document.activeElement?.textContent") == "Sign the verdict":
                break
            page.keyboard.press("Tab")
        page.keyboard.press("Enter")
        page.get_by_role("button", name="Sign it").wait_for(timeout=PATIENCE)
        page.keyboard.press("Enter")
        bench.marks()
        assert job.answers[:1] == bench.sheet().verdict.suspects
        assert [] == seen.complaints


def test_on_a_phone(site, chromium, job):
    """At 390 px nothing runs over the side, each control is big enough for a thumb, and a reading can be taken by touch."""
    with opened(chromium, 390, 844, touch=True) as (page, seen):
        bench = Bench(page, site, job)
        assert page.evaluate("document.documentElement.scrollWidth") <= 390
        for name in _pair(job):
            target = bench.root.locator(f'.point-target[data-point="{name}"]')
            target.scroll_into_view_if_needed()
            target.tap()
        bench.root.get_by_role("button", name="Read", exact=True).tap()
        bench.logged()
        for tab in ("drawing", "senses", "tools", "log", "verdict"):
            bench.root.locator(".tabs").get_by_role("button", name=tab, exact=True).tap()
            assert [] == page.evaluate(FIT_FOR_A_THUMB), tab
            assert page.evaluate("document.documentElement.scrollWidth") <= 390, tab
        assert [] == seen.complaints
