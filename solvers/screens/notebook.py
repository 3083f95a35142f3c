"""Bench and wiring table as notebook widgets: the screens and the Python of a page, and the learner's work on disk."""

from __future__ import annotations

import dataclasses
import json
import re
from collections.abc import Mapping
from importlib.resources import files
from pathlib import Path

import anywidget
import traitlets

from ..jobs.behaviour import Progress
from ..jobs.job import JobError
from ..jobs.sheet import LARGEST, BadSheet, Sheet, parsed
from ..jobs.wireups import wire_up
from ..jobs.wiring_answer import LARGEST as LARGEST_WIRING
from ..jobs.wiring_answer import BadWiring
from ..jobs.wiring_answer import parsed as wiring_of
from ..jobs.wiring_kept import LARGEST as LARGEST_KEPT
from ..jobs.wiring_kept import BadKept, kept_of
from ..jobs.wiring_kept import parsed as kept_in
from ..jobs.wiring_kept import written as kept_text
from .page import Desk

__all__ = ["BenchWidget", "WiringWidget", "check_assignment", "put_aside", "script", "source"]

MODULES = (
    "bench-elements.mjs",
    "bench-gestures.mjs",
    "bench-head.mjs",
    "bench-keeping.mjs",
    "bench-keys.mjs",
    "bench-drawing.mjs",
    "bench-meter.mjs",
    "bench-acts.mjs",
    "bench-parts.mjs",
    "bench-wires.mjs",
    "bench-finish.mjs",
    "bench-kits.mjs",
    "bench-log.mjs",
    "bench-sound.mjs",
    "bench-verdict.mjs",
    "bench-marks.mjs",
    "bench-inside.mjs",
    "bench-offer.mjs",
    "bench.mjs",
    "notebook-asking.mjs",
    "notebook.mjs",
)
"""The bench's modules, each after those it imports."""

TABLE_MODULES = (
    "bench-elements.mjs",
    "bench-gestures.mjs",
    "bench-keeping.mjs",
    "bench-keys.mjs",
    "bench-drawing.mjs",
    "bench-meter.mjs",
    "bench-acts.mjs",
    "wiring-edits.mjs",
    "wiring-hands.mjs",
    "wiring-join.mjs",
    "wiring-keeping.mjs",
    "wiring-keys.mjs",
    "wiring-list.mjs",
    "wiring-questions.mjs",
    "wiring-marks.mjs",
    "wiring-power.mjs",
    "wiring.mjs",
    "notebook-asking.mjs",
    "wiring-notebook.mjs",
)
"""The wiring table's modules, each after those it imports."""

_IMPORT = re.compile(r'^import [^;]* from "\./([^"]+)";\n', re.MULTILINE)
_EXPORT = re.compile(r"^export (?:default (?=function))?(?=async function|function|class|const)", re.MULTILINE)
_ASSIGNMENT = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,63}")


def script(modules: tuple[str, ...] | None = None) -> str:
    """A screen's modules as one, which is what a notebook's page can load; the bench's unless others are named.

    Its default export renders the widget. Raises ImportError for a module that imports one not named before it.
    """
    parts, names = [], MODULES if modules is None else modules
    for name in names:
        text = source(name)
        wanted = set(_IMPORT.findall(text)) - set(names[: names.index(name)])
        if wanted:
            raise ImportError(f"{name} imports {sorted(wanted)}, which is not named before it")
        parts.append(_EXPORT.sub("", _IMPORT.sub("", text)))
    return "\n".join(parts)


def source(name: str) -> str:
    """The text of one of the screens' own files."""
    return files(__package__).joinpath(name).read_text(encoding="utf-8")


def check_assignment(assignment: object, like: str) -> None:
    """Raise ValueError for an assignment's name that cannot be a file's; None is no assignment."""
    if assignment is not None and not (isinstance(assignment, str) and _ASSIGNMENT.fullmatch(assignment)):
        raise ValueError(f"assignment {assignment!r}; use 1 to 64 letters, figures, '.', '_' and '-', as {like!r}")


