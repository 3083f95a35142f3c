"""Invented learners who work labs, for the demonstration and for tests: one with care, the others each with a habit.

They see what a learner sees (the bench's view and log); the careful one also has the job to reason with, as an instructor has.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace
from random import Random

from ..jobs.bench import Bench
from ..jobs.evidence import cases, survivors
from ..jobs.injected import injected
from ..jobs.job import Job, JobError
from ..jobs.question_set import QuestionSet, QuestionSheet
from ..jobs.questions import Question
from ..jobs.reference import ranked
from ..jobs.survey import Probe, Survey, cost_of, survey
from ..jobs.treating import treated
from ..jobs.wiring_answer import Wire, Wiring
from ..jobs.wiring_kept import Kept
from ..jobs.wiring_questions import Leads, Reading, leads_found
from ..jobs.wiring_task import WireUpSheet, WiringTask
from ..jobs.working import worked

__all__ = ["answers_all", "answers_half", "careful", "guesses", "guesses_all", "half_done", "swaps", "wires_badly", "wires_well"]

REST_S = 3600.0
CALL_S = 900.0
MOST_TESTS = 40
DANGER = 5  # a severity

EXPLAINED = "The part named above is at fault. The two readings that I ticked fit nothing else that was suspected."
TO_CUSTOMER = "I found the cause, and everything is back as it was."


def careful(bench: Bench, job: Job) -> Bench:
    """Take the test that tells most for its cost until one suspect stands; prove, repair, verify, restore, and say so."""
    stand = _Stand(bench, survey(job))
    _narrowed(stand, job)
    stand.back()
    standing = survivors(job, bench.log)
    claim = standing[0] if standing else job.suspects[0].id
    if job.suspect(claim).row.severity == DANGER:
        _tried(bench, {"do": "stop"})
    _repaired(bench, job, claim)
    _verified(bench, job)
    offered = [suspect["id"] for suspect in bench.brief()["suspects"]]  # a sealed job numbers them
    at = [suspect.id for suspect in job.suspects].index(claim)
    return _judged(bench, offered[at], _telling(bench, job)[:2])


def half_done(bench: Bench, job: Job) -> Bench:
    """Work with care, and stop in the middle: no repair, no verdict."""
    _narrowed(_Stand(bench, survey(job)), job, tests=2)
    return bench


def guesses(bench: Bench, seed: str) -> Bench:
    """Touch nothing and name one of the suspects."""
    offered = [suspect["id"] for suspect in bench.brief()["suspects"]]
    return _judged(bench, Random(f"{seed}/guess").choice(offered), [])


def swaps(bench: Bench, seed: str) -> Bench:
    """Try repairs in no order with a call after each, and blame a suspect at the end."""
    stat = next(iter(bench.view()["calls"]))
    repairs = list(bench.brief()["repairs"] or [])
    for act in Random(f"{seed}/repairs").sample(repairs, min(3, len(repairs))):
        _tried(bench, act)
        _tried(bench, {"do": "call", "stat": stat, "on": True})
        _tried(bench, {"do": "wait", "seconds": CALL_S})
        _tried(bench, {"do": "call", "stat": stat, "on": False})
    return guesses(bench, f"{seed}/at last")


def answers_all(questions: Sequence[Question], asked: QuestionSet) -> QuestionSheet:
    """Answer every question right, and explain."""
    answers = {number: _plain(one.expected) for number, one in enumerate(questions, 1)}
    return QuestionSheet(asked.learner, asked.seed, answers, 1500.0, "First the loop, then what I know, then one step a line.")


def answers_half(questions: Sequence[Question], asked: QuestionSet) -> QuestionSheet:
    """Answer the first half right and leave the rest."""
    whole = answers_all(questions, asked)
    kept = {number: answer for number, answer in whole.answers.items() if number <= len(questions) // 2}
    return replace(whole, answers=kept, explanation="")


def guesses_all(asked: QuestionSet, seed: str) -> QuestionSheet:
    """Answer without working anything out."""
    answers: dict[int, object] = {}
    for number, one in enumerate(asked.questions, 1):
        chance = Random(f"{seed}/{number}")
        if one.form == "number":
            answers[number] = round(chance.uniform(0, 30), 1)
        elif one.form == "choice":
            answers[number] = chance.choice(one.choices)
        elif one.form == "choices":
            answers[number] = chance.sample(one.choices, 1)
        else:
            answers[number] = chance.sample(one.choices, len(one.choices))
    return QuestionSheet(asked.learner, asked.seed, answers, 60.0, "")


def wires_well(task: WiringTask) -> WireUpSheet:
    """Wire the smallest of the wire-ups, W1, as it should be, every wire labelled, and answer what is asked before power."""
    made = task.made
    ends = (
        ("transformer.R", "fuse.in", "R"),
        ("fuse.out", "zone1.stat.R", "R fused"),
        ("zone1.stat.W", "zone1.valve.HA", "W 1"),
        ("zone1.valve.HB", "transformer.C", "C"),
    )
    wires = tuple(Wire(f"wire {number}", a, b, label=label) for number, (a, b, label) in enumerate(ends, 1))
    wiring = Wiring((), wires)
    answers: dict[str, object] = {}
    for question in made.questions:
        if isinstance(question, Leads):
            answers[question.id] = leads_found(made.made(wiring).part(question.valve), task.draw)
        elif isinstance(question, Reading):
            answers[question.id] = round(question.expected(made.made(wiring)), 1)
    words = "R through the fuse to the stat, W to the heater, and from its other lead back to C."
    fault = injected(made, wiring, task.draw)
    prediction = fault.zones if fault.asks == "zones" else round(fault.volts, 1)
    return WireUpSheet(task.learner, task.seed, wiring, Kept(task.draw, 0, True, answers), prediction, 900.0, words)


def wires_badly(task: WiringTask) -> WireUpSheet:
    """The same without a fuse, without labels, and without an answer to anything."""
    ends = (("transformer.R", "zone1.stat.R"), ("zone1.stat.W", "zone1.valve.HA"), ("zone1.valve.HB", "transformer.C"))
    wires = tuple(Wire(f"wire {number}", a, b) for number, (a, b) in enumerate(ends, 1))
    return WireUpSheet(task.learner, task.seed, Wiring((), wires), Kept(task.draw, 2, True), None, 300.0, "")


class _Stand:
    """Where a careful learner stands in the standard round, and what has to be put back."""

    def __init__(self, bench: Bench, found: Survey) -> None:
        self.bench, self.found, self.at = bench, found, 0
        self.undo: list[dict[str, object]] = []

    def go(self, situation: int) -> None:
        """Bring the bench to a situation of the round: on from here where that leads there, else from rest."""
        way = self._way(situation)
        if self.at in way:
            way = way[way.index(self.at) + 1 :]
        else:
            self.back()
            _tried(self.bench, {"do": "wait", "seconds": REST_S})
        for number in way:
            for act in self.found.situations[number].acts:
                self.step(act)
        self.at = situation

    def step(self, act: dict[str, object]) -> bool:
        """One act, with what undoes it noted; what the bench refuses is left out."""
        if not _tried(self.bench, act):
            return False
        match act["do"]:
            case "lift":
                self.undo.append({"do": "land", "terminal": act["terminal"]})
            case "opener":
                self.undo.append({**act, "engaged": not act["engaged"]})
            case "jumper" | "call" | "switch":
                self.undo.append({**act, "on": not act["on"]})
        return True

    def back(self) -> None:
        """Everything as it was found, in the opposite order."""
        for act in reversed(self.undo):
            _tried(self.bench, act)
        for stat, calling in self.bench.view()["calls"].items():
            if calling and stat.startswith("zone"):
                _tried(self.bench, {"do": "call", "stat": stat, "on": False})
        if self.bench.view()["uncovered"]:
            _tried(self.bench, {"do": "covers"})
        self.undo, self.at = [], -1

    def _way(self, situation: int) -> list[int]:
        way: list[int] = []
        while situation >= 0:
            way.insert(0, situation)
            situation = self.found.situations[situation].after
        return way


def _narrowed(stand: _Stand, job: Job, tests: int = MOST_TESTS) -> None:
    """Test until one suspect stands and two readings rule others out, or nothing tells anything any more."""
    bench, found, tried = stand.bench, stand.found, set()
    every = tuple(range(len(found.suspects)))
    for _ in range(tests):
        standing = survivors(job, bench.log)
        live = tuple(number for number in every if found.suspects[number] in standing)
        if len(live) <= 1 and len(_telling(bench, job)) >= 2:
            return
        probe = _next(found, live if len(live) > 1 else every, tried, reading=len(live) <= 1)
        if probe is None:
            return
        tried.add(probe)
        stand.go(probe.situation)
        act = json.loads(probe.act)
        if act["do"] != "wait":  # the way there has done it
            stand.step(act)


def _next(found: Survey, live: Sequence[int], tried: set[Probe], *, reading: bool) -> Probe | None:
    """The best test of the round that was not tried; only the meter's, where the rest is proof."""
    for one in ranked(found, live):
        meter = json.loads(one.probe.act)["do"] in ("measure", "clamp")
        if one.bits > 0 and one.probe not in tried and (meter or not reading):
            return one.probe
    return None


