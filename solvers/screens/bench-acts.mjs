// Acts beside the meter: supplies, calls, waiting, leads, and what eyes, ears and hands tell. Every act is a button.

import { agreed, button, fill, make, partOf, problemLine, terminalOf } from "./bench-elements.mjs";

const WAITS = [[10, "10 s"], [60, "1 min"], [300, "5 min"]];
const SETTLING = "Let it settle: before you change a thing while something still moves, a wait is entered for you.";

/** Points grouped by their part, for a list to choose from. */
export function byPart(points, names) {
  const grouped = new Map();
  for (const name of points) {
    const at = partOf(name);
    if (!grouped.has(at)) grouped.set(at, []);
    grouped.get(at).push([name, names.points[name] ?? name]);
  }
  return [...grouped].map(([at, of]) => ({ label: names.parts[at] ?? at, of }));
}

/** A named group of controls with a line for its problems; `panels` says which views of a narrow screen show it. */
export function group(name, panels, ...children) {
  const problem = problemLine();
  const about = { class: "group view", role: "group", "aria-label": name, "data-in": panels };
  const node = make("div", about, make("h4", { text: name }), ...children, problem);
  return { node, problem };
}

/**
 * The row of acts. `act(act, problem)` does one; `point(name)` and `part(name)` hear a choice from a list.
 * `beside` takes the place of the senses where a bench has more to do at a part.
 */
export class Acts {
  constructor(root, { act, point, part, beside = [] }) {
    this.root = root;
    this.act = act;
    this.supplies = make("div", { class: "stack" });
    this.calls = make("div", { class: "stack" });
    this.minutes = make("input", { type: "number", min: 1, max: 60, step: 1, value: 10, "aria-label": "Minutes to wait" });
    this.points = make("select", { "aria-label": "Test point", on: { change: () => point(this.points.value || undefined) } });
    this.lead = button("Lift the lead", () => this.moveLead());
    this.reminders = make("p", { class: "reminder" });
    this.parts = make("select", { "aria-label": "Part", on: { change: () => part(this.parts.value || undefined) } });
    const sense = (how, text) => button(text, () => this.atPart((name) => ({ do: how, part: name })));
    this.opener = button("Engage opener", () => this.moveOpener());
    this.fitting = button("Fit a new one", () => this.fit());

    const waits = WAITS.map(([seconds, text]) => button(text, () => this.wait(seconds), { "aria-label": `Wait ${text}` }));
    waits[1].setAttribute("aria-keyshortcuts", "w");
    const waitOther = button("min", () => this.waitOther(), { "aria-label": "Wait so many minutes" });
    const other = make("div", { class: "other" }, this.minutes, waitOther);
    this.power = group("Supplies", "drawing", this.supplies);
    this.calling = group("Calls", "drawing", this.calls);
    this.settling = make("p", { class: "reminder", text: SETTLING });
    this.waiting = group("Wait", "drawing", make("div", { class: "triple" }, ...waits), other, this.settling);
    this.leads = group("Leads", "drawing", this.points, this.lead, this.reminders);
    this.senses = group(
      "At a part",
      "senses",
      this.parts,
      make("div", { class: "triple" }, sense("look", "Look"), sense("listen", "Listen"), sense("feel", "Feel")),
      make("div", { class: "pairs" }, this.fitting, this.opener),
    );
    const groups = [this.power, this.calling, this.waiting, this.leads, ...(beside.length ? [] : [this.senses])];
    this.node = make("section", { class: "acts", "aria-label": "Acts" }, ...[...groups, ...beside].map((each) => each.node));
    this.problems = [...groups, ...beside].map((each) => each.problem);
  }

  /** The lists and buttons of a new job. */
  begin({ brief, names }) {
    const words = (name) => names.parts[name] ?? name;
    fill(this.parts, brief.parts.map(({ name }) => [name, words(name)]), "which part?");
    this.parts.value = "";
    this.supplies.replaceChildren();
    this.calls.replaceChildren();
    this.switches = new Map();
    this.settling.hidden = brief.repairs == null; // a wiring table has no such rules
    this.kinds = new Map(brief.parts.map((part) => [part.name, part.kind]));
  }

