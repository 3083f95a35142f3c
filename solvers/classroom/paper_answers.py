"""What an instructor needs beside a paper exercise: every reading of the standard round to read out, the answer and its proof."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from html import escape
from string import ascii_uppercase

from ..faults.planting import planted
from ..jobs.job import Job
from ..jobs.reference import par, path
from ..jobs.rounds import IMPOSSIBLE, Run, planned
from ..jobs.said import act_words
from ..jobs.situations import Situation, situations
from ..jobs.survey import Probe, Survey, nearest, separating, survey
from ..jobs.world import Outcome
from ..plant.naming import part_words, point_words, wire_words
from ..plant.parts import Transformer
from ..plant.wiring import Installation
from .paper_marks import letter, rows

__all__ = ["Hunt", "Proving", "answer_sheet", "hunts", "proving"]

SPOKEN = {"first": point_words, "second": point_words, "part": part_words, "valve": part_words, "wire": wire_words}


@dataclass(frozen=True, slots=True)
class Hunt:
    """The way to one fault: what is foretold of its suspects, which of them it is, and the house it is read in."""

    found: Survey
    answer: str
    there: Installation


@dataclass(frozen=True, slots=True)
class Proving:
    """One reading that helps to prove an answer: what it shows, what a suspect that it rules out would show, who is left."""

    probe: Probe
    shows: str
    rival: str  # a suspect's id
    rival_shows: str
    left: tuple[str, ...]


def hunts(job: Job) -> tuple[Hunt, ...]:
    """One hunt a fault. Of two faults the one comes first that can be told while the other is there."""
    if len(job.faults) == 1:
        return (Hunt(survey(job), job.answers[0], job.actual),)
    orders = [
        (
            Hunt(survey(job, first), job.answers[first], job.actual),
            Hunt(survey(job, last, alone=True), job.answers[last], planted(job.design, job.faults[last])),
        )
        for first, last in ((0, 1), (1, 0))
    ]
    told = [order for order in orders if all(_ends(hunt) == (hunt.answer,) for hunt in order)]
    return (told or orders)[0]


def proving(job: Job, hunt: Hunt) -> tuple[Proving, ...]:
    """The readings of the reference's path to an answer, and from its look-alike one more if the path has only one."""
    found, answer = hunt.found, hunt.answer
    steps = [step for step in path(found, answer) if len(step.after) < len(step.before)]
    alike = nearest(found, answer)
    lines = [
        (step.probe, {found.suspects[one] for one in step.before}, [found.suspects[one] for one in step.after]) for step in steps
    ]
    used = {probe for probe, _, _ in lines}
    more = [probe for probe in separating(found, answer, alike) if probe not in used]
    if len(lines) < 2 and more:
        probe = min(more, key=lambda one: (one.cost, json.loads(one.act)["do"] != "measure", one.situation))
        lines.append((probe, {answer, alike}, [answer]))
    plan = situations(job.design, job.faults[job.answers.index(answer)].zone or job.zone)
    run = Run(job.design, hunt.there, planned(job.design, plan))
    return tuple(
        Proving(probe, _shown(run, probe), *_rival(found, probe, before - {*after}, alike), tuple(after))
        for probe, before, after in lines
    )


def _shown(run: Run, probe: Probe) -> str:
    """What one probe of the round shows."""
    return _read_in(run, probe.situation)[probe].text


def _read_in(run: Run, number: int) -> dict[Probe, Outcome]:
    """What the probes of one situation show."""
    return dict(zip(run.plan.probes[number], run.read(number), strict=True))


def answer_sheet(job: Job, number: int) -> str:
    """The answer to one sheet, on a page of its own, and after it all that a learner may ask for."""
    first, *_ = hunts(job)
    words = [f"{letter(job, answer)}. {job.suspect(answer).words}" for answer in job.answers]
    cures = [_cure(job, slot) for slot in range(len(job.answers))]
    return f"""<section class="sheet">
<header><h1>Answer to job sheet {number}</h1><span class="which">{escape(job.id)}</span></header>
<div class="answer">{"".join(f"<p><b>{escape(one)}</b></p><p>{escape(cure)}</p>" for one, cure in zip(words, cures, strict=True))}
<p>Par: {par(job):g} readings, proof included.</p></div>
<h2>Readings that prove it</h2>
<p>One good way; others are as good if they leave only this. A verdict is worth what the learner's own readings rule out.</p>
{"".join(_proof_table(job, hunt) for hunt in hunts(job))}
<h2>To read out</h2>
<p>Give a reading only when it is asked for in full. What stands in no list here, and what the learner does out of
order, is a case for the bench. Where the senses tell one thing in every moment, no moment is named.</p>
{_round(job, first.there)}
</section>
"""


def _ends(hunt: Hunt) -> tuple[str, ...]:
    """The suspects that the reference's path leaves."""
    steps = path(hunt.found, hunt.answer)
    return tuple(hunt.found.suspects[one] for one in steps[-1].after) if steps else hunt.found.suspects


