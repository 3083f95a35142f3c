"""Invented learners who work a job at the bench: one by the best next reading, the others each with a habit.

A player takes a job, a learner's name and sometimes a seed, and gives back the bench with its log and verdict.
"""

import json
from contextlib import suppress
from dataclasses import fields
from random import Random

from solvers.circuit import Reading
from solvers.faults.planting import planted
from solvers.jobs.acts import Outcome
from solvers.jobs.bench import Bench
from solvers.jobs.differences import outcomes_apart
from solvers.jobs.evidence import cases, survivors
from solvers.jobs.reference import path, ranked
from solvers.jobs.situations import looked_at, pairs, situations
from solvers.jobs.survey import READING_COST, cost_of, survey
from solvers.jobs.treating import treated
from solvers.jobs.working import worked
from solvers.plant.parts import Boiler, Fuse, Relay, Splice, Stat, Transformer, Valve

__all__ = ["PLAYERS", "beeps", "careful", "everything", "follows", "guesses", "hasty", "lucky", "mistaken", "replaces"]

EXPLAINED = {
    "explanation": "The part named above is at fault. The readings I ticked cannot be explained by anything else.",
    "customer": "I found the cause and have put everything back as it was.",
}
DANGER = 5
REST_S = 3600.0


def follows(job, learner="fay", seed=""):
    """Takes the reading that tells most for what it costs, until one suspect stands; repairs, verifies, restores, proves."""
    bench = Bench(job, learner)
    stand = _Stand(bench)
    for place, slot in enumerate(_order(job)):
        found = survey(job, slot, alone=place > 0)
        stand.found, stand.at = found, None if place else -1
        _narrowed(stand, slot, proving=2)
        if _dangers(bench):
            break
        if place == 0 and len(job.faults) > 1:
            stand.back()
            _repaired(bench, slot)
    if danger := _dangers(bench):
        bench.step({"do": "stop"})
        bench.step({"do": "refer", "to": danger})
    else:
        stand.back()
        slot = _order(job)[-1]
        _repaired(bench, slot)
        _verified(bench)
    claims = [survivors(job, bench.log, slot)[0] for slot in range(len(job.faults))]
    return _judged(bench, list(dict.fromkeys(claims)), _proof(bench))


careful = follows


def guesses(job, learner="gil", seed=""):
    """Names what is most often at fault, or something else, without touching anything."""
    bench = Bench(job, learner)
    chance = Random(f"{seed}/guess")
    claim = chance.choices(job.suspects, [suspect.weight for suspect in job.suspects])[0]
    return _judged(bench, [claim.id], [])


def replaces(job, learner="ray", seed=""):
    """Fits new parts in no order until the complaint is gone, and blames the last."""
    bench = Bench(job, learner)
    kinds = Valve | Stat | Transformer | Boiler | Relay | Splice | Fuse
    parts = [part.name for part in job.design.parts if isinstance(part, kinds) and not part.hidden]
    Random(f"{seed}/parts").shuffle(parts)
    part = parts[0]
    for part in parts:
        _fitted(bench, part)
        _tried_out(bench)
        if all(treated(job, worked(job, bench.log)[0], slot) for slot in range(len(job.faults))):
            break
    return _judged(bench, [_blamed(job, part).id], _last_readings(bench))


def beeps(job, learner="ben", seed=""):
    """Beeps across everything in its place, with power off and, to be sure, with power on; blames what did not sound."""
    bench = Bench(job, learner)
    zone = job.zone
    across = [
        (part.name, ends)
        for part in job.design.parts
        if part.name.startswith((zone, "fuse", "C bus", "R bus"))
        for ends in [part.drive_pair if isinstance(part, Valve) else part.terminals[:2]]
        if len(ends) == 2
    ]
    supplies = [name for name, on in bench.view()["supplies"].items() if on]
    bench.step({"do": "call", "stat": f"{zone}.stat", "on": True})
    for on in (False, True):
        for name in supplies:
            bench.step({"do": "switch", "part": name, "on": on})
        for _, (first, second) in across:
            bench.step({"do": "measure", "function": "beeper", "first": first, "second": second})
    bench.step({"do": "call", "stat": f"{zone}.stat", "on": False})
    silent = {line.act["first"] for line in bench.log if line.act["do"] == "measure" and "beep" not in line.text}
    part = next((name for name, (first, _) in across if first in silent), across[0][0])
    return _judged(bench, [_blamed(job, part).id], _last_readings(bench))


