"""Drawing jobs: from a chapter's plan and a seed to a job that a machine has shown to be solvable."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

from ..faults.fault import Fault, Place, Row, Suspect, suspects
from ..faults.planting import planted
from ..jobs.job import Job, JobError
from ..jobs.survey import carried, inseparable, narrowed, survey
from ..plant.traits import house_traits, zone_traits
from ..plant.wiring import Installation, WiringError
from .chance import Chance
from .complaints import COMPLAINTS, HOUSES, ROOMS, distractors
from .houses import built, recipe
from .proven import known

__all__ = ["BANDS", "MOST_ATTEMPTS", "Level", "Plan", "candidate", "difficulty", "drawn_job", "drawn_of", "proved"]

MOST_ATTEMPTS = 40
FEWEST_SUSPECTS = 5
ALIKE = 3.0  # how much more likely a suspect with the same symptom is offered

BANDS: Mapping[int, tuple[float, float]] = {1: (3.5, 7.0), 2: (4.0, 8.0), 3: (4.0, 9.0)}
"""Difficulty index by level: from the easiest job to the hardest."""


@dataclass(frozen=True, slots=True)
class Level:
    """What a level draws from."""

    shapes: Mapping[str, float]  # of houses, with weights
    zones: tuple[int, ...]
    suspects: int  # offered at most
    stats: Mapping[str, float]  # kinds of thermostat, with weights
    drawing: str = "wires"
    intermittent: bool = False
    faults: tuple[float, float, float] = (1.0, 0.0, 0.0)  # shares of one fault, two, none


@dataclass(frozen=True, slots=True, eq=False)
class Plan:
    """A chapter's rows, the rows of others that look like them, and its levels. Each is one of a kind: it equals itself alone."""

    chapter: str
    rows: tuple[Row, ...]
    others: tuple[Row, ...]  # offered as suspects, never drawn
    levels: Mapping[int, Level]
    leaning: Mapping[str, float] = field(default_factory=dict)  # how much more often rows of a chapter are drawn


def drawn_job(plan: Plan, seed: str, level: int) -> Job:
    """The job of a seed: always the same one, and solvable. Raises JobError for a level or seed that does not exist."""
    if level not in plan.levels or isinstance(level, bool):
        raise JobError(f"level {level!r} of {plan.chapter}; there are {list(plan.levels)}")
    if not isinstance(seed, str) or not seed.strip():
        raise JobError(f"seed {seed!r}; give some text, for instance 'autumn/anna/3'")
    return _drawn(plan, seed, level)


def drawn_of(plan: Plan, row: str, seed: str, level: int) -> Job:
    """A solvable job with a fault of this row, on a circuit of its own for each seed; raises JobError."""
    wanted = [one for one in plan.rows if one.id == row]
    if not wanted:
        raise JobError(f"no row {row!r} in {plan.chapter}; there are {[one.id for one in plan.rows]}")
    for attempt in range(MOST_ATTEMPTS):
        job = candidate(plan, seed, level, attempt, wanted)
        found = job and proved(job)
        if found:
            return found
    raise JobError(f"row {row!r} of {plan.chapter} gives no solvable job at level {level} for seed {seed!r}")


def candidate(plan: Plan, seed: str, level: int, attempt: int, only: Sequence[Row] = ()) -> Job | None:
    """One attempt at a job, not yet shown to be solvable; None where its house has no place for its fault."""
    rules = plan.levels[level]
    chance = Chance(f"{plan.chapter}/{level}/{seed}/{attempt}")
    rows = only or _rows(plan, rules, chance)
    row = chance.weighted("row", rows, [row.prevalence * plan.leaning.get(row.chapter, 1.0) for row in rows])
    place = chance.among("place", row.places)
    what = recipe(chance, rules.shapes, rules.zones, rules.stats, (*row.needs, *place.needs), row.bars)
    if what is None:
        return None
    design = built(chance, what)
    zone = chance.among("zone", design.zones)
    if not row.fits(design, zone, place) or (row.house and "on the second transformer" in zone_traits(design, zone)):
        return None
    first = _of(chance, "fault", design, row, zone, place)
    pool = suspects(design, zone, (*plan.rows, *plan.others))
    answer = _holding(pool, first)
    faults, answers = [first], [answer.id]
    if rules.faults[1] and chance.share("how many") < rules.faults[1] / (rules.faults[0] + rules.faults[1]):
        second = _second(chance, plan, design, zone, first, pool)
        if second is None:
            return None
        fault, suspect, pool = second
        faults.append(fault)
        answers.append(suspect.id)
    offered = _offered(chance, pool, answers, rules.suspects)
    return _told(chance, plan, level, seed, design, zone, faults, answers, offered, rules)


