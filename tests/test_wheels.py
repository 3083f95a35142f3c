"""The Python packages of the notebooks in the browser: pinned, complete, and looked for nowhere else."""

import base64
import csv
import hashlib
import json
import zipfile

import pytest

from solvers.screens import lite, wheels
from solvers.screens.errors import DownloadFailed


def pinned(content, name="some"):
    return wheels.Wheel(name, "1.0", hashlib.sha256(content).hexdigest())


def giving(content, asked):
    """A download that gives one wheel of that content."""

    def download(wanted, folder):
        asked.append([each.name for each in wanted])
        (folder / "some-1.0-py3-none-any.whl").write_bytes(content)

    return download


def test_wheels_are_fetched_once(tmp_path):
    """The second build takes them from the cache and asks nobody."""
    asked = []
    for _ in range(2):
        (path,) = wheels.fetched(tmp_path, [pinned(b"wheel")], giving(b"wheel", asked))
        assert path.read_bytes() == b"wheel"
    assert asked == [["some"]]


def test_another_wheel_than_the_pinned_one_is_refused(tmp_path):
    """A wheel with another SHA-256 leaves nothing in the cache, and the message names the package."""
    with pytest.raises(DownloadFailed, match=r"some 1\.0"):
        wheels.fetched(tmp_path, [pinned(b"wheel")], giving(b"another", []))
    assert list(tmp_path.iterdir()) == []


def test_a_changed_pin_is_fetched_again(tmp_path):
    """What was fetched for other pins is not taken for these."""
    asked = []
    for content in (b"one", b"two"):
        (path,) = wheels.fetched(tmp_path, [pinned(content)], giving(content, asked))
        assert path.read_bytes() == content
    assert len(asked) == 2


def test_the_courses_wheel_holds_what_a_workbook_imports():
    """All folders of the package are in it, the screens' scripts and styles too, and its version follows the content."""
    edition, files = wheels.course_files()
    assert {
        "solvers/__init__.py",
        "solvers/screens/notebook.py",
        "solvers/screens/bench.mjs",
        "solvers/screens/bench.css",
    } <= set(files)
    assert {name.split("/")[1] for name in files if name.count("/") > 1} >= {"circuit", "plant", "faults", "jobs", "chapters"}
    assert not [name for name in files if "__pycache__" in name]
    assert wheels.course_files()[0] == edition


def test_the_courses_wheel_has_a_true_record():
    """The list of files in the wheel names each with its own SHA-256 and length, as the wheel's format wants it."""
    _, files = wheels.course_files()
    (name,) = [name for name in files if name.endswith("/RECORD")]
    rows = {row[0]: row[1:] for row in csv.reader(files[name].decode().splitlines())}
    assert set(rows) == set(files)
    assert rows.pop(name) == ["", ""]
    for path, (told, length) in rows.items():
        sha256 = base64.urlsafe_b64encode(hashlib.sha256(files[path]).digest()).decode().rstrip("=")
        assert [f"sha256={sha256}", str(len(files[path]))] == [told, length]


def test_the_lock_names_only_what_lies_beside_it(tmp_path, monkeypatch):
    """Every package a kernel is started with is in the lock with its true SHA-256, as a file beside it, and nothing else is."""
    fake = tmp_path / "fake"
    fake.mkdir()
    for each in wheels.WHEELS:
        with zipfile.ZipFile(fake / f"{each.name}-{each.version}-py3-none-any.whl", "w") as archive:
            archive.writestr("empty.py", "")
    monkeypatch.setattr(wheels, "fetched", lambda cache: tuple(sorted(fake.glob("*.whl"))))
    wheels.laid_out(tmp_path / "cache", tmp_path / "out", {"python": "3.14.2"})
    lock = json.loads((tmp_path / "out" / wheels.LOCK).read_text())
    assert lock["info"] == {"python": "3.14.2"}
    assert sorted(lock["packages"]) == wheels.names()
    for about in lock["packages"].values():
        path = tmp_path / "out" / about["file_name"]
        assert about["sha256"] == hashlib.sha256(path.read_bytes()).hexdigest()


def test_the_notebooks_know_no_other_host():
    """No setting names an address outside the site, and packages are not looked for elsewhere."""
    told = json.dumps(lite.settings())
    assert "://" not in told
    assert '"disablePyPIFallback": true' in told


def test_a_package_that_is_not_installed_is_named():
    """The message says which one, and what to run."""
    with pytest.raises(DownloadFailed, match=r"no-such-package is not installed.*requirements\.txt"):
        wheels.installed("no-such-package")