def hasty(job, learner="hal", seed=""):
    """Turns the zone up, feels the valve after half a minute, and condemns it."""
    bench = Bench(job, learner)
    zone, valve = job.zone, f"{job.zone}.valve"
    bench.step({"do": "call", "stat": f"{zone}.stat", "on": True})
    bench.step({"do": "wait", "seconds": 30})
    bench.step({"do": "feel", "part": valve})
    bench.step({"do": "call", "stat": f"{zone}.stat", "on": False})
    return _judged(bench, [_blamed(job, valve).id], _last_readings(bench))


def everything(job, learner="eve", seed=""):
    """Reads every pair and uses every sense, at rest and on call, and only then asks what it means; right in the end."""
    bench = Bench(job, learner)
    design, zone = job.design, job.zone
    acts = [{"do": "measure", "function": "volts", "first": first, "second": second} for first, second in pairs(design)]
    acts += [{"do": how, "part": part} for how, part in looked_at(design)]
    for act in acts:
        bench.step(act)
    for step in situations(design, zone)[1:3]:
        for act in step.acts:
            bench.step(act)
    for act in acts:
        bench.step(act)
    stand = _Stand(bench)
    for place, slot in enumerate(_order(job)):
        stand.found, stand.at = survey(job, slot, alone=place > 0), None if place else 2
        _narrowed(stand, slot, proving=2, careful=False)
        stand.back()
        _repaired(bench, slot)
    _verified(bench)
    claims = [survivors(job, bench.log, slot)[0] for slot in range(len(job.faults))]
    return _judged(bench, list(dict.fromkeys(claims)), _proof(bench))


def lucky(job, learner="lou", seed=""):
    """Looks at the transformer, then names the right cause without a reading that tells it from anything."""
    bench = Bench(job, learner)
    bench.step({"do": "measure", "function": "volts", "first": "transformer.R", "second": "transformer.C"})
    bench.step({"do": "verdict", "suspects": list(job.answers), "proof": [0], "explanation": "It usually is.", "customer": ""})
    return bench


def mistaken(job, learner="mia", seed=""):
    """Reads with care, then blames something that those very readings rule out."""
    bench = Bench(job, learner)
    stand = _Stand(bench)
    stand.found, stand.at = survey(job), -1
    _narrowed(stand, 0, proving=0)
    stand.back()
    claim = max(cases(job, bench.log), key=lambda case: len(case.contradictions)).suspect.id
    bench.step({"do": "verdict", "suspects": [claim], "proof": [], "explanation": "I am sure of it.", "customer": "All done."})
    return bench


PLAYERS = {
    "follows": follows,
    "guesses": guesses,
    "replaces": replaces,
    "beeps": beeps,
    "hasty": hasty,
    "everything": everything,
}
"""The players whose marks are told in a table, by name."""


