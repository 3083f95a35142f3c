"""What can go wrong in a classroom, each said in words an instructor or a learner can act on."""

from __future__ import annotations

__all__ = ["BadLearner", "ClassroomError", "NoSuchAssignment", "NotAFolder", "NotEnrolled", "NotReleased", "Refused"]


class ClassroomError(ValueError):
    """Something about a course, a learner or a file of theirs is not as it must be."""


class BadLearner(ClassroomError):
    """A learner's id that no folder, seed or gradebook can use."""


class NoSuchAssignment(ClassroomError):
    """An assignment that this course does not have; the message lists those it has."""


class NotAFolder(ClassroomError):
    """A course or a collection was looked for where there is none."""


class NotEnrolled(ClassroomError):
    """A learner for whom an assignment has no lab; the message lists those who have one."""


class NotReleased(ClassroomError):
    """An assignment has to be generated before it can be graded."""


class Refused(ClassroomError):
    """A file that is not taken for what it is: a link, too large, no regular file."""
