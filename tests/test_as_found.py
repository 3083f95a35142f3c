"""A house as found: its drawing without letters, readings that prove, marks with reasons, sheets read strictly."""

import json
import random
import re
import subprocess
from dataclasses import replace

import pytest

from solvers.jobs.as_found import ROLES, as_found, marked_as_found, roles, untidy_things
from solvers.jobs.found_answers import BLANK
from solvers.jobs.found_house import House
from solvers.jobs.found_readings import told_apart, touched
from solvers.jobs.found_sheet import resumed, written
from solvers.jobs.injected import injected
from solvers.jobs.job import JobError
from solvers.jobs.sheet import BadSheet
from solvers.jobs.wiring_marks import judged
from solvers.jobs.wiring_questions import leads_found
from solvers.screens.notebook_house import HOUSE_MODULES, AsFoundWidget
from solvers.screens.notebook_parts import script
from solvers.screens.page import Desk

SEEDS = ["a", "b", "c", "d"]
OFF = [{"do": "switch", "part": name, "on": False} for name in ("transformer", "boiler")]
ON = [{**act, "on": True} for act in OFF]
PREDICTED = {"do": "predict", "zones": ["zone1", "zone2"]}
CALL = {"do": "call", "stat": "zone1.stat", "on": True}


def read(function, first, second):
    """A measuring act."""
    return {"do": "measure", "function": function, "first": first, "second": second}


def round_of(house, function, reference, other):
    """One reading for every conductor against one known terminal, or another where it ends at that one."""
    drawn, _ = house.drawn()
    acts = []
    for wire in drawn.conductors:
        known = other if reference in (wire.a, wire.b) else reference
        acts.append(read(function, next(end for end in (wire.a, wire.b) if end not in ("fuse.in", known)), known))
    return acts


def rung_out(seed):
    """A house in which every conductor has been read dead and live, from what is drawn alone."""
    house = House(seed)
    dead = [PREDICTED, *OFF, {"do": "lift", "terminal": "fuse.in"}, *round_of(house, "ohms", "transformer.C", "boiler.T1")]
    live = [{"do": "land", "terminal": "fuse.in"}, *ON, CALL, *round_of(house, "volts", "transformer.C", "transformer.R")]
    for act in (*dead, *live):
        house.step(act)
    return house


def right_answers(house):
    """What is so, from the house itself."""
    fault = injected(house.task, house.task.found, house.seed)
    return {
        "conductors": roles(house.installation),
        "leads": {f"zone{zone}.valve": leads_found(house.installation.part(f"zone{zone}.valve"), house.seed) for zone in (1, 2)},
        "prediction": list(fault.zones),
        "tidy": ["labels", "spare"],
        "tie": "maker and local code decide",
    }


def line(house, criterion):
    """One line of the marks."""
    return next(each for each in house.marks().lines if each.criterion == criterion)


# What is there


@pytest.mark.parametrize("seed", [str(number) for number in range(12)])
def test_a_house_as_found_works(seed):
    """Each untidy house does what it should; its conductors, zones and untidy things are found by solving it."""
    task = as_found(seed)
    found = judged(task, task.found)
    assert [] == [finding.words for finding in found.findings]
    assert set(roles(task.made(task.found)).values()) == set(ROLES)
    assert ["zone1", "zone2"] == task.questions[0].expected(task.made(task.found))
    wanted = untidy_things(task, task.found)
    assert {"labels", "spare"} <= set(wanted)
    assert ("crowded" in wanted) == bool(task.made(task.found).crowded())


def test_a_house_as_found_is_drawn():
    """Seeds differ in splices, order and crowding, and the same seed gives the same house."""
    assert as_found("a") == as_found("a")
    assert 1 < len({len(as_found(str(seed)).found.wires) for seed in range(12)})
    assert {True, False} == {"crowded" in untidy_things(as_found(str(n)), as_found(str(n)).found) for n in range(12)}


