"""Habits that a log betrays, each in a sentence that names it."""

from __future__ import annotations

from collections.abc import Sequence

from .job import Job
from .marks import Marks
from .swaps import Swap
from .verdicts import Claimed, longest_call, opens_after
from .working import Worked

__all__ = ["habits"]

MANY_TIMES_PAR = 2.5
SWAPS = 2
BEEPS = 0.5  # share of the readings


def habits(job: Job, done: Worked, claims: Claimed, swapped: Sequence[Swap], marks: Marks) -> list[str]:
    """What a teacher would call this way of working, where it has a name."""
    told = []
    if claims and marks.right and not marks.argued:
        told.append("This was a guess: it happens to be right, and you could not have shown it.")
    elif claims and not marks.readings:
        told.append("This was a guess: no reading was taken before the verdict.")
    if sum(swap.good for swap in swapped) >= SWAPS or any(not swap.tested for swap in swapped):
        told.append("You replaced parts to see what happens. A reading costs nothing; each good part is money and a callback.")
    reads = [line.act for line in done.entries if line.act["do"] in ("measure", "clamp")]
    beeps = [act for act in reads if act.get("function") == "beeper"]
    if beeps and len(beeps) >= BEEPS * len(reads):
        told.append("You trusted the beeper: it sounds through heaters, windings and rotten joints alike. Read volts under load.")
    early = [zone for claim in claims if _too_soon(job, done, zone := job.suspect(claim).zone or job.zone)]
    if early and not (marks.right and marks.argued):
        zone = early[0]
        told.append(
            f"You did not wait: valve {zone.removeprefix('zone')} had {longest_call(job, zone, done.entries):.0f} s on call, "
            f"and a good one here takes {opens_after(job, zone):.0f} s."
        )
    if marks.readings >= MANY_TIMES_PAR * marks.par and marks.readings > marks.par + 4:
        told.append(
            f"You measured everything: {marks.readings:g} readings where {marks.par:g} are enough. "
            "Ask before each what it can rule out."
        )
    return told


def _too_soon(job: Job, done: Worked, zone: str) -> bool:
    return 0 < longest_call(job, zone, done.entries) < opens_after(job, zone)
