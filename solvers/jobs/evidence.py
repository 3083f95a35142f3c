"""What a log proves: each claim is simulated act by act, and the learner's own readings are held against it."""

from __future__ import annotations

import math
from collections import OrderedDict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from ..circuit import Reading
from ..faults.fault import Fault, Suspect
from ..faults.planting import planted
from .acts import Outcome, World, acted, arrival
from .differences import readings_apart, signals_apart, times_apart
from .job import Job
from .rounds import IMPOSSIBLE
from .sheet import Entry

__all__ = ["Case", "Contradiction", "against", "cases", "predicted", "survivors"]


@dataclass(frozen=True, slots=True)
class Contradiction:
    """One log line that a claim cannot explain."""

    line: int  # index into the log
    observed: str
    expected: str  # what the claim predicts for the same act


@dataclass(frozen=True, slots=True)
class Case:
    """How one suspect stands against a log: with the size that explains it best."""

    suspect: Suspect
    size: float | None
    contradictions: tuple[Contradiction, ...]
    falls: float  # the line at which no size could explain the log any longer; inf if it stands

    @property
    def survives(self) -> bool:
        """Whether nothing in the log speaks against it."""
        return not self.contradictions


MOST_RUNS = 512


@dataclass(slots=True)
class _Run:
    """One claim's world, act by act, so that a longer log is only followed from where the last one ended."""

    job: Job  # held, so that its identity cannot be reused
    worlds: list[World]
    acts: list[Mapping[str, object]]
    outcomes: list[Outcome]


_RUNS: OrderedDict[tuple[int, int, Fault], _Run] = OrderedDict()


def predicted(job: Job, fault: Fault, log: Sequence[Entry], slot: int = 0) -> tuple[Outcome, ...]:
    """What every act of a log would have shown had this fault been there in the place of one of the job's.

    An act that could not have been done then, as taking off what is not there, shows that.
    """
    return tuple(_shown(job, fault, log, slot))


def _shown(job: Job, fault: Fault, log: Sequence[Entry], slot: int) -> Iterator[Outcome]:
    """The same one act after another, each done only once it is asked for."""
    key = (id(job), slot, fault)
    run = _RUNS.pop(key, None) or _Run(job, [arrival(job.design, planted(job.given(slot), fault))], [], [])
    _RUNS[key] = run
    while len(_RUNS) > MOST_RUNS:
        _RUNS.popitem(last=False)
    for number, line in enumerate(log):
        if number == len(run.acts) or run.acts[number] != line.act:
            del run.worlds[number + 1 :], run.acts[number:], run.outcomes[number:]
            try:
                world, outcome = acted(run.worlds[-1], line.act)
            except ValueError:
                world, outcome = run.worlds[-1], IMPOSSIBLE
            run.worlds.append(world)
            run.acts.append(line.act)
            run.outcomes.append(outcome)
        yield run.outcomes[number]


def against(job: Job, suspect: Suspect, log: Sequence[Entry], slot: int = 0) -> Case:
    """One suspect's case for one of the job's faults, the others given.

    A suspect with a size is tried at the size that leaves least to explain.
    """
    tried = [(fault, predicted(job, fault, log, slot)) for fault in suspect.family]
    found = [(fault.size, contradictions(log, outcomes)) for fault, outcomes in tried]
    one_row = len(suspect.rows) == 1 and suspect.row.sizes is not None
    # A size that explains everything leaves nothing that another could explain better.
    if one_row and all(one for _, one in found) and not _beyond(log, [outcomes for _, outcomes in tried]):
        fault, outcomes = _closest(job, suspect, log, tried, slot)
        found.append((fault.size, contradictions(log, outcomes)))
    size, fewest = min(found, key=lambda one: len(one[1]))
    return Case(suspect, size, fewest, max(one[0].line if one else math.inf for _, one in found))


def cases(job: Job, log: Sequence[Entry], slot: int = 0) -> tuple[Case, ...]:
    """Every suspect's case for one of the job's faults, in the order in which the job lists them."""
    return tuple(against(job, suspect, log, slot) for suspect in job.rivals(slot))


def survivors(job: Job, log: Sequence[Entry], slot: int = 0) -> tuple[str, ...]:
    """The ids of the suspects that nothing in the log speaks against."""
    return tuple(case.suspect.id for case in cases(job, log, slot) if case.survives)


def contradictions(log: Sequence[Entry], outcomes: Sequence[Outcome]) -> tuple[Contradiction, ...]:
    """The lines of a log that a run of the same acts does not reproduce."""
    found = []
    for number, (line, outcome) in enumerate(zip(log, outcomes, strict=True)):
        if signals_apart(line.signal, outcome.signal) or readings_apart(_reading(line, outcome), outcome.reading):
            found.append(Contradiction(number, line.text, outcome.text))
    named = {one.line for one in found}
    late = [one for one in _clicks(log, outcomes) if one.line not in named]
    return tuple(sorted([*found, *late], key=lambda one: one.line))


