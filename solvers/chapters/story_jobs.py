"""The stories as a chapter: each is a job with a fixed seed, its number; an answer's evidence and marks are as for any other."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from ..faults.catalogue import CATALOGUE
from ..faults.fault import Fault, Suspect, suspects
from ..jobs.job import Job, JobError
from .drawing import Level, Plan, difficulty
from .stories import STORIES
from .story import Story, Wrong

__all__ = ["CHAPTER", "LEVELS", "OBJECTIVES", "PLAN", "SEEDS", "draw"]

CHAPTER = "stories"

PLAN = Plan(
    chapter=CHAPTER,
    rows=(),  # nothing is drawn: what is wrong stands in each story
    others=(),
    levels={1: Level({}, (), 12, {}, intermittent=True, faults=(0.6, 0.3, 0.1))},
)

LEVELS = tuple(PLAN.levels)
EVERY_STORY = "5.1"  # the objective of turning a complaint into suspects
OBJECTIVES = (
    *("1.1", "1.2", "1.3", "1.5", "1.6", "1.7", "2.2", "2.4"),
    *("3.2", "3.3", "3.4", "3.5", "3.6", "3.7", "4.1", "4.2", "4.3", "4.4", "4.7"),
    *("5.1", "5.3", "5.4", "5.5", "5.6"),
)
SEEDS = tuple(str(number) for number in STORIES)


def draw(seed: str, level: int = 1) -> Job:
    """The job of a story; its number is the seed. Raises JobError with the choices for any other seed or level."""
    if level not in PLAN.levels or isinstance(level, bool):
        raise JobError(f"level {level!r} of {CHAPTER}; there are {list(LEVELS)}")
    if not isinstance(seed, str) or seed not in SEEDS:
        raise JobError(f"no story {seed!r}; there are {list(SEEDS)}")
    return _job(int(seed))


@lru_cache(maxsize=32)
def _job(number: int) -> Job:
    story = STORIES[number]
    pool = _pool(story)
    for id in story.offered:
        if id not in pool:
            raise JobError(f"story {number} offers {id!r}; there are {list(pool)}")
    offered = tuple({pool[id].id: pool[id] for id in story.offered}.values())
    answers = tuple(pool[wrong.suspect].id for wrong in story.wrong)
    rows = [row for answer in answers for suspect in offered if suspect.id == answer for row in suspect.rows]
    own = (*(name for row in rows for name in row.objectives), *story.more_objectives, EVERY_STORY)
    job = Job(
        chapter=CHAPTER,
        level=1,
        seed=str(number),
        title=story.title,
        story=f"{story.setting}. The customer says: \u201c{story.note}\u201d {' '.join(story.harmless)}",
        rooms=dict(zip(story.house.zones, story.rooms, strict=True)),
        zone=story.zone,
        design=story.house,
        faults=tuple(_fault(story, wrong, pool[wrong.suspect]) for wrong in story.wrong),
        suspects=offered,
        answers=answers,
        objectives=tuple(sorted(set(own))),
        drawing="wires",
    )
    return replace(job, difficulty=difficulty(job, len(story.harmless)))


def _pool(story: Story) -> dict[str, Suspect]:
    """Every suspect that the story's rows give in its house, by id; one that stands for several rows by each of theirs."""
    ids = dict.fromkeys(id.partition(" ")[0] for id in story.offered)
    rows = [story.own_rows.get(id, CATALOGUE[id]) for id in ids if id != "nothing"]
    if "nothing" in ids:
        rows.append(CATALOGUE["NF-03"])
    found: dict[str, Suspect] = {}
    for zone in story.house.zones:
        for suspect in suspects(story.house, zone, rows):
            found.setdefault(suspect.id, suspect)
            for row in suspect.rows:
                found.setdefault(Wrong(row.id, suspect.zone).suspect, suspect)
    return found


def _fault(story: Story, wrong: Wrong, suspect: Suspect) -> Fault:
    row = next(row for row in suspect.rows if row.id == wrong.row)
    zones = story.house.zones
    zone = wrong.zone or story.zone
    return row.at(zone, suspect.place, wrong.size, zones[(zones.index(zone) + 1) % len(zones)])
