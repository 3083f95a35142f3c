"""What a log proves: each claim is simulated act by act, and the learner's own readings are held against it."""

from __future__ import annotations

import math
from collections import Counter, OrderedDict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, partial
from itertools import pairwise, zip_longest

from ..circuit import Reading
from ..faults.fault import Fault, Suspect
from ..faults.planting import planted
from .acts import Outcome, World, acted, arrival
from .arrived import Arrived
from .differences import SECONDS_APART, readings_apart, signals_apart, times_apart
from .job import Job
from .rounds import IMPOSSIBLE
from .sheet import Entry

__all__ = ["Case", "Contradiction", "Explained", "against", "begun", "cases", "claims", "predicted", "survivors"]


@dataclass(frozen=True, slots=True)
class Contradiction:
    """One log line that a claim cannot explain."""

    line: int  # index into the log
    observed: str
    expected: str  # what the claim predicts for the same act


Explained = tuple[float | None, tuple[Contradiction, ...]]
"""A size, and what it leaves unexplained."""


@dataclass(frozen=True, slots=True)
class Case:
    """How one suspect stands against a log. What it leaves unexplained is only followed to the end once that is asked for."""

    suspect: Suspect
    falls: float  # the line at which no size could explain the log any longer; inf if it stands
    best: Callable[[], Explained] = field(compare=False, repr=False)

    @property
    def survives(self) -> bool:
        """Whether nothing in the log speaks against it."""
        return self.falls == math.inf

    @property
    def size(self) -> float | None:
        """The size that leaves least to explain."""
        return self.best()[0]

    @property
    def contradictions(self) -> tuple[Contradiction, ...]:
        """What that size cannot explain; empty for a suspect that stands."""
        return self.best()[1]


MOST_RUNS = 512


@dataclass(slots=True)
class _Run:
    """One claim's world, act by act, so that a longer log is only followed from where the last one ended."""

    job: Job  # held, so that its identity cannot be reused
    worlds: list[World]
    acts: list[Mapping[str, object]]
    outcomes: list[Outcome]


_RUNS: OrderedDict[tuple[int, int, Fault], _Run] = OrderedDict()


def claims(job: Job, slot: int) -> tuple[Fault, ...]:
    """Every fault that is tried in the place of one of the job's: each rival's family, in order."""
    return tuple(fault for suspect in job.rivals(slot) for fault in suspect.family)


def begun(job: Job, slot: int, arrivals: Sequence[Arrived | None]) -> None:
    """Take how the house is found under each of the claims from what was kept of it; whatever does not fit is worked out anew."""
    tried = claims(job, slot)
    for fault, found in zip(tried, arrivals if len(arrivals) == len(tried) else (), strict=False):
        key = (id(job), slot, fault)
        if found is not None and key not in _RUNS:
            house = planted(job.given(slot), fault)
            state = found.state(house)
            if state is not None:
                _RUNS[key] = _Run(job, [World(job.design, house, state)], [], [])


def predicted(job: Job, fault: Fault, log: Sequence[Entry], slot: int = 0) -> tuple[Outcome, ...]:
    """What every act of a log would have shown had this fault been there in the place of one of the job's.

    An act that could not have been done then, as taking off what is not there, shows that.
    """
    return tuple(outcome for outcome, _ in _shown(job, fault, log, slot))


def _shown(job: Job, fault: Fault, log: Sequence[Entry], slot: int) -> Iterator[tuple[Outcome, float]]:
    """The same one act after another with the clock after it, each done only once it is asked for."""
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
        yield run.outcomes[number], run.worlds[number + 1].state.time


def against(job: Job, suspect: Suspect, log: Sequence[Entry], slot: int = 0) -> Case:
    """One suspect's case for one of the job's faults, the others given.

    A suspect with a size is tried at the size that leaves least to explain.
    """
    log = tuple(log)  # a bench's grows
    falls, between = 0.0, None
    for fault in suspect.family:
        falls = max(falls, _first(job, fault, log, slot))
        if falls == math.inf:  # a size that explains everything leaves nothing that another could explain better
            break
    if falls < math.inf and len(suspect.rows) == 1 and suspect.row.sizes is not None:
        between = _between(job, suspect, log, slot, int(falls))
        falls = falls if between is None else max(falls, _first(job, between, log, slot))
    return Case(suspect, falls, cache(partial(_best, job, suspect, log, slot, between)))


def _first(job: Job, fault: Fault, log: Sequence[Entry], slot: int) -> float:
    """The first line that a claim cannot explain, followed no further than it takes to know that; inf for none."""
    outcomes: list[Outcome] = []
    first, until = math.inf, math.inf
    for number, (outcome, clock) in enumerate(_shown(job, fault, log, slot)):
        outcomes.append(outcome)
        if first == math.inf and _differs(log[number], outcome):
            first, until = number, log[number].clock + SECONDS_APART
        # A click that was heard before that line may still come, in time or not.
        if first < math.inf and (clock > until or not _awaited(log[: first + 1], outcomes)):
            break
    return min((first, *(one.line for one in _clicks(log, outcomes))))


