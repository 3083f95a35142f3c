"""Questions of the chapters on heater loops, end switches and service calls: each answer again, from what is given alone."""

import itertools
import math
import re

import pytest

from solvers.chapters import end_switches, heater_loops, quiz, service_calls
from solvers.jobs.questions import checked

SEEDS = tuple(f"again {number}" for number in range(10))
LOOPS, SWITCHES, CALLS = heater_loops.CHAPTER, end_switches.CHAPTER, service_calls.CHAPTER
FIGURE = re.compile(r"-?\d+(?:\.\d+)?")
EVERY = [(chapter, kind) for chapter in (LOOPS, SWITCHES, CALLS) for kind in quiz.kinds(chapter)]


def asked(chapter, kind, seed):
    """The question at a level that follows from the seed, so that every level is met."""
    return quiz.asked(chapter, kind, seed, 1 + int(seed.split()[1]) % 3)


def reading(text):
    """A printed reading in volts, amperes or ohms; inf for OL."""
    if text.startswith("OL"):
        return math.inf
    figure = float(FIGURE.search(text)[0])
    return figure / 1000 if re.match(r"[\d.]+ mV", text) else figure


def known(question):
    """The given readings by name."""
    return {name: reading(value) for name, value in question.given if FIGURE.search(value) or value.startswith("OL")}


@pytest.mark.parametrize("chapter", [LOOPS, SWITCHES, CALLS])
def test_eight_kinds_at_least(chapter):
    """Beside fault-finding each chapter asks in at least eight ways."""
    assert len(quiz.kinds(chapter)) >= 8


@pytest.mark.parametrize(("chapter", "kind"), EVERY, ids=lambda word: word)
def test_every_kind_at_every_level(chapter, kind):
    """Every level can be drawn, its right answer is taken, each wrong choice has a hint of its own, and answers vary."""
    found = []
    for place, level in itertools.product(range(4), (1, 2, 3)):
        question = quiz.asked(chapter, kind, f"level {place}", level)
        assert checked(question, question.expected).right
        if question.form == "choice":
            assert set(question.choices) == {question.expected, *question.traps}
        if question.form == "choices":
            assert set(question.choices) == {*question.expected, *question.traps}
            assert question.expected
        found.append(str(question.expected))
    assert len(set(found)) >= 2


