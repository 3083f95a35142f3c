"""The engine: volts, ohms, seconds. Knows nothing of heating."""

from .hybrid import Approach, Chatter, Event, Guard, Law, Ramp, Run, run
from .meter import (
    FUNCTIONS,
    Meter,
    Reading,
    amps_reading,
    beeper_reading,
    displayed_amps,
    displayed_volts,
    ohms_reading,
    uncertainty,
    volts_between,
    volts_reading,
)
from .network import OPEN, Branch, CircuitError, Network, NoSuchBranch, NoSuchNode
from .nodal import FloatingNodes, Solved, Thevenin, currents, potentials, solved, thevenin
from .paths import Path, added, following

__all__ = [
    "FUNCTIONS",
    "OPEN",
    "Approach",
    "Branch",
    "Chatter",
    "CircuitError",
    "Event",
    "FloatingNodes",
    "Guard",
    "Law",
    "Meter",
    "Network",
    "NoSuchBranch",
    "NoSuchNode",
    "Path",
    "Ramp",
    "Reading",
    "Run",
    "Solved",
    "Thevenin",
    "added",
    "amps_reading",
    "beeper_reading",
    "currents",
    "displayed_amps",
    "displayed_volts",
    "following",
    "ohms_reading",
    "potentials",
    "run",
    "solved",
    "thevenin",
    "uncertainty",
    "volts_between",
    "volts_reading",
]
