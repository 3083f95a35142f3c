"""Chapter 1, step-down power: questions beside fault-finding, each value solved on a drawn house. Steps: common practice."""

from __future__ import annotations

from collections.abc import Mapping

from ..faults.changes import Change, PartField
from ..jobs.acts import Outcome
from ..jobs.metering import LINE_READINGS
from ..jobs.questions import Question
from ..plant import facts, sizing
from ..plant.sizing import Load
from ..plant.wiring import Installation
from .asking import Draw, Misreading, chosen, numbered, predicted_reading, questions_of, several, told_apart
from .asking_jobs import log_read, next_test
from .step_down_beliefs import BELIEFS
from .step_down_orders import box_steps, fuse_steps
from .step_down_power import CHAPTER, PLAN
from .visits import Visit, amps_text, house, ohms_text, visited, volts_text

__all__ = ["QUESTIONS"]

R, C = "transformer.R", "transformer.C"
MOST_OVER = 1.05  # of a tap's own volts; above it a core saturates and no sum holds
SHARE = 0.8  # of the nameplate that a load may fill; common practice
LINES = (120.0, 208.0, 240.0)  # V, nominal


def _zones(draw: Draw) -> tuple[int, ...]:
    return {1: (1, 2), 2: (2, 3), 3: (3,)}[draw.level]


def _secondary(draw: Draw) -> Question:
    chance = draw.chance
    design = house(chance, needs=("several taps",))
    source = design.part("transformer")
    lines = [(tap, line) for tap in source.taps for line in LINES if line <= tap and (draw.level > 1 or line == tap)]
    tap, nominal = chance.among("tap and line", lines)
    low, high = chance.among("low or high", ((0.9, 0.97), (1.02, 1.04 if nominal < tap else MOST_OVER)))
    line = float(round(nominal * chance.between("line", low, high)))
    visit = visited(design, PartField("transformer", "tap", tap), PartField("transformer", "line_volts", line))
    emf, rated = source.emf, source.rated_volts
    return predicted_reading(
        draw,
        "1.1",
        f"The line reads {line:.0f} V and stands on the {tap:.0f} V lead of this transformer. Nobody calls. "
        "What will the meter show from R to C?",
        visit,
        R,
        C,
        why=f"The secondary follows the line: {volts_text(emf)} × {line:.0f} / {tap:.0f} = {{value}}.",
        hint="Volts out rise and fall with the line, and a lead for more volts gives fewer.",
        misreadings=(
            Misreading(emf, "That is what it gives with a lead's own volts on that lead. What does the line really read?"),
            Misreading(rated * line / tap, "The nameplate's volts are those under full load. Nobody calls here."),
            Misreading(emf * tap / line, "The ratio is upside down. With fewer volts in, do more come out?"),
            Misreading(rated, "That is the nameplate, under full load and on the right line."),
        ),
        given=(("no load, with its own volts on any lead", volts_text(emf)), ("nameplate, full load", volts_text(rated))),
    )


def _calling(draw: Draw) -> tuple[Installation, Visit, Visit]:
    """A house, idle and with some zones on call."""
    design = house(draw.chance, _zones(draw))
    count = 1 if draw.level == 1 else len(design.zones)
    idle = visited(design)
    return design, idle, idle.calling(*design.zones[:count])


