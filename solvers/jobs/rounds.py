"""The standard round taken on one installation: what every probe of it shows, as the bench would show it."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate

from ..circuit import VOLTS_TOP, Meter, Solved, displayed_amps, displayed_volts, shown
from ..plant.electrics import electrics
from ..plant.senses import sensed
from ..plant.wiring import Installation
from .acts import Outcome, World, acted, arrival
from .probes import Probe
from .situations import Act, Situation, keyed, looked_at, pairs

__all__ = ["IMPOSSIBLE", "Round", "Run", "planned"]

IMPOSSIBLE = Outcome("This could not have been done.", signal="done: no")

FIRM_SIEMENS = 0.002
"""Branches that conduct at least so well tie nodes together so firmly that what they are worth need not be solved for."""

MOST_READ = 256  # circuits

METER_OHMS, COUNTS = Meter().volts_ohms, Meter().counts


@dataclass(frozen=True, slots=True)
class Round:
    """What is read in each situation, every probe written once."""

    situations: tuple[Situation, ...]
    across: tuple[tuple[str, str], ...]  # where volts are read
    probes: tuple[tuple[Probe, ...], ...]  # by situation, all of them: waits, reads, volts, clamps, senses
    ways: tuple[tuple[str, ...], ...]  # by situation, for each of its acts: all that is done up to there
    waits: tuple[tuple[Probe | None, ...], ...]  # by situation, for each of its acts
    reads: tuple[tuple[tuple[Probe, Act], ...], ...]  # by situation; empty where the whole round is read
    volts: tuple[tuple[tuple[Probe, str, str], ...], ...]  # by situation
    clamps: tuple[tuple[tuple[Probe, str], ...], ...]
    senses: tuple[tuple[tuple[Probe, str, str], ...], ...]


def planned(design: Installation, situations: Sequence[Situation]) -> Round:
    """The round of a design: volts between its pairs, the clamp on each W leg, and the senses where they tell something."""
    ways, waits, reads, volts, clamps, senses = [], [], [], [], [], []
    across = [(keyed({"do": "measure", "function": "volts", "first": a, "second": b}), a, b) for a, b in pairs(design)]
    legs = [(keyed({"do": "clamp", "wire": leg, "turns": 1}), leg) for leg in (f"{zone}.W leg" for zone in design.zones)]
    looks = [(keyed({"do": how, "part": part}), how, part) for how, part in looked_at(design)]
    for number, situation in enumerate(situations):
        whole = situation.reads is None
        ways.append(tuple(accumulate((keyed(act) for act in situation.acts), initial=f"{situation.after}"))[1:])
        waits.append(tuple(Probe(number, keyed(act)) if act["do"] == "wait" else None for act in situation.acts))
        reads.append(tuple((Probe(number, keyed(act)), act) for act in situation.reads or ()))
        volts.append(tuple((Probe(number, act), first, second) for act, first, second in across if whole))
        clamps.append(tuple((Probe(number, act), leg) for act, leg in legs if whole))
        senses.append(tuple((Probe(number, act), how, part) for act, how, part in looks if whole))
    probes = tuple(
        (*filter(None, waited), *(probe for kind in read for probe, *_ in kind))
        for waited, *read in zip(waits, reads, volts, clamps, senses, strict=True)
    )
    return Round(
        tuple(situations),
        pairs(design),
        probes,
        tuple(ways),
        tuple(waits),
        tuple(reads),
        tuple(volts),
        tuple(clamps),
        tuple(senses),
    )


class Run:
    """The standard round on one installation, taken as far as it is asked for."""

    def __init__(self, design: Installation, installation: Installation, plan: Round) -> None:
        self.design, self.installation, self.plan = design, installation, plan
        self.worlds: dict[int, World | None] = {}
        self.met: dict[str, tuple[World | None, Outcome]] = {}  # by all that has been done: what begins alike is done once
        self.waits: dict[int, list[Outcome]] = {}

    def read(self, number: int) -> list[Outcome]:
        """What is read in one situation, in the order of its probes."""
        world, plan = self._reached(number), self.plan
        found = [*self.waits[number], *(_tried(world, act)[1] for _, act in plan.reads[number])]
        if plan.situations[number].reads is None:
            found += _looked(world, number, plan)
        return found

    def _reached(self, number: int) -> World | None:
        if number in self.worlds:
            return self.worlds[number]
        situation = self.plan.situations[number]
        world = arrival(self.design, self.installation) if situation.after < 0 else self._reached(situation.after)
        heard: list[Outcome] = []
        for act, way, probe in zip(situation.acts, self.plan.ways[number], self.plan.waits[number], strict=True):
            if way not in self.met:
                self.met[way] = _tried(world, act)
            world, outcome = self.met[way]
            if probe is not None:
                heard.append(outcome)
        self.worlds[number], self.waits[number] = world, heard
        return world


def _tried(world: World | None, act: Act) -> tuple[World | None, Outcome]:
    """The world after an act, or None where it cannot be done here."""
    if world is None:
        return None, IMPOSSIBLE
    try:
        return acted(world, act)
    except ValueError:
        return None, IMPOSSIBLE


def _looked(world: World | None, number: int, plan: Round) -> list[Outcome]:
    volts, clamps, senses = plan.volts[number], plan.clamps[number], plan.senses[number]
    if world is None:
        return [IMPOSSIBLE] * (len(volts) + len(clamps) + len(senses))
    here, state = world.installation, world.state
    now = electrics(here, state.parts, state.lifted)
    found = list(_volts_once(now.solved, plan.across)) if volts else []
    found += [_clamped(now.amps.get(leg, 0.0)) for _, leg in clamps]
    for _, how, part in senses:
        try:
            sense = sensed(here, state, how, part)
        except ValueError:
            found.append(IMPOSSIBLE)
        else:
            found.append(_impression(sense.text, sense.signal))
    return found


def _clamped(amps: float) -> Outcome:
    reading = displayed_amps(amps)
    return Outcome(reading.text, reading)


@lru_cache(maxsize=4096)
def _impression(text: str, signal: str) -> Outcome:
    return Outcome(text, signal=signal)


@lru_cache(maxsize=4096)
def _shown(true: float) -> Outcome:
    """What the display shows of a value that it has already been rounded to; the same one is the same object."""
    reading = displayed_volts(true)
    return Outcome(reading.text, reading)


_READ: OrderedDict[tuple[int, int], tuple[Solved, Sequence[tuple[str, str]], tuple[Outcome, ...]]] = OrderedDict()


def _volts_once(whole: Solved, pairs: Sequence[tuple[str, str]]) -> tuple[Outcome, ...]:
    """As `_volts`, but the same pairs of the same circuit are not read again: many a fault leaves many a moment as it was."""
    key = (id(whole), id(pairs))
    known = _READ.get(key)
    if known is None or known[0] is not whole or known[1] is not pairs:
        known = _READ[key] = (whole, pairs, tuple(_volts(whole, pairs)))
        while len(_READ) > MOST_READ:
            _READ.popitem(last=False)
    return known[2]


def _volts(whole: Solved, pairs: Sequence[tuple[str, str]]) -> Iterator[Outcome]:
    """As the meter's branch across each pair would have it, by the pair's source impedance.

    That is found only where it can matter to the display: the meter never shows more than the volts without it, and
    never less than what a bound on the impedance leaves of them.
    """
    roots, ohms = _firm(whole)
    potential = dict(whole.volts)
    for first, second in pairs:
        group, other = roots.get(first), roots.get(second)
        there = group is not None and other is not None
        emf = abs(potential[first] - potential[second]) if there else 0.0
        most, step = shown(emf, VOLTS_TOP, COUNTS)
        if there and group == other:
            least = emf * METER_OHMS / (METER_OHMS + ohms[first] + ohms[second])
            # Well within one step and one range of the display there is no need to round once more.
            within = most - 0.499 * step < least and least > COUNTS / 10 * step
            if within or most == shown(least, VOLTS_TOP, COUNTS)[0]:
                yield _shown(most)
                continue
        elif emf and not most:
            yield _shown(most)
            continue
        seen = whole.thevenin(first, second)
        yield _shown(shown(abs(seen.emf * METER_OHMS / (METER_OHMS + seen.z)), VOLTS_TOP, COUNTS)[0])


def _firm(whole: Solved) -> tuple[Mapping[str, str], Mapping[str, float]]:
    """Which nodes hang together by branches that conduct well, by one node of each group, and ohms from there to each.

    The impedance between two nodes is no larger than the ohms of the conductances of any path between them: whatever
    else is there conducts besides, and reactances only add to what a current has to go round. Source: Rayleigh's
    monotonicity law, and |x* inverse(G + jB) x| <= x* inverse(G) x for a positive definite G.
    """
    near: dict[str, list[tuple[str, float]]] = {node: [] for node in whole.index}
    for branch in whole.network:
        siemens = branch.admittance.real
        if siemens >= FIRM_SIEMENS:
            near[branch.a].append((branch.b, 1 / siemens))
            near[branch.b].append((branch.a, 1 / siemens))
    roots: dict[str, str] = {}
    ohms: dict[str, float] = {}
    for root in near:
        if root in roots:
            continue
        roots[root], ohms[root] = root, 0.0
        edge = [root]
        while edge:
            here = edge.pop()
            for there, step in near[here]:
                if there not in roots:
                    roots[there], ohms[there] = root, ohms[here] + step
                    edge.append(there)
    return roots, ohms
