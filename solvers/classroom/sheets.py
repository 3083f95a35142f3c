"""What learners hand in, of whichever kind: told apart by the format that a file says it has, and read strictly."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ..jobs import question_set, sheet, wiring_task
from ..jobs.job import JobError
from ..jobs.question_set import QuestionSheet
from ..jobs.sheet import Sheet
from ..jobs.strict import fields, shortened, text_of, whole_json
from ..jobs.wiring_task import WireUpSheet
from .keys import Key, task_held

__all__ = ["LARGEST", "AnySheet", "BadHandIn", "Header", "header", "parsed"]

AnySheet = Sheet | WireUpSheet | QuestionSheet

LARGEST = max(sheet.LARGEST, wiring_task.LARGEST, question_set.LARGEST)  # bytes

_KINDS: Mapping[str, str] = {
    sheet.FORMAT: "job",
    wiring_task.SHEET_FORMAT: "wire-up",
    question_set.SHEET_FORMAT: "questions",
}


class BadHandIn(JobError):
    """A file that is no sheet, or one of another kind than its lab; the message says what was expected."""


@dataclass(frozen=True, slots=True)
class Header:
    """What a sheet says of itself; nothing of that is proven yet."""

    kind: str  # one of labs.KINDS
    learner: str
    seed: str  # the public name of a lab


def header(data: bytes) -> Header:
    """Whose sheet of what a file says it is; raises BadHandIn, or another JobError, with what is wrong and where."""
    body = whole_json(data, "sheet", LARGEST, BadHandIn)
    format_ = body.get("format")
    if not isinstance(format_, str) or format_ not in _KINDS:
        says = f"says {shortened(format_)}" if "format" in body else "names none"
        raise BadHandIn(f"it is no sheet: its format has to be one of {', '.join(_KINDS)}, and it {says}")
    kind = _KINDS[format_]
    learner = text_of(body.get("learner"), "learner", 200, BadHandIn)
    within = body.get("job") if kind == "job" else body
    if kind == "job":
        fields(within, "job", {"chapter", "level", "seed"}, BadHandIn)
    return Header(kind, learner, text_of(within.get("seed"), "seed", 200, BadHandIn))


def parsed(data: bytes, key: Key, learner: str) -> AnySheet:
    """The whole sheet, held against the kind of its lab; raises JobError, and NotEnrolled for a wire-up that nobody has."""
    found = header(data)
    if found.kind != key.kind:
        raise BadHandIn(f"the sheet is of a {found.kind} lab; {key.assignment} is a {key.kind} lab")
    if found.kind == "job":
        return sheet.parsed(data)
    if found.kind == "questions":
        return question_set.sheet_parsed(data)
    return wiring_task.sheet_parsed(data, task_held(key, learner))
