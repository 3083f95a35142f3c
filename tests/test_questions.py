"""Questions beside fault-finding: every kind of every chapter, over many seeds; and the sums of some of them done again."""

import re

import pytest

from solvers.chapters import quiz, step_down_power, thermostat_switching
from solvers.chapters.asking import LEVELS, Draw
from solvers.chapters.asking_jobs import log_read, next_test, small_job
from solvers.chapters.misconceptions import MISCONCEPTIONS
from solvers.jobs.job import JobError
from solvers.jobs.objectives import OBJECTIVES
from solvers.jobs.questions import FORMS, Checked, Question, checked

SEEDS = tuple(f"seed {number}" for number in range(9))
EVERY = [(chapter, kind) for chapter in quiz.KINDS for kind in quiz.kinds(chapter)]
WRITTEN = (step_down_power.CHAPTER, thermostat_switching.CHAPTER)
NUMBER = re.compile(r"(?<![\w.])\d+(?:\.\d+)?")


@pytest.fixture(scope="module", params=EVERY, ids=lambda pair: " ".join(pair))
def drawn(request):
    """One kind's questions, over all seeds and levels in turn."""
    chapter, kind = request.param
    return [quiz.asked(chapter, kind, seed, LEVELS[place % len(LEVELS)]) for place, seed in enumerate(SEEDS)]


def trapped(question, trap):
    """An answer that falls into a trap, and is right as far as the trap lets it be."""
    if question.form == "choices":
        return [*question.expected, trap]
    if question.form == "order":
        late, early = trap
        steps = [step for step in question.expected if step != late]
        steps.insert(steps.index(early), late)
        return steps
    return trap


def test_a_question_is_whole(drawn):
    """It says what is asked and how, belongs to an objective of its own chapter or of the whole, and has working and hint."""
    for question in drawn:
        assert question.form in FORMS
        assert question.objective in OBJECTIVES
        assert (question.chapter, question.kind) in EVERY
        assert all((question.words, question.why, question.hint, question.seed))
        assert all(name and value for name, value in question.given)
        assert question.misconception in (0, *MISCONCEPTIONS)
        assert "{" not in question.words + question.why + question.hint
        if question.form == "number":
            assert f"Within {question.tolerance:.2g}" in question.words
        else:
            assert len(question.choices) >= 2


def test_the_same_seed_asks_the_same(drawn):
    """A question follows from chapter, kind, seed and level."""
    first = drawn[0]
    assert first == quiz.asked(first.chapter, first.kind, first.seed, LEVELS[0])


def test_the_right_answer_is_right(drawn):
    """The expected answer is accepted with the working; a number within the tolerance too, and outside it not."""
    for question in drawn:
        assert Checked(True, f"Right. {question.why}", 1.0) == checked(question, question.expected)
        if question.form == "number":
            assert checked(question, question.expected + 0.99 * question.tolerance).right
            assert not checked(question, question.expected + 1.01 * question.tolerance).right


def test_every_trap_has_its_own_hint(drawn):
    """What a named misreading gives is wrong, and is met with the hint that belongs to it."""
    for question in drawn:
        for trap, hint in question.traps.items():
            told = checked(question, trapped(question, trap))
            assert (False, hint) == (told.right, told.words)


def test_a_kind_has_traps(drawn):
    """Each seed offers at least one known misreading, or the kind would only say "no"."""
    assert [] == [question.seed for question in drawn if not question.traps]


def test_hints_do_not_hold_the_answer(drawn):
    """No hint says the value, and graded work says nothing at all."""
    for question in drawn:
        hints = (question.hint, *question.traps.values())
        if question.form == "number":
            found = [float(number) for hint in hints for number in NUMBER.findall(hint)]
            assert [] == [number for number in found if abs(number - question.expected) <= question.tolerance]
        else:
            said = (question.expected,) if question.form == "choice" else question.expected
            assert [] == [one for one in said for hint in hints if one in hint]
        for answer in (question.expected, *(trapped(question, trap) for trap in question.traps)):
            assert "Taken down." == checked(question, answer, graded=True).words


def test_seeds_ask_different_things(drawn):
    """The answer is not the same from seed to seed."""
    assert len({str(question.expected) for question in drawn}) >= 2
    assert len({str((question.words, question.given, question.choices)) for question in drawn}) >= 2


def test_choices_stand_in_no_telling_order(drawn):
    """The right choice is not always in the same place, nor is an order offered as it should be."""
    if drawn[0].form == "choice":
        assert len({question.choices.index(question.expected) for question in drawn}) >= 2
    if drawn[0].form == "order":
        assert [] == [question.seed for question in drawn if question.choices == question.expected]


@pytest.mark.parametrize("answer", [None, True, {}, "no such choice", float("nan"), ["no such choice"], object()], ids=repr)
def test_an_answer_of_another_kind_is_refused(drawn, answer):
    """What is no answer is refused in a sentence that names the choices."""
    question = drawn[0]
    with pytest.raises(JobError) as refused:
        checked(question, answer)
    assert (f"number in {question.unit}" if question.form == "number" else str(list(question.choices))) in str(refused.value)


@pytest.mark.parametrize("chapter", WRITTEN)
def test_a_chapter_has_eight_kinds_at_least(chapter):
    """Beside fault-finding there are at least eight kinds of question."""
    assert len(quiz.kinds(chapter)) >= 8


