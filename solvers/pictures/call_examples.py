"""The drawings of the pages on end-switch circuits and on service calls: invented houses, each as a ladder."""

from __future__ import annotations

from ..plant.demo_calls import boathouse, farmhouse, schoolhouse
from .ladder import ladder

__all__ = ["boathouse_ladder", "farmhouse_ladder", "schoolhouse_ladder"]


def schoolhouse_ladder() -> str:
    """The schoolhouse's ladder: three zones, three-wire valves, an isolation relay."""
    return ladder(schoolhouse(), title="A schoolhouse: three zones, three-wire valves, an isolation relay")


def farmhouse_ladder() -> str:
    """The farmhouse's ladder: two transformers, three kinds of valve."""
    return ladder(farmhouse(), title="A farmhouse: four zones on two transformers, three kinds of valve")


def boathouse_ladder() -> str:
    """The boathouse's ladder: two transformers, one return."""
    return ladder(boathouse(), title="A boathouse: three zones on two transformers, one return for both")
