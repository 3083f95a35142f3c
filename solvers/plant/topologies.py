"""The field topologies as builders: sizes in, an installation out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from . import facts
from .parts import Boiler, Fuse, HeatMotorValve, Loop, Part, Splice, Stat, Transformer
from .wiring import Conductor, Installation, WiringError

__all__ = ["Zone", "four_wire", "three_wire_direct"]

ZERO = facts.ZERO_OHMS.value


@dataclass(frozen=True, slots=True)
class Zone:
    """One zone's sizes. The R and W legs include the splice that each of them holds."""

    valve: HeatMotorValve  # its name is given by the builder
    stat: Stat = field(default_factory=lambda: Stat("stat"))
    r_leg_ohms: float = 0.32
    w_leg_ohms: float = 0.32
    return_ohms: float = ZERO  # valve to C bus, its joints included
    e_leg_ohms: float = ZERO  # end switch to its bus, each lead
    stat_cable_feet: float = 50.0
    valve_cable_feet: float = 0.0


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

    The two circuits share no conductor. Raises WiringError for no zones or a valve with other leads.
    """
    tags = _checked(zones, 4)
    parts, wires = _supply(tags, transformer, fuse)
    parts += [Splice("C bus", (*tags, "trunk"), (ZERO / 2,) * (len(tags) + 1))]
    wires += [_wire("C trunk", "C bus.trunk", "transformer.C", trunk_ohms, ZERO)]
    for letter in "AB":
        parts.append(Splice(f"E{letter} bus", (*tags, "T-T"), (ZERO / 2,) * (len(tags) + 1)))
    for tag, zone in zip(tags, zones, strict=True):
        zone_parts, zone_wires = _heater_side(tag, zone, "HA")
        cable, feet = f"{tag} valve cable", zone.valve_cable_feet
        parts += [*zone_parts, Splice(f"{tag}.C splice")]
        wires += [
            *zone_wires,
            _wire(f"{tag}.HB lead", f"{tag}.valve.HB", f"{tag}.C splice.1", ZERO, 0),
            _wire(f"{tag}.return", f"{tag}.C splice.2", f"C bus.{tag}", zone.return_ohms, ZERO + facts.SPLICE_OHMS.value),
            _wire(f"{tag}.EA leg", f"{tag}.valve.EA", f"EA bus.{tag}", zone.e_leg_ohms, ZERO, cable, feet),
            _wire(f"{tag}.EB leg", f"{tag}.valve.EB", f"EB bus.{tag}", zone.e_leg_ohms, ZERO, cable, feet),
        ]
    parts.append(replace(boiler, name="boiler"))
    wires += [
        _wire("T-T cable A", "EA bus.T-T", "boiler.T1", tt_ohms, ZERO, "T-T cable", 20.0),
        _wire("T-T cable B", "EB bus.T-T", "boiler.T2", tt_ohms, ZERO, "T-T cable", 20.0),
    ]
    return Installation(name, tuple(parts), tuple(wires))


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
    Raises WiringError for no zones or a valve with other leads.
    """
    tags = _checked(zones, 3)
    parts, wires = _supply(tags, transformer, fuse)
    parts += [
        Splice("C bus", (*tags, "trunk", "T-T"), (ZERO / 2,) * (len(tags) + 2)),
        Splice("E bus", (*tags, "T-T"), (ZERO / 2,) * (len(tags) + 1)),
    ]
    wires += [_wire("C trunk", "C bus.trunk", "transformer.C", trunk_ohms, ZERO)]
    for tag, zone in zip(tags, zones, strict=True):
        zone_parts, zone_wires = _heater_side(tag, zone, "H")
        parts += zone_parts
        wires += [
            *zone_wires,
            _wire(f"{tag}.S lead", f"{tag}.valve.S", f"C bus.{tag}", zone.return_ohms, ZERO),
            _wire(f"{tag}.E lead", f"{tag}.valve.E", f"E bus.{tag}", zone.e_leg_ohms, ZERO),
        ]
    parts.append(replace(boiler, name="boiler"))
    wires += [
        _wire("T-T cable E", "E bus.T-T", "boiler.T1", tt_ohms, ZERO, "T-T cable", 20.0),
        _wire("T-T cable S", "C bus.T-T", "boiler.T2", tt_ohms, ZERO, "T-T cable", 20.0),
    ]
    return Installation(name, tuple(parts), tuple(wires))


def _checked(zones: Sequence[Zone], leads: int) -> list[str]:
    if not zones:
        raise WiringError("an installation needs at least one zone")
    for number, zone in enumerate(zones, 1):
        if zone.valve.leads != leads:
            raise WiringError(f"zone {number} has a valve with {zone.valve.leads} leads; this wiring takes {leads}")
    return [f"zone{number}" for number in range(1, len(zones) + 1)]


def _supply(tags: list[str], transformer: Transformer, fuse: Fuse) -> tuple[list[Part], list[Conductor]]:
    parts: list[Part] = [
        replace(transformer, name="transformer"),
        replace(fuse, name="fuse"),
        Splice("R bus", ("fuse", *tags), (ZERO / 2,) * (len(tags) + 1)),
    ]
    wires = [_wire("R feed", "transformer.R", "fuse.in", ZERO, 0), _wire("R bus feed", "fuse.out", "R bus.fuse", ZERO, 0)]
    return parts, wires


def _heater_side(tag: str, zone: Zone, heater_lead: str) -> tuple[list[Part], list[Conductor]]:
    """From the R bus through splice, stat and splice to the valve's heater lead."""
    joint, cable, feet = facts.SPLICE_OHMS.value, f"{tag} stat cable", zone.stat_cable_feet
    parts: list[Part] = [
        Splice(f"{tag}.R splice"),
        replace(zone.stat, name=f"{tag}.stat"),
        Splice(f"{tag}.W splice"),
        replace(zone.valve, name=f"{tag}.valve"),
        Loop(f"{tag}.loop", valve=f"{tag}.valve", ambient_degC=zone.valve.ambient_degC),
    ]
    wires = [
        _wire(f"{tag}.R tail", f"R bus.{tag}", f"{tag}.R splice.1", ZERO, 0),
        _wire(f"{tag}.R leg", f"{tag}.R splice.2", f"{tag}.stat.R", zone.r_leg_ohms, joint + 2 * ZERO, cable, feet),
        _wire(f"{tag}.W leg", f"{tag}.W splice.1", f"{tag}.stat.W", zone.w_leg_ohms, joint + ZERO, cable, feet),
        _wire(f"{tag}.{heater_lead} lead", f"{tag}.W splice.2", f"{tag}.valve.{heater_lead}", ZERO, 0),
    ]
    return parts, wires


def _wire(name: str, a: str, b: str, total: float, others: float, cable: str = "", feet: float = 0.0) -> Conductor:
    """A conductor that makes a leg come to its total once the joints in the leg are counted."""
    return Conductor(name, a, b, max(total - others, ZERO / 10), cable, feet)
