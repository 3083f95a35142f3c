"""The symbols of a ladder, each drawn between its left and right terminal on a sheet, with its own words."""

from __future__ import annotations

import math

from schemdraw.elements import FuseUS, ResistorIEEE

from ..plant.parts import Fuse, Part, Transformer
from .rows import SUB, Cell, Label
from .sheet import FINE, HEAT, INK, SHEET, SOFT, STROKE, Sheet

__all__ = ["RING", "captions", "drawn", "ring"]

RING = 5.0
CONTACT = 2.5


def ring(sheet: Sheet, x: float, y: float) -> None:
    """A test point."""
    sheet.disc((x, y), RING, fill=SHEET)


def captions(cell: Cell, part: Part) -> tuple[Label, ...]:
    """The words of one cell, the letters of its terminals apart."""
    left, right, y = cell.x, cell.x + cell.width, cell.y
    middle = (left + right) / 2
    if cell.kind == "valve":
        return (Label(cell.name, middle, y - 42), *_half_captions(cell))
    if cell.kind == "boiler":
        inside = Label("own supply", left + 44, y + 31), Label("input", right - 34, y + 31)
        return (Label(cell.name, middle, y - 42), *inside)
    words = {
        "heater": f"{cell.name} heater",
        "switch": f"{cell.name} end switch",
        "fuse": f"{cell.name}, {part.amps:g} A" if isinstance(part, Fuse) else cell.name,
        "winding": f"{cell.name}, {part.va:g} VA" if isinstance(part, Transformer) else cell.name,
    }.get(cell.kind, cell.name)
    if cell.kind == "winding":
        return Label("line voltage", middle, y - 60), Label(words, middle, y + 24)
    return (Label(words, middle, y - (28 if cell.kind in ("stat", "switch") else 26)),)


def drawn(sheet: Sheet, cell: Cell, *, closed: dict[str, bool], broken: frozenset[str]) -> None:
    """One cell's symbol. `closed` tells which contacts are closed, by kind; `broken` which elements are open for good."""
    left, right, y = cell.x, cell.x + cell.width, cell.y
    middle = (left + right) / 2
    if cell.kind == "valve":
        _valve(sheet, cell, closed, broken)
    elif cell.kind == "boiler":
        _boiler(sheet, cell)
    elif cell.kind == "joint":
        _joint(sheet, left, right, y, "joint" in broken)
    elif cell.kind == "stat":
        _contact(sheet, left + RING, right - RING, y, closed.get("stat", False))
        _temperature(sheet, middle, y, closed.get("stat", False))
    elif cell.kind in ("heater", "switch"):
        _half(sheet, cell.kind, left + RING, right - RING, y, closed, broken)
    elif cell.kind == "fuse":
        _fuse(sheet, left + RING, right - RING, y, "fuse" in broken)
    else:
        _transformer(sheet, left + RING, right - RING, y)


def _half_captions(cell: Cell) -> tuple[Label, ...]:
    """Names of a three-wire valve's halves: above what lies on the rung, below what hangs from it."""
    words = {"heater": "heater", "switch": "end switch"}
    left, middle, right = cell.x, cell.x + cell.width / 2, cell.x + cell.width
    if len(cell.steps) == 2:
        places = ((left + middle) / 2, (middle + right) / 2)
        kinds = [step.element.kind for step in cell.steps]
        return tuple(Label(words[kind], x - 1, cell.y - 19, size=11) for kind, x in zip(kinds, places, strict=True))
    shift = -10 if _shares_right(cell) else 10
    found = (Label(words[cell.steps[0].element.kind], middle + shift, cell.y - 19),)
    return found if cell.hung is None else (*found, Label(words[cell.hung.kind], middle - 10, cell.y + SUB + 25))


def _shares_right(cell: Cell) -> bool:
    """Whether the lead that both halves share is the right one."""
    return cell.hung is None or cell.right in (cell.hung.a, cell.hung.b)


def _joint(sheet: Sheet, left: float, right: float, y: float, broken: bool) -> None:
    middle = (left + right) / 2
    if broken:
        for side, edge in ((-1, left + RING), (1, right - RING)):
            sheet.line((edge, y), (middle + 4 * side, y))
            sheet.line((middle + 4 * side, y - 5), (middle + 4 * side, y + 5))
        return
    sheet.line((left + RING, y), (middle - 7, y))
    sheet.line((middle + 7, y), (right - RING, y))
    sheet.area(((middle - 7, y - 5), (middle + 7, y - 5), (middle + 7, y + 5), (middle - 7, y + 5)), fill=SOFT, weight=STROKE)


def _contact(sheet: Sheet, left: float, right: float, y: float, closed: bool, span: float = 32) -> None:
    """Two contacts and an arm from the left one, up when open."""
    middle = (left + right) / 2
    first, second = middle - span / 2, middle + span / 2
    sheet.line((left, y), (first - CONTACT, y))
    sheet.line((second + CONTACT, y), (right, y))
    for x in (first, second):
        sheet.disc((x, y), CONTACT, fill=SHEET)
    tip = (second, y - CONTACT) if closed else (second - 3, y - 14)
    sheet.line((first, y - CONTACT), tip)


def _arm_height(y: float, closed: bool) -> float:
    return y - CONTACT if closed else y - 8.5


def _temperature(sheet: Sheet, middle: float, y: float, closed: bool) -> None:
    """The step under the arm that says: moved by temperature."""
    top = _arm_height(y, closed)
    left, right = middle - 6, middle + 6
    sheet.line((middle, top), (middle, y + 8), (left, y + 8), (left, y + 14), (right, y + 14), (right, y + 20))


