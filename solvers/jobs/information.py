"""What a test is worth: entropy over suspects, what a test is expected to leave of it, and orders that follow.

Source: de Kleer and Williams, "Diagnosing multiple faults", Artificial Intelligence 32 (1987); Kalagnanam and Henrion,
arXiv 1304.2362, for the order of tests that each look at one cause.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence

__all__ = ["by_cost_and_chance", "entropy", "expected_entropy", "information"]


def entropy(weights: Iterable[float]) -> float:
    """Bits of doubt among alternatives of these weights, which need not sum to 1; none where nothing has weight."""
    kept = [weight for weight in weights if weight > 0]
    total = sum(kept)
    return -sum(weight / total * math.log2(weight / total) for weight in kept)


def expected_entropy(groups: Sequence[Sequence[float]], silent: Sequence[float] = (), outcomes: int = 2) -> float:
    """Bits that a test is expected to leave. It parts the alternatives into groups, whose weights these are.

    `silent` are those that predict nothing for the test: they may show any of its `outcomes`, each as likely.
    """
    count = max(outcomes, len(groups))
    spread = [weight / count for weight in silent]
    shown = [[*group, *spread] for group in groups] + [spread] * (count - len(groups) if silent else 0)
    total = sum(map(sum, shown))
    return sum(sum(group) / total * entropy(group) for group in shown if sum(group) > 0)


def information(groups: Sequence[Sequence[float]]) -> float:
    """Bits that a test is expected to give when its groups never overlap."""
    return entropy([sum(group) for group in groups]) if len(groups) > 1 else 0.0


def by_cost_and_chance(tests: Mapping[str, tuple[float, float]]) -> tuple[str, ...]:
    """Tests of one cause each, (cost, chance of that cause), in the order of least expected cost: rising cost per chance."""
    return tuple(sorted(tests, key=lambda name: tests[name][0] / tests[name][1] if tests[name][1] else math.inf))
