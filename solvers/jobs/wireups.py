"""The wire-ups: parts, a bag of cable, and what the result must do. No task knows a wiring that does it.

Sizes are typical, from memory; the houses are invented.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..plant.lamps import Lamp
from ..plant.line_voltage import Circulator, LineFeed
from ..plant.parts import Boiler, Fuse, Part, Relay, SpringReturnValve, Stat, Transformer
from ..plant.thermostats import BatteryStat, CPoweredStat
from ..plant.wiring import Enclosure
from .criteria import Calls, Heats, OpensIn, Pulls, WholeWithout
from .findings import Criterion
from .job import JobError
from .loads import Blanks, Drops, Level, Lights, Runs, StaysAlive
from .separation import Apart, Burden, Capped, FusesFirst, Killed, NoShort, OneTie, Room, Separate, Share, StatAmps, Volts
from .wireup import WireUp, fed, forty, heat_motor, seventy_five
from .wiring_questions import Choice, Leads, Ohms, Reading

__all__ = ["IDS", "NoSuchWireUp", "WireUp", "wire_up"]


class NoSuchWireUp(JobError):
    """A wire-up was asked for by an id that there is not."""


def wire_up(id: str) -> WireUp:
    """The task of that id; raises NoSuchWireUp with the ids there are."""
    if id not in _TASKS:
        raise NoSuchWireUp(f"no wire-up {id!r}; there are {list(_TASKS)}")
    return _TASKS[id]


def _zones(count: int, leads: int, stats: Sequence[Stat] | None = None) -> tuple[Part, ...]:
    stats = stats or [Stat(f"zone{zone}.stat") for zone in range(1, count + 1)]
    return (*stats, *(heat_motor(zone, leads) for zone in range(1, count + 1)))


def _valves(count: int) -> tuple[str, ...]:
    return tuple(f"zone{zone}.valve" for zone in range(1, count + 1))


def _safe(*limits: tuple[str, float]) -> tuple[Criterion, ...]:
    """What every task asks for: no short, the fuse before all else, room under the screws."""
    fuses = tuple((source, source.replace("transformer", "fuse")) for source, _ in limits)
    return NoShort(limits), FusesFirst(fuses), Room()


_BOILER = Boiler("boiler", emf=26.0, ohms=2.0, input_ohms=120.0)
_ONE = (("transformer", 3.0),)
_TWO = (*_ONE, ("transformer 2", 3.0))
_SOURCE = (forty(), Fuse("fuse"))
_BIG_SOURCE = (seventy_five(), Fuse("fuse"))
_RELAY = Relay("relay")
_DRY = Apart(("transformer", "boiler"))


def _leads(*zones: int) -> tuple[Leads, ...]:
    return tuple(Leads(f"leads {zone}", f"zone{zone}.valve") for zone in zones)


_W1 = WireUp(
    "W1",
    "one zone, one stat, one valve",
    "A 40 VA transformer, a 3 A fuse, a dry stat and a valve with two leads. Join them so that the stat heats the valve.",
    (*_SOURCE, *_zones(1, 2)),
    (Heats(fed((1,)), least=24.5), *_safe(*_ONE)),
    10,
    questions=(
        *_leads(1),
        Reading("open stat", "Volts across the stat's contact while it does not call", "zone1.stat.R", "zone1.stat.W"),
    ),
)
_W2 = WireUp(
    "W2",
    "a valve that calls the boiler when it is open",
    "The valve has an end switch now, and the boiler a dry T-T. The boiler may start only once the valve is fully open.",
    (*_SOURCE, *_zones(1, 4), _BOILER),
    (Heats(fed((1,)), least=24.5), Calls(_valves(1)), OpensIn("zone1.stat", 85, 95), _DRY, *_safe(*_ONE)),
    15,
    questions=_leads(1),
)
_W3 = WireUp(
    "W3",
    "a stat that needs C",
    "As before, but the stat lives on R and C. Know which lead is C and which is W before there is power.",
    (*_SOURCE, *_zones(1, 4, [CPoweredStat("zone1.stat")]), _BOILER),
    (
        Heats(fed((1,)), least=24.5),
        Calls(_valves(1)),
        StaysAlive(("zone1.stat",)),
        Blanks("zone1.stat", "zone1.valve"),
        _DRY,
        *_safe(*_ONE),
    ),
    15,
    questions=(
        *_leads(1),
        Ohms("C to C", "Ohms from the stat's C to C of the transformer, power off", "zone1.stat.C", "transformer.C"),
    ),
)
_W4 = WireUp(
    "W4",
    "two zones, either starts the boiler",
    "Two stats, two four-wire valves, one boiler. Each zone alone starts the boiler; neither, and it is off.",
    (*_SOURCE, *_zones(2, 4), _BOILER),
    (Heats(fed((1, 2))), Calls(_valves(2)), WholeWithout(fed((1, 2)), "boiler"), _DRY, *_safe(*_ONE)),
    20,
    questions=_leads(1, 2),
)
_W5 = WireUp(
    "W5",
    "three zones on one common",
    "Three two-wire valves, one stat on cells and two that need C, one common bus. No zone may feel another.",
    (
        *_BIG_SOURCE,
        *_zones(3, 2, [BatteryStat("zone1.stat"), CPoweredStat("zone2.stat"), CPoweredStat("zone3.stat")]),
    ),
    (Heats(fed((1, 2, 3))), StaysAlive(("zone2.stat", "zone3.stat")), WholeWithout(fed((1, 2, 3))), *_safe(*_ONE)),
    20,
    questions=(
        *_leads(1),
        Ohms("C to C", "Ohms from C of stat 2 to C of the transformer, power off", "zone2.stat.C", "transformer.C"),
    ),
)
_W6 = WireUp(
    "W6",
    "a three-wire valve and its isolation relay",
    "The valve's heater and end switch share a lead. A relay on the valve's side makes T-T, dry. Find the leads first.",
    (*_SOURCE, *_zones(1, 3), _RELAY, _BOILER),
    (
        Heats(fed((1,)), least=24.0),
        Pulls("relay", _valves(1)),
        Calls(_valves(1)),
        OpensIn("zone1.stat", 80, 95),
        _DRY,
        *_safe(*_ONE),
    ),
    20,
    questions=_leads(1),
)
_W7 = WireUp(
    "W7",
    "three three-wire valves on one common",
    "Three zones whose valves share their common; one relay; one dry T-T. Open or shut, nothing may find a way round.",
    (*_BIG_SOURCE, *_zones(3, 3), _RELAY, _BOILER),
    (
        Heats(fed((1, 2, 3))),
        Pulls("relay", _valves(3)),
        Calls(_valves(3)),
        WholeWithout(fed((1, 2, 3)), "boiler"),
        Burden(fed((1, 2, 3)), ("relay",)),
        _DRY,
        *_safe(*_ONE),
    ),
    25,
    questions=_leads(1, 2, 3),
)
_W8 = WireUp(
    "W8",
    "a heat motor beside a motor valve",
    "Zone 1 has a heat motor, zone 2 a motor with a spring. One T-T for both. Say what VA they come to.",
    (
        *_SOURCE,
        Stat("zone1.stat"),
        Stat("zone2.stat"),
        heat_motor(1, 4),
        SpringReturnValve("zone2.valve", 4),
        _BOILER,
    ),
    (
        Heats(fed((1, 2))),
        Calls(_valves(2)),
        OpensIn("zone1.stat", 70, 140),
        OpensIn("zone2.stat", 6, 25),
        Share(0.8),
        _DRY,
        *_safe(*_ONE),
    ),
    20,
    questions=_leads(1, 2),
)
_W9 = WireUp(
    "W9",
    "one stat, two valves, a pilot relay",
    "Two valves of 0.8 A each on a stat that is made for 1.0 A: let the stat pull a relay and the relay feed the valves. "
    "Start the boiler with the first valve that opens, or with both; write down which.",
    (*_BIG_SOURCE, Stat("zone1.stat"), heat_motor(1, 4), heat_motor(2, 4), Relay("relay"), _BOILER),
    (
        Heats((("zone1.valve", ("zone1.stat",)), ("zone2.valve", ("zone1.stat",)))),
        Level(_valves(2)),
        Calls(_valves(2), mode="either"),
        StatAmps("zone1.stat", 0.2),
        _DRY,
        *_safe(*_ONE),
    ),
    25,
    questions=_leads(1, 2),
)
_W10 = WireUp(
    "W10",
    "a relay for each zone makes the call",
    "Two-wire valves have no end switch. Each zone's relay feeds its valve and with its spare pole calls the boiler.",
    (*_SOURCE, *_zones(2, 2), Relay("zone1.relay", poles=2), Relay("zone2.relay", poles=2), _BOILER),
    (
        Heats(fed((1, 2))),
        Calls((), mode="stat", stats=("zone1.stat", "zone2.stat")),
        StatAmps("zone1.stat", 0.2),
        StatAmps("zone2.stat", 0.2),
        _DRY,
        *_safe(*_ONE),
    ),
    25,
    questions=(
        Choice("travel", "Is it proven here that a valve has opened before the boiler starts?", ("no", "yes"), "no"),
        Choice(
            "remedy",
            "What would be nearer to proof?",
            ("a second fuse", "valves with end switches, or a timer", "a larger transformer"),
            "valves with end switches, or a timer",
        ),
    ),
)
_W11 = WireUp(
    "W11",
    "a primary with several leads on 208 V",
    "The supply is 208 V and switched off. Land the line on the right lead, cap the others one by one, then wire three zones.",
    (
        Transformer(
            "transformer",
            emf=27.5,
            ohms=0.96,
            dc_ohms=0.45,
            va=75.0,
            taps=(120.0, 208.0, 240.0),
            tap=208.0,
            line_volts=208.0,
            line_side=True,
        ),
        Fuse("fuse"),
        *_zones(3, 2),
    ),
    (
        Heats(fed((1, 2, 3))),
        Volts("transformer.R", "transformer.C", 27.0, 28.0),
        Capped(("transformer.P120", "transformer.P240")),
        *_safe(*_ONE),
    ),
    25,
    questions=(
        Reading("open volts", "Volts from R to C without a call", "transformer.R", "transformer.C"),
        Choice("on 240", "208 V on the 240 V lead would give", ("23.8 V", "27.5 V", "47.7 V"), "23.8 V"),
        Choice("on 120", "208 V on the 120 V lead would give", ("23.8 V", "27.5 V", "47.7 V"), "47.7 V"),
    ),
)
_W12 = WireUp(
    "W12",
    "two transformers, commons apart",
    "Four zones are too much for one transformer: two and two, each with its own common, all end switches on one dry T-T.",
    (forty(), Fuse("fuse"), forty("transformer 2"), Fuse("fuse 2"), *_zones(4, 4), _BOILER),
    (
        Heats(fed((1, 2, 3, 4))),
        Calls(_valves(4)),
        Killed(("transformer", "transformer 2"), fed((1, 2, 3, 4)), (2, 2)),
        Apart(("transformer", "transformer 2", "boiler")),
        *_safe(*_TWO),
    ),
    35,
    questions=_leads(1, 2, 3, 4),
)
_W13 = WireUp(
    "W13",
    "hot water first, and a circulator that waits for a valve",
    "Four zones on two transformers as before. While the tank calls, the priority relay takes R from all zones. The circulator "
    "runs on line voltage and only while a valve is proven open; its wires stay in the pump box.",
    (
        forty(),
        Fuse("fuse"),
        forty("transformer 2"),
        Fuse("fuse 2"),
        *_zones(4, 4),
        Stat("tank.stat"),
        Relay("priority relay", poles=2),
        Relay("call relay", poles=2),
        Relay("circulator relay"),
        _BOILER,
        LineFeed("line"),
        Circulator("circulator"),
    ),
    (
        Drops("tank.stat", fed((1, 2, 3, 4))),
        Calls(_valves(4)),
        Runs("circulator", _valves(4)),
        Killed(
            ("transformer", "transformer 2"),
            fed((1, 2, 3, 4)),
            (2, 2),
            boiler="",
            calls=tuple(f"zone{n}.stat" for n in range(1, 5)),
        ),
        Apart(("transformer", "transformer 2", "boiler", "line")),
        Separate(),
        *_safe(*_TWO),
    ),
    45,
    gauges=(14, 18, 20),
    questions=_leads(1, 2),
    enclosures=(
        Enclosure("valve box", ("fuse", "fuse 2", "priority relay", "call relay")),
        Enclosure("pump box", ("line", "circulator", "circulator relay"), barrier=True),
    ),
)
_MOTORS = (SpringReturnValve("zone5.valve", 4), SpringReturnValve("zone6.valve", 4))
_W14 = WireUp(
    "W14",
    "six zones, three kinds of valve, two transformers",
    "Zones 1 and 2 have four-wire heat motors, 3 and 4 three-wire ones, 5 and 6 motors with springs. Two transformers of 75 VA, "
    "one isolation relay, one T-T. The three-wire zones stay on one transformer with the relay.",
    (
        seventy_five(),
        Fuse("fuse"),
        seventy_five("transformer 2"),
        Fuse("fuse 2"),
        *(Stat(f"zone{zone}.stat") for zone in range(1, 7)),
        heat_motor(1, 4),
        heat_motor(2, 4),
        heat_motor(3, 3),
        heat_motor(4, 3),
        *_MOTORS,
        _RELAY,
        _BOILER,
    ),
    (
        Heats(fed(range(1, 7))),
        Calls(_valves(6)),
        Pulls("relay", ("zone3.valve", "zone4.valve")),
        WholeWithout(fed(range(1, 7)), "boiler"),
        Share(0.8),
        Burden(fed(range(1, 7)), ("relay",)),
        Apart(("transformer", "transformer 2", "boiler")),
        *_safe(*_TWO),
    ),
    45,
    questions=_leads(3, 4),
)
_W15 = WireUp(
    "W15",
    "a stat and a lamp",
    "A dry stat and a 24 V lamp on a 40 VA transformer. The stat is only a switch: where do 0 V and full volts stand?",
    (*_SOURCE, Stat("zone1.stat"), Lamp("lamp")),
    (Lights("lamp", "zone1.stat"), *_safe(*_ONE)),
    10,
    questions=(
        Reading("stat idle", "Volts across the stat while it does not call", "zone1.stat.R", "zone1.stat.W"),
        Reading("lamp idle", "Volts across the lamp while the stat does not call", "lamp.A", "lamp.B"),
        Reading("stat calls", "Volts across the stat while it calls", "zone1.stat.R", "zone1.stat.W", ("zone1.stat",)),
        Reading("lamp lit", "Volts across the lamp while the stat calls", "lamp.A", "lamp.B", ("zone1.stat",)),
    ),
)
_W16 = WireUp(
    "W16",
    "two three-wire valves, T-T fed directly",
    "The commonest house: shared commons in one splice, the end switches straight to T-T. One tie, and no second.",
    (
        replace(forty(), emf=27.2, ohms=1.9),
        Fuse("fuse"),
        *_zones(2, 3),
        replace(_BOILER, emf=25.5, input_ohms=118.0),
    ),
    (
        Heats(fed((1, 2))),
        Calls(_valves(2)),
        WholeWithout(fed((1, 2)), "boiler"),
        OneTie("transformer", "boiler"),
        *_safe(*_ONE),
    ),
    20,
    questions=_leads(1, 2),
)

_TASKS = {task.id: task for task in (_W1, _W2, _W3, _W4, _W5, _W6, _W7, _W8, _W9, _W10, _W11, _W12, _W13, _W14, _W15, _W16)}
IDS = tuple(_TASKS)
"""The ids of all wire-ups, in order."""
