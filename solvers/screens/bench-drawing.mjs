// The drawing: the ladder or the wires that Python drew, with places to press laid over them. It scrolls and zooms; it draws
// no circuit, only the learner's own jumper wires from point to point.

import { button, make, partOf } from "./bench-elements.mjs";
import { handled } from "./bench-gestures.mjs";

const SVG = "http://www.w3.org/2000/svg";
const MARGIN = 14; // units of the drawing
const TAP = 22; // px, radius of a place to press
const NEAR = { mouse: 15, pen: 18, touch: 26 }; // px from a point that still mean the point
const LEAST_BULGE = 56; // px that the arc of a jumper wire leans out at least
const READABLE = 12.5; // px, the smallest lettering a narrow panel begins with
const LEGIBLE = 10; // px, the smallest lettering that any panel begins with
const ROOMY = 500; // px of panel from which the whole drawing is seen first

function shape(tag, attributes = {}, ...children) {
  const made = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  made.append(...children);
  return made;
}

/** A probe beside its point, so that ring and letter stay in sight; the two lean apart. */
function marker(probe) {
  const first = probe === "first";
  const x = first ? -10 : 10;
  const diamond = `M${x} 4 ${x + 15} 19 ${x} 34 ${x - 15} 19Z`;
  const outline = first ? shape("circle", { cx: x, cy: 19, r: 11 }) : shape("path", { d: diamond });
  const letter = shape("text", { x, y: 24, "text-anchor": "middle" });
  letter.textContent = first ? "1" : "2";
  return shape("g", { class: `probe ${probe}` }, shape("circle", { class: "tip", r: 5 }), outline, letter);
}

/**
 * The drawing's panel. `pickedPoint`, `pickedPart` and `pickedWire` hear what a pointer picks;
 * `chosen` hears which part or point the keyboard stands on.
 */
export class Drawing {
  constructor({ pickedPoint, pickedPart, pickedWire, chosen }) {
    this.heard = { pickedPoint, pickedPart, pickedWire, chosen };
    this.scroller = make("div", { class: "scroller" });
    this.inWords = make("p", {});
    this.node = make(
      "section",
      { class: "view drawing-panel", "data-in": "drawing", "aria-label": "Drawing" },
      this.scroller,
      make(
        "div",
        { class: "zoom" },
        button("−", () => this.zoom(1 / 1.4), { "aria-label": "Drawing smaller" }),
        button("+", () => this.zoom(1.4), { "aria-label": "Drawing larger" }),
        button("whole", () => this.fit(true), { "aria-label": "Whole drawing" }),
      ),
    );
    this.words = make(
      "details",
      { class: "view in-words", "data-in": "drawing" },
      make("summary", { text: "The drawing in words" }),
      this.inWords,
    );
    this.scale = 1; // px a unit of the drawing
    this.fitted = true;
    this.sized = new ResizeObserver(() => this.resized());
    this.sized.observe(this.scroller);
    handled(this.scroller, { zoom: (by, at) => this.zoom(by, at), press: (event, pointer) => this.pressed(event, pointer) });
  }

  /** Lay out a drawing. Where and how large it is seen stays, unless it is the first of a job. */
  show(text, words, brief, { first }) {
    this.text = text;
    this.waiting = this.scroller.clientWidth ? undefined : [text, words, brief, { first }]; // nothing can be measured while hidden
    if (this.waiting) return;
    const before = first || !this.at ? undefined : { key: this.keyOf(this.at), focused: this.at === document.activeElement };
    this.inWords.textContent = words;
    this.order = brief.parts.map((part) => part.name);
    const parsed = new DOMParser().parseFromString(text, "image/svg+xml");
    const svg = parsed.documentElement;
    if (svg.nodeName !== "svg") {
      this.scroller.replaceChildren(make("p", { class: "problem", text: "The drawing could not be shown; its words are below." }));
      this.svg = undefined;
      return;
    }
    this.svg = document.importNode(svg, true);
    this.svg.setAttribute("role", "group");
    this.svg.removeAttribute("aria-labelledby");
    this.svg.setAttribute("aria-label", "Drawing: arrow keys walk the parts, arrow down their test points");
    this.svg.querySelectorAll("text").forEach((letters) => letters.setAttribute("aria-hidden", "true"));
    this.svg.querySelectorAll("title").forEach((title) => title.remove()); // the targets carry the names
    this.scroller.replaceChildren(this.svg);
    // Only what is drawn has to fit, not the empty paper around it.
    const drawn = this.svg.getBBox();
    this.frame = { x: drawn.x - MARGIN, y: drawn.y - MARGIN, width: drawn.width + 2 * MARGIN, height: drawn.height + 2 * MARGIN };
    this.svg.setAttribute("viewBox", `${this.frame.x} ${this.frame.y} ${this.frame.width} ${this.frame.height}`);
    this.overlay = shape("g", { class: "overlay" });
    this.svg.append(this.overlay);
    this.places();
    this.targets = new Map();
    this.at = undefined;
    this.before = before;
    if (first) {
      this.fitted = true;
      this.scroller.scrollTo(0, 0);
    }
    if (this.fitted) this.fit();
    else this.rescale();
  }

