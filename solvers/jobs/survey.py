"""Everything worth reading on a job, predicted for every suspect at once: what separates whom, and the reference path."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..circuit import Meter, Reading, Solved, displayed_amps, displayed_volts
from ..faults.planting import planted
from ..plant.electrics import electrics
from ..plant.parts import Boiler, Fuse, Part, Splice, Transformer, Valve
from ..plant.wiring import Installation
from .acts import Outcome, World, acted, arrival
from .differences import readings_apart, signals_apart, times_apart
from .job import Job

__all__ = ["Probe", "Survey", "inseparable", "nearest", "par", "separating", "split", "survey"]

READING_COST = 1.0
SENSE_COST = 0.5  # a look, a listen, a hand: less than a reading, but not nothing


@dataclass(frozen=True, slots=True)
class Probe:
    """One reading in one situation: what has been done before, and the act that reads."""

    situation: int
    act: str  # JSON, as the bench takes it

    @property
    def cost(self) -> float:
        """What it counts against par."""
        return READING_COST if json.loads(self.act)["do"] in ("measure", "clamp", "wait") else SENSE_COST


@dataclass(frozen=True, slots=True)
class Survey:
    """Outcomes by probe, then by suspect, then over the suspect's family of sizes."""

    suspects: tuple[str, ...]
    weights: tuple[float, ...]  # prevalence of each suspect, sum 1
    outcomes: Mapping[Probe, tuple[tuple[Outcome, ...], ...]]


def survey(job: Job) -> Survey:
    """Predict the standard round of readings for every suspect of a job."""
    runs = [[_round(job, planted(job.design, fault)) for fault in _span(suspect.family)] for suspect in job.suspects]
    probes = list(runs[0][0])
    weights = [suspect.row.prevalence for suspect in job.suspects]
    return Survey(
        suspects=tuple(suspect.id for suspect in job.suspects),
        weights=tuple(weight / sum(weights) for weight in weights),
        outcomes={probe: tuple(tuple(one[probe] for one in family) for family in runs) for probe in probes},
    )


def separating(found: Survey, one: str, other: str) -> tuple[Probe, ...]:
    """The probes that part two suspects whatever their sizes."""
    first, second = found.suspects.index(one), found.suspects.index(other)
    return tuple(
        probe
        for probe, outcomes in found.outcomes.items()
        if all(_apart(mine, yours) for mine in outcomes[first] for yours in outcomes[second])
    )


def inseparable(found: Survey) -> tuple[tuple[str, str], ...]:
    """The pairs of suspects that no probe of the standard round parts; empty for a job that can be solved."""
    return tuple(
        (one, other)
        for position, one in enumerate(found.suspects)
        for other in found.suspects[position + 1 :]
        if not separating(found, one, other)
    )


def nearest(found: Survey, suspect: str) -> str:
    """The suspect that fewest probes part from this one: the look-alike a verdict must rule out."""
    others = [other for other in found.suspects if other != suspect]
    return min(others, key=lambda other: len(separating(found, suspect, other)))


def split(found: Survey, probe: Probe, live: Sequence[int]) -> tuple[tuple[int, ...], ...]:
    """The groups into which one probe parts the live suspects; suspects that it might confuse stay together."""
    outcomes = found.outcomes[probe]
    groups: list[list[int]] = []
    for number in live:
        touching = [
            group
            for group in groups
            if any(not _apart(mine, yours) for other in group for mine in outcomes[number] for yours in outcomes[other])
        ]
        merged = [number] + [other for group in touching for other in group]
        groups = [group for group in groups if group not in touching] + [sorted(merged)]
    return tuple(tuple(group) for group in groups)


def par(found: Survey, answer: str) -> float:
    """Cost of the reference path to one suspect, plus the proving readings that the path still lacks.

    At each step the reference takes the probe with the greatest expected information per cost.
    """
    goal = found.suspects.index(answer)
    live = tuple(range(len(found.suspects)))
    cost, proving = 0.0, 0
    while len(live) > 1:
        best = max(found.outcomes, key=lambda probe: _information(found, probe, live) / probe.cost)
        groups = split(found, best, live)
        if len(groups) == 1:
            break
        kept = next(group for group in groups if goal in group)
        proving += len(kept) < len(live)
        cost += best.cost
        live = kept
    return cost + READING_COST * max(0, 2 - proving)


def _information(found: Survey, probe: Probe, live: Sequence[int]) -> float:
    groups = split(found, probe, live)
    if len(groups) == 1:
        return 0.0
    total = sum(found.weights[number] for number in live)
    shares = [sum(found.weights[number] for number in group) / total for group in groups]
    return -sum(share * math.log2(share) for share in shares if share)