def _reading(draw: Draw) -> Question:
    design, idle, visit = _calling(draw)
    source, count = design.part("transformer"), sum(visit.world.state.of(f"{zone}.stat").calling for zone in design.zones)
    loops = []
    for zone in design.zones[:count]:
        alone = idle.calling(zone)
        loops.append(alone.volts(R, C) / alone.amps(f"{zone}.W leg"))
    together = 1 / sum(1 / ohms for ohms in loops)
    amps = source.open_volts / (source.ohms + together)
    series = source.open_volts * sum(loops) / (source.ohms + sum(loops))
    last = idle.calling(design.zones[0])
    drawn = "Zone 1 calls" if count == 1 else f"Zones 1 to {count} call together"
    return predicted_reading(
        draw,
        "1.4",
        f"{drawn}; everything is sound. What will the meter show from R to C at the transformer?",
        visit,
        R,
        C,
        why=f"The loops together are {ohms_text(together)}; {volts_text(source.open_volts)} / ({ohms_text(source.ohms)} + "
        f"{ohms_text(together)}) = {amps_text(amps)}; {volts_text(source.open_volts)} - {amps_text(amps)} × "
        f"{ohms_text(source.ohms)} gives {{value}}.",
        hint="Find the current first: source volts over source ohms and loop ohms together. Then take off what the source loses.",
        misreadings=(
            Misreading(source.open_volts, "That is the reading with nobody calling. A current through the source costs volts."),
            Misreading(series, "Zones stand side by side, not in a row: each one more lets more current through."),
            Misreading(last.volts(R, C), "That is one zone alone. How many call?"),
            Misreading(source.rated_volts, "The nameplate's volts belong to the nameplate's load. Work out this one."),
        ),
        given=(
            ("no load", volts_text(source.open_volts)),
            ("source impedance", ohms_text(source.ohms)),
            *((f"loop of zone {number}", ohms_text(ohms)) for number, ohms in enumerate(loops, 1)),
        ),
        within=0.3,
    )


def _size(draw: Draw) -> Question:
    chance = draw.chance
    design = house(chance, _zones(draw), stats={"plain stat": 1.0, "C-powered stat": 1.0})
    relay = chance.among("relay", (2.0, 3.0, 4.0))
    heaters = [design.part(f"{zone}.valve").heater_ohms for zone in design.zones]
    loads = [Load(sizing.heater_va(ohms)) for ohms in heaters] + [Load(relay)]
    given = [(f"heater of zone {number}", ohms_text(ohms)) for number, ohms in enumerate(heaters, 1)]
    given.append(("isolation relay", f"{relay:g} VA"))
    fed = [design.part(f"{zone}.stat") for zone in design.zones if len(design.part(f"{zone}.stat").terminals) == 3]
    if fed:
        each = sizing.heater_va(fed[0].supply_ohms)
        loads.append(Load(each, count=len(fed)))
        given.append((f"supply of each of {len(fed)} thermostats", f"{each:.1f} VA"))
    va = sizing.plain_va(loads)
    right = sizing.nameplate(va, SHARE)
    wrong = {}
    for size in facts.TRANSFORMER_SIZES:
        if size < va:
            told = "Add the loads up again: this one cannot carry them all at once."
        elif SHARE * size < va:
            told = "It carries the load, but fuller than the rule allows. Keep the margin."
        else:
            told = "It would do, but a smaller usual size keeps the margin too."
        wrong[f"{size:g} VA"] = told
    return chosen(
        draw,
        "1.3",
        f"All these loads can be on at once, at 24 V. Which is the smallest usual transformer that they fill to no more than "
        f"{SHARE:.0%}?",
        f"{right:g} VA",
        wrong,
        why=f"A heater takes 24² over its ohms. Together {va:.1f} VA; over {SHARE:g} that is {va / SHARE:.1f} VA, so "
        f"{right:g} VA.",
        hint="Volt-amperes of a heater are the volts squared over its ohms. Add up, divide by the share, and go up to "
        "a usual size.",
        given=given,
    )


def _impedance(draw: Draw) -> Question:
    _, idle, visit = _calling(draw)
    without, loaded, amps = idle.volts(R, C), visit.volts(R, C), visit.amps("R feed")
    ohms = sizing.source_ohms((without, 0.0), (loaded, amps))
    return numbered(
        draw,
        "1.4",
        "Two readings at the transformer, from R to C, and the clamp on its R feed. What is its source impedance?",
        ohms,
        "ohms",
        0.15 * ohms,
        why=f"({volts_text(without)} - {volts_text(loaded)}) / {amps_text(amps)} = {ohms_text(ohms)}.",
        hint="Only the volts that went missing between the two readings fell inside the transformer.",
        misreadings=(
            Misreading(loaded / amps, "That is the load. The source's share is what the load does not get."),
            Misreading(without / amps, "That is source and load together."),
            Misreading(amps / (without - loaded), "Ohms are volts for each ampere, not amperes for each volt."),
            Misreading(without - loaded, "Those are the volts lost. How many for each ampere?"),
        ),
        given=(
            ("nobody calls", f"{without:.2f} V"),
            ("on call", f"{loaded:.2f} V"),
            ("clamp, ten turns, divided", f"{amps:.3f} A"),
        ),
    )


