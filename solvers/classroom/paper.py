"""Jobs as paper exercises: a sheet for the learner, and what the instructor needs on pages apart."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape
from pathlib import Path

from ..chapters.shelf import CHAPTERS, drawn
from ..jobs.job import Job, JobError
from ..pictures.ladder import ladder
from ..pictures.wires import wires
from .errors import ClassroomError
from .paper_answers import answer_sheet
from .paper_marks import rows, suspects

__all__ = ["answered", "exercises", "jobs_of"]

STYLE = Path(__file__).with_name("paper.css")
LOG_ROWS = 14
COLUMNS = ("line", "stats on call, for how long", "what I do, or function", "first probe", "second probe", "I expect", "I read")


def jobs_of(chapter: str, level: int, seed: str, count: int) -> tuple[Job, ...]:
    """The jobs of so many seeds, `seed/1` and so on; of the stories, those from number `seed` on.

    Raises ClassroomError with the choices for a chapter, level or seed that does not exist.
    """
    if chapter not in CHAPTERS:
        raise ClassroomError(f"no chapter {chapter!r}; there are {', '.join(CHAPTERS)}")
    module = CHAPTERS[chapter]
    if level not in module.LEVELS:
        raise ClassroomError(f"no level {level} of {chapter}; there are {', '.join(map(str, module.LEVELS))}")
    told = getattr(module, "SEEDS", ())
    if told and seed not in told:
        raise ClassroomError(f"no story {seed!r} to begin with; --seed takes one of {', '.join(told)}")
    begins = told.index(seed) if told else 0
    seeds = told[begins : begins + count] if told else [f"{seed}/{number}" for number in range(1, count + 1)]
    try:
        return tuple(drawn(chapter, one, level) for one in seeds)
    except JobError as problem:
        raise ClassroomError(str(problem)) from None


def exercises(jobs: Sequence[Job], *, with_answers: bool = False) -> str:
    """One HTML document of a sheet for each job; the answers follow, from a page of their own, only if asked for."""
    sheets = [_sheet(job, number) for number, job in enumerate(jobs, 1)]
    return _document("Job sheets", [*sheets, *(_answers(jobs) if with_answers else ())])


def answered(jobs: Sequence[Job]) -> str:
    """One HTML document of the answers: for each job what to read out, par, and the readings that prove it."""
    return _document("Answers to the job sheets", _answers(jobs))


def _answers(jobs: Sequence[Job]) -> Iterable[str]:
    return [answer_sheet(job, number) for number, job in enumerate(jobs, 1)]


def _document(title: str, sections: Iterable[str]) -> str:
    screen = '<meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">'
    head = f"{screen}<title>{escape(title)}</title>"
    style = f"<style>\n{STYLE.read_text(encoding='utf-8')}</style>"
    return f'<!doctype html>\n<html lang="en">\n<head>{head}\n{style}</head>\n<body>\n{"".join(sections)}</body>\n</html>\n'


def _sheet(job: Job, number: int) -> str:
    draw = wires if job.drawing == "wires" else ladder
    rooms = "; ".join(f"zone {zone.removeprefix('zone')} is the {room}" for zone, room in job.rooms.items())
    head = "".join(f"<th>{escape(words)}</th>" for words in COLUMNS)
    blank = rows([[str(line), *[""] * (len(COLUMNS) - 1)] for line in range(1, LOG_ROWS + 1)])
    two = "There may be two faults. " if _may_be_two(job) else ""
    return f"""<section class="sheet">
<header><h1>{escape(job.title)}</h1><span class="which">Job sheet {number}: {escape(job.id)}</span></header>
<p class="who">Name <span></span> Date <span></span></p>
<p class="story">{escape(job.story)}</p>
<p>Rooms: {escape(rooms)}.</p>
<figure>{draw(job.design)}</figure>
<p>This is how the house is meant to be wired. {two}What does the complaint leave possible?</p>
<h2>Suspects</h2>
<ul class="suspects">{suspects(job)}</ul>
<h2 class="turned">Log</h2>
<p>Before each reading write down what you expect. Then ask for it: which function, from where to where, who calls, and for how
long by then. Looks, sounds and a hand on the pipe are readings too. Waiting is free on paper, but say how long.</p>
<table class="log"><thead><tr>{head}</tr></thead><tbody>{blank}</tbody></table>
<div class="verdict">
<h2>Verdict</h2>
<p>It is suspect <span class="blank"></span> proven by the lines <span class="blank"></span> and <span class="blank"></span></p>
<p>Its nearest look-alike is <span class="blank"></span> ruled out by line <span class="blank"></span></p>
<p>Why the customer noticed what they noticed:</p><span class="blank"></span><span class="blank"></span>
<p>What I do, and how I leave the house; or whose work it is:</p><span class="blank"></span><span class="blank"></span>
<p>One sentence for the customer:</p><span class="blank"></span><span class="blank"></span>
</div>
</section>
"""


def _may_be_two(job: Job) -> bool:
    """Whether jobs of this chapter and level may hold two faults: a learner is told so, and not whether this one does."""
    return CHAPTERS[job.chapter].PLAN.levels[job.level].faults[1] > 0
