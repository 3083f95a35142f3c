"""Questions beside fault-finding of the chapter service-calls: those with a number or an order, and the list of all kinds."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from ..circuit import OPEN
from ..faults.changes import Change, Joint, PartField
from ..faults.fault import Suspect
from ..jobs.job import JobError
from ..jobs.questions import Question
from ..plant import facts, sizing
from ..plant.parts import Transformer
from ..plant.wiring import Installation
from . import service_verdict_questions
from .asking import Draw, Misreading, numbered, ordered, predicted_reading, questions_of
from .asking_jobs import log_read, next_test, small_job
from .chance import Chance
from .houses import REGULATION
from .service_calls import CHAPTER, PLAN
from .visits import Visit, house, visited, volts_text
from .zone_readings import heater_pair, heater_volts, leg_amps, source_volts

__all__ = ["QUESTIONS"]

MOST_ATTEMPTS = 30
FOUR_WIRE = {"four-wire": 1.0}
PLAIN = ("50 Hz", "internal limit", "breaker", "one-shot", "several taps", "grounded")
MOST_HEATERS = 6
MARGIN = 0.04  # of a limit, by which every load is above or below it
MINUTES = (1, 2, 3, 5, 8, 12)  # what a check may cost
APART = 1.2  # how much more one check gives per minute than the next, so that the order is beyond dispute
FEWEST_RANKED, MOST_RANKED = 4, 5
MOST_TRIALS = 40  # of minutes
Check = tuple[str, int, int]  # words, percent, minutes

TWO_ZONES = replace(PLAN, levels={number: replace(level, zones=(2,)) for number, level in PLAN.levels.items()})
"""The chapter's jobs in small houses: a question is asked while somebody waits."""

DANGER = 5  # a severity: what is not checked but left alone


def ranked(draw: Draw) -> Question:
    """Suspects in the order in which to check them one by one: chance per minute. Source: the classic rule for such searches."""
    for attempt in range(MOST_ATTEMPTS):
        job = small_job(draw, TWO_ZONES, attempt)
        suspects = [] if job is None else [one for one in job.suspects if one.row.severity < DANGER][:MOST_RANKED]
        if len(suspects) < FEWEST_RANKED:
            continue
        for trial in range(MOST_TRIALS):
            table = _checks(draw.again(attempt), trial, suspects)
            rates = [share / minutes for _, share, minutes in table]
            by_chance = sorted(table, key=lambda line: -line[1])
            if all(one >= APART * other for one, other in itertools.pairwise(rates)) and by_chance != table:
                return _ranked_asked(draw, job.story, table)
    raise JobError(f"{draw.kind}: seed {draw.seed!r} gives no suspects to rank; take another")


def _checks(chance: Chance, trial: int, suspects: Sequence[Suspect]) -> list[Check]:
    """Each suspect with its chance and a drawn cost, the best for a minute first."""
    whole = sum(one.weight for one in suspects)
    table = [(one.words, max(1, round(100 * one.weight / whole)), chance.among(f"{trial} {one.id}", MINUTES)) for one in suspects]
    return sorted(table, key=lambda line: -line[1] / line[2])


def _ranked_asked(draw: Draw, story: str, table: Sequence[Check]) -> Question:
    told = "; ".join(f"{words} {share} / {minutes} = {share / minutes:.1f}" for words, share, minutes in table)
    reasons = []
    for (_, share, minutes), (_, other_share, other_minutes) in itertools.pairwise(table):
        if share < other_share:
            reasons.append("The likelier of two does not always come first. What does each of them give for a minute?")
        elif minutes > other_minutes:
            reasons.append("The cheaper of two does not always come first. What does each of them give for a minute?")
        else:
            reasons.append("Two neighbours stand the wrong way round. Divide each one's chance by its minutes.")
    return ordered(
        draw,
        "5.1",
        f"{story} Each suspect can be checked by itself. In which order is it found soonest on average?",
        [words for words, _, _ in table],
        reasons,
        why=f"Percent for each minute: {told}.",
        hint="Divide each chance by what its check costs, and begin with the most for a minute.",
        given=[(words, f"{share} % likely, {minutes} min to check") for words, share, minutes in sorted(table)],
    )


