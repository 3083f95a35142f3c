"""Everything that knows nbgrader: its preprocessors for this course, its gradebook and its folders."""

from __future__ import annotations

import copy
import os
import shutil
import sys
import warnings
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

import nbformat
from nbconvert.exporters import NotebookExporter
from nbformat import NotebookNode
from nbgrader.api import Gradebook, InvalidEntry, MissingEntry, SubmittedNotebook
from nbgrader.apps import NbGrader
from nbgrader.coursedir import CourseDirectory
from nbgrader.preprocessors import AssignLatePenalties, NbGraderPreprocessor
from nbgrader.utils import parse_utc
from sqlalchemy import text
from sqlalchemy.engine import make_url
from sqlalchemy.exc import SAWarning, SQLAlchemyError

from .errors import ClassroomError, NotAFolder, NotReleased, Refused
from .feedback import feedback_page
from .files import Staged, alone, contents
from .foretelling import kept
from .keys import key_of
from .marked_notebooks import blank_of, filled, noted, points_of
from .report import Given, Row, Standing
from .scoring import Result, scored
from .submissions import submission

__all__ = ["Course", "GradeSheet", "ReleasedNotebook"]

_PATIENCE = 60  # s that one grader waits for another's transaction

_KEPT = ("timestamp.txt", "submission_secret.txt")
"""What nbgrader needs beside an autograded notebook: the first to see a newer submission, the second to release feedback."""


class ReleasedNotebook(NotebookExporter):
    """Reads the released notebook wherever nbgrader would read a learner's, so no cell of a learner's is ever taken."""

    def from_filename(self, filename: str, resources: Mapping | None = None, **options: object) -> tuple[str, Mapping]:
        """The released notebook, taken through the preprocessors."""
        at = resources["nbgrader"]
        path = Course(self.parent.coursedir).folder("release", ".", at["assignment"]) / f"{at['notebook']}.ipynb"
        return super().from_filename(str(path), resources=resources, **options)


class GradeSheet(NbGraderPreprocessor):
    """Stands where nbgrader would run a notebook: marks the sheet beside it. Starts no kernel."""

    def preprocess(self, notebook: NotebookNode, resources: Mapping) -> tuple[NotebookNode, Mapping]:
        """The notebook with marks in it; the same points go into the gradebook."""
        at, course = resources["nbgrader"], Course(self.parent.parent.coursedir)
        key = key_of(course.root, at["assignment"])
        folder = course.folder("submitted", at["student"], at["assignment"])
        known = kept(course.root, key).get(at["student"].lower())
        result = scored(submission(folder, key, blank=blank_of([notebook])), key, course.root, known)
        with Gradebook(at["db_url"], course.directory.course_id) as gradebook:
            _due_set(gradebook, at["assignment"], key.due)
            _record(gradebook.find_submission_notebook(at["notebook"], at["assignment"], at["student"]), result)
            gradebook.db.commit()
        _tidy(course.folder("autograded", at["student"], at["assignment"]), folder)
        return filled(notebook, result), resources


