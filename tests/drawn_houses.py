"""Houses for the drawings to show: every topology, every kind of part, and wirings that are wrong."""

from __future__ import annotations

from dataclasses import dataclass, replace

from small_benches import on_call
from test_topologies import BUILDERS

from solvers.plant.panels import one_stat
from solvers.plant.parts import (
    Boiler,
    Breaker,
    HeatMotorValve,
    OpenCloseValve,
    Part,
    Relay,
    Splice,
    SpringReturnValve,
    Stat,
    Transformer,
    WaxActuator,
)
from solvers.plant.thermostats import AnticipatorStat, BatteryStat, CPoweredStat, PowerStealingStat, TriacStat
from solvers.plant.topologies import Zone, four_wire, three_wire_direct
from solvers.plant.wiring import Conductor, Installation

__all__ = ["EVERY", "FOUR", "KINDS", "MISWIRED", "TOPOLOGIES", "TWO", "Bell", "exchanged"]


@dataclass(frozen=True, slots=True)
class Bell(Part):
    """A part of a kind that no ladder knows, with as many terminals as one likes."""

    ends: tuple[str, ...] = ("1", "2", "G")

    @property
    def terminals(self) -> tuple[str, ...]:
        return tuple(f"{self.name}.{end}" for end in self.ends)


def exchanged(house: Installation, one: tuple[str, str], other: tuple[str, str]) -> Installation:
    """The same house with two conductor ends, each given as (conductor, "a" or "b"), exchanged."""
    (first, this), (second, that) = one, other
    here, there = getattr(house.conductor(first), this), getattr(house.conductor(second), that)
    return house.with_conductor(first, **{this: there}).with_conductor(second, **{that: here})


def _valve(leads: int = 4, **others: object) -> HeatMotorValve:
    return HeatMotorValve("valve", leads, **others)


TOPOLOGIES = {f"{kind} {count}": build(count) for kind, build in BUILDERS.items() for count in (1, 2, 3, 4, 6)}
TWO = three_wire_direct("2 zones", [Zone(_valve(3)), Zone(_valve(3))])
FOUR = four_wire("2 zones", [Zone(_valve()), Zone(_valve())])

MISWIRED = {
    "S and E exchanged": exchanged(TWO, ("zone2.S lead", "a"), ("zone2.E lead", "a")),
    "H and E exchanged": exchanged(TWO, ("zone2.H lead", "b"), ("zone2.E lead", "a")),
    "H and S exchanged": exchanged(TWO, ("zone1.H lead", "b"), ("zone1.S lead", "a")),
    "S lead on the E bus": TWO.with_conductor("zone1.S lead", b="E bus.zone1"),
    "pairs exchanged": exchanged(
        exchanged(FOUR, ("zone1.HA lead", "b"), ("zone1.EA leg", "a")), ("zone1.HB lead", "a"), ("zone1.EB leg", "a")
    ),
    "both heater leads on W": FOUR.with_conductor("zone2.HB lead", b="zone2.W splice.2"),
    "stat reversed": exchanged(FOUR, ("zone1.R leg", "b"), ("zone1.W leg", "b")),
    "W legs crossed": exchanged(TWO, ("zone1.W leg", "a"), ("zone2.W leg", "a")),
    "T-T reversed": exchanged(TWO, ("T-T cable E", "b"), ("T-T cable S", "b")),
    "C trunk on the E bus": TWO.with_conductor("C trunk", a="E bus.zone1"),
    "R leg past the stat": TWO.with_conductor("zone1.R leg", b="zone1.stat.W"),
}


