"""The live parts in a notebook, of plain ipywidgets: an explorer, a valve against the clock, a self-check."""

from __future__ import annotations

import json
import time
from collections.abc import Callable, Mapping
from html import escape
from pathlib import Path

import ipywidgets as widgets

from ..chapters.section_clock import LONGEST
from ..classroom.files import saved
from ..jobs.job import JobError
from .exploring import ASKS
from .notebook import put_aside

__all__ = ["clock_box", "explorer_box", "kept_files", "self_check_box"]

WIDE = widgets.Layout(width="28rem")
LONG_LABEL = {"description_width": "14rem"}
TICK_MS = 500
A_TICK_S = 5
COUNT = 5


def explorer_box(name: str) -> widgets.VBox:
    """The explorer of that name: its question, something to set, and what the package computes. Raises JobError."""
    first = _asked(ask="explorer", name=name)
    readings, words, picture = widgets.HTML(), widgets.HTML(), widgets.HTML()
    values = dict(first["values"])

    def show(answer: Mapping[str, object]) -> None:
        readings.value = _readings(answer["readings"])
        words.value = f"<p>{escape(answer['words'])}</p>"
        picture.value = _picture(answer["svg"])

    def changed(name_of_input: str, value: object) -> None:
        values[name_of_input] = value
        show(_asked(ask="explorer shows", name=name, values=values))

    inputs = [_input(each, values[each["name"]], changed) for each in first["inputs"]]
    show(first)
    head = widgets.HTML(f"<p><b>{escape(first['title'])}</b></p><p>{escape(first['question'])}</p>")
    return widgets.VBox([head, widgets.HBox([widgets.VBox([*inputs, readings]), picture]), words])


def clock_box() -> widgets.VBox:
    """A valve in section beside its curve, with a call to put on and a clock that plays."""
    first = _asked(ask="section clock")
    section, curve, readings, told = widgets.HTML(), widgets.HTML(), widgets.HTML(), widgets.HTML()
    values, turns = dict(first["values"]), []
    play = widgets.Play(min=0, max=int(LONGEST), step=A_TICK_S, interval=TICK_MS, description="clock")
    at = widgets.IntSlider(min=0, max=int(LONGEST), description="seconds")
    call = widgets.ToggleButton(description="Call", value=False)
    widgets.jslink((play, "value"), (at, "value"))

    def show(*_: object) -> None:
        now = at.value
        # Back to before a call was put on or off: what came after has not happened yet.
        answer = _asked(ask="section clock", values=values, turns=[turn for turn in turns if turn[0] <= now], at=now)
        section.value, curve.value = _picture(answer["svg"]), _picture(answer["chart"])
        readings.value = _readings(answer["readings"])
        told.value = "".join(f"<p>{each['at']:.0f} s: {escape(each['words'])}</p>" for each in answer["events"])

    def called(change: Mapping[str, object]) -> None:
        turns[:] = [turn for turn in turns if turn[0] <= at.value] + [[at.value, change["new"]]]
        show()

    def changed(name: str, value: object) -> None:
        values[name] = value
        turns.clear()
        call.unobserve(called, "value")
        call.value = False
        call.observe(called, "value")
        play.value = at.value = 0
        show()

    call.observe(called, "value")
    at.observe(show, "value")
    inputs = [_input(each, values[each["name"]], changed) for each in first["inputs"]]
    show()
    return widgets.VBox([*inputs, widgets.HBox([call, play, at]), widgets.HBox([section, widgets.VBox([curve, readings])]), told])


def kept_files(folder: str | Path) -> dict[str, Path]:
    """Where a self-check keeps what returns and what was shown."""
    return {"returning": Path(folder) / "call-for-heat.returning.json", "mastery": Path(folder) / "call-for-heat.progress.json"}


