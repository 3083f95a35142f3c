"""The fast tables against fifty digits, for every single fault of the plant's circuits, and the plain solve beside them."""

from __future__ import annotations

import itertools
import random
from collections import Counter

import mpmath
import numpy as np
import pytest
import reference_circuits
from benchmarks.circuits import lean_faults, lean_states, plant_state
from hypothesis import given
from hypothesis import strategies as st
from oracles import DIGITS, exact_reading, exact_thevenin
from strategies import changes, islands, networks, pairs, zones

from solvers.circuit import (
    OPEN,
    Branch,
    CircuitError,
    FloatingNodes,
    Network,
    NoSuchBranch,
    NoSuchNode,
    solved,
    volts_between,
)
from solvers.circuit.tables import ohms_table, table
from solvers.plant.running import at_rest, called, waited
from solvers.plant.running import network as plant_network

REFERENCES = ("REF_A", "REF_B", "REF_C", "REF_D", "REF_E")
VOLTS = 1e-8
"""The tables promise this, a thousandth of what the engine promises; they stay near 5e-10, on 10 megohms near 1e-13."""
OHMS = 1e-8
"""Relative, as above."""
PLAIN = 1e-9
"""Volts and share of the ohms; what test_nodal.py holds the plain solve to."""
SIZES = (OPEN, 1e-3, 3.0, 470.0, 1e5)
"""Opened, shorted, and made resistive, in ohms."""


def siemens(ohms: complex):
    """In fifty digits, 0 for OPEN."""
    return mpmath.mpf(0) if ohms == OPEN else 1 / mpmath.mpmathify(ohms)


class Exact:
    """A network eliminated in fifty digits, and every change of one branch from it by a rank-1 update.

    Fifty digits less the twenty-four that siemens from 1e3 to 1e-9 can cost leave more than double precision has.
    """

    def __init__(self, network: Network) -> None:
        self.network = network
        self.index = {node: number for number, node in enumerate(network.nodes[1:])}
        self.rows: list[dict[int, mpmath.mpc]] = [{} for _ in self.index]
        injected = [mpmath.mpf(0)] * len(self.index)
        for branch in network:
            if branch.z == OPEN:
                continue
            y = siemens(branch.z)
            for here, there, sign in ((branch.a, branch.b, 1), (branch.b, branch.a, -1)):
                if here in self.index:
                    row = self.rows[self.index[here]]
                    row[self.index[here]] = row.get(self.index[here], 0) + y
                    injected[self.index[here]] += sign * y * mpmath.mpmathify(branch.emf)
                    if there in self.index:
                        row[self.index[there]] = row.get(self.index[there], 0) - y
        self.steps = list(self._eliminated())
        self.volts = self._substituted(injected)

    def _eliminated(self):
        left = set(range(len(self.rows)))
        while left:
            node = min(left, key=lambda number: (len(self.rows[number]), number))
            left.discard(node)
            row = self.rows[node]
            own = row.pop(node)
            for other, y in row.items():
                del self.rows[other][node]
                for third, share in row.items():
                    self.rows[other][third] = self.rows[other].get(third, 0) - y / own * share
            yield node, own, row

    def _substituted(self, injected: list) -> list:
        found = list(injected)
        for node, own, row in self.steps:
            if found[node]:
                for other, y in row.items():
                    found[other] -= found[node] / own * y
        for node, own, row in reversed(self.steps):
            found[node] = (found[node] - sum(y * found[other] for other, y in row.items())) / own
        return found

    def across(self, volts: list, a: str, b: str):
        """Volts of a against b."""
        return sum(sign * volts[self.index[node]] for sign, node in ((1, a), (-1, b)) if node in self.index)

    def injected(self, a: str, b: str) -> list:
        """Volts of every node for an ampere into a and out of b, emfs silent."""
        amperes = [mpmath.mpf(0)] * len(self.index)
        for sign, node in ((1, a), (-1, b)):
            if node in self.index:
                amperes[self.index[node]] = mpmath.mpf(sign)
        return self._substituted(amperes)

    def thevenins(self, faults: list[tuple[str, complex]], probes: list[tuple[str, str]]):
        """For each fault and each pair its open-circuit volts and its ohms."""
        z = {pair: self.across(self.injected(*pair), *pair) for pair in probes}
        for name, ohms in faults:
            branch = self.network.branch(name)
            rise = self._risen(branch)
            more = siemens(ohms) - siemens(branch.z)
            share = more / (1 + more * self.across(rise, branch.a, branch.b))
            drop = self.across(self.volts, branch.a, branch.b) - mpmath.mpmathify(branch.emf)
            yield [
                (self.across(self.volts, *pair) - share * drop * step, z[pair] - share * step * step)
                for pair in probes
                for step in [self.across(rise, *pair)]
            ]

    def _risen(self, branch: Branch) -> list:
        if getattr(self, "last", ("", None))[0] != branch.name:
            self.last = branch.name, self.injected(branch.a, branch.b)
        return self.last[1]


