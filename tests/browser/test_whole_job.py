"""A whole job in a real browser, from the page's start button to a marked sheet."""

import json
from pathlib import Path

import pytest
from browser.chromium import opened

from solvers.chapters.shelf import drawn
from solvers.jobs.marking import mark
from solvers.jobs.sheet import parsed

SEED = next(f"browser/{n}" for n in range(200) if drawn("heater-loops", f"browser/{n}").fault.row == "HL-01")


def _start(page, address):
    page.goto(f"{address}03-heater-loops.html")
    page.evaluate(f"document.querySelector('.bench').dataset.seed = {json.dumps(SEED)}")
    page.locator(".bench").get_by_role("button", name="Start the bench").click()
    bench = page.locator(".cfh-bench")
    bench.locator(".point-target").first.wait_for(timeout=120_000)
    page.wait_for_function("document.activeElement.closest('.cfh-bench')")  # the keys work from here on
    return bench


def _log_grows(bench, lines):
    bench.page.wait_for_function(
        "([node, lines]) => node.querySelectorAll('.log-lines li').length === lines",
        arg=[bench.element_handle(), lines],
        timeout=60_000,
    )


def _sheet(page, bench):
    with page.expect_download() as download:
        bench.get_by_role("button", name="Save the sheet").last.click()
    return parsed(Path(download.value.path()).read_bytes())


def test_a_job_by_mouse(site, chromium):
    """Probes, readings, a call, the verdict: the page shows the marks that Python gives the saved sheet."""
    job = drawn("heater-loops", SEED)
    first, second = job.design.part(f"{job.zone}.valve").heater_pair
    with opened(chromium, 1280, 900) as (page, seen):
        bench = _start(page, site)
        assert job.story in bench.inner_text()

        def read(one, other):
            for probe, name in (("first", one), ("second", other)):
                bench.get_by_title(f"Move the {probe} probe next").click()
                bench.locator(f'.point-target[data-point="{name}"]').click()
            bench.get_by_role("button", name="Read", exact=True).click()

        read("R bus.fuse", "transformer.C")
        _log_grows(bench, 1)
        number = job.zone.removeprefix("zone")
        bench.get_by_role("button", name=f"Call zone {number}").click()
        _log_grows(bench, 2)
        read(first, second)
        _log_grows(bench, 3)
        bench.get_by_role("radio", name="clamp").check(force=True)
        bench.get_by_label("Clamp around which conductor").select_option(f"{job.zone}.W leg")
        bench.get_by_role("button", name="Read", exact=True).click()
        _log_grows(bench, 4)
        bench.get_by_role("button", name=f"Stop call, zone {number}").click()
        _log_grows(bench, 5)
        for line in (3, 4):
            bench.get_by_role("checkbox", name=f"Line {line} proves my verdict").check()
        bench.get_by_role("button", name="Verdict", exact=True).first.click()
        bench.get_by_label(job.suspect(job.answer).words).check()
        bench.get_by_role("button", name="Sign the verdict").click()
        page.get_by_role("button", name="Sign it").click()
        marks = bench.get_by_role("region", name="Marks")
        marks.get_by_text("safety").wait_for(timeout=120_000)
        told = marks.inner_text()
        given = mark(job, _sheet(page, bench))
        assert 90 == given.points, given.lines
        for line in given.lines:
            assert line.criterion in told.lower()
            for reason in line.reasons:
                assert reason in told
        assert [] == seen.outside()
        assert [] == seen.complaints


def test_a_job_by_keyboard(site, chromium):
    """The keyboard alone works a job from its first reading to its marks."""
    job = drawn("heater-loops", SEED)
    with opened(chromium, 1280, 900) as (page, seen):
        bench = _start(page, site)

        def go_to(kind, name, key):
            for _ in range(80):
                here = page.evaluate(f"document.activeElement?.dataset?.{kind}")
                if here == name:
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
        first, second = job.design.part(valve).heater_pair
        probe(valve, first, "1")
        probe(valve, second, "2")
        page.keyboard.press("r")
        _log_grows(bench, 1)
        page.keyboard.press("w")
        _log_grows(bench, 2)
        page.keyboard.press("v")
        for _ in range(60):
            if page.evaluate("document.activeElement?.type") == "radio":
                break
            page.keyboard.press("Tab")
        for _ in range(len(job.suspects)):
            if page.evaluate("document.activeElement?.value") == job.answer and page.evaluate("document.activeElement?.checked"):
                break
            page.keyboard.press("ArrowDown")
        for _ in range(20):
            if page.evaluate("document.activeElement?.textContent") == "Sign the verdict":
                break
            page.keyboard.press("Tab")
        page.keyboard.press("Enter")
        page.get_by_role("button", name="Sign it").wait_for()
        page.keyboard.press("Enter")
        bench.get_by_role("region", name="Marks").get_by_text("safety").wait_for(timeout=120_000)
        assert job.answer == _sheet(page, bench).verdict.suspect
        assert [] == seen.complaints


def test_on_a_phone(site, chromium):
    """At 390 px nothing runs over the side, each control is big enough for a thumb, and a reading can be taken by touch."""
    job = drawn("heater-loops", SEED)
    first, second = job.design.part(f"{job.zone}.valve").heater_pair
    with opened(chromium, 390, 844, touch=True) as (page, seen):
        bench = _start(page, site)
        assert page.evaluate("document.documentElement.scrollWidth") <= 390
        for name in (first, second):
            target = bench.locator(f'.point-target[data-point="{name}"]')
            target.scroll_into_view_if_needed()
            target.tap()
        bench.get_by_role("button", name="Read", exact=True).tap()
        _log_grows(bench, 1)
        small = page.evaluate(
            """() => [...document.querySelectorAll('.cfh-bench button')].filter((node) => node.offsetParent)
                .map((node) => [node.textContent, node.getBoundingClientRect()])
                .filter(([, box]) => box.height < 43.5).map(([text]) => text)"""
        )
        assert [] == small
        assert [] == seen.complaints
