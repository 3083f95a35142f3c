"""What is kept beside a wiring: the answers before power, whether they stand, and what the trials have cost."""

from __future__ import annotations

import json
import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace

from .job import JobError
from .strict import fields, shortened, text_of, whole_json

__all__ = ["FORMAT", "LARGEST", "BadKept", "Kept", "answered", "kept_of", "parsed", "written"]

FORMAT = "call-for-heat answers 1"
LARGEST = 20_000  # bytes
LONGEST = 60  # characters of an answer
MOST_LEADS = 8
MOST_FUSES = 10_000

STANDS = "the wiring has been run; what was answered before stays as it is"


class BadKept(JobError):
    """Answers that cannot be taken; the message says where and what was expected."""


@dataclass(frozen=True, slots=True)
class Kept:
    """What a table knows beside its wiring. Answers stand from the moment at which the wiring is first run."""

    seed: str = ""  # of what is drawn for one learner
    spent: int = 0  # fuses
    stands: bool = False
    answers: Mapping[str, object] = field(default_factory=dict)  # by the question's id; None is no answer yet


def answered(kept: Kept, answers: object, questions: Collection[str]) -> Kept:
    """The same with these answers, one or more; raises BadKept for what is no answer, and for a change once they stand."""
    fresh = {**kept.answers, **_answers(answers, questions)}
    if kept.stands and any(fresh[id] != kept.answers.get(id) for id in fresh):
        raise BadKept(STANDS)
    return replace(kept, answers=fresh)


def kept_of(body: object, questions: Collection[str]) -> Kept:
    """What was kept, read from JSON data for a task with these questions; raises BadKept with the path of the first fault."""
    fields(body, "kept", ("seed", "spent", "stands", "answers"), BadKept)
    spent, stands = body["spent"], body["stands"]
    if isinstance(spent, bool) or not isinstance(spent, int) or not 0 <= spent <= MOST_FUSES:
        raise BadKept(f"kept.spent is {shortened(spent)}; it is a number of fuses, 0 to {MOST_FUSES}")
    if not isinstance(stands, bool):
        raise BadKept(f"kept.stands is {shortened(stands)}; it is true or false")
    return Kept(text_of(body["seed"], "kept.seed", 200, BadKept), spent, stands, _answers(body["answers"], questions))


def parsed(text: str | bytes, questions: Collection[str]) -> Kept:
    """What was kept, read from a file's text; raises BadKept."""
    body = whole_json(text, "answers", LARGEST, BadKept)
    if body.pop("format", None) != FORMAT:
        raise BadKept(f"the answers are not in the format {FORMAT!r}")
    return kept_of(body, questions)


def written(kept: Kept) -> str:
    """What is kept as JSON text, readable by a person and by `parsed`."""
    body = {"format": FORMAT, "seed": kept.seed, "spent": kept.spent, "stands": kept.stands, "answers": dict(kept.answers)}
    return json.dumps(body, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def _answers(answers: object, questions: Collection[str]) -> dict[str, object]:
    if not isinstance(answers, Mapping):
        raise BadKept(f"answers must be an object, one answer a question; got {shortened(answers)}")
    for id, answer in answers.items():
        if id not in questions:
            raise BadKept(f"answers holds {shortened(id)}, which is no question; there are {list(questions)}")
        _check(answer, f"answers[{id!r}]")
    return dict(answers)


def _check(answer: object, path: str) -> None:
    """An answer is nothing yet, a word, a number, or a word for each lead."""
    if isinstance(answer, Mapping):
        if len(answer) > MOST_LEADS:
            raise BadKept(f"{path} names {len(answer)} leads; a valve has at most {MOST_LEADS}")
        for lead, name in answer.items():
            text_of(lead, f"{path}, a lead,", LONGEST, BadKept)
            text_of(name, f"{path}[{lead!r}]", LONGEST, BadKept)
    elif isinstance(answer, bool) or not (answer is None or isinstance(answer, str | int | float)):
        raise BadKept(f"{path} is {shortened(answer)}; an answer is text, a number, or a name for each lead")
    elif isinstance(answer, str):
        text_of(answer, path, LONGEST, BadKept)
    elif isinstance(answer, float) and not math.isfinite(answer):
        raise BadKept(f"{path} is {answer!r}, which is no number")