def worst(
    network: Network, faults: list[tuple[str, complex]], probes: list[tuple[str, str]], meter: float | None, plainly: bool = True
) -> tuple[float, float]:
    """The largest errors of the tables and of the plain solve: volts on a meter, or with None the share of the ohms."""
    fast = ohms_table([network], faults, probes)[0] if meter is None else table([network], faults, probes, ohms=meter)[0]
    assert np.isfinite(fast).all()
    off_fast = off_plain = 0.0
    with mpmath.workdps(DIGITS):
        for row, (name, ohms), found in zip(fast, faults, Exact(network).thevenins(faults, probes), strict=True):
            plain = solved(network.edited(name, z=ohms), network.nodes[0]) if plainly else None
            for reading, pair, (emf, z) in zip(row, probes, found, strict=True):
                seen = plain.thevenin(*pair) if plain else None
                if meter is None:
                    off_fast = max(off_fast, float(abs(reading / z - 1)))
                    off_plain = max(off_plain, float(abs(seen.z / z - 1)) if seen else 0)
                else:
                    expected = float(abs(emf) * meter / abs(meter + z))
                    off_fast = max(off_fast, abs(reading - expected))
                    off_plain = max(off_plain, abs(abs(seen.emf) * meter / abs(meter + seen.z) - expected) if seen else 0)
    return off_fast, off_plain


def every_fault(network: Network, *, step: int = 1) -> list[tuple[str, complex]]:
    """Each branch, or each so-manieth, at each of SIZES that it does not have already."""
    return [(branch.name, ohms) for branch in network.branches[::step] for ohms in SIZES if ohms != branch.z]


def some_pairs(network: Network, count: int, seed: str) -> list[tuple[str, str]]:
    """That many pairs of nodes, spread by chance."""
    return random.Random(seed).sample(list(itertools.combinations(network.nodes, 2)), count)


# Accuracy


@pytest.mark.parametrize("meter", [10e6, 3e3, None], ids=["volts", "volts low-Z", "ohms"])
@pytest.mark.parametrize(
    ("leads", "calls", "step"),
    [
        (4, (True,), 1),
        (3, (False,), 1),
        (3, (True,), 1),
        (4, (False, True), 1),
        (3, (True, True), 1),
        (3, (True, False, False, True), 3),
        (4, (True, False, False, True, False, False, True, False), 12),
    ],
    ids=lambda value: "".join("01"[call] for call in value) if isinstance(value, tuple) else str(value),
)
def test_single_faults_agree_with_fifty_digits(leads: int, calls: tuple[bool, ...], step: int, meter: float | None) -> None:
    """Any branch opened, shorted or made resistive reads right in the table and in the plain solve, strays and leaks too."""
    network = plant_state(len(calls), calls, leads, hz=0.0 if meter is None else 60.0)
    fast, plain = worst(network, every_fault(network, step=step), some_pairs(network, 6, f"{leads}/{calls}"), meter)
    assert 0 == pytest.approx(fast, abs=OHMS if meter is None else VOLTS)
    assert 0 == pytest.approx(plain, abs=PLAIN)


@pytest.mark.parametrize("ohms", SIZES[1:])
def test_a_changed_branch_reads_right_across_itself(ohms: float) -> None:
    """The ohms between the ends of the branch that changed are right too, where a gigohm falls to a milliohm."""
    network = plant_state(2, (True, False), hz=0.0)
    names = [branch.name for branch in network if branch.z != ohms]
    found = ohms_table([network], [(name, ohms) for name in names], [(branch.a, branch.b) for branch in network])[0]
    for row, name in zip(found, names, strict=True):
        branch = network.branch(name)
        expected = solved(network.edited(name, z=ohms), branch.b).thevenin(branch.a, branch.b).z
        assert expected == pytest.approx(row[network.branches.index(branch)], rel=OHMS)


