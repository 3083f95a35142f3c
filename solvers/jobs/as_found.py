"""A house as found: wired, working and untidy. The learner names its conductors, says what to tidy, and what of the tie."""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from ..plant.parts import Boiler
from ..plant.wiring import Installation
from .findings import Evidence, listed, said
from .found_readings import Against, Take, told_apart
from .injected import Injected, injected
from .marking import MarkLine
from .places import places
from .separation import Room
from .wireup import WireUp
from .wireups import wire_up
from .wiring_answer import GAUGES, Joint, Wire, Wiring
from .wiring_marks import WiringMarks, judged
from .wiring_questions import Choice, Leads, Question, leads_found

__all__ = ["ID", "ROLES", "TIDY", "Working", "as_found", "fault_words", "marked_as_found", "roles", "untidy_things"]

ID = "W17"

ROLES = ("R ahead of the fuse", "R", "W of zone 1", "W of zone 2", "C", "switch line")
"""What a conductor of this house can be."""

TIDY: Mapping[str, str] = {
    "labels": "label the conductors that have none",
    "spare": "mark the conductor that carries C in the colour of a spare",
    "crowded": "make the joint of a crowded screw in a connector",
    "fuse": "fit a larger fuse",
    "leads": "exchange the heater leads of a valve",
    "length": "replace the longer conductors by thicker ones",
}
"""What could be tidied, by id; not all of it wants it."""

CONDUCTORS, ZONES, SAFETY, LEADS, TIDYING, PREDICTION = 40, 10, 20, 10, 10, 10
"""Points out of 100: what conductors are and what zones do count as behaviour does, the tie as safety."""

MISUSE_COST = 5  # of the points for safety, each reading that a live circuit spoils

COLOURS = ("white", "red", "green", "yellow", "brown", "black", "orange")
SPARE = "blue"  # in this house the colour of conductors without a purpose

TIE = Choice(
    "tie",
    "May the valve transformer and the boiler's T-T meet at one point here?",
    ("always", "never", "maker and local code decide"),
    "maker and local code decide",
)


@dataclass(frozen=True, slots=True)
class Working(Question):
    """Which zones open their own valve and call the boiler; the answer lists them. Solved on what is there."""

    def expected(self, installation: Installation) -> list[str]:
        """The zones that work."""
        evidence = Evidence(installation)
        boilers = evidence.named(Boiler)
        if evidence.behaviour.rest.gone or evidence.behaviour.rest.chattering:
            return []
        working = []
        for zone in installation.zones:
            after = evidence.behaviour.step(f"{zone}.stat").after
            if after.opened == (f"{zone}.valve",) and set(boilers) <= set(after.fired):
                working.append(zone)
        return working

    def share(self, installation: Installation, answer: object, seed: str) -> float:
        """Whether exactly the zones that work are listed."""
        return float(isinstance(answer, list | tuple) and sorted(map(str, answer)) == self.expected(installation))


def as_found(seed: str) -> WireUp:
    """The house of a seed: two three-wire valves, shared commons, T-T fed directly, and somebody's untidy wiring.

    Splices stand anywhere, colours mean nothing, labels are few, and a conductor in the colour of a spare carries C.
    """
    base = wire_up("W16")
    wiring = _untidy(seed)
    return replace(
        base,
        id=ID,
        title="as found",
        brief="This house works. Before anybody touches it: what is each conductor, what would you tidy, and is the tie allowed?",
        minutes=30,
        criteria=tuple(criterion for criterion in base.criteria if not isinstance(criterion, Room)),  # tidying is asked for
        questions=(Working("zones"), TIE, *base.questions),
        found=wiring,
    )


