"""What the book's pages make from the package's data: listings, symbols, sources, and answers set apart for print."""

import importlib
import re
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest

from solvers.chapters import listings, model_readings, sources
from solvers.chapters.listings import shown_by, taught_on
from solvers.chapters.misconceptions import MISCONCEPTIONS
from solvers.chapters.sources import STATUSES, WORKS
from solvers.chapters.stories import STORIES
from solvers.jobs.objectives import OBJECTIVES
from solvers.pictures.elements import DRIVES, PASSABLE
from solvers.pictures.symbol_examples import SYMBOLS, symbol, symbol_table
from solvers.plant.facts import SOURCES

ROOT = Path(__file__).resolve().parent.parent
BOOK = ROOT / "book"
LISTED = re.compile(r"\{listing\} ([\w.]+):(\w+)")
SVG = "{http://www.w3.org/2000/svg}"


def _rows(table):
    """The cells of a Markdown table, without its head."""
    lines = [line.strip().strip("|").split("|") for line in table.splitlines()]
    assert {len(line) for line in lines} == {len(lines[0])}
    return [[cell.strip() for cell in line] for line in lines[2:]]


def test_every_listing_on_a_page_is_public():
    """Each listing that a page asks for is a public function of its module, and the tables of the course are all on a page."""
    found = [one for page in BOOK.glob("*.md") for one in LISTED.findall(page.read_text(encoding="utf-8"))]
    for module, name in found:
        assert name in importlib.import_module(module).__all__
    assert {name for _, name in found} >= {"stories", "misconceptions", "objectives", "works", "facts_by_source", "symbol_table"}


@pytest.mark.parametrize("objective", OBJECTIVES)
def test_every_objective_is_taught_and_can_be_shown(objective):
    """An objective has a page whose heading is the title named for it, and something a learner can show it with."""
    titles = {page.read_text(encoding="utf-8").partition("\n")[0].removeprefix("# ") for page in BOOK.glob("0*.md")}
    assert taught_on(objective) in titles
    assert shown_by(objective)


def test_the_instructors_tables_are_whole():
    """The tables have one row for each objective, misconception and story, in their order."""
    assert [row[0] for row in _rows(listings.objectives())] == list(OBJECTIVES)
    assert [row[0] for row in _rows(listings.misconceptions())] == [str(number) for number in MISCONCEPTIONS]
    stories = _rows(listings.stories())
    assert [(row[0], row[1], row[4]) for row in stories] == [
        (str(number), story.title, str(story.minutes)) for number, story in STORIES.items()
    ]
    assert all(len(row[3]) > 20 for row in stories)


def test_every_file_of_published_checks_has_its_sources():
    """Every file of tests that names a published work stands beside that work, and no work names a file that is not there."""
    files = {path.name for path in (ROOT / "tests" / "published").glob("test_*.py")}
    assert {work.check for work in WORKS} - {""} == files
    assert {work.status for work in WORKS} <= set(STATUSES)
    assert all(work.status == "from memory" for work in WORKS if not work.check)


def test_a_source_that_was_read_in_copies_says_so():
    """Where the tests say that a source was read at second hand, the page does not call it verified."""
    for work in WORKS:
        text = (
            (ROOT / "tests" / "published" / work.check).read_text(encoding="utf-8").partition('"""\n\n')[0] if work.check else ""
        )
        if work.status == "verified":
            assert "Read at" in text or "Read in the book's source" in text or "read at github.com" in " ".join(text.split())
            assert "Read at second hand" not in text


def test_every_number_of_the_plant_is_counted_by_its_source():
    """The counts by source add up to the table of numbers, and every key has its line."""
    counted = {row[0]: row[2] for row in _rows(sources.facts_by_source())}
    listed = [row[4] for row in _rows(sources.fact_table())]
    assert set(counted) == set(SOURCES)
    assert {key: int(number) for key, number in counted.items() if number != "tables"} == {
        key: listed.count(key) for key in SOURCES if key in listed
    }


