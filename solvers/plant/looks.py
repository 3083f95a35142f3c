"""What the eyes, and the nose that comes with them, tell about a part of each kind."""

from __future__ import annotations

from functools import singledispatch

from . import facts
from .impressions import AIR, Finding, Place, Scale, Sense, graded, said, temperature, together
from .lamps import Lamp
from .part import Part
from .parts import Boiler, Breaker, Fuse, Loop, MotorValve, Relay, Room, Splice, Stat, Transformer, Valve
from .thermostats import AnticipatorStat, TwoSupplyStat
from .touches import case_degC

__all__ = ["look"]

FUSE_MARKS = (1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 5.0, 7.0, 10.0)  # A
ANTICIPATOR_MARKS = (0.1, 0.2, 0.3, 0.4, 0.6, 0.8, 1.0, 1.2)  # A
"""What is printed on fuses and on the scale of an anticipator. Common practice, no source."""

TRAVEL = Scale(("shut", "part way", "open"), (0.06, 0.94), 0.04)
"""The mark on the lever of a motor-driven valve, share of its travel."""

VARNISH = Scale(("none", "hot varnish"), (95.0,), 8.0)
"""Above which temperature of its case a transformer smells, degC. Common practice, no source."""


GLOW = Scale(("dark", "dim", "bright"), (0.05, 0.5), 0.03)
"""A lamp's watts over those at its 24 V. Source: model."""


@singledispatch
def look(part: Part, here: Place) -> Sense:
    """What a look at a part tells."""
    return together(Finding("outside", ("as usual",), "Nothing can be seen from outside."))


@look.register(Splice)
def _splice(part: Splice, here: Place) -> Sense:
    return together(Finding("outside", ("as usual",), "A connector like any other. Nothing can be seen from outside."))


@look.register(Valve)
def _valve(part: Valve, here: Place) -> Sense:
    return together(_lever(part, here), *_round_the_head(part, here))


@look.register(MotorValve)
def _motor_valve(part: MotorValve, here: Place) -> Sense:
    """The lever of a motor-driven valve moves with it; the travel of wax is hidden in the head."""
    state = here.of(part.name)
    travel = TRAVEL.spoken(1.0 if state.engaged else state.stroke)
    mark = Finding("travel", travel, f"Its mark stands {said(travel)}.")
    return together(_lever(part, here), mark, *_round_the_head(part, here))


@look.register(Stat)
def _stat(part: Stat, here: Place) -> Sense:
    state = here.of(part.name)
    screen = part.screen(state, here.values)
    found = [Finding("screen", (screen,), screen)]
    if isinstance(part, AnticipatorStat):
        marks = _marked(part.set_amps, ANTICIPATOR_MARKS)
        found.append(Finding("anticipator", marks, f"Its anticipator is set to {part.set_amps:.2g} A."))
        burnt = "The element is burnt through." if state.burnt else ""
        found.append(Finding("element", ("burnt" if state.burnt else "whole",), burnt))
    if isinstance(part, TwoSupplyStat):
        text = "A jumper joins Rc and Rh." if part.jumper else "No jumper joins Rc and Rh."
        found.append(Finding("jumper", ("in place" if part.jumper else "missing",), text))
    if part.room and "blank" not in screen:
        found += _dial(part, here)
    return together(*found)


@look.register(Boiler)
def _boiler(part: Boiler, here: Place) -> Sense:
    """Whether it fires at this moment or waits with its water hot is no evidence: it does either in turn."""
    state = here.of(part.name)
    display = part.display(state)
    word = display.removesuffix(", firing").removesuffix(", water hot") or "dark"
    text = f"Its display says: {display}." if display else "Its display is dark."
    return together(Finding("display", (word,), text), _burnt(state.burnt, "It smells burnt at T-T."))


