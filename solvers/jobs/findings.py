"""What judging a wiring rests on and what it finds: evidence gathered once, findings in trade words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import ClassVar

from ..circuit import Branch
from ..plant.electrics import network
from ..plant.parts import Stat, Valve
from ..plant.wiring import Installation
from .behaviour import Behaviour, Progress, behaved, condensed, judged_as, poses
from .nets import Nets, current_path, nets
from .steps import Settled

__all__ = ["SEVERITIES", "Criterion", "Evidence", "Finding", "calling", "listed", "said", "when"]

SEVERITIES = ("danger", "wrong", "untidy")
"""Danger: a short, a tie, a supply without its fuse. Wrong: it does not do what was asked. Untidy: workmanship."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that a wiring does and should not."""

    criterion: str  # kind of criterion that it fails
    words: str
    calls: tuple[str, ...] = ()  # the stats that call when it first shows
    path: tuple[str, ...] = ()  # branches that carry the current then, in order
    severity: str = "wrong"  # one of SEVERITIES
    posed: bool = False  # shows only with end switches made by hand, not by calls alone
    mistake: str = ""  # name of the mistake that explains it, one of mistakes.MISTAKES


@dataclass(frozen=True, slots=True)
class Criterion:
    """One thing that a wiring must do, as data. A kind says how it is judged; `part` is what it counts toward."""

    part: ClassVar[str] = "behaviour"  # or "safety" or "workmanship"

    @property
    def kind(self) -> str:
        """The name of the kind, as findings give it."""
        return type(self).__name__

    def asks(self) -> str:
        """What is asked, in a sentence for the task's page."""
        raise TypeError(f"{type(self).__name__} does not say what it asks")

    def fails(self, evidence: Evidence) -> Finding | None:
        """The first combination of calls in which the wiring does not do it; None where it always does."""
        raise TypeError(f"{type(self).__name__} does not say when it fails")

    def finding(
        self, words: str, calls: Sequence[str] = (), path: Sequence[str] = (), severity: str = "wrong", *, posed: bool = False
    ) -> Finding:
        """A finding against this criterion."""
        return Finding(self.kind, words, tuple(calls), tuple(path), severity, posed)


class Evidence:
    """A wiring under judgement: what it does, what is joined to what, and any state that is asked for.

    It is run as `installation`, condensed; `whole` has every connector and lights the paths.
    """

    def __init__(self, installation: Installation, progress: Progress | None = None) -> None:
        self.whole = judged_as(installation)
        self.installation = condensed(self.whole)
        self.progress = progress
        self._poses: dict[tuple, Settled] = {}

    @cached_property
    def behaviour(self) -> Behaviour:
        """The wiring run through its calls."""
        return behaved(self.installation, self.progress)

    @cached_property
    def nets(self) -> Nets:
        """Which terminals are one point."""
        return nets(self.whole)

    @cached_property
    def stats(self) -> tuple[str, ...]:
        """Every thermostat."""
        return self.named(Stat)

    @cached_property
    def switched_valves(self) -> tuple[str, ...]:
        """Every valve with an end switch."""
        return tuple(part.name for part in self.installation.parts if isinstance(part, Valve) and part.switch_pair)

    def named(self, kind: type) -> tuple[str, ...]:
        """The names of the parts of a kind."""
        return tuple(part.name for part in self.installation.parts if isinstance(part, kind))

    def posed(
        self, calls: Iterable[str], made: Iterable[str] = (), off: Iterable[str] = (), off_leads: Iterable[str] = ()
    ) -> Settled:
        """A pose of the wiring, worked out once."""
        key = (tuple(calls), tuple(made), tuple(off), tuple(off_leads))
        if key not in self._poses:
            self._poses[key] = poses(self.installation, key[0], key[1], off=key[2], off_leads=key[3])
        return self._poses[key]

    @cached_property
    def corners(self) -> tuple[Settled, ...]:
        """Everything open, everything closed, and the stats or the end switches alone closed."""
        stats, valves = self.stats, self.switched_valves
        return tuple(self.posed(calls, made) for calls, made in (((), ()), (stats, ()), ((), valves), (stats, valves)))

    def conducting(self, seen: Settled) -> list[Branch]:
        """The branches of a state without strays and leaks."""
        whole = network(self.installation, seen.state.parts, seen.state.lifted)
        return [branch for branch in whole if not branch.name.startswith(("leak ", "stray "))]

    def path(self, seen: Settled, branch: str) -> tuple[str, ...]:
        """The way that a branch's current takes in a state."""
        return current_path(self.whole, seen.state, branch)

    def drive(self, valve: str, seen: Settled) -> str:
        """The branch of what opens a valve, through which most of its current flows."""
        own = self.installation.part(valve).branches(seen.state.parts[valve], self.installation.hz)
        return next(branch.name for branch in own if branch.name.startswith((f"{valve}.heater", f"{valve}.motor")))


_KINDS = {"stat": "stat", "valve": "valve", "relay": "relay"}


def said(name: str) -> str:
    """A part, zone or terminal as it is spoken: 'valve 2', 'zone 2', 'lead E of valve 2', 'splice 1, way 3'."""
    joint, _, way = name.rpartition(".")
    if joint and way.isdigit():  # only the ways of a connector are numbers
        return f"{joint if '.' not in joint else said(joint)}, way {way}"
    zone, dot, rest = name.partition(".")
    number = zone.removeprefix("zone")
    if not (zone.startswith("zone") and number):
        part, dot, lead = name.rpartition(".")
        return f"{lead} of the {part}" if dot else f"the {name}"
    if not dot:
        return f"zone {number}"
    part, dot, lead = rest.partition(".")
    thing = f"{_KINDS.get(part, part)} {number}"
    return f"lead {lead} of {thing}" if dot and part == "valve" else f"{lead} of {thing}" if dot else thing


def listed(names: Iterable[str]) -> str:
    """Names as a sentence has them: 'a', 'a and b', 'a, b and c'."""
    names = [*names]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}" if names else "none"


def calling(calls: Sequence[str]) -> str:
    """How a finding begins: 'With nobody calling', 'With stat 1 alone calling', 'With stats 1 and 2 calling'."""
    if not calls:
        return "With nobody calling"
    if len(calls) == 1:
        return f"With {said(calls[0])} alone calling"
    return f"With {listed(said(stat) for stat in calls)} calling"


def when(seen: Settled) -> str:
    """The same of a state, with the turns that led to it where they came in haste, between commas."""
    if seen.haste is None:
        return calling(seen.calls)
    first, second, seconds = said(seen.haste.first), said(seen.haste.second), seen.haste.seconds
    way, back = ("up", "down") if seen.haste.second in seen.calls else ("down", "up")
    if first == second:
        return f"{calling(seen.calls)}, {second} turned {way} {seconds:.0f} s after it was turned {back},"
    before = "up" if seen.haste.first in seen.calls else "down"
    return f"{calling(seen.calls)}, {second} turned {way} {seconds:.0f} s after {first} was turned {before},"
