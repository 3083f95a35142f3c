"""The house that the page on step-down power talks about, in each condition the page needs. It is invented."""

from __future__ import annotations

from ..faults.changes import Bridged, Loosened, PartField
from ..plant.demo_controls import mill
from .heater_loop_house import Scene

__all__ = [
    "AGED_FUSE",
    "BAD_CLIP",
    "BLOWN_FUSE",
    "BOXED",
    "BREAKER",
    "FEED_OFF",
    "FEED_OPEN",
    "FUSE_BEHIND",
    "FUSE_IN",
    "GROUNDED",
    "HEALTHY",
    "HEATER",
    "LOOSE_SCREW",
    "LOW_LINE",
    "NICKED_R",
    "PRIMARY_OPEN",
    "SECONDARY_OPEN",
    "SHORTED",
    "SHORTED_TURNS",
    "SMALL",
    "TRIPPED",
    "on_line",
    "staged",
]

SHORT_OHMS = 0.3
CLIP_OHMS = 4.0
SUPPER_VOLTS = 104.0
TURNS_SHORTED = 0.22

FUSE_IN, FUSE_BEHIND = "fuse.in", "fuse.out"
HEATER = "zone1.valve.HA", "zone1.valve.HB"

HEALTHY = Scene(house=mill())
BOXED = Scene(house=mill(1, line_side=True))  # with the line side of its transformer opened for a look
BREAKER = Scene(house=mill(protection="breaker"))

FEED_OFF = HEALTHY.where(PartField("transformer", "feed_on", False))
FEED_OPEN = HEALTHY.where(PartField("transformer", "feed_open", True))
PRIMARY_OPEN = HEALTHY.where(PartField("transformer", "primary_open", True))
SECONDARY_OPEN = HEALTHY.where(PartField("transformer", "secondary_open", True))
BLOWN_FUSE = HEALTHY.where(PartField("fuse", "blown", True))
TRIPPED = BREAKER.where(PartField("transformer", "tripped", True))

SHORT = Bridged("strand at the splice", "zone1.W splice.2", "C bus.zone1", SHORT_OHMS)
SHORTED = HEALTHY.where(SHORT, PartField("fuse", "blown", True))
GROUNDED = HEALTHY.where(PartField("transformer", "grounded", True))
NICKED_R = GROUNDED.where(Bridged("staple", "zone1.R splice.2", ohms=SHORT_OHMS), PartField("fuse", "blown", True))

BAD_CLIP = HEALTHY.where(PartField("fuse", "ohms", CLIP_OHMS))
LOW_LINE = HEALTHY.where(PartField("transformer", "line_volts", SUPPER_VOLTS))
SHORTED_TURNS = HEALTHY.where(PartField("transformer", "shorted_turns", TURNS_SHORTED))
SMALL = HEALTHY.where(
    PartField("transformer", "va", 20.0), PartField("transformer", "emf", 28.0), PartField("transformer", "ohms", 4.8)
)
AGED_FUSE = HEALTHY.where(PartField("fuse", "left", 0.33))
LOOSE_SCREW = HEALTHY.where(Loosened("R feed", "a", opens_amps=0.45, tau=500.0))


def on_line(volts: float, tap: float, scene: Scene = HEALTHY) -> Scene:
    """The scene with so many volts between the two conductors of the feed, landed on the lead for `tap`."""
    return scene.where(PartField("transformer", "tap", tap), PartField("transformer", "line_volts", volts))


def staged(zones: int) -> Scene:
    """A mill of so many zones, all of them on call."""
    return Scene(house=mill(zones)).calling(*range(1, zones + 1))
