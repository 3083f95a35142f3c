// Handing in what was said of the house, and then the marks, each with its reason.

import { agreed, button, make, problemLine } from "./bench-elements.mjs";

const HANDED_IN = "Handed in: your sheet is saved. Your marks come from your instructor.";
const BEFORE = "Your answers close the house: nothing is measured in it afterwards, and the valve leads get their letters.";

const counted = (value) => String(Math.round(value * 10) / 10);

/** The panel. `hand()` hears the button once it has been confirmed, `next()` the wish for another house. */
export class HouseMarks {
  constructor(root, { hand, next }) {
    this.root = root;
    this.hand = hand;
    this.problem = problemLine();
    this.left = make("p", { class: "quiet-words" });
    this.hander = button("Hand in", () => this.ask(), { class: "primary" });
    this.heading = make("h4", { tabindex: -1 });
    this.body = make("div", { class: "marks-body" });
    this.next = button("Another house", next);
    this.marks = make("div", { class: "marks", hidden: true }, this.heading, this.body, this.next);
    this.node = make("section", { class: "panel hand-in", "aria-label": "Hand in" }, this.left, this.hander, this.problem, this.marks);
  }

  update({ closed, missing }) {
    this.missing = missing;
    this.hander.hidden = closed;
    this.left.hidden = closed;
    this.left.textContent = missing ? `Still open: ${missing}.` : "Everything is answered.";
    if (!closed) this.marks.hidden = true;
  }

  async ask() {
    const detail = `${BEFORE}${this.missing ? ` Still open: ${this.missing}.` : ""}`;
    if (await agreed(this.root, "Hand in your answers?", detail, "Hand in")) await this.hand();
  }

  /** Lay out the marks that Python gave; without any, the word that they come later. */
  show(marks) {
    this.marks.hidden = false;
    this.next.hidden = !marks;
    if (!marks) {
      this.heading.textContent = "The answers are handed in";
      this.body.replaceChildren(make("p", { text: HANDED_IN }));
      return;
    }
    const most = marks.lines.reduce((sum, line) => sum + line.out_of, 0);
    this.heading.textContent = `${counted(marks.points)} of ${counted(most)} points`;
    const line = ({ criterion, points, out_of: top, reasons }) =>
      make(
        "div",
        { class: points >= top ? "line full" : "line" },
        make("p", {}, make("b", { text: criterion }), make("span", { class: "points", text: `${counted(points)} of ${counted(top)}` })),
        ...reasons.map((reason) => make("p", { text: reason[0].toUpperCase() + reason.slice(1) })),
      );
    this.body.replaceChildren(...marks.lines.map(line));
  }

  focus() {
    (this.marks.hidden ? this.hander : this.heading).focus();
  }
}