def carried(draw: Draw) -> Question:
    """How many heaters a transformer carries within its nameplate, or within four fifths of it, by volts times amperes."""
    share = 1.0 if draw.level == 1 else 0.8
    for attempt in range(MOST_ATTEMPTS):
        chance = draw.again(attempt)
        va, ohms = chance.among("VA", (40.0, 50.0, 75.0, 100.0)), chance.of("heaters", facts.HEATER_OHMS)
        design = house(chance, (MOST_HEATERS,), shapes=FOUR_WIRE, needs=("heat motor",), bars=PLAIN)
        source = _sized(chance, design, va)
        if not _clear(_estimated(design.with_part(source), ohms), share * va):
            continue  # before a house is lived in for a day
        changes = [PartField(f"{zone}.valve", "heater_ohms", ohms) for zone in design.zones]
        changes += [PartField(source.name, name, getattr(source, name)) for name in ("va", "emf", "ohms")]
        there = visited(design, *changes)
        loads = _staged(there)
        if _clear(loads, share * va):
            return _carried_asked(draw, there, share, loads)
    raise JobError(f"{draw.kind}: seed {draw.seed!r} gives no transformer to load; take another")


def _clear(loads: Sequence[float], limit: float) -> bool:
    """Whether some of the loads, and not all, are within the limit, none of them so near that it could be argued about."""
    return loads[0] <= limit < loads[-1] and min(abs(load / limit - 1) for load in loads) > MARGIN


def _estimated(design: Installation, ohms: float) -> list[float]:
    """VA of one to all heaters, with an ohm for each zone's wires: good enough to pass a draw by."""
    source, each = design.part("transformer"), ohms + 1.0
    amps = [source.emf / (source.ohms + each / count) for count in range(1, MOST_HEATERS + 1)]
    return [one * (source.emf - source.ohms * one) for one in amps]


def _sized(chance: Chance, design: Installation, va: float) -> Transformer:
    """The house's transformer as one of so many VA."""
    drawn = design.part("transformer")
    sized = Transformer.from_nameplate(drawn.name, va, regulation=chance.between("regulation", *REGULATION[va]))
    return replace(drawn, va=sized.va, emf=sized.emf, ohms=sized.ohms)


def _staged(there: Visit) -> list[float]:
    """VA from the transformer with one zone calling, two, and so on."""
    loads = []
    for zone in there.world.design.zones:
        there = there.calling(zone)
        loads.append(there.volts("transformer.R", "transformer.C") * there.amps("R feed"))
    return loads


def _carried_asked(draw: Draw, there: Visit, share: float, loads: Sequence[float]) -> Question:
    valve, source = there.world.installation.part("zone1.valve"), there.world.installation.part("transformer")
    va = source.va
    count = sum(load <= share * va for load in loads)
    each = sizing.heater_va(valve.heater_ohms)
    idle = there.volts("transformer.R", "transformer.C")
    limit = "" if share == 1 else f"{share:.0%} of "
    return numbered(
        draw,
        "5.3",
        f"How many of these heaters may call together before the transformer gives more than {limit}its nameplate, by the "
        f"volts and "
        "amperes that are really there?",
        count,
        "",
        0.4,
        why="VA given as zones are added: "
        + ", ".join(f"{load:.1f}" for load in loads[: count + 1])
        + f". The limit is {share * va:.0f} VA.",
        hint="The volts sag as heaters are added. Work out volts and amperes for one, two, three, and multiply.",
        misreadings=[
            Misreading(count + 1, "The last one takes the load over the limit. Multiply once more."),
            Misreading(int(va / each), "Has the margin been kept, and the sag been counted?"),
            Misreading(
                int(share * va / (idle**2 / valve.heater_ohms)),
                "The volts under load are not the volts at rest. Let them sag first.",
            ),
            Misreading(count - 1, "There is room for more. Work out one heater more."),
            Misreading(len(loads), "That every valve opens one day proves nothing about how hot the windings get."),
        ],
        given=[
            ("nameplate", f"{va:.0f} VA"),
            ("R to C at rest", volts_text(idle)),
            ("source ohms", f"{source.ohms:.2f} ohms"),
            ("each heater", f"{valve.heater_ohms:.1f} ohms"),
            ("each zone's wires, joints and thermostat", f"{_rest_ohms(there):.2f} ohms"),
        ],
        misconception=15,
    )


