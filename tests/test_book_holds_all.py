"""The book holds the whole course: every objective, misconception and story has its one place on a page."""

import re
from pathlib import Path

import pytest

from solvers.chapters import listings
from solvers.chapters.misconceptions import MISCONCEPTIONS
from solvers.chapters.places import CHAPTER_PAGES, STORY_PAGES, belief, belief_anchor, objective_anchor, page_of
from solvers.chapters.stories import STORIES
from solvers.jobs.job import JobError
from solvers.jobs.objectives import OBJECTIVES

BOOK = Path(__file__).resolve().parent.parent / "book"
PAGES = {page.stem: page.read_text(encoding="utf-8") for page in sorted(BOOK.glob("*.md"))}
TARGET = re.compile(r"^\((objective-[\d-]+)\)=$", re.MULTILINE)
TAUGHT = r"^\({}\)=\n(#+) [^\n]+\n(.*?)(?=^#|^\(objective-|\Z)"  # a target, its heading, the section's text
BELIEF = re.compile(r"\{belief\}`(\d+)`")
REFUTED = r"^\{{belief\}}`{}`\n: (.*?)(?=\n\n)"  # the belief as a term, and what the page says to it
STORY = re.compile(r'<div class="bench" data-chapter="stories" data-seed="([^"]*)">')
DRAWN = re.compile(r"^\{\"number\": (\d+)\}$", re.MULTILINE)
MEASURED = "{reading}`"  # what a page has measured for it, not typed
HELD = {"10": "a rule about two leads that may be exchanged: the reading stays the same"}  # nothing to print


def _placed(pattern):
    """Which pages have what the pattern finds: found text to the stems of the pages, as often as it stands there."""
    found = {}
    for stem, text in PAGES.items():
        for one in pattern.findall(text):
            found.setdefault(one, []).append(stem)
    return found


def test_every_objective_is_placed_once_on_the_page_of_its_chapter():
    """The targets of objectives in the book are those of the course, each once, on the page that the course names for it."""
    assert {objective_anchor(number): [page_of(number)] for number in OBJECTIVES} == _placed(TARGET)


@pytest.mark.parametrize("number", OBJECTIVES)
def test_an_objective_is_taught_under_a_heading_with_something_to_read(number):
    """Below an objective's target stands a heading, and a section with sentences of its own."""
    section = re.search(TAUGHT.format(objective_anchor(number)), PAGES[page_of(number)], re.MULTILINE | re.DOTALL)
    assert section
    assert len(section[2].split()) > 60


def test_every_misconception_is_placed_once_on_the_page_of_its_objective():
    """The beliefs that pages quote are the course's misconceptions, each once, on the page of the objective that meets it."""
    assert {str(number): [page_of(one.objective)] for number, one in MISCONCEPTIONS.items()} == _placed(BELIEF)


@pytest.mark.parametrize("number", MISCONCEPTIONS)
def test_a_misconception_is_answered_by_a_reading(number):
    """What a page says to a belief has a reading in it that was computed, unless the belief is one that no reading changes."""
    page = PAGES[page_of(MISCONCEPTIONS[number].objective)]
    answer = re.search(REFUTED.format(number), page, re.MULTILINE | re.DOTALL)
    assert answer
    assert (MEASURED in answer[1]) != (str(number) in HELD)


def test_every_story_can_be_taken_on_its_one_page():
    """The benches of stories on the pages are those of the course, each once, where the course says."""
    assert {str(number): [STORY_PAGES[number]] for number in STORIES} == _placed(STORY)


@pytest.mark.parametrize("number", STORIES)
def test_a_story_is_told_by_its_title_and_drawn_as_its_own_house(number):
    """Before a story's bench comes its title, or right in it, and its drawing is that of the same story."""
    text = PAGES[STORY_PAGES[number]]
    bench = re.search(rf'data-seed="{number}">', text)
    before, after = text[: bench.start()].rpartition("</details>")[2], text[bench.end() :].partition("</details>")[0]
    assert STORIES[number].title in f"{before}{after}"
    assert [str(number)] == DRAWN.findall(after)


def test_the_pages_that_are_named_are_there_and_the_instructors_tables_lead_to_them():
    """Each named page is a file with the heading that the tables print, and the tables name every target of the book."""
    for digit, stem in CHAPTER_PAGES.items():
        assert PAGES[stem].partition("\n")[0] == f"# {listings.PAGES[digit]}"
    assert set(STORY_PAGES.values()) <= set(CHAPTER_PAGES.values())
    led = set(re.findall(r"\{ref\}`[^<`]+ <([^>]+)>`", listings.objectives() + listings.misconceptions()))
    assert led == {*map(objective_anchor, OBJECTIVES), *map(belief_anchor, MISCONCEPTIONS)}


def test_a_belief_that_there_is_not_is_told_with_those_there_are():
    """A number beyond the last misconception is an error that shows it and the choices."""
    with pytest.raises(JobError, match=r"no misconception 33; there are \[1, 2, "):
        belief(33)
