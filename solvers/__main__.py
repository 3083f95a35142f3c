"""The command line: `python -m solvers`."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TypeVar

import click

ROOT = Path(__file__).resolve().parent.parent
BOOK = ROOT / "book"
EXERCISES = ROOT / "exercises"
T = TypeVar("T")

book_option = click.option(
    "--book",
    type=click.Path(path_type=Path, file_okay=False),
    default=BOOK,
    show_default="the book of this checkout",
    help="Folder of the book's pages.",
)
course_option = click.option(
    "--course",
    type=click.Path(path_type=Path, file_okay=False),
    default=EXERCISES,
    show_default="exercises/ of this checkout",
    help="Folder of the nbgrader course.",
)


class Commands(click.Group):
    """A group of commands that names its choices when asked for one it does not have."""

    def resolve_command(self, ctx: click.Context, args: list[str]):
        name = args[0]
        if self.get_command(ctx, name) is None and not name.startswith("-"):
            raise click.UsageError(f"no command {name!r}; there are {', '.join(self.list_commands(ctx))}")
        return super().resolve_command(ctx, args)


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
def main() -> None:
    """Call for Heat: build and show the course, collect and grade its labs."""


@main.command()
@book_option
@click.option("--force", is_flag=True, help="Build everything, whether it changed or not.")
def build(book: Path, force: bool) -> None:
    """Build the book; only what has changed."""
    click.echo(f"The site is in {_built(book, force)}")


@main.command()
@book_option
@click.option("--port", type=int, default=8000, show_default=True, help="Port on 127.0.0.1; 0 picks a free one.")
def serve(book: Path, port: int) -> None:
    """Build the book, then show it on this machine."""
    from .screens.errors import SiteError
    from .screens.serving import serve as served

    html = _built(book, force=False)
    try:
        with served(html, port) as server:
            click.echo(f"Call for Heat is at {server.address}  (Ctrl-C stops)")
            server.serve_forever()
    except SiteError as problem:
        raise click.UsageError(str(problem)) from None
    except KeyboardInterrupt:
        click.echo("\nStopped.")


@main.command()
@click.argument("folder", type=click.Path(path_type=Path, exists=True, file_okay=False))
@course_option
@click.option("--assignment", help="Only this lab's sheets; every lab's if left out.")
def collect(folder: Path, course: Path, assignment: str | None) -> None:
    """Take sheets in FOLDER, zipped or not, into the course."""
    from .classroom.collecting import collected, told

    click.echo(_said(lambda: told(collected(folder, course, assignment))), nl=False)


@main.command()
@course_option
@click.option("--assignment", "assignments", multiple=True, help="Which lab; again for more. All if left out.")
@click.option("--db", help="Gradebook address, for instance of PostgreSQL; the course's own file if left out.")
@click.option("--workers", type=click.IntRange(1), help="Processes at once; one a core if left out.")
@click.option("--feedback/--no-feedback", default=True, show_default=True, help="Write each learner's page.")
def grade(course: Path, assignments: tuple[str, ...], db: str | None, workers: int | None, feedback: bool) -> None:
    """Mark what was collected; no learner code is run."""
    from .classroom.grading import grade as graded
    from .classroom.grading import waiting
    from .classroom.marks_table import kept
    from .classroom.report import told

    for assignment in assignments or _said(lambda: waiting(course, db_url=db)):
        with click.progressbar(length=1, label="Marking", file=sys.stderr, hidden=not sys.stderr.isatty()) as bar:

            def progress(done: int, of: int, folder: str, bar=bar) -> None:
                bar.length = of
                bar.update(1)

            more = {"db_url": db, "workers": workers, "with_feedback": feedback, "progress": progress}
            report = _said(lambda assignment=assignment, more=more: graded(course, assignment, **more))
        click.echo(told(report), nl=False)
    click.echo(f"Marks: {_said(lambda: kept(course, db_url=db))}")


@main.command()
@course_option
@click.option("--db", help="Gradebook address, for instance of PostgreSQL; the course's own file if left out.")
def report(course: Path, db: str | None) -> None:
    """Write a page for the class and one a learner, to print."""
    from .classroom.report_pages import kept

    click.echo(f"Reports: {_said(lambda: kept(course, db_url=db))}")


@main.command()
@click.option("--chapter", "chapters", multiple=True, help="Which chapter; again for more. All if left out.")
@click.option("--level", "levels", type=int, multiple=True, help="Which level; again for more. All if left out.")
@click.option("--count", type=click.IntRange(1), default=20, show_default=True, help="Jobs of each chapter and level.")
@click.option("--seed", default="practice", show_default=True, help="Begins the seeds: practice/1, practice/2 and so on.")
@click.option("--workers", type=click.IntRange(1), default=2, show_default=True, help="Processes at once.")
@click.option("--keep", is_flag=True, help="Write them into the package as practice jobs.")
def prove(chapters: tuple[str, ...], levels: tuple[int, ...], count: int, seed: str, workers: int, keep: bool) -> None:
    """Draw jobs and prove each of them solvable."""
    from .chapters.shelf import ENDLESS
    from .classroom.proving import kept, proofs, told

    if keep and seed != "practice":
        raise click.UsageError(f"--keep takes the seeds practice/1 and so on; got --seed {seed!r}")
    found = []
    for chapter in chapters or ENDLESS:
        every = ENDLESS[chapter].LEVELS if chapter in ENDLESS else (1,)
        for level in levels or every:
            seeds = [f"{seed}/{number}" for number in range(1, count + 1)]
            found += _said(lambda chapter=chapter, level=level, seeds=seeds: list(proofs(chapter, level, seeds, workers)))
    click.echo(told(found), nl=False)
    if keep:
        click.echo(f"Kept in {kept(found).name}")
    if any(one.attempt < 0 for one in found):
        raise click.ClickException("some seeds give no solvable job")


@main.command()
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--chapter", default="heater-loops", show_default=True, help="Which chapter, or the stories.")
@click.option("--level", type=int, default=1, show_default=True, help="Which level.")
@click.option("--seed", help="Begins the seeds: paper/1, paper/2 and so on. Of the stories, the number of the first.")
@click.option("--count", type=click.IntRange(1), default=1, show_default=True, help="How many jobs.")
@click.option("--answers", type=click.Path(path_type=Path, dir_okay=False), help="Write the answers here, and not at the end.")
def paper(file: Path, chapter: str, level: int, seed: str | None, count: int, answers: Path | None) -> None:
    """Write jobs as paper exercises into FILE, for printing."""
    from .classroom.files import saved
    from .classroom.paper import answered, exercises, jobs_of

    if answers is not None and answers.resolve() == file.resolve():
        raise click.UsageError(f"--answers {answers} is the file of the sheets; name another")
    seed = seed or ("1" if chapter == "stories" else "paper")
    jobs = _said(lambda: jobs_of(chapter, level, seed, count))
    pages = {file: exercises(jobs, with_answers=answers is None)} | ({answers: answered(jobs)} if answers else {})
    for path, page in pages.items():
        _said(lambda path=path, page=page: saved(path, page.encode()))
        click.echo(f"Written: {path}")


@main.group(cls=Commands)
def labs() -> None:
    """Make and check graded labs, one for each learner."""


@labs.command("new")
@course_option
@click.option("--term", type=click.Path(path_type=Path), help="A term.toml; all of its labs are made.")
@click.option("--chapter", help="Which chapter.")
@click.option("--level", type=int, default=1, show_default=True, help="Which level.")
@click.option("--kind", default="job", show_default=True, help="job, wire-up or questions.")
@click.option("--task", help="Of a wire-up: W1 to W16, or drawn:3 for three zones from a bag of parts.")
@click.option("--questions", type=int, help="Of a set: how many.  [default: 8]")
@click.option("--count", type=click.IntRange(1, 50), default=1, show_default=True, help="How many assignments of this sort.")
@click.option("--roster", type=click.Path(path_type=Path), help="Who gets one.  [default: roster.csv of the course]")
@click.option("--seed", help="A label that tells years or classes apart.")
@click.option("--due", help="Until when, for instance 2027-01-15T18:00.")
@click.option("--assignment", help="Its name.  [default: the chapter's number and name]")
@click.option("--workers", type=click.IntRange(1), default=2, show_default=True, help="Processes at once.")
def labs_new(course: Path, term: Path | None, roster: Path | None, seed: str | None, workers: int, **asked: object) -> None:
    """Make labs for every learner who has none yet; what is there stays as it is."""
    from .classroom.making import labs_made, next_steps, told
    from .classroom.roster import roster as learners_of
    from .classroom.terms import term as term_of

    if (term is None) == (asked["chapter"] is None):
        raise click.UsageError("give either --term with a file, or --chapter; " + _chapters())
    if term is not None and (given := _given(asked)):
        raise click.UsageError(f"{', '.join(given)}: {term.name} says that of each lab; leave it out, or give --chapter")
    plan = _said(lambda: term_of(term)) if term else None
    plans = plan.labs if plan else _said(lambda: _plans(**asked))
    learners = _said(lambda: learners_of(roster or (plan.roster if plan else course / "roster.csv")))
    label = seed if seed is not None else plan.seed if plan else ""
    with _counting("Drawing") as progress:
        made = _said(lambda: labs_made(course, plans, learners, label=label, workers=workers, progress=progress))
    click.echo(told(made) + next_steps(made), nl=False)


@labs.command("check")
@course_option
@click.option("--assignment", help="Which lab; all if left out.")
@click.option("--workers", type=click.IntRange(1), default=2, show_default=True, help="Processes at once.")
def labs_check(course: Path, assignment: str | None, workers: int) -> None:
    """Prove that every learner's lab is whole, solvable and as hard as the others, and that nothing is given away."""
    from .classroom.checking import labs_checked, told
    from .classroom.keys import key_of, keys_of

    names = [assignment] if assignment else keys_of(course)
    if not names:
        raise click.UsageError(f"no lab in {course} yet; make one with labs new")
    for name in names:
        _said(lambda name=name: key_of(course, name))
    unsound = []
    for name in names:
        with _counting("Checking") as progress:
            report = _said(lambda name=name, progress=progress: labs_checked(course, name, workers=workers, progress=progress))
        click.echo(told(report), nl=False)
        unsound += [] if report.sound else [name]
    if unsound:
        raise click.ClickException(f"not to be released: {', '.join(unsound)}")


