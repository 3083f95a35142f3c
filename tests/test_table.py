"""The wiring table behind a screen, asked as a screen asks; and its widget with the wiring on disk."""

from __future__ import annotations

import itertools
import json
import subprocess
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from wirings import RIGHT

from solvers.jobs.wireups import wire_up
from solvers.jobs.wiring_answer import Joint, Wire, Wiring, parsed, written
from solvers.jobs.wiring_questions import leads_found
from solvers.plant.parts import Fuse
from solvers.screens import page
from solvers.screens.notebook import WiringWidget
from solvers.screens.notebook_parts import TABLE_MODULES, script
from solvers.screens.page import Desk

KEPT = {"seed": "", "spent": 0, "stands": False, "answers": {}}
SHORTED = Wiring(wires=(Wire("wire 1", "transformer.R", "fuse.in"), Wire("wire 2", "fuse.out", "transformer.C")))


def joined(*pairs: str, splices: tuple[Joint, ...] = ()) -> Wiring:
    """Wires between 'a > b' pairs, each labelled."""
    wires = (Wire(f"wire {n}", *pair.split(" > "), label=f"L{n}") for n, pair in enumerate(pairs, 1))
    return Wiring(splices, tuple(wires))


LAMP = joined("transformer.R > fuse.in", "fuse.out > zone1.stat.R", "zone1.stat.W > lamp.A", "lamp.B > transformer.C")
ALWAYS_LIT = joined("transformer.R > fuse.in", "fuse.out > lamp.A", "lamp.B > transformer.C", "fuse.out > zone1.stat.R")


class Screen:
    """A desk asked as a screen asks it."""

    def __init__(self) -> None:
        self.desk = Desk()
        self.number = None

    def ask(self, what: str, **more: object) -> dict:
        asked = {"ask": what, **({} if self.number is None else {"number": self.number}), **more}
        return json.loads(self.desk.handle(json.dumps(asked)))

    def lay(self, task: str, wiring: Wiring | None = None, **kept: object) -> dict:
        text = None if wiring is None else written(wiring)
        answer = self.ask("table", task=task, wiring=text, kept={**KEPT, "seed": "a seed", **kept})
        self.number = answer["number"]
        return answer

    def act(self, **act: object) -> dict:
        return self.ask("table act", act=act)


def test_a_table_begins_empty_with_every_terminal():
    """A new table has the task's parts and nothing joined, no power, and its drawing shows every terminal."""
    answer = Screen().lay("W16")
    assert Wiring() == parsed(answer["wiring"])
    assert not answer["view"]["powered"]
    there = {terminal["name"] for terminal in answer["terminals"]}
    assert there == set(wire_up("W16").terminals)
    assert all(f'data-point="{name}"' in answer["drawing"] for name in there)


def test_nothing_a_table_says_tells_what_to_join():
    """Neither what the task must do nor an answer to its questions goes to the screen."""
    screen = Screen()
    answer = screen.lay("W3")
    told = json.dumps(answer["task"])
    assert "right" not in told
    assert "criteria" not in told
    (leads,) = [each for each in answer["task"]["questions"] if each["kind"] == "leads"]
    assert set(leads) == {"id", "kind", "words", "leads", "names", "switched"}


def test_a_wiring_is_laid_and_drawn():
    """Every wire that a screen lays comes back in the wiring and in the drawing."""
    screen = Screen()
    screen.lay("W15")
    answer = screen.ask("table wiring", wiring=written(LAMP))
    assert parsed(answer["wiring"]) == LAMP
    assert all(f'data-wire="{wire.name}"' in answer["drawing"] for wire in LAMP.wires)


def test_a_bad_wiring_changes_nothing():
    """A wiring that cannot be laid is refused with its path, and the one before still lies there."""
    screen = Screen()
    screen.lay("W15", LAMP)
    bad = replace(LAMP, wires=(*LAMP.wires, Wire("wire 9", "lamp.A", "lamp.Z")))
    assert "wires[4].b" in screen.ask("table wiring", wiring=written(bad))["error"]
    assert "damaged" in screen.ask("table wiring", wiring="{")["error"]
    assert parsed(screen.ask("table light", light=False)["wiring"]) == LAMP


