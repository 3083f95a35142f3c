"""Conductors led between columns of parts: upright in channels, across in the gaps between parts, never through a part.

Each conductor chooses its channels and gaps by the shortest way; in each channel the conductors are then put in the
order with the fewest crossings and as close together as that allows.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .sheet import XY
from .wires_layout import LATTICE, STEP, Layout

__all__ = ["RING", "led"]

RING = 5.0
ACROSS = 48.0  # what passing a column costs, in px of way
FULL = 1000.0  # what a gap without room costs
NEAR = 7.0  # conductors closer than this are taken for one
FACING = 40.0  # what two conductors that face each other at nearly one level cost, in crossings
SPREAD, NARROW = 4.0, 2.0  # how far from the middle of its ring a conductor may end, on a box and on a splice
MOST_PITCH = 12.0
PASSES = 6
NUDGE = 1.5

Gap = tuple[int, int]  # column, which gap of it


@dataclass(slots=True)
class _Way:
    """One conductor's way: its ends, the channel of each, and the gaps it passes between."""

    name: str
    ends: tuple[str, str]
    channels: tuple[int, int]
    gaps: tuple[Gap, ...]

    @property
    def passed(self) -> tuple[int, ...]:
        """Its channels from end to end."""
        first, last = self.channels
        step = 1 if last >= first else -1
        return tuple(range(first, last + step, step))


@dataclass(frozen=True, slots=True)
class _Landing:
    """How a conductor meets a ring: the ring's middle, and the level that the conductor comes on."""

    ring: XY
    level: float

    def moved(self) -> _Landing:
        """The same a little further up on its ring, or from its upper end again below."""
        up = self.level - NUDGE if self.level - NUDGE > self.ring[1] - SPREAD else self.ring[1] + SPREAD - NUDGE / 2
        return _Landing(self.ring, up)

    def edge(self, x: float) -> XY:
        """Where on the ring a conductor ends that comes from x."""
        away = math.sqrt(RING**2 - (self.level - self.ring[1]) ** 2)
        return self.ring[0] + math.copysign(away, x - self.ring[0]), self.level


@dataclass(frozen=True, slots=True)
class _Run:
    """An upright stretch in one channel: its two levels, and at each the side it is met from (-1 left, 1 right)."""

    way: int
    levels: tuple[float, float]
    sides: tuple[int, int]

    @property
    def low(self) -> float:
        return min(self.levels)

    @property
    def high(self) -> float:
        return max(self.levels)


def led(layout: Layout, wires: Sequence[tuple[str, str, str]], pinned: Mapping[str, tuple[XY, int]]) -> dict[str, list[XY]]:
    """The corners of each conductor, given as (name, terminal, terminal), from ring edge to ring edge.

    `pinned` moves the ring of a terminal, for lifted leads, and says the one channel it is reached from then.
    """
    spots = {end: pinned[end][0] if end in pinned else spot for end, spot in layout.spots.items()}
    faces = {end: (pinned[end][1],) if end in pinned else channels for end, channels in layout.faces.items()}
    ways = _ways(layout, wires, spots, faces)
    landings = _landings(layout, ways, spots)
    across = _across(layout, ways, landings)
    runs: list[list[_Run]] = [[] for _ in layout.channels]
    for number, way in enumerate(ways):
        levels = [landings[number][0].level, *(across[number, gap] for gap in way.gaps), landings[number][1].level]
        passed = way.passed
        for place, channel in enumerate(passed):
            onward = 1 if passed[-1] >= passed[0] else -1
            start = -onward if place else _side(spots[way.ends[0]][0], layout, channel)
            end = onward if place < len(passed) - 1 else _side(spots[way.ends[1]][0], layout, channel)
            runs[channel].append(_Run(number, (levels[place], levels[place + 1]), (start, end)))
    uprights: dict[tuple[int, int], float] = {}
    for channel, found in enumerate(runs):
        for run, x in zip(found, _tracks(found, layout.channels[channel]), strict=True):
            uprights[run.way, channel] = x
    for _ in range(PASSES):
        lines = {way.name: _corners(number, way, landings[number], across, uprights) for number, way in enumerate(ways)}
        if not (lying := _lying(list(lines.values()))):
            break
        # Two that would lie on each other part: one is moved where it passes a gap, or where it meets its ring.
        for number, place in lying:
            gaps = ways[number].gaps
            if 0 < place <= len(gaps):
                across[number, gaps[place - 1]] += NUDGE
            else:
                first, last = landings[number]
                landings[number] = (first, last.moved()) if place else (first.moved(), last)
    return lines


