"""Every symbol of the drawings by itself, drawn by what the ladders draw with; and where its shape comes from."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from ..plant.demos import bungalow
from ..plant.parts import Part
from .elements import Element
from .layout import planned
from .sheet import FINE, INK, RAIL, SOFT, Sheet
from .symbols import Shown, half, ring, source
from .trace import traced
from .units import drawn

__all__ = ["SYMBOLS", "Symbol", "symbol", "symbol_table"]

WIDE, HIGH, MIDDLE = 150.0, 64.0, 36.0
LEFT, RIGHT = 15.0, 135.0


@dataclass(frozen=True, slots=True)
class Symbol:
    """One symbol: how it is drawn, what it means, and where its shape comes from."""

    draw: Callable[[Sheet], None]
    meaning: str
    shape: str
    high: float = HIGH
    wide: float = WIDE


def symbol(name: str) -> str:
    """One symbol as SVG; raises ValueError with the names there are."""
    if name not in SYMBOLS:
        raise ValueError(f"no symbol {name!r}; there are {list(SYMBOLS)}")
    one = SYMBOLS[name]
    sheet = Sheet(one.wide, one.high)
    one.draw(sheet)
    return sheet.svg(name, f"{name}. {one.meaning}")


def symbol_table() -> str:
    """All symbols as Markdown: a table whose first column has them drawn."""
    lines = ["````{list-table}", ":header-rows: 1", ":widths: 22 20 33 25", ":class: symbols", ""]
    lines += ["* - Symbol", "  - Name", "  - What it stands for", "  - Where its shape comes from"]
    for name, one in SYMBOLS.items():
        lines += ["* - ```{drawing} solvers.pictures.symbol_examples:symbol", f"    :alt: {name}"]
        lines += [f'    {{"name": "{name}"}}', "    ```", f"  - {name}", f"  - {one.meaning}", f"  - {one.shape}"]
    return "\n".join([*lines, "````"])


def _element(kind: str, *, closed: bool = False, broken: bool = False, mark: str = "") -> Callable[[Sheet], None]:
    element = Element("part", kind, "part.a", "part.b", "part", mark)
    shown = Shown(frozenset([element] if closed else []), frozenset([element] if broken else []))

    def draw(sheet: Sheet) -> None:
        half(sheet, element, LEFT, RIGHT, MIDDLE, shown)

    return draw


def _unit(part: str, kind: str) -> Callable[[Sheet], None]:
    """A symbol of several elements, taken from the plan of the bungalow's ladder."""

    def draw(sheet: Sheet) -> None:
        house = bungalow()
        cell = next(one for one in planned(house, traced(house), (), 0).cells if one.part == part and one.kind == kind)
        found: Part = house.part(part)
        drawn(sheet, replace(cell, x=20.0, y=cell.above + 4.0), found, Shown())
        for port in cell.ports:
            ring(sheet, 20.0 + port.dx, cell.above + 4.0 + port.dy)

    return draw


def _point(sheet: Sheet) -> None:
    sheet.line((LEFT, MIDDLE), (70, MIDDLE))
    sheet.line((80, MIDDLE), (RIGHT, MIDDLE))
    ring(sheet, 75, MIDDLE)
    sheet.text("H", 75, MIDDLE - 12)


def _crossing(sheet: Sheet) -> None:
    sheet.line((75, 10), (75, 60))
    sheet.conductor([(LEFT, MIDDLE), (RIGHT, MIDDLE)], [(75, MIDDLE)])


def _bus(sheet: Sheet) -> None:
    with sheet.group("bus"):
        sheet.line((75, 8), (75, 60), weight=RAIL)
        for y in (20, 48):
            sheet.line((75, y), (RIGHT, y))
    with sheet.group("points"):
        for y in (20, 48):
            ring(sheet, 75, y)


def _lifted(sheet: Sheet) -> None:
    sheet.line((95, MIDDLE), (RIGHT, MIDDLE))
    ring(sheet, 60, MIDDLE)
    ring(sheet, 90, MIDDLE)
    sheet.text("lifted", 95, MIDDLE - 12, size=11, anchor="start")


def _enclosure(sheet: Sheet) -> None:
    sheet.box(25, 12, 125, 56)


def _cable(sheet: Sheet) -> None:
    for y in (28, 40):
        sheet.line((LEFT, y), (RIGHT, y))
    loop = ((75, 20), (81, 20), (81, 48), (69, 48), (69, 20), (75, 20))
    sheet.conductor(loop, colour=SOFT, weight=FINE)


def _supply(*, direct: bool) -> Callable[[Sheet], None]:
    def draw(sheet: Sheet) -> None:
        sheet.line((LEFT, MIDDLE), (61, MIDDLE), colour=INK)
        sheet.line((89, MIDDLE), (RIGHT, MIDDLE), colour=INK)
        source(sheet, 75, MIDDLE, direct=direct)

    return draw


