"""The nodal solve against ngspice, a general circuit simulator: 60 Hz circuits with complex impedances, and DC ones."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
import reference_circuits
from oracles import exact_volts, ngspice_volts
from strategies import zones

from solvers.circuit import Branch, Network, potentials
from solvers.plant.running import at_rest, called, network, waited

NGSPICE = 3e-8
"""Volts, ngspice's own error: it sums admittances on the diagonal of its matrix and so loses digits where large and
small ones meet. 5e-10 V is the most seen here against 50 digits, in the circuit with milliohm splices. A powered part
that 1e-9 S alone holds comes out up to 1.4e-4 V off in ngspice, so such parts are left to test_nodal.py."""

AC = {
    "coil and resistor in series": Network(
        [Branch("source", "R", "C", 0.01, 10.0), Branch("load", "R", "C", complex(5, 2 * math.pi * 60 * 10e-3))]
    ),
    "bridge of coils and capacitors": Network(
        [
            Branch("source", "top", "bottom", 1.2 + 0.4j, 24.0),
            Branch("coil", "top", "left", 20 + 60j),
            Branch("capacitor", "top", "right", -80j),
            Branch("resistor", "left", "bottom", 47.0),
            Branch("choke", "right", "bottom", 3 + 25j),
            Branch("detector", "left", "right", 1000.0),
        ]
    ),
    "two supplies 30 degrees apart": Network(
        [
            Branch("one", "R", "C", 1.0, 24.0),
            Branch("other", "Rh", "C", 1.5 + 0.2j, complex(22 * math.cos(math.pi / 6), 22 * math.sin(math.pi / 6))),
            Branch("tie", "R", "Rh", 10.0),
            Branch("coil", "R", "C", 70 + 187j),
        ]
    ),
    "ghost volts on a long cable": Network(
        [
            Branch("source", "R", "C", 1.2, 27.5),
            Branch("relay", "R", "C", 70 + 187j),
            Branch("stray", "R", "W", complex(0, -1 / (2 * math.pi * 60 * 1.5e-9))),
            Branch("meter", "W", "C", 10e6),
            Branch("leak", "W", "earth", 1e9),
            Branch("ground", "C", "earth", 0.5),
        ]
    ),
    "four zones, one return open": zones(4, opened="zone1.return"),
}
DC = {
    "ladder": Network(
        [Branch("battery", "n0", "earth", 0.1, 24.0)]
        + [Branch(f"rung{k}", f"n{k}", "earth", 50.0 + k) for k in range(6)]
        + [Branch(f"rail{k}", f"n{k}", f"n{k + 1}", 0.001) for k in range(5)]
    ),
    "two opposed batteries": Network(
        [
            Branch("one", "a", "earth", 4.0, 28.0),
            Branch("load", "a", "earth", 2.0),
            Branch("other", "a", "earth", 1.0, -7.0),
        ]
    ),
    "supply tied to earth by poor insulation": Network(
        [
            Branch("battery", "plus", "minus", 2.0, 24.0),
            Branch("load", "plus", "minus", 26.0),
            Branch("plus.insulation", "plus", "earth", 1e6),
            Branch("minus.insulation", "minus", "earth", 2e6),
        ]
    ),
}


@pytest.mark.parametrize(
    ("network", "hz"),
    [pytest.param(network, 60.0, id=f"60 Hz: {name}") for name, network in AC.items()]
    + [pytest.param(network, 0.0, id=f"DC: {name}") for name, network in DC.items()],
)
def test_agrees_with_ngspice(needs_tool: Callable[[str], str], network: Network, hz: float) -> None:
    """Every potential is what ngspice finds for the same circuit, to ngspice's own error."""
    reference = next(iter(network)).b
    expected, actual = ngspice_volts(needs_tool("ngspice"), network, reference, hz), potentials(network, reference)
    assert sorted(expected) == sorted(actual)
    for node, volts in expected.items():
        assert volts == pytest.approx(actual[node], rel=0, abs=NGSPICE)


@pytest.mark.parametrize("name", ["REF_A", "REF_B", "REF_C", "REF_D", "REF_E"])
@pytest.mark.parametrize("calls", [(), ("zone1",), "all"], ids=str)
def test_plants_agree_to_ngspices_own_error(needs_tool, name, calls):
    """Every node of the reference plants: ours is within 1e-9 V of 50 digits, so ngspice differs by its own error alone."""
    here = getattr(reference_circuits, name)
    state = at_rest(here)
    for zone in here.zones if calls == "all" else calls:
        state = called(here, state, f"{zone}.stat", True)
    state, _ = waited(here, state, 400.0)
    circuit = network(here, state)
    ours = potentials(circuit, "transformer.C")
    theirs = ngspice_volts(needs_tool("ngspice"), circuit, "transformer.C", 60.0)
    exact = exact_volts(circuit, "transformer.C")
    for node, value in ours.items():
        right = complex(exact[node])
        assert abs(value - right) <= 1e-9
        assert abs(value - theirs[node]) <= abs(theirs[node] - right) + 1e-9
        assert abs(theirs[node] - right) < 0.05  # the same circuit at all
