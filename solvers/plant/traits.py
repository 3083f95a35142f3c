"""What kind of installation, and of zone, this is: plain words that rows of the fault catalogue ask for."""

from __future__ import annotations

from .heat_motor import HeatMotorValve
from .light_switch import LightSwitch
from .parts import (
    Boiler,
    Breaker,
    Fuse,
    HeatedValve,
    MotorValve,
    OpenCloseValve,
    Part,
    Relay,
    SpringReturnValve,
    Stat,
    Transformer,
    Valve,
    WaxActuator,
)
from .programmable import ProgrammableStat
from .thermostats import AnticipatorStat, BatteryStat, CPoweredStat, PowerStealingStat, TriacStat, TwoSupplyStat
from .wiring import Installation

__all__ = ["TRAITS", "house_traits", "zone_traits"]

LEADS = {2: "two-wire", 3: "three-wire", 4: "four-wire"}

VALVES: tuple[tuple[type[Part], str], ...] = (
    (HeatedValve, "heated valve"),
    (HeatMotorValve, "heat motor"),
    (WaxActuator, "wax actuator"),
    (MotorValve, "motor valve"),
    (SpringReturnValve, "spring return"),
    (OpenCloseValve, "open and close"),
)

STATS: tuple[tuple[type[Part], str], ...] = (
    (AnticipatorStat, "anticipator"),
    (BatteryStat, "battery stat"),
    (CPoweredStat, "C-powered stat"),
    (TriacStat, "triac stat"),
    (PowerStealingStat, "power-stealing stat"),
    (TwoSupplyStat, "two-supply stat"),
)

TRAITS = (
    *LEADS.values(),
    *(word for _, word in VALVES),
    "internal limit",
    "end switch",
    "metal body",
    "opener stays",
    "plain stat",
    *(word for _, word in STATS),
    "mechanical stat",
    "programmable",
    "room",
    "one zone",
    "two zones or more",
    "three zones or more",
    "high draw",
    "light switch",
    "50 Hz",
    "one transformer",
    "two transformers",
    "shared return",
    "separate commons",
    "on the second transformer",
    "fuse",
    "breaker",
    "one-shot",
    "several taps",
    "grounded",
    "opposed",
    "isolation relay",
    "relay panel",
    "one stat",
    "priority",
    "dry T-T",
    "direct T-T",
    "T-T cable",
    "own supply",
    "board-sensed",
    "lends",
)
"""Every word that `zone_traits` and `house_traits` may say."""


def zone_traits(installation: Installation, zone: str) -> frozenset[str]:
    """The words that fit one zone, those of the house included; raises NoSuchPart for a zone that is not there."""
    valve, stat = installation.part(f"{zone}.valve"), installation.part(f"{zone}.stat")
    found = {word for kind, word in VALVES if isinstance(valve, kind)}
    found |= {word for kind, word in STATS if isinstance(stat, kind)} or {"plain stat"}
    if isinstance(valve, Valve):
        found.add(LEADS[valve.leads])
        found |= {"end switch"} if valve.switch_pair else set()
        found |= {"metal body"} if valve.body else set()
        found |= {"opener stays"} if valve.opener != "by itself" else set()
    if isinstance(valve, HeatMotorValve) and valve.limit != "none":
        found.add("internal limit")
    found.add("programmable" if isinstance(stat, ProgrammableStat) else "mechanical stat")
    if isinstance(stat, Stat) and stat.room:
        found.add("room")
    if any(wire.a == f"R bus 2.{zone}" for wire in installation.conductors):
        found.add("on the second transformer")
    return frozenset(found) | house_traits(installation)


def house_traits(installation: Installation) -> frozenset[str]:
    """The words that fit the whole installation."""
    parts = installation.parts
    names = {part.name for part in parts}
    sources = [part for part in parts if isinstance(part, Transformer)]
    zones = len(installation.zones)
    found = {"one zone"} if zones == 1 else {"two zones or more"}
    found |= {"three zones or more"} if zones >= 3 else set()
    valves = [part for part in parts if isinstance(part, Valve)]
    found |= {"high draw"} if valves and all(isinstance(valve, HeatMotorValve) for valve in valves) else set()
    found |= {"light switch"} if any(isinstance(part, LightSwitch) for part in parts) else set()
    found |= {"50 Hz"} if installation.hz == 50 else set()
    found |= {"one transformer"} if len(sources) == 1 else {"two transformers"}
    found |= {"shared return"} if "C joint" in names else set()
    found |= {"separate commons"} if "C bus 2" in names else set()
    found |= {"fuse"} if any(isinstance(part, Fuse) for part in parts) else set()
    found |= {"breaker"} if any(isinstance(part, Breaker) for part in parts) else set()
    for source in sources:
        found |= {source.protection} & {"breaker", "one-shot"}
        found |= {"several taps"} if source.spare_taps else set()
        found |= {"grounded"} if source.grounded else set()
        found |= {"opposed"} if source.opposed else set()
    relays = {part.name for part in parts if isinstance(part, Relay)}
    found |= {"isolation relay"} if "relay" in relays else set()
    found |= {"relay panel"} if "zone1.relay" in relays else set()
    found |= {"one stat"} if "zone1b.valve" in names else set()
    found |= {"priority"} if any("priority" in name for name in names) else set()
    for boiler in (part for part in parts if isinstance(part, Boiler)):
        found |= {boiler.input} & {"own supply", "board-sensed"}
        found |= {"lends"} if boiler.lends else set()
    found |= {"dry T-T"} if "EA bus" in names else set()
    found |= {"direct T-T"} if any(wire.name == "T-T cable S" for wire in installation.conductors) else set()
    found |= {"T-T cable"} if any(wire.cable == "T-T cable" for wire in installation.conductors) else set()
    return frozenset(found)
