"""Windings: what a coil is at a frequency, the volts it feels, and how over-voltage burns it."""

from __future__ import annotations

from collections.abc import Mapping

from ..circuit import OPEN, Approach, Law, Ramp
from . import facts

__all__ = ["ageing", "impedance", "volts_across"]


def impedance(ohms: float, reactance: float, hz: float) -> complex:
    """Ohms of a coil in series with its reactance, which is counted at 60 Hz; OPEN where the winding is."""
    return OPEN if ohms == OPEN else complex(ohms, reactance * hz / 60)


def volts_across(amps: Mapping[str, float], branch: str, z: complex) -> float:
    """Volts rms that a branch of impedance z feels from the amperes in it; 0 for an open one."""
    return 0.0 if z == OPEN else amps[branch] * abs(z)


def ageing(volts: float, most: float) -> Law:
    """How a winding uses itself up: from 0 to 1 in the time it stands more than `most` volts, and back as it cools.

    Source: facts.WINDING_BURNS_S, a choice of this model.
    """
    return Ramp(1 / facts.WINDING_BURNS_S.value) if volts > most else Approach(0.0, facts.WINDING_COOLS_TAU.value)