@main.command()
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--labs", "count", type=click.IntRange(1, 5), default=3, show_default=True, help="How many labs.")
@click.option("--workers", type=click.IntRange(1), default=2, show_default=True, help="Processes at once.")
def demo(folder: Path, count: int, workers: int) -> None:
    """Set up a course with an invented class in FOLDER.

    FOLDER is empty or new. The class hands in, and is graded.
    """
    from .classroom.demo import demonstrated

    with _counting("Drawing") as progress:
        more = {"labs": count, "workers": workers, "progress": progress}
        _said(lambda: demonstrated(folder, EXERCISES, say=lambda words: click.echo(words), **more))


def _plans(chapter: str, count: int, assignment: str | None, questions: int | None, **asked: object) -> list:
    """The assignments of one sort that the options ask for."""
    from .classroom.labs import named, planned

    if asked["kind"] == "questions" and questions is None:
        questions = 8
    names = [named(chapter, number, assignment or "") for number in range(1, count + 1)]
    return [planned(name, chapter=chapter, questions=questions, **asked) for name in names]


def _given(names: Iterable[str]) -> list[str]:
    """Those options that were given in so many words."""
    source = click.get_current_context().get_parameter_source
    return [f"--{name}" for name in names if source(name) is click.core.ParameterSource.COMMANDLINE]


