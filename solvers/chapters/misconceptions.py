"""The course's 32 misconceptions in plain words, each with the objective that meets it. Common practice, no source."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

__all__ = ["MISCONCEPTIONS", "Misconception"]


@dataclass(frozen=True, slots=True)
class Misconception:
    """A belief that many hold and that one reading can end."""

    number: int
    belief: str  # as somebody would say it
    objective: str


MISCONCEPTIONS: Mapping[int, Misconception] = {
    number: Misconception(number, belief, objective)
    for number, belief, objective in (
        (1, "There are 24 volts at the valve, so the valve is fine.", "3.2"),
        (2, "No volts across a switch: it must be closed.", "2.2"),
        (3, "The thermostat sends out the 24 volts.", "2.1"),
        (4, "A 24-volt transformer that shows more than 24 volts, with nobody calling, is too strong.", "1.4"),
        (5, "Volts wear off along a wire, whether it carries current or not.", "2.6"),
        (6, "If a zone is dead, the meter shows nothing at its valve.", "3.2"),
        (7, "The meter beeps, so that switch is closed.", "3.7"),
        (8, "With the power off, ohms can be read without taking a lead off.", "3.7"),
        (9, "A coil's ohms tell how much current it will draw.", "4.5"),
        (10, "A heater has a plus and a minus lead.", "3.1"),
        (11, "The valve is slow, so the valve is bad.", "3.3"),
        (12, "A fifth fewer volts makes a valve a fifth slower.", "3.3"),
        (13, "The end switch is fed by the same circuit as the heater.", "4.1"),
        (14, "How many zones call makes no difference to any one of them.", "5.3"),
        (15, "If the fuse keeps opening, a bigger one will do.", "1.6"),
        (16, "Two transformers can be joined side by side, as batteries can.", "4.7"),
        (17, "Wires of one colour are in phase.", "4.7"),
        (18, "A common wire is always at zero volts.", "3.2"),
        (19, "A few volts on a loose wire are a leak that will hold a valve open.", "2.7"),
        (20, "The boiler runs and nobody calls, so the boiler is at fault.", "4.6"),
        (21, "T-T is just one more pair with 24 volts on it.", "4.1"),
        (22, "The cells show 3 volts, so they are good.", "2.4"),
        (23, "A thermostat without a C wire needs no path through the load.", "2.4"),
        (24, "Put the clamp round both wires to read the whole current.", "3.1"),
        (25, "A jumper from R to W is dangerous.", "2.3"),
        (26, "The new part works, so the old one was bad.", "5.2"),
        (27, "The valve is open, so there is heat.", "3.5"),
        (28, "The zone that is complained of is the zone with the fault.", "5.1"),
        (29, "24 volts can hurt nobody.", "1.7"),
        (30, "The more jumpers somebody tries, the more they know.", "2.3"),
        (31, "Reading the drop across a joint is only for electricians.", "2.6"),
        (32, "To find nothing wrong is to have failed.", "5.6"),
    )
}
"""Misconceptions by number."""