def test_no_wire_is_moved_under_power():
    """With a supply on the wiring stays as it is; with all of them off it can be changed."""
    screen = Screen()
    screen.lay("W15", LAMP)
    screen.act(do="power", on=True)
    assert "power is on" in screen.ask("table wiring", wiring=written(Wiring()))["error"]
    assert not screen.act(do="power", on=False)["view"]["powered"]
    assert parsed(screen.ask("table wiring", wiring=written(Wiring()))["wiring"]) == Wiring()


def test_a_call_lights_its_path():
    """The lamp takes the supply's volts when the stat calls, none before, and only then is its path lit."""
    screen = Screen()
    screen.lay("W15", LAMP)
    screen.act(do="power", on=True)
    read = {"do": "measure", "function": "volts", "first": "lamp.A", "second": "lamp.B"}
    dark = screen.act(**read)
    assert abs(float(dark["view"]["log"][-1]["text"].split()[0])) < 0.1
    screen.act(do="call", stat="zone1.stat", on=True)
    bright = screen.act(**read)
    volts = float(bright["view"]["log"][-1]["text"].split()[0])
    supply = wire_up("W15").parts[0]
    assert 0.85 * supply.emf < volts < supply.emf
    plain = screen.ask("table light", light=False)["drawing"]
    lit = screen.ask("table light", light=True)["drawing"]
    assert lit != plain
    assert screen.act(do="wait", seconds=1)["drawing"] == plain
    assert screen.ask("table act", act={"do": "wait", "seconds": 1}, light=True)["drawing"] == lit
    screen.act(do="call", stat="zone1.stat", on=False)
    assert screen.ask("table light", light=True)["drawing"] == screen.ask("table light", light=False)["drawing"]


def test_a_short_spends_its_fuse_and_a_new_one_may_be_fitted():
    """A short blows the fuse once, which is counted; it stays blown under another wiring until a new one is fitted."""
    screen = Screen()
    screen.lay("W15", SHORTED, spent=2)
    screen.act(do="power", on=True)
    view = screen.act(do="wait", seconds=10)["view"]
    assert (view["spent"], view["opened"]) == (3, ["fuse"])
    assert "fuse has opened" in view["log"][-1]["text"]
    screen.act(do="power", on=False)
    assert screen.ask("table wiring", wiring=written(LAMP))["view"]["opened"] == ["fuse"]
    view = screen.act(do="fit", part="fuse")["view"]
    assert (view["spent"], view["opened"]) == (3, [])
    screen.act(do="power", on=True)
    view = screen.act(do="wait", seconds=60)["view"]
    assert (view["spent"], view["opened"]) == (3, [])


def test_parts_keep_their_state_when_a_wire_is_moved():
    """Moving a wire neither cools a valve nor turns a stat: what is warm is warm under the next wiring."""
    fed = ("transformer.R > fuse.in", "fuse.out > zone1.stat.R")
    wiring = joined(*fed, "zone1.stat.W > zone1.valve.HA", "zone1.valve.HB > transformer.C")
    screen = Screen()
    screen.lay("W1", wiring)
    screen.act(do="power", on=True)
    screen.act(do="call", stat="zone1.stat", on=True)
    screen.act(do="wait", seconds=60)
    screen.act(do="power", on=False)
    table = screen.desk.tables.table({"number": screen.number})
    warm, clock = table.world.state.values["zone1.valve.wax"], table.world.state.time
    view = screen.ask("table wiring", wiring=written(wiring.without("wire 4")))["view"]
    assert table.world.state.values["zone1.valve.wax"] == warm > 40
    assert (view["clock"], view["calls"]) == (clock, {"zone1.stat": True})


def test_unmarked_leads_are_told_by_ohms():
    """Between the two leads that make a heater an ohmmeter shows its ohms, and none between any others of a cold valve."""
    screen = Screen()
    (question,) = [each for each in screen.lay("W2")["task"]["questions"] if each["kind"] == "leads"]
    valve = next(part for part in wire_up("W2").parts if part.name == "zone1.valve")
    names = leads_found(valve, "a seed")
    for first in names:
        for second in names:
            if first == second:
                continue
            text = screen.ask("table leads", question=question["id"], first=first, second=second, made=False)["text"]
            heater = {names[first], names[second]} == {"HA", "HB"}
            assert (text == "OL") is not heater
            assert not heater or abs(float(text.split()[0]) - valve.heater_ohms) < 0.5
    assert "no lead" in screen.ask("table leads", question=question["id"], first="x", second="lead a")["error"]
    assert "no question" in screen.ask("table leads", question="x", first="lead a", second="lead b")["error"]


