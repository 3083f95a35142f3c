"""Worked figures of *Lessons In Electric Circuits*, volume I, DC, 5th edition (T. R. Kuphaldt; Design Science License).

Read in the book's source, github.com/Leeds-Beckett-Engineering/lessons_elec, commit e5147bc, folder src/DC. Arrows in
the book follow electron flow; magnitudes are the same.
"""

from __future__ import annotations

import pytest
from published.printed import across, amps, circuit, given, ohms, wait

from solvers.circuit import Approach, Branch, Meter, Network, volts_between

BRIDGED = circuit("V 1 0 24; R1 1 4 100; R2 1 4 250; R3 4 0 350; R4 4 0 200")
DIVIDED = {volts: circuit(f"V 1 0 {volts}; R1 1 2 5e3; R2 2 3 10e3; R3 3 0 7.5e3") for volts in (45, 180)}
SHARED = {volts: circuit(f"V 1 0 {volts}; R1 1 0 1e3; R2 1 0 3e3; R3 1 0 2e3") for volts in (6, 24)}
TWO_SOURCES = circuit("B1 1 0 28; R1 1 2 4; R2 2 0 2; R3 2 3 1; B2 3 0 7")
NODES = circuit("V1 11 0 10; V2 22 0 -4; R1 11 1 2; R2 1 0 4; R3 1 2 2.5; R4 2 0 5; R5 2 22 1")
MEGOHMS = circuit("V 1 0 24; R1 1 2 250e6; R2 2 0 250e6")
LOADED = MEGOHMS + [Branch("meter", "2", "0", Meter().volts_ohms)]
CHARGING = Approach(15.0, 10e3 * 100e-6)


def run_of_wire(each: float) -> Network:
    """230 V at one end of two wires, at the other a load that takes 25 A at 220 V."""
    return Network(
        [
            Branch("V", "1", "0", 1e-6, 230.0),
            Branch("out", "1", "2", each),
            Branch("load", "2", "3", 220 / 25),
            Branch("back", "3", "0", each),
        ]
    )


def by_area(circular_mils: float) -> float:
    """Ohms of 2300 ft of the book's copper, 10.09 ohm circular mil a foot."""
    return 10.09 * 2300 / circular_mils


def wired(degC: float) -> Network:
    """14 V over two wires of 15 ohms at 20 degC into 250 ohms, with the book's copper, 0.004041 a degree."""
    wire = 15 * (1 + 0.004041 * (degC - 20))
    return Network(
        [
            Branch("V", "1", "0", 1e-6, 14.0),
            Branch("wire 1", "1", "2", wire),
            Branch("load", "2", "3", 250.0),
            Branch("wire 2", "3", "0", wire),
        ]
    )


