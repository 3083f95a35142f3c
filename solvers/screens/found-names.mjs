// What each conductor is: one line a conductor, with what can be seen of it and which readings speak of it.

import { fill, make } from "./bench-elements.mjs";

const RULE = "A name counts when your readings tell the conductor from everything else in the list. Colours and labels prove nothing.";
const NONE = "no reading speaks of it yet";

const linesWords = (lines) =>
  lines.length ? `${lines.length === 1 ? "line" : "lines"} ${lines.map((line) => line + 1).join(", ")}` : NONE;

/** The panel. `changed()` hears a name, `picked(wire)` which conductor is looked at. */
export class Names {
  constructor({ changed, picked }) {
    this.heard = { changed, picked };
    this.list = make("ol", { class: "conductors" });
    this.count = make("p", { class: "count", role: "status" });
    this.node = make(
      "section",
      { class: "panel names", "aria-label": "Names of the conductors" },
      make("h4", { text: "What is each conductor?", tabindex: -1 }),
      make("p", { class: "quiet-words", text: RULE }),
      this.count,
      this.list,
    );
  }

  begin(roles, conductors, given) {
    this.rows = new Map(
      conductors.map(({ name }) => {
        const field = make("select", { "aria-label": `What is ${name}?`, on: { change: () => this.heard.changed() } });
        fill(field, roles.map((role) => [role, role]), "?");
        if (roles.includes(given[name])) field.value = given[name];
        field.addEventListener("focus", () => this.heard.picked(name));
        const words = make("span", { class: "kind" });
        const lines = make("span", { class: "kind" });
        const node = make("li", {}, make("div", { class: "abreast" }, make("b", { text: name }), field), words, lines);
        node.addEventListener("click", () => this.heard.picked(name));
        return [name, { node, field, words, lines }];
      }),
    );
    this.list.replaceChildren(...[...this.rows.values()].map(({ node }) => node));
  }

  get answers() {
    return Object.fromEntries([...this.rows].map(([name, { field }]) => [name, field.value]).filter(([, role]) => role));
  }

  update({ conductors, wire, closed }) {
    for (const { name, ends, signs, readings } of conductors) {
      const { node, field, words, lines } = this.rows.get(name);
      node.classList.toggle("chosen", name === wire);
      words.textContent = `${ends}; ${signs}`;
      lines.textContent = linesWords(readings);
      field.setAttribute("aria-label", `What is ${name}? ${ends}; ${signs}; ${linesWords(readings)}`);
      field.disabled = closed;
    }
    this.count.textContent = `${Object.keys(this.answers).length} of ${this.rows.size} named.`;
  }

  /** Bring one conductor's line into sight and stand on it. */
  show(name) {
    const { node, field } = this.rows.get(name);
    node.scrollIntoView({ block: "nearest" });
    field.focus({ preventScroll: true });
  }

  focus() {
    const fields = [...this.rows.values()].map(({ field }) => field);
    (fields.find((field) => !field.value) ?? fields[0]).focus();
  }
}