def test_a_conductor_is_what_it_is_joined_to():
    """A role follows a lead that is moved, whatever its colour: exchanged Ws are named by their stats."""
    task = as_found("a")
    swap = {"zone1.stat.W": "zone2.stat.W", "zone2.stat.W": "zone1.stat.W"}
    wires = tuple(replace(wire, a=swap.get(wire.a, wire.a), b=swap.get(wire.b, wire.b)) for wire in task.found.wires)
    before, after = (roles(task.made(replace(task.found, wires=each))) for each in (task.found.wires, wires))
    assert {"W of zone 1": "W of zone 2", "W of zone 2": "W of zone 1"} == {
        role: after[name] for name, role in before.items() if role.startswith("W")
    }


# Nothing tells the leads before the answers are handed in


def asked(desk, **request):
    """A desk's answer to a request."""
    return json.loads(desk.handle(json.dumps(request)))


@pytest.mark.parametrize("seed", SEEDS)
def test_no_lead_is_lettered_before_the_answers(seed):
    """Neither drawing, words, log nor a refusal names a lead of a valve by its letter while the house is open."""
    lettered = re.compile(r"zone[12]\.valve\.[HSE]\b|valve [12] [HSE]\b")
    desk = Desk()
    told = [asked(desk, ask="house", seed=seed)]
    for act in (
        read("volts", "zone1.valve.lead a", "transformer.C"),
        {"do": "lift", "terminal": "zone1.valve.lead a"},
        {"do": "lift", "terminal": "zone1.valve.lead a"},
        {"do": "land", "terminal": "zone1.valve.lead b"},
        read("ohms", "zone1.valve.lead a lead", "zone2.valve.lead c"),
        read("volts", "zone1.valve.H", "transformer.C"),
        {"do": "lift", "terminal": "zone1.valve.S lead"},
        {"do": "clamp", "wire": "zone9", "turns": 1},
        {"do": "look", "part": "zone1.valve"},
    ):
        told.append(asked(desk, ask="house act", number=1, act=act))
    told.append(asked(desk, ask="house sheet", number=1))
    assert 5 == sum("error" in answer for answer in told)
    echoed = ("'zone1.valve.H'", "'zone1.valve.S lead'")  # what the two refused acts asked for themselves
    for answer in told:
        text = json.dumps(answer)
        for echo in echoed:
            text = text.replace(echo, "")
        assert [] == lettered.findall(text)
    closed = asked(desk, ask="house hand in", number=1, answers={**House(seed).answers})
    assert lettered.search(json.dumps(closed["drawing_words"]))
    assert "zone1.valve.H" in closed["view"]["points"]
    assert 'data-point="zone2.valve.E"' in closed["drawing"]


def test_a_graded_house_keeps_its_letters_to_the_end():
    """Where marks come from an instructor, neither marks nor letters are shown after the answers."""
    desk = Desk(graded=True)
    asked(desk, ask="house", seed="a")
    closed = asked(desk, ask="house hand in", number=1, answers=dict(House("a").answers))
    assert closed["view"]["closed"]
    assert "zone1.valve.lead a" in closed["view"]["points"]
    assert "instructor" in asked(desk, ask="house marks", number=1)["error"]


@pytest.mark.parametrize("seed", SEEDS)
def test_a_reading_at_an_unmarked_lead_is_that_of_the_lead(seed):
    """With the leads lifted off a cold valve, ohms are the heater's between two of its leads and none to the third."""
    house = House(seed)
    for act in (*OFF, *({"do": "lift", "terminal": f"zone1.valve.lead {letter}"} for letter in "abc")):
        house.step(act)
    found = leads_found(house.installation.part("zone1.valve"), seed)
    for one, other in (("a", "b"), ("b", "c"), ("a", "c")):
        house.step(read("ohms", f"zone1.valve.lead {one}", f"zone1.valve.lead {other}"))
        pair = {found[f"lead {one}"], found[f"lead {other}"]}
        assert house.log[-1].value == (pytest.approx(30.0, abs=0.2) if pair == {"H", "S"} else float("inf"))


# What readings prove


@pytest.mark.parametrize("seed", SEEDS)
def test_right_names_from_readings_get_full_marks(seed):
    """Two readings a conductor prove every name; with all else right that is a hundred."""
    house = rung_out(seed)
    house.said(right_answers(house))
    house.hand_in()
    marks = house.marks()
    assert [] == [(each.criterion, each.reasons) for each in marks.lines if each.points != each.out_of]
    assert 100 == marks.points


