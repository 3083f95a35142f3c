// Finishing: what still hangs where it was not found, stopping where it is dangerous, handing over to another trade.

import { group } from "./bench-acts.mjs";
import { agreed, button, fill, make } from "./bench-elements.mjs";

const STOPPING = "Everything is switched off and nothing more is touched. After that you can hand over and sign the verdict.";
const PROVING = "Prove each zone: call it, give its valve its time, look that it is open, stop the call.";

/** The groups that end a visit. `act(act, problem)` does one act, `verdict()` turns to the verdict. */
export class Finish {
  constructor(root, { act, verdict }) {
    this.act = act;
    this.stands = make("ul", { class: "stands" });
    this.covering = button("Covers on", () => act({ do: "covers" }, this.standing.problem));
    const reminder = make("p", { class: "reminder", text: PROVING });
    this.standing = group("How the house stands", "verdict", this.stands, this.covering, reminder);
    this.stopping = button("Stop, make safe", async () => {
      if (await agreed(root, "Stop and make safe?", STOPPING, "Stop")) await act({ do: "stop" }, this.danger.problem);
    });
    this.danger = group("Danger", "verdict", this.stopping, (this.stopped = make("p", { class: "reminder" })));
    this.trade = make("select", { "aria-label": "Hand over to" });
    this.handing = group(
      "Hand over to …",
      "verdict",
      this.trade,
      button("Hand over", () => act({ do: "refer", to: this.trade.value }, this.handing.problem)),
      (this.referred = make("p", { class: "reminder" })),
    );
    this.closing = group("Verdict", "finish", button("Write the verdict", verdict, { class: "primary" }));
  }

  begin({ brief }) {
    fill(this.trade, brief.trades.map((name) => [name, name]));
  }

  update({ view, names }) {
    const part = (name) => names.parts[name] ?? name;
    const point = (name) => names.points[name] ?? name;
    const set = new Map(view.log.filter(({ act }) => act.do === "opener").map(({ act }) => [act.valve, act.engaged]));
    const stands = [
      ["Leads lifted", view.lifted.map(point)],
      ["Jumpers on", view.jumpers.map(([first, second]) => `${point(first)} to ${point(second)}`)],
      ["Switched off", Object.keys(view.supplies).filter((name) => !view.supplies[name]).map(part)],
      ["Calling", Object.keys(view.calls).filter((name) => view.calls[name]).map(part)],
      ["Covers off", view.uncovered.map(part)],
      ["Openers you engaged", [...set].filter(([, engaged]) => engaged).map(([name]) => part(name))],
    ];
    const told = ([what, those]) => make("li", { class: those.length ? "still" : "", text: `${what}: ${those.join(", ") || "none"}` });
    this.stands.replaceChildren(...stands.map(told));
    this.covering.hidden = !view.uncovered.length;
    this.stopped.textContent = view.stopped ? "Made safe. Nothing more is touched." : "Where going on could hurt somebody.";
    this.referred.textContent = view.referred ? `Handed over to: ${view.referred}.` : "What is not your trade's work.";
    this.stopping.setAttribute("aria-disabled", String(view.stopped));
  }
}
