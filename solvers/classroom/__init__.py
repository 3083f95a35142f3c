"""A class: who has which lab, what was handed in, and marks. Nothing here but `gradebook` and `grading` needs nbgrader."""

from .cells import handed_in
from .errors import BadLearner, ClassroomError
from .seeds import learner_id, seed_of

__all__ = ["BadLearner", "ClassroomError", "handed_in", "learner_id", "seed_of"]
