"""A self-check in a notebook: questions of a chapter with an answer at once, in ipywidgets."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from ipywidgets import HTML, Button, Checkbox, Dropdown, HBox, Label, Layout, RadioButtons, Text, VBox, Widget

from ..jobs.job import JobError
from .page import Desk
from .workbook_parts import answered, paragraph, readings, styled

__all__ = ["QuizWidget"]


@dataclass(frozen=True, slots=True)
class Form:
    """How one question is answered."""

    node: Widget
    fields: tuple[Widget, ...]  # what a learner sets, in the order of the question's choices
    read: Callable[[], object]  # the answer; raises JobError where there is none yet


class QuizWidget(VBox):
    """So many questions of a chapter, one after the other; each is drawn and solved, so every run asks about other numbers.

    A wrong answer gets a hint and may be tried again, the working is there on demand, and the first answer counts. What was
    missed is asked again after ten minutes, for as long as the notebook runs. A `seed` gives the same questions again. Raises
    JobError with the chapters, or the kinds, that there are.
    """

    def __init__(
        self, chapter: str, count: int = 5, level: int = 1, kinds: Sequence[str] | None = None, seed: str | None = None
    ) -> None:
        self._desk, self._returning = Desk(), None
        self._wanted = {"chapter": chapter, "count": count, "level": level, "kinds": list(kinds) if kinds else None}
        self._body, self._reply = VBox(), HTML()
        self.check, self.working, self.next = Button(description="Check"), Button(), Button()
        self.check.button_style = "primary"
        self.check.on_click(lambda _: self._checked())
        self.working.description = "Show the working"
        self.working.on_click(lambda _: self._worked())
        self.next.on_click(lambda _: self._onward())
        self._begun(seed)
        super().__init__([styled(), self._body, HBox([self.check, self.working, self.next]), self._reply])
        self.add_class("cfh-workbook")

    def _begun(self, seed: str | None = None) -> None:
        """Draw a set of questions and put the first."""
        asked = {**self._wanted, "seed": seed, "returning": self._returning, "now": time.time()}
        self.questions = answered(self._desk, ask="check", **asked)["questions"]
        self.results: list[bool] = []
        self._put(0)

    def _put(self, place: int) -> None:
        question = self.questions[place]
        self.place, self._first = place, True
        self.form = FORMS[question["form"]](question)
        again = ", asked again" if question["returns"] else ""
        head = paragraph(f"Question {place + 1} of {len(self.questions)}{again}", "title") + paragraph(question["words"])
        self._body.children = (HTML(head + readings(question["given"])), self.form.node)
        self._reply.value = ""
        self.next.description = "To the end" if place + 1 == len(self.questions) else "Next question"
        self._offer(check=True)

    def _offer(self, *, check: bool = False, working: bool = False, onward: bool = False) -> None:
        """Which buttons there are."""
        for button, there in ((self.check, check), (self.working, working), (self.next, onward)):
            button.layout = Layout(display=None if there else "none")

    def _which(self) -> dict[str, object]:
        question = self.questions[self.place]
        about = {"kind": question["kind"], "seed": question["seed"]}
        return {**about, "chapter": self._wanted["chapter"], "level": self._wanted["level"]}

    def _checked(self) -> None:
        try:
            asked = {**self._which(), "answer": self.form.read(), "first": self._first}
            found = answered(self._desk, ask="check answer", **asked, returning=self._returning, now=time.time())
        except JobError as problem:
            self._reply.value = paragraph(f"{problem}.", spoken=True)
            return
        self._returning = found["returning"]
        if self._first:
            self.results.append(found["right"])
        self._first = False
        words = found["words"] if found["right"] else f"Not yet. {found['words']}"
        self._reply.value = paragraph(words, "right" if found["right"] else "not-yet", spoken=True)
        self._offer(check=not found["right"], working=not found["right"], onward=True)

    def _worked(self) -> None:
        self._reply.value = paragraph(answered(self._desk, ask="check working", **self._which())["words"], spoken=True)
        self._offer(onward=True)

    def _onward(self) -> None:
        if self.next.description == "Others, please":
            self._begun()
        elif self.place + 1 < len(self.questions):
            self._put(self.place + 1)
        else:
            self._end()

    def _end(self) -> None:
        right, of = sum(self.results), len(self.results)
        missed = [each["kind"] for each, good in zip(self.questions, self.results, strict=True) if not good]
        words = f"Missed, and asked again after ten minutes with other numbers: {'; '.join(missed)}." if missed else ""
        told = paragraph(f"{right} of {of} right at the first answer", "title", spoken=True) + paragraph(words)
        self._body.children = (HTML(told),)
        self._reply.value = ""
        self.next.description = "Others, please"
        self._offer(onward=True)


def _number(question: Mapping[str, object]) -> Form:
    field = Text(placeholder="a number", tooltip=f"your answer in {question['unit'] or 'plain figures'}")

    def read() -> float:
        try:
            return float(field.value.strip().replace(",", "."))
        except ValueError:
            raise JobError("give a number, for instance 12.5") from None

    return Form(HBox([field, Label(question["unit"])]), (field,), read)


def _choice(question: Mapping[str, object]) -> Form:
    field = RadioButtons(options=question["choices"], value=None, layout=Layout(width="100%"))

    def read() -> str:
        if field.value is None:
            raise JobError("choose one of the answers")
        return field.value

    return Form(field, (field,), read)


def _choices(question: Mapping[str, object]) -> Form:
    fields = tuple(Checkbox(description=each, indent=False, layout=Layout(width="100%")) for each in question["choices"])

    def read() -> list[str]:
        return [field.description for field in fields if field.value]

    return Form(VBox(fields), fields, read)


def _order(question: Mapping[str, object]) -> Form:
    """A place for each step: a list of numbers keeps the keyboard where it is, which moving rows would not."""
    steps = question["choices"]
    places = [("place", 0), *((str(place), place) for place in range(1, len(steps) + 1))]
    fields = tuple(
        Dropdown(options=places, value=0, tooltip=f"place of: {step}", layout=Layout(width="6rem", flex="0 0 auto"))
        for step in steps
    )

    def read() -> list[str]:
        given = [field.value for field in fields]
        if sorted(given) != list(range(1, len(steps) + 1)):
            raise JobError(f"give each step a place of its own, from 1 to {len(steps)}")
        return [step for _, step in sorted(zip(given, steps, strict=True))]

    rows = [HBox([field, HTML(paragraph(step))]) for field, step in zip(fields, steps, strict=True)]
    return Form(VBox(rows), fields, read)


FORMS: Mapping[str, Callable[[Mapping[str, object]], Form]] = {
    "number": _number,
    "choice": _choice,
    "choices": _choices,
    "order": _order,
}
"""By form of question: what it is answered with."""
