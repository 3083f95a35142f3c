// The meter: function, two probes or a clamp, one deliberate press to read. It shows what Python read and works out nothing.

import { button, cableWords, displayed, fill, make, problemLine, wireWords } from "./bench-elements.mjs";

export const FUNCTIONS = ["volts", "volts low-Z", "volts DC", "millivolts", "ohms", "beeper", "clamp", "amps jack"];
const DIAL = { "volts low-Z": "low-Z", "volts DC": "DC" };
const PROBES = { first: "1", second: "2" };

/** The meter's panel. `turned`, `wired`, `wound`, `due` and `read` hear what is done to it. */
export class Meter {
  constructor({ turned, wired, wound, due, read }) {
    const radio = (name) =>
      make(
        "label",
        {},
        make("input", {
          type: "radio",
          name: `function-${Meter.count}`,
          value: name,
          "aria-label": name,
          on: { change: () => turned(name) },
        }),
        make("span", { text: DIAL[name] ?? name }),
      );
    Meter.count += 1;
    this.dial = make("fieldset", { class: "functions" }, make("legend", { text: "Meter" }), ...FUNCTIONS.map(radio));
    const choice = (name, label, change) => make("select", { class: name, "aria-label": label, on: { change } });
    this.short = choice("function-short", "Meter function", () => turned(this.short.value));
    fill(this.short, FUNCTIONS.map((name) => [name, name]));
    this.number = make("span", { class: "number" });
    this.unit = make("span", { class: "unit" });
    this.quiet = make("p", { class: "quiet" });
    this.pair = make("p", { class: "pair" });
    this.chips = Object.fromEntries(
      Object.entries(PROBES).map(([probe, digit]) => {
        const mark = make("span", { class: `probe-mark ${probe}`, "aria-hidden": "true" }, make("b", { text: digit }));
        const chip = button(undefined, () => due(probe), { class: "chip" });
        chip.append(mark);
        return [probe, chip];
      }),
    );
    this.wire = choice("wire-choice", "Clamp around which conductor", () => wired(this.wire.value));
    this.turns = choice("turns", "Turns through the jaw", () => wound(Number(this.turns.value)));
    fill(this.turns, [...Array(10).keys()].map((more) => [`${more + 1}`, more ? `${more + 1} turns` : "1 turn"]));
    this.probes = make("div", { class: "probes", role: "group", "aria-label": "Probes" }, ...Object.values(this.chips));
    this.problem = problemLine();
    this.reader = button("Read", read, { class: "primary read", "aria-keyshortcuts": "r Enter" });
    this.node = make(
      "section",
      { class: "meter", "aria-label": "Meter" },
      this.dial,
      make("p", { class: "display" }, this.number, this.unit),
      this.quiet,
      this.pair,
      this.wire,
      make("div", { class: "hands" }, this.short, this.probes, this.turns, this.reader),
      this.problem,
    );
  }

  /** `fresh` is the log line that the display may still show, or undefined once anything has been moved. */
  update({ brief, names, probes, due, fn, wire, turns, fresh, closed }) {
    const clamping = fn === "clamp";
    for (const input of this.dial.querySelectorAll("input")) input.checked = input.value === fn;
    this.short.value = fn;
    this.node.classList.toggle("clamping", clamping);
    const shown = fresh ? displayed(fresh.text) : { large: "– –", unit: "", quiet: "" };
    this.number.textContent = shown.large;
    this.number.classList.toggle("words", /[a-z]/.test(shown.large));
    this.unit.textContent = shown.unit;
    this.quiet.textContent = [shown.quiet, fresh?.note].filter(Boolean).join(": ");
    this.quiet.classList.toggle("careful", Boolean(fresh?.misuse));
    for (const [probe, chip] of Object.entries(this.chips)) {
      const name = probes[probe] === undefined ? "not placed" : names.points[probes[probe]] ?? probes[probe];
      chip.setAttribute("aria-pressed", String(due === probe));
      chip.setAttribute("aria-label", `${probe} probe, ${name}${due === probe ? ": it moves next" : ""}`);
      chip.title = `Move the ${probe} probe next`;
    }
    const cables = brief.cables ?? [];
    const known = [...brief.wires, ...cables].join();
    if (this.known !== known) {
      this.known = known;
      const wires = brief.wires.map((name) => [name, wireWords(name)]);
      const whole = cables.map((name) => [name, `all of ${cableWords(name)}`]);
      const choices = whole.length ? [{ label: "one conductor", of: wires }, { label: "a whole cable", of: whole }] : wires;
      fill(this.wire, choices, "which conductor?");
    }
    this.wire.value = wire ?? "";
    this.turns.value = String(turns);
    this.pair.textContent = this.placed({ names, probes, fn, wire, turns });
    this.reader.setAttribute("aria-disabled", String(closed));
  }

  /** The pair in words: "volts, stat 2 W to C"; or what is still missing. */
  placed({ names, probes, fn, wire, turns }) {
    if (fn === "clamp" && !wire) return "clamp: choose a conductor";
    if (fn === "clamp") return `clamp, ${wireWords(wire)}, ${turns === 1 ? "1 turn" : `${turns} turns`}`;
    const [first, second] = ["first", "second"].map((probe) => names.points[probes[probe]] ?? probes[probe]);
    if (first && second) return `${fn}, ${first} to ${second}`;
    if (first) return `${fn}, ${first} to …`;
    return second ? `${fn}, … to ${second}` : `${fn}: place two probes on the drawing`;
  }
}
Meter.count = 0;
