// What hands and tools do at a part. Only what the chosen part admits is offered, and Python says what that is.

import { group } from "./bench-acts.mjs";
import { agreed, button, fill, make, valueWords } from "./bench-elements.mjs";

const FIELDS = { "head off": "valve", "opener": "valve", "seat head": "valve", "free stem": "valve", "cells": "stat" };
const OF_LOOPS = { "bleed": "loop", "service valve": "loop" };
const REPAIRING = "service valve"; // in this group it stands beside what only looks and tries

/** The act of that name done at a part. */
const atPart = (name, part, more = {}) => ({ do: name, [FIELDS[name] ?? OF_LOOPS[name] ?? "part"]: part, ...more });

/** Three groups about the chosen part: senses and hands, new parts, settings. `act` and `part` as in the row of acts. */
export class Parts {
  constructor(root, { act, part }) {
    this.root = root;
    this.act = act;
    this.admitted = [];
    const choice = () => make("select", { "aria-label": "Part", on: { change: (event) => part(event.target.value || undefined) } });
    this.lists = [choice(), choice()];
    const offer = (panel, name, text, more) => {
      const made = button(text, () => this.done(this[panel], (at) => atPart(name, at, more)));
      this.admitted.push([name, made]);
      return made;
    };
    const sense = (name, text) => button(text, () => this.done(this.hands, (at) => atPart(name, at)));
    this.read = make("select", { "aria-label": "Reading on the line side" });
    this.licensed = make(
      "div",
      { class: "column" },
      make("p", { class: "reminder", text: "Line side: read by somebody licensed. Counts as two readings." }),
      this.read,
      button("Have it read", () => this.done(this.hands, (at) => atPart("line reading", at, { what: this.read.value }))),
    );
    this.admitted.push(["line reading", this.licensed]);
    const switched = [offer("hands", "switch", "Switch on", { on: true }), offer("hands", "switch", "Switch off", { on: false })];
    this.hands = group(
      "At a part",
      "senses",
      this.lists[0],
      make("div", { class: "triple" }, sense("look", "Look"), sense("listen", "Listen"), sense("feel", "Feel")),
      make(
        "div",
        { class: "pairs" },
        offer("hands", "nudge", "Nudge it"),
        offer("hands", "head off", "Look under the head"),
        offer("hands", "opener", "Engage opener", { engaged: true }),
        offer("hands", "opener", "Opener to auto", { engaged: false }),
        offer("hands", "service valve", "Open service valve", { open: true }),
        offer("hands", "service valve", "Shut service valve", { open: false }),
        offer("hands", "reset", "Push reset button"),
        ...switched,
      ),
      this.licensed,
    );
    this.switched = switched;

    this.sizes = make("select", { "aria-label": "Size" });
    this.sized = make("div", { class: "pairs" }, this.sizes, button("Fit this size", () => this.fit(Number(this.sizes.value))));
    this.fitting = button("Fit a new one", () => this.fit());
    this.admitted.push(["fit", this.fitting], ["fit size", this.sized]);
    this.unfit = make("p", { class: "reminder", text: "Choose the part to work on." });
    this.tools = group(
      "Parts",
      "tools",
      this.lists[1],
      this.unfit,
      this.fitting,
      this.sized,
      make(
        "div",
        { class: "pairs" },
        offer("tools", "cells", "Put in new cells"),
        offer("tools", "seat head", "Seat the head"),
        offer("tools", "free stem", "Free the stem"),
        offer("tools", "bleed", "Bleed the loop"),
      ),
    );
    this.what = make("select", { "aria-label": "Setting", on: { change: () => this.values() } });
    this.value = make("select", { "aria-label": "Set it to" });
    this.unset = make("p", { class: "reminder" });
    this.controls = [this.what, this.value, button("Set it", () => this.set())];
    this.settings = group("Settings", "tools", this.unset, ...this.controls);
  }

  begin({ brief, names }) {
    const told = (part) => [part.name, names.parts[part.name] ?? part.name];
    const wired = brief.parts.filter((part) => part.wired).map(told);
    const other = brief.parts.filter((part) => !part.wired).map(told);
    const choices = [{ label: "wired", of: wired }, ...(other.length ? [{ label: "the rest of the house", of: other }] : [])];
    for (const list of this.lists) {
      fill(list, choices, "which part?");
      list.value = "";
    }
    this.offered = new Map(brief.parts.map((part) => [part.name, part]));
    fill(this.read, brief.line_readings.map((name) => [name, name]));
    this.shown = undefined;
  }

  update(state) {
    this.state = state;
    const { part, names, view } = state;
    for (const list of this.lists) list.value = part ?? "";
    if (this.shown === (part ?? "")) return;
    this.shown = part ?? "";
    this.now = this.offered.get(part) ?? { acts: [], settings: {}, sizes: [] };
    const listed = state.brief.repairs !== null; // then repairs stand in a list of their own
    for (const [name, node] of this.admitted) node.hidden = !this.now.acts.includes(name) || (listed && name === REPAIRING);
    for (const node of this.switched) node.hidden ||= part in view.supplies; // those have a button of their own
    const unit = this.now.kind === "Transformer" ? "VA" : "A";
    fill(this.sizes, this.now.sizes.map((size) => [size, `${size} ${unit}`]));
    const settings = Object.keys(this.now.settings);
    const words = names.parts[part] ?? part;
    this.unfit.hidden = Boolean(part);
    this.unset.textContent = part ? `Nothing to set at ${words}.` : "Choose a part first.";
    this.unset.hidden = settings.length > 0;
    for (const node of this.controls) node.hidden = !settings.length;
    fill(this.what, settings.map((name) => [name, name]));
    this.values();
  }

  values() {
    const what = this.what.value;
    const known = ["as designed", ...(this.now.settings[what] ?? [])];
    fill(this.value, known.map((value, place) => [place, valueWords(what, value)]));
    this.known = known;
  }

  done(panel, made) {
    if (this.state.part) return this.act(made(this.state.part), panel.problem);
    panel.problem.textContent = "Choose a part first, here or on the drawing.";
    return undefined;
  }

  set() {
    const what = this.what.value;
    return this.done(this.settings, (part) => ({ do: "set", part, what, value: this.known[Number(this.value.value)] }));
  }

  async fit(size) {
    const { part, names } = this.state;
    const words = (names.parts[part] ?? part).replace(/ \d+$/, "");
    const detail = `The old ${words} goes to the van. This cannot be undone.`;
    const asked = size === undefined ? `Fit a new ${words}?` : `Fit a ${words} of ${this.sizes.selectedOptions[0].textContent}?`;
    if (!(await agreed(this.root, asked, detail, "Fit it"))) return undefined;
    return this.act(size === undefined ? { do: "fit", part } : { do: "fit size", part, size }, this.tools.problem);
  }
}
