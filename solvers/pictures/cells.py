"""One symbol in a row of a ladder: its kind, its size, and where on it the terminals are."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

from .elements import Element
from .trace import Step

__all__ = ["BOX_GAP", "DEAD_GAP", "GAP", "GRID", "LIFT", "PANEL", "PRIMARY", "SUB", "THROW", "Cell", "Column", "Label", "Port"]

GRID = 10
SUB = 50  # from a boxed symbol's rung down to its third lead
THROW = 30  # from a changeover contact's rung down to its other throw
GAP, BOX_GAP, DEAD_GAP = 50, 60, 80  # between columns; beside a box; beside an end with nothing on it
LIFT = 30  # from a terminal to the lead lifted off it
BOXED = ("valve", "stat box", "boiler", "box")
WIDTHS = {
    "joint": 30,
    "stat": 70,
    "anticipator": 110,
    "power-stealing": 110,
    "fuse": 70,
    "breaker": 70,
    "coil": 70,
    "winding": 100,
    "valve": 140,
    "stat box": 140,
    "boiler": 140,
    "box": 130,
}  # 90 for all others
ABOVE = {"valve": 60, "stat box": 60, "boiler": 60, "box": 60, "winding": 80}  # with the words; 50 for all others
BELOW = {"valve": 90, "stat box": 90, "boiler": 50, "winding": 40, "pole": 60, "throw": 60}  # 30 for all others
PRIMARY = -70  # from a winding's rung up to the leads of its line side
STEP = 40  # between the terminals on one side of a box
BREAKER = 60  # of a winding's own, from its terminal to the winding
TAP = 50  # between the leads of a line side
PANEL = -100  # from there to the lead at the panel's side of the switch


class Column(IntEnum):
    """The columns of the sheet, left to right: rails, and the symbols between them."""

    FEED = 0
    FEEDING = 1
    R = 2
    BEFORE = 3
    STAT = 4
    BETWEEN = 5
    T_LEFT = 6
    VALVE = 7
    AFTER = 8
    T_RIGHT = 9
    C = 10
    RETURNING = 11
    RETURN = 12


@dataclass(frozen=True, slots=True)
class Label:
    """One line of text on the sheet."""

    text: str
    x: float
    y: float  # baseline
    anchor: str = "middle"
    size: float = 12


@dataclass(frozen=True, slots=True)
class Port:
    """A terminal's place on a symbol, seen from the symbol's left end."""

    terminal: str
    dx: int
    dy: int
    side: int  # on which a conductor leaves it: -1 left, 1 right


@dataclass(frozen=True, slots=True)
class Cell:
    """One symbol in a row: an element, or a unit of two elements drawn whole."""

    part: str
    kind: str  # an element's, or "valve", "stat box", "pole", "throw" for a unit with a third lead
    steps: tuple[Step, ...]
    name: str
    column: Column = Column.VALVE
    third: str = ""  # the lead below the rung
    hung: Element | None = None  # what lies between the rung and the third lead
    lone: tuple[str, ...] = ()  # terminals at which no element ends
    x: float = 0.0  # of its left terminal
    y: float = 0.0

    @property
    def left(self) -> str:
        return self.steps[0].left

    @property
    def right(self) -> str:
        return self.steps[-1].right

    @property
    def elements(self) -> tuple[Element, ...]:
        """Everything that it shows."""
        return (*(step.element for step in self.steps), *((self.hung,) if self.hung else ()))

    @property
    def mark(self) -> str:
        """What its element is beside its kind."""
        return self.steps[0].element.mark

    @property
    def width(self) -> int:
        if self.kind != "winding":
            return WIDTHS.get(self.mark) or WIDTHS.get(self.kind, 90)
        end = self.core + 50 + (BREAKER if self.breaker and self.turned else 0)
        return max(end, self.core + 30 + TAP * len(self.primary[2:]) + 20) if self.primary else end

    @property
    def turned(self) -> bool:
        """Whether its first element is passed the other way round."""
        return self.steps[0].left != self.steps[0].element.a

    @property
    def core(self) -> int:
        """Where the middle of a winding is, seen from the symbol's left end."""
        return BREAKER + 50 if self.breaker and not self.turned else 80 if self.primary else 50

    @property
    def boxed(self) -> bool:
        return self.kind in BOXED

    @property
    def breaker(self) -> str:
        """The terminal between a winding and its own breaker, "" for a winding without one."""
        return next((end for end in self.lone if self.kind == "winding" and end.endswith(".X")), "")

    @property
    def primary(self) -> tuple[str, ...]:
        """The leads of a winding's line side, the common one first and the panel's last."""
        return tuple(end for end in self.lone if end != self.breaker) if self.kind == "winding" else ()

    @property
    def shared_right(self) -> bool:
        """Whether the lead that both elements of a unit share is the right one."""
        return self.hung is None or self.right in (self.hung.a, self.hung.b)

    @property
    def ports(self) -> tuple[Port, ...]:
        """Its terminals and their places."""
        right = () if self.right == self.left else (Port(self.right, self.width, 0, 1),)
        return (Port(self.left, 0, 0, -1), *right, *self._third(), *self._more())

    @property
    def above(self) -> int:
        """Room that the symbol and its words take above its rung."""
        return 20 - PANEL + 20 if self.primary else ABOVE.get(self.kind, 50)

    @property
    def below(self) -> int:
        """Room that it takes below."""
        lowest = max(port.dy for port in self.ports)
        if self.kind == "box":
            return lowest + 50
        return max(BELOW.get(self.kind, 50 if self.mark and self.kind == "stat" else 30), lowest + 30)

    def _third(self) -> tuple[Port, ...]:
        if not self.third:
            return ()
        down = THROW if self.kind in ("pole", "throw") else SUB
        if self.kind == "valve" or self.shared_right:
            return (Port(self.third, 0, down, -1),)
        return (Port(self.third, self.width, down, 1),)

    def _more(self) -> tuple[Port, ...]:
        """Places for terminals at which no element ends."""
        if self.kind == "winding":
            return tuple(self._line_side())
        if self.kind == "box":
            sides = ((0, -1), (self.width, 1))
            return tuple(
                Port(end, sides[place % 2][0], STEP * (place // 2), sides[place % 2][1]) for place, end in enumerate(self.lone, 2)
            )
        if self.kind == "valve":
            return tuple(Port(end, self.width, SUB, 1) for end in self.lone)
        return tuple(Port(end, self.width // 2 // GRID * GRID, THROW, 1) for end in self.lone)

    def _line_side(self) -> list[Port]:
        found = [Port(self.breaker, self.core + 50 if self.turned else BREAKER, 0, 1)] if self.breaker else []
        if self.primary:
            common, *taps, panel = self.primary
            found.append(Port(common, self.core - 30, PRIMARY, -1))
            found += [Port(tap, self.core + 30 + TAP * place, PRIMARY, 1) for place, tap in enumerate(taps)]
            found.append(Port(panel, self.core - 70, PANEL, -1))
        return found
