"""Every number that the page on safe work prints: solved, taken from the marks, or from a source that is named beside it."""

from __future__ import annotations

from ..faults.changes import PartField
from ..jobs.marking import COSTS, GATE_CAP, JACK_COST, MISUSE_COST, SECOND_FUSE_COST, SECOND_RESET_COST
from ..jobs.misuses import SHORTED, TIED
from ..plant import facts
from .explorer import both_air
from .meter_house import BACK_FED, HEALTHY, INN
from .printed import Printed, amps, display, volts
from .visits import ohms_text

__all__ = [
    "apart",
    "apart_inside",
    "class_2_size",
    "class_2_volts",
    "class_2_wet_volts",
    "direct_on_live",
    "dry_amps",
    "dry_ohms",
    "fuse_cost",
    "gate_cap",
    "idle_volts",
    "jack_cost",
    "jack_first",
    "jack_later",
    "line_ground_back",
    "line_ground_dead",
    "line_ground_live",
    "line_neutral_back",
    "line_neutral_dead",
    "line_neutral_live",
    "live_limit",
    "live_ohms_cost",
    "neutral_ground_back",
    "neutral_ground_dead",
    "neutral_ground_live",
    "no_let_go",
    "perceived",
    "reset_cost",
    "scalds_fast",
    "scalds_slowly",
    "short_amps",
    "spark_cost",
    "tie_cost",
    "transformer_size",
    "verify_above",
    "wet_amps",
    "wet_ohms",
]

LIVE_LIMIT_VOLTS = 50.0  # 29 CFR 1910.333(a)(1), read at second hand
VERIFY_ABOVE_VOLTS = 600.0  # 29 CFR 1910.333(b)(2)(iv)(B), read at second hand
PERCEIVED_MA = (0.7, 1.1)  # 60 Hz, women and men; Lessons In Electric Circuits I, chapter on electrical safety
NO_LET_GO_MA = (10.5, 16.0)  # the same table
DRY_OHMS = 17_000.0  # a body by the examples of the same chapter
WET_OHMS = 1_000.0  # the same, with a large or wet contact
APART = (2.0, 50.0)  # in, mm; power and class 2 conductors, NFPA 70 (2017) 725.136, read in a copy
APART_INSIDE = (0.25, 6.0)  # in, mm; inside an enclosure that both have to enter, the same article
SCALDS_FAST_DEGC = 60.0  # in seconds; common practice, no source
SCALDS_SLOWLY_DEGC = 50.0  # in minutes; common practice, no source

C = "transformer.C"
SECOND = "transformer 2"
LINE, NEUTRAL, GROUND = f"{SECOND}.P120", f"{SECOND}.P0", "earth"
OFF = {"do": "switch", "part": SECOND, "on": False}

_OPENED = PartField(SECOND, "line_side", True)
_LIVE = INN.where(_OPENED)
_DEAD = _LIVE.after(OFF)
_FED_BACK = BACK_FED.where(_OPENED).after(OFF)
_SHORT = HEALTHY.after({"do": "jumper", "first": "fuse.in", "second": C, "on": True})

# The box of transformer 2: on, off, and off while the other transformer feeds it from behind.
line_neutral_live = volts(_LIVE, LINE, NEUTRAL)
line_ground_live = volts(_LIVE, LINE, GROUND)
neutral_ground_live = volts(_LIVE, NEUTRAL, GROUND)
line_neutral_dead = volts(_DEAD, LINE, NEUTRAL)
line_ground_dead = volts(_DEAD, LINE, GROUND)
neutral_ground_dead = volts(_DEAD, NEUTRAL, GROUND)
line_neutral_back = volts(_FED_BACK, LINE, NEUTRAL)
line_ground_back = volts(_FED_BACK, LINE, GROUND)
neutral_ground_back = volts(_FED_BACK, NEUTRAL, GROUND)

# A meter that is not proven shows nothing on what is live.
direct_on_live = display(_LIVE, "volts DC", LINE, NEUTRAL)
jack_first = display(HEALTHY, "amps jack", "fuse.out", C)
jack_later = display(
    HEALTHY.after({"do": "measure", "function": "amps jack", "first": "fuse.out", "second": C}), "amps jack", "fuse.out", C
)

# What 24 volts can do.
short_amps = amps(_SHORT, "R feed", 1)
idle_volts = volts(HEALTHY, "fuse.out", C)


def transformer_size() -> str:
    """What the workshop's transformer is marked with."""
    return f"{HEALTHY.house.part('transformer').va:.0f} VA"


def _through_body(ohms: float) -> Printed:
    return lambda: f"{1000 * HEALTHY.volts('fuse.out', C) / ohms:.2g} mA"


dry_amps, wet_amps = _through_body(DRY_OHMS), _through_body(WET_OHMS)


def dry_ohms() -> str:
    """A body with dry hands, in that chapter's example."""
    return ohms_text(DRY_OHMS / 1000).replace("ohms", "kilohms")


def wet_ohms() -> str:
    """A body with wet or ringed hands, in that chapter's example."""
    return ohms_text(WET_OHMS / 1000).replace("1 ohms", "1 kilohm")


def _range(ends: tuple[float, float]) -> str:
    return f"{ends[0]:g} to {ends[1]:g} mA"


def perceived() -> str:
    """The current that begins to be felt, women and men."""
    return _range(PERCEIVED_MA)


def no_let_go() -> str:
    """The current at which a hand no longer opens, women and men."""
    return _range(NO_LET_GO_MA)


def live_limit() -> str:
    """Volts to ground below which live work is not forbidden as such."""
    return f"{LIVE_LIMIT_VOLTS:.0f} V"


def verify_above() -> str:
    """Volts above which the meter must be checked before and after."""
    return f"{VERIFY_ABOVE_VOLTS:.0f} V"


# Class 2.
def _both_lengths(inches: float, mm: float) -> Printed:
    return lambda: f"{inches:g} in ({mm:.0f} mm)"


apart, apart_inside = _both_lengths(*APART), _both_lengths(*APART_INSIDE)


def class_2_volts() -> str:
    """The most for class 2 where it is dry."""
    return f"{facts.CLASS_2_VOLTS.value:.0f} V"


def class_2_wet_volts() -> str:
    """The most where wet contact is likely."""
    return f"{facts.CLASS_2_WET_VOLTS.value:.0f} V"


def class_2_size() -> str:
    """The largest nameplate."""
    return f"{facts.CLASS_2_NAMEPLATE_VA.value:.0f} VA"


# Water.
def scalds_fast() -> str:
    """Water that scalds in seconds."""
    return both_air(SCALDS_FAST_DEGC)


def scalds_slowly() -> str:
    """Water that scalds in minutes."""
    return both_air(SCALDS_SLOWLY_DEGC)


# What it costs at the bench.
def _points(cost: float) -> Printed:
    return lambda: f"{cost:.0f} points"


live_ohms_cost = _points(MISUSE_COST)
jack_cost = _points(JACK_COST)
spark_cost = _points(COSTS[SHORTED])
tie_cost = _points(COSTS[TIED])
fuse_cost = _points(SECOND_FUSE_COST)
reset_cost = _points(SECOND_RESET_COST)
gate_cap = _points(GATE_CAP)
