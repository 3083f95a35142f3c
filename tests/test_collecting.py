"""Collecting: sheets, notebooks and zip files from anywhere into the course, never guessing and never unpacking on the disk."""

import io
import json
import os
import shutil
import stat
import zipfile
from pathlib import Path

import pytest
from courses import KEYS, LAB, SET, made, sheet_of
from hostile_words import SCRIPT
from players import lucky

from solvers.classroom import archives
from solvers.classroom.collecting import collected, told
from solvers.classroom.errors import NoSuchAssignment, NotAFolder
from solvers.classroom.seeds import seed_of
from solvers.jobs.question_set import QuestionSheet, sheet_written


@pytest.fixture(scope="module")
def released(tmp_path_factory):
    """A course with two labs generated and nothing handed in."""
    return made(tmp_path_factory.mktemp("released"), KEYS["job"], KEYS["questions"])


@pytest.fixture
def course(released, tmp_path):
    """A copy of that course."""
    return shutil.copytree(released, tmp_path / "course")


def test_collecting_finds_each_learners_own_notebook(course, tmp_path):
    """In a folder a learner the notebook beside the sheet is theirs; in one folder for all it must carry the sheet's name."""
    inbox = tmp_path / "inbox"
    for learner in ("anna", "ben"):
        (inbox / learner).mkdir(parents=True)
        (inbox / learner / f"{LAB}.sheet.json").write_text(sheet_of(lucky, learner))
        (inbox / learner / f"{LAB}.ipynb").write_text(learner)
    (inbox / f"carla.{LAB}.sheet.json").write_text(sheet_of(lucky, "carla"))
    (inbox / f"carla.{LAB}.ipynb").write_text("carla")
    (inbox / f"dev.{LAB}.sheet (1).json").write_text(sheet_of(lucky, "dev"))
    (inbox / f"{LAB}.ipynb").write_text("nobody's")
    report = collected(inbox, course, LAB)
    lab = (course / "release" / LAB / f"{LAB}.ipynb").read_text()
    found = {one: (course / "submitted" / one / LAB / f"{LAB}.ipynb").read_text() for _, one in report.taken}
    assert {"anna": "anna", "ben": "ben", "carla": "carla", "dev": lab} == found


def test_a_sheet_under_another_name_is_told(course, tmp_path):
    """Work that was renamed is not passed over in silence, in a folder or in a zip file; other JSON files are not named."""
    inbox = tmp_path / "inbox"
    inbox.mkdir()
    (inbox / "final.json").write_text(sheet_of(lucky, "anna"))
    (inbox / "settings.json").write_text('{"format": "another"}')
    with zipfile.ZipFile(inbox / "all.zip", "w") as archive:
        archive.writestr("ben/mine.json", sheet_of(lucky, "ben"))
    report = collected(inbox, course)
    assert ((), ()) == (report.taken, report.damaged)
    reasons = {Path(one.path).name: one.reason for one in report.left}
    told_of = "It is a sheet of {!r} by its content; end its name in .sheet.json and collect again."
    assert {"final.json": told_of.format("anna"), "mine.json": told_of.format("ben")} == reasons


def test_collecting_again_changes_nothing(course, tmp_path):
    """The same files a second time are unchanged, and so are their times; a new sheet counts from when it was written."""
    path = tmp_path / f"anna.{LAB}.sheet.json"
    path.write_text(sheet_of(lucky, "anna"))
    os.utime(path, (1_790_000_000, 1_790_000_000))
    collected(tmp_path, course, LAB)
    stamp = course / "submitted" / "anna" / LAB / "timestamp.txt"
    assert "2026-09-21 14:13:20 UTC" == stamp.read_text().strip()
    os.utime(path, (1_800_000_000, 1_800_000_000))
    again = collected(tmp_path, course, LAB)
    assert ((), ((LAB, "anna"),)) == (again.taken, again.unchanged)
    assert "2026-09-21 14:13:20 UTC" == stamp.read_text().strip()


def test_collecting_never_guesses(course, tmp_path):
    """Two different sheets of one learner, a stranger's damaged file, a link and another lab's sheet are left and named."""
    inbox, body = tmp_path / "inbox", json.loads(sheet_of(lucky, "anna"))
    inbox.mkdir()
    for name, sheet in {
        "first.sheet.json": body,
        "second.sheet.json": body | {"thinking_s": 9},
        f"ben.{LAB}.sheet.json": body | {"learner": "../../ben"},
        "nameless.sheet.json": body | {"learner": SCRIPT},
    }.items():
        (inbox / name).write_text(json.dumps(sheet))
    (inbox / "broken.sheet.json").write_text("{")
    (inbox / "linked.sheet.json").symlink_to(inbox / "first.sheet.json")
    report = collected(inbox, course, LAB)
    left = {Path(one.path).name: one.reason for one in report.left}
    assert ((LAB, "ben"),) == report.taken, "the file's name says whose the unreadable sheet is"
    assert ["ben"] == sorted(path.name for path in (course / "submitted").iterdir())
    assert {"first.sheet.json", "second.sheet.json", "nameless.sheet.json", "broken.sheet.json", "linked.sheet.json"} == set(left)
    assert "keep one" in left["first.sheet.json"]
    assert "link" in left["linked.sheet.json"]
    assert all(one in told(report) for one in left)


