"""Worked figures of *Lessons In Electric Circuits*, volume II, AC, 6th edition (T. R. Kuphaldt; Design Science License).

Read in the book's source, github.com/Leeds-Beckett-Engineering/lessons_elec, commit e5147bc, folder src/AC.
"""

from __future__ import annotations

import cmath
import math

import pytest
from published.printed import across, amps, circuit, coupled, given, watts

from solvers.circuit import Branch, Network


def reactance(hz: float, henries: float) -> float:
    return 2 * math.pi * hz * henries


def coil_alone(hz: float) -> float:
    """Ohms of 10 mH by the current that 10 V drive through it."""
    network = Network([Branch("V", "1", "0", 1e-6, 10.0), Branch("L", "1", "0", reactance(hz, 10e-3) * 1j)])
    return abs(10.0 / amps(network, "L"))


SERIES = Network(
    [Branch("V", "1", "0", 1e-6, 10.0), Branch("R", "1", "2", 5.0), Branch("L", "2", "0", reactance(60, 10e-3) * 1j)]
)
LOAD = Network(
    [Branch("V", "1", "0", 1e-6, 120.0), Branch("R", "1", "2", 60.0), Branch("L", "2", "0", reactance(60, 160e-3) * 1j)]
)


def degrees(value: complex) -> float:
    return math.degrees(cmath.phase(value))


def apparent() -> complex:
    return 120.0 * amps(LOAD, "L").conjugate()


def simulated(primary: float, secondary: float, k: float, load: float) -> Network:
    """The book's simulated transformer: 10 V, 60 Hz, two coupled coils, a resistor."""
    return Network([Branch("V", "p", "0", 1e-6, 10.0), *coupled(primary, secondary, k), Branch("load", "s", "0", load)])


def secondary(*coils: float) -> float:
    return abs(across(simulated(*coils), "s"))


def regulation() -> float:
    """Percent of the full-load volts by which they fall below the no-load volts, from figures of four digits."""
    unloaded, loaded = secondary(100, 100, 0.999, 1e9), secondary(100, 100, 0.999, 200)
    return 100 * (unloaded - loaded) / loaded


def element(ohms: float) -> Network:
    return circuit(f"V 1 0 125; R 1 0 {ohms}")


