"""A set of questions to hand out, with no answer in it; the sheet of answers that comes back; and its marking."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from .job import JobError
from .marks import MarkLine
from .questions import FORMS, Question, checked, read
from .strict import fields, listed, shortened, text_of, whole_json

__all__ = [
    "FORMAT",
    "LARGEST",
    "MOST_QUESTIONS",
    "OUT_OF",
    "SHEET_FORMAT",
    "Asked",
    "BadQuestions",
    "QuestionSet",
    "QuestionSheet",
    "asked_of",
    "marked",
    "opened",
    "sheet_parsed",
    "sheet_written",
    "taken",
    "written",
]

FORMAT = "call-for-heat questions 1"
SHEET_FORMAT = "call-for-heat question sheet 1"
OUT_OF = 90
"""Points for the answers, of 100; the explanation's 10 are a person's to give."""

LARGEST = 400_000  # bytes
MOST_QUESTIONS = 40
MOST_CHOICES = 40
LONGEST_TEXT = 4_000  # characters


class BadQuestions(JobError):
    """A set or a sheet of answers that cannot be read; the message says where and what was expected."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A question as it is handed out: what is asked and among what, and nothing of the answer."""

    kind: str  # "size a transformer"
    form: str  # one of questions.FORMS
    words: str
    unit: str = ""
    choices: tuple[str, ...] = ()
    given: tuple[tuple[str, str], ...] = ()  # what is known: (name, value with unit)


@dataclass(frozen=True, slots=True)
class QuestionSet:
    """The questions of one learner."""

    learner: str
    seed: str  # the public name; nothing follows from it
    chapter: str
    level: int
    title: str
    questions: tuple[Asked, ...]


@dataclass(frozen=True, slots=True)
class QuestionSheet:
    """What a learner hands in."""

    learner: str
    seed: str
    answers: Mapping[int, object] = field(default_factory=dict)  # by the question's number, counted from 1
    thinking_s: float = 0.0  # time at the screen
    explanation: str = ""


def asked_of(question: Question) -> Asked:
    """What a learner is shown of a question."""
    return Asked(question.kind, question.form, question.words, question.unit, question.choices, question.given)


