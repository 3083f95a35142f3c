"""Ways in which a house differs from its drawing, each drawn with the acts that undo it."""

from __future__ import annotations

import math

from hypothesis import assume
from hypothesis import strategies as st

from solvers.circuit import OPEN
from solvers.faults.changes import (
    Bridged,
    ConductorField,
    Exchanged,
    Interposed,
    Joint,
    Landed,
    LineSwitched,
    Loosened,
    PartField,
    Recabled,
    Removed,
    Scaled,
)
from solvers.plant.parts import Boiler, Fuse, HeatMotorValve, Relay, Splice, Stat, Transformer
from solvers.plant.running import EARTH

__all__ = ["BY_KIND", "fit"]

FIELDS = (
    (HeatMotorValve, "heater_ohms", OPEN),
    (HeatMotorValve, "switch", "welded"),
    (Stat, "contact", "open"),
    (Relay, "coil_ohms", OPEN),
    (Fuse, "ohms", 5.0),
    (Fuse, "blown", True),
    (Transformer, "secondary_open", True),
    (Boiler, "input_ohms", OPEN),
)
NUMBERS = ((Stat, "ohms", 60.0), (Transformer, "ohms", 4.0), (HeatMotorValve, "heater_ohms", 2.0))


def fit(name):
    """A new part in the place of this one."""
    return [{"do": "fit", "part": name}]


@st.composite
def part_fields(draw, design):
    """One field of a part, and a new part."""
    part, field, value = draw(
        st.sampled_from(
            [(part, field, value) for part in design.parts for kind, field, value in FIELDS if isinstance(part, kind)]
        )
    )
    return PartField(part.name, field, value), fit(part.name)


@st.composite
def scaled(draw, design):
    """One number of a part, and a new part."""
    part, field, times = draw(
        st.sampled_from(
            [(part, field, times) for part in design.parts for kind, field, times in NUMBERS if isinstance(part, kind)]
        )
    )
    return Scaled(part.name, field, times), fit(part.name)


@st.composite
def joints(draw, design):
    """A way of a splice, remade or in a new connector."""
    ways = [(part.name, way) for part in design.parts if isinstance(part, Splice) for way in part.ways]
    assume(ways)
    splice, way = draw(st.sampled_from(ways))
    repair = draw(st.sampled_from([{"do": "fit", "part": splice}, {"do": "remake", "terminal": f"{splice}.{way}"}]))
    return Joint(splice, way, draw(st.sampled_from([3.0, 20.0, OPEN]))), [repair]


@st.composite
def conductor_fields(draw, design):
    """A conductor hurt inside its cable, and a new cable."""
    wires = [wire for wire in design.conductors if wire.cable]
    assume(wires)
    wire = draw(st.sampled_from(wires))
    return ConductorField(wire.name, "ohms", draw(st.sampled_from([30.0, OPEN]))), [{"do": "new cable", "cable": wire.cable}]


@st.composite
def landings(draw, design):
    """One end on another terminal, moved back or remade where it belongs."""
    wire, end = draw(st.sampled_from(design.conductors)), draw(st.sampled_from("ab"))
    terminal = draw(st.sampled_from([one for one in design.terminals if one not in (wire.a, wire.b)]))
    home = getattr(wire, end)
    back = {"do": "move wire", "wire": wire.name, "end": end, "terminal": home}
    return Landed(wire.name, end, terminal), [draw(st.sampled_from([back, {"do": "remake", "terminal": home}]))]


@st.composite
def exchanges(draw, design):
    """Two landings exchanged, and exchanged again or both remade."""
    first, second = draw(st.lists(st.sampled_from(design.terminals), min_size=2, max_size=2, unique=True))
    assume(design.landed(first) or design.landed(second))
    again = [{"do": "exchange", "first": first, "second": second}]
    remade = [{"do": "remake", "terminal": terminal} for terminal in (first, second)]
    return Exchanged(first, second), draw(st.sampled_from([again, remade]))


@st.composite
def removals(draw, design):
    """A conductor that is missing, and run."""
    wire = draw(st.sampled_from(design.conductors))
    return Removed(wire.name), [{"do": "run wire", "wire": wire.name}]


@st.composite
def loose_ends(draw, design):
    """A loose end, remade, or lifted and landed again, or with a new part; or the wire moved to where it belongs."""
    wire, end = draw(st.sampled_from(design.conductors)), draw(st.sampled_from("ab"))
    home = getattr(wire, end)
    acts = [
        [{"do": "remake", "terminal": home}],
        [{"do": "lift", "terminal": home}, {"do": "land", "terminal": home}],
        [{"do": "move wire", "wire": wire.name, "end": end, "terminal": home}],
        fit(home.rpartition(".")[0]),
    ]
    return Loosened(wire.name, end, draw(st.sampled_from([0.3, math.inf]))), draw(st.sampled_from(acts))


@st.composite
def bridges(draw, design):
    """A stray path, gone with its cable or its part, or taken off."""
    ends = st.lists(st.sampled_from(design.terminals), min_size=2, max_size=2, unique=True)
    a, b = draw(ends)
    cables = sorted({wire.cable for wire in design.conductors if wire.cable})
    part = draw(st.sampled_from([part.name for part in design.parts if part.terminals]))
    choices = [("", [{"do": "take off", "what": "nail"}]), (part, fit(part))]
    choices += [(cable, [{"do": "new cable", "cable": cable}]) for cable in cables]
    belongs, repair = draw(st.sampled_from(choices))
    return Bridged("nail", a, draw(st.sampled_from([b, EARTH])), draw(st.sampled_from([0.0, 5.0, 300.0])), belongs), repair


@st.composite
def old_stats(draw, design):
    """A forgotten thermostat where a splice was thought to be, and a connector in its place."""
    splices = [part.name for part in design.parts if isinstance(part, Splice)]
    stats = [part.name for part in design.parts if isinstance(part, Stat)]
    assume(splices)
    splice = draw(st.sampled_from(splices))
    return Interposed(splice, draw(st.sampled_from(stats))), fit(splice)


@st.composite
def thin_cables(draw, design):
    """A cable that is thin and long, and one as drawn."""
    cables = sorted({wire.cable for wire in design.conductors if wire.cable})
    assume(cables)
    cable = draw(st.sampled_from(cables))
    return Recabled(cable, 22, draw(st.sampled_from([100.0, 150.0]))), [{"do": "new cable", "cable": cable}]


@st.composite
def line_loads(draw, design):
    """A pump on line voltage led through two terminals, and taken off."""
    a, b = draw(st.lists(st.sampled_from(design.terminals), min_size=2, max_size=2, unique=True))
    return LineSwitched("pump", a, b), [{"do": "take off", "what": "pump"}]


BY_KIND = {
    PartField: part_fields,
    Scaled: scaled,
    Joint: joints,
    ConductorField: conductor_fields,
    Landed: landings,
    Exchanged: exchanges,
    Removed: removals,
    Loosened: loose_ends,
    Bridged: bridges,
    Interposed: old_stats,
    Recabled: thin_cables,
    LineSwitched: line_loads,
}