  /** Where points, parts and conductors are, in the drawing's own units. */
  places() {
    const base = this.svg.getScreenCTM()?.inverse();
    const boxed = (node) => {
      const { x, y, width, height } = node.getBBox();
      const way = base ? base.multiply(node.getScreenCTM()) : new DOMMatrix();
      const corners = [new DOMPoint(x, y), new DOMPoint(x + width, y + height)].map((corner) => corner.matrixTransform(way));
      return { x: corners[0].x, y: corners[0].y, width: corners[1].x - corners[0].x, height: corners[1].y - corners[0].y };
    };
    this.spots = new Map();
    for (const group of this.svg.querySelectorAll(".point")) {
      const box = boxed(group.querySelector("circle, ellipse, path, rect") ?? group);
      this.spots.set(group.dataset.point, { x: box.x + box.width / 2, y: box.y + box.height / 2 });
    }
    this.boxes = new Map();
    for (const group of this.svg.querySelectorAll(".part")) {
      const name = group.dataset.part;
      this.boxes.set(name, [...(this.boxes.get(name) ?? []), boxed(group)]);
    }
    this.wires = new Map();
    for (const group of this.svg.querySelectorAll(".wire")) {
      const lines = [...group.querySelectorAll("path, line, polyline")].filter((line) => line.getAttribute("stroke") !== "none");
      const fat = lines.map((line) => {
        const copy = line.cloneNode();
        copy.removeAttribute("style");
        copy.setAttribute("class", "wire-target");
        copy.dataset.wire = group.dataset.wire;
        return copy;
      });
      this.wires.set(group.dataset.wire, fat);
      this.overlay.append(...fat);
    }
  }

  /** Bring marks and names up to date with the job. */
  update(state) {
    this.state = state;
    if (!this.svg || this.waiting) return;
    const { view, names, probes, due, point, part, wire, clamping, marked } = state;
    this.svg.classList.toggle("clamping", clamping);
    const held = clamping ? wire : marked;
    for (const [name, lines] of this.wires) lines.forEach((line) => line.classList.toggle("chosen", name === held));
    for (const name of view.lifted) this.placeLead(name);
    this.clipped(view.jumpers ?? []);
    for (const [name] of this.boxes) this.target("part", name, names.parts[name] ?? name);
    const there = new Set(view.points);
    for (const name of view.points) if (this.spots.has(name)) this.target("point", name, names.points[name] ?? name);
    for (const [key, node] of this.targets) {
      const name = node.dataset.point ?? node.dataset.part;
      if (node.dataset.point !== undefined && !there.has(name)) {
        node.remove();
        this.spots.get(name).tether?.remove();
        this.targets.delete(key);
        if (this.at === node) this.at = undefined;
        continue;
      }
      node.classList.toggle("chosen", node.dataset.point === undefined ? name === part : name === point);
      const probe = Object.keys(probes).find((each) => probes[each] === name);
      const label = node.dataset.words + (probe && node.dataset.point !== undefined ? `, ${probe} ${state.ends ? "end" : "probe"} is here` : "");
      node.setAttribute("aria-label", label);
    }
    this.markers ??= { first: marker("first"), second: marker("second") };
    for (const [probe, mark] of Object.entries(this.markers)) {
      const spot = this.spots.get(probes[probe]);
      mark.classList.toggle("due", probe === due);
      if (spot && there.has(probes[probe])) {
        mark.spot = spot;
        this.overlay.append(mark);
      } else mark.remove();
    }
    const beginning = this.targets.get(`part ${this.order[0]}`) ?? this.targets.values().next().value;
    this.rove(this.at ?? this.targets.get(this.before?.key) ?? beginning);
    this.rescale();
    if (this.before?.focused) this.at?.focus({ preventScroll: true });
    this.before = undefined;
  }

  keyOf(node) {
    return node.dataset.point === undefined ? `part ${node.dataset.part}` : `point ${node.dataset.point}`;
  }

