"""Graded labs behind a screen: a lab file opened, gone on with from a sheet, and the sheet to hand in. JSON in, JSON out.

`page` imports this only once a screen asks for a lab, so that nothing of it slows the first start.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from ..jobs import question_set, sealed, sheet, wiring_task
from ..jobs.injected import injected
from ..jobs.job import JobError
from ..jobs.question_set import QuestionSet, QuestionSheet
from ..jobs.sealed import SealedBench, SealedJob
from ..jobs.strict import shortened, whole_json
from ..jobs.wiring_answer import Wiring
from ..jobs.wiring_kept import Kept
from ..jobs.wiring_task import WireUpSheet, WiringTask
from .page import Desk, laid_out
from .table import Table, predicting

__all__ = ["ASKS", "LARGEST", "SHEETS", "BadLab", "Lab", "gone_on", "lab_of"]

Lab = SealedJob | WiringTask | QuestionSet

LARGEST = max(sealed.LARGEST, wiring_task.LARGEST, question_set.LARGEST)  # bytes

SHEETS = (sheet.FORMAT, wiring_task.SHEET_FORMAT, question_set.SHEET_FORMAT)

_OPENED: Mapping[str, Callable[[str], Lab]] = {
    sealed.FORMAT: sealed.opened,
    wiring_task.FORMAT: wiring_task.opened,
    question_set.FORMAT: question_set.opened,
}


class BadLab(JobError):
    """A file that is no lab, or a sheet that is not of this lab; the message says what was expected."""


def lab_of(text: object) -> Lab:
    """The lab that a file's text holds, of whichever kind; raises BadLab, or what its kind raises, with what is wrong."""
    if not isinstance(text, str):
        raise BadLab(f"a lab file is text; got {shortened(text)}")
    format_ = whole_json(text, "lab file", LARGEST, BadLab).get("format")
    if format_ in SHEETS:
        raise BadLab("this is a sheet and no lab: open the lab file first, then go on with the sheet")
    if not isinstance(format_, str) or format_ not in _OPENED:
        raise BadLab(f"this is no lab: its format is {shortened(format_)}; a lab's is one of {', '.join(_OPENED)}")
    return _OPENED[format_](text)


def _opened(desk: Desk, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "lab", "file": text}: a lab as it was handed out."""
    lab = lab_of(asked["file"])
    if isinstance(lab, SealedJob):
        return _job(desk, lab, SealedBench(lab))
    if isinstance(lab, WiringTask):
        return _table(desk, lab, WireUpSheet(lab.learner, lab.seed, lab.made.found or Wiring(), Kept(seed=lab.draw)))
    return _questions(lab, QuestionSheet(lab.learner, lab.seed))


def _resumed(desk: Desk, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "lab resume", "file": text, "sheet": text}: the lab as a sheet left it, worked through again up to there."""
    lab = lab_of(asked["file"])
    done = gone_on(lab, asked["sheet"])
    if isinstance(lab, SealedJob):
        return _job(desk, lab, done)
    return _table(desk, lab, done) if isinstance(lab, WiringTask) else _questions(lab, done)


def gone_on(lab: Lab, text: object) -> SealedBench | WireUpSheet | QuestionSheet:
    """A lab as a sheet's text left it; raises BadLab, or what reading it raises, with the first thing that does not fit."""
    if not isinstance(text, str):
        raise BadLab(f"a sheet is text; got {shortened(text)}")
    if isinstance(lab, SealedJob):
        return _worked(lab, text)
    if isinstance(lab, WiringTask):
        task = lab.made
        done = wiring_task.sheet_parsed(text, task)
        _check_own(lab, done.seed, done.learner)
        if done.kept.seed != lab.draw:
            raise BadLab(f"the sheet's kept.seed is {shortened(done.kept.seed)}; this lab was drawn from {lab.draw!r}")
        task.made(done.wiring)
        return done
    answers = question_set.sheet_parsed(text)
    _check_own(lab, answers.seed, answers.learner)
    return replace(answers, answers=_taken(lab, answers.answers))


def _worked(lab: SealedJob, text: str) -> SealedBench:
    """A bench on which a sheet has been gone through again; raises BadLab with the first line that does not fit."""
    done = sheet.parsed(text)
    _check_own(lab, done.seed, done.learner)
    if (done.chapter, done.level) != (lab.chapter, lab.level):
        raise BadLab(f"the sheet is of {done.chapter}, level {done.level}; this lab is of {lab.chapter}, level {lab.level}")
    if flags := sealed.unlike(lab, done.log):
        raise BadLab(f"the sheet does not fit this lab. {flags[0].removesuffix('.')}")
    bench = SealedBench(lab)
    while len(bench.log) < len(done.log):
        bench.step(done.log[len(bench.log)].act)
    if claim := done.verdict:
        words = {"explanation": claim.explanation, "customer": claim.customer}
        bench.step({"do": "verdict", "suspects": list(claim.suspects), "proof": list(claim.proof), **words})
    return bench


