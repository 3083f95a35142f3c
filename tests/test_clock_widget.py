"""The valve against the clock in a notebook: moved as the kernel moves it, it shows what the package computes."""

import pytest

from solvers.chapters.section_clock import moment, story
from solvers.jobs.job import JobError
from solvers.screens.clock_widget import ClockWidget

HEAT_MOTOR = {"kind": "heat motor", "volts": 24.0, "air": 20}


def stands(widget, values, turns, at):
    """Whether the widget shows what the package says of that moment."""
    expected = moment(story(values, turns), at)
    return widget.told["readings"] == [{"label": each.label, "text": each.text} for each in expected.readings]


def test_a_call_runs_as_the_package_says():
    """Put on at 10 s and looked at later, the valve stands where the package has it."""
    widget = ClockWidget()
    widget.at.value = 10
    widget.call.value = True
    widget.at.value = 130
    assert stands(widget, HEAT_MOTOR, [[10, True]], 130)
    assert [each["words"] for each in widget.told["events"]] == ["call put on", "begins to open", "end switch makes"]


def test_setting_the_clock_back_undoes_what_came_after():
    """A call that was put on later has not been put on yet, and the button says so."""
    widget = ClockWidget()
    widget.at.value = 50
    widget.call.value = True
    widget.at.value = 20
    assert widget.call.value is False
    widget.at.value = 200
    assert stands(widget, HEAT_MOTOR, [], 200)


def test_another_valve_begins_anew():
    """Cold, shut, no call, at time zero."""
    widget = ClockWidget()
    widget.call.value = True
    widget.at.value = 200
    widget.controls["kind"].value = "motor with spring return"
    assert (widget.at.value, widget.call.value, widget.told["events"]) == (0, False, [])
    assert stands(widget, {**HEAT_MOTOR, "kind": "motor with spring return"}, [], 0)
    widget.controls["volts"].value = 20.5
    widget.call.value = True
    widget.at.value = 60
    assert stands(widget, {"kind": "motor with spring return", "volts": 20.5, "air": 20}, [[0, True]], 60)


def test_a_valve_that_there_is_not_is_refused():
    """By its name, with those there are."""
    with pytest.raises(JobError, match="heat motor"):
        ClockWidget("magnet")
