"""The shelf of parts, each kind from its own file, for whoever builds or reads an installation."""

from .boilers import Boiler, BoilerState
from .heat_motor import HeatMotorValve
from .heated_valve import HeatedState, HeatedValve
from .joints import Splice
from .loops import Loop
from .motor_valve import MotorState, MotorValve, OpenCloseValve, SpringReturnValve
from .part import Part, PartState, Seen
from .protection import Breaker, BreakerState, Fuse, FuseState
from .relays import Relay, RelayState
from .rooms import Room
from .stat import Stat, StatState
from .transformers import Transformer, TransformerState
from .valves import Valve, ValveState
from .wax_actuator import WaxActuator

__all__ = [
    "Boiler",
    "BoilerState",
    "Breaker",
    "BreakerState",
    "Fuse",
    "FuseState",
    "HeatMotorValve",
    "HeatedState",
    "HeatedValve",
    "Loop",
    "MotorState",
    "MotorValve",
    "OpenCloseValve",
    "Part",
    "PartState",
    "Relay",
    "RelayState",
    "Room",
    "Seen",
    "Splice",
    "SpringReturnValve",
    "Stat",
    "StatState",
    "Transformer",
    "TransformerState",
    "Valve",
    "ValveState",
    "WaxActuator",
]
