"""Tables for the instructor's page, made from the course's own data: objectives, misconceptions, stories. Markdown."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache

from ..faults.catalogue import CATALOGUE
from ..jobs.job import Job
from ..jobs.objectives import OBJECTIVES
from . import story_jobs
from .misconceptions import MISCONCEPTIONS
from .places import belief, belief_anchor, objective_anchor
from .quiz import KINDS, asked
from .stories import STORIES

__all__ = ["PAGES", "misconceptions", "objectives", "shown_by", "stories", "table", "taught_on"]

PAGES: Mapping[str, str] = {
    "1": "Step-down power",
    "2": "Thermostat switching",
    "3": "Valve heater loops",
    "4": "End-switch circuits",
    "5": "Multi-zone service calls",
}
"""The page that teaches an objective, by the first digit of its number."""


def taught_on(objective: str) -> str:
    """The title of the page that teaches an objective."""
    return PAGES[objective.partition(".")[0]]


def shown_by(objective: str) -> tuple[str, ...]:
    """What a learner can show an objective with: kinds of fault at the bench, kinds of question, stories."""
    rows = sum(objective in row.objectives for row in CATALOGUE.values())
    found = [f"jobs of {rows} kinds of fault"] if rows else []
    found += [f"questions: {', '.join(asking)}"] if (asking := _questions().get(objective)) else []
    told = [str(number) for number in STORIES if objective in _story(number).objectives]
    found += [_numbered(told)] if told else []
    return tuple(found)


def objectives() -> str:
    """Every objective, where it is taught, and what shows it."""
    rows = (
        (number, words, _linked(taught_on(number), objective_anchor(number)), "; ".join(shown_by(number)))
        for number, words in OBJECTIVES.items()
    )
    return table(("No.", "The learner can", "Taught on", "Shown by"), rows)


def misconceptions() -> str:
    """Every misconception with the page that refutes it."""
    rows = (
        (str(one.number), belief(one.number), _linked(taught_on(one.objective), belief_anchor(one.number)), one.objective)
        for one in MISCONCEPTIONS.values()
    )
    return table(("No.", "What they believe", "Refuted on", "Objective"), rows)


def stories() -> str:
    """The stories with what is wrong in each, its trap, minutes and readings. It tells the answers."""
    rows = (
        (
            str(number),
            story.title,
            " ".join(_story(number).suspect(answer).words for answer in _story(number).answers),
            story.trap,
            str(story.minutes),
            str(story.practice_par),
        )
        for number, story in STORIES.items()
    )
    return table(("No.", "Story", "What is wrong", "Trap", "Minutes", "Readings"), rows)


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A Markdown table of plain texts."""
    lines = [head, ["---"] * len(head), *rows]
    return "\n".join(f"| {' | '.join(cell.replace('|', '/') for cell in line)} |" for line in lines)


def _linked(words: str, anchor: str) -> str:
    """Words that lead to a target of the book."""
    return f"{{ref}}`{words} <{anchor}>`"


def _numbered(told: Sequence[str]) -> str:
    if len(told) == len(STORIES):
        return "every story"
    return f"{'story' if len(told) == 1 else 'stories'} {', '.join(told)}"


@lru_cache(maxsize=1)
def _questions() -> Mapping[str, tuple[str, ...]]:
    """Kinds of question by the objective that one drawn of them is about. Those on misconceptions are about any."""
    found: dict[str, dict[str, None]] = {}
    for chapter, kinds in KINDS.items():
        for kind in (kind for kind in kinds if not kind.startswith("answer a ")):
            found.setdefault(asked(chapter, kind, "listing").objective, {})[kind] = None
    return {objective: tuple(several) for objective, several in found.items()}


def _story(number: int) -> Job:
    return story_jobs.draw(str(number))
