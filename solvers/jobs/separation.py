"""What keeps a wiring safe, as data: no short in any position, sources apart, fuses first, room under every screw."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import ClassVar

from ..circuit import OPEN
from ..plant.electrics import electrics
from ..plant.line_voltage import LineFeed
from ..plant.parts import Boiler, Relay, Transformer, Valve
from .behaviour import combinations_of, every_pose
from .criteria import WORKS_VOLTS, Feeds
from .findings import Criterion, Evidence, Finding, calling, listed, said, when
from .nets import APART, LOOP, ONE_POINT, meeting
from .steps import Settled

__all__ = [
    "Apart",
    "Burden",
    "Capped",
    "FusesFirst",
    "Killed",
    "NoShort",
    "OneTie",
    "Room",
    "Separate",
    "Share",
    "StatAmps",
    "Volts",
]

MOST_POSES = 64
"""Combinations of stats and switches that are all tried; beyond, every pair of switches with each sort of call."""

SLACK = 1.05  # what cable and rounding may add to a load
STRAY_AMPS = 0.01


@dataclass(frozen=True, slots=True)
class Safety(Criterion):
    """A criterion that counts toward safety and separation."""

    part: ClassVar[str] = "safety"


def switch_poses(evidence: Evidence) -> Iterator[Settled]:
    """Stats and end switches in every position, those that cannot arise by themselves included, fewest closed first."""
    stats, valves = evidence.stats, evidence.switched_valves
    if 2 ** (len(stats) + len(valves)) <= MOST_POSES:
        yield from (evidence.posed(calls, made) for calls, made in every_pose(stats, valves))
        return
    few = [made for made in combinations_of(valves) if len(made) <= 2] + [valves]
    for calls in ((), stats):
        yield from (evidence.posed(calls, made) for made in few)
    for stat in stats:
        yield from (evidence.posed((stat,), made) for made in ((), valves))


def _source(part: Transformer | Boiler | LineFeed) -> str:
    """The branch that drives a source."""
    if isinstance(part, Transformer):
        return f"{part.name}.winding"
    if isinstance(part, LineFeed):
        return f"{part.name}.source"
    return f"{part.name}.source" if part.input == "own supply" else f"{part.name}.input"


def _switches(seen: Settled) -> str:
    return f" and the end switch of {listed(said(valve) for valve in seen.made)} made" if seen.made else ""


@dataclass(frozen=True, slots=True)
class NoShort(Safety):
    """No combination of stats and end switches draws more from a source than its fuse carries; nothing blows or chatters."""

    limits: tuple[tuple[str, float], ...]  # transformer, A

    def asks(self) -> str:
        return "No combination of stats and end switches shorts a source or blows a fuse."

    def fails(self, evidence: Evidence) -> Finding | None:
        for seen in switch_poses(evidence):
            for name, most in self.limits:
                amps = seen.amps[f"{name}.winding"]
                if amps > most:
                    words = f"{calling(seen.calls)}{_switches(seen)} the {name} is driven to {amps:.1f} A: a short."
                    path = evidence.path(seen, f"{name}.winding")
                    return self.finding(words, seen.calls, path, "danger", posed=bool(seen.made))
        if lost := evidence.behaviour.rest.gone:
            words = f"{calling(())} {listed(said(part) for part in lost)} opens for good."
            return self.finding(words, (), (), "danger")
        if restless := evidence.behaviour.rest.chattering:
            return self.finding(f"{calling(())} {listed(said(part) for part in restless)} never comes to rest.")
        for step in evidence.behaviour.turns:
            if chatters := step.after.chattering or step.at_once.chattering:
                parts = listed(said(part) for part in chatters)
                words = f"{when(step.at_once)} {parts} never comes to rest: it undoes its own call."
                return self.finding(words, step.after.calls)
            if lost := [part for part in step.after.gone if part not in step.before.gone]:
                words = f"{when(step.at_once)} {listed(said(part) for part in lost)} opens for good."
                worst = max((name for name, _ in self.limits), key=lambda name: step.at_once.amps[f"{name}.winding"])
                path = evidence.path(step.at_once, f"{worst}.winding")
                return self.finding(words, step.after.calls, path, "danger")
        return None


@dataclass(frozen=True, slots=True)
class Burden(Safety):
    """In every combination of stats and switches the sources carry no more than the loads that are called for.

    So R to C never looks smaller than the healthy loads in parallel: 30, 15 and 10 ohm for one to three heaters.
    """

    feeds: Feeds
    relays: tuple[str, ...] = ()

    def asks(self) -> str:
        return "R to C never carries more than the valves called for and the relay that is pulled in."

    def fails(self, evidence: Evidence) -> Finding | None:
        sources = [evidence.installation.part(name) for name in evidence.named(Transformer)]
        for seen in switch_poses(evidence):
            amps = sum(seen.amps[f"{source.name}.winding"] for source in sources)
            most = SLACK * max(source.open_volts for source in sources) * self._siemens(evidence, seen, len(sources)) + STRAY_AMPS
            if amps > most:
                words = (
                    f"{calling(seen.calls)}{_switches(seen)} {amps:.2f} A flows; the loads called for take {most:.2f} A at most."
                )
                worst = max(sources, key=lambda source: seen.amps[f"{source.name}.winding"])
                path = evidence.path(seen, f"{worst.name}.winding")
                return self.finding(words, seen.calls, path, "danger", posed=bool(seen.made))
        return None

    def _siemens(self, evidence: Evidence, seen: Settled, sources: int) -> float:
        """The loads called for, in parallel; of several sources the amperes are summed without their phase, so the loads are."""
        total: list[complex] = []
        for valve, stats in self.feeds:
            if set(stats) & set(seen.calls):
                part: Valve = evidence.installation.part(valve)
                total.extend(
                    branch.admittance
                    for branch in part.branches(seen.state.parts[valve], evidence.installation.hz)
                    if branch.name == evidence.drive(valve, seen)
                )
        for name in self.relays:
            relay: Relay = evidence.installation.part(name)
            # A coil between its two levels may be live and not pulled in; it is a load all the same.
            total.append(1 / complex(relay.coil_ohms, relay.reactance) if seen.made or name in seen.pulled else 0j)
        for name in evidence.stats:
            supply = getattr(evidence.installation.part(name), "supply_ohms", OPEN)
            total.append(0j if supply == OPEN else 1 / supply)
        return abs(sum(total)) if sources == 1 else sum(abs(each) for each in total)


@dataclass(frozen=True, slots=True)
class Apart(Safety):
    """No path at all joins these sources, in any position of stats, switches and relays."""

    sources: tuple[str, ...]

    def asks(self) -> str:
        return f"No conductor joins {listed(f'the {name}' for name in self.sources)}: each circuit is its own."

    def fails(self, evidence: Evidence) -> Finding | None:
        for first, second in combinations(self.sources, 2):
            how, seen = _meet(evidence, first, second)
            if how != APART:
                where = "in one loop" if how == LOOP else "tied at one point"
                words = f"{calling(seen.calls)}{_switches(seen)} the {first} and the {second} are {where}."
                branch = _source(evidence.installation.part(second))
                return self.finding(words, seen.calls, evidence.path(seen, branch), "danger", posed=bool(seen.made))
        return None


@dataclass(frozen=True, slots=True)
class OneTie(Safety):
    """Two sources meet at exactly one point and never stand in one loop."""

    first: str
    second: str

    def asks(self) -> str:
        return f"The {self.first} and the {self.second} meet at exactly one point, the intended tie."

    def fails(self, evidence: Evidence) -> Finding | None:
        how, seen = _meet(evidence, self.first, self.second)
        if how == ONE_POINT:
            return None
        if how == APART:
            return self.finding(f"The {self.first} and the {self.second} do not meet at all; the valves cannot call the boiler.")
        words = f"{calling(seen.calls)}{_switches(seen)} the {self.first} and the {self.second} drive one loop: they meet twice."
        branch = _source(evidence.installation.part(self.second))
        return self.finding(words, seen.calls, evidence.path(seen, branch), "danger", posed=bool(seen.made))


def _meet(evidence: Evidence, first: str, second: str) -> tuple[str, Settled]:
    """The worst way in which two sources meet in any corner, and that corner."""
    parts = evidence.installation.part(first), evidence.installation.part(second)
    worst, where = APART, evidence.corners[-1]
    for seen in evidence.corners:
        how = meeting(evidence.nets, evidence.conducting(seen), _source(parts[0]), _source(parts[1]))
        if how != APART and how != worst and worst != LOOP:
            worst, where = how, seen
    return worst, where


@dataclass(frozen=True, slots=True)
class FusesFirst(Safety):
    """R of each transformer goes to its fuse and to nothing else, so that the fuse guards every conductor behind it."""

    pairs: tuple[tuple[str, str], ...]  # transformer, fuse

    def asks(self) -> str:
        return f"R goes through {listed(f'the {fuse}' for _, fuse in self.pairs)} before anything else."

    def fails(self, evidence: Evidence) -> Finding | None:
        fuses = [fuse for _, fuse in self.pairs]
        for source, _ in self.pairs:
            beside = evidence.nets.beside(f"{source}.R")
            ins = [terminal for terminal in beside if terminal.rpartition(".")[0] in fuses]
            others = [terminal for terminal in beside if terminal not in ins]
            if len(ins) == 1 and not others:
                continue
            seen = evidence.corners[-1]
            if others or not ins:
                where = listed(said(terminal) for terminal in others) if others else "nothing"
                words = f"R of the {source} goes to {where}, not to a fuse alone: nothing there is protected."
            else:
                words = f"Both sides of {said(ins[0].rpartition('.')[0])} are on R of the {source}: it guards nothing."
            return self.finding(words, seen.calls, evidence.path(seen, f"{source}.winding"), "danger")
        return None


@dataclass(frozen=True, slots=True)
class Share(Safety):
    """With every stat calling each transformer carries no more than a share of its nameplate VA."""

    most: float = 0.8

    def asks(self) -> str:
        return f"With every stat calling no transformer carries more than {self.most:.0%} of its nameplate."

    def fails(self, evidence: Evidence) -> Finding | None:
        seen = evidence.posed(evidence.stats)
        for name in evidence.named(Transformer):
            part: Transformer = evidence.installation.part(name)
            va = part.rated_volts * seen.amps[f"{name}.winding"]
            if va > self.most * part.va:
                words = f"{calling(seen.calls)} the {name} carries {va:.0f} VA, {va / part.va:.0%} of its {part.va:g} VA."
                return self.finding(words, seen.calls, evidence.path(seen, f"{name}.winding"))
        return None


@dataclass(frozen=True, slots=True)
class Killed(Safety):
    """With one transformer off its own zones are dead, so many of them, the rest works, and nothing is fed back into it."""

    transformers: tuple[str, ...]
    feeds: Feeds
    shares: tuple[int, ...]  # zones on each, in any order
    boiler: str = "boiler"  # "" where its call hangs on one of them
    calls: tuple[str, ...] = ()  # the stats of the zones, where there are others

    def asks(self) -> str:
        each = listed(str(count) for count in sorted(set(self.shares)))
        return f"With either transformer off exactly its own zones ({each}) are dead, and its primary with them."

    def fails(self, evidence: Evidence) -> Finding | None:
        lost: list[str] = []
        counts: list[int] = []
        stats, valves = self.calls or evidence.stats, evidence.switched_valves
        for name in self.transformers:
            seen = evidence.posed(stats, valves, (name,))
            back = seen.state.parts[name].fed_back
            if back > 1.0:
                words = f"With the {name} off its primary still has {back:.0f} V, fed back from the other one."
                return self.finding(words, seen.calls, evidence.path(seen, f"{name}.winding"), "danger")
            dead = [valve for valve, _ in self.feeds if seen.volts[valve] < WORKS_VOLTS]
            lost += dead
            counts.append(len(dead))
            if sorted(lost) != sorted(set(lost)) or (self.boiler and self.boiler not in seen.fired):
                words = (
                    f"With the {name} off {listed(said(valve) for valve in dead)} fail; the other source does not keep its own."
                )
                return self.finding(words, seen.calls)
        if len(lost) != len(self.feeds) or sorted(counts) != sorted(self.shares):
            told = listed(f"{count} with the {name}" for count, name in zip(counts, self.transformers, strict=True))
            return self.finding(f"Zones that die: {told}; asked are {listed(str(count) for count in self.shares)}.", stats)
        return None


@dataclass(frozen=True, slots=True)
class StatAmps(Safety):
    """A stat's contact never carries more than it is made for."""

    stat: str
    most: float  # A

    def asks(self) -> str:
        return f"The contact of {said(self.stat)} carries {self.most:g} A at most."

    def fails(self, evidence: Evidence) -> Finding | None:
        seen = evidence.posed((self.stat,))
        amps = seen.amps[f"{self.stat}.contact"]
        if amps <= self.most:
            return None
        words = f"{calling(seen.calls)} its contact carries {amps:.2f} A; {self.most:g} A is what it may."
        return self.finding(words, seen.calls, evidence.path(seen, f"{self.stat}.contact"))


