"""The drawings of the pages on the meter and on safe work: invented houses with more than one zone or supply."""

from __future__ import annotations

from ..plant.demo_supplies import inn
from .ladder import ladder

__all__ = ["inn_ladder"]


def inn_ladder() -> str:
    """The inn's ladder: two transformers, commons apart."""
    return ladder(inn(), title="An inn: four zones on two transformers")
