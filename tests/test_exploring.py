"""What a page may ask of its live parts: the valve against the clock, questions without their answers, kept texts."""

import json
import math

import pytest

from solvers.chapters.explorers import EXPLORERS
from solvers.chapters.quiz import KINDS, asked
from solvers.chapters.section_clock import KINDS as VALVES
from solvers.chapters.section_clock import happened, moment, story
from solvers.jobs import mastery, returning
from solvers.jobs.job import JobError
from solvers.screens.exploring import ASKS, valve_section
from solvers.screens.page import Desk

NOW = 1.7e9
HEAT_MOTOR = {"kind": "heat motor", "volts": 24.0, "air": 20}


def ask(**request):
    return json.loads(Desk().handle(json.dumps(request)))


# The valve against the clock


JOINTS = 0.25  # K; what the joints in the loop, about 0.02 ohm, take off the wax at its hottest


def wax(at, turns, air=20.0, watts=24.0**2 / 30):
    """The wax by the law, stretch for stretch."""
    now, target, degC = 0.0, air, air
    for time, on in [*turns, (at, None)]:
        time = min(time, at)
        degC = target + (degC - target) * math.exp(-(time - now) / 110)
        now, target = time, air + 6 * watts if on else air
    return degC


@pytest.mark.parametrize("at", [0.0, 5.0, 60.0, 108.0, 299.9, 300.0, 363.0, 420.0, 1000.0, 14_000.0])
def test_the_wax_follows_its_law_through_calls(at):
    """A call put on, taken off and put on again: the temperature is that of one exponential after the other."""
    turns = [[5.0, True], [300.0, False], [400.0, True], [2000.0, False]]
    found = moment(story(HEAT_MOTOR, turns), at)
    assert found.wax_degC == pytest.approx(wax(at, turns), abs=JOINTS)
    assert found.calling == (5 <= at < 300 or 400 <= at < 2000)
    assert found.heating == found.calling


def test_the_switch_makes_and_opens_at_its_temperatures():
    """It makes at 90 °C and opens at 80 °C on the way down, and the moments told are those."""
    told = story(HEAT_MOTOR, [[0, True], [300, False]])
    times = {words: time for time, words in happened(told, 900)}
    assert wax(times["end switch makes"], told.turns) == pytest.approx(90, abs=JOINTS)
    assert wax(times["end switch opens"], told.turns) == pytest.approx(80, abs=JOINTS)
    for words, made in (("end switch makes", True), ("end switch opens", False)):
        before, after = (moment(told, times[words] + shift) for shift in (-0.01, 0.01))
        assert before.valve.switch_made(before.state.of("zone1.valve")) != made
        assert after.valve.switch_made(after.state.of("zone1.valve")) == made


@pytest.mark.parametrize("kind", VALVES)
def test_asking_often_or_once_gives_the_same_moment(kind):
    """Whatever moments were asked for before, the valve stands the same: there is no step."""
    told = story({**HEAT_MOTOR, "kind": kind}, [[0, True], [200, False]])
    for at in range(0, 400, 7):
        moment(told, at)
    other = story({**HEAT_MOTOR, "kind": kind, "volts": 24.5}, [])
    moment(other, 10)
    fresh = moment(story({**HEAT_MOTOR, "kind": kind}, [[0, True], [200, False]]), 393.5)
    assert fresh.readings == moment(told, 393.5).readings
    assert moment(told, 100).state.of("zone1.valve").stroke > 0.3


@pytest.mark.parametrize(
    ("values", "turns", "at"),
    [
        (None, [], 0),
        ({**HEAT_MOTOR, "kind": "magnet"}, [], 0),
        ({**HEAT_MOTOR, "volts": 24.1}, [], 0),
        ({**HEAT_MOTOR, "more": 1}, [], 0),
        (HEAT_MOTOR, None, 0),
        (HEAT_MOTOR, [[0, 1]], 0),
        (HEAT_MOTOR, [[0, True, 2]], 0),
        (HEAT_MOTOR, [[10, True], [5, False]], 20),
        (HEAT_MOTOR, [[math.nan, True]], 0),
        (HEAT_MOTOR, [[0, True]] * 61, 0),
        (HEAT_MOTOR, [], -1),
        (HEAT_MOTOR, [], 1e9),
        (HEAT_MOTOR, [], "now"),
        (HEAT_MOTOR, [], True),
    ],
)
def test_a_story_that_cannot_be_is_refused(values, turns, at):
    """Valve, calls and time are each proven before anything runs."""
    with pytest.raises(JobError):
        moment(story(values, turns), at)


