"""The field topologies with one source of heat control each: sizes in, an installation out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from .drafting import ZERO, Draft, Zone, common, heater_side, return_side, supply, tagged
from .parts import Boiler, Fuse, Relay, Transformer
from .wiring import Installation

__all__ = [
    "Zone",
    "contact_call",
    "dry_call",
    "four_wire",
    "shared_side",
    "switch_legs",
    "switches",
    "three_wire_direct",
    "three_wire_relay",
    "two_wire",
]

TT_FEET = 20.0


def two_wire(
    name: str,
    zones: Sequence[Zone],
    *,
    transformer: Transformer = Transformer("transformer"),
    fuse: Fuse = Fuse("fuse"),
    boiler: Boiler = Boiler("boiler", keeps_hot=True),
    trunk_ohms: float = ZERO,
) -> Installation:
    """Two-wire valves without end switches (TP1): nothing tells the boiler that a zone is open, so it keeps hot.

    Raises WiringError for too few or too many zones, or a valve with other leads.
    """
    tags = tagged(zones, (2,))
    draft = Draft()
    supply(draft, tags, transformer, fuse)
    common(draft, (*tags, "trunk"), trunk_ohms)
    for tag, zone in zip(tags, zones, strict=True):
        heater_side(draft, tag, zone)
        return_side(draft, tag, zone)
    draft.add(replace(boiler, name="boiler"))
    return draft.done(name)


def four_wire(
    name: str,
    zones: Sequence[Zone],
    *,
    transformer: Transformer = Transformer("transformer"),
    fuse: Fuse = Fuse("fuse"),
    boiler: Boiler = Boiler("boiler"),
    trunk_ohms: float = ZERO,
    tt_ohms: float = ZERO,
) -> Installation:
    """Four-wire valves (TP2): heater loops on the zone transformer, end switches paralleled to a dry T-T.

    The two circuits share no conductor. Valves of different kinds may be mixed (TP8), and a two-wire one added that has
    no switch to give. Raises WiringError for too few or too many zones, or a valve with other leads.
    """
    tags = tagged(zones, (4, 2))
    draft = Draft()
    supply(draft, tags, transformer, fuse)
    common(draft, (*tags, "trunk"), trunk_ohms)
    switches(draft, tags, zones)
    for tag, zone in zip(tags, zones, strict=True):
        heater_side(draft, tag, zone)
        return_side(draft, tag, zone)
        switch_legs(draft, tag, zone)
    dry_call(draft, boiler, tt_ohms)
    return draft.done(name)


def three_wire_direct(
    name: str,
    zones: Sequence[Zone],
    *,
    transformer: Transformer = Transformer("transformer"),
    fuse: Fuse = Fuse("fuse"),
    boiler: Boiler = Boiler("boiler"),
    trunk_ohms: float = ZERO,
    tt_ohms: float = ZERO,
) -> Installation:
    """Three-wire valves with shared commons spliced and T-T fed directly (TP3), the commonest field wiring.

    The valve transformer and the boiler's own supply meet at exactly one point, the C bus.
    Raises WiringError for too few or too many zones, or a valve with other leads.
    """
    tags = tagged(zones, (3,))
    draft = Draft()
    supply(draft, tags, transformer, fuse)
    common(draft, (*tags, "trunk", "T-T"), trunk_ohms)
    draft.bus("E bus", (*tags, "T-T"))
    for tag, zone in zip(tags, zones, strict=True):
        heater_side(draft, tag, zone)
        shared_side(draft, tag, zone)
    draft.add(replace(boiler, name="boiler"))
    draft.wire("T-T cable E", "E bus.T-T", "boiler.T1", tt_ohms, others=ZERO, cable="T-T cable", feet=TT_FEET)
    draft.wire("T-T cable S", "C bus.T-T", "boiler.T2", tt_ohms, others=ZERO, cable="T-T cable", feet=TT_FEET)
    return draft.done(name)


def three_wire_relay(
    name: str,
    zones: Sequence[Zone],
    *,
    transformer: Transformer = Transformer("transformer"),
    fuse: Fuse = Fuse("fuse"),
    relay: Relay = Relay("relay"),
    boiler: Boiler = Boiler("boiler"),
    trunk_ohms: float = ZERO,
    tt_ohms: float = ZERO,
) -> Installation:
    """Three-wire valves with an isolation relay (TP4): its coil from R to the E bus, its NO contact to a dry T-T.

    Raises WiringError for too few or too many zones, or a valve with other leads.
    """
    tags = tagged(zones, (3,))
    draft = Draft()
    supply(draft, (*tags, "relay"), transformer, fuse)
    common(draft, (*tags, "trunk"), trunk_ohms)
    draft.bus("E bus", (*tags, "relay"))
    for tag, zone in zip(tags, zones, strict=True):
        heater_side(draft, tag, zone)
        shared_side(draft, tag, zone)
    draft.add(replace(relay, name="relay"), replace(boiler, name="boiler"))
    draft.wire("relay R", "R bus.relay", "relay.A1")
    draft.wire("relay E", "E bus.relay", "relay.A2")
    contact_call(draft, "relay.COM", "relay.NO", tt_ohms)
    return draft.done(name)


def switches(draft: Draft, tags: Sequence[str], zones: Sequence[Zone]) -> None:
    """The two buses on which end switches are paralleled."""
    having = [tag for tag, zone in zip(tags, zones, strict=True) if zone.valve.leads == 4]
    for letter in "AB":
        draft.bus(f"E{letter} bus", (*having, "T-T"))


def switch_legs(draft: Draft, tag: str, zone: Zone) -> None:
    """A four-wire valve's end switch to the buses."""
    if zone.valve.leads != 4:
        return
    cable, feet = f"{tag} valve cable", zone.valve_cable_feet
    for letter in "AB":
        name, a, b = f"{tag}.E{letter} leg", f"{tag}.valve.E{letter}", f"E{letter} bus.{tag}"
        draft.wire(name, a, b, zone.e_leg_ohms, others=ZERO, cable=cable, feet=feet)


def shared_side(draft: Draft, tag: str, zone: Zone, c_bus: str = "C bus") -> None:
    """A three-wire valve's shared lead to the C bus and its switch lead to the E bus."""
    draft.wire(f"{tag}.S lead", f"{tag}.valve.S", f"{c_bus}.{tag}", zone.return_ohms, others=ZERO)
    draft.wire(f"{tag}.E lead", f"{tag}.valve.E", f"E bus.{tag}", zone.e_leg_ohms, others=ZERO)


def dry_call(draft: Draft, boiler: Boiler, tt_ohms: float) -> None:
    """The boiler, called by the paralleled end switches."""
    draft.add(replace(boiler, name="boiler"))
    draft.wire("T-T cable A", "EA bus.T-T", "boiler.T1", tt_ohms, others=ZERO, cable="T-T cable", feet=TT_FEET)
    draft.wire("T-T cable B", "EB bus.T-T", "boiler.T2", tt_ohms, others=ZERO, cable="T-T cable", feet=TT_FEET)


def contact_call(draft: Draft, common: str, normally_open: str, tt_ohms: float) -> None:
    """The boiler's T-T made by a relay's contact."""
    draft.wire("T-T cable A", common, "boiler.T1", tt_ohms, cable="T-T cable", feet=TT_FEET)
    draft.wire("T-T cable B", normally_open, "boiler.T2", tt_ohms, cable="T-T cable", feet=TT_FEET)
