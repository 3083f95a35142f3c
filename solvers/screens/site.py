"""Builds the book as a static site that asks no other host for anything.

Steps, each done only when something it reads has changed: what the site carries (the browser's Python, fonts, the course as a
bundle and as a wheel, the bench's scripts), the pages, or of them only those that would take another number or drawing from the
package, the workbooks as notebooks in the browser, and the list of files for use without a network.
"""

import hashlib
import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterable
from importlib.metadata import version
from pathlib import Path

from . import bundle, compiled, lite, vendor, wheels
from .errors import BuildFailed, SiteError

__all__ = ["Progress", "build", "carried", "complaints", "html_folder", "inputs", "moved", "pages", "renewed", "stale"]

Progress = Callable[[str, float], None]  # what is being done, and how much of the whole is done, 0 to 1

STAMP_FORMAT = 2
LIBRARIES = ("jupyter-book", "myst-nb", "pydata-sphinx-theme", "schemdraw", "Sphinx", "sphinx-book-theme")
SCREEN_FILES = ("*.css", "*.mjs")
COLOUR = re.compile(r"\x1b\[[0-9;]*m")
SIBLING = re.compile(r'(from "\./[\w-]+\.mjs)"')
SHARE = re.compile(r"(reading sources|writing output)\.\.\. \[ *(\d+)%\]")
INDEX_HEAD = '<!DOCTYPE html>\n<meta charset="utf-8">\n<title>Call for Heat</title>\n<link rel="icon" href="_static/mark.svg">\n'
TAKEN = "taken.json"  # what each page took from the package, noted while it is built
MOVED = "import json, sys; sys.path.insert(0, sys.argv[1]); import drawings; print(json.dumps(drawings.changed(sys.argv[2])))"
HEAVY = (".map", ".ttf")  # never asked for by a page
UNASKED = (
    *("_sources/", "_static/scripts/fontawesome.js", "objects.inv"),
    f"_static/{vendor.PYODIDE.folder}/{compiled.SOURCES}",  # for the notebooks alone; pages start from the compiled one
)
ON_DEMAND = (f"{lite.FOLDER}/", f"_static/{lite.WHEELS_FOLDER}/")  # the notebooks: for those who open one


def html_folder(book_dir: Path) -> Path:
    """Return where the built site of this book is, or will be."""
    return Path(book_dir) / "_build" / "html"


def digest(paths: Iterable[Path], root: Path, *words: str) -> str:
    """Return a digest of the files' names and contents and of the words beside them."""
    total = hashlib.sha256("\0".join(words).encode())
    for path in sorted(paths):
        total.update(f"\0{path.relative_to(root).as_posix()}\0".encode() + hashlib.sha256(path.read_bytes()).digest())
    return total.hexdigest()


def inputs(book_dir: Path, package: Path) -> dict[str, str]:
    """Return one digest a step, of everything that step reads.

    Pages call the package while they are built, and Sphinx does not see that: `numbers` stands for every Python file of the
    package, since any of them can change what a page takes. Which pages that are, `moved` finds out.
    """
    source = [
        path
        for path in book_dir.rglob("*")
        if path.is_file() and not {"_build", "__pycache__", ".ipynb_checkpoints"} & set(path.relative_to(book_dir).parts)
    ]
    python = [path for path in package.rglob("*.py") if "__pycache__" not in path.parts]
    screens = [path for pattern in SCREEN_FILES for path in (package / "screens").glob(pattern)]
    libraries = [f"{name} {version(name)}" for name in LIBRARIES]
    return {
        "pages": digest(source, book_dir, Path(__file__).read_text(encoding="utf-8"), *libraries),
        "numbers": digest(python, package),
        "carried": digest([*python, *screens], package, vendor.fingerprint(), *libraries),
        "workbooks": digest(lite.notebooks(book_dir), book_dir, lite.fingerprint()),
    }


