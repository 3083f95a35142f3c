"""Chance from a seed: one named stream a decision, so that a new decision never reshuffles old jobs."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

from ..plant.facts import Fact

__all__ = ["Chance"]

One = TypeVar("One")


@dataclass(frozen=True, slots=True)
class Chance:
    """Draws that follow from a seed and the name of the decision, and from nothing else."""

    seed: str

    def stream(self, decision: str) -> random.Random:
        """The stream of one decision."""
        return random.Random(f"{self.seed}/{decision}")

    def share(self, decision: str) -> float:
        """A number from 0 to below 1."""
        return self.stream(decision).random()

    def among(self, decision: str, choices: Sequence[One]) -> One:
        """One of the choices, each as likely."""
        return choices[int(self.share(decision) * len(choices))]

    def some(self, decision: str, choices: Sequence[One], count: int) -> list[One]:
        """So many different ones of the choices, in a drawn order; all of them where there are fewer."""
        left, stream = list(choices), self.stream(decision)
        return [left.pop(int(stream.random() * len(left))) for _ in range(min(count, len(left)))]

    def weighted(self, decision: str, choices: Sequence[One], weights: Sequence[float]) -> One:
        """One of the choices, by weight."""
        mark = self.share(decision) * sum(weights)
        for choice, weight in zip(choices, weights, strict=True):
            mark -= weight
            if mark < 0:
                return choice
        return choices[-1]

    def between(self, decision: str, low: float, high: float) -> float:
        """A number of four digits."""
        return float(f"{low + (high - low) * self.share(decision):.4g}")

    def of(self, decision: str, fact: Fact) -> float:
        """A number in a fact's range."""
        return self.between(decision, fact.low, fact.high)
