"""What marking needs of a job, small enough to be kept: par, each answer's look-alike, tests that part suspects, arrivals.

It follows from the job alone, so it can be worked out when a lab is made and need not be when a sheet is marked.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from ..faults.planting import planted
from . import arrived as found_as
from .acts import arrival
from .arrived import Arrived, arrived
from .evidence import claims
from .job import Job, JobError
from .reference import par, ranked
from .said import probe_words
from .strict import fields, listed, shortened, text_of
from .survey import Survey, nearest, split, survey

__all__ = ["BadForetold", "Foretold", "Known", "Test", "body_of", "foretold", "known_of"]

MOST_TESTS = 2_000
MOST_SUSPECTS = 60
MOST_CLAIMS = 1_000


class BadForetold(JobError):
    """What was kept of a job cannot be read; the message says where and what was expected."""


@dataclass(frozen=True, slots=True)
class Test:
    """One test of the standard round; of those that part the suspects alike for the same cost, the earliest."""

    words: str
    shows: str  # what it shows where the answer is there
    cost: float
    situation: int
    close: tuple[int, ...]  # as in Survey


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of one of a job's faults."""

    suspects: tuple[str, ...]
    weights: tuple[float, ...]
    nearest: str  # the answer's look-alike
    tests: tuple[Test, ...]
    arrivals: tuple[Arrived | None, ...] = ()  # how the house is found, by evidence.claims; None where that cannot be kept

    @property
    def outcomes(self) -> tuple[Test, ...]:
        """The tests, as a survey has its probes."""
        return self.tests

    @property
    def close(self) -> Mapping[Test, tuple[int, ...]]:
        """Whom each test might confuse, as a survey has it."""
        return MappingProxyType({test: test.close for test in self.tests})

    def ender(self, live: Sequence[int], goal: int) -> Test | None:
        """The cheapest test that would have left the goal alone; None where no single one would."""
        tests = [one.probe for one in ranked(self, live) if one.bits > 0 and (goal,) in split(self, one.probe, live)]
        return min(tests, key=lambda test: (test.cost, test.situation), default=None)


@dataclass(frozen=True, slots=True)
class Foretold:
    """What is known of a job before anybody works it."""

    par: float
    slots: tuple[Known, ...]  # one a fault


def foretold(job: Job) -> Foretold:
    """Work it out; takes as long as the job's surveys do."""
    return Foretold(par(job), tuple(_known(job, slot, survey(job, slot), answer) for slot, answer in enumerate(job.answers)))


def _known(job: Job, slot: int, found: Survey, answer: str) -> Known:
    goal = found.suspects.index(answer)
    tests = []
    for probe in found.kinds:
        family = found.outcomes[probe][goal]
        shows = family[len(family) // 2].text if family else ""
        tests.append(Test(probe_words(found, probe), shows, probe.cost, probe.situation, found.close[probe]))
    houses = [planted(job.given(slot), fault) for fault in claims(job, slot)]
    arrivals = tuple(arrived(house, arrival(job.design, house).state) for house in houses)
    return Known(found.suspects, found.weights, nearest(found, answer), tuple(tests), arrivals)


def body_of(known: Foretold) -> dict[str, object]:
    """The same as data for JSON."""
    return {
        "par": known.par,
        "slots": [
            {
                "suspects": list(one.suspects),
                "weights": list(one.weights),
                "nearest": one.nearest,
                "tests": [[test.words, test.shows, test.cost, test.situation, list(test.close)] for test in one.tests],
                "arrivals": [found_as.body_of(house) for house in one.arrivals],
            }
            for one in known.slots
        ],
    }


def known_of(body: object, path: str = "foretold") -> Foretold:
    """What was kept, read from JSON data; raises BadForetold with the path of the first fault."""
    fields(body, path, ("par", "slots"), BadForetold)
    slots = listed(body["slots"], f"{path}.slots", 2, BadForetold)
    return Foretold(_number(body["par"], f"{path}.par"), tuple(_slot(one, f"{path}.slots[{at}]") for at, one in enumerate(slots)))


def _slot(body: object, path: str) -> Known:
    fields(body, path, ("suspects", "weights", "nearest", "tests", "arrivals"), BadForetold)
    suspects = listed(body["suspects"], f"{path}.suspects", MOST_SUSPECTS, BadForetold)
    weights = listed(body["weights"], f"{path}.weights", MOST_SUSPECTS, BadForetold)
    names = tuple(text_of(one, f"{path}.suspects[{at}]", 200, BadForetold) for at, one in enumerate(suspects))
    if body["nearest"] not in names or len(weights) != len(names):
        raise BadForetold(
            f"{path}.nearest is {shortened(body['nearest'])}; it is one of {len(names)} suspects, with a weight each"
        )
    tests = listed(body["tests"], f"{path}.tests", MOST_TESTS, BadForetold)
    houses = listed(body["arrivals"], f"{path}.arrivals", MOST_CLAIMS, BadForetold)
    return Known(
        names,
        tuple(_number(one, f"{path}.weights[{at}]") for at, one in enumerate(weights)),
        body["nearest"],
        tuple(_test(one, len(names), f"{path}.tests[{at}]") for at, one in enumerate(tests)),
        tuple(found_as.arrived_of(one, f"{path}.arrivals[{at}]", BadForetold) for at, one in enumerate(houses)),
    )


def _test(line: object, count: int, path: str) -> Test:
    if not isinstance(line, list) or len(line) != 5 or not isinstance(line[4], list) or len(line[4]) != count:
        raise BadForetold(f"{path} must be words, what it shows, cost, situation and {count} sets; got {shortened(line)}")
    words, shows = (text_of(one, path, 1_000, BadForetold) for one in line[:2])
    if any(isinstance(one, bool) or not isinstance(one, int) for one in (line[3], *line[4])):
        raise BadForetold(f"{path} must count its situation and its sets in whole numbers")
    return Test(words, shows, _number(line[2], path), line[3], tuple(line[4]))


def _number(value: object, path: str) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 <= value < 1e6:
        raise BadForetold(f"{path} must be a number; got {shortened(value)}")
    return value