def _awaited(log: Sequence[Entry], outcomes: Sequence[Outcome]) -> bool:
    """Whether something was heard in these lines more often than the outcomes have it."""
    heard = Counter(words for line in log for _, words in line.events)
    heard.subtract(words for outcome in outcomes for _, words in outcome.events)
    return any(count > 0 for count in heard.values())


def _best(job: Job, suspect: Suspect, log: Sequence[Entry], slot: int, between: Fault | None) -> Explained:
    """The size that leaves least to explain, with that."""
    tried = [*suspect.family, *([between] if between else [])]
    found = [(fault.size, contradictions(log, predicted(job, fault, log, slot))) for fault in tried]
    return min(found, key=lambda one: len(one[1]))


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
        if _differs(line, outcome):
            found.append(Contradiction(number, line.text, outcome.text))
    named = {one.line for one in found}
    late = [one for one in _clicks(log, outcomes) if one.line not in named]
    return tuple(sorted([*found, *late], key=lambda one: one.line))


def _differs(line: Entry, outcome: Outcome) -> bool:
    """Whether a line cannot be of the same circuit as what the claim shows there, clicks aside."""
    return signals_apart(line.signal, outcome.signal) or readings_apart(_reading(line, outcome), outcome.reading)


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


def _between(job: Job, suspect: Suspect, log: Sequence[Entry], slot: int, falls: int) -> Fault | None:
    """The size between the family's steps that fits best, where one in between could explain what none of them does.

    Up to the line at which the last of them falls that mostly shows already that none could.
    """
    begun = [predicted(job, fault, log[: falls + 1], slot) for fault in suspect.family]
    if all(_shut(log, one, other) for one, other in pairwise(begun)):
        return None
    tried = [(fault, predicted(job, fault, log, slot)) for fault in suspect.family]
    misfits = [_misfit(log, outcomes) for _, outcomes in tried]
    best = min(range(len(tried)), key=misfits.__getitem__)
    near = tried[max(0, best - 1) : best + 2]
    if all(_shut(log, one, other) or _out_of_time(log, one, other) for (_, one), (_, other) in pairwise(near)):
        return None
    return _closest(job, suspect, log, (near[0][0].size, near[-1][0].size), slot)


def _shut(log: Sequence[Entry], one: Sequence[Outcome], other: Sequence[Outcome]) -> bool:
    """Whether some line is such that no size between these two can explain it: both differ from it in the same way.

    They give the same impression, or a number where it has none, or none where it has one, or readings that lie on the
    same side of it. From one step of a family to the next a size changes what is read steadily.
    """
    return any(_same_way(*three) for three in zip(log, one, other, strict=False))


def _same_way(line: Entry, one: Outcome, other: Outcome) -> bool:
    if not (_differs(line, one) and _differs(line, other)):
        return False
    if one.signal == other.signal and signals_apart(line.signal, one.signal):
        return True
    mine, yours = one.reading, other.reading
    if mine is None or yours is None:
        return False
    if not readings_apart(_reading(line, one), mine) or not readings_apart(_reading(line, other), yours):
        return False
    numbers = [mine.value is not None, yours.value is not None]
    if line.value is None or not all(numbers):
        return numbers[0] == numbers[1]
    return (mine.value < line.value) == (yours.value < line.value)


def _out_of_time(log: Sequence[Entry], one: Sequence[Outcome], other: Sequence[Outcome]) -> bool:
    """The same of clicks: both claims have the next one of its kind too early, or too late, or have none that was due."""
    end = max((line.clock for line in log), default=0.0)
    runs = [_times(log), _times(one), _times(other)]
    for words in dict.fromkeys(words for run in runs for words in run):
        for heard, mine, yours in zip_longest(*(run.get(words, ()) for run in runs), fillvalue=math.inf):
            sides = [_side(heard, due, end) for due in (mine, yours)]
            if sides[0] and sides[0] == sides[1]:
                return True
            if any(sides):
                break
    return False


def _side(heard: float, due: float, end: float) -> int:
    """Whether a click that was heard, or was not by the end (inf), is explained by when it is due (0), or is early or late."""
    if not times_apart(min(heard, end), min(due, end)):
        return 0
    return 1 if heard > due else -1


def _times(lines: Iterable[Entry | Outcome]) -> dict[str, list[float]]:
    found: dict[str, list[float]] = {}
    for line in lines:
        for time, words in line.events:
            found.setdefault(words, []).append(time)
    return found


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


def _closest(job: Job, suspect: Suspect, log: Sequence[Entry], sizes: tuple[float, float], slot: int) -> Fault:
    """The size between two that fits best, by golden section on its logarithm.

    Of the two sizes that are compared the worse one is dropped, so it is followed only until it is known to be worse.
    """
    low, high = (math.log(max(size, 1e-6)) for size in sizes)

    def at(x: float, bound: float) -> tuple[float, Fault]:
        fault, total = suspect.sized(math.exp(x)), 0.0
        for line, (outcome, _) in zip(log, _shown(job, fault, log, slot), strict=False):
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
    return min((at_left, at_right), key=lambda one: one[0])[1]
