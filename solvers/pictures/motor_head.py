"""The head of a valve that a motor opens and a spring shuts, in section: motor, pinion and rack."""

from __future__ import annotations

import math

from ..plant.parts import MotorState, SpringReturnValve
from .section import AXIS, LABELS, REST, ROOT, TRAVEL, drive_leads, pointed, switch_leads
from .sheet import FINE, HEAT, INK, RAIL, SHEET, SOFT, Sheet

__all__ = ["drawn", "words"]

MOTOR, RADIUS = (AXIS - 66, 86), 22
PINION, REACH = (AXIS - 22, 104), 15
TEETH = 12
RACK = AXIS - 6, AXIS + 6
POWERED = ("opening", "holding")


def drawn(sheet: Sheet, valve: SpringReturnValve, state: MotorState, pushed: float) -> None:
    """Motor, pinion and rack in the head, with their words."""
    left, right = RACK
    top = 50 + pushed - REST
    sheet.area(((left, top), (right, top), (right, pushed - 6), (left, pushed - 6)), fill=SHEET)
    for tooth in range(8):
        y = top + 6 + 10 * tooth
        sheet.line((left, y), (left - 5, y + 3), (left, y + 6), weight=FINE)
    sheet.area(((AXIS - 22, pushed - 6), (AXIS + 22, pushed - 6), (AXIS + 22, pushed), (AXIS - 22, pushed)), fill=SOFT)
    _pinion(sheet, (pushed - REST) / TRAVEL)
    powered = state.drive in POWERED and not state.burnt
    if powered:
        ways = [turn * math.pi / 18 for turn in range(36)]
        circle = [(MOTOR[0] + RADIUS * math.cos(way), MOTOR[1] + RADIUS * math.sin(way)) for way in ways]
        sheet.area(circle, colour="none", fill=HEAT, opacity=0.25)
    sheet.disc(MOTOR, RADIUS, colour=HEAT if powered else INK)
    sheet.text("M", MOTOR[0], MOTOR[1] + 6, size=17)
    if state.drive in ("opening", "shutting") and 0 < state.stroke < 1:
        _arrow(sheet, AXIS + 20, 88, 1 if state.drive == "opening" else -1)
    first, second = (MOTOR[0] - 18, 73), (MOTOR[0] - 18, 99)
    start = (first[0] - 8, first[1]) if state.burnt else first
    drive_leads(sheet, valve, start, second, ((MOTOR[0], MOTOR[1] - RADIUS), (MOTOR[0], 40), (ROOT, 40)))
    if state.burnt:
        sheet.line((start[0], first[1] - 5), (start[0], first[1] + 5))
    switch_leads(sheet, valve)
    pointed(sheet, (LABELS, 66), (AXIS + 8, 72), *words(state))


def words(state: MotorState) -> tuple[str, str]:
    """What the motor does, and what moves the stem."""
    motor = "motor burnt open" if state.burnt else f"motor {'on' if state.drive in POWERED else 'off'}"
    if state.drive == "holding" or (state.drive == "opening" and state.stroke >= 1):
        return motor, "rack held"
    if state.stroke <= 0 and state.drive != "opening":
        return motor, "rack up"
    return motor, {"opening": "rack goes down", "shutting": "spring lifts rack"}.get(state.drive, "rack stands")


def _pinion(sheet: Sheet, stroke: float) -> None:
    """The toothed wheel, turned as far as the rack has come."""
    x, y = PINION
    span = math.dist(MOTOR, PINION)
    edge = (MOTOR[0] + (x - MOTOR[0]) * RADIUS / span, MOTOR[1] + (y - MOTOR[1]) * RADIUS / span)
    sheet.line(edge, PINION, colour=SOFT, weight=FINE, dash="4,3")
    sheet.disc(PINION, REACH - 4, fill=SHEET)
    turned = stroke * TRAVEL / REACH
    for tooth in range(TEETH):
        way = turned + tooth * 2 * math.pi / TEETH
        near, far = ((x + reach * math.cos(way), y + reach * math.sin(way)) for reach in (REACH - 4, REACH))
        sheet.line(near, far, weight=FINE)
    sheet.line(PINION, (x + (REACH - 4) * math.cos(turned), y + (REACH - 4) * math.sin(turned)), weight=RAIL)


def _arrow(sheet: Sheet, x: float, y: float, down: int) -> None:
    tip = y + 18 * down
    sheet.line((x, y - 18 * down), (x, tip - 7 * down), weight=RAIL)
    sheet.area(((x - 6, tip - 8 * down), (x, tip), (x + 6, tip - 8 * down)), fill=INK, weight=FINE)
