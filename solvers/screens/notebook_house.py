"""The house as found as a notebook widget: the screen and the Python of a page, and the learner's sheet on disk."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path

import anywidget
import traitlets

from ..jobs.as_found import ID
from ..jobs.found_sheet import parsed, resumed
from ..jobs.job import JobError
from ..jobs.sheet import LARGEST, BadSheet
from .notebook_parts import check_assignment, kept, put_aside, script, source
from .page import Desk

__all__ = ["HOUSE_MODULES", "AsFoundWidget"]

HOUSE_MODULES = (
    "bench-elements.mjs",
    "bench-gestures.mjs",
    "bench-keeping.mjs",
    "bench-keys.mjs",
    "bench-drawing.mjs",
    "bench-meter.mjs",
    "bench-acts.mjs",
    "wiring-keeping.mjs",
    "found-keeping.mjs",
    "found-keys.mjs",
    "found-log.mjs",
    "found-marks.mjs",
    "found-names.mjs",
    "found-questions.mjs",
    "found.mjs",
    "notebook-asking.mjs",
    "found-notebook.mjs",
)
"""The modules of the house as found, each after those it imports."""


class AsFoundWidget(anywidget.AnyWidget):
    """A house as found in a notebook cell.

    The sheet is kept as `<folder>/W17.house.json` after every act and answer, with an assignment as
    `<folder>/<assignment>.house.json`; one that is there already is gone on with. A seed gives one house again and
    again, none a new one each time. With an assignment a seed is needed, and neither marks nor the letters of the leads
    are shown. Raises ValueError for an assignment's name that cannot be a file's, and for one without a seed.
    """

    _esm = script(HOUSE_MODULES)
    _css = source("bench.css") + source("wiring.css") + source("found.css")

    seed = traitlets.Unicode().tag(sync=True)
    graded = traitlets.Bool().tag(sync=True)

    def __init__(self, seed: str | None = None, assignment: str | None = None, folder: str | Path = ".") -> None:
        check_assignment(assignment, "06-wire-ups")
        if assignment is not None and not seed:
            raise ValueError(f"seed {seed!r}; an assignment needs one, so that a learner has one house and keeps it")
        super().__init__(seed=seed or "", graded=assignment is not None)
        self._desk = Desk(graded=assignment is not None)
        self._path = Path(folder) / f"{assignment or ID}.house.json"
        self._known: bytes | None = None  # what the file holds as far as this screen knows
        self.on_msg(self._heard)

    def _heard(self, _widget: object, content: object, _buffers: object) -> None:
        if isinstance(content, Mapping) and "id" in content:
            self.send({"id": content["id"], "response": self.answer(content.get("request"))})

    def answer(self, request: object) -> dict[str, object]:
        """Answer one request of the screen; what cannot be done comes back as {"error": a sentence}.

        Beside what `page.Desk` answers there are {"ask": "begin"} and {"ask": "keep", "sheet": text}.
        """
        own = {"begin": self._begun, "keep": self._kept}
        asked = request if isinstance(request, Mapping) else {}
        try:
            if asked.get("ask") in own:
                return own[asked["ask"]](asked)
            if self.graded and asked.get("ask") == "house":
                text = asked.get("sheet")
                seed = asked.get("seed") if text is None else parsed(text if isinstance(text, str) else "")["seed"]
                if seed != self.seed:
                    raise JobError(f"this screen is for the house {self.seed!r}; it opens no other")
        except (OSError, ValueError) as problem:
            return {"error": str(problem)}
        return json.loads(self._desk.handle(json.dumps(request)))

    def _begun(self, asked: Mapping[str, object]) -> dict[str, object]:
        """The sheet on disk to go on with, and a word about one that cannot be."""
        from ..classroom.errors import Refused
        from ..classroom.files import contents

        self._known = None
        if not self._path.exists():
            return {"sheet": None, "notice": ""}
        try:
            data = contents(self._path, LARGEST)
            house = resumed(data)
        except (BadSheet, Refused) as problem:
            return {"sheet": None, "notice": put_aside(self._path, f"could not be read ({problem})", "sheet")}
        if self.seed and house.seed != self.seed:
            return {"sheet": None, "notice": put_aside(self._path, f"is of the house {house.seed!r}", "sheet")}
        self._known = data
        return {"sheet": data.decode("utf-8"), "notice": ""}

    def _kept(self, asked: Mapping[str, object]) -> dict[str, object]:
        """Write the sheet; refuse when the file is not as this screen left it."""
        text = asked.get("sheet")
        house = resumed(text if isinstance(text, str) else "")
        if self.graded and house.seed != self.seed:
            raise BadSheet(f"the sheet is of the house {house.seed!r}; this screen is for {self.seed!r}")
        self._known = kept(self._path, text, self._known, LARGEST, "screen")
        return {"kept": self._path.name}