def proved(job: Job) -> Job | None:
    """The job with only those suspects that its readings part; None where that leaves too few, or not the answer.

    None too where a suspect cannot be planted beside the other fault: what it would change is not there.
    """
    if len(job.faults) == 1:
        surveys = [survey(job)]
    else:
        try:
            orders = [[survey(job, 0), survey(job, 1, alone=True)], [survey(job, 1), survey(job, 0, alone=True)]]
        except WiringError:
            return None
        surveys = min(orders, key=lambda pair: sum(len(inseparable(one)) for one in pair))
    kept = [suspect.id for suspect in job.suspects]
    weight = {suspect.id: suspect.weight for suspect in job.suspects}
    for found in surveys:
        while pairs := inseparable(narrowed(found, kept)):
            if any(set(pair) <= set(job.answers) for pair in pairs):
                return None
            counts = {one: sum(one in pair for pair in pairs) for one in kept if one not in job.answers}
            kept.remove(max(counts, key=lambda one: (counts[one], -weight[one])))
    if len(kept) < FEWEST_SUSPECTS:
        return None
    return job if len(kept) == len(job.suspects) else carried(job, _with(job, kept))


def difficulty(job: Job, told: int = 1) -> float:
    """The index: faults, bits of doubt, and what makes a job harder to read. `told` is the number of distractors."""
    rows = [job.suspect(answer).row for answer in job.answers]
    index = len(job.faults) + math.log2(len(job.suspects)) + 0.5 * told
    index += any(row.trigger for row in rows) + any(row.parallel for row in rows)
    return round(index + ("two transformers" in house_traits(job.design)), 2)


@lru_cache(maxsize=256)
def _drawn(plan: Plan, seed: str, level: int) -> Job:
    listed = known(plan.chapter, level, seed)
    if listed is not None:
        attempt, kept = listed
        job = candidate(plan, seed, level, attempt)
        return job if kept is None else _with(job, [job.suspects[number].id for number in kept])
    for attempt in range(MOST_ATTEMPTS):
        job = candidate(plan, seed, level, attempt)
        found = job and proved(job)
        if found:
            return found
    raise JobError(f"seed {seed!r} of {plan.chapter} gives no solvable job in {MOST_ATTEMPTS} attempts; take another")


def _with(job: Job, kept: Sequence[str]) -> Job:
    fewer = replace(job, suspects=tuple(suspect for suspect in job.suspects if suspect.id in kept))
    return replace(fewer, difficulty=difficulty(fewer))


def _rows(plan: Plan, rules: Level, chance: Chance) -> list[Row]:
    rows = [row for row in plan.rows if rules.intermittent or not row.trigger]
    _, _, none = rules.faults
    if none and chance.share("nothing wrong") < none:
        return [row for row in rows if row.severity == 0] or rows
    return rows


def _of(chance: Chance, what: str, design: Installation, row: Row, zone: str, place: Place) -> Fault:
    size = None if row.sizes is None else chance.between(f"{what} size", *row.sizes)
    zones = design.zones
    return row.at(zone, place, size, zones[(zones.index(zone) + 1) % len(zones)])


def _holding(pool: Sequence[Suspect], fault: Fault) -> Suspect:
    return next(
        suspect
        for suspect in pool
        for one in suspect.family
        if (one.row, one.zone, one.place) == (fault.row, fault.zone, fault.place)
    )


