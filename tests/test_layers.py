"""The architecture, held by reading the source."""

import ast
import sys
from pathlib import Path

import pytest

import solvers

PACKAGE = Path(solvers.__file__).parent
ORDER = ("circuit", "plant", "faults", "jobs", "chapters")
MAY_USE = {
    "circuit": {"circuit"},
    "plant": {"circuit", "plant"},
    "faults": {"circuit", "plant", "faults"},
    "jobs": {"circuit", "plant", "faults", "jobs"},
    "chapters": {"circuit", "plant", "faults", "jobs", "chapters"},
    "pictures": {"circuit", "plant", "pictures"},
    "screens": {*ORDER, "pictures", "screens", "classroom"},
    "classroom": {*ORDER, "pictures", "classroom"},
}
ALSO = {"pictures": {"schemdraw"}, "circuit/tables.py": {"numpy"}}
FILES = sorted(path for path in PACKAGE.rglob("*.py") if path.parent != PACKAGE and "build" not in path.parts)


def _imports(path: Path) -> list[tuple[str, ...]]:
    """Every import of a file as its full dotted path, relative ones resolved."""
    here = ("solvers", *path.relative_to(PACKAGE).parts[:-1])
    found = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [tuple(alias.name.split(".")) for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = here[: len(here) - node.level + 1] if node.level else ()
            found.append((*base, *(node.module.split(".") if node.module else ())))
    return found


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_imports_run_one_way(path):
    """A file imports only from its own folder or from folders before it."""
    folder = path.relative_to(PACKAGE).parts[0]
    used = {name[1] for name in _imports(path) if name[0] == "solvers" and len(name) > 1}
    assert set() == used - MAY_USE[folder]


@pytest.mark.parametrize(
    "path", [path for path in FILES if path.relative_to(PACKAGE).parts[0] in (*ORDER, "pictures")], ids=lambda path: path.name
)
def test_what_runs_in_the_browser_needs_the_standard_library_only(path):
    """From circuit to chapters nothing but the standard library is imported; pictures add schemdraw, tables numpy."""
    relative = path.relative_to(PACKAGE)
    allowed = ALSO.get(relative.parts[0], set()) | ALSO.get(relative.as_posix(), set())
    used = {name[0] for name in _imports(path)} - {"solvers", "__future__"}
    assert set() == {name for name in used if name not in sys.stdlib_module_names} - allowed


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_only_the_command_line_prints(path):
    """No module below the command line prints or ends the process."""
    names = {node.func.id for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))) if _plain_call(node)}
    assert set() == names & {"print", "exit", "quit"}


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_public_names_are_listed_in_order(path):
    """Every module names its public objects in a sorted `__all__`; a folder's own file defines nothing."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    if path.name == "__init__.py":
        assert not [node for node in tree.body if isinstance(node, ast.FunctionDef | ast.ClassDef)]
        return
    listed = next(
        [element.value for element in node.value.elts]
        for node in tree.body
        if isinstance(node, ast.Assign) and getattr(node.targets[0], "id", "") == "__all__"
    )
    assert sorted(listed, key=_as_sorted) == listed


@pytest.mark.parametrize(
    "path", [path for path in FILES if path.relative_to(PACKAGE).parts[0] in ("faults", "jobs")], ids=lambda path: path.name
)
def test_nothing_branches_on_a_fault(path):
    """Neither faults nor jobs compare with the id of a row: rows are data."""
    compared = {
        constant.value
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Compare | ast.Match)
        for constant in ast.walk(node)
        if isinstance(constant, ast.Constant) and isinstance(constant.value, str)
    }
    assert not [value for value in compared if value[:2] in ("SP", "TS", "HL", "ES", "MZ", "NF") and "-" in value]


def test_the_package_lists_its_folders():
    """The package that is installed holds every folder that there is."""
    listed = (PACKAGE / "pyproject.toml").read_text(encoding="utf-8")
    for folder in sorted({path.relative_to(PACKAGE).parts[0] for path in FILES}):
        assert f'"solvers.{folder}"' in listed


def _plain_call(node: ast.AST) -> bool:
    return isinstance(node, ast.Call) and isinstance(node.func, ast.Name)


def _as_sorted(name: str) -> tuple[int, str]:
    """Constants, then classes, then functions, each by name: the order that the linter keeps."""
    kind = 0 if name.isupper() else 1 if name[:1].isupper() else 2
    return kind, name
