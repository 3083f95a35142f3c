"""Everything worth reading on a job, predicted for every suspect at once: what separates whom."""

from __future__ import annotations

import gc
from collections import OrderedDict
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cache
from itertools import accumulate, pairwise

from ..faults.planting import planted
from ..plant.crews import forgotten
from .acts import Outcome
from .differences import confusions
from .job import Job
from .probes import READING_COST, SENSE_COST, Probe, cost_of
from .rounds import IMPOSSIBLE, Run, planned
from .situations import Situation, situations

__all__ = [
    "IMPOSSIBLE",
    "READING_COST",
    "SENSE_COST",
    "Probe",
    "Survey",
    "carried",
    "cost_of",
    "inseparable",
    "narrowed",
    "nearest",
    "separating",
    "solvable",
    "split",
    "survey",
]

MOST_REMEMBERED = 32  # surveys


@dataclass(frozen=True, slots=True)
class Survey:
    """Outcomes by probe, then by suspect, then over the suspect's family of sizes.

    `close` says of each probe, as one set of bits a suspect, whom it might confuse that suspect with; `kinds` holds one
    probe of each way to part the suspects for its cost, the earliest. Both follow from the outcomes.
    """

    suspects: tuple[str, ...]
    weights: tuple[float, ...]  # of each suspect, sum 1
    situations: tuple[Situation, ...]
    outcomes: Mapping[Probe, tuple[tuple[Outcome, ...], ...]]  # empty for a suspect that the reading was not foretold for
    close: Mapping[Probe, tuple[int, ...]] = field(default_factory=dict, compare=False, repr=False)
    kinds: tuple[Probe, ...] = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        close = self.close or _compared(self.outcomes)
        everyone = ((1 << len(self.suspects)) - 1,) * len(self.suspects)
        first: dict[tuple[tuple[int, ...], float], Probe] = {}
        for probe, masks in close.items():
            if masks != everyone:
                known = first.setdefault((masks, probe.cost), probe)
                if probe.situation < known.situation:
                    first[masks, probe.cost] = probe
        kept = set(first.values())
        object.__setattr__(self, "close", close)
        object.__setattr__(self, "kinds", tuple(probe for probe in close if probe in kept))


def survey(job: Job, slot: int = 0, *, alone: bool = False) -> Survey:
    """Predict the standard round of readings for every suspect, in the place of one of the job's faults.

    The others are there too, or repaired already if it is `alone`. What takes more trouble is foretold only for those
    suspects that the plain readings leave confused with another.
    """
    key = (id(job), slot, alone)
    known = _FOUND.get(key)
    if known is None or known[0] is not job:
        with _uncollected():
            known = _remembered(key, job, _surveyed(job, slot, alone))
    _FOUND.move_to_end(key)
    return known[1]


def carried(job: Job, fewer: Job) -> Job:
    """A job that differs from another in offering fewer suspects, with whatever has been foretold of that one kept for it."""
    kept = {suspect.id for suspect in fewer.suspects}
    for (_, slot, alone), (_, found) in [one for one in _FOUND.items() if one[1][0] is job]:
        _remembered((id(fewer), slot, alone), fewer, narrowed(found, kept))
    return fewer


def separating(found: Survey, one: str, other: str) -> tuple[Probe, ...]:
    """The probes that part two suspects whatever their sizes."""
    first, second = found.suspects.index(one), found.suspects.index(other)
    return tuple(probe for probe, close in found.close.items() if not close[first] >> second & 1)


def inseparable(found: Survey) -> tuple[tuple[str, str], ...]:
    """The pairs of suspects that no probe of the standard round parts; empty for a job that can be solved."""
    left = _alike(len(found.suspects), [found.close[probe] for probe in found.kinds])
    return tuple((found.suspects[one], found.suspects[other]) for one, other in left)


def nearest(found: Survey, suspect: str) -> str:
    """The suspect that fewest probes part from this one: the look-alike a verdict must rule out."""
    here = found.suspects.index(suspect)
    parted = [sum(not close[here] >> other & 1 for close in found.close.values()) for other in range(len(found.suspects))]
    others = [other for other in range(len(found.suspects)) if other != here]
    return found.suspects[min(others, key=parted.__getitem__)]


def narrowed(found: Survey, kept: Collection[str]) -> Survey:
    """The survey of the same job with fewer suspects: what only those confused with a dropped one were asked is left out."""
    places = [number for number, suspect in enumerate(found.suspects) if suspect in kept]
    total = sum(found.weights[number] for number in places)
    bits = sum(1 << number for number in places)
    plain = [found.close[probe] for probe in found.outcomes if not found.situations[probe.situation].further]
    asked = {number for pair in _alike(len(found.suspects), plain, bits) for number in pair}
    outcomes: dict[Probe, tuple[tuple[Outcome, ...], ...]] = {}
    close: dict[Probe, tuple[int, ...]] = {}
    columns: dict[tuple[int, ...], tuple[tuple[tuple[Outcome, ...], ...], tuple[int, ...]]] = {}
    packed = _packing(places)
    for probe, known in found.outcomes.items():
        further = found.situations[probe.situation].further
        told = [() if further and number not in asked else known[number] for number in places]
        if any(told):
            key = tuple(map(id, told))
            column = columns.get(key)
            if column is None:
                silenced = any(known[number] and not mine for number, mine in zip(places, told, strict=True))
                masks = found.close[probe]
                own = tuple(told)
                column = columns[key] = own, confusions(own) if silenced else tuple(packed(masks[number]) for number in places)
            outcomes[probe], close[probe] = column
    return Survey(
        tuple(found.suspects[number] for number in places),
        tuple(found.weights[number] / total for number in places),
        found.situations,
        outcomes,
        close,
    )


