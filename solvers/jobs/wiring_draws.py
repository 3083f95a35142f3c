"""Wire-ups drawn from a seed: one to six zones, kinds of valves and stats, one transformer or two. One stream a decision."""

from __future__ import annotations

import random
from collections.abc import Sequence

from ..plant.parts import Boiler, Fuse, HeatMotorValve, Part, Relay, SpringReturnValve, Stat, Transformer, Valve, WaxActuator
from ..plant.thermostats import BatteryStat, CPoweredStat
from .criteria import Calls, Heats, Pulls, WholeWithout
from .findings import Criterion
from .loads import StaysAlive
from .separation import Apart, Burden, FusesFirst, NoShort, Room, Share
from .wireup import WireUp, fed
from .wiring_questions import Leads

__all__ = ["MOST_ZONES", "drawn"]

MOST_ZONES = 6
ON_ONE = 3  # zones that one transformer carries
FUSE_AMPS = 3.0

KINDS = ("heat motor, four wires", "heat motor, three wires", "motor, four wires", "wax actuator, four wires")
STATS = (Stat, BatteryStat, CPoweredStat)


def drawn(seed: str, zones: int | None = None) -> WireUp:
    """A wire-up from a seed, the same one for the same seed; raises ValueError for too few or too many zones.

    Up to three zones hang on one transformer, more on two, as many of three on each as the learner likes; three-wire
    valves come with an isolation relay, so that T-T stays dry. Sizes lie in the ranges of the facts; the house is invented.
    """
    count = 1 + int(_share(seed, "zones") * MOST_ZONES) if zones is None else zones
    if not 1 <= count <= MOST_ZONES:
        raise ValueError(f"{count} zones; a drawn wire-up has 1 to {MOST_ZONES}")
    numbers = range(1, count + 1)
    valves = [_valve(seed, number) for number in numbers]
    # The relay reaches one transformer only, and so do the valves that share a lead with their switch.
    shared = [valve for valve in valves if valve.leads == 3]
    valves = [_four_wire(valve) if valve in shared[ON_ONE:] else valve for valve in valves]
    shared = shared[:ON_ONE]
    stats = [
        _one(STATS, seed, f"zone {number} stat")(f"zone{number}.stat", ohms=_between(seed, f"zone {number} contact", 0.03, 0.08))
        for number in numbers
    ]
    sources = [_transformer(seed, tag) for tag in ("", " 2")[: 1 if count <= ON_ONE else 2]]
    parts: list[Part] = [
        *(part for source in sources for part in (source, Fuse(source.name.replace("transformer", "fuse"), FUSE_AMPS))),
        *stats,
        *valves,
        *([Relay("relay")] if shared else []),
        Boiler(
            "boiler",
            emf=round(_between(seed, "boiler volts", 24.5, 26.5), 1),
            input_ohms=round(_between(seed, "boiler input", 105, 140)),
        ),
    ]
    many = "two transformers" if len(sources) == 2 else "one transformer"
    return WireUp(
        f"drawn {seed}",
        f"{count} zone{'s' if count > 1 else ''} on {many}",
        _brief(valves, bool(shared)),
        tuple(parts),
        _criteria(count, stats, shared, sources),
        minutes=10 + 6 * count,
        questions=tuple(Leads(f"leads {valve.name}", valve.name) for valve in valves[:2]),
    )


def _criteria(
    count: int, stats: Sequence[Stat], shared: Sequence[Valve], sources: Sequence[Transformer]
) -> tuple[Criterion, ...]:
    feeds, valves = fed(range(1, count + 1)), tuple(f"zone{number}.valve" for number in range(1, count + 1))
    relay = ("relay",) if shared else ()
    found: list[Criterion] = [Heats(feeds), Calls(valves)]
    if shared:
        found.append(Pulls("relay", tuple(valve.name for valve in shared)))
    if alive := tuple(stat.name for stat in stats if isinstance(stat, CPoweredStat)):
        found.append(StaysAlive(alive))
    if count > 1:
        found.append(WholeWithout(feeds, "boiler"))
    names = tuple(source.name for source in sources)
    return (
        *found,
        Share(0.85),
        Burden(feeds, relay),
        Apart((*names, "boiler")),
        NoShort(tuple((name, FUSE_AMPS) for name in names)),
        FusesFirst(tuple((name, name.replace("transformer", "fuse")) for name in names)),
        Room(),
    )


def _valve(seed: str, number: int) -> Valve:
    name, kind = f"zone{number}.valve", _one(KINDS, seed, f"zone {number} valve")
    if kind.startswith("motor"):
        return SpringReturnValve(name, 4, ambient_degC=20.0)
    if kind.startswith("wax"):
        return WaxActuator(name, 4, ambient_degC=20.0)
    return HeatMotorValve(
        name,
        3 if "three" in kind else 4,
        heater_ohms=round(_between(seed, f"zone {number} heater", 29.0, 33.0), 1),
        ambient_degC=20.0,
        wax_resistance=round(_between(seed, f"zone {number} wax", 5.8, 6.3), 2),
        wax_tau=round(_between(seed, f"zone {number} wax time", 95.0, 120.0)),
        end_degC=90.0,
    )


def _four_wire(valve: HeatMotorValve) -> HeatMotorValve:
    return HeatMotorValve(
        valve.name,
        4,
        heater_ohms=valve.heater_ohms,
        ambient_degC=valve.ambient_degC,
        wax_resistance=valve.wax_resistance,
        wax_tau=valve.wax_tau,
        end_degC=valve.end_degC,
    )


def _transformer(seed: str, tag: str) -> Transformer:
    emf = round(_between(seed, f"transformer{tag} volts", 26.6, 27.6), 1)
    return Transformer(f"transformer{tag}", emf=emf, ohms=0.96, dc_ohms=0.45, va=75.0)


def _brief(valves: Sequence[Valve], shared: bool) -> str:
    kinds = {3: "three wires", 4: "four wires"}
    told = " ".join(f"Zone {number}: a valve of {kinds[valve.leads]}." for number, valve in enumerate(valves, 1))
    relay = " An isolation relay is in the bag: T-T stays dry." if shared else " T-T stays dry."
    return f"{told}{relay} Each stat opens its own valve, and the boiler runs while any is open."


def _share(seed: str, decision: str) -> float:
    return random.Random(f"{seed}/{decision}").random()


def _one(choices: Sequence, seed: str, decision: str) -> object:
    return choices[int(_share(seed, decision) * len(choices))]


def _between(seed: str, decision: str, low: float, high: float) -> float:
    return low + (high - low) * _share(seed, decision)
