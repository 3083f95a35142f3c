"""Every page as it is read, at four widths and in both colours: nothing runs off the screen, and all text can be made out."""

import pytest
from browser.benches import PATIENCE
from browser.chromium import opened
from browser.conftest import BOOK

PAGES = ["intro", *sorted(page.stem for page in BOOK.glob("[0-9][0-9]-*.md"))]

# What ends beyond the screen's right edge, unless something around it scrolls or cuts it on purpose.
BEYOND = """() => {
  const cut = ["auto", "scroll", "hidden", "clip"];
  const kept = (node) => node && (cut.includes(getComputedStyle(node).overflowX) || kept(node.parentElement));
  const over = ({ right, width }) => width && right > innerWidth + 1;
  const found = [...document.querySelectorAll("article *")].filter((node) => over(node.getBoundingClientRect()));
  return found.filter((node) => !kept(node.parentElement)).map((node) => node.outerHTML.slice(0, 100));
}"""

# Text whose colour stands less than 4.5 to 1 from what is behind it, by the formula of the Web Content Accessibility
# Guidelines 2.2, "relative luminance" and "contrast ratio".
PALE = """() => {
  const numbers = (colour) => colour.match(/[\\d.]+/g).map(Number);
  const light = (colour) => {
    const [r, g, b] = numbers(colour).slice(0, 3).map((part) => part / 255).map((part) =>
      part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const behind = (node) => {
    for (; node; node = node.parentElement) {
      const colour = getComputedStyle(node).backgroundColor;
      if ((numbers(colour)[3] ?? 1) > 0.5) return colour;
    }
    return "rgb(255, 255, 255)";
  };
  const worded = (node) => [...node.childNodes].some((child) => child.nodeType === 3 && child.textContent.trim());
  const found = [];
  for (const node of document.querySelectorAll("body *")) {
    if (node.closest("svg") && node.tagName !== "text") continue;
    if (!worded(node) || !node.checkVisibility({ visibilityProperty: true, opacityProperty: true })) continue;
    const { color, fill } = getComputedStyle(node);
    const [high, low] = [light(node.tagName === "text" ? fill : color), light(behind(node))].sort((a, b) => b - a);
    if ((high + 0.05) / (low + 0.05) < 4.5) found.push(node.outerHTML.slice(0, 100));
  }
  return found;
}"""


@pytest.mark.slow
@pytest.mark.parametrize("width", [390, 768, 1280, 1920])
def test_nothing_runs_off_the_screen(site, chromium, width):
    """No page can be pushed sideways, and nothing on it ends beyond the edge unless it scrolls by itself."""
    with opened(chromium, width, 900) as (page, seen):
        for name in PAGES:
            page.goto(f"{site}{name}.html")
            page.evaluate("document.fonts.ready")
            assert (name, width) == (name, page.evaluate("document.documentElement.scrollWidth"))
            assert [] == page.evaluate(BEYOND), name
        assert [] == seen.complaints


@pytest.mark.slow
@pytest.mark.parametrize("colours", ["light", "dark"])
def test_all_text_can_be_made_out(site, chromium, colours):
    """Each text, drawings' letters too, stands out from its ground by 4.5 to 1."""
    with opened(chromium, 1280, 900) as (page, _):
        page.add_init_script(f"localStorage.setItem('mode', '{colours}'); localStorage.setItem('theme', '{colours}')")
        for name in PAGES:
            page.goto(f"{site}{name}.html")
            assert colours == page.evaluate("document.documentElement.dataset.theme")
            assert [] == page.evaluate(PALE), name


def test_one_colour_for_links(site, chromium):
    """A link in a table has the colour of a link in a sentence."""
    with opened(chromium, 1280, 900) as (page, _):
        page.goto(f"{site}intro.html")
        colours = page.evaluate(
            "[...document.querySelectorAll('article a.reference')].map((link) => getComputedStyle(link).color)"
        )
        assert len(colours) > 10
        assert 1 == len(set(colours))


@pytest.mark.parametrize("address", ["02-thermostat-switching", "03-heater-loops"])
@pytest.mark.parametrize(("width", "height"), [(390, 844), (768, 1000), (1280, 900)])
def test_a_drawing_stays_while_its_bench_starts(site, chromium, width, height, address):
    """From the press to the offer of a job the drawing on the page keeps its place and size, and so does the page below."""
    with opened(chromium, width, height, touch=width < 500) as (page, _):
        page.goto(f"{site}{address}.html")
        bench = page.locator(".bench").first
        places = [bench.locator("> .drawing svg").bounding_box(), bench.bounding_box()]
        bench.get_by_role("button", name="Start the bench").evaluate("button => button.click()")
        bench.get_by_role("button", name="Begin a new job").wait_for(timeout=PATIENCE)
        assert places == [bench.locator("> .drawing svg").bounding_box(), bench.bounding_box()]


@pytest.mark.slow
@pytest.mark.parametrize("address", ["06-wire-ups", "07-wiring-as-found"])
def test_a_table_has_its_screenful_from_the_beginning(site, chromium, address):
    """What stands below a wiring table or a house is a screen away from its button already, so nothing in sight moves."""
    with opened(chromium, 1280, 900) as (page, _):
        page.goto(f"{site}{address}.html")
        for table in page.locator(".wiring-table:visible").all():
            assert table.bounding_box()["height"] >= 900