def roles(installation: Installation) -> dict[str, str]:
    """What every conductor is, from what it is joined to: any name in ROLES. Colours and labels have no say."""
    evidence = Evidence(installation)
    at, of = places(evidence), evidence.nets.of
    found: dict[str, str] = {}
    for wire in installation.conductors:
        stats = [stat for stat in evidence.stats if of[f"{stat}.W"] == of[wire.a]]
        if of[wire.a] == of["transformer.R"]:
            found[wire.name] = "R ahead of the fuse"
        elif at.is_r(wire.a):
            found[wire.name] = "R"
        elif at.is_c(wire.a):
            found[wire.name] = "C"
        elif stats:
            found[wire.name] = f"W of {said(stats[0].removesuffix('.stat'))}"
        else:
            found[wire.name] = "switch line"
    return found


def untidy_things(task: WireUp, wiring: Wiring) -> tuple[str, ...]:
    """The ids of TIDY that this wiring wants."""
    here = task.made(wiring)
    carrying = roles(here)
    found = ["labels"] if wiring.unlabelled() else []
    found += ["spare"] if any(wire.colour == SPARE and carrying[wire.name] == "C" for wire in wiring.wires) else []
    found += ["crowded"] if here.crowded() else []
    return tuple(found)


def fault_words(fault: Injected) -> str:
    """The injected fault as a question that names the conductor and no lead: which lead is which is asked for too."""
    return f"{fault.wire[:1].upper()}{fault.wire[1:]} breaks. Which zones fail?"


def marked_as_found(
    task: WireUp, answers: Mapping[str, object], *, seed: str, takes: Sequence[Take] = (), misuses: int = 0
) -> WiringMarks:
    """Mark what was said of a house as found: 40 for its conductors, 20 for safety, 10 each for the other four.

    `answers` holds "conductors" (wire to role), "tie", "zones", "tidy" (two ids of TIDY), "prediction", and a mapping for
    every question about leads. A name counts when `takes` tell the conductor from everything else in ROLES. A wrong
    answer is marks, never an error.
    """
    wiring = task.found
    here = task.made(wiring)
    right = roles(here)
    given = answers.get("conductors")
    given = given if isinstance(given, Mapping) else {}
    apart = told_apart(here, right, takes)
    wanting = {name: _wanting(name, role, given.get(name), apart[name]) for name, role in right.items()}
    reasons = tuple(words for words in wanting.values() if words)
    named = len(right) - len(reasons)
    fault = injected(task, wiring, seed)
    foreseen = fault.share(answers.get("prediction"))
    shares = {question.id: question.share(here, answers.get(question.id), seed) for question in task.questions}
    lines = (
        MarkLine(
            "conductors",
            round(CONDUCTORS * named / len(right), 1),
            CONDUCTORS,
            reasons or ("Every conductor is named, each by a reading.",),
        ),
        _zones(shares["zones"]),
        _safety(shares["tie"], misuses),
        _leads(task, shares, seed),
        _tidied(untidy_things(task, wiring), answers.get("tidy")),
        MarkLine("prediction", PREDICTION * foreseen, PREDICTION, (f"{fault_words(fault)} Solved: {fault.told}.",)),
    )
    feedback = (f"{named} of {len(right)} conductors are named, each by a reading.", *reasons)
    return WiringMarks(lines, feedback, judged(task, wiring))


def _wanting(name: str, role: str, given: object, apart: Mapping[str, Against]) -> str:
    """Why a conductor's name does not count; "" for one that is right and proven."""
    if not given:
        return f"{name} is {role}; it was given no name."
    if given != role:
        against = apart.get(str(given))
        if against is None:
            return f"{name} is {role}, not {given}: no reading in your log tells the two apart."
        seen = f"your line {against.line + 1} shows {against.shown}"
        return f"{name} is {role}, not {given}: {seen}, where {given} shows {against.would}."
    open_still = [other for other in ROLES if other != role and other not in apart]
    if not open_still:
        return ""
    return f"{name} is {role}, as you say, but no reading in your log tells it from {listed(open_still)}."


def _zones(share: float) -> MarkLine:
    told = "Foreseen." if share == 1 else "Not as you wrote it down before the first call."
    return MarkLine("zones", ZONES * share, ZONES, (f"Either stat opens its own valve, and that starts the boiler. {told}",))


