"""Data to SVG: the ladder of an installation, a valve in section, and the words for both."""

from ..plant.naming import part_words, point_words, wire_words
from .cutaway import cutaway, cutaway_words
from .ladder import ladder
from .words import ladder_words

__all__ = ["cutaway", "cutaway_words", "ladder", "ladder_words", "part_words", "point_words", "wire_words"]
