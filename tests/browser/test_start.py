"""How the browser's Python starts: from what was compiled while the site was built, and with everything the course needs."""

import json
import zipfile
from io import BytesIO

import pytest
from benchmarks.pages import in_the_browser
from browser.conftest import BOOK

from solvers.screens import bundle, compiled, vendor
from solvers.screens.errors import BuildFailed
from solvers.screens.site import html_folder

RUNTIME = html_folder(BOOK) / "_static" / vendor.PYODIDE.folder

# Imports every module of the course, draws, and tells which of all modules came without bytecode of their own.
ALL_OF_IT = """
import importlib, json, sys
for name in NAMES:
    importlib.import_module(name)
import schemdraw, schemdraw.elements as elm
drawing = schemdraw.Drawing(show=False)
drawing += elm.Resistor()
own = {name: module for name, module in sys.modules.items() if module.__spec__ and module.__spec__.origin != "frozen"}
plain = [name for name, module in own.items() if (getattr(module, "__file__", None) or "").endswith(".py")]
json.dumps({"svg": drawing.get_imagedata("svg").decode()[:200], "plain": plain})
"""


def modules() -> list[str]:
    """Every module of the course that the browser gets."""
    names = [name.removesuffix(".py").removesuffix("/__init__") for name in bundle.course()]
    return sorted(name.replace("/", ".") for name in names)


def test_the_browser_compiles_nothing(site, chromium):
    """All of the course starts in the site's Python, each module and its standard library from bytecode, and it draws."""
    found = json.loads(in_the_browser(chromium, f"NAMES = {modules()!r}\n{ALL_OF_IT}"))
    assert "<svg" in found["svg"]
    assert [] == found["plain"]


def test_bytecode_is_that_of_the_sources(site):
    """The course as it is carried has one file of bytecode for each Python file of the bundle, the rest as it was."""
    with zipfile.ZipFile(html_folder(BOOK) / "_static" / "live" / "course.zip") as carried:
        names = set(carried.namelist())
        licence = carried.read("schemdraw/LICENSE")
    files = bundle.contents()
    assert {f"{name}c" if name.endswith(".py") else name for name in files} == names
    assert files["schemdraw/LICENSE"] == licence


def test_equal_sources_give_equal_bytecode(site):
    """Compiled twice, files are equal byte for byte, so that a browser keeps what it has."""
    files = {"one.py": b'"""One."""\nNAMES = {"a", "b", "c"}\n', "two.txt": b"2"}
    once, again = (bundle.packed(compiled.compiled(files, RUNTIME, RUNTIME / compiled.LIBRARY)) for _ in range(2))
    assert once == again
    with zipfile.ZipFile(BytesIO(once)) as archive:
        assert ["one.pyc", "two.txt"] == archive.namelist()


def test_what_is_no_python_is_named(site):
    """A file that cannot be compiled stops the build with its name and what is wrong with it."""
    with pytest.raises(BuildFailed, match=r'(?s)File "bad\.py", line 1.*SyntaxError'):
        compiled.compiled({"bad.py": b"def (\n"}, RUNTIME, RUNTIME / compiled.LIBRARY)
