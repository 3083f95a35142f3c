"""Graded labs in a real browser: a file opened, worked, kept, saved and gone on with; and nothing of an answer in the page."""

import json
from pathlib import Path

import pytest
from browser.chromium import opened
from browser.labs import Door, LabBench
from lab_files import JOB, LEARNER, QUESTIONS, SET, TABLE, careful_acts, files, job, sealed_text

from solvers.jobs import question_set, wiring_task
from solvers.jobs.marking import mark
from solvers.jobs.sealed import named
from solvers.jobs.sealed import opened as sealed_opened
from solvers.jobs.sheet import parsed
from solvers.screens.site import html_folder

BOOK = Path(__file__).resolve().parents[2] / "book"
NO_OVERFLOW = "document.documentElement.scrollWidth <= innerWidth"
FIT_FOR_A_THUMB = """() => [...document.querySelectorAll('.lab-desk :is(button, select)')].filter((node) => node.offsetParent)
    .map((node) => [node.textContent, node.getBoundingClientRect()])
    .filter(([, box]) => box.height < 43.5).map(([text]) => text)"""


def _listed():
    return [dict(act) for act in sealed_opened(sealed_text()).rules.repairs]


def test_a_sealed_job_to_full_marks(site, chromium, tmp_path):
    """Worked by the screen's controls from the first reading to the verdict, saved, marked in full; and there after a reload."""
    acts, sheet = careful_acts()
    with opened(chromium, 1280, 900) as (page, seen):
        door = Door(page, site, tmp_path)
        door.bring("Open a lab file", sealed_text(), "anna.job.json")
        door.told(f"Lab {JOB}, {LEARNER}")
        bench, listed = LabBench(door, job()), _listed()
        assert len(listed) == len(bench.repairs)
        assert job().story in bench.root.inner_text()
        for act in acts:
            bench.done(act, listed)
        done = bench.root.get_by_role("region", name="Marks")
        done.get_by_text("Save your sheet and give the file to your instructor").wait_for()
        assert not bench.root.get_by_role("button", name="Look inside the valves").is_visible()
        name, text = door.saved()
        assert f"{LEARNER}.{JOB}.sheet.json" == name
        saved = parsed(text)
        assert (parsed(sheet).log, parsed(sheet).verdict) == (saved.log, saved.verdict)
        marks = mark(job(), named(saved, job()))
        assert 90 == marks.points
        assert {"verdict": 20.0}.items() <= {line.criterion: line.points for line in marks.lines}.items()
        door.come()
        door.root.get_by_role("button", name=f"Go on with {JOB}, {LEARNER}").click()
        again = LabBench(door, job())
        assert len(saved.log) == again.lines
        assert saved.log == again.sheet().log
        assert [] == seen.outside()
        assert [] == seen.complaints


def test_supplies_repairs_and_refusals(site, chromium, tmp_path):
    """Supplies go by one button, a wait is entered by itself, a refusal is a sentence, and no other repair is offered."""
    with opened(chromium, 1280, 900) as (page, seen):
        door = Door(page, site, tmp_path)
        door.drop(sealed_text())
        bench = LabBench(door, job())
        bench.press("Call zone 2, " + job().rooms["zone2"])
        before = bench.lines
        assert "switched off" in bench.press("Switch all supplies off")
        assert before + 3 == bench.lines  # a wait and two supplies
        assert "wait 20 min" in bench.root.locator(".log-lines").inner_text()
        bench.press("Switch all supplies on")
        stood = bench.lines
        leads = bench.group("Leads")
        leads.get_by_label("Test point").select_option("transformer.R")
        leads.get_by_role("button", name="Lift the lead").click()
        leads.get_by_text("not among what this job admits").wait_for()
        assert stood == bench.root.locator(".log-lines li").count()
        bench.kit("Tools and parts")
        shown = bench.root.locator(".acts > [data-kit=tools]:visible")
        assert ["Repairs"] == shown.evaluate_all("nodes => nodes.map((node) => node.ariaLabel)")
        assert [] == seen.complaints


