"""Questions beside fault-finding of the chapter end-switches: those with a number, and the list of all kinds."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

from ..faults.changes import Bridged, PartField
from ..jobs.questions import Question
from . import end_switch_beliefs, end_switch_verdict_questions
from .asking import Draw, Misreading, chosen, numbered, predicted_reading, questions_of
from .asking_jobs import log_read, next_test
from .end_switches import CHAPTER, PLAN
from .visits import Visit, amps_text, house, ohms_text, visited, volts_text
from .zone_readings import leg_amps, source_volts

__all__ = ["QUESTIONS"]

OPENED = 900.0  # s on call; every valve in order is open by then
RESISTOR_OHMS = 1000.0  # between two commons while phases are compared; common practice
COIL = ("relay.A1", "relay.A2")
SWITCH = ("zone1.valve.EA", "zone1.valve.EB")
T_T = ("boiler.T1", "boiler.T2")


def coil(draw: Draw) -> Question:
    """What a relay's coil draws or presents to alternating current, beside its ohms to a meter."""
    open_valve = (
        visited(house(draw.chance, (1, 2), shapes={"three-wire relay": 1.0}, bars=("50 Hz",))).calling("zone1").waited(OPENED)
    )
    relay = open_valve.world.design.part("relay")
    volts, amps = open_valve.volts(*COIL), open_valve.amps("relay R")
    lifted = open_valve.dead().lifted("relay.A1").ohms(*COIL)
    why = (
        f"{volts:.1f} V drive {amps:.3f} A: {volts / amps:.0f} ohms of impedance. The meter's {lifted:.0f} ohms are its "
        f"copper alone."
    )
    same = {"why": why, "misconception": 9}
    if draw.level == 1 or draw.chance.share("asked") < 0.5:
        return numbered(
            draw,
            "4.5",
            "Valve 1 is open and the isolation relay has pulled in. What impedance does its coil have on this supply?",
            volts / amps,
            "ohms",
            4.0,
            hint="Alternating current knows the coil by volts over amperes, both taken while it is powered.",
            misreadings=[
                Misreading(
                    lifted, "That is what the meter's battery finds: copper, without the iron. What limits alternating current?"
                ),
                Misreading(lifted + volts / amps, "The meter's ohms are in the impedance already. Nothing is to be added."),
                Misreading(24 / amps, "Take the volts that are really there, not those of the nameplate."),
                Misreading(100 * volts * amps, "Volts times amperes are volt-amperes, wherever the point is put."),
            ],
            given=[
                ("volts across the coil", volts_text(volts)),
                ("clamp on the coil's wire, counted once", f"{amps:.3f} A"),
                ("coil lifted, power off", ohms_text(lifted)),
            ],
            **same,
        )
    return numbered(
        draw,
        "4.5",
        "Valve 1 is open and the isolation relay has pulled in. What does a clamp round one coil wire show, ten turns "
        "counted once?",
        amps,
        "A",
        0.01,
        hint="Copper and reactance stand at a right angle: the impedance is the root of the sum of their squares.",
        misreadings=[
            Misreading(
                volts / relay.coil_ohms, "That would be the current on direct volts. What else holds alternating current back?"
            ),
            Misreading(volts / (relay.coil_ohms + relay.reactance), "Copper and reactance do not add as plain numbers."),
            Misreading(volts / relay.reactance, "You have left the copper out."),
            Misreading(math.hypot(relay.coil_ohms, relay.reactance) / volts, "You have divided ohms by volts."),
        ],
        given=[
            ("volts across the coil", volts_text(volts)),
            ("its copper", ohms_text(relay.coil_ohms)),
            ("its reactance on this supply", f"{relay.reactance:.0f} ohms"),
        ],
        **same,
    )


