"""The whole plant over a day, and one solve of its circuit in plain Python."""

from __future__ import annotations

import numpy as np
from benchmarks.circuits import plant
from benchmarks.readings import one_call
from benchmarks.timing import Row, side_by_side

from solvers.circuit import Network, solved
from solvers.plant.running import at_rest, called, waited

__all__ = ["plain_solve", "plant_day"]

HALF_HOUR = 1800.0


def plant_day(zones: int = 4, *, repeat: int = 5, hours: float = 24.0) -> Row:
    """The plant with three-wire valves at work, each zone called by hand for 12 minutes of every half hour, in turn."""
    (ours,) = side_by_side(lambda: _worked(zones, hours), repeat=repeat)
    return Row(
        f"the plant for {hours:g} hours, {zones} three-wire zones called twice an hour by hand, {_worked(zones, hours)} events",
        ours,
        seconds_goal=1.0 if hours == 24 else None,
        note="circuit, wax, end switches, boiler and pipes; the rooms do not turn the thermostats",
    )


def _worked(zones: int, hours: float) -> int:
    """Events in so many hours."""
    installation = plant(zones, leads=3)
    state, count = at_rest(installation), 0
    turns = []
    for cycle in range(round(hours * 3600.0 / HALF_HOUR)):
        for number in range(zones):
            start = cycle * HALF_HOUR + number * HALF_HOUR / (2 * zones)
            turns += [(start, f"zone{number + 1}.stat", True), (start + 720.0, f"zone{number + 1}.stat", False)]
    for when, stat, calling in sorted(turns):
        state, events = waited(installation, state, when - state.time)
        state, count = called(installation, state, stat, calling), count + len(events)
    return count


def plain_solve(zones: int, *, repeat: int = 25) -> Row:
    """One elimination in plain Python, beside a dense numpy solve of the same circuit; no goal, a figure to watch."""
    circuit = one_call(zones)
    ours, theirs = side_by_side(lambda: solved(circuit, "earth"), lambda: _dense(circuit), repeat=repeat)
    return Row(
        f"one plain-Python solve, zones {zones}: {len(circuit.nodes)} nodes, {len(circuit)} branches",
        ours,
        "numpy, dense, matrix filled from the branches",
        theirs,
    )


def _dense(network: Network) -> np.ndarray:
    index = {node: number for number, node in enumerate(node for node in network.nodes if node != "earth")}
    matrix, right = np.zeros((len(index), len(index)), complex), np.zeros(len(index), complex)
    for branch in network:
        y = branch.admittance
        a, b = index.get(branch.a), index.get(branch.b)
        for here, there, sign in ((a, b, 1), (b, a, -1)):
            if here is not None:
                matrix[here, here] += y
                right[here] += sign * y * branch.emf
                if there is not None:
                    matrix[here, there] -= y
    return np.linalg.solve(matrix, right)
