"""Circuits as data: what may be built, what is refused and in which words."""

from __future__ import annotations

import dataclasses
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from strategies import networks

from solvers.circuit import OPEN, Branch, CircuitError, Network, NoSuchBranch

LOOP = Network([Branch("source", "R", "C", 2.0, 28.0), Branch("heater", "R", "W", 26.0), Branch("stat", "W", "C", OPEN)])


@pytest.mark.parametrize(
    "z", [0, 0.0, 0j, math.nan, complex(math.nan, 1), -1.0, -1 + 5j, -math.inf, complex(1, math.inf)], ids=repr
)
def test_an_impossible_impedance_is_refused_by_name(z: complex) -> None:
    """Zero, negative and undefined ohms are refused; the message names the branch, the value and a way out."""
    with pytest.raises(CircuitError) as refused:
        Branch("zone1.run", "R", "W", z)
    said = str(refused.value)
    assert [] == [part for part in ("'zone1.run'", repr(z), "ohms above zero", "0.001", "OPEN") if part not in said]


@pytest.mark.parametrize("emf", [math.nan, math.inf, -math.inf, complex(0, math.nan)], ids=repr)
def test_an_impossible_emf_is_refused_by_name(emf: complex) -> None:
    """Volts that are no number are refused; the message names the branch and the value."""
    with pytest.raises(CircuitError, match=r"branch 'transformer' has emf .*; give finite volts") as refused:
        Branch("transformer", "R", "C", 1.0, emf)
    assert repr(emf) in str(refused.value)


def test_a_branch_joins_two_different_nodes() -> None:
    """A branch that ends where it begins is refused by name."""
    with pytest.raises(CircuitError, match="branch 'jumper' begins and ends at 'R'"):
        Branch("jumper", "R", "R", 1.0)


def test_two_branches_may_not_share_a_name() -> None:
    """A second branch of the same name is refused, whether given at once or added later."""
    again = Branch("heater", "R", "C", 5.0)
    with pytest.raises(CircuitError, match="two branches are called 'heater'"):
        Network([*LOOP, again])
    with pytest.raises(CircuitError, match="two branches are called 'heater'"):
        LOOP + [again]


@pytest.mark.parametrize(
    ("z", "expected"), [(OPEN, 0.0), (complex(math.inf), 0.0), (4.0, 0.25), (3 + 4j, 0.12 - 0.16j), (-50j, 0.02j)]
)
def test_admittance_is_one_over_impedance(z: complex, expected: complex) -> None:
    """Siemens are 1 / ohms, and none for an open branch."""
    assert expected == pytest.approx(Branch("any", "a", "b", z).admittance, rel=1e-15)


@pytest.mark.parametrize(
    "asked",
    [
        lambda: LOOP.branch("haeter"),
        lambda: LOOP.edited("haeter", z=1.0),
        lambda: LOOP.without("haeter"),
    ],
    ids=["branch", "edited", "without"],
)
def test_an_unknown_branch_is_named_with_the_choices(asked) -> None:
    """Asking for a branch that is not there shows the name asked for and the names there are, sorted."""
    with pytest.raises(NoSuchBranch, match=r"no branch 'haeter'; there are \['heater', 'source', 'stat'\]"):
        asked()


def test_edited_is_the_same_network_but_for_one_branch() -> None:
    """Editing changes the named fields of one branch in its place and leaves the original as it was."""
    before = tuple(LOOP)
    edited = LOOP.edited("stat", z=0.02, b="C2")
    assert ("source", "heater", "stat") == tuple(branch.name for branch in edited)
    assert Branch("stat", "W", "C2", 0.02) == edited.branch("stat")
    assert before == tuple(LOOP)
    assert edited.edited("stat", z=OPEN, b="C") == LOOP


def test_an_edit_is_checked_like_a_new_branch() -> None:
    """An edit that makes a branch impossible is refused by name."""
    with pytest.raises(CircuitError, match="'heater' has impedance 0"):
        LOOP.edited("heater", z=0)


def test_without_takes_one_branch_out() -> None:
    """Taking a branch out leaves the others in their order, and takes its lonely node along."""
    assert ("source", "heater") == tuple(branch.name for branch in LOOP.without("stat"))
    assert ("R", "C") == LOOP.without("stat").without("heater").nodes


@given(networks(), st.data())
def test_editing_never_changes_its_input(network: Network, data: st.DataObject) -> None:
    """Opening a branch and giving it back its impedance is the network again; the input stays equal throughout."""
    before = tuple(network)
    branch = data.draw(st.sampled_from(before))
    opened = network.edited(branch.name, z=OPEN)
    assert before == tuple(network)
    assert network == opened.edited(branch.name, z=branch.z)
    assert len(network) - 1 == len(network.without(branch.name))


def test_nodes_come_in_the_order_of_first_appearance() -> None:
    """Nodes are listed once each, as the branches first name them."""
    assert ("R", "C", "W") == LOOP.nodes
    assert () == Network().nodes


def test_branches_and_networks_are_values() -> None:
    """Equal parts make equal, hashable networks, and no field can be set afterwards."""
    twin = Network(list(LOOP))
    assert (LOOP, hash(LOOP)) == (twin, hash(twin))
    with pytest.raises(dataclasses.FrozenInstanceError):
        LOOP.branch("heater").z = 1.0
    with pytest.raises(dataclasses.FrozenInstanceError):
        LOOP.branches = ()


def test_a_network_can_be_built_from_anything_that_yields_branches() -> None:
    """A list, a tuple, a generator or another network give the same network."""
    assert LOOP == Network(branch for branch in LOOP) == Network(LOOP) == Network() + LOOP
    assert 3 == len(LOOP)
