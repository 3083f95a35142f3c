"""When two readings, two impressions or two clicks are different enough to rest a verdict on."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from functools import lru_cache

from ..circuit import MILLIVOLTS_TOP, Reading, uncertainty
from ..plant.impressions import agree
from .world import Outcome

__all__ = ["LEAST", "apart", "confusions", "outcomes_apart", "readings_apart", "signals_apart", "times_apart"]

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


def outcomes_apart(one: Outcome, other: Outcome) -> bool:
    """Whether two acts showed things that cannot be of the same circuit: impressions, displays, clicks and their times."""
    if one is other:
        return False
    if signals_apart(one.signal, other.signal) or readings_apart(one.reading, other.reading):
        return True
    if [words for _, words in one.events] != [words for _, words in other.events]:
        return True
    return any(times_apart(mine, yours) for (mine, _), (yours, _) in zip(one.events, other.events, strict=True))


def confusions(families: Sequence[Sequence[Outcome]]) -> tuple[int, ...]:
    """For each family of outcomes, as a set of bits, the families that it might be confused with: itself among them.

    Two are apart if all that one can show differs from all that the other can; one that shows nothing is apart from none.
    """
    everyone = (1 << len(families)) - 1
    owners: dict[int, int] = {}  # an outcome's identity -> bits of the families that show it
    different: dict[int, Outcome] = {}
    silent = 0
    for number, family in enumerate(families):
        if not family:
            silent |= 1 << number
        for outcome in family:
            owners[id(outcome)] = owners.get(id(outcome), 0) | 1 << number
            different[id(outcome)] = outcome
    if len(different) <= 1 or _hardly_differ(different.values()):
        return (everyone,) * len(families)
    keys = list(different)
    plain = _plain(different.values())
    close = dict(owners)
    for place, one in enumerate(keys):
        for after, other in enumerate(keys[place + 1 :], place + 1):
            if not (owners[other] & ~close[one] or owners[one] & ~close[other]):
                continue
            if plain is None:
                parted = outcomes_apart(different[one], different[other])
            else:
                (mine, doubt), (yours, other_doubt) = plain[place], plain[after]
                gap = abs(mine - yours)
                parted = gap > LEAST["volts"] and gap > 2 * max(doubt, other_doubt) and gap > 0.1 * max(mine, yours)
            if not parted:
                close[one] |= owners[other]
                close[other] |= owners[one]
    found = []
    for number, family in enumerate(families):
        bits = silent | 1 << number
        for outcome in family:
            bits |= close[id(outcome)]
        found.append(bits if family else everyone)
    return tuple(found)


def _plain(outcomes: Iterable[Outcome]) -> list[tuple[float, float]] | None:
    """Volts and what they may be off by, where these are displays of plain volts and nothing else: most probes are."""
    found = []
    for outcome in outcomes:
        reading = outcome.reading
        if reading is None or reading.function != "volts" or outcome.signal or outcome.events:
            return None
        found.append((reading.value, uncertainty(reading)))
    return found


def _hardly_differ(outcomes: Iterable[Outcome]) -> bool:
    """Whether these are displays of one function alone, all of them within what proves nothing."""
    least, values = None, []
    for outcome in outcomes:
        reading = outcome.reading
        if reading is None or reading.value is None or outcome.signal or outcome.events:
            return False
        if least is not None and reading.function != least:
            return False
        least = reading.function
        values.append(reading.value)
    low, high = min(values), max(values)
    return low == high or (math.isfinite(low) and math.isfinite(high) and high - low <= LEAST[least])


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


@lru_cache(maxsize=8192)
def signals_apart(one: str, other: str) -> bool:
    """Whether two impressions cannot be of the same thing: for something noticed they have no word in common."""
    return not agree(one, other)


def times_apart(one: float, other: float) -> bool:
    """Whether two moments differ by more than a person with a watch can miss."""
    return abs(one - other) > SECONDS_APART
