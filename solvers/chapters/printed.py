"""What pages print of a scene: each function gives one without arguments that reads the meter and tells it with its unit."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from .heater_loop_house import Scene
from .visits import ohms_text, volts_text

__all__ = ["Printed", "amps", "display", "ohms", "said", "volts"]

Printed = Callable[[], str]


def volts(scene: Scene, first: str, second: str, function: str = "volts") -> Printed:
    """Volts between two test points."""
    return lambda: volts_text(scene.volts(first, second, function))


def amps(scene: Scene, wire: str, turns: int = 10) -> Printed:
    """Amperes in a conductor to three figures, by a clamp with so many turns, each counted once."""
    return lambda: f"{scene.shown({'do': 'clamp', 'wire': wire, 'turns': turns}).reading.value:.3g} A"


def ohms(scene: Scene, first: str, second: str) -> Printed:
    """Ohms between two test points, the meter's leads included, "OL" where there is no path."""
    return lambda: ohms_text(scene.shown(_measure("ohms", first, second)).reading.value)


def display(scene: Scene, function: str, first: str, second: str) -> Printed:
    """All that one measurement shows, with what is heard meanwhile."""
    return lambda: (
        scene.shown(_measure(function, first, second))
        .text.replace("Mohm", "megohms")
        .replace("kohm", "kilohms")
        .replace(" ohm", " ohms")
    )


def said(scene: Scene, act: Mapping[str, object]) -> Printed:
    """What one act tells, as the bench says it."""
    return lambda: scene.shown(act).text


def _measure(function: str, first: str, second: str) -> dict[str, object]:
    return {"do": "measure", "function": function, "first": first, "second": second}
