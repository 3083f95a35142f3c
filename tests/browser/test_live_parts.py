"""Explorers, the valve against the clock, self-checks and progress in a real browser: by keyboard, on a phone, nothing moving."""

import pytest
from browser.chromium import opened

from solvers.chapters.explorers import EXPLORERS
from solvers.chapters.quiz import asked
from solvers.chapters.section_clock import happened, story
from solvers.jobs import mastery, returning
from solvers.jobs.questions import checked

LONG = 120_000  # ms, a browser's Python on a busy machine
PAGE = "03-heater-loops.html"
PLAIN = '<div class="self-check" data-chapter="heater-loops" data-count="5">'
KEPT = {"returning": "call-for-heat/returning", "mastery": "call-for-heat/mastery"}
NOW = 1.7e9


def _put(page, markup):
    """The page with another live part in the place of its self-check."""

    def answered(route):
        got = route.fetch()
        assert PLAIN in got.text()
        route.fulfill(response=got, body=got.text().replace(PLAIN, markup))

    page.route(f"**/{PAGE}", answered)


def _started(page, selector):
    """The live part, once it has taken the place of what the element held."""
    element = page.locator(selector)
    element.locator(".bench-start button").click()
    element.locator(".live-part").wait_for(timeout=LONG)
    return element


def _reads(element, label, text):
    """Wait until a reading says this."""
    row = element.locator(".readings > div", has=element.page.get_by_text(label, exact=True))
    row.locator("dd").get_by_text(text, exact=True).wait_for(timeout=30_000)


def _kept(page, name):
    return page.evaluate("place => localStorage.getItem(place)", KEPT[name])


def test_an_explorer_by_keyboard(site, chromium):
    """Arrow keys move the slider, and readings, words, chart and the slider's own words follow as the package computes them."""
    with opened(chromium, 1280, 900) as (page, seen):
        page.goto(f"{site}{PAGE}")
        element = _started(page, '.explorer[data-name="warm-up"]')
        slider = element.locator('input[data-name="volts"]')
        slider.focus()
        for _ in range(40):
            page.keyboard.press("ArrowLeft")
        expected = EXPLORERS["warm-up"].shown({"volts": 20.0, "air": 20})
        for reading in expected.readings:
            _reads(element, reading.label, reading.text)
        assert slider.get_attribute("aria-valuetext") == "20.0 V"
        assert element.locator(".words").inner_text() == expected.words
        assert element.locator(".picture svg desc").text_content() == expected.drawn
        element.get_by_role("status").get_by_text(expected.words).wait_for(state="attached", timeout=5000)
        assert seen.complaints == []
        assert seen.outside() == []


@pytest.mark.slow
def test_choices_by_keyboard(site, chromium):
    """A list and radio buttons answer to arrow keys as well, and each choice is computed."""
    with opened(chromium, 1280, 900) as (page, _):
        page.goto(f"{site}{PAGE}")
        element = _started(page, '.explorer[data-name="continuity"]')
        element.locator('select[data-name="part"]').focus()
        page.keyboard.press("ArrowDown")
        element.get_by_role("radio", name="both leads landed").focus()
        page.keyboard.press("ArrowRight")
        values = {**EXPLORERS["continuity"].defaults, "part": "broken heater", "lead": "one lead lifted"}
        for reading in EXPLORERS["continuity"].shown(values).readings:
            _reads(element, reading.label, reading.text)