def _chapters() -> str:
    from .chapters.shelf import ENDLESS

    return f"chapters are {', '.join(ENDLESS)}"


@contextmanager
def _counting(what: str) -> Iterator[Callable[[str, int, int, str], None]]:
    """Progress on stderr: a bar where somebody looks on, else a line for each ten."""
    quiet = not sys.stderr.isatty()
    with click.progressbar(length=1, label=what, file=sys.stderr, item_show_func=str, hidden=quiet) as bar:

        def progress(assignment: str, done: int, of: int, learner: str) -> None:
            if quiet and (done % 10 == 0 or done == of):
                click.echo(f"{what} {assignment}: {done} of {of}", err=True)
            bar.length, bar.current_item = of, f"{assignment}, {learner}"
            bar.update(done - bar.pos)

        yield progress


def _built(book: Path, force: bool) -> Path:
    from .screens.errors import SiteError
    from .screens.site import build as site

    shown, quiet = [""], not sys.stderr.isatty()
    with click.progressbar(length=100, label="Building", file=sys.stderr, item_show_func=lambda _: shown[0], hidden=quiet) as bar:

        def progress(step: str, share: float) -> None:
            if quiet and step != shown[0]:
                click.echo(f"{step} ...", err=True)
            shown[0] = step
            bar.update(max(0, round(100 * share) - bar.pos))
            bar.render_progress()

        try:
            return site(book, progress=progress, force=force)
        except SiteError as problem:
            raise click.UsageError(str(problem)) from None


def _said(work: Callable[[], T]) -> T:
    """What the work returns; its own errors become one sentence and exit status 2."""
    from .classroom.errors import ClassroomError

    try:
        return work()
    except (ClassroomError, OSError) as problem:
        raise click.UsageError(str(problem)) from None


def run() -> int:
    """Run the command line; wrong input gets one sentence and exit status 2."""
    try:
        main(prog_name="python -m solvers", standalone_mode=False)
    except click.exceptions.NoArgsIsHelpError as asked:
        click.echo(asked.format_message())
        return 2
    except click.ClickException as problem:
        click.echo(problem.format_message(), err=True)
        return 2
    except click.Abort:
        click.echo("Stopped.", err=True)
        return 130
    return 0


if __name__ == "__main__":
    sys.exit(run())
