"""Chapter 1, step-down power: the steps of safe work in a line-voltage box, and from a blown fuse to a new one, in order."""

from __future__ import annotations

from ..jobs.questions import Question
from .asking import Draw, steps_in_order

__all__ = ["BOX_STEPS", "FUSE_STEPS", "box_steps", "fuse_steps"]

BOX_STEPS: tuple[tuple[str, str], ...] = (
    ("Look, smell, listen, and ask what happened.", "Eyes and nose come first: what they tell may forbid all the rest."),
    ("Name every supply that reaches the box.", "You can only switch off what you have named."),
    ("Switch each supply off.", "A lock on a switch that is on keeps nothing off."),
    ("Lock the switch and hang your tag on it.", "Unlocked, somebody may switch it on while you go on."),
    (
        "Try to start the heating, then turn the control back.",
        "The attempt shows that the right switch is off, before probes go near.",
    ),
    ("Try the meter on a source known to be live.", "A meter that is not proven first cannot prove anything dead."),
    ("Read every conductor in the box against the others and ground.", "Nothing is dead until it has been read, all of it."),
    ("Try the meter on the live source once more.", "It may have failed in between; only then does the dead reading count."),
    ("Put hands and tools into the box.", "The lock stays while hands are inside."),
    ("Close the box, take off your own lock, switch on.", ""),
)
"""Work in a line-voltage box, each step with why it comes before those after it. Common practice, no source."""

FUSE_STEPS: tuple[tuple[str, str], ...] = (
    ("Switch the transformer off.", "Ohms on a live circuit are no reading, and a lead lifted live can touch."),
    ("Read no volts from the load side of the fuse to C.", "A switch thrown is no proof. Read it dead before you go on."),
    ("Lift the lead behind the fuse.", "With that lead on, other paths take part in what you read."),
    ("Read ohms from that lead to C.", "Know that a short is there, and how low, before you look for it."),
    ("Lift the branches one by one until the ohms jump.", "Find the branch before you mend anything."),
    ("Repair that branch.", "A repair comes before its proof, and before a new fuse."),
    ("Read the ohms from the lead to C again.", "Prove that the short is gone, or the next fuse goes as well."),
    ("Land the lead and fit a fuse of the same rating.", "Power comes on only with all landed and protected."),
    ("Switch on, with the clamp on the first call.", ""),
)
"""From a blown fuse to a new one, in the same way. Common practice, no source."""


def box_steps(draw: Draw) -> Question:
    """The order of work in a line-voltage box."""
    words = "A transformer's line-voltage box has to be opened. Put these steps, some of all there are, in order."
    return steps_in_order(draw, "1.7", BOX_STEPS, words, "Off, locked, tried; then live, dead, live; then hands.")


def fuse_steps(draw: Draw) -> Question:
    """The order of work on a blown fuse."""
    words = "A fuse is found blown. Put these steps, some of all there are, in order."
    return steps_in_order(draw, "1.6", FUSE_STEPS, words, "Dead, lifted, read; found, mended, read again; then the fuse.")