def test_the_clock_answers_with_section_curve_and_what_is_new():
    """Drawings and readings of the moment; only what happened since the last one is told."""
    first = ask(ask="section clock")
    assert first["at"] == 0
    assert first["events"] == []
    assert first["values"]["kind"] == "heat motor"
    later = ask(ask="section clock", values=first["values"], turns=[[0, True]], at=200, since=-1)
    assert [each["words"] for each in later["events"]] == ["call put on", "begins to open", "end switch makes"]
    assert later["svg"].startswith("<svg")
    assert later["chart"].startswith("<svg")
    assert {"label": "end switch", "text": "made"} in later["readings"]
    newer = ask(ask="section clock", values=first["values"], turns=[[0, True]], at=201, since=later["events"][-1]["at"])
    assert newer["events"] == []


@pytest.mark.parametrize("kind", VALVES)
def test_a_page_may_name_the_valve(kind):
    """The clock begins with the valve that the page names; one that there is not is refused."""
    assert ask(ask="section clock", kind=kind)["values"]["kind"] == kind
    assert "heat motor" in ask(ask="section clock", kind="magnet")["error"]


def test_the_record_shows_the_stretch_since_the_last_change():
    """All strips of that stretch; of no time at all it says so."""
    found = ask(ask="section record", values=HEAT_MOTOR, turns=[[0, True]], at=120)
    assert found["svg"].startswith("<svg")
    assert "end switch" in found["words"]
    assert "clock run" in ask(ask="section record", values=HEAT_MOTOR, turns=[[0, True]], at=0)["error"]


def test_a_page_can_show_a_valve_before_anything_runs():
    """The section of the fallback is that of the moment it names."""
    assert "plug on its seat" in valve_section("heat motor", 0)
    assert "plug off its seat" in valve_section("heat motor", 300)


# Explorers


@pytest.mark.parametrize("name", EXPLORERS)
def test_an_explorer_answers_as_the_package_does(name):
    """The page gets the package's own readings and words, and a drawing."""
    first = ask(ask="explorer", name=name)
    package = EXPLORERS[name].shown(first["values"])
    assert [each["text"] for each in first["readings"]] == [each.text for each in package.readings]
    assert first["words"] == package.words
    assert first["svg"].startswith("<svg")
    again = ask(ask="explorer shows", name=name, values=first["values"])
    assert again["readings"] == first["readings"]


# Self-checks


def test_questions_go_out_without_their_answers():
    """Every form of every chapter: neither the expected answer nor the working nor a trap is in what the page gets."""
    for chapter in KINDS:
        found = ask(ask="check", chapter=chapter, count=20, returning=None, now=NOW, seed="quiet")
        assert len(found["questions"]) == min(20, len(KINDS[chapter]))
        for question in found["questions"]:
            assert set(question) == {"kind", "seed", "form", "words", "unit", "choices", "given", "returns"}
            whole = asked(chapter, question["kind"], question["seed"])
            assert whole.why not in json.dumps(question, ensure_ascii=False)


def test_a_new_seed_each_time():
    """Two draws of the same chapter share no seed."""
    first, second = (ask(ask="check", chapter="heater-loops", count=5, returning=None, now=NOW) for _ in range(2))
    assert not {each["seed"] for each in first["questions"]} & {each["seed"] for each in second["questions"]}


def answer(question, value, **more):
    request = {"chapter": "heater-loops", "kind": question.kind, "seed": question.seed, "level": 1, "answer": value, "now": NOW}
    return ask(ask="check answer", **{**request, "first": True, "returning": None, "mastery": None, **more})


def test_a_first_answer_is_kept_and_a_second_is_not():
    """Wrong at first: the kind returns and the objective is tried. Right afterwards: the working, and nothing more is kept."""
    question = asked("heater-loops", "predict the amperes", "one")
    wrong = answer(question, question.expected + 10 * question.tolerance)
    assert wrong["right"] is False
    assert wrong["returns"] == "in 10 minutes"
    kept = returning.parsed(wrong["returning"])
    assert returning.due(kept, NOW + 600) == ("heater-loops/predict the amperes",)
    assert mastery.state_of(mastery.parsed(wrong["mastery"]), question.objective) == "tried"
    kept = {"returning": wrong["returning"], "mastery": wrong["mastery"]}
    right = answer(question, question.expected, first=False, **kept)
    assert right["right"]
    assert question.why in right["words"]
    assert right["returning"] == wrong["returning"]
    assert right["mastery"] == wrong["mastery"]