class BenchWidget(anywidget.AnyWidget):
    """A bench in a notebook cell.

    Without an assignment it gives practice jobs and marks them. With one it gives the learner's own job of that
    assignment, shows neither marks nor valves from inside, and keeps the sheet as `<folder>/<assignment>.sheet.json`
    after every act; a sheet that is there already is gone on with. Raises ValueError for an assignment's name that
    cannot be a file's, and what the chapter raises for a chapter or level that does not exist.
    """

    _esm = script()
    _css = source("bench.css")

    chapter = traitlets.Unicode().tag(sync=True)
    level = traitlets.Int().tag(sync=True)
    graded = traitlets.Bool().tag(sync=True)
    learner = traitlets.Unicode().tag(sync=True)

    def __init__(
        self,
        chapter: str = "heater-loops",
        level: int = 1,
        assignment: str | None = None,
        learner: str | None = None,
        folder: str | Path = ".",
    ) -> None:
        check_assignment(assignment, "03-heater-loops")
        super().__init__(chapter=chapter, level=level, graded=assignment is not None, learner=learner or "")
        self._desk = Desk(graded=assignment is not None)
        self._assignment = assignment
        self._path = Path(folder) / f"{assignment}.sheet.json"
        self._seed: str | None = None
        self.on_msg(self._heard)

    def _heard(self, _widget: object, content: object, _buffers: object) -> None:
        if isinstance(content, Mapping) and "id" in content:
            self.send({"id": content["id"], "response": self.answer(content.get("request"))})

    def answer(self, request: object) -> dict[str, object]:
        """Answer one request of the screen; what cannot be done comes back as {"error": a sentence}.

        Beside what `page.Desk` answers there are, for graded work, {"ask": "begin", "learner"} and {"ask": "keep", "sheet"}.
        """
        own = {"begin": self._begun, "keep": self._kept}
        asked = request if isinstance(request, Mapping) else {}
        try:
            if asked.get("ask") in own:
                if self._assignment is None:
                    raise JobError("practice keeps no sheet in a file; give the bench an assignment")
                return own[asked["ask"]](asked)
            if self._assignment is not None:
                self._check_own(asked)
        except (OSError, ValueError) as problem:
            return {"error": str(problem)}
        return json.loads(self._desk.handle(json.dumps(request)))

    def _begun(self, asked: Mapping[str, object]) -> dict[str, object]:
        """Who works, which job that makes, and the sheet to go on with."""
        from ..classroom.seeds import learner_id, seed_of  # a practice bench needs no classroom

        learner = learner_id(asked.get("learner"))
        self._seed = seed_of(self._assignment, learner)
        sheet, notice = self._found()
        self.learner = learner
        return {"learner": learner, "seed": self._seed, "sheet": sheet, "notice": notice}

    def _check_own(self, asked: Mapping[str, object]) -> None:
        """A graded bench opens one job and no other; raises JobError."""
        if asked.get("ask") == "practice":
            mine = False
        elif asked.get("ask") == "open":
            mine = (asked.get("chapter"), asked.get("level"), asked.get("seed")) == self._job
        elif asked.get("ask") == "resume":
            sheet = parsed(asked.get("sheet") if isinstance(asked.get("sheet"), str) else "")
            mine = (sheet.chapter, sheet.level, sheet.seed) == self._job
        else:
            return
        if self._seed is None or not mine:
            raise JobError(f"this bench is for {self._assignment!r} and the learner who began it; it opens no other job")

    @property
    def _job(self) -> tuple[str, int, str | None]:
        return self.chapter, self.level, self._seed

    def _found(self) -> tuple[str | None, str]:
        """The text of the sheet on disk and a word about it; one that cannot be gone on with is put aside, never lost."""
        from ..classroom.errors import Refused
        from ..classroom.files import contents

        if not self._path.exists():
            return None, ""
        try:
            data = contents(self._path, LARGEST)
            sheet = parsed(data)
        except (BadSheet, Refused) as problem:
            return None, self._aside(f"could not be read ({problem})")
        if (sheet.chapter, sheet.level, sheet.seed) != self._job:
            owner = sheet.learner or "somebody else"
            return None, self._aside(f"belongs to {owner!r} and job {sheet.chapter}/{sheet.level}/{sheet.seed}")
        return data.decode("utf-8"), ""

    def _aside(self, why: str) -> str:
        return put_aside(self._path, why, "sheet")

    def _kept(self, asked: Mapping[str, object]) -> dict[str, object]:
        """Write the sheet; refuse one that would lose lines that are on disk already."""
        from ..classroom.files import contents, saved

        text = asked.get("sheet")
        sheet = parsed(text if isinstance(text, str) else "")
        if self._seed is None or (sheet.chapter, sheet.level, sheet.seed) != self._job:
            raise JobError(f"the sheet is of job {sheet.chapter}/{sheet.level}/{sheet.seed}, which this bench has not opened")
        if self._path.exists():
            try:
                before = parsed(contents(self._path, LARGEST))
            except BadSheet as problem:
                raise BadSheet(f"{self._path.name} has been changed outside this bench ({problem}); run the cell again") from None
            if not _goes_on(before, sheet):
                raise BadSheet(f"{self._path.name} has gone on elsewhere, with {len(before.log)} lines; run the cell again")
        saved(self._path, text.encode("utf-8"))
        return {"kept": self._path.name}


