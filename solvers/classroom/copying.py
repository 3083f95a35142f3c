"""Sheets that are too much alike: what an instructor may want to talk about. It never changes a mark."""

from __future__ import annotations

import json
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from ..jobs import question_set
from ..jobs.question_set import QuestionSheet
from ..jobs.questions import Question
from ..jobs.said import act_words
from ..jobs.sealed import opened, unlike
from ..jobs.sheet import Sheet
from ..jobs.wiring_task import WireUpSheet
from .errors import ClassroomError
from .keys import Key, questions_held
from .scoring import handed_out
from .sheets import AnySheet
from .words import short

__all__ = ["Alike", "alike", "pattern"]

FEWEST_ACTS = 6
"""Acts in one order that two learners may well do unknown to each other; from so many on it is worth a talk."""

FEWEST_READINGS = 3
FEWEST_WIRES = 6
FEWEST_ANSWERS = 3
FITS = 0.8  # of the points that a neighbour's questions would give
FAILS = 0.5  # of the points that the learner's own give, at most
FIRST = 4  # acts that are shown side by side


@dataclass(frozen=True, slots=True)
class Alike:
    """Learners whose sheets are too much alike, and in what."""

    learners: tuple[str, ...]
    words: str  # one sentence


def alike(
    key: Key,
    course: Path,
    sheets: Mapping[str, AnySheet],
    flagged: Collection[str],
    drawn: Mapping[str, tuple[Question, ...]] | None = None,
) -> tuple[Alike, ...]:
    """What is too much alike among a class's sheets, by learner. Never raises for what a sheet holds.

    `flagged` are the learners whose logs their own labs do not show. `drawn` are the questions of those for whom they have
    been drawn already.
    """
    jobs = {name: sheet for name, sheet in sheets.items() if isinstance(sheet, Sheet)}
    tables = {name: sheet for name, sheet in sheets.items() if isinstance(sheet, WireUpSheet)}
    asked = {name: sheet for name, sheet in sheets.items() if isinstance(sheet, QuestionSheet)}
    return (
        *_same(jobs, _acts, "the same acts in the same order, with the same pauses"),
        *_same(tables, _wires, "the same wires with the same colours, labels and lengths"),
        *_others_readings(key, course, {name: sheet for name, sheet in jobs.items() if name in flagged}),
        *_others_answers(key, asked, drawn or {}),
    )


def pattern(sheet: AnySheet) -> str:
    """How somebody began a job and how long they waited each time; empty for other kinds of lab."""
    if not isinstance(sheet, Sheet):
        return ""
    first = "; ".join(_words(line.act) for line in sheet.log[:FIRST])
    waits = [line.act.get("seconds") for line in sheet.log if line.act.get("do") == "wait"]
    pauses = ", ".join(short(_shown(seconds), 8) for seconds in waits[:12])
    return f"{len(sheet.log)} lines: {first or 'nothing'}. Pauses in s: {pauses or 'none'}{' ...' if len(waits) > 12 else ''}"


def _same(sheets: Mapping[str, AnySheet], told: Callable[[AnySheet], str], what: str) -> list[Alike]:
    groups: dict[str, list[str]] = {}
    for learner, sheet in sheets.items():
        if mark := told(sheet):
            groups.setdefault(mark, []).append(learner)
    return [Alike(tuple(names), f"{_listed(names)}: {what}.") for names in groups.values() if len(names) > 1]


def _acts(sheet: Sheet) -> str:
    if len(sheet.log) < FEWEST_ACTS:
        return ""
    return json.dumps([sorted((name, _shown(value)) for name, value in line.act.items()) for line in sheet.log])


def _wires(sheet: WireUpSheet) -> str:
    wires = sheet.wiring.wires
    if len(wires) < FEWEST_WIRES:
        return ""
    return json.dumps(sorted([sorted((one.a, one.b)), one.gauge, one.colour, one.label, one.feet] for one in wires))


def _others_readings(key: Key, course: Path, sheets: Mapping[str, Sheet]) -> list[Alike]:
    """Logs that their own lab file does not show, and a neighbour's does."""
    strange = {name: sheet for name, sheet in sheets.items() if _enough(sheet) and _shows(key, course, name, [sheet]) == [False]}
    found = []
    for other in key.held if strange else ():
        names = [name for name in strange if name != other]
        fits = _shows(key, course, other, [strange[name] for name in names]) or [False] * len(names)
        for name, shown in zip(names, fits, strict=True):
            if shown:
                found.append(Alike((name, other), f"{name}: the readings fit the lab of {other}, and not {name}'s own."))
    return found


def _enough(sheet: Sheet) -> bool:
    return sum(line.value is not None for line in sheet.log) >= FEWEST_READINGS


def _shows(key: Key, course: Path, learner: str, sheets: Sequence[Sheet]) -> list[bool]:
    """Whether a learner's lab file shows each of these logs; empty where there is no such file to ask."""
    data = handed_out(course, key, learner) if sheets else None
    try:
        return [] if data is None else [not unlike(lab, sheet.log) for lab in [opened(data)] for sheet in sheets]
    except Exception:  # what a neighbour's file makes of a stranger's log is worth no class
        return []


def _others_answers(key: Key, sheets: Mapping[str, QuestionSheet], drawn: Mapping[str, tuple[Question, ...]]) -> list[Alike]:
    """Answers that are wrong for their own questions, and right for a neighbour's."""
    asked = {}
    for learner in sheets:
        try:
            asked[learner] = drawn[learner] if learner in drawn else questions_held(key, learner)
        except ClassroomError:
            continue
    found = []
    failing = [
        one
        for one, own in asked.items()
        if len(sheets[one].answers) >= FEWEST_ANSWERS
        and question_set.marked(own, sheets[one].answers).points <= FAILS * question_set.OUT_OF
    ]
    for mine in failing:
        for theirs in (other for other in asked if other != mine):
            if question_set.marked(asked[theirs], sheets[mine].answers).points >= FITS * question_set.OUT_OF:
                found.append(Alike((mine, theirs), f"{mine}: the answers fit the questions of {theirs}, and not {mine}'s own."))
    return found


def _words(act: Mapping[str, object]) -> str:
    try:
        return short(act_words(act), 60)
    except Exception:  # a sheet may hold an act that no bench takes
        return short(" ".join(_shown(value) for value in act.values()), 60)


def _shown(value: object) -> str:
    if isinstance(value, bool):
        return "on" if value else "off"
    if isinstance(value, float):
        return f"{value:.12g}"  # 600 and 600.0 are one wait
    return str(value) if isinstance(value, str | int) else "?"


def _listed(names: Sequence[str]) -> str:
    return f"{', '.join(names[:-1])} and {names[-1]}"
