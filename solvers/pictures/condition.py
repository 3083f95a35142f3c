"""What a ladder shows of the elements' condition: calls for everybody, the rest only for those who may look inside."""

from __future__ import annotations

from ..circuit import OPEN
from ..plant.parts import (
    BreakerState,
    FuseState,
    HeatMotorValve,
    MotorValve,
    Part,
    PartState,
    Relay,
    RelayState,
    Splice,
    StatState,
    Transformer,
    Valve,
    ValveState,
    WaxActuator,
)
from .elements import DRIVES, Element
from .symbols import Shown

__all__ = ["shown"]


def shown(part: Part, state: PartState, elements: tuple[Element, ...], *, inside: bool) -> Shown:
    """Which of a part's elements are drawn closed and which broken, with or without a look under the covers.

    A contact that is made at rest is drawn made for want of a state.
    """
    moved = {"contact": False, "switch": False, "stat": isinstance(state, StatState) and state.calling}
    if inside and isinstance(part, Relay):
        moved["contact"] = part.contacts == "welded" or (isinstance(state, RelayState) and state.pulled)
    if inside and isinstance(part, Valve) and isinstance(state, ValveState):
        moved["switch"] = part.switch_made(state)
    closed = [element for element in elements if moved.get(element.kind, False) != (element.mark == "rest")]
    broken = _broken(part, state) if inside else ()
    return Shown(frozenset(closed), frozenset(element for element in elements if element.kind in broken))


def _broken(part: Part, state: PartState) -> tuple[str, ...]:
    """Kinds of element that do not conduct in a part and would have to."""
    found = {
        "fuse": isinstance(state, FuseState) and state.blown,
        "breaker": isinstance(state, BreakerState) and state.tripped,
        "joint": isinstance(part, Splice) and OPEN in part.ohms,
        "coil": isinstance(part, Relay) and part.coil_ohms == OPEN,
        "stat": isinstance(state, StatState) and state.burnt,
        "winding": isinstance(part, Transformer) and part.secondary_open,
    }
    drive = {HeatMotorValve: "heater_ohms", WaxActuator: "cold_ohms", MotorValve: "motor_ohms"}
    ohms = next((getattr(part, field) for kind, field in drive.items() if isinstance(part, kind)), 0.0)
    burnt = isinstance(state, ValveState) and state.burnt
    return (*(DRIVES if burnt or ohms == OPEN else ()), *(kind for kind, is_open in found.items() if is_open))
