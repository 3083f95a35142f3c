"""What a wiring can be asked to do, as data: which valves open when, when the boiler is called, what each source carries.

Every criterion names parts of the task and numbers, never a wire: what fulfils it is left to whoever wires.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import groupby

from ..circuit import OPEN
from ..plant.parts import Relay, Valve
from .behaviour import combinations_of
from .findings import Criterion, Evidence, Finding, calling, listed, said, when
from .steps import Settled, Step

__all__ = ["IDLE_VOLTS", "WORKS_VOLTS", "Calls", "Feeds", "Heats", "OpensIn", "Pulls", "WholeWithout", "moments"]

Feeds = tuple[tuple[str, tuple[str, ...]], ...]
"""Valves, each with the stats that may open it."""

WORKS_VOLTS = 22.0  # at a 24 V heater or motor: enough in any room
IDLE_VOLTS = 2.0  # what a stat may steal or leak through an idle valve


def moments(evidence: Evidence) -> Iterator[Settled]:
    """Every state met: settled ones, then those just after a stat was turned, at last in haste; each fewest calls first."""
    yield from evidence.behaviour.settled
    yield from (step.at_once for step in evidence.behaviour.turns)


def _wanted(feeds: Feeds, calls: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(valve for valve, stats in feeds if set(stats) & set(calls))


@dataclass(frozen=True, slots=True)
class Heats(Criterion):
    """Each valve gets its volts, and opens, when one of its stats calls, and else neither."""

    feeds: Feeds
    least: float = WORKS_VOLTS  # V
    idle: float = IDLE_VOLTS  # V

    def asks(self) -> str:
        pairs = listed(f"{said(valve)} on {listed(said(stat) for stat in stats)}" for valve, stats in self.feeds)
        return f"{pairs[0].upper()}{pairs[1:]}: at least {self.least:g} V and open on a call, 0 V and shut without."

    def fails(self, evidence: Evidence) -> Finding | None:
        settled = {id(seen) for seen in evidence.behaviour.settled}
        for seen in moments(evidence):
            wanted = _wanted(self.feeds, seen.calls)
            for valve, _ in self.feeds:
                volts, is_open = seen.volts[valve], valve in seen.opened
                right = volts >= self.least if valve in wanted else volts <= self.idle
                if right and (id(seen) not in settled or is_open == (valve in wanted)):
                    continue
                return self.finding(self._words(seen, valve, wanted), seen.calls, self._path(evidence, seen, valve))
        return None

    def _words(self, seen: Settled, valve: str, wanted: tuple[str, ...]) -> str:
        what = f"{said(valve)} gets {seen.volts[valve]:.1f} V"
        if seen.gone:
            return f"{when(seen)} {listed(said(part) for part in seen.gone)} opens for good, and {what}."
        if valve in wanted:
            return f"{when(seen)} {what} and {'is open' if valve in seen.opened else 'stays shut'}."
        return f"{when(seen)} {what} although no stat of its own calls" + (" and is open." if valve in seen.opened else ".")

    def _path(self, evidence: Evidence, seen: Settled, valve: str) -> tuple[str, ...]:
        own = evidence.path(seen, evidence.drive(valve, seen))
        if own:
            return own
        others = (evidence.path(seen, evidence.drive(other, seen)) for other, _ in self.feeds if other in seen.opened)
        return next((path for path in others if path), ())


@dataclass(frozen=True, slots=True)
class Calls(Criterion):
    """The boiler is called when valves have opened: not with the stat, and until the end switches have let go.

    `mode` is "any" (the first valve starts it), "all" (every one must be open), "either" of the two by choice, or "stat"
    where relays pass the call on and no switch proves the travel.
    """

    valves: tuple[str, ...]
    boiler: str = "boiler"
    mode: str = "any"
    stats: tuple[str, ...] = ()  # for the mode "stat"

    def __post_init__(self) -> None:
        if self.mode not in ("any", "all", "either", "stat"):
            raise ValueError(f"mode {self.mode!r}; there are ['any', 'all', 'either', 'stat']")

    def asks(self) -> str:
        names = listed(said(valve) for valve in self.valves)
        return {
            "any": f"The boiler is called once any of {names} is fully open, not with the stat, until the last switch opens.",
            "all": f"The boiler is called when all of {names} are fully open, and until the first end switch opens.",
            "either": f"The boiler is called once the first of {names} is open, or once all are: by written choice.",
            "stat": f"The boiler is called while {listed(said(stat) for stat in self.stats)} call; no travel is proven.",
        }[self.mode]

    def fails(self, evidence: Evidence) -> Finding | None:
        if self.mode != "either":
            return self._fails(evidence, self.mode)
        first = self._fails(evidence, "any")
        return None if first is None or self._fails(evidence, "all") is None else first

    def _fails(self, evidence: Evidence, mode: str) -> Finding | None:
        for seen in evidence.behaviour.settled:
            if (self.boiler in seen.fired) != self._due(mode, seen.made, seen.calls):
                return self._found(evidence, seen, self._settled_words(seen))
        for step in evidence.behaviour.turns:
            if words := self._on_the_way(mode, step):
                return self._found(evidence, step.at_once, words)
        return None if mode == "stat" else self._posed(evidence, mode)

    def _posed(self, evidence: Evidence, mode: str) -> Finding | None:
        """The same with end switches made by hand: valves that always open together hide what joins their switches."""
        sets = [made for made in combinations_of(self.valves) if len(made) <= 2] + [self.valves]
        for made in sets:
            seen = evidence.posed((), made)
            if (self.boiler in seen.fired) != self._due(mode, made, ()):
                which = f"the end switch of {listed(said(valve) for valve in made)} made" if made else "every end switch open"
                called = "called" if self.boiler in seen.fired else "not called"
                return replace(self._found(evidence, seen, f"With {which} and no other, the boiler is {called}."), posed=True)
        return None

    def _due(self, mode: str, made: tuple[str, ...] | set[str], calls: tuple[str, ...]) -> bool:
        if mode == "stat":
            return bool(set(self.stats) & set(calls))
        proven = [valve in made for valve in self.valves]
        return any(proven) if mode == "any" else all(proven)

    def _settled_words(self, seen: Settled) -> str:
        opened = [valve for valve in self.valves if valve in seen.made]
        state = f"{listed(said(valve) for valve in opened)} open" if opened else "every valve shut"
        return f"{when(seen).rstrip(',')}, {state}, the boiler is {'called' if self.boiler in seen.fired else 'not called'}."

    def _on_the_way(self, mode: str, step: Step) -> str:
        made, fires = set(step.at_once.made), self.boiler in step.at_once.fired
        if fires != self._due(mode, made, step.after.calls):
            turned = listed(said(stat) for stat in sorted({*step.before.calls} ^ {*step.after.calls}))
            what = f"The boiler {'starts' if fires else 'stops'} the moment {turned} is turned"
            if haste := step.at_once.haste:
                return f"{what}, {haste.seconds:.0f} s after {said(haste.first)}."
            return f"{what}, before any valve has moved."
        for time, together in groupby(step.events, key=lambda event: event.time):
            for event in together:
                for valve in self.valves:
                    if event.name == f"{valve} end switch makes":
                        made.add(valve)
                    if event.name == f"{valve} end switch opens":
                        made.discard(valve)
                fires = {f"{self.boiler} starts": True, f"{self.boiler} stops": False}.get(event.name, fires)
            if fires != self._due(mode, made, step.after.calls):
                state = f"with {listed(said(valve) for valve in sorted(made))} open" if made else "with every valve shut"
                begun = f"{when(step.at_once).rstrip(',')}, {time:.0f} s on"
                return f"{begun}, {state}, the boiler is {'' if fires else 'not '}called."
        return ""

    def _found(self, evidence: Evidence, seen: Settled, words: str) -> Finding:
        return self.finding(words, seen.calls, evidence.path(seen, f"{self.boiler}.input"))


@dataclass(frozen=True, slots=True)
class OpensIn(Criterion):
    """From cold, a stat alone starts the boiler after so many seconds: the time of its valve's kind."""

    stat: str
    low: float  # s
    high: float  # s
    boiler: str = "boiler"

    def asks(self) -> str:
        return f"{said(self.stat).capitalize()} alone starts the boiler {self.low:g} to {self.high:g} s after its call."

    def fails(self, evidence: Evidence) -> Finding | None:
        rest = evidence.behaviour.rest
        if rest.gone or rest.chattering:
            lost = listed(said(part) for part in (*rest.gone, *rest.chattering))
            return self.finding(f"{calling(())} {lost} cannot hold: nothing can start.", (), (), "danger")
        step = evidence.behaviour.step(self.stat)
        starts = [event.time for event in step.events if event.name == f"{self.boiler} starts"]
        if starts and self.low <= starts[0] <= self.high:
            return None
        already = self.boiler in step.at_once.fired
        when = "at once" if already else f"after {starts[0]:.0f} s" if starts else "never"
        words = f"{calling((self.stat,))} the boiler starts {when}; {self.low:g} to {self.high:g} s is what this valve takes."
        return self.finding(words, (self.stat,), evidence.path(step.after, f"{self.boiler}.input"))


