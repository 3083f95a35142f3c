"""Chapter 2, thermostat switching: what people believe of stats and wires, and readings of a drawn house that end it."""

from __future__ import annotations

from ..faults.changes import Joint, PartField, Spare
from ..jobs.questions import Question
from ..plant import facts, sizing
from .asking import Draw, refuted
from .visits import amps_text, house, ohms_text, visited, volts_text

__all__ = ["BELIEFS"]

R, C, FUSED = "transformer.R", "transformer.C", "fuse.out"
STAT_R, STAT_W = STAT = ("zone1.stat.R", "zone1.stat.W")
BLANK_AFTER_S = 120.0


def _none_means_closed(draw: Draw) -> Question:
    design = house(draw.chance, (1, 2))
    sound, blown = visited(design), visited(design, PartField("fuse", "blown", True))
    on_call = sound.calling("zone1")
    return refuted(
        draw,
        2,
        f"With the fuse out and stat 1 turned down, across stat 1 the meter shows {volts_text(blown.volts(*STAT))}.",
        {
            f"With stat 1 turned up, across it the meter shows {volts_text(on_call.volts(*STAT))}.": "There it is closed indeed.",
            f"With stat 1 turned down, across it the meter shows {volts_text(sound.volts(*STAT))}.": "Volts show an open switch. "
            "The belief is about none.",
            f"With stat 1 turned up, the clamp on W shows {amps_text(on_call.amps('zone1.W leg'))}.": "A current shows a closed "
            "switch; it says nothing of what no volts mean.",
        },
        why="The switch is open and there is still nothing across it: there is no source. None means closed, or no "
        "source; read the "
        f"source too ({volts_text(blown.volts(FUSED, C))} behind the fuse).",
    )


def _stat_sends(draw: Draw) -> Question:
    design = house(draw.chance, (1, 2))
    sound = visited(design)
    visit = sound.calling("zone1").lifted(STAT_R)
    return refuted(
        draw,
        3,
        f"With stat 1 turned up and its R wire lifted, W to C shows "
        f"{volts_text(visit.volts(STAT_W, C, 'volts low-Z'))}, low-impedance.",
        {
            f"With stat 1 turned up, W to C shows {volts_text(sound.calling('zone1').volts(STAT_W, C))}.": "So it would if the "
            "stat made the volts, too.",
            f"With stat 1 turned down, W to C shows {volts_text(sound.volts(STAT_W, C))}.": "So it would if the stat "
            "had stopped sending.",
            f"On a call, across stat 1 the meter shows {volts_text(sound.calling('zone1').volts(*STAT))}.": "Somebody "
            "who believes it will say the volts are all sent on.",
        },
        why=f"Nothing comes out when nothing goes in: on the lifted wire itself there are "
        f"{volts_text(visit.volts(STAT_R + ' lead', C))}. "
        "The thermostat is a switch between R and W.",
    )


def _wears_off(draw: Draw) -> Question:
    idle = visited(house(draw.chance, (1,)))
    visit, leg = idle.calling("zone1"), ("zone1.R splice.2", STAT_R)
    return refuted(
        draw,
        5,
        f"Along the R leg, with nobody calling, the meter shows {volts_text(idle.volts(*leg))}.",
        {
            f"Along the R leg, on a call, the meter shows {volts_text(visit.volts(*leg))}.": "A drop along the wire "
            "is what the belief "
            "expects.",
            f"R at the stat to C, on a call, shows {volts_text(visit.volts(STAT_R, C))}.": "Fewer volts at the far "
            "end is what the belief "
            "expects.",
            f"R to C at the transformer, on a call, shows {volts_text(visit.volts(R, C))}.": "That is before the wire begins.",
        },
        why=f"The same wire drops {volts_text(visit.volts(*leg))} at {amps_text(visit.amps('zone1.W leg'))} and "
        "nothing without current: "
        "volts are current times ohms.",
    )


def _ghost(draw: Draw) -> Question:
    design = house(draw.chance, (1,))
    visit = visited(design, Spare("zone1.spare", "zone1 stat cable"))
    spare = next(point for point in _points(visit) if "spare" in point)
    heater = design.part("zone1.valve").heater_ohms
    plain, loaded = visit.volts(spare, C), visit.volts(spare, C, "volts low-Z")
    return refuted(
        draw,
        19,
        f"With the low-impedance setting the loose wire shows {volts_text(loaded)} to C.",
        {
            f"With the usual setting the loose wire shows {volts_text(plain)} to C.": "That is the reading that the "
            "belief rests on.",
            f"R to C shows {volts_text(visit.volts(R, C))}.": "The source is good. What can the loose wire give?",
            f"Heater 1 has {ohms_text(heater)}.": "That tells what a heater needs, not what this wire can give.",
        },
        why=f"A few kilohms in the meter pull it from {volts_text(plain)} to {volts_text(loaded)}: it is coupled "
        "across the insulation and "
        f"gives microamperes. Heater 1 takes {amps_text(visit.calling('zone1').amps('zone1.W leg'))}.",
    )


def _points(visit) -> tuple[str, ...]:
    return tuple(visit.world.installation.terminals)


