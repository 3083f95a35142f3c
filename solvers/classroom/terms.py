"""A term in one file: `term.toml` names the course, its roster and its labs, and all of them are made at once."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path

from .errors import ClassroomError
from .files import contents
from .labs import LabPlan, planned

__all__ = ["BadTerm", "Term", "term"]

LARGEST = 200_000  # bytes
MOST_LABS = 100
_HEAD = {"title", "roster", "seed", "labs"}
_LAB = {"assignment", "kind", "chapter", "level", "title", "due", "task", "questions"}


class BadTerm(ClassroomError):
    """A term's file that cannot be taken; the message says which field, what stands there and the choices."""


@dataclass(frozen=True, slots=True)
class Term:
    """A term as it is planned."""

    title: str
    roster: Path
    seed: str  # a label, such as the year; the course's secret is what makes the labs secret
    labs: tuple[LabPlan, ...]


def term(path: Path) -> Term:
    """The plan of a term; its roster is looked for beside the file. Raises BadTerm with the path of the first wrong field.

    The file holds `title`, `roster`, `seed` and a `[[labs]]` for each lab with `assignment`, `chapter` and, where they are not
    left out, `kind` ("job"), `level` (1), `title`, `due`, `task` of a wire-up, `questions` of a set.
    """
    path = Path(path)
    if not path.is_file():
        raise BadTerm(f"no term {str(path)!r}; it is a TOML file with a [[labs]] for each lab")
    try:
        body = tomllib.loads(contents(path, LARGEST).decode("utf-8"))
    except UnicodeDecodeError:
        raise BadTerm(f"{path.name} is not UTF-8 text") from None
    except (tomllib.TOMLDecodeError, RecursionError) as problem:
        raise BadTerm(f"{path.name} is no TOML: {problem}") from None
    _check_names(body, _HEAD, path.name)
    words = {name: _text(body.get(name, ""), f"{path.name}: {name}") for name in ("title", "roster", "seed")}
    labs = body.get("labs", [])
    if not isinstance(labs, list) or not 1 <= len(labs) <= MOST_LABS:
        raise BadTerm(f"{path.name}: labs must be 1 to {MOST_LABS} tables, each begun by [[labs]]")
    plans = tuple(_lab(lab, f"{path.name}: labs[{number}]") for number, lab in enumerate(labs))
    seen: dict[str, int] = {}
    for number, plan in enumerate(plans):
        if plan.assignment in seen:
            other = seen[plan.assignment]
            raise BadTerm(f"{path.name}: labs[{number}].assignment is {plan.assignment!r}, which labs[{other}] has already")
        seen[plan.assignment] = number
    return Term(words["title"], path.parent / (words["roster"] or "roster.csv"), words["seed"], plans)


def _lab(lab: object, at: str) -> LabPlan:
    if not isinstance(lab, dict):
        raise BadTerm(f"{at} is {lab!r}; begin each lab with [[labs]]")
    _check_names(lab, _LAB, at)
    if missing := [name for name in ("assignment", "chapter") if name not in lab]:
        raise BadTerm(f"{at} has no {missing[0]}; a lab names its assignment and its chapter")
    rest = {name: value for name, value in lab.items() if name not in ("assignment", "chapter", "kind", "level")}
    return planned(lab["assignment"], lab.get("kind", "job"), lab["chapter"], lab.get("level", 1), at=f"{at}.", **rest)


def _check_names(body: dict, known: set[str], at: str) -> None:
    if unknown := sorted(set(body) - known):
        raise BadTerm(f"{at} holds {unknown[0]!r}; there are {', '.join(sorted(known))}")


def _text(value: object, path: str) -> str:
    if not isinstance(value, str) or len(value) > 200:
        raise BadTerm(f"{path} is {value!r}; give text of at most 200 characters")
    return value
