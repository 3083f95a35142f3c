"""The whole plant over a day, and one solve of its circuit in plain Python."""

from __future__ import annotations

import numpy as np
from benchmarks.readings import one_call
from benchmarks.timing import Row, side_by_side

from solvers.circuit import Network, solved
from solvers.plant.drafting import Zone
from solvers.plant.parts import Fuse, HeatMotorValve, Transformer
from solvers.plant.running import at_rest, waited
from solvers.plant.thermostats import AnticipatorStat
from solvers.plant.topologies import three_wire_relay
from solvers.plant.weather import lived_in

__all__ = ["plain_solve", "plant_day"]


def plant_day(zones: int = 4, *, repeat: int = 5, hours: float = 24.0) -> Row:
    """A winter day of the whole plant: rooms, anticipators, three-wire valves, isolation relay, boiler water and pipes.

    The installation is made anew for each run, so that nothing solved before is remembered.
    """
    (ours,) = side_by_side(lambda: _worked(zones, hours), repeat=repeat)
    return Row(
        f"the plant for {hours:g} hours, {zones} zones with rooms, {_worked(zones, hours)} events",
        ours,
        seconds_goal=1.0 if hours == 24 else None,
        note="rooms, anticipators, wax, end switches, isolation relay, boiler water, pipes",
    )


def _worked(zones: int, hours: float) -> int:
    """Events in so many hours."""
    stat = AnticipatorStat("stat", set_amps=0.8, differential=0.8)
    built = three_wire_relay(
        f"{zones} zones in winter",
        [Zone(HeatMotorValve("valve", leads=3), stat) for _ in range(zones)],
        transformer=Transformer("transformer", emf=27.0, ohms=0.6, va=100.0),
        fuse=Fuse("fuse", amps=3.5),
    )
    taus = [24_000.0 + 4_000.0 * number for number in range(zones)]
    here = lived_in(built, start_degC=[19.0 + 0.3 * number for number in range(zones)], taus=taus)
    _, events = waited(here, at_rest(here), hours * 3600.0)
    return len(events)


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