ROWS = [
    *given(
        "V",
        "series-parallel circuit, s_p.sml, figures 00123, 10126 and 10133",
        ("R1 beside R2 in ohms", "71.429", lambda: ohms(circuit("R1 1 4 100; R2 1 4 250"), "1", "4")),
        ("R3 beside R4 in ohms", "127.27", lambda: ohms(circuit("R3 4 0 350; R4 4 0 200"), "4")),
        ("total ohms", "198.70", lambda: ohms(BRIDGED.without("V"), "1")),
        ("total mA", "120.78", lambda: -1e3 * amps(BRIDGED, "V").real),
        ("V across R1 and R2", "8.6275", lambda: across(BRIDGED, "1", "4").real),
        ("V across R3 and R4", "15.373", lambda: across(BRIDGED, "4").real),
        ("mA in R1", "86.275", lambda: 1e3 * amps(BRIDGED, "R1").real),
        ("mA in R2", "34.510", lambda: 1e3 * amps(BRIDGED, "R2").real),
        ("mA in R3", "43.922", lambda: 1e3 * amps(BRIDGED, "R3").real),
        ("mA in R4", "76.863", lambda: 1e3 * amps(BRIDGED, "R4").real),
    ),
    *given(
        "V",
        "voltage divider, divider.sml, figures 00106, 10099 and 10100",
        ("total kilohms", "22.5", lambda: 1e-3 * ohms(DIVIDED[45].without("V"), "1"), 1e-6),
        ("mA at 45 V", "2", lambda: 1e3 * amps(DIVIDED[45], "R1").real, 1e-6),
        ("V across R1 at 45 V", "10", lambda: across(DIVIDED[45], "1", "2").real, 1e-6),
        ("V across R2 at 45 V", "20", lambda: across(DIVIDED[45], "2", "3").real, 1e-6),
        ("V across R3 at 45 V", "15", lambda: across(DIVIDED[45], "3").real, 1e-6),
        ("mA at 180 V", "8", lambda: 1e3 * amps(DIVIDED[180], "R1").real, 1e-6),
        ("V across R1 at 180 V", "40", lambda: across(DIVIDED[180], "1", "2").real, 1e-6),
        ("V across R2 at 180 V", "80", lambda: across(DIVIDED[180], "2", "3").real, 1e-6),
        ("V across R3 at 180 V", "60", lambda: across(DIVIDED[180], "3").real, 1e-6),
    ),
    *given(
        "V",
        "current divider, divider.sml, figures 00118, 10116 and 10117",
        ("total ohms", "545.45", lambda: ohms(SHARED[6].without("V"), "1")),
        ("mA in R1 at 6 V", "6", lambda: 1e3 * amps(SHARED[6], "R1").real, 1e-6),
        ("mA in R2 at 6 V", "2", lambda: 1e3 * amps(SHARED[6], "R2").real, 1e-6),
        ("mA in R3 at 6 V", "3", lambda: 1e3 * amps(SHARED[6], "R3").real, 1e-6),
        ("total mA at 6 V", "11", lambda: -1e3 * amps(SHARED[6], "V").real, 1e-6),
        ("mA in R1 at 24 V", "24", lambda: 1e3 * amps(SHARED[24], "R1").real, 1e-6),
        ("mA in R2 at 24 V", "8", lambda: 1e3 * amps(SHARED[24], "R2").real, 1e-6),
        ("mA in R3 at 24 V", "12", lambda: 1e3 * amps(SHARED[24], "R3").real, 1e-6),
        ("total mA at 24 V", "44", lambda: -1e3 * amps(SHARED[24], "V").real, 1e-6),
    ),
    *given(
        "V",
        "network of two sources, dcnet.sml, figures 00209 and 10179",
        ("A in R1", "5", lambda: amps(TWO_SOURCES, "R1").real, 1e-5),
        ("A in R2", "4", lambda: amps(TWO_SOURCES, "R2").real, 1e-5),
        ("A in R3 into the second source", "1", lambda: amps(TWO_SOURCES, "R3").real, 1e-5),
        ("V across R1", "20", lambda: across(TWO_SOURCES, "1", "2").real, 1e-5),
        ("V across R2, by Millman's theorem too", "8", lambda: across(TWO_SOURCES, "2").real, 1e-5),
        ("V across R3", "1", lambda: across(TWO_SOURCES, "2", "3").real, 1e-5),
    ),
    *given(
        "V",
        "node voltage method, dcnet.sml, figure 00497",
        ("V of node 1", "3.8095", lambda: across(NODES, "1").real),
        ("V of node 2", "-1.5476", lambda: across(NODES, "2").real),
        ("V of node 1 in the printed simulation", "3.809524", lambda: across(NODES, "1").real, 2e-6),
        ("V of node 2 in the printed simulation", "-1.547619", lambda: across(NODES, "2").real, 2e-6),
    ),
    *given(
        "V",
        "sizing a run of wire, conduct.sml, figures 00287 and 10222",
        ("V lost in each wire of 0.2 ohms", "5", lambda: across(run_of_wire(0.2), "1", "2").real, 1e-5),
        ("A through wires of 0.2 ohms", "25", lambda: amps(run_of_wire(0.2), "load").real, 1e-5),
        ("V at the load by 116035 circular mils", "220", lambda: across(run_of_wire(by_area(116035)), "2", "3").real, 1e-4),
    ),
    *given(
        "V",
        "wiring at 20 degC, conduct.sml, figures 00289 and 10227",
        ("mA", "50", lambda: 1e3 * amps(wired(20), "load").real, 1e-5),
        ("V in each wire", "0.75", lambda: across(wired(20), "1", "2").real, 1e-6),
        ("V at the load", "12.5", lambda: across(wired(20), "2", "3").real, 1e-6),
    ),
    *given(
        "V",
        "the same wiring at 35 degC, conduct.sml, figures 10228 and 10229",
        ("ohms of a wire", "15.909", lambda: ohms(wired(35).without("V"), "1", "2")),
        ("total ohms", "281.82", lambda: ohms(wired(35).without("V"), "1")),
        ("mA", "49.677", lambda: 1e3 * amps(wired(35), "load").real),
        ("V in each wire", "0.79", lambda: across(wired(35), "1", "2").real),
        ("V at the load", "12.42", lambda: across(wired(35), "2", "3").real),
    ),
    *given(
        "V",
        "voltmeter loading, dcmeter.sml, figures 00156 to 00158",
        ("V without the meter", "12", lambda: across(MEGOHMS, "2").real, 1e-6),
        ("megohms of meter and resistor together", "9.615", lambda: 1e-6 * ohms(LOADED.without("V").without("R1"), "2")),
        ("V read", "0.8889", lambda: volts_between(MEGOHMS, "2", "0", Meter().volts_ohms)),
        ("V left on the other resistor", "23.1111", lambda: across(LOADED, "1", "2").real),
    ),
    *given(
        "V",
        "capacitor charging to 15 V with a time constant of 1 s, time.sml",
        *(
            (f"V after {seconds} s", figure, lambda seconds=seconds: CHARGING.at(0.0, seconds), 0.0005)
            for seconds, figure in (
                (0, "0"),
                (0.5, "5.902"),
                (1, "9.482"),
                (2, "12.970"),
                (3, "14.253"),
                (4, "14.725"),
                (5, "14.899"),
                (6, "14.963"),
                (10, "14.999"),
            )
        ),
        ("s to 9.482 V, run to the event", "1.000", lambda: wait(0.0, 15.0, CHARGING.tau, 9.482)),
    ),
]


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_the_engine_solves_what_the_book_prints(row) -> None:
    """Each figure comes out of the solve to the digits printed, or to the tolerance its row states."""
    assert row.expected == pytest.approx(row.solved(), rel=0, abs=row.tolerance)


