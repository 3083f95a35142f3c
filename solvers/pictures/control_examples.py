"""The drawings of the pages on step-down power and on thermostat switching: invented houses, each as a ladder."""

from __future__ import annotations

from ..plant.demo_controls import gallery, mill
from .ladder import ladder

__all__ = ["gallery_ladder", "mill_ladder", "mill_line_side"]


def mill_ladder() -> str:
    """The mill's ladder: two zones on one transformer."""
    return ladder(mill(), title="A mill: two zones on one transformer")


def mill_line_side() -> str:
    """The same with the line side of the transformer: a common lead, and one for each of three line voltages."""
    return ladder(mill(1, line_side=True), title="The mill's transformer with its line side, and one zone")


def gallery_ladder() -> str:
    """The gallery's ladder: four kinds of stat."""
    return ladder(gallery(), title="A gallery: four zones, four kinds of stat")