def _safety(share: float, misuses: int) -> MarkLine:
    told = ["Maker and local code decide on the tie; a second one is never allowed."]
    if misuses:
        told.append(f"{misuses} reading{'s' if misuses > 1 else ''} spoiled by a live circuit: prove it dead first.")
    return MarkLine("safety", max(0.0, SAFETY * share - MISUSE_COST * misuses), SAFETY, tuple(told))


def _leads(task: WireUp, shares: Mapping[str, float], seed: str) -> MarkLine:
    asked = [question for question in task.questions if isinstance(question, Leads)]
    told = []
    for question in asked:
        valve = next(part for part in task.parts if part.name == question.valve)
        pairs = [f"{lead} is {name}" for lead, name in leads_found(valve, seed).items()]
        told.append(f"{said(valve.name).capitalize()}: {listed(pairs)}.".replace("The valve", "Valve"))
    share = sum(shares[question.id] for question in asked) / len(asked)
    return MarkLine("leads", round(LEADS * share, 1), LEADS, tuple(told))


def _tidied(wanted: Sequence[str], answer: object) -> MarkLine:
    chosen = (
        list(dict.fromkeys(answer))[:2] if isinstance(answer, list | tuple) and all(isinstance(id, str) for id in answer) else []
    )
    right = [id for id in chosen if id in wanted]
    wrong = [f"This does not: {TIDY[id]}." for id in chosen if id in TIDY and id not in wanted]
    told = (*(f"This wants it: {TIDY[id]}." for id in wanted), *wrong)
    return MarkLine("tidying", TIDYING / 2 * len(right), TIDYING, told)


def _untidy(seed: str) -> Wiring:
    points = (
        ("transformer.R", "fuse.in"),
        ("fuse.out", "zone1.stat.R", "zone2.stat.R"),
        ("zone1.stat.W", "zone1.valve.H"),
        ("zone2.stat.W", "zone2.valve.H"),
        ("transformer.C", "zone1.valve.S", "zone2.valve.S", "boiler.T2"),
        ("boiler.T1", "zone1.valve.E", "zone2.valve.E"),
    )
    joints: list[Joint] = []
    runs: list[tuple[str, str]] = []
    for number, point in enumerate(points):
        order = sorted(point, key=lambda terminal: _share(seed, f"order of {terminal}"))
        for before, after in pairwise(order):
            if _share(seed, f"splice between {before} and {after}") < 0.5:
                joint = Joint(f"splice {len(joints) + 1}", 2)
                joints.append(joint)
                runs += [(before, joint.terminals[0]), (joint.terminals[1], after)]
            else:
                runs.append((before, after))
        if number == 4 and _share(seed, "crowded screw") < 0.5:
            # one more conductor where two are landed already, to a terminal of the same point
            runs.append((order[1], order[-1]))
    common = [at for at, run in enumerate(runs) if {*run} & {*points[4]}]
    spare = common[int(_share(seed, "spare") * len(common))]
    order = sorted(range(len(runs)), key=lambda at: _share(seed, f"place {at}"))
    return Wiring(tuple(joints), tuple(_wire(seed, name, runs[at], at == spare) for name, at in enumerate(order, 1)))


def _wire(seed: str, number: int, run: tuple[str, str], spare: bool) -> Wire:
    colour = SPARE if spare else COLOURS[int(_share(seed, f"colour {number}") * len(COLOURS))]
    label = "spare" if spare else f"no. {number}" if _share(seed, f"label {number}") < 0.3 else ""
    gauge = GAUGES[2 + int(_share(seed, f"gauge {number}") * 2)]
    return Wire(
        f"wire {number}", *run, gauge=gauge, colour=colour, label=label, feet=round(4 + 10 * _share(seed, f"feet {number}"))
    )


def _share(seed: str, decision: str) -> float:
    return random.Random(f"{seed}/{decision}").random()
