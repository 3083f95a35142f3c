"""What a page shows of a story until its bench is started: the house as it is meant to be, drawn as the bench draws it."""

from __future__ import annotations

from ..chapters.story_houses import STORY_HOUSES
from ..jobs.job import JobError
from ..pictures.wires import wires

__all__ = ["story_house"]


def story_house(number: int) -> str:
    """The house of a story, as its parts and cables lie, as SVG; raises JobError with the numbers there are."""
    if number not in STORY_HOUSES:
        raise JobError(f"no story {number!r}; there are {sorted(STORY_HOUSES)}")
    return wires(STORY_HOUSES[number])