@pytest.mark.parametrize("seed", SEEDS)
class TestHeaterLoops:
    """By Ohm's law, ways side by side, and the first-order law of the wax."""

    def test_amperes(self, seed):
        """Volts over ohms, of the heater or of all that stands in the loop; ten turns count tenfold."""
        question = asked(LOOPS, "predict the amperes", seed)
        there = known(question)
        volts = next(value for name, value in there.items() if name.startswith("volts"))
        ohms = sum(value for name, value in there.items() if not name.startswith("volts"))
        turns = 10 if "ten turns" in question.words else 1
        assert question.expected == pytest.approx(turns * volts / ohms, abs=question.tolerance / 2)

    def test_ohms_in_place(self, seed):
        """The heater, beside the loop where that is closed, plus the meter's leads."""
        question = asked(LOOPS, "ohms in place or lifted", seed)
        there = known(question)
        heater = there.get("heater of valve 1", math.inf)
        closed = "thermostat 1 is turned up" in question.words and "is lifted" not in question.words
        beside = there["transformer's 24-volt winding"] + there["cable, joints, fuse and thermostat 1 together"]
        ohms = 1 / (1 / heater + 1 / beside) if closed else heater
        assert question.expected == pytest.approx(ohms + there["the meter's own leads, not zeroed"], abs=0.16)

    def test_splice(self, seed):
        """Its own volts over the amperes, or times them."""
        question = asked(LOOPS, "ohms and watts of a splice", seed)
        there = known(question)
        drop = next(value for name, value in there.items() if name.startswith("across the splice"))
        amps = there["clamp on the W leg"]
        value = drop * amps if question.unit == "W" else drop / amps
        assert question.expected == pytest.approx(value, abs=question.tolerance)

    def test_warm_up(self, seed):
        """Time constant times the logarithm of the whole rise over what is left of it at the click."""
        question = asked(LOOPS, "time a warm-up", seed)
        there = known(question)
        rise = there["volts across the heater"] ** 2 / there["heater"] * there["it rises in the end by"]
        needed = there["the wax clicks at"] - there["air at the valve"]
        assert question.expected == pytest.approx(there["its time constant"] * math.log(rise / (rise - needed)), abs=6.0)

    def test_slow_or_never(self, seed):
        """The wax ends at the air plus its rise: short of the click is never, and past 140 s is late."""
        question = asked(LOOPS, "slow, never or normal", seed)
        there, law = known(question), dict(question.given)["the wax rises in the end by"]
        per_watt, tau = (float(figure) for figure in FIGURE.findall(law))
        rise = there["volts across the heater"] * there["clamp on the W leg"] * per_watt
        needed = there["it clicks at"] - there["air at the valve"]
        seconds = tau * math.log(rise / (rise - needed)) if rise > needed else math.inf
        word = "never" if math.isinf(seconds) else "is late" if seconds > 140 else "on time"
        assert word in question.expected

    def test_valve_type(self, seed):
        """A hum is a motor, a third of an ampere wax, current that comes and goes a limit contact, the rest a heat motor."""
        question = asked(LOOPS, "valve from a trace", seed)
        amps = [value for name, value in known(question).items() if name.startswith("clamp")]
        sound = dict(question.given)["an ear at the head then"]
        if "hum" in sound or "motor" in sound.lower():
            word = "motor-driven"
        elif amps[0] < 0.5:
            word = "wax"
        else:
            word = "limit contact" if min(amps) == 0 else "high draw"
        assert word in question.expected

    def test_heads(self, seed):
        """Bad is one without ohms, with far too many, or whose pin stays in when pushed."""
        question = asked(LOOPS, "which heads to replace", seed)
        bad = set()
        for name, text in question.given:
            ohms = reading(text.partition("Lifted: ")[2])
            if math.isinf(ohms) or ohms > 50 or "slack" in text:
                bad.add(f"the head of {name.partition(' on')[0]}")
        assert bad == set(question.expected)

    def test_opener(self, seed):
        """The boiler starts where the opener presses on the switch; the valve shuts where the opener lets go by itself."""
        question = asked(LOOPS, "what the opener does", seed)
        assert ("presses on the end switch" in question.words) == ("starts at once" in question.expected)
        assert ("lets go by itself" in question.words) == ("shuts as usual" in question.expected)