def test_right_names_without_readings_earn_nothing():
    """The same answers in a house where nothing was read name no conductor, and each reason says what is still open."""
    house = House("a")
    house.said(right_answers(house))
    house.hand_in()
    given = line(house, "conductors")
    assert 0 == given.points
    assert len(roles(house.installation)) == sum("no reading in your log tells it from" in words for words in given.reasons)
    assert 0 == line(house, "zones").points


@pytest.mark.parametrize("wrong", ROLES)
def test_a_wrong_name_costs_and_is_told_why(wrong):
    """Each conductor given another's name costs its share, and the learner's own reading is held against it."""
    house = rung_out("b")
    right = roles(house.installation)
    house.hand_in()
    for name, role in right.items():
        if role == wrong:
            continue
        answers = {**right_answers(house), "conductors": {**right, name: wrong}}
        marks = marked_as_found(house.task, answers, seed="b", takes=house.takes)
        (given,) = (each for each in marks.lines if each.criterion == "conductors")
        assert given.points == pytest.approx(40 * (1 - 1 / len(right)), abs=0.06)
        (words,) = given.reasons
        assert words.startswith(f"{name} is {role}, not {wrong}: your line ")
        number = int(words.split("your line ")[1].split()[0])
        shown = house.log[number - 1]
        assert f"shows {shown.text}, where {wrong} shows " in words
        assert shown.act["do"] == "measure"


def test_colours_prove_nothing():
    """Names by colour, with every reading taken, lose most of their points."""
    house = rung_out("a")
    by_colour = {wire.name: "R" if wire.colour == "red" else "C" for wire in house.task.found.wires}
    house.said({**right_answers(house), "conductors": by_colour})
    house.hand_in()
    assert line(house, "conductors").points < 25


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_told_apart_is_apart(seed):
    """Any readings tell a conductor only from what it is not, and more readings never tell less."""
    house = House(seed)
    right = roles(house.installation)
    drawing = random.Random(f"{seed}/readings")
    house.step(PREDICTED)
    before = {name: set() for name in right}
    for _ in range(40):
        doing = drawing.choice(["measure"] * 6 + ["lift", "call", "switch"])
        places = house.points()
        if doing == "measure":
            house.step(read(drawing.choice(["volts", "ohms", "beeper", "volts low-Z"]), *drawing.sample(places, 2)))
        elif doing == "lift":
            lifted = [house.shown(end) for end in house.world.state.lifted]
            place = lifted[0] if lifted else drawing.choice([end for end in places if not end.endswith(" lead")])
            try:
                house.step({"do": "land" if lifted else "lift", "terminal": place})
            except ValueError:
                continue  # nothing is landed there
        elif doing == "call":
            house.step({"do": "call", "stat": drawing.choice(["zone1.stat", "zone2.stat"]), "on": drawing.random() < 0.5})
        else:
            house.step({"do": "switch", "part": drawing.choice(["transformer", "boiler"]), "on": drawing.random() < 0.7})
    for count in (10, 20, 40):
        apart = told_apart(house.installation, right, [take for take in house.takes if take.line < count])
        for name, others in apart.items():
            assert right[name] not in others
            assert before[name] <= set(others)
            before[name] = set(others)
    assert any(before.values())


def test_a_reading_between_two_unknown_points_names_nothing():
    """A beep from lead to lead speaks of no conductor; from a lead to T-T it speaks of all at that lead."""
    house = House("a")
    wires = {wire.name: {wire.a, wire.b} for wire in house.drawn()[0].conductors}
    real = {house.shown(end): end for end in house.installation.terminals}
    one, other = "zone1.valve.lead a", "zone2.valve.lead a"
    assert {} == touched(house.installation, (), read("beeper", real[one], real[other]))
    spoken = touched(house.installation, (), read("beeper", real[one], "boiler.T1"))
    assert {name for name, ends in wires.items() if one in ends and "boiler.T1" not in ends} <= set(spoken)


# Safety, order, prediction