def test_a_sheet_from_elsewhere(site, chromium, tmp_path):
    """A saved sheet is gone on with on another device; a neighbour's and a changed one are refused, and what stands stays."""
    _, sheet = careful_acts()
    with opened(chromium, 1280, 900) as (page, seen):
        door = Door(page, site, tmp_path)
        door.bring("Open a lab file", sheet)
        door.told("open the lab file first")
        door.bring("Open a lab file", sealed_text())
        bench = LabBench(door, job())
        bench.press("Call zone 2, " + job().rooms["zone2"])
        body = json.loads(sheet)
        body["log"][0]["text"] = body["log"][0]["signal"] = "Nothing at all."
        door.bring("Go on with a saved sheet", json.dumps(body))
        door.told("line 1")
        door.bring("Go on with a saved sheet", json.dumps(body | {"job": body["job"] | {"seed": f"{JOB}/ben"}}))
        door.told(f"{JOB}/ben")
        assert 1 == bench.root.locator(".log-lines li").count()
        door.bring("Go on with a saved sheet", sheet)
        page.get_by_role("button", name="Go on with it", exact=True).click()
        page.wait_for_function("lines => document.querySelectorAll('.log-lines li').length === lines", arg=len(parsed(sheet).log))
        assert parsed(sheet).verdict == parsed(door.saved()[1]).verdict
        kept = page.evaluate("Object.keys(localStorage).filter((name) => name.includes('put aside')).length")
        assert 1 == kept  # what stood there before
        assert [] == seen.complaints


def test_a_set_of_questions(site, chromium, tmp_path):
    """All forms answered, kept as they are given, saved, marked in full, and there after a reload; no marks are shown."""
    with opened(chromium, 1280, 900) as (page, seen):
        door = Door(page, site, tmp_path)
        door.bring("Open a lab file", files()["questions"])
        door.told(f"Lab {SET}, {LEARNER}")
        asked = door.root.locator(".cfh-questions > .questions > li")
        assert len(QUESTIONS) == asked.count()
        number, choice, choices, order = QUESTIONS
        field = asked.nth(0).get_by_role("textbox")
        field.fill("a lot")
        field.blur()
        asked.nth(0).get_by_text("Give a number").wait_for()
        field.fill(f"{number.expected:.3f}".replace(".", ","))
        asked.nth(1).get_by_label(choice.expected, exact=True).check()
        for one in choices.expected:
            asked.nth(2).get_by_label(one, exact=True).check()
        for place, step in enumerate(order.expected):
            while asked.nth(3).locator(".step > span:first-child").all_text_contents()[place] != step:
                asked.nth(3).get_by_role("button", name=f"up: {step}", exact=True).click()
        asked.nth(3).get_by_role("button", name="Keep this order").click()
        door.root.get_by_label("Your explanation").fill("First the loop.")
        door.root.get_by_text("4 of 4 answered").wait_for()
        name, text = door.saved()
        assert f"{LEARNER}.{SET}.sheet.json" == name
        sheet = question_set.sheet_parsed(text)
        assert question_set.OUT_OF == question_set.marked(QUESTIONS, sheet.answers).points
        assert "First the loop." == sheet.explanation
        told = door.root.inner_text()
        assert not any(word in told.lower() for word in ("not yet.", "right at", "wrong"))
        door.come()
        door.root.get_by_role("button", name=f"Go on with {SET}, {LEARNER}").click()
        door.root.get_by_text("4 of 4 answered").wait_for()
        assert sheet.answers == question_set.sheet_parsed(door.saved()[1]).answers
        assert [] == seen.complaints


def test_a_wire_up(site, chromium, tmp_path):
    """Two parts joined, the question at the end answered, the sheet saved and there after a reload; nothing is judged."""
    with opened(chromium, 1280, 900) as (page, seen):
        door = Door(page, site, tmp_path)
        door.bring("Open a lab file", files()["wire-up"])
        door.told(f"Lab {TABLE}, {LEARNER}")
        table = door.root.locator(".cfh-table")
        table.locator(".point-target").first.wait_for()
        for terminal in ("transformer.R", "fuse.in"):
            table.locator(f'[data-terminal="{terminal}"]').click()
        table.get_by_role("button", name="Join", exact=True).first.click()
        table.get_by_text("1 wire on the table").first.wait_for()
        table.get_by_role("button", name="hand in", exact=True).click()
        assert not table.locator(".hand-in > button").is_visible()  # the one that has a wiring judged
        table.get_by_role("button", name="Ask me about my wiring").click()
        asked = table.locator('[data-question="prediction"]')
        asked.get_by_role("textbox").fill("24")
        table.get_by_label("Why it works").fill("It does not yet.")
        name, text = door.saved()
        assert f"{LEARNER}.{TABLE}.sheet.json" == name
        sheet = wiring_task.sheet_parsed(text, wiring_task.opened(files()["wire-up"]).made)
        assert (1, 24.0, "It does not yet.") == (len(sheet.wiring.wires), sheet.prediction, sheet.explanation)
        door.come()
        door.root.get_by_role("button", name=f"Go on with {TABLE}, {LEARNER}").click()
        table.locator(".point-target").first.wait_for()
        table.get_by_role("button", name="hand in", exact=True).click()
        assert "24" == asked.get_by_role("textbox").input_value()
        assert sheet.wiring == wiring_task.sheet_parsed(door.saved()[1], wiring_task.opened(files()["wire-up"]).made).wiring
        assert [] == seen.complaints