@pytest.mark.parametrize("name", SYMBOLS)
def test_every_symbol_is_drawn_within_its_sheet(name):
    """A symbol is well-formed SVG with marks in it, all of which lie within its edges."""
    root = ElementTree.fromstring(symbol(name))
    _, _, wide, high = map(float, root.get("viewBox").split())
    marks = [mark for mark in root.iter() if mark.tag.removeprefix(SVG) in ("path", "circle", "text", "polygon", "polyline")]
    assert marks
    for mark in marks:
        for x, y in _points(mark):
            assert -1 <= x <= wide + 1
            assert -1 <= y <= high + 1


def _points(mark):
    if mark.tag == f"{SVG}path":
        numbers = (
            [float(one) for one in re.findall(r"-?\d+(?:\.\d+)?", mark.get("d"))] if "A" not in mark.get("d").upper() else []
        )
        return list(zip(numbers[::2], numbers[1::2], strict=False))
    if mark.get("points"):
        return [tuple(map(float, pair.split(","))) for pair in mark.get("points").split()]
    x, y = ("cx", "cy") if mark.tag == f"{SVG}circle" else ("x", "y")
    return [(float(mark.get(x)), float(mark.get(y)))]


def test_the_table_of_symbols_has_every_kind_of_element():
    """Every kind that a rung may lead through has its symbol, and the table shows each symbol once."""
    words = {"ptc": "heater of the low-draw kind", "switch": "end switch", "joint": "splice"}
    assert {words.get(kind, kind) for kind in (*PASSABLE, *DRIVES, "stat", "electronics")} <= set(SYMBOLS)
    assert re.findall(r'\{"name": "([^"]*)"\}', symbol_table()) == list(SYMBOLS)
    with pytest.raises(ValueError, match="no symbol 'cat'; there are"):
        symbol("cat")


def test_what_the_model_page_prints_follows_from_its_parts():
    """A short's amperes are volts over ohms, a nameplate's VA over volts; a fuse is slower at less current."""

    def number(name):
        return float(getattr(model_readings, name)().split()[0])

    assert number("short_amps") == pytest.approx(number("source_volts") / number("source_ohms"), rel=0.01)
    assert number("rated_amps") == pytest.approx(40 / 24, rel=0.01)
    assert number("fuse_at_two") > number("fuse_at_five") > 0
    assert number("relay_pulls") > number("relay_drops")


def _page(tmp_path, text):
    """A page built with the book's own extensions: its HTML, and what the build complains of."""
    (tmp_path / "conf.py").write_text(
        f"import sys\nsys.path[:0] = [{str(BOOK / 'ext')!r}, {str(ROOT)!r}]\n"
        "extensions = ['myst_parser', 'sphinx_design', 'answers', 'drawings']\n",
        encoding="utf-8",
    )
    (tmp_path / "index.md").write_text(text, encoding="utf-8")
    words = [sys.executable, "-m", "sphinx", "-q", "-E", "--no-color", "-b", "html", str(tmp_path), str(tmp_path / "out")]
    told = subprocess.run(words, capture_output=True, text=True, timeout=120)
    return (tmp_path / "out" / "index.html").read_text(encoding="utf-8"), told.stderr


def test_answers_are_repeated_at_the_end_for_print(tmp_path):
    """Each dropdown's text stands once more after all else, without targets of its own; one that is a reference does not."""
    html, said = _page(
        tmp_path,
        "# A page\n\nWhat is it?\n\n```{dropdown} Answer 1\n(spot)=\nIt is the *joint*.\n```\n\n"
        "```{dropdown} A table\n:class-container: reference\n\nLong.\n```\n\nThe last line.\n",
    )
    assert said == ""
    shown, _, printed = html.partition('<div class="printed-answers')
    assert shown.count("It is the <em>joint</em>.") == 1
    assert printed.count("It is the <em>joint</em>.") == 1
    assert "Answer 1" in printed
    assert "The last line." in shown
    assert "Long." not in printed
    assert html.count('id="spot"') == 1


def test_a_listing_is_read_as_markdown_and_a_wrong_one_is_an_error(tmp_path):
    """A listing becomes a table of the page; one that names nothing is told with what there is."""
    html, said = _page(tmp_path, "# A page\n\n```{listing} solvers.chapters.sources:statuses\n```\n")
    assert said == ""
    assert html.count("<tr") == len(STATUSES) + 1
    _, said = _page(tmp_path, "# A page\n\n```{listing} solvers.chapters.sources:nothing\n```\n")
    assert "has no function 'nothing'; it has" in said
