"""The light beside the boiler, and its switch: what a transformer's feed should not hang on."""

from __future__ import annotations

from dataclasses import dataclass, replace

from .part import Part
from .wiring import Installation

__all__ = ["LIGHT_SWITCH", "LightSwitch", "LightSwitchState", "lit"]

LIGHT_SWITCH = "light switch"
"""The name of the switch that `lit` adds."""


@dataclass(frozen=True, slots=True)
class LightSwitchState:
    """How the switch stands."""

    on: bool = True


@dataclass(frozen=True, slots=True)
class LightSwitch(Part):
    """The switch of a light. A transformer whose feed hangs on it is dead in the dark."""

    on: bool = True  # as found

    def initial(self) -> LightSwitchState:
        return LightSwitchState(self.on)


def lit(installation: Installation) -> Installation:
    """The same installation in a room with a light that anybody may switch, and that should feed nothing else."""
    return replace(installation, parts=(*installation.parts, LightSwitch(LIGHT_SWITCH)))
