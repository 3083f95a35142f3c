"""The shelf of parts, each kind from its own file, for whoever builds or reads an installation."""

from .boilers import Boiler, BoilerState
from .joints import Splice
from .loops import Loop
from .part import Part, PartState, Seen
from .supplies import Fuse, FuseState, Transformer, TransformerState
from .thermostats import Stat, StatState
from .valves import HeatMotorValve, ValveState

__all__ = [
    "Boiler",
    "BoilerState",
    "Fuse",
    "FuseState",
    "HeatMotorValve",
    "Loop",
    "Part",
    "PartState",
    "Seen",
    "Splice",
    "Stat",
    "StatState",
    "Transformer",
    "TransformerState",
    "ValveState",
]
