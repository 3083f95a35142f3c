"""Questions of the chapter end-switches that ask for a verdict: whose volts, which lead, how joined, which one, which side."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping, Sequence

from ..circuit import OPEN
from ..faults.changes import Bridged, Change, ConductorField, Landed, PartField, Removed
from ..jobs.questions import Question
from .asking import Draw, chosen, several
from .visits import Visit, house, ohms_text, visited, volts_text
from .zone_readings import number

__all__ = ["ASKED"]

APART = 5.0  # V by which an open T-T differs from one that is made
OPENED = 900.0  # s on call; every valve in order is open by then
T_T = ("boiler.T1", "boiler.T2")
FIELD = ("boiler.T1 lead", "boiler.T2 lead")
FOUR_WIRE = {"four-wire": 1.0}

SOURCES: Mapping[str, tuple[str, tuple[Change, ...], str]] = {
    "own": (
        "The boiler's own alternating volts; the field is dry.",
        (),
        "Who shows alternating volts with both wires lifted: the boiler, the field, both or neither?",
    ),
    "board": (
        "Direct volts that the boiler's board sends out; the field is dry.",
        (PartField("boiler", "input", "board-sensed"),),
        "Look at the DC column: does the boiler's side show anything there?",
    ),
    "none": (
        "Nobody's, as it stands: what the boiler wants must be read on its sheet before anything is joined.",
        (PartField("boiler", "input", "fed from outside"),),
        "There are volts on one side at least. Look again at AC and DC.",
    ),
    "both": (
        "Both sides are live: two supplies that must not be joined.",
        (Landed("T-T cable S", "a", "R bus.fuse"),),
        "A field pair that joins nothing but a closed switch shows no volts. Does this one?",
    ),
}


def whose_volts(draw: Draw) -> Question:
    """Whose volts stand on T-T, from AC and DC on both sides of the lifted pair while the valve is open."""
    kind = draw.chance.among("kind", tuple(SOURCES))
    design = house(draw.chance, (1, 2), shapes={"three-wire direct": 1.0})
    there = visited(design, *SOURCES[kind][1]).lifted(*T_T).calling("zone1").waited(OPENED)
    sides = (("boiler's terminals", T_T), ("field pair", FIELD))
    functions = (("AC", "volts"), ("DC", "volts DC"))
    right, _, _ = SOURCES[kind]
    return chosen(
        draw,
        "4.1",
        "Both T-T wires are lifted at the boiler, and valve 1 has been driven open. Whose volts are on T-T?",
        right,
        {words: hint for name, (words, _, hint) in SOURCES.items() if name != kind},
        why=f"{right} That is read before anything is connected, on both sides, AC and DC.",
        hint="Read each side by itself. A closed end switch alone gives no volts.",
        given=[
            (f"{side}, {name}", volts_text(there.volts(*pair, function))) for side, pair in sides for name, function in functions
        ],
        misconception=21,
    )


BARE = 5  # valves on the bench


def leads(draw: Draw) -> Question:
    """The three leads of five unmarked valves, from ohms cold and with the switch made; some were read cold only."""
    cold_only = set(draw.chance.some("cold", list(range(BARE)), draw.level - 1))
    right, wrong, given = [], {}, []
    for place in range(BARE):
        design = house(draw.again(place), (1,), shapes={"three-wire direct": 1.0}, needs=("heat motor",))
        valve = PartField("zone1.valve", "opener", "by hand, makes the switch")
        bare = visited(design, valve).dead().lifted("zone1.valve.H", "zone1.valve.S", "zone1.valve.E")
        order = draw.again(place).some("leads", ["H", "S", "E"], 3)
        held = bare.after({"do": "opener", "valve": "zone1.valve", "engaged": True})
        name = f"valve {'ABCDE'[place]}"
        given.append((f"{name}, cold", _three_ohms(bare, order)))
        if place not in cold_only:
            given.append((f"{name}, switch held made", _three_ohms(held, order)))
        h, s, e = (order.index(lead) + 1 for lead in "HSE")
        known, swapped = f"{name}: H is {h}, S is {s}, E is {e}", f"{name}: H is {s}, S is {h}, E is {e}"
        half = f"{name}: E is {e}; H and S cannot be told yet"
        if place in cold_only:
            right.append(half)
            wrong[known] = "Read cold, two of the three leads look alike. Nothing has told them apart yet."
            wrong[f"{name}: no lead can be told yet"] = (
                "One lead shows no path to either of the others while the switch is open. That names it."
            )
        else:
            right.append(known)
            wrong[swapped] = "With the switch made, the low reading is from the switch's lead to the shared one."
            wrong[f"{name}: H is {e}, S is {s}, E is {h}"] = (
                "Cold, the heater's two leads show a few tens of ohms to each other. Which lead shows no path?"
            )
    return several(
        draw,
        "4.4",
        "Five valves with three unmarked leads lie on the bench: H for the heater, S shared, E for the end switch. "
        "Mark the line that is proven for each of them.",
        right,
        wrong,
        why="Cold, the lead without a path is E. With the switch made, E and S join, and E to the far end of the heater is H.",
        hint="First the cold reading: which lead has no path? Then the reading with the switch made: which lead did it join?",
        given=given,
    )


def _three_ohms(visit: Visit, order: Sequence[str]) -> str:
    told = []
    for (one, first), (other, second) in itertools.combinations(enumerate(order, 1), 2):
        told.append(f"{one} to {other}: {ohms_text(visit.ohms(f'zone1.valve.{first}', f'zone1.valve.{second}'))}")
    return ", ".join(told)


JOINED: Mapping[str, tuple[str, tuple[Change, ...], str]] = {
    "parallel": ("Side by side, as they should be.", (), "Side by side, either zone alone closes T-T. Does it?"),
    "series": (
        "One behind the other, so that it takes both.",
        (Landed("zone1.EB leg", "b", "zone2.valve.EA"), Removed("zone2.EA leg")),
        "One behind the other, T-T closes only when both are open. Does a single zone close it?",
    ),
    "first missing": (
        "The switch of valve 1 never closes T-T: open, or not landed.",
        (Removed("zone1.EA leg"),),
        "Look at the line for zone 1 alone. Is it 1 that fails to close T-T?",
    ),
    "second missing": (
        "The switch of valve 2 never closes T-T: open, or not landed.",
        (PartField("zone2.valve", "switch", "open"),),
        "Look at the line for zone 2 alone. Is it 2 that fails to close T-T?",
    ),
    "made": (
        "Something closes T-T whether anybody calls or not.",
        (PartField("zone2.valve", "switch", "welded"),),
        "Look at the line with nobody calling. Is T-T closed there?",
    ),
}


def how_joined(draw: Draw) -> Question:
    """How two end switches are joined, from T-T volts with neither, one, the other and both of the valves open."""
    kind = draw.chance.among("kind", tuple(JOINED))
    there = visited(house(draw.chance, (2,), shapes=FOUR_WIRE, needs=("heat motor", "own supply")), *JOINED[kind][1])
    calls = {"nobody": (), "zone 1 alone": ("zone1",), "zone 2 alone": ("zone2",), "both zones": ("zone1", "zone2")}
    given = [
        (f"T-T with {who} calling", volts_text(there.calling(*zones).waited(OPENED).volts(*T_T))) for who, zones in calls.items()
    ]
    right, _, _ = JOINED[kind]
    return chosen(
        draw,
        "4.2",
        "Two zones are driven open one at a time and together, and each time T-T is read at the boiler. How do their end "
        "switches stand?",
        right,
        {words: hint for name, (words, _, hint) in JOINED.items() if name != kind},
        why=f"{right} Side by side any one open valve must start the boiler, and each is proven alone.",
        hint="Volts on T-T mean that it is open, next to none that it is made. Then go through the four lines.",
        given=given,
    )


def which_is_welded(draw: Draw) -> Question:
    """Which end switch is welded, from T-T volts while one lead after another is lifted and landed again."""
    design = house(draw.chance, (3, 4) if draw.level > 1 else (2, 3), shapes=FOUR_WIRE, needs=("heat motor", "own supply"))
    cable = draw.chance.share("cable") < 0.2
    culprit = draw.chance.among("culprit", design.zones)
    twin = (
        draw.chance.among("twin", [zone for zone in design.zones if zone != culprit])
        if draw.level == 3 and not cable and draw.chance.share("twins") < 0.6
        else ""
    )
    changes: list[Change] = [PartField(f"{zone}.valve", "switch", "welded") for zone in (culprit, twin) if zone and not cable]
    if cable:
        changes = [Bridged("short in the T-T cable", *T_T, belongs="T-T cable")]
    there = visited(design, *changes)
    made = there.volts(*T_T)
    given, left, last = [("T-T, nobody calling", volts_text(made))], there, ""
    for zone in design.zones:
        left = left.lifted(f"{zone}.valve.EA") if twin else there.lifted(f"{zone}.valve.EA")
        volts = left.volts(*T_T)
        last = zone if volts > APART + made and not last else last
        given.append((f"EA of valve {number(zone)} lifted", volts_text(volts)))
    names = {zone: f"The end switch of valve {number(zone)} is welded." for zone in design.zones}
    none, more = (
        "No switch: what joins T-T lies beyond all these leads.",
        "At least the last one whose lifting counted is welded; others before it may be.",
    )
    right = none if cable else more if twin else names[culprit]
    hints = {words: f"What did lifting the lead of valve {number(zone)} do to T-T?" for zone, words in names.items()}
    wrong = {
        **hints,
        none: "Some lifting did open T-T. The path went through a switch.",
        more: "Each lead was landed again before the next. What does that tell?",
    }
    if twin:
        wrong |= dict.fromkeys(
            names.values(), "The leads lifted before stayed lifted. One line cannot clear the switches above it."
        )
    elif cable:
        wrong[more] = "Did any lifting change the reading at all?"
    how = "The leads stay lifted" if twin else "Each lead is landed again before the next"
    told = f"T-T opens at valve {number(last)}." if last else "No lifting opened T-T."
    return chosen(
        draw,
        "4.3",
        f"The boiler runs and nobody calls. One EA lead after another is lifted. {how}. What is proven?",
        right,
        {words: hint for words, hint in wrong.items() if words != right},
        why=f"{told} {right}",
        hint="T-T shows next to nothing while any path joins it, and the boiler's volts once none does.",
        given=given,
        misconception=20,
    )


SIDES: Mapping[str, tuple[str, tuple[Change, ...], str]] = {
    "switch": (
        "On the valve side: the end switch of valve 1 or its leads.",
        (PartField("zone1.valve", "switch", "open"),),
        "What did the boiler do when the jumper was put on at the field end?",
    ),
    "cable": (
        "In the T-T cable between the splice and the boiler.",
        (ConductorField("T-T cable A", "ohms", OPEN),),
        "Did the two jumpers differ? The cable lies between them and nothing else does.",
    ),
    "input": (
        "Behind the boiler's T-T terminals: work for a boiler technician.",
        (PartField("boiler", "input_sound", False),),
        "Did a jumper on the boiler's own terminals start it?",
    ),
    "limit": (
        "Behind the boiler's T-T terminals: work for a boiler technician.",
        (PartField("boiler", "safety", "high limit"),),
        "Did a jumper on the boiler's own terminals start it?",
    ),
    "supply": (
        "Behind the boiler's T-T terminals: work for a boiler technician.",
        (PartField("boiler", "dead", True),),
        "Did a jumper on the boiler's own terminals start it?",
    ),
}


def which_side(draw: Draw) -> Question:
    """Where the boiler's side ends, from what a momentary jumper does at its terminals and at the far end of the cable."""
    kind = draw.chance.among("kind", tuple(SIDES))
    design = house(draw.chance, (1, 2), shapes=FOUR_WIRE, needs=("heat motor", "own supply"))
    there = visited(design, *SIDES[kind][1]).calling("zone1").waited(OPENED)
    given = [("T-T at the boiler, valve 1 open", volts_text(there.volts(*T_T)))]
    for where, pair in (("at the boiler's terminals", T_T), ("at the far end of its cable", ("EA bus.T-T", "EB bus.T-T"))):
        on = there.jumpered(*pair)
        given.append((f"T-T at the boiler, jumper {where}", volts_text(on.volts(*T_T))))
        given.append(
            (f"and the boiler {where.replace('at ', 'jumpered at ', 1)}", on.shown({"do": "listen", "part": "boiler"}).text)
        )
    right, _, _ = SIDES[kind]
    bypass = "Somewhere among the limits: jumper them one by one until it fires."
    return chosen(
        draw,
        "4.6",
        "Zone 1 calls, its valve has opened, and the boiler stays off. A jumper is held on two places for a moment. Where "
        "is the trouble?",
        right,
        {words: hint for words, _, hint in SIDES.values() if words != right}
        | {bypass: "Nobody jumpers a limit or a safety. Where T-T is made and nothing answers, your side ends."},
        why=f"{right} The jumper comes off again and is counted back.",
        hint="A jumper at the terminals asks the boiler. The same jumper at the far end asks the cable as well.",
        given=given,
    )


ASKED: Mapping[str, Callable[[Draw], Question]] = {
    "whose volts are on T-T": whose_volts,
    "identify three leads": leads,
    "how the switches are joined": how_joined,
    "which switch is welded": which_is_welded,
    "where the boiler's side begins": which_side,
}
"""How each kind is asked."""