def _regulation(draw: Draw) -> Question:
    source = house(draw.chance, _zones(draw)).part("transformer")
    full = source.open_volts - source.ohms * source.rated_amps
    share = 100 * sizing.regulation(source.open_volts, full)
    return numbered(
        draw,
        "1.4",
        "What is the regulation of this transformer, in percent of its full-load volts?",
        share,
        "%",
        0.5,
        why=f"Rated {source.va:g} VA / {source.rated_volts:g} V = {amps_text(source.rated_amps)}; full load "
        f"{volts_text(source.open_volts)} - {amps_text(source.rated_amps)} × {ohms_text(source.ohms)} = {volts_text(full)}; "
        f"({volts_text(source.open_volts)} - {volts_text(full)}) / {volts_text(full)} = {share:.1f} %.",
        hint="Find the rated amperes, then the volts that are left at that current, then the difference as a share of those.",
        misreadings=(
            Misreading(
                100 * sizing.regulation_of_no_load(source.open_volts, full),
                "That is a share of the no-load volts. Say which is meant.",
            ),
            Misreading(source.open_volts - full, "Those are the volts lost. As a share of what?"),
            Misreading(100 * full / source.open_volts, "That is what is left, not what is lost."),
        ),
        given=(
            ("no load", f"{source.open_volts:.2f} V"),
            ("source impedance", f"{source.ohms:.2f} ohms"),
            ("nameplate", f"{source.va:g} VA, {source.rated_volts:g} V"),
        ),
    )


def _fuse(draw: Draw) -> Question:
    design = house(draw.chance, _zones(draw))
    source = design.part("transformer")
    amps = visited(design).calling(*design.zones).amps("R feed")
    fitting = sizing.fuses(amps, source.va, source.open_volts)
    rule, ceiling = facts.FUSE_MOST_TIMES.value * source.rated_amps, sizing.fuse_ceiling(source.open_volts)
    wrong = {}
    for size in facts.FUSE_BOX:
        if size in fitting or size == 4.0:
            continue
        if size <= amps:
            told = "The load alone is more than this fuse is made for: it would open on an ordinary cold morning."
        elif size > ceiling:
            told = "More than the ceiling for a fuse that makes a supply class 2. The load fits, the limit does not."
        elif size > rule:
            told = "The transformer would cook long before this fuse opened."
        else:
            continue
        wrong[f"{size:g} A"] = told
    return several(
        draw,
        "1.6",
        "Which of these fuses may stand behind this transformer with all its zones on? Name every one that may.",
        [f"{size:g} A" for size in fitting],
        wrong,
        why=f"Above {amps_text(amps)}; at most {facts.FUSE_MOST_TIMES.value:g} × {amps_text(source.rated_amps)} = "
        f"{amps_text(rule)} "
        f"and at most the ceiling of {amps_text(ceiling)}. The smaller when in doubt, and what the marking says before either.",
        hint="A fuse must be above the load and below both limits: the transformer's own, and the class 2 ceiling.",
        given=(
            ("transformer", f"{source.va:g} VA, {source.rated_volts:g} V"),
            ("no load", volts_text(source.open_volts)),
            ("clamp with all zones on", amps_text(amps)),
            ("teaching rule", f"at most {facts.FUSE_MOST_TIMES.value:g} times the rated amperes"),
        ),
    )


