"""When two readings, two impressions or two clicks are different enough to rest a verdict on."""

from __future__ import annotations

import math

from ..circuit import MILLIVOLTS_TOP, Reading, uncertainty
from ..plant.impressions import agree

__all__ = ["LEAST", "apart", "readings_apart", "signals_apart", "times_apart"]

LEAST = {
    "volts": 0.3,
    "volts low-Z": 0.3,
    "volts DC": 0.3,
    "millivolts": 0.02,
    "ohms": 3.0,
    "beeper": 3.0,
    "clamp": 0.1,
    "amps jack": 0.1,
}
"""Volts, ohms or amperes below which a difference proves nothing, whatever the meter says. Common practice, no source."""

SECONDS_APART = 15.0


def apart(one: float, other: float, function: str, doubt: float) -> bool:
    """Whether two values of one meter function differ by more than twice the doubt, 10 % and the least that counts."""
    if function == "millivolts":  # above its range the display only says that there is at least so much
        one, other = min(one, MILLIVOLTS_TOP), min(other, MILLIVOLTS_TOP)
    if math.isinf(one) or math.isinf(other):
        return one != other
    gap = abs(one - other)
    return gap > 2 * doubt and gap > 0.1 * max(abs(one), abs(other)) and gap > LEAST[function]


def readings_apart(one: Reading | None, other: Reading | None) -> bool:
    """Whether two looks at the same display differ enough; a display without a number differs from one with it.

    Of the beeper only the beep counts, and only where the ohms too lie apart: no two meters sound from the same ohms.
    """
    if one is None or other is None:
        return one is not other
    if (one.value is None) != (other.value is None):
        return True
    if one.value is None:
        return False
    if one.function == "beeper" and one.text.partition(",")[0] == other.text.partition(",")[0]:
        return False
    return apart(one.value, other.value, one.function, max(uncertainty(one), uncertainty(other)))


def signals_apart(one: str, other: str) -> bool:
    """Whether two impressions cannot be of the same thing: for something noticed they have no word in common."""
    return not agree(one, other)


def times_apart(one: float, other: float) -> bool:
    """Whether two moments differ by more than a person with a watch can miss."""
    return abs(one - other) > SECONDS_APART