def _rival(found: Survey, probe: Probe, ruled: set[str], alike: str) -> tuple[str, str]:
    """Of the suspects that a reading rules out the look-alike, or else the likeliest one, with what it would show."""
    weights = dict(zip(found.suspects, found.weights, strict=True))
    rival = alike if alike in ruled else max(sorted(ruled), key=weights.__getitem__)
    family = found.outcomes[probe][found.suspects.index(rival)]
    return rival, family[len(family) // 2].text if family else "something else"


def _cure(job: Job, slot: int) -> str:
    row = next(row for row in job.suspect(job.answers[slot]).rows if row.id == job.faults[slot].row)
    return f"{row.repair} This is for a {row.refer}." if row.refer else row.repair


def _proof_table(job: Job, hunt: Hunt) -> str:
    plan = situations(job.design, job.faults[job.answers.index(hunt.answer)].zone or job.zone)
    lines = [
        (
            _sentence(f"{_plain(job, plan[one.probe.situation].words)}: {_spoken(json.loads(one.probe.act))}"),
            one.shows,
            f"{letter(job, one.rival)} would show: {one.rival_shows}",
            ", ".join(letter(job, id) for id in one.left),
        )
        for one in proving(job, hunt)
    ]
    head = "<tr><th>when and where</th><th>shows</th><th>and rules out, for one</th><th>still standing</th></tr>"
    name = f"<h3>{escape(job.suspect(hunt.answer).words)}</h3>" if len(job.answers) > 1 else ""
    return f'{name}<table class="proof"><thead>{head}</thead><tbody>{rows(lines)}</tbody></table>'


def _round(job: Job, there: Installation) -> str:
    """The standard round as read in the house: what meter and clamp show by moment, what the senses tell, what is read apart."""
    plan = situations(job.design, job.faults[0].zone or job.zone)
    run = Run(job.design, there, planned(job.design, plan))
    plain = [number for number, one in enumerate(plan) if one.reads is None]
    shown: dict[str, dict[int, str]] = {}
    for number in plain:
        for probe, outcome in _read_in(run, number).items():
            shown.setdefault(probe.act, {})[number] = outcome.text
    letters = dict(zip(plain, ascii_uppercase, strict=False))
    moments = "".join(f"<li><b>{letters[number]}</b> {escape(_moment(plan, number))}</li>" for number in plain)
    metered, sensed = [], []
    for act, texts in shown.items():
        (metered if json.loads(act)["do"] in ("measure", "clamp") else sensed).append((json.loads(act), texts))
    head = "".join(f"<th>{letters[number]}</th>" for number in plain)
    table = rows((where, *(texts.get(number, "") for number in plain)) for where, texts in _gathered(job, metered))
    senses = "".join(f"<li>{escape(line)}</li>" for line in _told(sensed, letters))
    apart = rows(_apart(job, plan, run))
    return f"""<p>Moments, each counted from the house as it is met:</p>
<ul class="moments">{moments}</ul>
<table class="values"><thead><tr><th>volts from, to; amperes at a clamp</th>{head}</tr></thead><tbody>{table}</tbody></table>
<h3>Looking, listening, feeling</h3>
<ul class="senses">{senses}</ul>
<h3>Taken apart, switched off, or by another hand</h3>
<table class="values"><tbody>{apart}</tbody></table>
"""


def _moment(plan: Sequence[Situation], number: int) -> str:
    """A moment in words, with what it follows."""
    one = plan[number]
    return f"{one.words}; before that, {plan[one.after].words}" if one.after > 0 else one.words


def _gathered(
    job: Job, metered: Sequence[tuple[Mapping[str, object], Mapping[int, str]]]
) -> Iterator[tuple[str, Mapping[int, str]]]:
    """Readings with their places. Those that are the same in every moment share a line; points read to C share its name too."""
    common = next(part for part in job.design.parts if isinstance(part, Transformer)).secondary_pair[1]
    groups: dict[tuple[object, ...], tuple[list[str], str, Mapping[int, str]]] = {}
    for act, texts in metered:
        if act["do"] == "clamp":
            key, place, to = ("clamp", *texts.items()), f"clamp on {wire_words(act['wire'])}", ""
        elif act["second"] == common:
            key, place, to = ("to C", *texts.items()), point_words(act["first"]), f" to {point_words(common)}"
        else:
            key, place, to = tuple(texts.items()), f"{point_words(act['first'])} to {point_words(act['second'])}", ""
        groups.setdefault(key, ([], to, texts))[0].append(place)
    for places, to, texts in groups.values():
        yield "; ".join(dict.fromkeys(places)) + to, texts


def _told(sensed: Sequence[tuple[Mapping[str, object], Mapping[int, str]]], letters: Mapping[int, str]) -> Iterator[str]:
    """What each sense tells, with the moments in which it does; what tells the same everywhere shares a line."""
    groups: dict[tuple[tuple[int, str], ...], list[str]] = {}
    for act, texts in sensed:
        groups.setdefault(tuple(texts.items()), []).append(_spoken(act))
    for texts, acts in groups.items():
        by_text: dict[str, list[str]] = {}
        for number, text in texts:
            by_text.setdefault(text, []).append(letters[number])
        always = len(by_text) == 1 and len(texts) == len(letters)
        told = (text if always else f"[{', '.join(moments)}] {text}" for text, moments in by_text.items())
        yield f"{_sentence('; '.join(acts))}: {' '.join(told)}"


def _apart(job: Job, plan: Sequence[Situation], run: Run) -> Iterator[tuple[str, str]]:
    """What takes lifting, switching off or another hand, by moment; a wait only where something is heard in it."""
    for number, one in enumerate(plan):
        if one.reads is None:
            continue
        for probe, outcome in _read_in(run, number).items():
            if outcome is not IMPOSSIBLE and (outcome.events or json.loads(probe.act)["do"] != "wait"):
                yield _sentence(f"{_plain(job, one.words)}: {_spoken(json.loads(probe.act))}"), outcome.text


def _plain(job: Job, words: str) -> str:
    """A moment's words with the plain names of parts."""
    for part in sorted(job.design.parts, key=lambda part: -len(part.name)):
        words = words.replace(part.name, part_words(part.name))
    return words


def _spoken(act: Mapping[str, object]) -> str:
    """An act in words, its places by their plain names."""
    named = {key: SPOKEN[key](value) if key in SPOKEN else value for key, value in act.items()}
    return act_words(named)


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:]