@pytest.mark.parametrize("seed", SEEDS)
class TestEndSwitches:
    """By dividers, phasors, and the logic of a switch."""

    def test_coil(self, seed):
        """Impedance is volts over amperes; copper and reactance stand at a right angle."""
        question = asked(SWITCHES, "coil ohms and coil amperes", seed)
        there = known(question)
        if question.unit == "ohms":
            value = there["volts across the coil"] / there["clamp on the coil's wire, counted once"]
        else:
            value = there["volts across the coil"] / math.hypot(there["its copper"], there["its reactance on this supply"])
        assert question.expected == pytest.approx(value, abs=question.tolerance / 2)

    def test_closed_switch(self, seed):
        """Volts divide by ohms; ohms are volts over amperes."""
        question = asked(SWITCHES, "volts across a closed switch", seed)
        there = known(question)
        if question.unit == "V":
            ohms = there["the end switch, made"]
            value = there["the boiler's T-T, open"] * ohms / (ohms + there["its input and source together"])
        else:
            value = there["across the switch"] / there["clamp on a T-T conductor, ten turns counted once"]
        assert question.expected == pytest.approx(value, abs=question.tolerance / 2)

    def test_call(self, seed):
        """The boiler's own volts over its own ohms."""
        question = asked(SWITCHES, "amperes of a call", seed)
        there = known(question)
        value = there["the boiler's T-T, open"] / there["its input and source together"]
        assert question.expected == pytest.approx(value, abs=0.005)

    def test_phasing(self, seed):
        """Opposed add up, in phase leave the difference; and what a reading near either says."""
        question = asked(SWITCHES, "volts between two Rs", seed)
        first, second = known(question).values()
        value = first + second if "are opposed" in question.words else abs(first - second)
        assert question.expected == pytest.approx(value, abs=0.15)
        told = asked(SWITCHES, "what the phases say", seed)
        across = reading(told.words.partition("shows ")[2])
        assert ("opposed" if across > 40 else "in phase") in told.expected
        assert told.expected.endswith("stay separate.")

    def test_contacts(self, seed):
        """T-T goes to the pair without a path while the coil is dead and not without one when it is pulled in."""
        question = asked(SWITCHES, "NO or NC from readings", seed)
        there = known(question)
        joined = [pair for pair in question.choices if not math.isinf(there.get(f"{pair}, coil pulled in", 0.0))]
        assert [question.expected] == [pair for pair in joined if math.isinf(there[f"{pair}, coil dead"])]

    def test_leads(self, seed):
        """E has no path cold; made, E joins S; H is left. Cold readings alone give E only."""
        question = asked(SWITCHES, "identify three leads", seed)
        tables = {name: dict(line.split(": ") for line in text.split(", ")) for name, text in question.given}
        said = set()
        for valve in "ABCDE":
            cold, made = tables[f"valve {valve}, cold"], tables.get(f"valve {valve}, switch held made")
            heater = next(pair for pair, ohms in cold.items() if ohms != "OL")
            e = next(lead for lead in "123" if lead not in heater)
            if made is None:
                said.add(f"valve {valve}: E is {e}; H and S cannot be told yet")
                continue
            low = min(made, key=lambda pair: reading(made[pair]))
            s = next(lead for lead in "123" if lead in low and lead != e)
            said.add(f"valve {valve}: H is {({*'123'} - {s, e}).pop()}, S is {s}, E is {e}")
        assert said == set(question.expected)

    def test_joined(self, seed):
        """What the four readings say of T-T: closed by either, by both only, by one of them, or always."""
        question = asked(SWITCHES, "how the switches are joined", seed)
        closed = tuple(volts < 5 for volts in known(question).values())
        word = {
            (False, True, True, True): "Side by side",
            (False, False, False, True): "One behind the other",
            (False, False, True, True): "valve 1 never",
            (False, True, False, True): "valve 2 never",
            (True, True, True, True): "whether anybody calls",
        }[closed]
        assert word in question.expected

    def test_welded(self, seed):
        """One lifting that opens T-T names its switch, none names none, and leads that stay lifted leave the others in doubt."""
        question = asked(SWITCHES, "which switch is welded", seed)
        opened = [name for name, volts in known(question).items() if name.startswith("EA") and volts > 5]
        if not opened:
            assert question.expected.startswith("No switch")
        elif "stay lifted" in question.words:
            assert question.expected.startswith("At least the last one")
        else:
            (name,) = opened
            assert re.search(r"valve \d", name)[0] in question.expected

    def test_side(self, seed):
        """What starts at neither jumper is the boiler's, at one the cable's, at both the valve's."""
        question = asked(SWITCHES, "where the boiler's side begins", seed)
        starts = [
            ("burner runs" in text or "Burner and circulator run" in text)
            for name, text in question.given
            if "and the boiler" in name
        ]
        words = {(False, False): "boiler technician", (True, False): "T-T cable", (True, True): "valve side"}
        assert words[tuple(starts)] in question.expected

    def test_whose_volts(self, seed):
        """Whose side shows volts, and of which kind."""
        question = asked(SWITCHES, "whose volts are on T-T", seed)
        ac, dc, field, _ = (volts > 1 for volts in known(question).values())
        word = "Both sides" if field else "own alternating" if ac else "Direct volts" if dc else "Nobody's"
        assert word in question.expected