def self_check_box(
    chapter: str, count: int = COUNT, folder: str | Path = ".", *, now: Callable[[], float] = time.time
) -> widgets.VBox:
    """Questions of a chapter with an answer at once; what was missed returns, and progress is kept in the folder.

    A kept file that cannot be read is put aside under another name. Raises JobError for a chapter there is not.
    """
    files = kept_files(folder)

    def asked(**request: object) -> dict[str, object]:
        kept = {name: path.read_text(encoding="utf-8") if path.is_file() else None for name, path in files.items()}
        answer = _asked(**request, **kept, now=now())
        for name in answer.get("set_aside", ()):
            notice.value = escape(put_aside(files[name], "cannot be read", "record"))
        for name, path in files.items():
            if name in answer:
                saved(path, answer[name].encode())
        return answer

    body, notice = widgets.VBox(), widgets.HTML()
    questions: list[dict[str, object]] = []

    def put(place: int) -> None:
        if place == len(questions):
            begin = widgets.Button(description="Others, please")
            begin.on_click(lambda _: start())
            body.children = [widgets.HTML("<p>That was the last one.</p>"), begin]
            return
        question = questions[place]
        form, read = _form(question)
        check, onward = widgets.Button(description="Check", button_style="primary"), widgets.Button(description="Next question")
        reply, first = widgets.HTML(), [True]

        def judge(_: object) -> None:
            try:
                judged = {"chapter": chapter, "kind": question["kind"], "seed": question["seed"], "answer": read()}
                found = asked(ask="check answer", **judged, first=first[0])
            except JobError as problem:
                reply.value = f"<p>{escape(str(problem))}</p>"
                return
            first[0] = False
            reply.value = f"<p>{'' if found['right'] else 'Not yet. '}{escape(found['words'])}</p>"
            check.disabled = found["right"]

        check.on_click(judge)
        onward.on_click(lambda _: put(place + 1))
        given = _readings(question["given"])
        head = widgets.HTML(f"<p><b>Question {place + 1} of {len(questions)}</b></p><p>{escape(question['words'])}</p>{given}")
        body.children = [head, form, widgets.HBox([check, onward]), reply]

    def start() -> None:
        questions[:] = asked(ask="check", chapter=chapter, count=count)["questions"]
        put(0)

    start()
    return widgets.VBox([body, notice])


def _asked(**request: object) -> dict[str, object]:
    """The same answer that a page gets; raises JobError."""
    return json.loads(json.dumps(ASKS[str(request["ask"])](None, request)))


def _input(about: Mapping[str, object], value: object, changed: Callable[[str, object], None]) -> widgets.Widget:
    name, label = about["name"], about["label"]
    common = {"description": label, "style": LONG_LABEL, "layout": WIDE}
    if about["kind"] == "pick":
        made = widgets.Dropdown(options=about["choices"], value=value, **common)
    else:
        kind = (
            widgets.IntSlider if all(float(about[part]).is_integer() for part in ("low", "high", "step")) else widgets.FloatSlider
        )
        as_is = int if kind is widgets.IntSlider else float
        made = kind(min=as_is(about["low"]), max=as_is(about["high"]), step=as_is(about["step"]), value=as_is(value), **common)
    made.observe(lambda change: changed(name, change["new"]), "value")
    return made


def _form(question: Mapping[str, object]) -> tuple[widgets.Widget, Callable[[], object]]:
    """What an answer is put into, and what reads it; an order is written as the numbers of its steps."""
    choices = question["choices"]
    if question["form"] == "number":
        field = widgets.Text(description=question["unit"], placeholder="a number")

        def number() -> float:
            try:
                return float(field.value.strip().replace(",", "."))
            except ValueError:
                raise JobError(f"{field.value!r} is no number; give one, for instance 12.5") from None

        return field, number
    if question["form"] == "choice":
        radio = widgets.RadioButtons(options=choices, value=None, layout=widgets.Layout(width="auto"))
        return radio, lambda: radio.value
    if question["form"] == "choices":
        boxes = [widgets.Checkbox(description=each, indent=False, layout=widgets.Layout(width="auto")) for each in choices]
        return widgets.VBox(boxes), lambda: [box.description for box in boxes if box.value]
    field = widgets.Text(description="order", placeholder=", ".join(str(n) for n in range(1, len(choices) + 1)))
    listed = widgets.HTML("".join(f"<p>{number}. {escape(each)}</p>" for number, each in enumerate(choices, 1)))

    def order() -> list[str]:
        numbers = field.value.replace(",", " ").split()
        if sorted(numbers) != sorted(str(n) for n in range(1, len(choices) + 1)):
            raise JobError(f"{field.value!r} is no order; give each of the numbers 1 to {len(choices)} once")
        return [choices[int(number) - 1] for number in numbers]

    return widgets.VBox([listed, field]), order


def _readings(readings: list[Mapping[str, str]]) -> str:
    rows = "".join(f"<tr><td>{escape(each['label'])}</td><td><b>{escape(each['text'])}</b></td></tr>" for each in readings)
    return f"<table>{rows}</table>" if rows else ""


def _picture(svg: str) -> str:
    return f'<div style="max-width: 26rem; min-width: 20rem">{svg}</div>'