@pytest.mark.parametrize(
    ("asked", "named"),
    [
        (("no chapter", "read a log", "s"), list(quiz.KINDS)),
        ((None, "read a log", "s"), list(quiz.KINDS)),
        ((WRITTEN[0], "no kind", "s"), list(quiz.kinds(WRITTEN[0]))),
        ((WRITTEN[0], 3, "s"), list(quiz.kinds(WRITTEN[0]))),
        ((WRITTEN[0], "read a log", "s", 4), list(LEVELS)),
        ((WRITTEN[0], "read a log", "s", True), list(LEVELS)),
        ((WRITTEN[0], "read a log", ""), "give some text"),
        ((WRITTEN[0], "read a log", 7), "give some text"),
    ],
)
def test_what_there_is_not_is_refused(asked, named):
    """An unknown chapter, kind, level or seed is refused with the choices."""
    with pytest.raises(JobError, match=re.escape(str(named))):
        quiz.asked(*asked)


def test_there_are_32_misconceptions():
    """They are numbered without a gap, differ, and each belongs to an objective."""
    assert list(range(1, 33)) == [one.number for one in MISCONCEPTIONS.values()]
    assert 32 == len({one.belief for one in MISCONCEPTIONS.values()})
    assert set() == {one.objective for one in MISCONCEPTIONS.values()} - set(OBJECTIVES)


def figures(question):
    """The given numbers by name."""
    return {name: float(found[0]) for name, value in question.given if (found := NUMBER.search(value))}


@pytest.mark.parametrize("seed", SEEDS[:10])
class TestSums:
    """The answer again, from nothing but what the question gives, by the sum of the trade."""

    def test_secondary(self, seed):
        """No-load volts times the line over the lead's volts."""
        question = quiz.asked(WRITTEN[0], "predict the secondary", seed, 2)
        line, lead = (float(number) for number in NUMBER.findall(question.words)[:2])
        assert figures(question)["no load, with its own volts on any lead"] * line / lead == pytest.approx(
            question.expected, abs=0.1
        )

    def test_loaded_source(self, seed):
        """Source volts over source ohms and loops side by side, less what the source loses."""
        question = quiz.asked(WRITTEN[0], "predict a reading", seed, 3)
        known = figures(question)
        loops = [ohms for name, ohms in known.items() if name.startswith("loop")]
        load = 1 / sum(1 / ohms for ohms in loops)
        assert known["no load"] * load / (load + known["source impedance"]) == pytest.approx(question.expected, abs=0.15)

    def test_source_impedance(self, seed):
        """Volts lost over the amperes that lost them."""
        question = quiz.asked(WRITTEN[0], "find the source impedance", seed, 2)
        known = figures(question)
        lost = known["nobody calls"] - known["on call"]
        assert lost / known["clamp, ten turns, divided"] == pytest.approx(question.expected, rel=0.02)

    def test_size(self, seed):
        """The loads added up, over 0.8, and up to a usual size."""
        question = quiz.asked(WRITTEN[0], "size a transformer", seed, 2)
        va = 0.0
        for name, value in question.given:
            figure = float(NUMBER.search(value)[0])
            times = int(NUMBER.search(name)[0]) if "each" in name else 1
            va += 576 / figure if "ohms" in value else times * figure
        fitting = [size for size in (10, 20, 30, 40, 50, 75, 100) if va <= 0.8 * size]
        assert f"{fitting[0]} VA" == question.expected

    def test_fuses(self, seed):
        """Above the load, at most 1.8 times the rated amperes, and at most 100 VA over the no-load volts."""
        question = quiz.asked(WRITTEN[0], "choose the fuse", seed, 2)
        known = figures(question)
        most = min(1.8 * known["transformer"] / 24, 100 / known["no load"]) * (1 + 1e-9)
        fitting = {f"{size:g} A" for size in (2, 3, 3.5) if known["clamp with all zones on"] < size <= most}
        assert fitting == set(question.expected)

    def test_drop(self, seed):
        """Volts across the splice over amperes through it."""
        question = quiz.asked(WRITTEN[1], "turn a drop into ohms", seed, 2)
        known = figures(question)
        assert known["across the splice"] / known["clamp on W"] == pytest.approx(question.expected, rel=0.02)

    def test_anticipator(self, seed):
        """The mark nearest a tenth of what ten turns show in the end."""
        question = quiz.asked(WRITTEN[1], "set an anticipator", seed, 2)
        amps = figures(question)["clamp after a quarter of an hour, ten turns"] / 10
        assert question.expected == min(question.choices, key=lambda mark: abs(float(mark.split()[0]) - amps))


@pytest.mark.parametrize("plan", [step_down_power.PLAN, thermostat_switching.PLAN], ids=lambda plan: plan.chapter)
@pytest.mark.parametrize("seed", SEEDS[:12])
def test_a_log_never_rules_out_what_is_there(plan, seed):
    """The log was worked on the real house, so the real fault still stands after it."""
    draw = Draw(plan.chapter, "read a log", seed)
    question = log_read(draw, plan)
    job = next(job for attempt in range(80) if (job := small_job(draw, plan, attempt)) and question.words.startswith(job.story))
    assert job.suspect(job.answers[0]).words not in question.expected
    assert {one.words for one in job.suspects} == set(question.choices)


@pytest.mark.parametrize("plan", [step_down_power.PLAN, thermostat_switching.PLAN], ids=lambda plan: plan.chapter)
@pytest.mark.parametrize("seed", SEEDS[:12])
def test_the_next_test_is_the_best_one_beyond_dispute(plan, seed):
    """Bits for its cost, as the working says them, are clearly more than any other choice's."""
    question: Question = next_test(Draw(plan.chapter, "choose the next test", seed), plan)
    bits = {name: float(value) for name, value in re.findall(r"(?:: |; )([^:;]+): (\d\.\d\d) bits", question.why)}
    sense = ("a look", "a feel", "an ear")
    value = {name: bits[name] / (0.5 if name.startswith(sense) else 1.0) for name in question.choices}
    best = value.pop(question.expected)
    assert best > max(value.values())
    assert max(value.values()) <= 0.9 * best + 0.02