  target(kind, name, words) {
    const key = `${kind} ${name}`;
    if (this.targets.has(key)) return;
    const node = shape("g", { class: `target ${kind}-target`, role: "button", tabindex: -1, [`data-${kind}`]: name });
    node.dataset.words = words;
    if (kind === "point") node.append(shape("circle", { class: "hit", r: TAP }), shape("circle", { class: "halo", r: 15 }));
    else {
      for (const { x, y, width, height } of this.boxes.get(name)) {
        node.append(shape("rect", { class: "halo", x: x - 4, y: y - 4, width: width + 8, height: height + 8, rx: 4 }));
      }
    }
    const { tether } = (kind === "point" && this.spots.get(name)) || {};
    if (tether) {
      this.overlay.prepend(tether);
      node.prepend(shape("circle", { class: "lead-end", r: 5 }));
    }
    node.addEventListener("focus", () => {
      this.rove(node);
      if (node.matches(":focus-visible")) this.heard.chosen({ [kind]: name, part: kind === "part" ? name : partOf(name) });
    });
    const before = kind === "part" ? this.overlay.querySelector(".point-target, .probe") : this.overlay.querySelector(".probe");
    this.overlay.insertBefore(node, before);
    this.targets.set(key, node);
  }

  /** The end of a lifted lead has a place of its own where the drawing shows none: beside its terminal, in the clear. */
  placeLead(terminal) {
    const name = `${terminal} lead`;
    const from = this.spots.get(terminal);
    if (this.spots.has(name) || !from) return;
    const others = [...this.spots.values()].filter((spot) => spot !== from);
    const clear = ({ x, y }) => Math.min(...others.map((spot) => Math.hypot(spot.x - x, spot.y - y)));
    const around = [...Array(8).keys()].map((turn) => ({
      x: from.x + 30 * Math.cos((turn * Math.PI) / 4),
      y: from.y + 30 * Math.sin((turn * Math.PI) / 4),
    }));
    const inside = around.filter(({ x, y }) => this.holds(x, y));
    const spot = inside.reduce((best, each) => (clear(each) > clear(best) ? each : best));
    spot.tether = shape("line", { class: "tether", x1: from.x, y1: from.y, x2: spot.x, y2: spot.y });
    this.spots.set(name, spot);
  }

  /** The learner's own jumper wires, each as an arc between the points it hangs on. */
  clipped(jumpers) {
    this.overlay.querySelectorAll(".jumper-wire").forEach((arc) => arc.remove());
    for (const ends of jumpers) {
      const [from, to] = ends.map((name) => this.spots.get(name));
      if (!from || !to) continue;
      const [across, down] = [to.x - from.x, to.y - from.y];
      const span = Math.hypot(across, down);
      const by = Math.max(span / 5, LEAST_BULGE / this.scale) / span; // neighbours are joined by an arc that is seen
      const bulge = { x: (from.x + to.x) / 2 + down * by, y: (from.y + to.y) / 2 - across * by };
      const arc = shape("path", { d: `M${from.x} ${from.y}Q${bulge.x} ${bulge.y} ${to.x} ${to.y}` });
      const clips = [from, to].map(({ x, y }) => shape("circle", { cx: x, cy: y, r: 3.5 }));
      this.overlay.prepend(shape("g", { class: "jumper-wire", "data-jumper": ends.join(" to ") }, arc, ...clips));
    }
  }

  holds(x, y) {
    const { frame } = this;
    return x > frame.x + 12 && y > frame.y + 12 && x < frame.x + frame.width - 12 && y < frame.y + frame.height - 12;
  }

  fit(whole = false) {
    const { clientWidth, clientHeight } = this.scroller;
    if (!this.svg || !clientWidth) return;
    const across = clientWidth / this.frame.width;
    this.whole = Math.min(across, clientHeight / this.frame.height);
    const sizes = [...this.svg.querySelectorAll("text")].map((each) => parseFloat(getComputedStyle(each).fontSize));
    const smallest = sizes.length ? Math.min(...sizes) : 12;
    const least = clientWidth >= ROOMY ? LEGIBLE : READABLE;
    this.scale = whole ? this.whole : Math.max(this.whole, least / smallest);
    if (this.scale < across * 1.12 && this.scale > across && !whole) this.scale = across; // a sliver to scroll helps nobody
    this.scale = Math.min(this.scale, 1.6);
    this.fitted = true;
    this.rescale();
  }

  zoom(by, at) {
    if (!this.svg) return;
    const frame = this.scroller.getBoundingClientRect();
    const x = (at?.x ?? frame.left + frame.width / 2) - frame.left;
    const y = (at?.y ?? frame.top + frame.height / 2) - frame.top;
    const before = this.scale;
    this.scale = Math.min(4, Math.max(this.whole * 0.9, before * by));
    this.fitted = false;
    this.rescale();
    const grown = this.scale / before;
    this.scroller.scrollLeft = (this.scroller.scrollLeft + x) * grown - x;
    this.scroller.scrollTop = (this.scroller.scrollTop + y) * grown - y;
  }