@pytest.mark.parametrize("seed", SEEDS)
class TestServiceCalls:
    """By sums over all zones, and by reading line for line."""

    def test_rank(self, seed):
        """No two neighbours exchanged would find it sooner: expected minutes are least of all orders."""
        question = asked(CALLS, "rank the suspects", seed)
        table = {name: tuple(float(figure) for figure in FIGURE.findall(text)) for name, text in question.given}

        def minutes(order):
            spent, expected = 0.0, 0.0
            for name in order:
                spent += table[name][1]
                expected += table[name][0] * spent
            return expected

        assert question.expected == min(itertools.permutations(table), key=minutes)

    def test_carried(self, seed):
        """Volts sag with each heater; the last count whose volts times amperes stay within the limit."""
        question = asked(CALLS, "how many heaters it carries", seed)
        there = known(question)
        limit = there["nameplate"] * (0.8 if "80%" in question.words else 1.0)
        each = there["each heater"] + there["each zone's wires, joints and thermostat"]
        count = 0
        for more in range(1, 7):
            amps = there["R to C at rest"] / (there["source ohms"] + each / more)
            count = more if amps * (there["R to C at rest"] - amps * there["source ohms"]) <= limit else count
        assert count == question.expected

    def test_sum(self, seed):
        """VA as they stand, or watts and vars each for itself."""
        question = asked(CALLS, "add up the loads", seed)
        watts = vars_ = plain = 0.0
        for _, text in question.given:
            count, va, factor = (float(figure) for figure in FIGURE.findall(text))
            plain += count * va
            watts += count * va * factor
            vars_ += count * va * math.sqrt(1 - factor**2)
        value = math.hypot(watts, vars_) if "phasor" in question.words else plain
        assert question.expected == pytest.approx(value, abs=0.05)

    def test_lost_return(self, seed):
        """With one zone nothing flows; with both the sources add or cancel round one loop."""
        question = asked(CALLS, "a lost shared return", seed)
        there = known(question)
        first, second = there["R to C of the first, at rest"], there["R to C of the second, at rest"]
        ohms = [float(figure) for figure in FIGURE.findall(dict(question.given)["heater 1 and heater 2"])]
        volts = first + second if "phases opposed" in question.words else abs(first - second)
        value = volts * ohms[0] / (sum(ohms) + there["wires, joints, thermostats and both sources together"])
        assert question.expected == pytest.approx(value if "Both zones" in question.words else 0.0, abs=0.2)

    def test_staged(self, seed):
        """Low at rest is the line; a transformer that falls is overload; a gap that grows is shared, one that does not is not."""
        question = asked(CALLS, "sag or trunk", seed)
        idle = reading(FIGURE.search(question.given[0][1])[0])
        pairs = [
            [float(figure) for figure in FIGURE.findall(text.replace("heater 1", "heater"))] for _, text in question.given[1:]
        ]
        first, last = pairs[0][0] - pairs[0][1], pairs[-1][0] - pairs[-1][1]
        if idle < 24:
            word = "come in"
        elif idle - pairs[-1][0] > 4:
            word = "too small"
        elif last < 3:
            word = "Nothing is wrong"
        else:
            word = "all zones share" if last > 1.5 * first else "zone 1 alone"
        assert word in question.expected

    def test_zones(self, seed):
        """Who gets volts on whose call."""
        question = asked(CALLS, "which zones", seed)
        fed = [
            tuple(place for place, part in enumerate(text.split(", "), 1) if reading(part[9:]) > 5) for _, text in question.given
        ]
        odd = [place for place, who in enumerate(fed, 1) if who != (place,)]
        if len(odd) == 1:
            assert f"The loop of zone {odd[0]} is open." == question.expected
        else:
            word = "tied together" if len(fed[odd[0] - 1]) == 2 else "exchanged"
            assert word in question.expected
            assert f"zones {odd[0]} and {odd[1]}" in question.expected

    def test_closing(self, seed):
        """Dead work before power, jumpers off before any proof, the customer's settings after the last one."""
        steps = asked(CALLS, "close the job", seed).expected
        phase = {
            "Remake": 0,
            "Take off": 1,
            "Put the covers": 2,
            "Switch on": 3,
            "Call each": 4,
            "Turn every": 5,
            "Set every": 6,
            "Write": 7,
        }
        found = [next(number for word, number in phase.items() if step.startswith(word)) for step in steps]
        assert sorted(found) == found

    def test_whose_work(self, seed):
        """Smell of gas and alarms are never for anybody in the house; a line-voltage find is an electrician's."""
        question = asked(CALLS, "whose work it is", seed)
        if "gas in the boiler room" in question.words or "carbon monoxide" in question.words:
            assert "emergency service" == question.expected
        if "line-voltage" in question.words or "line conductors" in question.words:
            assert "licensed electrician" == question.expected
