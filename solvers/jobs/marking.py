"""From a job and a sheet to marks: the rubric, the guess guard, and reasons that rest on the learner's own readings."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from dataclasses import dataclass

from ..plant.parts import Boiler, Fuse, FuseState, Splice, Stat, Transformer, Valve
from .acts import World, acted, arrival
from .bench import entry
from .evidence import Case, cases
from .job import Job, JobError
from .sheet import Entry, Sheet
from .survey import READING_COST, SENSE_COST, nearest, par, survey

__all__ = ["MACHINE_POINTS", "MarkLine", "Marks", "mark"]

MACHINE_POINTS = 90
"""Out of 100; the explanation's 10 points are a person's to give."""

MISUSE_COST = 10  # ohms or beeper on a live pair, each time; source: common practice
JACK_COST = 15  # leads left in the current jacks across a source
SECOND_FUSE_COST = 10


@dataclass(frozen=True, slots=True)
class MarkLine:
    """One criterion: its points (None where a person gives them) and why, in sentences."""

    criterion: str
    points: float | None
    out_of: float
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Marks:
    """A marked sheet."""

    lines: tuple[MarkLine, ...]
    flags: tuple[str, ...]  # for a talk with the learner; they change no points
    readings: float  # what the log's readings count
    par: float
    right: bool
    argued: bool  # the learner's own readings rule out the nearest look-alike

    @property
    def points(self) -> float:
        """Machine points given, of MACHINE_POINTS."""
        return sum(line.points or 0.0 for line in self.lines)


@dataclass(frozen=True, slots=True)
class _Worked:
    """A log gone through again on the real circuit."""

    entries: tuple[Entry, ...]  # what each act really shows
    world: World
    counts: tuple[float, ...]  # what each line counts against par
    fuses_lost: int  # new fuses that opened again
    fitted: tuple[str, ...]


def mark(job: Job, sheet: Sheet) -> Marks:
    """Mark a sheet. Raises JobError when it belongs to another job; a wrong answer is marks, never an error."""
    if (sheet.chapter, sheet.level, sheet.seed) != (job.chapter, job.level, job.seed):
        raise JobError(f"the sheet is of job {sheet.chapter}/{sheet.level}/{sheet.seed}; this job is {job.id}")
    worked, flags = _worked(job, sheet.log)
    log = worked.entries
    found, known = survey(job), {case.suspect.id: case for case in cases(job, log)}
    reference = par(found, job.answer)
    claim = None if sheet.verdict is None else sheet.verdict.suspect
    if claim is not None and claim not in known:
        flags += (f"The verdict names {claim!r}, which this job does not offer.",)
        claim = None
    right = claim == job.answer
    alike = None if claim is None else nearest(found, claim)
    argued = alike is not None and not known[alike].survives
    readings = sum(worked.counts)
    proof = () if sheet.verdict is None else tuple(line for line in sheet.verdict.proof if line < len(log))
    lines = (
        _safety(job, log, worked),
        _method(log, worked, tuple(known.values())),
        _economy(readings, reference, tried=bool(log)),
        _verdict(job, log, known, claim, alike, proof),
        _kept(job, worked),
        _restored(job, worked, tried=bool(log)),
        MarkLine("explanation", None, 10, (_opinion(sheet),)),
    )
    return Marks(lines, flags, readings, reference, right, argued)


def _worked(job: Job, log: Sequence[Entry]) -> tuple[_Worked, tuple[str, ...]]:
    world = arrival(job.design, job.actual)
    entries: list[Entry] = []
    counts: list[float] = []
    flags: list[str] = []
    seen: set[str] = set()
    fitted: list[str] = []
    lost, new_fuse = 0, False
    for number, line in enumerate(log):
        try:
            world, outcome = acted(world, line.act)
        except ValueError as problem:
            flags.append(f"Log line {number + 1} cannot be done on this job ({problem}); it and what follows were left out.")
            break
        real = entry(line.act, world.state.time, outcome)
        if not _replays(real, line) and not flags:
            flags.append(f"Log line {number + 1} says {line.text!r} where this job shows {real.text!r}: talk it over.")
        entries.append(real)
        kind = line.act["do"]
        if kind not in ("measure", "clamp", "look", "listen", "feel"):
            seen.clear()  # the same place may be read again once something has changed
        key = json.dumps(line.act, sort_keys=True)
        cost = READING_COST if kind in ("measure", "clamp") else SENSE_COST if kind in ("look", "listen", "feel") else 0.0
        counts.append(cost / 2 if key in seen else cost)
        seen.add(key)
        if kind == "fit":
            fitted.append(line.act["part"])
            new_fuse = new_fuse or isinstance(job.design.part(line.act["part"]), Fuse)
        blown = any(isinstance(state, FuseState) and state.blown for state in world.state.parts.values())
        if new_fuse and blown:
            lost, new_fuse = lost + 1, False
    return _Worked(tuple(entries), world, tuple(counts), lost, tuple(fitted)), tuple(flags)


def _replays(real: Entry, line: Entry) -> bool:
    """Whether a log line is what the job shows, to one digit of the display and a hundredth of a second."""
    if real.value is None or line.value is None or math.isinf(real.value) or math.isinf(line.value):
        same = real.value == line.value
    else:
        same = abs(real.value - line.value) <= 1.01 * real.step
    told = [words for _, words in real.events] == [words for _, words in line.events]
    on_time = all(abs(mine - yours) < 0.01 for (mine, _), (yours, _) in zip(real.events, line.events, strict=False))
    return same and told and on_time and real.signal == line.signal and abs(real.clock - line.clock) < 0.01


def _safety(job: Job, log: Sequence[Entry], worked: _Worked) -> MarkLine:
    if not log:
        return MarkLine("safety", 0, 20, ("Nothing was done, so nothing was done safely.",))
    cost, reasons = 0, []
    for number, line in enumerate(log):
        if line.misuse:
            jacks = line.act.get("function") == "amps jack"
            cost += JACK_COST if jacks else MISUSE_COST
            cure = "Move the leads back to the volts jack first." if jacks else "Switch off and prove the pair dead first."
            reasons.append(f"Line {number + 1}: {line.misuse}. {cure}")
    if worked.fuses_lost:
        cost += SECOND_FUSE_COST * worked.fuses_lost
        reasons.append(f"A new fuse opened again {_times(worked.fuses_lost)}: find the short before you fit one.")
    if not reasons:
        reasons.append("Ohms only on dead pairs, no fuse wasted.")
    return MarkLine("safety", max(0, 20 - cost), 20, tuple(reasons))


def _method(log: Sequence[Entry], worked: _Worked, found: Sequence[Case]) -> MarkLine:
    """Share of the readings after which fewer suspects stood, or which were one of two that prove the last one."""
    told = [number for number, count in enumerate(worked.counts) if count]
    if not told:
        return MarkLine("method", 0, 20, ("No reading was taken.",))
    useful, standing, proving = 0, len(found), 0
    first_idle = None
    for number in told:
        left = sum(case.falls > number for case in found)
        if left < standing:
            useful += 1
        elif left == 1 and proving < 2:
            useful, proving = useful + 1, proving + 1
        elif first_idle is None:
            first_idle = number
        standing = left
    share = useful / len(told)
    points = 20 if share >= 0.6 else 10 if share >= 0.35 else 0
    reasons = [f"{useful} of {len(told)} readings left fewer suspects standing or proved the last one."]
    if first_idle is not None and points < 20:
        reasons.append(f"Line {first_idle + 1} ({log[first_idle].text}) was the first that ruled nothing out.")
    return MarkLine("method", points, 20, tuple(reasons))


def _economy(readings: float, reference: float, *, tried: bool) -> MarkLine:
    if not tried or readings == 0:
        return MarkLine("economy", 0, 10, ("No reading was taken.",))
    # Half readings round in the learner's favour: par is counted in whole readings.
    over = max(0, int(readings - reference))
    points = 10 if over == 0 else max(0, 10 - 2 * over) if over <= 4 else 0
    return MarkLine("economy", points, 10, (f"Your readings count {readings:g}; par for this job is {reference:g}.",))


def _verdict(
    job: Job,
    log: Sequence[Entry],
    known: dict[str, Case],
    claim: str | None,
    alike: str | None,
    proof: Sequence[int],
) -> MarkLine:
    if claim is None:
        return MarkLine("verdict", 0, 20, ("No verdict was given.",))
    case = known[claim]
    if claim != job.answer:
        reasons = [f"You said: {case.suspect.words}"]
        for one in case.contradictions[:3]:
            reasons.append(f"Line {one.line + 1}: you found {one.observed!r}; had that been so, it would show {one.expected!r}.")
        if not case.contradictions:
            reasons.append("None of your readings speaks against it, and none proves it: other causes fit them as well.")
        reasons.append(f"It was: {job.suspect(job.answer).words}")
        return MarkLine("verdict", 0, 20, tuple(reasons))
    twin = known[alike].suspect.words
    if known[alike].survives:
        return MarkLine(
            "verdict", 0, 20, ("Right, but nothing you read tells it from its look-alike:", twin, "A guess earns nothing.")
        )
    ruled = known[alike].contradictions[0]
    reasons = [
        f"Right. {case.suspect.words}",
        f"Line {ruled.line + 1} rules out the look-alike ({twin}): {ruled.observed!r}, where that would show {ruled.expected!r}.",
    ]
    telling = {one.line for other in known.values() if other.suspect.id != claim for one in other.contradictions}
    proving = [line for line in dict.fromkeys(proof) if line in telling]
    left = [other.suspect.words for other in known.values() if other.survives and other.suspect.id != claim]
    if left:
        reasons.append(f"Your readings still leave room for: {left[0]}")
    if len(proving) < 2:
        reasons.append(f"{len(proving)} of the two proving readings that you named rules anything out.")
    return MarkLine("verdict", 10 if left or len(proving) < 2 else 20, 20, tuple(reasons))


def _kept(job: Job, worked: _Worked) -> MarkLine:
    if not worked.entries:
        return MarkLine("good parts kept", 0, 10, ("Nothing was done.",))
    design, actual = job.design, job.actual
    good = [name for name in worked.fitted if actual.part(name) == design.part(name)]
    wasted = [name for name in good if not (isinstance(design.part(name), Fuse) and worked.fuses_lost)]
    if not wasted:
        return MarkLine("good parts kept", 10, 10, ("No good part was replaced.",))
    cheap = all(isinstance(design.part(name), Splice | Fuse) for name in wasted)
    points = 5 if cheap and len(wasted) == 1 else 0
    return MarkLine("good parts kept", points, 10, (f"Replaced though good: {', '.join(wasted)}.",))


def _restored(job: Job, worked: _Worked, *, tried: bool) -> MarkLine:
    if not tried:
        return MarkLine("restored", 0, 10, ("Nothing was done.",))
    state, left = worked.world.state, []
    left += [f"the lead at {terminal} is still lifted" for terminal in state.lifted]
    for part in job.design.parts:
        if isinstance(part, Transformer | Boiler) and not state.of(part.name).on:
            left.append(f"the {part.name} is still switched off")
        if isinstance(part, Valve) and state.of(part.name).engaged:
            left.append(f"the opener of {part.name} is still engaged")
        if isinstance(part, Stat) and state.of(part.name).calling:
            left.append(f"{part.name} is still turned up")
    if not left:
        return MarkLine("restored", 10, 10, ("Leads landed, supplies on, openers in auto, thermostats as found.",))
    return MarkLine("restored", 5 if len(left) == 1 else 0, 10, (f"Left behind: {'; '.join(left)}.",))


def _opinion(sheet: Sheet) -> str:
    words = 0 if sheet.verdict is None else len(sheet.verdict.explanation.split())
    customer = 0 if sheet.verdict is None else len(sheet.verdict.customer.split())
    if not words:
        return "No explanation was written. A person gives these points."
    return f"{words} words of explanation, {customer} for the customer. A person gives these points."


def _times(count: int) -> str:
    return "once" if count == 1 else f"{count} times"
