"""Questions of the chapter service-calls that ask for a verdict: sag or trunk, which zones, whose work, a belief."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

from ..circuit import OPEN
from ..faults.catalogue import rows
from ..faults.changes import Bridged, Change, Exchanged, Joint, PartField
from ..jobs.handling import TRADES
from ..jobs.questions import Question
from ..plant.parts import Transformer
from ..plant.wiring import Installation
from .asking import Draw, chosen, refuted
from .chance import Chance
from .complaints import ROOMS
from .houses import REGULATION
from .visits import Visit, amps_text, house, visited, volts_text
from .zone_readings import heater_volts, leg_amps, number, seconds_to, source_volts

__all__ = ["ASKED"]

FOUR_WIRE = {"four-wire": 1.0}
PLAIN = ("50 Hz", "internal limit", "breaker", "one-shot", "several taps", "grounded")

STAGED: Mapping[str, tuple[str, str]] = {
    "overload": (
        "The transformer is too small for so many: its own volts fall with each zone.",
        "Too small a transformer shows at its own screws. Do its volts fall as much as the heater's?",
    ),
    "trunk": (
        "A bad joint in the conductor that all zones share: the heater loses volts that the transformer still has.",
        "A bad shared joint takes volts between transformer and heater, and more with each zone. Does the gap grow?",
    ),
    "leg": (
        "A bad joint in zone 1 alone: the gap is there with one call and hardly grows.",
        "A bad joint in one zone's own leg carries that zone's current alone. Is the gap there on the first line?",
    ),
    "line": (
        "Too few volts come in: they are low with nobody calling.",
        "Low line volts show before anybody calls. What does the first line say?",
    ),
    "healthy": (
        "Nothing is wrong: a little sag with each zone belongs to every transformer.",
        "Some sag is normal, and a heater well below 20 volts is not. Look at the last line.",
    ),
}


def staged(draw: Draw) -> Question:
    """Overload, trunk, one leg, line volts or nothing wrong, from readings at both ends while zones are added."""
    kind = draw.chance.among("kind", tuple(STAGED))
    design = house(draw.chance, (3, 4), shapes=FOUR_WIRE, needs=("heat motor",), bars=PLAIN)
    there = visited(design, *_staged_changes(draw.chance, design, kind))
    given = [("nobody calling", f"transformer {volts_text(source_volts(there))}")]
    for count, zone in enumerate(design.zones, 1):
        there = there.calling(zone)
        given.append(
            (f"{count} on call", f"transformer {volts_text(source_volts(there))}, heater 1 {volts_text(heater_volts(there))}")
        )
    right, _ = STAGED[kind]
    top = source_volts(there) - heater_volts(there)
    return chosen(
        draw,
        "5.3",
        f"Zones are called one after another; the transformer's nameplate says "
        f"{there.world.installation.part('transformer').va:.0f} VA. "
        "What do the readings show?",
        right,
        {words: hint for name, (words, hint) in STAGED.items() if name != kind},
        why=f"{right} With all on call {volts_text(top)} are lost between transformer and heater 1.",
        hint="Read down each column, then across: does the transformer fall, or does the gap to the heater grow?",
        given=given,
        misconception=14,
    )


def _staged_changes(chance: Chance, design: Installation, kind: str) -> tuple[Change, ...]:
    roomy = _nameplate(design, 100.0, chance)
    match kind:
        case "overload":
            return (*_nameplate(design, 30.0 if len(design.zones) == 3 else 40.0, chance), PartField("fuse", "amps", 5.0))
        case "trunk":
            return (*roomy, Joint("C bus", "trunk", chance.between("ohms", 3.0, 5.0)))
        case "leg":
            return (*roomy, Joint("zone1.W splice", "2", chance.between("ohms", 9.0, 14.0)))
        case "line":
            return (*roomy, PartField("transformer", "line_volts", chance.between("line", 95.0, 101.0)))
    return roomy


def _nameplate(design: Installation, va: float, chance: Chance) -> tuple[Change, ...]:
    drawn = design.part("transformer")
    sized = Transformer.from_nameplate(drawn.name, va, regulation=chance.between("regulation", *REGULATION[va]))
    return tuple(PartField(drawn.name, name, getattr(sized, name)) for name in ("va", "emf", "ohms"))


def which_zones(draw: Draw) -> Question:
    """Two zones whose wires are exchanged or tied, or one whose heater is open, from single calls."""
    design = house(draw.chance, (3,), shapes=FOUR_WIRE, needs=("heat motor",), bars=PLAIN)
    one, other = sorted(draw.chance.some("zones", design.zones, 2))
    kind = draw.chance.among("kind", ("exchanged", "tied", "dead"))
    changes: Mapping[str, Change] = {
        "exchanged": Exchanged(f"{one}.W splice.1", f"{other}.W splice.1"),
        "tied": Bridged("wire between two W", f"{one}.W splice.2", f"{other}.W splice.2"),
        "dead": Joint(f"{one}.W splice", "2", OPEN),
    }
    there = visited(design, changes[kind])
    calls = [(f"thermostat {number(zone)} alone turned up", _across(there.calling(zone))) for zone in design.zones]
    pairs = [("zone1", "zone2"), ("zone1", "zone3"), ("zone2", "zone3")]
    words = {(kind, pair): _zones_words(kind, pair) for kind in ("exchanged", "tied") for pair in pairs}
    dead = {zone: f"The loop of zone {number(zone)} is open." for zone in design.zones}
    right = dead[one] if kind == "dead" else words["exchanged" if kind == "exchanged" else "tied", (one, other)]
    silent = "An open loop leaves its heater without volts, whoever calls. Is there a line in which this heater gets some?"
    hints = {text: _zones_hint(what) for (what, _), text in words.items()} | dict.fromkeys(dead.values(), silent)
    asked = draw.chance.some("choices", [text for text in hints if text != right], 4)
    return chosen(
        draw,
        "5.2",
        f"The customer complains of zone {number(draw.chance.among('complaint', (one, other)))}. Each thermostat is "
        f"turned up alone, "
        "and volts are read across every heater. What is found?",
        right,
        {text: hints[text] for text in asked},
        why=f"{right} {'; '.join(f'{who}: {told}' for who, told in calls)}.",
        hint="Go line by line: who calls, and who gets volts? The zone that is complained of need not be the one at fault.",
        given=calls,
        misconception=28,
    )


def _across(there: Visit) -> str:
    return ", ".join(f"heater {number(zone)} {volts_text(heater_volts(there, zone))}" for zone in there.world.design.zones)


def _zones_words(kind: str, pair: tuple[str, str]) -> str:
    one, other = map(number, pair)
    if kind == "exchanged":
        return f"The W wires of zones {one} and {other} are exchanged."
    return f"The W wires of zones {one} and {other} are tied together."


def _zones_hint(kind: str) -> str:
    if kind == "exchanged":
        return "Exchanged wires send each call to the other's heater, and only there. Is it so for these two?"
    return "Tied wires give both heaters volts whichever of the two calls. Is it so for these two?"


YOURS = "you, with what this course has taught"
HANDED_OVER = (
    "SP-02",
    "SP-11",
    "SP-13",
    "SP-15",
    "SP-16",
    "MZ-16",
    "ES-18",
    "MZ-09",
    "HL-25",
    "MZ-15",
    "ES-19",
    "ES-20",
    "ES-21",
)
KEPT = ("HL-09", "TS-08", "ES-07", "MZ-05", "HL-24", "TS-12", "MZ-01", "HL-08", "ES-02")
ALARMS = (
    "The customer smells gas in the boiler room.",
    "An alarm for carbon monoxide sounds as you come in.",
)
"""What nobody stays in a house for. Common practice, no source."""

NOT_FOR: Mapping[str, str] = {
    "licensed electrician": "An electrician is asked for line voltage: feeds, panels and boxes. Is line voltage in it?",
    "boiler technician": "The boiler's technician begins behind the T-T terminals. Is the trouble inside the boiler?",
    "plumber": "A plumber is asked for pipes and what stands in them. Is it the water's side?",
    "gas fitter": "A gas fitter is asked for the gas train once the place is known to be safe. Is that so?",
    "heating designer": "A designer decides how a system is laid out. Does this one only need its repair?",
    "emergency service": "Emergency services are for danger to life at this moment. Is there any?",
    YOURS: "Is there line voltage, water, fuel or the inside of an appliance in it? Then it is not for these hands.",
}


def whose_work(draw: Draw) -> Question:
    """Whose work it is from here: the learner's own, or somebody's who is licensed for it."""
    chance = draw.chance
    part = chance.share("part")
    if part < 0.12:
        told, right, why = (
            chance.among("alarm", ALARMS),
            "emergency service",
            "Touch no switch, everybody out, and call from outside.",
        )
    else:
        row = chance.among("row", rows(*(HANDED_OVER if part < 0.7 else KEPT)))
        room = chance.among("room", ROOMS)
        told = f"The customer says: \u201c{row.complaint.format(room=room)}\u201d You find: {_found(row.noticed)}"
        right, why = row.refer or YOURS, row.repair
    wrong = [name for name in (*TRADES, YOURS) if name != right]
    offered = chance.some("offered", wrong, 4)
    if right != YOURS and YOURS not in offered:
        offered[-1] = YOURS
    return chosen(
        draw,
        "5.6",
        f"{told} Who takes it from here?",
        right,
        {name: NOT_FOR[name] for name in offered},
        why=f"{why[0].upper()}{why[1:]} That is for: {right}.",
        hint="Ask what is in it: line voltage, water under pressure, fuel, the inside of the boiler, or 24 volts.",
        misconception=29 if right in ("emergency service", "licensed electrician") else 0,
    )


def _found(noticed: str) -> str:
    return f"{noticed[0].lower()}{noticed[1:]}"


def belief(draw: Draw) -> Question:
    """One true reading among three that a common belief about whole houses cannot be squared with."""
    asked = {14: _how_many, 15: _bigger_fuse, 16: _side_by_side, 26: _new_part, 28: _complained_of}
    which = draw.chance.among("belief", tuple(asked))
    shape = "two sources" if which == 16 else "four-wire"
    design = house(draw.chance, (4,), shapes={shape: 1.0}, needs=("heat motor",), bars=PLAIN)
    right, wrong, why = asked[which](draw.chance, design)
    return refuted(draw, which, right, wrong, why=why)


FITS = "That is just what they would expect. It cannot change their mind."
Told = tuple[str, dict[str, str], str]


def _how_many(chance: Chance, design: Installation) -> Told:
    there = visited(design, *_nameplate(design, 40.0, chance), PartField("fuse", "amps", 5.0))
    one, every = there.calling("zone1"), there.calling(*design.zones)
    return (
        f"The heater of valve 1 has {volts_text(heater_volts(one))} when its zone calls alone, and "
        f"{volts_text(heater_volts(every))} with all four.",
        {
            f"The heater of valve 1 has {volts_text(heater_volts(one))} when its zone calls alone.": FITS,
            f"With nobody calling the transformer shows {volts_text(source_volts(there))}.": FITS,
        },
        "All zones draw on one transformer, and each ampere takes volts from every one of them.",
    )


def _bigger_fuse(chance: Chance, design: Installation) -> Told:
    there = visited(design, *_nameplate(design, 40.0, chance), PartField("fuse", "amps", 5.0))
    every = there.calling(*design.zones)
    amps, rated = every.amps("R feed"), 40.0 / there.world.installation.part("transformer").rated_volts
    short = visited(design, PartField("zone1.valve", "heater_ohms", 0.8)).calling("zone1").waited(60.0)
    return (
        f"Behind a 5 A fuse, whole, four zones draw {amps_text(amps)} from a transformer that is made for {amps_text(rated)}.",
        {
            f"Behind a 5 A fuse one zone draws {amps_text(leg_amps(there.calling('zone1')))}, and all is well.": FITS,
            f"A minute after a call on a shorted head {volts_text(source_volts(short))} are left behind the usual fuse.": FITS,
        },
        "The bigger fuse is content, and the windings carry more than they are made for.",
    )


def _side_by_side(chance: Chance, design: Installation) -> Told:
    tied = visited(
        design,
        Bridged("wire from R to R", "transformer.R", "transformer 2.R"),
        Bridged("wire from C to C", "transformer.C", "transformer 2.C"),
    ).dead()
    back = tied.shown({"do": "line reading", "part": "transformer", "what": "primary volts"}).text
    apart = visited(design)
    return (
        f"Two transformers are joined, R to R and C to C, and the first is switched off. At its primary: {back}",
        {
            f"Two transformers stand apart, and they show {volts_text(source_volts(apart))} and "
            f"{volts_text(source_volts(apart, ' 2'))}.": FITS,
            f"With zone 1 on call the first transformer shows {volts_text(source_volts(apart.calling('zone1')))}.": FITS,
        },
        "The one that is on feeds the other backwards: line volts stand in a box that everybody takes for dead.",
    )


def _new_part(chance: Chance, design: Installation) -> Told:
    ohms = chance.between("joint", 9.0, 14.0)
    before = visited(design, Joint("zone1.W splice", "2", ohms)).calling("zone1")
    after = visited(design).calling("zone1")
    old, new = volts_text(heater_volts(before)), volts_text(heater_volts(after))
    slow, quick = _click(before), _click(after)
    return (
        f"The new head had {new} across it. The old head is put back on the same, freshly made joint: it has {new} and {quick}.",
        {
            f"The old head had {old} across it and {slow}; the new one has {new} and {quick}.": FITS,
            f"The new head draws {amps_text(leg_amps(after))} and {quick}.": FITS,
        },
        f"Fitting the head remade a joint of {ohms:.1f} ohms. That was the cure, and the old head was good.",
    )


def _click(call: Visit) -> str:
    seconds = seconds_to(call, "valve 1 clicks")
    return "never clicks" if math.isinf(seconds) else f"clicks after {seconds:.0f} s"


def _complained_of(chance: Chance, design: Installation) -> Told:
    crossed = visited(design, Exchanged("zone1.W splice.1", "zone2.W splice.1"))
    dead = visited(design, PartField("zone1.valve", "heater_ohms", OPEN)).calling("zone1")
    first, second = crossed.calling("zone1"), crossed.calling("zone2")
    return (
        f"They complain of zone 1. Thermostat 1 gives heater 2 {volts_text(heater_volts(first, 'zone2'))}, "
        f"and thermostat 2 gives heater 1 {volts_text(heater_volts(second))}.",
        {
            f"They complain of zone 1. On its call its heater has {volts_text(heater_volts(dead))} and draws "
            f"{amps_text(leg_amps(dead))}.": FITS,
            f"They complain of zone 1. On its call heater 1 has {volts_text(heater_volts(first))}.": FITS,
        },
        "Each zone is whole, and two wires stand in each other's place. The complaint names a room, not a fault.",
    )


ASKED: Mapping[str, Callable[[Draw], Question]] = {
    "sag or trunk": staged,
    "which zones": which_zones,
    "whose work it is": whose_work,
    "answer a belief": belief,
}
"""How each kind is asked."""
