"""A class: who has which job, what was handed in, and marks. Nothing here but `gradebook` and `grading` needs nbgrader."""

from .cells import handed_in
from .errors import BadLearner, ClassroomError
from .labs import LABS, job_for
from .seeds import learner_id, seed_of

__all__ = ["LABS", "BadLearner", "ClassroomError", "handed_in", "job_for", "learner_id", "seed_of"]
