"""What a tree of tests is expected to cost: the reference's, and the least that any tree can."""

from functools import cache

from solvers.jobs.reference import best
from solvers.jobs.survey import split

__all__ = ["cheapest", "followed", "gap"]


def followed(found):
    """Expected readings of the reference tree, from all suspects down to one each."""

    def cost(live):
        chosen = best(found, live) if len(live) > 1 else None
        if chosen is None:
            return 0.0
        here = chosen.cost * sum(found.weights[number] for number in live)
        return here + sum(cost(group) for group in split(found, chosen.probe, live))

    return cost(tuple(range(len(found.suspects))))


def cheapest(found):
    """Expected readings of the best tree, by dynamic programming over the sets of suspects that any test can leave.

    As the reference's, it ends where one suspect is left, or where no test tells the rest apart.
    """

    @cache
    def cost(live):
        if len(live) < 2:
            return 0.0
        here = sum(found.weights[number] for number in live)
        least = {}
        for probe in found.kinds:
            groups = split(found, probe, live)
            if len(groups) > 1:
                least[groups] = min(probe.cost, least.get(groups, probe.cost))
        totals = [price * here + sum(map(cost, groups)) for groups, price in least.items()]
        return min(totals, default=0.0)

    return cost(tuple(range(len(found.suspects))))


def gap(found):
    """How many times the least expected cost the reference's is."""
    least = cheapest(found)
    return followed(found) / least if least else 1.0
