"""The drawings of the page on wiring as found: an invented cottage as its wires lie, and as a ladder once they are named."""

from __future__ import annotations

from ..plant.found_demo import cottage
from .ladder import ladder
from .wires import wires

__all__ = ["cottage_ladder", "cottage_wires"]


def cottage_wires() -> str:
    """What meets you: parts, cables, splices, and a number on each conductor."""
    house = cottage()
    return wires(house, values={wire.name: wire.name.removeprefix("wire ") for wire in house.conductors})


def cottage_ladder() -> str:
    """The same house once every conductor has its name."""
    return ladder(cottage(), title="The cottage, drawn from what was found")
