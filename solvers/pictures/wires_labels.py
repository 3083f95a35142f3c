"""Room for words among conductors: candidates beside a point or along a line, and the first of them that is clear."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from .sheet import SHEET, XY, Sheet, text_width

__all__ = ["Box", "Free", "Label", "Tied", "along", "beside", "boxed", "haloed", "off", "tied"]

Box = tuple[float, float, float, float]
"""Left, top, right and bottom."""

Tied = tuple["Label", tuple[XY, XY] | None]
"""A label, and the leader that ties it to what it is about where it stands away from it."""

BAND = 32
CLEAR = 1.0  # beside lines


@dataclass(frozen=True, slots=True)
class Label:
    """One line of text at its baseline."""

    text: str
    x: float
    y: float
    anchor: str  # "start", "middle" or "end"
    size: float


@lru_cache(maxsize=2048)
def _wide(text: str, size: float) -> float:
    return text_width(text, size)


def boxed(label: Label) -> Box:
    """The rectangle that a label takes, on the wide side."""
    wide = _wide(label.text, label.size)
    left = {"start": label.x, "end": label.x - wide, "middle": label.x - wide / 2}[label.anchor]
    return left, label.y - 0.75 * label.size, left + wide, label.y + 0.2 * label.size


class Free:
    """A sheet, and what of it is taken. Kept in bands of levels, so that a look costs little."""

    def __init__(self, width: float, height: float) -> None:
        self.width, self.height = width, height
        self.bands: dict[int, list[Box]] = {}

    def take(self, box: Box) -> None:
        """Nothing may be written here from now on."""
        for band in range(int(box[1] // BAND), int(box[3] // BAND) + 1):
            self.bands.setdefault(band, []).append(box)

    def run(self, points: Sequence[XY]) -> None:
        """A conductor takes its line."""
        for (ax, ay), (bx, by) in pairwise(points):
            self.take((min(ax, bx) - CLEAR, min(ay, by) - CLEAR, max(ax, bx) + CLEAR, max(ay, by) + CLEAR))

    def taken(self, box: Box) -> int:
        """How many things a rectangle would lie on; the sheet's edge counts for many."""
        left, top, right, bottom = box
        count = 0 if left >= 0 and top >= 0 and right <= self.width and bottom <= self.height else 100
        met: set[Box] = set()
        for band in range(int(top // BAND), int(bottom // BAND) + 1):
            for other in self.bands.get(band, ()):
                if left < other[2] and other[0] < right and top < other[3] and other[1] < bottom:
                    met.add(other)
        return count + len(met)

    def fitted(self, labels: Iterable[Label]) -> Label | None:
        """The first of the candidates that is clear of everything, which then takes its place; None if there is none."""
        for label in labels:
            box = boxed(label)
            if not self.taken(box):
                self.take(box)
                return label
        return None

    def settled(self, labels: Iterable[Label]) -> Label:
        """The first candidate that is clear, or else the one that lies on least."""
        candidates = tuple(labels)
        label = self.fitted(candidates)
        if label is None:
            label = min(candidates, key=lambda label: self.taken(boxed(label)))
            self.take(boxed(label))
        return label

    def found(self, candidates: Iterable[Tied]) -> Tied:
        """The same as settled, with the leader of the candidate that is taken."""
        seen: list[tuple[int, Tied]] = []
        for label, leader in candidates:
            box = boxed(label)
            taken = self.taken(box)
            if not taken:
                self.take(box)
                return label, leader
            seen.append((taken, (label, leader)))
        _, best = min(seen, key=lambda pair: pair[0])
        self.take(boxed(best[0]))
        return best


def beside(text: str, at: XY, size: float) -> list[Label]:
    """Candidates around a ring: over and under what comes from its right or left, then further out."""
    x, y = at
    sides = ((8, "start"), (-8, "end"))
    near = [Label(text, x + dx, y + dy, anchor, size) for dx, anchor in sides for dy in (-4, 12)]
    far = [Label(text, x + dx * by, y + dy, anchor, size) for by in (2, 3, 5) for dx, anchor in sides for dy in (-4, 12, -16, 24)]
    return near + far


def tied(text: str, box: Box, size: float) -> Iterator[Tied]:
    """Candidates around a mark: over and under it and beside it, then further away with a leader."""
    left, top, right, bottom = box
    middle, wide = (left + right) / 2, _wide(text, size)
    sides = ((left, "start"), (middle, "middle"), (right, "end"), (right + 4, "start"), (left - 4, "end"))
    for away in (0, 6):
        for level in (top - 4 - away, bottom + 0.75 * size + 3 + away):
            yield from ((Label(text, x, level, anchor, size), None) for x, anchor in sides)
    for away in range(12, 110, 7):
        for share in (-0.5, -0.9, -0.1):
            x, under = middle + share * wide, bottom + away
            yield Label(text, x, top - away, "start", size), ((middle, top), (middle, top - away + 2))
            yield Label(text, x, under + 0.75 * size, "start", size), ((middle, bottom), (middle, under))


def along(text: str, points: Sequence[XY], size: float) -> list[Label]:
    """Candidates along a line: over and under its level stretches, ends first, then beside its upright ones."""
    wide, found = _wide(text, size), []
    level = [(a, b) for a, b in pairwise(points) if a[1] == b[1]]
    ends = [*level[:1], *level[-1:]]
    for (ax, y), (bx, _) in (*ends, *level[1:-1]):
        left, right = sorted((ax, bx))
        if right - left < wide + 4:
            continue
        for x in dict.fromkeys((left + 3, right - 3 - wide, (left + right - wide) / 2)):
            found += [Label(text, x, y - 4, "start", size), Label(text, x, y + size + 1, "start", size)]
    for (x, ay), (_, by) in ((a, b) for a, b in pairwise(points) if a[0] == b[0]):
        for share in (0.5, 0.3, 0.7, 0.15, 0.85):
            y = ay + (by - ay) * share
            found += [Label(text, x + 5, y, "start", size), Label(text, x - 5, y, "end", size)]
    if not found:
        (x, y) = points[0]
        found = [Label(text, x + 3, y - 4, "start", size)]
    return found


def off(text: str, points: Sequence[XY], size: float) -> Iterator[Tied]:
    """Candidates away from a line, each with the leader that ties it there."""
    level = [pair for pair in pairwise(points) if pair[0][1] == pair[1][1]]
    for (ax, y), (bx, _) in sorted(level, key=lambda pair: -abs(pair[0][0] - pair[1][0])):
        for away in range(8, 89, 8):
            for share in (0.5, 0.25, 0.75):
                x = ax + (bx - ax) * share
                for base, edge in ((y - away, y - away + 2), (y + away + 0.75 * size, y + away)):
                    for dx, anchor in ((0, "middle"), (-4, "start"), (4, "end")):
                        yield Label(text, x + dx, base, anchor, size), ((x, y), (x, edge))


def haloed(sheet: Sheet) -> None:
    """Clear sheet around the text drawn last, so that it can be read where lines pass behind it."""
    mark = sheet.svgelements[-1][1]
    for key, value in (("stroke", SHEET), ("stroke-width", "3"), ("paint-order", "stroke")):
        mark.set(key, value)
