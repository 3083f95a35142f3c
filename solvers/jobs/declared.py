"""What a graded job admits: the acts it declares, from its drawing and its suspects alone, and a refusal for every other."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from ..faults.fault import Suspect
from ..plant.light_switch import LightSwitch
from ..plant.parts import Boiler, Fuse, Relay, Stat, Valve
from ..plant.wiring import Installation
from .acts import checked
from .admitting import admitting, is_supply
from .job import Job, JobError

__all__ = ["FREE", "Declared", "Standing", "admitted_in", "declared", "declared_for", "key_of"]

TURNS = ("call", "switch", "reset")
"""What may be turned at any time."""

READS = ("measure", "clamp", "look", "listen", "feel", "head off", "line reading")
"""What changes nothing."""

NO_FUNCTION = "amps jack"

FREE = ("read", "wait", "stop", "refer", "covers")
"""Kinds of act that change nothing in the house, or end the work on it, and are never refused."""

ANYTIME = ("call", "switch", "stop", "refer", "lift", "land")


@dataclass(frozen=True, slots=True)
class Standing:
    """What a learner has set apart and not put back: at most one kind of thing at a time."""

    lifted: frozenset[str] = frozenset()  # terminals
    jumper: tuple[str, str] | None = None
    opener: str = ""  # a valve
    dark: str = ""  # a light that is off
    repaired: frozenset[str] = frozenset()  # repairs that have changed the house, by their key
    up: frozenset[str] = frozenset()  # stats that are turned up

    @property
    def words(self) -> str:
        """Why nothing else may be set apart now; empty where it may."""
        if self.repaired:
            return "a repair has been made: from here on the house is proven by calls"
        if self.lifted:
            return f"the lead at {sorted(self.lifted)[0]} is lifted: land it first"
        if self.jumper:
            return f"a jumper is on {self.jumper[0]} and {self.jumper[1]}: take it off first"
        if self.opener:
            return f"the opener of {self.opener} is engaged: put it back in auto first"
        return f"the {self.dark} is off: switch it on first" if self.dark else ""

    @property
    def places(self) -> tuple[str, ...]:
        """The terminals and parts at which something is set apart."""
        return (*sorted(self.lifted), *(self.jumper or ()), *filter(None, (self.opener, self.dark)))

    def crowd(self) -> str:
        """Why no more than one zone may call now; empty where it is no more, or where nothing is set apart."""
        zones = {place.partition(".")[0] for place in self.places if "." in place and place.startswith("zone")}
        own = {f"{zone}.stat" for zone in zones}
        others = sorted(self.up - own) if own else sorted(self.up)[1:]
        if not self.places or not others:
            return ""
        return f"with {self.places[0]} set apart one zone calls at a time: turn {others[0]} down first"

    def after(self, act: Mapping[str, object], kind: str) -> Standing:
        """What stands apart once an act of this kind has been done."""
        match kind:
            case "call":
                return replace(self, up=self.up | {act["stat"]} if act["on"] else self.up - {act["stat"]})
            case "lift":
                return replace(self, lifted=self.lifted | {act["terminal"]})
            case "land":
                return replace(self, lifted=self.lifted - {act["terminal"]})
            case "jumper":
                return replace(self, jumper=(act["first"], act["second"]) if act["on"] else None)
            case "opener" if act["engaged"]:
                return replace(self, opener=act["valve"])
            case "opener":
                return replace(self, opener="" if act["valve"] == self.opener else self.opener)
            case "light":
                return replace(self, dark="" if act["on"] else act["part"])
        return self

    def in_house(self, act: Mapping[str, object], *, changed: bool, as_found: bool) -> Standing:
        """The same once it is known whether an act has changed the house, and whether that stands as it was found."""
        if as_found:
            return replace(self, repaired=frozenset())
        return replace(self, repaired=self.repaired | {key_of(act)}) if changed else self


@dataclass(frozen=True, slots=True)
class Declared:
    """The acts that a graded job admits, beside readings, senses, waiting, stopping and handing over."""

    stats: tuple[str, ...]
    supplies: tuple[str, ...]  # which are switched together: one goes with all
    buttons: tuple[str, ...]  # of breakers
    leads: tuple[frozenset[str], ...]  # sets that may be lifted together, and every set on the way to one
    jumpers: tuple[tuple[str, str], ...]
    openers: tuple[str, ...]  # valves
    lights: tuple[str, ...]
    nudged: tuple[str, ...]  # parts
    series: tuple[tuple[Mapping[str, object], ...], ...]  # of repairs: each ends one suspect
    renewed: tuple[str, ...]  # fuses, which may be renewed again and again
    repairs: tuple[Mapping[str, object], ...] = field(init=False)  # every one that the job lists
    _keys: frozenset[str] = field(init=False)  # of those
    _together: tuple[frozenset[str], ...] = field(init=False)  # of each series

    def __post_init__(self) -> None:
        every = {key_of(act): act for series in self.series for act in series}
        object.__setattr__(self, "repairs", tuple(every.values()))
        object.__setattr__(self, "_keys", frozenset(every))
        object.__setattr__(self, "_together", tuple(frozenset(map(key_of, series)) for series in self.series))

    def kind(self, act: Mapping[str, object]) -> str:
        """What sort of act this is to these rules: "read", "light", "repair", or what the act itself goes by."""
        name = act["do"]
        if name == "line reading":
            return name
        if name in READS:
            return "read"
        if name == "switch" and act["part"] in self.lights:
            return "light"
        if name not in ("opener", *TURNS) and key_of(act) in self._keys:
            return "repair"
        return name

    def refusal(self, standing: Standing, act: Mapping[str, object]) -> str:
        """Why an act is not to be done now, in a sentence; empty where it may be."""
        kind = self.kind(act)
        why = self._refused(standing, act, kind)
        return why or standing.after(act, kind).crowd()

    def _refused(self, standing: Standing, act: Mapping[str, object], kind: str) -> str:
        if act.get("function") == NO_FUNCTION:
            return "the current jack of the meter is left alone"
        if kind in (*FREE, *TURNS):
            return ""
        if kind == "repair":
            return self._repairing(standing, act)
        if kind == "nudge":
            known = act["part"] in self.nudged
            return standing.words if known else f"a nudge at {act['part']} is not among what this job admits"
        if kind == "line reading":
            up = sorted(standing.up)
            return standing.words or (f"a line reading is taken while nobody calls: turn {up[0]} down first" if up else "")
        if kind == "lift":
            return self._lifting(standing, act["terminal"])
        if kind == "land":
            return "" if act["terminal"] in standing.lifted else f"the lead at {act['terminal']} is not lifted"
        if kind == "jumper":
            return self._jumping(standing, act)
        if kind == "opener":
            begins = act["engaged"] and standing.opener != act["valve"]
            return standing.words if begins else ""
        if kind == "light":
            return standing.words if not act["on"] and standing.dark != act["part"] else ""
        return f"{_said(act)} is not among what this job admits; it lists {self.listed()}"

    def acts_of(self, act: Mapping[str, object]) -> tuple[Mapping[str, object], ...]:
        """The acts that one stands for: what switches one supply switches all."""
        if act["do"] != "switch" or act["part"] not in self.supplies:
            return (act,)
        return tuple({"do": "switch", "part": part, "on": act["on"]} for part in self.supplies)

    def listed(self) -> list[str]:
        """The repairs, in words."""
        return [_said(act) for act in self.repairs]

    def begins(self, standing: Standing) -> Iterator[Mapping[str, object]]:
        """Every changing act that may be done now, both ways of what can be turned among them; one supply for all."""
        for act in self._every(standing):
            if not standing.after(act, self.kind(act)).crowd():
                yield act

    def _every(self, standing: Standing) -> Iterator[Mapping[str, object]]:
        yield from ({"do": "call", "stat": stat, "on": on} for stat in self.stats for on in (True, False))
        yield from ({"do": "switch", "part": self.supplies[0], "on": on} for on in (True, False))
        yield from ({"do": "reset", "part": part} for part in self.buttons)
        yield from ({"do": "land", "terminal": terminal} for terminal in sorted(standing.lifted))
        for terminal in sorted(set().union(*self.leads)):
            if not self._lifting(standing, terminal):
                yield {"do": "lift", "terminal": terminal}
        for first, second in self.jumpers:
            act = {"do": "jumper", "first": first, "second": second, "on": standing.jumper is None}
            if not self._jumping(standing, act):
                yield act
        for valve in self.openers:
            for engaged in (True, False):
                if not (engaged and standing.words):
                    yield {"do": "opener", "valve": valve, "engaged": engaged}
        for light in self.lights:
            if standing.dark == light or not standing.words:
                yield {"do": "switch", "part": light, "on": standing.dark == light}
        if not standing.words:
            yield from ({"do": "nudge", "part": part} for part in self.nudged)
        for act in self.repairs:
            if act["do"] not in ("opener", *TURNS) and not self._repairing(standing, act):
                yield act

    def _repairing(self, standing: Standing, act: Mapping[str, object]) -> str:
        if not standing.repaired:
            return standing.words
        together = standing.repaired | {key_of(act)}
        if any(together <= series for series in self._together) or (act["do"] == "fit" and act["part"] in self.renewed):
            return ""
        return "a repair has been made already, and this one does not belong to it"

    def _lifting(self, standing: Standing, terminal: str) -> str:
        there = standing.lifted | {terminal}
        if terminal in standing.lifted:
            return f"the lead at {terminal} is lifted already"
        if not any(there <= together for together in self.leads):
            if any(terminal in together for together in self.leads):
                return standing.words
            admitted = "the leads of stats, valves, relays, T-T and the fuse may be lifted"
            return f"the lead at {terminal} is not among what this job admits: {admitted}"
        return "" if standing.lifted else standing.words

    def _jumping(self, standing: Standing, act: Mapping[str, object]) -> str:
        ends = {act["first"], act["second"]}
        if not act["on"]:
            on = standing.jumper is not None and set(standing.jumper) == ends
            return "" if on else f"no jumper is on {act['first']} and {act['second']}"
        if not any(set(pair) == ends for pair in self.jumpers):
            known = [" to ".join(pair) for pair in self.jumpers]
            return f"a jumper from {act['first']} to {act['second']} is not among what this job admits; it admits {known}"
        return standing.words


def declared(job: Job) -> Declared:
    """What a job admits in graded work. Nothing of its fault goes into it."""
    series = {json.dumps(one): one for suspect in job.suspects for one in _ending(job, suspect) if one}
    return declared_for(job.design, tuple(series.values()))


def declared_for(design: Installation, series: tuple[tuple[Mapping[str, object], ...], ...]) -> Declared:
    """What a job with this drawing admits, if it lists these series of repairs."""
    stats = [part for part in design.parts if isinstance(part, Stat)]
    boiler = next(part for part in design.parts if isinstance(part, Boiler))
    jumpers = [boiler.terminals[:2], *((part.supply_terminal, f"{part.name}.W") for part in stats)]
    return Declared(
        stats=tuple(part.name for part in stats),
        supplies=tuple(part.name for part in design.parts if is_supply(part)),
        buttons=tuple(part.name for part in design.parts if "reset" in admitting(part)),
        leads=tuple(_leads(design)),
        jumpers=tuple((first, second) for first, second in jumpers if {first, second} <= set(design.terminals)),
        openers=tuple(part.name for part in design.parts if isinstance(part, Valve)),
        lights=tuple(part.name for part in design.parts if isinstance(part, LightSwitch)),
        nudged=tuple(part.name for part in design.parts if part.terminals and not part.hidden),
        series=series,
        renewed=tuple(part.name for part in design.parts if isinstance(part, Fuse)),
    )


def _ending(job: Job, suspect: Suspect) -> Iterator[tuple[Mapping[str, object], ...]]:
    """The series of acts that would end a suspect, but for what anybody may do at any time."""
    for row in suspect.rows:
        fault = next(fault for fault in suspect.family if fault.row == row.id)
        for series in job.repairs_of(row, fault):
            yield tuple(checked(act) for act in series if act["do"] not in ANYTIME)


def _leads(design: Installation) -> Iterator[frozenset[str]]:
    """The leads of one part that a test lifts together, and those that part a short from its supply."""
    for part in design.parts:
        if isinstance(part, Valve):
            sets = [pair for pair in (part.drive_pair, part.switch_pair) if pair]
        elif isinstance(part, Stat):
            sets = [part.terminals]
        elif isinstance(part, Boiler):
            sets = [part.terminals[:2]]
        elif isinstance(part, Relay):
            sets = [part.coil_pair]
        elif isinstance(part, Fuse):
            sets = [(part.terminals[1], "transformer.C")] if "transformer.C" in design.terminals else [part.terminals[1:]]
        else:
            continue
        for together in sets:
            if landed := frozenset(terminal for terminal in together if design.landed(terminal)):
                yield landed


def key_of(act: Mapping[str, object]) -> str:
    """An act as one text."""
    return json.dumps(act, sort_keys=True)


def _said(act: Mapping[str, object]) -> str:
    told = [str(value) for slot, value in act.items() if slot != "do"]
    return " ".join([act["do"], *told])


def admitted_in(rules: Declared, standing: Standing, act: Mapping[str, object]) -> str:
    """The kind of an act that may be done now; raises JobError with the reason why it may not."""
    why = rules.refusal(standing, act)
    if why:
        raise JobError(f"in a graded job {why}")
    return rules.kind(act)
