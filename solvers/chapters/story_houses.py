"""The houses of the stories, with fixed sizes: reference values of the trade, from memory; common practice, no source."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from ..faults.changes import Exchanged
from ..plant.parts import Boiler, Fuse, HeatMotorValve, Relay, SpringReturnValve, Stat, Transformer, Valve
from ..plant.thermostats import BatteryStat, CPoweredStat
from ..plant.topologies import Zone, four_wire, three_wire_direct, three_wire_relay
from ..plant.two_sources import separate_commons, shared_return
from ..plant.wiring import Installation

__all__ = ["STORY_HOUSES"]

_FORTY = Transformer("transformer", emf=27.5, ohms=2.1, dc_ohms=0.9)
_SEVENTY_FIVE = Transformer("transformer", emf=27.0, ohms=0.96, dc_ohms=0.45, va=75.0)
_FUSE = Fuse("fuse", 3.0, 0.001)  # the trade reckons these without its ohms
_BOILER = Boiler("boiler", emf=26.0, ohms=2.0, input_ohms=120.0)
_COMMON = {"fuse": _FUSE, "boiler": _BOILER}
_OLD_SWITCH = 0.1  # ohm


def _head(leads: int = 4, *, heater: float = 30.0, ambient: float = 20.0, opener: str = "by itself") -> HeatMotorValve:
    return HeatMotorValve(
        "valve",
        leads=leads,
        heater_ohms=heater,
        switch_ohms=_OLD_SWITCH,
        ambient_degC=ambient,
        wax_resistance=6.0,
        wax_tau=110.0,
        end_degC=90.0,
        opener=opener,
    )


def _zone(valve: Valve | None = None, stat: Stat = Stat("stat", 0.05), feet: float = 50.0, leg: float = 0.32) -> Zone:
    head = valve or _head()
    return Zone(head, stat, r_leg_ohms=leg, w_leg_ohms=leg, return_ohms=0.001, e_leg_ohms=0.001, stat_cable_feet=feet)


def _upstairs_cold() -> Installation:
    house = four_wire("two storeys", [_zone(), _zone(feet=60.0)], transformer=_FORTY, **_COMMON)
    return Exchanged("zone2.valve.HA", "zone2.valve.HB").made(house)


def _never_rests() -> Installation:
    zones = [_zone(), _zone(), _zone(_head(opener="by hand, makes the switch"))]
    return four_wire("bungalow", zones, transformer=_SEVENTY_FIVE, **_COMMON)


def _own_thermostat() -> Installation:
    return four_wire("ranch house", [_zone(stat=CPoweredStat("stat", 0.05))], transformer=_FORTY, **_COMMON)


def _coldest_mornings() -> Installation:
    return four_wire("long house", [_zone(), _zone(), _zone()], transformer=_SEVENTY_FIVE, **_COMMON)


def _with_relay(slowest: float = 30.0) -> Installation:
    """The second heater may have more ohms, so that its end switch makes later than its neighbour's opens again."""
    zones = [_zone(_head(3)), _zone(_head(3, heater=slowest)), _zone(_head(3))]
    return three_wire_relay("house with a relay", zones, transformer=_SEVENTY_FIVE, relay=Relay("relay"), **_COMMON)


def _faint_screen() -> Installation:
    zone = _zone(_head(opener="by hand, makes the switch"), BatteryStat("stat", 0.05))
    return four_wire("flat", [zone], transformer=_FORTY, **_COMMON)


def _over_the_garage() -> Installation:
    """The valve of the second zone stands in a crawlspace."""
    zones = [_zone(), _zone(_head(ambient=4.0), feet=120.0, leg=120 * 6.385 / 1000)]
    return four_wire("house with a garage", zones, transformer=_FORTY, **_COMMON)


def _stone_cold() -> Installation:
    return four_wire("two floors", [_zone(), _zone()], transformer=_FORTY, **_COMMON)


def _six_zones() -> Installation:
    """Three zones on each of two transformers, as the drawing has it."""
    half = replace(_SEVENTY_FIVE, protection="one-shot")
    groups = [[_zone() for _ in range(3)] for _ in range(2)]
    return separate_commons("house with a wing", *groups, transformers=(half, half), fuses=(_FUSE, _FUSE), boiler=_BOILER)


def _lukewarm() -> Installation:
    taps = replace(_FORTY, taps=(120.0, 208.0, 240.0))
    zones = [_zone(), _zone(stat=CPoweredStat("stat", 0.05))]
    return four_wire("terrace", zones, transformer=taps, **_COMMON)


def _only_together() -> Installation:
    """A heat motor on the first transformer and a motor-driven valve on the second, which stands opposed."""
    motor = SpringReturnValve("valve", 4, switch_ohms=_OLD_SWITCH)
    pair = {"transformers": (_FORTY, _FORTY), "fuses": (_FUSE, _FUSE)}
    return shared_return("practice with a sunroom", [_zone()], [_zone(motor)], **pair, boiler=_BOILER, opposed=True)


def _new_boiler() -> Installation:
    return three_wire_direct("house with a new boiler", [_zone(_head(3)), _zone(_head(3))], transformer=_FORTY, **_COMMON)


def _cold_at_five() -> Installation:
    house = four_wire("cottage", [_zone(stat=BatteryStat("stat", 0.05))], transformer=_FORTY, **_COMMON)
    return Exchanged("zone1.valve.HA", "zone1.valve.HB").made(house)


STORY_HOUSES: Mapping[int, Installation] = {
    1: _upstairs_cold(),
    2: _never_rests(),
    3: _own_thermostat(),
    4: _coldest_mornings(),
    5: _with_relay(),
    6: _faint_screen(),
    7: _over_the_garage(),
    8: _stone_cold(),
    9: _six_zones(),
    10: _with_relay(31.6),
    11: _lukewarm(),
    12: _only_together(),
    13: _new_boiler(),
    14: _cold_at_five(),
}
"""Houses by the number of their story, as they should be; what is odd in them and harmless is in them already."""