OPEN_PLACES: Mapping[str, tuple[Change, ...]] = {
    "The switch of its feed is off.": (PartField("transformer", "feed_on", False),),
    "A joint between that switch and the primary is open.": (PartField("transformer", "feed_open", True),),
    "The primary winding is open.": (PartField("transformer", "primary_open", True),),
    "The secondary winding is open.": (PartField("transformer", "secondary_open", True),),
    "The fuse has melted.": (PartField("fuse", "blown", True),),
    "Nothing is open on the supply side.": (),
}


def _open_part(draw: Draw) -> Question:
    design = house(draw.chance, (1,))
    return told_apart(
        draw,
        "1.5",
        "The house is dead, or is said to be; nobody calls. What do these readings say of its supply?",
        draw.chance.among("place", list(OPEN_PLACES)),
        {words: _open_readings(visited(design, *changes)) for words, changes in OPEN_PLACES.items()},
        hint="Go along the supply: panel, primary, secondary, fuse. Where is the last place with volts?",
    )


def _open_readings(visit: Visit) -> dict[str, Outcome]:
    volts = {"do": "measure", "function": "volts"}
    lines = {
        f"{what}, by a licensed hand": visit.shown({"do": "line reading", "part": "transformer", "what": what})
        for what in LINE_READINGS
    }
    return {
        "R to C at the transformer": visit.shown({**volts, "first": R, "second": C}),
        "behind the fuse to C": visit.shown({**volts, "first": "fuse.out", "second": C}),
        **lines,
    }


def _lead(draw: Draw) -> Question:
    chance = draw.chance
    design = house(chance, needs=("several taps",))
    source = design.part("transformer")
    line = float(round(chance.among("line", source.taps) * chance.between("share", 0.94, 1.03)))
    volts = {}
    for tap in source.taps:
        there = visited(design, PartField("transformer", "tap", tap), PartField("transformer", "line_volts", line))
        volts[tap] = there.volts(R, C)
    right = min(volts, key=lambda tap: abs(volts[tap] - source.emf))
    caps = "cap each of the others by itself"
    wrong = {
        f"the {right:g} V lead; cap the others together": "Unused leads are live against each other. Together they are a short.",
        f"the {right:g} V lead; leave the others as they are": "Unused leads are live as soon as one lead is fed.",
    }
    for tap, shown in volts.items():
        low = shown < source.emf
        wrong[f"the {tap:g} V lead; {caps}"] = (
            "Too few volts would come out: no valve would open." if low else "Too many volts would come out, and it would burn."
        )
    told = ", ".join(f"the {tap:g} V lead gives {volts_text(shown)}" for tap, shown in volts.items())
    return chosen(
        draw,
        "1.2",
        f"At the panel somebody licensed reads {line:.0f} V between the two conductors of the feed. Which lead gets the line, "
        "against the common one, and what becomes of the others?",
        f"the {right:g} V lead; {caps}",
        wrong,
        why=f"With {line:.0f} V, and nobody calling, {told}; its own no-load volts are {volts_text(source.emf)}.",
        hint="Match the lead to the line as read, and remember that every unused lead is live.",
        given=(("leads", ", ".join(f"{tap:g} V" for tap in source.taps)), ("no load", volts_text(source.emf))),
    )


def _belief(draw: Draw) -> Question:
    return draw.chance.among("belief", BELIEFS)(draw)


QUESTIONS = questions_of(
    CHAPTER,
    {
        "predict the secondary": _secondary,
        "predict a reading": _reading,
        "size a transformer": _size,
        "find the source impedance": _impedance,
        "work out the regulation": _regulation,
        "choose the primary lead": _lead,
        "order the safe-work steps": box_steps,
        "order the steps to a new fuse": fuse_steps,
        "choose the fuse": _fuse,
        "say what is open": _open_part,
        "read a log": lambda draw: log_read(draw, PLAN),
        "choose the next test": lambda draw: next_test(draw, PLAN),
        "answer a misconception": _belief,
    },
)
"""Kinds of question by name, each from a seed and a level."""
