"""An explorer of two transformers' phase: what their order of leads and their legs do to the volts between both Rs."""

from __future__ import annotations

import cmath
import math
from functools import lru_cache

from ..circuit import volts_reading
from ..plant.electrics import electrics
from ..plant.parts import HeatMotorValve, Stat, Transformer
from ..plant.running import at_rest, network
from ..plant.topologies import Zone
from ..plant.two_sources import separate_commons
from ..plant.wiring import Conductor, Installation
from .explorer import Explorer, Pick, Plot, Shown, Told
from .visits import volts_text

__all__ = ["PHASE", "REFERENCE_OHMS"]

SAME, EXCHANGED = "as at transformer 1", "exchanged"
ONE_LEG, OTHER_LEG = "the same leg", "the other leg"
APART, REFERENCED = "apart", "joined through 1 kilohm"
REFERENCE_OHMS = 1000.0
MOMENTS = 48  # of one cycle


@lru_cache(maxsize=4)
def _two(opposed: bool, referenced: bool) -> Installation:
    """One zone on each of two transformers, their commons apart or joined through a resistor."""
    first, second = Transformer("transformer"), Transformer("transformer", opposed=opposed)
    zones = [Zone(HeatMotorValve("valve", 4), Stat("stat")) for _ in range(2)]
    house = separate_commons("two transformers", zones[:1], zones[1:], transformers=(first, second))
    if not referenced:
        return house
    return house.with_conductors([Conductor("reference", "transformer.C", "transformer 2.C", REFERENCE_OHMS)])


def _phase(primary: str, secondary: str, leg: str, commons: str) -> Shown:
    # Each of the three turns the second transformer against the first; two of them undo each other.
    turns = sum((primary == EXCHANGED, secondary == EXCHANGED, leg == OTHER_LEG))
    referenced = commons == REFERENCED
    house = _two(turns % 2 == 1, referenced)
    state = at_rest(house)
    circuit = network(house, state)
    one, two = ("transformer.R", "transformer.C"), ("transformer 2.R", "transformer 2.C")
    between = volts_reading(circuit, one[0], two[0]).value
    low = volts_reading(circuit, one[0], two[0], low_z=True).value
    own = [volts_reading(circuit, *pair).value for pair in (one, two)]
    solved = electrics(house, state.parts).solved.volts
    waves = tuple(
        (name, tuple(_wave(solved[pair[0]] - solved[pair[1]], house.hz))) for name, pair in (("R of 2", two), ("", one))
    )
    plot = Plot(
        title="One cycle, each R against its own C",
        across=f"milliseconds, at {house.hz:.0f} Hz",
        up="V at the moment; strong: R of 2, fine: R of 1",
        curves=waves,
    )
    if not referenced:
        words = (
            "Nothing joins the two circuits, so there is nothing to compare: what the meter shows is a ghost, and on "
            "low impedance it is gone. "
            "Join the commons through a resistor of 1 kilohm for the test, never with a wire."
        )
        drawn = "Two sine waves; how they stand to each other cannot be read while nothing joins the circuits."
    elif turns % 2:
        words = (
            f"{volts_text(between)} between the Rs, twice the volts of one: the two stand against each other. Wherever "
            "both Rs meet, that much "
            "is waiting. Take the resistor off again and leave the commons apart."
        )
        drawn = "Two sine waves, one at its top while the other is at its bottom."
    else:
        words = (
            "Next to nothing between the Rs: the two rise and fall together, in phase. Take the resistor off again and "
            "leave the commons apart "
            "all the same: tied sources feed back into each other's primary."
        )
        drawn = "Two sine waves, one on top of the other."
    return Shown(
        (
            Told("R of 1 to R of 2, volts", volts_text(between)),
            Told("R of 1 to R of 2, low impedance", volts_text(low)),
            Told("R to C of transformer 1", volts_text(own[0])),
            Told("R to C of transformer 2", volts_text(own[1])),
        ),
        words,
        plot,
        drawn,
    )


def _wave(volts: complex, hz: float) -> list[tuple[float, float]]:
    """Volts at each moment of one cycle, from rms volts and their angle."""
    top, angle = math.sqrt(2) * abs(volts), cmath.phase(volts)
    moments = [moment / MOMENTS for moment in range(MOMENTS + 1)]
    return [(1000 * share / hz, top * math.sin(2 * math.pi * share + angle)) for share in moments]


PHASE = Explorer(
    "phase",
    "Two transformers: together or against each other",
    "Two good transformers, 27.5 V each. Which volts can stand between their two Rs, and what decides? Can one reading "
    "be trusted while "
    "nothing joins them?",
    (
        Pick("primary", "primary leads of transformer 2", (SAME, EXCHANGED), SAME),
        Pick("secondary", "secondary leads of transformer 2", (SAME, EXCHANGED), SAME),
        Pick("leg", "breaker of transformer 2 on", (ONE_LEG, OTHER_LEG), ONE_LEG),
        Pick("commons", "the two commons", (APART, REFERENCED), REFERENCED),
    ),
    _phase,
)
