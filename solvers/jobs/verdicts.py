"""The verdict: what was claimed, held against what the learner read, with a guard against guessing."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from ..plant.running import at_rest, called, waited
from .evidence import Case
from .job import Job
from .marks import MarkLine
from .sheet import Entry, Verdict

__all__ = ["Claimed", "Judged", "claimed", "longest_call", "opens_after", "verdict_line"]

OUT_OF = 20

Claimed = tuple[str, ...]
"""Ids of the suspects that a verdict names and the job offers."""


@dataclass(frozen=True, slots=True)
class Judged:
    """A verdict judged."""

    line: MarkLine
    right: bool
    argued: bool


def claimed(job: Job, verdict: Verdict | None) -> tuple[Claimed, tuple[str, ...]]:
    """The claims that a job offers, and a flag for each that it does not."""
    if verdict is None:
        return (), ()
    known = {suspect.id for suspect in job.suspects}
    flags = tuple(f"The verdict names {one!r}, which this job does not offer." for one in verdict.suspects if one not in known)
    return tuple(dict.fromkeys(one for one in verdict.suspects if one in known)), flags


def verdict_line(
    job: Job,
    log: Sequence[Entry],
    standing: Sequence[Mapping[str, Case]],
    claims: Claimed,
    verdict: Verdict | None,
    nearest: Sequence[str],
    *,
    refused: bool,
) -> Judged:
    """Points for the verdict: each fault its share, in full only if the learner's readings leave nothing else.

    `nearest` is each answer's look-alike.
    """
    if refused:
        return Judged(
            MarkLine("verdict", OUT_OF, OUT_OF, ("Stopped, made safe and referred. That is the answer here.",)), True, True
        )
    if not claims:
        return Judged(MarkLine("verdict", 0, OUT_OF, ("No verdict was given.",)), right=False, argued=False)
    proof = tuple(line for line in verdict.proof if line < len(log))
    share = OUT_OF / len(job.answers)
    points, reasons, argued = 0.0, [], []
    for slot, answer in enumerate(job.answers):
        if answer not in claims:
            argued.append(False)
            continue
        given, why, ruled = _right(standing[slot], answer, nearest[slot], proof, share)
        points, reasons = points + given, reasons + why
        argued.append(ruled)
    wrong = [claim for claim in claims if claim not in job.answers]
    for claim in wrong:
        reasons += _wrong(job, standing, claim, log)
        points -= share / 2
    missed = [answer for answer in job.answers if answer not in claims]
    reasons += [f"It was: {job.suspect(answer).words}" for answer in missed]
    right = not wrong and not missed
    return Judged(MarkLine("verdict", max(0.0, points), OUT_OF, tuple(reasons)), right, right and all(argued))


def _right(
    known: Mapping[str, Case], answer: str, nearest: str, proof: Sequence[int], share: float
) -> tuple[float, list[str], bool]:
    case = known[answer]
    alike = known[nearest]
    if alike.survives:
        return (
            0.0,
            ["Right, but nothing you read tells it from its look-alike:", alike.suspect.words, "A guess earns nothing."],
            False,
        )
    ruled = alike.contradictions[0]
    reasons = [
        f"Right. {case.suspect.words}",
        f"Line {ruled.line + 1} rules out the look-alike ({alike.suspect.words}): {ruled.observed!r}, "
        f"where that would show {ruled.expected!r}.",
    ]
    proving = _telling(proof, (other for other in known.values() if other.suspect.id != answer))
    left = [other.suspect.words for other in known.values() if other.survives and other.suspect.id != answer]
    if left:
        reasons.append(f"Your readings still leave room for: {left[0]}")
    if len(proving) < 2:
        reasons.append(f"{len(proving)} of the proving readings that you named rules anything out; two do.")
    return (share / 2 if left or len(proving) < 2 else share), reasons, True


def _telling(proof: Sequence[int], others: Iterable[Case]) -> set[int]:
    """Those of the proving lines that rule something out; nobody is followed further once all of them do."""
    found: set[int] = set()
    for other in others:
        if found.issuperset(proof):
            break
        found.update({one.line for one in other.contradictions}.intersection(proof))
    return found


def _wrong(job: Job, standing: Sequence[Mapping[str, Case]], claim: str, log: Sequence[Entry]) -> list[str]:
    case = min((known[claim] for known in standing), key=lambda one: len(one.contradictions))
    reasons = [f"You said: {case.suspect.words}"]
    for one in case.contradictions[:3]:
        reasons.append(f"Line {one.line + 1}: you found {one.observed!r}; had that been so, it would show {one.expected!r}.")
    if not case.contradictions:
        reasons.append("None of your readings speaks against it, and none proves it: other causes fit them as well.")
    return reasons + _early(job, claim, log)


def _early(job: Job, claim: str, log: Sequence[Entry]) -> list[str]:
    """That a valve was condemned before its time, if it was: how long it was watched, and how long a good one takes."""
    suspect = job.suspect(claim)
    zone = suspect.zone
    changed = {getattr(change, "part", "") for fault in suspect.family for change in fault.changes}
    if f"{zone}.valve" not in changed or (watched := longest_call(job, zone, log)) >= (due := opens_after(job, zone)):
        return []
    return [f"You judged valve {zone.removeprefix('zone')} after {watched:.0f} s on call; a good one takes {due:.0f} s here."]


def longest_call(job: Job, zone: str, log: Sequence[Entry]) -> float:
    """The longest that a zone was left on call, in seconds of job time."""
    longest, since, clock = 0.0, None, 0.0
    for line in log:
        act = line.act
        if act["do"] == "call" and act["stat"] == f"{zone}.stat":
            since = (clock if since is None else since) if act["on"] else None
        clock = line.clock
        if since is not None:
            longest = max(longest, clock - since)
    return longest


def opens_after(job: Job, zone: str) -> float:
    """Seconds after a call until the valve of a sound house stands open."""
    design = job.design
    _, events = waited(design, called(design, at_rest(design), f"{zone}.stat", True), 1800.0)
    ends = ("end switch makes", "is fully open")
    return next((event.time for event in events if event.name.removeprefix(f"{zone}.valve ") in ends), 0.0)
