"""What a learner reads under each criterion, as text for a page; nothing a learner wrote can act there."""

from __future__ import annotations

from ..jobs.marks import MarkLine
from .scoring import Result
from .words import escaped, plain

__all__ = ["explanation_cell", "mark_page"]

_NO_FORMULAS = "tex2jax_ignore mathjax_ignore"  # what MathJax 2 and 3 pass by
# Colours of the course; the words beside them carry the meaning.
_FULL, _PART, _NONE, _INK = "#1f6b3a", "#7a5b00", "#4c575f", "#1d2429"


def mark_page(line: MarkLine, points: float, out_of: float) -> str:
    """One criterion as HTML: points first, then every reason as a sentence of its own."""
    colour = _FULL if points == out_of else _PART if points else _NONE
    reasons = "".join(f"<li>{escaped(plain(reason))}</li>" for reason in line.reasons)
    return (
        f'<div class="{_NO_FORMULAS}" style="border-left:4px solid {colour};padding:4px 12px;color:{_INK}">'
        f"<p><b>{points:g} of {out_of:g} points</b> for {escaped(plain(line.criterion))}</p><ul>{reasons}</ul></div>"
    )


def explanation_cell(result: Result) -> str:
    """The explanation as Markdown for a cell: the learner's words exactly, the machine's note below."""
    # Inside <pre> Markdown leaves everything alone up to </pre>, and that cannot occur in escaped text.
    written = [
        f'**{where}**\n\n<pre style="white-space:pre-wrap;color:{_INK}">{escaped(text)}</pre>'
        for where, text in result.explanation
    ]
    line = result.line("explanation")
    note = " ".join(escaped(plain(reason)) for reason in line.reasons)
    return "\n\n".join([*written, f'<p class="{_NO_FORMULAS}"><em>The machine notes: {note}</em></p>']) + "\n"
