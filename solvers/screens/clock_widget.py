"""A valve in section against the clock, in a notebook: a call to put on and off, and a clock that plays or is set by hand."""

from __future__ import annotations

from collections.abc import Mapping
from html import escape

from ipywidgets import (
    HTML,
    Box,
    Dropdown,
    FloatSlider,
    HBox,
    IntSlider,
    Label,
    Layout,
    Play,
    ToggleButton,
    ValueWidget,
    VBox,
    jslink,
)

from ..chapters.section_clock import LONGEST
from .page import Desk
from .workbook_parts import answered, paragraph, readings, styled

__all__ = ["ClockWidget"]

TICK_MS = 500
A_TICK_S = 5  # of the valve's time; ten times as fast as the wall's clock


class ClockWidget(VBox):
    """A valve, what can be set of it, and where it stands at the moment that the clock shows.

    `controls` holds one widget an input by its name, `at` the seconds, `call` the call; all answer to the keyboard. `told` is the
    last answer of the course. Setting the clock back undoes the calls that come after. Raises JobError for a kind there is not.
    """

    def __init__(self, kind: str = "heat motor") -> None:
        self._desk, self._turns = Desk(), []
        first = answered(self._desk, ask="section clock", kind=kind)
        self._values = dict(first["values"])
        self.controls = {each["name"]: _control(each, self._values[each["name"]]) for each in first["inputs"]}
        self.call = ToggleButton(description="Call")
        self.at = IntSlider(min=0, max=int(LONGEST), description="seconds", layout=Layout(width="24rem"))
        play = Play(min=0, max=int(LONGEST), step=A_TICK_S, interval=TICK_MS)
        jslink((play, "value"), (self.at, "value"))
        self._section, self._curve = (HTML(layout=Layout(flex="1 1 18rem")) for _ in range(2))
        self._readings, self._events = HTML(), HTML()
        rows = [HBox([Label(each["label"]), self.controls[each["name"]]]) for each in first["inputs"]]
        pictures = Box([self._section, VBox([self._curve, self._readings], layout=Layout(flex="1 1 18rem"))])
        pictures.layout = Layout(flex_flow="row wrap")
        question = paragraph("Before you put the call on: which moves first, the wax, the stem or the switch?")
        super().__init__([styled(), HTML(question), *rows, HBox([self.call, play, self.at]), pictures, self._events])
        self.add_class("cfh-workbook")
        for name, control in self.controls.items():
            control.observe(lambda change, name=name: self._set(name, change["new"]), "value")
        self.call.observe(self._called, "value")
        self.at.observe(self._moved, "value")
        self._moved()

    def _moved(self, _change: object = None) -> None:
        now = self.at.value
        self._turns = [turn for turn in self._turns if turn[0] <= now]
        self._pressed(bool(self._turns and self._turns[-1][1]))
        self.told = answered(self._desk, ask="section clock", values=self._values, turns=self._turns, at=now)
        self._section.value, self._curve.value = self.told["svg"], self.told["chart"]
        self._readings.value = readings(self.told["readings"])
        lines = (f"<li>{each['at']:.0f} s: {escape(each['words'])}</li>" for each in self.told["events"])
        self._events.value = f"<ol>{''.join(lines)}</ol>"

    def _called(self, change: Mapping[str, object]) -> None:
        self._turns.append([self.at.value, change["new"]])
        self._moved()

    def _set(self, name: str, value: object) -> None:
        """Another valve, cold and with no call."""
        self._values[name], self._turns = value, []
        if self.at.value:
            self.at.value = 0
        else:
            self._moved()

    def _pressed(self, calling: bool) -> None:
        """The button as the story has it, without that being a press."""
        self.call.unobserve(self._called, "value")
        self.call.value = calling
        self.call.observe(self._called, "value")


def _control(about: Mapping[str, object], value: object) -> ValueWidget:
    """A list for a choice; for a number a slider of whole steps or of parts."""
    if about["kind"] == "pick":
        return Dropdown(options=about["choices"], value=value)
    whole = all(float(about[part]).is_integer() for part in ("low", "high", "step"))
    kind, as_is = (IntSlider, int) if whole else (FloatSlider, float)
    return kind(min=as_is(about["low"]), max=as_is(about["high"]), step=as_is(about["step"]), value=as_is(value))
