"""A reading as one whole number of sixteen bits, as finely as a display of 6000 counts tells readings apart."""

from __future__ import annotations

import math

__all__ = ["AMPS_STEP", "FINEST_VOLTS", "NO_CODE", "OHMS_STEP", "SPAN", "amps_of", "ohms_of", "volts_of"]

SPAN = 6000
"""Steps in each range; the next range begins there, with steps ten times as wide."""

FINEST_VOLTS = 1e-4
"""V, the step of the first range, which is that of millivolts."""

OHMS_STEP = 0.1
AMPS_STEP = 1e-3

NO_CODE = 65_535
"""OL in ohms; of amperes, a wire that is not there."""


def volts_of(code: int) -> float:
    """Volts that a code stands for."""
    return _of(code, FINEST_VOLTS)


def ohms_of(code: int) -> float:
    """Ohms that a code stands for; inf for none."""
    return math.inf if code == NO_CODE else _of(code, OHMS_STEP)


def amps_of(code: int) -> float:
    """Amperes that a code stands for."""
    return code * AMPS_STEP


def _of(code: int, step: float) -> float:
    ranges, steps = divmod(code, SPAN)
    return steps * step * 10.0**ranges
