"""Planting: the installation with a fault in it. The input stays as it was."""

from __future__ import annotations

from ..plant.wiring import Installation
from .fault import Fault

__all__ = ["planted"]


def planted(installation: Installation, fault: Fault) -> Installation:
    """The same installation with the fault's changes made, in order; raises what the plant raises for a name it lacks."""
    changed = installation
    for change in fault.changes:
        changed = change.made(changed)
    return changed
