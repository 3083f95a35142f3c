"""Valves in section, drawn from the computed state and from nothing else."""

from __future__ import annotations

from ..plant.naming import part_words
from ..plant.parts import HeatMotorValve, SpringReturnValve, Valve, ValveState, WaxActuator
from ..plant.wiring import WiringError
from . import motor_head, wax_head
from .section import empty, mechanism, section_words

__all__ = ["cutaway", "cutaway_words"]

SECTIONS = (HeatMotorValve, WaxActuator, SpringReturnValve)


def cutaway(valve: Valve, state: ValveState, wax_degC: float = 0.0, *, heating: bool = False) -> str:
    """The section of a valve as SVG: drive, stem, plug and switch where the state has them.

    A motor's drive is in its state; wax has a temperature, and a heater that is on or not. Raises WiringError for a kind
    of valve that is not drawn in section.
    """
    words = cutaway_words(valve, state, wax_degC, heating=heating)
    sheet = empty()
    with sheet.group("part", part=valve.name):
        pushed = mechanism(sheet, valve, state)
        if isinstance(valve, SpringReturnValve):
            motor_head.drawn(sheet, valve, state, pushed)
        else:
            wax_head.drawn(sheet, valve, state, pushed, wax_degC, heating=heating)
    return sheet.svg(f"{_capital(part_words(valve.name))} in section", words)


def cutaway_words(valve: Valve, state: ValveState, wax_degC: float = 0.0, *, heating: bool = False) -> str:
    """What the section shows, in sentences; raises WiringError as `cutaway` does."""
    if not isinstance(valve, SECTIONS):
        kinds = [kind.__name__ for kind in SECTIONS]
        raise WiringError(f"{valve.name!r} is a {type(valve).__name__}; a section shows {kinds}")
    if isinstance(valve, SpringReturnValve):
        drive = motor_head.words(state)
    else:
        drive = wax_head.words(valve, state, wax_degC, heating=heating)
    told = ". ".join(_capital(sentence) for sentence in drive)
    return f"{_capital(part_words(valve.name))} in section. {told}. {section_words(valve, state)}"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