ROWS = [
    *given(
        "V",
        "10 mH coil, xzl.sml",
        ("ohms at 60 Hz", "3.7699", lambda: coil_alone(60)),
        ("ohms at 120 Hz", "7.5398", lambda: coil_alone(120)),
        ("ohms at 2500 Hz", "157.0796", lambda: coil_alone(2500)),
    ),
    *given(
        "V",
        "resistor and coil in series, xzl.sml, figures 02062, 12020, 12022 and 12030",
        ("ohms", "6.262", lambda: abs(10 / amps(SERIES, "R"))),
        ("reactive ohms", "3.7699", lambda: (10 / amps(SERIES, "R")).imag),
        ("degrees of the impedance", "37.016", lambda: degrees(10 / amps(SERIES, "R"))),
        ("A", "1.597", lambda: abs(amps(SERIES, "R"))),
        ("A in phase", "1.2751", lambda: amps(SERIES, "R").real),
        ("A in quadrature", "-0.9614", lambda: amps(SERIES, "R").imag),
        ("V across the resistor", "7.985", lambda: abs(across(SERIES, "1", "2"))),
        ("V across the coil", "6.020", lambda: abs(across(SERIES, "2"))),
        ("degrees of the coil's volts", "52.984", lambda: degrees(across(SERIES, "2"))),
        ("degrees of the coil's volts in the printed simulation", "52.98", lambda: degrees(across(SERIES, "2"))),
    ),
    *given(
        "V",
        "power factor of 60 ohms and 160 mH, acpower.sml, figures 02217 and 12124",
        ("reactive ohms", "60.319", lambda: (120 / amps(LOAD, "L")).imag),
        ("A", "1.410", lambda: abs(amps(LOAD, "L"))),
        ("W", "119.365", lambda: watts(LOAD, "R")),
        ("var", "119.998", lambda: apparent().imag),
        ("VA", "169.256", lambda: abs(apparent())),
        ("power factor", "0.705", lambda: watts(LOAD, "R") / abs(apparent())),
        ("degrees", "45.152", lambda: degrees(apparent())),
    ),
    *given(
        "V",
        "simulated transformers, trans.sml",
        ("V of 100 H by 100 H on 1 kilohm", "9.962", lambda: secondary(100, 100, 0.999, 1e3)),
        ("mA into 100 H by 100 H on 1 kilohm", "9.975", lambda: 1e3 * abs(amps(simulated(100, 100, 0.999, 1e3), "V"))),
        ("V of 100 H by 100 H on 200 ohms", "9.348", lambda: secondary(100, 100, 0.999, 200)),
        ("mA into 100 H by 100 H on 200 ohms", "46.79", lambda: 1e3 * abs(amps(simulated(100, 100, 0.999, 200), "V"))),
        ("V of 100 H by 100 H on 15 ohms", "1.950", lambda: secondary(100, 100, 0.999, 15)),
        ("A into 100 H by 100 H on 15 ohms", "0.1301", lambda: abs(amps(simulated(100, 100, 0.999, 15), "V"))),
        ("V at coupling 0.99999 on 15 ohms", "9.987", lambda: secondary(100, 100, 0.99999, 15)),
        ("V of 1 H by 1 H on 15 ohms", "9.977", lambda: secondary(1, 1, 0.999, 15)),
        ("A into 1 H by 1 H on 15 ohms", "0.6664", lambda: abs(amps(simulated(1, 1, 0.999, 15), "V"))),
        ("V of 1 H by 1 H on 1 kilohm", "9.990", lambda: secondary(1, 1, 0.999, 1e3)),
        ("mA into 1 H by 1 H on 1 kilohm", "28.35", lambda: 1e3 * abs(amps(simulated(1, 1, 0.999, 1e3), "V"))),
        ("V of 10000 H by 100 H on 1 kilohm", "0.9962", lambda: secondary(10_000, 100, 0.999, 1e3)),
        ("mA of the load", "0.9962", lambda: 1e3 * abs(amps(simulated(10_000, 100, 0.999, 1e3), "load"))),
        ("mA into 10000 H by 100 H", "0.09975", lambda: 1e3 * abs(amps(simulated(10_000, 100, 0.999, 1e3), "V"))),
    ),
    *given(
        "V",
        "regulation by the full-load volts, trans.sml, figures 12104 and 12105",
        ("V at no load", "9.990", lambda: secondary(100, 100, 0.999, 1e9)),
        ("V at full load", "9.348", lambda: secondary(100, 100, 0.999, 200)),
        # the book divides volts already rounded to 0.0005
        ("percent", "6.8678", regulation, 0.012),
    ),
    *given(
        "V",
        "inductances 100 to 1, trans.sml",
        ("turns ratio", "10", lambda: 10 / secondary(10_000, 100, 1 - 1e-6, 1e12), 1e-4),
    ),
    *given(
        "V",
        "heating element of 1000 W at 250 V on half the volts, trans.sml, impedance matching",
        ("A", "2", lambda: amps(element(62.5), "R").real, 1e-6),
        ("W", "250", lambda: watts(element(62.5), "R"), 1e-4),
        ("A of an element of 15.625 ohms", "8", lambda: amps(element(15.625), "R").real, 1e-5),
        ("W of an element of 15.625 ohms", "1000", lambda: watts(element(15.625), "R"), 1e-3),
    ),
]


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_the_engine_solves_what_the_book_prints(row) -> None:
    """Each figure comes out of the solve to the digits printed, or to the tolerance its row states."""
    assert row.expected == pytest.approx(row.solved(), rel=0, abs=row.tolerance)