def _clicks(log: Sequence[Entry], outcomes: Sequence[Outcome]) -> list[Contradiction]:
    """Clicks that came when the claim has none, or none within a watch's doubt; waits that stayed silent likewise."""
    heard = [(number, time, words) for number, line in enumerate(log) for time, words in line.events]
    due = [(number, time, words) for number, outcome in enumerate(outcomes) for time, words in outcome.events]
    end = max((line.clock for line in log), default=0.0)
    found = []
    for words in dict.fromkeys(words for _, _, words in [*heard, *due]):
        ours = [(number, time) for number, time, said in heard if said == words]
        theirs = [(number, time) for number, time, said in due if said == words]
        for position in range(max(len(ours), len(theirs))):
            mine = ours[position] if position < len(ours) else None
            other = theirs[position] if position < len(theirs) else None
            missed = (mine or other)[1]
            if (mine is None or other is None) and not times_apart(missed, end):
                continue  # it may still have been about to come
            if mine is None or other is None or times_apart(mine[1], other[1]):
                number = (mine or other)[0]
                found.append(Contradiction(number, _at(words, mine), _at(words, other)))
                break
    return found


def _at(words: str, when: tuple[int, float] | None) -> str:
    return f"{words} at {when[1]:.0f} s" if when else f"never: {words}"


def _reading(line: Entry, outcome: Outcome) -> Reading | None:
    """The line's reading, with the function that the act was made with."""
    if outcome.reading is None or (line.value is None and not line.misuse):
        return None
    return Reading(outcome.reading.function, line.value, line.step or outcome.reading.step, line.text)


def _beyond(log: Sequence[Entry], runs: Sequence[Sequence[Outcome]]) -> bool:
    """Whether some reading lies so far outside the whole family that no size in between can explain it."""
    for number, line in enumerate(log):
        readings = [run[number].reading for run in runs]
        if line.value is None or any(reading is None or reading.value is None for reading in readings):
            continue
        values = [reading.value for reading in readings]
        nearest = min(readings, key=lambda reading: abs(reading.value - line.value) if reading.value != line.value else 0)
        outside = not min(values) <= line.value <= max(values)
        if outside and readings_apart(_reading(line, runs[0][number]), nearest):
            return True
    return False


def _misfit(log: Sequence[Entry], outcomes: Iterable[Outcome]) -> float:
    """How far a run is from the log, each line's gap counted against what would be apart."""
    return sum(_gap(line, outcome) for line, outcome in zip(log, outcomes, strict=True))


def _gap(line: Entry, outcome: Outcome) -> float:
    total, reading = 0.0, outcome.reading
    if reading is not None and line.value is not None and reading.value is not None:
        if math.isinf(line.value) or math.isinf(reading.value):
            total += 0.0 if line.value == reading.value else 100.0
        else:
            doubt = 0.02 * max(abs(line.value), abs(reading.value)) + 6 * reading.step
            total += ((line.value - reading.value) / doubt) ** 2
    elif (line.value is None) != (reading is None or reading.value is None):
        total += 100.0
    for (mine, _), (other, _) in zip(line.events, outcome.events, strict=False):
        total += ((mine - other) / 15.0) ** 2
    total += 50.0 * abs(len(line.events) - len(outcome.events))
    return total + (10.0 if signals_apart(line.signal, outcome.signal) else 0.0)


def _closest(
    job: Job, suspect: Suspect, log: Sequence[Entry], tried: Sequence[tuple[Fault, tuple[Outcome, ...]]], slot: int
) -> tuple[Fault, tuple[Outcome, ...]]:
    """The size between the family's steps that fits best, by golden section on its logarithm.

    Of the two sizes that are compared the worse one is dropped, so it is followed only until it is known to be worse.
    """
    misfits = [_misfit(log, outcomes) for _, outcomes in tried]
    best = min(range(len(tried)), key=misfits.__getitem__)
    low = math.log(max(tried[max(0, best - 1)][0].size, 1e-6))
    high = math.log(max(tried[min(len(tried) - 1, best + 1)][0].size, 1e-6))

    def at(x: float, bound: float) -> tuple[float, Fault]:
        fault, total = suspect.sized(math.exp(x)), 0.0
        for line, outcome in zip(log, _shown(job, fault, log, slot), strict=False):
            total += _gap(line, outcome)
            if total > bound:
                break
        return total, fault

    golden = (math.sqrt(5) - 1) / 2
    left, right = high - golden * (high - low), low + golden * (high - low)
    at_left = at(left, math.inf)
    at_right = at(right, at_left[0])
    for _ in range(10):
        if at_left[0] <= at_right[0]:
            high, right, at_right = right, left, at_left
            left = high - golden * (high - low)
            at_left = at(left, at_right[0])
        else:
            low, left, at_left = left, right, at_right
            right = low + golden * (high - low)
            at_right = at(right, at_left[0])
    _, fault = min((at_left, at_right), key=lambda one: one[0])
    return fault, predicted(job, fault, log, slot)