def test_a_wrong_wiring_is_told_by_what_it_does():
    """A lamp that never goes out is a finding with words and marks below the most; no terminal to use is named as expected."""
    screen = Screen()
    screen.lay("W15", ALWAYS_LIT)
    judged = screen.ask("table hand in")
    assert not judged["works"]
    assert judged["findings"]
    assert "expected" not in json.dumps(judged)
    assert judged["points"] < 90
    number = next(n for n, finding in enumerate(judged["findings"]) if finding["lit"])
    shown = screen.ask("table light", finding=number)["drawing"]
    assert shown != screen.ask("table light", light=False)["drawing"]
    assert "no finding" in screen.ask("table light", finding=99)["error"]


def test_a_right_wiring_is_marked_after_its_prediction():
    """A wiring that works brings one question first, and its marks with the answer; a spent fuse costs points."""
    screen = Screen()
    screen.lay("W15", LAMP)
    first = screen.ask("table hand in")
    assert first["works"]
    assert "points" not in first
    assert first["prediction"]["id"] == "prediction"
    second = screen.ask("table hand in", prediction=0.0)
    assert {line["criterion"] for line in second["lines"]} >= {"behaviour", "safety", "labels", "prediction"}
    assert second["points"] == sum(line["points"] for line in second["lines"])
    dear = Screen()
    dear.lay("W15", LAMP, spent=1)
    assert dear.ask("table hand in", prediction=0.0)["points"] < second["points"]


IDLE, LIT = {"stat idle": 27.0}, {"stat idle": 0.0}


def test_answers_before_power_are_taken_until_the_power_is_on():
    """What is answered may be answered anew until the first power-up; from then on it stays, and a change gets a sentence."""
    screen = Screen()
    screen.lay("W15", LAMP)
    assert screen.ask("table answers", answers=LIT)["view"]["answers"] == LIT
    assert screen.ask("table answers", answers=IDLE)["view"]["answers"] == IDLE
    view = screen.act(do="power", on=True)["view"]
    assert (view["stands"], view["answers"]) == (True, IDLE)
    for change in (LIT, {"lamp idle": 0.0}, {"stat idle": None}):
        assert "stays as it is" in screen.ask("table answers", answers=change)["error"]
    assert "error" not in screen.ask("table answers", answers=IDLE)
    view = screen.act(do="power", on=False)["view"]
    assert (view["stands"], view["answers"]) == (True, IDLE)
    assert "stays as it is" in screen.ask("table answers", answers=LIT)["error"]
    assert screen.ask("table wiring", wiring=written(ALWAYS_LIT))["view"]["stands"]
    assert "stays as it is" in screen.ask("table answers", answers=LIT)["error"]


def test_one_supply_alone_is_power_too():
    """Switching on one transformer by itself is the power-up from which the answers stand; turning a stat is none."""
    screen = Screen()
    screen.lay("W12")
    assert not screen.act(do="call", stat="zone1.stat", on=True)["view"]["stands"]
    assert screen.act(do="switch", part="transformer 2", on=True)["view"]["stands"]


def test_handing_in_runs_the_wiring_too():
    """Marks say which answers were right, so from the first hand-in on the answers stand as they stood then."""
    screen = Screen()
    screen.lay("W15", ALWAYS_LIT)
    screen.ask("table answers", answers=LIT)
    assert screen.ask("table hand in")["view"]["stands"]
    assert "stays as it is" in screen.ask("table answers", answers=IDLE)["error"]


@pytest.mark.parametrize("when", ["before", "after"])
def test_marks_count_the_answers_from_before_power(when):
    """Right answers given before power count; the same ones tried after it are refused and count nothing."""
    screen = Screen()
    screen.lay("W15", LAMP)
    here = wire_up("W15").made(LAMP)
    right = {question.id: question.expected(here) for question in wire_up("W15").questions}
    if when == "before":
        screen.ask("table answers", answers=right)
    screen.act(do="power", on=True)
    assert ("error" in screen.ask("table answers", answers=right)) is (when == "after")
    lines = {line["criterion"]: line["points"] for line in screen.ask("table hand in", prediction=0.0)["lines"]}
    assert lines["before power"] == (10 if when == "before" else 0)


