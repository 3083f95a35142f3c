"""Chapter 1, step-down power: what people believe of transformers and fuses, and readings of a drawn house that end it."""

from __future__ import annotations

from dataclasses import replace

from ..jobs.questions import Question
from ..plant import facts, sizing
from .asking import Draw, refuted
from .visits import amps_text, house, ohms_text, visited, volts_text

__all__ = ["BELIEFS"]

R, C = "transformer.R", "transformer.C"


def _zones(draw: Draw) -> tuple[int, ...]:
    return {1: (1, 2), 2: (2, 3), 3: (3,)}[draw.level]


def _too_strong(draw: Draw) -> Question:
    design = house(draw.chance, _zones(draw))
    idle = visited(design)
    visit, emf, rated = idle.calling(*design.zones), idle.volts(R, C), design.part("transformer").rated_volts
    return refuted(
        draw,
        4,
        f"With all zones calling, R to C shows {volts_text(visit.volts(R, C))}.",
        {
            f"With nobody calling, R to C shows {volts_text(emf)}.": "That is the reading that the belief rests on.",
            f"With nobody calling, across the fuse it shows {volts_text(idle.volts('fuse.in', 'fuse.out'))}.": "A sound fuse "
            "shows that whatever the transformer gives.",
            f"The clamp on the R feed shows {amps_text(idle.amps('R feed'))} with nobody calling.": "No call, no "
            "current: that would "
            "be so at any volts.",
        },
        why=f"Under load {volts_text(emf)} falls to {volts_text(visit.volts(R, C))} at {amps_text(visit.amps('R feed'))}. The "
        f"nameplate's {rated:g} V are those at full load, so any sound transformer shows more without one.",
    )


def _bigger_fuse(draw: Draw) -> Question:
    chance = draw.chance
    design = house(chance, (3,))
    made = replace(design.part("transformer"), va=40.0, emf=chance.of("emf", facts.TRANSFORMER_EMF))
    made = replace(made, ohms=chance.of("ohms", facts.TRANSFORMER_OHMS))
    idle = visited(design.with_part(made))
    visit, one = idle.calling(*design.zones), idle.calling(design.zones[0])
    volts, amps = visit.volts(R, C), visit.amps("R feed")
    percent, fuse = sizing.percent_amps(amps, made.va), design.part("fuse").amps
    return refuted(
        draw,
        15,
        f"With all zones calling the feed carries {amps_text(amps)}: {percent:.0f} % of what the transformer is rated for.",
        {
            f"With zone 1 alone the feed carries {amps_text(one.amps('R feed'))}.": "Any of these fuses carries one zone.",
            f"With nobody calling, R to C shows {volts_text(idle.volts(R, C))}.": "Without a load no fuse has anything to say.",
            f"Across the fuse, with all zones calling, it shows {volts_text(visit.volts('fuse.in', 'fuse.out'))}.": "The drop "
            "shows that the fuse is whole. Who suffers from the current?",
        },
        why=f"{volts_text(volts)} × {amps_text(amps)} is {volts * amps:.1f} VA from {made.va:g} VA. A fuse of "
        f"{fuse:g} A stands at "
        f"{100 * amps / fuse:.0f} % of its rating: a bigger one would only let the transformer cook. Fewer zones, or "
        "a bigger unit.",
        given=(("transformer", f"{made.va:g} VA"), ("fuse", f"{fuse:g} A")),
    )


def _harmless(draw: Draw) -> Question:
    design = house(draw.chance, _zones(draw))
    source, idle = design.part("transformer"), visited(design)
    visit = idle.calling(design.zones[0])
    short = sizing.short_amps(source.open_volts, source.ohms)
    return refuted(
        draw,
        29,
        f"A ring across R and C would carry up to {short:.0f} A.",
        {
            f"From R to C the meter shows {volts_text(idle.volts(R, C))}.": "Volts alone burn nobody. What do they "
            "drive, through what?",
            f"One zone on call takes {amps_text(visit.amps('R feed'))}.": "That is what a heater lets through. Metal lets more.",
            f"From C to ground the meter shows {volts_text(idle.volts(C, 'earth'))}.": "That says how the supply "
            "stands to ground only.",
        },
        why=f"{volts_text(source.open_volts)} over {ohms_text(source.ohms)} is {short:.1f} A at most, until something "
        "opens: enough "
        "to make a ring or a watch strap glow. And the next box holds line voltage.",
    )


BELIEFS = (_too_strong, _bigger_fuse, _harmless)
"""What draws a question on one belief each."""