def _travel(sheet: Sheet, middle: float, y: float, closed: bool) -> None:
    """The wedge under the arm that says: moved by travel."""
    top = _arm_height(y, closed)
    sheet.area(((middle, top + 1), (middle - 5, top + 11), (middle + 5, top + 11)), fill=INK, weight=FINE)


def _heater(sheet: Sheet, left: float, right: float, y: float, broken: bool, scale: float = 44) -> None:
    middle = (left + right) / 2
    first, second = middle - scale / 2, middle + scale / 2
    sheet.line((left, y), (first, y))
    sheet.line((second, y), (right, y))
    if broken:
        sixth, height = scale / 6, scale / 4
        for end, side in ((first, 1), (second, -1)):
            bends = (end + side * sixth / 2, y - side * height), (end + side * 1.5 * sixth, y + side * height)
            sheet.line((end, y), *bends, (end + side * 2 * sixth, y), colour=HEAT)
        return
    sheet.symbol(ResistorIEEE(), (first, y), scale=scale, colour=HEAT)


def _fuse(sheet: Sheet, left: float, right: float, y: float, broken: bool, scale: float = 32) -> None:
    middle = (left + right) / 2
    reach = 0.44 * scale
    for side, edge in ((-1, left), (1, right)):
        sheet.line((edge, y), (middle + side * (reach + 2 * CONTACT), y))
        sheet.disc((middle + side * (reach + CONTACT), y), CONTACT, fill=SHEET)
    if broken:
        sheet.line((middle - reach, y), (middle - 6, y - 8))
        sheet.line((middle + reach, y), (middle + 6, y + 8))
    else:
        sheet.symbol(FuseUS(dots=False), (middle - 0.68 * scale, y), scale=scale)


def _transformer(sheet: Sheet, left: float, right: float, y: float) -> None:
    middle = (left + right) / 2
    high = y - 42
    sheet.line((left, y), (middle - 24, y))
    sheet.line((middle + 24, y), (right, y))
    for turn in (-18, -6, 6, 18):
        sheet.bow((middle + turn, y), 6)
        sheet.bow((middle + turn, high), 6, start=180, end=360)
    for core in (y - 18, y - 24):
        sheet.line((middle - 26, core), (middle + 26, core))
    for side in (-1, 1):
        sheet.line((middle + 24 * side, high), (middle + 24 * side, high - 12))


def _valve(sheet: Sheet, cell: Cell, closed: dict[str, bool], broken: frozenset[str]) -> None:
    """A three-wire valve whole: what lies on the rung, and the third lead below."""
    left, right, y = cell.x, cell.x + cell.width, cell.y
    low = y + SUB
    sheet.box(left, y - 36, right, low + 30)
    if len(cell.steps) == 2:
        node = (left + right) / 2
        for step, (start, end) in zip(cell.steps, ((left + RING, node), (node, right - RING)), strict=True):
            _half(sheet, step.element.kind, start, end, y, closed, broken, small=True)
        sheet.disc((node, y), 2.5, fill=INK)
        sheet.line((node, y), (node, low), (left + RING, low))
        return
    # The joint of the two halves is inside, beside the shared lead.
    shared_right = _shares_right(cell)
    node = right - 24 if shared_right else left + 24
    kind = cell.steps[0].element.kind
    if shared_right:
        _half(sheet, kind, left + RING, node, y, closed, broken)
        sheet.line((node, y), (right - RING, y))
    else:
        sheet.line((left + RING, y), (node, y))
        _half(sheet, kind, node, right - RING, y, closed, broken)
    sheet.disc((node, y), 2.5, fill=INK)
    if cell.hung is None:
        return
    if shared_right:
        sheet.line((node, y), (node, low))
        _half(sheet, cell.hung.kind, left + RING, node, low, closed, broken)
    else:
        # The shared lead is on the left like the third lead: the half between them turns back inside the box.
        far = right - 24
        _half(sheet, cell.hung.kind, left + RING, far, low, closed, broken)
        sheet.line((far, low), (far, low - 20), (node, low - 20), (node, y))


def _half(
    sheet: Sheet,
    kind: str,
    left: float,
    right: float,
    y: float,
    closed: dict[str, bool],
    broken: frozenset[str],
    *,
    small: bool = False,
) -> None:
    middle = (left + right) / 2
    if kind == "heater":
        _heater(sheet, left, right, y, "heater" in broken, 36 if small else 44)
    else:
        made = closed.get("switch", False)
        _contact(sheet, left, right, y, made, 24 if small else 32)
        _travel(sheet, middle, y, made)


def _boiler(sheet: Sheet, cell: Cell) -> None:
    left, right, y = cell.x, cell.x + cell.width, cell.y
    source, relay = left + 44, right - 36
    sheet.box(left, y - 36, right, y + 40)
    sheet.line((left + RING, y), (source - 14, y))
    sheet.disc((source, y), 14)
    wave = [(source - 8 + step, y - 5 * math.sin(step / 16 * 2 * math.pi)) for step in range(17)]
    sheet.line(*wave)
    sheet.line((source + 14, y), (relay - 15, y))
    sheet.box(relay - 15, y - 10, relay + 15, y + 10, colour=INK, dash="-")
    sheet.line((relay - 10, y + 10), (relay + 10, y - 10))
    sheet.line((relay + 15, y), (right - RING, y))
