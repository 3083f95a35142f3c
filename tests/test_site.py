"""The site: what goes into the browser, what is built again and when, and how it is served."""

import ast
import base64
import hashlib
import importlib.util
import io
import json
import subprocess
import sys
import tarfile
import threading
import urllib.error
import urllib.request
import zipfile
from pathlib import Path, PurePosixPath

import pytest

from solvers.screens import bundle, serving, site, vendor
from solvers.screens.errors import BuildFailed, BundleIncomplete, DownloadFailed, PortTaken, SiteError

BOOK = Path(__file__).resolve().parent.parent / "book"


def extension(name):
    spec = importlib.util.spec_from_file_location(f"book_{name}", BOOK / "ext" / f"{name}.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def small_package(root):
    """A package with every folder the bundle needs and one line in each file."""
    package = root / "solvers"
    for folder in (*bundle.COURSE, "screens"):
        (package / folder).mkdir(parents=True)
        (package / folder / "__init__.py").write_text(f'"""{folder}"""\n')
    (package / "__init__.py").write_text('"""All."""\n')
    (package / "circuit" / "tables.py").write_text("import numpy\n")
    for name in bundle.SCREENS:
        (package / name).write_text(f'"""{name}"""\n')
    (package / "screens" / "site.py").write_text("import subprocess\n")
    (package / "screens" / "bench.mjs").write_text("export default async () => {};\n")
    (package / "screens" / "bench.css").write_text(".bench {}\n")
    return package


# What goes into the browser


def test_equal_sources_give_an_equal_bundle(tmp_path):
    """Neither the order of files nor the time they were written changes the bundle's bytes."""
    package = small_package(tmp_path)
    files = bundle.course(package)
    first = bundle.packed(files)
    for path in package.rglob("*.py"):
        path.write_bytes(path.read_bytes())
    assert bundle.packed(dict(reversed(bundle.course(package).items()))) == first


def test_the_fingerprint_follows_the_content(tmp_path):
    """A changed line, and a line moved from one file to the next, give the bundle another fingerprint."""
    files = {"a.py": b"1\n2\n", "b.py": b"3\n"}
    others = [{"a.py": b"1\n2\n", "b.py": b"4\n"}, {"a.py": b"1\n", "b.py": b"2\n3\n"}, {"a.py": b"1\n2\n", "c.py": b"3\n"}]
    assert len({bundle.fingerprint(each) for each in [files, *others]}) == 4


def test_the_bundle_holds_the_course_and_leaves_the_rest(tmp_path):
    """Of `screens` only what a page runs goes along, and nothing that wants numpy."""
    names = set(bundle.course(small_package(tmp_path)))
    assert {"solvers/__init__.py", "solvers/screens/page.py", "solvers/jobs/__init__.py"} <= names
    assert not names & {"solvers/screens/site.py", "solvers/circuit/tables.py", "solvers/screens/bench.mjs"}


def test_a_missing_package_is_named(tmp_path):
    """A bundle is never packed without one of its packages; the message says which is missing."""
    package = small_package(tmp_path)
    (package / "faults" / "__init__.py").unlink()
    with pytest.raises(BundleIncomplete, match=r"faults/__init__\.py"):
        bundle.course(package)


def module(name):
    """The name under which Python knows a file of the bundle."""
    return name.removesuffix(".py").removesuffix("/__init__").replace("/", ".")


def imported(name, source):
    """The absolute names of the modules that a file of the bundle imports."""
    package = PurePosixPath(name).parent.parts
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else ()
            yield ".".join([*base, *([node.module] if node.module else [])])


def test_the_course_imports_only_what_the_browser_has():
    """Each import of the bundled course is the standard library, schemdraw, or a file of the bundle itself."""
    files = bundle.contents()
    modules = {module(name) for name in files}
    foreign = {
        (name, wanted)
        for name, source in files.items()
        if name.startswith("solvers/")
        for wanted in imported(name, source)
        if wanted not in modules and wanted.partition(".")[0] not in sys.stdlib_module_names
    }
    assert foreign == set()


def test_every_module_of_the_course_starts_with_nothing_installed(tmp_path):
    """A Python without any package but the bundle can import all of the course and draw an SVG."""
    files = bundle.contents()
    path = tmp_path / "course.zip"
    path.write_bytes(bundle.packed(files))
    names = [module(name) for name in files if name.startswith("solvers/")]
    program = (
        "import sys, importlib; sys.path.insert(0, sys.argv[1])\n"
        "for name in sys.argv[2:]: importlib.import_module(name)\n"
        "import schemdraw, schemdraw.elements as elm\n"
        "drawing = schemdraw.Drawing(show=False); drawing += elm.Resistor()\n"
        "print(drawing.get_imagedata('svg').decode())"
    )
    command = [sys.executable, "-I", "-S", "-c", program, str(path), *names]
    result = subprocess.run(command, capture_output=True, text=True, timeout=120)
    assert result.stderr == ""
    assert "<svg" in result.stdout


def test_the_drawing_library_comes_with_its_licence():
    """schemdraw travels with its licence and without the backend that wants matplotlib."""
    names = set(bundle.drawing_library())
    assert {"schemdraw/LICENSE", "schemdraw/backends/svg.py", "schemdraw/elements/twoterm.py"} <= names
    assert "schemdraw/backends/mpl.py" not in names


# What is fetched


def archive(folder, names=("one.txt", "two.txt")):
    path = folder / "some-1.0.0.tgz"
    with tarfile.open(path, "w:gz") as tar:
        for name in names:
            entry = tarfile.TarInfo(f"package/{name}")
            entry.size = len(name)
            tar.addfile(entry, io.BytesIO(name.encode()))
    return path


def pinned(path, files=("one.txt",)):
    sha512 = base64.b64encode(hashlib.sha512(path.read_bytes()).digest()).decode()
    return vendor.Package(name="@owner/some", version="1.0.0", sha512=sha512, folder="some", files=files)


def test_a_package_is_fetched_once(tmp_path):
    """The second build takes the package from the cache and asks nobody."""
    path = archive(tmp_path)
    asked = []
    package = pinned(path)
    for _ in range(2):
        home = vendor.fetched(package, tmp_path / "cache", lambda each, folder: asked.append(each.spec) or path)
        assert (home / "one.txt").read_text() == "one.txt"
    assert asked == ["@owner/some@1.0.0"]
    assert sorted(each.name for each in (tmp_path / "cache").iterdir()) == ["some-1.0.0"]


def test_another_archive_than_the_pinned_one_is_refused(tmp_path):
    """An archive whose SHA-512 differs leaves nothing in the cache."""
    path = archive(tmp_path)
    package = pinned(path)
    archive(tmp_path, ("one.txt",))
    with pytest.raises(DownloadFailed, match="not the pinned one"):
        vendor.fetched(package, tmp_path / "cache", lambda each, folder: path)
    assert list((tmp_path / "cache").iterdir()) == []


def test_a_file_that_the_archive_lacks_is_named(tmp_path):
    """A package that has lost a file the site carries is refused with the files it has."""
    path = archive(tmp_path)
    with pytest.raises(DownloadFailed, match=r"no file 'three\.txt'.*two\.txt"):
        vendor.fetched(pinned(path, ("one.txt", "three.txt")), tmp_path / "cache", lambda each, folder: path)


def test_the_runtime_can_look_for_no_package_elsewhere():
    """Of Pyodide's lock file only the block that must match the runtime is left."""
    original = json.dumps({"info": {"python": "3.14.2"}, "packages": {"numpy": {"file_name": "numpy.whl"}}})
    assert json.loads(vendor.lock(original)) == {"info": {"python": "3.14.2"}, "packages": {}}


# What is built again


ALL_STEPS = ["carried", "pages", "workbooks"]


class Workshop:
    """A small book and package, and four builders that write down when they are called."""

    def __init__(self, root):
        self.package = small_package(root)
        self.book = root / "book"
        (self.book / "assets" / "live").mkdir(parents=True)
        (self.book / "_config.yml").write_text("title: Test\n")
        (self.book / "intro.md").write_text("# Intro\n")
        (self.book / "assets" / "live" / "offline.js").write_text("// worker\n")
        (self.book / "workbooks").mkdir()
        (self.book / "workbooks" / "01-one.ipynb").write_text("{}\n")
        self.html = self.book / "_build" / "html"
        self.built, self.heard = [], []

    def carry(self, book, package, progress):
        self.built.append("carried")
        (book / "_build" / "carried" / "live").mkdir(parents=True, exist_ok=True)
        (book / "_build" / "carried" / "live" / "course.json").write_text("{}")
        (book / "_build" / "carried" / "wheels").mkdir(exist_ok=True)
        (book / "_build" / "carried" / "wheels" / "some.whl").write_text("wheel")
        progress(1.0)

    def notebooks(self, book, package, progress):
        self.built.append("workbooks")
        (book / "_build" / "lite").mkdir(parents=True, exist_ok=True)
        (book / "_build" / "lite" / "jupyter-lite.json").write_text("{}")
        progress(1.0)

    def write(self, book, package, progress):
        self.built.append("pages")
        self.html.mkdir(parents=True, exist_ok=True)
        (self.html / "index.html").write_text("<title>Test</title>")
        progress(1.0)

    def renew(self, book, package, progress):
        self.built.append("numbers")
        progress(1.0)

    def build(self, **options):
        """Build, and return the steps that were taken."""
        self.built.clear()
        steps = {"carry": self.carry, "write": self.write, "renew": self.renew, "notebooks": self.notebooks} | options
        folder = site.build(self.book, progress=lambda *heard: self.heard.append(heard), package=self.package, **steps)
        assert folder == self.html
        return sorted(self.built)


@pytest.fixture
def workshop(tmp_path):
    made = Workshop(tmp_path)
    assert made.build() == ALL_STEPS
    return made


def test_nothing_changed_builds_nothing(workshop):
    """A second build takes no step, also when files were written again with the same content."""
    page = workshop.book / "intro.md"
    page.write_bytes(page.read_bytes())
    assert workshop.build() == []


@pytest.mark.parametrize(
    ("path", "steps"),
    [
        ("book/intro.md", ["pages"]),
        ("book/new-page.md", ["pages"]),
        ("book/_config.yml", ["pages"]),
        ("book/assets/theme.css", ["pages"]),
        ("solvers/screens/bench.css", ["carried"]),
        ("solvers/screens/bench.mjs", ["carried"]),
        ("solvers/circuit/tables.py", ["carried", "numbers"]),
        ("solvers/pictures/__init__.py", ["carried", "numbers"]),
        ("book/workbooks/01-one.ipynb", ["pages", "workbooks"]),
        ("book/_build/notes.txt", []),
    ],
)
def test_a_change_is_followed_by_the_steps_that_read_it(workshop, tmp_path, path, steps):
    """Each kind of input is followed by exactly the steps that read it, once."""
    with (tmp_path / path).open("a") as file:
        file.write("\n")
    assert workshop.build() == steps
    assert workshop.build() == []


def test_a_removed_page_is_noticed(workshop):
    """Removing an input counts as a change."""
    (workshop.book / "intro.md").unlink()
    assert workshop.build() == ["pages"]


def test_a_lost_site_is_built_again(workshop):
    """Without the built pages, or with an unreadable stamp, everything is built."""
    (workshop.html / "index.html").unlink()
    assert workshop.build() == ALL_STEPS
    (workshop.book / "_build" / "stamp.json").write_text("not JSON")
    assert workshop.build() == ALL_STEPS


def test_force_builds_everything(workshop):
    """`force` takes every step although nothing has changed."""
    assert workshop.build(force=True) == ALL_STEPS


def test_a_failed_build_is_not_taken_for_a_good_one(workshop):
    """After a failure the next build starts over, even when nothing else has changed."""

    def failing(book, package, progress):
        raise BuildFailed("the pages could not be built")

    (workshop.book / "intro.md").write_text("# Broken\n")
    with pytest.raises(BuildFailed):
        workshop.build(write=failing)
    assert workshop.build() == ALL_STEPS


SMALL_CONFIG = """\
title: Test
only_build_toc_files: true
exclude_patterns: [ext]
sphinx:
  local_extensions: {drawings: ext}
"""


@pytest.fixture
def small_book(tmp_path):
    """A book of three pages, two of which take a number from a package of its own, and that package."""
    package, book = small_package(tmp_path), tmp_path / "book"
    (package / "jobs" / "numbers.py").write_text('def one():\n    return "1 V"\n\n\ndef two():\n    return "2 V"\n')
    (book / "ext").mkdir(parents=True)
    (book / "ext" / "drawings.py").write_bytes((BOOK / "ext" / "drawings.py").read_bytes())
    (book / "_config.yml").write_text(SMALL_CONFIG)
    (book / "_toc.yml").write_text("format: jb-book\nroot: intro\nchapters:\n- file: one\n- file: two\n")
    (book / "intro.md").write_text("# Intro\n")
    for name in ("one", "two"):
        (book / f"{name}.md").write_text(f"# Page {name}\n\nYou read {{reading}}`solvers.jobs.numbers:{name}`.\n")
    (book / "_build").mkdir()
    site.pages(book, package, lambda share: None)
    return book, package


def renewed_pages(book, package, old, new):
    """Change a text in the numbers, renew the site, and return which of the two pages were written again."""
    numbers = package / "jobs" / "numbers.py"
    assert old in numbers.read_text()
    numbers.write_text(numbers.read_text().replace(old, new))
    html = site.html_folder(book)
    before = {path.stem: path.read_text() for path in html.glob("*.html")}
    for name, text in before.items():
        (html / f"{name}.html").write_text(f"{text}<!-- as it was -->")
    site.renewed(book, package, lambda share: None)
    now = {path.stem: path.read_text() for path in html.glob("*.html")}
    return sorted(name for name in ("one", "two") if not now[name].endswith("<!-- as it was -->"))


def test_only_pages_whose_numbers_changed_are_built_again(small_book):
    """A page that takes a changed number shows the new one; the page that takes another, and a change of no number, stand."""
    book, package = small_book
    html = site.html_folder(book)
    assert renewed_pages(book, package, "def two", "# a remark\ndef two") == []
    assert renewed_pages(book, package, "2 V", "3 V") == ["two"]
    assert "3 V" in (html / "two.html").read_text()
    assert "1 V" in (html / "one.html").read_text()
    assert renewed_pages(book, package, "3 V", "3 V ") == ["two"]
    assert renewed_pages(book, package, "1 V", "4 V") == ["one"]


def test_a_number_that_can_no_longer_be_had_stops_the_build(small_book):
    """A page whose function has gone is built again, and the build says what is missing."""
    book, package = small_book
    with pytest.raises(BuildFailed, match="has no function 'one'"):
        renewed_pages(book, package, "def one", "def won")


def test_without_a_note_of_what_was_taken_all_pages_are_built(small_book):
    """Where nobody noted what the pages took, none is taken to be as it should."""
    book, package = small_book
    (book / "_build" / "taken.json").unlink()
    assert renewed_pages(book, package, "def two", "# a remark\ndef two") == ["one", "two"]


def test_progress_only_grows(workshop):
    """The share that is reported starts low, never falls, and ends at the whole."""
    workshop.heard.clear()
    workshop.build(force=True)
    shares = [share for _, share in workshop.heard]
    assert shares == sorted(shares)
    assert shares[-1] == 1.0


def test_what_is_carried_lies_beside_the_pages(workshop):
    """The carried files are in the static folder, and the offline worker lists them."""
    assert (workshop.html / "_static" / "live" / "course.json").read_text() == "{}"
    worker = (workshop.html / "offline.js").read_text()
    assert '"_static/live/course.json"' in worker
    assert worker.endswith("// worker\n")


def test_the_notebooks_lie_in_the_site_and_are_not_kept(workshop):
    """The site has the notebooks and their wheels, and the offline worker, which fetches all it lists, lists neither."""
    assert (workshop.html / "lite" / "jupyter-lite.json").is_file()
    assert (workshop.html / "_static" / "wheels" / "some.whl").is_file()
    worker = (workshop.html / "offline.js").read_text()
    assert '"_static/live/course.json"' in worker
    assert '"lite/' not in worker
    assert "wheels/" not in worker


def test_an_old_wheel_goes(workshop):
    """A wheel that is named for content no longer there is gone from the site after the next build."""
    (workshop.html / "_static" / "wheels" / "older.whl").write_text("older")
    (workshop.package / "screens" / "bench.mjs").write_text("export default 1;\n")
    assert workshop.build() == ["carried"]
    assert sorted(path.name for path in (workshop.html / "_static" / "wheels").iterdir()) == ["some.whl"]


def test_a_folder_without_a_book_is_refused(tmp_path):
    """A wrong folder is named; nothing is written into it."""
    with pytest.raises(SiteError, match=r"_config\.yml"):
        site.build(tmp_path, progress=lambda step, share: None)
    assert list(tmp_path.iterdir()) == []


def test_complaints_are_the_lines_that_say_what_is_wrong():
    """Warnings are kept once each; without any, the last lines stand in."""
    said = ["reading sources... [100%] intro", "intro.md:3: WARNING: no such page", "done", "intro.md:3: WARNING: no such page"]
    assert site.complaints(said) == ["intro.md:3: WARNING: no such page"]
    assert site.complaints(["one", "", "two"]) == ["one", "two"]


# What a page may ask for and take from the package


def test_an_outside_request_is_found(tmp_path):
    """Scripts, styles, fonts and pictures from another host are reported; links a reader may follow are not."""
    offline = extension("offline")
    page = tmp_path / "page.html"
    page.write_text(
        '<script src="https://cdn.example/a.js"></script><link rel="stylesheet" href="//cdn.example/b.css">'
        '<img src="_static/own.svg"><a href="https://example.org/">read</a><link rel="next" href="https://example.org/2">'
    )
    style = tmp_path / "style.css"
    style.write_text(
        '@import "https://cdn.example/c.css"; p { background: url(//cdn.example/d.png) } q { background: url(e.png) }'
    )
    assert offline.outside(page) == ["https://cdn.example/a.js", "//cdn.example/b.css"]
    assert offline.outside(style) == ["https://cdn.example/c.css", "//cdn.example/d.png"]


@pytest.mark.parametrize(
    ("target", "message"),
    [
        ("os:getcwd", "not module:function inside solvers"),
        ("solvers.circuit", "not module:function inside solvers"),
        ("solvers.circus:volts", "No module named"),
        ("solvers.screens.serving:shown", "no function 'shown'; it has .*'serve'"),
        ("solvers.screens.serving:HOST", "no function 'HOST'"),
        ("solvers.screens.vendor:lock", "failed: TypeError"),
    ],
)
def test_what_a_page_names_wrongly_is_explained(target, message):
    """A reading or drawing that is not there stops the build with the reason and the choices."""
    drawings = extension("drawings")
    with pytest.raises(drawings.Unusable, match=message):
        drawings.text_of(target, {})


def test_a_text_that_is_no_drawing_is_refused():
    """A function that gives a text but no SVG cannot be a drawing."""
    drawings = extension("drawings")
    assert drawings.text_of("solvers.screens.vendor:fingerprint", {}) == vendor.fingerprint()
    with pytest.raises(drawings.Unusable, match="well-formed SVG"):
        drawings.svg_of(vendor.fingerprint(), "solvers.screens.vendor:fingerprint")


# How it is served


@pytest.fixture
def served(tmp_path):
    (tmp_path / "index.html").write_text("<title>Test</title>")
    (tmp_path / "folder").mkdir()
    with serving.serve(tmp_path, 0) as server:
        thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01}, daemon=True)
        thread.start()
        yield server, tmp_path
        server.shutdown()
        thread.join()


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("live.mjs", "text/javascript"),
        ("offline.js", "text/javascript"),
        ("python.wasm", "application/wasm"),
        ("some.whl", "application/octet-stream"),
        ("course.zip", "application/zip"),
        ("course.json", "application/json"),
        ("text.woff2", "font/woff2"),
        ("theme.css", "text/css"),
        ("mark.svg", "image/svg+xml"),
    ],
)
def test_files_have_the_type_a_browser_insists_on(served, name, kind):
    """Each kind of file the site carries is sent with its type, and is asked for again when it may have changed."""
    server, folder = served
    (folder / name).write_bytes(b"content")
    with urllib.request.urlopen(server.address + name, timeout=10) as answer:
        assert answer.headers.get_content_type() == kind
        assert answer.headers["Cache-Control"] == "no-cache"
        assert answer.read() == b"content"


