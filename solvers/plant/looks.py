"""What the eyes, and the nose that comes with them, tell about a part of each kind."""

from __future__ import annotations

from functools import singledispatch

from . import facts
from .impressions import AIR, Finding, Place, Scale, Sense, graded, said, temperature, together
from .lamps import Lamp
from .light_switch import LightSwitch
from .old_stat import OldStat
from .part import Part
from .parts import Boiler, Breaker, Fuse, Loop, MotorValve, Relay, Room, Splice, Stat, Transformer, Valve
from .programmable import ProgrammableStat
from .strays import Stray
from .thermostats import AnticipatorStat, BatteryStat, TwoSupplyStat
from .touches import case_degC

__all__ = ["look", "looked"]

FUSE_MARKS = (1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 5.0, 7.0, 10.0)  # A
"""What is printed on fuses. Common practice, no source."""

TRAVEL = Scale(("shut", "part way", "open"), (0.06, 0.94), 0.04)
"""The mark on the lever of a motor-driven valve, share of its travel."""

VARNISH = Scale(("none", "hot varnish"), (95.0,), 8.0)
"""Above which temperature of its case a transformer smells, degC. Common practice, no source."""


GLOW = Scale(("dark", "dim", "bright"), (0.05, 0.5), 0.03)
"""A lamp's watts over those at its 24 V. Source: model."""


def looked(part: Part, here: Place) -> Sense:
    """What a look at a part tells, and everything that somebody has left there."""
    sense = look(part, here)
    for stray in here.installation.parts:
        if isinstance(stray, Stray) and stray.seen_at == part.name:
            left = together(Finding(stray.name, ("there",), stray.words))
            sense = Sense(f"{sense.text} {left.text}", f"{sense.signal}; {left.signal}")
    return sense


MOUNTED = {
    "level": "",
    "askew": "It hangs askew, well out of level.",
    "draught": "Warm air comes out of the hole behind it.",
}
"""What is seen of the way a thermostat sits on its wall."""


@singledispatch
def look(part: Part, here: Place) -> Sense:
    """What a look at a part of each kind tells."""
    return together(Finding("outside", ("as usual",), "Nothing can be seen from outside."))


@look.register(Splice)
def _splice(part: Splice, here: Place) -> Sense:
    return together(Finding("outside", ("as usual",), "A connector like any other. Nothing can be seen from outside."))


@look.register(OldStat)
def _old_stat(part: OldStat, here: Place) -> Sense:
    text = "Not one connector but two, and a cable between them that goes off into the wall to an old thermostat."
    return together(Finding("outside", ("a cable into the wall",), text))


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
        marks = _marked(part.set_amps, facts.ANTICIPATOR_MARKS)
        found.append(Finding("anticipator", marks, f"Its anticipator is set to {part.set_amps:.2g} A."))
        burnt = "The element is burnt through." if state.burnt else ""
        found.append(Finding("element", ("burnt" if state.burnt else "whole",), burnt))
        made = part.closed(state)
        found.append(Finding("contact", ("made" if made else "open",), f"Its contact stands {'made' if made else 'open'}."))
    if isinstance(part, TwoSupplyStat):
        text = "A jumper joins Rc and Rh." if part.jumper else "No jumper joins Rc and Rh."
        found.append(Finding("jumper", ("in place" if part.jumper else "missing",), text))
    if isinstance(part, BatteryStat):
        rest, pulsed = (graded(volts, 0.2, 0.05) for volts in (part.cells_rest_volts, part.cell_volts))
        found += [Finding("cells at rest", rest, part.cells_text()), Finding("cells under the pulse", pulsed, "")]
    if isinstance(part, ProgrammableStat) and "blank" not in screen:
        found.append(Finding("menu", (f"{part.least_off_s:g} s, {part.cycles_per_hour:g} an hour",), part.menu()))
    found.append(Finding("mounting", (part.mounting,), MOUNTED[part.mounting]))
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
    found = [
        Finding("switch", (switch,), f"Its switch is {switch}; it is marked {part.va:g} VA, {part.rated_hz:g} Hz."),
        Finding("mark", (f"{part.va:g} VA {part.rated_hz:g} Hz",), ""),
    ]
    if part.protection == "breaker":
        found.append(_button(state.tripped))
    if part.line_side and part.spare_taps:
        found.append(Finding("tap", (f"{part.tap:g} V",), f"The line is on its {part.tap:g} V lead."))
    if part.spare_taps:
        capped = "Each unused lead has its cap." if part.line_side else ""
        text = "An unused lead has no cap; its end stands bare at the box." if part.bare else capped
        found.append(Finding("unused leads", ("bare" if part.bare else "as usual",), text))
    if part.reversed:
        found.append(Finding("line", ("on the 24 V side",), "The line conductors are landed on its 24 V screws."))
        return together(*found, _burnt(True, "It is scorched and smells burnt."))
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


@look.register(LightSwitch)
def _light_switch(part: LightSwitch, here: Place) -> Sense:
    way = "on" if here.of(part.name).on else "off"
    return together(Finding("light", (way,), f"The light is {way}."))


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
    leads = 2 if part.switch == "none" else part.leads
    return [
        Finding("air", air, f"The air beside the head is {said(air)}: {temperature(part.ambient_degC)}."),
        Finding("leads", (str(leads),), f"It has {leads} leads."),
        Finding("nameplate", (f"{part.nameplate_volts:g} V",), f"Its nameplate says {part.nameplate_volts:g} V."),
        _arrow(part.backwards),
        _stem(part.weeps),
        _burnt(here.of(part.name).burnt, "It smells burnt."),
    ]


def _arrow(backwards: bool) -> Finding:
    text = "The arrow on its body points against the flow." if backwards else ""
    return Finding("arrow", ("against the flow" if backwards else "with the flow",), text)


def _stem(weeps: bool) -> Finding:
    text = "Water weeps past its stem, and its leads are green with crust." if weeps else ""
    return Finding("stem", ("wet" if weeps else "dry",), text)


def _dial(part: Stat, here: Place) -> list[Finding]:
    """The set-point and the thermometer: it shows what it senses without its own false heat."""
    state, air = here.of(part.name), here.values[f"{part.name}.senses"] - here.values[f"{part.name}.false heat"]
    if state.turned and part.aims_degC == part.set_degC:
        dial = Finding("set", (f"turned {state.turned}",), f"It has been turned {state.turned} all the way.")
    else:
        dial = Finding("set", graded(part.aims_degC, 2.0, 0.5), f"It is set to {temperature(part.aims_degC, 1)}.")
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