class _Stand:
    """Where a player stands in the standard round of one survey, with the bench brought along."""

    def __init__(self, bench):
        self.bench, self.found, self.at = bench, None, -1  # -1 for arrival, None for anything else
        self.switched = {}  # part -> how it was found
        self.nudged = []

    def go(self, situation):
        """Bring the bench to a situation of the round: on from here where that leads there, else from rest."""
        way = self._way(situation)
        if self.at is not None and self.at in (-1, *way):
            rest = way[way.index(self.at) + 1 :] if self.at in way else way
        else:
            self.back(REST_S)
            rest = way
        for number in rest:
            for act in self.found.situations[number].acts:
                self.step(act)
        self.at = situation

    def step(self, act):
        """One act of a situation; what the bench refuses as done already is left out."""
        if act["do"] == "switch":
            self.switched.setdefault(act["part"], self.bench.world.state.of(act["part"]).on)
        if act["do"] == "nudge":
            self.nudged.append(act["part"])
        with suppress(ValueError):
            self.bench.step(act)

    def back(self, seconds=0.0):
        """Everything as it was found: jumpers off, leads landed, switches and calls back; then a rest."""
        bench = self.bench
        for first, second in bench.world.jumpers:
            bench.step({"do": "jumper", "first": first, "second": second, "on": False})
        for terminal in bench.view()["lifted"]:
            bench.step({"do": "land", "terminal": terminal})
        for stat, calling in bench.view()["calls"].items():
            if calling and stat.partition(".")[0] in bench.job.design.zones:
                bench.step({"do": "call", "stat": stat, "on": False})
        for part in {name for name in self.nudged if self.nudged.count(name) % 2}:
            bench.step({"do": "nudge", "part": part})
        for part, on in self.switched.items():
            if bench.world.state.of(part).on != on:
                bench.step({"do": "switch", "part": part, "on": on})
        if bench.view()["uncovered"]:
            bench.step({"do": "covers"})
        self.switched, self.nudged, self.at = {}, [], None
        if seconds:
            bench.step({"do": "wait", "seconds": seconds})

    def _way(self, situation):
        way = []
        while situation >= 0:
            way.insert(0, situation)
            situation = self.found.situations[situation].after
        return way


def _order(job):
    """The faults in the order in which they are found for less, as par counts it."""
    if len(job.faults) == 1:
        return (0,)

    def cost(order):
        first, second = order
        paths = [
            path(found, job.answers[slot])
            for found, slot in ((survey(job, first), first), (survey(job, second, alone=True), second))
        ]
        unfinished = any(not steps or len(steps[-1].after) > 1 for steps in paths)
        return unfinished, sum(step.probe.cost for steps in paths for step in steps)

    return min(((0, 1), (1, 0)), key=cost)


def _narrowed(stand, slot, proving, careful=True):
    """Take the best test of the round until one suspect stands; then the meter, until so many readings rule out others.

    What a test showed is held against what the round foretells; the last word is the evidence. A careful player stops
    at a danger.
    """
    bench, found = stand.bench, stand.found
    job, tried = bench.job, set()
    every = tuple(range(len(found.suspects)))
    live = every if careful else tuple(map(found.suspects.index, survivors(job, bench.log, slot)))
    while True:
        if len(live) == 1 or not _tests(found, live, tried):
            standing = survivors(job, bench.log, slot)
            live = tuple(number for number in every if found.suspects[number] in standing)
            if careful and _dangers(bench):
                return
            if len(live) == 1 and len(_telling(bench, slot)) >= proving:
                return
        tests = _tests(found, live if len(live) > 1 else every, tried)
        if len(live) == 1:
            tests = [probe for probe in tests if probe.cost >= READING_COST and json.loads(probe.act)["do"] != "wait"]
        if not tests:
            return
        tried.add(tests[0])
        stand.go(tests[0].situation)
        act = json.loads(tests[0].act)
        if act["do"] != "wait":  # the way there has done it
            stand.step(act)
        if len(live) > 1:
            live = _left(bench, slot, found, tests[0], live)


def _tests(found, live, tried):
    """The tests of the round not tried yet that tell something, the best first."""
    return [one.probe for one in ranked(found, live) if one.bits > 0 and one.probe not in tried] if len(live) > 1 else []


def _left(bench, slot, found, probe, live):
    """The suspects of which a test could have shown what it did; by the evidence where it is no reading, or where none could."""
    line = bench.log[-1]
    if line.act != json.loads(probe.act) or line.act["do"] == "wait":
        standing = survivors(bench.job, bench.log, slot)
        return tuple(number for number in live if found.suspects[number] in standing)
    left = tuple(number for number in live if _could_show(line, found.outcomes[probe][number]))
    return left or tuple(number for number in live if found.suspects[number] in survivors(bench.job, bench.log, slot))