def _telling(bench: Bench, job: Job) -> list[int]:
    """The log lines that rule out some suspect; readings only, no clicks."""
    lines = {one.line for case in cases(job, bench.log) if not case.survives for one in case.contradictions}
    return sorted(line for line in lines if bench.log[line].act["do"] != "wait" and cost_of(bench.log[line].act["do"]))


def _repaired(bench: Bench, job: Job, claim: str) -> None:
    """End what is claimed, or hand it to whoever may end it."""
    suspect = job.suspect(claim)
    if suspect.row.refer:
        _tried(bench, {"do": "refer", "to": suspect.row.refer})
        return
    for row in suspect.rows:
        fault = next(fault for fault in suspect.family if fault.row == row.id)
        for act in (job.repairs_of(row, fault) or ((),))[0]:
            _tried(bench, dict(act))
        if treated(job, worked(job, bench.log)[0], 0):
            return


def _verified(bench: Bench, job: Job) -> None:
    """Call every zone by itself for as long as a valve needs."""
    for zone in job.design.zones:
        for act in ({"do": "call", "on": True}, {"do": "wait", "seconds": CALL_S}, {"do": "call", "on": False}):
            _tried(bench, act if act["do"] == "wait" else {**act, "stat": f"{zone}.stat"})


def _judged(bench: Bench, claim: str, proof: Sequence[int]) -> Bench:
    words = {"explanation": EXPLAINED, "customer": TO_CUSTOMER} if proof else {"explanation": "", "customer": ""}
    bench.step({"do": "verdict", "suspects": [claim], "proof": list(proof), **words})
    return bench


def _tried(bench: Bench, act: dict[str, object]) -> bool:
    """Whether the bench takes an act; a refusal is no harm."""
    with suppress(JobError, ValueError):
        bench.step(act)
        return True
    return False


def _plain(expected: object) -> object:
    return list(expected) if isinstance(expected, tuple) else expected
