"""The Python packages of the notebooks in the browser: pinned wheels, the course as one more, and the lock that lists them.

Pyodide installs what its lock file names and can look for nothing elsewhere.
"""

from __future__ import annotations

import base64
import hashlib
import json
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from importlib.metadata import PackageNotFoundError, distribution
from pathlib import Path

from .. import __version__
from .bundle import PACKAGE, fingerprint, packed
from .errors import DownloadFailed

__all__ = ["KERNEL", "WHEELS", "Wheel", "course_files", "delivered", "downloaded", "fetched", "installed", "laid_out", "names"]


@dataclass(frozen=True, slots=True)
class Wheel:
    """One pure-Python wheel, pinned."""

    name: str  # as its file spells it
    version: str  # exact
    sha256: str  # of the file, hexadecimal


WHEELS = (
    Wheel("anywidget", "0.11.0", "c574d9acc6503ad27b37a9acea48f957a8ba7c9c9876cfcb37898931c098ce9d"),
    Wheel("asttokens", "3.0.2", "9da13157f5b28becde0bd374fc677dcd3c290614264eff096f167c469cd9f933"),
    Wheel("comm", "0.2.3", "c615d91d75f7f04f095b30d1c1711babd43bdc6419c1be9886a85f2f4e489417"),
    Wheel("decorator", "5.3.1", "f47fe6fdbd2edd623ecfe36875d37aba411624e2670dd395dddae1358689bb3c"),
    Wheel("executing", "2.3.0", "736e859c9f8701f11fcf516856f26f562e04776387824b43a35a1dfe21c84122"),
    Wheel("ipython", "9.12.0", "0f2701e8ee86e117e37f50563205d36feaa259d2e08d4a6bc6b6d74b18ce128d"),
    Wheel("ipython_pygments_lexers", "1.1.1", "a9462224a505ade19a605f71f8fa63c2048833ce50abc86768a0d81d876dc81c"),
    Wheel("ipywidgets", "8.1.9", "f2b8cbcaae10252b809fbe4d7470db75c09b769a32cbf816d20e5ca6d3c5a79d"),
    Wheel("jedi", "0.19.2", "a8ef22bde8490f57fe5c7681a3c83cb58874daf72b4784de3cce5b6ef6edb5b9"),
    Wheel("matplotlib_inline", "0.2.2", "3c821cf1c209f59fb2d2d64abbf5b23b67bcb2210d663f9918dd851c6da1fcf6"),
    Wheel("micropip", "0.11.1", "768de165adb8e66906039d8fec4127a57f522dfdf8e6fbff877a4616941ecfd3"),
    Wheel("packaging", "26.4", "81383611a09c1bc0b08b76e0fd5829d7c6824c65b27a6aee339da133f4233ea2"),
    Wheel("parso", "0.8.7", "a8926eb2a1b915486941fdbd31e86a4baf88fe8c210f25f2f35ecec5b574ca1c"),
    Wheel("prompt_toolkit", "3.0.53", "01c0891d7f9237d5e339f7d3e42cdae80b7534abb1c7c0e3352efba6231492f2"),
    Wheel("psygnal", "0.16.1", "93b96894d8c46f0a3c0bfaaf8abe73f0d6db2c20cc6d303624cf08f85abc3c92"),
    Wheel("pure_eval", "0.2.4", "96cae060a313cfaad51bb761278bfb0e62dc0248d9315a81173752dc546cd37a"),
    Wheel("pygments", "2.21.0", "2363c69b61c4a97c838da3b130dcd6468f4848992b21a82f2a63ec34377137d9"),
    Wheel("schemdraw", "0.23", "b6af33cf175fb7692ed3f71b5d2702c400e009ae26efe76c6fa4f85d34e0fac5"),
    Wheel("stack_data", "0.6.3", "d5558e0c25a4cb0853cddad3d77da9891a08cb85dd9f9f91b9f8cd66e511e695"),
    Wheel("traitlets", "5.16.1", "f775618166caa0396c8e337099240f2bd3e5e917d203b2e6fbe21a58d3cb1f6b"),
    Wheel("typing_extensions", "4.16.0", "481caa481374e813c1b176ada14e97f1f67a4539ce9cfeb3f350d78d6370c2e8"),
    Wheel("wcwidth", "0.9.4", "901eace6d2dd25ebb917d0ce5db18e5c537e1504c905cf32f0d006c12098b05d"),
)
"""What ipywidgets, anywidget and the kernel's IPython need in the browser's Python, and the drawing library."""

KERNEL = "jupyterlite-pyodide-kernel"
KERNEL_WHEELS = ("ipykernel-", "piplite-", "pyodide_kernel-", "widgetsnbextension-4")
"""How the file names of the wheels begin that the kernel's own package delivers. Its widgetsnbextension is a small stand-in."""

COURSE = "call_for_heat"
COURSE_FILES = ("*.py", "*.mjs", "*.css")
PYTHON = "3.14"  # of the browser's Python
LOCK = "pyodide-lock.json"


def installed(package: str) -> tuple[Path, ...]:
    """Return every file that an installed package came with. Raises DownloadFailed when it is not there."""
    try:
        files = distribution(package).files or ()
    except PackageNotFoundError:
        raise DownloadFailed(f"{package} is not installed. Run: python -m pip install -r requirements.txt") from None
    return tuple(Path(path.locate()).resolve() for path in files)


def delivered() -> tuple[Path, ...]:
    """Return the wheels that come with the kernel. Raises DownloadFailed when one of them is missing."""
    found = [path for path in installed(KERNEL) if path.suffix == ".whl" and path.parent.name == "pypi"]
    chosen = [path for start in KERNEL_WHEELS for path in found if path.name.startswith(start)]
    if len(chosen) != len(KERNEL_WHEELS):
        raise DownloadFailed(f"{KERNEL} lacks a wheel: wanted {list(KERNEL_WHEELS)}, found {sorted(path.name for path in found)}")
    return tuple(chosen)