def _rest_ohms(there: Visit) -> float:
    """Ohms of zone 1's loop outside heater and transformer, from readings on its call."""
    call = there.calling("zone1")
    return (call.volts("transformer.R", "transformer.C") - heater_volts(call)) / leg_amps(call)


def added_up(draw: Draw) -> Question:
    """Loads of different kinds added as plain VA, or from level 2 as phasors too."""
    chance = draw.chance
    heaters, motors = 1 + int(3 * chance.share("heaters")), 1 + int(4 * chance.share("motors"))
    volts, motor, relay = facts.TRANSFORMER_VOLTS.value, _impedance(chance, "motor"), _impedance(chance, "relay")
    loads = [
        sizing.Load(round(sizing.heater_va(chance.of("ohms", facts.HEATER_OHMS)), 1), 1.0, heaters),
        sizing.Load(round(volts**2 / abs(motor), 1), round(_factor(motor), 2), motors),
        sizing.Load(round(volts**2 / abs(relay), 1), round(_factor(relay), 2)),
    ]
    phasors = draw.level > 1 and chance.share("asked") < 0.6
    plain, power = sizing.plain_va(loads), sizing.phasor_va(loads)
    value = abs(power) if phasors else plain
    other = Misreading(plain, "That is the plain sum, and on the safe side. Here watts and vars are added each for itself.")
    if not phasors:
        other = Misreading(abs(power), "That is the phasor sum. The plain sum adds the VA as they stand.")
    names = ("heat motor heaters", "motor-driven valves", "relay coil")
    return numbered(
        draw,
        "5.4",
        f"These loads run together on 24 volts. What is their "
        f"{'phasor sum: watts and vars added each for itself' if phasors else 'plain sum'}?",
        value,
        "VA",
        0.4,
        why=f"Plain: {plain:.1f} VA. Phasors: {power.real:.1f} W and {power.imag:.1f} var make {abs(power):.1f} VA. "
        "The plain sum is the higher, so it is safe for choosing a size.",
        hint="Mind how many there are of each. "
        + ("Watts are VA times power factor; vars stand at a right angle to them." if phasors else ""),
        misreadings=[
            other,
            Misreading(power.real, "Those are the watts alone. The windings carry the vars as well."),
            Misreading(power.real + power.imag, "Watts and vars stand at a right angle. They do not add as plain numbers."),
            Misreading(sum(load.va for load in loads), "Count how many there are of each load."),
        ],
        given=[
            (name, f"{load.count} of {load.va:.1f} VA, power factor {load.power_factor:.2f}")
            for name, load in zip(names, loads, strict=True)
        ],
    )


def _impedance(chance: Chance, kind: str) -> complex:
    """A drawn motor's or relay's impedance on 60 Hz."""
    ohms, reactance = {
        "motor": (facts.MOTOR_OHMS, facts.MOTOR_REACTANCE),
        "relay": (facts.RELAY_OHMS, facts.RELAY_REACTANCE),
    }[kind]
    return complex(chance.of(f"{kind} ohms", ohms), chance.of(f"{kind} reactance", reactance))


def _factor(impedance: complex) -> float:
    return impedance.real / abs(impedance)


