// The table under power, beside the bench's own meter and acts: what was done and seen, the fuses, the current path.

import { actWords, button, make, problemLine, timeWords } from "./bench-elements.mjs";

const NOTHING_TRIED = "Switch the power on, turn a stat up, wait. Each act becomes a line here.";

const actedWords = (act, names) => (act.do === "power" ? `power ${act.on ? "up" : "off"}` : actWords(act, names));

/** One line as it is announced and shown: what was done, and what was seen. */
export const lineOf = ({ act, text, misuse }, names) => `${actedWords(act, names)}: ${text}${misuse ? ` Careful: ${misuse}.` : ""}`;

/** The panel. `power(on)`, `light(on)` and `fit(part)` hear its buttons. */
export class Trial {
  constructor({ power, light, fit }) {
    this.heard = { fit };
    this.switch = button("Power up", () => power(!this.on), { "aria-keyshortcuts": "p" });
    this.lamp = make("input", { type: "checkbox", on: { change: () => light(this.lamp.checked) } });
    this.spent = make("p", { class: "spent" });
    this.fuses = make("div", { class: "stack" });
    this.problem = problemLine();
    this.empty = make("p", { class: "empty", text: NOTHING_TRIED });
    this.lines = make("ol", { class: "lines" });
    this.node = make(
      "section",
      { class: "panel trial", "aria-label": "Trial" },
      make("div", { class: "abreast" }, this.switch, make("label", { class: "lamp" }, this.lamp, "Light the current path")),
      this.fuses,
      this.spent,
      this.problem,
      this.empty,
      this.lines,
    );
  }

  update({ view, names, light }) {
    this.on = view.powered;
    this.switch.textContent = view.powered ? "Power off" : "Power up";
    this.switch.className = view.powered ? "off" : "primary";
    this.lamp.checked = light;
    this.spent.textContent = view.spent ? `Fuses spent: ${view.spent}.` : "";
    this.fuses.replaceChildren(
      ...view.opened.map((part) => button(`Fit a new ${names.parts[part] ?? part}`, () => this.heard.fit(part))),
    );
    this.empty.hidden = view.log.length > 0;
    const shown = view.log.map((line, place) =>
      make(
        "li",
        {},
        make("span", { class: "when", text: `${place + 1} ${timeWords(line.clock)}` }),
        make("span", { class: "what", text: lineOf(line, names) }),
      ),
    );
    this.lines.replaceChildren(...shown.reverse()); // the latest on top
  }
}
