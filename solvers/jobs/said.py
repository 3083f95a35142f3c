"""An act in words, for feedback: what was read, and where."""

from __future__ import annotations

import json
from collections.abc import Mapping

from ..plant.naming import part_words, point_words, wire_words
from .survey import Probe, Survey

__all__ = ["act_words", "probe_words"]


def act_words(act: Mapping[str, object]) -> str:
    """One act as a technician would say it."""
    name = act.get("do")
    match name:
        case "measure":
            return f"{act['function']} from {point_words(act['first'])} to {point_words(act['second'])}"
        case "clamp":
            turns = "" if act["turns"] == 1 else f", {act['turns']} turns"
            return f"the clamp on {wire_words(act['wire'])}{turns}"
        case "wait":
            return f"a wait of {act['seconds']:g} s"
        case "line reading":
            return f"{act['what']} at the {part_words(act['part'])}, by somebody licensed"
        case "look" | "feel" | "nudge":
            return f"a {name} at {part_words(act['part'])}"
        case "listen":
            return f"an ear at {part_words(act['part'])}"
        case "head off":
            return f"a look under the head of {part_words(act['valve'])}"
        case "call":
            return f"{'a call' if act['on'] else 'the end of the call'} at {part_words(act['stat'])}"
    where = next((str(value) for key, value in act.items() if key != "do"), "")
    return f"{name} {point_words(where) if '.' in where else where}".strip()


def probe_words(found: Survey, probe: Probe) -> str:
    """A test of the standard round: the situation, then the act."""
    return f"{found.situations[probe.situation].words}: {act_words(json.loads(probe.act))}"