def _second(
    chance: Chance, plan: Plan, design: Installation, zone: str, first: Fault, pool: Sequence[Suspect]
) -> tuple[Fault, Suspect, tuple[Suspect, ...]] | None:
    """Another fault, at this zone or another, that shows once the first is repaired; with every suspect there then is."""
    there = chance.among("second zone", design.zones)
    rows = [row for row in plan.rows if row.severity not in (0, 5) and not row.trigger and row.id != first.row]
    fitting = [(row, place) for row in rows for place in row.places if row.fits(design, there, place)]
    if not fitting:
        return None
    row, place = chance.weighted("second row", fitting, [row.prevalence / len(row.places) for row, _ in fitting])
    second = _of(chance, "second", design, row, there, place)
    if _touched(first) & _touched(second):
        return None
    try:
        planted(planted(design, first), second)
    except (WiringError, ValueError):
        return None
    more = [suspect for suspect in suspects(design, there, (*plan.rows, *plan.others)) if not suspect.nothing]
    every = {suspect.id: suspect for suspect in (*pool, *more)}
    return second, _holding(tuple(every.values()), second), tuple(every.values())


def _touched(fault: Fault) -> set[str]:
    """The parts and conductors that a fault changes."""
    names = ("part", "splice", "conductor", "first", "second", "a", "b")
    return {getattr(change, name) for change in fault.changes for name in names if hasattr(change, name)}


def _offered(chance: Chance, pool: Sequence[Suspect], answers: Sequence[str], most: int) -> tuple[Suspect, ...]:
    """The answers and others, sooner those that look alike, in the order of the catalogue."""
    symptoms = {suspect.row.symptom for suspect in pool if suspect.id in answers}
    left = [suspect for suspect in pool if suspect.id not in answers]
    stream, chosen = chance.stream("suspects"), {*answers}
    while left and len(chosen) < most:
        weights = [one.weight * (ALIKE if one.row.symptom in symptoms else 1.0) for one in left]
        mark = stream.random() * sum(weights)
        for one, weight in zip(left, weights, strict=True):
            mark -= weight
            if mark < 0 or one is left[-1]:
                chosen.add(one.id)
                left.remove(one)
                break
    return tuple(suspect for suspect in pool if suspect.id in chosen)


def _told(
    chance: Chance,
    plan: Plan,
    level: int,
    seed: str,
    design: Installation,
    zone: str,
    faults: Sequence[Fault],
    answers: Sequence[str],
    offered: tuple[Suspect, ...],
    rules: Level,
) -> Job:
    rooms = dict(zip(design.zones, chance.some("rooms", ROOMS, len(design.zones)), strict=True))
    known = {suspect.id: suspect for suspect in offered}
    row = next(row for row in known[answers[0]].rows if row.id == faults[0].row)
    touched = set().union(*map(_touched, faults))
    harmless = [one for one in distractors(design, zone) if not touched & _touched(Fault("", zone, "", None, one.changes))]
    distractor = chance.among("distractor", harmless)
    for change in distractor.changes:
        design = change.made(design)
    house = chance.among("house", HOUSES)
    complaint = chance.among("complaint", COMPLAINTS[row.symptom]).format(room=rooms[zone])
    setting = f"{house[0].upper()}{house[1:]}, {_count(design)}."
    job = Job(
        chapter=plan.chapter,
        level=level,
        seed=seed,
        title=f"The {rooms[zone]} call",
        story=f"{setting} The customer says: \u201c{complaint}\u201d {distractor.words}",
        rooms=rooms,
        zone=zone,
        design=design,
        faults=tuple(faults),
        suspects=offered,
        answers=tuple(answers),
        objectives=tuple(dict.fromkeys(name for answer in answers for one in known[answer].rows for name in one.objectives)),
        drawing=rules.drawing,
    )
    return replace(job, difficulty=difficulty(job))


def _count(design: Installation) -> str:
    return "one zone" if len(design.zones) == 1 else f"{len(design.zones)} zones"