def test_what_stood_still_stands_when_the_table_is_laid_again():
    """A table that is laid again with what was kept of it takes no other answers either, and counts its fuses on."""
    screen = Screen()
    screen.lay("W15", SHORTED)
    screen.ask("table answers", answers=IDLE)
    screen.act(do="power", on=True)
    view = screen.act(do="wait", seconds=10)["view"]
    again = Screen()
    view = again.lay("W15", LAMP, **{name: view[name] for name in ("spent", "stands", "answers")})["view"]
    assert (view["spent"], view["stands"], view["answers"]) == (1, True, IDLE)
    assert "stays as it is" in again.ask("table answers", answers=LIT)["error"]


def test_every_power_up_costs_what_it_blows():
    """The wiring may be changed after a power-up, and a second one that blows a fuse is counted beside the first."""
    screen = Screen()
    screen.lay("W15", SHORTED)
    for fuses in (1, 2):
        screen.act(do="power", on=True)
        assert screen.act(do="wait", seconds=10)["view"]["spent"] == fuses
        screen.act(do="power", on=False)
        assert "error" not in screen.ask("table wiring", wiring=written(SHORTED))
        screen.act(do="fit", part="fuse")
    screen.ask("table wiring", wiring=written(LAMP))
    (safety,) = [line for line in screen.ask("table hand in", prediction=0.0)["lines"] if line["criterion"] == "safety"]
    assert safety["points"] == 10
    assert safety["reasons"][-1] == "It cost 2 fuses."


@pytest.fixture
def slow(monkeypatch):
    """A clock by which a tenth of a second passes whenever somebody looks at it."""
    tenths = itertools.count()
    monkeypatch.setattr(page.time, "monotonic", lambda: next(tenths) / 10)


def test_a_long_judgement_says_how_far_it_has_come(slow):
    """What a screen hears on the way only grows and ends at its total, far from every turn; a quick request says nothing."""
    screen, told = Screen(), []
    screen.lay("W7", RIGHT["W7"]["in connectors"])
    asked = {"ask": "table hand in", "number": screen.number}
    answer = json.loads(screen.desk.handle(json.dumps(asked), lambda *each: told.append(each)))
    assert answer["works"]
    done, totals = zip(*told, strict=True)
    (total,) = {*totals}
    assert list(done) == sorted({*done})
    assert done[-1] == total
    assert all(later - earlier == 3 for earlier, later in pairwise((0, *done[:-1])))
    told.clear()
    asked = {"ask": "table light", "number": screen.number, "light": False}
    screen.desk.handle(json.dumps(asked), lambda *each: told.append(each))
    assert told == []


def test_a_changed_wiring_has_no_findings_any_more():
    """Findings belong to the wiring that was handed in."""
    screen = Screen()
    screen.lay("W15", ALWAYS_LIT)
    screen.ask("table hand in")
    screen.ask("table wiring", wiring=written(LAMP))
    assert "Hand the wiring in again" in screen.ask("table light", finding=0)["error"]


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"ask": "table", "task": "W99", "kept": KEPT}, "W99"),
        ({"ask": "table", "task": 7, "kept": KEPT}, "7"),
        ({"ask": "table", "task": [], "kept": KEPT}, "unhashable"),
        ({"ask": "table", "task": "W15"}, "kept must be an object; got None"),
        ({"ask": "table", "task": "W15", "kept": {**KEPT, "spent": -1}}, "kept.spent is -1"),
        ({"ask": "table", "task": "W15", "kept": {**KEPT, "spent": True}}, "kept.spent is True"),
        ({"ask": "table", "task": "W15", "kept": {**KEPT, "stands": 1}}, "kept.stands is 1"),
        ({"ask": "table", "task": "W15", "kept": {**KEPT, "more": 1}}, "unknown ['more']"),
        ({"ask": "table", "task": "W15", "kept": {**KEPT, "answers": {"x": 1}}}, "'x', which is no question"),
        ({"ask": "table", "task": "W15", "kept": {**KEPT, "answers": {"stat idle": [1]}}}, "answers['stat idle'] is [1]"),
        ({"ask": "table", "task": "W15", "kept": {**KEPT, "answers": []}}, "one answer a question; got []"),
        ({"ask": "table act", "number": 5, "act": {}}, "no open table 5"),
        ({"ask": "table wiring"}, "no open table None"),
    ],
)
def test_a_request_that_cannot_be_answered_gets_a_sentence(asked, words):
    """What a screen should not ask comes back as a sentence that shows the value."""
    assert words in json.loads(Desk().handle(json.dumps(asked)))["error"]


