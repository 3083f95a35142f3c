"""Jobs worked to their end in a real browser: found, repaired, every zone proven, the house left as it was."""

from browser.benches import Bench, job_with
from browser.chromium import opened

from solvers.jobs.marking import mark

NAME = "(({ariaLabel, labels, textContent}) => ariaLabel || labels?.[0]?.textContent || textContent)(document.activeElement)"


def _judged(bench, job, *lines):
    """The verdict with its proving lines; the words of the marks and the marks that Python gives the saved sheet."""
    bench.tick(*lines)
    bench.kit("Finish")
    bench.root.get_by_role("button", name="Write the verdict").click()
    for answer in job.answers:
        bench.root.get_by_label(job.suspect(answer).words, exact=True).check()
    bench.root.get_by_label("Why: the cause").fill("The heater has its volts and takes no current, so its winding is open.")
    bench.root.get_by_label("One sentence for the customer").fill("The valve's heater had failed; a new valve is in.")
    bench.root.get_by_role("button", name="Sign the verdict").click()
    bench.page.get_by_role("button", name="Sign it").click()
    return bench.marks().inner_text(), mark(job, bench.sheet())


def test_a_job_without_a_ladder_is_worked_to_its_end(site, chromium):
    """By mouse, from the wires as found: measured, repaired, each zone proven, signed; the marks find nothing left undone."""
    job = job_with("HL-01", 2)
    valve, (first, second) = f"{job.zone}.valve", job.design.part(f"{job.zone}.valve").heater_pair
    with opened(chromium, 1280, 900) as (page, seen):
        bench = Bench(page, site, job)
        assert bench.root.locator("svg .cable").count()  # cables are drawn in the wall only, not on a ladder
        number = job.zone.removeprefix("zone")
        zones = {zone.removeprefix("zone"): room for zone, room in job.rooms.items()}
        bench.press(f"Call zone {number}, {zones[number]}")
        volts = bench.read("volts", first, second)
        amps = bench.clamp(f"{job.zone}.W leg")
        assert "0.00 A" in amps
        assert float(volts.split(" V")[0].split()[-1]) > 20
        bench.press(f"Stop call, zone {number}, {zones[number]}")
        bench.press("Switch transformer off")
        assert "new one is fitted" in bench.fit(valve)
        bench.kit("Hands and senses")
        bench.press("Switch transformer on")
        for zone, room in zones.items():
            bench.press(f"Call zone {zone}, {room}")
            assert f"valve {zone} clicks" in bench.press("Wait 5 min")
            bench.group("At a part").get_by_label("Part").select_option(f"zone{zone}.valve")
            bench.press("Look")
            bench.press(f"Stop call, zone {zone}, {room}")
        told, given = _judged(bench, job, 2, 3)
        assert given.right
        assert given.argued
        assert (0.0, (), (), ()) == (given.closing.risk, given.closing.unproven, given.closing.untreated, given.closing.left)
        assert f"{given.points:g} of 90 points" in told
        assert all(sentence in told for sentence in given.feedback)
        assert [] == seen.complaints
        bench.root.get_by_role("button", name="Work another job").click()
        page.wait_for_function("node => !node.classList.contains('closed')", arg=bench.root.element_handle(), timeout=120_000)
        assert f"Job {job.chapter}/2/" in bench.root.locator(".job").inner_text()
        assert job.id not in bench.root.locator(".job").inner_text()


def test_a_ladder_job_is_worked_to_its_end_by_keyboard(site, chromium):
    """Without a mouse: read, repair, prove each zone, tick, sign; the marks find every zone proven and the cause treated."""
    job = job_with("HL-01", 1)
    valve, pair = f"{job.zone}.valve", job.design.part(f"{job.zone}.valve").heater_pair
    with opened(chromium, 1280, 900) as (page, seen):
        bench = Bench(page, site, job)
        keys = page.keyboard

        def reach(told, most=150):
            """Tab to the control that is called so."""
            for _ in range(most):
                name = page.evaluate(NAME)
                if name == told or name.startswith(f"{told},"):
                    return
                keys.press("Tab")
            raise AssertionError(f"the keyboard never reaches {told!r}")

        def act(name, key="h"):
            keys.press(key)
            reach(name)
            keys.press("Enter")
            return bench.logged()

        def choose(label, value, key):
            keys.press(key)
            reach(label)
            for _ in range(60):
                if page.evaluate("document.activeElement.value") == value:
                    return
                keys.press("ArrowDown")
            raise AssertionError(f"{label!r} never stands at {value!r}")

        def probe(point, digit):
            keys.press("d")
            keys.press("ArrowUp")
            for kind, name, key in (("part", valve, "ArrowRight"), ("point", point, "ArrowRight")):
                if kind == "point":
                    keys.press("ArrowDown")
                for _ in range(80):
                    if page.evaluate(f"document.activeElement.dataset.{kind}") == name:
                        break
                    keys.press(key)
            keys.press(digit)

        number = job.zone.removeprefix("zone")
        act(f"Call zone {number}")
        for point, digit in zip(pair, "12", strict=True):
            probe(point, digit)
        keys.press("r")
        assert " V" in bench.logged()
        act(f"Stop call, zone {number}".split(",")[0])
        act("Switch transformer off")
        for _ in range(4):
            keys.press("f")  # volts, low-Z, DC, millivolts, ohms
        keys.press("r")
        assert "OL" in bench.logged()
        choose("Part", valve, "t")
        reach("Fit a new one")
        keys.press("Enter")
        page.get_by_role("button", name="Fit it", exact=True).wait_for()
        keys.press("Enter")
        assert "new one is fitted" in bench.logged()
        act("Switch transformer on")
        for zone in job.design.zones:
            act(f"Call zone {zone.removeprefix('zone')}")
            act("Wait 5 min")
            choose("Part", f"{zone}.valve", "h")
            reach("Look")
            keys.press("Enter")
            bench.logged()
            act("Stop call")
        keys.press("l")
        for line in (2, 5):
            for _ in range(60):
                if (page.evaluate("document.activeElement.ariaLabel") or "").startswith(f"Line {line} proves"):
                    break
                keys.press("Shift+Tab" if line == 2 else "Tab")
            keys.press(" ")
        keys.press("v")
        for _ in job.suspects:
            if page.evaluate("document.activeElement.value") == job.answers[0]:
                break
            keys.press("Tab")
        keys.press(" ")
        reach("Sign the verdict")
        keys.press("Enter")
        page.get_by_role("button", name="Sign it").wait_for()
        keys.press("Enter")
        told = bench.marks().inner_text()
        sheet = bench.sheet()
        given = mark(job, sheet)
        assert given.right
        assert (1, 4) == sheet.verdict.proof
        assert ((), ()) == (given.closing.unproven, given.closing.untreated)
        assert f"{given.points:g} of 90 points" in told
        assert [] == seen.complaints


