"""The houses that the page on multi-zone service calls talks about, in each condition it needs. All are invented."""

from __future__ import annotations

from ..circuit import OPEN
from ..faults.changes import Bridged, Exchanged, Joint, PartField, Split
from ..plant import facts
from ..plant.demo_calls import boathouse, farmhouse, lodge
from .heater_loop_house import Scene

__all__ = [
    "BAD_TRUNK",
    "COLD_DEGC",
    "CROSSED",
    "C_CHAIN",
    "C_TRUNK_OPEN",
    "FARMHOUSE",
    "IN_PHASE",
    "LOST",
    "LOST_IN_PHASE",
    "LOST_MOTOR",
    "OVERLOADED",
    "ROOMY",
    "R_CHAIN",
    "SECOND_DEAD",
    "SHARED",
    "SIX",
    "SOUND",
    "THICK_TRUNK",
    "THIN_TRUNK",
    "THIN_TRUNK_OHMS",
    "TIED",
    "TRUNK_FEET",
    "all_in_air",
    "calling_first",
]

COLD_DEGC = 5.0
JOINT_OHMS = 4.0
TRUNK_FEET = 80.0
THIN_TRUNK_OHMS = TRUNK_FEET * facts.COPPER_OHMS_PER_KFT[22] / 1000
THICK_TRUNK_OHMS = TRUNK_FEET * facts.COPPER_OHMS_PER_KFT[14] / 1000

FARMHOUSE = Scene(house=farmhouse())
SECOND_DEAD = FARMHOUSE.where(PartField("transformer 2", "primary_open", True))

SIX = Scene(house=lodge(6, 40.0))

# Four equal zones: on the size that carries them, and in each condition that many zones can have in common.
SOUND = Scene(house=lodge(4, 75.0))
ROOMY = Scene(house=lodge(4, 100.0))
OVERLOADED = Scene(house=lodge(4, 40.0))
BAD_TRUNK = SOUND.where(Joint("C bus", "trunk", JOINT_OHMS))
C_TRUNK_OPEN = SOUND.where(Joint("C bus", "trunk", OPEN))
C_CHAIN = SOUND.where(Split("C bus", "zone3"))
R_CHAIN = SOUND.where(Split("R bus", "zone3"))
CROSSED = SOUND.where(Exchanged("zone1.W splice.1", "zone2.W splice.1"))
TIED = SOUND.where(Bridged("wire between two W", "zone1.W splice.2", "zone2.W splice.2"))
THIN_TRUNK = Scene(house=lodge(4, 75.0, THIN_TRUNK_OHMS))
THICK_TRUNK = Scene(house=lodge(4, 75.0, THICK_TRUNK_OHMS))

# Two transformers that share one return.
SHARED = Scene(house=boathouse())
IN_PHASE = Scene(house=boathouse(opposed=False))
LOST = SHARED.where(Joint("C joint", "trunk", OPEN))
LOST_IN_PHASE = IN_PHASE.where(Joint("C joint", "trunk", OPEN))
LOST_MOTOR = LOST.calling(1, 3)


def calling_first(scene: Scene, count: int) -> Scene:
    """The scene with its first so many zones on call."""
    return scene.calling(*range(1, count + 1))


def all_in_air(scene: Scene, zones: int, degC: float) -> Scene:
    """The scene where the air is so warm at each of so many valves."""
    return scene.where(*(PartField(f"zone{zone}.valve", "ambient_degC", degC) for zone in range(1, zones + 1)))
