"""What a wiring can be asked to do for lamps, circulators, screens, and valves that share a call. As data, like all criteria."""

from __future__ import annotations

from dataclasses import dataclass

from .criteria import IDLE_VOLTS, WORKS_VOLTS, Feeds, moments
from .findings import Criterion, Evidence, Finding, listed, said, when

__all__ = ["Blanks", "Drops", "Level", "Lights", "Runs", "StaysAlive"]

TURNS_AMPS = 0.3  # through a circulator on its line volts


@dataclass(frozen=True, slots=True)
class Runs(Criterion):
    """A circulator on line voltage runs while any of these valves is open, and only then."""

    circulator: str
    valves: tuple[str, ...]

    def asks(self) -> str:
        valves = listed(said(valve) for valve in self.valves)
        return f"The {self.circulator} runs while any of {valves} is proven open, and else not."

    def fails(self, evidence: Evidence) -> Finding | None:
        for seen in moments(evidence):
            due, runs = bool(set(self.valves) & set(seen.made)), seen.amps[f"{self.circulator}.motor"] > TURNS_AMPS
            if due != runs:
                what = "a valve open" if due else "every valve shut"
                words = f"{when(seen).rstrip(',')}, {what}, the {self.circulator} {'runs' if runs else 'stands'}."
                return self.finding(words, seen.calls, evidence.path(seen, f"{self.circulator}.motor"))
        return None


@dataclass(frozen=True, slots=True)
class Lights(Criterion):
    """A lamp burns while a stat calls, and only then."""

    lamp: str
    stat: str
    least: float = WORKS_VOLTS  # V

    def asks(self) -> str:
        return f"The {self.lamp} burns with at least {self.least:g} V while {said(self.stat)} calls, and is dark otherwise."

    def fails(self, evidence: Evidence) -> Finding | None:
        ohms = evidence.installation.part(self.lamp).ohms
        for seen in moments(evidence):
            volts = seen.amps[f"{self.lamp}.filament"] * ohms
            if (volts >= self.least) if self.stat in seen.calls else (volts <= IDLE_VOLTS):
                continue
            words = f"{when(seen)} the {self.lamp} has {volts:.1f} V."
            return self.finding(words, seen.calls, evidence.path(seen, f"{self.lamp}.filament"))
        return None


@dataclass(frozen=True, slots=True)
class StaysAlive(Criterion):
    """A thermostat that needs supply has it in every state."""

    stats: tuple[str, ...]

    def asks(self) -> str:
        return f"The screen of {listed(said(stat) for stat in self.stats)} stays lit, calling or not."

    def fails(self, evidence: Evidence) -> Finding | None:
        for seen in evidence.behaviour.settled:
            for stat in self.stats:
                if stat in seen.blank:
                    words = f"{when(seen)} the screen of {said(stat)} goes blank."
                    return self.finding(words, seen.calls, evidence.path(seen, f"{stat}.supply"))
        return None


@dataclass(frozen=True, slots=True)
class Blanks(Criterion):
    """With the C of a thermostat lifted nothing else changes: its valve still gets its volts until the screen is blank."""

    stat: str
    valve: str

    def asks(self) -> str:
        return f"Lifting C at {said(self.stat)} blanks its screen and takes nothing else away."

    def fails(self, evidence: Evidence) -> Finding | None:
        lead = f"{self.stat}.C"
        if not evidence.whole.landed(lead):
            return self.finding(f"Nothing is landed on {said(lead)}.")
        seen = evidence.posed((self.stat,), (), (), (lead,))
        if seen.volts[self.valve] >= WORKS_VOLTS and seen.amps[f"{self.stat}.supply"] < 0.005:
            return None
        words = f"With {said(lead)} lifted and a call, {said(self.valve)} gets {seen.volts[self.valve]:.1f} V"
        return self.finding(f"{words}: more than the screen hangs on that lead.", (self.stat,))


@dataclass(frozen=True, slots=True)
class Level(Criterion):
    """Valves on one call get the same volts, but for a share."""

    valves: tuple[str, ...]
    share: float = 0.1

    def asks(self) -> str:
        return f"{listed(said(valve) for valve in self.valves)} get volts within {self.share:.0%} of each other."

    def fails(self, evidence: Evidence) -> Finding | None:
        for seen in evidence.behaviour.settled:
            volts = [seen.volts[valve] for valve in self.valves]
            if max(volts) > IDLE_VOLTS and min(volts) < (1 - self.share) * max(volts):
                told = listed(f"{said(valve)} {seen.volts[valve]:.1f} V" for valve in self.valves)
                return self.finding(f"{when(seen)} the valves share badly: {told}.", seen.calls)
        return None


@dataclass(frozen=True, slots=True)
class Drops(Criterion):
    """While one stat calls, the valves of all others are dead within the same moment, and back afterwards."""

    tank: str
    feeds: Feeds

    def asks(self) -> str:
        return f"A call of {said(self.tank)} takes R from every zone at once and gives it back afterwards."

    def fails(self, evidence: Evidence) -> Finding | None:
        for seen in moments(evidence):
            for valve, stats in self.feeds:
                due = bool(set(stats) & set(seen.calls)) and self.tank not in seen.calls
                volts = seen.volts[valve]
                if (volts >= WORKS_VOLTS) if due else (volts <= IDLE_VOLTS):
                    continue
                return self.finding(
                    f"{when(seen)} {said(valve)} gets {volts:.1f} V.",
                    seen.calls,
                    evidence.path(seen, evidence.drive(valve, seen)),
                )
        return None
