"""What a bench works on: the house as it really is, act by act, and what is seen of it without an act."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Protocol

from ..plant.parts import Boiler, Stat, Transformer, Valve
from ..plant.running import PlantState
from ..plant.strays import Stray
from .acts import acted, arrival
from .job import Job
from .world import Outcome, World, places, without_jumpers

if TYPE_CHECKING:  # practice has no such rules, and a page that begins with practice need not load them
    from .declared import Declared

__all__ = ["Done", "House", "LiveHouse", "Stands", "left_there", "outside"]


@dataclass(frozen=True, slots=True)
class Done:
    """One act done: what it showed, and the job clock after it."""

    act: Mapping[str, object]
    outcome: Outcome
    clock: float  # s since arrival


@dataclass(frozen=True, slots=True)
class Stands:
    """What a learner sees of a house without an act."""

    clock: float
    points: tuple[str, ...]  # where a probe can go
    lifted: tuple[str, ...]
    jumpers: tuple[tuple[str, str], ...]
    strays: tuple[tuple[str, str, str], ...]  # (name, words, the part at which a look shows it): what nobody drew
    uncovered: tuple[str, ...]  # parts whose cover is off
    stopped: bool
    referred: str
    calls: Mapping[str, bool]
    supplies: Mapping[str, bool]
    outside: PlantState  # as far as a drawing may show it


class House(Protocol):
    """Where acts are done: the real circuit, or a file that tells what it would show."""

    rules: Declared | None  # of graded work; None where whatever can be done may be done

    def done(self, act: object) -> tuple[Done, ...]:
        """Do one act; more than one is done where something else has to come first. Raises JobError and changes nothing."""

    def stands(self) -> Stands:
        """What is seen now."""


class LiveHouse:
    """A job's house with its circuit solved anew at every act."""

    rules: Declared | None = None

    def __init__(self, job: Job) -> None:
        self.job = job
        self.world: World = arrival(job.design, job.actual)
        self._engaged: dict[str, bool] = {}  # openers as the learner has set them

    def done(self, act: object) -> tuple[Done, ...]:
        """Do one act; raises JobError, or what the plant says, and then nothing has changed."""
        self.world, outcome = acted(self.world, act)
        if act["do"] == "opener":
            self._engaged[act["valve"]] = act["engaged"]
        return (Done(dict(act), outcome, self.world.state.time),)

    def stands(self) -> Stands:
        """What is seen now."""
        world, state, parts = self.world, self.world.state, self.job.design.parts
        return Stands(
            clock=state.time,
            points=places(world),
            lifted=state.lifted,
            jumpers=world.jumpers,
            strays=left_there(world),
            uncovered=world.uncovered,
            stopped=world.stopped,
            referred=world.referred,
            calls={part.name: state.of(part.name).calling for part in parts if isinstance(part, Stat)},
            supplies={part.name: state.of(part.name).on for part in parts if isinstance(part, Transformer | Boiler)},
            outside=outside(self.job.design, state, self._engaged),
        )


def left_there(world: World) -> tuple[tuple[str, str, str], ...]:
    """Whatever lies in the house that nobody drew: (name, words, the part at which a look shows it)."""
    return tuple((part.name, part.words, part.seen_at) for part in without_jumpers(world).parts if isinstance(part, Stray))


def outside(design: object, state: PlantState, engaged: Mapping[str, bool]) -> PlantState:
    """The state as far as a drawing may show it: an opener is drawn set once the learner has set it, else it takes a look."""
    parts = {part.name: part.initial() for part in design.parts}
    for part in design.parts:
        now = state.of(part.name)
        if isinstance(part, Stat | Transformer | Boiler):
            parts[part.name] = now
        elif isinstance(part, Valve):
            parts[part.name] = replace(parts[part.name], engaged=now.engaged and engaged.get(part.name, False))
    return PlantState(time=0.0, parts=parts, values={}, lifted=state.lifted)