def test_the_valve_against_the_clock(site, chromium):
    """Call, hurry and step by keyboard: the section moves, and what happened is told at the package's own times."""
    with opened(chromium, 1280, 900) as (page, seen):
        page.goto(f"{site}{PAGE}")
        element = _started(page, ".section-clock")
        cold = element.locator(".section svg").inner_html()
        element.get_by_role("button", name="Call", exact=True).focus()
        page.keyboard.press("Enter")
        element.get_by_role("button", name="Pause").focus()
        page.keyboard.press("Enter")
        step = element.get_by_role("button", name="+60 s")
        for _ in range(2):
            before = element.locator(".time").inner_text()
            step.focus()
            page.keyboard.press("Enter")
            page.wait_for_function(
                "([node, before]) => node.textContent !== before", arg=[element.locator(".time").element_handle(), before]
            )
        values = {"kind": "heat motor", "volts": 24.0, "air": 20}
        expected = [
            f"{int(time) // 60}:{int(time) % 60:02d} {words}" for time, words in happened(story(values, [[0, True]]), 119)
        ]
        element.locator(".events li").nth(len(expected) - 1).wait_for(timeout=30_000)
        assert [" ".join(line.split()) for line in element.locator(".events li").all_inner_texts()] == expected
        _reads(element, "end switch", "made")
        assert element.locator(".section svg").inner_html() != cold
        element.get_by_text("Everything since the last change").click()
        element.locator(".record svg").wait_for(timeout=30_000)
        element.get_by_role("radio", name="motor with spring return").check()
        _reads(element, "end switch", "open")
        assert element.locator(".time").inner_text() == "0:00"
        assert element.locator(".events li").count() == 0
        assert seen.complaints == []


def _wrong(question):
    """An answer of the question's form that is not right."""
    if question.form == "number":
        return question.expected + 10 * question.tolerance
    if question.form == "choice":
        return next(each for each in question.choices if each != question.expected)
    if question.form == "choices":
        return [each for each in question.choices if each not in question.expected]
    return list(reversed(question.expected))


def _given(element, question, answer):
    """Put an answer in as a learner would, by keyboard where there is something to press."""
    if question.form == "number":
        element.locator("input[type=text]").fill(f"{answer:.6f}")
    elif question.form == "order":
        for place, step in enumerate(answer):
            while (now := element.locator(".order > li > .step > span:first-child").all_inner_texts().index(step)) != place:
                element.get_by_role("button", name=f"up: {step}", exact=True).focus()
                element.page.keyboard.press("Enter")
                assert (
                    element.locator(".order > li")
                    .nth(now - 1)
                    .get_by_role("button", name=f"up: {step}")
                    .evaluate("node => node === document.activeElement")
                )
    else:
        wanted = [answer] if isinstance(answer, str) else answer
        for field in element.locator(".lines input").all():
            if field.get_attribute("value") in wanted or question.form == "choices":
                field.set_checked(field.get_attribute("value") in wanted)
    element.get_by_role("button", name="Check").focus()
    element.page.keyboard.press("Enter")


def _question(element, chapter, level=1):
    data = element.locator(".asked").evaluate("node => ({...node.dataset})")
    return asked(chapter, data["kind"], data["seed"], level)


def _played(element, chapter, count):
    """Every question answered wrong, then right; the kinds that were missed."""
    missed = []
    for number in range(1, count + 1):
        element.get_by_text(f"Question {number} of {count}").wait_for(timeout=30_000)
        question = _question(element, chapter)
        wrong = _wrong(question)
        _given(element, question, wrong)
        element.locator(".reply .not-yet").wait_for(timeout=30_000)
        assert checked(question, wrong).words in element.locator(".reply").inner_text()
        _given(element, question, list(question.expected) if isinstance(question.expected, tuple) else question.expected)
        element.locator(".reply .right").wait_for(timeout=30_000)
        assert question.why in element.locator(".reply").inner_text()
        missed.append(f"{chapter}/{question.kind}")
        element.locator(".acts button").last.click()
    element.get_by_text(f"0 of {count} right at the first answer").wait_for()
    return missed


def test_a_self_check_wrong_then_right(site, chromium):
    """Each question: a hint for the wrong answer, the working for the right one; what was missed is kept and comes back."""
    with opened(chromium, 1280, 900) as (page, seen):
        page.goto(f"{site}{PAGE}")
        element = _started(page, ".self-check")
        missed = _played(element, "heater-loops", 5)
        kept = returning.parsed(_kept(page, "returning"))
        assert sorted(kept.missed) == sorted(missed)
        shown = mastery.parsed(_kept(page, "mastery"))
        assert len(shown.showings) == 5
        assert not any(each.shown for each in shown.showings)
        soon = returning.Returning({kind: returning.Missed(0, 0.0) for kind in missed[:1]})
        page.evaluate("([place, text]) => localStorage.setItem(place, text)", [KEPT["returning"], returning.written(soon)])
        element.get_by_role("button", name="Others, please").click()
        element.get_by_text("Question 1 of 5, back again").wait_for(timeout=30_000)
        assert f"heater-loops/{_question(element, 'heater-loops').kind}" == missed[0]
        assert seen.complaints == []