def _span(family: Sequence) -> Sequence:
    return family if len(family) == 1 else (family[0], family[len(family) // 2], family[-1])


def _apart(one: Outcome, other: Outcome) -> bool:
    if signals_apart(one.signal, other.signal) or readings_apart(one.reading, other.reading):
        return True
    if [words for _, words in one.events] != [words for _, words in other.events]:
        return True
    return any(times_apart(mine, yours) for (mine, _), (yours, _) in zip(one.events, other.events, strict=True))


def _round(job: Job, installation: Installation) -> dict[Probe, Outcome]:
    """The standard round on one installation: idle, on call cold, on call with time, together, after, and dead."""
    world = arrival(job.design, installation)
    found: dict[Probe, Outcome] = {}
    others = [zone for zone in installation.zones if zone != job.zone]
    steps: list[list[dict[str, object]]] = [
        [],
        [{"do": "call", "stat": f"{job.zone}.stat", "on": True}],
        [{"do": "wait", "seconds": 600}],
        [{"do": "call", "stat": f"{zone}.stat", "on": True} for zone in others] + [{"do": "wait", "seconds": 600}],
        [{"do": "call", "stat": f"{zone}.stat", "on": False} for zone in installation.zones] + [{"do": "wait", "seconds": 300}],
    ]
    for number, acts in enumerate(steps):
        for act in acts:
            world, outcome = acted(world, act)
            if act["do"] == "wait":
                found[Probe(number, json.dumps(act))] = outcome
        found |= _looked(world, number)
    for act in [{"do": "switch", "part": part.name, "on": False} for part in _supplies(installation)]:
        world, _ = acted(world, act)
    valve = _valve(installation, f"{job.zone}.valve")
    for number, pair in enumerate(pair for pair in (valve.drive_pair, valve.switch_pair) if pair):
        apart = world
        for terminal in pair:
            if installation.landed(terminal):
                apart, _ = acted(apart, {"do": "lift", "terminal": terminal})
        act = {"do": "measure", "function": "ohms", "first": pair[0], "second": pair[1]}
        found[Probe(len(steps) + number, json.dumps(act))] = acted(apart, act)[1]
    return found


def _looked(world: World, situation: int) -> dict[Probe, Outcome]:
    now = electrics(world.installation, world.state.parts, world.state.lifted)
    found = {}
    for first, second in _pairs(world.design):
        act = {"do": "measure", "function": "volts", "first": first, "second": second}
        reading = _volts(now.solved, first, second)
        found[Probe(situation, json.dumps(act))] = Outcome(reading.text, reading)
    for zone in world.design.zones:
        act = {"do": "clamp", "wire": f"{zone}.W leg", "turns": 1}
        reading = displayed_amps(now.amps[f"{zone}.W leg"])
        found[Probe(situation, json.dumps(act))] = Outcome(reading.text, reading)
    for how, part in _senses(world.design):
        act = {"do": how, "part": part}
        found[Probe(situation, json.dumps(act))] = acted(world, act)[1]
    return found


def _volts(whole: Solved, first: str, second: str, meter: Meter = Meter()) -> Reading:
    """As the meter's branch across the pair would have it, by the pair's source impedance."""
    seen = whole.thevenin(first, second)
    return displayed_volts(abs(seen.emf * meter.volts_ohms / (meter.volts_ohms + seen.z)), meter=meter)


def _pairs(design: Installation) -> list[tuple[str, str]]:
    across: list[tuple[str, str]] = []
    to_common: list[tuple[str, str]] = []
    for part in design.parts:
        if isinstance(part, Splice) and len(part.ways) > 2:
            across += [(part.terminals[0], other) for other in part.terminals[1:]]
        elif isinstance(part, Valve):
            across += [pair for pair in (part.drive_pair, part.switch_pair) if pair]
        elif part.terminals:
            across.append((part.terminals[0], part.terminals[1]))
        to_common += [(terminal, "transformer.C") for terminal in part.terminals if terminal != "transformer.C"]
    return list(dict.fromkeys(across + to_common))


def _senses(design: Installation) -> list[tuple[str, str]]:
    found = []
    for part in design.parts:
        if isinstance(part, Valve):
            found += [("look", part.name), ("feel", part.name)]
        elif isinstance(part, Fuse):
            found.append(("look", part.name))
        elif isinstance(part, Boiler):
            found.append(("listen", part.name))
    return found


def _supplies(installation: Installation) -> list[Part]:
    return [part for part in installation.parts if isinstance(part, Transformer | Boiler)]


def _valve(installation: Installation, name: str) -> Valve:
    return installation.part(name)