def _double_throw() -> Installation:
    """An open-close valve behind a relay, its double-throw switch on T-T, and a bell that hangs on one terminal."""
    parts = (
        Transformer("transformer"),
        Breaker("breaker"),
        Stat("zone1.stat"),
        Relay("zone1.relay"),
        OpenCloseValve("zone1.valve"),
        Splice("R bus", ("breaker", "zone1", "relay")),
        Splice("C bus", ("zone1", "relay", "trunk")),
        Boiler("boiler"),
        Bell("bell"),
    )
    joined = {
        "R feed": ("transformer.R", "breaker.in"),
        "R bus feed": ("breaker.out", "R bus.breaker"),
        "C trunk": ("C bus.trunk", "transformer.C"),
        "zone1.R leg": ("R bus.zone1", "zone1.stat.R"),
        "zone1.W leg": ("zone1.stat.W", "zone1.relay.A1"),
        "zone1.coil return": ("zone1.relay.A2", "C bus.relay"),
        "zone1.feed": ("R bus.relay", "zone1.relay.COM"),
        "zone1.HA lead": ("zone1.relay.NO", "zone1.valve.HA"),
        "zone1.HC lead": ("zone1.relay.NC", "zone1.valve.HC"),
        "zone1.return": ("zone1.valve.HB", "C bus.zone1"),
        "T-T cable A": ("zone1.valve.EA", "boiler.T1"),
        "T-T cable B": ("zone1.valve.EB", "boiler.T2"),
        "bell wire": ("bell.1", "boiler.T1"),
    }
    return Installation("double throw", parts, tuple(Conductor(name, *ends, 0.1) for name, ends in joined.items()))


def _lent() -> Installation:
    """Two zones on the transformer of the boiler."""
    kept = tuple(part for part in FOUR.parts if part.name not in ("transformer", "boiler"))
    moved = {"transformer.R": "boiler.R", "transformer.C": "boiler.C"}
    wires = tuple(replace(wire, a=moved.get(wire.a, wire.a), b=moved.get(wire.b, wire.b)) for wire in FOUR.conductors)
    return Installation("boiler lends", (*kept, Boiler("boiler", lends=True)), wires)


def _fused_by_zone() -> Installation:
    """A breaker in the R leg of one zone."""
    house = replace(FOUR, parts=(*FOUR.parts, Breaker("zone2.breaker"))).with_conductor("zone2.R tail", b="zone2.breaker.in")
    return house.with_conductors([Conductor("zone2.R link", "zone2.breaker.out", "zone2.R splice.1", 0.1)])


KINDS = {
    "thermostats": four_wire(
        "thermostats",
        [
            Zone(_valve(), AnticipatorStat("stat")),
            Zone(WaxActuator("valve"), BatteryStat("stat")),
            Zone(SpringReturnValve("valve"), CPoweredStat("stat")),
            Zone(_valve(2, body=True), TriacStat("stat")),
            Zone(_valve(), PowerStealingStat("stat")),
        ],
        transformer=Transformer("transformer", protection="breaker"),
    ),
    "line side": four_wire(
        "line side",
        [Zone(_valve())],
        transformer=Transformer("transformer", line_side=True, taps=(120.0, 208.0, 240.0)),
        boiler=Boiler("boiler", input="board-sensed"),
    ),
    "line side and breaker": four_wire(
        "line side and breaker",
        [Zone(_valve(body=True))],
        transformer=Transformer("transformer", line_side=True, protection="breaker"),
        boiler=Boiler("boiler", input="fed from outside"),
    ),
    "stats with C": three_wire_direct("stats with C", [Zone(_valve(3, body=True), CPoweredStat("stat")) for _ in range(2)]),
    "motors": three_wire_direct("motors", [Zone(SpringReturnValve("valve", leads=3)) for _ in range(2)]),
    "double throw": _double_throw(),
    "boiler lends": _lent(),
    "breaker in a zone": _fused_by_zone(),
    "switches in series": one_stat("switches in series", Zone(_valve()), [Zone(_valve()), Zone(_valve())], in_series=True),
    "no rails": on_call(_valve(3)),
    "bells": replace(TWO, parts=(*TWO.parts, Bell("bell", ("1",)), Bell("zone1.bell", ("1", "2", "3", "4", "5")))),
}
EVERY = TOPOLOGIES | KINDS | MISWIRED