class Course:
    """A course folder as its own nbgrader_config.py sets it up."""

    def __init__(self, directory: CourseDirectory, late: AssignLatePenalties | None = None) -> None:
        self.directory = directory
        self._late = late

    @classmethod
    def opened(cls, root: Path, db_url: str | None = None) -> Course:
        """The course in a folder; raises NotAFolder, or ClassroomError where its settings cannot be read."""
        if not root.is_dir():
            raise NotAFolder(f"no course folder {str(root)!r}")
        app = NbGrader(log_level="CRITICAL", raise_config_file_errors=True)
        app.load_cwd_config, app.init_syspath = False, lambda: None  # this course's settings, wherever we stand
        sys.path.insert(0, str(root.resolve()))  # which may import what lies beside them
        try:
            app.initialize([], root=str(root.resolve()))
        except (Exception, SystemExit) as problem:  # the settings are Python, and may do anything
            raise ClassroomError(f"the settings of the course in {str(root)!r} cannot be read: {problem}") from None
        finally:
            sys.path.remove(str(root.resolve()))
        app.coursedir.root = str(root.resolve())
        if db_url:
            app.coursedir.db_url = db_url
        late = AssignLatePenalties(parent=app)
        late.init_plugin()
        return cls(app.coursedir, late)

    @property
    def root(self) -> Path:
        """The course's folder."""
        return Path(self.directory.root)

    def folder(self, step: str, learner: str, assignment: str) -> Path:
        """Where a step of the course keeps one learner's assignment; `.` stands for nobody's."""
        name = getattr(self.directory, f"{step}_directory")
        return Path(self.directory.format_path(name, learner, assignment))

    def released(self, assignment: str) -> dict[str, NotebookNode]:
        """The released notebooks by name; raises NotReleased."""
        folder = self.folder("release", ".", assignment)
        found = {path.stem: nbformat.read(path, as_version=4) for path in sorted(folder.glob("*.ipynb"))}
        if not found:
            raise NotReleased(f"{assignment!r} is not released; run: nbgrader generate_assignment {assignment}")
        return found

    def blank(self, assignment: str) -> str:
        """What the explanation cell holds before a learner writes in it; raises NotReleased."""
        return blank_of(list(self.released(assignment).values()))

    def folders(self, assignment: str) -> list[Path]:
        """Every learner's submitted folder of an assignment, by name."""
        everyone = self.folder("submitted", ".", assignment).parent
        found = sorted(everyone.iterdir()) if everyone.is_dir() else []
        return [one / assignment for one in found if not one.name.startswith(".") and (one / assignment).is_dir()]

    def standing(self) -> tuple[Standing, ...]:
        """How everybody stands in every assignment that was graded, by learner and assignment."""
        found = []
        with self._opened() as gradebook:
            for assignment in gradebook.assignments:
                for one in gradebook.assignment_submissions(assignment.name):
                    at, folder = one.timestamp, self.folder("autograded", one.student.id, assignment.name)
                    penalty = one.late_submission_penalty or 0.0
                    tried, shown, talk = noted(folder)
                    found.append(
                        Standing(
                            one.student.id,
                            assignment.name,
                            one.score - penalty,
                            one.max_score,
                            penalty,
                            bool(one.needs_manual_grade),
                            None if at is None else at.replace(tzinfo=UTC),
                            tried,
                            shown,
                            one.total_seconds_late,
                            talk,
                        )
                    )
        return tuple(sorted(found, key=lambda one: (one.learner, one.assignment)))

    def recorded(
        self, assignment: str, results: Sequence[Result], *, due: str = "", with_feedback: bool = True
    ) -> tuple[Row, ...]:
        """Write rows, marked notebooks and feedback for a class; raises ClassroomError, and then nothing has changed.

        `due` is the assignment's due time from now on; without one the gradebook's own stays.
        Files are written beside their places, then the rows are kept in one transaction, then the files take their places.
        One grader at a time: another one waits.
        """
        masters = self.released(assignment)
        try:
            # nbgrader 0.9.6 adds a submission to its session after SQLAlchemy 2.1 looks for it there: harmless.
            with warnings.catch_warnings(action="ignore", category=SAWarning), alone(self.root), Staged() as stage:
                with self._gradebook(assignment) as gradebook, _one_transaction(gradebook):
                    _due_set(gradebook, assignment, due)
                    # Held, so that no cell has to be asked for again with every learner.
                    held = [(*one.grade_cells, *one.solution_cells) for one in gradebook.find_assignment(assignment).notebooks]
                    rows = tuple(self._record_one(gradebook, assignment, masters, result, stage) for result in results)
                    if with_feedback:
                        for row in rows:
                            self._tell_one(assignment, masters, row, stage)
                    del held
                    stage.sync()  # what the disk has no room for is met before the rows are kept
                stage.settle()
                for row in rows:
                    source, target = (self.folder(step, row.result.learner, assignment) for step in ("submitted", "autograded"))
                    _tidy(target, source)
        except (SQLAlchemyError, InvalidEntry) as problem:
            why = getattr(problem, "orig", None) or problem
            raise ClassroomError(f"the gradebook could not be written, and is as it was: {why}") from problem
        return rows

    def _record_one(
        self, gradebook: Gradebook, assignment: str, masters: Mapping[str, NotebookNode], result: Result, stage: Staged
    ) -> Row:
        learner = result.learner
        source, target = (self.folder(step, learner, assignment) for step in ("submitted", "autograded"))
        gradebook.update_or_create_student(learner)
        when = _timestamp(source)
        handed_in = gradebook.update_or_create_submission(assignment, learner, **({"timestamp": when} if when else {}))
        stage.folder(target)
        given: list[Given] = []
        for notebook in handed_in.notebooks:
            if notebook.name not in masters:
                raise NotReleased(f"notebook {notebook.name!r} of {assignment!r} is in the gradebook but not released")
            _record(notebook, result)
            given += _given(notebook)
            gradebook.db.flush()
            gradebook.db.refresh(notebook)
            notebook.late_submission_penalty = self._penalty(notebook, handed_in.total_seconds_late)
            marked = nbformat.writes(filled(copy.deepcopy(masters[notebook.name]), result)) + "\n"
            stage.add(target / f"{notebook.name}.ipynb", marked.encode("utf-8"), mode=0o444)
        _keep(source, target, stage, mode=0o444)
        gradebook.db.flush()
        gradebook.db.refresh(handed_in)
        penalty = handed_in.late_submission_penalty or 0.0
        waiting = bool(handed_in.needs_manual_grade)
        late = handed_in.total_seconds_late
        return Row(result, handed_in.score - penalty, handed_in.max_score, penalty, waiting, tuple(given), late)

    def _tell_one(self, assignment: str, masters: Mapping[str, NotebookNode], row: Row, stage: Staged) -> None:
        """What `nbgrader generate_feedback` would leave, in a page of our own making."""
        source, target = (self.folder(step, row.result.learner, assignment) for step in ("submitted", "feedback"))
        stage.folder(target)
        for name in masters:
            stage.add(target / f"{name}.html", feedback_page(assignment, name, row).encode("utf-8"))
        _keep(source, target, stage, mode=0o644)

    @contextmanager
    def _gradebook(self, assignment: str) -> Iterator[Gradebook]:
        with self._opened(f"; run: nbgrader generate_assignment {assignment}") as gradebook:
            try:
                gradebook.find_assignment(assignment)
            except MissingEntry:
                there = [one.name for one in gradebook.assignments]
                raise NotReleased(
                    f"{assignment!r} is not in the gradebook, which has {there}; run: nbgrader generate_assignment {assignment}"
                ) from None
            yield gradebook

    @contextmanager
    def _opened(self, remedy: str = "") -> Iterator[Gradebook]:
        url = make_url(self.directory.db_url)
        lite = url.get_backend_name() == "sqlite"
        if lite and url.database and not Path(url.database).exists():
            raise NotReleased(
                f"no gradebook yet in {str(self.root)!r}{remedy or ': make a lab, release it, and grade what comes in'}"
            )
        if lite and "timeout" not in url.query:
            url = url.update_query_dict({"timeout": str(_PATIENCE)})
        with Gradebook(url.render_as_string(hide_password=False), self.directory.course_id) as gradebook:
            yield gradebook

    def _penalty(self, notebook: SubmittedNotebook, seconds: float) -> float | None:
        """What nbgrader's own step would take off, by the rule that the course sets."""
        if seconds <= 0:
            return None
        penalty = self._late.plugin_inst.late_submission_penalty(notebook.student.id, notebook.score, seconds)
        return None if penalty is None else min(max(penalty, 0), notebook.score)


