"""Variables that follow one another: sums of exponentials, added, followed, and met with a level exactly once found."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import exp, expm1

__all__ = ["Path", "added", "following"]

CLOSE = 1e-6
"""Two time constants nearer than this share of each other are taken as this far apart: t exp(-t/tau) has no place here."""


@dataclass(frozen=True, slots=True)
class Path:
    """x(t) = constant + sum of amplitude exp(-t/tau), t in seconds from the moment the path was laid down.

    A law like Approach, but it knows its own start: `at` and `time_to` do not look at the value they are given.
    """

    constant: float
    terms: tuple[tuple[float, float], ...] = ()  # (amplitude, tau in s)

    def at(self, x: float, t: float) -> float:
        """Value t seconds after the start."""
        return self.constant + sum(amplitude * exp(-t / tau) for amplitude, tau in self.terms)

    def path(self, x: float) -> Path:
        """Itself."""
        return self

    def time_to(self, x: float, level: float, within: float = math.inf) -> float:
        """Seconds from the start to the first crossing of a level, to 1e-9 s or the last digit; inf if there is none.

        Where it is seen at once that nothing can come `within` so many seconds, inf is given without looking further.
        """
        if within < math.inf:
            gap = abs(level - self.constant - sum([amplitude for amplitude, _ in self.terms]))
            if gap > sum([abs(amplitude) * -expm1(-within / tau) for amplitude, tau in self.terms]):
                return math.inf
        merged: dict[float, float] = {0.0: self.constant - level}
        for amplitude, tau in self.terms:
            merged[1 / tau] = merged.get(1 / tau, 0.0) + amplitude
        found = _zeros([(amplitude, rate) for rate, amplitude in sorted(merged.items()) if amplitude], first=True)
        return found[0] if found else math.inf


def added(paths: Iterable[Path]) -> Path:
    """The sum of paths, term by term."""
    every = tuple(paths)
    return Path(sum(path.constant for path in every), tuple(term for path in every for term in path.terms))


def following(path: Path, *, start: float, tau: float, gain: float = 1.0, base: float = 0.0) -> Path:
    """The path of a variable that starts at `start` and runs with `tau` after base + gain times another path."""
    apart = [other * (1 + CLOSE) if abs(other - tau) <= CLOSE * tau else other for _, other in path.terms]
    forced = [(gain * amplitude / (1 - tau / other), other) for (amplitude, _), other in zip(path.terms, apart, strict=True)]
    constant = base + gain * path.constant
    own = start - constant - sum(amplitude for amplitude, _ in forced)
    return Path(constant, (*forced, (own, tau)))


def _zeros(terms: Sequence[tuple[float, float]], *, first: bool = False) -> list[float]:
    """All t > 0, or the first, at which sum of amplitude exp(-rate t) crosses zero, in order; rates ascend.

    Rolle: between two crossings lies one of the derivative, once the slowest term has been made constant; and the
    derivative has one term less.
    """
    if len(terms) < 2:
        return []
    slowest = terms[0][1]
    level = [(amplitude, rate - slowest) for amplitude, rate in terms]
    turns = _zeros([(-amplitude * rate, rate) for amplitude, rate in level[1:]])
    marks = [0.0, *turns]
    end = max(marks[-1], 1 / level[1][1])
    rest = level[1:]
    while abs(_sum(rest, end)) > 0.5 * abs(level[0][0]) and end < 1e12:
        end *= 2
    marks.append(end)
    found = []
    for low, high in pairwise(marks):
        at_low, at_high = _sum(level, low), _sum(level, high)
        if at_low * at_high < 0:
            found.append(_bracketed(level, low, high, at_low, at_high))
            if first:
                break
    return found


def _sum(terms: Sequence[tuple[float, float]], t: float) -> float:
    total = 0.0
    for amplitude, rate in terms:  # a plain loop: this is where a day of the plant spends its time
        total += amplitude * exp(-rate * t)
    return total


def _bracketed(terms: Sequence[tuple[float, float]], low: float, high: float, at_low: float, at_high: float) -> float:
    """The crossing between two times of opposite sign: false position, the stale end halved, bisection as a guard."""
    side = 0
    for step in range(200):
        if high - low <= max(1e-10, 4e-16 * high):
            break
        middle = (low * at_high - high * at_low) / (at_high - at_low) if step % 4 != 3 else 0.5 * (low + high)
        if not low < middle < high:
            middle = 0.5 * (low + high)
        at = _sum(terms, middle)
        if at == 0:
            return middle
        if at * at_low > 0:
            low, at_low = middle, at
            at_high *= 0.5 if side < 0 else 1.0
            side = -1
        else:
            high, at_high = middle, at
            at_low *= 0.5 if side > 0 else 1.0
            side = 1
    return 0.5 * (low + high)
