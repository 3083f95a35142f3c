"""The graded bench on the real circuit: only what the job declares, and each act once the one before has run its course."""

from __future__ import annotations

from ..plant.running import waited
from ..plant.wiring import Installation
from .acts import acted, checked
from .bench import Bench
from .declared import FREE, Declared, Standing, admitted_in, declared
from .house import Done, LiveHouse
from .job import Job, JobError
from .settling import SETTLE_S, at_rest_after, same_house
from .world import World, without_jumpers

__all__ = ["GradedBench", "GradedHouse", "NotSealable"]


class NotSealable(JobError):
    """A job that graded work cannot take; the message says why."""


class GradedHouse(LiveHouse):
    """A live house under the rules of graded work."""

    def __init__(self, job: Job, rules: Declared) -> None:
        super().__init__(job)
        self.rules = rules
        self.standing = Standing()
        self._rests_at = 0.0  # s since arrival
        self._found = self._house()

    def done(self, act: object) -> tuple[Done, ...]:
        """Do one act, after a wait if something is still on its way; raises JobError for what the job does not admit."""
        act = checked(act)
        kind = admitted_in(self.rules, self.standing, act)
        if kind in (*FREE, "line reading"):
            return super().done(act)
        for one in (acts := self.rules.acts_of(act)):
            acted(self.world, one)  # raises before any wait is entered
        done = self._settled()
        before, found = self.world, self._house()
        for one in acts:
            done += super().done(one)
        now = self._house()
        self.standing = self.standing.after(act, kind).in_house(act, changed=now != found, as_found=now == self._found)
        rests = same_house(before, self.world) or _rests(self.world)
        self._rests_at = self.world.state.time + (0.0 if rests else SETTLE_S)
        return done

    def _house(self) -> Installation:
        return without_jumpers(self.world)

    def _settled(self) -> tuple[Done, ...]:
        left = round(self._rests_at - self.world.state.time, 3)
        return super().done({"do": "wait", "seconds": max(1.0, left)}) if left > 0 else ()


class GradedBench(Bench):
    """A bench for graded work with the circuit solved at every act."""

    def __init__(self, job: Job, learner: str = "") -> None:
        super().__init__(job, learner, GradedHouse(job, declared(job)))


def _rests(world: World) -> bool:
    after, events = waited(world.installation, world.state, SETTLE_S)
    return at_rest_after(world.state.values, after.values, events)
