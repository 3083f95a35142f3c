"""Bench, wiring table and graded labs as notebook widgets: the screens and the Python of a page, and the work on disk."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Mapping
from pathlib import Path

import anywidget
import traitlets

from ..jobs.behaviour import Progress
from ..jobs.wireups import wire_up
from ..jobs.wiring_answer import LARGEST as LARGEST_WIRING
from ..jobs.wiring_answer import BadWiring
from ..jobs.wiring_answer import parsed as wiring_of
from ..jobs.wiring_kept import LARGEST as LARGEST_KEPT
from ..jobs.wiring_kept import BadKept, kept_of
from ..jobs.wiring_kept import parsed as kept_in
from ..jobs.wiring_kept import written as kept_text
from .notebook_lab import LabWidget
from .notebook_parts import TABLE_MODULES, kept, put_aside, script, source
from .page import Desk

__all__ = ["BenchWidget", "LabWidget", "WiringWidget"]


class BenchWidget(anywidget.AnyWidget):
    """A bench in a notebook cell: practice jobs, and marks for them. Graded work has a LabWidget.

    Raises what the chapter raises for a chapter or level that does not exist, once a job is asked for.
    """

    _esm = script()
    _css = source("bench.css")

    chapter = traitlets.Unicode().tag(sync=True)
    level = traitlets.Int().tag(sync=True)

    def __init__(self, chapter: str = "heater-loops", level: int = 1) -> None:
        super().__init__(chapter=chapter, level=level)
        self._desk = Desk()
        self.on_msg(self._heard)

    def _heard(self, _widget: object, content: object, _buffers: object) -> None:
        if isinstance(content, Mapping) and "id" in content:
            self.send({"id": content["id"], "response": self.answer(content.get("request"))})

    def answer(self, request: object) -> dict[str, object]:
        """Answer one request of the screen as `page.Desk` does; what cannot be done comes back as {"error": a sentence}."""
        return json.loads(self._desk.handle(json.dumps(request)))


class WiringWidget(anywidget.AnyWidget):
    """A wiring table in a notebook cell.

    The wiring is kept as `<folder>/<task>.wiring.json` after every change; a wiring that is there already is gone on with.
    The answers before power and the fuses spent are kept beside it as `<task>.answers.json`. Graded work has a LabWidget.
    Raises NoSuchWireUp.
    """

    _esm = script(TABLE_MODULES)
    _css = source("bench.css") + source("wiring.css")

    task = traitlets.Unicode().tag(sync=True)

    def __init__(self, task: str = "W16", folder: str | Path = ".") -> None:
        wire_up(task)
        super().__init__(task=task)
        self._desk = Desk()
        self._path = Path(folder) / f"{task}.wiring.json"
        self._known: bytes | None = None  # what the file holds as far as this table knows
        self.on_msg(self._heard)

    def _heard(self, _widget: object, content: object, _buffers: object) -> None:
        if isinstance(content, Mapping) and "id" in content:
            id = content["id"]

            def told(done: int, total: int) -> None:
                self.send({"id": id, "progress": {"done": done, "total": total}})

            self.send({"id": id, "response": self.answer(content.get("request"), told)})

    def answer(self, request: object, progress: Progress | None = None) -> dict[str, object]:
        """Answer one request of the screen; what cannot be done comes back as {"error": a sentence}.

        Beside what `page.Desk` answers there are {"ask": "begin"}, {"ask": "keep", "wiring": text} and, for what belongs to
        a wiring and is no part of it, {"ask": "note", "kept"}. What takes long tells `progress` how far it has come.
        """
        own = {"begin": self._begun, "keep": self._kept, "note": self._noted}
        asked = request if isinstance(request, Mapping) else {}
        try:
            if asked.get("ask") in own:
                return own[asked["ask"]](asked)
        except (OSError, ValueError) as problem:
            return {"error": str(problem)}
        return json.loads(self._desk.handle(json.dumps(request), progress))

    def _begun(self, asked: Mapping[str, object]) -> dict[str, object]:
        """The wiring on disk to go on with, and a word about one that cannot be."""
        from ..classroom.errors import Refused
        from ..classroom.files import contents

        self._known = None
        kept, notice = self._beside()
        if not self._path.exists():
            return {"wiring": None, "kept": kept, "notice": notice}
        try:
            data = contents(self._path, LARGEST_WIRING)
            wire_up(self.task).made(wiring_of(data))
        except (BadWiring, Refused) as problem:
            told = put_aside(self._path, f"could not be read ({problem})", "wiring")
            return {"wiring": None, "kept": kept, "notice": f"{told} {notice}".strip()}
        self._known = data
        return {"wiring": data.decode("utf-8"), "kept": kept, "notice": notice}

    def _beside(self) -> tuple[dict[str, object] | None, str]:
        """What was kept beside the wiring, and a word about what cannot be read."""
        from ..classroom.errors import Refused
        from ..classroom.files import contents

        if not self._answers.exists():
            return None, ""
        try:
            kept = kept_in(contents(self._answers, LARGEST_KEPT), self._questions)
        except (BadKept, Refused) as problem:
            return None, put_aside(self._answers, f"could not be read ({problem})", "set of answers")
        return dataclasses.asdict(kept), ""

    def _noted(self, asked: Mapping[str, object]) -> dict[str, object]:
        """Write what belongs to the wiring."""
        from ..classroom.files import saved

        kept = kept_of(asked.get("kept"), self._questions)
        saved(self._answers, kept_text(kept).encode("utf-8"))
        return {"kept": self._answers.name}

    @property
    def _answers(self) -> Path:
        return self._path.with_suffix("").with_suffix(".answers.json")

    @property
    def _questions(self) -> tuple[str, ...]:
        return tuple(question.id for question in wire_up(self.task).questions)

    def _kept(self, asked: Mapping[str, object]) -> dict[str, object]:
        """Write the wiring; refuse when the file is not as this table left it."""
        text = asked.get("wiring")
        wiring_of(text if isinstance(text, str) else "")
        self._known = kept(self._path, text, self._known, LARGEST_WIRING, "table")
        return {"kept": self._path.name}
