"""Questions that are asked of a drawn job: which test tells most, and which suspects a worked log leaves standing."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import lru_cache

from ..jobs.acts import Outcome, acted
from ..jobs.evidence import Case, cases
from ..jobs.job import Job, JobError
from ..jobs.questions import Question
from ..jobs.reference import Worth, worth
from ..jobs.said import act_words
from ..jobs.sheet import Entry
from ..jobs.situations import Situation, keyed, looked_at, pairs
from ..jobs.survey import IMPOSSIBLE, READING_COST, SENSE_COST, Probe, Survey
from .asking import Draw, chosen, several
from .chance import Chance
from .drawing import Plan, candidate
from .visits import Visit, visited, visited_job

__all__ = ["log_read", "next_test", "small_job"]

MOST_SUSPECTS = 5
FEWEST_SUSPECTS = 4
MOST_ATTEMPTS = 80
MOST_TRIALS = 3  # of tests, at one job
TESTS = 12  # looked at for one question
OFFERED = 5
CLEARLY = 0.9  # a test offered beside the best is worth at most this share of it, so that the best is beyond dispute
DANGER = 5  # a severity: nobody works a log, or looks for the next test, where the right act is to stop
TELLING = 0.5  # bits, that the best test gives at least
LINES = 4  # of a log that is read

Act = Mapping[str, object]


def small_job(draw: Draw, plan: Plan, attempt: int) -> Job | None:
    """One attempt at a small house with few suspects and none that has a size; None where the draw has no such job.

    Without sizes a log contradicts a suspect or it does not, and nothing between has to be searched for.
    """
    level = min(draw.level, max(plan.levels))
    job = candidate(plan, f"{draw.kind}/{draw.seed}", level, attempt)
    if job is None or len(job.faults) > 1 or len(job.design.zones) > min(plan.levels[level].zones):
        return None
    row = job.suspect(job.answers[0]).row
    if row.trigger or row.severity == DANGER:
        return None
    plain = [one.id for one in job.suspects if all(fault.size is None for fault in one.family) and not one.row.trigger]
    if job.answers[0] not in plain or len(plain) < FEWEST_SUSPECTS:
        return None
    others = draw.again(attempt).some("suspects", [one for one in plain if one not in job.answers], MOST_SUSPECTS - 1)
    kept = {*job.answers, *others}
    return replace(job, suspects=tuple(one for one in job.suspects if one.id in kept))


def next_test(draw: Draw, plan: Plan) -> Question:
    """The test that is expected to tell most for its cost, among tests clearly worth less, with a zone just on call.

    What each test is worth is computed from what every suspect would show; raises JobError where no attempt serves.
    """
    return _next_test(draw, plan)


def log_read(draw: Draw, plan: Plan) -> Question:
    """Which suspects a log of readings rules out, each of which has been truly taken on a drawn job; raises JobError."""
    return _log_read(draw, plan)


@lru_cache(maxsize=64)
def _next_test(draw: Draw, plan: Plan) -> Question:
    for attempt in range(MOST_ATTEMPTS):
        job = small_job(draw, plan, attempt)
        if job is None:
            continue
        call = {"do": "call", "stat": f"{job.zone}.stat", "on": True}
        worlds = [[visited(job.design, *fault.changes).after(call) for fault in one.family] for one in job.suspects]
        for trial in range(MOST_TRIALS):
            chance = Chance(f"{draw.again(attempt).seed}/{trial}")
            found = _surveyed(job, call, worlds, _tests(chance, job))
            question = _test_among(draw, job, found, chance, plain=trial + 1 == MOST_TRIALS)
            if question:
                return question
    raise JobError(f"{draw.kind}: seed {draw.seed!r} of {draw.chapter} gives no job to ask about; take another")


def _test_among(draw: Draw, job: Job, found: Survey, chance: Chance, *, plain: bool) -> Question | None:
    """The question, where one of the tests is the best beyond dispute; else None.

    Unless it may be `plain`, one of the others tells something as well.
    """
    ranked = sorted((worth(found, probe, range(len(found.suspects))) for probe in found.outcomes), key=lambda one: -one.value)
    clear = [one for one in ranked[1:] if one.value <= CLEARLY * ranked[0].value]
    if ranked[0].bits <= TELLING or len(clear) < OFFERED - 1:
        return None
    telling = list({one.bits: one for one in clear if one.bits > 0}.values())
    if not telling and not plain:
        return None
    shown = chance.some("telling", telling, OFFERED - 2)
    rest = chance.some("others", [one for one in clear if one not in shown], OFFERED - 1 - len(shown))
    return _test_asked(draw, job, ranked[0], [*shown, *rest])


def _test_asked(draw: Draw, job: Job, best: Worth, others: Sequence[Worth]) -> Question:
    wrong = {}
    for one in others:
        if one.bits == 0:
            hint = "Every suspect would show the same there: whatever it reads, you know as much as before."
        elif one.cost > best.cost:
            hint = "It tells something. For what it costs, another one here tells more."
        else:
            hint = "It parts the suspects badly: in most cases nearly all of them would still stand after it."
        wrong[_probe_text(one.probe)] = hint
    weight = sum(one.weight for one in job.suspects)
    likely = ", ".join(f"{one.words} ({one.weight / weight:.0%})" for one in job.suspects)
    costs = f"a reading {READING_COST:g}, a look, an ear or a hand {SENSE_COST:g}"
    told = "; ".join(f"{_probe_text(one.probe)}: {one.bits:.2f} bits" for one in (best, *others))
    return chosen(
        draw,
        "5.1",
        f"{job.story} Zone {job.zone.removeprefix('zone')} has just been turned up; nothing has been measured. "
        f"Of these tests, which one is expected to tell most for what it costs?",
        _probe_text(best.probe),
        wrong,
        why=f"It is expected to give {best.bits:.2f} bits for {best.cost:g} of a reading. All of them: {told}.",
        hint="Say for each suspect what the test would show. The best test splits the weight of them most evenly.",
        given=(("suspects, and how likely each is", likely), ("what a test counts", costs)),
    )


def _probe_text(probe: Probe) -> str:
    return act_words(json.loads(probe.act))


def _tests(chance: Chance, job: Job) -> list[Act]:
    """A draw of what can be read at one moment."""
    acts: list[Act] = [{"do": "measure", "function": "volts", "first": one, "second": other} for one, other in pairs(job.design)]
    acts += [{"do": "clamp", "wire": f"{job.zone}.W leg", "turns": 1}]
    mine = [act for act in acts if job.zone in str(act)]
    senses = [{"do": how, "part": part} for how, part in looked_at(job.design)]
    return [
        *chance.some("tests in the zone", mine, TESTS // 2),
        *chance.some("tests elsewhere", [act for act in acts if act not in mine], TESTS // 3),
        *chance.some("senses", senses, TESTS - TESTS // 2 - TESTS // 3),
    ]


def _surveyed(job: Job, call: Act, worlds: Sequence[Sequence[Visit]], tests: Sequence[Act]) -> Survey:
    """What each suspect would show to each test once the zone is on call."""
    total = sum(one.weight for one in job.suspects)
    outcomes = {Probe(0, keyed(act)): tuple(tuple(_tried(visit, act) for visit in family) for family in worlds) for act in tests}
    situation = Situation("with the zone just turned up", (call,))
    return Survey(
        tuple(one.id for one in job.suspects), tuple(one.weight / total for one in job.suspects), (situation,), outcomes
    )


def _tried(visit: Visit, act: Act) -> Outcome:
    try:
        return acted(visit.world, act)[1]
    except ValueError:
        return IMPOSSIBLE


@lru_cache(maxsize=64)
def _log_read(draw: Draw, plan: Plan) -> Question:
    for attempt in range(MOST_ATTEMPTS):
        job = small_job(draw, plan, attempt)
        if job is None:
            continue
        log = _worked(draw, job, attempt)
        found = cases(job, log)
        gone = [case for case in found if not case.survives]
        if gone and len(gone) < len(found):
            return _log_asked(draw, job, log, found)
    raise JobError(f"{draw.kind}: seed {draw.seed!r} of {draw.chapter} gives no log to ask about; take another")


def _worked(draw: Draw, job: Job, attempt: int) -> tuple[Entry, ...]:
    """A log that was really worked: the zone turned up, and readings in the order in which they were drawn."""
    chance = draw.again(attempt)
    visit = visited_job(job).calling(job.zone)
    for act in chance.some("lines", _tests(chance, job), LINES):
        visit = visit.after(act)
    return visit.log


def _log_asked(draw: Draw, job: Job, log: Sequence[Entry], found: Sequence[Case]) -> Question:
    gone = [case for case in found if not case.survives]
    told = []
    for case in gone:
        first = case.contradictions[0]
        told.append(f"{case.suspect.words} Line {first.line + 1} shows {first.observed!r}, and it would be {first.expected!r}.")
    left = " ".join(case.suspect.words for case in found if case.survives)
    return several(
        draw,
        "5.2",
        f"{job.story} Somebody worked this log, one line an act. Which suspects does it rule out?",
        [case.suspect.words for case in gone],
        {
            case.suspect.words: "One that you struck off would show every line of this log. Play each line through with it there."
            for case in found
            if case.survives
        },
        why=f"Ruled out: {' '.join(told)} Still standing: {left}",
        hint="Take one suspect at a time: is there a line that could not be if it were true?",
        given=tuple((f"line {number}", f"{act_words(line.act)}: {line.text}") for number, line in enumerate(log, 1)),
    )
