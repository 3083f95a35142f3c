"""The course's objectives by number, each in one line. Titles only; what shows one is in the marks."""

from __future__ import annotations

from collections.abc import Mapping

__all__ = ["OBJECTIVES"]

OBJECTIVES: Mapping[str, str] = {
    "1.6": "prove that a short is gone before fitting a fuse",
    "3.1": "predict heater current from ohms and volts, and confirm it with a clamp",
    "3.2": "tell a dead feed, an open heater and an open return apart",
    "3.3": "time a warm-up and judge it against volts and ambient",
    "3.4": "find a high-resistance splice by its drop under load",
    "3.5": "tell an electrical failure from a mechanical one",
    "3.6": "use, reset and recognise the manual opener",
    "3.7": "measure a heater correctly: power off, one lead lifted",
    "4.4": "identify the three leads of a three-wire valve by ohms",
    "5.6": "decide that nothing is wrong, and say so plainly",
}
