"""A workbook in the browser, nothing installed: its cells run, a slider answers, and no other host is asked."""

from __future__ import annotations

from browser.chromium import opened

from solvers.chapters.explorers import explorer

START_MS = 120_000  # to the first widget; a whole notebook program and Python are loaded first
ANSWER_MS = 20_000


def readings(page):
    """The readings of the first explorer, by label."""
    pairs = page.evaluate(
        "() => { const list = document.querySelector('.cfh-workbook dl'); if (!list) return [];"
        " const texts = (name) => [...list.querySelectorAll(name)].map((each) => each.textContent);"
        " const told = texts('dd'); return texts('dt').map((label, place) => [label, told[place]]); }"
    )
    return dict(pairs)


def expected(**values):
    one = explorer("sag")
    return {each.label: each.text for each in one.shown({**one.defaults, **values}).readings}


def test_a_workbook_runs_in_the_browser(site, chromium):
    """From the page to the first workbook: its first explorer shows the course's readings, and by the arrow keys other ones."""
    with opened(chromium, 1300, 1200) as (page, seen):
        page.goto(f"{site}15-workbooks.html")
        assert not [url for url in seen.asked if "/lite/" in url or "/wheels/" in url]  # nothing of it until asked for
        page.click("a[href$='path=01-step-down-power.ipynb']")
        cells = page.locator(".jp-Notebook .jp-CodeCell .cm-content")
        cells.first.wait_for(timeout=START_MS)
        page.get_by_text("Python (Pyodide)").first.wait_for(timeout=START_MS)
        cells.first.click()
        page.keyboard.press("Shift+Enter")
        page.wait_for_selector(".cfh-workbook svg", timeout=START_MS)
        start = explorer("sag").defaults["zones"]
        assert expected() == readings(page)
        handle = page.locator(".cfh-workbook .noUi-handle").first
        handle.focus()
        handle.press("ArrowRight")
        wanted = expected(zones=start + 1)
        page.wait_for_function(
            "text => [...document.querySelectorAll('.cfh-workbook dl dd')].some((each) => each.textContent === text)",
            arg=wanted["across each heater"],
            timeout=ANSWER_MS,
        )
        assert wanted == readings(page)
        assert [] == seen.outside()
        assert [] == seen.complaints
