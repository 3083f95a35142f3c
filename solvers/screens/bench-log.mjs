// The log: one line an act, and the ticks that make a line a proving reading, four at most.

import { actWords, button, make, problemLine, timeWords } from "./bench-elements.mjs";

const EMPTY = "Nothing done yet. Each act becomes a line here. Tick the readings that prove your verdict, four at most.";
const READINGS = ["measure", "clamp", "line reading"];
export const MOST_PROOF = 4;

/** One line in words: number, clock, what and where, what it showed. */
export function lineWords(line, number, names) {
  return { number: `${number + 1}`, clock: timeWords(line.clock), what: actWords(line.act, names), shown: line.text };
}

/** The log's panel. `ticked(number, on)` hears a tick and tells whether it may stand. */
export class Log {
  constructor({ ticked, verdict }) {
    this.heard = { ticked };
    this.list = make("ol", { class: "lines" });
    this.empty = make("p", { class: "empty", text: EMPTY });
    this.problem = problemLine();
    this.count = make("span", { class: "count", role: "status" });
    this.toVerdict = button("Verdict", verdict, { "aria-keyshortcuts": "v" });
    this.node = make(
      "section",
      { class: "log view", "data-in": "log", "aria-label": "Log" },
      make("div", { class: "view-head" }, make("h4", { text: "Log", tabindex: -1 }), this.count, this.toVerdict),
      this.problem,
      make("div", { class: "log-lines" }, this.empty, this.list),
    );
    this.shown = [];
  }

  update({ view, names, ticks, closed }) {
    this.toVerdict.hidden = closed;
    this.empty.hidden = view.log.length > 0;
    const grows = this.shown.every((line, place) => line.key === JSON.stringify(view.log[place]));
    if (!grows) {
      this.list.replaceChildren();
      this.shown = [];
    }
    const grown = view.log.length > this.shown.length;
    for (let place = this.shown.length; place < view.log.length; place += 1) this.add(view.log[place], place, names);
    for (const { node, tick } of this.shown) {
      const on = ticks.includes(Number(tick.value));
      tick.checked = on;
      tick.disabled = closed;
      node.classList.toggle("ticked", on);
    }
    this.count.textContent = `${ticks.length} ticked`;
    if (grown) this.list.parentNode.scrollTop = this.list.parentNode.scrollHeight;
  }

  add(line, place, names) {
    const { number, clock, what, shown } = lineWords(line, place, names);
    const claim = `Line ${number} proves my verdict: ${what}, ${shown}`;
    const tick = make("input", { type: "checkbox", value: place, "aria-label": claim });
    tick.addEventListener("change", () => {
      const refused = this.heard.ticked(place, tick.checked);
      this.problem.textContent = refused ?? "";
      if (refused) tick.checked = false;
    });
    const reading = READINGS.includes(line.act.do);
    const node = make(
      "li",
      {},
      make(
        "label",
        {},
        tick,
        make(
          "span",
          { class: "line" },
          make("span", { class: "when" }, make("b", { text: number }), ` ${clock}`),
          ...(reading ? [make("span", { class: "shown", text: shown })] : []),
          make("span", { class: "what", text: reading ? what : `${what}: ${shown}` }),
        ),
      ),
    );
    this.list.append(node);
    this.shown.push({ key: JSON.stringify(line), node, tick });
  }

  focus() {
    (this.shown.at(-1)?.tick ?? this.node.querySelector("h4")).focus();
  }
}
