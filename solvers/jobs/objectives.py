"""The course's 35 objectives by number, each in one line. Titles only; what shows one is in the marks."""

from __future__ import annotations

from collections.abc import Mapping

__all__ = ["OBJECTIVES"]

OBJECTIVES: Mapping[str, str] = {
    "1.1": "predict the volts of a transformer from its tap and the line",
    "1.2": "choose the right primary lead and cap each of the others",
    "1.3": "add up loads in VA and choose a transformer with margin",
    "1.4": "find a source's impedance from volts without and with load",
    "1.5": "tell a dead feed, an open winding, a blown fuse and a tripped breaker apart",
    "1.6": "prove that a short is gone before fitting a fuse",
    "1.7": "prove a line-voltage box dead, and keep power and class 2 apart",
    "2.1": "treat a thermostat as a switch in series, never as a source",
    "2.2": "read no volts and full volts across a switch, with both meanings of none",
    "2.3": "split a zone with a jumper from R to W, and take it off again",
    "2.4": "tell kinds of thermostat apart and test what feeds each",
    "2.5": "set an anticipator from measured amperes, and a cycle rate",
    "2.6": "judge a contact or splice by its millivolts under load",
    "2.7": "find an open or shorted thermostat cable",
    "3.1": "predict heater current from ohms and volts, and confirm it with a clamp",
    "3.2": "tell a dead feed, an open heater and an open return apart",
    "3.3": "time a warm-up and judge it against volts and ambient",
    "3.4": "find a high-resistance splice by its drop under load",
    "3.5": "tell an electrical failure from a mechanical one",
    "3.6": "use, reset and recognise the manual opener",
    "3.7": "measure a heater correctly: power off, one lead lifted",
    "3.8": "tell valve types apart by current, sound and time",
    "4.1": "find out whether T-T is powered, and by what, before connecting to it",
    "4.2": "say why end switches stand in parallel, and prove each by itself",
    "4.3": "find open, resistive and welded end switches",
    "4.4": "identify the three leads of a three-wire valve by ohms",
    "4.5": "wire and test an isolation relay, coil and contact apart",
    "4.6": "split boiler from field with a jumper across T-T, and take it off again",
    "4.7": "test two transformers for phase, and keep them apart",
    "5.1": "turn a complaint into ranked suspects and a first test that halves them",
    "5.2": "finish a job in few readings that each mean something",
    "5.3": "recognise overload and sag by adding zones one at a time",
    "5.4": "work on mixed valves and two transformers",
    "5.5": "restore a job and verify every zone",
    "5.6": "decide that nothing is wrong, or that it is not yours to touch, and say so",
}