@pytest.mark.slow
def test_an_order_needs_no_pointer(site, chromium):
    """Steps are put in order by two buttons each; focus stays with the step that moves."""
    markup = '<div class="self-check" data-chapter="step-down-power" data-count="1" data-kinds="order the safe-work steps">'
    with opened(chromium, 1280, 900) as (page, _):
        _put(page, markup)
        page.goto(f"{site}{PAGE}")
        element = _started(page, ".self-check")
        assert _question(element, "step-down-power").form == "order"
        _played(element, "step-down-power", 1)


@pytest.mark.slow
def test_a_number_that_is_none_is_told_beside_the_field(site, chromium):
    """Words where a number is asked for are no answer: nothing is judged or kept."""
    markup = '<div class="self-check" data-chapter="heater-loops" data-count="1" data-kinds="predict the amperes">'
    with opened(chromium, 1280, 900) as (page, _):
        _put(page, markup)
        page.goto(f"{site}{PAGE}")
        element = _started(page, ".self-check")
        element.locator("input[type=text]").fill("about one")
        page.keyboard.press("Enter")
        element.locator(".problem").get_by_text("Give a number").wait_for()
        assert _kept(page, "returning") is None


LIST = '<div class="progress-list">'


@pytest.mark.slow
def test_progress_is_listed_taken_out_and_taken_in(site, chromium, tmp_path):
    """35 objectives with their states; the file that comes out reads back; another one is added; a bad one changes nothing."""
    one = mastery.noted(mastery.Progress(), ["3.1", "3.2"], seed="a", at=NOW, shown=True)
    other = mastery.noted(mastery.Progress(), ["3.1"], seed="b", at=NOW + 90_000, shown=True)
    (tmp_path / "other.json").write_text(mastery.written(other), encoding="utf-8")
    (tmp_path / "bad.json").write_text("{", encoding="utf-8")
    with opened(chromium, 1280, 900) as (page, _):
        _put(page, LIST)
        page.goto(f"{site}{PAGE}")
        page.evaluate("([place, text]) => localStorage.setItem(place, text)", [KEPT["mastery"], mastery.written(one)])
        element = _started(page, ".progress-list")
        assert element.locator(".objectives > li").count() == 35
        assert element.locator('[data-number="3.1"]').get_attribute("data-state") == "shown once"
        with page.expect_download() as download:
            element.get_by_role("button", name="Save to a file").click()
        assert mastery.parsed(download.value.path().read_bytes()) == one
        element.locator("input[type=file]").set_input_files(tmp_path / "bad.json")
        element.locator(".problem").get_by_text("damaged").wait_for(timeout=30_000)
        assert mastery.parsed(_kept(page, "mastery")) == one
        element.locator("input[type=file]").set_input_files(tmp_path / "other.json")
        element.get_by_text("1 of 35 objectives count").wait_for(timeout=30_000)
        assert element.locator('[data-number="3.1"]').get_attribute("data-state") == "counts"
        assert mastery.parsed(_kept(page, "mastery")) == mastery.merged(one, other)


@pytest.mark.slow
@pytest.mark.parametrize("bad", ["garbage", '{"format": "call-for-heat returning 7"}'])
def test_what_cannot_be_read_is_never_lost(site, chromium, bad):
    """A kept text that Python refuses lies beside the new one afterwards, letter for letter, and the learner is told."""
    with opened(chromium, 1280, 900) as (page, _):
        page.goto(f"{site}{PAGE}")
        page.evaluate("([place, text]) => localStorage.setItem(place, text)", [KEPT["returning"], bad])
        element = _started(page, ".self-check")
        question = _question(element, "heater-loops")
        _given(element, question, _wrong(question))
        element.locator(".reply .not-yet").wait_for(timeout=30_000)
        element.locator(".notice").get_by_text("put aside").wait_for()
        assert page.evaluate("place => localStorage.getItem(place)", f"{KEPT['returning']}/put aside 1") == bad
        assert list(returning.parsed(_kept(page, "returning")).missed) == [f"heater-loops/{question.kind}"]