def test_a_damaged_file_never_replaces_a_good_sheet(course, tmp_path):
    """What a learner handed in before stays when a broken file of theirs comes after it."""
    path = tmp_path / f"anna.{LAB}.sheet.json"
    path.write_text(sheet_of(lucky, "anna"))
    collected(tmp_path, course, LAB)
    good = (course / "submitted" / "anna" / LAB / f"{LAB}.sheet.json").read_text()
    path.write_text(good[:100])
    report = collected(tmp_path, course, LAB)
    assert good == (course / "submitted" / "anna" / LAB / f"{LAB}.sheet.json").read_text()
    assert "stays" in report.left[0].reason


def test_collecting_needs_two_folders_and_a_lab(course, tmp_path):
    """A folder that is not there, and an assignment that is not, are named before anything is copied."""
    with pytest.raises(NotAFolder, match="nowhere"):
        collected(tmp_path / "nowhere", course, LAB)
    with pytest.raises(NotAFolder, match="nowhere"):
        collected(tmp_path, tmp_path / "nowhere", LAB)
    with pytest.raises(NoSuchAssignment):
        collected(tmp_path, course, "04")


# archives


def packed(*entries):
    """A zip file of (name, data) or (ZipInfo, data)."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in entries:
            archive.writestr(name, data)
    return file.getvalue()


def test_sheets_come_out_of_zip_files_and_folders(course, tmp_path):
    """A platform's export of one folder a learner, a mail attachment within a zip file, and a loose sheet all arrive."""
    inbox = tmp_path / "inbox"
    (inbox / "Anna Kern_4711_file" / "deeper").mkdir(parents=True)
    (inbox / "Anna Kern_4711_file" / "deeper" / f"{LAB}.sheet.json").write_text(sheet_of(lucky, "anna"))
    (inbox / "ben.zip").write_bytes(packed((f"work/{LAB}.sheet.json", sheet_of(lucky, "ben")), (f"work/{LAB}.ipynb", "ben's")))
    inner = packed((f"{LAB}.sheet.json", sheet_of(lucky, "carla")))
    (inbox / "mail.zip").write_bytes(packed(("attachments/carla.zip", inner), ("readme.txt", "hello"), ("dev/", "")))
    (inbox / "dev.questions.sheet.json").write_text(sheet_written(QuestionSheet("dev", seed_of(SET, "dev"), {1: 2.0})))
    report = collected(inbox, course)
    assert ((LAB, "anna"), (LAB, "ben"), (LAB, "carla"), (SET, "dev")) == report.taken
    assert () == report.left
    assert "ben's" == (course / "submitted" / "ben" / LAB / f"{LAB}.ipynb").read_text()
    assert f"Collected for {SET}: dev" in told(report)


def test_only_one_labs_sheets_are_taken_where_it_is_named(course, tmp_path):
    """With --assignment the sheets of another lab are left and say where they belong."""
    path = tmp_path / "dev.sheet.json"
    path.write_text(sheet_written(QuestionSheet("dev", seed_of(SET, "dev"), {})))
    report = collected(tmp_path, course, LAB)
    assert ((), f"This sheet belongs to {SET}.") == (report.taken, report.left[0].reason)


def test_a_zip_entry_that_leads_out_is_refused_and_the_rest_is_taken(course, tmp_path):
    """Absolute paths, dots, drives, links and passwords are refused one by one and named; what lies beside them arrives."""
    link = zipfile.ZipInfo(f"link/{LAB}.sheet.json")
    link.external_attr = (stat.S_IFLNK | 0o777) << 16
    body = sheet_of(lucky, "anna")
    bad = ["/etc/a.sheet.json", "../../a.sheet.json", "x\\..\\..\\a.sheet.json", "c:/a.sheet.json"]
    data = bytearray(packed((link, "/etc/passwd"), *((name, body) for name in bad), (f"anna/{LAB}.sheet.json", body)))
    secret = packed(("secret.sheet.json", body))
    at = secret.index(b"PK\x01\x02")
    locked = bytearray(secret)
    locked[at + 8] |= 1
    (tmp_path / "all.zip").write_bytes(data)
    (tmp_path / "locked.zip").write_bytes(locked)
    report = collected(tmp_path, course)
    assert ((LAB, "anna"),) == report.taken
    reasons = sorted(one.reason for one in report.left)
    assert 6 == len(reasons)
    for words, count in (("link", 1), ("root of a disk", 2), ("leads out", 2), ("encrypted", 1)):
        assert count == sum(words in reason for reason in reasons), (words, reasons)
    assert not list(tmp_path.parent.glob("a.sheet.json"))
    assert ["all.zip", "course", "locked.zip"] == sorted(path.name for path in tmp_path.iterdir())


