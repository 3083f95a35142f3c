"""Copper: ohms of a run by gauge or by square millimetres, at a temperature; stray capacitance; volts lost on the way."""

from __future__ import annotations

import math

from . import facts

__all__ = [
    "CLASS_2_NOTE",
    "OHM_METRES_PER_OHM_CMIL_FOOT",
    "THICKEST",
    "THINNEST",
    "alpha_at",
    "area_mm2",
    "at_temperature",
    "circular_mils",
    "diameter_mm",
    "drop",
    "gauge_for",
    "gauge_name",
    "metric_ohms_per_metre",
    "metric_run",
    "ohms_per_foot",
    "ohms_per_metre",
    "run",
    "stray_farads",
    "wire_ohms",
]

THICKEST, THINNEST = -3, 40
"""The gauges that the formula is used for: 4/0 is -3, 1/0 is 0. Control cable is 14 to 24."""

MIL_MM = 0.0254  # a thousandth of an inch, in mm

OHM_METRES_PER_OHM_CMIL_FOOT = math.pi / 4 * (MIL_MM * 1e-3) ** 2 / facts.METRES_PER_FOOT.value
"""Ohm metres in an ohm circular mil per foot, the unit of the older wire tables."""

CLASS_2_NOTE = (
    "Class 2 conductors keep out of boxes and raceways that hold power conductors, unless a barrier parts them, "
    "and elsewhere stay 50 mm (2 in) away; the local code and its inspector decide."
)
"""What every cable table of the course says below itself. Source: NFPA 70 (2017) 725.136, read in a copy."""


def diameter_mm(gauge: int) -> float:
    """Diameter of a solid conductor in mm: 39 equal ratios between No. 36 and 4/0. Source: ASTM B258.

    Raises ValueError outside THICKEST to THINNEST.

    >>> round(diameter_mm(18), 4)
    1.0237
    """
    if not isinstance(gauge, int) or not THICKEST <= gauge <= THINNEST:
        raise ValueError(f"gauge {gauge!r}; give a whole number from {THICKEST} (4/0) to {THINNEST}")
    return 0.127 * 92 ** ((36 - gauge) / 39)


def area_mm2(gauge: int) -> float:
    """Cross-section of a solid conductor in mm2."""
    return math.pi / 4 * diameter_mm(gauge) ** 2


def circular_mils(gauge: int) -> float:
    """The square of the diameter in thousandths of an inch."""
    return (diameter_mm(gauge) / MIL_MM) ** 2


def gauge_for(mils: float) -> int:
    """The thinnest gauge of at least so many circular mils; raises ValueError where even 4/0 is too thin."""
    for gauge in range(THINNEST, THICKEST - 1, -1):
        if circular_mils(gauge) >= mils:
            return gauge
    raise ValueError(f"{mils!r} circular mils; the thickest gauge here, 4/0, has {circular_mils(THICKEST):.0f}")


def gauge_name(gauge: int) -> str:
    """A gauge as it is spoken: '18 AWG', '2/0 AWG'."""
    return f"{gauge} AWG" if gauge > 0 else f"{1 - gauge}/0 AWG"


def wire_ohms(metres: float, mm2: float, resistivity: float = facts.COPPER_RESISTIVITY.value) -> float:
    """Ohms of a conductor from its length, cross-section and resistivity in ohm metres."""
    return resistivity * metres / (mm2 * 1e-6)


def at_temperature(ohms: float, degC: float, *, reference_degC: float = 20.0, alpha: float = facts.COPPER_ALPHA.value) -> float:
    """Ohms known at one temperature carried to another; alpha belongs to the reference temperature."""
    return ohms * (1 + alpha * (degC - reference_degC))


def alpha_at(degC: float, alpha: float = facts.COPPER_ALPHA.value, reference_degC: float = 20.0) -> float:
    """The temperature coefficient referred to another temperature: the same straight line, another starting point."""
    return alpha / (1 + alpha * (degC - reference_degC))


def ohms_per_metre(gauge: int, degC: float = 20.0, *, stranded: bool = False) -> float:
    """Ohms of one metre of one conductor by gauge; a stranded one is a little longer inside. Source: facts.COPPER_LAY."""
    solid = at_temperature(wire_ohms(1.0, area_mm2(gauge)), degC)
    return solid * facts.COPPER_LAY.value if stranded else solid


def ohms_per_foot(gauge: int, degC: float = 20.0, *, stranded: bool = False) -> float:
    """Ohms of one foot of one conductor by gauge."""
    return ohms_per_metre(gauge, degC, stranded=stranded) * facts.METRES_PER_FOOT.value


def metric_ohms_per_metre(mm2: float, degC: float = 20.0, *, flexible: bool = False) -> float:
    """Largest ohms of one metre by nominal mm2; raises ValueError for a size not in facts.IEC_OHMS_PER_KM."""
    if mm2 not in facts.IEC_OHMS_PER_KM:
        raise ValueError(f"no size {mm2!r} mm2; there are {sorted(facts.IEC_OHMS_PER_KM)}")
    return at_temperature(facts.IEC_OHMS_PER_KM[mm2][flexible] / 1000, degC)


def run(gauge: int, feet: float, degC: float = 20.0, *, stranded: bool = False) -> float:
    """Ohms of one conductor over a run, one way.

    >>> round(2 * run(18, 100), 3)
    1.277
    """
    return ohms_per_foot(gauge, degC, stranded=stranded) * _length(feet)


def metric_run(mm2: float, metres: float, degC: float = 20.0, *, flexible: bool = False) -> float:
    """Largest ohms of one conductor over a run in metres, one way."""
    return metric_ohms_per_metre(mm2, degC, flexible=flexible) * _length(metres)


def drop(gauge: int, feet: float, amps: float, degC: float = 20.0) -> float:
    """Volts lost in both conductors of a run at a steady current; the load's own volts fall by as much."""
    return 2 * run(gauge, feet, degC) * amps


def stray_farads(feet: float) -> float:
    """Capacitance between two conductors that lie side by side over a run: where ghost volts come from."""
    return facts.STRAY_FARADS_PER_METRE.value * _length(feet) * facts.METRES_PER_FOOT.value


def _length(length: float) -> float:
    if not 0 <= length < math.inf:
        raise ValueError(f"length {length!r}; give zero or more")
    return length