def _packing(places: Sequence[int]) -> Callable[[int], int]:
    """What makes of a set of bits, one a suspect, that of those at these places alone."""

    @cache
    def packed(bits: int) -> int:
        return sum(1 << new for new, old in enumerate(places) if bits >> old & 1)

    return packed


def solvable(job: Job) -> bool:
    """Whether the readings of the standard round part every pair of suspects.

    With two faults: whether one can be told while the other is there, and the other once that is repaired.
    """
    if len(job.faults) == 1:
        return not inseparable(survey(job))
    orders = ((survey(job, 0), survey(job, 1, alone=True)), (survey(job, 1), survey(job, 0, alone=True)))
    return any(not any(map(inseparable, order)) for order in orders)


def split(found: Survey, probe: Probe, live: Sequence[int]) -> tuple[tuple[int, ...], ...]:
    """The groups into which one probe parts the live suspects; suspects that it might confuse stay together."""
    close, left = found.close[probe], sum(1 << number for number in live)
    groups = []
    while left:
        group, edge = 0, left & -left
        while edge:
            group |= edge
            reached = 0
            while edge:
                lowest = edge & -edge
                reached |= close[lowest.bit_length() - 1]
                edge ^= lowest
            edge = reached & left & ~group
        groups.append(tuple(number for number in range(len(close)) if group >> number & 1))
        left &= ~group
    return tuple(groups)


_FOUND: OrderedDict[tuple[int, int, bool], tuple[Job, Survey]] = OrderedDict()
"""Surveys by the job object that they are about, which is held so that its identity cannot be reused."""


def _remembered(key: tuple[int, int, bool], job: Job, found: Survey) -> tuple[Job, Survey]:
    _FOUND[key] = (job, found)
    while len(_FOUND) > MOST_REMEMBERED:
        _FOUND.popitem(last=False)
    return _FOUND[key]


def _compared(outcomes: Mapping[Probe, tuple[tuple[Outcome, ...], ...]]) -> dict[Probe, tuple[int, ...]]:
    """Whom each probe might confuse with whom; the very same column is compared once."""
    known: dict[int, tuple[int, ...]] = {}
    for column in outcomes.values():
        if id(column) not in known:
            known[id(column)] = confusions(column)
    return {probe: known[id(column)] for probe, column in outcomes.items()}


@contextmanager
def _uncollected() -> Iterator[None]:
    """Hold off the search for rings of dead objects: a survey makes many objects and no rings, and is soon over."""
    collecting = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collecting:
            gc.enable()


def _surveyed(job: Job, slot: int, alone: bool) -> Survey:
    there = job.design if alone else job.given(slot)
    rivals = job.rivals(slot)
    round_ = situations(job.design, job.faults[slot].zone or job.zone)
    plan = planned(job.design, round_)
    runs = [[Run(job.design, planted(there, fault), plan) for fault in _span(suspect.family)] for suspect in rivals]
    plain = [number for number, situation in enumerate(round_) if not situation.further]
    outcomes = _read(runs, plain, range(len(runs)))
    different = {id(column): column for column in outcomes.values()}.values()
    alike = _alike(len(rivals), map(confusions, different))
    further = [number for number, situation in enumerate(round_) if situation.further]
    outcomes |= _read(runs, further, {number for pair in alike for number in pair})
    for run in (run for family in runs for run in family):
        forgotten(run.installation)
    total = sum(suspect.weight for suspect in rivals)
    return Survey(tuple(suspect.id for suspect in rivals), tuple(suspect.weight / total for suspect in rivals), round_, outcomes)


def _read(
    runs: Sequence[Sequence[Run]], numbers: Sequence[int], asked: Collection[int]
) -> dict[Probe, tuple[tuple[Outcome, ...], ...]]:
    """What these situations show, one run after the other, for the suspects asked for; nothing for the others."""
    sizes = [len(family) if place in asked else 0 for place, family in enumerate(runs)]
    taken = [run for place, family in enumerate(runs) if place in asked for run in family]
    if not taken:
        return {}
    rows: list[list[Outcome]] = [[] for _ in taken]
    for row, run in zip(rows, taken, strict=True):
        for number in numbers:
            row += run.read(number)
    probes = [probe for number in numbers for probe in taken[0].plan.probes[number]]
    known: dict[tuple[int, ...], tuple[tuple[Outcome, ...], ...]] = {}
    families: dict[tuple[int, ...], tuple[Outcome, ...]] = {}
    found = {}
    for probe, *shown in zip(probes, *rows, strict=True):
        key = tuple(map(id, shown))
        column = known.get(key)
        if column is None:  # the very same outcomes are the very same column, as at the two ends of a wire
            ends = list(accumulate(sizes, initial=0))
            parts = [tuple(shown[start:end]) for start, end in pairwise(ends)]
            column = known[key] = tuple([families.setdefault(tuple(map(id, part)), part) for part in parts])
        found[probe] = column
    return found


def _alike(count: int, masks: Iterable[tuple[int, ...]], among: int = -1) -> list[tuple[int, int]]:
    """The pairs that every one of these sets of bits leaves confused, of those suspects whose bits are set in `among`."""
    left = [among & (1 << count) - 1 if among >> number & 1 else 0 for number in range(count)]
    for close in masks:
        left = [mine & yours for mine, yours in zip(left, close, strict=True)]
        if not any(mine & ~(1 << number) for number, mine in enumerate(left)):
            return []
    return [(one, other) for one in range(count) for other in range(one + 1, count) if left[one] >> other & 1]


def _span(family: Sequence) -> Sequence:
    return family if len(family) <= 3 else (family[0], family[len(family) // 2], family[-1])
