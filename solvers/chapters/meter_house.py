"""The houses that the pages on the meter and on safe work talk about, in each condition they need. All are invented."""

from __future__ import annotations

from ..circuit import OPEN
from ..faults.changes import Bridged, Joint, Loosened, PartField
from ..plant import facts
from ..plant.demo_supplies import inn, studio, terrace
from ..plant.demos import workshop
from .heater_loop_house import Scene

__all__ = [
    "AIR_BOUND",
    "BACK_FED",
    "BAD_COMMON",
    "BLOWN_FUSE",
    "BOARD",
    "DEAD_FEED",
    "GROUNDED",
    "HEALTHY",
    "INN",
    "LAMP_FOR_FUSE",
    "LAMP_FOR_FUSE_SHORTED",
    "LOOSE",
    "NICKED",
    "OPEN_HEATER",
    "OPEN_RETURN",
    "OPEN_STAT",
    "PHASED",
    "PHASED_OPPOSED",
    "ROTTEN",
    "ROTTEN_OHMS",
    "SHORTED",
    "STUDIO",
    "TERRACE",
    "THIN_TRUNK",
    "UNPHASED_OPPOSED",
    "WEAK",
    "WELDED",
]

ROTTEN_OHMS = 6.5
NICK_OHMS = 4_700.0
SHORT_OHMS = 0.4
REFERENCE_OHMS = 1_000.0  # from common to common while two sources are compared
TRUNK_OHMS = 2.1
WEAK_OHMS = 4.6

HEALTHY = Scene(house=workshop())
INN = Scene(house=inn())
STUDIO = Scene(house=studio())
TERRACE = Scene(house=terrace())
THIN_TRUNK = Scene(house=terrace(TRUNK_OHMS))

AIR_BOUND = HEALTHY.where(PartField("zone1.loop", "air_bound", True))
BAD_COMMON = HEALTHY.where(Joint("zone1.C splice", "2", ROTTEN_OHMS))
BLOWN_FUSE = HEALTHY.where(PartField("fuse", "blown", True))
BOARD = HEALTHY.where(PartField("boiler", "input", "board-sensed"))
DEAD_FEED = HEALTHY.where(Joint("zone1.R splice", "2", OPEN))
GROUNDED = HEALTHY.where(PartField("transformer", "grounded", True))
LOOSE = HEALTHY.where(Loosened("zone1.W leg", "b"))
NICKED = HEALTHY.where(Bridged("nick", "zone1.W splice.1", ohms=NICK_OHMS))
OPEN_HEATER = HEALTHY.where(PartField("zone1.valve", "heater_ohms", OPEN))
OPEN_RETURN = HEALTHY.where(Joint("zone1.C splice", "2", OPEN))
OPEN_STAT = HEALTHY.where(PartField("zone1.stat", "contact", "open"))
ROTTEN = HEALTHY.where(Joint("zone1.W splice", "2", ROTTEN_OHMS))
WEAK = HEALTHY.where(PartField("transformer", "ohms", WEAK_OHMS))
WELDED = HEALTHY.where(PartField("zone2.valve", "switch", "welded"))

SHORT = Bridged("bare ends", "zone1.W splice.2", "C bus.zone1", SHORT_OHMS)
SHORTED = HEALTHY.where(SHORT)  # each zone has called since yesterday, so the fuse is open on arrival
LAMP_FOR_FUSE = HEALTHY.where(PartField("fuse", "ohms", facts.LAMP_OHMS.value))
LAMP_FOR_FUSE_SHORTED = LAMP_FOR_FUSE.where(SHORT)

OPPOSED = PartField("transformer 2", "opposed", True)
REFERENCE = Bridged("reference", "transformer.C", "transformer 2.C", REFERENCE_OHMS)
PHASED = INN.where(REFERENCE)
PHASED_OPPOSED = INN.where(OPPOSED, REFERENCE)
UNPHASED_OPPOSED = INN.where(OPPOSED)

TIES = Bridged("tie of R", "R bus.fuse", "R bus 2.fuse"), Bridged("tie of C", "C bus.trunk", "C bus 2.trunk")
BACK_FED = INN.where(*TIES)
