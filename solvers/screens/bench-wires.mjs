// What hands and tools do to conductors: jumpers, terminations, cables, and what a look has found that belongs to nothing.

import { byPart, group } from "./bench-acts.mjs";
import { button, fill, make, terminalOf } from "./bench-elements.mjs";

const TWO = "Place both probes first, on the two points you mean.";

/** Four groups about conductors. `act(act, problem)` does one act; `point(name)` hears a choice from the list. */
export class Conductors {
  constructor({ act, point }) {
    this.act = act;
    this.jumpers = make("div", { class: "column" });
    this.jumper = group(
      "Jumper wire",
      "drawing",
      button("Jumper where the probes are", () => this.between(this.jumper, (first, second) => ({ do: "jumper", first, second, on: true }))),
      this.jumpers,
    );
    this.points = make("select", { "aria-label": "Termination", on: { change: () => point(this.points.value || undefined) } });
    const exchanged = (first, second) => ({ do: "exchange", first: terminalOf(first), second: terminalOf(second) });
    this.terminations = group(
      "Terminations",
      "tools",
      this.points,
      button("Remake it", () => this.remake()),
      button("Exchange leads at the two probes", () => this.between(this.terminations, exchanged)),
    );
    this.wire = make("select", { "aria-label": "Conductor", on: { change: () => this.ends() } });
    this.end = make("select", { "aria-label": "Which end" });
    this.to = make("select", { "aria-label": "Land it on" });
    this.cable = make("select", { "aria-label": "Cable" });
    const moved = () => ({ do: "move wire", wire: this.wire.value, end: this.end.value, terminal: this.to.value });
    this.wires = group(
      "Conductors",
      "tools",
      this.wire,
      button("Run it anew", () => this.chosen([this.wire], () => ({ do: "run wire", wire: this.wire.value }))),
      this.end,
      this.to,
      button("Move this end there", () => this.chosen([this.wire, this.to], moved)),
    );
    this.cables = group(
      "Cables and finds",
      "tools",
      this.cable,
      button("Run a new cable", () => this.chosen([this.cable], () => ({ do: "new cable", cable: this.cable.value }), this.cables)),
      (this.none = make("p", { class: "reminder" })),
      (this.found = make("div", { class: "column" })),
      button("Replace the meter's fuse", () => this.act({ do: "meter fuse" }, this.cables.problem)),
    );
  }

  begin({ brief, names }) {
    fill(this.wire, brief.wires.map((name) => [name, names.wires[name].words]), "which conductor?");
    fill(this.cable, brief.cables.map((name) => [name, names.cables[name]]), "which cable?");
    fill(this.to, byPart(brief.terminals, names), "on which terminal?");
    for (const list of [this.wire, this.cable, this.to]) list.value = "";
    this.names = names;
    this.known = undefined;
    this.ends();
  }

  ends() {
    const wire = this.names.wires[this.wire.value];
    const ends = wire ? ["a", "b"].map((end) => [end, `its end at ${this.names.points[wire[end]]}`]) : [];
    fill(this.end, ends, wire ? undefined : "which end?");
  }

  update(state) {
    this.state = state;
    const { view, names, point } = state;
    const known = view.points.join();
    if (this.known !== known) {
      this.known = known;
      fill(this.points, byPart(view.points.filter((name) => name === terminalOf(name)), names), "which terminal?");
    }
    this.points.value = point ? terminalOf(point) : "";
    const words = (name) => names.points[name] ?? name;
    const off = ([first, second]) =>
      button(`Take off: ${words(first)} to ${words(second)}`, () =>
        this.act({ do: "jumper", first, second, on: false }, this.jumper.problem),
      );
    listed(this.jumpers, view.jumpers, off);
    this.none.textContent = view.seen.length ? "A look has shown:" : "No look has shown anything to take off.";
    const away = ({ name, words: told }) =>
      button(`Take off: ${told}`, () => this.act({ do: "take off", what: name }, this.cables.problem));
    listed(this.found, view.seen, away);
  }

  between(panel, made) {
    const { first, second } = this.state.probes;
    if (first && second) return this.act(made(first, second), panel.problem);
    panel.problem.textContent = TWO;
    return undefined;
  }

  remake() {
    const { point } = this.state;
    if (point) return this.act({ do: "remake", terminal: terminalOf(point) }, this.terminations.problem);
    this.terminations.problem.textContent = "Choose a terminal first, here or on the drawing.";
    return undefined;
  }

  chosen(lists, made, panel = this.wires) {
    const open = lists.find((list) => !list.value);
    if (!open) return this.act(made(), panel.problem);
    panel.problem.textContent = `Choose first: ${open.options[0].textContent}`;
    return undefined;
  }
}

/** Lay out one button an item, and leave those alone that are there already: the keyboard may stand on one. */
function listed(stack, items, made) {
  const key = JSON.stringify(items);
  if (stack.dataset.key === key) return;
  stack.dataset.key = key;
  stack.replaceChildren(...items.map(made));
}
