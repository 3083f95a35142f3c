"""Houses from a seed: a shape of wiring, kinds of valves and thermostats, and sizes within what is typical."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from ..plant import facts
from ..plant.light_switch import lit
from ..plant.panels import one_stat, priority, relay_panel
from ..plant.parts import Boiler, Fuse, HeatMotorValve, Relay, SpringReturnValve, Stat, Transformer, Valve, WaxActuator
from ..plant.thermostats import AnticipatorStat, BatteryStat, CPoweredStat, PowerStealingStat, TriacStat, TwoSupplyStat
from ..plant.topologies import Zone, four_wire, three_wire_direct, three_wire_relay, two_wire
from ..plant.two_sources import separate_commons, shared_return
from ..plant.weather import lived_in
from ..plant.wiring import Installation
from .chance import Chance

__all__ = ["SHAPES", "STATS", "Recipe", "Shape", "built", "recipe"]

STATS: Mapping[str, type[Stat]] = {
    "plain stat": Stat,
    "anticipator": AnticipatorStat,
    "battery stat": BatteryStat,
    "C-powered stat": CPoweredStat,
    "power-stealing stat": PowerStealingStat,
    "triac stat": TriacStat,
    "two-supply stat": TwoSupplyStat,
}
"""The kinds of thermostat that a house may have, by their trait."""

MECHANICAL = ("plain stat", "anticipator")

SIZES_VA = (20.0, 30.0, 40.0, 50.0, 75.0, 100.0)
HEATER_VA = 20.0  # of one high-draw heater
WIRE_FEET = (25.0, 110.0)
REGULATION = {
    20.0: (0.12, 0.2),
    30.0: (0.12, 0.18),
    40.0: (0.11, 0.17),
    50.0: (0.1, 0.15),
    75.0: (0.08, 0.13),
    100.0: (0.07, 0.12),
}
"""Of transformers by VA: common practice and memory, no source."""


@dataclass(frozen=True, slots=True)
class Shape:
    """A way of wiring, and what it brings with it."""

    name: str
    traits: frozenset[str]
    most: int  # zones


SHAPES: Mapping[str, Shape] = {
    shape.name: shape
    for shape in (
        Shape("two-wire", frozenset({"two-wire", "one transformer"}), 3),
        Shape("four-wire", frozenset({"four-wire", "end switch", "dry T-T", "one transformer"}), 6),
        Shape("three-wire direct", frozenset({"three-wire", "end switch", "direct T-T", "one transformer"}), 4),
        Shape("three-wire relay", frozenset({"three-wire", "end switch", "isolation relay", "one transformer"}), 4),
        Shape("two sources", frozenset({"four-wire", "end switch", "dry T-T", "two transformers", "separate commons"}), 4),
        Shape("shared return", frozenset({"four-wire", "end switch", "dry T-T", "two transformers", "shared return"}), 4),
        Shape("relay panel", frozenset({"four-wire", "end switch", "dry T-T", "relay panel", "one transformer"}), 3),
        Shape("one stat", frozenset({"four-wire", "end switch", "dry T-T", "one transformer", "one stat"}), 1),
        Shape("priority", frozenset({"four-wire", "end switch", "dry T-T", "priority", "one transformer"}), 3),
    )
}
"""Shapes by name."""

SHAPED = frozenset().union(*(shape.traits for shape in SHAPES.values()))
"""Traits that the shape decides."""

VALVES: Mapping[str, str] = {
    "heat motor": "heat motor",
    "heated valve": "heat motor",
    "high draw": "heat motor",
    "wax actuator": "wax actuator",
    "spring return": "spring return",
    "motor valve": "spring return",
}
"""The kind of valve that a trait asks for."""

SWITCHES = (
    "internal limit",
    "opener stays",
    "metal body",
    "room",
    "breaker",
    "one-shot",
    "several taps",
    "grounded",
    "board-sensed",
    "lends",
    "light switch",
    "50 Hz",
)
"""Traits that are there or not, whatever the shape."""

USUAL: Mapping[str, float] = {
    "internal limit": 0.15,
    "opener stays": 0.5,
    "metal body": 0.0,
    "room": 0.0,
    "breaker": 0.1,
    "one-shot": 0.1,
    "several taps": 0.15,
    "grounded": 0.3,
    "board-sensed": 0.0,
    "lends": 0.0,
    "light switch": 0.2,
    "50 Hz": 0.03,
}
"""How often each is there where nothing asks for it."""

TOGETHER: Mapping[str, tuple[str, ...]] = {"metal body": ("grounded",), "grounded": ("metal body",)}
"""A house in which ground plays a part lets the learner probe the valve's body: then neither gives anything away."""


@dataclass(frozen=True, slots=True)
class Recipe:
    """What a house is to be; the sizes follow from the seed when it is built."""

    shape: str
    zones: int
    stat: str
    valve: str
    switches: frozenset[str]