def test_ohms_on_a_live_circuit_cost_and_prove_nothing():
    """An ohmmeter on live conductors costs five points and its lines are no proof."""
    house = House("a")
    house.step(PREDICTED)
    house.step(read("ohms", "fuse.out", "transformer.C"))
    assert house.log[-1].misuse
    house.said(right_answers(house))
    house.hand_in()
    assert 15 == line(house, "safety").points
    assert all("no reading" in words for words in line(house, "conductors").reasons)


def test_a_prediction_comes_before_the_first_call_and_stands():
    """No stat is turned up before both zones are foreseen, and what was foreseen cannot be changed."""
    house = House("a")
    with pytest.raises(JobError, match="before the first call"):
        house.step(CALL)
    with pytest.raises(JobError, match=r"zones\[0\] is 'zone3'"):
        house.step({"do": "predict", "zones": ["zone3"]})
    house.step({"do": "predict", "zones": ["zone1"]})
    with pytest.raises(JobError, match="stands"):
        house.step(PREDICTED)
    house.step(CALL)
    house.said(right_answers(house))
    house.hand_in()
    assert 0 == line(house, "zones").points


@pytest.mark.parametrize(
    ("change", "criterion", "points"),
    [
        ({"tie": "always"}, "safety", 0),
        ({"tie": None}, "safety", 0),
        ({"tidy": ["fuse", "labels"]}, "tidying", 5),
        ({"tidy": []}, "tidying", 0),
        ({"leads": {}}, "leads", 0),
        ({"prediction": None}, "prediction", 0),
    ],
)
def test_each_other_answer_has_its_own_points(change, criterion, points):
    """An answer that is wrong or missing costs its own line and no other."""
    house = rung_out("c")
    house.said({**right_answers(house), **change})
    house.hand_in()
    lost = {each.criterion: each.points for each in house.marks().lines if each.points != each.out_of}
    assert {criterion: points} == lost


def test_exchanged_leads_cost_two_thirds_of_a_valve():
    """Two leads of three exchanged leave a third of that valve's share."""
    house = rung_out("c")
    right = right_answers(house)
    mine = right["leads"]["zone1.valve"]
    one, other, third = mine
    exchanged = {one: mine[other], other: mine[one], third: mine[third]}
    house.said({**right, "leads": {**right["leads"], "zone1.valve": exchanged}})
    house.hand_in()
    assert line(house, "leads").points == pytest.approx(5 + 5 / 3, abs=0.06)


def test_a_closed_house_takes_nothing_more():
    """After the answers neither acts nor other answers are taken, and before them there are no marks."""
    house = House("a")
    with pytest.raises(JobError, match="marks come with the answers"):
        house.marks()
    house.hand_in()
    with pytest.raises(JobError, match="handed in"):
        house.step(OFF[0])
    with pytest.raises(JobError, match="handed in"):
        house.said(right_answers(house))


# The sheet


@pytest.mark.parametrize("handed_in", [False, True])
def test_a_sheet_is_worked_through_again(handed_in):
    """A written sheet gives the same house: log, answers and marks."""
    house = rung_out("b")
    house.said(right_answers(house))
    if handed_in:
        house.hand_in()
    again = resumed(written(house))
    assert (house.log, house.answers, house.predicted) == (again.log, again.answers, again.predicted)
    assert written(house) == written(again)
    if handed_in:
        assert house.marks() == again.marks()


def changed(path, value):
    """A sheet with one field replaced or, for `...`, taken out."""
    house = House("a")
    for act in (PREDICTED, read("volts", "fuse.out", "transformer.C")):
        house.step(act)
    house.said(right_answers(house))
    body = json.loads(written(house))
    at = body
    for step in path[:-1]:
        at = at[step]
    if value is ...:
        del at[path[-1]]
    else:
        at[path[-1]] = value
    return json.dumps(body)


