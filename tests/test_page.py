"""What the page answers, where a screen's own test cannot tell it apart from right."""

import json

from solvers.chapters.shelf import drawn
from solvers.screens.page import Desk


def _asked(desk, **request):
    return json.loads(desk.handle(json.dumps(request)))


def _inside_on_call(row):
    """The valve that is complained of, cut open, before and after its zone has called for a moment."""
    seed = next(f"inside/{n}" for n in range(300) if drawn("heater-loops", f"inside/{n}").fault.row == row)
    zone, desk = drawn("heater-loops", seed).zone, Desk()
    number = _asked(desk, ask="open", chapter="heater-loops", seed=seed)["number"]
    cold = _shown(_asked(desk, ask="inside", number=number), zone)
    for act in ({"do": "call", "stat": f"{zone}.stat", "on": True}, {"do": "wait", "seconds": 5}):
        _asked(desk, ask="act", number=number, act=act)
    return cold, _shown(_asked(desk, ask="inside", number=number), zone)


def _shown(answer, zone):
    return next((valve["svg"], valve["words"]) for valve in answer["valves"] if valve["part"] == f"{zone}.valve")


def test_an_open_heater_is_not_drawn_hot():
    """Volts without amperes heat nothing, ghosts or the whole source: an open heater is off, a healthy one on when called."""
    before, after = _inside_on_call("HL-01")
    assert before == after
    assert "Heater off" in after[1]
    before, after = _inside_on_call("HL-23")
    assert "Heater off" in before[1]
    assert "Heater on" in after[1]
