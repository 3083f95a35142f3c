"""The plain symbols of a ladder: contacts, loads, joints and protection, each between a left and a right end."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from schemdraw.elements import FuseUS, ResistorIEEE

from .cells import Cell
from .elements import Element
from .sheet import FINE, HEAT, INK, SHEET, SOFT, STROKE, Sheet

__all__ = ["CONTACT", "RING", "Shown", "breaker", "coil", "contact", "gap", "half", "plain", "ring", "source"]

RING = 5.0
CONTACT = 2.5


@dataclass(frozen=True, slots=True)
class Shown:
    """What a drawing shows of the elements' condition."""

    closed: frozenset[Element] = frozenset()
    broken: frozenset[Element] = frozenset()  # open for good, or until somebody resets it


def ring(sheet: Sheet, x: float, y: float) -> None:
    """A test point."""
    sheet.disc((x, y), RING, fill=SHEET)


def plain(sheet: Sheet, cell: Cell, shown: Shown) -> None:
    """The symbol of a cell that is one element between its two terminals."""
    (step,) = cell.steps
    half(sheet, step.element, cell.x + RING, cell.x + cell.width - RING, cell.y, shown)


def half(sheet: Sheet, element: Element, left: float, right: float, y: float, shown: Shown, *, small: bool = False) -> None:
    """One element between two ends, its leads included; small where it has to share a box."""
    symbol: Callable[..., None] = _HALVES[element.kind]
    symbol(sheet, element, left, right, y, shown, small)


def contact(sheet: Sheet, left: float, right: float, y: float, closed: bool, span: float = 32) -> None:
    """Two contacts and an arm from the left one, up when open."""
    middle = (left + right) / 2
    first, second = middle - span / 2, middle + span / 2
    sheet.line((left, y), (first - CONTACT, y))
    sheet.line((second + CONTACT, y), (right, y))
    for x in (first, second):
        sheet.disc((x, y), CONTACT, fill=SHEET)
    tip = (second, y - CONTACT) if closed else (second - 3, y - 14)
    sheet.line((first, y - CONTACT), tip)


def coil(sheet: Sheet, left: float, right: float, y: float, *, broken: bool = False) -> None:
    """A relay's coil: a box with a stroke through it; one that is open has no stroke but a gap."""
    middle = (left + right) / 2
    sheet.line((left, y), (middle - 15, y))
    sheet.line((middle + 15, y), (right, y))
    sheet.box(middle - 15, y - 10, middle + 15, y + 10, colour=INK, dash="-")
    if broken:
        gap(sheet, middle, y)
    else:
        sheet.line((middle - 10, y + 10), (middle + 10, y - 10))


def gap(sheet: Sheet, middle: float, y: float) -> None:
    """Two ends that do not meet."""
    for side in (-1, 1):
        sheet.line((middle + 4 * side, y - 5), (middle + 4 * side, y + 5))


def source(sheet: Sheet, x: float, y: float, *, direct: bool = False) -> None:
    """A supply of one's own: a circle with a wave, or with the two strokes of direct current."""
    sheet.disc((x, y), 14)
    if direct:
        sheet.line((x - 8, y - 3), (x + 8, y - 3))
        for start in (-8, -2, 4):
            sheet.line((x + start, y + 3), (x + start + 4, y + 3))
        return
    sheet.line(*[(x - 8 + step, y - 5 * math.sin(step / 16 * 2 * math.pi)) for step in range(17)])


def _joint(sheet: Sheet, element: Element, left: float, right: float, y: float, shown: Shown, small: bool) -> None:
    middle = (left + right) / 2
    if element in shown.broken:
        for side, edge in ((-1, left), (1, right)):
            sheet.line((edge, y), (middle + 4 * side, y))
        gap(sheet, middle, y)
        return
    sheet.line((left, y), (middle - 7, y))
    sheet.line((middle + 7, y), (right, y))
    sheet.area(((middle - 7, y - 5), (middle + 7, y - 5), (middle + 7, y + 5), (middle - 7, y + 5)), fill=SOFT, weight=STROKE)


def _arm_height(y: float, closed: bool) -> float:
    return y - CONTACT if closed else y - 8.5


def _stat(sheet: Sheet, element: Element, left: float, right: float, y: float, shown: Shown, small: bool) -> None:
    """A contact with the step under its arm that says: moved by temperature; an anticipator in series where there is one."""
    closed = element in shown.closed
    end = right - 44 if element.mark == "anticipator" else right
    contact(sheet, left, end, y, closed, 24 if small else 32)
    middle, top = (left + end) / 2, _arm_height(y, closed)
    near, far = middle - 6, middle + 6
    sheet.line((middle, top), (middle, y + 8), (near, y + 8), (near, y + 14), (far, y + 14), (far, y + 20))
    if element.mark == "anticipator":
        _resistance(sheet, end, right, y, element in shown.broken, 30, HEAT)


def _switch(sheet: Sheet, element: Element, left: float, right: float, y: float, shown: Shown, small: bool) -> None:
    """A contact with the wedge under its arm that says: moved by travel."""
    closed = element in shown.closed
    contact(sheet, left, right, y, closed, 24 if small else 32)
    middle, top = (left + right) / 2, _arm_height(y, closed)
    sheet.area(((middle, top + 1), (middle - 5, top + 11), (middle + 5, top + 11)), fill=INK, weight=FINE)