def written(questions: QuestionSet) -> str:
    """The set as JSON text, readable by a person and by `opened`."""
    body = {
        "format": FORMAT,
        "learner": questions.learner,
        "seed": questions.seed,
        "chapter": questions.chapter,
        "level": questions.level,
        "title": questions.title,
        "questions": [
            {
                "kind": one.kind,
                "form": one.form,
                "words": one.words,
                "unit": one.unit,
                "choices": list(one.choices),
                "given": [list(pair) for pair in one.given],
            }
            for one in questions.questions
        ],
    }
    return json.dumps(body, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def opened(text: str | bytes) -> QuestionSet:
    """A set read from JSON text; raises BadQuestions with the path of the first field that is not as it must be."""
    body = whole_json(text, "set of questions", LARGEST, BadQuestions)
    fields(body, "set", {"format", "learner", "seed", "chapter", "level", "title", "questions"}, BadQuestions)
    if body["format"] != FORMAT:
        raise BadQuestions(f"format is {shortened(body['format'])}; this program reads {FORMAT!r}")
    level = body["level"]
    if isinstance(level, bool) or not isinstance(level, int) or not 1 <= level <= 9:
        raise BadQuestions(f"level must be a whole number from 1 to 9; got {shortened(level)}")
    lines = listed(body["questions"], "questions", MOST_QUESTIONS, BadQuestions)
    if not lines:
        raise BadQuestions("questions is empty; a set asks at least one")
    return QuestionSet(
        learner=text_of(body["learner"], "learner", 200, BadQuestions),
        seed=text_of(body["seed"], "seed", 200, BadQuestions),
        chapter=text_of(body["chapter"], "chapter", 100, BadQuestions),
        level=level,
        title=text_of(body["title"], "title", 200, BadQuestions),
        questions=tuple(_asked_in(line, f"questions[{number}]") for number, line in enumerate(lines)),
    )


def taken(asked: Asked | Question, answer: object) -> object:
    """An answer as a sheet keeps it; raises JobError, naming the choices, for one that is no answer of the question's form.

    >>> taken(Asked("turn volts into amperes", "number", "How many?", "A"), 1)
    1.0
    """
    found = read(asked, answer)
    return list(found) if isinstance(found, tuple) else found


def sheet_written(sheet: QuestionSheet) -> str:
    """The answers as JSON text, readable by a person and by `sheet_parsed`."""
    body = {
        "format": SHEET_FORMAT,
        "learner": sheet.learner,
        "seed": sheet.seed,
        "answers": {str(number): answer for number, answer in sorted(sheet.answers.items())},
        "thinking_s": sheet.thinking_s,
        "explanation": sheet.explanation,
    }
    return json.dumps(body, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def sheet_parsed(text: str | bytes) -> QuestionSheet:
    """Answers read from JSON text; raises BadQuestions with the path of the first field that is not as it must be."""
    body = whole_json(text, "sheet", LARGEST, BadQuestions)
    fields(body, "sheet", {"format", "learner", "seed", "answers", "thinking_s", "explanation"}, BadQuestions)
    if body["format"] != SHEET_FORMAT:
        raise BadQuestions(f"format is {shortened(body['format'])}; this program reads {SHEET_FORMAT!r}")
    answers = body["answers"]
    if not isinstance(answers, dict) or len(answers) > MOST_QUESTIONS:
        raise BadQuestions(f"answers must be an object of at most {MOST_QUESTIONS} answers; got {shortened(answers)}")
    numbers = {str(number): number for number in range(1, MOST_QUESTIONS + 1)}
    for name, answer in answers.items():
        if name not in numbers:
            raise BadQuestions(f"answers holds {shortened(name)}; questions are numbered from '1' to at most '{MOST_QUESTIONS}'")
        _check_answer(answer, f"answers[{name!r}]")
    return QuestionSheet(
        learner=text_of(body["learner"], "learner", 200, BadQuestions),
        seed=text_of(body["seed"], "seed", 200, BadQuestions),
        answers={numbers[name]: answer for name, answer in answers.items()},
        thinking_s=_number(body["thinking_s"], "thinking_s"),
        explanation=text_of(body["explanation"], "explanation", LONGEST_TEXT, BadQuestions),
    )


def marked(questions: Sequence[Question], answers: Mapping[int, object]) -> MarkLine:
    """The points for a set of answers, out of OUT_OF, and one sentence a question; none tells a value. Never raises."""
    shares, reasons = [], []
    for number, question in enumerate(questions, 1):
        share, words = _judged(question, answers.get(number))
        shares.append(share)
        reasons.append(f"{number}, {question.kind}: {words}")
    points = OUT_OF * sum(shares) / len(shares) if shares else 0.0
    return MarkLine("answers", round(points, 1), OUT_OF, tuple(reasons))


def _judged(question: Question, answer: object) -> tuple[float, str]:
    if answer is None:
        return 0.0, "no answer."
    try:
        share = checked(question, answer, graded=True).share
    except JobError as problem:
        return 0.0, f"this is no answer to it: {problem}."
    if share == 1.0:
        return share, "right."
    return share, "partly right." if share else "not right."


def _asked_in(line: object, path: str) -> Asked:
    fields(line, path, {"kind", "form", "words", "unit", "choices", "given"}, BadQuestions)
    if line["form"] not in FORMS:
        raise BadQuestions(f"{path}.form is {shortened(line['form'])}; there are {list(FORMS)}")
    choices = listed(line["choices"], f"{path}.choices", MOST_CHOICES, BadQuestions)
    given = listed(line["given"], f"{path}.given", MOST_CHOICES, BadQuestions)
    if (line["form"] == "number") == bool(choices):
        raise BadQuestions(f"{path}.choices has {len(choices)}; a number has none, all other forms have some")
    return Asked(
        kind=text_of(line["kind"], f"{path}.kind", 200, BadQuestions),
        form=line["form"],
        words=text_of(line["words"], f"{path}.words", LONGEST_TEXT, BadQuestions),
        unit=text_of(line["unit"], f"{path}.unit", 20, BadQuestions),
        choices=tuple(text_of(one, f"{path}.choices[{at}]", LONGEST_TEXT, BadQuestions) for at, one in enumerate(choices)),
        given=tuple(_pair(one, f"{path}.given[{at}]") for at, one in enumerate(given)),
    )


def _pair(value: object, path: str) -> tuple[str, str]:
    if not isinstance(value, list) or len(value) != 2:
        raise BadQuestions(f"{path} must be a name and a value; got {shortened(value)}")
    return text_of(value[0], f"{path}[0]", 500, BadQuestions), text_of(value[1], f"{path}[1]", LONGEST_TEXT, BadQuestions)


def _check_answer(answer: object, path: str) -> None:
    """An answer is a number, a choice, or a list of choices; whether it fits its question is seen when it is marked."""
    if isinstance(answer, list):
        for at, one in enumerate(listed(answer, path, MOST_CHOICES, BadQuestions)):
            text_of(one, f"{path}[{at}]", LONGEST_TEXT, BadQuestions)
    elif isinstance(answer, str):
        text_of(answer, path, LONGEST_TEXT, BadQuestions)
    else:
        _number(answer, path)


def _number(value: object, path: str) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < 1e12:
        raise BadQuestions(f"{path} must be a number; got {shortened(value)}")
    return value