@pytest.mark.parametrize(
    ("path", "value", "told"),
    [
        (("format",), "call-for-heat house 9", "format is 'call-for-heat house 9'"),
        (("task",), "W16", "task is 'W16'"),
        (("seed",), 7, "seed must be text"),
        (("extra",), 1, "unknown ['extra']"),
        (("log",), ..., "missing ['log']"),
        (("log",), {}, "log must be a list"),
        (("log", 1, "act"), [], "log[1].act must be an object"),
        (("log", 1, "act", "first"), "zone1.valve.H", "log[1].act cannot be done: no test point 'zone1.valve.H'"),
        (("log", 0, "act", "zones"), ["zone3"], "log[0].act cannot be done: zones[0] is 'zone3'"),
        (("log", 1, "text"), "0.0 V", "log[1].text is '0.0 V'; in this house it is"),
        (("log", 1, "clock"), 5, "log[1].clock is 5"),
        (("log", 1, "clock"), True, "log[1].clock must be seconds"),
        (("log", 1, "value"), 5, "log[1] takes"),
        (("answers",), None, "answers must be an object"),
        (("answers", "conductors", "wire 99"), "C", "answers.conductors names 'wire 99'"),
        (("answers", "conductors", "wire 1"), "hot", "answers.conductors.wire 1 is 'hot'"),
        (("answers", "leads", "zone3.valve"), {}, "answers.leads names 'zone3.valve'"),
        (("answers", "leads", "zone1.valve"), {"lead d": "H"}, "answers.leads.zone1.valve names 'lead d'"),
        (("answers", "leads", "zone1.valve"), {"lead a": "X"}, "answers.leads.zone1.valve.lead a is 'X'"),
        (("answers", "tidy"), ["fuse", "labels", "spare"], "answers.tidy must be a list of at most 2"),
        (("answers", "tidy"), ["fuse", "fuse"], "answers.tidy[1] is 'fuse', which answers.tidy[0] names already"),
        (("answers", "tidy"), ["paint"], "answers.tidy[0] is 'paint'"),
        (("answers", "tie"), "sometimes", "answers.tie is 'sometimes'"),
        (("answers", "prediction"), [["zone1"]], "answers.prediction[0] is ['zone1']"),
        (("answers", "prediction"), "zone1", "answers.prediction must be a list"),
        (("answers", "tie"), ..., "missing ['tie']"),
        (("handed_in",), 1, "handed_in must be true or false"),
    ],
)
def test_a_malformed_sheet_is_refused_with_its_path(path, value, told):
    """Every field that is not as it must be is refused by its path, with what was found."""
    assert House("a").seed == resumed(changed(("seed",), "a")).seed
    with pytest.raises(BadSheet) as refusal:
        resumed(changed(path, value))
    assert told in str(refusal.value)


@pytest.mark.parametrize("text", ["", "{", "[]", b"\xff", "7", '{"a": NaN}', "[" * 100_000, " " * 500_000])
def test_what_is_no_sheet_is_refused(text):
    """Empty, damaged, huge or foreign content is refused in a sentence."""
    with pytest.raises(BadSheet):
        resumed(text)


def test_a_desk_refuses_what_it_cannot_do():
    """Unknown houses, acts and answers come back as a sentence, and the house stays as it was."""
    desk = Desk()
    assert "no open house 1" in asked(desk, ask="house act", number=1, act=OFF[0])["error"]
    before = asked(desk, ask="house", seed="a")
    for wrong in (None, {}, {"do": "dance"}, {"do": "lift", "terminal": "boiler.T9"}, {"do": "predict"}):
        assert "error" in asked(desk, ask="house act", number=1, act=wrong)
    assert "error" in asked(desk, ask="house answers", number=1, answers={})
    assert "error" in asked(desk, ask="house hand in", number=1, answers=None)
    after = asked(desk, ask="house", sheet=asked(desk, ask="house sheet", number=1)["sheet"])
    assert (before["view"], before["drawing"]) == (after["view"], after["drawing"])


# In a notebook


@pytest.fixture
def widget(tmp_path):
    """A widget that answers in place of sending, and the path of its sheet."""

    def made(**options):
        return AsFoundWidget(folder=tmp_path, **options)

    made.path = tmp_path / "W17.house.json"
    return made


