"""The live parts of a page beside bench and table: explorers, a valve against the clock, self-checks, progress. JSON both ways.

Nothing here is kept between two requests: what a learner has missed or shown comes with the request and goes back with the
answer, as text that the screen keeps.
"""

from __future__ import annotations

import math
import secrets
from collections.abc import Callable, Mapping

from ..chapters.explorer import Explorer, Pick, Plot, Slider
from ..chapters.explorers import explorer
from ..chapters.quiz import asked as question_of
from ..chapters.quiz import kinds
from ..chapters.section_clock import INPUTS, VALVE, happened, moment, record_from, story
from ..jobs import mastery, returning
from ..jobs.job import JobError
from ..jobs.mastery import Progress
from ..jobs.objectives import OBJECTIVES
from ..jobs.questions import Question, checked
from ..jobs.returning import GAPS_S, Returning
from ..pictures.chart import chart
from ..pictures.cutaway import cutaway, cutaway_words
from ..pictures.timeline import timeline, timeline_words

__all__ = ["ASKS", "explorer_chart", "valve_section"]

MOST_QUESTIONS = 20
LONGEST_SEED = 100
SHORTEST_RECORD = 2.0  # s; of less there is nothing to see against a clock
BACK = ("in 10 minutes", "tomorrow", "in 3 days", "in 8 days")  # a gap of GAPS_S in words


def explorer_chart(name: str) -> str:
    """The chart of an explorer as it stands at first, as SVG: what a page shows until the explorer is started."""
    one = explorer(name)
    shown = one.shown(one.defaults)
    return _drawn(shown.plot, shown.drawn)


def valve_section(kind: str, seconds: float) -> str:
    """A valve in section so long after its call, the rest as it stands at first, as SVG."""
    values = {each.name: each.default for each in INPUTS} | {"kind": kind}
    now = moment(story(values, [[0, True]]), seconds)
    return cutaway(now.valve, now.state.of(VALVE), now.wax_degC, heating=now.heating)


def _explored(desk: object, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "explorer", "name"}: what can be set, the question to think about first, and what it shows at first."""
    one = explorer(asked["name"])
    about = {
        "name": one.name,
        "title": one.title,
        "question": one.question,
        "inputs": [_input(each) for each in one.inputs],
        "values": one.defaults,
    }
    return {**about, **_shown(one, one.defaults)}


def _set(desk: object, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "explorer shows", "name", "values": {input: value}}: readings, words and chart of one setting."""
    return _shown(explorer(asked["name"]), asked["values"])


def _input(one: Slider | Pick) -> dict[str, object]:
    about = {"name": one.name, "label": one.label, "text": one.text(one.default)}
    if isinstance(one, Pick):
        return {**about, "kind": "pick", "choices": list(one.choices)}
    return {**about, "kind": "slider", "low": one.low, "high": one.high, "step": one.step}


def _shown(one: Explorer, values: object) -> dict[str, object]:
    taken = one.taken(values)
    shown = one.shown(taken)
    return {
        "readings": [{"label": each.label, "text": each.text} for each in shown.readings],
        "words": shown.words,
        "texts": {each.name: each.text(taken[each.name]) for each in one.inputs},
        "svg": _drawn(shown.plot, shown.drawn),
    }


def _drawn(plot: Plot, words: str) -> str:
    return chart(
        plot.title,
        words,
        across=plot.across,
        up=plot.up,
        curves=plot.curves,
        here=plot.here,
        here_words=plot.here_words,
        levels=plot.levels,
        ticks=plot.ticks,
        base=plot.base,
        highest=plot.highest,
    )


