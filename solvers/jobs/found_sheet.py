"""A house as found as a file: its seed, every act with what it showed, what was said. Read strictly, worked through again."""

from __future__ import annotations

import json

from .as_found import ID
from .found_house import House
from .sheet import LARGEST, MOST_ENTRIES, BadSheet
from .strict import fields, listed, shortened, text_of, whole_json

__all__ = ["FORMAT", "parsed", "resumed", "written"]

FORMAT = "call-for-heat house 1"


def written(house: House) -> str:
    """A house as JSON text, readable by a person and by `resumed`."""
    body = {
        "format": FORMAT,
        "task": ID,
        "seed": house.seed,
        "log": [{"act": dict(line.act), "clock": line.clock, "text": line.text} for line in house.log],
        "answers": house.answers,
        "handed_in": house.handed_in,
    }
    return json.dumps(body, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def parsed(text: str | bytes) -> dict[str, object]:
    """The fields of a sheet, proven but for what only the house can tell; raises BadSheet with the path of a bad one."""
    body = whole_json(text, "sheet", LARGEST, BadSheet)
    fields(body, "sheet", ("format", "task", "seed", "log", "answers", "handed_in"), BadSheet)
    if body["format"] != FORMAT:
        raise BadSheet(f"format is {shortened(body['format'])}; this program reads {FORMAT!r}")
    if body["task"] != ID:
        raise BadSheet(f"task is {shortened(body['task'])}; this sheet is for {ID!r}")
    text_of(body["seed"], "seed", 200, BadSheet)
    for number, line in enumerate(listed(body["log"], "log", MOST_ENTRIES, BadSheet)):
        path = f"log[{number}]"
        fields(line, path, ("act", "clock", "text"), BadSheet)
        if not isinstance(line["act"], dict):
            raise BadSheet(f"{path}.act must be an object; got {shortened(line['act'])}")
        text_of(line["text"], f"{path}.text", 500, BadSheet)
        clock = line["clock"]
        if isinstance(clock, bool) or not isinstance(clock, int | float) or not 0 <= clock < 1e9:
            raise BadSheet(f"{path}.clock must be seconds since arrival; got {shortened(clock)}")
    if not isinstance(body["handed_in"], bool):
        raise BadSheet(f"handed_in must be true or false; got {shortened(body['handed_in'])}")
    return body


def resumed(text: str | bytes, *, reveals: bool = True) -> House:
    """The house that a sheet tells of, each act done again; raises BadSheet for one that cannot be done or shows another
    reading here than the sheet says.
    """
    body = parsed(text)
    house = House(body["seed"], reveals=reveals)
    for number, line in enumerate(body["log"]):
        try:
            house.step(line["act"])
        except (ValueError, KeyError) as problem:
            raise BadSheet(f"log[{number}].act cannot be done: {problem}") from None
        for slot in ("text", "clock"):
            seen = getattr(house.log[-1], slot)
            if line[slot] != seen:
                raise BadSheet(f"log[{number}].{slot} is {shortened(line[slot])}; in this house it is {shortened(seen)}")
    house.said(body["answers"])
    if body["handed_in"]:
        house.hand_in()
    return house