OWN = "of this course"
READ = "named so in *Lessons In Electric Circuits*, volume V"
MEMORY = "from memory"

SYMBOLS: Mapping[str, Symbol] = {
    "test point": Symbol(_point, "A terminal: a ring that takes a probe, its letter outside.", OWN),
    "splice": Symbol(_element("joint"), "A joint between two conductors, with a side each.", OWN),
    "open joint": Symbol(_element("joint", broken=True), "A joint that has come apart, where a drawing may look inside.", OWN),
    "bus": Symbol(
        _bus, "One metal with several ways: what lands on it is joined.", f"the heavy line of a ladder's rail, {MEMORY}"
    ),
    "crossing": Symbol(
        _crossing, "Two conductors that pass each other and do not touch.", f"the older bow over a crossing, {READ}"
    ),
    "lifted lead": Symbol(_lifted, "A lead taken off its screw, with a ring of its own.", OWN),
    "cable": Symbol(_cable, "Conductors in one sheath, at the loop.", f"a loop round what runs together, {MEMORY}"),
    "enclosure": Symbol(_enclosure, "One box or one part around what it holds.", f"the dashed boundary line, {MEMORY}"),
    "fuse": Symbol(_element("fuse"), "Opens once, on too much current for too long.", f"US form, IEEE 315 section 9, {MEMORY}"),
    "blown fuse": Symbol(_element("fuse", broken=True), "The same, open.", OWN),
    "breaker": Symbol(
        _element("breaker"), "Opens on too much current, and can be pushed in again.", f"{MEMORY}; the button is ours"
    ),
    "tripped breaker": Symbol(_element("breaker", broken=True), "The same, open.", OWN),
    "stat": Symbol(
        _element("stat"),
        "A thermostat: a contact moved by temperature, here open.",
        f"\u201cTemperature\u201d among the switches moved by a process, {READ}",
        high=72,
    ),
    "calling stat": Symbol(_element("stat", closed=True), "The same, closed: it calls.", "as above", high=72),
    "stat with anticipator": Symbol(
        _element("stat", mark="anticipator"), "A stat whose own current warms it, through a small heater.", OWN, high=72
    ),
    "electronics": Symbol(_element("electronics"), "What lives on a stat's R and C, unspecified.", OWN),
    "end switch": Symbol(
        _element("switch"),
        "A contact moved by travel: made when the valve is fully open.",
        f"nearest to \u201cLimit\u201d among the switches moved by a process, {READ}",
    ),
    "made end switch": Symbol(_element("switch", closed=True), "The same, made.", "as above"),
    "contact": Symbol(
        _element("contact"),
        "A relay's contact that is open at rest.",
        f"a normally open contact; \u201cnormal\u201d is at rest, {READ}",
    ),
    "contact made at rest": Symbol(
        _element("contact", closed=True, mark="rest"),
        "A relay's contact that opens when the coil pulls.",
        f"normally closed, {READ}",
    ),
    "coil": Symbol(
        _element("coil"), "A relay's coil.", f"the box of IEC 60617 with a stroke, {MEMORY}; many ladders draw a circle"
    ),
    "heater": Symbol(
        _element("heater"),
        "The heater of a heat motor: ohms that become heat.",
        f"\u201cFixed-value\u201d resistor, the zig-zag, {READ}",
    ),
    "open heater": Symbol(_element("heater", broken=True), "The same, broken inside.", OWN),
    "heater of the low-draw kind": Symbol(
        _element("ptc"),
        "A heater whose ohms rise as it warms.",
        f"the kinked stroke for ohms that follow temperature, {MEMORY}",
        high=72,
    ),
    "motor": Symbol(_element("motor"), "The motor of a motor-driven valve.", f"a circle with an M, {MEMORY}"),
    "supply of its own": Symbol(
        _supply(direct=False), "Alternating volts from inside a part, as at many a T-T.", f"a circle with a wave, {MEMORY}"
    ),
    "board supply": Symbol(
        _supply(direct=True), "Direct volts from a circuit board.", f"the two strokes of direct current, {MEMORY}"
    ),
    "transformer": Symbol(
        _unit("transformer", "winding"),
        "Two windings on one core; line voltage above.",
        f"\u201cTransformer\u201d, {READ}",
        high=120,
        wide=150,
    ),
    "three-wire valve": Symbol(
        _unit("zone1.valve", "valve"),
        "Heater from H to S, end switch from S to E, in one box.",
        "built of the above",
        high=150,
        wide=190,
    ),
    "boiler input": Symbol(
        _unit("boiler", "boiler"),
        "T-T: the boiler's own supply and the input that it feeds, in one box.",
        "built of the above",
        high=128,
        wide=190,
    ),
}
"""Symbols by name. Shapes "from memory" have not been read in the standard that they are said to come from."""
