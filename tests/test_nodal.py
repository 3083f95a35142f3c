"""The nodal solve against its laws and 50-digit arithmetic, and what it says when a circuit cannot be."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from oracles import exact_reading, exact_thevenin, exact_volts
from strategies import changes, islands, networks, pairs, zones

from solvers.circuit import (
    OPEN,
    Branch,
    CircuitError,
    FloatingNodes,
    Network,
    NoSuchNode,
    Thevenin,
    begun,
    currents,
    potentials,
    solved,
    solved_once,
    thevenin,
    volts_between,
)

VOLTS = 1e-9
"""The engine promises 1e-5 V; it stays near 1e-13, and is held to this."""
OHMS = 1e-9
"""Relative. The engine promises 1e-5."""
ROUNDING = 1e-12
"""Relative room for a few hundred operations in double precision."""
METER = 10e6  # ohms


def total_emf(network: Network) -> float:
    return sum(abs(branch.emf) for branch in network)


# Laws


@given(networks())
def test_currents_into_every_node_sum_to_zero(network: Network) -> None:
    """Kirchhoff's current law holds at every node, to the rounding of volts times siemens there."""
    amperes = currents(network, network.nodes[0])
    for node in network.nodes:
        out = sum(amperes[b.name] for b in network if b.a == node) - sum(amperes[b.name] for b in network if b.b == node)
        siemens = sum(abs(branch.admittance) for branch in network if node in (branch.a, branch.b))
        assert 0 == pytest.approx(abs(out), abs=ROUNDING * total_emf(network) * siemens)


@given(networks())
def test_every_branch_obeys_its_own_equation(network: Network) -> None:
    """Volts across a branch are its emf plus its current times its impedance."""
    volts, amperes = potentials(network, network.nodes[0]), currents(network, network.nodes[0])
    for branch in network:
        across = branch.emf + amperes[branch.name] * branch.z
        assert across == pytest.approx(volts[branch.a] - volts[branch.b], abs=ROUNDING * total_emf(network))


@given(networks(leaky=True), st.data())
def test_an_elimination_begun_beforehand_ends_as_one_made_at_once(network: Network, data: st.DataObject) -> None:
    """Whichever branches come later, potentials, currents and what any two nodes look like are those of the whole circuit."""
    later = data.draw(st.sets(st.sampled_from([branch.name for branch in network]), max_size=4))
    fixed = [branch for branch in network if branch.name not in later]
    more = [branch for branch in network if branch.name in later]
    root = network.nodes[0]
    start = begun(fixed, root, {node for branch in more for node in (branch.a, branch.b)})
    whole, taken = solved(network, root), solved_once(Network([*fixed, *more]), root, start, more)
    room = ROUNDING * max(1.0, total_emf(network))
    for node in network.nodes:
        assert abs(whole.volts[node] - taken.volts[node]) <= room
        mine, yours = whole.thevenin(node, root), taken.thevenin(node, root)
        assert mine.z == pytest.approx(yours.z, rel=OHMS)


def test_a_branch_that_touches_what_is_eliminated_starts_afresh() -> None:
    """A later branch between nodes that were not kept is no error: the whole circuit is eliminated anew."""
    chain = [Branch(f"wire {n}", f"n{n}", f"n{n + 1}", 1.0 + n) for n in range(5)]
    start = begun(chain, "n0", {"n5"})
    more = [Branch("source", "n2", "n0", 2.0, emf=10.0)]
    network = Network([*chain, *more])
    assert potentials(network, "n0") == dict(solved_once(network, "n0", start, more).volts)


@given(networks(leaky=True), st.data())
def test_transfer_is_the_same_in_both_directions(network: Network, data: st.DataObject) -> None:
    """An emf in one branch drives through another the current the same emf there would drive through the first."""
    names = [branch.name for branch in network]
    one = data.draw(st.sampled_from(names[:-1]))
    other = data.draw(st.sampled_from(names[names.index(one) + 1 :]))
    silent = Network(Branch(b.name, b.a, b.b, b.z) for b in network)
    there = currents(silent.edited(one, emf=1.0), network.nodes[0])[other]
    back = currents(silent.edited(other, emf=1.0), network.nodes[0])[one]
    siemens = abs(network.branch(one).admittance) + abs(network.branch(other).admittance)
    assert there == pytest.approx(back, rel=1e-9, abs=ROUNDING * siemens)


@given(networks())
def test_sources_superpose(network: Network) -> None:
    """Potentials with all sources are the sum of the potentials each source makes alone."""
    reference = network.nodes[0]
    together = potentials(network, reference)
    alone = [
        potentials(Network(Branch(b.name, b.a, b.b, b.z, b.emf if b is source else 0.0) for b in network), reference)
        for source in network
        if source.emf
    ]
    for node, volts in together.items():
        assert sum(one[node] for one in alone) == pytest.approx(volts, abs=ROUNDING * total_emf(network))


