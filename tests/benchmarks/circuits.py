"""What is measured: the plant's own circuits, and leaner ones of 8 N + 10 nodes with 6 N + 20 faults for N zones."""

from __future__ import annotations

import itertools
import math

from solvers.circuit import OPEN, Branch, Network
from solvers.plant.parts import HeatMotorValve
from solvers.plant.running import at_rest, called, network, waited
from solvers.plant.topologies import Zone, four_wire, three_wire_direct
from solvers.plant.wiring import Installation

__all__ = ["lean_faults", "lean_states", "plant", "plant_faults", "plant_state", "plant_states"]

STRAY = -1j / (2 * math.pi * 60 * 600e-12)
"""Ohms at 60 Hz between the two conductors of half a stat cable; 600 pF, the model's own figure for 25 feet."""


def lean_states(zones: int) -> list[Network]:
    """Four-wire heater loops and their T-T in every combination of calls; an end switch is made where its zone calls."""
    return [_lean(calls) for calls in itertools.product((False, True), repeat=zones)]


def lean_faults(zones: int) -> list[tuple[str, float]]:
    """Six conductors a zone opened, and twenty faults in what the zones share."""
    legs = ("R leg", "W leg", "heater", "return", "EA leg", "EB leg")
    shared = ("transformer", "fuse", "C trunk", "boiler source", "T-T A", "T-T B")
    faults = [(f"zone{number}.{leg}", OPEN) for number in range(1, zones + 1) for leg in legs]
    faults += [(name, ohms) for name in shared for ohms in (OPEN, 10.0, 100.0)]
    return [*faults, ("boiler input", OPEN), ("boiler input", 1e-3)]


def _lean(calls: tuple[bool, ...]) -> Network:
    branches = [
        Branch("transformer", "X1", "X2", 2.1 + 0.3j, 27.5),
        Branch("fuse", "X1", "R", 0.05),
        Branch("C trunk", "C", "X2", 0.03),
        Branch("boiler source", "T1", "inside", 2.0, 26.0),
        Branch("boiler input", "inside", "T2", 120.0),
        Branch("T-T A", "EA", "T1", 0.15),
        Branch("T-T B", "EB", "T2", 0.15),
    ]
    for number, calling in enumerate(calls, 1):
        tag = f"zone{number}"
        branches += [
            Branch(f"{tag}.R leg", "R", f"{tag}.R", 0.32),
            Branch(f"{tag}.stat", f"{tag}.R", f"{tag}.W", 0.05 if calling else OPEN),
            Branch(f"{tag}.stray", f"{tag}.R", f"{tag}.W", STRAY),
            Branch(f"{tag}.W leg", f"{tag}.W", f"{tag}.H", 0.32),
            Branch(f"{tag}.heater", f"{tag}.H", f"{tag}.S", 30.0),
            Branch(f"{tag}.return", f"{tag}.S", f"{tag}.C", 0.004),
            Branch(f"{tag}.C splice", f"{tag}.C", "C", 0.002),
            Branch(f"{tag}.EA leg", f"{tag}.EA", "EA", 0.3),
            Branch(f"{tag}.switch", f"{tag}.EA", f"{tag}.EB", 0.1 if calling else OPEN),
            Branch(f"{tag}.EB leg", f"{tag}.EB", f"{tag}.EB lead", 0.3),
            Branch(f"{tag}.EB splice", f"{tag}.EB lead", "EB", 0.004),
        ]
    network = Network(branches)
    return network + [Branch(f"leak {node}", node, "earth", 1e9) for node in network.nodes]


def plant(zones: int, leads: int = 4) -> Installation:
    """The plant's own installation: heat-motor valves with 3 or 4 leads."""
    build = four_wire if leads == 4 else three_wire_direct
    return build(f"{zones} zones", [Zone(HeatMotorValve("valve", leads=leads)) for _ in range(zones)])


def plant_state(zones: int, calls: tuple[bool, ...], leads: int = 4, *, hz: float = 60.0) -> Network:
    """Its circuit ten minutes after these zones have called: valves open, end switches made; hz 0 as an ohmmeter meets it."""
    installation = plant(zones, leads)
    state = at_rest(installation)
    for number, calling in enumerate(calls, 1):
        state = called(installation, state, f"zone{number}.stat", calling)
    state, _ = waited(installation, state, 600.0)
    return network(installation, state, hz)


def plant_states(zones: int, leads: int = 4) -> list[Network]:
    """Its circuit in every combination of calls."""
    return [plant_state(zones, calls, leads) for calls in itertools.product((False, True), repeat=zones)]


def plant_faults(zones: int) -> list[tuple[str, float]]:
    """As many faults as the lean circuit has, in the plant's own four-wire circuit."""
    legs = ("R leg", "W leg", "HA lead", "return", "EA leg", "EB leg")
    shared = ("transformer.winding", "fuse.link", "C trunk", "boiler.source", "T-T cable A", "T-T cable B")
    faults = [(f"zone{number}.{leg}", OPEN) for number in range(1, zones + 1) for leg in legs]
    faults += [(name, ohms) for name in shared for ohms in (OPEN, 10.0, 100.0)]
    return [*faults, ("boiler.input", OPEN), ("boiler.input", 1e-3)]
