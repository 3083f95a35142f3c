"""What a part of each kind lets hear while somebody stands beside it, and what is heard or seen the moment it happens."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache, singledispatch

from ..circuit import Event
from . import facts
from .impressions import Finding, Place, Scale, Sense, together
from .part import Part
from .parts import Boiler, MotorValve, OpenCloseValve, Relay, Transformer

__all__ = ["HAPPENINGS", "coil_words", "heard", "listen", "motor_words", "telling"]

HAPPENINGS: Mapping[str, str] = {
    "anticipator burns open": "a smell of burning from {part}",
    "bangs shut": "the pipe bangs at {part}",
    "begins to open": "",
    "begins to shut": "",
    "breaker trips": "the breaker of {part} clicks",
    "buzzes": "{part} buzzes",
    "calls": "{part} calls for heat",
    "cam lets the opening winding in": "",
    "cam lets the shutting winding in": "",
    "chatters": "{part} chatters",
    "drops out": "{relay} clicks",
    "end switch joins again": "{part} clicks",
    "end switch makes": "{part} clicks",
    "end switch opens": "{part} clicks",
    "end switch parts in the heat": "{part} clicks",
    "feed joint parts": "",
    "feed joint touches again": "",
    "fires again": "the burner of {part} starts",
    "has rested": "",
    "heater burns open": "a smell of burning from {part}",
    "heater cools": "",
    "heater lead opens": "",
    "heater lead remakes": "",
    "heater warms": "",
    "input burns open": "a smell of burning from {part}",
    "is fed again": "",
    "is fully open": "",
    "is nearly open": "",
    "is satisfied": "",
    "is shut": "",
    "limit opens": "",
    "limit remakes": "",
    "motor burns open": "a smell of burning from {part}",
    "one-shot opens": "",
    "opens": "",
    "pulls in": "{relay} clicks",
    "screen comes back": "the screen of {part} comes back",
    "screen goes blank": "the screen of {part} goes blank",
    "starts": "{part} starts",
    "starves": "",
    "stops": "{part} stops",
    "stops calling": "{part} stops calling",
    "stops on its limit": "the burner of {part} stops",
    "trips": "{part} clicks",
    "wants heat": "",
}
"""Everything that can happen in a run, and how a person who has ears and a view of every screen would say it."""

IN_TURN = ("fires again", "stops on its limit")
"""What comes and goes by itself while all is well: told, but the moment of it proves nothing."""

CORE_NOISE = Scale(("hums faintly", "hums hard"), (1.6,), 0.2)
"""Of a transformer: amperes over rated ones, or what the core takes over what a healthy one does. Source: model."""

COIL_DOUBT = 0.5  # V about the levels at which a relay is or is not quiet
INPUT_NOISE = ("none", "buzzes", "none", "hums hard")
INPUT_LEVELS = (facts.BOILER_DROP_VOLTS, facts.BOILER_PULL_VOLTS, facts.BOILER_INPUT_BURNS_VOLTS)
HEARD_BACKFEED = 0.5  # share of its tap's volts above which a core can be heard with no line on it


@singledispatch
def listen(part: Part, here: Place) -> Sense:
    """What a part lets hear."""
    return together(Finding("sound", ("none",), "Nothing to hear."))


@listen.register(Transformer)
def _transformer(part: Transformer, here: Place) -> Sense:
    state = here.of(part.name)
    if not part.energised(state):
        if state.fed_back > HEARD_BACKFEED * part.tap:
            return together(Finding("sound", ("hums faintly",), "It hums faintly, although no line feeds it."))
        return together(Finding("sound", ("none",), "Silent."))
    healthy = complex(part.no_load_watts, facts.MAGNETISING_SHARE.value * part.va)
    load = here.seen().amps[f"{part.name}.winding"] / part.rated_amps
    sound = CORE_NOISE.spoken(max(load, abs(part.no_load) / abs(healthy)))
    return together(Finding("sound", sound, f"It {sound[0]}." if len(sound) == 1 else "It hums, neither faintly nor hard."))


@listen.register(Relay)
def _relay(part: Relay, here: Place) -> Sense:
    volts, levels = part.coil_volts(here.seen()), (part.drop_volts, part.pull_volts)
    words = coil_words(part, here, volts, levels)
    text = "A faint hum." if volts >= part.pull_volts else "Nothing to hear."
    return together(Finding("sound", words, _trouble(part, here, "It") or text))


@listen.register(Boiler)
def _boiler(part: Boiler, here: Place) -> Sense:
    """Burner, circulator, and the relay of the input, too soft to be heard unless it has too few volts or far too many."""
    state = here.of(part.name)
    display, fires_below = part.display(state), part.water_degC - facts.BOILER_DIFFERENTIAL.value
    if display.endswith("firing") and here.values[f"{part.name}.water"] < fires_below - 2.0:
        burner: tuple[str, ...] = ("runs",)
    else:  # between its limits it does either in turn
        burner = ("runs", "rests") if display.endswith(("firing", "water hot")) else ("rests",)
    text = {
        (True, True): "Burner and circulator run.",
        (True, False): "The burner runs.",
        (False, True): "The circulator runs.",
        (False, False): "Burner and circulator are quiet.",
    }[state.firing, state.circulating]
    volts = 0.0 if part.direct or state.burnt else here.seen().amps[f"{part.name}.input"] * part.input_ohms
    drop, pull, most = (fact.value for fact in INPUT_LEVELS)
    coil = tuple(dict.fromkeys(coil_words(part, here, volts, (drop, pull, most), INPUT_NOISE)))
    trouble = _trouble(part, here, "Its input relay") or ("Its input relay hums hard." if volts > most else "")
    return together(
        Finding("burner", burner, text),
        Finding("circulator", ("runs" if state.circulating else "still",), ""),
        Finding("input relay", coil, trouble),
    )


@listen.register(MotorValve)
def _motor_valve(part: MotorValve, here: Place) -> Sense:
    words = motor_words(part, here)
    if "chatters" in words:
        return together(Finding("sound", words, "Its motor starts and stops without settling."))
    return together(Finding("sound", words, "Its motor hums." if part.hums(here.of(part.name)) else "Nothing to hear."))


def motor_words(part: MotorValve, here: Place) -> tuple[str, ...]:
    """What a motor lets hear: it turns and stalls with the same hum, and one that a cam stops may just have been stopped."""
    if part.name in here.state.chattering:
        return ("chatters",)
    state = here.of(part.name)
    hums = part.hums(state)
    left = {"opening": 1 - state.stroke, "shutting": state.stroke}.get(state.drive, 1.0)
    ending = hums and isinstance(part, OpenCloseValve) and left < 0.1
    volts = max(part.felt(winding, here.seen()) for winding in part.windings())
    doubtful = ending or abs(volts - facts.MOTOR_HOLDS_VOLTS.value) < COIL_DOUBT
    return ("hums", "none") if doubtful else ("hums",) if hums else ("none",)


def coil_words(
    part: Part, here: Place, volts: float, levels: tuple[float, ...], words: tuple[str, ...] = ("none", "buzzes", "hums")
) -> tuple[str, ...]:
    """What a coil that drops at one level and pulls at the next lets hear at so many volts."""
    if part.name in here.state.chattering:
        return ("chatters",)
    return Scale(words, levels, COIL_DOUBT).spoken(volts)


def heard(event: Event) -> str:
    """What a person hears, smells or sees on a screen when an event happens; empty for a silent one."""
    part, happening = _split(event.name)
    called = _called(part)
    return HAPPENINGS.get(happening, "").format(part=called, relay=called if "relay" in called else f"{called} relay")


def telling(event: Event) -> bool:
    """Whether a person notices an event and its moment may be held against a claim."""
    return bool(heard(event)) and _split(event.name)[1] not in IN_TURN


def _trouble(part: Part, here: Place, name: str) -> str:
    if part.name in here.state.chattering:
        return f"{name} chatters: it pulls and drops without settling."
    return f"{name} buzzes." if here.of(part.name).buzzing else ""


@lru_cache(maxsize=1024)
def _split(name: str) -> tuple[str, str]:
    """The part and what happens to it. Names hold spaces, so the longest happening that fits is the one."""
    fits = [happening for happening in HAPPENINGS if name.endswith(f" {happening}")]
    happening = max(fits, key=len, default="")
    return name.removesuffix(f" {happening}"), happening


def _called(part: str) -> str:
    """A part in a sentence: "valve 1" for "zone1.valve", "the tank stat" for "tank.stat", "the boiler"."""
    place, _, kind = part.rpartition(".")
    if not place:
        return f"the {kind}"
    number = place.removeprefix("zone")
    return f"{kind} {number}" if number != place else f"the {place} {kind}"
