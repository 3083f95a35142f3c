"""What a page shows of a wire-up until its table is started: the parts as they lie, drawn as the table draws them."""

from __future__ import annotations

from ..jobs.wireups import wire_up
from ..jobs.wiring_answer import Wiring
from ..pictures.wires import wires

__all__ = ["parts_laid_out"]


def parts_laid_out(task: str) -> str:
    """The parts of a wire-up with nothing joined, as SVG; raises NoSuchWireUp with the ids there are."""
    return wires(wire_up(task).made(Wiring()))
