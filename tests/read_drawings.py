"""A drawing read back from its SVG, and what a careful reader would complain of."""

from __future__ import annotations

import re
from itertools import combinations, pairwise
from xml.etree import ElementTree

import pytest

from solvers.pictures import point_words
from solvers.pictures.sheet import text_width
from solvers.plant.wiring import Installation

__all__ = ["RING", "SVG", "Read", "box_of", "landed", "meet", "problems", "readable_section", "span"]

SVG = "{http://www.w3.org/2000/svg}"
RING = 5.0
RAIL = re.compile(r" (bus|joint)( \d+)?$")
PAIR = re.compile(r"(-?[\d.]+),(-?[\d.]+)")


class Read:
    """A drawing read back from its SVG: rings, lines as corner points, texts as boxes."""

    def __init__(self, svg: str) -> None:
        self.root = ElementTree.fromstring(svg)
        _, _, self.width, self.height = (float(number) for number in self.root.get("viewBox").split())
        self.rings = {}
        for group in self.groups("point"):
            circle = group.find(f"{SVG}circle")
            assert group.get("data-point") not in self.rings
            self.rings[group.get("data-point")] = (float(circle.get("cx")), float(circle.get("cy")))
        told = [(g.get("data-wire"), {text.text for text in g.iter(f"{SVG}text")} - {"open"}) for g in self.groups("wire")]
        self.referred = {name: texts for name, texts in told if texts}
        lines = [(g.get("data-wire"), g.iter(f"{SVG}path")) for g in self.groups("wire")]
        self.wires = {name: [_corners(path) for path in paths if name not in self.referred] for name, paths in lines}
        self.rails = {
            g.get("data-part"): [_corners(path) for path in g.iter(f"{SVG}path")]
            for g in self.groups("part")
            if RAIL.search(g.get("data-part"))
        }
        self.bars = {g.get("data-point"): [_corners(path) for path in g.iter(f"{SVG}path")] for g in self.groups("point")}
        self.texts = [(text.text, box_of(text)) for text in self.root.iter(f"{SVG}text")]

    def symbols(self) -> list[tuple[str, tuple[float, ...], set[str]]]:
        """Each part's symbol: its name, what it covers but for its edge, and its own words."""
        found = []
        for group in self.groups("part"):
            spread = [point for mark in group for point in _points(mark)]
            if RAIL.search(group.get("data-part")) or not spread:
                continue
            (left, *_, right), (top, *_, bottom) = (sorted(at) for at in zip(*spread, strict=True))
            own = {text.text for text in group.iter(f"{SVG}text")}
            found.append((group.get("data-part"), (left + 8, top + 3, right - 8, bottom - 3), own))
        return found

    def groups(self, kind: str) -> list[ElementTree.Element]:
        return [group for group in self.root.iter(f"{SVG}g") if group.get("class") == kind]

    @property
    def lines(self) -> list[tuple[str, list[tuple[float, float]]]]:
        everything = (*self.wires.items(), *self.rails.items(), *self.bars.items())
        return [(name, line) for name, lines in everything for line in lines]

    def spread(self, point: str) -> tuple[float, float, float]:
        """Where a test point is, and how far down its bar reaches."""
        x, y = self.rings[point]
        return x, y, max((end[1] for line in self.bars[point] for end in line), default=y)


def _corners(path: ElementTree.Element) -> list[tuple[float, float]]:
    """The corners of a line: a rounded corner is put back to the point it rounds, a bow is left out."""
    words = path.get("d").split()
    found, place = [], 0
    while place < len(words):
        take = {"M": 2, "L": 2, "Q": 4, "C": 6}[words[place]]
        numbers = [float(word) for word in words[place + 1 : place + 1 + take]]
        found.append((numbers[0], numbers[1]) if words[place] == "Q" else (numbers[-2], numbers[-1]))
        place += 1 + take
    return found


def _points(mark: ElementTree.Element) -> list[tuple[float, float]]:
    """Points that a line or a circle of a symbol reaches."""
    if mark.tag == f"{SVG}circle":
        x, y, r = (float(mark.get(key)) for key in ("cx", "cy", "r"))
        return [(x - r, y - r), (x + r, y + r)]
    return [(float(x), float(y)) for x, y in PAIR.findall(f"{mark.get('d', '')} {mark.get('points', '')}")]


def box_of(text: ElementTree.Element) -> tuple[float, float, float, float]:
    size, x, y = (float(text.get(key)) for key in ("font-size", "x", "y"))
    wide = text_width(text.text, size)
    left = {"start": x, "end": x - wide, "middle": x - wide / 2}[text.get("text-anchor")]
    return left, y - 0.75 * size, left + wide, y + 0.2 * size


