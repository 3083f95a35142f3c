"""What is found under a head that has been taken off its body, dry: the head by itself, and the stem by itself."""

from __future__ import annotations

from functools import singledispatch

from . import facts
from .impressions import Finding, Sense, together
from .parts import HeatedValve, MotorValve, SpringReturnValve, Valve, ValveState

__all__ = ["under_head"]

STEM = {
    "free": "The stem gives under a finger and comes back.",
    "stuck shut": "The stem stands shut and does not move, whatever a finger does.",
    "stuck open": "The stem stands open and does not move, whatever a finger does.",
}


def under_head(valve: Valve, state: ValveState) -> Sense:
    """What a head and the stem under it tell once they are apart; neither asks how warm the head is.

    A finger parts a head that has lost its stroke from a stem that does not move. Source: common practice.
    """
    smell = Finding("smell", ("burnt",), "Inside, it smells burnt.") if state.burnt else Finding("smell", ("none",), "")
    return together(*_drive(valve), Finding("stem", (valve.stem,), STEM[valve.stem]), smell)


@singledispatch
def _drive(valve: Valve) -> list[Finding]:
    """What the head does to a finger."""
    raise TypeError(f"a {type(valve).__name__} does not say what is under its head")


@_drive.register(HeatedValve)
def _heated(valve: HeatedValve) -> list[Finding]:
    """Wax fills its cup at any temperature; where it has leaked out, the pin goes in."""
    firm = valve.charge >= facts.SWITCH_LEAST_TRAVEL.value
    text = "The pin of the head stands firm." if firm else "The pin of the head is slack: a finger pushes it in, and it stays in."
    return [Finding("pin", ("firm" if firm else "slack",), text)]


@_drive.register(MotorValve)
def _motor(valve: MotorValve) -> list[Finding]:
    text = (
        "The shaft of the head turns with its gear." if valve.gear else "The shaft of the head turns, and its gear stands still."
    )
    return [Finding("gear", ("whole" if valve.gear else "stripped",), text)]


@_drive.register(SpringReturnValve)
def _spring_return(valve: SpringReturnValve) -> list[Finding]:
    text = "The spring pulls the shaft back." if valve.spring else "Nothing pulls the shaft back: its spring is broken."
    return [*_motor(valve), Finding("spring", ("whole" if valve.spring else "broken",), text)]
