"""Worked figures of *College Physics 2e* (OpenStax, CC BY-NC-SA 4.0 in the repository read).

Read at github.com/openstax/osbooks-college-physics-bundle, commit fd1b25d; modules m42356 (series and parallel),
m42360 (meters), m42362 (null measurements), m42414 (transformers), m42425 (RL circuits), m42427 (reactance).
"""

from __future__ import annotations

import math

import pytest
from published.printed import across, amps, circuit, given, ohms, turns, watts

from solvers.circuit import Approach, Branch, Network, thevenin, volts_between

SERIES = circuit("V 1 0 12; R1 1 2 1; R2 2 3 6; R3 3 0 13")
PARALLEL = circuit("V 1 0 12; R1 1 0 1; R2 1 0 6; R3 1 0 13")
WIRED = circuit("V 1 0 12; R1 1 2 1; R2 2 0 6; R3 2 0 13")
CELL = Network([Branch("cell", "1", "0", 0.100, 1.585)])
CELL_ON_METER = CELL + [Branch("meter", "1", "0", 1.00e3)]
# 1 A from a megavolt behind a megohm, through a 25 ohm movement beside its shunt
SHUNTED = circuit("V 9 0 1e6; R0 9 1 1e6; movement 1 0 25; shunt 1 0 1.25e-3")


def with_ammeter(meter: float) -> Network:
    return circuit(f"V 1 0 10; meter 1 2 {meter}; R 2 0 10.00")


def on_line(primary: float, secondary: float, load: float) -> Network:
    """A transformer on 120 V with ohms on its secondary."""
    return Network([Branch("V", "p", "0", 1e-6, 120.0), *turns(primary, secondary, load)])


CHARGER = on_line(200, 25, 15.0 / 16.0)
XRAY = on_line(50, 50 * 100e3 / 120, 100e3 / 12.0e-3)
PLUG_IN = on_line(400, 30.0, 9.00 / 1.30)
ADAPTOR = on_line(10, 1, 12.0 / 0.200)


def coil(hz: float) -> Network:
    return Network([Branch("V", "1", "0", 1e-6, 120.0), Branch("L", "1", "0", 2j * math.pi * hz * 3.00e-3)])


