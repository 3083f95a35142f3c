"""The workbooks as notebooks in the browser: JupyterLite, built from installed packages, with the site's own Python."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path

from . import vendor, wheels
from .errors import BuildFailed, DownloadFailed

__all__ = ["FOLDER", "WHEELS_FOLDER", "fingerprint", "notebooks", "settings", "workbooks"]

FOLDER = "lite"  # of the site
WHEELS_FOLDER = "wheels"  # below the site's static folder
APPS = ("notebooks", "tree")
EXTENSIONS = (wheels.KERNEL, "anywidget", "jupyterlab-widgets")
PACKAGES = ("jupyterlite-core", *EXTENSIONS)
KERNEL_SPEC = {"display_name": "Python (Pyodide)", "language": "python", "name": "python"}
LOG = "lite.log"


def notebooks(book_dir: Path) -> tuple[Path, ...]:
    """Return the book's workbooks, in order."""
    return tuple(sorted((book_dir / "workbooks").glob("*.ipynb")))


def settings() -> dict[str, object]:
    """Return what JupyterLite is told: where Python and its packages are, and to look for none elsewhere.

    All addresses are relative to the folder of the notebooks, so that the site may lie anywhere.
    """
    kernel = {
        "pyodideUrl": f"./../_static/{vendor.PYODIDE.folder}/pyodide.mjs",
        "disablePyPIFallback": True,
        "loadPyodideOptions": {"lockFileURL": f"./../_static/{WHEELS_FOLDER}/{wheels.LOCK}", "packages": wheels.names()},
    }
    data = {
        "appName": "Call for Heat",
        "appUrl": "./tree",
        "faviconUrl": "./../_static/mark.svg",
        "disabledExtensions": ["@jupyterlite/notebook-application-extension:share-file"],
        "litePluginSettings": {"@jupyterlite/pyodide-kernel-extension:kernel": kernel},
    }
    return {"jupyter-lite-schema-version": 0, "jupyter-config-data": data}


def fingerprint() -> str:
    """Return a text that changes whenever a pin, a setting or this file does. Raises DownloadFailed for a missing package."""
    for package in PACKAGES:
        wheels.installed(package)
    own = Path(__file__).read_text(encoding="utf-8")
    return json.dumps([settings(), own, [f"{package} {version(package)}" for package in PACKAGES]])


def extension_folders() -> list[str]:
    """Return the folders of the extensions that a workbook needs and no others, wherever the packages were installed."""
    found = []
    for package in EXTENSIONS:
        files = [path for path in wheels.installed(package) if path.name == "package.json" and "labextensions" in path.parts]
        if len(files) != 1:
            raise DownloadFailed(f"{package} {version(package)} has {len(files)} notebook extensions; one is expected")
        found.append(str(files[0].parent))
    return found


def workbooks(book_dir: Path, package: Path, progress: Callable[[float], None]) -> None:
    """Build the notebooks' part of the site into `_build/lite`; what was said goes to `_build/lite.log`.

    Raises DownloadFailed when a package is missing, BuildFailed with the last lines when the build stops.
    """
    target, log = book_dir / "_build" / FOLDER, book_dir / "_build" / LOG
    shutil.rmtree(target, ignore_errors=True)
    build = {
        "apps": APPS,
        "contents": ["files"],
        "federated_extensions": extension_folders(),
        "ignore_sys_prefix": ["federated_extensions"],
        "no_sourcemaps": True,
        "no_unused_shared_packages": True,
    }
    progress(0.1)
    with tempfile.TemporaryDirectory() as scratch:
        source = Path(scratch)
        (source / "files").mkdir()
        for path in notebooks(book_dir):
            notebook = json.loads(path.read_text(encoding="utf-8"))
            notebook["metadata"]["kernelspec"] = KERNEL_SPEC  # else the browser asks which kernel is meant
            (source / "files" / path.name).write_text(json.dumps(notebook), encoding="utf-8")
        (source / "jupyter-lite.json").write_text(json.dumps(settings()), encoding="utf-8")
        (source / "jupyter_lite_config.json").write_text(json.dumps({"LiteBuildConfig": build}), encoding="utf-8")
        command = [sys.executable, "-m", "jupyterlite_core", "build", "--output-dir", str(target)]
        result = subprocess.run(
            command,
            cwd=source,
            env=os.environ | {"PYTHONIOENCODING": "utf-8", "PYTHONUTF8": "1"},
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
            errors="replace",
        )
    log.write_text(result.stdout, encoding="utf-8")
    if result.returncode or not (target / "jupyter-lite.json").is_file():
        said = [line for line in result.stdout.splitlines() if line.strip()][-15:]
        raise BuildFailed("\n".join(["the notebooks could not be built:", *said, f"Everything it said: {log}"]))
    for page in target.rglob("index.html"):  # without an icon a browser asks for one at the top of the site
        icon = "../" * len(page.relative_to(target).parts) + "_static/mark.svg"
        text = page.read_text(encoding="utf-8").replace("<head>", f'<head>\n<link rel="icon" href="{icon}">', 1)
        page.write_text(text, encoding="utf-8")
    progress(1.0)
