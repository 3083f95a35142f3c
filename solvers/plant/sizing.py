"""Sums that are done before a part is bought: volt-amperes, fuses, runs, source impedance, class 2 limits."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from . import cable, facts

__all__ = [
    "Class2",
    "Load",
    "class_2",
    "class_2_touch_volts",
    "fuse_ceiling",
    "fuses",
    "heater_va",
    "longest_run",
    "nameplate",
    "percent_amps",
    "percent_va",
    "phasor_va",
    "plain_va",
    "rated_amps",
    "regulation",
    "regulation_of_no_load",
    "service_range",
    "short_amps",
    "short_ohms",
    "source_ohms",
]


@dataclass(frozen=True, slots=True)
class Load:
    """One load, or several alike, on a 24-volt supply."""

    va: float  # each
    power_factor: float = 1.0  # lagging
    count: int = 1

    def __post_init__(self) -> None:
        if not (self.va >= 0 and 0 < self.power_factor <= 1 and self.count >= 0):
            raise ValueError(f"{self!r}; VA and count are zero or more, the power factor above 0 to 1")

    @property
    def volt_amperes(self) -> complex:
        """Watts and vars together."""
        reactive = math.sqrt(1 - self.power_factor**2)
        return self.count * self.va * complex(self.power_factor, reactive)


@dataclass(frozen=True, slots=True)
class Class2:
    """The limits of a class 2 supply at its largest no-load volts. Source: NEC table 11."""

    fault_amps: float  # the most it may ever give, after a minute
    fault_va: float | None  # the most it may ever give; None where the amperes alone are limited
    fuse_amps: float | None  # largest overcurrent device; None where none is asked for
    nameplate_va: float
    nameplate_amps: float


def heater_va(ohms: float, volts: float = facts.TRANSFORMER_VOLTS.value) -> float:
    """VA of a plain resistance, which are watts as well."""
    return volts**2 / ohms


def plain_va(loads: Iterable[Load]) -> float:
    """VA added as plain numbers: too high where power factors differ, and so on the safe side."""
    return sum(load.count * load.va for load in loads)


def phasor_va(loads: Iterable[Load]) -> complex:
    """Watts and vars added each for itself; the VA are the size of the sum."""
    return sum((load.volt_amperes for load in loads), 0j)


def rated_amps(nameplate_va: float, volts: float = facts.TRANSFORMER_VOLTS.value) -> float:
    """Amperes that a nameplate allows."""
    return nameplate_va / volts


def percent_va(volts: float, amps: float, nameplate_va: float) -> float:
    """Load in percent of the nameplate by VA at the volts that are there: what overload means when it is said aloud."""
    return 100 * volts * amps / nameplate_va


def percent_amps(amps: float, nameplate_va: float, volts: float = facts.TRANSFORMER_VOLTS.value) -> float:
    """Load in percent of the rated amperes: what heats the windings, and more than the percentage by VA once volts sag."""
    return 100 * amps / rated_amps(nameplate_va, volts)


def nameplate(va: float, share: float = 0.8) -> float:
    """The smallest usual transformer that a load fills to no more than a share; raises ValueError where none is left."""
    for size in facts.TRANSFORMER_SIZES:
        if va <= share * size:
            return size
    raise ValueError(f"{va:g} VA at {share:.0%} of nameplate; the largest is {facts.TRANSFORMER_SIZES[-1]:g} VA: split the zones")


def fuse_ceiling(no_load_volts: float) -> float:
    """Largest fuse that may be what makes a supply class 2, in amperes; the marking may ask for less."""
    return class_2(no_load_volts, inherently_limited=False).fuse_amps


def fuses(load_amps: float, nameplate_va: float, no_load_volts: float) -> tuple[float, ...]:
    """The usual fuses that carry a load and respect both the teaching rule and the class 2 ceiling; smaller when in doubt.

    The rule (common practice) is at most 1.8 times the rated amperes. Empty where nothing fits.
    """
    rule = facts.FUSE_MOST_TIMES.value * rated_amps(nameplate_va)
    most = min(rule, fuse_ceiling(no_load_volts))
    return tuple(size for size in facts.FUSE_SIZES if load_amps < size <= most * (1 + 1e-9))


def longest_run(gauge: int, amps: float, lost_volts: float, degC: float = 20.0) -> float:
    """Feet one way over which both conductors together lose so many volts at a steady current."""
    return lost_volts / (2 * amps * cable.ohms_per_foot(gauge, degC))


def regulation(no_load_volts: float, full_load_volts: float) -> float:
    """(no load - full load) / full load, a share: how control transformers are described here."""
    return (no_load_volts - full_load_volts) / full_load_volts


def regulation_of_no_load(no_load_volts: float, full_load_volts: float) -> float:
    """(no load - full load) / no load, the other definition: always the smaller of the two. Say which is meant."""
    return (no_load_volts - full_load_volts) / no_load_volts


def source_ohms(first: tuple[float, float], second: tuple[float, float]) -> float:
    """Source impedance from (volts, amperes) at two loads, one of which may be none; resistive loads are taken for granted.

    Raises ValueError where both carry the same current: nothing can be told.
    """
    (one_volts, one_amps), (other_volts, other_amps) = first, second
    if one_amps == other_amps:
        raise ValueError(f"both loads carry {one_amps:g} A; take the volts at two different currents")
    return (one_volts - other_volts) / (other_amps - one_amps)


def short_amps(no_load_volts: float, ohms: float) -> float:
    """The most a dead short could draw through plain ohms: an upper bound, for leakage reactance only makes it less."""
    return no_load_volts / ohms


def short_ohms(no_load_volts: float) -> float:
    """Least impedance of a supply that holds a dead short to the class 2 amperes by itself."""
    return no_load_volts / class_2(no_load_volts, inherently_limited=True).fault_amps


def service_range(nominal_volts: float = facts.LINE_VOLTS.value) -> tuple[float, float]:
    """Least and most volts at the service in ordinary times. Source: ANSI C84.1."""
    low, high = facts.SERVICE_SHARES
    return low * nominal_volts, high * nominal_volts


def class_2(no_load_volts: float, *, inherently_limited: bool, direct: bool = False) -> Class2:
    """The limits at the most volts the supply ever gives, load or none. Source: NEC table 11.

    Raises ValueError where the course has no checked figure: AC above 150 V, or above 30 V when a fuse is what limits; DC up
    to 20 V or above 60 V.
    """
    volts, va = no_load_volts, facts.CLASS_2_NAMEPLATE_VA.value
    if direct:
        if not 20 < volts <= 60:
            raise ValueError(f"{volts!r} V DC; the figures here run from over 20 to 60 V")
        if not inherently_limited:
            return _fused(volts, va / volts)
        amps = facts.CLASS_2_AMPS.value if volts <= 30 else facts.CLASS_2_VOLT_AMPS_DC.value / volts
        return Class2(amps, None, None, va, va / volts)
    highest = 150 if inherently_limited else 30
    if not 0 < volts <= highest:
        raise ValueError(f"{volts!r} V AC; the figures here run from over 0 to {highest} V")
    low, tiny = facts.CLASS_2_LOW_AMPS.value, facts.CLASS_2_HIGH_AMPS.value
    if not inherently_limited:
        return _fused(volts, low if volts <= 20 else va / volts)
    if volts > 30:
        return Class2(tiny, None, None, tiny * volts, tiny)
    amps = low if volts <= 20 else va / volts
    return Class2(facts.CLASS_2_AMPS.value, None, None, amps * volts, amps)


def class_2_touch_volts(*, wet: bool, sinusoidal: bool) -> float:
    """Most volts of an AC class 2 supply where people may touch it: rms of a sine, else peak. Source: NEC table 11."""
    if sinusoidal:
        return facts.CLASS_2_WET_VOLTS.value if wet else facts.CLASS_2_VOLTS.value
    return facts.CLASS_2_WET_PEAK_VOLTS.value if wet else facts.CLASS_2_PEAK_VOLTS.value


def _fused(volts: float, amps: float) -> Class2:
    """Limits of a supply whose overcurrent device is what makes it class 2."""
    most = facts.CLASS_2_FAULT_VA_LOW.value if volts <= 15 else facts.CLASS_2_FAULT_VA.value
    return Class2(facts.CLASS_2_VOLT_AMPS.value / volts, most, amps, amps * volts, amps)
