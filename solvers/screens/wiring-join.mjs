// Joining: two ends, the conductor between them, splices to join more than two; and the list of all terminals,
// which is the drawing for whoever works without one.

import { button, fill, make, partOf, problemLine } from "./bench-elements.mjs";

const COLOURS = ["red", "white", "yellow", "green", "blue", "brown", "black", "orange"];
const ENDS = { first: "From", second: "To" };

/** The panel. `pick`, `join`, `splice`, `aim`, `undo` and `stood`, where the keyboard stands, hear what is done to it. */
export class Join {
  constructor({ pick, join, splice, aim, undo, stood }) {
    this.heard = { pick, stood };
    this.chips = Object.fromEntries(
      Object.keys(ENDS).map((end) => {
        const mark = make("span", { class: `probe-mark ${end}`, "aria-hidden": "true" }, make("b", { text: end === "first" ? "1" : "2" }));
        const words = make("span", { class: "end-words" });
        const chip = make("button", { type: "button", class: "end", on: { click: () => aim(end) } }, mark, words);
        return [end, { chip, words }];
      }),
    );
    this.gauge = make("select", {});
    this.colour = make("select", {});
    fill(this.colour, COLOURS.map((name) => [name, name]), "none");
    this.feet = make("input", { type: "number", min: 1, max: 500, step: 1, value: 10 });
    this.label = make("input", { type: "text", maxlength: 40, autocomplete: "off", placeholder: "R, W1" });
    this.label.addEventListener("keydown", (event) => event.key === "Enter" && join());
    const field = (words, input) => make("label", { class: "field" }, make("span", { text: words }), input);
    const joiner = () => button("Join", join, { class: "primary", "aria-keyshortcuts": "j" });
    const adder = button("Add a splice", () => splice(Number(this.ways.value)));
    this.pair = make("p", {});
    this.bar = make("div", { class: "join-bar" }, this.pair, button("Undo", undo), joiner()); // within a thumb's reach on a phone
    this.ways = make("select", { "aria-label": "Ways of the splice" });
    this.problem = problemLine();
    this.list = make("div", { class: "terminals", role: "listbox", "aria-label": "Terminals" });
    this.node = make(
      "section",
      { class: "panel join", "aria-label": "Join" },
      make(
        "div",
        { class: "form" },
        make("div", { class: "ends" }, this.chips.first.chip, this.chips.second.chip),
        make(
          "div",
          { class: "conductor" },
          field("Gauge", this.gauge),
          field("Colour", this.colour),
          field("Feet", this.feet),
          field("Label", this.label),
        ),
        make("div", { class: "abreast" }, joiner(), make("span", { class: "spacer" }), this.ways, adder),
        this.problem,
      ),
      this.list,
    );
    this.rows = new Map();
  }

  begin({ brief }) {
    fill(this.gauge, brief.gauges.map((gauge) => [gauge, `${gauge} AWG`]));
    if (brief.gauges.includes(18)) this.gauge.value = "18";
    fill(this.ways, brief.ways.map((ways) => [ways, `${ways} ways`]));
    this.ways.value = "3";
    this.label.value = "";
    this.list.replaceChildren();
    this.rows.clear();
    this.at = undefined;
  }

  /** The conductor as chosen; undefined and a word about it where it cannot be one. */
  conductor() {
    const feet = this.feet.valueAsNumber;
    if (!(feet >= 1 && feet <= 500)) {
      this.problem.textContent = "Give the run a length from 1 to 500 feet.";
      return undefined;
    }
    return { gauge: Number(this.gauge.value), colour: this.colour.value, label: this.label.value.trim(), feet };
  }

  update({ names, terminals, wiring, ends, due, pair }) {
    this.pair.textContent = this.problem.textContent || pair;
    for (const [end, { chip, words }] of Object.entries(this.chips)) {
      const placed = ends[end] === undefined ? "choose" : names.points[ends[end]];
      words.textContent = `${ENDS[end]}: ${placed}`;
      chip.setAttribute("aria-pressed", String(due === end));
    }
    const known = terminals.map(({ name }) => name).join();
    const stale = this.known !== known || !this.rows.size;
    this.known = known; // first: laying out moves the focus, and that is heard
    if (stale) this.lay(terminals, names);
    for (const { name, holds } of terminals) {
      const landed = wiring.wires.filter(({ a, b }) => a === name || b === name);
      const row = this.rows.get(name);
      const held = Object.keys(ends).find((end) => ends[end] === name);
      const other = ({ a, b }) => names.points[a === name ? b : a] ?? (a === name ? b : a);
      const written = landed.map((wire) => `${wire.label || wire.name} to ${other(wire)}`).join("; ");
      row.there.textContent = written || "free";
      const over = landed.length > holds;
      row.count.textContent = over ? `${landed.length} where ${holds} go` : "";
      row.node.classList.toggle("crowded", over);
      row.node.dataset.end = held ?? "";
      row.node.setAttribute("aria-selected", String(held !== undefined));
      const told = [names.points[name], written || "free", row.count.textContent, held && `${ENDS[held].toLowerCase()} here`];
      row.node.setAttribute("aria-label", told.filter(Boolean).join(", "));
    }
  }

  /** Lay out the rows anew, one a terminal, by part; whoever stood on one still stands on it. */
  lay(terminals, names) {
    const focused = this.at && document.activeElement === this.rows.get(this.at)?.node;
    const parts = new Map();
    for (const { name } of terminals) {
      const part = partOf(name);
      if (!parts.has(part)) parts.set(part, []);
      parts.get(part).push(name);
    }
    this.rows.clear();
    const made = [...parts].map(([part, own]) => {
      const words = names.parts[part] ?? part;
      const heading = make("p", { class: "part-name", text: words, "aria-hidden": "true" });
      return make("div", { role: "group", "aria-label": words }, heading, ...own.map((name) => this.row(name)));
    });
    this.list.replaceChildren(...made);
    this.stand(this.rows.has(this.at) ? this.at : terminals[0]?.name);
    if (focused) this.focus();
  }

  row(name) {
    const there = make("span", { class: "there" });
    const count = make("span", { class: "count" });
    const mark = make("b", { text: name.slice(partOf(name).length + 1) });
    const node = make("div", { role: "option", tabindex: -1, "data-terminal": name }, mark, there, count);
    node.addEventListener("click", () => this.heard.pick(name));
    node.addEventListener("focus", () => {
      this.stand(name);
      if (node.matches(":focus-visible")) this.heard.stood(name);
    });
    this.rows.set(name, { node, there, count });
    return node;
  }

  stand(name) {
    this.rows.get(this.at)?.node.setAttribute("tabindex", -1);
    this.rows.get(name)?.node.setAttribute("tabindex", 0);
    this.at = name;
  }

  /** Where the keyboard stands: a terminal's name, or undefined. */
  get standing() {
    return document.activeElement?.closest?.('[role="option"]')?.dataset.terminal;
  }

  walk(key) {
    const all = [...this.rows.keys()];
    const here = all.indexOf(this.at);
    const last = all.length - 1;
    const nextPart = (by) => {
      let place = here;
      do place += by;
      while (all[place] !== undefined && partOf(all[place]) === partOf(this.at));
      return place;
    };
    const moves = {
      ArrowDown: () => here + 1,
      ArrowUp: () => here - 1,
      ArrowRight: () => nextPart(1),
      ArrowLeft: () => nextPart(-1),
      Home: () => 0,
      End: () => last,
    };
    const name = all[Math.min(last, Math.max(0, moves[key]()))];
    this.stand(name);
    this.focus();
  }

  focus() {
    this.rows.get(this.at)?.node.focus();
  }
}
