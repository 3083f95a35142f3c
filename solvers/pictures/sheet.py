"""A drawing sheet: schemdraw's SVG figure in pixels, y downward, with marks collected in named groups.

Colours are CSS variables that fall back to the text colour, so that one drawing serves light pages, dark pages and
print. Everything visible is drawn with the few weights and sizes below.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from xml.etree import ElementTree

from schemdraw.backends.svg import Figure, fmt
from schemdraw.backends.svgtext import string_width
from schemdraw.elements import Element2Term
from schemdraw.segments import Segment, SegmentArc, SegmentCircle, SegmentPath, SegmentPoly
from schemdraw.transform import Transform
from schemdraw.types import BBox
from schemdraw.util import Point

__all__ = ["FINE", "HEAT", "INK", "RAIL", "SHEET", "SOFT", "STROKE", "WATER", "XY", "Sheet", "text_width"]

INK = "var(--ink, currentColor)"
SOFT = "var(--soft-ink, currentColor)"
HEAT = "var(--heat, currentColor)"
WATER = "var(--water, currentColor)"
SHEET = "var(--sheet, none)"
FACE = "var(--face, sans-serif)"
FINE = 1.2  # enclosures, leaders
STROKE = 1.8  # conductors, symbols, rings
RAIL = 2.8  # buses
CORNER = 4.0
HOP = 5.5
HERE = Transform(0, (0, 0))
USUAL = (("stroke-dasharray", "-"), ("stroke-linecap", "round"), ("stroke-linejoin", "round"))  # said once, at the root
PER_UNIT = 1 / 72  # makes a unit of the figure one pixel

XY = tuple[float, float]


def text_width(text: str, size: float) -> float:
    """About how wide a line of text is in pixels, on the wide side for a plain sans face."""
    return string_width(text, fontsize=size, font="Arial")


class Sheet(Figure):
    """An SVG figure of a given size in pixels."""

    def __init__(self, width: float, height: float) -> None:
        super().__init__(BBox(0, -height, width, 0), inches_per_unit=PER_UNIT, margin=0)
        self.width, self.height = width, height

    def xform(self, x: float, y: float) -> Point:
        """Pixels are the figure's own units, and y runs downward."""
        return Point((x, y))

    @contextmanager
    def group(self, kind: str, *, title: str = "", **data: str) -> Iterator[None]:
        """Marks made inside end up in `<g class=kind data-key=value>`, with a title that names them."""
        outer, self.svgelements = self.svgelements, []
        yield
        group = ElementTree.Element("g", {"class": kind, **{f"data-{key}": value for key, value in data.items()}})
        if title:
            ElementTree.SubElement(group, "title").text = title
        group.extend(_marks(self.svgelements))
        outer.append((0, group))
        self.svgelements = outer

    def line(self, *points: XY, colour: str = INK, weight: float = STROKE, dash: str = "-") -> None:
        """A line through points with sharp corners."""
        Segment(points).draw(self, HERE, color=colour, lw=weight, ls=dash)

    def conductor(self, points: Sequence[XY], hops: Sequence[XY] = (), *, colour: str = INK, weight: float = STROKE) -> None:
        """A line at right angles with rounded corners, and a small bow wherever it passes over another."""
        SegmentPath(_rounded(points, hops)).draw(self, HERE, color=colour, lw=weight, fill="none")

    def box(
        self, left: float, top: float, right: float, bottom: float, *, colour: str = SOFT, dash: str = "5,4", fill: str = "none"
    ) -> None:
        """A rectangle; by default the fine dashed line that says enclosure."""
        corners = ((left, top), (right, top), (right, bottom), (left, bottom))
        SegmentPoly(corners).draw(self, HERE, color=colour, lw=FINE if dash != "-" else STROKE, ls=dash, fill=fill)

    def area(
        self, points: Sequence[XY], *, colour: str = INK, fill: str = "none", weight: float = STROKE, opacity: float = 1.0
    ) -> None:
        """A closed shape; opacity is that of its filling."""
        SegmentPoly(points).draw(self, HERE, color=colour, lw=weight, fill=fill)
        if opacity < 1:
            self.svgelements[-1][1].set("fill-opacity", fmt(opacity))

    def disc(self, centre: XY, radius: float, *, colour: str = INK, fill: str = "none", weight: float = STROKE) -> None:
        """A circle."""
        SegmentCircle(centre, radius).draw(self, HERE, color=colour, lw=weight, fill=fill)

    def bow(self, centre: XY, radius: float, *, start: float = 0, end: float = 180, colour: str = INK) -> None:
        """Part of a circle; degrees counted against the clock from the right."""
        arc = SegmentArc(centre, 2 * radius, 2 * radius, theta1=start, theta2=end)
        arc.draw(self, HERE, color=colour, lw=STROKE, fill="none")

    def symbol(self, element: Element2Term, at: XY, *, scale: float = 40, colour: str = INK) -> None:
        """One of schemdraw's standard symbols, its left end at a point, so many pixels to its unit."""
        transform = Transform(0, at, zoom=Point((scale, -scale)))
        for segment in element.segments:
            segment.draw(self, transform, color=colour, lw=STROKE, fill="none")

    def text(  # type: ignore[override]
        self, s: str, x: float, y: float, *, size: float = 12, colour: str = INK, anchor: str = "middle", bold: bool = False
    ) -> None:
        """One line of text on its baseline. Our own, because schemdraw's reads dollar signs and ampersands as markup."""
        mark = ElementTree.Element(
            "text", {"x": fmt(x), "y": fmt(y), "font-size": fmt(size), "fill": colour, "text-anchor": anchor}
        )
        if bold:
            mark.set("font-weight", "600")
        mark.text = s
        self.svgelements.append((3, mark))

    def svg(self, title: str, words: str) -> str:
        """The finished drawing: a viewBox and no fixed size, its name and its text alternative inside."""
        root = ElementTree.Element(
            "svg",
            {
                "xmlns": "http://www.w3.org/2000/svg",
                "viewBox": f"0 0 {fmt(self.width)} {fmt(self.height)}",
                "role": "img",
                "aria-label": title,
                "font-family": FACE,
                "stroke-linecap": "round",
                "stroke-linejoin": "round",
            },
        )
        ElementTree.SubElement(root, "title").text = title
        ElementTree.SubElement(root, "desc").text = words
        root.extend(_marks(self.svgelements))
        return ElementTree.tostring(root, encoding="unicode")


