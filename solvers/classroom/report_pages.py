"""A course's standing as pages to print: one for the class and one for each learner. They run nothing and load nothing."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from ..jobs.mastery import STATES
from ..jobs.objectives import OBJECTIVES
from .feedback import document
from .files import Staged
from .gradebook import Course
from .marks_table import grid
from .report import Standing
from .roster import Learner, roster
from .words import escaped, plain, span

__all__ = ["class_page", "kept", "learner_page"]

FOLDER = "reports"

# A letter beside each colour, so that the grid can be read without colours and from a black and white print.
_SIGNS: Mapping[str, tuple[str, str]] = {
    STATES[0]: ("", "#ffffff"),
    STATES[1]: ("t", "#f3e3c3"),
    STATES[2]: ("1", "#d7e6f4"),
    STATES[3]: ("2", "#bcdcc6"),
    STATES[4]: ("C", "#8fc7a0"),
}


def kept(course: Path, *, db_url: str | None = None) -> Path:
    """Write all pages into the course's `reports` folder, whole or not at all; raises ClassroomError or OSError."""
    here = Course.opened(Path(course), db_url)
    standing = here.standing()
    path = here.root / "roster.csv"
    people = {one.id: one for one in (roster(path) if path.exists() else ())}
    folder = here.root / FOLDER
    with Staged() as stage:
        stage.folder(folder)
        stage.add(folder / "class.html", class_page(standing, people).encode("utf-8"), mode=0o600)
        for learner in dict.fromkeys(one.learner for one in standing):
            stage.add(folder / f"{learner}.html", learner_page(learner, standing, people).encode("utf-8"), mode=0o600)
        stage.settle()
    return folder


def class_page(standing: Sequence[Standing], people: Mapping[str, Learner]) -> str:
    """Points by learner and assignment, what to talk over with whom, objectives, and those that most who tried did not show."""
    assignments = list(dict.fromkeys(one.assignment for one in standing))
    learners = list(dict.fromkeys(one.learner for one in standing))
    at = {(one.learner, one.assignment): one for one in standing}
    rows = [[_name(learner, people), *(_points(at.get((learner, name))) for name in assignments)] for learner in learners]
    states = grid(standing)
    used = [name for name in OBJECTIVES if any(states[learner][name] != STATES[0] for learner in learners)]
    marked = [[_name(learner, people), *(_cell(states[learner][name]) for name in used)] for learner in learners]
    hard = "".join(_hard(states, used)) or "<li>Nothing.</li>"
    body = (
        f"<h1>The class</h1>{_table(['Learner', *map(escaped, assignments)], rows)}"
        f"{_talks(standing, people)}"
        f"<section><h2>Objectives</h2><p>{_legend()}</p>{_table(['Learner', *used], marked)}</section>"
        f"<section><h2>What was tried and not shown, most often first</h2><ol>{hard}</ol></section>"
    )
    return document("The class", body)


def learner_page(learner: str, standing: Sequence[Standing], people: Mapping[str, Learner]) -> str:
    """One learner's points and objectives, on a page of its own."""
    mine = [one for one in standing if one.learner == learner]
    states = grid(mine)[learner]
    rows = [[escaped(one.assignment), _points(one), "" if one.at is None else f"{one.at:%Y-%m-%d %H:%M} UTC"] for one in mine]
    known = [[name, escaped(OBJECTIVES[name]), state] for name, state in states.items() if state != STATES[0]]
    body = (
        f"<h1>{_name(learner, people)}</h1>{_table(['Lab', 'Points', 'Handed in'], rows)}"
        f"<section><h2>Objectives tried</h2>{_table(['', 'Objective', 'State'], known)}</section>"
    )
    return document(plain(learner), body)


def _talks(standing: Iterable[Standing], people: Mapping[str, Learner]) -> str:
    """What is to be talked over, by learner and lab; it took no marks."""
    rows = [
        [_name(one.learner, people), escaped(one.assignment), "<br>".join(escaped(plain(words)) for words in one.talk)]
        for one in standing
        if one.talk
    ]
    table = _table(["Learner", "Lab", "What was noticed"], rows) if rows else "<p>Nothing.</p>"
    return f"<section><h2>For a talk, no marks</h2>{table}</section>"


def _hard(states: Mapping[str, Mapping[str, str]], used: Iterable[str]) -> list[str]:
    counted = []
    for name in used:
        tried = [mine[name] for mine in states.values() if mine[name] != STATES[0]]
        missed = sum(state == STATES[1] for state in tried)
        if missed:
            words = f"<li>{name} {escaped(OBJECTIVES[name])}: {missed} of {len(tried)}</li>"
            counted.append((-missed / len(tried), -missed, words))
    return [words for _, _, words in sorted(counted)]


def _points(one: Standing | None) -> str:
    if one is None:
        return ""
    late = f", late by {span(one.late)}" if one.late else ""
    late += f", {one.penalty:g} off for it" if one.penalty else ""
    return f"{one.score:g} of {one.out_of:g}{late}{', waits' if one.waiting else ''}"


def _cell(state: str) -> str:
    sign, colour = _SIGNS[state]
    return f'<span style="background:{colour};padding:0 .4em" title="{state}">{sign}</span>' if sign else ""


def _legend() -> str:
    return ", ".join(f"{_cell(state)} {state}" for state in STATES if _SIGNS[state][0])


def _name(learner: str, people: Mapping[str, Learner]) -> str:
    known = people.get(learner)
    return escaped(plain(f"{known.name} ({learner})" if known else learner))


def _table(head: Iterable[str], rows: Iterable[Sequence[str]]) -> str:
    """A table of cells that are HTML already."""
    top = "".join(f"<th>{cell}</th>" for cell in head)
    lines = "".join(f"<tr>{''.join(f'<td>{cell}</td>' for cell in row)}</tr>" for row in rows)
    return f"<table><thead><tr>{top}</tr></thead><tbody>{lines}</tbody></table>"
