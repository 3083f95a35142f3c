"""Small installations built by hand: one part on a supply, with nothing between that a test has not asked for."""

from dataclasses import replace

from solvers.circuit import currents, volts_between
from solvers.jobs.acts import World, acted
from solvers.plant.parts import Stat, Transformer
from solvers.plant.running import EARTH, at_rest, called, network, waited
from solvers.plant.wiring import Conductor, Installation

TEN_MEG = 10e6
LEG_OHMS = 0.3195  # each way, so that leg, stat and joint make reference A's 0.69 ohm


def on_call(
    part, pair=None, *, emf=27.5, ohms=2.1, leg=LEG_OHMS, stat=0.05, back=0.001, grounded=False, hz=60.0, more=(), wires=()
):
    """A part on reference A's source and loop: R, stat, pair, C. `more` parts and `wires` ride along."""
    first, second = pair or part.drive_pair
    supply = Transformer("transformer", emf=emf, ohms=ohms, dc_ohms=0.9, grounded=grounded)
    return Installation(
        "one part on call",
        (supply, Stat("stat", stat), part, *more),
        (
            Conductor("R leg", "transformer.R", "stat.R", leg),
            Conductor("W leg", "stat.W", first, leg),
            Conductor("return", second, "transformer.C", back),
            *wires,
        ),
        hz=hz,
    )


def at_volts(part, volts, pair=None, **others):
    """A part on a source so stiff that it has exactly these volts across its pair on call."""
    return on_call(part, pair, emf=volts, ohms=1e-7, leg=1e-7, stat=1e-7, back=1e-7, **others)


def calling(installation, seconds=0.0, *stats, state=None):
    """The state so long after the stats have been turned up, and the events on the way."""
    state = at_rest(installation) if state is None else state
    for stat in stats or ("stat",):
        state = called(installation, state, stat, True)
    return waited(installation, state, seconds)


def cooling(installation, state, seconds, *stats):
    """The state so long after the stats have been turned down, and the events on the way."""
    for stat in stats or ("stat",):
        state = called(installation, state, stat, False)
    return waited(installation, state, seconds)


def times(events, name):
    """When an event of that name happened, each time."""
    return [event.time for event in events if event.name == name]


def across(installation, state, first, second, *, hz=None):
    """Volts between two points as a 10 megohm meter reads them."""
    return volts_between(network(installation, state, hz), first, second, TEN_MEG)


def amps(installation, state, branch, *, hz=None):
    """Amperes in a branch."""
    return abs(currents(network(installation, state, hz), EARTH)[branch])


def changed(installation, part, **fields):
    """The installation with fields of one part changed."""
    return installation.with_part(replace(installation.part(part), **fields))


def world_of(installation, design=None):
    """The installation as it stands at rest, without the day before it."""
    return World(design or installation, installation, at_rest(installation))


def acted_out(world, *acts):
    """The world after acts, and the last outcome."""
    outcome = None
    for act in acts:
        world, outcome = acted(world, act)
    return world, outcome