def _due_set(gradebook: Gradebook, assignment: str, due: str) -> None:
    """Let the assignment be due at an ISO time, in UTC where it names no other; "" leaves it as it is."""
    if due:
        gradebook.find_assignment(assignment).duedate = parse_utc(datetime.fromisoformat(due))


def _record(notebook: SubmittedNotebook, result: Result) -> None:
    """Write the machine's points; a person's points and comments stay as they are, and are shown for review again."""
    for grade in notebook.grades:
        line = result.line(grade.name)
        grade.auto_score = points_of(line, grade.cell.max_score) if line else None
        grade.needs_manual_grade = grade.auto_score is None or grade.manual_score is not None or result.review
    for comment in notebook.comments:
        comment.auto_comment = None if result.explanation else "No response."


@contextmanager
def _one_transaction(gradebook: Gradebook) -> Iterator[None]:
    """Whatever the gradebook's methods commit is kept together to the end, and kept whole or not at all."""
    gradebook.db.commit = gradebook.db.flush
    try:
        gradebook.db.execute(text("UPDATE course SET id = id"))  # another writer is met now, before any work is done
        yield
    except BaseException:
        gradebook.db.rollback()
        raise
    finally:
        del gradebook.db.commit
    gradebook.db.commit()


def _given(notebook: SubmittedNotebook) -> list[Given]:
    """The points of each cell as the gradebook now has them, and what a person wrote beside them."""
    comments = {comment.name: comment.manual_comment or "" for comment in notebook.comments}
    found = []
    for grade in notebook.grades:
        points = grade.auto_score if grade.manual_score is None else grade.manual_score
        points = None if points is None else points + (grade.extra_credit or 0.0)
        found.append(Given(notebook.name, grade.name, points, grade.cell.max_score, comments.get(grade.name, "")))
    return found


def _keep(source: Path, target: Path, stage: Staged, *, mode: int) -> None:
    for name in _KEPT:
        if data := _small(source / name):
            stage.add(target / name, data, mode=mode)


def _timestamp(folder: Path) -> datetime | None:
    try:
        return parse_utc(_small(folder / "timestamp.txt").decode("utf-8").strip() or None)
    except (ValueError, OverflowError, TypeError, AttributeError):
        return None


def _small(path: Path) -> bytes:
    """The bytes of a small file that may be missing or not what it seems; then nothing."""
    try:
        return contents(path, 1000)
    except (Refused, OSError):
        return b""


def _tidy(target: Path, source: Path) -> None:
    """Leave only marked notebooks and what nbgrader needs: copies of links could carry other people's files into feedback."""
    for path in target.iterdir():
        if path.is_dir() and not path.is_symlink():
            shutil.rmtree(path)
        elif path.suffix != ".ipynb" and not (path.name in _KEPT and _small(source / path.name)):
            os.unlink(path)
