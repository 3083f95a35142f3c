"""Lab files of the three kinds, for one invented learner, and the job behind the sealed one."""

from dataclasses import replace
from functools import lru_cache

from solvers.chapters.drawing import candidate
from solvers.chapters.heater_loops import PLAN
from solvers.chapters.quiz import asked
from solvers.classroom.demo_learners import careful
from solvers.jobs.question_set import QuestionSet, asked_of
from solvers.jobs.question_set import written as set_written
from solvers.jobs.sealed import SealedBench, opened
from solvers.jobs.sealing import sealed
from solvers.jobs.sheet import written as sheet_written
from solvers.jobs.wiring_task import WiringTask
from solvers.jobs.wiring_task import written as task_written

__all__ = ["JOB", "LEARNER", "QUESTIONS", "SET", "TABLE", "careful_acts", "files", "job", "sealed_text"]

LEARNER = "anna"
JOB, TABLE, SET = "03-heater-loops", "02-one-stat", "03-heater-sums"

QUESTIONS = tuple(
    asked(chapter, kind, "lab/1", 1)
    for chapter, kind in (
        ("heater-loops", "predict the amperes"),
        ("heater-loops", "slow, never or normal"),
        ("heater-loops", "which heads to replace"),
        ("step-down-power", "order the safe-work steps"),
    )
)
"""One of each form."""


@lru_cache
def job(name=f"{JOB}/{LEARNER}"):
    """A job with a stem that sticks, under a public name."""
    return replace(candidate(PLAN, "lab/1", 1, 0), seed=name)


@lru_cache
def sealed_text(name=f"{JOB}/{LEARNER}", learner=LEARNER):
    """That job sealed for a learner."""
    return sealed(job(name), name=name, learner=learner).decode("utf-8")


class _Noting(SealedBench):
    """A bench that notes what was asked of it, which its log does not tell."""

    def __init__(self, *given):
        super().__init__(*given)
        self.acts = []

    def step(self, act):
        view = super().step(act)
        self.acts.append(dict(act))
        return view


@lru_cache
def careful_acts():
    """What a careful learner does at that job, one act after the other, the verdict last; and the sheet that comes of it."""
    bench = _Noting(opened(sealed_text()))
    careful(bench, job())
    return tuple(bench.acts), sheet_written(bench.sheet(300.0))


def files():
    """The text of a lab file by kind."""
    asked_for = QuestionSet(LEARNER, f"{SET}/{LEARNER}", "heater-loops", 1, "Heaters by numbers", tuple(map(asked_of, QUESTIONS)))
    table = WiringTask(LEARNER, f"{TABLE}/{LEARNER}", "thermostat-switching", "W2", "0123456789abcdef01234567")
    return {"job": sealed_text(), "wire-up": task_written(table), "questions": set_written(asked_for)}
