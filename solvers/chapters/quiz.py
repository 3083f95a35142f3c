"""The questions beside fault-finding, of every chapter: what kinds there are, and one drawn from a seed."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from ..jobs.job import JobError
from ..jobs.questions import Question
from . import (
    end_switch_questions,
    end_switches,
    heater_loops,
    heater_questions,
    service_calls,
    service_questions,
    step_down_power,
    step_down_questions,
    thermostat_questions,
    thermostat_switching,
)

__all__ = ["KINDS", "asked", "kinds"]

KINDS: Mapping[str, Mapping[str, Callable[[str, int], Question]]] = {
    step_down_power.CHAPTER: step_down_questions.QUESTIONS,
    thermostat_switching.CHAPTER: thermostat_questions.QUESTIONS,
    heater_loops.CHAPTER: heater_questions.QUESTIONS,
    end_switches.CHAPTER: end_switch_questions.QUESTIONS,
    service_calls.CHAPTER: service_questions.QUESTIONS,
}
"""By chapter and kind: what draws a question from a seed and a level."""


def kinds(chapter: str) -> tuple[str, ...]:
    """The kinds of question of a chapter; raises JobError with the chapters there are."""
    if not isinstance(chapter, str) or chapter not in KINDS:
        raise JobError(f"no chapter {chapter!r}; there are {list(KINDS)}")
    return tuple(KINDS[chapter])


def asked(chapter: str, kind: str, seed: str, level: int = 1) -> Question:
    """The question of a chapter, kind, seed and level: always the same one. Raises JobError with the choices."""
    if not isinstance(kind, str) or kind not in kinds(chapter):
        raise JobError(f"no kind {kind!r} in {chapter}; there are {list(kinds(chapter))}")
    return KINDS[chapter][kind](seed, level)