@pytest.mark.parametrize("act", [{"do": "power"}, {"do": "power", "on": 1}, {"do": "fly"}, {"do": "call", "stat": "x"}])
def test_a_refused_act_changes_nothing(act):
    """An act that cannot be done leaves log and plant as they are."""
    screen = Screen()
    before = screen.lay("W15", LAMP)["view"]
    assert "error" in screen.act(**act)
    table = screen.desk.tables.table({"number": screen.number})
    assert table.view() == before


def test_few_tables_are_kept_open():
    """A screen that opens table after table keeps the latest ones."""
    screen = Screen()
    numbers = [screen.lay("W15")["number"] for _ in range(10)]
    screen.number = numbers[0]
    assert "no open table" in screen.ask("table light", light=False)["error"]
    screen.number = numbers[-1]
    assert "drawing" in screen.ask("table light", light=False)


def test_every_part_of_every_task_can_be_laid():
    """Each task of the course begins on the table: drawn, with its questions as data that a screen can show."""
    from solvers.jobs.wireups import IDS

    for task in IDS:
        answer = Screen().lay(task)
        assert {each["kind"] for each in answer["task"]["questions"]} <= {"leads", "number", "choice"}
        assert any(isinstance(part, Fuse) for part in wire_up(task).parts)


# In a notebook


@pytest.fixture
def widget(tmp_path):
    """A widget for W15 that answers in place of sending, and the path of its wiring."""

    def made(**options: object) -> WiringWidget:
        return WiringWidget(options.pop("task", "W15"), folder=tmp_path, **options)

    made.path = tmp_path / "W15.wiring.json"
    return made


def test_the_wiring_is_kept_whole_after_every_change(widget):
    """The file holds the last wiring kept, and nothing else is left in the folder."""
    table = widget()
    assert table.answer({"ask": "begin"}) == {"wiring": None, "kept": None, "notice": ""}
    for wiring in (Wiring(), LAMP):
        assert table.answer({"ask": "keep", "wiring": written(wiring)}) == {"kept": "W15.wiring.json"}
        assert parsed(widget.path.read_bytes()) == wiring
    assert list(widget.path.parent.iterdir()) == [widget.path]


def test_a_wiring_on_disk_is_gone_on_with(widget):
    """A new widget finds the wiring of the one before."""
    widget().answer({"ask": "keep", "wiring": written(LAMP)})
    assert parsed(widget().answer({"ask": "begin"})["wiring"]) == LAMP


def test_a_wiring_that_cannot_be_read_is_put_aside(widget):
    """A damaged file, or one of another task, is kept under another name and said to be so; nothing is lost."""
    strange = written(joined("relay.A1 > transformer.C")).encode()
    for number, content in enumerate((b"{", strange), 1):
        widget.path.write_bytes(content)
        found = widget().answer({"ask": "begin"})
        assert found["wiring"] is None
        assert f"W15.wiring.kept-{number}.json" in found["notice"]
        assert widget.path.with_name(f"W15.wiring.kept-{number}.json").read_bytes() == content


def test_a_file_changed_elsewhere_is_not_overwritten(widget):
    """When another program has written the file, saving is refused and its content stays."""
    table = widget()
    table.answer({"ask": "keep", "wiring": written(LAMP)})
    widget.path.write_text(written(SHORTED), encoding="utf-8")
    assert "changed outside" in table.answer({"ask": "keep", "wiring": written(LAMP)})["error"]
    assert parsed(widget.path.read_bytes()) == SHORTED


def test_answers_and_fuses_are_kept_beside_the_wiring(widget):
    """A widget made anew begins with what the one before had noted; what cannot be read is put aside and said."""
    kept = {"seed": "a", "spent": 1, "stands": True, "answers": IDLE}
    assert widget().answer({"ask": "note", "kept": kept}) == {"kept": "W15.answers.json"}
    assert widget().answer({"ask": "begin"}) == {"wiring": None, "kept": kept, "notice": ""}
    assert "kept.spent" in widget().answer({"ask": "note", "kept": {**kept, "spent": "none"}})["error"]
    widget.path.with_name("W15.answers.json").write_text("{}", encoding="utf-8")
    begun = widget().answer({"ask": "begin"})
    assert begun["kept"] is None
    assert "W15.answers.kept-1.json" in begun["notice"]
    assert [path.name for path in widget.path.parent.iterdir()] == ["W15.answers.kept-1.json"]


