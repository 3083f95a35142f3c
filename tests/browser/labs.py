"""What a test does on the lab page: bring a file, work its bench, save the sheet."""

from __future__ import annotations

from pathlib import Path

from browser import hands
from browser.benches import PATIENCE, Bench

from solvers.jobs.sheet import Sheet, parsed

__all__ = ["Door", "LabBench"]


class Door:
    """The lab page, started."""

    def __init__(self, page, address: str, folder: Path) -> None:
        self.page, self.address, self.folder = page, address, folder
        self.come()

    def come(self) -> None:
        """Go to the page, or come back to it, and start it."""
        self.page.goto(f"{self.address}16-graded-labs.html")
        self.page.get_by_role("button", name="Start the lab").click()
        self.root = self.page.locator(".lab-desk")
        self.root.wait_for(timeout=PATIENCE)

    def bring(self, button: str, text: str, name: str = "lab.json") -> None:
        """Choose a file with this text through a button of the door."""
        path = self.folder / name
        path.write_text(text, encoding="utf-8")
        with self.page.expect_file_chooser() as chooser:
            self.root.get_by_role("button", name=button, exact=True).click()
        chooser.value.set_files(str(path))

    def drop(self, text: str, name: str = "lab.json") -> None:
        """Drag a file with this text onto the sheet."""
        carried = self.page.evaluate_handle(
            "([text, name]) => { const data = new DataTransfer(); data.items.add(new File([text], name)); return data; }",
            [text, name],
        )
        self.root.dispatch_event("drop", {"dataTransfer": carried})

    def told(self, words: str) -> None:
        """Wait until the door says this."""
        self.root.locator(".lab-door").get_by_text(words).wait_for(timeout=PATIENCE)

    def saved(self) -> tuple[str, str]:
        """Save the sheet: the file's name and its text."""
        with self.page.expect_download() as download:
            self.root.get_by_role("button", name="Save your sheet").last.click()
        return download.value.suggested_filename, Path(download.value.path()).read_text(encoding="utf-8")


class LabBench(Bench):
    """The bench of a sealed job, which may enter several lines for one act."""

    def __init__(self, door: Door, job) -> None:
        self.door, self.page, self.job = door, door.page, job
        self.root = door.root.locator(".cfh-bench[data-tab]")
        self.root.locator(".point-target").first.wait_for(timeout=PATIENCE)
        self.lines = self.root.locator(".log-lines li").count()
        self.repairs = self.root.locator('[aria-label="Repairs"] .column button').all_text_contents()

    def logged(self) -> str:
        """Wait for more lines in the log; the text of the last one."""
        self.page.wait_for_function(
            "([node, lines]) => node.querySelectorAll('.log-lines li').length > lines && node.ariaBusy !== 'true'",
            arg=[self.root.element_handle(), self.lines],
            timeout=PATIENCE,
        )
        self.lines = self.root.locator(".log-lines li").count()
        return self.root.locator(".log-lines li").last.inner_text()

    def done(self, act: dict, listed: list[dict]) -> None:
        """Do one act by the screen's controls; a repair by its place in the list."""
        if act["do"] == "verdict":
            self.signed(act)
        elif act in listed:
            self.repaired(listed.index(act))
        else:
            hands.done(self, act)

    def repaired(self, place: int) -> str:
        """Press a repair of the list, and say yes when asked."""
        self.kit("Tools and parts")
        self.group("Repairs").locator(".column button").nth(place).click()
        self.page.get_by_role("button", name="Do it", exact=True).click()
        return self.logged()

    def signed(self, act: dict) -> None:
        """Tick the lines, choose the suspects by their places, write both texts and sign."""
        self.tick(*(line + 1 for line in act["proof"]))
        self.kit("Finish")
        self.root.get_by_role("button", name="Write the verdict").click()
        for suspect in act["suspects"]:
            self.root.locator(f'.suspects input[value="{suspect}"]').check()
        self.root.get_by_label("Why: the cause").fill(act["explanation"])
        self.root.get_by_label("One sentence for the customer").fill(act["customer"])
        self.root.get_by_role("button", name="Sign the verdict").click()
        self.page.get_by_role("button", name="Sign it").click()

    def sheet(self) -> Sheet:
        """The sheet as the page saves it."""
        return parsed(self.door.saved()[1])
