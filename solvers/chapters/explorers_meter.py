"""Two explorers of what a meter sees: volts across a switch, and the beeper on a heater or an end switch."""

from __future__ import annotations

import math
from functools import lru_cache

from ..circuit import OPEN, Meter, Reading, beeper_reading, ohms_reading, volts_reading
from ..circuit.meter import THRESHOLDS
from ..plant.parts import Fuse, HeatMotorValve, Stat
from ..plant.running import PlantState, at_rest, called, lifted, network, switched, waited
from ..plant.topologies import Zone, four_wire, three_wire_direct
from ..plant.wiring import Installation
from .explorer import Explorer, Pick, Plot, Shown, Told
from .visits import volts_text

__all__ = ["BEEPER", "SWITCH"]

IDLE, CALL = "open: nobody calls", "closed: a call"
IN, OUT = "in", "blown"
WHOLE, BROKEN = "whole", "broken inside"
VOLTS, LOW_Z = "volts", "low-impedance volts"
NO_VOLTS, SUPPLIED = 0.5, 20.0  # V; under the one nothing stands there, over the other the supply does

PLACES = (
    ("R", "transformer.R"),
    ("fuse", "fuse.out"),
    ("stat R", "zone1.stat.R"),
    ("stat W", "zone1.stat.W"),
    ("HA", "zone1.valve.HA"),
    ("HB", "zone1.valve.HB"),
    ("C", "C bus.trunk"),
)
"""Where the second probe goes, along the loop from the transformer and back."""


@lru_cache(maxsize=16)
def _loop(fuse: str, heater: str) -> Installation:
    """One zone with a four-wire valve in one of its conditions."""
    ohms = OPEN if heater == BROKEN else HeatMotorValve("valve", 4).heater_ohms
    return four_wire(
        "one zone", [Zone(HeatMotorValve("valve", 4, heater_ohms=ohms), Stat("stat"))], fuse=Fuse("fuse", blown=fuse == OUT)
    )


def _switch(stat: str, fuse: str, heater: str, meter: str) -> Shown:
    house = _loop(fuse, heater)
    state = called(house, at_rest(house), "zone1.stat", stat == CALL)
    circuit = network(house, state)

    def read(first: str, second: str) -> float:
        return volts_reading(circuit, first, second, low_z=meter == LOW_Z).value

    across = read("zone1.stat.R", "zone1.stat.W")
    supply, at_w, at_heater = (
        read(*pair)
        for pair in (("fuse.out", "transformer.C"), ("zone1.stat.W", "transformer.C"), ("zone1.valve.HA", "zone1.valve.HB"))
    )
    firm = volts_reading(circuit, "zone1.stat.W", "transformer.C", low_z=True).value
    walked = [
        (float(n), 0.0 if place == "transformer.C" else read(place, "transformer.C")) for n, (_, place) in enumerate(PLACES)
    ]
    plot = Plot(
        title="From C along the loop",
        across="second probe on",
        up=f"V to C, {meter}",
        curves=(("to C", tuple(walked)),),
        levels=(),
        ticks=tuple((float(n), name) for n, (name, _) in enumerate(PLACES)),
    )
    drawn = "Volts to C: " + ", ".join(f"{name} {volts_text(y)}" for (name, _), (_, y) in zip(PLACES, walked, strict=True)) + "."
    return Shown(
        (
            Told("across the stat, R to W", volts_text(across)),
            Told("behind the fuse, R to C", volts_text(supply)),
            Told("at the stat, W to C", volts_text(at_w)),
            Told("across the heater, HA to HB", volts_text(at_heater)),
        ),
        _switch_words(across, supply, at_w, firm),
        plot,
        drawn,
    )


def _switch_words(across: float, supply: float, at_w: float, firm: float) -> str:
    """What the readings prove; said from readings alone. `firm` is W to C on low impedance."""
    if across >= SUPPLIED:
        return (
            "Full volts across the switch: it is open, and everything else in the loop is unbroken, fuse, wires, "
            "heater and return. "
            "It does not say that they are good: a path of many ohms reads the same while nothing flows."
        )
    if supply < NO_VOLTS:
        return (
            "No volts across the switch, and none behind the fuse either: there is nothing to read. Open or closed, it "
            "shows the same. "
            "Prove the supply first; then no volts means closed."
        )
    if at_w >= SUPPLIED and firm < NO_VOLTS:
        return (
            "No volts across the switch, and W seems to have the supply: it looks closed, and it is open. The loop "
            "behind it is broken, and "
            "W shows ghost volts that come across from the wire beside it. Turn to low-impedance volts, and they are gone."
        )
    if at_w >= SUPPLIED:
        return (
            "No volts across the switch while the supply is there, and W has it too: the switch is closed. "
            "Whether anything flows behind it the volts do not say; a clamp does."
        )
    return (
        "No volts across the switch, the supply is there, and W has none: the switch is open, and the loop behind it is broken. "
        "One reading alone would have said closed."
    )


SWITCH = Explorer(
    "switch",
    "Across an open and a closed switch",
    "You read 0 V across a stat. Name two quite different things that it can mean. Which second reading parts them?",
    (
        Pick("stat", "stat", (IDLE, CALL), IDLE),
        Pick("fuse", "fuse", (IN, OUT), IN),
        Pick("heater", "heater", (WHOLE, BROKEN), WHOLE),
        Pick("meter", "meter on", (VOLTS, LOW_Z), VOLTS),
    ),
    _switch,
)

HEATER, DEAD_HEATER, SWITCH_OPEN, SWITCH_MADE = "good heater", "broken heater", "end switch, open", "end switch, made"
LANDED, LIFTED = "both leads landed", "one lead lifted"
ALL_OFF, BOILER_ON = "all off", "transformer off, boiler on"
HOT_S = 600.0  # s of calling after which the end switch is surely made


