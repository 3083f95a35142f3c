"""Fourteen call-outs, the same for everybody, by number."""

from __future__ import annotations

from collections.abc import Mapping

from .stories_at_supplies import STORIES_AT_SUPPLIES
from .stories_at_valves import STORIES_AT_VALVES
from .story import Story

__all__ = ["STORIES"]

STORIES: Mapping[int, Story] = {
    story.number: story for story in sorted((*STORIES_AT_SUPPLIES, *STORIES_AT_VALVES), key=lambda story: story.number)
}
"""The stories by number, which is the seed of their job."""