def recipe(
    chance: Chance,
    shapes: Mapping[str, float],
    counts: Sequence[int],
    stats: Mapping[str, float],
    needs: Collection[str],
    bars: Collection[str] = (),
) -> Recipe | None:
    """A house of these shapes, sizes and stats, by their weights, that has these traits and not those; None if there is none."""
    wanted = {*needs}
    counts = [count for count in counts if _counted(count) >= wanted & {"one zone", "two zones or more", "three zones or more"}]
    counts = [count for count in counts if not _counted(count) & set(bars)]
    fitting = [name for name in shapes if wanted & SHAPED <= SHAPES[name].traits and not SHAPES[name].traits & set(bars)] or [
        name for name in SHAPES if wanted & SHAPED <= SHAPES[name].traits and not SHAPES[name].traits & set(bars)
    ]
    if not fitting or not counts:
        return None
    shape = chance.weighted("shape", fitting, [shapes.get(name, 1.0) for name in fitting])
    double = "two transformers" in SHAPES[shape].traits
    most = SHAPES[shape].most
    counts = [count for count in counts if count <= most and (count > 1 or not double)] or [most] * (most == 1)
    kinds = [kind for kind in STATS if kind in wanted] or [kind for kind in stats if kind not in bars and _made_so(kind, wanted)]
    kinds = kinds or [kind for kind in STATS if _made_so(kind, wanted)]
    valves = [VALVES[word] for word in VALVES if word in wanted] or ["heat motor"]
    if not counts or not kinds:
        return None
    switches = {name for name in SWITCHES if name in wanted or (name not in bars and chance.share(name) < USUAL[name])}
    for name in sorted(switches):
        switches |= {other for other in TOGETHER.get(name, ()) if other not in bars}
    switches -= (
        {"one-shot"} if "breaker" in switches and "breaker" in wanted else {"breaker"} if "one-shot" in switches else set()
    )
    return Recipe(
        shape,
        chance.among("zones", counts),
        chance.weighted("stat kind", kinds, [stats.get(kind, 1.0) for kind in kinds]),
        valves[0],
        frozenset(switches),
    )


def built(chance: Chance, what: Recipe) -> Installation:
    """The house of a recipe, its sizes drawn from what is typical."""
    sources = 2 if "two transformers" in SHAPES[what.shape].traits else 1
    zones = [_zone(chance, what, number) for number in range(1, what.zones + 1)]
    half = (what.zones + 1) // 2
    groups = [zones] if sources == 1 else [zones[:half], zones[half:]]
    transformers = [_transformer(chance, what, number, len(group)) for number, group in enumerate(groups)]
    fuses = [
        Fuse("fuse", amps=_fuse_amps(source), ohms=chance.of(f"fuse {number}", facts.FUSE_OHMS))
        for number, source in enumerate(transformers)
    ]
    boiler = _boiler(chance, what)
    shared = {"boiler": boiler, "trunk_ohms": chance.between("trunk", 0.02, 0.08)}
    cable = {"tt_ohms": chance.between("T-T cable", 0.05, 0.2)}
    one = {"transformer": transformers[0], "fuse": fuses[0]}
    name = "the drawing on site"
    match what.shape:
        case "two-wire":
            house = two_wire(name, zones, **one, **(shared | {"boiler": replace(boiler, keeps_hot=True)}))
        case "four-wire":
            house = four_wire(name, zones, **one, **shared, **cable)
        case "three-wire direct":
            house = three_wire_direct(name, zones, **one, **shared, **cable)
        case "three-wire relay":
            house = three_wire_relay(name, zones, **one, **shared, **cable, relay=_relay(chance, 1))
        case "relay panel":
            house = relay_panel(name, zones, **one, **shared, **cable, relay=_relay(chance, 2))
        case "priority":
            house = priority(name, zones, **one, **shared, **cable, relay=_relay(chance, 1))
        case "one stat":
            house = one_stat(name, zones[0], [_zone(chance, what, 2)], **one, **shared, **cable)
        case "two sources":
            house = separate_commons(name, *groups, transformers=tuple(transformers), fuses=tuple(fuses), **shared, **cable)
        case _:
            opposed = chance.share("opposed") < 0.5
            pair = {"transformers": tuple(transformers), "fuses": tuple(fuses)}
            house = shared_return(name, *groups, **pair, **shared, **cable, opposed=opposed)
    house = replace(house, hz=50.0) if "50 Hz" in what.switches else house
    house = lit(house) if "light switch" in what.switches else house
    return lived_in(house) if "room" in what.switches else house


def _made_so(kind: str, wanted: set[str]) -> bool:
    """Whether a kind of thermostat is mechanical, or programmable, where that is asked for."""
    word = "mechanical stat" if kind in MECHANICAL else "programmable"
    return not wanted & {"mechanical stat", "programmable"} - {word}


