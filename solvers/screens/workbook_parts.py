"""What the widgets of the workbooks are made of: the look, readings and words as HTML, and requests to the desk."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from html import escape

from ipywidgets import HTML

from ..jobs.job import JobError
from .page import Desk

__all__ = ["answered", "paragraph", "readings", "styled"]

STYLE = """<style>
.cfh-workbook {
  --ink: #1d2429; --soft-ink: #4c575f; --rule: #d9d4c6; --sheet: #ffffff;
  --copper: #9a4b16; --heat: #b3261e; --water: #0b5c8a; --good: #1f6b3a; --on-copper: #ffffff;
  --jp-widgets-slider-handle-size: 24px;
  background: var(--sheet); border: 1px solid var(--rule); border-radius: 4px; color: var(--ink);
  max-width: 60rem; padding: 0.75rem 1rem;
}
body[data-jp-theme-light="false"] .cfh-workbook {
  --ink: #eceae4; --soft-ink: #b3bcc4; --rule: #39424a; --sheet: #1b2025;
  --copper: #f0a56c; --heat: #ff8a7a; --water: #7cc4f0; --good: #86d9a0; --on-copper: #14171a;
}
.cfh-workbook :is(.widget-label, .widget-html-content, label, legend) { color: var(--ink); font-size: 15px; line-height: 1.45; }
.cfh-workbook .title { font-weight: 650; margin: 0; }
.cfh-workbook :is(p, dl) { margin: 0 0 0.4rem; max-width: 42rem; }
.cfh-workbook.cfh-workbook dl { display: grid; gap: 0 1rem; grid-template-columns: minmax(9rem, auto) 1fr; }
.cfh-workbook.cfh-workbook :is(dt, dd) { float: none; margin: 0; padding: 0.1rem 0; width: auto; }
.cfh-workbook.cfh-workbook dt { color: var(--soft-ink); font-weight: 400; }
.cfh-workbook.cfh-workbook dd { font-variant-numeric: tabular-nums; font-weight: 650; }
.cfh-workbook .told { font-variant-numeric: tabular-nums; font-weight: 650; margin-left: 0.75rem; }
.cfh-workbook svg { display: block; height: auto; max-width: 30rem; width: 100%; }
.cfh-workbook .right { border-left: 4px solid var(--good); padding-left: 0.6rem; }
.cfh-workbook .not-yet { border-left: 4px solid var(--heat); padding-left: 0.6rem; }
.cfh-workbook .widget-radio-box label { height: auto; margin-bottom: 0.3rem; white-space: normal; width: auto; }
.cfh-workbook .widget-checkbox label { height: auto; white-space: normal; }
.cfh-workbook .jupyter-button { font-size: 15px; height: auto; min-height: 2.75rem; padding: 0 1rem; width: auto; }
.cfh-workbook .jupyter-button.mod-primary { background: var(--copper); color: var(--on-copper); font-weight: 650; }
.cfh-workbook .jupyter-button:focus-visible { outline: 3px solid var(--water); outline-offset: 1px; }
</style>"""
"""The tokens of the bench's own look, for light and dark, and a few rules. It goes into each widget once."""


def answered(desk: Desk, **request: object) -> dict[str, object]:
    """What the desk answers to a request; raises JobError with its sentence where it refuses."""
    answer = json.loads(desk.handle(json.dumps(request)))
    if "error" in answer:
        raise JobError(answer["error"])
    return answer


def paragraph(words: str, kind: str = "", *, spoken: bool = False) -> str:
    """Words as one paragraph; spoken ones are read out by a screen reader when they change."""
    role = ' role="status"' if spoken else ""
    return f'<p class="{escape(kind)}"{role}>{escape(words)}</p>' if words else ""


def readings(told: Iterable[Mapping[str, str]]) -> str:
    """Readings as a list: what each is of, and its text with the unit."""
    rows = "".join(f"<dt>{escape(each['label'])}</dt><dd>{escape(each['text'])}</dd>" for each in told)
    return f"<dl>{rows}</dl>" if rows else ""


def styled() -> HTML:
    """A widget that holds the look and shows nothing."""
    return HTML(STYLE)