def _clock(desk: object, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "section clock", "values", "turns": [[s, calls]], "at": s}: the valve in section at that moment.

    Without "values" it stands as it does at first, of the "kind" named if any, and the answer says what can be set. "since"
    names a time: only what has happened after it is told.
    """
    first = "values" not in asked
    at_first = {each.name: each.default for each in INPUTS}
    values = at_first | ({"kind": asked["kind"]} if "kind" in asked else {}) if first else asked["values"]
    told, at, since = story(values, asked.get("turns", [])), asked.get("at", 0), asked.get("since", -1)
    now = moment(told, at)
    state = now.state.of(VALVE)
    answer = {
        "at": at,
        "calling": now.calling,
        "readings": [{"label": each.label, "text": each.text} for each in now.readings],
        "svg": cutaway(now.valve, state, now.wax_degC, heating=now.heating),
        "words": cutaway_words(now.valve, state, now.wax_degC, heating=now.heating),
        "chart": _drawn(now.plot, now.drawn),
        "texts": {each.name: each.text(values[each.name]) for each in INPUTS},
        "events": [{"at": time, "words": words} for time, words in happened(told, at) if time > _number(since, "since")],
    }
    return {**answer, "inputs": [_input(each) for each in INPUTS], "values": values} if first else answer


def _clock_record(desk: object, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "section record", "values", "turns", "at"}: everything in strips since the call was last put on or off."""
    house, state, seconds = record_from(story(asked["values"], asked["turns"]), asked["at"])
    if seconds < SHORTEST_RECORD:
        raise JobError("nothing to show yet: let the clock run first")
    return {
        "svg": timeline(house, state, seconds, zone="zone1"),
        "words": timeline_words(house, state, seconds, zone="zone1"),
    }


def _questions(desk: object, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "check", "chapter", "count", "level", "kinds": or none, "returning": text or null, "now"}: questions, no answers.

    What was missed and is due comes first; every question has a seed of its own.
    """
    chapter, now = asked["chapter"], _number(asked["now"], "now")
    there = list(kinds(chapter))
    wanted = asked.get("kinds") or there
    if not isinstance(wanted, list) or any(kind not in there for kind in wanted):
        raise JobError(f"kinds {wanted!r:.200}; a list of some of {there}")
    count = asked.get("count", 5)
    if isinstance(count, bool) or not isinstance(count, int) or not 1 <= count <= MOST_QUESTIONS:
        raise JobError(f"count is {count!r}; ask for 1 to {MOST_QUESTIONS} questions")
    kept, aside = _returning(asked.get("returning"))
    names = {f"{chapter}/{kind}": kind for kind in wanted}
    seed = asked.get("seed") or secrets.token_hex(6)
    picked = returning.chosen(kept, list(names), count, now, _seed(seed))
    back = set(returning.due(kept, now))
    drawn = [
        {**_asked(question_of(chapter, names[name], f"{seed}/{number}", asked.get("level", 1))), "returns": name in back}
        for number, name in enumerate(picked, 1)
    ]
    return {"questions": drawn, "level": asked.get("level", 1), "set_aside": aside}


def _asked(question: Question) -> dict[str, object]:
    """A question as a screen shows it; the answer is not in it."""
    return {
        "kind": question.kind,
        "seed": question.seed,
        "form": question.form,
        "words": question.words,
        "unit": question.unit,
        "choices": list(question.choices),
        "given": [{"label": name, "text": value} for name, value in question.given],
    }


def _answered(desk: object, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "check answer", "chapter", "kind", "seed", "level", "answer", "first", "returning", "mastery", "now"}.

    Judges an answer. The first one to a question counts: it moves what returns, and shows its objective if it is right.
    """
    chapter, kind, seed = asked["chapter"], asked["kind"], _seed(asked["seed"])
    level, first, now = asked.get("level", 1), asked.get("first") is True, _number(asked["now"], "now")
    question = question_of(chapter, kind, seed, level)
    found = checked(question, asked["answer"])
    kept, aside = _returning(asked.get("returning"))
    progress, progress_aside = _progress(asked.get("mastery"))
    name, again = f"{chapter}/{kind}", ""
    if first:
        kept = returning.answered(kept, name, found.right, now)
        tried = f"{chapter}/{kind}/{level}/{seed}"
        progress = mastery.noted(progress, [question.objective], seed=tried, at=now, shown=found.right)
    if name in kept.missed:
        wait = kept.missed[name].due - now
        again = next((words for gap, words in zip(GAPS_S, BACK, strict=True) if wait <= gap + 1), "later")
    return {
        "right": found.right,
        "share": found.share,
        "words": found.words,
        "objective": {"number": question.objective, "words": OBJECTIVES[question.objective]},
        "returns": again,
        "returning": returning.written(kept),
        "mastery": mastery.written(progress),
        "set_aside": aside + progress_aside,
    }


