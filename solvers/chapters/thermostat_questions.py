"""Chapter 2, thermostat switching: questions beside fault-finding, each value solved on a drawn house.

Rules and limits: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

from ..circuit import OPEN
from ..faults.changes import Bridged, Change, ConductorField, PartField
from ..jobs.acts import Outcome
from ..jobs.questions import Question
from ..plant import sizing
from .asking import Draw, Misreading, numbered, predicted_reading, questions_of, steps_in_order, told_apart
from .asking_jobs import log_read, next_test
from .thermostat_beliefs import BELIEFS
from .thermostat_sums import anticipator, joint_judged, joint_ohms
from .thermostat_switching import CHAPTER, PLAN
from .visits import Visit, amps_text, house, ohms_text, visited, volts_text

__all__ = ["QUESTIONS"]

C, FUSED = "transformer.C", "fuse.out"
STAT_R, STAT_W = STAT = ("zone1.stat.R", "zone1.stat.W")
RUNS_AMPS = 0.4  # a heater that takes less does not open its valve


def _zones(draw: Draw) -> tuple[int, ...]:
    return (1,) if draw.level == 1 else (1, 2)


def _shown(visit: Visit, function: str, first: str, second: str) -> Outcome:
    return visit.shown({"do": "measure", "function": function, "first": first, "second": second})


def _open(wire: str) -> tuple[Change, ...]:
    return (ConductorField(wire, "ohms", OPEN),)


OPEN_HEATER = (PartField("zone1.valve", "heater_ohms", OPEN),)
OPEN_CONTACT = (PartField("zone1.stat", "contact", "open"),)


def _reading(draw: Draw) -> Question:
    chance = draw.chance
    idle = visited(house(chance, _zones(draw)))
    visits = {"does not call": idle, "calls": idle.calling("zone1")}
    points = {"across stat 1, from R to W": STAT, "from W at stat 1 to C": (STAT_W, C), "from R at stat 1 to C": (STAT_R, C)}
    state, words = chance.among("state", list(visits)), chance.among("points", list(points))
    visit = visits[state]
    misreadings = [
        Misreading(there.volts(*points[words]), "That is the reading with the switch the other way.")
        for name, there in visits.items()
        if name != state
    ]
    misreadings += [
        Misreading(visit.volts(*pair), f"That is what stands {name}. Where are the probes?")
        for name, pair in points.items()
        if name != words
    ]
    closed = "A closed switch keeps no volts: the heater gets them."
    opened = "Through an open switch nothing flows, so the heater loses nothing, W stands at C, and the switch has "
    "all the volts."
    return predicted_reading(
        draw,
        "2.1",
        f"Zone 1 {state}; everything is sound. What will the meter show {words}?",
        visit,
        *points[words],
        why=f"{closed if state == 'calls' else opened} Here the meter shows {{value}}.",
        hint="Draw the loop: R, the switch, the heater, C. Volts stand where the current is stopped, or where it works.",
        misreadings=(*misreadings, Misreading(24.0, "The nameplate's volts are not those of this source, at this load.")),
        given=[
            (f"R to C at the transformer, zone 1 {name}", volts_text(there.volts("transformer.R", C)))
            for name, there in visits.items()
        ],
        within=0.8,
    )


SWITCH_STATES: Mapping[str, tuple[Change, ...]] = {
    "The switch is closed, and carries the call.": (),
    "The switch is open, and the rest of the loop is whole.": OPEN_CONTACT,
    "The supply is gone: nothing can be said of the switch.": (PartField("fuse", "blown", True),),
    "The switch is closed, and the loop is open beyond it.": OPEN_HEATER,
    "The R wire to the stat is open: nothing can be said of the switch.": _open("zone1.R leg"),
}


def _switch(draw: Draw) -> Question:
    design = house(draw.chance, _zones(draw))
    shown = {}
    for words, changes in SWITCH_STATES.items():
        visit = visited(design, *changes).calling("zone1")
        shown[words] = {
            "across stat 1, R to W": _shown(visit, "volts low-Z", *STAT),
            "behind the fuse to C": _shown(visit, "volts low-Z", FUSED, C),
            "R at stat 1 to C": _shown(visit, "volts low-Z", STAT_R, C),
            "clamp on W of zone 1": visit.shown({"do": "clamp", "wire": "zone1.W leg", "turns": 1}),
        }
    return told_apart(
        draw,
        "2.2",
        "Stat 1 is turned up. Volts were read with the low-impedance setting. What can be said of its switch?",
        draw.chance.among("state", list(SWITCH_STATES)),
        shown,
        hint="No volts across a switch have more than one meaning. Look at the source first, then at the current.",
    )


SIDES: Mapping[str, tuple[tuple[Change, ...], ...]] = {
    "Open in the thermostat or at its base.": (OPEN_CONTACT,),
    "Open in the cable between the transformer and the thermostat.": (_open("zone1.R leg"), _open("zone1.W leg")),
    "Open at the valve or behind it.": (OPEN_HEATER,),
}
JUMPERS = {"jumper from R to W at the base": STAT, "jumper from the fuse to the valve's W": (FUSED, "zone1.W splice.2")}


def _heater_lead(visit: Visit) -> str:
    terminal = visit.world.design.part("zone1.valve").drive_pair[0]
    return f"zone1.{terminal.rpartition('.')[2]} lead"


def _jumper_place(draw: Draw) -> Question:
    design = house(draw.chance, _zones(draw))
    shown = {}
    for words, ways in SIDES.items():
        visit = visited(design, *draw.chance.among(f"way {words}", ways)).calling("zone1")
        shown[words] = {
            name: "the zone runs" if visit.jumpered(*pair).amps(_heater_lead(visit)) > RUNS_AMPS else "the zone does not run"
            for name, pair in JUMPERS.items()
        }
    count = {1: 2, 2: 2, 3: 1}[draw.level]
    names = list(JUMPERS)[:count]
    right = draw.chance.among("side", list(SIDES) if count == 2 else list(SIDES)[:1])
    return told_apart(
        draw,
        "2.3",
        "Zone 1 is turned up and does not run; the source is good. A jumper was put on, watched with the clamp, and taken off. "
        "Where is the fault?",
        right,
        {words: {name: readings[name] for name in names} for words, readings in shown.items()},
        hint="A jumper takes the place of all that lies between its clips. Which of it was left out when the zone ran?",
    )


def _jumper_amps(draw: Draw) -> Question:
    chance = draw.chance
    design = house(chance, _zones(draw))
    state = chance.among(
        "state", ("its contact never closes", "its W conductor is broken in the wall", "it is sound and turned down")
    )
    changes = {"its contact never closes": OPEN_CONTACT, "its W conductor is broken in the wall": _open("zone1.W leg")}.get(
        state, ()
    )
    arrived = visited(design, *changes)
    visit = arrived.jumpered(*STAT)
    source, heater = design.part("transformer"), design.part("zone1.valve").heater_ohms
    lead = _heater_lead(visit)
    sound = visited(design).calling("zone1").amps(lead)
    amps = visit.amps(lead)
    return numbered(
        draw,
        "2.3",
        f"Of stat 1 it is known that {state}. What will the clamp show on the lead of heater 1 with a jumper from R "
        "to W at the base?",
        amps,
        "A",
        0.04,
        why=(
            f"The jumper takes the switch's place: {volts_text(source.open_volts)} over source, wires and heater is "
            f"{amps_text(amps)}."
            if amps
            else "The broken conductor lies beyond the jumper, so nothing flows."
        ),
        hint="Draw the loop with the jumper in it. Is there a way round, and what lies in it?",
        misreadings=(
            Misreading(0.0, "Is there really no way round with the jumper on?"),
            Misreading(sound, "Is the loop whole once the jumper is on? Look for what it does not replace."),
            Misreading(source.open_volts / heater, "The heater is not alone in the loop: source and wires lose some volts."),
            Misreading(
                sizing.short_amps(source.open_volts, source.ohms), "That is R to C. From R to W the heater is still in the loop."
            ),
        ),
        given=(("no load", volts_text(source.open_volts)), ("source", ohms_text(source.ohms)), ("heater 1", ohms_text(heater))),
    )


KINDS: Mapping[str, str] = {
    "It lives on cells.": "battery stat",
    "It is fed by a C wire, and switches with a relay.": "C-powered stat",
    "It is fed by a C wire, and switches with a triac.": "triac stat",
    "It has no C wire and lives on the load's current.": "power-stealing stat",
}


def _kind(draw: Draw) -> Question:
    shown = {}
    for words, kind in KINDS.items():
        visit = visited(house(draw.chance, (1,), stats={kind: 1.0}, needs=(kind,)))
        off = visit.dead()
        shown[words] = {
            "across R and W, no call": _shown(visit, "volts", *STAT),
            "across R and W, on a call": _shown(visit.calling("zone1"), "volts", *STAT),
            **{
                f"screen after {seconds:g} s without the transformer": "blank"
                if "blank" in off.waited(seconds).shown({"do": "look", "part": "zone1.stat"}).text
                else "as before"
                for seconds in (20, 120)
            },
        }
    return told_apart(
        draw,
        "2.4",
        "What kind of thermostat is this?",
        draw.chance.among("kind", list(KINDS)),
        shown,
        hint="What does it live on, and for how long after that is gone? How much does its closed switch keep?",
    )


CONDUCTORS: Mapping[str, tuple[Change, ...]] = {
    "The R conductor is open.": _open("zone1.R leg"),
    "The W conductor is open.": _open("zone1.W leg"),
    "The C conductor is open.": _open("zone1.C leg"),
    "R and W are shorted in the cable.": (Bridged("cable short", "zone1.R splice.2", "zone1.W splice.1", 0.5),),
    "The cable is good: the thermostat does not close.": OPEN_CONTACT,
}


def _conductor(draw: Draw) -> Question:
    design = house(draw.chance, _zones(draw), stats={"C-powered stat": 1.0}, needs=("C-powered stat",))
    shown = {}
    for words, changes in CONDUCTORS.items():
        idle = visited(design, *changes)
        visit = idle.calling("zone1")
        shown[words] = {
            "W behind the cable to C, no call": _shown(idle, "volts low-Z", "zone1.W splice.1", C),
            "R to C at the stat": _shown(visit, "volts low-Z", STAT_R, "zone1.stat.C"),
            "R at the stat to C at the transformer, by a long lead": _shown(visit, "volts low-Z", STAT_R, C),
            "W at the stat to C at the transformer, by a long lead": _shown(visit, "volts low-Z", STAT_W, C),
            "W behind the cable to C": _shown(visit, "volts low-Z", "zone1.W splice.1", C),
        }
    return told_apart(
        draw,
        "2.7",
        "Zone 1 does not do as its C-powered thermostat is told. All volts low-impedance, with stat 1 turned up "
        "unless it says otherwise. "
        "What is wrong?",
        draw.chance.among("conductor", list(CONDUCTORS)),
        shown,
        hint="For each conductor compare its two ends. One that is whole has the same volts at both.",
    )


CABLE_STEPS: tuple[tuple[str, str], ...] = (
    ("Switch the transformer off.", "Ohms are read dead; the switch comes first."),
    ("Read no volts between the conductors.", "A switch thrown is no proof. Read it dead before you touch on."),
    ("Lift the conductors at both ends.", "With an end landed, other paths take part in what you read."),
    (
        "Touch the leads together and note their ohms.",
        "What the leads themselves show must be known before anything small is read.",
    ),
    ("Read every pair with the far ends apart.", "A short shows only while nothing joins the far ends."),
    ("Twist the far ends of two conductors together.", "An open conductor shows only once there is a way back."),
    ("Read that pair again.", "Read before you take apart what you read."),
    ("Untwist, land every conductor, and tug.", "Power comes on only with every end where it belongs."),
    ("Switch on and prove the zone.", ""),
)
"""A thermostat cable by ohms, each step with why it comes before those after it. Common practice, no source."""


def _cable_steps(draw: Draw) -> Question:
    words = "A thermostat cable is to be tested with ohms. Put these steps, some of all there are, in order."
    return steps_in_order(
        draw, "2.7", CABLE_STEPS, words, "Dead, proven dead, both ends free; apart for shorts, joined for opens."
    )


QUESTIONS = questions_of(
    CHAPTER,
    {
        "predict a reading": _reading,
        "read a switch": _switch,
        "say where the jumper points": _jumper_place,
        "predict the jumper's amperes": _jumper_amps,
        "set an anticipator": anticipator,
        "turn a drop into ohms": joint_ohms,
        "judge a joint": joint_judged,
        "tell the kind of thermostat": _kind,
        "find the open conductor": _conductor,
        "order the steps of a cable test": _cable_steps,
        "read a log": lambda draw: log_read(draw, PLAN),
        "choose the next test": lambda draw: next_test(draw, PLAN),
        "answer a misconception": lambda draw: draw.chance.among("belief", BELIEFS)(draw),
    },
)
"""Kinds of question by name, each from a seed and a level."""