@look.register(Transformer)
def _transformer(part: Transformer, here: Place) -> Sense:
    state = here.of(part.name)
    switch = "on" if state.on else "off"
    found = [Finding("switch", (switch,), f"Its switch is {switch}.")]
    if part.protection == "breaker":
        found.append(_button(state.tripped))
    if part.line_side and part.spare_taps:
        found.append(Finding("tap", (f"{part.tap:g} V",), f"The line is on its {part.tap:g} V lead."))
        text = "An unused lead has no cap." if part.bare else "Each unused lead has its cap."
        found.append(Finding("unused leads", ("bare" if part.bare else "capped",), text))
    smell = VARNISH.spoken(*case_degC(part, here))
    text = "Nothing is scorched." if smell == ("none",) else "It smells of hot varnish."
    return together(*found, Finding("smell", smell, text))


@look.register(Relay)
def _relay(part: Relay, here: Place) -> Sense:
    """Through the cover: welded contacts hold the armature where the coil had it."""
    over = here.of(part.name).pulled or part.contacts == "welded"
    return together(Finding("armature", ("in" if over else "off",), f"Its armature {'is pulled in' if over else 'stands off'}."))


@look.register(Fuse)
def _fuse(part: Fuse, here: Place) -> Sense:
    blown = here.of(part.name).blown
    link = Finding("link", ("melted" if blown else "whole",), f"The link {'has melted' if blown else 'is whole'}.")
    return together(link, Finding("mark", _marked(part.amps, FUSE_MARKS), f"It is marked {part.amps:.2g} A."))


@look.register(Breaker)
def _breaker(part: Breaker, here: Place) -> Sense:
    return together(_button(here.of(part.name).tripped))


@look.register(Lamp)
def _lamp(part: Lamp, here: Place) -> Sense:
    watts = here.seen().amps[f"{part.name}.filament"] ** 2 * part.ohms
    glow = GLOW.spoken(watts * part.ohms / facts.TRANSFORMER_VOLTS.value**2)
    return together(Finding("lamp", glow, f"The lamp is {said(glow)}."))


@look.register(Loop)
def _loop(part: Loop, here: Place) -> Sense:
    way = "open" if part.flows else "shut"
    return together(Finding("service valve", (way,), f"The handle of its service valve stands {way}."))


@look.register(Room)
def _room(part: Room, here: Place) -> Sense:
    air = here.values[f"{part.name}.air"]
    return together(Finding("air", graded(air, 2.0, 0.5), f"The thermometer in the room shows {temperature(air, 1)}."))


def _lever(part: Valve, here: Place) -> Finding:
    lever = "held in the open position" if here.of(part.name).engaged else "in auto"
    return Finding("lever", (lever,), f"The lever is {lever}.")


def _round_the_head(part: Valve, here: Place) -> list[Finding]:
    air = AIR.spoken(part.ambient_degC)
    return [
        Finding("air", air, f"The air beside the head is {said(air)}: {temperature(part.ambient_degC)}."),
        Finding("leads", (str(part.leads),), f"It has {part.leads} leads."),
        _burnt(here.of(part.name).burnt, "It smells burnt."),
    ]


def _dial(part: Stat, here: Place) -> list[Finding]:
    """The set-point and the thermometer: it shows what it senses without its own false heat."""
    state, air = here.of(part.name), here.values[f"{part.name}.senses"] - here.values[f"{part.name}.false heat"]
    if state.turned:
        dial = Finding("set", (f"turned {state.turned}",), f"It has been turned {state.turned} all the way.")
    else:
        dial = Finding("set", graded(part.set_degC, 2.0, 0.5), f"It is set to {temperature(part.set_degC, 1)}.")
    return [dial, Finding("shows", graded(air, 2.0, 0.5), f"It shows {temperature(air, 1)}.")]


def _button(tripped: bool) -> Finding:
    way = "out" if tripped else "in"
    return Finding("button", (way,), f"The button of its breaker is {way}.")


def _burnt(burnt: bool, text: str) -> Finding:
    return Finding("smell", ("burnt",), text) if burnt else Finding("smell", ("none",), "")


def _marked(x: float, marks: tuple[float, ...]) -> tuple[str, ...]:
    """The printed marks that a value may be taken for: those within a tenth of it, or else the nearest."""
    near = [mark for mark in marks if abs(mark - x) <= 0.1 * x] or [min(marks, key=lambda mark: abs(mark - x))]
    return tuple(f"{mark:g} A" for mark in near)
