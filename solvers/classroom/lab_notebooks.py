"""The notebook of a lab: the same for everybody, with no answer and no number of anybody's in it."""

from __future__ import annotations

import json
from collections.abc import Mapping

from .labs import EXPLANATION, LabPlan, criteria_of

__all__ = ["BLANK", "lab_notebook"]

BLANK = "Write here."
"""What the explanation cell holds before anybody writes in it; nbgrader puts it there."""

_STORIES: Mapping[str, str] = {
    "step-down-power": (
        "A house has gone quiet. Somewhere between the feed and the first thermostat the 24 volts are lost, or they are too "
        "few, or too many. You have a meter, the drawing, and a customer who would like to be warm."
    ),
    "thermostat-switching": (
        "A customer turns a thermostat up and the heating does not do as it is told; or it does what nobody told it. A "
        "thermostat is only a switch, and the wires to it are long. You have a meter and the drawing."
    ),
    "heater-loops": (
        "A customer is cold, or too warm, or pays for a boiler that never rests. One zone of that house is your job: the loop "
        "from the transformer through the thermostat and the heater of the valve, and back."
    ),
    "end-switches": (
        "The valves open, or seem to, and the boiler does not care; or it runs when nobody asks. Between the valves and the "
        "boiler's T-T lie small switches, a few wires, and perhaps a relay. You have a meter and the drawing."
    ),
    "service-calls": (
        "The telephone rings, and this time nobody tells you which chapter it is. It may be the supply, a thermostat, a valve, "
        "an end switch or two zones that disturb each other. You have a meter, the drawing, and what the customer noticed."
    ),
}

_TASKS: Mapping[str, str] = {
    "step-down-power": "the transformer, its fuse, its volts at rest and under load, and how to work at it safely",
    "thermostat-switching": "thermostats, their wires, jumpers, and what volts across a switch can and cannot say",
    "heater-loops": "heaters of valves: amperes, ohms in place and lifted, splices, and the time that a valve needs",
    "end-switches": "end switches and T-T: whose volts they are, how the switches are joined, relays and the boiler's side",
    "service-calls": "whole houses: loads that add up, shared returns, which zone is meant, and how a job is closed",
}

_WORK: Mapping[str, str] = {
    "job": """\
Nobody else in the class has the same house, so a neighbour's answer fits no reading of yours. Work it as you would on site:

1. Hear the complaint. Look, listen and feel before you measure.
2. Take the reading that splits the suspects. Say to yourself what it will show if you are right, then take it.
3. Give a valve its time. A heat motor needs a minute or more before it clicks, so wait by the clock before you condemn it.
4. Give your verdict, and tick the two log lines that prove it.
5. Leave the house as you found it: leads landed, covers on, openers in auto, thermostats down, supplies on.""",
    "wire-up": """\
The parts lie on the table and nothing is joined. Where the leads of a valve are asked for, it lies beside the table once more
with leads that nobody has marked, and which is which differs from learner to learner. Work in this order:

1. Read what the finished wiring has to do. Draw it on paper first if that helps you.
2. Power off: find the leads with the ohmmeter, and answer what is asked before power.
3. Join the parts. Write a label on every wire, and put connectors that you do not need back into the bag.
4. Try it: each thermostat alone, then together. A blown fuse costs points, so look for shorts before you switch on.
5. Say what will fail when one conductor opens. Think it through on your own drawing.""",
    "questions": """\
The numbers in your questions are your own: they are worked out on a circuit that was drawn for you. Take paper and a
calculator, draw the loop, and write down what you know before you answer. An answer may be changed until you hand in. Nothing
here tells you whether it is right; a question left empty earns nothing, so answer them all.""",
}

_FULL: Mapping[str, Mapping[str, tuple[str, str]]] = {
    "job": {
        "safety": ("Safety", "ohms and beeper on dead pairs only; no second fuse into a short"),
        "method": ("Method", "readings that each leave fewer suspects standing"),
        "economy": ("Economy", "no more readings than par for your job"),
        "verdict": ("Verdict", "the right cause, and two readings of yours that prove it"),
        "good_parts": ("Good parts kept", "no good part replaced"),
        "restored": ("Restored", "the house left as you found it"),
        EXPLANATION: ("Explanation", "cause, evidence, why the symptom followed; one sentence for the customer"),
    },
    "wire-up": {
        "behaviour": ("Behaviour", "it does what was asked in every combination of calls"),
        "safety": ("Safety", "no short in any position, supplies kept apart, the fuse before all else, none blown"),
        "before_power": ("Before power", "the leads found, and what else is asked, answered before the first trial"),
        "labels": ("Labels", "a label on every wire, every connector used or put back"),
        "prediction": ("Prediction", "what fails, or what a meter shows, when one conductor opens"),
        EXPLANATION: ("Explanation", "how the current goes round on a call, and why nothing finds a way round"),
    },
    "questions": {
        "answers": ("Answers", "every answer right; a part of the points for a part of a list or an order"),
        EXPLANATION: ("Explanation", "one answer of yours, step by step, so that a colleague could do the next one alone"),
    },
}

_AFTER: Mapping[str, str] = {
    "job": (
        "A right guess earns nothing: without a reading that rules out the nearest look-alike the verdict has no points. What is "
        "marked is the sheet from your bench."
    ),
    "wire-up": (
        "What is judged is what your wiring does, not how you drew it: any wiring that behaves has full points. What is marked "
        "is the sheet from your table."
    ),
    "questions": "A number counts within what the question says. What is marked is your sheet of answers.",
}

