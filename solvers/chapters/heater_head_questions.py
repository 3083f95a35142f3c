"""Questions of the chapter heater-loops that ask for a verdict: on a warm-up, a trace, heads, an opener, a belief."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

from ..circuit import OPEN
from ..faults.changes import Joint, PartField
from ..jobs.job import JobError
from ..jobs.questions import Question
from ..plant.wiring import Installation
from .asking import Draw, chosen, refuted, several
from .chance import Chance
from .visits import Visit, amps_text, house, ohms_text, visited, volts_text
from .zone_readings import as_found_ohms, heater_pair, heater_volts, leg_amps, lifted_ohms, number, seconds_to

__all__ = ["ASKED"]

MOST_ATTEMPTS = 12
ON_TIME = 140.0  # s; common practice: the slowest that a high-draw heat motor with its full volts in a warm house takes
CLICK = "valve 1 clicks"
FOUR_WIRE = {"four-wire": 1.0}

VERDICTS = {
    "on time": "It is on its way and on time: wait for the click.",
    "late": "It is late, and it will get there: look for what makes it slow, and do not condemn the head.",
    "never": "It gets warm and never gets there: it has too few watts for this air.",
    "no heat": "It makes no heat at all: no current runs.",
}
JUDGED = {
    "on time": "Put numbers to it: watts, the rise they give, and whether that reaches the click in the time that counts "
    "as on time.",
    "late": "Late is more than the time that counts as on time. Work out the rise and how much of it the click needs.",
    "never": "Never means that even the whole rise on top of the air falls short of the click. Does it?",
    "no heat": "The clamp shows a current. Current through a heater is heat.",
}


def slow_or_never(draw: Draw) -> Question:
    """A warm-up judged early: on time, late, or never, from volts, amperes and the air about the valve."""
    design = house(draw.chance, (2,), needs=("heat motor",))
    wanted = draw.chance.among("verdict", ("on time", "late", "never"))
    for attempt in range(MOST_ATTEMPTS):
        chance = draw.again(attempt)
        air = chance.between("air", *((16.0, 45.0) if wanted == "on time" else (1.0, 16.0)))
        ohms = chance.between("ohms", *{"on time": (0.01, 1.0), "late": (2.0, 7.0), "never": (8.0, 14.0)}[wanted])
        there = visited(design, PartField("zone1.valve", "ambient_degC", air), Joint("zone1.W splice", "2", ohms))
        call = there.calling("zone1")
        seconds = seconds_to(call, CLICK)
        found = "never" if math.isinf(seconds) else "late" if seconds > ON_TIME else "on time"
        if found == wanted and abs(seconds - ON_TIME) > 15:
            return _judged(draw, call, seconds, found, chance)
    raise JobError(f"{draw.kind}: seed {draw.seed!r} gives no warm-up to judge; take another")


def _judged(draw: Draw, call: Visit, seconds: float, verdict: str, chance: Chance) -> Question:
    valve, waited = call.world.installation.part("zone1.valve"), round(chance.between("waited", 20, 50))
    volts, amps = heater_volts(call), leg_amps(call)
    end = valve.ambient_degC + volts * amps * valve.wax_resistance
    when = "never" if math.isinf(seconds) else f"after {seconds:.0f} s"
    return chosen(
        draw,
        "3.3",
        f"Somebody stands at valve 1, {waited} s after the call, and hears nothing. Up to {ON_TIME:.0f} s from the call to "
        "the click counts as on time. What do you say?",
        VERDICTS[verdict],
        {VERDICTS[name]: JUDGED[name] for name in VERDICTS if name != verdict},
        why=f"{volts * amps:.1f} W would bring the wax to {end:.0f} \u00b0C, and it clicks at {valve.end_degC:.0f}: {when}.",
        hint="Multiply volts by amperes, then find how warm the wax would end.",
        given=(
            ("volts across the heater", volts_text(volts)),
            ("clamp on the W leg", amps_text(amps)),
            ("air at the valve", f"{valve.ambient_degC:.0f} \u00b0C ({valve.ambient_degC * 9 / 5 + 32:.0f} \u00b0F)"),
            (
                "the wax rises in the end by",
                f"{valve.wax_resistance:.1f} K for each watt, with {valve.wax_tau:.0f} s of time constant",
            ),
            ("it clicks at", f"{valve.end_degC:.0f} \u00b0C"),
        ),
        misconception=11,
    )


TRACED = {
    "heat motor": (
        "a heat motor of high draw",
        "A heat motor takes most of an ampere from first to last, and clicks after a minute or two.",
    ),
    "internal limit": (
        "a heat motor with a limit contact inside",
        "A limit contact shows as current that comes and goes once the valve is open.",
    ),
    "wax actuator": (
        "a wax actuator of low draw",
        "A wax actuator begins with a third of an ampere and settles at about a tenth.",
    ),
    "spring return": (
        "a motor-driven valve with a return spring",
        "A motor is heard from the first second and is through in half a minute.",
    ),
}
TIMES = (5, 60, 120, 200, 210, 220, 230, 240, 250)  # s after the call; the last six span a whole cycle of a limit contact


def valve_type(draw: Draw) -> Question:
    """What stands in the pipe, from a trace of amperes, times and sound."""
    kind = draw.chance.among("kind", tuple(TRACED))
    call = visited(house(draw.chance, (1, 2), shapes=FOUR_WIRE, needs=(kind,))).calling("zone1")
    click, now, lines = seconds_to(call, CLICK), 0, []
    for time in TIMES:
        call, now = call.waited(time - now), time
        lines.append((f"clamp after {time} s", amps_text(leg_amps(call))))
        if time == TIMES[0]:
            lines.append(("an ear at the head then", call.shown({"do": "listen", "part": "zone1.valve"}).text))
    if draw.level < 3:
        lines.append(("from the call to the click", f"{click:.0f} s"))
    name, told = TRACED[kind]
    return chosen(
        draw,
        "3.8",
        "The head of valve 1 cannot be seen. Its zone is called from cold. What kind of valve is it?",
        name,
        {other: hint for what, (other, hint) in TRACED.items() if what != kind},
        why=f"{told} Here it clicked after {click:.0f} s.",
        hint="Look at three things: the current at the start, the current at the end, and what can be heard.",
        given=tuple(lines),
    )


CONDITIONS: Mapping[str, tuple[str, str]] = {
    "good": ("", "Volts, amperes, ohms and the click are all as they should be. What would a new head do better?"),
    "open": ("Full volts across it, no current, no ohms with a lead lifted.", ""),
    "drifted": ("Volts are full, and its ohms are far above the others'.", ""),
    "starved": ("", "Its ohms are right, and it gets too few volts. A new head would get as few."),
    "no feed": ("", "Nothing reaches it, and its ohms are right. A new head would get nothing either."),
    "no stroke": ("Volts, amperes and heat are right, and the pin does not move.", ""),
}


def heads(draw: Draw) -> Question:
    """Which of four heads need replacing, from what each of them shows on its own call."""
    design = house(draw.chance, (4,), shapes=FOUR_WIRE, needs=("heat motor",))
    bad = draw.chance.among("bad", ("open", "drifted", "no stroke") if draw.level > 1 else ("open",))
    rest = [name for name in CONDITIONS if name != bad]
    found = draw.chance.some("conditions", [bad, *draw.chance.some("others", rest, 3)], 4)
    changes = [change for zone, name in zip(design.zones, found, strict=True) for change in _condition(draw.chance, zone, name)]
    there, given, right, wrong, why = visited(design, *changes), [], [], {}, []
    for zone, name in zip(design.zones, found, strict=True):
        head = f"the head of valve {number(zone)}"
        given.append((f"valve {number(zone)} on its own call", _head_readings(there, zone)))
        told, hint = CONDITIONS[name]
        if told:
            right.append(head)
            why.append(f"Valve {number(zone)}: {told}")
        else:
            wrong[head] = hint
    return several(
        draw,
        "3.5",
        "Each zone was called alone for ten minutes. Which heads would you replace?",
        right,
        wrong,
        why=" ".join(why),
        hint="For each head ask in this order: does it get volts? Does it draw amperes? Has it the right ohms? Does its "
        "pin move?",
        given=given,
        misconception=1,
    )


def _condition(chance: Chance, zone: str, name: str) -> list[Joint | PartField]:
    match name:
        case "open":
            return [PartField(f"{zone}.valve", "heater_ohms", OPEN)]
        case "drifted":
            return [PartField(f"{zone}.valve", "heater_ohms", chance.between(f"{zone} drift", 58.0, 72.0))]
        case "starved":
            return [Joint(f"{zone}.W splice", "2", chance.between(f"{zone} joint", 12.0, 20.0))]
        case "no feed":
            return [Joint(f"{zone}.R splice", "1", OPEN)]
        case "no stroke":
            return [PartField(f"{zone}.valve", "charge", 0.0)]
    return []


def _head_readings(there: Visit, zone: str) -> str:
    call = there.calling(zone)
    click = seconds_to(call, f"valve {number(zone)} clicks", 600.0)
    heard = "no click in ten minutes" if math.isinf(click) else f"click after {click:.0f} s"
    under = call.waited(600.0).shown({"do": "head off", "valve": f"{zone}.valve"}).text
    ohms = ohms_text(lifted_ohms(there, zone))
    return f"{volts_text(heater_volts(call, zone))}, {amps_text(leg_amps(call, zone))}, {heard}. Lifted: {ohms}. {under}"


def opener(draw: Draw) -> Question:
    """What an opener that somebody has engaged does: to the water, to T-T, and after the next call."""
    kind = draw.chance.among("kind", ("by itself", "by hand", "by hand, makes the switch"))
    design = house(draw.chance, (1, 2), needs=("heat motor",))
    there = visited(design, PartField("zone1.valve", "opener", kind)).after(
        {"do": "opener", "valve": "zone1.valve", "engaged": True}
    )
    boiler = there.shown({"do": "listen", "part": "boiler"}).text
    after = there.calling("zone1").waited(900.0).calling("zone1", on=False).waited(1800.0)
    fires, stays = there.world.state.of("boiler").called, after.world.state.of("zone1.valve").engaged
    choices = {(fire, stay): _opener_words(fire, stay) for fire in (False, True) for stay in (False, True)}
    told = {
        "by itself": "lets go by itself when the head reaches its full stroke, and leaves the switch alone",
        "by hand": "stays where it is until a hand lets it go, and leaves the switch alone",
        "by hand, makes the switch": "stays until a hand lets it go, and presses on the end switch as well",
    }[kind]
    slips = {
        (True, True): "Does this kind press on the end switch, and does it hold after a full stroke? Read its text again.",
        (True, False): "The boiler needs the end switch. Does this kind of opener press on it?",
        (False, True): "Will this opener still hold once the head has made a full stroke?",
        (False, False): "What lets go of this opener? And does T-T see that the water passes?",
    }
    return chosen(
        draw,
        "3.6",
        f"Nobody calls. Somebody engages the opener of valve 1, whose sheet says: it {told}. "
        "Later zone 1 calls for a quarter of an hour and stops. What happens?",
        choices[fires, stays],
        {words: slips[key] for key, words in choices.items()},
        why=f"Water passes at once. At the boiler, before the call: {boiler} After the call the lever is "
        f"{'still engaged, and the zone gets heat that nobody asked for' if stays else 'back in auto by itself'}.",
        hint="Three things are asked: does the water pass, is T-T made, and what lets the lever go?",
    )


def _opener_words(fires: bool, stays: bool) -> str:
    first = "Water passes and the boiler starts at once" if fires else "Water passes and the boiler stays silent"
    return f"{first}; after the call the valve {'stays open' if stays else 'shuts as usual'}."


def belief(draw: Draw) -> Question:
    """One true reading among three that a common belief about heater loops cannot be squared with."""
    numbered = {1: _fine_with_volts, 6: _nought_when_dead, 8: _in_place, 11: _slow_is_bad, 24: _both_wires}
    which = draw.chance.among("belief", tuple(numbered))
    design = house(draw.chance, (2,), shapes=FOUR_WIRE, needs=("heat motor",))
    right, wrong, why = numbered[which](design)
    return refuted(draw, which, right, wrong, why=why)


FITS = "That is just what they would expect. It cannot change their mind."


def _belief_in(design: Installation) -> tuple[Visit, Visit]:
    return visited(design).calling("zone1"), visited(design, PartField("zone1.valve", "heater_ohms", OPEN)).calling("zone1")


def _fine_with_volts(design: Installation) -> tuple[str, dict[str, str], str]:
    good, broken = _belief_in(design)
    volts, amps = volts_text(heater_volts(broken)), amps_text(leg_amps(broken))
    return (
        f"On a call there are {volts} across the heater of valve 1, and the clamp on its W leg shows {amps}.",
        {
            f"On a call there are {volts_text(heater_volts(good))} across a heater, and its valve opens.": FITS,
            f"With nobody calling there are {volts_text(heater_volts(good.calling('zone1', on=False)))} across a heater.": FITS,
        },
        f"An open heater loads nothing, so the volts across it are higher than the good one's {volts_text(heater_volts(good))}.",
    )


def _nought_when_dead(design: Installation) -> tuple[str, dict[str, str], str]:
    there = visited(design, Joint("C bus", "zone1", OPEN)).calling("zone1")
    first, second = heater_pair(there)
    volts = volts_text(there.volts(second, "transformer.C"))
    feed = visited(design, Joint("zone1.W splice", "2", OPEN)).calling("zone1")
    return (
        f"Zone 1 is dead on a call, and from either heater lead to the transformer's C there are {volts}.",
        {
            f"Zone 1 is dead on a call, and from its heater's first lead to C there are "
            f"{volts_text(feed.volts(first, 'transformer.C'))}.": FITS,
            f"Zone 2 works on a call, and across its heater there are "
            f"{volts_text(heater_volts(visited(design).calling('zone2'), 'zone2'))}.": FITS,
        },
        "The return is open: full volts reach both leads of the heater, and no current runs.",
    )


def _in_place(design: Installation) -> tuple[str, dict[str, str], str]:
    good, broken = (ohms_text(as_found_ohms(there)) for there in _belief_in(design))
    ohms = ohms_text(lifted_ohms(visited(design)))
    return (
        f"Power off, thermostat closed, nothing lifted: a good heater shows {good} in place, and an open one {broken}.",
        {
            f"Power off, one lead lifted: a good heater shows {ohms}.": "Nobody doubts that. Which reading shows what "
            "happens when nothing is lifted?",
            f"Power off, one lead lifted: an open heater shows {ohms_text(lifted_ohms(_belief_in(design)[1]))}.": "Nobody "
            "doubts that. Which reading shows what happens when nothing is lifted?",
        },
        "In place the meter looks past the heater, by way of the closed thermostat and the transformer's winding.",
    )


def _slow_is_bad(design: Installation) -> tuple[str, dict[str, str], str]:
    times = [
        seconds_to(visited(design, PartField("zone1.valve", "ambient_degC", air)).calling("zone1"), CLICK) for air in (5.0, 35.0)
    ]
    worn = visited(design, PartField("zone1.valve", "heater_ohms", 44.0)).calling("zone1")
    seconds = seconds_to(worn, CLICK)
    return (
        f"One and the same valve, with the same volts, clicks after {times[0]:.0f} s at 5 \u00b0C and after "
        f"{times[1]:.0f} s at 35 \u00b0C.",
        {
            f"A valve whose heater has drifted to 44 ohms "
            f"{'never clicks' if math.isinf(seconds) else f'clicks after {seconds:.0f} s'}.": FITS,
            f"A valve in good order clicks after {times[1]:.0f} s in a warm closet.": FITS,
        },
        "The head must warm from the air about it. Volts and air decide as much as the part does.",
    )


def _both_wires(design: Installation) -> tuple[str, dict[str, str], str]:
    good = visited(design).calling("zone1")
    whole, one = amps_text(good.amps("zone1 stat cable", 1)), amps_text(good.amps("zone1.W leg", 1))
    return (
        f"On a call the clamp round the whole thermostat cable shows {whole}, and round its W conductor alone {one}.",
        {
            f"On a call the clamp round the W conductor alone shows {one}.": FITS,
            f"With nobody calling the clamp shows {amps_text(visited(design).amps('zone1 stat cable', 1))}, wherever it "
            f"is put.": FITS,
        },
        "What goes out in one conductor comes back in the other; the jaw sees the sum, which is nought.",
    )


ASKED: Mapping[str, Callable[[Draw], Question]] = {
    "slow, never or normal": slow_or_never,
    "valve from a trace": valve_type,
    "which heads to replace": heads,
    "what the opener does": opener,
    "answer a belief": belief,
}
"""How each kind is asked."""
