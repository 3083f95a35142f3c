"""The field topologies with relays between thermostats and valves: panels, pilot relays, priority for hot water."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace

from . import facts
from .drafting import ZERO, Draft, Zone, common, heater_side, return_side, supply, tagged, valve
from .parts import Boiler, Fuse, Relay, Splice, Stat, Transformer
from .topologies import contact_call, dry_call, switch_legs, switches
from .wiring import Installation, WiringError

__all__ = ["one_stat", "priority", "relay_panel"]


def relay_panel(
    name: str,
    zones: Sequence[Zone],
    *,
    transformer: Transformer = Transformer("transformer"),
    fuse: Fuse = Fuse("fuse"),
    relay: Relay = Relay("relay", poles=2),
    boiler: Boiler = Boiler("boiler"),
    trunk_ohms: float = ZERO,
    tt_ohms: float = ZERO,
) -> Installation:
    """A relay for each zone (TP7): the stat pulls it, one pole feeds the valve, the spare pole makes T-T.

    The stat's current is small, and travel of the valve is not proven. Raises WiringError as the builders do.
    """
    tags = tagged(zones, (2, 4))
    draft = Draft()
    supply(draft, [way for tag in tags for way in (tag, f"{tag} relay")], transformer, fuse)
    common(draft, [*(way for tag in tags for way in (tag, f"{tag} relay")), "trunk"], trunk_ohms)
    for letter in "AB":
        draft.bus(f"E{letter} bus", (*tags, "T-T"))
    joint = facts.SPLICE_OHMS.value
    for tag, zone in zip(tags, zones, strict=True):
        card, cable, feet = f"{tag}.relay", f"{tag} stat cable", zone.stat_cable_feet
        stat = replace(zone.stat, name=f"{tag}.stat")
        draft.add(Splice(f"{tag}.R splice"), stat, Splice(f"{tag}.W splice"))
        draft.add(replace(relay, name=card, poles=2))
        valve(draft, tag, zone)
        draft.wire(f"{tag}.R tail", f"R bus.{tag}", f"{tag}.R splice.1")
        draft.wire(
            f"{tag}.R leg", f"{tag}.R splice.2", stat.supply_terminal, zone.r_leg_ohms, others=joint, cable=cable, feet=feet
        )
        draft.wire(f"{tag}.W leg", f"{tag}.W splice.1", f"{tag}.stat.W", zone.w_leg_ohms, others=joint, cable=cable, feet=feet)
        draft.wire(f"{tag}.coil lead", f"{tag}.W splice.2", f"{card}.A1")
        draft.wire(f"{tag}.coil return", f"{card}.A2", f"C bus.{tag} relay")
        draft.wire(f"{tag}.feed", f"R bus.{tag} relay", f"{card}.COM1")
        draft.wire(f"{tag}.HA lead", f"{card}.NO1", f"{tag}.valve.HA")
        return_side(draft, tag, zone)
        if f"{tag}.stat.C" in stat.terminals:
            draft.wire(f"{tag}.C leg", f"C bus.{tag}", f"{tag}.stat.C", zone.w_leg_ohms, cable=cable, feet=feet)
        draft.wire(f"{tag}.EA leg", f"{card}.COM2", f"EA bus.{tag}")
        draft.wire(f"{tag}.EB leg", f"{card}.NO2", f"EB bus.{tag}")
    dry_call(draft, boiler, tt_ohms)
    return draft.done(name)


def one_stat(
    name: str,
    zone: Zone,
    more: Sequence[Zone],
    *,
    in_series: bool = False,
    transformer: Transformer = Transformer("transformer"),
    fuse: Fuse = Fuse("fuse"),
    boiler: Boiler = Boiler("boiler"),
    trunk_ohms: float = ZERO,
    tt_ohms: float = ZERO,
) -> Installation:
    """One stat for two valves or more (TP9): heaters in parallel on one W; end switches in parallel, or all in series.

    In parallel the boiler starts on the first valve that opens; in series, which is a choice within one stat's set, only
    when all are open. Valves after the first are 'zone1b', 'zone1c' and so on. Raises WiringError as the builders do.
    """
    if not more:
        raise WiringError("one stat for one valve is plain wiring; give the other valves of the set")
    tagged([zone, *more], (4,))
    draft = Draft()
    tags = ["zone1", *(f"zone1{letter}" for letter, _ in zip("bcdefghijklmnop", more, strict=False))]
    supply(draft, tags[:1], transformer, fuse)
    common(draft, (*tags, "trunk"), trunk_ohms)
    heater_side(draft, "zone1", zone)
    return_side(draft, "zone1", zone)
    for tag, extra in zip(tags[1:], more, strict=True):
        valve(draft, tag, extra)
        draft.wire(f"{tag}.HA lead", "zone1.W splice.2", f"{tag}.valve.HA", extra.e_leg_ohms)
        return_side(draft, tag, extra)
    zones = [zone, *more]
    if not in_series:
        switches(draft, tags, zones)
        for tag, each in zip(tags, zones, strict=True):
            switch_legs(draft, tag, each)
        dry_call(draft, boiler, tt_ohms)
        return draft.done(name)
    draft.add(replace(boiler, name="boiler"))
    for tag, after in itertools.pairwise(tags):
        draft.wire(f"{tag}.E link", f"{tag}.valve.EB", f"{after}.valve.EA")
    contact_call(draft, f"{tags[0]}.valve.EA", f"{tags[-1]}.valve.EB", tt_ohms)
    return draft.done(name)


def priority(
    name: str,
    zones: Sequence[Zone],
    *,
    tank: Stat = Stat("stat"),
    transformer: Transformer = Transformer("transformer"),
    fuse: Fuse = Fuse("fuse"),
    relay: Relay = Relay("relay"),
    boiler: Boiler = Boiler("boiler"),
    trunk_ohms: float = ZERO,
    tt_ohms: float = ZERO,
) -> Installation:
    """Priority for domestic hot water (TP10): while the tank's stat calls, a relay opens R to every zone.

    Seen from a zone this looks like all zones dead for as long as the tank heats. The tank's stat is 'tank.stat'.
    Raises WiringError as the builders do.
    """
    tags = tagged(zones, (4, 2))
    draft = Draft()
    source, link = replace(transformer, name="transformer"), replace(fuse, name="fuse")
    draft.add(source, link, replace(tank, name="tank.stat"), replace(relay, name="priority"))
    draft.bus("R joint", ("fuse", "tank", "zones"))
    draft.bus("R bus", ("fuse", *tags))
    draft.bus("C bus", (*tags, "priority", "trunk"))
    draft.wire("R feed", "transformer.R", "fuse.in")
    draft.wire("R joint feed", "fuse.out", "R joint.fuse")
    draft.wire("tank R", "R joint.tank", "tank.stat.R")
    draft.wire("tank W", "tank.stat.W", "priority.A1")
    draft.wire("priority return", "priority.A2", "C bus.priority")
    draft.wire("zones feed", "R joint.zones", "priority.COM")
    draft.wire("R bus feed", "priority.NC", "R bus.fuse")
    draft.wire("C trunk", "C bus.trunk", "transformer.C", trunk_ohms, others=ZERO)
    switches(draft, tags, zones)
    for tag, zone in zip(tags, zones, strict=True):
        heater_side(draft, tag, zone)
        return_side(draft, tag, zone)
        switch_legs(draft, tag, zone)
    dry_call(draft, boiler, tt_ohms)
    return draft.done(name)
