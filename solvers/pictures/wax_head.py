"""The head of a valve that wax opens, in section: the wax in its cylinder, the piston, and what heats it."""

from __future__ import annotations

from ..plant.parts import HeatedValve, ValveState, WaxActuator
from .section import AXIS, LABELS, ROOT, drive_leads, pointed, switch_leads
from .sheet import HEAT, RAIL, SHEET, SOFT, Sheet

__all__ = ["drawn", "words"]


def drawn(sheet: Sheet, valve: HeatedValve, state: ValveState, pushed: float, wax_degC: float, *, heating: bool) -> None:
    """Wax, piston and heater in the head, with their words."""
    _wax(sheet, pushed, _warmth(valve, wax_degC))
    if isinstance(valve, WaxActuator):
        _tablet(sheet, heating=heating, burnt=state.burnt)
        ends = (AXIS - 31, 52), (AXIS - 31, 128)
    else:
        _winding(sheet, heating=heating, burnt=state.burnt)
        ends = (AXIS - 34, 59), (AXIS - 34, 121)
    drive_leads(sheet, valve, *ends, ((AXIS + 34, 121), (ROOT, 121)))
    switch_leads(sheet, valve)
    side = AXIS + (20 if isinstance(valve, WaxActuator) else 36)
    pointed(sheet, (LABELS, 66), (side, 72), _heater_words(valve, state, heating), f"wax {_degrees(wax_degC)}")


def words(valve: HeatedValve, state: ValveState, wax_degC: float, *, heating: bool) -> tuple[str, str]:
    """What heater and wax are at, in sentences."""
    return _heater_words(valve, state, heating), f"the wax is at {_degrees(wax_degC)}"


def _heater_words(valve: HeatedValve, state: ValveState, heating: bool) -> str:
    if state.burnt:
        return "heater burnt open"
    kind = "PTC heater" if isinstance(valve, WaxActuator) else "heater"
    return f"{kind} {'on' if heating else 'off'}"


def _warmth(valve: HeatedValve, wax_degC: float) -> float:
    """How far the wax has come from its surroundings to the end of its stroke, 0 to 1."""
    return min(1.0, max(0.0, (wax_degC - valve.ambient_degC) / (valve.travel.full - valve.ambient_degC)))


def _wax(sheet: Sheet, pushed: float, warmth: float) -> None:
    """The wax's cylinder, filled by its warmth, and the piston it pushes."""
    left, right = AXIS - 22, AXIS + 22
    cup = ((left, 52), (right, 52), (right, 128), (left, 128))
    sheet.area(cup, colour="none", fill=HEAT, opacity=0.06 + 0.74 * warmth)
    sheet.area(cup)
    sheet.line((AXIS, 128), (AXIS, pushed - 6), weight=RAIL)
    sheet.area(((left, pushed - 6), (right, pushed - 6), (right, pushed), (left, pushed)), fill=SOFT)


def _winding(sheet: Sheet, *, heating: bool, burnt: bool) -> None:
    """The winding cut through: a wire on either side at every turn, filled while it heats; gone where it has burnt."""
    for turn in range(6):
        if burnt and turn in (2, 3):
            continue
        for side in (-1, 1):
            at = (AXIS + side * 29, 59 + 12.4 * turn)
            sheet.disc(at, 4.6, colour=HEAT, fill=HEAT if heating and not burnt else SHEET)


def _tablet(sheet: Sheet, *, heating: bool, burnt: bool) -> None:
    """The PTC heater's tablet against the cylinder, filled while it heats; parted where it has burnt."""
    left, right = AXIS - 38, AXIS - 24
    for top, bottom in ((60, 84), (96, 120)) if burnt else ((60, 120),):
        corners = ((left, top), (right, top), (right, bottom), (left, bottom))
        sheet.area(corners, colour=HEAT, fill=HEAT if heating and not burnt else SHEET)
    sheet.line((AXIS - 31, 52), (AXIS - 31, 60))
    sheet.line((AXIS - 31, 120), (AXIS - 31, 128))
    sheet.text("+t°", left - 6, 94, size=12, anchor="end", colour=SOFT)


def _degrees(degC: float) -> str:
    return f"{degC:.0f} °C ({degC * 9 / 5 + 32:.0f} °F)"