@pytest.mark.slow
@pytest.mark.parametrize("meter", [10e6, None], ids=["volts", "ohms"])
@pytest.mark.parametrize("leads", [3, 4])
@pytest.mark.parametrize("count", range(1, 9))
def test_all_single_faults_of_one_to_eight_zones_agree_with_fifty_digits(count: int, leads: int, meter: float | None) -> None:
    """The same for every branch of one to eight zones, none, some and all of them calling, on a dozen pairs."""
    for calls in sorted({(False,) * count, (True, False) * (count // 2) + (True,) * (count % 2), (True,) * count}):
        network = plant_state(count, calls, leads, hz=0.0 if meter is None else 60.0)
        fast, plain = worst(network, every_fault(network), some_pairs(network, 12, f"all/{leads}/{calls}"), meter)
        assert 0 == pytest.approx(fast, abs=OHMS if meter is None else VOLTS)
        assert 0 == pytest.approx(plain, abs=PLAIN)


def reference(name: str, called_zones: int, hz: float) -> Network:
    """A reference circuit ten minutes after so many of its zones have called; hz 0 as an ohmmeter meets it."""
    here = getattr(reference_circuits, name)
    state = at_rest(here)
    for zone in here.zones[:called_zones]:
        state = called(here, state, f"{zone}.stat", True)
    return plant_network(here, waited(here, state, 600.0)[0], hz)


@pytest.mark.parametrize("meter", [10e6, None], ids=["volts", "ohms"])
@pytest.mark.parametrize(
    ("name", "step"),
    [
        *(pytest.param(name, step, id=f"{name}, some") for name, step in zip(REFERENCES, (3, 9, 9, 9, 5), strict=True)),
        *(pytest.param(name, 1, id=f"{name}, all", marks=pytest.mark.slow) for name in REFERENCES),
    ],
)
def test_single_faults_of_the_reference_circuits_agree_with_fifty_digits(name: str, step: int, meter: float | None) -> None:
    """Relay, two sources and shared commons too: any branch opened, shorted or made resistive reads right."""
    for called_zones in (0, 1, 4):
        network = reference(name, called_zones, 0.0 if meter is None else 60.0)
        ties = Counter(node for branch in network if branch.z != OPEN for node in (branch.a, branch.b))
        lonely = {branch.name for branch in network if 1 in (ties[branch.a], ties[branch.b])}  # opened, a node would float
        faults = [(branch, ohms) for branch, ohms in every_fault(network, step=step) if ohms != OPEN or branch not in lonely]
        fast, plain = worst(network, faults, some_pairs(network, 6, f"{name}/{called_zones}"), meter)
        assert 0 == pytest.approx(fast, abs=OHMS if meter is None else VOLTS)
        assert 0 == pytest.approx(plain, abs=PLAIN)


def test_the_fifty_digits_agree_with_those_of_a_solve_of_its_own() -> None:
    """What the faults are held to is what modified nodal analysis says of the faulty circuit, pair by pair."""
    network = zones(1)
    probes = [("zone1.W", "X2"), ("zone1.E", "earth"), ("TT", "zone1.H")]
    faults = [("zone1.return", OPEN), ("X1.splice", OPEN), ("zone1.heater", 1e-3), ("zone1.E.leak", 470.0)]
    with mpmath.workdps(DIGITS):
        for (name, ohms), row in zip(faults, Exact(network).thevenins(faults, probes), strict=True):
            for pair, found in zip(probes, row, strict=True):
                expected = exact_thevenin(network.edited(name, z=ohms), *pair)
                assert all(abs(one - other) <= 1e-15 * abs(other) for one, other in zip(found, expected, strict=True))


# The trap: the only conductor to an island that leaks alone hold

TRAPS = ["zone2.R.splice", "X1.splice", "zone1.run", "zone2.C.splice", "zone1.C.splice"]


@pytest.mark.parametrize("ohms", [10e6, 1e9])
def test_opening_the_only_conductor_to_an_island_reads_right(ohms: float) -> None:
    """An island that only 1e-9 S still holds reads as in fifty digits, on a meter and on almost none."""
    network = zones(2)
    every = list(itertools.combinations(network.nodes, 2))
    found = table([network], [(name, OPEN) for name in TRAPS], ohms=ohms)[0]
    for name, row in zip(TRAPS, found, strict=True):
        faulty = network.edited(name, z=OPEN)
        for place in range(0, len(every), 11):
            expected = float(exact_reading(faulty, *every[place], ohms))
            assert expected == pytest.approx(row[place], rel=0, abs=VOLTS)


def test_the_trap_is_one() -> None:
    """A rank-1 update of the nodal inverse, the obvious way, is more than a millivolt off where the table is right."""
    network, meter = zones(2), 10e6
    nodes = [node for node in network.nodes if node != "earth"]
    incidence = np.array([[(branch.a == node) - (branch.b == node) for node in nodes] for branch in network], float)
    y, emf = np.array([branch.admittance for branch in network]), np.array([branch.emf for branch in network])
    inverse = np.linalg.inv((incidence.T * y) @ incidence)
    number = [branch.name for branch in network].index("X1.splice")
    rise = inverse @ incidence[number]
    share = -y[number] / (1 - y[number] * (incidence[number] @ rise))
    updated = inverse - share * np.outer(rise, rise)
    volts = updated @ (incidence.T @ (np.where(np.arange(len(y)) == number, 0, y) * emf))
    probes = list(itertools.combinations(nodes, 2))
    right = table([network], [("X1.splice", OPEN)], probes, ohms=meter)[0, 0]
    off = 0.0
    for (red, black), expected in zip(probes, right, strict=True):
        i, j = nodes.index(red), nodes.index(black)
        z = updated[i, i] + updated[j, j] - 2 * updated[i, j]
        off = max(off, abs(abs(volts[i] - volts[j]) * meter / abs(meter + z) - expected))
    assert off > 1e-3


def test_an_island_between_two_stiff_sources_reads_right() -> None:
    """Two milliohm supplies that only leaks tie to earth float where the leaks put them, also with one lead lifted."""
    network = Network(
        [
            Branch("one", "R", "C", 0.001, 28.0),
            Branch("heater", "R", "C", 26.0),
            Branch("other", "C", "Q", 0.0017, 24.0),
            *(Branch(f"{node}.leak", node, "earth", 1e9 * share) for node, share in zip("RCQ", (1.0, 1.3, 0.7), strict=True)),
        ]
    )
    every = list(itertools.combinations(network.nodes, 2))
    faults = [("heater", 26.0), ("other", OPEN), ("one", OPEN)]
    found = table([network], faults, every, ohms=1e12)[0]
    for (name, z), row in zip(faults, found, strict=True):
        expected = [float(exact_reading(network.edited(name, z=z), *pair, 1e12)) for pair in every]
        assert expected == pytest.approx(row.tolist(), rel=0, abs=1e-11)


# Laws


@given(networks(leaky=True) | islands(), st.data())
def test_any_circuit_reads_as_the_plain_solve_does(network: Network, data: st.DataObject) -> None:
    """Random circuits, coils and capacitors included, healthy and with any one change, read as one by one."""
    faulty, pair = data.draw(changes(network)), data.draw(pairs(network))
    faults = [(now.name, now.z) for was, now in zip(network, faulty, strict=True) if was != now]
    found = table([network], [None, *faults], [pair], ohms=10e6)[0, :, 0]
    volts = sum(abs(branch.emf) for branch in network)
    expected = [volts_between(one, *pair, 10e6) for one in (network, faulty)[: 1 + len(faults)]]
    assert expected == pytest.approx(found.tolist(), rel=0, abs=VOLTS * max(1.0, volts))


def test_every_reading_of_a_table_stands_for_itself() -> None:
    """A state, a fault or a pair alone reads as in the whole table, in the order of the arguments."""
    states, faults = lean_states(2), [None, *lean_faults(2)]
    every = list(itertools.combinations(states[0].nodes, 2))
    whole = table(states, faults)
    assert (4, 1 + 32, 325) == whole.shape
    chosen = [every[300], every[2][::-1], every[17]]
    again = table(states[2:], faults[:20:-1], chosen)
    assert whole[2:, :20:-1][:, :, [300, 2, 17]] == pytest.approx(again, rel=0, abs=1e-12)
    for state, fault in itertools.product((0, 3), (0, 5, 24, 32)):
        assert whole[state, fault] == pytest.approx(table([states[state]], [faults[fault]])[0, 0], rel=0, abs=1e-12)


def test_one_answer_in_portions_and_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """How many circuits and readings are taken together changes no reading."""
    states, faults = lean_states(2), lean_faults(2)
    expected = table(states, faults)
    monkeypatch.setattr("solvers.circuit.tables.CIRCUITS_AT_ONCE", 1)
    monkeypatch.setattr("solvers.circuit.tables.READINGS_AT_ONCE", 100)
    assert expected == pytest.approx(table(states, faults), rel=0, abs=1e-12)


def test_one_answer_by_update_and_by_a_solve_of_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    """Steep changes, which are solved anew, read as they do by an update, to the digits that this costs."""
    network = plant_state(1, (True,), hz=0.0)
    faults = [("zone1.valve.heater", 1e-3), ("leak boiler.T1", 1e-3), ("leak boiler.T1", 1e5)]
    expected = ohms_table([network], faults)
    monkeypatch.setattr("solvers.circuit.tables.STEEPEST", 0.0)
    assert expected == pytest.approx(ohms_table([network], faults), rel=OHMS)


def test_nothing_wrong_and_a_branch_at_its_own_ohms_are_one() -> None:
    """None, and a fault that changes nothing, both give the healthy readings."""
    found = table(lean_states(1), [None, ("fuse", 0.05)])
    assert 0 == np.abs(found[:, 0] - found[:, 1]).max()
    assert 27.5 == pytest.approx(found[0, 0, 0], abs=1e-5)  # the transformer's terminals, nothing calling


def test_single_precision_is_only_a_rounding() -> None:
    """np.float32 holds what double precision found, rounded to 6e-8 of the reading."""
    states, faults = lean_states(2), lean_faults(2)
    exact, rounded = table(states, faults), table(states, faults, dtype=np.float32)
    assert np.float32 == rounded.dtype
    assert np.abs(rounded - exact).max() <= 6e-8 * exact.max()
    assert not np.array_equal(rounded, exact)


def test_empty_lists_give_empty_tables() -> None:
    """No faults, no pairs, or the same node twice are answered too."""
    states = lean_states(1)
    assert (2, 0, 153) == table(states, []).shape
    assert (2, 1, 0) == table(states, [None], []).shape
    assert 0 == np.abs(table(states, [None], [("R", "R")])).max()
    assert 0 == np.abs(ohms_table([LOOP], [None], [("R", "R")])).max()


# What is said

LOOP = Network([Branch("source", "R", "C", 2.0, 28.0), Branch("heater", "R", "C", 26.0)])
TAIL = LOOP + [Branch("tail", "C", "S", 0.5)]


@pytest.mark.parametrize(
    ("asked", "error", "words"),
    [
        (lambda: table([], [None]), CircuitError, "a table of no states; give at least one network"),
        (lambda: table([Network()], [None]), CircuitError, "state 0 has no branches"),
        (lambda: table([LOOP, TAIL], [None]), CircuitError, "state 1 has 3 branches, state 0 2; only ohms and volts may differ"),
        (
            lambda: table([LOOP, Network([*LOOP.branches[:1], Branch("heater", "C", "R", 26.0)])], [None]),
            CircuitError,
            "state 1 has 'heater' from 'C' to 'R' where state 0 has 'heater' from 'R' to 'C'",
        ),
        (lambda: table([LOOP], [("haeter", OPEN)]), NoSuchBranch, r"no branch 'haeter'; there are \['heater', 'source'\]"),
        (lambda: table([LOOP], [("heater", -1.0)]), CircuitError, "branch 'heater' has impedance -1.0"),
        (lambda: table([LOOP], [None], [("R", "X")]), NoSuchNode, r"no node 'X'; there are \['C', 'R'\]"),
        (lambda: table([LOOP], [None], ohms=0.0), CircuitError, "a meter of 0.0 ohms"),
        (lambda: table([LOOP], [None], ohms=OPEN), CircuitError, "a meter of inf ohms"),
        (lambda: table([LOOP], [None], dtype=np.float16), CircuitError, "float16.*readings are np.float64 or np.float32"),
        (lambda: ohms_table([LOOP.edited("heater", z=70 + 187j)], [None]), CircuitError, "an impedance has a reactance"),
        (lambda: ohms_table([LOOP], [("heater", 70 + 187j)]), CircuitError, "an impedance has a reactance"),
        (
            lambda: table([TAIL.edited("tail", z=OPEN)], [None]),
            FloatingNodes,
            r"state 0: no path from \['S'\] to 'R'",
        ),
        (
            lambda: table([TAIL, TAIL], [None, ("tail", OPEN)]),
            FloatingNodes,
            r"state 0 with 'tail' at inf ohms: no path from \['S'\] to 'R'",
        ),
        (
            lambda: table([Network([Branch("coil", "R", "C", 50j), Branch("capacitor", "R", "C", -50j)])], [None]),
            CircuitError,
            "a coil and a capacitor cancel each other exactly",
        ),
        (
            lambda: table([Network([Branch("coil", "R", "C", 50j), Branch("capacitor", "R", "C", -70j)])], [("capacitor", -50j)]),
            CircuitError,
            "state 0 with 'capacitor' at .*-50j.* ohms: a coil and a capacitor cancel each other exactly",
        ),
    ],
)
def test_what_cannot_be_is_named(asked, error: type, words: str) -> None:
    """Wrong use and impossible circuits are named with the value, its place in the table and the choices."""
    with pytest.raises(error, match=words):
        asked()