def _check_own(lab: Lab, seed: str, learner: str) -> None:
    """Raise BadLab for a sheet of another lab or another learner."""
    if seed != lab.seed:
        raise BadLab(f"the sheet is of the lab {shortened(seed)}; this is {lab.seed!r}")
    if lab.learner and learner != lab.learner:
        raise BadLab(f"the sheet is {shortened(learner)}'s; this lab is {lab.learner!r}'s")


def _told(kind: str, lab: Lab) -> dict[str, object]:
    return {"kind": kind, "name": lab.seed, "assignment": lab.seed.rpartition("/")[0], "learner": lab.learner}


def _job(desk: Desk, lab: SealedJob, bench: SealedBench) -> dict[str, object]:
    return {**_told("job", lab), **laid_out(desk, bench)}


def _table(desk: Desk, lab: WiringTask, done: WireUpSheet) -> dict[str, object]:
    table = Table(lab.made, done.wiring, done.kept, graded=True)
    given = list(done.prediction) if isinstance(done.prediction, tuple) else done.prediction
    return {
        **_told("wire-up", lab),
        "number": desk.tables.admitted(table),
        "task": table.brief(),
        "view": table.view(),
        **table.laid(narrow=desk.narrow),
        "last": None if given is None else _last(table),
        "prediction": given,
        "explanation": done.explanation,
        "thinking_s": done.thinking_s,
    }


def _questions(lab: QuestionSet, done: QuestionSheet) -> dict[str, object]:
    return {
        **_told("questions", lab),
        "title": lab.title,
        "questions": [
            {
                "number": number,
                "form": one.form,
                "words": one.words,
                "unit": one.unit,
                "choices": list(one.choices),
                "given": [{"label": label, "text": text} for label, text in one.given],
            }
            for number, one in enumerate(lab.questions, 1)
        ],
        "answers": {str(number): answer for number, answer in done.answers.items()},
        "explanation": done.explanation,
        "thinking_s": done.thinking_s,
    }


def _taken(lab: QuestionSet, answers: Mapping[int, object]) -> dict[int, object]:
    """Answers as a sheet keeps them; raises BadLab for one to no question, or of another form than its question's."""
    found = {}
    for number, answer in answers.items():
        if not 1 <= number <= len(lab.questions):
            raise BadLab(f"answer {number} is to no question; this lab asks 1 to {len(lab.questions)}")
        try:
            found[number] = question_set.taken(lab.questions[number - 1], answer)
        except JobError as problem:
            raise BadLab(f"question {number}: {problem}") from None
    return found


def _answers_sheet(desk: Desk, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "questions sheet", "file", "answers": by number, "explanation", "thinking_s"}: the sheet's text."""
    lab, given = lab_of(asked["file"]), asked["answers"]
    if not isinstance(lab, QuestionSet):
        raise BadLab("this lab is no set of questions")
    if not isinstance(given, Mapping) or not all(isinstance(name, str) and name.isdecimal() for name in given):
        raise BadLab(f"answers stand by the numbers of their questions, '1' to '{len(lab.questions)}'; got {shortened(given)}")
    answers = _taken(lab, {int(number): answer for number, answer in given.items()})
    done = QuestionSheet(lab.learner, lab.seed, answers, _thinking_s(asked), str(asked.get("explanation", "")))
    text = question_set.sheet_written(done)
    question_set.sheet_parsed(text)  # what is kept can be read again
    return {"sheet": text}


def _table_sheet(desk: Desk, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "table sheet", "number", "file", "prediction", "explanation", "thinking_s"}: the sheet's text."""
    table, lab, given = desk.tables.table(asked), lab_of(asked["file"]), asked.get("prediction")
    if not isinstance(lab, WiringTask):
        raise BadLab("this lab is no wire-up")
    prediction = tuple(given) if isinstance(given, list) else given
    done = WireUpSheet(
        lab.learner, lab.seed, table.wiring, table.kept, prediction, _thinking_s(asked), str(asked.get("explanation", ""))
    )
    text = wiring_task.sheet_written(done)
    wiring_task.sheet_parsed(text, table.task)  # what is kept can be read again
    return {"sheet": text}


def _table_question(desk: Desk, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "table question", "number"}: what is asked about this wiring, whatever it does: one fault is put into it."""
    table = desk.tables.table(asked)
    if not table.wiring.wires:
        raise JobError("join the parts first: the question is about your wiring")
    return {"last": _last(table)}


def _last(table: Table) -> dict[str, object]:
    return predicting(injected(table.task, table.wiring, table.seed), table.task)


def _thinking_s(asked: Mapping[str, object]) -> float:
    return float(asked.get("thinking_s", 0.0))


ASKS: Mapping[str, Callable[[Desk, Mapping[str, object]], dict[str, object]]] = {
    "lab": _opened,
    "lab resume": _resumed,
    "questions sheet": _answers_sheet,
    "table question": _table_question,
    "table sheet": _table_sheet,
}
"""What a screen may ask of graded labs; `page.LAB_ASKS` names them too."""
