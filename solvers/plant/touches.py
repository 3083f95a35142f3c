"""What a hand tells about a part of each kind: warm or cold, still or shaking, firm or loose."""

from __future__ import annotations

from functools import singledispatch

from . import facts
from .impressions import AIR, WARMTH, Finding, Place, Scale, Sense, said, together
from .part import Part
from .parts import Boiler, Fuse, HeatedValve, Loop, MotorValve, Relay, Room, Splice, Transformer, Valve
from .sounds import coil_words, motor_words

__all__ = ["HEAD_SHARE", "case_degC", "feel"]

HEAD_SHARE = 0.85  # of the wax's warmth that the case of a head has: it lies between the wax and the air; source: model

CASE = Scale(("at room temperature", "warm", "hot", "too hot to hold a hand on"), (32.0, 62.0, 85.0), 4.0)
"""What a hand says of a transformer, degC: 40 to 60 is normal. Common practice, no source."""

JOINT = Scale(("at room temperature", "warm"), (0.8,), 0.15)
"""What the back of a finger says of a joint, watts in it. Source: model."""


@singledispatch
def feel(part: Part, here: Place) -> Sense:
    """What a hand on a part tells."""
    return together(Finding("warmth", ("at room temperature",), "At room temperature."))


@feel.register(HeatedValve)
def _heated_valve(part: HeatedValve, here: Place) -> Sense:
    wax, air = here.values[f"{part.name}.wax"], part.ambient_degC
    head = WARMTH.spoken(air + HEAD_SHARE * (wax - air))
    return together(Finding("head", head, f"The head is {said(head)}."), *_beside_the_head(part, here))


@feel.register(MotorValve)
def _motor_valve(part: MotorValve, here: Place) -> Sense:
    hums = part.hums(here.of(part.name))
    motor = Finding("motor", motor_words(part, here), f"Its motor {'hums under the hand' if hums else 'is still'}.")
    return together(motor, *_beside_the_head(part, here))


@feel.register(Loop)
def _loop(part: Loop, here: Place) -> Sense:
    out, back = (here.values[f"{part.name}.{pipe}"] for pipe in ("supply", "return"))
    supply, returns = WARMTH.spoken(out), WARMTH.spoken(back)
    return together(
        Finding("supply", supply, f"The supply pipe is {said(supply)}{here.degC(', {} by a pipe thermometer', out)}."),
        Finding("return", returns, f"The return pipe is {said(returns)}{here.degC(', {}', back)}."),
    )


@feel.register(Room)
def _room(part: Room, here: Place) -> Sense:
    air = AIR.spoken(here.values[f"{part.name}.air"])
    return together(Finding("air", air, f"The air is {said(air)}."))


@feel.register(Splice)
def _splice(part: Splice, here: Place) -> Sense:
    amps = here.seen().amps
    watts = sum(amps[way.name] ** 2 * way.z for way in part.branches(None, here.installation.hz) if way.admittance)
    warmth = JOINT.spoken(watts)
    return together(Finding("joint", warmth, f"The joint is {said(warmth)}."))


@feel.register(Fuse)
def _fuse(part: Fuse, here: Place) -> Sense:
    """The link and its clips: a bad clip is as warm as any bad joint."""
    warmth = JOINT.spoken(here.seen().amps[f"{part.name}.link"] ** 2 * part.ohms)
    return together(Finding("clip", warmth, f"Its clips are {said(warmth)}."))


@feel.register(Transformer)
def _transformer(part: Transformer, here: Place) -> Sense:
    low, high = case_degC(part, here)
    case = CASE.spoken(low, high)
    cooling = high > low
    return together(Finding("case", case, "Its case is cooling down." if cooling else f"Its case is {said(case)}."))


@feel.register(Relay)
def _relay(part: Relay, here: Place) -> Sense:
    """Its warmth takes minutes that are not modelled; what shakes is felt at once."""
    heard = coil_words(part, here, part.coil_volts(here.seen()), (part.drop_volts, part.pull_volts))
    words = tuple(dict.fromkeys({"buzzes": "shakes", "chatters": "beats"}.get(word, "is still") for word in heard))
    word = "beats" if "beats" in words else "shakes" if here.of(part.name).buzzing else "is still"
    return together(Finding("armature", words, f"The armature {word}."))


@feel.register(Boiler)
def _boiler(part: Boiler, here: Place) -> Sense:
    degC = here.values[f"{part.name}.water"]
    water, turns = WARMTH.spoken(degC), here.of(part.name).circulating
    return together(
        Finding("pipe", water, f"The pipe at the boiler is {said(water)}{here.degC(', {} by a pipe thermometer', degC)}."),
        Finding("circulator", ("turns" if turns else "still",), f"The circulator {'turns' if turns else 'is still'}."),
    )


def case_degC(part: Transformer, here: Place) -> tuple[float, float]:
    """Between which temperatures a transformer's case lies: how long one has been switched off is not in its state."""
    state, heat = here.of(part.name), here.values[f"{part.name}.heat"]
    warm = part.case_degC(heat)
    if part.energised(state):
        return warm, warm
    without_core = warm - facts.CASE_RESISTANCE.value * part.no_load_watts
    return without_core, warm if not state.on or state.opened else without_core


def _beside_the_head(part: Valve, here: Place) -> list[Finding]:
    """The pipe beyond the valve, whether the head sits on its body, and whether the lever holds where it is."""
    loops = [loop for loop in here.installation.parts if isinstance(loop, Loop) and loop.valve == part.name]
    found = []
    if loops:
        degC = here.values[f"{loops[0].name}.supply"]
        pipe = WARMTH.spoken(degC)
        text = f"The pipe beyond the valve is {said(pipe)}.{here.degC(' A thermometer on it shows {}.', degC)}"
        found.append(Finding("pipe", pipe, text))
    seat = "" if part.latched else "The head is loose on its body."
    lever = Finding("lever", ("slack" if part.slips else "firm",), "The lever gives at a touch." if part.slips else "")
    return [*found, Finding("seat", ("firm" if part.latched else "loose",), seat), lever]
