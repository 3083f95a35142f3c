"""Circuits to test on: random ones for Hypothesis, from a milliohm to a gigohm in one circuit, and a heating one."""

from __future__ import annotations

import cmath
import math

from hypothesis import strategies as st

from solvers.circuit import OPEN, Branch, Network

__all__ = ["changes", "emfs", "impedances", "islands", "networks", "pairs", "zones"]

LEAK = 1e9
"""Ohms of the stray path that alone holds a part cut off from the rest: 1e-9 S."""


@st.composite
def ohms(draw: st.DrawFn) -> float:
    """A resistance, evenly spread over the twelve decades from 1 milliohm to 1 gigohm."""
    return 10.0 ** draw(st.floats(-3, 9))


@st.composite
def impedances(draw: st.DrawFn) -> complex:
    """A resistance, or now and then a coil or a capacitor whose angle stays 5 degrees short of a lossless one.

    A lossless pair could cancel to nothing: that resonance has no accurate answer and a test of its own.
    """
    size = draw(ohms())
    degrees = draw(st.just(0) | st.just(0) | st.integers(-85, 85))
    return cmath.rect(size, math.radians(degrees)) if degrees else size


@st.composite
def emfs(draw: st.DrawFn) -> complex:
    """From 0.1 to 120 V rms at any phase."""
    return cmath.rect(draw(st.floats(0.1, 120)), math.radians(draw(st.integers(-180, 180))))


@st.composite
def networks(draw: st.DrawFn, *, prefix: str = "n", most: int = 12, leaky: bool = False) -> Network:
    """A connected network with at least one source: a random tree, and up to eight branches more.

    With `leaky`, every node also leaks to the first one, so that no opened branch leaves a node without a path.
    """
    nodes = [f"{prefix}{number}" for number in range(draw(st.integers(2, most)))]
    ends = [(nodes[draw(st.integers(0, place - 1))], nodes[place]) for place in range(1, len(nodes))]
    ends += draw(st.lists(st.tuples(*[st.sampled_from(nodes)] * 2).filter(lambda two: two[0] != two[1]), max_size=8))
    powered = draw(st.integers(0, len(ends) - 1))
    branches = []
    for number, (one, other) in enumerate(ends):
        a, b = (one, other) if draw(st.booleans()) else (other, one)
        emf = draw(emfs()) if number == powered or draw(st.integers(0, 4)) == 4 else 0.0
        branches.append(Branch(f"{prefix}{number}.branch", a, b, draw(impedances()), emf))
    if leaky:
        branches += [Branch(f"{node}.leak", node, nodes[0], LEAK) for node in nodes[1:]]
    return Network(branches)


@st.composite
def islands(draw: st.DrawFn) -> Network:
    """Two powered networks that share nothing but leaks of 1e-9 S to a common earth: the trap of nodal methods."""
    parts = [*draw(networks(prefix="left", most=6)), *draw(networks(prefix="right", most=6))]
    nodes = Network(parts).nodes
    return Network([*parts, *(Branch(f"{node}.leak", node, "earth", LEAK * draw(st.floats(1, 3))) for node in nodes)])


@st.composite
def pairs(draw: st.DrawFn, network: Network) -> tuple[str, str]:
    """Two different nodes to put the probes on."""
    first = draw(st.sampled_from(network.nodes))
    return first, draw(st.sampled_from([node for node in network.nodes if node != first]))


@st.composite
def changes(draw: st.DrawFn, network: Network) -> Network:
    """The same network with one branch opened, shorted or made resistive; leaks are left alone."""
    name = draw(st.sampled_from([branch.name for branch in network if not branch.name.endswith(".leak")]))
    return network.edited(name, z=draw(st.sampled_from([OPEN, 1e-3]) | ohms()))


def zones(count: int, *, opened: str = "") -> Network:
    """Heat-motor zones on one transformer, every splice a branch, every node leaking 1e-9 S to earth."""
    branches = [Branch("transformer", "X1", "X2", 1.2 + 0.5j, 27.5), Branch("X1.splice", "X1", "R", 0.002)]
    for number in range(1, count + 1):
        tag = f"zone{number}"
        branches += [
            Branch(f"{tag}.R.splice", "R", f"{tag}.R", 0.003),
            Branch(f"{tag}.stat", f"{tag}.R", f"{tag}.W", 0.02 if number % 2 else OPEN),
            Branch(f"{tag}.run", f"{tag}.W", f"{tag}.H", 0.6),
            Branch(f"{tag}.heater", f"{tag}.H", f"{tag}.S", 26.0),
            Branch(f"{tag}.return", f"{tag}.S", f"{tag}.C", 0.6),
            Branch(f"{tag}.C.splice", f"{tag}.C", "X2", 0.001),
            Branch(f"{tag}.end", f"{tag}.E", "TT", OPEN),
            Branch(f"{tag}.stray", f"{tag}.E", f"{tag}.H", -26.5e6j),
        ]
    branches.append(Branch("board", "TT", "TR", 900.0))
    network = Network(branches)
    leaks = (Branch(f"{node}.leak", node, "earth", 1e9) for node in network.nodes)
    return (network.edited(opened, z=OPEN) if opened else network) + leaks
