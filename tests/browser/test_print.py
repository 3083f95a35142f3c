"""A page on paper after its live parts have been started: a clean handout, whatever colours the screen has."""

import pytest
from browser.benches import PATIENCE, Bench, job_with
from browser.chromium import opened

PAPER = {"width": 703, "height": 1000}  # px: A4 less its margins

# What of a part is printed that cannot be pressed on paper, and which backgrounds are not white.
LEFT_OVER = """(part) => {
  const seen = (node) => node.checkVisibility() && node.getBoundingClientRect().height;
  const all = [part, ...part.querySelectorAll("*")].filter(seen);
  const pressed = all.filter((node) => node.matches("button, summary, textarea, [type=range], [type=checkbox], [type=radio]"));
  const grey = (node) => getComputedStyle(node).backgroundColor;
  const dark = all.filter((node) => !node.closest("svg") && !["rgba(0, 0, 0, 0)", "rgb(255, 255, 255)"].includes(grey(node)));
  const pale = all.filter((node) => !node.closest("svg") && getComputedStyle(node).color !== "rgb(0, 0, 0)" && node.innerText);
  return [...pressed, ...dark, ...pale].map((node) => node.outerHTML.slice(0, 120));
}"""


def _dark(page):
    page.add_init_script("localStorage.setItem('mode', 'dark'); localStorage.setItem('theme', 'dark')")


def _printed(page):
    page.emulate_media(media="print")
    page.set_viewport_size(PAPER)


def test_a_job_comes_out_as_drawing_and_table(site, chromium):
    """On paper a begun job is its story, the whole drawing, a row for each line of the log, and room for a verdict."""
    job = job_with("HL-01", 1)
    with opened(chromium, 1280, 900) as (page, seen):
        _dark(page)
        bench = Bench(page, site, job)
        bench.read("volts", "R bus.fuse", "transformer.C")
        bench.read("volts", "transformer.R", "transformer.C")
        bench.tick(2)
        lines = [line.inner_text().split("\n") for line in bench.root.locator(".log-lines li").all()]
        _printed(page)
        part = page.locator('.bench[data-state="running"]')
        assert [] == part.evaluate(LEFT_OVER)
        assert part.get_by_text(job.story).is_visible()
        drawing = bench.root.locator(".scroller > svg").bounding_box()
        assert 0 <= drawing["x"]
        assert drawing["x"] + drawing["width"] <= PAPER["width"]
        for line in bench.root.locator(".log-lines li").all():
            cells = [line.locator(name).bounding_box() for name in (".when", ".what", ".shown")]
            assert sorted(cell["x"] for cell in cells) == [cell["x"] for cell in cells]
            assert cells[0]["y"] == cells[2]["y"]
        assert 2 == len(lines)
        assert "(proof)" in bench.root.locator(".log-lines li").last.locator(".what").evaluate(
            "node => getComputedStyle(node, '::after').content"
        )
        assert "Verdict" in bench.root.locator(".desk").evaluate("node => getComputedStyle(node, '::after').content")
        assert [] == seen.complaints


def test_what_was_set_and_read_is_printed(site, chromium):
    """An explorer that was moved prints what it is set to and what it reads then, and its drawing."""
    with opened(chromium, 1280, 900) as (page, _):
        _dark(page)
        page.goto(f"{site}03-heater-loops.html")
        part = page.locator(".explorer").first
        part.get_by_role("button", name="Start the sliders").click()
        part.locator("input[type=range]").first.wait_for(timeout=PATIENCE)
        part.locator("input[type=range]").first.press("Home")
        part.get_by_text("never", exact=True).first.wait_for()
        _printed(page)
        assert [] == part.evaluate(LEFT_OVER)
        for shown in (".inputs output >> nth=0", ".readings dd >> nth=0", ".picture svg"):
            assert part.locator(shown).is_visible()


@pytest.mark.slow
@pytest.mark.parametrize(
    ("address", "part", "start"), [("06-wire-ups", ".wiring-table", "table"), ("07-wiring-as-found", ".as-found", "house")]
)
def test_a_table_comes_out_without_its_controls(site, chromium, address, part, start):
    """A wiring table and a house as found print their drawing whole and nothing to press."""
    with opened(chromium, 1280, 900) as (page, _):
        _dark(page)
        page.goto(f"{site}{address}.html")
        element = page.locator(part).first
        element.get_by_role("button", name=f"Start the {start}").click()
        element.locator(".point-target").first.wait_for(timeout=PATIENCE)
        _printed(page)
        assert [] == element.evaluate(LEFT_OVER)
        drawing = element.locator(".scroller > svg").bounding_box()
        assert drawing["width"] <= PAPER["width"]
        assert drawing["height"] > 100
