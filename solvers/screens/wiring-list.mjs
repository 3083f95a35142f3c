// What lies on the table: every conductor and splice, to be named, labelled and taken off again.

import { button, make, problemLine } from "./bench-elements.mjs";

const NOTHING_JOINED = "Nothing is joined yet.";

/** The panel. `rewrite(wire, change)`, `off(wire)`, `rename(splice, name)`, `away(splice)` and `picked(wire)` hear it. */
export class Wires {
  constructor({ rewrite, off, rename, away, picked }) {
    this.heard = { rewrite, off, rename, away, picked };
    this.empty = make("p", { class: "empty", text: NOTHING_JOINED });
    this.problem = problemLine();
    this.list = make("ul", { class: "wires" });
    this.splices = make("ul", { class: "wires" });
    this.heading = make("h4", { text: "Splices" });
    this.node = make(
      "section",
      { class: "panel wire-list", "aria-label": "Wires" },
      make("h4", { text: "Wires", tabindex: -1 }),
      this.problem,
      this.empty,
      this.list,
      this.heading,
      this.splices,
    );
    this.rows = new Map();
  }

  update({ wiring, names, wire }) {
    this.empty.hidden = wiring.wires.length > 0;
    this.heading.hidden = wiring.splices.length === 0;
    const key = JSON.stringify([wiring, names.points]);
    const stale = this.key !== key;
    this.key = key; // first: laying out moves the focus, and that is heard
    if (stale) this.lay(wiring, names);
    for (const [name, row] of this.rows) row.classList.toggle("chosen", name === wire);
  }

  lay(wiring, names) {
    const within = this.node.contains(document.activeElement);
    const at = document.activeElement?.dataset?.field;
    this.rows.clear();
    this.list.replaceChildren(...wiring.wires.map((each, at) => this.wire(each, names, `wire at ${at}`)));
    this.splices.replaceChildren(...wiring.splices.map((each, at) => this.splice(each, `splice at ${at}`)));
    if (!within) return;
    const again = at && this.node.querySelector(`[data-field="${at}"]`);
    if (again) again.focus();
    else this.focus(); // what was stood on is gone
  }

  wire(wire, names, place) {
    const { name, a, b, gauge, colour, label, feet } = wire;
    const field = (slot, words, value, longest) => {
      const change = () => this.heard.rewrite(name, { [slot]: input.value.trim() });
      const about = { type: "text", value, maxlength: longest, autocomplete: "off", "data-field": `${place} ${slot}` };
      const input = make("input", { ...about, on: { change } });
      input.addEventListener("focus", () => this.heard.picked(name));
      return make("label", { class: "field" }, make("span", { text: words }), input);
    };
    const ends = `${names.points[a] ?? a} to ${names.points[b] ?? b}`;
    const kind = [`${gauge} AWG`, colour, `${feet} ft`].filter(Boolean).join(", ");
    const off = button("Take off", () => this.heard.off(name), { "aria-label": `Take off ${name}, ${ends}`, "data-field": `${place} off` });
    const row = make(
      "li",
      { "data-wire": name },
      make("p", {}, make("b", { text: ends }), make("span", { class: "kind", text: kind })),
      make("div", { class: "abreast" }, field("name", "Name", name, 40), field("label", "Label", label, 40), off),
    );
    this.rows.set(name, row);
    return row;
  }

  splice({ name, ways }, place) {
    const change = () => this.heard.rename(name, input.value.trim());
    const about = { type: "text", value: name, maxlength: 40, autocomplete: "off", "data-field": `${place} name` };
    const input = make("input", { ...about, on: { change } });
    const away = button("Take away", () => this.heard.away(name), { "aria-label": `Take away ${name}`, "data-field": `${place} off` });
    const label = make("label", { class: "field" }, make("span", { text: `Splice, ${ways} ways` }), input);
    return make("li", { "data-splice": name }, make("div", { class: "abreast" }, label, away));
  }

  /** Bring a wire into sight. */
  show(name) {
    this.rows.get(name)?.scrollIntoView({ block: "nearest" });
  }

  focus() {
    this.node.querySelector("h4").focus();
  }

  /** Go to a wire's label, to write it. */
  write(name) {
    this.rows.get(name)?.querySelector('[data-field$=" label"]').focus();
  }
}
