// The acts in three rows: hands and senses, tools and parts, finish. A wide screen shows one row at a time; a narrow one has
// them behind the words of its views.

import { Acts } from "./bench-acts.mjs";
import { button, make } from "./bench-elements.mjs";
import { Finish } from "./bench-finish.mjs";
import { Parts } from "./bench-parts.mjs";
import { Repairs } from "./bench-repairs.mjs";
import { Conductors } from "./bench-wires.mjs";

const KITS = { hands: "Hands and senses", tools: "Tools and parts", finish: "Finish" };

/** All acts beside the meter. `act`, `point` and `part` as in the row of acts, `verdict()` turns to the verdict. */
export class Kits {
  constructor(root, { act, point, part, verdict }) {
    this.root = root;
    const parts = new Parts(root, { act, part });
    const conductors = new Conductors({ act, point });
    const finish = new Finish(root, { act, verdict });
    const repairs = new Repairs(root, { act });
    this.anyRepair = [parts.tools, parts.settings, conductors.terminations, conductors.wires, conductors.cables];
    this.listedRepairs = repairs.group;
    const rows = {
      hands: [parts.hands, conductors.jumper],
      tools: [...this.anyRepair, this.listedRepairs],
      finish: [finish.standing, finish.danger, finish.handing, finish.closing],
    };
    const acts = new Acts(root, { act, point, part, beside: Object.values(rows).flat() });
    rows.hands.push(acts.power, acts.calling, acts.waiting, acts.leads);
    for (const [kit, groups] of Object.entries(rows)) for (const { node } of groups) node.dataset.kit = kit;
    this.acts = acts;
    this.panels = [acts, parts, conductors, finish, repairs];
    this.node = acts.node;
    this.problems = acts.problems;
    this.words = Object.entries(KITS).map(([kit, text]) => button(text, () => this.show(kit), { "data-kit": kit }));
    this.choice = make("nav", { class: "kits", "aria-label": "Kinds of act" }, ...this.words);
    this.show("hands");
  }

  begin(job) {
    for (const panel of this.panels) panel.begin(job);
    for (const { node } of this.anyRepair) node.hidden = job.brief.repairs !== null;
    this.listedRepairs.node.hidden = job.brief.repairs === null;
    this.show("hands");
  }

  update(state) {
    for (const panel of this.panels) panel.update(state);
  }

  show(kit) {
    this.root.dataset.kit = kit;
    for (const each of this.words) each.setAttribute("aria-current", String(each.dataset.kit === kit));
  }

  /** Stand with the keyboard on the first control of a row. */
  focus(kit) {
    const there = [...this.node.querySelectorAll(`[data-kit="${kit}"] :is(button, select)`)];
    there.find((each) => each.offsetParent)?.focus();
  }

  wait(seconds) {
    return this.acts.wait(seconds);
  }
}
