"""The houses that the page on end-switch circuits talks about, in each condition it needs. All are invented."""

from __future__ import annotations

from ..circuit import OPEN
from ..faults.changes import Bridged, ConductorField, Exchanged, Joint, Landed, PartField, Removed
from ..jobs.acts import World
from ..plant import facts
from ..plant.demo_calls import farmhouse, schoolhouse
from ..plant.demos import bungalow, workshop
from ..plant.running import at_rest, called, waited
from .heater_loop_house import Scene

__all__ = [
    "BACK_FED",
    "BOARD",
    "BUNGALOW",
    "CABLE_OPEN",
    "CABLE_SHORT",
    "COIL_ON_C",
    "COIL_OPEN",
    "CONTACT_BAD",
    "CONTACT_WELDED",
    "FARMHOUSE",
    "FED_FROM_OUTSIDE",
    "INPUT_DEAD",
    "JUMPER_LEFT",
    "LATE",
    "LIVE_IN_PHASE",
    "LIVE_OPPOSED",
    "LONG_CALL",
    "ON_NC",
    "OXIDE",
    "OXIDE_MILD",
    "PHASED",
    "PHASED_OPPOSED",
    "QUITS",
    "SAFETY_OPEN",
    "SCHOOL",
    "SERIES",
    "STARVED",
    "SUPPLY_DEAD",
    "SWAPPED_HE",
    "SWAPPED_HS",
    "SWAPPED_SE",
    "SWITCH_OPEN",
    "SWITCH_WELDED",
    "UNPHASED_OPPOSED",
    "WORKSHOP",
    "WORKSHOP_OPEN",
    "WORKSHOP_WELDED",
    "first_call",
    "jumpered",
    "opened",
]

LONG_CALL = 400.0  # s on call; every valve in order is open by then, and the boiler has not stopped more than once
CONTACT_OHMS = 150.0
OXIDE_OHMS, OXIDE_MILD_OHMS = 140.0, 15.0
TRUNK_OHMS = 6.5
LANDING_OHMS = 12.0
QUITS_DEGC = 105.0
REFERENCE_OHMS = 1_000.0  # from common to common while two sources are compared

SCHOOL = Scene(house=schoolhouse())
WORKSHOP = Scene(house=workshop())
BUNGALOW = Scene(house=bungalow())
FARMHOUSE = Scene(house=farmhouse())

# No boiler, though the head of zone 1 has clicked.
SWITCH_OPEN = SCHOOL.where(PartField("zone1.valve", "switch", "open"))
COIL_OPEN = SCHOOL.where(PartField("relay", "coil_ohms", OPEN))
COIL_ON_C = SCHOOL.where(Landed("relay R", "a", "C bus.trunk"))
CONTACT_BAD = SCHOOL.where(PartField("relay", "no_ohms", CONTACT_OHMS))
CABLE_OPEN = SCHOOL.where(ConductorField("T-T cable B", "ohms", OPEN))
INPUT_DEAD = SCHOOL.where(PartField("boiler", "input_sound", False))
SUPPLY_DEAD = SCHOOL.where(PartField("boiler", "dead", True))
SAFETY_OPEN = SCHOOL.where(PartField("boiler", "safety", "high limit"))
STARVED = SCHOOL.where(Joint("C bus", "trunk", TRUNK_OHMS))

# The boiler runs, and nobody calls.
SWITCH_WELDED = SCHOOL.where(PartField("zone2.valve", "switch", "welded"))
CONTACT_WELDED = SCHOOL.where(PartField("relay", "contacts", "welded"))
ON_NC = SCHOOL.where(Landed("T-T cable B", "a", "relay.NC"))
CABLE_SHORT = SCHOOL.where(Bridged("short in the T-T cable", "boiler.T1", "boiler.T2", belongs="T-T cable"))
JUMPER_LEFT = SCHOOL.where(Bridged("jumper at T-T", "boiler.T1", "boiler.T2"))
SWAPPED_HE = SCHOOL.where(Exchanged("zone2.valve.H", "zone2.valve.E"))
SWAPPED_SE = SCHOOL.where(Exchanged("zone2.valve.S", "zone2.valve.E"))
SWAPPED_HS = SCHOOL.where(Exchanged("zone2.valve.H", "zone2.valve.S"))

# Four-wire end switches on a dry T-T.
OXIDE, OXIDE_MILD = (
    WORKSHOP.where(
        PartField("zone1.valve", "switch_ohms", ohms), PartField("zone1.valve", "dry_ohms", facts.OXIDE_DRY_OHMS.value)
    )
    for ohms in (OXIDE_OHMS, OXIDE_MILD_OHMS)
)
WORKSHOP_OPEN = WORKSHOP.where(PartField("zone1.valve", "switch", "open"))
WORKSHOP_WELDED = WORKSHOP.where(PartField("zone1.valve", "switch", "welded"))
LATE = WORKSHOP.where(Joint("R bus", "zone1", LANDING_OHMS))
QUITS = WORKSHOP.where(PartField("zone1.valve", "switch_opens_degC", QUITS_DEGC))
SERIES = WORKSHOP.where(Landed("zone1.EB leg", "b", "zone2.valve.EA"), Removed("zone2.EA leg"))
BOARD = WORKSHOP.where(PartField("boiler", "input", "board-sensed"))
FED_FROM_OUTSIDE = WORKSHOP.where(PartField("boiler", "input", "fed from outside"))

# T-T on a live pair, and two transformers.
LIVE_IN_PHASE = BUNGALOW.where(Landed("T-T cable E", "a", "R bus.fuse"), Landed("T-T cable S", "a", "E bus.T-T"))
LIVE_OPPOSED = BUNGALOW.where(Landed("T-T cable S", "a", "R bus.fuse"))
OPPOSED = PartField("transformer 2", "opposed", True)
REFERENCE = Bridged("reference", "transformer.C", "transformer 2.C", REFERENCE_OHMS)
PHASED = FARMHOUSE.where(REFERENCE)
PHASED_OPPOSED = FARMHOUSE.where(OPPOSED, REFERENCE)
UNPHASED_OPPOSED = FARMHOUSE.where(OPPOSED)
BACK_FED = FARMHOUSE.where(
    Bridged("tie of R", "R bus.fuse", "R bus 2.fuse"), Bridged("tie of C", "C bus.trunk", "C bus 2.trunk")
).after({"do": "switch", "part": "transformer 2", "on": False})


def opened(scene: Scene, *zones: int) -> Scene:
    """The scene once these zones, called one after the other, have been on call for long."""
    for zone in zones:
        scene = scene.calling(zone).waited(LONG_CALL)
    return scene


def jumpered(scene: Scene, first: str, second: str) -> Scene:
    """The scene with a jumper wire on."""
    return scene.after({"do": "jumper", "first": first, "second": second, "on": True})


def first_call(scene: Scene, seconds: float) -> World:
    """The scene's house in its very first call of zone 1, that many seconds on: before anything can have burnt.

    Somebody who arrives the day after finds what that first call has left.
    """
    changed = scene.house
    for change in scene.changes:
        changed = change.made(changed)
    state = called(changed, at_rest(changed), "zone1.stat", True)
    return World(scene.house, changed, waited(changed, state, seconds)[0])