@pytest.mark.parametrize("kind", ["job", "wire-up", "questions"])
def test_on_a_phone(site, chromium, tmp_path, kind):
    """At 390 px nothing runs over the side, and each control is big enough for a thumb, in every panel."""
    with opened(chromium, 390, 844, touch=True) as (page, seen):
        door = Door(page, site, tmp_path)
        assert page.evaluate(NO_OVERFLOW)
        door.bring("Open a lab file", files()[kind])
        door.told(f"{LEARNER}. What you do")
        tabs = door.root.locator(".tabs button")
        for place in range(tabs.count()):
            tabs.nth(place).tap()
            assert page.evaluate(NO_OVERFLOW), place
            assert [] == page.evaluate(FIT_FOR_A_THUMB), place
        assert page.evaluate(NO_OVERFLOW)
        assert [] == seen.complaints


def test_a_lab_without_a_network(site, chromium, tmp_path):
    """Once a lab has been started, the page, its Python and the lab all work with the network gone."""
    with opened(chromium, 1280, 900) as (page, seen):
        door = Door(page, site, tmp_path)
        page.wait_for_function(RUNTIME_KEPT, timeout=120_000)
        page.context.set_offline(True)
        door.come()
        door.bring("Open a lab file", sealed_text())
        bench = LabBench(door, job())
        assert " V" in bench.read("volts", "transformer.R", "transformer.C")
        assert [] == seen.outside()


RUNTIME_KEPT = """async () => {
    const found = [];
    for (const name of await caches.keys()) for (const { url } of await (await caches.open(name)).keys()) found.push(url);
    return found.some((url) => url.endsWith("pyodide.asm.wasm")) && found.some((url) => url.includes("16-graded-labs"));
}"""


def test_no_page_holds_an_answer(site, chromium, tmp_path):
    """Neither the site's files nor an open lab page hold the answer's id, row or seed; its words are in the list alone."""
    needles = (*job().answers, *(f'"{fault.row}"' for fault in job().faults), '"lab/1"')
    assets = [
        path for path in html_folder(BOOK).rglob("*") if path.is_file() and path.suffix in (".html", ".js", ".mjs", ".json")
    ]
    assert any(path.name == "lab.mjs" for path in assets)
    for path in assets:
        text = path.read_text(encoding="utf-8", errors="replace")
        assert [] == [needle for needle in needles if needle in text], path
    with opened(chromium, 1280, 900) as (page, _):
        door = Door(page, site, tmp_path)
        door.bring("Open a lab file", sealed_text())
        bench = LabBench(door, job())
        bench.press("Call zone 2, " + job().rooms["zone2"])
        held = page.evaluate("JSON.stringify(localStorage) + document.documentElement.outerHTML")
        assert [] == [needle for needle in needles if needle.strip('"') in held]
        for suspect in job().suspects:
            assert 2 == held.count(suspect.words)  # in the list of suspects and in the lab file that is kept


def test_no_lab_file_or_sheet_holds_an_answer():
    """What a learner gets and hands in names no suspect by its id, and neither the fault's id nor the secret seed."""
    _, sheet = careful_acts()
    ids = [suspect.id for suspect in job().suspects] + [fault.row for fault in job().faults]
    for text in (sealed_text(), sheet):
        assert [] == [id for id in ids if id in text]
        assert "lab/1" not in text
