"""Every act of a log done at a bench in a page, through the controls that a learner has on a wide screen."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from browser.benches import Bench

from solvers.jobs.sheet import Verdict
from solvers.plant.naming import part_words, point_words

__all__ = ["done", "shown", "signed"]

Act = Mapping[str, object]

HANDS, TOOLS, FINISH = "Hands and senses", "Tools and parts", "Finish"
AT_A_PART, PARTS, WIRES = (HANDS, "At a part"), (TOOLS, "Parts"), (TOOLS, "Conductors")
WAITS = {10: "Wait 10 s", 60: "Wait 1 min", 300: "Wait 5 min"}

PRESSED = {
    "look": (*AT_A_PART, "Look"),
    "listen": (*AT_A_PART, "Listen"),
    "feel": (*AT_A_PART, "Feel"),
    "nudge": (*AT_A_PART, "Nudge it"),
    "head off": (*AT_A_PART, "Look under the head"),
    "reset": (*AT_A_PART, "Push reset button"),
    "cells": (*PARTS, "Put in new cells"),
    "seat head": (*PARTS, "Seat the head"),
    "free stem": (*PARTS, "Free the stem"),
    "bleed": (*PARTS, "Bleed the loop"),
    "lift": (HANDS, "Leads", "Lift the lead", ("Test point", "terminal")),
    "land": (HANDS, "Leads", "Land the lead", ("Test point", "terminal")),
    "remake": (TOOLS, "Terminations", "Remake it", ("Termination", "terminal")),
    "run wire": (*WIRES, "Run it anew", ("Conductor", "wire")),
    "move wire": (*WIRES, "Move this end there", ("Conductor", "wire"), ("Which end", "end"), ("Land it on", "terminal")),
    "new cable": (TOOLS, "Cables and finds", "Run a new cable", ("Cable", "cable")),
    "refer": (FINISH, "Hand over to …", "Hand over", ("Hand over to", "to")),
    "covers": (FINISH, "How the house stands", "Covers on"),
}
"""Acts of one press: the row and the group of the button, its name, and what is chosen first from which field of the act."""


def done(bench: Bench, act: Act) -> None:
    """Do one act with the screen's controls and wait for its line in the log; KeyError for an act without controls here."""
    if act["do"] in PRESSED:
        kit, group, button, *fields = PRESSED[act["do"]]
        chosen = [(label, act[field]) for label, field in fields]
        _pressed(bench, kit, group, button, *(chosen or _at(act)))
    else:
        _OTHERS[act["do"]](bench, act)


def shown(bench: Bench) -> str:
    """What the last line of the log shows: a reading stands by itself, all else behind the words of the act."""
    line = bench.root.locator(".log-lines li").last
    reading = line.locator(".shown")
    return reading.text_content() if reading.count() else line.locator(".what").text_content().split(": ", 1)[1]


def signed(bench: Bench, verdict: Verdict) -> None:
    """Tick the proving lines, choose the suspects, write both texts and sign; the marks come later."""
    bench.tick(*(line + 1 for line in verdict.proof))
    bench.kit(FINISH)
    bench.root.get_by_role("button", name="Write the verdict").click()
    for suspect in verdict.suspects:
        bench.root.get_by_label(bench.job.suspect(suspect).words, exact=True).check()
    bench.root.get_by_label("Why: the cause").fill(verdict.explanation)
    bench.root.get_by_label("One sentence for the customer").fill(verdict.customer)
    bench.root.get_by_role("button", name="Sign the verdict").click()
    bench.page.get_by_role("button", name="Sign it").click()


def _at(act: Act) -> list[tuple[str, object]]:
    return [("Part", act[field]) for field in ("part", "valve", "stat", "loop") if field in act]


def _pressed(bench: Bench, kit: str, group: str, button: str, *chosen: tuple[str, object]) -> None:
    bench.kit(kit)
    there = bench.group(group)
    for label, value in chosen:
        there.get_by_label(label, exact=True).select_option(value)
    there.get_by_role("button", name=button, exact=True).click()
    bench.logged()