def _goes_on(before: Sheet, after: Sheet) -> bool:
    """Whether a sheet holds everything that an earlier one holds."""
    same_log = after.log[: len(before.log)] == before.log
    return same_log and (before.verdict is None or after.verdict == before.verdict)


def put_aside(path: Path, why: str, what: str) -> str:
    """Rename a file that cannot be gone on with; return the sentence that says so."""
    number = 1
    while (kept := path.with_suffix(f".kept-{number}.json")).exists():
        number += 1
    path.rename(kept)
    return f"{path.name} {why}. It is kept as {kept.name}, and a new {what} is begun. Show it to your instructor."


class WiringWidget(anywidget.AnyWidget):
    """A wiring table in a notebook cell.

    The wiring is kept as `<folder>/<task>.wiring.json` after every change, with an assignment as
    `<folder>/<assignment>.wiring.json`; a wiring that is there already is gone on with. In practice the answers before power
    and the fuses spent are kept beside it as `<task>.answers.json`. With an assignment nothing is judged on the screen.
    Raises NoSuchWireUp, and ValueError for an assignment's name that cannot be a file's.
    """

    _esm = script(TABLE_MODULES)
    _css = source("bench.css") + source("wiring.css")

    task = traitlets.Unicode().tag(sync=True)
    graded = traitlets.Bool().tag(sync=True)

    def __init__(self, task: str = "W16", assignment: str | None = None, folder: str | Path = ".") -> None:
        wire_up(task)
        check_assignment(assignment, "06-wire-ups")
        super().__init__(task=task, graded=assignment is not None)
        self._desk = Desk(graded=assignment is not None)
        self._path = Path(folder) / f"{assignment or task}.wiring.json"
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
        """Write what belongs to the wiring; graded work has no answers on the table, and keeps none."""
        from ..classroom.files import saved

        kept = kept_of(asked.get("kept"), self._questions)
        if self.graded:
            return {"kept": None}
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
        from ..classroom.files import contents, saved

        text = asked.get("wiring")
        wiring_of(text if isinstance(text, str) else "")
        found = contents(self._path, LARGEST_WIRING) if self._path.exists() else None
        if found != self._known:
            raise BadWiring(f"{self._path.name} has been changed outside this table; run the cell again")
        data = text.encode("utf-8")
        saved(self._path, data)
        self._known = data
        return {"kept": self._path.name}
