// What was done in the house, latest first, and what both zones will do: written down before the first call.

import { actWords, button, make, problemLine, timeWords } from "./bench-elements.mjs";

const NOTHING_DONE = "Power is on and nobody calls. Each act becomes a line here.";
const FORESEE = "Before you turn a stat up: which zones will open their own valve and start the boiler?";

const doneWords = (act, names) => (act.do === "predict" ? "written down" : actWords(act, names));

/** One line as it is announced and shown: what was done, and what was seen. */
export const houseLine = ({ act, text, misuse }, names) => `${doneWords(act, names)}: ${text}${misuse ? ` Careful: ${misuse}.` : ""}`;

/** The panel below the meter. `foresee(zones)` hears what is written down. */
export class HouseLog {
  constructor({ foresee }) {
    this.heard = { foresee };
    this.problem = problemLine();
    this.boxes = make("div", { class: "abreast" });
    this.writing = make(
      "fieldset",
      { class: "leads foresee" },
      make("legend", { text: FORESEE }),
      this.boxes,
      button("Write it down", () => this.write()),
    );
    this.empty = make("p", { class: "empty", text: NOTHING_DONE });
    this.lines = make("ol", { class: "lines" });
    this.node = make(
      "section",
      { class: "panel trial", "aria-label": "What was done" },
      this.writing,
      this.problem,
      this.empty,
      this.lines,
    );
  }

  begin(zones) {
    this.fields = [...zones, { id: "", words: "neither" }].map(({ id, words }) => {
      const field = make("input", { type: "checkbox", value: id });
      return [field, make("label", { class: "lamp" }, field, words)];
    });
    const neither = this.fields.at(-1)[0];
    for (const [field] of this.fields) {
      field.addEventListener("change", () => {
        for (const [other] of this.fields) if (other !== field && (field === neither || other === neither)) other.checked = false;
      });
    }
    this.boxes.replaceChildren(...this.fields.map(([, label]) => label));
  }

  write() {
    const picked = this.fields.filter(([field]) => field.checked).map(([field]) => field.value);
    if (picked.length) this.heard.foresee(picked.filter(Boolean));
    else this.problem.textContent = "Choose first.";
  }

  update({ view, names }) {
    this.writing.hidden = view.predicted !== null || view.closed;
    this.empty.hidden = view.log.length > 0;
    const shown = view.log.map((line, place) =>
      make(
        "li",
        {},
        make("span", { class: "when", text: `${place + 1} ${timeWords(line.clock)}` }),
        make("span", { class: "what", text: houseLine(line, names) }),
      ),
    );
    this.lines.replaceChildren(...shown.reverse()); // the latest on top
  }
}
