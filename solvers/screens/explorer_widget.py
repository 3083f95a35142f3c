"""An explorer in a notebook: sliders and choices of ipywidgets, and beside them what the package computes for each setting."""

from __future__ import annotations

from collections.abc import Mapping

from ipywidgets import HTML, Box, Dropdown, FloatSlider, HBox, IntSlider, Label, Layout, ValueWidget, VBox

from .page import Desk
from .workbook_parts import answered, paragraph, readings, styled

__all__ = ["ExplorerWidget"]

WIDE = Layout(width="auto")


class ExplorerWidget(VBox):
    """The explorer of that name: a question to think about, what can be set, readings, a chart, and what it means.

    `controls` holds one widget an input by its name: a slider for a number, a list for a choice. All of them answer to the
    keyboard. `told` is the last answer of the course. Raises JobError with the names there are.
    """

    def __init__(self, name: str) -> None:
        self._desk = Desk()
        first = answered(self._desk, ask="explorer", name=name)
        self._name = name
        self.controls = {each["name"]: _control(each, first["values"][each["name"]]) for each in first["inputs"]}
        self._texts = {each["name"]: Label() for each in first["inputs"] if each["kind"] == "slider"}
        for label in self._texts.values():
            label.add_class("told")
        self._readings, self._words, self._picture = HTML(), HTML(), HTML(layout=Layout(flex="1 1 20rem"))
        head = HTML(paragraph(first["title"], "title") + paragraph(first["question"]))
        side = VBox([*(self._row(each) for each in first["inputs"]), self._readings], layout=Layout(flex="1 1 22rem"))
        super().__init__([styled(), head, Box([side, self._picture], layout=Layout(flex_flow="row wrap")), self._words])
        self.add_class("cfh-workbook")
        self._show(first)
        for control in self.controls.values():
            control.observe(self._moved, "value")

    def _row(self, about: Mapping[str, object]) -> VBox:
        """An input under its name, a number with its unit beside the name."""
        name = about["name"]
        label = Label(f"{about['label'][:1].upper()}{about['label'][1:]}")
        return VBox([HBox([label, *([self._texts[name]] if name in self._texts else [])]), self.controls[name]])

    def _moved(self, _change: object) -> None:
        values = {name: control.value for name, control in self.controls.items()}
        self._show(answered(self._desk, ask="explorer shows", name=self._name, values=values))

    def _show(self, answer: Mapping[str, object]) -> None:
        self.told = answer
        for name, label in self._texts.items():
            label.value = answer["texts"][name]
        self._readings.value = readings(answer["readings"])
        self._picture.value = answer["svg"]
        self._words.value = paragraph(answer["words"], spoken=True)


def _control(about: Mapping[str, object], value: object) -> ValueWidget:
    """The widget of one input, without a readout: the course's own text stands above it, lengths and heat in both units."""
    tooltip = f"{about['label']}: {about['text']} at first"
    if about["kind"] == "pick":
        return Dropdown(options=about["choices"], value=value, tooltip=tooltip, layout=WIDE)
    whole = all(float(about[key]).is_integer() for key in ("low", "high", "step"))
    kind = IntSlider if whole else FloatSlider
    number = int if whole else float
    low, high, step = (number(about[key]) for key in ("low", "high", "step"))
    return kind(number(value), min=low, max=high, step=step, readout=False, tooltip=tooltip, layout=WIDE)
