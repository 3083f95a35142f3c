"""Supply voltage as ANSI C84.1 and one state's rule have it, and what a step-down transformer makes of it.

Range A of ANSI C84.1 table 1 was read at second hand, in several programs that quote it; the Illinois rule, section
410.300, in a copy. Range B, the utilization ranges and the 0.85 to 1.10 of control supplies are known from memory only and
are no gate here, nor is anything computed from them.
"""

from __future__ import annotations

import pytest
from published.printed import given

from solvers.plant import sizing
from solvers.plant.parts import Transformer

STATE_RULE = (113.0, 127.0)  # V at delivery for more than two minutes; V2


def ideal(line: float) -> float:
    """Open-circuit volts of a 5 to 1 transformer without losses on a line."""
    return Transformer("t", emf=24.0, line_volts=line).open_volts


ROWS = [
    *given(
        "V2",
        "ANSI C84.1 range A, service, 120 V nominal",
        ("least V", "114", lambda: sizing.service_range(120)[0], 1e-9),
        ("most V", "126", lambda: sizing.service_range(120)[1], 1e-9),
    ),
    *given(
        "C",
        "from range A, an ideal 5 to 1 transformer of 24 V",
        ("least V", "22.8", lambda: ideal(sizing.service_range(120)[0])),
        ("most V", "25.2", lambda: ideal(sizing.service_range(120)[1])),
    ),
    *given(
        "C",
        "from Illinois rule 410.300 (V2, 113 to 127 V), the same transformer",
        ("least V", "22.6", lambda: ideal(STATE_RULE[0])),
        ("most V", "25.4", lambda: ideal(STATE_RULE[1])),
    ),
]


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_volts_are_what_is_printed(row) -> None:
    """Each figure comes out to the digits printed, or follows from printed ones in one step."""
    assert row.expected == pytest.approx(row.solved(), rel=0, abs=row.tolerance)


def test_range_a_lies_within_the_state_rule() -> None:
    """V2: the rule for sustained volts is a volt wider at either end than range A."""
    low, high = sizing.service_range(120)
    assert (1.0, 1.0) == pytest.approx((low - STATE_RULE[0], STATE_RULE[1] - high), abs=1e-9)
