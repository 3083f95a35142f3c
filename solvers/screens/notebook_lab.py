"""A graded lab as a notebook widget: the learner's own lab file from the folder beside it, the sheet kept on disk."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path

import anywidget
import traitlets

from ..jobs.job import JobError
from .labs import LARGEST, Lab, gone_on, lab_of
from .notebook_parts import MODULES, TABLE_MODULES, check_assignment, kept, put_aside, script, source
from .page import Desk

__all__ = ["LAB_MODULES", "LabWidget"]

_LAB_ENDINGS = ("job", "task", "questions")

LAB_MODULES = (
    *dict.fromkeys((*MODULES[:-1], *TABLE_MODULES[:-1])),
    "question-forms.mjs",
    "question-set.mjs",
    "lab-screens.mjs",
    "lab-notebook.mjs",
)
"""Those of bench and table without what begins them, and a lab's own."""


class LabWidget(anywidget.AnyWidget):
    """A graded lab in a notebook cell: the learner's own sealed job, wire-up or set of questions, and no marks.

    Asks for the learner's id, unless one is given, and takes `<folder>/labs/<id>.job.json`, `.task.json` or `.questions.json`.
    The sheet is kept as `<folder>/<assignment>.sheet.json` after every change; one that is there already is gone on with.
    Raises ValueError for an assignment's name that cannot be a file's.
    """

    _esm = script(LAB_MODULES)
    _css = source("bench.css") + source("wiring.css") + source("lab.css")

    learner = traitlets.Unicode().tag(sync=True)

    def __init__(self, assignment: str, learner: str = "", folder: str | Path = ".") -> None:
        if assignment is None:
            raise ValueError("a lab needs the name of its assignment, as '03-heater-loops'")
        check_assignment(assignment, "03-heater-loops")
        super().__init__(learner=learner or "")
        self._desk = Desk()
        self._assignment, self._folder = assignment, Path(folder)
        self._path = self._folder / f"{assignment}.sheet.json"
        self._lab: Lab | None = None  # once somebody has begun
        self._known: bytes | None = None  # what the sheet's file holds as far as this screen knows
        self.on_msg(self._heard)

    def _heard(self, _widget: object, content: object, _buffers: object) -> None:
        if isinstance(content, Mapping) and "id" in content:
            self.send({"id": content["id"], "response": self.answer(content.get("request"))})

    def answer(self, request: object) -> dict[str, object]:
        """Answer one request of the screen; what cannot be done comes back as {"error": a sentence}.

        Beside what `page.Desk` answers there are {"ask": "begin", "learner"} and {"ask": "keep", "sheet": text}.
        """
        own = {"begin": self._begun, "keep": self._kept}
        asked = request if isinstance(request, Mapping) else {}
        try:
            if asked.get("ask") in own:
                return own[asked["ask"]](asked)
        except (OSError, ValueError) as problem:
            return {"error": str(problem)}
        return json.loads(self._desk.handle(json.dumps(request)))

    def _begun(self, asked: Mapping[str, object]) -> dict[str, object]:
        """The lab of whoever works, the sheet on disk to go on with, and a word about one that cannot be."""
        from ..classroom.seeds import learner_id, seed_of  # only a lab needs a classroom

        learner = learner_id(asked.get("learner"))
        path = self._lab_file(learner)
        text = _text(path)
        lab = lab_of(text)
        if lab.seed != seed_of(self._assignment, learner):
            raise JobError(f"labs/{path.name} holds the lab {lab.seed!r}, not {self._assignment}/{learner}; tell your instructor")
        sheet, notice = self._found(lab)
        self._lab, self.learner, self._known = lab, learner, None if sheet is None else sheet.encode("utf-8")
        return {"file": text, "sheet": sheet, "notice": notice, "learner": learner, "kept": self._path.name}

    def _found(self, lab: Lab) -> tuple[str | None, str]:
        """The text of the sheet on disk and a word about it; one that cannot be gone on with is put aside, never lost."""
        if not self._path.exists():
            return None, ""
        try:
            sheet = _text(self._path)
            gone_on(lab, sheet)
        except ValueError as problem:
            return None, put_aside(self._path, f"cannot be gone on with ({problem})", "sheet")
        return sheet, ""

    def _lab_file(self, learner: str) -> Path:
        """Where a learner's lab lies, of whichever kind; raises JobError with those that are there."""
        folder = self._folder / "labs"
        for ending in _LAB_ENDINGS:
            if (path := folder / f"{learner}.{ending}.json").exists():
                return path
        there = sorted(path.name.rsplit(".", 2)[0] for path in folder.glob("*.json"))
        known = f"it has labs for {', '.join(there[:40])}" if there else "it has none"
        raise JobError(f"the folder labs beside this notebook has no lab for {learner!r}; {known}")

    def _kept(self, asked: Mapping[str, object]) -> dict[str, object]:
        """Write the sheet; refuse one that is not of this lab, and when the file is not as this screen left it."""
        text = asked.get("sheet")
        if self._lab is None:
            raise JobError("no lab is open here yet; begin with a learner's id")
        gone_on(self._lab, text)
        self._known = kept(self._path, text, self._known, LARGEST, "screen")
        return {"kept": self._path.name}


def _text(path: Path) -> str:
    """A file's text; raises JobError for one that is none, and what `contents` refuses."""
    from ..classroom.files import contents

    try:
        return contents(path, LARGEST).decode("utf-8")
    except UnicodeDecodeError:
        raise JobError(f"{path.name} is not UTF-8 text") from None
