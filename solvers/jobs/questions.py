"""The kinds of question beside fault-finding, and their checking: a hint for a wrong answer, never the value in graded work."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Protocol

from .job import JobError

__all__ = ["FORMS", "Checked", "Posed", "Question", "checked", "read"]

FORMS = ("number", "choice", "choices", "order")
"""A number with its unit, one of several, some of several, or all of several in their order."""


class Posed(Protocol):
    """As much of a question as its learner sees."""

    form: str
    unit: str
    choices: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Question:
    """One question, drawn from a seed: what is asked, what it is asked about, and how an answer is judged.

    `expected` is a number, a choice, a set of choices as a tuple, or the whole order. `traps` are wrong answers that show a
    known misreading, each with the hint that meets it; a number is met within the tolerance, an order by steps that it puts
    as the trap does. Raises JobError where it cannot be what it says.
    """

    kind: str  # "size a transformer"
    chapter: str
    seed: str
    form: str  # one of FORMS
    words: str
    expected: float | str | tuple[str, ...]
    why: str  # the working, for practice after the answer
    hint: str  # for an answer that is wrong in no known way
    objective: str
    unit: str = ""
    tolerance: float = 0.0  # in the unit; of a number
    choices: tuple[str, ...] = ()
    traps: Mapping[float | str | tuple[str, ...], str] = field(default_factory=dict)
    misconception: int = 0  # its number in the book's list; 0 for none
    given: tuple[tuple[str, str], ...] = ()  # what is known: (name, value with unit)

    def __post_init__(self) -> None:
        if self.form not in FORMS:
            raise JobError(f"{self.kind}: form {self.form!r}; there are {list(FORMS)}")
        if self.form == "number":
            sound = isinstance(self.expected, int | float) and math.isfinite(self.expected) and self.tolerance > 0
        elif self.form == "choice":
            sound = self.expected in self.choices
        else:
            sound = isinstance(self.expected, tuple) and set(self.expected) <= set(self.choices)
            sound = sound and (self.form == "choices" or sorted(self.expected) == sorted(self.choices))
        if not sound or len(set(self.choices)) != len(self.choices):
            raise JobError(f"{self.kind}: {self.expected!r} is no answer of form {self.form!r} among {list(self.choices)}")


@dataclass(frozen=True, slots=True)
class Checked:
    """An answer judged."""

    right: bool
    words: str  # what to say to the learner
    share: float  # of the points, 0 to 1


def checked(question: Question, answer: object, *, graded: bool = False) -> Checked:
    """Judge an answer. Raises JobError, naming the choices, for one that is no answer of the question's form.

    A wrong answer gets a hint that does not hold the value. A right one gets the working; in graded work nothing but that it
    was taken down.
    """
    given = read(question, answer)
    share = _share(question, given)
    right = share == 1.0
    if graded:
        return Checked(right, "Taken down.", share)
    if right:
        return Checked(True, f"Right. {question.why}", share)
    return Checked(False, _hint(question, given), share)


def read(question: Posed, answer: object) -> float | str | tuple[str, ...]:
    """An answer in the question's form; raises JobError, naming the choices, for what is none. Right or wrong is not said."""
    if question.form == "number":
        if isinstance(answer, bool) or not isinstance(answer, int | float) or not math.isfinite(answer):
            raise JobError(f"answer {answer!r}; give a number in {question.unit or 'plain figures'}")
        return float(answer)
    if question.form == "choice":
        if answer not in question.choices:
            raise JobError(f"answer {answer!r}; choose one of {list(question.choices)}")
        return answer
    if not isinstance(answer, Sequence) or isinstance(answer, str):
        raise JobError(f"answer {answer!r}; give a list of {list(question.choices)}")
    for one in answer:
        if one not in question.choices or list(answer).count(one) > 1:
            raise JobError(f"answer holds {one!r}; give each at most once, of {list(question.choices)}")
    if question.form == "order" and len(answer) != len(question.choices):
        raise JobError(f"an order of {len(answer)} steps; put all {len(question.choices)} in order: {list(question.choices)}")
    return tuple(answer)


def _share(question: Question, given: float | str | tuple[str, ...]) -> float:
    """One for right. Of several choices, right ones less wrong ones; of an order, the pairs that stand as they should."""
    if question.form == "number":
        return float(abs(given - question.expected) <= question.tolerance)
    if question.form == "choice":
        return float(given == question.expected)
    if question.form == "choices":
        wanted, got = set(question.expected), set(given)
        if not wanted:
            return float(not got)
        return max(0.0, (len(wanted & got) - len(got - wanted)) / len(wanted))
    place = {name: number for number, name in enumerate(given)}
    follow = [place[one] < place[other] for n, one in enumerate(question.expected) for other in question.expected[n + 1 :]]
    return 1.0 if all(follow) else 0.5 if sum(follow) >= 0.9 * len(follow) else 0.0


def _hint(question: Question, given: float | str | tuple[str, ...]) -> str:
    for trap, words in question.traps.items():
        if question.form == "number":
            if abs(given - trap) <= question.tolerance:
                return words
        elif question.form == "order":
            if tuple(step for step in given if step in trap) == trap:
                return words
        elif given == trap or (isinstance(given, tuple) and trap in given):
            return words
    return question.hint
