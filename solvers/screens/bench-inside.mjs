// The valves from inside: the drawings that Python made of them, and their words.

import { button, make, problemLine } from "./bench-elements.mjs";

/** The valves' panel. `opened(on)` hears that it is to be shown or hidden. */
export class Inside {
  constructor({ opened }) {
    this.toggle = button("", () => opened(this.figures.hidden), { class: "quiet-button" });
    this.figures = make("div", { class: "figures", hidden: true });
    this.problem = problemLine();
    const about = { class: "inside view", "data-in": "senses verdict", "aria-label": "Valves from inside" };
    this.node = make("section", about, this.toggle, this.problem, this.figures);
  }

  open(on) {
    this.figures.hidden = !on;
    this.toggle.setAttribute("aria-expanded", String(on));
    this.toggle.textContent = on ? "Close the valves again" : "Look inside the valves";
  }

  show(valves) {
    const drawn = ({ svg, words }) => {
      const parsed = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
      const picture = parsed.nodeName === "svg" ? [document.importNode(parsed, true)] : [];
      return make("figure", {}, ...picture, make("figcaption", { text: words }));
    };
    this.figures.replaceChildren(...valves.map(drawn));
  }
}