def _contact(sheet: Sheet, element: Element, left: float, right: float, y: float, shown: Shown, small: bool) -> None:
    contact(sheet, left, right, y, element in shown.closed, 24 if small else 32)


def _resistance(sheet: Sheet, left: float, right: float, y: float, broken: bool, scale: float, colour: str) -> None:
    middle = (left + right) / 2
    first, second = middle - scale / 2, middle + scale / 2
    sheet.line((left, y), (first, y))
    sheet.line((second, y), (right, y))
    if broken:
        sixth, height = scale / 6, scale / 4
        for end, side in ((first, 1), (second, -1)):
            bends = (end + side * sixth / 2, y - side * height), (end + side * 1.5 * sixth, y + side * height)
            sheet.line((end, y), *bends, (end + side * 2 * sixth, y), colour=colour)
        return
    sheet.symbol(ResistorIEEE(), (first, y), scale=scale, colour=colour)


def _heater(sheet: Sheet, element: Element, left: float, right: float, y: float, shown: Shown, small: bool) -> None:
    _resistance(sheet, left, right, y, element in shown.broken, 36 if small else 44, HEAT)


def _ptc(sheet: Sheet, element: Element, left: float, right: float, y: float, shown: Shown, small: bool) -> None:
    """A heater crossed by the kinked stroke that says: its ohms go with temperature."""
    _heater(sheet, element, left, right, y, shown, small)
    middle = (left + right) / 2
    sheet.line((middle - 24, y + 15), (middle - 14, y + 15), (middle + 14, y - 15))
    sheet.text("+t°", middle + 28, y + 21, size=11)


def _motor(sheet: Sheet, element: Element, left: float, right: float, y: float, shown: Shown, small: bool) -> None:
    middle, radius = (left + right) / 2, 11 if small else 14
    for side, edge in ((-1, left), (1, right)):
        inner = middle + side * radius
        if element in shown.broken:
            sheet.line((edge, y), (inner + 8 * side, y))
            sheet.line((inner + 8 * side, y - 5), (inner + 8 * side, y + 5))
        else:
            sheet.line((edge, y), (inner, y))
    sheet.disc((middle, y), radius)
    sheet.text("M", middle, y + 4.5, size=13)


def _coil(sheet: Sheet, element: Element, left: float, right: float, y: float, shown: Shown, small: bool) -> None:
    coil(sheet, left, right, y, broken=element in shown.broken)


def _electronics(sheet: Sheet, element: Element, left: float, right: float, y: float, shown: Shown, small: bool) -> None:
    """A thermostat's own supply: a box that only says so."""
    middle = (left + right) / 2
    sheet.line((left, y), (middle - 18, y))
    sheet.line((middle + 18, y), (right, y))
    sheet.box(middle - 18, y - 9, middle + 18, y + 9, colour=INK, dash="-")


def _ends(sheet: Sheet, left: float, right: float, y: float, reach: float) -> None:
    """Two contacts, each with its lead, so far from the middle."""
    middle = (left + right) / 2
    for side, edge in ((-1, left), (1, right)):
        sheet.line((edge, y), (middle + side * (reach + 2 * CONTACT), y))
        sheet.disc((middle + side * (reach + CONTACT), y), CONTACT, fill=SHEET)


def _fuse(sheet: Sheet, element: Element, left: float, right: float, y: float, shown: Shown, small: bool) -> None:
    middle, scale = (left + right) / 2, 32.0
    reach = 0.44 * scale
    _ends(sheet, left, right, y, reach)
    if element in shown.broken:
        sheet.line((middle - reach, y), (middle - 6, y - 8))
        sheet.line((middle + reach, y), (middle + 6, y + 8))
    else:
        sheet.symbol(FuseUS(dots=False), (middle - 0.68 * scale, y), scale=scale)


def _breaker(sheet: Sheet, element: Element, left: float, right: float, y: float, shown: Shown, small: bool) -> None:
    breaker(sheet, left, right, y, tripped=element in shown.broken)


def breaker(sheet: Sheet, left: float, right: float, y: float, *, tripped: bool = False) -> None:
    """Two contacts bridged by a bow with a button on it; tripped, the bow stands clear of them."""
    middle = (left + right) / 2
    _ends(sheet, left, right, y, 12)
    rise = 8 if tripped else 0
    sheet.bow((middle, y - CONTACT - rise), 13, start=20, end=160)
    top = y - CONTACT - rise - 13
    sheet.line((middle, top), (middle, top - 4))
    sheet.line((middle - 5, top - 4), (middle + 5, top - 4))


_HALVES: dict[str, Callable[..., None]] = {
    "breaker": _breaker,
    "coil": _coil,
    "contact": _contact,
    "electronics": _electronics,
    "fuse": _fuse,
    "heater": _heater,
    "joint": _joint,
    "motor": _motor,
    "ptc": _ptc,
    "stat": _stat,
    "switch": _switch,
}