  resized() {
    if (this.waiting && this.scroller.clientWidth) {
      this.show(...this.waiting);
      this.update(this.state);
    }
    if (this.fitted) this.fit();
    else this.rescale();
  }

  /** Everything that is measured in screen pixels, for the size the drawing has now. */
  rescale() {
    if (!this.svg || !this.targets) return;
    this.svg.style.width = `${this.frame.width * this.scale}px`;
    this.svg.style.height = `${this.frame.height * this.scale}px`;
    const place = (node, { x, y }) => node.setAttribute("transform", `translate(${x} ${y}) scale(${1 / this.scale})`);
    for (const node of this.targets.values()) if (node.dataset.point !== undefined) place(node, this.spots.get(node.dataset.point));
    for (const mark of Object.values(this.markers ?? {})) if (mark.spot) place(mark, mark.spot);
  }

  /** What a press at a place on the screen means: the nearest point, else the smallest part around it. */
  pickAt(x, y, pointer) {
    const seen = this.svg.getBoundingClientRect();
    const at = { x: this.frame.x + (x - seen.left) / this.scale, y: this.frame.y + (y - seen.top) / this.scale };
    let point;
    let reach = (NEAR[pointer] ?? NEAR.mouse) / this.scale;
    for (const node of this.targets.values()) {
      const spot = node.dataset.point !== undefined && this.spots.get(node.dataset.point);
      if (!spot) continue;
      const away = Math.hypot(spot.x - at.x, spot.y - at.y);
      if (away < reach) [reach, point] = [away, node.dataset.point];
    }
    if (point) return { point };
    const inside = [...this.boxes].flatMap(([part, boxes]) => boxes.map((box) => ({ part, box })));
    const around = inside
      .filter(({ box }) => at.x > box.x - 6 && at.y > box.y - 6 && at.x < box.x + box.width + 6 && at.y < box.y + box.height + 6)
      .sort((one, other) => one.box.width * one.box.height - other.box.width * other.box.height);
    return around.length ? { part: around[0].part } : {};
  }

  pressed(event, pointer) {
    if (!this.svg) return;
    const onWire = event.target.closest?.(".wire-target");
    const own = event.target.closest?.(".target");
    // A screen reader's press has no place on the screen, only a target.
    const placed = event.clientX || event.clientY;
    const { point, part } = placed ? this.pickAt(event.clientX, event.clientY, pointer) : { ...own?.dataset };
    // Conductors take a press while clamping; where a screen lets them take one otherwise, points come first.
    if (onWire && (!point || this.svg.classList.contains("clamping"))) this.heard.pickedWire(onWire.dataset.wire);
    else if (point) this.heard.pickedPoint(point);
    else if (part) this.heard.pickedPart(part);
    else return;
    this.targets.get(point ? `point ${point}` : `part ${part}`)?.focus({ preventScroll: true });
  }

  rove(node) {
    if (!node) return;
    this.at?.setAttribute("tabindex", -1);
    node.setAttribute("tabindex", 0);
    this.at = node;
  }

  focus() {
    (this.at ?? this.scroller).focus();
  }

  /** Where the keyboard stands: {point} or {part}. */
  get standing() {
    return this.svg?.contains(document.activeElement) ? { ...document.activeElement.dataset } : {};
  }

  /** Walk with an arrow key: along the parts, down into one's points, along them, and up again. */
  walk(key) {
    const here = this.at;
    if (!here) return;
    const onPoint = here.dataset.point !== undefined;
    const part = onPoint ? partOf(here.dataset.point) : here.dataset.part;
    const all = [...this.targets.values()];
    const place = (node) => this.order.indexOf(node.dataset.part);
    const parts = all.filter((node) => node.dataset.part !== undefined).sort((one, other) => place(one) - place(other));
    // A lifted lead comes right after its terminal.
    const points = all
      .filter((node) => node.dataset.point !== undefined && partOf(node.dataset.point) === part)
      .flatMap((node) => (node.dataset.point.endsWith(" lead") ? [] : [node, this.targets.get(`point ${node.dataset.point} lead`)]))
      .filter(Boolean);
    const row = onPoint ? points : parts;
    const step = (by) => row[(row.indexOf(here) + by + row.length) % row.length];
    const moves = {
      ArrowRight: () => step(1),
      ArrowLeft: () => step(-1),
      ArrowDown: () => (onPoint ? step(1) : points[0]),
      ArrowUp: () => (onPoint ? this.targets.get(`part ${part}`) : step(-1)),
      Home: () => row[0],
      End: () => row.at(-1),
    };
    moves[key]?.()?.focus();
  }

  destroy() {
    this.sized.disconnect();
  }
}
