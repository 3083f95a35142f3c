"""A house as found, being worked: readings act by act, then what each conductor is. Its valves' leads bear no letters."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from ..plant.parts import Valve
from ..plant.running import PlantState, lead, points
from ..plant.wiring import Installation, NoSuchTerminal
from .acts import WITHOUT_TOOLS, World, acted, arrival, checked
from .as_found import as_found, marked_as_found
from .bench import entry
from .found_answers import BLANK, answered, zones_of
from .found_readings import Take, touched
from .job import JobError
from .sheet import MOST_ENTRIES, Entry
from .wiring_marks import WiringMarks
from .wiring_questions import Leads, leads_found

__all__ = ["House", "Unmarked"]

PLACES = {"measure": ("first", "second"), "lift": ("terminal",), "land": ("terminal",)}
"""The fields of an act that name a place."""

OPENING = ("call", "opener")
"""Acts that show what the zones do; what they will do is written down before the first of them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Unmarked(Valve):
    """A valve as it is drawn while nobody has said which of its leads is which."""

    marks: tuple[str, ...] = ()

    @property
    def terminals(self) -> tuple[str, ...]:
        return tuple(f"{self.name}.{mark}" for mark in self.marks)


class House:
    """One house as found. Holds the only mutable state: the world as it is now, the log, what was said so far.

    Valve leads go by 'lead a', 'lead b' … in everything that is taken and given, until the answers are handed in.
    """

    def __init__(self, seed: str, *, reveals: bool = True) -> None:
        self.seed = seed
        self.reveals = reveals  # whether the leads bear their letters once the answers are handed in
        self.task = as_found(seed)
        self.installation = self.task.made(self.task.found)
        self.world: World = arrival(self.installation, self.installation)
        self.log: list[Entry] = []
        self.takes: list[Take] = []
        self.predicted: tuple[str, ...] | None = None  # the zones that will work, as written down before the first call
        self.answers: dict[str, object] = dict(BLANK)
        self.handed_in = False
        self.note = ""  # what a good technician would notice about the last reading
        self._unmarked = {
            f"{valve.name}.{name}": f"{valve.name}.{mark}"
            for valve in self._valves
            for mark, name in leads_found(valve, seed).items()
        }
        self._real = {shown: name for name, shown in self._unmarked.items()}

    @property
    def _valves(self) -> tuple[Valve, ...]:
        return tuple(part for part in self.task.parts if isinstance(part, Valve))

    @property
    def zones(self) -> tuple[str, ...]:
        """The zones of the house."""
        return self.installation.zones

    @property
    def lettered(self) -> bool:
        """Whether the leads of the valves bear their letters by now."""
        return self.handed_in and self.reveals

    def shown(self, place: str) -> str:
        """A place by the name that a learner sees."""
        return self._named(place, {} if self.lettered else self._unmarked)

    def drawn(self) -> tuple[Installation, PlantState]:
        """The house and its state as they are drawn: with unmarked leads until the answers are handed in."""
        state = replace(self.world.state, lifted=tuple(self.shown(end) for end in self.world.state.lifted))
        if self.lettered:
            return self.installation, state
        parts = tuple(
            Unmarked(part.name, part.leads, marks=tuple(leads_found(part, self.seed))) if isinstance(part, Valve) else part
            for part in self.installation.parts
        )
        wires = tuple(replace(wire, a=self.shown(wire.a), b=self.shown(wire.b)) for wire in self.installation.conductors)
        return replace(self.installation, parts=parts, conductors=wires), state

    def points(self) -> tuple[str, ...]:
        """Every place for a probe, by the name that a learner sees; the leads of a valve in the order of their marks."""
        order = {shown: at for at, shown in enumerate(self._real)}
        named = [self.shown(place) for place in points(self.installation, self.world.state)]
        leads = iter(sorted((place for place in named if place in order), key=order.__getitem__))
        return tuple(next(leads) if place in order else place for place in named)

    def step(self, act: object) -> None:
        """Do one act of `acts.ACTS`, or {"do": "predict", "zones"}: the zones that will work, before the first call.

        Raises JobError, or what the plant says, and changes nothing then.
        """
        if self.handed_in:
            raise JobError("the answers are handed in: nothing more is done in this house")
        if len(self.log) >= MOST_ENTRIES:
            raise JobError(f"the log is full: {MOST_ENTRIES} acts are more than any house needs")
        if isinstance(act, Mapping) and act.get("do") == "predict":
            self._predict(act)
            return
        act = checked(act, WITHOUT_TOOLS)
        if act["do"] in OPENING and self.predicted is None:
            raise JobError("write down first what both zones will do: a prediction comes before the first call")
        real = {slot: self._place(value) if slot in PLACES.get(act["do"], ()) else value for slot, value in act.items()}
        if act["do"] in ("lift", "land"):
            self._check_lead(act, real["terminal"])
        before = self.world
        self.world, outcome = acted(before, real)
        if act["do"] == "measure":
            self.takes.append(Take(len(self.log), before, real, outcome))
        self.log.append(entry(act, self.world.state.time, outcome))
        self.note = "" if outcome.reading is None else outcome.reading.note

    def said(self, answers: object) -> None:
        """Keep what was said so far in place of what was said before; raises BadSheet with the path of what cannot be."""
        if self.handed_in:
            raise JobError("the answers are handed in: they stay as they are")
        self.answers = answered(answers, self.task)

    def hand_in(self) -> None:
        """Close the house: the answers stand, and the leads bear their letters if the house reveals them."""
        self.handed_in = True

    def marks(self) -> WiringMarks:
        """Marks with reasons, once the answers are handed in; raises JobError before."""
        if not self.handed_in:
            raise JobError("marks come with the answers; this house is still open")
        leads = self.answers["leads"]
        answers = {
            **self.answers,
            "zones": None if self.predicted is None else list(self.predicted),
            **{question.id: leads.get(question.valve) for question in self._lead_questions},
        }
        spoiled = sum(bool(line.misuse) for line in self.log)
        return marked_as_found(self.task, answers, seed=self.seed, takes=self.takes, misuses=spoiled)

    def readings(self) -> dict[str, list[int]]:
        """For every conductor the log lines that say something of it; whether they prove anything is not said."""
        found: dict[str, list[int]] = {wire.name: [] for wire in self.installation.conductors}
        for take in self.takes:
            for name in touched(self.installation, take.world.state.lifted, take.act):
                found[name].append(take.line)
        return found

    @property
    def _lead_questions(self) -> tuple[Leads, ...]:
        return tuple(question for question in self.task.questions if isinstance(question, Leads))

    def _predict(self, act: Mapping[str, object]) -> None:
        if set(act) != {"do", "zones"}:
            raise JobError(f"act 'predict' takes 'zones', a list of zones; got {sorted(map(str, act))}")
        zones = zones_of(act["zones"], "zones", self.zones)
        if self.predicted is not None:
            raise JobError("a prediction is written down already, and stands")
        self.predicted = tuple(sorted(zones))
        told = " and ".join(zone.replace("zone", "zone ") for zone in self.predicted) or "neither zone"
        written = {"do": "predict", "zones": list(self.predicted)}
        self.log.append(Entry(written, round(self.world.state.time, 3), f"Foreseen to work: {told}."))
        self.note = ""

    def _named(self, place: str, names: Mapping[str, str]) -> str:
        terminal = place.removesuffix(" lead")
        named = names.get(terminal, terminal)
        return lead(named) if place == lead(terminal) else named

    def _place(self, shown: object) -> str:
        there = self.points()
        if shown not in there:
            raise JobError(f"no test point {shown!r}; there are {list(there)}")
        return self._named(str(shown), self._real)

    def _check_lead(self, act: Mapping[str, object], terminal: str) -> None:
        """Refuse what the plant would refuse, in the names that are shown."""
        off = terminal in self.world.state.lifted
        if act["do"] == "land" and not off:
            raise NoSuchTerminal(f"the lead at {act['terminal']!r} is not lifted")
        if act["do"] == "lift" and (off or terminal not in self.installation.terminals or not self.installation.landed(terminal)):
            raise NoSuchTerminal(f"no lead is landed on {act['terminal']!r}")