def test_what_was_missed_comes_back_first_with_other_numbers():
    """Ten minutes later the missed kind leads the list, said to be back, on a seed of its own."""
    question = asked("heater-loops", "predict the amperes", "one")
    missed = answer(question, question.expected + 10 * question.tolerance)["returning"]
    later = ask(ask="check", chapter="heater-loops", count=3, returning=missed, now=NOW + 601)["questions"]
    assert later[0]["kind"] == question.kind
    assert later[0]["returns"] is True
    assert later[0]["seed"] != question.seed


def test_two_right_answers_a_day_apart_count():
    """Self-checks alone can make an objective count, a day apart and on two seeds."""
    first, second = (asked("heater-loops", "predict the amperes", seed) for seed in ("one", "two"))
    kept = answer(first, first.expected)["mastery"]
    soon = answer(second, second.expected, mastery=kept, now=NOW + 3600)["mastery"]
    assert mastery.state_of(mastery.parsed(soon), first.objective) == "shown twice"
    late = answer(second, second.expected, mastery=kept, now=NOW + 86_400)["mastery"]
    assert mastery.state_of(mastery.parsed(late), first.objective) == "counts"


@pytest.mark.parametrize("bad", ["", "{}", "not JSON", '{"format": "call-for-heat progress 9"}'])
def test_kept_text_that_cannot_be_read_is_put_aside_and_stops_nothing(bad):
    """The answer is judged all the same, and the page is told which texts to put aside."""
    question = asked("heater-loops", "predict the amperes", "one")
    found = answer(question, question.expected, returning=bad, mastery=bad)
    assert found["right"] is True
    assert found["set_aside"] == ["returning", "mastery"]


def test_progress_lists_every_objective_and_takes_in_a_file():
    """35 objectives with their states; a file is added to what is there; a bad one is refused and changes nothing."""
    empty = ask(ask="progress", mastery=None)
    assert len(empty["objectives"]) == 35
    assert empty["counting"] == 0
    noted = ask(ask="progress note", mastery=None, objectives=["3.1", "3.2"], seed="heater-loops/1/a", gate=False, now=NOW)
    other = ask(ask="progress note", mastery=None, objectives=["3.1"], seed="heater-loops/1/b", gate=False, now=NOW + 90_000)
    both = ask(ask="progress import", mastery=noted["mastery"], text=other["mastery"])
    states = {each["number"]: each["state"] for each in both["objectives"]}
    assert (states["3.1"], states["3.2"], both["counting"]) == ("counts", "shown once", 1)
    assert "damaged" in ask(ask="progress import", mastery=noted["mastery"], text="oops")["error"]


def test_a_gate_shows_nothing():
    """A job on which a safety gate was tripped leaves its objectives tried."""
    noted = ask(ask="progress note", mastery=None, objectives=["3.1"], seed="s", gate=True, now=NOW)
    listed = ask(ask="progress", mastery=noted["mastery"])["objectives"]
    assert {each["number"]: each["state"] for each in listed}["3.1"] == "tried"


@pytest.mark.parametrize(
    "request_",
    [
        {"ask": "explorer"},
        {"ask": "explorer", "name": "none"},
        {"ask": "explorer shows", "name": "sag", "values": {}},
        {"ask": "check", "chapter": "none", "now": NOW},
        {"ask": "check", "chapter": "heater-loops", "count": 0, "now": NOW},
        {"ask": "check", "chapter": "heater-loops", "count": True, "now": NOW},
        {"ask": "check", "chapter": "heater-loops", "kinds": ["none"], "now": NOW},
        {"ask": "check", "chapter": "heater-loops", "returning": 3, "now": NOW},
        {"ask": "check", "chapter": "heater-loops", "now": "soon"},
        {"ask": "check answer", "chapter": "heater-loops", "kind": "none", "seed": "s", "answer": 1, "now": NOW},
        {"ask": "check answer", "chapter": "heater-loops", "kind": "predict the amperes", "seed": "", "answer": 1, "now": NOW},
        {"ask": "check answer", "chapter": "heater-loops", "kind": "predict the amperes", "seed": "s", "answer": "x", "now": NOW},
        {"ask": "progress note", "mastery": None, "objectives": ["9.9"], "seed": "s", "now": NOW},
        {"ask": "progress note", "mastery": None, "objectives": "3.1", "seed": "s", "now": NOW},
        {"ask": "progress import", "mastery": None, "text": 5},
    ],
)
def test_what_cannot_be_asked_is_answered_with_a_sentence(request_):
    """No request of a screen ends in an exception; each refusal is an error in words, and not the one for surprises."""
    error = ask(**request_)["error"]
    assert error
    assert "something unexpected" not in error


def test_asks_are_known_by_their_names():
    """No live part takes the name of a request of bench, table or house."""
    own = [name for name in ASKS if name.split()[0] not in ("check", "explorer", "progress", "section")]
    assert own == []