def stale(book_dir: Path, now: dict[str, str]) -> tuple[str, ...]:
    """Return the steps of `now` that have to be done again; none when the site is up to date."""
    made = book_dir / "_build"
    wanted = (
        html_folder(book_dir) / "index.html",
        made / "carried" / "live" / "course.json",
        made / lite.FOLDER / "jupyter-lite.json",
    )
    if not all(path.is_file() for path in wanted):
        return tuple(sorted(now))
    try:
        stamp = json.loads((book_dir / "_build" / "stamp.json").read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return tuple(sorted(now))
    if not isinstance(stamp, dict) or stamp.get("format") != STAMP_FORMAT:
        return tuple(sorted(now))
    return tuple(sorted(step for step, value in now.items() if stamp.get(step) != value))


def carried(book_dir: Path, package: Path, progress: Callable[[float], None]) -> None:
    """Lay out what the site carries beside its pages, in `_build/carried`.

    `live/course.json` names the runtime's folder and gives bundle and screens addresses that change with
    their content. Raises DownloadFailed or BundleIncomplete.
    """
    target = book_dir / "_build" / "carried"
    shutil.rmtree(target, ignore_errors=True)
    vendor.vendored(book_dir / "_build" / "vendor", target, lambda fraction: progress(0.7 * fraction))
    live = target / "live"
    live.mkdir()
    files = bundle.contents(package)
    runtime, cache = target / vendor.PYODIDE.folder, book_dir / "_build" / "vendor"
    shutil.copyfile(compiled.library(runtime, cache), runtime / compiled.LIBRARY)
    bytecode = compiled.compiled(files, runtime, runtime / compiled.LIBRARY)
    (live / "course.zip").write_bytes(bundle.packed(bytecode))
    screens = sorted(path for pattern in SCREEN_FILES for path in (package / "screens").glob(pattern))
    edition = digest(screens, package)[:12]
    for path in screens:
        # One edition throughout: a browser that keeps an old module must not mix it with a new one.
        (live / path.name).write_text(SIBLING.sub(rf'\1?{edition}"', path.read_text(encoding="utf-8")), encoding="utf-8")
    course = {
        "python": f"../{vendor.PYODIDE.folder}/",
        "library": f"../{vendor.PYODIDE.folder}/{compiled.LIBRARY}",
        "course": f"course.zip?{bundle.fingerprint(bytecode)}",
        "bench": f"bench.mjs?{edition}",
        "style": f"bench.css?{edition}",
        "table": f"wiring.mjs?{edition}",
        "table_style": f"wiring.css?{edition}",
        "house": f"found.mjs?{edition}",
        "house_style": f"found.css?{edition}",
        "explorer": f"explorer.mjs?{edition}",
        "section_clock": f"section-clock.mjs?{edition}",
        "self_check": f"self-check.mjs?{edition}",
        "progress": f"progress.mjs?{edition}",
        "lab": f"lab.mjs?{edition}",
        "lab_style": f"lab.css?{edition}",
        "kept": f"kept.mjs?{edition}",
    }
    (live / "course.json").write_text(json.dumps(course, indent=1), encoding="utf-8")
    lock = json.loads((runtime / "pyodide-lock.json").read_text(encoding="utf-8"))
    wheels.laid_out(cache, target / lite.WHEELS_FOLDER, lock["info"], package)
    progress(1.0)


def pages(book_dir: Path, package: Path, progress: Callable[[float], None]) -> None:
    """Build all pages with Jupyter Book, warnings counting as errors; its words go to `_build/pages.log`.

    Always from nothing: Sphinx warns about a page only when it reads it, so a page kept from a failed build would
    pass the next one. Raises BuildFailed with the warnings.
    """
    shutil.rmtree(html_folder(book_dir), ignore_errors=True)
    shutil.rmtree(book_dir / "_build" / ".doctrees", ignore_errors=True)
    (book_dir / "_build" / TAKEN).unlink(missing_ok=True)
    written(book_dir, package, progress)


def renewed(book_dir: Path, package: Path, progress: Callable[[float], None]) -> None:
    """Build those pages again that would take something else from the package than they took, or all if nobody noted it.

    Only for a book that has not changed since all of its pages passed. Raises BuildFailed.
    """
    if not (book_dir / "_build" / TAKEN).is_file() or not (book_dir / "_build" / ".doctrees").is_dir():
        pages(book_dir, package, progress)
        return
    progress(0.0)
    if again := moved(book_dir, package):
        written(book_dir, package, lambda fraction: progress(0.3 + 0.7 * fraction), again)


def moved(book_dir: Path, package: Path) -> tuple[str, ...]:
    """Return the pages that would take something else from the package than when they were built.

    All that any page took is asked for once more, in a process of its own: this one may have the package as it was.
    Raises BuildFailed with the process's last words.
    """
    arguments = [str(book_dir / "ext"), str(book_dir / "_build" / TAKEN)]
    result = subprocess.run(
        [sys.executable, "-P", "-c", MOVED, *arguments],
        env=surroundings(package),
        capture_output=True,
        encoding="utf-8",
        errors="replace",
    )
    if result.returncode:
        raise BuildFailed("\n".join(["what the pages take could not be compared:", *result.stderr.splitlines()[-5:]]))
    return tuple(json.loads(result.stdout.splitlines()[-1]))


def surroundings(package: Path) -> dict[str, str]:
    """Return the environment of a process that is to import this package."""
    path = os.pathsep.join(filter(None, [str(package.parent), os.environ.get("PYTHONPATH")]))
    return os.environ | {"PYTHONPATH": path, "PYTHONIOENCODING": "utf-8", "PYTHONUTF8": "1"}


def written(book_dir: Path, package: Path, progress: Callable[[float], None], again: Iterable[str] = ()) -> None:
    """Let Jupyter Book write what is not there yet, and the pages named in `again`. Raises BuildFailed with the warnings."""
    log = book_dir / "_build" / "pages.log"
    command = [sys.executable, "-P", "-c", "from jupyter_book.cli.main import main; main()"]
    command += ["build", str(book_dir), "-W", "-n", "--keep-going"]
    said = []
    with (
        log.open("w", encoding="utf-8") as out,
        subprocess.Popen(
            command,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            env=surroundings(package) | {"PAGES_AGAIN": " ".join(again)},
            encoding="utf-8",
            errors="replace",
        ) as process,
    ):
        for line in process.stdout:
            line = COLOUR.sub("", line)
            said.append(line.rstrip())
            out.write(line)
            if share := SHARE.match(line):
                progress((0 if share[1] == "reading sources" else 0.5) + int(share[2]) / 200)
    if process.returncode:
        raise BuildFailed("\n".join(["the pages could not be built:", *complaints(said), f"Everything it said: {log}"]))
    index = html_folder(book_dir) / "index.html"  # only leads to the first page; without an icon a browser asks for one
    text = index.read_text(encoding="utf-8")
    if not text.startswith(INDEX_HEAD):
        index.write_text(f"{INDEX_HEAD}{text}", encoding="utf-8")
    progress(1.0)


def complaints(said: list[str]) -> list[str]:
    """Return the lines that say what is wrong, or the last ones if none does so in a known form."""
    marked = [line for line in said if re.search(r"\b(WARNING|ERROR|CRITICAL|SEVERE)\b:", line)]
    return list(dict.fromkeys(marked)) or [line for line in said if line][-15:]


def offline(book_dir: Path) -> None:
    """Write the worker that keeps the site for use without a network, with the list of files to keep."""
    html = html_folder(book_dir)
    files = {
        path.relative_to(html).as_posix(): path
        for path in sorted(html.rglob("*"))
        if path.is_file() and not path.name.startswith(".") and path.suffix not in HEAVY and path.name != "offline.js"
    }
    kept = [name for name in files if not name.startswith((*UNASKED, *ON_DEMAND))]
    edition = digest([files[name] for name in kept], html)[:12]
    worker = (book_dir / "assets" / "live" / "offline.js").read_text(encoding="utf-8")
    facts = f"const EDITION = {json.dumps(edition)};\nconst FILES = {json.dumps(kept, indent=0)};\n"
    (html / "offline.js").write_text(facts + worker, encoding="utf-8")


def build(
    book_dir: Path,
    *,
    progress: Progress,
    force: bool = False,
    package: Path = bundle.PACKAGE,
    carry: Callable[[Path, Path, Callable[[float], None]], None] = carried,
    write: Callable[[Path, Path, Callable[[float], None]], None] = pages,
    renew: Callable[[Path, Path, Callable[[float], None]], None] = renewed,
    notebooks: Callable[[Path, Path, Callable[[float], None]], None] = lite.workbooks,
) -> Path:
    """Build what is stale of the site and return its folder, `book_dir/_build/html`.

    `progress` hears what is being done and the share of the whole that is done. A build that fails leaves no stamp,
    so the next one starts over. Raises SiteError or one of its kinds.
    """
    book_dir = Path(book_dir).resolve()
    if not (book_dir / "_config.yml").is_file():
        raise SiteError(f"{book_dir} is not the book: it has no _config.yml")
    now = inputs(book_dir, package)
    todo = tuple(sorted(now)) if force else stale(book_dir, now)
    html = html_folder(book_dir)
    if not todo:
        progress("nothing has changed", 1.0)
        return html
    stamp = book_dir / "_build" / "stamp.json"
    stamp.parent.mkdir(exist_ok=True)
    stamp.unlink(missing_ok=True)
    if "carried" in todo:
        step = "fetching and packing what the browser runs"
        carry(book_dir, package, lambda fraction: progress(step, 0.4 * fraction))
    if "pages" in todo:
        step = "building the pages"
        write(book_dir, package, lambda fraction: progress(step, 0.4 + 0.4 * fraction))
    elif "numbers" in todo:
        step = "building the pages whose numbers or drawings have changed"
        renew(book_dir, package, lambda fraction: progress(step, 0.4 + 0.4 * fraction))
    if "workbooks" in todo:
        step = "building the notebooks"
        notebooks(book_dir, package, lambda fraction: progress(step, 0.8 + 0.1 * fraction))
    progress("putting the site together", 0.9)
    for folder in ON_DEMAND:  # their files are named for their content: old ones would pile up
        shutil.rmtree(html / folder, ignore_errors=True)
    shutil.copytree(book_dir / "_build" / "carried", html / "_static", dirs_exist_ok=True)
    shutil.copytree(book_dir / "_build" / lite.FOLDER, html / lite.FOLDER)
    offline(book_dir)
    fresh = stamp.with_suffix(".new")
    fresh.write_text(json.dumps({"format": STAMP_FORMAT, **now}, indent=1), encoding="utf-8")
    fresh.replace(stamp)
    progress("the site is ready", 1.0)
    return html
