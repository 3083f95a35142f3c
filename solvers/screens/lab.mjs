// The lab page: a lab file opened and worked in the browser, kept here by assignment and learner, its sheet saved as a file.

import { agreed, button, make, problemLine, sentence } from "./bench-elements.mjs";
import { LabShelf, chooseFile, giveSheet, keepFile, keptFile, textOf } from "./lab-keeping.mjs";
import { begunLab, mountLab } from "./lab-screens.mjs";

const HANDING = "Save your sheet and give the file to your instructor, the way your class does it: by mail, on a stick, or into the course's folder.";
const NONE_OPEN = "No lab is open. Choose the file that your instructor gave you, or drop it here.";
const NO_FIT = "What this browser kept of this lab does not fit the file.";

/** Put the lab page's live part in the place of what the element holds. */
export default async function mountLabPage(element, ask) {
  const desk = new LabDesk(ask);
  element.replaceChildren(desk.root);
  await desk.begin();
}

class LabDesk {
  constructor(ask) {
    this.ask = ask;
    this.title = make("p", { class: "title", role: "status", text: NONE_OPEN });
    this.problem = problemLine();
    this.choices = make("div", { class: "answers" });
    this.opener = button("Open a lab file", () => chooseFile((file) => this.brought(file)), { class: "primary" });
    this.goer = button("Go on with a saved sheet", () => chooseFile((file) => this.brought(file)));
    this.last = make("span", {});
    this.choices.append(this.last, this.opener, this.goer);
    this.refused = make("div", { class: "answers" });
    this.door = make("div", { class: "cfh-bench lab-door" }, this.title, this.choices, this.problem, this.refused);
    this.place = make("div", { class: "lab-place" });
    const over = (on) => (event) => {
      event.preventDefault();
      this.door.classList.toggle("over", on);
    };
    const drop = (event) => {
      over(false)(event);
      if (event.dataTransfer.files[0]) this.brought(event.dataTransfer.files[0]);
    };
    this.root = make("div", { class: "lab-desk", on: { dragover: over(true), dragleave: over(false), drop } }, this.door, this.place);
    this.goer.hidden = true;
  }

  /** Offer the lab that was open last, if this browser has kept its file. */
  async begin() {
    const file = keptFile();
    if (!file) return;
    try {
      const { name } = await begunLab(this.ask, file);
      this.last.replaceChildren(button(`Go on with ${spokenName(name)}`, () => this.open(file), { class: "primary" }));
      this.opener.className = "";
    } catch {
      // A file that cannot be read any more is not offered.
    }
  }

  /** A file has been chosen or dropped: a sheet goes with the lab that is open, anything else is taken for a lab. */
  async brought(file) {
    this.silence();
    try {
      const text = await textOf(file);
      if (this.file && /"format": *"call-for-heat [a-z -]*sheet \d+"/.test(text.slice(0, 200))) await this.goOn(text);
      else await this.open(text);
    } catch (error) {
      this.problem.textContent = sentence(error);
    }
  }

  /** Open a lab, and go on with what this browser has kept of it. */
  async open(file) {
    this.silence();
    try {
      const fresh = await begunLab(this.ask, file);
      const shelf = new LabShelf(fresh.name);
      const kept = shelf.kept();
      if (!kept) return this.show(file, fresh, shelf);
      try {
        this.show(file, await begunLab(this.ask, file, kept.sheet), shelf, kept);
      } catch (error) {
        this.stranded(file, fresh, shelf, kept, error);
      }
    } catch (error) {
      this.problem.textContent = sentence(error);
    }
    return undefined;
  }

  /** What was kept does not fit the file: the learner may save it, and begins anew; nothing is lost. */
  stranded(file, fresh, shelf, kept, error) {
    this.problem.textContent = `${NO_FIT} ${sentence(error)}`;
    const anew = () => {
      this.silence();
      shelf.putAside();
      this.show(file, fresh, shelf);
    };
    this.refused.replaceChildren(button("Save that sheet", () => giveSheet(kept.sheet, fresh.name)), button("Begin anew", anew));
  }

  /** Go on with a sheet that was saved as a file, in the place of what stands here. */
  async goOn(sheet) {
    const begun = await begunLab(this.ask, this.file, sheet);
    const shelf = new LabShelf(begun.name);
    const kept = shelf.kept();
    if (kept && kept.lines !== 0 && kept.sheet !== sheet) {
      const detail = "What this browser has of this lab is put aside.";
      if (!(await agreed(this.door, "Go on with the saved sheet?", detail, "Go on with it"))) return;
      shelf.putAside();
    }
    this.show(this.file, begun, shelf, { sheet });
  }

  show(file, begun, shelf, kept = {}) {
    const { name } = begun;
    this.screen?.destroy();
    this.file = file;
    keepFile(file);
    this.title.textContent = `Lab ${spokenName(name)}. What you do is kept in this browser.`;
    this.last.replaceChildren();
    this.opener.className = "";
    this.opener.textContent = "Open another lab file";
    this.goer.hidden = false;
    const place = make("div", {});
    this.place.replaceChildren(place);
    const { sheet } = kept;
    if (sheet && begun.kind !== "job") shelf.put({ sheet }); // a bench puts its own, with ticks and drafts
    const save = begun.kind === "job" ? undefined : (text) => shelf.put({ sheet: text });
    const give = (text) => giveSheet(text, name);
    this.screen = mountLab(place, this.ask, { file, begun, sheet, kept, shelf, save, give, handing: HANDING });
  }

  silence() {
    this.problem.textContent = "";
    this.refused.replaceChildren();
  }
}

/** "03-heater-loops/anna" as people say it. */
function spokenName(name) {
  const [assignment, learner] = name.split("/");
  return learner ? `${assignment}, ${learner}` : assignment;
}
