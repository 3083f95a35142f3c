"""Where objectives, misconceptions and stories have their place in the book: the page, and the anchor on it."""

from __future__ import annotations

from collections.abc import Mapping

from ..jobs.job import JobError
from .misconceptions import MISCONCEPTIONS

__all__ = ["CHAPTER_PAGES", "STORY_PAGES", "belief", "belief_anchor", "objective_anchor", "page_of"]

CHAPTER_PAGES: Mapping[str, str] = {
    "1": "01-step-down-power",
    "2": "02-thermostat-switching",
    "3": "03-heater-loops",
    "4": "04-end-switches",
    "5": "05-service-calls",
}
"""The stem of the page that teaches an objective, by the first digit of its number."""

STORY_PAGES: Mapping[int, str] = {
    1: "03-heater-loops",
    2: "04-end-switches",
    3: "01-step-down-power",
    4: "05-service-calls",
    5: "04-end-switches",
    6: "02-thermostat-switching",
    7: "03-heater-loops",
    8: "03-heater-loops",
    9: "05-service-calls",
    10: "04-end-switches",
    11: "01-step-down-power",
    12: "05-service-calls",
    13: "04-end-switches",
    14: "05-service-calls",
}
"""The stem of the one page on which a story can be taken, by the story's number."""


def page_of(objective: str) -> str:
    """The stem of the page that teaches an objective, and that refutes what stands in its way."""
    return CHAPTER_PAGES[objective.partition(".")[0]]


def objective_anchor(objective: str) -> str:
    """The target on that page, set above the section that teaches the objective."""
    return f"objective-{objective.replace('.', '-')}"


def belief_anchor(number: int) -> str:
    """The target of a misconception, set where the page quotes and refutes it."""
    return f"belief-{number}"


def belief(number: int) -> str:
    """A misconception in quotation marks, as a page prints it; raises JobError with the numbers there are."""
    if number not in MISCONCEPTIONS:
        raise JobError(f"no misconception {number!r}; there are {list(MISCONCEPTIONS)}")
    return f"\u201c{MISCONCEPTIONS[number].belief}\u201d"