def _could_show(line, outcomes):
    """Whether a suspect of these outcomes, over its sizes, could have shown a line; one not foretold could."""
    if not outcomes:
        return True
    looked = [one.reading for one in outcomes if one.reading is not None]
    reading = Reading(looked[0].function, line.value, line.step, line.text) if looked and line.step else None
    if any(not outcomes_apart(Outcome(line.text, reading, line.signal), one) for one in outcomes):
        return True
    values = [one.value for one in looked if one.value is not None]
    return reading is not None and line.value is not None and len(values) > 1 and min(values) < line.value < max(values)


def _telling(bench, slot):
    """The log lines that rule out some suspect for a fault beside the one that stands; readings only, no clicks."""
    standing = survivors(bench.job, bench.log, slot)
    ruled = [case for case in cases(bench.job, bench.log, slot) if case.suspect.id not in standing]
    lines = {one.line for case in ruled for one in case.contradictions}
    return sorted(line for line in lines if bench.log[line].act["do"] != "wait" and cost_of(bench.log[line].act["do"]))


def _dangers(bench):
    """Whose work a danger is that the readings have shown to be there; "" for none."""
    job = bench.job
    for slot in range(len(job.faults)):
        standing = survivors(job, bench.log, slot)
        if standing and all(job.suspect(one).row.severity == DANGER for one in standing):
            return job.suspect(standing[0]).row.refer
    return ""


def _repaired(bench, slot):
    """End the fault that the readings leave, or hand it to whoever may end it."""
    job = bench.job
    suspect = job.suspect(survivors(job, bench.log, slot)[0])
    if suspect.row.refer:
        bench.step({"do": "refer", "to": suspect.row.refer})
        return
    for row in suspect.rows:
        fault = next(fault for fault in suspect.family if fault.row == row.id)
        for act in (job.repairs_of(row, fault) or ((),))[0]:
            if act["do"] == "take off":
                _looked_for(bench, planted(job.given(slot), fault), act["what"])
            bench.step(act)
        if treated(job, worked(job, bench.log)[0], slot):
            return


def _looked_for(bench, claimed, what):
    """A look where the claim says that the thing is, unless one has shown it."""
    if what not in bench.shown:
        bench.step({"do": "look", "part": claimed.part(what).seen_at})


def _verified(bench):
    """Call every zone by itself until its valve stands open."""
    for zone in bench.job.design.zones:
        if bench.world.referred:
            return
        bench.step({"do": "call", "stat": f"{zone}.stat", "on": True})
        for _ in range(6):
            bench.step({"do": "wait", "seconds": 300})
            if bench.world.state.of(f"{zone}.valve").opening >= 0.9:
                break
        bench.step({"do": "call", "stat": f"{zone}.stat", "on": False})


def _proof(bench):
    """Two log lines for each fault."""
    return list(dict.fromkeys(line for slot in range(len(bench.job.faults)) for line in _telling(bench, slot)[:2]))


def _judged(bench, claims, proof):
    bench.step({"do": "verdict", "suspects": claims, "proof": proof, **EXPLAINED})
    return bench


def _fitted(bench, part):
    """A new part, with the supplies off meanwhile where it is one."""
    supply = part in bench.view()["supplies"]
    if supply and bench.view()["supplies"][part]:
        bench.step({"do": "switch", "part": part, "on": False})
    bench.step({"do": "fit", "part": part})
    if supply:
        bench.step({"do": "switch", "part": part, "on": True})


def _tried_out(bench):
    zone = bench.job.zone
    bench.step({"do": "call", "stat": f"{zone}.stat", "on": True})
    bench.step({"do": "wait", "seconds": 900})
    bench.step({"do": "feel", "part": f"{zone}.valve"})
    bench.step({"do": "call", "stat": f"{zone}.stat", "on": False})
    bench.step({"do": "wait", "seconds": 900})


def _last_readings(bench):
    return [number for number, line in enumerate(bench.log) if cost_of(line.act["do"])][-2:]


def _blamed(job, part):
    """The suspect that lies in a part, or the first where none does."""
    named = [suspect for suspect in job.suspects if part in _parts(suspect)]
    return (named or list(job.suspects))[0]


def _parts(suspect):
    return {
        getattr(change, slot.name)
        for fault in suspect.family
        for change in fault.changes
        for slot in fields(change)
        if slot.name in ("part", "splice")
    }
