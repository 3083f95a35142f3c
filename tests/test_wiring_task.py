"""One learner's wire-up as a file, and the sheet that comes back."""

import json

import pytest
from wirings import RIGHT, wired_for

from solvers.classroom.demo_learners import wires_badly, wires_well
from solvers.jobs.wireups import IDS
from solvers.jobs.wiring_kept import Kept
from solvers.jobs.wiring_marks import marked
from solvers.jobs.wiring_task import BadWireUp, WireUpSheet, WiringTask, opened, sheet_parsed, sheet_written, task_named, written

TASKS = (*IDS, *(f"drawn:{zones}" for zones in range(1, 7)))


def task(name="W1", draw="0123456789abcdef01234567"):
    """A task as it is handed out."""
    return WiringTask("anna", "04-w/anna", "end-switches", name, draw)


@pytest.mark.parametrize("name", TASKS)
def test_a_task_is_read_as_it_was_written(name):
    """Every wire-up survives the way through a file, and the table built from the file has the same parts."""
    there = opened(written(task(name)))
    assert task(name) == there
    assert task(name).made == there.made


def test_two_draws_make_two_bags_of_parts():
    """What is drawn for one learner is not what is drawn for another; what has an id is the same for all."""
    assert task("drawn:3", "a").made.parts != task("drawn:3", "b").made.parts
    assert task("W7", "a").made == task("W7", "b").made


@pytest.mark.parametrize("name", ["", "W0", "W17", "drawn", "drawn:", "drawn:0", "drawn:7", "drawn:x", "drawn:1:2", None, 7])
def test_a_task_that_there_is_not_names_those_there_are(name):
    """The message lists the ids and how many zones can be drawn."""
    with pytest.raises(BadWireUp, match=r"W1, .*W16 and drawn:1 to drawn:6"):
        task_named(name)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"format": "x"}, "format is 'x'"),
        ({"task": "W99"}, "no wire-up 'W99'"),
        ({"title": "another"}, "title is 'another'; the wire-up W1 has"),
        ({"draw": 3}, "draw must be text"),
        ({"solution": []}, "unknown \\['solution'\\]"),
    ],
)
def test_a_task_that_is_not_as_it_must_be_is_refused_with_the_place(change, words):
    """The message names the field that is wrong."""
    with pytest.raises(BadWireUp, match=words):
        opened(json.dumps(json.loads(written(task())) | change))


@pytest.mark.parametrize("prediction", [None, 27.5, (), ("zone1", "zone2")])
def test_a_sheet_is_read_as_it_was_written(prediction):
    """Wiring, answers, fuses and what was foretold survive the way through a file."""
    one = task("drawn:3")
    kept = Kept(one.draw, 2, True, {one.made.questions[0].id: {"lead a": "HA"}})
    sheet = WireUpSheet("anna", one.seed, wired_for(one.made), kept, prediction, 61.5, "Round and back.")
    assert sheet == sheet_parsed(sheet_written(sheet), one.made)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"format": "call-for-heat wiring 1"}, "this program reads"),
        ({"points": 1}, "unknown \\['points'\\]"),
        ({"wiring": None}, "wiring"),
        ({"wiring": {"format": "call-for-heat wiring 1", "splices": [], "wires": [{}]}}, "wires\\[0\\] takes"),
        ({"kept": {"seed": "", "spent": -1, "stands": True, "answers": {}}}, "kept.spent is -1"),
        ({"kept": {"seed": "", "spent": 0, "stands": True, "answers": {"odd": 1}}}, "'odd', which is no question"),
        ({"prediction": "zone1"}, "prediction must be a number"),
        ({"prediction": [1]}, "prediction\\[0\\] must be text"),
        ({"thinking_s": float("1e300")}, "thinking_s must be a number"),
    ],
)
def test_a_sheet_that_is_not_as_it_must_be_is_refused_with_the_place(change, words):
    """The message names the field that is wrong, in the wiring and the answers too."""
    sheet = sheet_written(wires_well(task()))
    with pytest.raises(BadWireUp, match=words):
        sheet_parsed(json.dumps(json.loads(sheet) | change), task().made)


def test_the_demonstration_s_learners_wire_as_they_are_said_to():
    """Who wires well has all 100 points of the wire-up, and who wires badly loses some everywhere but in behaviour."""
    one = task()
    points = {}
    for learner in (wires_well, wires_badly):
        sheet = sheet_parsed(sheet_written(learner(one)), one.made)
        lines = marked(one.made, sheet.wiring, sheet.answers, seed=one.draw, fuses_lost=sheet.kept.spent).lines
        points[learner] = {line.criterion: line.points for line in lines}
    assert 100 == sum(points[wires_well].values())
    assert all(
        points[wires_badly][name] < points[wires_well][name] for name in ("safety", "before power", "labels", "prediction")
    )


@pytest.mark.parametrize("name", IDS)
def test_a_right_wiring_of_the_tests_goes_through_a_sheet(name):
    """The sheet holds whatever wiring a task can be given."""
    for wiring in RIGHT[name].values():
        sheet = WireUpSheet("anna", task(name).seed, wiring)
        assert wiring == sheet_parsed(sheet_written(sheet), task(name).made).wiring
