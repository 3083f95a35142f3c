"""Worked figures of *University Physics* volume 2 (OpenStax, CC BY-NC-SA 4.0 in the repository read).

Read at github.com/openstax/osbooks-university-physics-bundle, commit d0ed34a; modules m58454 (series and parallel),
m58455 (Kirchhoff's rules), m58457 (RC circuits), m58494 (transformers).
"""

from __future__ import annotations

import pytest
from published.printed import across, amps, circuit, given, ohms, turns, wait, watts

from solvers.circuit import Approach, Branch, Network

WIRED = circuit("V 1 0 12; R1 1 2 1; R2 2 0 6; R3 2 0 13")
FOUR = circuit("V 1 0 50; R1 1 2 10; R2 2 3 10; R3 3 0 10; R4 3 0 10")
SERIES = circuit("V 1 0 18; R1 1 2 4; R2 2 3 1; R3 3 0 4")
# the printed equation has 10.0 + 30.0 + 10.0; the figure and the powers have 20 ohms in the third place
OPPOSED = circuit("V1 1 0 24; R1 1 2 10; R2 2 3 30; V2 3 4 12; R3 4 0 20")
# the book rounds the ratio to 12 before it goes on
DOORBELL = Network([Branch("V", "p", "0", 1e-6, 110.0), *turns(12, 1, 9.0 / 0.50)])

ROWS = [
    *given(
        "V",
        "a wire of 1.00 ohm before two parallel loads, m58454",
        # 5.105 in full; the book's own sum of rounded parts
        ("total ohms", "5.10", lambda: ohms(WIRED.without("V"), "1"), 0.006),
        ("A", "2.35", lambda: amps(WIRED, "R1").real),
        ("V at the loads", "9.65", lambda: across(WIRED, "2").real),
        ("A in 6.00 ohms", "1.61", lambda: amps(WIRED, "R2").real),
        ("W in 6.00 ohms", "15.5", lambda: watts(WIRED, "R2")),
        ("A in 13.0 ohms", "0.742", lambda: amps(WIRED, "R3").real),
        ("A in 13.0 ohms by difference", "0.74", lambda: amps(WIRED, "R3").real),
    ),
    *given(
        "V",
        "four resistors of 10.00 ohms with 2.00 A in the first, m58454",
        ("A in R1", "2.00", lambda: amps(FOUR, "R1").real, 1e-6),
        ("W of the supply", "100.00", lambda: -watts(FOUR, "V"), 1e-5),
        ("W in R1", "40", lambda: watts(FOUR, "R1"), 1e-5),
        ("W in R2", "40", lambda: watts(FOUR, "R2"), 1e-5),
        ("W in R3", "10", lambda: watts(FOUR, "R3"), 1e-5),
        ("W in R4", "10", lambda: watts(FOUR, "R4"), 1e-5),
    ),
    *given(
        "V",
        "4, 1 and 4 ohms in series on 18.00 V, m58454",
        ("total ohms", "9.00", lambda: ohms(SERIES.without("V"), "1"), 1e-6),
        ("A", "2.00", lambda: amps(SERIES, "R1").real, 1e-6),
        ("V across R1", "8.00", lambda: across(SERIES, "1", "2").real, 1e-5),
        ("V across R2", "2.00", lambda: across(SERIES, "2", "3").real, 1e-5),
        ("V across R3", "8.00", lambda: across(SERIES, "3").real, 1e-5),
        ("W in R1", "16", lambda: watts(SERIES, "R1"), 1e-5),
        ("W in R2", "4", lambda: watts(SERIES, "R2"), 1e-5),
        ("W in R3", "16", lambda: watts(SERIES, "R3"), 1e-5),
        ("W of the supply", "36.00", lambda: -watts(SERIES, "V"), 1e-5),
    ),
    *given(
        "V",
        "24 V against 12 V in a loop of 10, 30 and 20 ohms, m58455",
        ("A", "0.20", lambda: amps(OPPOSED, "R1").real, 1e-6),
        ("W in 10 ohms", "0.40", lambda: watts(OPPOSED, "R1"), 1e-6),
        ("W in 30 ohms", "1.20", lambda: watts(OPPOSED, "R2"), 1e-6),
        ("W in 20 ohms", "0.80", lambda: watts(OPPOSED, "R3"), 1e-6),
        ("W taken by 12 V", "2.40", lambda: watts(OPPOSED, "V2"), 1e-6),
        ("W given by 24 V", "4.80", lambda: -watts(OPPOSED, "V1"), 1e-6),
    ),
    *given(
        "V",
        "doorbell transformer from 110 V to 9.0 V and 0.50 A, m58494",
        ("A in", "0.042", lambda: abs(amps(DOORBELL, "V"))),
        ("ohms seen by the source", "2.6e3", lambda: 110 / abs(amps(DOORBELL, "V"))),
    ),
    *given(
        "V",
        "10 mF charged from 12 V to 10 V in 10.00 s, m58457",
        ("ohms", "558.11", lambda: 10.00 / (10e-3 * Approach(12.0, 1.0).time_to(0.0, 10.0))),
        ("s through 558.11 ohms", "10.00", lambda: wait(0.0, 12.0, 558.11 * 10e-3, 10.0)),
    ),
]


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_the_engine_solves_what_the_book_prints(row) -> None:
    """Each figure comes out of the solve to the digits printed, or to the tolerance its row states."""
    assert row.expected == pytest.approx(row.solved(), rel=0, abs=row.tolerance)
