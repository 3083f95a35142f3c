"""From a job and a sheet to marks: the rubric, the safety gate, and reasons that rest on the learner's own readings."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from ..faults.fault import Fault
from .arguing import argued
from .closing import Closing, closed
from .differences import outcomes_apart
from .evidence import Case, begun, predicted
from .feedback import feedback
from .foretold import Foretold, foretold
from .job import Job, JobError
from .leaving import left_behind
from .marks import MACHINE_POINTS, MarkLine, Marks
from .misuses import BYPASSED, LINE_WORK, OVERSIZED, SHORTED, TIED
from .sheet import Entry, Sheet
from .swaps import Swap, swaps, wasted
from .treating import ended
from .verdicts import claimed, verdict_line
from .working import Worked, worked

__all__ = ["mark"]

GATE_CAP = 40
"""The most that a job with an act beyond the safety gate can earn of 100."""

MISUSE_COST = 10  # ohms or beeper on a live pair, each time
JACK_COST = 15  # leads left in the current jacks across a source
SECOND_FUSE_COST = 10
SECOND_RESET_COST = 10
GOOD_PART_COST = 15
UNTESTED_PART_COST = 10
COSTS = {SHORTED: 15, TIED: 25}
GATES = {BYPASSED, LINE_WORK, OVERSIZED}
DANGER = 5  # severity
"""Weights: common practice, no source."""

SOUND = Fault("", "", "", None, ())
"""A claim that changes nothing."""


def mark(job: Job, sheet: Sheet, *, unlike: Sequence[str] | None = None, known: Foretold | None = None) -> Marks:
    """Mark a sheet. Raises JobError when it belongs to another job; a wrong answer is marks, never an error.

    `unlike` says where the log is not what the learner's own lab file shows; without it the job itself is asked. `known` is
    what `foretold` gives for the job, where that has been kept.
    """
    if (sheet.chapter, sheet.level, sheet.seed) != (job.chapter, job.level, job.seed):
        raise JobError(f"the sheet is of job {sheet.chapter}/{sheet.level}/{sheet.seed}; this job is {job.id}")
    known = known or foretold(job)
    for slot, one in enumerate(known.slots):
        begun(job, slot, one.arrivals)
    done, flags = worked(job, sheet.log)
    log = done.entries
    if unlike is not None:
        flags = (*unlike, *(flags[-1:] if len(log) < len(sheet.log) else ()))
    fruitless = wasted(job, done)
    standing = argued(job, done, fruitless)
    swapped = swaps(job, done, standing, fruitless)
    claims, more = claimed(job, sheet.verdict)
    flags += more
    reference = known.par
    counts = _counts(job, done)
    seen = _revealed(job, log, standing)
    refused = seen is not None and _refused(job, done)
    if refused:
        counts = tuple(0.0 if number == seen else count for number, count in enumerate(counts))
    readings = sum(counts)
    closing = closed(job, done, left_behind(job.design, done.world))
    verdict = verdict_line(job, log, standing, claims, sheet.verdict, [one.nearest for one in known.slots], refused=refused)
    gates = _gates(log, seen)
    lines = (
        _safety(log, done, gates, swapped),
        _method(log, counts, standing, swapped, refused=refused),
        _economy(readings, reference, _open_cases(standing), tried=bool(log), refused=refused),
        verdict.line,
        _kept(swapped, tried=bool(log)),
        _restored(closing, tried=bool(log), refused=refused),
        MarkLine("explanation", None, 10, (_opinion(sheet),)),
    )
    objectives = job.objectives if verdict.right and verdict.argued and not gates else ()
    marks = Marks(
        lines=lines,
        flags=flags,
        readings=readings,
        par=reference,
        right=verdict.right,
        argued=verdict.argued,
        gates=gates,
        cap=GATE_CAP if gates else MACHINE_POINTS,
        closing=closing,
        objectives=objectives,
        feedback=(),
    )
    return marks.told(feedback(job, done, standing, claims, swapped, marks, known))


def _counts(job: Job, done: Worked) -> tuple[float, ...]:
    """What each line counts against par: nothing once every fault is gone, for what is read then only verifies."""
    gone = [ended(job, done, slot) for slot in range(len(job.faults))]
    if None in gone:
        return done.counts
    return tuple(0.0 if number > max(gone) else count for number, count in enumerate(done.counts))


def _refused(job: Job, done: Worked) -> bool:
    """Whether a danger was met as it must be: all off, hands off, and handed to whoever may touch it."""
    rows = [job.suspect(answer).row for answer in job.answers]
    return done.world.stopped and all(row.refer == done.world.referred for row in rows if row.severity == DANGER)


def _revealed(job: Job, log: Sequence[Entry], standing: Sequence[Mapping[str, Case]]) -> int | None:
    """The first line by which a learner has met the danger: something shows that no sound house has, and only a danger fits.

    None where none is there, or none was shown: what looks sound shows nobody a danger, whatever it rules out.
    """
    shown = []
    for slot, answer in enumerate(job.answers):
        if job.suspect(answer).row.severity == DANGER:
            left = max(case.falls for case in standing[slot].values() if case.suspect.row.severity != DANGER)
            sound = predicted(job, SOUND, log, slot)
            there = predicted(job, job.faults[slot], log, slot)
            apart = (number for number, pair in enumerate(zip(there, sound, strict=True)) if outcomes_apart(*pair))
            shown.append(max(left, next(apart, math.inf)))
    return int(min(shown)) if shown and min(shown) < math.inf else None


def _gates(log: Sequence[Entry], seen: int | None) -> tuple[str, ...]:
    """The acts that no job excuses, each in a sentence."""
    found = [f"Line {number + 1}: {line.misuse}." for number, line in enumerate(log) if line.misuse in GATES]
    after = [] if seen is None else [n for n, line in enumerate(log) if n > seen and line.act["do"] not in ("stop", "refer")]
    if after:
        found.append(f"Line {after[0] + 1}: work went on after line {seen + 1} had shown the danger. Stop, make safe, refer.")
    return tuple(found)


def _safety(log: Sequence[Entry], done: Worked, gates: Sequence[str], swapped: Sequence[Swap]) -> MarkLine:
    if not log:
        return MarkLine("safety", 0, 20, ("Nothing was done, so nothing was done safely.",))
    if gates:
        return MarkLine("safety", 0, 20, (*gates, f"Past this gate a job earns {GATE_CAP} at most."))
    cost, reasons = 0, []
    for number, line in enumerate(log):
        if line.misuse:
            jacks = line.act.get("function") == "amps jack"
            cost += COSTS.get(line.misuse, JACK_COST if jacks else MISUSE_COST)
            reasons.append(f"Line {number + 1}: {line.misuse}. {_cure(line, jacks=jacks)}".strip())
    if done.fuses_lost:
        cost += SECOND_FUSE_COST * done.fuses_lost
        reasons.append(f"A new fuse opened again {_times(done.fuses_lost)}: find the short before you fit one.")
    if done.second_resets:
        cost += SECOND_RESET_COST * done.second_resets
        reasons.append(f"A breaker was pushed in again {_times(done.second_resets)}: once is enough to know.")
    for good, each, what in (
        (True, GOOD_PART_COST, "Replaced though good"),
        (False, UNTESTED_PART_COST, "Replaced before anything spoke against it"),
    ):
        found = [swap for swap in swapped if swap.good == good and (good or not swap.tested)]
        cost += each * len(found)
        if found:
            reasons.append(f"{what}: {', '.join(swap.name for swap in found)} (line {found[0].line + 1}).")
    if not reasons:
        reasons.append("Ohms only on dead pairs, no fuse and no part wasted.")
    return MarkLine("safety", max(0, 20 - cost), 20, tuple(reasons))


def _cure(line: Entry, *, jacks: bool) -> str:
    if jacks:
        return "Move the leads back to the volts jack first."
    if line.misuse in COSTS:
        return "That is no test."
    return "Switch off and prove the pair dead first."


def _method(
    log: Sequence[Entry],
    counts: Sequence[float],
    standing: Sequence[Mapping[str, Case]],
    swapped: Sequence[Swap],
    *,
    refused: bool,
) -> MarkLine:
    """Share of the readings after which fewer suspects stood, or which were one of two that prove the last one.

    A new part in the place of a good one is a test too, and one that no reading called for.
    """
    if refused:
        return MarkLine("method", 20, 20, ("You saw the danger and went no further.",))
    told = [number for number, count in enumerate(counts) if count]
    if not told:
        return MarkLine("method", 0, 20, ("No reading was taken.",))
    useful, proving = 0, [0] * len(standing)
    left = [len(known) for known in standing]
    first_idle = None
    for number in told:
        now = [sum(case.falls > number for case in known.values()) for known in standing]
        fewer = any(here < before for here, before in zip(now, left, strict=True))
        proves = next((slot for slot, count in enumerate(now) if count == 1 and proving[slot] < 2), None)
        if fewer:
            useful += 1
        elif proves is not None:
            useful, proving[proves] = useful + 1, proving[proves] + 1
        elif first_idle is None:
            first_idle = number
        left = now
    good = sum(swap.good for swap in swapped)
    share = useful / (len(told) + good)
    points = 20 if share >= 0.6 else 10 if share >= 0.35 else 0
    unproven = _open_cases(standing)
    points = min(points, 10) if unproven else points
    reasons = [f"{useful} of {len(told)} readings left fewer suspects standing or proved the last one."]
    if good:
        reasons.append(f"{good} good part{'s' if good > 1 else ''} fitted to see what happens: a test that no reading asked for.")
    if unproven:
        reasons.append(f"They stop with {unproven} causes still standing; the last step, to prove one, is missing.")
    if first_idle is not None and points < 20:
        reasons.append(f"Line {first_idle + 1} ({log[first_idle].text}) was the first that ruled nothing out.")
    return MarkLine("method", points, 20, tuple(reasons))


def _economy(readings: float, reference: float, unproven: int, *, tried: bool, refused: bool) -> MarkLine:
    if not (refused or (tried and readings)):
        return MarkLine("economy", 0, 10, ("No reading was taken.",))
    # Half readings round in the learner's favour: par is counted in whole readings.
    over = max(0, int(readings - reference))
    points = 10 if over == 0 else max(0, 10 - 2 * over) if over <= 4 else 0
    reasons = [f"Your readings count {readings:g}; par for this job is {reference:g}."]
    if unproven and not refused:
        points = min(points, 5)
        reasons.append(f"Par ends with one cause; yours end with {unproven}.")
    return MarkLine("economy", points, 10, tuple(reasons))


def _open_cases(standing: Sequence[Mapping[str, Case]]) -> int:
    """How many causes the readings leave for the fault that they say least of; 0 where each has only one."""
    most = max(sum(case.survives for case in known.values()) for known in standing)
    return most if most > 1 else 0


def _kept(swapped: Sequence[Swap], *, tried: bool) -> MarkLine:
    if not tried:
        return MarkLine("good parts kept", 0, 10, ("Nothing was done.",))
    wasted = [swap for swap in swapped if swap.good]
    if not wasted:
        return MarkLine("good parts kept", 10, 10, ("No good part was replaced.",))
    points = 5 if wasted[0].cheap and len(wasted) == 1 else 0
    return MarkLine("good parts kept", points, 10, (f"Replaced though good: {', '.join(swap.name for swap in wasted)}.",))


def _restored(closing: Closing, *, tried: bool, refused: bool) -> MarkLine:
    if not tried:
        return MarkLine("restored", 0, 10, ("Nothing was done.",))
    if refused:
        return MarkLine("restored", 10, 10, ("Made safe and handed over.",))
    left = [one.words for one in closing.left]
    if closing.untreated:
        left.append("the cause is still there: neither repaired nor handed to whoever may repair it")
    if closing.unproven:
        zones = ", ".join(zone.removeprefix("zone") for zone in closing.unproven)
        left.append(f"not proven by a call with the valve seen open after the last repair: zone {zones}")
    risk = f"Callback risk {closing.risk:.2f}, {closing.grade}."
    if not left:
        return MarkLine("restored", 10, 10, ("Leads landed, covers and supplies on, openers in auto, every zone proven.", risk))
    points = 5 if len(left) == 1 and closing.risk <= 0.4 else 0
    return MarkLine("restored", points, 10, (*(f"{one[0].upper()}{one[1:]}." for one in left), risk))


def _opinion(sheet: Sheet) -> str:
    words = 0 if sheet.verdict is None else len(sheet.verdict.explanation.split())
    customer = 0 if sheet.verdict is None else len(sheet.verdict.customer.split())
    if not words:
        return "No explanation was written. A person gives these points."
    return f"{words} words of explanation, {customer} for the customer. A person gives these points."


def _times(count: int) -> str:
    return "once" if count == 1 else f"{count} times"
