"""Where the conductors of one cable are seen to lie in one sheath: side by side at the end that they share."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from ..plant.wiring import Conductor
from .sheet import XY
from .wires_labels import Box

__all__ = ["Sheath", "sheathed"]

LOOP, OVER = 4.0, 7.0  # half the width of the mark, and how far it reaches beyond the outermost conductors
FROM_RING = 7.0
SPREAD = 100.0  # conductors further apart are not side by side


@dataclass(frozen=True, slots=True)
class Sheath:
    """One cable's mark: a loop around its conductors, or one around each where they share no end."""

    cable: str
    loops: tuple[Box, ...]


def sheathed(conductors: Sequence[Conductor], lines: Mapping[str, Sequence[XY]]) -> list[Sheath]:
    """The marks of every cable with more than one conductor, in the order of their names."""
    cables: dict[str, list[Conductor]] = {}
    for wire in conductors:
        if wire.cable:
            cables.setdefault(wire.cable, []).append(wire)
    return [Sheath(name, _loops(own, lines)) for name, own in sorted(cables.items())]


def _loops(own: Sequence[Conductor], lines: Mapping[str, Sequence[XY]]) -> tuple[Box, ...]:
    others = [line for name, line in lines.items() if name not in {wire.name for wire in own}]
    parts = dict.fromkeys(end.rpartition(".")[0] for wire in own for end in (wire.a, wire.b))
    for part in parts:
        stretches = []
        for wire in own:
            line = lines[wire.name]
            if wire.a.rpartition(".")[0] == part:
                stretches.append((line[0], line[1]))
            elif wire.b.rpartition(".")[0] == part:
                stretches.append((line[-1], line[-2]))
        if len(stretches) == len(own) and (loop := _around(stretches)) and not any(_crossed(loop, line) for line in others):
            return (loop,)
    return tuple(_single(lines[wire.name]) for wire in own)


def _around(stretches: Sequence[tuple[XY, XY]]) -> Box | None:
    """A loop around level stretches that leave one part on one side; None if they do not lie side by side."""
    sides = {start[0] < end[0] for start, end in stretches}
    levels = [start[1] for start, _ in stretches]
    if len(sides) > 1 or max(levels) - min(levels) > SPREAD:
        return None
    if sides.pop():
        begin, limit = max(start[0] for start, _ in stretches), min(end[0] for _, end in stretches)
        middle = begin + FROM_RING
        fits = middle + LOOP < limit
    else:
        begin, limit = min(start[0] for start, _ in stretches), max(end[0] for _, end in stretches)
        middle = begin - FROM_RING
        fits = middle - LOOP > limit
    return (middle - LOOP, min(levels) - OVER, middle + LOOP, max(levels) + OVER) if fits else None


def _single(line: Sequence[XY]) -> Box:
    """A loop around one conductor, where it leaves its first ring."""
    (x, y), (onward, _) = line[0], line[1]
    middle = x + (FROM_RING if onward > x else -FROM_RING)
    return middle - LOOP, y - OVER, middle + LOOP, y + OVER


def _crossed(loop: Box, line: Sequence[XY]) -> bool:
    left, top, right, bottom = loop
    return any(
        min(a[0], b[0]) < right and left < max(a[0], b[0]) and min(a[1], b[1]) < bottom and top < max(a[1], b[1])
        for a, b in pairwise(line)
    )