def resistive_switch(draw: Draw) -> Question:
    """Volts across an end switch that is closed and has too many ohms, or from level 2 its ohms from volts and amperes."""
    ohms = draw.chance.between("oxide", 25.0, 400.0)
    design = house(draw.chance, (1, 2), shapes={"four-wire": 1.0}, needs=("heat motor", "own supply"))
    there = visited(design, PartField("zone1.valve", "switch_ohms", ohms)).calling("zone1").waited(OPENED)
    boiler, volts, amps = design.part("boiler"), there.volts(*SWITCH), there.amps("T-T cable A")
    idle = visited(design).volts(*T_T)
    if draw.level == 1 or draw.chance.share("asked") < 0.5:
        rest = boiler.input_ohms + boiler.ohms
        return predicted_reading(
            draw,
            "4.3",
            "Valve 1 alone is open and its end switch is made, through a skin of oxide. What does the meter show across "
            "that switch?",
            there,
            *SWITCH,
            why=f"{idle:.1f} V divide between {ohms:.0f} and {rest:.0f} ohms: {{value}} stand across the contact.",
            hint="The switch and the boiler's input stand one behind the other on the boiler's own volts. Each takes "
            "volts by its ohms.",
            misreadings=[
                Misreading(0.0, "Closed does not mean nought: current through ohms leaves volts across them."),
                Misreading(idle, "Those are the volts across an open switch. This one carries current."),
                Misreading(
                    idle * rest / (ohms + rest), "That is what is left for the boiler's input. The question is for the switch."
                ),
                Misreading(
                    min(idle * ohms / rest, idle - 1.0), "Divide by all the ohms in the loop, the switch's own among them."
                ),
            ],
            given=[
                ("the boiler's T-T, open", volts_text(idle)),
                ("its input and source together", f"{rest:.0f} ohms"),
                ("the end switch, made", f"{ohms:.0f} ohms"),
            ],
            misconception=7,
        )
    return numbered(
        draw,
        "4.3",
        "Valve 1 alone is open and has clicked. How many ohms does its closed end switch have?",
        volts / amps,
        "ohms",
        5.0,
        why=f"{volts:.1f} V over {amps:.3f} A is {volts / amps:.0f} ohms. A sound contact has less than a quarter of an ohm.",
        hint="Put the volts across the switch together with the current that runs through it.",
        misreadings=[
            Misreading(idle / amps, "Those are all the ohms of the loop: the boiler's input is among them."),
            Misreading((idle - volts) / amps, "Those are the boiler's own ohms. Take the volts across the switch."),
            Misreading(0.0, "A contact that leaves volts across it while it carries current has ohms."),
        ],
        given=[
            ("across the switch", volts_text(volts)),
            ("clamp on a T-T conductor, ten turns counted once", f"{amps:.3f} A"),
            ("the boiler's T-T, open", volts_text(idle)),
        ],
    )


def phasing(draw: Draw) -> Question:
    """Volts between the R of two transformers whose commons are joined through a resistor."""
    there, opposed = _compared(draw)
    first, second, across = source_volts(there), source_volts(there, " 2"), there.volts("fuse.out", "fuse 2.out")
    sums = Misreading(first + second, "Opposed sources add up. Are these opposed?")
    differences = Misreading(abs(first - second), "In phase only the difference is left. Are these in phase?")
    return numbered(
        draw,
        "4.7",
        f"The commons of two transformers are joined through {RESISTOR_OHMS:.0f} ohms for a test; nothing else is tied. "
        f"Their phases are {'opposed' if opposed else 'the same'}. What does the meter show from R of one to R of the other?",
        across,
        "V",
        0.5,
        why=f"{first:.1f} and {second:.1f} V {'add up' if opposed else 'leave their difference'}: {across:.1f} V. Either "
        f"way they stay separate.",
        hint="Walk from one R down to its common, across the resistor, and up to the other R. Do the second volts add or "
        "take away?",
        misreadings=[
            sums if not opposed else differences,
            Misreading(first, "That is from R to its own C. The probes stand on two different transformers."),
            Misreading((first + second) / 2, "No halving: nothing shares these volts but the meter."),
        ],
        given=[("R to C at the first", volts_text(first)), ("R to C at the second", volts_text(second))],
        misconception=17,
    )


def phases_told(draw: Draw) -> Question:
    """What a reading between two Rs says, and that neither answer allows tying them."""
    there, opposed = _compared(draw)
    across = there.volts("fuse.out", "fuse 2.out")
    same = {True: "opposed", False: "in phase"}
    right = f"They are {same[opposed]}, and they stay separate."
    wrong = {
        f"They are {same[not opposed]}, and they stay separate.": "Compare the reading with the sum and with the "
        "difference of the two supplies.",
        f"They are {same[opposed]}: {'turn one round and join' if opposed else 'join'} their Rs for more VA.": "Joined supplies "
        "lose their limits, and the one that is switched off is fed backwards to full line volts.",
        "Nothing can be said while their commons are not joined by a wire.": "A resistor is enough for a meter that draws "
        "next to nothing.",
    }
    return chosen(
        draw,
        "4.7",
        f"The commons of two transformers are joined through {RESISTOR_OHMS:.0f} ohms; nothing else is tied. "
        f"From R to R the meter shows {volts_text(across)}. What follows?",
        right,
        wrong,
        why=f"R to C they show {volts_text(source_volts(there))} and {volts_text(source_volts(there, ' 2'))}; "
        f"{volts_text(across)} is their {'sum' if opposed else 'difference'}.",
        hint="In phase leaves the difference of two supplies, opposed gives their sum. What may be done is another question.",
        given=[
            ("R to C at the first", volts_text(source_volts(there))),
            ("R to C at the second", volts_text(source_volts(there, " 2"))),
        ],
        misconception=16,
    )


