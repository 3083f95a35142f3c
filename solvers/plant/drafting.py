"""What the builders of topologies share: a drawing board for parts and conductors, and the pieces every house has."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from . import facts
from .parts import Fuse, Loop, Part, Splice, Stat, Transformer, Valve
from .wiring import Conductor, Installation, WiringError

__all__ = ["MOST_ZONES", "ZERO", "Draft", "Zone", "common", "heater_side", "return_side", "supply", "tagged"]

ZERO = facts.ZERO_OHMS.value
MOST_ZONES = 16


@dataclass(frozen=True, slots=True)
class Zone:
    """One zone's sizes. The R and W legs include the splice that each of them holds."""

    valve: Valve  # its name is given by the builder
    stat: Stat = field(default_factory=lambda: Stat("stat"))
    r_leg_ohms: float = 0.32
    w_leg_ohms: float = 0.32
    return_ohms: float = ZERO  # valve to C bus, its joints included
    e_leg_ohms: float = ZERO  # end switch to its bus, each lead
    stat_cable_feet: float = 50.0
    valve_cable_feet: float = 0.0


@dataclass(slots=True)
class Draft:
    """Parts and conductors as they are put on the board; `done` makes the installation of them."""

    parts: list[Part] = field(default_factory=list)
    wires: list[Conductor] = field(default_factory=list)

    def add(self, *parts: Part) -> None:
        """Put parts on the board."""
        self.parts.extend(parts)

    def bus(self, name: str, ways: Sequence[str]) -> None:
        """Put a splice of many ways on the board."""
        self.add(Splice(name, tuple(ways), (ZERO / 2,) * len(ways)))

    def wire(
        self, name: str, a: str, b: str, total: float = ZERO, *, others: float = 0.0, cable: str = "", feet: float = 0.0
    ) -> None:
        """Join two terminals, so that the leg comes to its total once the other joints in it are counted."""
        self.wires.append(Conductor(name, a, b, max(total - others, ZERO / 10), cable, feet))

    def done(self, name: str) -> Installation:
        """The installation as drawn; raises WiringError for what cannot be."""
        return Installation(name, tuple(self.parts), tuple(self.wires))


def tagged(zones: Sequence[Zone], leads: Sequence[int], first: int = 1) -> list[str]:
    """'zone1', 'zone2' and so on; raises WiringError for too few, too many, or valves that do not fit the wiring."""
    if not 1 <= len(zones) <= MOST_ZONES:
        raise WiringError(f"{len(zones)} zones; an installation here has 1 to {MOST_ZONES}")
    for number, zone in enumerate(zones, first):
        if zone.valve.leads not in leads:
            wanted = " or ".join(str(count) for count in leads)
            raise WiringError(f"zone {number} has a valve with {zone.valve.leads} leads; this wiring takes {wanted}")
    return [f"zone{number}" for number in range(first, first + len(zones))]


def supply(draft: Draft, ways: Sequence[str], transformer: Transformer, fuse: Fuse, tag: str = "") -> None:
    """Transformer, fuse and R bus; a second source has a tag of its own."""
    source, link, bus = (f"{word}{tag}" for word in ("transformer", "fuse", "R bus"))
    draft.add(replace(transformer, name=source), replace(fuse, name=link))
    draft.bus(bus, ("fuse", *ways))
    draft.wire(f"R{tag} feed", f"{source}.R", f"{link}.in")
    draft.wire(f"{bus} feed", f"{link}.out", f"{bus}.fuse")


def common(draft: Draft, ways: Sequence[str], trunk_ohms: float, mark: str = "") -> None:
    """The C bus, of which one way is the trunk, and the trunk to its transformer's C."""
    draft.bus(f"C bus{mark}", ways)
    draft.wire(f"C trunk{mark}", f"C bus{mark}.trunk", f"transformer{mark}.C", trunk_ohms, others=ZERO)


def heater_side(draft: Draft, tag: str, zone: Zone, r_bus: str = "R bus", c_bus: str = "C bus") -> None:
    """From the R bus through splice, stat and splice to the valve's first lead; a stat with a C terminal gets its C."""
    joint, cable, feet = facts.SPLICE_OHMS.value, f"{tag} stat cable", zone.stat_cable_feet
    stat = replace(zone.stat, name=f"{tag}.stat")
    draft.add(Splice(f"{tag}.R splice"), stat, Splice(f"{tag}.W splice"))
    valve(draft, tag, zone)
    draft.wire(f"{tag}.R tail", f"{r_bus}.{tag}", f"{tag}.R splice.1")
    draft.wire(
        f"{tag}.R leg",
        f"{tag}.R splice.2",
        stat.supply_terminal,
        zone.r_leg_ohms,
        others=joint + 2 * ZERO,
        cable=cable,
        feet=feet,
    )
    draft.wire(f"{tag}.W leg", f"{tag}.W splice.1", f"{tag}.stat.W", zone.w_leg_ohms, others=joint + ZERO, cable=cable, feet=feet)
    first = zone.valve.LEADS[zone.valve.leads][0]
    draft.wire(f"{tag}.{first} lead", f"{tag}.W splice.2", f"{tag}.valve.{first}")
    if f"{tag}.stat.C" in stat.terminals:
        draft.wire(f"{tag}.C leg", f"{c_bus}.{tag}", f"{tag}.stat.C", zone.w_leg_ohms, cable=cable, feet=feet)


def valve(draft: Draft, tag: str, zone: Zone) -> None:
    """A zone's valve and the loop behind it."""
    draft.add(
        replace(zone.valve, name=f"{tag}.valve"),
        Loop(f"{tag}.loop", valve=f"{tag}.valve", ambient_degC=zone.valve.ambient_degC),
    )


def return_side(draft: Draft, tag: str, zone: Zone, c_bus: str = "C bus") -> None:
    """From the valve's second lead through its splice to the C bus, for valves that share no lead."""
    draft.add(Splice(f"{tag}.C splice"))
    draft.wire(f"{tag}.HB lead", f"{tag}.valve.HB", f"{tag}.C splice.1")
    joint = ZERO + facts.SPLICE_OHMS.value
    draft.wire(f"{tag}.return", f"{tag}.C splice.2", f"{c_bus}.{tag}", zone.return_ohms, others=joint)