def test_a_widget_says_how_far_a_judgement_has_come(widget, slow):
    """While a long judgement runs its messages come under its id, before its answer."""
    table, sent = widget(task="W7"), []
    table.send = lambda content, buffers=None: sent.append(content)
    wiring = written(RIGHT["W7"]["in connectors"])
    table._handle_custom_msg({"id": 1, "request": {"ask": "table", "task": "W7", "wiring": wiring, "kept": KEPT}}, [])
    number = sent.pop()["response"]["number"]
    table._handle_custom_msg({"id": 2, "request": {"ask": "table hand in", "number": number}}, [])
    *told, answer = sent
    assert told
    assert {each["id"] for each in sent} == {2}
    assert answer["response"]["works"]
    done = [each["progress"]["done"] for each in told]
    assert done == sorted({*done})
    assert done[-1] == told[-1]["progress"]["total"]


def test_what_is_no_wiring_is_not_kept(widget):
    """A text that is no wiring is refused and makes no file."""
    for text in ("", "{", None, 7):
        assert "error" in widget().answer({"ask": "keep", "wiring": text})
    assert list(widget.path.parent.iterdir()) == []


def test_a_widget_for_nothing_is_refused(widget):
    """An unknown task is refused when the widget is made."""
    with pytest.raises(ValueError, match="W99"):
        widget(task="W99")


def test_a_message_is_answered_under_its_id(widget):
    """The widget answers a custom message with what the desk says, and leaves alone what is none."""
    table, sent = widget(), []
    table.send = lambda content, buffers=None: sent.append(content)
    table._handle_custom_msg("hello", [])
    table._handle_custom_msg({"id": 3, "request": {"ask": "table", "task": "W15", "wiring": None, "kept": KEPT}}, [])
    (answer,) = sent
    assert answer["id"] == 3
    assert answer["response"]["task"]["id"] == "W15"


ASKED = """
import {{ asking }} from "{module}";
let heard;
const sent = [];
const off = () => (heard = undefined);
const {{ ask, stop }} = asking({{ on: (_, hear) => (heard = hear), off, send: (message) => sent.push(message) }});
const told = [];
const [first, second] = [ask({{ ask: "a" }}, (each) => told.push(each)), ask({{ ask: "b" }})];
const [one, two] = sent.map(({{ id }}) => id);
heard({{ id: one, progress: {{ done: 1, total: 2 }} }});
heard({{ id: two, progress: {{ done: 9, total: 9 }} }});
heard({{ id: one, progress: {{ done: 2, total: 2 }} }});
heard({{ id: "of nobody", progress: {{ done: 1, total: 1 }} }});
heard({{ id: two, response: "late" }});
heard({{ id: one, response: "early" }});
const answers = [await first, await second];
stop();
console.log(JSON.stringify({{ told, answers, stopped: heard === undefined }}));
"""


def test_a_notebooks_screen_hears_progress_before_the_answer(needs_tool, tmp_path):
    """Each asker hears the progress of its own request and no other's, and then its answer."""
    module = (Path(page.__file__).parent / "notebook-asking.mjs").as_uri()
    path = tmp_path / "asked.mjs"
    path.write_text(ASKED.format(module=module), encoding="utf-8")
    done = subprocess.run([needs_tool("node"), str(path)], capture_output=True, text=True, check=False, timeout=60)
    assert (done.returncode, done.stderr) == (0, "")
    told = [{"done": 1, "total": 2}, {"done": 2, "total": 2}]
    assert json.loads(done.stdout) == {"told": told, "answers": ["early", "late"], "stopped": True}


def test_the_tables_script_is_one_sound_module(needs_tool, tmp_path):
    """A JavaScript engine takes the table's joined script as a module with one default export and no import left."""
    joined_script = script(TABLE_MODULES)
    lines = joined_script.splitlines()
    assert [line for line in lines if line.startswith("import ")] == []
    assert [line for line in lines if line.startswith("export ")] == ["export default { render };"]
    path = tmp_path / "table.mjs"
    path.write_text(joined_script, encoding="utf-8")
    done = subprocess.run([needs_tool("node"), "--check", str(path)], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")
