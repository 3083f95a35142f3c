"""The symbols of a ladder that hold more than one element, and the words of every symbol."""

from __future__ import annotations

from ..plant.parts import Breaker, Fuse, Part, Transformer
from .cells import PANEL, SUB, THROW, Cell, Label
from .elements import Element, named_kind
from .sheet import INK, SHEET, Sheet
from .symbols import CONTACT, RING, Shown, breaker, coil, contact, half, plain, source

__all__ = ["captions", "drawn"]

SMALL = 11
WORDS = {"ptc": "heater", "heater": "heater", "motor": "motor", "switch": "end switch", "electronics": "electronics"}


def drawn(sheet: Sheet, cell: Cell, part: Part, shown: Shown) -> None:
    """One cell's symbol, with what is shown of its elements' condition."""
    symbol = {
        "boiler": _boiler,
        "box": _box,
        "pole": _pole,
        "stat box": _fork,
        "throw": _pole,
        "valve": _fork,
        "winding": _winding,
    }.get(cell.kind)
    if symbol is None:
        plain(sheet, cell, shown)
    else:
        symbol(sheet, cell, part, shown)
    for port in cell.ports:
        if port.terminal in cell.lone and cell.kind not in ("box", "winding"):
            # A metal body: nothing but a place to put a probe on.
            x, y = cell.x + port.dx, cell.y + port.dy
            sheet.line((x, y + RING), (x, y + 9))
            sheet.line((x - 8, y + 9), (x + 8, y + 9))


def captions(cell: Cell, part: Part) -> tuple[Label, ...]:
    """The words of one cell, the letters of its terminals apart."""
    left, right, y = cell.x, cell.x + cell.width, cell.y
    middle = (left + right) / 2
    if cell.kind in ("valve", "stat box"):
        return (Label(cell.name, middle, y - 42), *_half_captions(cell))
    if cell.kind == "boiler":
        relay = "board" if cell.mark == "board-sensed" else "input"
        own = () if cell.mark == "fed from outside" else (Label("own supply", left + 44, y + 31),)
        return (Label(cell.name, middle, y - 42), *own, Label(relay, right - 34, y + 31))
    if cell.kind == "box":
        return Label(cell.name, middle, y - 42), Label(named_kind(part), middle, y + 5 + (cell.below - 50) / 2, size=SMALL)
    if cell.kind == "winding":
        return _winding_captions(cell, part)
    words = {
        "coil": f"{cell.name} coil",
        "switch": f"{cell.name} end switch",
        "throw": f"{cell.name} end switch",
        "fuse": f"{cell.name}, {part.amps:g} A" if isinstance(part, Fuse | Breaker) else cell.name,
        "breaker": f"{cell.name}, {part.amps:g} A" if isinstance(part, Fuse | Breaker) else cell.name,
        "motor": f"{cell.name} motor",
        "heater": f"{cell.name} heater",
        "ptc": f"{cell.name} heater",
    }.get(cell.kind, cell.name)
    high = 28 if cell.kind in ("stat", "switch", "throw", "contact", "pole", "breaker", "ptc") else 26
    said = (Label(words, middle, y - high),)
    return (*said, Label(cell.mark, middle, y + 34, size=SMALL)) if cell.kind == "stat" and cell.mark else said


def _words(element: Element) -> str:
    """What one half of a unit is called inside its box."""
    if element.kind == "stat":
        return element.mark or "contact"
    return element.mark if element.mark and element.kind == "motor" else WORDS.get(element.kind, _mark(element.b))


def _half_captions(cell: Cell) -> tuple[Label, ...]:
    """Names of a unit's halves: above what lies on the rung, below what hangs from it."""
    left, middle, right = cell.x, cell.x + cell.width / 2, cell.x + cell.width
    if len(cell.steps) == 2:
        places = ((left + middle) / 2, (middle + right) / 2)
        return tuple(
            Label(_words(step.element), x - 1, cell.y - 19, size=SMALL) for step, x in zip(cell.steps, places, strict=True)
        )
    shift = -10 if cell.shared_right else 10
    found = (Label(_words(cell.steps[0].element), middle + shift, cell.y - 19),)
    if cell.hung is None:
        return found
    return (*found, Label(_words(cell.hung), middle + (10 if _third_right(cell) else -10), cell.y + SUB + 25))


def _third_right(cell: Cell) -> bool:
    return any(port.terminal == cell.third and port.dx > 0 for port in cell.ports)


def _fork(sheet: Sheet, cell: Cell, part: Part, shown: Shown) -> None:
    """A unit of two elements whole: what lies on the rung, and the third lead below."""
    left, right, y = cell.x, cell.x + cell.width, cell.y
    low = y + SUB
    sheet.box(left, y - 36, right, low + 30)
    if len(cell.steps) == 2:
        node = (left + right) / 2
        for step, (start, end) in zip(cell.steps, ((left + RING, node), (node, right - RING)), strict=True):
            half(sheet, step.element, start, end, y, shown, small=True)
        sheet.disc((node, y), 2.5, fill=INK)
        sheet.line((node, y), (node, low), (right - RING if _third_right(cell) else left + RING, low))
        return
    # The joint of the two halves is inside, beside the shared lead.
    node = right - 24 if cell.shared_right else left + 24
    if cell.shared_right:
        half(sheet, cell.steps[0].element, left + RING, node, y, shown)
        sheet.line((node, y), (right - RING, y))
    else:
        sheet.line((left + RING, y), (node, y))
        half(sheet, cell.steps[0].element, node, right - RING, y, shown)
    sheet.disc((node, y), 2.5, fill=INK)
    if cell.hung is None:
        return
    if _third_right(cell) != cell.shared_right:
        sheet.line((node, y), (node, low))
        ends = (left + RING, node) if cell.shared_right else (node, right - RING)
        half(sheet, cell.hung, *ends, low, shown)
    else:
        # The shared lead is on the left like the third lead: the half between them turns back inside the box.
        far = right - 24
        half(sheet, cell.hung, left + RING, far, low, shown)
        sheet.line((far, low), (far, low - 20), (node, low - 20), (node, y))


