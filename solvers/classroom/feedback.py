"""What a learner reads of their marks; nothing that a learner wrote can act there."""

from __future__ import annotations

from ..jobs.marks import MarkLine
from .report import Given, Row
from .scoring import Result
from .words import escaped, plain

__all__ = ["document", "explanation_cell", "feedback_page", "mark_page"]

_NO_FORMULAS = "tex2jax_ignore mathjax_ignore"  # what MathJax 2 and 3 pass by
# Colours of the course; the words beside them carry the meaning.
_FULL, _PART, _NONE, _INK = "#1f6b3a", "#7a5b00", "#4c575f", "#1d2429"

_STYLE = f"""body{{font:16px/1.5 system-ui,sans-serif;color:{_INK};max-width:60rem;margin:2rem auto;padding:0 1rem}}
table{{border-collapse:collapse;width:100%}}
th,td{{border:1px solid #b8c0c6;padding:.3rem .6rem;text-align:left;vertical-align:top}}
td.n{{text-align:right;white-space:nowrap}}
td ul{{margin:0;padding-left:1.1rem}}
pre{{white-space:pre-wrap;border-left:4px solid #b8c0c6;padding-left:.8rem}}
section{{break-inside:avoid}}
@media print{{body{{margin:0;max-width:none;font-size:11pt}}}}"""


def mark_page(line: MarkLine, points: float, out_of: float) -> str:
    """One criterion as HTML: points first, then every reason as a sentence of its own."""
    reasons = "".join(f"<li>{escaped(plain(reason))}</li>" for reason in line.reasons)
    return (
        f'<div class="{_NO_FORMULAS}" style="border-left:4px solid {_colour(points, out_of)};padding:4px 12px;color:{_INK}">'
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


def feedback_page(assignment: str, notebook: str, row: Row) -> str:
    """A learner's page: what every criterion earned and why, what a person wrote, and what to take along. No script."""
    result = row.result
    given = [one for one in row.given if one.notebook == notebook]
    score = f"{row.score:g} of {row.out_of:g} points" + (" so far; a person gives the rest" if row.waiting else "")
    late = f"<p>{row.penalty:g} points were taken off for handing in late.</p>" if row.penalty else ""
    said = "".join(f"<li>{escaped(plain(words))}</li>" for words in result.said)
    told = f"<section><h2>To take along</h2><ol>{said}</ol></section>" if said else ""
    written = "".join(f"<h3>{escaped(where)}</h3><pre>{escaped(text)}</pre>" for where, text in result.explanation)
    body = (
        f"<h1>{escaped(assignment)}</h1><p>{escaped(plain(result.learner))}: <b>{score}</b></p>{late}"
        f"<table><thead><tr><th>Points</th><th>For</th><th>Why</th></tr></thead><tbody>"
        f"{''.join(_criterion(one, result) for one in given)}</tbody></table>{told}"
        + (f"<section><h2>What you wrote</h2>{written}</section>" if written else "")
    )
    return document(f"{assignment}: {plain(result.learner)}", body)


def document(title: str, body: str) -> str:
    """A page for a screen and for paper, whole in itself: it loads nothing and runs nothing."""
    policy = "default-src 'none'; style-src 'unsafe-inline'"
    head = f'<meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="{policy}"><title>{escaped(title)}</title>'
    return f'<!doctype html>\n<html lang="en"><head>{head}<style>{_STYLE}</style></head>\n<body>{body}</body></html>\n'


def _criterion(one: Given, result: Result) -> str:
    line = result.line(one.grade_id)
    reasons = "".join(f"<li>{escaped(plain(reason))}</li>" for reason in (line.reasons if line else ()))
    points = "?" if one.points is None else f"{one.points:g}"
    comment = f"<p><b>{escaped(one.comment)}</b></p>" if one.comment else ""
    name = escaped(plain(line.criterion if line else one.grade_id))
    return f'<tr><td class="n">{points} of {one.out_of:g}</td><td>{name}</td><td><ul>{reasons}</ul>{comment}</td></tr>'


def _colour(points: float, out_of: float) -> str:
    return _FULL if points == out_of else _PART if points else _NONE
