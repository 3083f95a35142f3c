"""Packs the Python that runs in the browser: the course itself and the part of schemdraw it draws with."""

import hashlib
import io
import zipfile
from importlib.metadata import PackageNotFoundError, distribution
from pathlib import Path

from .errors import BundleIncomplete

__all__ = ["COURSE", "PACKAGE", "contents", "course", "drawing_library", "fingerprint", "packed"]

PACKAGE = Path(__file__).resolve().parent.parent

# Below the package's folder: whole packages, then the files of `screens` that need no notebook and no Sphinx.
COURSE = ("circuit", "plant", "faults", "jobs", "chapters", "pictures")
SCREENS = tuple(f"screens/{name}.py" for name in ("__init__", "exploring", "found", "labs", "page", "table"))
LEFT_OUT = frozenset({"circuit/tables.py", "jobs/metered.py", "jobs/sealing.py"})  # need numpy; the browser does without

# schemdraw's other backend wants matplotlib, its parser pyparsing; the course draws with neither
UNUSED = (
    "schemdraw/backends/mpl.py",
    "schemdraw/dsp/",
    "schemdraw/flow/",
    "schemdraw/logic/",
    "schemdraw/parsing/",
    "schemdraw/pictorial/",
)

EPOCH = (1980, 1, 1, 0, 0, 0)  # the earliest time a zip file can state
PLAIN_FILE = 0o100644 << 16
UNIX = 3


def course(package: Path = PACKAGE) -> dict[str, bytes]:
    """Return the course's own files by their path in the bundle.

    Raises BundleIncomplete when a package or a screen is not there.
    """
    needed = ["__init__.py", *SCREENS, *(f"{folder}/__init__.py" for folder in COURSE)]
    if missing := [name for name in needed if not (package / name).is_file()]:
        raise BundleIncomplete(f"the bundle for the browser needs {missing}; not found below {package.name}/")
    found = [path.relative_to(package).as_posix() for folder in COURSE for path in (package / folder).rglob("*.py")]
    names = sorted({*needed, *found} - LEFT_OUT)
    return {f"solvers/{name}": (package / name).read_bytes() for name in names}


def drawing_library() -> dict[str, bytes]:
    """Return the files of the installed schemdraw that the browser needs, its licence among them.

    Raises BundleIncomplete when schemdraw is not installed.
    """
    try:
        installed = distribution("schemdraw")
    except PackageNotFoundError:
        raise BundleIncomplete("schemdraw is not installed. Run: python -m pip install -r requirements.txt") from None
    found = {}
    for path in installed.files or ():
        name = path.as_posix()
        if name.startswith("schemdraw/") and name.endswith(".py") and not name.startswith(UNUSED):
            found[name] = Path(path.locate()).read_bytes()
        elif ".dist-info/" in name and path.name.startswith("LICENSE"):
            found["schemdraw/LICENSE"] = Path(path.locate()).read_bytes()
    return found


def contents(package: Path = PACKAGE) -> dict[str, bytes]:
    """Return every file of the bundle by its path. Raises BundleIncomplete."""
    return course(package) | drawing_library()


def packed(files: dict[str, bytes]) -> bytes:
    """Return the files as a zip archive that depends on nothing but them.

    Names are sorted and every time is the same, so equal sources give equal bytes.
    """
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name in sorted(files):
            entry = zipfile.ZipInfo(name, EPOCH)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.create_system = UNIX
            entry.external_attr = PLAIN_FILE
            archive.writestr(entry, files[name], compresslevel=9)
    return buffer.getvalue()


def fingerprint(files: dict[str, bytes]) -> str:
    """Return a short text that differs for different files; it names the bundle in addresses."""
    digest = hashlib.sha256()
    for name in sorted(files):
        digest.update(f"{name}\0{len(files[name])}\0".encode() + files[name])
    return digest.hexdigest()[:12]