def _pole(sheet: Sheet, cell: Cell, part: Part, shown: Shown) -> None:
    """A changeover contact: the arm lies on the throw that is made; the other throw has its terminal below."""
    flip = cell.shared_right
    start, end = (cell.x + cell.width, cell.x) if flip else (cell.x, cell.x + cell.width)
    way, y, low = (-1 if flip else 1), cell.y, cell.y + THROW
    pivot, tip = start + 28 * way, start + 60 * way
    element = cell.steps[0].element
    sheet.line((start + RING * way, y), (pivot - CONTACT * way, y))
    sheet.line((tip + CONTACT * way, y), (end - RING * way, y))
    for at in ((pivot, y), (tip, y), (tip, y + 14)):
        sheet.disc(at, CONTACT, fill=SHEET)
    sheet.line((tip, y + 14 + CONTACT), (tip, low), (end - RING * way, low))
    made = element in shown.closed
    sheet.line((pivot + CONTACT * way, y), (tip - CONTACT * way, y - 1) if made else (tip - CONTACT * way, y + 13))
    if element.kind == "switch":
        middle = (pivot + tip) / 2
        top = y + (2 if made else 9)
        sheet.area(((middle, top), (middle - 5, top + 10), (middle + 5, top + 10)), fill=INK, weight=1.2)


def _boiler(sheet: Sheet, cell: Cell, part: Part, shown: Shown) -> None:
    left, right, y = cell.x, cell.x + cell.width, cell.y
    supply, relay = left + 44, right - 36
    sheet.box(left, y - 36, right, y + 40)
    if cell.mark == "fed from outside":
        sheet.line((left + RING, y), (supply + 14, y))
    else:
        sheet.line((left + RING, y), (supply - 14, y))
        source(sheet, supply, y, direct=cell.mark == "board-sensed")
    if cell.mark == "board-sensed":
        sheet.line((supply + 14, y), (relay - 15, y))
        sheet.line((relay + 15, y), (right - RING, y))
        sheet.box(relay - 15, y - 10, relay + 15, y + 10, colour=INK, dash="-")
        return
    sheet.line((supply + 14, y), (relay - 20, y))
    coil(sheet, relay - 20, relay + 20, y)
    sheet.line((relay + 20, y), (right - RING, y))


def _box(sheet: Sheet, cell: Cell, part: Part, shown: Shown) -> None:
    """A part that has no symbol: its name, its kind and its terminals."""
    lowest = max(port.dy for port in cell.ports)
    sheet.box(cell.x, cell.y - 26, cell.x + cell.width, cell.y + lowest + 26, colour=INK, dash="-")


def _winding(sheet: Sheet, cell: Cell, part: Part, shown: Shown) -> None:
    """A source's winding beside its primary, its own breaker and the leads of its line side where it has them."""
    left, right, y = cell.x + RING, cell.x + cell.width - RING, cell.y
    core, high = cell.x + cell.core, y - 42
    if cell.breaker:
        x = next(cell.x + port.dx for port in cell.ports if port.terminal == cell.breaker)
        far = right if cell.turned else left
        breaker(sheet, *sorted((far, x + RING if cell.turned else x - RING)), y)
        left, right = (left, x - RING) if cell.turned else (x + RING, right)
    sheet.line((left, y), (core - 24, y))
    sheet.line((core + 24, y), (right, y))
    for turn in (-18, -6, 6, 18):
        sheet.bow((core + turn, y), 6)
        sheet.bow((core + turn, high), 6, start=180, end=360)
    for iron in (y - 18, y - 24):
        sheet.line((core - 26, iron), (core + 26, iron))
    if not cell.primary:
        for side in (-1, 1):
            sheet.line((core + 24 * side, high), (core + 24 * side, high - 12))
        return
    _line_side(sheet, cell)


def _line_side(sheet: Sheet, cell: Cell) -> None:
    """Each lead of the primary to its ring, and the panel's side through the switch to the one in use."""
    places = {port.terminal: (cell.x + port.dx, cell.y + port.dy) for port in cell.ports}
    core, high = cell.x + cell.core, cell.y - 42
    common, *taps, panel = cell.primary
    x, y = places[common]
    sheet.line((core - 24, high), (core - 24, high - 8), (x, high - 8), (x, y + RING))
    for place, tap in enumerate(taps):
        x, y = places[tap]
        foot, level = core - 24 + 48 * (place + 1) / len(taps), high - 5 * (len(taps) - place)
        sheet.line((foot, high), (foot, level), (x, level), (x, y + RING))
    used, start = places[f"{cell.part}.{cell.mark}"], places[panel]
    contact(sheet, start[0] + RING, used[0], start[1], True, 24)
    sheet.line((used[0], start[1]), (used[0], used[1] - RING))


def _winding_captions(cell: Cell, part: Part) -> tuple[Label, ...]:
    core = cell.x + cell.core
    words = f"{cell.name}, {part.va:g} VA" if isinstance(part, Transformer) else f"{cell.name}, own transformer"
    below = Label(words, core + (-20 if cell.turned else 20) * bool(cell.breaker), cell.y + 24)
    if cell.primary:
        return Label("line voltage", core - 20, cell.y + PANEL - 14), below
    return Label("line voltage", core, cell.y - 60), below


def _mark(terminal: str) -> str:
    return terminal.rpartition(".")[2]
