"""The meter on the plant: probes that carry current are one more branch, and whatever answers at once answers to them."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..circuit import Branch
from .part import Part, PartState
from .running import PlantState, waited
from .wiring import Installation

__all__ = ["Probed", "Probes", "probed"]


@dataclass(frozen=True, slots=True)
class Probes(Part):
    """Two probes on any two points, with the input resistance of the meter's function between them."""

    first: str
    second: str
    ohms: float

    def branches(self, state: PartState, hz: float) -> tuple[Branch, ...]:
        return (Branch(self.name, self.first, self.second, self.ohms),)


@dataclass(frozen=True, slots=True)
class Probed:
    """The plant while the probes were on, at the end of that time, and once they are off again."""

    on: PlantState
    off: PlantState


def probed(installation: Installation, state: PlantState, first: str, second: str, ohms: float, seconds: float = 0.0) -> Probed:
    """Put a meter of so many ohms across two points for so long and take it off: relays, inputs and fuses answer.

    With no seconds only what answers at once does: a call may begin, a relay drop. Raises what the plant raises.
    """
    probes = Probes("probes", first, second, ohms)
    with_probes = replace(installation, parts=(*installation.parts, probes))
    begun = replace(state, parts={**state.parts, probes.name: probes.initial()})
    held, _ = waited(with_probes, begun, seconds)
    on = replace(held, parts={name: held.parts[name] for name in state.parts})
    off, _ = waited(installation, on, 0.0)
    return Probed(on, off)
