"""Chapter 2, thermostat switching: what is worked out from the clamp: an anticipator's mark, a joint's ohms and its verdict.

Limits: common practice, no source.
"""

from __future__ import annotations

from ..faults.changes import Joint
from ..jobs.job import JobError
from ..jobs.questions import Question
from ..plant import facts
from .asking import Draw, Misreading, chosen, numbered
from .visits import Visit, amps_text, house, ohms_text, visited, volts_text

__all__ = ["anticipator", "joint_judged", "joint_ohms"]

STAT = ("zone1.stat.R", "zone1.stat.W")
SETTLED_S = 900.0  # every kind of valve takes its holding current by then
GOOD_VOLTS, BAD_VOLTS = 0.05, 0.5  # across a joint under load: below the one it is good, above the other it is remade
LOADED_AMPS = 0.4  # less through a joint says nothing of it
MOST_ATTEMPTS = 20


def _zones(draw: Draw) -> tuple[int, ...]:
    return (1,) if draw.level == 1 else (1, 2)


def anticipator(draw: Draw) -> Question:
    """The mark of an anticipator, from the clamp on W; raises JobError where no draw is clearly nearest one."""
    for attempt in range(MOST_ATTEMPTS):
        chance = draw.again(attempt)
        kind = chance.among("valve", ("heat motor", "wax actuator", "spring return"))
        shapes = {"two-wire": 1.0, "four-wire": 1.0} if kind != "spring return" else {"four-wire": 1.0}
        design = house(chance, (1,), shapes=shapes, stats={"anticipator": 1.0}, needs=(kind, "anticipator"))
        cold = visited(design).jumpered(*STAT)
        first, amps = cold.amps("zone1.W leg"), cold.waited(SETTLED_S).amps("zone1.W leg")
        nearest, second = sorted(facts.ANTICIPATOR_MARKS, key=lambda mark: abs(mark - amps))[:2]
        if abs(second - amps) - abs(nearest - amps) > 0.03:
            return _anticipator_asked(draw, kind, first, amps, nearest)
    raise JobError(f"{draw.kind}: seed {draw.seed!r} gives no current that is clearly nearest one mark; take another")


def _anticipator_asked(draw: Draw, kind: str, first: float, amps: float, nearest: float) -> Question:
    at_first = min(facts.ANTICIPATOR_MARKS, key=lambda mark: abs(mark - first))
    wrong = {}
    for mark in facts.ANTICIPATOR_MARKS:
        if mark == at_first:
            told = "That goes with the current of the first moment. Which one flows for the rest of a call?"
        elif mark == facts.ANTICIPATOR_MARKS[-1] and 10 * amps > mark:
            told = "Ten turns show every ampere ten times. Divide."
        elif mark < amps:
            told = "Set below the current the element gets too hot, and calls end too soon."
        else:
            told = "Set above the current the element stays too cool, and the room overshoots."
        wrong[f"{mark:g} A"] = told
    return chosen(
        draw,
        "2.5",
        "The thermostat is off its base and a jumper joins R and W; ten turns of W go through the clamp. To which mark is the "
        "anticipator set?",
        f"{nearest:g} A",
        wrong,
        why=f"{10 * amps:.2f} A with ten turns is {amps:.3f} A, and {nearest:g} A is the nearest mark.",
        hint="Take the current that flows for most of a call, divided by the turns, and go to the nearest mark.",
        given=(
            ("valve", kind),
            ("clamp at first, ten turns", f"{10 * first:.2f} A"),
            ("clamp after a quarter of an hour, ten turns", f"{10 * amps:.2f} A"),
        ),
    )


def _bad_joint(draw: Draw, low: float, high: float) -> tuple[Visit, str]:
    """A house with a joint of some ohms, and the splice it is in."""
    chance = draw.chance
    splice = f"zone1.{chance.among('splice', ('R', 'W'))} splice"
    return visited(house(chance, _zones(draw)), Joint(splice, "2", chance.between("ohms", low, high))), splice


def joint_ohms(draw: Draw) -> Question:
    """Ohms of a splice, from its drop and the current through it."""
    arrived, splice = _bad_joint(draw, 0.8, 9.0)
    visit = arrived.calling("zone1")
    volts, amps = visit.volts(f"{splice}.1", f"{splice}.2"), visit.amps("zone1.W leg")
    ohms = volts / amps
    return numbered(
        draw,
        "2.6",
        f"Zone 1 calls. The meter stands across the {splice.removeprefix('zone1.')}, the clamp on W. What are the splice's ohms?",
        ohms,
        "ohms",
        0.1 * ohms,
        why=f"{volts_text(volts)} / {amps_text(amps)} = {ohms_text(ohms)}; a good splice has a few thousandths of an "
        "ohm. It makes "
        f"{volts * amps:.1f} W of heat in the connector. Over {BAD_VOLTS:g} V: remake it.",
        hint="Ohms are the volts across the thing itself, for each ampere that goes through it.",
        misreadings=(
            Misreading(24 / amps, "That is the whole loop. Which volts stand across the splice alone?"),
            Misreading(amps / volts, "Volts for each ampere, not the other way round."),
            Misreading(volts * amps, "Volts times amperes are watts."),
            Misreading(volts, "That is the drop. How many volts for each ampere?"),
        ),
        given=(("across the splice", f"{volts:.2f} V"), ("clamp on W", f"{amps:.2f} A")),
    )


def joint_judged(draw: Draw) -> Question:
    """What a drop says of a splice: good, bad, or nothing without current."""
    good, bad, nothing = "It is good.", "It is bad: remake it.", "Nothing can be said of it yet."
    chance = draw.chance
    ohms = (0.8, 9.0) if chance.share("bad") < 0.6 else (facts.SPLICE_OHMS.low, facts.SPLICE_OHMS.high)
    arrived, splice = _bad_joint(draw, *ohms)
    visit = arrived.calling("zone1") if chance.share("on call") < 0.6 else arrived
    volts, amps = visit.volts(f"{splice}.1", f"{splice}.2"), visit.amps("zone1.W leg")
    right = nothing if amps < LOADED_AMPS else good if volts < GOOD_VOLTS else bad
    hints = {
        good: "Compare the drop with the limits, and the current with what a call takes.",
        bad: "Is there a drop at all, and a current to make one?",
        nothing: "A current that is there makes a drop that can be judged.",
    }
    return chosen(
        draw,
        "2.6",
        f"A meter stands across the {splice.removeprefix('zone1.')} of zone 1, and the clamp is on W. What do the two "
        "readings say of the "
        "splice?",
        right,
        {words: hints[words] for words in hints if words != right},
        why=f"{volts_text(volts)} at {amps_text(amps)}: "
        + ("with no current every joint looks perfect." if right == nothing else f"{ohms_text(volts / amps)}."),
        hint="A drop tells only under load. Then: a few millivolts, or half a volt and more?",
        given=(("across the splice", f"{volts:.3f} V"), ("clamp on W", f"{amps:.2f} A")),
    )
