"""What eyes, ears and hands tell about a part, derived from the state of the plant."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ..circuit import Event
from .electrics import electrics
from .parts import Boiler, Fuse, HeatMotorValve, Loop, Splice, Stat, Transformer
from .running import PlantState
from .wiring import Installation

__all__ = ["SENSES", "Sense", "heard", "sensed"]

SENSES = ("look", "listen", "feel")


@dataclass(frozen=True, slots=True)
class Sense:
    """One impression: the sentence a learner gets, and the part of it that evidence may rest on."""

    text: str
    signal: str


def sensed(installation: Installation, state: PlantState, how: str, part: str) -> Sense:
    """What one sense tells about one part; raises NoSuchPart, and ValueError for an unknown sense."""
    if how not in SENSES:
        raise ValueError(f"sense {how!r}; there are {list(SENSES)}")
    thing = installation.part(part)
    return {"look": _look, "listen": _listen, "feel": _feel}[how](installation, state, thing)


def heard(event: Event) -> str:
    """What a person beside the valves hears of an event; empty for a silent one."""
    part, _, happening = event.name.partition(" ")
    if "end switch" in happening:
        return f"{_called(part)} clicks"
    if happening in ("starts", "stops"):
        return f"the {_called(part)} {happening}"
    return f"a smell of burning from {_called(part)}" if "burns" in happening else ""


def _look(installation: Installation, state: PlantState, part: object) -> Sense:
    if isinstance(part, HeatMotorValve):
        lever = "held in the open position" if state.of(part.name).engaged else "in auto"
        air = part.ambient_degC
        band = "cold" if air < 12 else "hot" if air > 32 else "at room temperature"
        text = f"The lever is {lever}. The air beside the head is {band}: {air:.0f} degC ({air * 9 / 5 + 32:.0f} degF)."
        return Sense(text, f"lever {lever}, air {band}")
    if isinstance(part, Fuse):
        return _plain("The link has melted." if state.of(part.name).blown else "The link is whole.")
    if isinstance(part, Stat):
        return _plain("It calls for heat." if state.of(part.name).calling else "It does not call for heat.")
    if isinstance(part, Boiler):
        status = state.of(part.name)
        return _plain(
            "Its display is dark." if not status.on else "The call lamp is lit." if status.called else "No call is shown."
        )
    if isinstance(part, Transformer):
        return _plain(f"Its switch is {'on' if state.of(part.name).on else 'off'}. Nothing is scorched.")
    return _plain("A connector like any other. Nothing can be seen from outside.")


def _listen(installation: Installation, state: PlantState, part: object) -> Sense:
    if isinstance(part, Boiler):
        return _plain("Burner and circulator run." if state.of(part.name).called else "It is quiet.")
    if isinstance(part, Transformer):
        if not state.of(part.name).on:
            return _plain("Silent.")
        amps = _amps(installation, state)[f"{part.name}.winding"]
        return _plain("It hums hard." if amps * 24 > 1.5 * part.va else "A faint hum.")
    return _plain("Nothing to hear.")


def _feel(installation: Installation, state: PlantState, part: object) -> Sense:
    if isinstance(part, HeatMotorValve):
        wax, air = state.values[f"{part.name}.wax"], part.ambient_degC
        head = _warmth(air + 0.85 * (wax - air))  # the case lies between the wax and the air
        loops = [loop.name for loop in installation.parts if isinstance(loop, Loop) and loop.valve == part.name]
        pipe = _warmth(state.values[f"{loops[0]}.supply"]) if loops else "at room temperature"
        return _plain(f"The head is {head}. The pipe beyond the valve is {pipe}.")
    if isinstance(part, Splice):
        amps = _amps(installation, state)
        watts = sum(amps[way] ** 2 * branch.z for way, branch in _ways(part))
        return _plain("The joint is warm." if watts > 0.8 else "The joint is at room temperature.")
    if isinstance(part, Transformer):
        return _plain("Warm, as a transformer is." if state.of(part.name).on else "Cooling down.")
    return _plain("At room temperature.")


def _ways(splice: Splice) -> list:
    return [(branch.name, branch) for branch in splice.branches(None, 60.0) if branch.admittance]


def _amps(installation: Installation, state: PlantState) -> Mapping[str, float]:
    return electrics(installation, state.parts, state.lifted).amps


def _warmth(degC: float) -> str:
    return "cold" if degC < 15 else "at room temperature" if degC < 30 else "warm" if degC < 45 else "hot"


def _plain(text: str) -> Sense:
    return Sense(text, text)


def _called(part: str) -> str:
    zone, _, kind = part.partition(".")
    return f"{kind} {zone.removeprefix('zone')}" if kind else zone
