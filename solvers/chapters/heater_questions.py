"""Questions beside fault-finding of the chapter heater-loops: those with a number, and the list of all kinds."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

from ..circuit import OPEN
from ..faults.changes import Joint, PartField
from ..jobs.job import JobError
from ..jobs.questions import Question
from ..plant.parts import HeatMotorValve
from ..plant.wiring import Installation
from . import heater_head_questions
from .asking import Draw, Misreading, numbered, questions_of
from .asking_jobs import log_read, next_test
from .heater_loops import CHAPTER, PLAN
from .visits import Visit, amps_text, house, ohms_text, visited, volts_text
from .zone_readings import as_found_ohms, heater_volts, leg_amps, lifted_ohms, seconds_to, source_volts

__all__ = ["QUESTIONS"]

MOST_ATTEMPTS = 20
AIR_DEGC = (2.0, 45.0)  # about a valve, from a crawlspace in winter to a closet with a boiler
SOON, LATE = 50.0, 300.0  # s, of warm-ups that are asked for
VALVE = ("zone1.valve", "zone2.valve")


def heater_amps(draw: Draw) -> Question:
    """Amperes before the clamp goes on: from the heater's own volts, the clamp's display, or all that stands in the loop."""
    there = visited(house(draw.chance, (1, 2)))
    call = there.calling("zone1")
    ohms = there.world.design.part("zone1.valve").heater_ohms
    volts, amps = heater_volts(call), leg_amps(call)
    turns, within = (10, 0.3) if draw.level == 2 else (1, 0.03)
    ask = (
        "What will a clamp round its W leg show?"
        if turns == 1
        else "What will the clamp's display show with ten turns of the W leg?"
    )
    slips = [
        Misreading(turns * ohms / volts, "You have divided ohms by volts. More volts must drive more current, not less."),
        Misreading(
            10 * amps if turns == 1 else amps,
            "Count how often the W leg goes through the jaw, and what that does to the display.",
        ),
        Misreading(turns * volts * ohms / 100, "Volts times ohms is no current, wherever the point is put."),
        Misreading(0.0, "That is what the jaw shows with both conductors of the loop in it. Here it holds the W leg alone."),
    ]
    if draw.level < 3:
        given = [("volts across the heater on this call", volts_text(volts)), ("ohms of the heater, lifted", ohms_text(ohms))]
        why = (
            f"{volts:.1f} V over {ohms:.4g} ohms is {amps:.2f} A; a jaw with {turns} turn{'s' if turns > 1 else ''} "
            f"shows {turns * amps:.2f}."
        )
    else:
        idle, loaded = source_volts(there), source_volts(call)
        source, wires = (idle - loaded) / amps, (loaded - volts) / amps
        given = [
            ("volts from R to C with nobody calling", volts_text(idle)),
            ("source ohms of transformer and fuse", f"{source:.2f} ohms"),
            ("cable, joints and thermostat together", f"{wires:.2f} ohms"),
            ("ohms of the heater, lifted", ohms_text(ohms)),
        ]
        slips.append(Misreading(idle / ohms, "The heater is not alone in its loop: count every ohm that the current passes."))
        why = f"{idle:.1f} V over {source:.2f} + {wires:.2f} + {ohms:.1f} ohms is {amps:.2f} A."
    return numbered(
        draw,
        "3.1",
        f"Zone 1 calls. {ask}",
        turns * amps,
        "A",
        within,
        why=why,
        hint="Current is volts over ohms. Take volts and ohms that belong to the same stretch of the loop.",
        misreadings=slips,
        given=given,
        misconception=24,
    )


def heater_ohms(draw: Draw) -> Question:
    """Ohms of a heater in place, with paths beside it, or with a lead lifted; from level 2 the heater may be open."""
    design = house(draw.chance, (2, 3), shapes={"four-wire": 1.0})
    closed = draw.chance.share("thermostat") < 0.75
    lift = draw.chance.share("lifted") < 0.3
    broken = draw.level > 1 and not lift and closed and draw.chance.share("heater") < 0.5
    there = visited(design, *([PartField("zone1.valve", "heater_ohms", OPEN)] if broken else []))
    there = there.calling("zone1") if closed else there
    valve, winding = design.part("zone1.valve"), design.part("transformer").dc_ohms
    value = (lifted_ohms if lift else as_found_ohms)(there)
    closed_loop = as_found_ohms(visited(design).calling("zone1"))
    alone = "The thermostat that is turned up leaves a second way open beside the heater. The meter sees both ways side by side."
    slips = [
        Misreading(closed_loop, "Is there really a second way beside this heater? Follow it past the thermostat and the lead.")
    ]
    if closed and not lift:
        slips = [
            Misreading(valve.heater_ohms + 0.2, alone),
            Misreading(
                valve.heater_ohms + closed_loop,
                "You have added the ways. They lie side by side between the probes, not one behind the other.",
            ),
            Misreading(0.2, "The leads alone? There is still copper in the winding and the cable between the probes."),
        ]
    else:
        slips.append(
            Misreading(
                valve.heater_ohms + winding + 1.0,
                "You have put the winding behind the heater. Where does the meter's current really go?",
            )
        )
    state = "thermostat 1 is turned up and all others down" if closed else "every thermostat is turned down"
    words = (
        f"The transformer is off, {state}. "
        f"{'One heater lead of valve 1 is lifted' if lift else 'Every lead is still landed'}. "
        f"What does the ohmmeter show across {'the heater of' if not broken else 'the heater leads of'} valve 1?"
    )
    given = [
        ("heater of valve 1", "open" if broken else ohms_text(valve.heater_ohms)),
        ("transformer's 24-volt winding", f"{winding:.2f} ohms"),
        ("cable, joints, fuse and thermostat 1 together", f"{_rest_ohms(design, winding):.2f} ohms"),
        ("the meter's own leads, not zeroed", "0.2 ohms"),
    ]
    told = "an open heater" if broken else f"a good one of {valve.heater_ohms:.1f} ohms"
    other = as_found_ohms(visited(design, *([] if broken else [PartField("zone1.valve", "heater_ohms", OPEN)])).calling("zone1"))
    why = f"Past {told} the meter shows {ohms_text(value)}, its own leads counted."
    if closed and not lift:
        why += (
            f" {'A good' if broken else 'An open'} heater would show {ohms_text(other)} there: no difference to trust. "
            f"Lift a lead."
        )
    return numbered(
        draw,
        "3.7",
        words,
        value,
        "ohms",
        0.4,
        why=why,
        hint="Draw every way from one probe to the other: through the heater, and through cable, winding and thermostat "
        "if that is closed.",
        misreadings=slips,
        given=given,
        misconception=8,
    )


def _rest_ohms(design: Installation, winding: float) -> float:
    """Ohms of the loop of zone 1 beside its heater and the winding."""
    open_heater = visited(design, PartField("zone1.valve", "heater_ohms", OPEN)).calling("zone1")
    return as_found_ohms(open_heater) - winding - 0.2


def splice_ohms(draw: Draw) -> Question:
    """Ohms of a splice from its drop and the clamp, or from level 2 the watts that cook it."""
    design, ohms = house(draw.chance, (1, 2)), draw.chance.between("joint", 2.0, 14.0)
    side = draw.chance.among("side", ("R", "W"))
    call = visited(design, Joint(f"zone1.{side} splice", "2", ohms)).calling("zone1")
    drop = call.volts(f"zone1.{side} splice.1", f"zone1.{side} splice.2")
    volts, amps, source = heater_volts(call), leg_amps(call), source_volts(call)
    watts = draw.level > 1 and draw.chance.share("watts") < 0.6
    given = [
        ("R to C, behind the fuse", volts_text(source)),
        (f"across the splice on the {side} side", volts_text(drop)),
        ("across the heater", volts_text(volts)),
        ("clamp on the W leg", amps_text(amps)),
    ]
    if watts:
        value, unit, within, ask = drop * amps, "W", 0.2, "How much heat is made in that splice?"
        slips = [
            Misreading(volts * amps, "That heat is made in the heater, where it belongs. Take the splice's own volts."),
            Misreading(source * amps, "That is all that the transformer gives. Take the splice's own volts."),
            Misreading(drop / amps, "Volts over amperes are ohms. Heat is volts times amperes."),
        ]
        why = f"{drop:.2f} V times {amps:.2f} A is {value:.1f} W, all of it in one connector."
    else:
        value, unit, within, ask = drop / amps, "ohms", 0.4, "How many ohms does that splice have?"
        slips = [
            Misreading(volts / amps, "Those are the heater's ohms. Take the volts across the splice."),
            Misreading(source / amps, "Those are the ohms of the whole loop. Take the volts across the splice alone."),
            Misreading(drop * amps, "Volts times amperes are watts. Ohms are volts over amperes."),
            Misreading((source - volts) / amps, "You have put the cable's share into the splice. Its own drop is given."),
        ]
        why = f"{drop:.2f} V over {amps:.2f} A is {value:.1f} ohms; a good splice has a few thousandths of one."
    return numbered(
        draw,
        "3.4",
        f"Zone 1 is on call, and every reading is taken under load. {ask}",
        value,
        unit,
        within,
        why=why,
        hint="One current runs through the whole loop. Put it together with the volts across the splice and no others.",
        misreadings=slips,
        given=given,
        misconception=31,
    )


def warm_up(draw: Draw) -> Question:
    """Seconds from the call to the click, from watts and the air about the valve; a joint or a second zone from level 2."""
    design = house(draw.chance, (2,), needs=("heat motor",))
    for attempt in range(MOST_ATTEMPTS):
        chance = draw.again(attempt)
        air = chance.between("air", *AIR_DEGC)
        changes = [PartField(name, "ambient_degC", air) for name in VALVE]
        if draw.level > 1 and chance.share("joint") < 0.7:
            changes.append(Joint("zone1.W splice", "2", chance.between("ohms", 1.0, 9.0)))
        there = visited(design, *changes).calling("zone1", *(["zone2"] if draw.level == 3 else []))
        seconds = seconds_to(there, "valve 1 clicks")
        if SOON < seconds < LATE:
            return _warm_up_asked(draw, there, seconds)
    raise JobError(f"{draw.kind}: seed {draw.seed!r} gives no warm-up to ask about; take another")


def _warm_up_asked(draw: Draw, there: Visit, seconds: float) -> Question:
    valve = there.world.installation.part("zone1.valve")
    volts = heater_volts(there)
    watts = volts**2 / valve.heater_ohms
    rise, needed = watts * valve.wax_resistance, valve.end_degC - valve.ambient_degC
    slips = [
        Misreading(
            valve.wax_tau * needed / rise, "You have let the wax warm at one steady rate. The warmer it is, the slower it climbs."
        ),
        Misreading(
            valve.wax_tau,
            "The time constant brings nearly two thirds of the whole rise. How much of the rise does this valve need?",
        ),
        Misreading(
            _seconds(valve, rise, valve.end_degC),
            "The wax does not start at nought degrees. It starts as warm as the air about it.",
        ),
        Misreading(
            _seconds(valve, 24 / volts * rise, needed),
            "Power goes with the square of the volts: take the watts that these volts make.",
        ),
    ]
    return numbered(
        draw,
        "3.3",
        "Cold valve, call just made, volts as given. After how many seconds does its end switch click?",
        seconds,
        "s",
        10.0,
        why=f"{watts:.1f} W lift the wax by {rise:.0f} K in the end. It needs {needed:.0f} K of them: "
        f"{valve.wax_tau:.0f} s times ln({rise:.0f} / ({rise:.0f} - {needed:.0f})) is about {seconds:.0f} s.",
        hint="Watts from volts and ohms, then the whole rise, then which share of it the click needs: t = tau x ln(rise / "
        "(rise - needed)).",
        misreadings=[one for one in slips if math.isfinite(one.value)],
        given=[
            ("volts across the heater", f"{volts:.2f} V"),
            ("heater", f"{valve.heater_ohms:.2f} ohms"),
            ("air at the valve", f"{valve.ambient_degC:.1f} \u00b0C ({valve.ambient_degC * 9 / 5 + 32:.0f} \u00b0F)"),
            ("the wax clicks at", f"{valve.end_degC:.1f} \u00b0C"),
            ("it rises in the end by", f"{valve.wax_resistance:.2f} K for each watt"),
            ("its time constant", f"{valve.wax_tau:.0f} s"),
        ],
        misconception=12,
    )


def _seconds(valve: HeatMotorValve, rise: float, needed: float) -> float:
    """How long a rise takes to come so far; inf where it never does."""
    return valve.wax_tau * math.log(rise / (rise - needed)) if rise > needed else math.inf


QUESTIONS: Mapping[str, Callable[[str, int], Question]] = questions_of(
    CHAPTER,
    {
        "predict the amperes": heater_amps,
        "ohms in place or lifted": heater_ohms,
        "ohms and watts of a splice": splice_ohms,
        "time a warm-up": warm_up,
        **heater_head_questions.ASKED,
        "choose the next test": lambda draw: next_test(draw, PLAN),
        "read a log": lambda draw: log_read(draw, PLAN),
    },
)
"""Questions beside fault-finding of the chapter heater-loops, by kind."""
