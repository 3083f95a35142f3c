"""Invented learners who work a heater-loops job at the bench: one with care, one by luck, one who is wrong."""

import json
import math

from solvers.jobs.bench import Bench
from solvers.jobs.evidence import cases, survivors
from solvers.jobs.survey import split, survey

EXPLAINED = {
    "explanation": "The part named above is at fault. The two readings I ticked cannot be explained by anything else.",
    "customer": "I found the cause and have put everything back as it was.",
}


def careful(job, learner):
    """Takes the reading that tells most for what it costs, until one suspect stands; proves it twice; tidies up."""
    bench = Bench(job, learner)
    found, at = survey(job), -1
    while len(survivors(job, bench.log)) > 1 or len(_telling(bench)) < 2:
        at, act = _next(found, bench, at)
        bench.step(act)
    _put_back(bench)
    (claim,) = survivors(job, bench.log)
    bench.step({"do": "verdict", "suspect": claim, "proof": _telling(bench)[-2:], **EXPLAINED})
    return bench


def lucky(job, learner):
    """Looks at the transformer, then names the right cause without a reading that tells it from anything."""
    bench = Bench(job, learner)
    bench.step({"do": "measure", "function": "volts", "first": "transformer.R", "second": "transformer.C"})
    bench.step({"do": "verdict", "suspect": job.answer, "proof": [0], "explanation": "It usually is.", "customer": ""})
    return bench


def mistaken(job, learner):
    """Reads with care, then blames something that those very readings rule out."""
    bench = Bench(job, learner)
    found, at = survey(job), -1
    while len(survivors(job, bench.log)) > 1:
        at, act = _next(found, bench, at)
        bench.step(act)
    _put_back(bench)
    claim = max(cases(job, bench.log), key=lambda case: len(case.contradictions)).suspect.id
    bench.step({"do": "verdict", "suspect": claim, "proof": [], "explanation": "I am sure of it.", "customer": "All done."})
    return bench


def _next(found, bench, at):
    """The most telling probe that can still be reached, with the bench brought to its situation."""
    live = [found.suspects.index(one) for one in survivors(bench.job, bench.log)]
    done = {json.dumps(line.act, sort_keys=True) for line in bench.log}
    within = live if len(live) > 1 else list(range(len(found.suspects)))  # only proof is wanted: anything that tells
    reachable = [
        probe
        for probe in found.outcomes
        if probe.situation >= at
        and json.dumps(json.loads(probe.act), sort_keys=True) not in done
        and json.loads(probe.act)["do"] != "wait"
    ]
    best = max(reachable, key=lambda probe: (_information(found, probe, within) / probe.cost, -probe.situation))
    for situation in range(max(at, 0) + (at >= 0), best.situation + 1):
        for act in _steps(bench.job)[situation]:
            bench.step(act)
    return best.situation, json.loads(best.act)


def _information(found, probe, live):
    groups = split(found, probe, live)
    total = sum(found.weights[number] for number in live)
    shares = [sum(found.weights[number] for number in group) / total for group in groups]
    return -sum(share * math.log2(share) for share in shares if share)


def _steps(job):
    """What leads from each situation of the standard round to the next."""
    design, valve = job.design, job.design.part(f"{job.zone}.valve")
    others = [zone for zone in design.zones if zone != job.zone]
    call = {"do": "call", "on": True}
    return [
        [],
        [call | {"stat": f"{job.zone}.stat"}],
        [{"do": "wait", "seconds": 600}],
        [call | {"stat": f"{zone}.stat"} for zone in others] + [{"do": "wait", "seconds": 600}],
        [{"do": "call", "stat": f"{zone}.stat", "on": False} for zone in design.zones] + [{"do": "wait", "seconds": 300}],
        [{"do": "switch", "part": part, "on": False} for part in ("transformer", "boiler")]
        + [{"do": "lift", "terminal": terminal} for terminal in valve.heater_pair],
        [{"do": "lift", "terminal": terminal} for terminal in valve.switch_pair if terminal not in valve.heater_pair],
    ]


def _telling(bench):
    """The log lines that rule out some suspect of those a verdict has to beat."""
    standing = survivors(bench.job, bench.log)
    ruled = [case for case in cases(bench.job, bench.log) if case.suspect.id not in standing]
    return sorted({one.line for case in ruled for one in case.contradictions})


def _put_back(bench):
    view = bench.view()
    for terminal in view["lifted"]:
        bench.step({"do": "land", "terminal": terminal})
    for part, on in view["supplies"].items():
        if not on:
            bench.step({"do": "switch", "part": part, "on": True})
    for stat, calling in view["calls"].items():
        if calling:
            bench.step({"do": "call", "stat": stat, "on": False})