def _marks(elements: Sequence[tuple[int, ElementTree.Element]]) -> list[ElementTree.Element]:
    """Marks in drawing order, their inline style turned into attributes, which a page's own rules can override."""
    ordered = [mark for _, mark in sorted(elements, key=lambda pair: pair[0])]
    for mark in ordered:
        for rule in mark.attrib.pop("style", "").split(";"):
            name, colon, value = rule.partition(":")
            if colon and (name, value) not in USUAL:
                mark.set(name, value)
    return ordered


def _rounded(points: Sequence[XY], hops: Sequence[XY]) -> list[XY | str]:
    """The path through points: corners cut by a curve, bows where it hops."""
    path: list[XY | str] = ["M", points[0]]
    for place in range(1, len(points)):
        here, there = points[place - 1], points[place]
        for hop in sorted((hop for hop in hops if _between(here, hop, there)), key=lambda hop: _distance(here, hop)):
            path += _bow_over(hop, _toward(hop, here, HOP), _toward(hop, there, HOP))
        if place == len(points) - 1:
            path += ["L", there]
        else:
            onward = points[place + 1]
            cut = min(CORNER, _distance(here, there) / 2, _distance(there, onward) / 2)
            path += ["L", _toward(there, here, cut), "Q", there, _toward(there, onward, cut)]
    return path


def _bow_over(hop: XY, start: XY, end: XY) -> list[XY | str]:
    upright = start[0] == end[0]
    side = (4 / 3 * HOP, 0.0) if upright else (0.0, -4 / 3 * HOP)
    return ["L", start, "C", (start[0] + side[0], start[1] + side[1]), (end[0] + side[0], end[1] + side[1]), end]


def _between(here: XY, point: XY, there: XY) -> bool:
    """Whether a point lies on a straight stretch, far enough from its ends to bow."""
    along = _distance(here, point) + _distance(point, there)
    return along - _distance(here, there) < 1e-6 and min(_distance(here, point), _distance(point, there)) > HOP


def _toward(here: XY, there: XY, distance: float) -> XY:
    span = _distance(here, there) or 1.0
    return here[0] + (there[0] - here[0]) * distance / span, here[1] + (there[1] - here[1]) * distance / span


def _distance(a: XY, b: XY) -> float:
    return abs(a[0] - b[0]) + abs(a[1] - b[1])
