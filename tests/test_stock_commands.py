"""Every command of stock nbgrader on a course of these labs, as an instructor and a learner would run it."""

import csv
import json
import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
import zipfile
from pathlib import Path

import pytest
from courses import KEYS, LAB, ROOT, feedback, made, nbgrader, rows, sheet_of
from players import careful, lucky

from solvers.classroom.grading import grade

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def course(tmp_path_factory):
    """A course with an exchange folder beside it, its lab generated with a lab file in it and released."""
    folder = tmp_path_factory.mktemp("stock")
    (folder / "exchange").mkdir(mode=0o777)
    (folder / "exchange").chmod(0o777)
    here = made(folder / "course", KEYS["job"])
    (here / "source" / LAB / "labs" / "anna.job.json").write_text("{}")
    with (here / "nbgrader_config.py").open("a") as settings:
        settings.write(f"c.Exchange.root = {str(folder / 'exchange')!r}\nc.Exchange.path_includes_course = False\n")
    nbgrader(here, "generate_assignment", LAB, "--force")
    nbgrader(here, "release_assignment", LAB)
    return here


def test_labs_reach_the_learner_through_the_exchange(course):
    """Generating copies the lab files as they are, and releasing puts them where learners fetch; no key goes with them."""
    out = course.parent / "exchange" / "call-for-heat" / "outbound" / LAB
    for place in (course / "release" / LAB, out):
        assert "{}" == (place / "labs" / "anna.job.json").read_text()
        assert {f"{LAB}.ipynb", "labs"} == {path.name for path in place.iterdir()}
    secrets = [one.seed for one in KEYS["job"].held.values()]
    for path in (path for path in out.rglob("*") if path.is_file()):
        assert not [seed for seed in secrets if seed in path.read_text()]


def test_the_whole_way_by_stock_commands(course, tmp_path):
    """Fetch, submit, collect, autograde, feedback and its release, export: and our grading then changes no mark."""
    home = tmp_path / "home"
    home.mkdir()
    shutil.copy(course / "nbgrader_config.py", home)
    nbgrader(home, "fetch_assignment", LAB)
    learner = os.environ.get("USER") or _me()
    (home / LAB / f"{LAB}.sheet.json").write_text(sheet_of(lucky, "anna"))
    nbgrader(home, "submit", LAB)
    nbgrader(course, "collect", LAB)
    assert (course / "submitted" / learner / LAB / f"{LAB}.sheet.json").exists()
    (course / "submitted" / learner).rename(course / "submitted" / "anna")  # the account that runs this test is in no class
    nbgrader(course, "autograde", LAB)
    stock = rows(course)
    assert (20.0, None, False) == stock["anna", "safety"]
    nbgrader(course, "generate_feedback", LAB)
    assert "look-alike" in feedback(course, "anna")
    nbgrader(course, "release_feedback", LAB)
    nbgrader(course, "export", "--to", str(tmp_path / "grades.csv"))
    (line,) = csv.DictReader((tmp_path / "grades.csv").open(newline=""))
    assert (LAB, "anna", 100.0) == (line["assignment"], line["student_id"], float(line["max_score"]))
    row = grade(course, LAB).row("anna")
    assert stock == rows(course)
    assert float(line["score"]) == row.score


def test_a_platforms_archive_is_collected_by_zip_collect(course):
    """`nbgrader zip_collect` takes notebooks and sheets out of a downloaded archive, and autograding marks them."""
    place = course / "downloaded" / LAB / "archive"
    place.mkdir(parents=True)
    with zipfile.ZipFile(place / "all.zip", "w") as archive:
        archive.write(course / "release" / LAB / f"{LAB}.ipynb", f"dev_{LAB}_2026-10-01-10-00-00_{LAB}.ipynb")
        archive.writestr(f"dev_{LAB}_2026-10-01-10-00-00_{LAB}.sheet.json", sheet_of(careful, "dev"))
    nbgrader(course, "zip_collect", LAB)
    assert json.loads((course / "submitted" / "dev" / LAB / f"{LAB}.sheet.json").read_text())["learner"] == "dev"
    nbgrader(course, "autograde", LAB, "--student", "dev")
    assert 90 == sum(auto or 0 for (learner, _), (auto, _, _) in rows(course).items() if learner == "dev")


def test_formgraders_pages_render(course, tmp_path):
    """An instructor's server shows the assignment, the gradebook and a submission with its explanation cell to be graded."""
    folder = course / "submitted" / "ben" / LAB
    folder.mkdir(parents=True)
    shutil.copy(course / "release" / LAB / f"{LAB}.ipynb", folder)
    (folder / f"{LAB}.sheet.json").write_text(sheet_of(lucky, "ben"))
    grade(course, LAB)
    with _server(course, tmp_path) as page:
        assert LAB in page("formgrader/api/assignments")
        assert "Manage Assignments" in page("formgrader/manage_assignments")
        submissions = json.loads(page(f"formgrader/api/submissions/{LAB}"))
        assert "ben" in [one["student"] for one in submissions]
        notebooks = {one["student"]: one["id"] for one in json.loads(page(f"formgrader/api/submitted_notebooks/{LAB}/{LAB}"))}
        shown = page(f"formgrader/submissions/{notebooks['ben']}/")
        assert "It usually is." in shown
        assert "words of explanation" in shown


class _server:
    """A Jupyter server with formgrader in a course, for as long as a test looks at it."""

    def __init__(self, course, folder):
        with socket.socket() as found:
            found.bind(("127.0.0.1", 0))
            self.port = found.getsockname()[1]
        path = os.pathsep.join([str(Path(sys.executable).parent), os.environ.get("PATH", "")])
        own = {
            "PATH": path,
            "JUPYTER_CONFIG_DIR": str(folder / "config"),
            "HOME": str(folder),
            "JUPYTER_RUNTIME_DIR": str(folder / "run"),
        }
        own["PYTHONPATH"] = os.pathsep.join([str(ROOT), *filter(None, [os.environ.get("PYTHONPATH")])])
        extension = "--ServerApp.jpserver_extensions=nbgrader.server_extensions.formgrader=True"
        words = [
            "jupyter_server",
            "--no-browser",
            f"--port={self.port}",
            "--ServerApp.token=",
            "--ServerApp.password=",
            extension,
        ]
        words += ["--ServerApp.allow_root=True", "--ServerApp.disable_check_xsrf=True"]
        log = (folder / "server.log").open("wb")
        self.log = folder / "server.log"
        self.process = subprocess.Popen([sys.executable, "-m", *words], cwd=course, env=os.environ | own, stdout=log, stderr=log)

    def __enter__(self):
        for _ in range(120):
            try:
                self.page("api")
            except OSError:
                assert self.process.poll() is None, self.log.read_text()
                time.sleep(0.5)
            else:
                return self.page
        raise AssertionError(self.log.read_text())

    def page(self, path):
        """The text of one page."""
        with urllib.request.urlopen(f"http://127.0.0.1:{self.port}/{path}", timeout=60) as answer:
            return answer.read().decode()

    def __exit__(self, *raised):
        self.process.terminate()
        self.process.wait(30)


def _me():
    import getpass

    return getpass.getuser()