def lost_return(draw: Draw) -> Question:
    """Volts across a heater of two sources whose shared return is open, with one zone calling or both."""
    chance = draw.chance
    design = house(chance, (2,), shapes={"shared return": 1.0}, needs=("heat motor",))
    opposed, both = chance.share("phase") < 0.6, chance.share("both") < 0.75
    changes: list[Change] = [PartField("transformer 2", "opposed", opposed), Joint("C joint", "trunk", OPEN)]
    if draw.level > 1:
        changes.append(PartField("zone2.valve", "heater_ohms", chance.between("other heater", 42.0, 75.0)))
    there = visited(design, *changes)
    call = there.calling("zone1", *(["zone2"] if both else []))
    whole = visited(design)
    healthy = heater_volts(whole.calling("zone1"))
    idle = [source_volts(whole), source_volts(whole, " 2")]
    ohms = [there.world.installation.part(f"{zone}.valve").heater_ohms for zone in design.zones]
    rest = _loop_ohms(design) - design.part("zone1.valve").heater_ohms - design.part("zone2.valve").heater_ohms
    total = sum(idle) if opposed else abs(idle[0] - idle[1])
    way = "add up" if opposed else "leave their difference"
    told = f"{idle[0]:.1f} and {idle[1]:.1f} V {way}: {total:.1f} V over {ohms[0]:.1f} + {ohms[1]:.1f} + {rest:.1f} ohms. "
    return predicted_reading(
        draw,
        "5.4",
        f"Two transformers, phases {'opposed' if opposed else 'the same'}, one zone on each, and one return wire for "
        f"both. That wire is open. "
        f"{'Both zones call' if both else 'Zone 1 alone calls'}. What does the meter show across the heater of valve 1?",
        call,
        *heater_pair(call),
        why=(told if both else "With one thermostat open no way round is left. ") + "Across heater 1: {value}.",
        hint="With the return gone, what way is left for the current? Draw it, and add the sources as their phases say.",
        misreadings=[
            Misreading(healthy, "That is what it reads with the return whole. Follow the way that the current has left."),
            Misreading(total if both else idle[0], "All of it across one heater? What else stands in the loop?"),
            Misreading(total / 2, "The volts divide by ohms, not by heads."),
            Misreading(0.0, "There is a way left: through the other zone and its source."),
            Misreading(
                sum(idle) * ohms[0] / (sum(ohms) + rest),
                "Do the sources drive the same way round this loop, and is the loop closed?",
            ),
        ],
        given=[
            ("R to C of the first, at rest", f"{idle[0]:.1f} V"),
            ("R to C of the second, at rest", f"{idle[1]:.1f} V"),
            ("heater 1 and heater 2", f"{ohms[0]:.1f} and {ohms[1]:.1f} ohms"),
            ("wires, joints, thermostats and both sources together", f"{rest:.1f} ohms"),
        ],
        within=0.4,
    )


def _loop_ohms(design: Installation) -> float:
    """Ohms round both zones with the return open, from a solved reading with the phases opposed."""
    open_return = visited(design, PartField("transformer 2", "opposed", True), Joint("C joint", "trunk", OPEN)).calling(
        "zone1", "zone2"
    )
    both = source_volts(visited(design)) + source_volts(visited(design), " 2")
    return both / leg_amps(open_return)


STEPS = (
    (
        "Remake and cap what was opened, each lead by itself, and tug every conductor.",
        "Nothing is judged on a joint that was not finished and tugged.",
    ),
    (
        "Take off and count every jumper; put every opener on auto.",
        "A jumper or a lever left in place would let a zone pass that does not work.",
    ),
    ("Put the covers on, with all hands out.", "Power comes back only when nobody can touch what carries it."),
    (
        "Switch on and watch the first call's amperes with the clamp.",
        "The first amperes tell whether it is safe to go on to the zones.",
    ),
    (
        "Call each zone alone: it opens, clicks and starts the boiler.",
        "That every zone comes on is proven before that all go off.",
    ),
    (
        "Turn every zone down: the valves shut and the boiler stops.",
        "While calls are still made for tests, the customer's settings would be lost again.",
    ),
    ("Set every thermostat back to what the customer had.", "Leave the house as it is to stay, then write down how you left it."),
    ("Write down the readings and tell the customer in a sentence.", ""),
)
"""How a job is closed, and why each step comes before the next ones. Common practice, no source."""


def closing(draw: Draw) -> Question:
    """The steps that close a job, in their order; some of them at the lower levels."""
    count = {1: 5, 2: 6, 3: len(STEPS)}[draw.level]
    kept = sorted(draw.chance.some("steps", range(len(STEPS)), count))
    steps = [STEPS[place] for place in kept]
    return ordered(
        draw,
        "5.5",
        "The repair is made, the power still off. In which order is the job closed?",
        [words for words, _ in steps],
        [reason for _, reason in steps[:-1]],
        why=" ".join(words for words, _ in steps),
        hint="First what is done dead, then what is watched as power comes back, then the proof, then the customer.",
    )


QUESTIONS: Mapping[str, Callable[[str, int], Question]] = questions_of(
    CHAPTER,
    {
        "rank the suspects": ranked,
        "how many heaters it carries": carried,
        "add up the loads": added_up,
        "a lost shared return": lost_return,
        "close the job": closing,
        **service_verdict_questions.ASKED,
        "choose the next test": lambda draw: next_test(draw, TWO_ZONES),
        "read a log": lambda draw: log_read(draw, TWO_ZONES),
    },
)
"""Questions beside fault-finding of the chapter service-calls, by kind."""
