"""The house that the chapter's page talks about, in each condition the page needs; read with the bench's own acts."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from ..circuit import OPEN
from ..faults.changes import Change, Exchanged, Joint, PartField
from ..jobs.acts import Outcome, World, acted, arrival
from ..plant.demos import bungalow
from ..plant.running import waited
from ..plant.wiring import Installation

__all__ = [
    "BAD_JOINT",
    "BAD_JOINT_OHMS",
    "BLOWN_FUSE",
    "COLD_AIR_DEGC",
    "CROSSED_LEADS",
    "DEAD_FEED",
    "HEALTHY",
    "HOT_AIR_DEGC",
    "HOUSE",
    "LONGEST_WAIT",
    "LOST_STROKE",
    "OPENER_LEFT",
    "OPEN_HEATER",
    "OPEN_RETURN",
    "Scene",
    "joint_of",
]

BAD_JOINT_OHMS = 8.0
COLD_AIR_DEGC = 5.0
HOT_AIR_DEGC = 40.0
LONGEST_WAIT = 3600.0  # s; a valve that has not clicked by then never will

HOUSE = bungalow()


@dataclass(frozen=True, slots=True)
class Scene:
    """A house with something changed in it, and what has been done since somebody arrived."""

    changes: tuple[Change, ...] = ()
    acts: tuple[tuple[tuple[str, object], ...], ...] = ()  # each act's items, so that a scene can be a key
    house: Installation = HOUSE

    def where(self, *changes: Change) -> Scene:
        """The same scene in a house that differs in these ways as well."""
        return replace(self, changes=self.changes + changes)

    def after(self, act: Mapping[str, object]) -> Scene:
        """The same scene one act later."""
        return replace(self, acts=(*self.acts, tuple(act.items())))

    def calling(self, *zones: int, on: bool = True) -> Scene:
        """The same scene after these stats have been turned up, or down."""
        scene = self
        for zone in zones:
            scene = scene.after({"do": "call", "stat": f"zone{zone}.stat", "on": on})
        return scene

    def waited(self, seconds: float) -> Scene:
        """The same scene so much later."""
        return self.after({"do": "wait", "seconds": seconds})

    def dead(self) -> Scene:
        """The same scene after the transformer has been switched off."""
        return self.after({"do": "switch", "part": "transformer", "on": False})

    def lifted(self, terminal: str) -> Scene:
        """The same scene after a lead has been lifted."""
        return self.after({"do": "lift", "terminal": terminal})

    def in_air(self, degC: float) -> Scene:
        """The same scene where the air at valve 1 is so warm."""
        return self.where(PartField("zone1.valve", "ambient_degC", degC))

    def world(self) -> World:
        """What stands there now."""
        return _gone_through(self)[0]

    def told(self) -> Outcome:
        """What the last act showed."""
        return _gone_through(self)[1]

    def shown(self, act: Mapping[str, object]) -> Outcome:
        """What one more act shows."""
        return self.after(act).told()

    def volts(self, first: str, second: str, function: str = "volts") -> float:
        """Volts that the meter shows between two test points."""
        return self.shown({"do": "measure", "function": function, "first": first, "second": second}).reading.value

    def heater_volts(self) -> float:
        """Volts that the meter shows across heater 1."""
        return self.volts("zone1.valve.H", "zone1.valve.S")

    def amps(self, turns: int = 10) -> float:
        """Amperes in the W leg of zone 1, by a clamp with so many turns, each counted once."""
        return self.shown({"do": "clamp", "wire": "zone1.W leg", "turns": turns}).reading.value

    def seconds_to(self, event: str, waiting: float = LONGEST_WAIT) -> float:
        """Seconds from now until somebody hears the event; inf if they never do."""
        now = self.world().state.time
        return next((time - now for time, words in self.waited(waiting).told().events if words == event), math.inf)

    def seconds_to_click(self) -> float:
        """Seconds from now until the end switch of valve 1 makes or opens; inf if it never does."""
        return self.seconds_to("valve 1 clicks")

    def seconds_to_shut(self) -> float:
        """Seconds from now until valve 1 lets no more water through; inf if it never shuts."""
        world = self.world()
        _, events = waited(world.installation, world.state, LONGEST_WAIT)
        return next((event.time - world.state.time for event in events if event.name == "zone1.valve is shut"), math.inf)


def joint_of(ohms: float) -> Scene:
    """The house with a W joint of so many ohms in zone 1."""
    return Scene((Joint("zone1.W splice", "2", ohms),))


HEALTHY = Scene()
BAD_JOINT = joint_of(BAD_JOINT_OHMS)
BLOWN_FUSE = Scene((PartField("fuse", "blown", True),))
CROSSED_LEADS = Scene((Exchanged("zone1.valve.S", "zone1.valve.E"),))
DEAD_FEED = joint_of(OPEN)
LOST_STROKE = Scene((PartField("zone1.valve", "charge", 0.0),))
OPENER_LEFT = Scene((PartField("zone1.valve", "engaged", True),))
OPEN_HEATER = Scene((PartField("zone1.valve", "heater_ohms", OPEN),))
OPEN_RETURN = Scene((Joint("C bus", "zone1", OPEN),))


@lru_cache(maxsize=512)
def _gone_through(scene: Scene) -> tuple[World, Outcome]:
    """Where a scene ends, and what its last act showed. An earlier scene's run is used again."""
    if not scene.acts:
        changed = scene.house
        for change in scene.changes:
            changed = change.made(changed)
        return arrival(scene.house, changed), Outcome("")
    world, _ = _gone_through(replace(scene, acts=scene.acts[:-1]))
    return acted(world, dict(scene.acts[-1]))