@given(networks())
def test_power_is_balanced(network: Network) -> None:
    """What the sources give, in watts and in vars, is what the impedances take."""
    amperes = currents(network, network.nodes[0])
    taken = sum(abs(amperes[branch.name]) ** 2 * branch.z for branch in network)
    given_out = -sum(branch.emf * complex(amperes[branch.name]).conjugate() for branch in network)
    most = sum(abs(branch.emf) ** 2 * abs(branch.admittance) for branch in network)
    assert given_out == pytest.approx(taken, abs=ROUNDING * most)


@given(networks(leaky=True), st.randoms(use_true_random=False))
def test_order_and_direction_of_branches_do_not_matter(network: Network, chance: random.Random) -> None:
    """Shuffling the branches and turning some of them round with their emf leaves every potential alone."""
    shuffled = [
        Branch(b.name, b.b, b.a, b.z, -b.emf) if chance.random() < 0.5 else b for b in chance.sample(list(network), len(network))
    ]
    volts, again = potentials(network, "n0"), potentials(Network(shuffled), "n0")
    assert sorted(volts) == sorted(again)
    for node, expected in volts.items():
        assert expected == pytest.approx(again[node], abs=ROUNDING * total_emf(network))


@given(networks(leaky=True), st.data())
def test_the_reference_only_shifts_potentials(network: Network, data: st.DataObject) -> None:
    """Differences of potential are the same whichever node they are counted from."""
    a, b = data.draw(pairs(network))
    here, there = potentials(network, a), potentials(network, b)
    for node in network.nodes:
        assert here[node] - here[b] == pytest.approx(there[node], abs=ROUNDING * total_emf(network))


@given(networks(leaky=True), st.data())
def test_a_solve_leaves_its_network_alone(network: Network, data: st.DataObject) -> None:
    """Asking for a solution twice gives the same digits and changes nothing that went in."""
    before = tuple(network)
    a, b = data.draw(pairs(network))
    assert potentials(network, a) == potentials(network, a)
    assert thevenin(network, a, b) == thevenin(network, a, b)
    assert before == tuple(network)


# Against 50 digits


@given(networks(leaky=True) | islands(), st.data())
def test_a_loaded_reading_agrees_with_fifty_digits(network: Network, data: st.DataObject) -> None:
    """With a meter on any pair, and one branch opened, shorted or made resistive, the volts are right."""
    faulty = data.draw(changes(network))
    first, second = data.draw(pairs(faulty))
    assert exact_reading(faulty, first, second, METER) == pytest.approx(
        volts_between(faulty, first, second, METER), rel=0, abs=VOLTS
    )


@given(networks(leaky=True) | islands(), st.data())
def test_potentials_agree_with_fifty_digits(network: Network, data: st.DataObject) -> None:
    """Without a meter every potential is right too, even on an island that only leaks hold."""
    faulty = data.draw(changes(network))
    reference = "earth" if "earth" in faulty.nodes else "n0"
    expected, actual = exact_volts(faulty, reference), potentials(faulty, reference)
    for node, volts in expected.items():
        assert complex(volts) == pytest.approx(actual[node], rel=0, abs=VOLTS)


@given(networks(leaky=True) | islands(), st.data())
def test_thevenin_agrees_with_fifty_digits(network: Network, data: st.DataObject) -> None:
    """Source volts and source ohms of any pair are right, asked by name or of a solve with another reference."""
    faulty = data.draw(changes(network))
    first, second = data.draw(pairs(faulty))
    emf, z = map(complex, exact_thevenin(faulty, first, second))
    for seen in (thevenin(faulty, first, second), solved(faulty, faulty.nodes[-1]).thevenin(first, second)):
        assert emf == pytest.approx(seen.emf, rel=0, abs=VOLTS)
        assert z == pytest.approx(seen.z, rel=OHMS)


@pytest.mark.parametrize("opened", ["", "zone1.C.splice", "zone1.run", "X1.splice"])
def test_two_zones_agree_with_fifty_digits_on_every_pair(opened: str) -> None:
    """Every pair of a two-zone circuit reads right, healthy and with its only conductor to an island opened."""
    network = zones(2, opened=opened)
    volts = exact_volts(network, "earth")
    for place, first in enumerate(network.nodes):
        for second in network.nodes[place + 1 :]:
            seen = thevenin(network, first, second)
            assert complex(volts[first] - volts[second]) == pytest.approx(seen.emf, rel=0, abs=VOLTS)
            # Thevenin's theorem: what a meter makes of the pair follows from emf and impedance alone
            loaded = abs(seen.emf * METER / (seen.z + METER))
            assert loaded == pytest.approx(volts_between(network, first, second, METER), rel=0, abs=VOLTS)


def test_sixteen_zones_agree_with_fifty_digits() -> None:
    """The largest circuit promised, one zone's return lifted, is right at each of its 102 nodes."""
    network = zones(16, opened="zone3.return")
    expected, actual = exact_volts(network, "X2"), potentials(network, "X2")
    assert 102 == len(actual)
    for node, volts in expected.items():
        assert complex(volts) == pytest.approx(actual[node], rel=0, abs=VOLTS)