def _pressed_between(bench: Bench, act: Act, kit: str, group: str, button: str) -> None:
    bench.probe("first", act["first"])
    bench.probe("second", act["second"])
    _pressed(bench, kit, group, button)


def _called(bench: Bench, act: Act) -> None:
    zone = act["stat"].removesuffix(".stat")
    words = ", ".join([zone.replace("zone", "zone "), *filter(None, [bench.job.rooms.get(zone)])])
    _pressed(bench, HANDS, "Calls", f"Call {words}" if act["on"] else f"Stop call, {words}")


def _waited(bench: Bench, act: Act) -> None:
    seconds = act["seconds"]
    if seconds not in WAITS:
        bench.kit(HANDS)
        bench.group("Wait").get_by_label("Minutes to wait").fill(f"{seconds / 60:g}")
    _pressed(bench, HANDS, "Wait", WAITS.get(seconds, "Wait so many minutes"))


def _either(on: str, there: str, off: str) -> Callable[[Bench, Act], None]:
    """An act at a part that goes two ways, by the field that says which."""
    return lambda bench, act: _pressed(bench, *AT_A_PART, there if act[on] else off, *_at(act))


def _jumpered(bench: Bench, act: Act) -> None:
    if act["on"]:
        _pressed_between(bench, act, HANDS, "Jumper wire", "Jumper where the probes are")
    else:
        _pressed(bench, HANDS, "Jumper wire", f"Take off: {point_words(act['first'])} to {point_words(act['second'])}")


def _sized(bench: Bench, act: Act) -> None:
    bench.kit(TOOLS)
    there = bench.group("Parts")
    there.get_by_label("Part", exact=True).select_option(act["part"])
    there.get_by_label("Size", exact=True).select_option(f"{act['size']:g}")
    there.get_by_role("button", name="Fit this size").click()
    bench.page.get_by_role("button", name="Fit it", exact=True).click()
    bench.logged()


def _set(bench: Bench, act: Act) -> None:
    bench.kit(TOOLS)
    bench.group("Parts").get_by_label("Part", exact=True).select_option(act["part"])
    known = ["as designed", *bench.job.design.part(act["part"]).settings()[act["what"]]]
    chosen = ("Setting", act["what"]), ("Set it to", f"{known.index(act['value'])}")
    _pressed(bench, TOOLS, "Settings", "Set it", *chosen)


def _taken_off(bench: Bench, act: Act) -> None:
    words = next(part.words for part in bench.job.actual.parts if part.name == act["what"])
    _pressed(bench, TOOLS, "Cables and finds", f"Take off: {words}")


def _stopped(bench: Bench, act: Act) -> None:
    bench.kit(FINISH)
    bench.group("Danger").get_by_role("button", name="Stop, make safe").click()
    bench.page.get_by_role("button", name="Stop", exact=True).click()
    bench.logged()


_OTHERS: Mapping[str, Callable[[Bench, Act], None]] = {
    "measure": lambda bench, act: bench.read(act["function"], act["first"], act["second"]),
    "clamp": lambda bench, act: bench.clamp(act["wire"], act["turns"]),
    "call": _called,
    "switch": lambda bench, act: _pressed(
        bench, HANDS, "Supplies", f"Switch {part_words(act['part'])} {'on' if act['on'] else 'off'}"
    ),
    "wait": _waited,
    "opener": _either("engaged", "Engage opener", "Opener to auto"),
    "service valve": _either("open", "Open service valve", "Shut service valve"),
    "jumper": _jumpered,
    "exchange": lambda bench, act: _pressed_between(bench, act, TOOLS, "Terminations", "Exchange leads at the two probes"),
    "fit": lambda bench, act: bench.fit(act["part"]),
    "fit size": _sized,
    "set": _set,
    "take off": _taken_off,
    "stop": _stopped,
}