def test_two_nought_copper_keeps_the_load_above_220_volts_and_one_nought_does_not() -> None:
    """V: conduct.sml picks 133100 circular mils because 105500 would leave the load short."""
    by_size = {mils: across(run_of_wire(by_area(mils)), "2", "3").real for mils in (133100, 105500)}
    assert (True, False) == (by_size[133100] >= 220, by_size[105500] >= 220)


def test_a_shorted_resistor_moves_every_quantity_the_way_the_book_says() -> None:
    """V: s_p.sml, figures 10136 to 10149: R2 of (R1 beside R2) in series with (R3 beside R4) fails short."""

    def quantities(network: Network) -> dict[str, float]:
        return {
            "total ohms": ohms(network.without("V"), "1"),
            "total current": -amps(network, "V").real,
            "V of R1 and R2": across(network, "1", "4").real,
            "V of R3 and R4": across(network, "4").real,
        } | {f"current in {name}": amps(network, name).real for name in ("R1", "R2", "R3", "R4")}

    healthy, failed = quantities(BRIDGED), quantities(BRIDGED.edited("R2", z=0.001))
    expected = {
        "total ohms": "falls",
        "total current": "rises",
        "V of R1 and R2": "falls",
        "V of R3 and R4": "rises",
        "current in R1": "falls",
        "current in R2": "rises",
        "current in R3": "rises",
        "current in R4": "rises",
    }
    assert expected == {name: "rises" if failed[name] > healthy[name] else "falls" for name in healthy}


def test_an_open_resistor_in_a_simple_loop_takes_the_whole_source_voltage() -> None:
    """V: s_p.sml: a part that fails open in series has no current, and all of the volts across it."""
    opened = DIVIDED[45].edited("R2", z=1e12)
    assert 0 == pytest.approx(amps(opened, "R2").real, abs=1e-9)
    assert 45 == pytest.approx(across(opened, "2", "3").real, abs=1e-5)