def _cells(draw: Draw) -> Question:
    chance = draw.chance
    design = house(chance, (1,), stats={"battery stat": 1.0}, needs=("battery stat",))
    rest = chance.between("rest", facts.CELLS_REST_VOLTS.low, 3.1)
    pulse = chance.between("pulse", facts.CELLS_BLANK_VOLTS.value + 0.1, facts.CELLS_DROP_VOLTS.low)
    changes = (PartField("zone1.stat", "cells_rest_volts", rest), PartField("zone1.stat", "cell_volts", pulse))
    weak, sound = visited(design, *changes), visited(design).calling("zone1")
    called = weak.calling("zone1")
    return refuted(
        draw,
        22,
        f"While the relay is pulsed the same cells fall to {pulse:.1f} V, and the clamp on W shows "
        f"{amps_text(called.amps('zone1.W leg'))}.",
        {
            f"At rest the cells show {rest:.1f} V.": "That is the reading that the belief rests on.",
            f"R to C at the transformer shows {volts_text(weak.volts(R, C))}.": "The cells have nothing to do with "
            "the transformer.",
            f"Across R and W the meter shows {volts_text(weak.volts(*STAT))}.": "That shows a whole loop and an open "
            "switch, whatever the "
            "cells do.",
        },
        why=f"Cells are judged under the load that they must move: at {pulse:.1f} V the relay does not close. With "
        "good ones the clamp "
        f"shows {amps_text(sound.amps('zone1.W leg'))}.",
    )


def _needs_no_path(draw: Draw) -> Question:
    design = house(draw.chance, (1,), stats={"power-stealing stat": 1.0}, needs=("power-stealing stat",))
    visit = visited(design)
    heater = design.part("zone1.valve").drive_pair[0]
    apart = visit.lifted(heater).waited(BLANK_AFTER_S)
    look = {"do": "look", "part": "zone1.stat"}
    return refuted(
        draw,
        23,
        f"With a heater lead lifted, after two minutes: \u201c{apart.shown(look).text}\u201d",
        {
            f"With all landed, before a call: \u201c{visit.shown(look).text}\u201d": "It lives, as the belief says it will.",
            f"R to C at the transformer shows {volts_text(visit.volts(R, C))}.": "The source is there either way.",
            f"Across R and W, on a call, there are {volts_text(visit.calling('zone1').volts(*STAT))}.": "It is closed, no more.",
        },
        why=f"Between calls it draws {1000 * visit.amps('zone1.W leg'):.0f} mA through the heater. Without that path "
        "it goes blank.",
    )


def _jumper(draw: Draw) -> Question:
    design = house(draw.chance, (1, 2))
    sound, source = visited(design), design.part("transformer")
    jumped, called = sound.jumpered(*STAT), sound.calling("zone1")
    short = sizing.short_amps(source.open_volts, source.ohms)
    return refuted(
        draw,
        25,
        f"With the jumper on, the clamp on W shows {amps_text(jumped.amps('zone1.W leg'))}; on a plain call "
        f"{amps_text(called.amps('zone1.W leg'))}.",
        {
            f"Across R and W, with stat 1 turned down, the meter shows {volts_text(sound.volts(*STAT))}.": "Volts that a "
            "wire would join are what the belief is afraid of. What current would flow?",
            f"A wire from R to C would carry up to {short:.0f} A.": "True, and that is why W has to be proven first. "
            "But this is not R to W.",
            f"R to C at the transformer shows {volts_text(sound.volts(R, C))}.": "That is so with and without a jumper.",
        },
        why="Once the wire is proven to be W, the jumper carries what the thermostat carries, for the heater is still "
        "in the loop. "
        f"From R to C nothing is: up to {short:.0f} A.",
    )


def _only_electricians(draw: Draw) -> Question:
    chance = draw.chance
    design = house(chance, (1,))
    visit = visited(design, Joint("zone1.W splice", "2", chance.between("ohms", 3.0, 12.0))).calling("zone1")
    volts, amps = visit.volts("zone1.W splice.1", "zone1.W splice.2"), visit.amps("zone1.W leg")
    sound = visited(design).calling("zone1")
    return refuted(
        draw,
        31,
        f"On a call the W splice drops {volts_text(volts)} at {amps_text(amps)}: {volts * amps:.1f} W of heat inside the wall.",
        {
            f"R to C at the transformer shows {volts_text(visit.volts(R, C))}.": "The source is good, and that says "
            "nothing of the splice.",
            f"With the fault repaired the clamp would show {amps_text(sound.amps('zone1.W leg'))}.": "Good to know, "
            "but what made the splice worth reading?",
            f"Across the stat, on a call, the meter shows {volts_text(visit.volts(*STAT))}.": "The switch is good. "
            "Where do the volts go?",
        },
        why=f"{volts_text(volts)} × {amps_text(amps)} = {volts * amps:.1f} W in a connector that should stay cold, "
        "found with two probes "
        "on the 24-volt side, where this work belongs to whoever keeps the heating.",
    )


BELIEFS = (_none_means_closed, _stat_sends, _wears_off, _ghost, _cells, _needs_no_path, _jumper, _only_electricians)
"""What draws a question on one belief each."""