def test_an_island_between_two_sources_keeps_its_volts() -> None:
    """Two stiff supplies that only leaks tie to earth float where the leaks put them, not where rounding does."""
    network = Network(
        [
            Branch("one", "R", "C", 0.001, 28.0),
            Branch("heater", "R", "C", 26.0),
            Branch("other", "C", "Q", 0.0017, 24.0),
            Branch("C.leak", "C", "earth", 1e9),
            Branch("R.leak", "R", "earth", 1e9),
            Branch("Q.leak", "Q", "earth", 0.7e9),
        ]
    )
    expected, actual = exact_volts(network, "earth"), potentials(network, "earth")
    for node, volts in expected.items():
        assert float(volts) == pytest.approx(actual[node].real, rel=0, abs=VOLTS)


# What is said when a circuit cannot be solved

LOOP = Network([Branch("source", "R", "C", 2.0, 28.0), Branch("heater", "R", "C", 26.0)])


def test_a_loop_has_the_volts_of_its_divider() -> None:
    """28 V behind 2 ohms leaves 26 V on 26 ohms, 1 A round the loop, and shows 2 x 26 / 28 ohms to a load."""
    assert 26.0 == pytest.approx(potentials(LOOP, "C")["R"], abs=1e-12)
    assert 1.0 == pytest.approx(currents(LOOP, "C")["heater"], abs=1e-12)
    assert -1.0 == pytest.approx(currents(LOOP, "C")["source"], abs=1e-12)
    assert Thevenin(0.0, 0.0) == thevenin(LOOP, "R", "R")
    assert 52 / 28 == pytest.approx(thevenin(LOOP, "R", "C").z, rel=1e-12)


def test_an_open_branch_carries_nothing() -> None:
    """An open contact takes no current, has the whole emf across it, and looks like its supply to a meter."""
    opened = Network([Branch("source", "R", "C", 2.0, 28.0), Branch("contact", "R", "C", OPEN)])
    assert 0 == currents(opened, "C")["contact"]
    assert 28.0 == pytest.approx(potentials(opened, "C")["R"], abs=1e-12)


@pytest.mark.parametrize(
    "asked",
    [
        lambda: potentials(LOOP, "X"),
        lambda: currents(LOOP, "X"),
        lambda: solved(LOOP, "X"),
        lambda: thevenin(LOOP, "X", "C"),
        lambda: thevenin(LOOP, "R", "X"),
        lambda: thevenin(LOOP, "X", "X"),
        lambda: solved(LOOP, "C").thevenin("X", "C"),
        lambda: solved(LOOP, "C").thevenin("R", "X"),
    ],
)
def test_an_unknown_node_is_named_with_the_choices(asked) -> None:
    """Asking for a node that is not there shows the name asked for and the names there are."""
    with pytest.raises(NoSuchNode, match=r"no node 'X'; there are \['C', 'R'\]"):
        asked()


def test_the_whole_floating_island_is_named() -> None:
    """All nodes without a path to the reference are listed, and none that has one."""
    network = Network(
        [
            *LOOP,
            Branch("lifted", "W", "R", OPEN),
            Branch("coil", "W", "H", 20.0),
            Branch("run", "H", "S", 0.5),
            Branch("spare", "Y", "C", OPEN),
        ]
    )
    with pytest.raises(FloatingNodes, match=r"no path from \['H', 'S', 'W', 'Y'\] to 'C'"):
        potentials(network, "C")
    with pytest.raises(FloatingNodes, match=r"no path from \['C', 'H', 'R', 'S', 'W'\] to 'Y'"):
        potentials(network, "Y")


@pytest.mark.parametrize(
    "network",
    [
        Network([Branch("capacitor", "W", "C", -50j), Branch("coil", "R", "W", 50j), Branch("source", "R", "C", 1, 24)]),
        Network([Branch("coil", "R", "C", 50j, 24.0), Branch("capacitor", "R", "C", -50j)]),
        Network([Branch("coil", "R", "C", 50j), Branch("capacitor", "R", "C", -50j)]),
    ],
    ids=["in series", "in parallel with a source", "in parallel"],
)
def test_a_lossless_resonance_is_named(network: Network) -> None:
    """A coil and a capacitor that cancel exactly are named as the cause, not a division by zero."""
    with pytest.raises(CircuitError, match="a coil and a capacitor cancel each other exactly"):
        potentials(network, "C")


def test_a_lossless_tank_beside_other_paths_is_solved() -> None:
    """A coil and a capacitor that cancel between two nodes that are joined otherwise just carry no net current."""
    network = LOOP + [Branch("coil", "R", "C", 50j), Branch("capacitor", "R", "C", -50j)]
    assert 26.0 == pytest.approx(potentials(network, "C")["R"], abs=1e-12)
    assert -26 / 50j == pytest.approx(currents(network, "C")["capacitor"], abs=1e-12)


def test_every_error_of_the_engine_is_a_circuit_error() -> None:
    """A caller that catches CircuitError catches every way in which a circuit can be wrong."""
    assert (CircuitError, CircuitError) == (NoSuchNode.__base__, FloatingNodes.__base__)
    assert issubclass(CircuitError, ValueError)