def meet(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def span(a: tuple[float, float], b: tuple[float, float], room: float) -> tuple[float, float, float, float]:
    return min(a[0], b[0]) - room, min(a[1], b[1]) - room, max(a[0], b[0]) + room, max(a[1], b[1]) + room


def problems(house: Installation, svg: str) -> list[str]:
    """What a careful reader would complain of: collisions of words, lines and rings, and whatever is off the sheet."""
    read = Read(svg)
    found = []
    ends = {wire.name: {wire.a, wire.b} for wire in house.conductors}
    ends |= {part.name: set(part.terminals) for part in house.parts}
    ends |= {point: {point.removesuffix(" lead")} for point in read.rings}
    for (one, box), (other, another) in combinations(read.texts, 2):
        if meet(box, another):
            found.append(f"{one!r} on {other!r}")
    for words, box in read.texts:
        if box[0] < 0 or box[1] < 0 or box[2] > read.width or box[3] > read.height:
            found.append(f"{words!r} is off the sheet")
        found += [f"{words!r} on ring {name}" for name, at in read.rings.items() if meet(box, span(at, at, RING))]
        found += [
            f"{words!r} on {name}" for name, line in read.lines if any(meet(box, span(*pair, 1)) for pair in pairwise(line))
        ]
    for name, line in read.lines:
        for a, b in pairwise(line):
            if abs(a[0] - b[0]) > 0.01 and abs(a[1] - b[1]) > 0.01:
                found.append(f"{name} runs aslant")
            others = [ring for ring in read.rings if ring.removesuffix(" lead") not in ends[name]]
            found += [
                f"{name} through ring {ring}"
                for ring in others
                if meet(span(a, b, 1), span(read.rings[ring], read.rings[ring], RING))
            ]
    for part, box, own in read.symbols():
        for name, line in read.lines:
            if any(re.search(r"\.(L|P\d+)$", end) for end in ends[name]):
                continue  # the leads of a line side stand inside its symbol
            found += [f"{name} through {part}" for pair in pairwise(line) if meet(box, span(*pair, 0))]
        mine = {terminal.rpartition(".")[2] for terminal in house.part(part).terminals} | own
        found += [f"{words!r} on {part}" for words, spread in read.texts if words not in mine and meet(box, spread)]
    for (one, line), (other, another) in combinations(read.lines, 2):
        if any(_along(*pair, *rival) for pair in pairwise(line) for rival in pairwise(another)):
            found.append(f"{one} along {other}")
    return found


def _along(a, b, c, d) -> bool:
    """Whether two stretches lie on each other for more than a point."""
    for level, run in ((0, 1), (1, 0)):
        if max(abs(a[level] - end[level]) for end in (b, c, d)) < 0.01:
            return min(max(a[run], b[run]), max(c[run], d[run])) - max(min(a[run], b[run]), min(c[run], d[run])) > 0.1
    return False


def landed(house: Installation, svg: str, off: tuple[str, ...] = ()) -> None:
    """Fail unless every conductor is drawn from the edge of one of its rings to the edge of the other."""
    read = Read(svg)
    assert {wire.name for wire in house.conductors} == set(read.wires)
    for wire in house.conductors:
        if referred := read.referred.get(wire.name):
            assert {f"to {point_words(f'{end} lead' if end in off else end)}" for end in (wire.a, wire.b)} == referred
            continue
        (line,) = read.wires[wire.name]
        for terminal, (x, y) in ((wire.a, line[0]), (wire.b, line[-1])):
            middle, top, low = read.spread(f"{terminal} lead" if terminal in off else terminal)
            on_bar = x == middle and top + RING < y <= low
            on_ring = RING == pytest.approx(abs(x - middle) + abs(y - top), abs=0.01)
            assert on_bar or on_ring, (wire.name, terminal)


def readable_section(svg: str, words: str) -> None:
    """Fail unless a section carries these words, no two of its texts meet and none is off the sheet."""
    root = ElementTree.fromstring(svg)
    assert words == root.find(f"{SVG}desc").text
    wide, high = (float(number) for number in root.get("viewBox").split()[2:])
    boxes = [box_of(text) for text in root.iter(f"{SVG}text")]
    assert not [pair for pair in combinations(boxes, 2) if meet(*pair)]
    assert not [box for box in boxes if box[0] < 0 or box[1] < 0 or box[2] > wide or box[3] > high]