def test_every_tool_is_in_reach(site, chromium):
    """Jumpers, lifted leads, settings, cables, the licensed reading, stopping and handing over: each is logged, or refused."""
    job = job_with("HL-01", 2)
    with opened(chromium, 1280, 900) as (page, seen):
        bench = Bench(page, site, job)
        bench.probe("first", f"{job.zone}.stat.R")
        bench.probe("second", f"{job.zone}.stat.W")
        assert "jumper is on" in bench.press("Jumper where the probes are")
        assert 1 == bench.root.locator(".jumper-wire").count()
        bench.root.get_by_role("button", name="Take off: stat").click()
        assert "jumper is off" in bench.logged()
        assert 0 == bench.root.locator(".jumper-wire").count()
        bench.group("Leads").get_by_label("Test point").select_option(f"{job.zone}.stat.W")
        bench.press("Lift the lead")
        assert bench.root.locator(f'svg [data-point="{job.zone}.stat.W lead"]').count()
        bench.press("Land the lead")
        bench.group("At a part").get_by_label("Part").select_option("transformer")
        bench.group("At a part").get_by_label("Reading on the line side").select_option("panel volts")
        assert "licensed" in bench.press("Have it read")
        bench.group("At a part").get_by_label("Part").select_option(f"{job.zone}.loop")
        bench.press("Look")
        assert " mV" in bench.read("millivolts", "transformer.C", "C bus.trunk")
        assert " DC" in bench.read("volts DC", "transformer.R", "transformer.C")
        cable = f"{job.zone} stat cable"
        assert " A" in bench.clamp(cable, turns=3)
        assert "meter's fuse" in bench.read("amps jack", "transformer.R", "transformer.C")
        bench.kit("Tools and parts")
        bench.press("Replace the meter's fuse")
        bench.group("Parts").get_by_label("Part").select_option(f"{job.zone}.stat")
        bench.group("Settings").get_by_label("Setting").select_option("mounting")
        bench.press("Set it")
        bench.group("Terminations").get_by_label("Termination").select_option(f"{job.zone}.stat.W")
        bench.press("Remake it")
        bench.group("Conductors").get_by_label("Conductor").select_option(f"{job.zone}.W leg")
        bench.press("Run it anew")
        bench.group("Conductors").get_by_label("Which end").select_option("a")
        bench.group("Conductors").get_by_label("Land it on").select_option(f"{job.zone}.stat.R")
        bench.press("Move this end there")
        bench.group("Cables and finds").get_by_label("Cable").select_option(cable)
        bench.press("Run a new cable")
        bench.kit("Finish")
        bench.group("Hand over to …").get_by_label("Hand over to").select_option("plumber")
        bench.press("Hand over")
        bench.root.get_by_role("button", name="Stop, make safe").click()
        page.get_by_role("button", name="Stop", exact=True).click()
        assert "Everything is off" in bench.logged()
        bench.kit("Hands and senses")
        bench.group("Wait").get_by_role("button", name="Wait 1 min").click()
        bench.group("Wait").get_by_role("alert").get_by_text("made safe").wait_for()
        assert [] == seen.complaints


def test_a_level_is_chosen(site, chromium):
    """Without a seed the page offers the chapter's levels, and begins a job of the one that is chosen."""
    with opened(chromium, 1280, 900) as (page, seen):
        page.goto(f"{site}03-heater-loops.html")
        page.locator('.bench[data-chapter="heater-loops"]').get_by_role("button", name="Start the bench").click()
        level = page.locator(".cfh-bench").get_by_label("Level")
        level.wait_for(timeout=120_000)
        assert 3 == level.locator("option").count()
        level.select_option("2")
        page.get_by_role("button", name="Begin a new job").click()
        page.locator(".cfh-bench .point-target").first.wait_for(timeout=120_000)
        assert "Job heater-loops/2/" in page.locator(".cfh-bench .job").inner_text()
        assert [] == seen.complaints
