"""The graded labs as an nbgrader course: sheets are marked, no notebook of a learner's is run."""

from nbgrader.preprocessors import AssignLatePenalties, CheckCellMetadata

from solvers.classroom.gradebook import GradeSheet, ReleasedNotebook

c = get_config()  # noqa: F821 (nbgrader provides it)
c.CourseDirectory.course_id = "call-for-heat"
c.ClearSolutions.text_stub = "Write here."
c.Autograde.exporter_class = ReleasedNotebook
c.Autograde.sanitize_preprocessors = [CheckCellMetadata]
c.Autograde.autograde_preprocessors = [GradeSheet, AssignLatePenalties, CheckCellMetadata]
