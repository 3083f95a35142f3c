"""Warming and cooling examples of *Calculus* and of *College Algebra* (OpenStax, CC BY-NC-SA 4.0 as read).

Read at github.com/openstax/osbooks-calculus-bundle, commit 8dbc2ce, modules m53651 and m53704, and at
github.com/openstax/osbooks-college-algebra-bundle, commit 789b540, module m49367. Degrees are Fahrenheit.
"""

from __future__ import annotations

import pytest
from published.printed import fitted, given, wait

PITCHER = fitted(40.0, 70.0, 45.0, 1.0)  # hours
PIZZA = fitted(200.0, 75.0, 190.0, 1.0)  # minutes
CHEESECAKE = fitted(165.0, 35.0, 150.0, 10.0)
COFFEE = fitted(200.0, 70.0, 180.0, 2.0)

ROWS = [
    *given(
        "V",
        "pitcher warming from 40 to 60 in a room at 70, College Algebra m49367",
        ("hours", "6.026", lambda: wait(40.0, 70.0, PITCHER, 60.0)),
    ),
    *given(
        "V",
        "pizza cooling from 200 to 150 in a room at 75, Calculus m53704",
        ("rate constant a minute", "-0.08338", lambda: -1 / PIZZA),
        # 6.126 in full; the book cuts the digits off
        ("minutes", "6.12", lambda: wait(200.0, 75.0, PIZZA, 150.0), 0.01),
    ),
    *given(
        "V",
        "cheesecake cooling from 165 to 70 at 35, College Algebra m49367",
        ("rate constant a minute", "-0.0123", lambda: -1 / CHEESECAKE),
        ("minutes with the rounded constant", "106.68", lambda: wait(165.0, 35.0, 1 / 0.0123, 70.0)),
        ("minutes, about", "107", lambda: wait(165.0, 35.0, CHEESECAKE, 70.0)),
    ),
    *given(
        "V",
        "coffee cooling from 200 in a room at 70, Calculus m53651",
        ("minutes to 175", "2.56", lambda: wait(200.0, 70.0, COFFEE, 175.0)),
        ("minutes to 155", "5.09", lambda: wait(200.0, 70.0, COFFEE, 155.0)),
    ),
]


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_the_engine_finds_the_time_the_book_prints(row) -> None:
    """Each figure comes out of the run to the digits printed, or to the tolerance its row states."""
    assert row.expected == pytest.approx(row.solved(), rel=0, abs=row.tolerance)