def downloaded(wheels: Sequence[Wheel], folder: Path) -> None:
    """Download the wheels into a folder with pip, which refuses any whose SHA-256 is another.

    Raises DownloadFailed with pip's own words.
    """
    wanted = folder / "wanted.txt"
    wanted.write_text("".join(f"{each.name}=={each.version} --hash=sha256:{each.sha256}\n" for each in wheels), encoding="utf-8")
    command = [sys.executable, "-m", "pip", "download", "--quiet", "--disable-pip-version-check", "--no-deps", "--require-hashes"]
    command += ["--only-binary=:all:", "--implementation", "py", "--abi", "none", "--platform", "any"]
    command += ["--python-version", PYTHON, "--dest", str(folder), "--requirement", str(wanted)]
    result = subprocess.run(command, capture_output=True, text=True, encoding="utf-8", errors="replace")
    wanted.unlink()
    if result.returncode:
        said = [line for line in result.stderr.splitlines() if "error" in line.lower()] or result.stderr.splitlines()
        raise DownloadFailed(
            f"pip could not fetch the notebooks' packages: {' '.join(said[:3]) or 'it gave no reason'}. "
            "The first build needs the network; later builds use what was fetched."
        )


def fetched(
    cache: Path, wheels: Sequence[Wheel] = WHEELS, download: Callable[[Sequence[Wheel], Path], None] = downloaded
) -> tuple[Path, ...]:
    """Return the wheels' files in `cache`, downloading all if one is not there.

    A folder appears under its final name only when it is complete. Raises DownloadFailed, also for a file that is missing
    after all.
    """
    pins = "\n".join(f"{each.name} {each.version} {each.sha256}" for each in wheels)
    home = cache / f"wheels-{hashlib.sha256(pins.encode()).hexdigest()[:12]}"
    if not home.is_dir():
        cache.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=cache) as scratch:
            fresh = Path(scratch) / "wheels"
            fresh.mkdir()
            download(wheels, fresh)
            there = {hashlib.sha256(path.read_bytes()).hexdigest() for path in fresh.glob("*.whl")}
            if missing := [f"{each.name} {each.version}" for each in wheels if each.sha256 not in there]:
                raise DownloadFailed(f"after the download these packages are missing, or are not the pinned ones: {missing}")
            fresh.replace(home)
    return tuple(sorted(home.glob("*.whl")))


def course_files(package: Path = PACKAGE) -> tuple[str, dict[str, bytes]]:
    """Return the course's version and the files of its wheel by their path: all Python, the screens' scripts and styles.

    The version, and with it the wheel's address, changes with the content, so that no browser keeps an old one.
    """
    paths = sorted(path for pattern in COURSE_FILES for path in package.rglob(pattern))
    own = [path for path in paths if not {"__pycache__", "build"} & set(path.relative_to(package).parts)]
    files = {f"solvers/{path.relative_to(package).as_posix()}": path.read_bytes() for path in own}
    edition = f"{__version__}+{fingerprint(files)}"
    about = f"{COURSE}-{edition}.dist-info"
    files[f"{about}/METADATA"] = f"Metadata-Version: 2.1\nName: call-for-heat\nVersion: {edition}\n".encode()
    files[f"{about}/WHEEL"] = b"Wheel-Version: 1.0\nGenerator: call-for-heat\nRoot-Is-Purelib: true\nTag: py3-none-any\n"
    files[f"{about}/RECORD"] = record(files, f"{about}/RECORD").encode()
    return edition, files


def record(files: dict[str, bytes], own: str) -> str:
    """Return a wheel's list of files: each with its SHA-256 and length, the list itself without."""
    rows = []
    for name, content in sorted(files.items()):
        sha256 = base64.urlsafe_b64encode(hashlib.sha256(content).digest()).rstrip(b"=").decode()
        rows.append(f"{name},sha256={sha256},{len(content)}\n")
    return "".join([*rows, f"{own},,\n"])


def entry(path: Path) -> dict[str, object]:
    """Return what a lock file says of one wheel.

    Nothing is said of what it depends on, since a notebook's kernel is started with all of them.
    """
    name, version = path.name.split("-")[:2]
    return {
        "name": name.lower().replace("_", "-"),
        "version": version,
        "file_name": path.name,
        "install_dir": "site",
        "package_type": "package",
        "sha256": hashlib.sha256(path.read_bytes()).hexdigest(),
        "imports": [],
        "depends": [],
        "unvendored_tests": False,
    }


def names() -> list[str]:
    """Return the packages a notebook's kernel is started with, as the lock names them."""
    found = [each.name for each in WHEELS] + [path.name.split("-")[0] for path in delivered()] + [COURSE]
    return sorted({name.lower().replace("_", "-") for name in found})


def laid_out(cache: Path, target: Path, info: object, package: Path = PACKAGE) -> None:
    """Lay every wheel out in `target`, with the lock that names them and Pyodide's own `info` block. Raises DownloadFailed."""
    target.mkdir(parents=True)
    for path in (*fetched(cache), *delivered()):
        shutil.copyfile(path, target / path.name)
    edition, files = course_files(package)
    (target / f"{COURSE}-{edition}-py3-none-any.whl").write_bytes(packed(files))
    listed = [entry(path) for path in sorted(target.glob("*.whl"))]
    lock = {"info": info, "packages": {each["name"]: each for each in listed}}
    (target / LOCK).write_text(json.dumps(lock, indent=1), encoding="utf-8")
