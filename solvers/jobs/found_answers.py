"""What a learner says of a house as found, read strictly: each refusal with the path of the field and the choices."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from ..plant.parts import Valve
from .as_found import ROLES, TIDY, TIE
from .sheet import BadSheet
from .strict import fields, listed, shortened
from .wireup import WireUp

__all__ = ["BLANK", "answered", "zones_of"]

BLANK: Mapping[str, object] = {"conductors": {}, "leads": {}, "prediction": None, "tidy": [], "tie": None}
"""Nothing said yet. A conductor or lead without a name is left out or "", everything else unanswered is null or empty."""

MOST_TIDIED = 2


def answered(body: object, task: WireUp) -> dict[str, object]:
    """The answers with every field proven; raises BadSheet with the path of the first that is not as it must be."""
    fields(body, "answers", BLANK, BadSheet)
    wires = [wire.name for wire in task.found.wires]
    valves = {part.name: part for part in task.parts if isinstance(part, Valve)}
    leads = body["leads"]
    _within(leads, "answers.leads", valves)
    for name, given in leads.items():
        names = valves[name].LEADS[valves[name].leads]
        _named(given, f"answers.leads.{name}", [f"lead {letter}" for letter, _ in zip("abcd", names, strict=False)], names)
    if body["tie"] is not None and body["tie"] not in TIE.choices:
        raise BadSheet(f"answers.tie is {shortened(body['tie'])}; there are {list(TIE.choices)}, or null")
    zones = [part.removesuffix(".valve") for part in valves]
    return {
        "conductors": _named(body["conductors"], "answers.conductors", wires, ROLES),
        "leads": {name: dict(given) for name, given in leads.items()},
        "prediction": None if body["prediction"] is None else zones_of(body["prediction"], "answers.prediction", zones),
        "tidy": _several(body["tidy"], "answers.tidy", tuple(TIDY), MOST_TIDIED),
        "tie": body["tie"],
    }


def zones_of(value: object, path: str, zones: Collection[str]) -> list[str]:
    """A list of zones, each named once; raises BadSheet."""
    return _several(value, path, zones, len(zones))


def _within(body: object, path: str, known: Collection[str]) -> None:
    if not isinstance(body, dict):
        raise BadSheet(f"{path} must be an object; got {shortened(body)}")
    for name in body:
        if name not in known:
            raise BadSheet(f"{path} names {shortened(name)}; there are {list(known)}")


def _named(body: object, path: str, names: Collection[str], choices: Collection[str]) -> dict[str, str]:
    _within(body, path, names)
    for name, value in body.items():
        if value != "" and (not isinstance(value, str) or value not in choices):
            raise BadSheet(f"{path}.{name} is {shortened(value)}; there are {list(choices)}")
    return dict(body)


def _several(value: object, path: str, choices: Collection[str], most: int) -> list[str]:
    found: list[str] = []
    for at, each in enumerate(listed(value, path, most, BadSheet)):
        if not isinstance(each, str) or each not in choices:
            raise BadSheet(f"{path}[{at}] is {shortened(each)}; there are {list(choices)}")
        if each in found:
            raise BadSheet(f"{path}[{at}] is {each!r}, which {path}[{found.index(each)}] names already")
        found.append(each)
    return found