@dataclass(frozen=True, slots=True)
class Pulls(Criterion):
    """A relay is pulled in while any of these valves is open, with enough volts, and never otherwise."""

    relay: str
    valves: tuple[str, ...]
    least: float = 20.0  # V at the coil

    def asks(self) -> str:
        names = listed(said(valve) for valve in self.valves)
        return (
            f"{said(self.relay).capitalize()} pulls in while any of {names} is open, at {self.least:g} V or more, and else not."
        )

    def fails(self, evidence: Evidence) -> Finding | None:
        part: Relay = evidence.installation.part(self.relay)
        ohms = abs(complex(part.coil_ohms, part.reactance)) if part.coil_ohms != OPEN else 0.0
        for seen in evidence.behaviour.settled:
            due = any(valve in seen.made for valve in self.valves)
            volts = seen.amps[f"{self.relay}.coil"] * ohms
            if (self.relay in seen.pulled) == due and (volts >= self.least or not due):
                continue
            state = f"{'pulled in' if self.relay in seen.pulled else 'not pulled in'} at {volts:.1f} V"
            what = "a valve open" if due else "every valve shut"
            return self.finding(
                f"{when(seen).rstrip(',')}, {what}, {said(self.relay)} is {state}.",
                seen.calls,
                evidence.path(seen, f"{self.relay}.coil"),
            )
        return None