@dataclass(frozen=True, slots=True)
class Volts(Safety):
    """Between two terminals stand so many volts at rest."""

    first: str
    second: str
    low: float
    high: float

    def asks(self) -> str:
        return f"Between {said(self.first)} and {said(self.second)} stand {self.low:g} to {self.high:g} V at rest."

    def fails(self, evidence: Evidence) -> Finding | None:
        seen = evidence.posed(())
        volts = volts_in(evidence, seen, self.first, self.second)
        if self.low <= volts <= self.high:
            return None
        return self.finding(f"At rest {volts:.1f} V stand between {said(self.first)} and {said(self.second)}.", severity="danger")


def volts_in(evidence: Evidence, seen: Settled, first: str, second: str) -> float:
    """Volts between two terminals in a state, as a meter of very many ohms shows them."""
    volts = electrics(evidence.installation, seen.state.parts, seen.state.lifted).solved.volts
    return abs(volts[first] - volts[second])


@dataclass(frozen=True, slots=True)
class Capped(Safety):
    """Each of these unused leads stands alone in a connector of its own."""

    leads: tuple[str, ...]

    def asks(self) -> str:
        return f"{listed(said(lead) for lead in self.leads)} stand capped, each alone in a connector."

    def fails(self, evidence: Evidence) -> Finding | None:
        for lead in self.leads:
            if len(evidence.whole.landed(lead)) != 1 or evidence.nets.beside(lead):
                return self.finding(f"{said(lead)} is not capped: unused primary leads are live.", severity="danger")
        points = [evidence.nets.of[lead] for lead in self.leads]
        if any(one == other for one, other in pairwise(sorted(points))):
            return self.finding("Two unused leads share a connector: cap them one by one.", severity="danger")
        return None


@dataclass(frozen=True, slots=True)
class Room(Safety):
    """No terminal holds more conductors than it takes."""

    def asks(self) -> str:
        return "No more conductors under a screw than it holds."

    def fails(self, evidence: Evidence) -> Finding | None:
        for terminal, count, takes in evidence.whole.crowded():
            return self.finding(f"{count} conductors at {said(terminal)}, which holds {takes}: make the joint in a connector.")
        return None


@dataclass(frozen=True, slots=True)
class Separate(Safety):
    """Line voltage and class 2 conductors never end side by side without a barrier."""

    def asks(self) -> str:
        return "Line voltage stays out of the class 2 space."

    def fails(self, evidence: Evidence) -> Finding | None:
        for box in evidence.whole.mixed():
            words = f"Line voltage and class 2 conductors end side by side in the {box}; the local code and its inspector decide."
            return self.finding(words, severity="danger")
        return None
