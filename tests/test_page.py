"""What the page answers, where a screen's own test cannot tell it apart from right."""

import json

from solvers.chapters.shelf import drawn
from solvers.screens.page import Desk


def _asked(desk, **request):
    return json.loads(desk.handle(json.dumps(request)))


def _inside_on_call(row):
    """The words of the valve that is complained of, cut open, once its zone has called for a while."""
    seed = next(f"inside/{n}" for n in range(300) if drawn("heater-loops", f"inside/{n}").fault.row == row)
    zone, desk = drawn("heater-loops", seed).zone, Desk()
    number = _asked(desk, ask="open", chapter="heater-loops", seed=seed)["number"]
    cold = _words(_asked(desk, ask="inside", number=number), zone)
    for act in ({"do": "call", "stat": f"{zone}.stat", "on": True}, {"do": "wait", "seconds": 5}):
        _asked(desk, ask="act", number=number, act=act)
    return cold, _words(_asked(desk, ask="inside", number=number), zone)


def _words(answer, zone):
    return next(valve["words"] for valve in answer["valves"] if valve["part"] == f"{zone}.valve")


def test_an_open_heater_is_not_drawn_hot():
    """Volts without amperes heat nothing: an open heater looks the same on call as before; a healthy one does not."""
    before, after = _inside_on_call("HL-01")
    assert before == after
    before, after = _inside_on_call("HL-23")
    assert before != after