@pytest.mark.parametrize("path", ["folder/", "missing.html", "../secret.txt"])
def test_nothing_but_the_sites_files_is_sent(served, path):
    """No list of a folder, and nothing from outside the site."""
    server, folder = served
    (folder.parent / "secret.txt").write_text("secret")
    with pytest.raises(urllib.error.HTTPError) as caught:
        urllib.request.urlopen(server.address + path, timeout=10)
    with caught.value:
        assert caught.value.code == 404


def test_a_taken_port_is_said_to_be_taken(served):
    """A second server on the same port is refused with the port's number and the way out."""
    server, folder = served
    port = server.server_address[1]
    with pytest.raises(PortTaken, match=f"port {port} is taken.*or 0"):
        serving.serve(folder, port)


def test_port_zero_finds_a_free_one(served):
    """Two servers that may choose get two addresses, both on this machine alone."""
    server, folder = served
    with serving.serve(folder, 0) as other:
        assert other.address != server.address
        assert other.address.startswith("http://127.0.0.1:")


@pytest.mark.parametrize("port", [-1, 65536])
def test_a_number_that_is_no_port_is_refused(served, port):
    """The message shows the number and the range."""
    with pytest.raises(SiteError, match=f"{port} is not a port.*0 to 65535"):
        serving.serve(served[1], port)


def test_a_folder_without_a_site_is_refused(tmp_path):
    """Serving an unbuilt book says that it has to be built first."""
    with pytest.raises(SiteError, match="Build the book first"):
        serving.serve(tmp_path, 0)


def test_the_bundle_is_a_zip_that_any_tool_opens(tmp_path):
    """The archive is sound and gives back what was packed."""
    files = bundle.course(small_package(tmp_path))
    with zipfile.ZipFile(io.BytesIO(bundle.packed(files))) as zipped:
        assert zipped.testzip() is None
        assert {name: zipped.read(name) for name in zipped.namelist()} == files


def test_modules_of_one_edition_stay_together():
    """An import of a neighbour gets the edition's address, so that old and new modules never mix."""
    line = 'import { Acts } from "./bench-acts.mjs";'
    assert 'import { Acts } from "./bench-acts.mjs?abc";' == site.SIBLING.sub(r'\1?abc"', line)
