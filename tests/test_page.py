"""What the page answers, where a screen's own test cannot tell it apart from right."""

import json
from itertools import count

import pytest
from browser.benches import job_with

from solvers.chapters.drawing import candidate
from solvers.chapters.shelf import CHAPTERS, drawn
from solvers.jobs.bench import Bench
from solvers.plant.parts import SpringReturnValve, WaxActuator
from solvers.screens import page
from solvers.screens.page import Desk


def _asked(desk, **request):
    return json.loads(desk.handle(json.dumps(request)))


def _opened(desk, job):
    return _asked(desk, ask="open", chapter=job.chapter, seed=job.seed, level=job.level)


def _act(desk, number, **act):
    return _asked(desk, ask="act", number=number, act=act)


def _inside_on_call(row):
    """The valve that is complained of, cut open, before and after its zone has called for a moment."""
    job, desk = job_with(row, 1), Desk()
    number = _opened(desk, job)["number"]
    cold = _shown(_asked(desk, ask="inside", number=number), job.zone)
    _act(desk, number, do="call", stat=f"{job.zone}.stat", on=True)
    _act(desk, number, do="wait", seconds=5)
    return cold, _shown(_asked(desk, ask="inside", number=number), job.zone)


def _shown(answer, zone):
    return next((valve["svg"], valve["words"]) for valve in answer["valves"] if valve["part"] == f"{zone}.valve")


def _house_with(kind):
    """A job, not shown to be solvable, with a valve of that kind; and the valve's name."""
    plan = CHAPTERS["service-calls"].PLAN
    jobs = (candidate(plan, f"kind/{number}", 1, 0) for number in count())
    return next((job, part.name) for job in jobs if job for part in job.design.parts if isinstance(part, kind))


def test_an_open_heater_is_not_drawn_hot():
    """Volts without amperes heat nothing, ghosts or the whole source: an open heater is off, a healthy one on when called."""
    before, after = _inside_on_call("HL-01")
    assert before == after
    assert "heater off" in after[1].lower()
    before, after = _inside_on_call("HL-23")
    assert "heater off" in before[1].lower()
    assert "heater on" in after[1].lower()


@pytest.mark.parametrize("kind", [WaxActuator, SpringReturnValve])
def test_every_kind_with_a_section_is_cut_open(kind):
    """Low-draw wax and motors with a spring return are cut open as heat motors are, at rest and on a call."""
    job, name = _house_with(kind)
    desk = Desk()
    number = desk.admitted(Bench(job))
    zone = name.partition(".")[0]
    cold = _shown(_asked(desk, ask="inside", number=number), zone)
    _act(desk, number, do="opener", valve=name, engaged=True)
    assert cold != _shown(_asked(desk, ask="inside", number=number), zone)


def test_wires_instead_of_the_ladder():
    """A job that gives the wires as found gives them in every answer, with their words, and the ladder in none."""
    job, desk = job_with("HL-01", 2), Desk()
    opened = _opened(desk, job)
    assert "wires" == opened["job"]["drawing"]
    assert 'data-about="zone1 stat cable"' in opened["drawing"]
    assert "Supply:" not in opened["drawing_words"]
    called = _act(desk, opened["number"], do="call", stat=f"{job.zone}.stat", on=True)
    assert 'data-about="zone1 stat cable"' in called["drawing"]
    assert "rung" not in json.dumps([opened, called])
    ladder = _opened(desk, job_with("HL-01", 1))
    assert "ladder" == ladder["job"]["drawing"]
    assert "Supply:" in ladder["drawing_words"]


def test_a_drawing_shows_what_hands_have_done():
    """A lifted lead and an opener that the learner sets are drawn; what changes nothing outside sends no drawing."""
    job, desk = job_with("HL-01", 2), Desk()
    number = _opened(desk, job)["number"]
    lead = f'data-point="{job.zone}.stat.W lead"'
    assert lead in _act(desk, number, do="lift", terminal=f"{job.zone}.stat.W")["drawing"]
    assert lead not in _act(desk, number, do="land", terminal=f"{job.zone}.stat.W")["drawing"]
    assert "drawing" not in _act(desk, number, do="look", part=f"{job.zone}.valve")
    assert "opener set" in _act(desk, number, do="opener", valve=f"{job.zone}.valve", engaged=True)["drawing"]


def test_an_opener_as_found_takes_a_look():
    """An opener that somebody has left engaged is on no drawing before the learner has a hand on it."""
    job, desk = job_with("HL-08", 2), Desk()
    opened = _opened(desk, job)
    assert desk.bench({"number": opened["number"]}).world.state.of(f"{job.zone}.valve").engaged
    assert "opener set" not in opened["drawing"]


def test_practice_takes_a_proven_seed(monkeypatch):
    """Where there are proven seeds practice opens one of them that is not open yet, and any text where there are none."""
    seeds = ["browser/43", "browser/57"]
    monkeypatch.setattr(page, "practice", lambda chapter, level: tuple(seeds))
    desk = Desk()
    taken = [_asked(desk, ask="practice", chapter="heater-loops", level=1)["job"]["seed"] for _ in seeds]
    assert seeds == sorted(taken)
    monkeypatch.setattr(page, "practice", lambda chapter, level: ())
    free = _asked(desk, ask="practice", chapter="heater-loops", level=1)["job"]["seed"]
    assert free.startswith("practice-")
    assert free == drawn("heater-loops", free).seed


def test_practice_refuses_what_is_not_there():
    """An unknown chapter or level of practice is refused in a sentence with the choices."""
    desk = Desk()
    assert "thermostat-switching" in _asked(desk, ask="practice", chapter="roofs", level=1)["error"]
    assert "[1, 2, 3]" in _asked(desk, ask="practice", chapter="heater-loops", level=9)["error"]
    assert "lacks 'chapter'" in _asked(desk, ask="practice")["error"]


def test_levels_are_told():
    """Every chapter's levels are told in words: the drawing that is given, and how much can be wrong."""
    told = _asked(Desk(), ask="chapters")
    assert {name: list(module.LEVELS) for name, module in CHAPTERS.items()} == told["chapters"]
    assert "the ladder drawing; one fault" == told["words"]["heater-loops"]["1"]
    assert "the wires as found; nothing wrong or one fault or two faults; some come and go" == told["words"]["heater-loops"]["3"]


def test_what_breaks_is_said_in_a_sentence(monkeypatch):
    """An error that nobody foresaw comes back as a sentence, and the desk goes on answering."""

    def broken(*_):
        raise ZeroDivisionError("division by zero")

    monkeypatch.setattr(page, "drawn", broken)
    desk = Desk()
    answer = _asked(desk, ask="open", chapter="heater-loops", seed="x", level=1)
    assert "something unexpected happened, and nothing was changed (ZeroDivisionError: division by zero)" == answer["error"]
    assert "chapters" in _asked(desk, ask="chapters")


def test_marks_tell_the_gate_and_the_risk():
    """A fuse above its rating closes the gate: the marks carry its sentence, the cap, the callback's risk and the feedback."""
    job, desk = job_with("HL-01", 1), Desk()
    number = _opened(desk, job)["number"]
    _act(desk, number, do="fit size", part="fuse", size=10)
    _act(desk, number, do="verdict", suspects=list(job.answers), proof=[0], explanation="so", customer="well")
    marks = _asked(desk, ask="marks", number=number)
    assert ["Line 1: a fuse or breaker above the designed rating."] == marks["gates"]
    assert marks["points"] <= marks["cap"] == 40
    assert "high" == marks["callback"]["grade"]
    assert marks["feedback"]