def _compared(draw: Draw) -> tuple[Visit, bool]:
    opposed = draw.chance.share("phase") < 0.5
    return visited(
        house(draw.chance, (2, 3), shapes={"two sources": 1.0}),
        PartField("transformer 2", "opposed", opposed),
        Bridged("a resistor between the commons", "transformer.C", "transformer 2.C", RESISTOR_OHMS),
    ), opposed


def relay_contacts(draw: Draw) -> Question:
    """Which two of a relay's three contact terminals take T-T, from ohms with the coil dead and pulled in."""
    there = visited(house(draw.chance, (1,), shapes={"three-wire relay": 1.0}))
    names = draw.chance.some("terminals", ["relay.COM", "relay.NO", "relay.NC"], 3)
    rest = there.lifted("relay.COM", "relay.NO")
    pulled = rest.calling("zone1").waited(OPENED)
    pairs = {"1 and 2": (0, 1), "1 and 3": (0, 2), "2 and 3": (1, 2)}
    table = {pair: [visit.ohms(names[a], names[b]) for visit in (rest, pulled)] for pair, (a, b) in pairs.items()}
    right = next(pair for pair, (off, on) in table.items() if math.isinf(off) and not math.isinf(on))
    wrong = {
        pair: "That pair joins while the coil is dead: the boiler would run with nobody calling."
        if not math.isinf(off)
        else "That pair never joins, whatever the coil does."
        for pair, (off, _) in table.items()
        if pair != right
    }
    given = [(f"{pair}, coil dead", ohms_text(off)) for pair, (off, _) in table.items()]
    given += [(f"{pair}, coil pulled in", ohms_text(on)) for pair, (_, on) in table.items() if draw.level == 1 or pair != right]
    return chosen(
        draw,
        "4.5",
        "The contacts of an isolation relay are marked 1, 2 and 3 only, and its T-T wires are lifted. "
        "Between which two terminals do they belong?",
        right,
        wrong,
        why=f"Between {right} there is no path while the coil is dead, and one when it pulls in: that is COM and NO.",
        hint="T-T must be open while nobody calls, and made when the coil pulls in.",
        given=given,
    )


def amps_of_a_call(draw: Draw) -> Question:
    """Amperes in the T-T pair of a boiler with its own supply, when more than one end switch is made."""
    design = house(draw.chance, (2, 3), shapes={"four-wire": 1.0}, needs=("heat motor", "own supply"))
    zones = design.zones[: 1 + int(draw.chance.share("zones") * len(design.zones))]
    there = visited(design).calling(*zones).waited(OPENED)
    boiler, value = design.part("boiler"), there.amps("T-T cable A")
    idle = visited(design).volts(*T_T)
    rest = boiler.input_ohms + boiler.ohms
    count = len(zones)
    return numbered(
        draw,
        "4.2",
        f"End switches in parallel: {count} of {len(design.zones)} {'is' if count == 1 else 'are'} made, zone 1 among them. "
        "What does a clamp round one T-T conductor show, ten turns counted once?",
        value,
        "A",
        0.015,
        why=f"{idle:.1f} V over {rest:.0f} ohms is {amps_text(value)}, however many switches share it.",
        hint="Who limits this current: the switches, or what stands behind the boiler's terminals?",
        misreadings=[
            Misreading(
                value * (count if count > 1 else 3),
                "More switches in parallel do not give more current: one already joins the pair.",
            ),
            Misreading(value / (count if count > 1 else 3), "The switches do not stand one behind the other."),
            Misreading(leg_amps(there), "That is a heater's current. T-T is another circuit with another supply."),
            Misreading(0.0, "A made pair carries what the boiler's input draws."),
        ],
        given=[("the boiler's T-T, open", volts_text(idle)), ("its input and source together", f"{rest:.0f} ohms")],
        misconception=13,
    )


QUESTIONS: Mapping[str, Callable[[str, int], Question]] = questions_of(
    CHAPTER,
    {
        **end_switch_verdict_questions.ASKED,
        "coil ohms and coil amperes": coil,
        "volts across a closed switch": resistive_switch,
        "amperes of a call": amps_of_a_call,
        "NO or NC from readings": relay_contacts,
        "volts between two Rs": phasing,
        "what the phases say": phases_told,
        "answer a belief": end_switch_beliefs.belief,
        "choose the next test": lambda draw: next_test(draw, PLAN),
        "read a log": lambda draw: log_read(draw, PLAN),
    },
)
"""Questions beside fault-finding of the chapter end-switches, by kind."""
