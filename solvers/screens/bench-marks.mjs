// The marks, after the verdict: what a good instructor would say first, then each criterion with its reasons.

import { button, make } from "./bench-elements.mjs";

const counted = (value) => String(Math.round(value * 10) / 10);

/** A heading and what stands under it, or nothing where there is nothing to say. */
const section = (name, children, kind = "") =>
  children.length ? [make("div", { class: kind }, make("h5", { text: name }), ...children)] : [];

/** The marks' panel; for graded work the word that they come later. `next()` asks for another job. */
export class Marks {
  constructor({ next }) {
    this.next = button("Work another job", next, { class: "primary" });
    this.heading = make("h4", { tabindex: -1 });
    this.body = make("div", { class: "marks-body" });
    this.node = make(
      "section",
      { class: "marks view", "data-in": "verdict", "aria-label": "Marks", hidden: true },
      this.heading,
      this.body,
      this.next,
    );
  }

  /** While Python marks: it weighs every reading against every suspect, which takes a while in a browser. */
  waiting() {
    this.heading.textContent = "The verdict is signed";
    this.body.replaceChildren(make("p", { text: "Your readings are weighed against every suspect. This can take some seconds." }));
    this.next.hidden = true;
  }

  /** The end of graded work. `again` keeps a sheet that could not be kept, `save` gives it away as a file. */
  handedIn(words, { again, save }) {
    this.heading.textContent = "The verdict is signed";
    const told = make("p", { class: again ? "problem" : "", text: words });
    const offered = again ? button("Save again", again) : save && button("Save your sheet", save, { class: "primary" });
    this.body.replaceChildren(told, ...(offered ? [make("p", {}, offered)] : []));
    this.next.hidden = true;
  }

  /** Lay out the marks that Python gave. */
  show(marks) {
    const machine = marks.lines.filter((line) => line.points !== null);
    const most = machine.reduce((sum, line) => sum + line.out_of, 0);
    const person = marks.lines.filter((line) => line.points === null).reduce((sum, line) => sum + line.out_of, 0);
    this.heading.textContent = `${counted(marks.points)} of ${counted(most)} points`;
    const paragraph = (text) => make("p", { text });
    const head = make("tr", {}, ...["criterion", "points", "why"].map((text) => make("th", { scope: "col", text })));
    const { risk, grade } = marks.callback;
    const capped = marks.gates.length ? [paragraph(`Past this gate a job earns ${counted(marks.cap)} points at most.`)] : [];
    this.body.replaceChildren(
      make("p", { class: "answer" }, make("b", { text: marks.answers.length > 1 ? "The causes: " : "The cause: " }), marks.answers.join("; ")),
      ...section("Safety gate", [...marks.gates.map(paragraph), ...capped], "flags"),
      ...section("What your lead technician says", [make("ol", { class: "feedback" }, ...marks.feedback.map((text) => make("li", { text })))]),
      paragraph(`Your readings count ${counted(marks.readings)}; par is ${counted(marks.par)}.`),
      paragraph(`Risk of a callback: ${grade} (${counted(risk * 100)} %).`),
      paragraph(`A person gives up to ${counted(person)} more points for your explanation.`),
      make("table", {}, make("thead", {}, head), make("tbody", {}, ...marks.lines.map(row))),
      ...section("Shown by this job", marks.objectives.map(({ number, words }) => paragraph(`${number} ${words}`))),
      ...section("To talk over", marks.flags.map(paragraph), "flags"),
    );
    this.next.hidden = false;
  }

  failed(words) {
    this.heading.textContent = "The verdict is signed";
    this.body.replaceChildren(make("p", { class: "problem", text: words }));
    this.next.hidden = false;
  }

  focus() {
    this.heading.focus({ preventScroll: true });
    this.node.scrollIntoView({ block: "nearest" });
  }
}

function row({ criterion, points, out_of: most, reasons }) {
  return make(
    "tr",
    { class: points !== null && points >= most ? "full" : "" },
    make("th", { scope: "row", text: criterion }),
    make("td", { class: "points", text: points === null ? `– of ${counted(most)}` : `${counted(points)} of ${counted(most)}` }),
    make("td", {}, ...reasons.map((reason) => make("p", { text: reason }))),
  );
}
