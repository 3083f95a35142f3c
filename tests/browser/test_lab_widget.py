"""A lab as a notebook plays it: the widget's own script in a browser, its Python behind it, the sheet on disk."""

import json
from pathlib import Path

import pytest
from browser.chromium import opened
from lab_files import JOB, SET, TABLE, files, sealed_text

from solvers.jobs import question_set, wiring_task
from solvers.jobs.sheet import parsed
from solvers.screens.notebook import LabWidget

LONG = 60_000  # ms
PAGE = """<!doctype html><meta charset="utf-8"><style>{css}</style><body data-jp-theme-light="true"><div id="cell"></div>
<script type="module">
{script}
</script>"""
BEGUN = """
const heard = new Set();
const model = {
  get: () => "",
  on: (_, listen) => heard.add(listen),
  off: (_, listen) => heard.delete(listen),
  send: async ({ id, request }) => {
    const response = JSON.parse(await window.python(JSON.stringify(request)));
    for (const listen of heard) listen({ id, response });
  },
};
await render({ model, el: document.getElementById("cell") });
"""


@pytest.fixture
def notebook(chromium, tmp_path):
    """A cell with a lab: the page, and the path of its sheet; whatever is asked goes to the widget's Python."""
    (tmp_path / "labs").mkdir()
    endings = {"job": "job", "wire-up": "task", "questions": "questions"}
    for kind, text in {**files(), "job": sealed_text()}.items():
        (tmp_path / "labs" / f"anna.{endings[kind]}.json").write_text(text, encoding="utf-8")
    with opened(chromium, 1000, 900) as (page, seen):
        page.expose_function("python", lambda request: json.dumps(page.widget.answer(json.loads(request))))

        def cell(assignment: str, kind: str) -> Path:
            for other, ending in endings.items():
                path = tmp_path / "labs" / f"anna.{ending}.json"
                path.write_text(files()[kind] if other == kind else "", encoding="utf-8")
                if other != kind:
                    path.unlink()
            page.widget = LabWidget(assignment, folder=tmp_path)
            script = page.widget._esm.removesuffix("export default { render };\n") + BEGUN
            page.set_content(PAGE.format(css=page.widget._css, script=script))
            return tmp_path / f"{assignment}.sheet.json"

        page.cell = cell
        yield page
        assert [] == seen.complaints


def _enter(page, id="anna"):
    page.get_by_label("Your id as your instructor has it").fill(id)
    page.get_by_role("button", name="Begin").click()


def test_who_has_no_lab_is_told_so(notebook):
    """An id without a lab stays at the question, with the ids that have one."""
    notebook.cell(JOB, "job")
    _enter(notebook, "zoe")
    notebook.get_by_text("no lab for 'zoe'; it has labs for anna").wait_for(timeout=LONG)


def test_a_job_is_kept_beside_the_notebook(notebook):
    """A reading goes into the file at once, and running the cell again goes on with it."""
    path = notebook.cell(JOB, "job")
    for lines in (1, 2):
        _enter(notebook)
        notebook.locator(".point-target").first.wait_for(timeout=LONG)
        assert lines - 1 == notebook.locator(".log-lines li").count()
        notebook.get_by_role("button", name="Wait 1 min").click()
        notebook.locator(f".log-lines li:nth-child({lines})").wait_for(timeout=LONG)
        notebook.wait_for_function("document.querySelector('.cfh-bench[data-tab]').ariaBusy === 'false'")
        assert lines == len(parsed(path.read_bytes()).log)
        assert 0 == notebook.get_by_role("button", name="Save your sheet").count()
        notebook.cell(JOB, "job")


def test_a_wire_up_is_kept_beside_the_notebook(notebook):
    """A wire goes into the file at once."""
    path = notebook.cell(TABLE, "wire-up")
    _enter(notebook)
    for terminal in ("transformer.R", "fuse.in"):
        notebook.locator(f'[data-terminal="{terminal}"]').click(timeout=LONG)
    notebook.get_by_role("button", name="Join", exact=True).first.click()
    notebook.get_by_text("1 wire on the table").first.wait_for(timeout=LONG)
    notebook.wait_for_function("document.querySelector('.cfh-table').ariaBusy === 'false'")
    made = wiring_task.opened(files()["wire-up"]).made
    assert 1 == len(wiring_task.sheet_parsed(path.read_bytes(), made).wiring.wires)


def test_questions_are_kept_beside_the_notebook(notebook):
    """An answer goes into the file, and stands in the form again when the cell is run again."""
    path = notebook.cell(SET, "questions")
    _enter(notebook)
    notebook.locator(".cfh-questions input[type=text]").first.fill("0,8", timeout=LONG)
    notebook.locator(".cfh-questions input[type=text]").first.blur()
    for _ in range(100):
        if path.exists():
            break
        notebook.wait_for_timeout(100)
    assert {1: 0.8} == question_set.sheet_parsed(path.read_bytes()).answers
    notebook.cell(SET, "questions")
    _enter(notebook)
    notebook.locator(".cfh-questions").wait_for(timeout=LONG)
    assert "0.8" == notebook.locator(".cfh-questions input[type=text]").first.input_value()