def _lying(lines: Sequence[Sequence[XY]]) -> list[tuple[int, int]]:
    """The level stretches that lie on another one, but for the first of those together: conductor, and which of its own."""
    levels: dict[int, list[tuple[float, float, int]]] = {}
    found: dict[tuple[int, int], None] = {}
    for number, line in enumerate(lines):
        for place in range(0, len(line) - 1, 2):
            (ax, ay), (bx, _) = line[place], line[place + 1]
            low, high, level = min(ax, bx), max(ax, bx), round(4 * ay)
            for near in (level - 1, level, level + 1):
                if any(low < end and begin < high and other != number for begin, end, other in levels.get(near, ())):
                    found[number, place // 2] = None
            levels.setdefault(level, []).append((low, high, number))
    return list(found)


def _side(x: float, layout: Layout, channel: int) -> int:
    return -1 if x < sum(layout.channels[channel]) / 2 else 1


def _ways(
    layout: Layout, wires: Sequence[tuple[str, str, str]], spots: Mapping[str, XY], faces: Mapping[str, tuple[int, ...]]
) -> list[_Way]:
    """Channels and gaps for every conductor, short ones first, each knowing how full the gaps are by then."""
    used: dict[Gap, int] = {}
    crowd = [0] * len(layout.channels)
    ways: dict[str, _Way] = {}
    for name, a, b in sorted(wires, key=lambda wire: (_span(spots[wire[1]], spots[wire[2]]), wire[0])):
        choices = []
        for first, last in itertools.product(faces[a], faces[b]):
            cost, gaps = _gaps(layout, used, first, last, spots[a][1], spots[b][1])
            choices.append((cost + crowd[first] + crowd[last], abs(first - last), first, last, gaps))
        _, _, first, last, gaps = min(choices)
        for gap in gaps:
            used[gap] = used.get(gap, 0) + 1
        way = ways[name] = _Way(name, (a, b), (first, last), gaps)
        for channel in way.passed:
            crowd[channel] += 1
    return [ways[name] for name, _, _ in wires]


def _span(one: XY, other: XY) -> float:
    return abs(one[0] - other[0]) + abs(one[1] - other[1])


def _gaps(
    layout: Layout, used: Mapping[Gap, int], first: int, last: int, start: float, end: float
) -> tuple[float, tuple[Gap, ...]]:
    """The cheapest gaps from one channel to another, by their distance up and down and how full they are."""
    step = 1 if last >= first else -1
    best: list[tuple[float, float, tuple[Gap, ...]]] = [(0.0, start, ())]
    for column in range(first, last) if step > 0 else range(first - 1, last - 1, -1):
        reached = []
        for number, (top, bottom) in enumerate(layout.gaps[column]):
            gap = (column, number)
            low, high = top + STEP, (bottom if bottom < math.inf else layout.bottom + 20 * STEP) - STEP
            if high < low:
                continue
            room = (high - low) // STEP + 1
            price = ACROSS + STEP * used.get(gap, 0) + (FULL if used.get(gap, 0) >= room else 0.0)
            options = []
            for cost, level, gaps in best:
                # Below the last part there is room without end, but a conductor goes no further down than it must.
                at = min(max(level, low), high)
                options.append((cost + abs(at - level) + price, at, (*gaps, gap)))
            reached.append(min(options))
        best = reached
    cost, _, gaps = min((cost + abs(level - end), level, gaps) for cost, level, gaps in best)
    return cost, gaps


def _landings(layout: Layout, ways: Sequence[_Way], spots: Mapping[str, XY]) -> list[tuple[_Landing, _Landing]]:
    """How each conductor meets its two rings: apart where several come from one side, in the order of where they go.

    A conductor that is alone at two rings of nearly one level runs straight, between their middles.
    """
    at: dict[tuple[str, int], list[tuple[float, int, int]]] = {}
    for number, way in enumerate(ways):
        for which, end in enumerate(way.ends):
            at.setdefault((end, way.channels[which]), []).append((spots[way.ends[1 - which]][1], number, which))
    found: dict[tuple[int, int], _Landing] = {}
    for (end, _), landed in at.items():
        most = NARROW if len(layout.faces[end]) > 1 else SPREAD
        reach = min(most, NARROW * (len(landed) - 1))
        for place, (_, number, which) in enumerate(sorted(landed)):
            shift = reach * (2 * place / (len(landed) - 1) - 1) if reach else 0.0
            found[number, which] = _Landing(spots[end], spots[end][1] + shift)
    for number, way in enumerate(ways):
        first, last = (spots[end] for end in way.ends)
        alone = all(len(at[end, channel]) == 1 for end, channel in zip(way.ends, way.channels, strict=True))
        if alone and 0 < abs(first[1] - last[1]) <= LATTICE:
            level = (first[1] + last[1]) / 2
            found[number, 0], found[number, 1] = _Landing(first, level), _Landing(last, level)
    return [(found[number, 0], found[number, 1]) for number in range(len(ways))]


def _across(layout: Layout, ways: Sequence[_Way], landings: Sequence[tuple[_Landing, _Landing]]) -> dict[tuple[int, Gap], float]:
    """The level at which each conductor passes each of its gaps: where it comes from or goes to, if there is room."""
    users: dict[Gap, list[tuple[float, int, float]]] = {}
    for number, way in enumerate(ways):
        ends = landings[number][0].level, landings[number][1].level
        levels = [ends[0], *(_level(layout, gap) for gap in way.gaps), ends[1]]
        for place, gap in enumerate(way.gaps, 1):
            near, far = ends if 2 * place <= len(way.gaps) else ends[::-1]
            low, high = layout.gaps[gap[0]][gap[1]][0] + STEP, layout.gaps[gap[0]][gap[1]][1] - STEP
            wanted = near if low <= near <= high or not low <= far <= high else far
            users.setdefault(gap, []).append((levels[place - 1] + levels[place + 1], number, wanted))
    found: dict[tuple[int, Gap], float] = {}
    for gap, crossing in users.items():
        crossing.sort()
        top, bottom = layout.gaps[gap[0]][gap[1]]
        pitch = min(STEP, (bottom - top) / (len(crossing) + 1))
        levels, level = [], top
        for _, _, wanted in crossing:
            level = max(level + pitch, min(wanted, layout.bottom))
            levels.append(level)
        level = bottom
        for place in range(len(crossing) - 1, -1, -1):
            level = levels[place] = min(levels[place], level - pitch)
        found |= {(number, gap): level for (_, number, _), level in zip(crossing, levels, strict=True)}
    return found


def _level(layout: Layout, gap: Gap) -> float:
    top, bottom = layout.gaps[gap[0]][gap[1]]
    return top + STEP if bottom == math.inf else (top + bottom) / 2


def _tracks(runs: Sequence[_Run], channel: tuple[float, float]) -> list[float]:
    """Where in its channel each upright stretch runs."""
    if not runs:
        return []
    order = _ordered(runs)
    tracks = [0] * len(runs)
    for place, one in enumerate(order):
        tracks[one] = 1 + max((tracks[other] for other in order[:place] if _close(runs[one], runs[other])), default=-1)
    count = max(tracks) + 1
    left, right = channel
    pitch = min(MOST_PITCH, (right - left) / (count + 1))
    start = (left + right - pitch * (count - 1)) / 2
    return [start + pitch * track for track in tracks]


def _close(one: _Run, other: _Run) -> bool:
    return one.low - NEAR < other.high and other.low - NEAR < one.high


def _ordered(runs: Sequence[_Run]) -> list[int]:
    """The runs from left to right with few crossings: one after the other is put where it crosses least, until none moves."""
    count = len(runs)
    costs = [[_cost(runs[i], runs[j]) if i != j else 0.0 for j in range(count)] for i in range(count)]
    order = sorted(range(count), key=lambda i: (sum(runs[i].sides), runs[i].low + runs[i].high, i))
    for _ in range(PASSES):
        moved = False
        for one in tuple(order):
            old = order.index(one)
            rest = order[:old] + order[old + 1 :]
            cost = sum(costs[one][other] for other in rest)
            sums = [cost]
            for other in rest:
                cost += costs[other][one] - costs[one][other]
                sums.append(cost)
            best = min(range(count), key=lambda place: (sums[place], abs(place - old)))
            if sums[best] < sums[old]:
                order = [*rest[:best], one, *rest[best:]]
                moved = True
        if not moved:
            break
    return order


def _cost(left: _Run, right: _Run) -> float:
    """What it costs to have one run left of another: crossings, and stretches that nearly lie on each other."""
    cost = 0.0
    if not _close(left, right):
        return cost
    for level, side in zip(left.levels, left.sides, strict=True):
        if side > 0:
            cost += right.low < level < right.high
            facing = [other for other, met in zip(right.levels, right.sides, strict=True) if met < 0]
            cost += FACING * sum(abs(other - level) < NEAR for other in facing)
    for level, side in zip(right.levels, right.sides, strict=True):
        cost += side < 0 and left.low < level < left.high
    return cost


def _corners(
    number: int,
    way: _Way,
    landing: tuple[_Landing, _Landing],
    across: Mapping[tuple[int, Gap], float],
    uprights: Mapping[tuple[int, int], float],
) -> list[XY]:
    first, last = landing
    levels = [first.level, *(across[number, gap] for gap in way.gaps), last.level]
    points: list[XY] = []
    for place, channel in enumerate(way.passed):
        x = uprights[number, channel]
        points += [(x, levels[place]), (x, levels[place + 1])]
    return [first.edge(points[0][0]), *points, last.edge(points[-1][0])]