def test_bombs_do_not_go_off(course, tmp_path, monkeypatch):
    """Too much from too little, too many entries, too deep a nesting, a false size and a damaged file are each a sentence."""
    zeros = b"\0" * 30_000_000
    bomb = packed((f"bomb/{LAB}.sheet.json", zeros))
    deep = packed((f"{LAB}.sheet.json", sheet_of(lucky, "anna")))
    for _ in range(4):
        deep = packed(("again.zip", deep))
    lying = bytearray(packed((f"lies/{LAB}.sheet.json", zeros)))
    at = lying.index(b"PK\x01\x02")
    lying[at + 24 : at + 28] = (100).to_bytes(4, "little")
    files = {
        "bomb.zip": bomb,
        "nested.zip": packed(("inner.zip", bomb)),
        "deep.zip": deep,
        "lying.zip": bytes(lying),
        "many.zip": packed(*((f"{number}.txt", "") for number in range(60))),
        "cut.zip": bomb[:500],
        "no.zip": b"PK\x05\x06 and nothing",
        "good.zip": packed((f"{LAB}.sheet.json", sheet_of(lucky, "anna"))),
    }
    monkeypatch.setattr(archives, "MOST_ENTRIES", 50)
    monkeypatch.setattr(archives._Budget.__init__, "__defaults__", (archives.MOST_TOTAL, 50))
    for name, data in files.items():
        (tmp_path / name).write_bytes(data)
    report = collected(tmp_path, course)
    assert ((LAB, "anna"),) == report.taken
    assert set(files) - {"good.zip"} == {next(part for part in Path(one.path).parts if part in files) for one in report.left}
    assert all(one.path in told(report) for one in report.left)


def test_what_a_zip_file_holds_in_all_is_bounded(course, tmp_path, monkeypatch):
    """Many entries that are fair one by one are refused from where their sum is not."""
    monkeypatch.setattr(archives._Budget.__init__, "__defaults__", (100_000, 5_000))
    texts = [(f"{number}.sheet.json", os.urandom(40_000).hex()) for number in range(3)]
    (tmp_path / "all.zip").write_bytes(packed(*texts))
    left = collected(tmp_path, course).left
    assert 3 == len(left)
    assert ["far more" in one.reason for one in left] == [False, True, True]


def test_a_sheet_in_a_neighbours_folder_is_left(course, tmp_path):
    """A sheet that says it is Anna's, in Ben's folder, takes nobody's place."""
    (tmp_path / "ben").mkdir()
    (tmp_path / "ben" / f"{LAB}.sheet.json").write_text(sheet_of(lucky, "anna"))
    report = collected(tmp_path, course)
    assert () == report.taken
    assert "lies in the folder of ben" in report.left[0].reason


def test_a_notebook_without_a_sheet_is_taken_where_its_owner_is_known(course, tmp_path):
    """A notebook alone arrives by its name or its learner's folder, so that a person sees what was written in it."""
    (tmp_path / "ben").mkdir()
    (tmp_path / "ben" / f"{LAB}.ipynb").write_text("ben's")
    (tmp_path / f"anna.{LAB}.ipynb").write_text("anna's")
    (tmp_path / f"{LAB}.ipynb").write_text("nobody's")
    report = collected(tmp_path, course)
    assert ((LAB, "anna"), (LAB, "ben")) == report.taken
    assert "ben's" == (course / "submitted" / "ben" / LAB / f"{LAB}.ipynb").read_text()
    assert not (course / "submitted" / "ben" / LAB / f"{LAB}.sheet.json").exists()


def test_somebody_without_a_lab_is_left_and_named(course, tmp_path):
    """A sheet of a learner whom the lab was not made for is left, with the learners it was made for."""
    body = json.loads(sheet_of(lucky, "anna"))
    body |= {"learner": "zoe"}
    body["job"]["seed"] = f"{LAB}/zoe"
    (tmp_path / "x.sheet.json").write_text(json.dumps(body))
    report = collected(tmp_path, course)
    assert () == report.taken
    assert "'zoe' has no lab" in report.left[0].reason


def test_links_to_folders_are_named(course, tmp_path):
    """A link to a folder is not followed, and the report says so."""
    inbox = tmp_path / "inbox"
    inbox.mkdir()
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "elsewhere" / f"{LAB}.sheet.json").write_text(sheet_of(lucky, "anna"))
    (inbox / "anna").symlink_to(tmp_path / "elsewhere")
    report = collected(inbox, course)
    assert () == report.taken
    assert "It is a link" in report.left[0].reason