@dataclass(frozen=True, slots=True)
class WholeWithout(Criterion):
    """With any one lead of a valve lifted, the other zones still open and still call the boiler."""

    feeds: Feeds
    boiler: str = ""  # "" where none is called by end switches

    def asks(self) -> str:
        return "Any one lead of a valve can be lifted and the other zones stay whole."

    def fails(self, evidence: Evidence) -> Finding | None:
        for valve, _ in self.feeds:
            part: Valve = evidence.installation.part(valve)
            leads = [terminal for terminal in part.terminals if evidence.whole.landed(terminal)]
            for lead in leads:
                if failing := self._failing(evidence, lead, valve):
                    words = f"Lift {said(lead)} and {listed(said(other) for other in failing)} fails with it."
                    return self.finding(words, self._stats(failing[0]))
        return None

    def _failing(self, evidence: Evidence, lead: str, own: str) -> list[str]:
        return [other for other, _ in self.feeds if other != own and not self._works(evidence, other, lead)]

    def _works(self, evidence: Evidence, valve: str, lead: str) -> bool:
        stats = self._stats(valve)
        made = (valve,) if valve in evidence.switched_valves else ()
        seen = evidence.posed(stats, made, (), (lead,))
        called = not made or not self.boiler or self.boiler in seen.fired
        return seen.volts[valve] >= WORKS_VOLTS and called

    def _stats(self, valve: str) -> tuple[str, ...]:
        return dict(self.feeds)[valve][:1]