def _worked(desk: object, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "check working", "chapter", "kind", "seed", "level"}: how the answer is come to, for practice."""
    question = question_of(asked["chapter"], asked["kind"], _seed(asked["seed"]), asked.get("level", 1))
    return {"words": question.why}


def _progressed(desk: object, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "progress", "mastery": text or null}: every objective and what it is by now."""
    progress, aside = _progress(asked.get("mastery"))
    return {**_listed(progress), "set_aside": aside}


def _imported(desk: object, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "progress import", "mastery": text or null, "text"}: a kept file taken in beside what is there."""
    progress, aside = _progress(asked.get("mastery"))
    text = asked["text"]
    if not isinstance(text, str):
        raise JobError(f"the file is {text!r:.60}; give its text")
    merged = mastery.merged(progress, mastery.parsed(text))
    return {**_listed(merged), "mastery": mastery.written(merged), "set_aside": aside}


def _noted(desk: object, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "progress note", "mastery", "objectives", "seed", "gate", "now"}: what a marked job has shown."""
    progress, aside = _progress(asked.get("mastery"))
    objectives = asked["objectives"]
    if not isinstance(objectives, list) or len(objectives) > len(OBJECTIVES):
        raise JobError(f"objectives are {objectives!r:.100}; give a list of their numbers")
    gate, now = asked.get("gate") is True, _number(asked["now"], "now")
    progress = mastery.noted(progress, objectives, seed=_seed(asked["seed"]), at=now, shown=True, gate=gate)
    return {"mastery": mastery.written(progress), "set_aside": aside}


def _listed(progress: Progress) -> dict[str, object]:
    states = {number: mastery.state_of(progress, number) for number in OBJECTIVES}
    last = {number: max((each.at for each in progress.of(number)), default=None) for number in OBJECTIVES}
    return {
        "objectives": [
            {"number": number, "words": words, "state": states[number], "last": last[number]}
            for number, words in OBJECTIVES.items()
        ],
        "states": list(mastery.STATES),
        "counting": sum(state == mastery.STATES[-1] for state in states.values()),
    }


def _returning(text: object) -> tuple[Returning, list[str]]:
    """What returns, and why what was kept could not be read, if so: the screen then puts the old text aside."""
    return _kept(text, returning.parsed, Returning(), "returning")


def _progress(text: object) -> tuple[Progress, list[str]]:
    return _kept(text, mastery.parsed, Progress(), "mastery")


def _kept(text: object, parsed: Callable, empty: object, name: str) -> tuple[object, list[str]]:
    if text is None:
        return empty, []
    if not isinstance(text, str):
        raise JobError(f"{name} is {text!r:.60}; give the kept text, or null")
    try:
        return parsed(text), []
    except (returning.BadReturning, mastery.BadProgress):
        return empty, [name]


def _number(value: object, name: str) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise JobError(f"{name} is {value!r}; give a number of seconds")
    return float(value)


def _seed(value: object) -> str:
    if not isinstance(value, str) or not 0 < len(value) <= LONGEST_SEED:
        raise JobError(f"seed is {value!r:.60}; give some text of at most {LONGEST_SEED} characters")
    return value


ASKS: Mapping[str, Callable[[object, Mapping[str, object]], dict[str, object]]] = {
    "check": _questions,
    "check answer": _answered,
    "check working": _worked,
    "explorer": _explored,
    "explorer shows": _set,
    "progress": _progressed,
    "progress import": _imported,
    "progress note": _noted,
    "section clock": _clock,
    "section record": _clock_record,
}
"""What a screen may ask of the live parts."""
