"""A whole table of readings against what one would write first: a numpy inverse for every circuit."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from benchmarks.circuits import lean_faults, lean_states, plant_faults, plant_states
from benchmarks.timing import Row, side_by_side

from solvers.circuit import OPEN, Network
from solvers.circuit.tables import table

__all__ = ["lean_table", "looped", "plant_table"]

METER = 10e6  # ohms


def lean_table(zones: int = 4, *, repeat: int = 9) -> Row:
    """Every fault x every state x every pair of the lean circuit."""
    goals = {"ratio_goal": 5.0, "seconds_goal": 0.015} if zones == 4 else {}
    return _row("lean circuit", lean_states(zones), lean_faults(zones), repeat, goals)


def plant_table(zones: int = 4, *, repeat: int = 3) -> Row:
    """The same of the plant's own four-wire circuit, strays, splices and all."""
    return _row("the plant's four-wire circuit", plant_states(zones), plant_faults(zones), repeat, {"ratio_goal": 5.0})


def _row(name: str, states: list[Network], faults: list[tuple[str, float]], repeat: int, goals: dict[str, float]) -> Row:
    ours, theirs = side_by_side(lambda: table(states, faults), lambda: looped(states, faults), repeat=repeat)
    found = table(states, faults)
    return Row(
        f"whole table, {name}, zones {len(states).bit_length() - 1}: {len(states) * len(faults)} circuits of "
        f"{len(states[0].nodes)} nodes, {found.size} readings",
        ours,
        "a numpy inverse per circuit",
        theirs,
        error=float(np.abs(found - looped(states, faults)).max()),
        unit="V apart",
        **goals,
    )


def looped(states: Sequence[Network], faults: Sequence[tuple[str, float]]) -> np.ndarray:
    """The same table by inverting the nodal matrix of every circuit and reading all pairs off the inverse."""
    nodes, names = states[0].nodes, [branch.name for branch in states[0]]
    index = {node: number for number, node in enumerate(nodes)}
    incidence = np.zeros((len(names), len(nodes)))
    for number, branch in enumerate(states[0]):
        incidence[number, index[branch.a]], incidence[number, index[branch.b]] = 1, -1
    incidence = np.ascontiguousarray(incidence[:, 1:])  # potentials against the first node, the supply's own terminal
    changed = [(names.index(name), 0 if ohms == OPEN else 1 / ohms) for name, ohms in faults]
    red, black = np.triu_indices(len(nodes), 1)
    volts, z = np.zeros(len(nodes), complex), np.zeros((len(nodes), len(nodes)), complex)
    found = np.empty((len(states), len(faults), len(red)))
    for number, state in enumerate(states):
        healthy, emf = np.array([branch.admittance for branch in state]), np.array([branch.emf for branch in state])
        for fault, (branch, siemens) in enumerate(changed):
            y = healthy.copy()
            y[branch] = siemens
            z[1:, 1:] = np.linalg.inv((incidence.T * y) @ incidence)
            volts[1:] = z[1:, 1:] @ (incidence.T @ (y * emf))
            own = z.diagonal()
            source = own[red] + own[black] - 2 * z[red, black]
            found[number, fault] = np.abs((volts[red] - volts[black]) * (METER / (METER + source)))
    return found
