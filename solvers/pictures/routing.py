"""Conductors that cannot be drawn straight, led round everything else at right angles on a grid."""

from __future__ import annotations

import heapq
import itertools
from collections.abc import Iterable, Sequence

__all__ = ["Grid", "crossings"]

XY = tuple[float, float]
TURN, CROSS = 4, 5  # what a corner and a crossing cost, in grid steps
WAYS = ((1, 0), (-1, 0), (0, 1), (0, -1))


class Grid:
    """A sheet's grid points: where something stands, and where conductors already run."""

    def __init__(self, width: float, height: float, pitch: int) -> None:
        self.columns, self.rows, self.pitch = int(width // pitch), int(height // pitch), pitch
        self.blocked: set[tuple[int, int]] = set()
        self.level: set[tuple[int, int]] = set()  # points on a horizontal stretch
        self.upright: set[tuple[int, int]] = set()  # points on a vertical stretch
        self.corners: set[tuple[int, int]] = set()

    def block(self, left: float, top: float, right: float, bottom: float) -> None:
        """No conductor may pass through this rectangle."""
        pitch = self.pitch
        for column in range(-int(-left // pitch), int(right // pitch) + 1):
            for row in range(-int(-top // pitch), int(bottom // pitch) + 1):
                self.blocked.add((column, row))

    def free(self, points: Iterable[XY]) -> None:
        """Single points at which a conductor may pass after all."""
        for point in points:
            self.blocked.discard(self._at(point))

    def run(self, points: Sequence[XY]) -> None:
        """A conductor runs here: others may cross it, not follow it or turn on it."""
        cells = [self._at(point) for point in points]
        for here, there in itertools.pairwise(cells):
            step = (_sign(there[0] - here[0]), _sign(there[1] - here[1]))
            walked = here
            while True:
                (self.level if step[0] else self.upright).add(walked)
                if walked == there or step == (0, 0):
                    break
                walked = (walked[0] + step[0], walked[1] + step[1])
        self.corners |= set(cells)

    def path(self, start: XY, end: XY) -> list[XY] | None:
        """The cheapest way from one point to another: short, few corners, few crossings. None where there is none."""
        first, goal = self._at(start), self._at(end)
        queue: list[tuple[int, int, tuple[int, int], int]] = [(0, 0, first, -1)]
        best: dict[tuple[tuple[int, int], int], int] = {(first, -1): 0}
        came: dict[tuple[tuple[int, int], int], tuple[tuple[int, int], int]] = {}
        while queue:
            _, cost, here, heading = heapq.heappop(queue)
            if here == goal:
                return self._corners(came, (here, heading))
            if cost > best[here, heading]:
                continue
            for turn, (dx, dy) in enumerate(WAYS):
                there = (here[0] + dx, here[1] + dy)
                if not self._open(here, there, turn, heading, first, goal):
                    continue
                onward = cost + 1 + (TURN if heading not in (-1, turn) else 0)
                if there != goal and there in (self.upright if dx else self.level):
                    onward += CROSS
                if onward < best.get((there, turn), 1 << 30):
                    best[there, turn] = onward
                    came[there, turn] = (here, heading)
                    ahead = abs(there[0] - goal[0]) + abs(there[1] - goal[1])
                    heapq.heappush(queue, (onward + ahead, onward, there, turn))
        return None

    def _open(
        self,
        here: tuple[int, int],
        there: tuple[int, int],
        turn: int,
        heading: int,
        first: tuple[int, int],
        goal: tuple[int, int],
    ) -> bool:
        if not (1 <= there[0] < self.columns and 1 <= there[1] < self.rows):
            return False
        along, across = (self.level, self.upright) if turn < 2 else (self.upright, self.level)
        # Nobody turns on another conductor.
        if here != first and heading not in (-1, turn) and (here in along or here in across):
            return False
        if there == goal:
            return not (here in along and here != first)
        if there in self.blocked or there in along or there in self.corners:
            return False
        return not (here == first and here in along and there in along)

    def _corners(self, came: dict, last: tuple[tuple[int, int], int]) -> list[XY]:
        cells = [last[0]]
        while last in came:
            last = came[last]
            cells.append(last[0])
        cells.reverse()
        kept = [cells[0]]
        for before, here, after in zip(cells, cells[1:], cells[2:], strict=False):
            if (before[0] == here[0]) != (here[0] == after[0]):
                kept.append(here)
        kept.append(cells[-1])
        return [(float(column * self.pitch), float(row * self.pitch)) for column, row in kept]

    def _at(self, point: XY) -> tuple[int, int]:
        return round(point[0] / self.pitch), round(point[1] / self.pitch)


def crossings(points: Sequence[XY], others: Iterable[Sequence[XY]]) -> list[XY]:
    """Where the upright stretches of a line pass over level stretches of others."""
    level = [(min(a[0], b[0]), max(a[0], b[0]), a[1]) for line in others for a, b in itertools.pairwise(line) if a[1] == b[1]]
    found = []
    for a, b in itertools.pairwise(points):
        if a[0] != b[0]:
            continue
        low, high = sorted((a[1], b[1]))
        found += [(a[0], y) for left, right, y in level if left < a[0] < right and low < y < high]
    return found


def _sign(value: int) -> int:
    return (value > 0) - (value < 0)