def test_the_sheet_is_kept_and_gone_on_with(widget):
    """After every act the file holds the sheet whole, and a new widget begins with it."""
    screen = widget(seed="a")
    assert {"sheet": None, "notice": ""} == screen.answer({"ask": "begin"})
    number = screen.answer({"ask": "house", "seed": "a"})["number"]
    for act in (PREDICTED, CALL):
        screen.answer({"ask": "house act", "number": number, "act": act})
        sheet = screen.answer({"ask": "house sheet", "number": number})["sheet"]
        assert {"kept": "W17.house.json"} == screen.answer({"ask": "keep", "sheet": sheet})
        assert sheet == widget.path.read_text(encoding="utf-8")
    assert [widget.path] == list(widget.path.parent.iterdir())
    assert {"sheet": sheet, "notice": ""} == widget(seed="a").answer({"ask": "begin"})


def test_a_sheet_that_cannot_be_gone_on_with_is_put_aside(widget):
    """A damaged sheet, or one of another house, is kept under another name and said to be so."""
    for number, content in enumerate((b"{", written(House("b")).encode()), 1):
        widget.path.write_bytes(content)
        found = widget(seed="a").answer({"ask": "begin"})
        assert found["sheet"] is None
        assert f"W17.house.kept-{number}.json" in found["notice"]
        assert content == widget.path.with_name(f"W17.house.kept-{number}.json").read_bytes()


def test_a_sheet_changed_elsewhere_is_not_overwritten(widget):
    """When another program has written the file, keeping is refused and its content stays; no sheet is not kept."""
    screen = widget()
    for text in ("", "{", None, 7):
        assert "error" in screen.answer({"ask": "keep", "sheet": text})
    assert not widget.path.exists()
    screen.answer({"ask": "keep", "sheet": written(House("a"))})
    widget.path.write_text(written(House("c")), encoding="utf-8")
    assert "changed outside" in screen.answer({"ask": "keep", "sheet": written(House("a"))})["error"]
    assert written(House("c")) == widget.path.read_text(encoding="utf-8")


def test_an_assignment_has_one_house_and_shows_no_marks(widget):
    """With an assignment the file bears its name, no other house is opened or kept, and marks and letters stay away."""
    screen = widget(seed="a", assignment="06-wire-ups")
    assert "opens no other" in screen.answer({"ask": "house", "seed": "b"})["error"]
    assert "opens no other" in screen.answer({"ask": "house", "sheet": written(House("b"))})["error"]
    assert "house 'b'" in screen.answer({"ask": "keep", "sheet": written(House("b"))})["error"]
    number = screen.answer({"ask": "house", "seed": "a"})["number"]
    closed = screen.answer({"ask": "house hand in", "number": number, "answers": dict(BLANK)})
    assert "zone1.valve.lead a" in closed["view"]["points"]
    assert "instructor" in screen.answer({"ask": "house marks", "number": number})["error"]
    sheet = screen.answer({"ask": "house sheet", "number": number})["sheet"]
    assert {"kept": "06-wire-ups.house.json"} == screen.answer({"ask": "keep", "sheet": sheet})


@pytest.mark.parametrize("options", [{"assignment": "../up", "seed": "a"}, {"assignment": "06-wire-ups"}])
def test_a_widget_for_nothing_is_refused(widget, options):
    """A name that would leave the folder, and an assignment without a house of its own, are refused."""
    with pytest.raises(ValueError, match=r"assignment|seed"):
        widget(**options)


def test_a_message_is_answered_under_its_id(widget):
    """The widget answers a custom message with what the desk says, and leaves alone what is none."""
    screen, sent = widget(), []
    screen.send = lambda content, buffers=None: sent.append(content)
    screen._handle_custom_msg("hello", [])
    screen._handle_custom_msg({"id": 3, "request": {"ask": "house", "seed": "a"}}, [])
    (answer,) = sent
    assert 3 == answer["id"]
    assert "W17" == answer["response"]["house"]["id"]


def test_the_script_is_one_sound_module(needs_tool, tmp_path):
    """A JavaScript engine takes the joined script as a module with one default export and no import left."""
    joined = script(HOUSE_MODULES)
    lines = joined.splitlines()
    assert [] == [each for each in lines if each.startswith("import ")]
    assert ["export default { render };"] == [each for each in lines if each.startswith("export ")]
    path = tmp_path / "house.mjs"
    path.write_text(joined, encoding="utf-8")
    done = subprocess.run([needs_tool("node"), "--check", str(path)], capture_output=True, text=True, check=False)
    assert (0, "") == (done.returncode, done.stderr)
