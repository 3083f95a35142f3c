"""The graded labs as an nbgrader course: sheets are marked, no notebook of a learner's is run."""

from nbgrader.preprocessors import AssignLatePenalties, CheckCellMetadata

from solvers.classroom.gradebook import GradeSheet, ReleasedNotebook

c = get_config()  # noqa: F821 (nbgrader provides it)
c.CourseDirectory.course_id = "call-for-heat"
c.ClearSolutions.text_stub = "Write here."
c.Autograde.exporter_class = ReleasedNotebook
c.Autograde.sanitize_preprocessors = [CheckCellMetadata]
c.Autograde.autograde_preprocessors = [GradeSheet, AssignLatePenalties, CheckCellMetadata]

# Names like anna_03-heater-loops_2026-10-01-10-00-00_03-heater-loops.sheet.json, as platforms make them, for zip_collect.
c.FileNameCollectorPlugin.valid_ext = [".ipynb", ".json"]
c.FileNameCollectorPlugin.named_regexp = (
    r".*/(?P<student_id>[A-Za-z0-9][A-Za-z0-9._-]*?)_[a-z0-9-]+_(?P<timestamp>[0-9]{4}(?:-[0-9]{2}){5})_(?P<file_id>[^/_][^/]*)$"
)