_EXPLAIN: Mapping[str, str] = {
    "job": (
        "Write to a colleague who was not there: what the cause is, which reading proves it, and why the customer noticed what "
        "they noticed. Add one sentence that the customer would understand. If you wrote all this at the bench, leave the next "
        "cell alone; what you wrote there counts the same."
    ),
    "wire-up": (
        "Follow one call with your finger and write down the way of the current: from the transformer through fuse, thermostat "
        "and heater and back, then from T through the switch to T. Say why no other zone feels it. If you wrote this at the "
        "table, leave the next cell alone."
    ),
    "questions": (
        "Choose the question that cost you most. Write down the way to its answer, one step a line, and what mistake one could "
        "easily make in it. If you wrote this on the sheet, leave the next cell alone."
    ),
}


def lab_notebook(plan: LabPlan) -> bytes:
    """The notebook of a lab as nbgrader takes it: story, bench, what is marked, a cell for each criterion, the explanation.

    The bench finds the learner's lab file itself. A cell that carries points only says whether a sheet is saved.
    """
    criteria = criteria_of(plan.kind)
    cells = [_told("intro", _intro(plan)), _code("bench", _bench(plan)), _told("marking", _marking(plan))]
    for criterion in criteria:
        if criterion.grade_id != EXPLANATION:
            cells.append(_code(criterion.grade_id, _mark(plan, criterion.grade_id, criterion.out_of), points=criterion.out_of))
    explained = next(criterion for criterion in criteria if criterion.grade_id == EXPLANATION)
    cells.append(_told("explain", f"## Your explanation, {explained.out_of:g} points\n\n{_EXPLAIN[plan.kind]}"))
    cells.append(_written(EXPLANATION, explained.out_of))
    body = {
        "cells": cells,
        "metadata": {
            "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
            "language_info": {"name": "python"},
        },
        "nbformat": 4,
        "nbformat_minor": 5,
    }
    return (json.dumps(body, indent=1, ensure_ascii=False) + "\n").encode("utf-8")


def _intro(plan: LabPlan) -> str:
    if plan.kind == "job":
        story = _STORIES[plan.chapter]
    elif plan.kind == "wire-up":
        story = (
            "A new installation, and it is yours from the first wire. You get the parts, a bag of cable, and what it has to do."
        )
    else:
        many = "one question" if plan.count == 1 else f"{plan.count} questions"
        story = f"You get {many} about {_TASKS[plan.chapter]}."
    return f"# Lab: {plan.title}\n\n{story}\n\n{_WORK[plan.kind]}\n\n{_saving(plan)}"


def _saving(plan: LabPlan) -> str:
    where = {"job": "the bench", "wire-up": "the table", "questions": "the set"}[plan.kind]
    return (
        f"When you open {where} it asks for your id, the one your instructor has for you, and takes your own lab file from the "
        f"folder `labs`. It saves your sheet beside this notebook, as `{plan.assignment}.sheet.json`, as you work. Without a "
        "notebook you can do the same on the book's lab page."
    )


def _bench(plan: LabPlan) -> str:
    return f'from solvers.screens.notebook import LabWidget\n\nLabWidget("{plan.assignment}")'


def _marking(plan: LabPlan) -> str:
    full = _FULL[plan.kind]
    rows = [f"| {one.name} | {one.out_of:g} | {full[one.grade_id][1]} |" for one in criteria_of(plan.kind)]
    table = "\n".join(["| what | points | full points for |", "|---|---|---|", *rows])
    cells = "The cells below only tell you whether it is saved; your instructor gives you the points and the reasons."
    return f"## What is marked\n\n{table}\n\n{_AFTER[plan.kind]} {cells}\n\n{_caution(plan)}"


def _caution(plan: LabPlan) -> str:
    what = {"job": "This job ends", "wire-up": "This task ends", "questions": "What is asked here ends"}[plan.kind]
    return (
        f"*Caution.* {what} at the 24-volt side. On site, line voltage, gas, oil and hot pressurised water belong to those who "
        "are licensed for them: stop, make safe, refer. Local codes and the maker's instructions in hand come before anything "
        "you read here."
    )


def _mark(plan: LabPlan, grade_id: str, points: float) -> str:
    name, words = _FULL[plan.kind][grade_id]
    return f'# {name}, {points:g} points: {words}.\nfrom solvers.classroom import handed_in\n\nhanded_in("{plan.assignment}")'


def _told(grade_id: str, words: str) -> dict[str, object]:
    return {"cell_type": "markdown", "id": _cell_id(grade_id), "metadata": _metadata(grade_id), "source": _lines(words)}


def _code(grade_id: str, words: str, points: float | None = None) -> dict[str, object]:
    return {
        "cell_type": "code",
        "execution_count": None,
        "id": _cell_id(grade_id),
        "metadata": _metadata(grade_id, points),
        "outputs": [],
        "source": _lines(words),
    }


def _written(grade_id: str, points: float) -> dict[str, object]:
    return {
        "cell_type": "markdown",
        "id": _cell_id(grade_id),
        "metadata": _metadata(grade_id, points, solution=True),
        "source": [BLANK],
    }


def _metadata(grade_id: str, points: float | None = None, *, solution: bool = False) -> dict[str, object]:
    """What nbgrader keeps of a cell; a cell without a solution in it is locked."""
    mark = {"grade": points is not None, "grade_id": grade_id, "locked": not solution}
    mark |= {} if points is None else {"points": points}
    return {"nbgrader": mark | {"schema_version": 3, "solution": solution, "task": False}}


def _cell_id(grade_id: str) -> str:
    return grade_id.replace("_", "-")


def _lines(words: str) -> list[str]:
    return words.splitlines(keepends=True)