NOTED = """async (address) => {
  const { noting } = await import(address);
  const heard = [];
  const ask = async (request) => {
    heard.push(request);
    if (request.ask === "practice") return { number: 7, job: { id: "heater-loops/1/x" } };
    if (request.ask === "marks") return { objectives: [{ number: "3.1", words: "" }], gates: [] };
    return { mastery: "noted", set_aside: [] };
  };
  const watched = noting(ask);
  await watched({ ask: "practice" });
  await watched({ ask: "marks", number: 7 });
  return { last: heard.at(-1), kept: localStorage.getItem("call-for-heat/mastery") };
}"""


@pytest.mark.slow
def test_marks_are_noted_as_progress(site, chromium):
    """What the marks of a job show is noted under the job's own name, without the bench knowing of it."""
    with opened(chromium, 1280, 900) as (page, _):
        page.goto(f"{site}{PAGE}")
        course = page.evaluate("async () => (await fetch('_static/live/course.json')).json()")
        found = page.evaluate(NOTED, f"{site}_static/live/{course['kept']}")
        assert found["kept"] == "noted"
        assert {name: found["last"][name] for name in ("ask", "objectives", "seed", "gate")} == {
            "ask": "progress note",
            "objectives": ["3.1"],
            "seed": "heater-loops/1/x",
            "gate": False,
        }


PARTS = ('.explorer[data-name="warm-up"]', '.explorer[data-name="continuity"]', ".section-clock", ".self-check")


@pytest.mark.slow
@pytest.mark.parametrize(("width", "height"), [(390, 844), (1280, 900)])
def test_nothing_moves_below_a_live_part(site, chromium, width, height):
    """Started and used, each part keeps its height, so the rest of the page stands still; nothing is wider than the screen."""
    markup = PLAIN.replace(">", ' data-kinds="predict the amperes">').replace('"5"', '"1"')
    with opened(chromium, width, height, touch=width < 500) as (page, seen):
        _put(page, markup)
        page.goto(f"{site}{PAGE}")
        heights = {part: page.locator(part).bounding_box()["height"] for part in PARTS}
        for part in PARTS:
            element = _started(page, part)
            if "explorer" in part and element.locator("input[type=range]").count():
                element.locator("input[type=range]").first.focus()
                page.keyboard.press("Home")
                _reads(element, "end switch makes", "never")
            assert element.bounding_box()["height"] == heights[part], part
        assert page.evaluate("document.documentElement.scrollWidth") == width
        assert seen.complaints == []


@pytest.mark.slow
def test_a_thumb_finds_every_control(site, chromium):
    """On a phone every button, list and slider is 44 pixels high, and every choice with its words is."""
    with opened(chromium, 390, 844, touch=True) as (page, _):
        page.goto(f"{site}{PAGE}")
        for part in PARTS:
            element = _started(page, part)
            small = element.evaluate(
                """node => [...node.querySelectorAll("button, select, input[type=range], input[type=text], label:has(input)")]
                  .filter((each) => each.offsetParent && each.getBoundingClientRect().height < 43.9)
                  .map((each) => each.outerHTML)"""
            )
            assert small == [], part


def test_before_it_starts_the_drawing_stands_there(site, chromium):
    """Without a press no Python starts or is fetched, and what the part will show stands there as drawing or text."""
    with opened(chromium, 1280, 900) as (page, seen):
        page.goto(f"{site}{PAGE}")
        for part in PARTS[:3]:
            assert page.locator(f"{part} .drawing svg").is_visible()
        assert "hint" in page.locator(".self-check > p").inner_text()
        assert page.workers == []
        assert not [url for url in seen.asked if "pyodide" in url]
        assert seen.complaints == []
