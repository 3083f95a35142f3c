"""Diagnosis by expected entropy, on the adders and multipliers of de Kleer and Williams, Artificial Intelligence 32 (1987).

The set-up is from memory of that paper; conflicts, candidates and entropies are recomputed here by exhaustive search. The
order of single tests is that of Kalagnanam and Henrion, arXiv 1304.2362.
"""

import math
from itertools import combinations, permutations

import pytest

from solvers.jobs.information import by_cost_and_chance, entropy, expected_entropy, information

INPUTS = {"A": 3, "B": 2, "C": 2, "D": 3, "E": 3}
PARTS = {
    "M1": (("A", "C"), "X", "times"),
    "M2": (("B", "D"), "Y", "times"),
    "M3": (("C", "E"), "Z", "times"),
    "A1": (("X", "Y"), "F", "plus"),
    "A2": (("Y", "Z"), "G", "plus"),
}
SEEN = {"F": 10, "G": 12}
FAULTY = 0.01  # chance that a part is


def _follows(sound):
    """Every value that follows from inputs and observations if these parts are sound; None if they contradict."""
    known = INPUTS | SEEN
    while True:
        before = len(known)
        for part in sound:
            (a, b), out, kind = PARTS[part]
            if a in known and b in known:
                value = known[a] * known[b] if kind == "times" else known[a] + known[b]
                if known.setdefault(out, value) != value:
                    return None
            elif kind == "plus" and out in known and (a in known) != (b in known):
                have, want = (a, b) if a in known else (b, a)
                known[want] = known[out] - known[have]
        if len(known) == before:
            return known


def _candidates():
    """The smallest sets of parts that, if faulty, explain what is seen."""
    found = []
    for count in range(len(PARTS) + 1):
        for faulty in combinations(PARTS, count):
            if any(set(smaller) <= set(faulty) for smaller in found):
                continue
            if _follows(set(PARTS) - set(faulty)) is not None:
                found.append(faulty)
    return found


CANDIDATES = _candidates()
CHANCES = [FAULTY ** len(one) * (1 - FAULTY) ** (len(PARTS) - len(one)) for one in CANDIDATES]


def _groups(point):
    values = [_follows(set(PARTS) - set(one)).get(point) for one in CANDIDATES]
    return [[chance for chance, value in zip(CHANCES, values, strict=True) if value == shown] for shown in dict.fromkeys(values)]


def test_the_minimal_candidates():
    """A1, M1, A2 with M2, and M2 with M3."""
    assert {("A1",), ("M1",), ("M2", "A2"), ("M2", "M3")} == set(CANDIDATES)


def test_their_entropy():
    """0.4950, 0.4950, 0.0050 and 0.0050: 1.080793 bits."""
    total = sum(CHANCES)
    assert [0.4950, 0.4950, 0.0050, 0.0050] == pytest.approx(sorted((c / total for c in CHANCES), reverse=True), abs=5e-5)
    assert 1.080793 == pytest.approx(entropy(CHANCES), abs=5e-7)


@pytest.mark.parametrize(("point", "left"), [("X", 0.080865), ("Y", 1.0), ("Z", 1.035378)])
def test_what_each_probe_is_expected_to_leave(point, left):
    """X is the point to probe: it leaves least doubt."""
    groups = _groups(point)
    assert left == pytest.approx(expected_entropy(groups), abs=5e-7)
    assert left == pytest.approx(entropy(CHANCES) - information(groups), abs=5e-7)


def test_the_probe_is_x():
    """Of the three points the one that is expected to give most is X."""
    assert max("XYZ", key=lambda point: information(_groups(point))) == "X"


def test_alternatives_that_predict_nothing_keep_their_doubt():
    """The published score: n (p/n) ln (p/n) of what predicts nothing for the point is what it does not resolve."""
    told, silent = [[0.3], [0.2]], [0.5]
    p_each = [0.3 + 0.25, 0.2 + 0.25]
    score = sum(p * math.log2(p) for p in p_each) + 0.5 * math.log2(0.5) - 2 * 0.25 * math.log2(0.25)
    assert entropy([0.3, 0.2, 0.5]) + score == pytest.approx(expected_entropy(told, silent))


@pytest.mark.parametrize("joints", [2, 4, 8, 16, 32])
def test_half_splitting(joints):
    """Among equally likely joints in series the most telling test is the middle one, and log2 N of them end it."""
    live, tests = list(range(joints)), 0
    while len(live) > 1:
        gives = {cut: information([[1.0] * cut, [1.0] * (len(live) - cut)]) for cut in range(1, len(live))}
        cut = max(gives, key=gives.get)
        assert cut == len(live) / 2
        live, tests = live[:cut], tests + 1
    assert tests == math.log2(joints)


def test_single_tests_in_the_order_of_cost_per_chance():
    """No order of tests that each look at one cause has a lower expected cost than rising cost per chance."""
    tests = {"look": (0.5, 0.1), "volts": (1.0, 0.4), "ohms": (3.0, 0.3), "licensed": (6.0, 0.2)}

    def expected(order):
        spent, total = 0.0, 0.0
        for name in order:
            spent += tests[name][0]
            total += tests[name][1] * spent
        return total

    best = min(permutations(tests), key=expected)
    assert expected(best) == pytest.approx(expected(by_cost_and_chance(tests)))
    assert expected(best) < expected(tuple(reversed(by_cost_and_chance(tests))))
