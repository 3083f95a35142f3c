"""The sheet a learner hands in: who, which job, the ordered log, the verdict. Read strictly, written plainly."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from dataclasses import dataclass

from .job import JobError
from .strict import fields, listed, shortened, text_of, whole_json

__all__ = ["FORMAT", "BadSheet", "Entry", "Sheet", "Verdict", "parsed", "written"]

FORMAT = "call-for-heat sheet 2"
LARGEST = 400_000  # bytes
LONGEST_TEXT = 4_000  # characters
MOST_ENTRIES = 1_000
MOST_SUSPECTS = 2
MOST_PROOF = 4


class BadSheet(JobError):
    """A sheet that cannot be read; the message says where and what was expected."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the log: the act and what it showed."""

    act: Mapping[str, object]
    clock: float  # s since arrival, job time, after the act
    text: str
    value: float | None = None  # of a reading; inf for OL
    step: float = 0.0  # worth of one digit of it
    signal: str = ""
    events: tuple[tuple[float, str], ...] = ()
    misuse: str = ""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What the learner claims, and the log lines that are to prove it: two for each thing claimed."""

    suspects: tuple[str, ...]  # ids, one or two
    proof: tuple[int, ...]  # indexes into the log
    explanation: str = ""  # cause, evidence, why the symptom followed
    customer: str = ""  # one sentence


@dataclass(frozen=True, slots=True)
class Sheet:
    """A job as worked by one learner."""

    learner: str
    chapter: str
    level: int
    seed: str
    log: tuple[Entry, ...]
    verdict: Verdict | None = None
    thinking_s: float = 0.0  # time at the screen, as the bench counted it


def written(sheet: Sheet) -> str:
    """The sheet as JSON text, readable by a person and by `parsed`."""
    body = {
        "format": FORMAT,
        "learner": sheet.learner,
        "job": {"chapter": sheet.chapter, "level": sheet.level, "seed": sheet.seed},
        "thinking_s": sheet.thinking_s,
        "log": [_entry_out(entry) for entry in sheet.log],
        "verdict": None
        if sheet.verdict is None
        else {
            "suspects": list(sheet.verdict.suspects),
            "proof": list(sheet.verdict.proof),
            "explanation": sheet.verdict.explanation,
            "customer": sheet.verdict.customer,
        },
    }
    return json.dumps(body, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def parsed(text: str | bytes) -> Sheet:
    """A sheet read from JSON text; raises BadSheet with the path of the first field that is not as it must be."""
    body = whole_json(text, "sheet", LARGEST, BadSheet)
    fields(body, "sheet", {"format", "learner", "job", "thinking_s", "log", "verdict"}, BadSheet)
    if body["format"] != FORMAT:
        raise BadSheet(f"format is {shortened(body['format'])}; this program reads {FORMAT!r}")
    job = body["job"]
    fields(job, "job", {"chapter", "level", "seed"}, BadSheet)
    log = listed(body["log"], "log", MOST_ENTRIES, BadSheet)
    return Sheet(
        learner=text_of(body["learner"], "learner", 200, BadSheet),
        chapter=text_of(job["chapter"], "job.chapter", 100, BadSheet),
        level=_whole(job["level"], "job.level"),
        seed=text_of(job["seed"], "job.seed", 200, BadSheet),
        log=tuple(_entry_in(line, f"log[{number}]") for number, line in enumerate(log)),
        verdict=None if body["verdict"] is None else _verdict_in(body["verdict"], len(log)),
        thinking_s=_number(body["thinking_s"], "thinking_s"),
    )


def _entry_out(entry: Entry) -> dict[str, object]:
    value = "OL" if entry.value == math.inf else entry.value
    return {
        "act": dict(entry.act),
        "clock": entry.clock,
        "text": entry.text,
        "value": value,
        "step": entry.step,
        "signal": entry.signal,
        "events": [list(event) for event in entry.events],
        "misuse": entry.misuse,
    }


def _entry_in(line: object, path: str) -> Entry:
    fields(line, path, {"act", "clock", "text", "value", "step", "signal", "events", "misuse"}, BadSheet)
    if not isinstance(line["act"], dict):
        raise BadSheet(f"{path}.act must be an object; got {shortened(line['act'])}")
    if not isinstance(line["events"], list) or len(line["events"]) > 200:
        raise BadSheet(f"{path}.events must be a list of at most 200")
    value = line["value"]
    if value is not None and value != "OL":
        value = _number(value, f"{path}.value")
    return Entry(
        act=line["act"],
        clock=_number(line["clock"], f"{path}.clock"),
        text=text_of(line["text"], f"{path}.text", 500, BadSheet),
        value=math.inf if value == "OL" else value,
        step=_number(line["step"], f"{path}.step"),
        signal=text_of(line["signal"], f"{path}.signal", 500, BadSheet),
        events=tuple(_event(event, f"{path}.events[{number}]") for number, event in enumerate(line["events"])),
        misuse=text_of(line["misuse"], f"{path}.misuse", 200, BadSheet),
    )


def _event(event: object, path: str) -> tuple[float, str]:
    if not isinstance(event, list) or len(event) != 2:
        raise BadSheet(f"{path} must be a time and a text; got {shortened(event)}")
    return _number(event[0], f"{path}[0]"), text_of(event[1], f"{path}[1]", 200, BadSheet)


def _verdict_in(body: object, lines: int) -> Verdict:
    fields(body, "verdict", {"suspects", "proof", "explanation", "customer"}, BadSheet)
    suspects = listed(body["suspects"], "verdict.suspects", MOST_SUSPECTS, BadSheet)
    named = tuple(text_of(one, f"verdict.suspects[{number}]", 200, BadSheet) for number, one in enumerate(suspects))
    if not named or len(set(named)) < len(named):
        raise BadSheet(f"verdict.suspects must be one id or two different ones; got {shortened(suspects)}")
    proof = listed(body["proof"], "verdict.proof", MOST_PROOF, BadSheet)
    for number, line in enumerate(proof):
        if not 0 <= _whole(line, f"verdict.proof[{number}]") < lines:
            raise BadSheet(f"verdict.proof[{number}] is {line}; the log has lines 0 to {lines - 1}")
    if len(set(proof)) < len(proof):
        raise BadSheet(f"verdict.proof must name each log line only once; got {shortened(proof)}")
    return Verdict(
        suspects=named,
        proof=tuple(proof),
        explanation=text_of(body["explanation"], "verdict.explanation", LONGEST_TEXT, BadSheet),
        customer=text_of(body["customer"], "verdict.customer", LONGEST_TEXT, BadSheet),
    )


def _number(value: object, path: str) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < 1e12:
        raise BadSheet(f"{path} must be a number; got {shortened(value)}")
    return value


def _whole(value: object, path: str) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or abs(value) > 10**9:
        raise BadSheet(f"{path} must be a whole number; got {shortened(value)}")
    return value