  update(state) {
    this.state = state;
    const { brief, view, names, point, part } = state;
    const supplies = Object.entries(view.supplies);
    const together = brief.repairs != null && supplies.length > 1;
    for (const [name, on] of together ? supplies.slice(0, 1) : supplies) {
      const words = together ? "all supplies" : names.parts[name] ?? name;
      const press = () => this.act({ do: "switch", part: name, on: !on }, this.power.problem);
      this.toggle(this.supplies, name, `Switch ${words} ${on ? "off" : "on"}`, press, on ? "" : "off");
    }
    for (const [name, on] of Object.entries(view.calls)) {
      const zone = name.replace(/\.stat$/, "");
      const words = `${zone.replace(/^zone/, "zone ")}${brief.rooms[zone] ? `, ${brief.rooms[zone]}` : ""}`;
      const press = () => this.act({ do: "call", stat: name, on: !on }, this.calling.problem);
      this.toggle(this.calls, name, `${on ? "Stop call," : "Call"} ${words}`, press, on ? "calling" : "");
    }
    const known = view.points.join();
    if (this.known !== known) {
      this.known = known;
      fill(this.points, byPart(view.points, names), "which point?");
    }
    this.points.value = point ?? "";
    this.parts.value = part ?? "";
    const terminal = point && terminalOf(point);
    this.lead.textContent = view.lifted.includes(terminal) ? "Land the lead" : "Lift the lead";
    const lifted = view.lifted.map((name) => names.points[name] ?? name).join("; ");
    this.reminders.textContent = lifted ? `Lifted: ${lifted}.` : "No lead is lifted.";
    const isValve = view.valves.includes(part);
    this.opener.classList.toggle("absent", !isValve);
    this.opener.textContent = isValve && this.engaged(part) ? "Opener to auto" : "Engage opener";
  }

  toggle(stack, name, text, press, standing) {
    let made = this.switches.get(name);
    if (!made) {
      made = button(text, () => made.press());
      this.switches.set(name, made);
      stack.append(made);
    }
    made.press = press;
    made.textContent = text;
    made.className = standing;
  }

  /** Whether an opener may be engaged, as far as the log tells: as found, it may be. */
  engaged(valve) {
    let engaged = true;
    for (const { act } of this.state.view.log) {
      if (act.do === "opener" && act.valve === valve) engaged = act.engaged;
      if (act.do === "fit" && act.part === valve) engaged = false;
    }
    return engaged;
  }

  wait(seconds) {
    return this.act({ do: "wait", seconds }, this.waiting.problem);
  }

  waitOther() {
    const minutes = this.minutes.valueAsNumber;
    if (minutes >= 1 && minutes <= 60) return this.wait(minutes * 60);
    this.waiting.problem.textContent = "Wait from 1 to 60 minutes at a time.";
    return undefined;
  }

  moveLead() {
    const { point, view } = this.state;
    if (!point) {
      this.leads.problem.textContent = "Choose a test point first.";
      return;
    }
    const terminal = terminalOf(point);
    this.act({ do: view.lifted.includes(terminal) ? "land" : "lift", terminal }, this.leads.problem);
  }

  atPart(act) {
    if (this.state.part) this.act(act(this.state.part), this.senses.problem);
    else this.senses.problem.textContent = "Choose a part first, here or on the drawing.";
  }

  moveOpener() {
    this.atPart((valve) => ({ do: "opener", valve, engaged: !this.engaged(valve) }));
  }

  async fit() {
    const { part, names } = this.state;
    if (!part) return this.atPart(undefined);
    const words = names.parts[part] ?? part;
    const detail = `The old ${words} goes to the van. This cannot be undone.`;
    const sure = await agreed(this.root, `Fit a new ${words.replace(/ \d+$/, "")}?`, detail, "Fit it");
    return sure ? this.act({ do: "fit", part }, this.senses.problem) : undefined;
  }
}