def _counted(zones: int) -> set[str]:
    return {"one zone"} if zones == 1 else {"two zones or more"} | ({"three zones or more"} if zones >= 3 else set())


def _zone(chance: Chance, what: Recipe, number: int) -> Zone:
    at = f"zone{number}"
    feet = round(chance.between(f"{at} cable", *WIRE_FEET))
    leg = feet * facts.COPPER_OHMS_PER_KFT[18] / 1000
    return Zone(
        _valve(chance, what, at),
        _stat(chance, what, at),
        r_leg_ohms=leg,
        w_leg_ohms=leg,
        return_ohms=chance.between(f"{at} return", 0.02, 0.06),
        e_leg_ohms=chance.between(f"{at} E leg", 0.005, 0.03),
        stat_cable_feet=feet,
    )


def _valve(chance: Chance, what: Recipe, at: str) -> Valve:
    leads = {"two-wire": 2, "three-wire direct": 3, "three-wire relay": 3}.get(what.shape, 4)
    common = {
        "leads": leads,
        "switch_ohms": chance.of(f"{at} switch", facts.SWITCH_OHMS),
        "ambient_degC": chance.of(f"{at} ambient", facts.INDOOR_DEGC),
        "opener": chance.weighted(f"{at} opener", ("by hand", "by hand, makes the switch"), (4, 1.5))
        if "opener stays" in what.switches
        else "by itself",
        "body": "metal body" in what.switches,
    }
    if what.valve == "spring return" and leads == 4:
        return SpringReturnValve("valve", **common)
    if what.valve == "wax actuator" and leads != 3:
        return WaxActuator("valve", **common)
    return HeatMotorValve(
        "valve",
        **common,
        heater_ohms=chance.of(f"{at} heater", facts.HEATER_OHMS),
        wax_resistance=chance.of(f"{at} wax resistance", facts.WAX_RESISTANCE),
        wax_tau=chance.of(f"{at} wax tau", facts.WAX_TAU),
        end_degC=chance.of(f"{at} end", facts.WAX_END_DEGC),
        limit="fitted" if "internal limit" in what.switches else "none",
    )


def _stat(chance: Chance, what: Recipe, at: str) -> Stat:
    kind = STATS[what.stat]
    if kind is TriacStat:
        return TriacStat("stat", chance.of(f"{at} stat", facts.TRIAC_ON_OHMS))
    stat = kind("stat", chance.of(f"{at} stat", facts.STAT_OHMS))
    return (
        replace(stat, off_ohms=chance.of(f"{at} stealing", facts.STEALING_OHMS)) if isinstance(stat, PowerStealingStat) else stat
    )


def _transformer(chance: Chance, what: Recipe, number: int, zones: int) -> Transformer:
    need = zones * HEATER_VA / 0.8
    va = next((size for size in SIZES_VA if size >= max(40.0, need)), SIZES_VA[-1])
    taps = (120.0, 208.0, 240.0) if "several taps" in what.switches else (120.0,)
    line = {"taps": taps}
    if "50 Hz" in what.switches:
        line = {"taps": (230.0,), "tap": 230.0, "line_volts": 230.0, "line_hz": 50.0, "rated_hz": 50.0}
    protection = next((name for name in ("breaker", "one-shot") if name in what.switches), "fuse")
    return Transformer.from_nameplate(
        "transformer",
        va,
        regulation=chance.between(f"regulation {number}", *REGULATION[va]),
        protection=protection,
        dc_ohms=chance.between(f"winding {number}", 0.6, 1.2) * 40 / va,
        **line,
        grounded="grounded" in what.switches and number == 0,
    )


def _fuse_amps(source: Transformer) -> float:
    """The usual size behind this transformer. Common practice, no source."""
    return 2.0 if source.va < 30 else 3.0 if source.va <= 50 else 3.5


def _boiler(chance: Chance, what: Recipe) -> Boiler:
    return Boiler(
        "boiler",
        emf=chance.of("boiler emf", facts.BOILER_EMF),
        ohms=chance.of("boiler source", facts.BOILER_SOURCE_OHMS),
        input_ohms=chance.of("boiler input", facts.BOILER_INPUT_OHMS),
        input="board-sensed" if "board-sensed" in what.switches else "own supply",
        lends="lends" in what.switches,
    )


def _relay(chance: Chance, poles: int) -> Relay:
    return Relay(
        "relay",
        poles,
        coil_ohms=chance.of("coil", facts.RELAY_OHMS),
        reactance=chance.of("coil reactance", facts.RELAY_REACTANCE),
        contact_ohms=chance.of("contact", facts.RELAY_CONTACT_OHMS),
        no_ohms=chance.of("NO contact", facts.RELAY_CONTACT_OHMS),
    )