@lru_cache(maxsize=4)
def _three_wire(heater: str) -> Installation:
    """One zone with a three-wire valve, T-T fed directly by the boiler."""
    ohms = OPEN if heater == BROKEN else HeatMotorValve("valve", 3).heater_ohms
    return three_wire_direct("one zone, three-wire", [Zone(HeatMotorValve("valve", 3, heater_ohms=ohms), Stat("stat"))])


@lru_cache(maxsize=64)
def _tested(part: str, lead: str, stat: str, supplies: str) -> tuple[Installation, PlantState]:
    """The zone as it stands when the probes go on: warm if the switch is to be made, then switched off."""
    house = _three_wire(BROKEN if part == DEAD_HEATER else WHOLE)
    state = at_rest(house)
    if part == SWITCH_MADE:
        state, _ = waited(house, called(house, state, "zone1.stat", True), HOT_S)
    state = switched(house, called(house, state, "zone1.stat", stat == CALL), "transformer", False)
    if supplies == ALL_OFF:
        state = switched(house, state, "boiler", False)
    if lead == LIFTED:
        state = lifted(house, state, _pair(part)[0])
    return house, state


def _pair(part: str) -> tuple[str, str]:
    """The two leads that are tested, the one that is lifted first."""
    first = "H" if part in (HEATER, DEAD_HEATER) else "E"
    return f"zone1.valve.{first}", "zone1.valve.S"


def _looked(part: str, lead: str, stat: str, supplies: str, threshold: float) -> tuple[Reading, Reading]:
    """Ohms and beeper on the pair."""
    house, state = _tested(part, lead, stat, supplies)
    ac, dc, meter = network(house, state), network(house, state, 0), Meter(beeps_below=threshold)
    return ohms_reading(ac, dc, *_pair(part), meter=meter), beeper_reading(ac, dc, *_pair(part), meter=meter)


def _beeper(part: str, lead: str, stat: str, supplies: str, beeper: str) -> Shown:
    threshold = float(beeper.split()[0])
    ohms, beeps = _looked(part, lead, stat, supplies, threshold)
    alone, _ = _looked(part, LIFTED, stat, supplies, threshold)
    ways = (("lead lifted", LIFTED, stat), ("in, stat open", LANDED, IDLE), ("in, stat closed", LANDED, CALL))
    shown = [(name, _looked(part, way, at, supplies, threshold)[0]) for name, way, at in ways]
    points: list[tuple[float, float | None]] = [(-0.5, None)]
    for number, (_, reading) in enumerate(shown):
        finite = reading.value is not None and math.isfinite(reading.value)
        points += [(float(number), reading.value if finite else None), (number + 0.5, None)]
    place = 0 if lead == LIFTED else 2 if stat == CALL else 1
    finite = ohms.value is not None and math.isfinite(ohms.value)
    plot = Plot(
        title="Ohms between the two leads",
        across="alone, and in the circuit",
        up="ohms (none drawn: OL)",
        curves=((part, tuple(points)),),
        here=(float(place), ohms.value) if finite else None,
        here_words=ohms.text if finite else "",
        levels=((f"beeps below {threshold:.0f}", threshold),),
        ticks=tuple((float(number), name) for number, (name, _) in enumerate(shown)),
    )
    drawn = f"{part}: " + ", ".join(f"{name} {reading.text}" for name, reading in shown) + "."
    return Shown(
        (
            Told("ohms", ohms.text),
            Told("beeper", beeps.text.partition(",")[0]),
            Told("the part alone, lead lifted", alone.text),
        ),
        _beeper_words(ohms, beeps, alone, threshold, lifted_lead=lead == LIFTED),
        plot,
        drawn[0].upper() + drawn[1:],
    )


def _beeper_words(ohms: Reading, beeps: Reading, alone: Reading, threshold: float, *, lifted_lead: bool) -> str:
    if ohms.misuse:
        return (
            "This pair carries voltage: the boiler feeds it. The number means nothing and the meter may be harmed. "
            "Read volts first, always; here lift a lead, or switch the boiler off too."
        )
    beep = "beeps" if beeps.value < threshold else "is silent"
    heard = f"The beeper {beep}: it only says whether there are fewer than {threshold:.0f} ohms, on whatever way."
    if lifted_lead:
        return f"{heard} With one lead lifted there is only the part itself between the probes, so this reading is of the part."
    near = alone.value is not None and math.isfinite(alone.value) and abs(ohms.value - alone.value) <= 0.1 * alone.value
    if near or ohms.value == alone.value:
        return (
            f"{heard} Here the circuit happens to change nothing: its other way is open, or long against the part. You "
            "know it only "
            "because you have lifted a lead as well."
        )
    return f"{heard} In the circuit there is another way round between the probes, and it is that way you read. Lift one lead."


BEEPER = Explorer(
    "continuity",
    "Ohms and beeps, alone and in circuit",
    "A broken heater, supply off, and the meter beeps across it. How can that be, and what must you do before you "
    "believe a beep?",
    (
        Pick("part", "between the probes", (HEATER, DEAD_HEATER, SWITCH_OPEN, SWITCH_MADE), HEATER),
        Pick("lead", "its leads", (LANDED, LIFTED), LANDED),
        Pick("stat", "stat", (IDLE, CALL), CALL),
        Pick("supplies", "supplies", (ALL_OFF, BOILER_ON), ALL_OFF),
        Pick("beeper", "meter beeps below", tuple(f"{ohms:.0f} ohms" for ohms in THRESHOLDS), "40 ohms"),
    ),
    _beeper,
)