ROWS = [
    *given(
        "V",
        "three resistors in series on 12.0 V, m42356",
        ("total ohms", "20.0", lambda: ohms(SERIES.without("V"), "1"), 1e-6),
        ("A", "0.600", lambda: amps(SERIES, "R1").real, 1e-6),
        ("V across 1.00 ohm", "0.600", lambda: across(SERIES, "1", "2").real, 1e-6),
        ("V across 6.00 ohms", "3.60", lambda: across(SERIES, "2", "3").real, 1e-6),
        ("V across 13.0 ohms", "7.80", lambda: across(SERIES, "3").real, 1e-6),
        ("W in 1.00 ohm", "0.360", lambda: watts(SERIES, "R1"), 1e-6),
        ("W in 6.00 ohms", "2.16", lambda: watts(SERIES, "R2"), 1e-6),
        ("W in 13.0 ohms", "4.68", lambda: watts(SERIES, "R3"), 1e-6),
        ("W of the source", "7.20", lambda: -watts(SERIES, "V"), 2e-6),
    ),
    *given(
        "V",
        "the same three in parallel, m42356",
        ("total ohms", "0.804", lambda: ohms(PARALLEL.without("V"), "1")),
        ("total ohms to four digits", "0.8041", lambda: ohms(PARALLEL.without("V"), "1")),
        ("total A", "14.92", lambda: -amps(PARALLEL, "V").real),
        ("A in 1.00 ohm", "12.0", lambda: amps(PARALLEL, "R1").real),
        ("A in 6.00 ohms", "2.00", lambda: amps(PARALLEL, "R2").real),
        ("A in 13.0 ohms", "0.92", lambda: amps(PARALLEL, "R3").real),
        ("W in 1.00 ohm", "144", lambda: watts(PARALLEL, "R1")),
        ("W in 6.00 ohms", "24.0", lambda: watts(PARALLEL, "R2")),
        ("W in 13.0 ohms", "11.1", lambda: watts(PARALLEL, "R3")),
        ("total W", "179", lambda: -watts(PARALLEL, "V")),
    ),
    *given(
        "V",
        "a wire of 1.00 ohm before two parallel loads, m42356",
        ("total ohms", "5.11", lambda: ohms(WIRED.without("V"), "1")),
        ("A", "2.35", lambda: amps(WIRED, "R1").real),
        ("V lost in the wire", "2.35", lambda: across(WIRED, "1", "2").real),
    ),
    *given(
        "V",
        "a cell of 1.585 V and 0.100 ohm on a voltmeter of 1.00 kilohm, m42360",
        ("mA", "1.58", lambda: 1e3 * amps(CELL_ON_METER, "meter").real),
        ("V read", "1.5848", lambda: volts_between(CELL, "1", "0", 1.00e3)),
        ("V read over emf", "0.99990", lambda: volts_between(CELL, "1", "0", 1.00e3) / thevenin(CELL, "1", "0").emf.real),
    ),
    *given(
        "V",
        "an ammeter of 0.0200 ohm in series with 10.00 ohms, m42360",
        ("total ohms", "10.02", lambda: ohms(with_ammeter(0.0200).without("V"), "1")),
        ("current over true current", "0.9980", lambda: (amps(with_ammeter(0.0200), "R") / amps(with_ammeter(1e-9), "R")).real),
    ),
    *given(
        "V",
        "a shunt of 1.25e-3 ohm beside a 25 ohm movement at 1.0 A, m42360",
        ("microamperes in the movement", "50", lambda: 1e6 * amps(SHUNTED, "movement").real),
        ("A in the shunt", "0.999950", lambda: amps(SHUNTED, "shunt").real),
    ),
    *given(
        "V",
        "battery charger of 200 turns on 120 V, m42414",
        ("V out of 25 turns", "15.0", lambda: abs(across(CHARGER, "s"))),
        ("A out", "16.0", lambda: abs(amps(CHARGER, "load"))),
        ("A in", "2.00", lambda: abs(amps(CHARGER, "V"))),
        ("W in", "240", lambda: -watts(CHARGER, "V")),
        ("W out", "240", lambda: watts(CHARGER, "load")),
    ),
    *given(
        "V",
        "x-ray transformer of 50 turns on 120 V, m42414",
        ("kV out", "100", lambda: 1e-3 * abs(across(XRAY, "s"))),
        ("A in", "10.00", lambda: abs(amps(XRAY, "V"))),
        ("mA out", "12.0", lambda: 1e3 * abs(amps(XRAY, "load"))),
        ("kW", "1.20", lambda: -1e-3 * watts(XRAY, "V")),
    ),
    *given(
        "V",
        "plug-in transformer of 400 turns to 9.00 V, m42414",
        ("V out of 30.0 turns", "9.00", lambda: abs(across(PLUG_IN, "s"))),
        ("A in", "9.75e-2", lambda: abs(amps(PLUG_IN, "V"))),
    ),
    *given(
        "V",
        "adaptor from 120 V to 12.0 V at 200 mA, m42414",
        ("mA in", "20.0", lambda: 1e3 * abs(amps(ADAPTOR, "V"))),
        ("W", "2.40", lambda: -watts(ADAPTOR, "V")),
    ),
    *given(
        "V",
        "3.00 mH on 120 V, m42427",
        ("ohms at 60.0 Hz", "1.13", lambda: abs(120 / amps(coil(60.0), "L"))),
        ("A at 60.0 Hz", "106", lambda: abs(amps(coil(60.0), "L"))),
        ("ohms at 10.0 kHz", "188", lambda: abs(120 / amps(coil(10e3), "L"))),
        ("A at 10.0 kHz", "0.637", lambda: abs(amps(coil(10e3), "L"))),
    ),
    *given(
        "V",
        "10.0 A dying away in 7.50 mH and 3.00 ohms, m42425",
        ("A after 5.00 ms", "1.35", lambda: Approach(0.0, 7.50e-3 / 3.00).at(10.0, 5.00e-3)),
        ("ms to 1/e of the current", "2.50", lambda: 1e3 * Approach(0.0, 7.50e-3 / 3.00).time_to(10.0, 10.0 / math.e)),
    ),
]


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_the_engine_solves_what_the_book_prints(row) -> None:
    """Each figure comes out of the solve to the digits printed, or to the tolerance its row states."""
    assert row.expected == pytest.approx(row.solved(), rel=0, abs=row.tolerance)


@pytest.mark.parametrize(("r1", "r2", "r3"), [(2.0, 10.0, 40.0), (100.0, 220.0, 470.0), (1e-2, 1e4, 33.0)])
def test_a_bridge_is_balanced_by_the_printed_law(r1: float, r2: float, r3: float) -> None:
    """V: m42362: with Rx = R3 R2 / R1 no current flows between the midpoints, one percent off it does."""

    def detector(rx: float) -> float:
        bridge = circuit(f"V 1 0 24; R1 1 2 {r1}; R3 2 0 {r3}; R2 1 3 {r2}; Rx 3 0 {rx}; detector 2 3 100")
        return abs(amps(bridge, "detector"))

    balanced = r3 * r2 / r1
    assert 0 == pytest.approx(detector(balanced), abs=1e-15 * 24 / min(r1, r2, r3))
    assert detector(1.01 * balanced) > 1e3 * detector(balanced)


@pytest.mark.parametrize(("primary", "secondary", "load"), [(5, 1, 26.0), (1, 5, 650.0), (120, 27.5, 14.4)])
def test_a_transformer_obeys_the_printed_laws(primary: float, secondary: float, load: float) -> None:
    """V: m42414: volts go as the turns, amperes against them, and the source sees (Np/Ns) squared times the load."""
    network, ratio = on_line(primary, secondary, load), primary / secondary
    assert ratio == pytest.approx(120 / abs(across(network, "s")), rel=1e-5)
    assert ratio == pytest.approx(abs(amps(network, "load")) / abs(amps(network, "V")), rel=1e-5)
    assert ratio**2 * load == pytest.approx(abs(thevenin(network.without("V"), "p", "0").z), rel=1e-5)
    assert -watts(network, "V") == pytest.approx(watts(network, "load"), rel=1e-5)
