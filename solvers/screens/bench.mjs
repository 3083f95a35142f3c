// The bench: one job after another on a screen. All physics and all marks come from Python through `ask`;
// this module keeps what only a screen knows: where the probes are, what is ticked, how long somebody has looked.

import { Drawing } from "./bench-drawing.mjs";
import { actWords, button, make, partOf, problemLine, sentence, terminalOf } from "./bench-elements.mjs";
import { Head } from "./bench-head.mjs";
import { ARROWS, help, keyOf } from "./bench-keys.mjs";
import { Inside } from "./bench-inside.mjs";
import { Kits } from "./bench-kits.mjs";
import { Shelf, ThinkingTime, download } from "./bench-keeping.mjs";
import { Log, MOST_PROOF } from "./bench-log.mjs";
import { Marks } from "./bench-marks.mjs";
import { FUNCTIONS, Meter } from "./bench-meter.mjs";
import { Offer } from "./bench-offer.mjs";
import { Sound } from "./bench-sound.mjs";
import { Verdict } from "./bench-verdict.mjs";

const WIDE = 700; // px of the bench's own width from which drawing and log stand side by side
const TABS = ["drawing", "senses", "tools", "log", "verdict"];
const ARRIVAL = "The power is on and nobody calls.";

/**
 * Put a bench into an element. `ask(request)` resolves to the answer of solvers/screens/page.py.
 *
 * Options: chapter; level, the first that is offered; seed (null has Python choose a practice job each time); lab, of
 * graded work, as lab-screens.mjs makes it.
 */
export default function mount(element, ask, options = {}) {
  const bench = new Bench(element, ask, options);
  bench.begin();
  return { destroy: () => bench.destroy() };
}

class Bench {
  constructor(element, ask, { chapter, level = 1, seed = null, lab = null }) {
    this.ask = ask;
    this.order = { chapter, level: Number(level), seed };
    this.lab = lab;
    this.learner = lab?.begun.learner ?? "";
    this.sheet = lab?.sheet;
    this.shelf = lab ? lab.shelf : new Shelf(`${chapter}${seed ? ` ${this.order.level} ${seed}` : ""}`);
    this.thinkingTime = new ThinkingTime();
    this.build();
    element.querySelectorAll(":scope > .cfh-bench").forEach((each) => each.remove());
    this.fallback = [...element.children].filter((each) => !each.matches(".bench-start")); // shown until there is a job
    element.prepend(this.root);
    this.sized = new ResizeObserver(() => this.lay());
    this.sized.observe(this.root);
    this.lay();
    this.seen = () => this.think();
    document.addEventListener("visibilitychange", this.seen);
    this.ticking = setInterval(() => this.clocks(), 1000);
  }

  build() {
    this.live = make("p", { class: "heard-only", "aria-live": "polite" });
    this.latest = make("p", { class: "latest view", "data-in": "drawing senses tools" });
    this.trouble = problemLine();
    this.drawing = new Drawing({
      pickedPoint: (name) => this.pick(name),
      pickedPart: (name) => this.choose({ part: name }),
      pickedWire: (name) => this.set({ wire: name }),
      chosen: (where) => this.choose(where),
    });
    this.meter = new Meter({
      turned: (fn) => this.set({ fn }),
      wired: (wire) => this.set({ wire: wire || undefined }),
      wound: (turns) => this.set({ turns }),
      due: (due) => this.set({ due }, { moved: false }),
      read: () => this.read(),
    });
    this.sound = new Sound();
    this.head = new Head({ heard: () => this.sound.set(!this.sound.on), keys: () => help(this.root) });
    this.tabs = TABS.map((name) => button(name, () => this.turn(name), { "data-tab": name }));
    this.root = make("div", { class: "cfh-bench", "data-tab": "drawing" });
    this.kits = new Kits(this.root, {
      act: (act, problem) => this.act(act, problem),
      point: (name) => this.choose({ point: name, part: name && partOf(name) }),
      part: (name) => this.choose({ part: name }),
      verdict: () => this.turn("verdict"),
    });
    this.log = new Log({
      ticked: (place, on) => this.tick(place, on),
      verdict: () => this.turn("verdict"),
    });
    this.verdict = new Verdict(this.root, {
      sign: (claim, problem) => this.sign(claim, problem),
      changed: () => this.remember(),
      back: () => this.turn("log"),
    });
    this.marks = new Marks({ next: () => this.next() });
    this.inside = new Inside({ opened: (on) => this.look(on) });
    this.offer = new Offer({ resume: (kept) => this.resume(kept.sheet, kept), open: (level) => this.open(level) });
    const change = () => this.named(this.name.value.trim());
    this.name = make("input", { type: "text", maxlength: 64, autocomplete: "off", on: { change } });
    this.job = make("p", { class: "job" });
    const named = make("label", { hidden: Boolean(this.lab) }, make("span", { text: "Name on the sheet" }), this.name);
    const saving = button(this.lab ? "Save your sheet" : "Save the sheet", () => this.download());
    this.keeping = make("div", { class: "keeping", hidden: this.lab && !this.lab.give }, named, saving);
    const side = make("div", { class: "side" }, this.log.node);
    const tabs = make("nav", { class: "tabs", "aria-label": "Views of the bench" }, ...this.tabs);
    this.foot = make("div", { class: "foot" }, tabs, this.meter.node);
    this.desk = make(
      "div",
      { class: "desk", hidden: true },
      this.head.node,
      this.drawing.node,
      this.foot,
      side,
      this.verdict.node,
      this.latest,
      this.kits.choice,
      this.kits.node,
      this.marks.node,
      this.inside.node,
      this.drawing.words,
      make("footer", { class: "sheet-foot view", "data-in": "log verdict" }, this.job, this.keeping),
    );
    this.root.append(this.offer.node, this.trouble, this.desk, this.live);
    this.root.addEventListener("keydown", (event) => this.keyed(event));
  }

  // Beginning: a sheet to go on with, a job kept by this browser, or a new one.

  async begin() {
    if (this.lab) return this.started(this.again(), this.lab.kept, this.lab.begun);
    const kept = this.shelf.kept();
    return this.order.seed && !kept ? this.open() : this.offered(kept);
  }

  async offered(kept) {
    const { chapter, level } = this.order;
    try {
      const { chapters, words } = await this.asked({ ask: "chapters" });
      const levels = (chapters[chapter] ?? [level]).map((number) => [number, words[chapter]?.[number] ?? ""]);
      this.offer.show({ kept, levels, level });
    } catch (error) {
      this.trouble.textContent = sentence(error);
    }
  }

  async open(level = this.order.level) {
    const { chapter, seed } = this.order;
    const mine = seed && !this.opened;
    this.order.level = level;
    const wanted = mine ? { ask: "open", seed } : { ask: "practice" };
    await this.started({ ...wanted, chapter, level, learner: this.learner });
  }

  async resume(sheet, kept = {}) {
    await this.started({ ask: "resume", sheet }, kept);
  }

  /** What opens this job once more, as far as its sheet goes. */
  again() {
    const { lab, sheet } = this;
    if (lab) return sheet ? { ask: "lab resume", file: lab.file, sheet } : { ask: "lab", file: lab.file };
    return { ask: "resume", sheet };
  }

  /** Lay out the job that a request opens, or has opened already. What goes wrong is said in place, with the choice to try again. */
  async started(request, { ticks = [], draft } = {}, begun = undefined) {
    if (this.busy) return false;
    this.work(true);
    this.trouble.textContent = "";
    try {
      const answer = begun ?? (await this.asked(request));
      this.opened = true;
      this.number = answer.number;
      this.brief = answer.job;
      const { point_words: points, part_words: parts, wire_words: wires, cable_words: cables } = answer;
      this.names = { points, parts, wires, cables, finds: {} };
      this.view = answer.view;
      this.noted();
      this.drawingWords = answer.drawing_words;
      this.order.level = this.brief.level;
      Object.assign(this, { probes: {}, due: "first", fn: "volts", turns: 1 });
      for (const each of ["wire", "point", "part", "fresh"]) this[each] = undefined;
      const told = this.view.log.length;
      this.ticks = ticks.filter((place) => place < told).slice(0, MOST_PROOF);
      const earlier = request.sheet ? JSON.parse(request.sheet) : {};
      this.learner = earlier.learner || this.learner;
      this.thinkingTime.begin(earlier.thinking_s);
      if (earlier.verdict) [this.ticks, draft] = [earlier.verdict.proof, earlier.verdict];
      this.offer.away();
      this.fallback.forEach((each) => each.remove());
      this.desk.hidden = false;
      this.head.told(this.brief);
      this.drawing.show(answer.drawing, answer.drawing_words, this.brief, { first: true });
      this.kits.begin(this);
      this.verdict.begin({ brief: this.brief, draft });
      this.inside.open(false);
      this.turn("drawing", { quietly: true });
      this.think();
      this.render();
      // Whoever pressed the start button stood on something that is gone now: the keys go on from the job's title.
      if (document.activeElement === document.body) this.head.title.focus({ preventScroll: true });
      await this.keep(this.trouble);
      if (this.view.closed) await this.close();
      return true;
    } catch (error) {
      this.trouble.textContent = sentence(error);
      if (this.desk.hidden) this.offer.again(() => this.started(request), this.lab ? undefined : () => this.offered());
      return false;
    } finally {
      this.work(false);
    }
  }

  // Asking: one act at a time; a desk that has forgotten the job gets its sheet again.

  async asked(request) {
    const answer = await this.ask(request);
    if (answer?.error === undefined) return answer;
    if (request.number !== undefined && /^no open job\b/.test(answer.error) && this.sheet) {
      const again = await this.ask(this.again());
      if (again.error !== undefined) throw new Error(again.error);
      this.number = again.number;
      const second = await this.ask({ ...request, number: this.number });
      if (second.error === undefined) return second;
      throw new Error(second.error);
    }
    throw new Error(answer.error);
  }

  /** Do one act; a refusal is said in `problem` and changes nothing. Resolves to whether it was done. */
  async act(act, problem) {
    if (this.busy) return false;
    if (this.view.closed) {
      problem.textContent = "The verdict is signed: this job is closed.";
      return false;
    }
    this.work(true);
    this.silence();
    try {
      const answer = await this.asked({ ask: "act", number: this.number, act });
      this.take(answer);
      await this.keep(problem);
      return true;
    } catch (error) {
      problem.textContent = sentence(error);
      return false;
    } finally {
      this.work(false);
    }
  }

  take(answer) {
    const before = this.view.log.length;
    this.view = answer.view;
    Object.assign(this.names.points, answer.point_words ?? {});
    this.noted();
    this.point = this.stillThere(this.point);
    for (const probe of ["first", "second"]) this.probes[probe] = this.stillThere(this.probes[probe]);
    if (this.probes.first === this.probes.second) delete this.probes.second;
    const line = this.view.log.length > before ? this.view.log.at(-1) : undefined;
    const read = line && ["measure", "clamp"].includes(line.act.do);
    this.fresh = read ? { ...line, note: this.view.note } : undefined;
    if (line) {
      this.sound.play(line.text);
      const told = (each) => `${actWords(each.act, this.names)}: ${each.text}`;
      const said = this.view.log.slice(before).map(told).join(" "); // one act of graded work may give several lines
      this.live.textContent = `Line ${this.view.log.length}. ${said}${line.misuse ? `. Careful: ${line.misuse}` : ""}`;
    }
    if (answer.drawing && answer.drawing !== this.drawing.text) {
      this.drawing.show(answer.drawing, this.drawingWords, this.brief, { first: false });
    }
    this.render();
    if (!this.inside.figures.hidden) this.look(true);
  }

  /** Keep the words of what looks have shown: the log tells them after it has been taken off. */
  noted() {
    for (const { name, words } of this.view.seen) this.names.finds[name] = words;
  }

  /** A point that is still a point; a probe on a lead that has been landed is on its terminal now. */
  stillThere(name) {
    return [name, name && terminalOf(name)].find((each) => this.view.points.includes(each));
  }

  read() {
    const { problem } = this.meter;
    const { fn, probes, wire, turns } = this;
    if (fn === "clamp") {
      if (wire) return this.act({ do: "clamp", wire, turns }, problem);
      problem.textContent = "Choose the conductor first, in the list or on the drawing.";
    } else {
      const { first, second } = probes;
      if (first && second) return this.act({ do: "measure", function: fn, first, second }, problem);
      problem.textContent = "Place both probes first.";
    }
    return undefined;
  }

  async sign(claim, problem) {
    if (await this.act({ do: "verdict", ...claim }, problem)) await this.close();
  }

  /** After the verdict: marks and the valves from inside in practice, the word how it is handed in otherwise. */
  async close() {
    this.think();
    if (this.lab) this.handedIn();
    else {
      this.marks.waiting();
      this.work(true);
      try {
        this.marks.show(await this.asked({ ask: "marks", number: this.number }));
      } catch (error) {
        this.marks.failed(sentence(error));
      } finally {
        this.work(false);
      }
      await this.look(true);
    }
    this.live.textContent = this.marks.heading.textContent;
    this.turn("verdict", { quietly: true });
    this.marks.focus();
  }

  handedIn() {
    const again = async () => {
      this.silence();
      await this.keep(this.trouble);
      this.handedIn();
    };
    const { handing, give } = this.lab;
    this.marks.handedIn(this.unsaved || handing, { again: this.unsaved && again, save: give && (() => this.download()) });
  }

  async next() {
    if (this.busy) return;
    await this.open();
    this.head.title.focus();
  }

  async look(on) {
    this.inside.open(on);
    this.inside.problem.textContent = "";
    if (!on) return;
    const turn = (this.looking = (this.looking ?? 0) + 1);
    try {
      const { valves } = await this.asked({ ask: "inside", number: this.number });
      if (turn === this.looking) this.inside.show(valves);
    } catch (error) {
      if (turn === this.looking) this.inside.problem.textContent = sentence(error);
    }
  }

  // Keeping: the sheet after every act, in this browser, and for graded work where a notebook says.

  async keep(problem) {
    try {
      const thinking_s = Math.round(this.thinkingTime.seconds);
      const { sheet } = await this.asked({ ask: "sheet", number: this.number, learner: this.learner, thinking_s });
      this.sheet = sheet;
      this.remember();
      await this.lab?.save?.(sheet);
      this.unsaved = "";
    } catch (error) {
      this.unsaved = `The act is done, but the sheet could not be saved. ${sentence(error)}`;
    }
    problem.textContent = this.unsaved;
  }

  remember() {
    if (!this.sheet || !this.shelf) return;
    const { log, closed } = this.view;
    const { sheet, ticks, brief, verdict } = this;
    this.shelf.put({ title: brief.title, lines: log.length, closed, sheet, ticks, draft: verdict.draft });
  }

  async named(name) {
    this.learner = name;
    await this.keep(this.log.problem);
  }

  async download() {
    await this.keep(this.log.problem);
    if (this.sheet) (this.lab?.give ?? download)(this.sheet, this.learner, this.brief.chapter);
  }

  // What only the screen knows.

  set(change, { moved = true } = {}) {
    Object.assign(this, change);
    if (moved) this.fresh = undefined;
    this.silence();
    this.render();
  }

  /** A point was pressed: the due probe goes there; a probe that stands there is taken up again. */
  pick(name) {
    const held = ["first", "second"].find((probe) => this.probes[probe] === name);
    this.point = name;
    this.part = partOf(name);
    if (held) {
      delete this.probes[held];
      this.set({ due: held });
    } else this.place(this.due, name);
  }

  place(probe, name) {
    const other = probe === "first" ? "second" : "first";
    if (this.probes[other] === name) delete this.probes[other];
    this.probes[probe] = name;
    // A walk keeps one probe where it is: once both are placed, the second moves.
    this.set({ due: this.probes[other] ? "second" : other, point: name });
    this.live.textContent = this.meter.pair.textContent;
  }

  choose(where) {
    this.set(where, { moved: false });
  }

  tick(place, on) {
    if (on && this.ticks.length === MOST_PROOF) return `${MOST_PROOF} lines are ticked already; untick one of them first.`;
    this.ticks = on ? [...this.ticks, place].sort((one, other) => one - other) : this.ticks.filter((each) => each !== place);
    this.render();
    this.remember();
    return undefined;
  }

  turn(name, { quietly = false } = {}) {
    this.root.dataset.tab = name;
    this.tabs.forEach((tab) => tab.setAttribute("aria-current", String(tab.dataset.tab === name)));
    if (quietly) return;
    if (this.root.dataset.layout === "narrow" && this.desk.getBoundingClientRect().top < -this.drawing.node.offsetTop) {
      this.head.story.scrollIntoView({ block: "start" });
    }
    if (name === "verdict") (this.view.closed ? this.marks : this.verdict).focus();
    if (name === "log") this.log.focus();
    if (name === "drawing") this.drawing.focus();
  }

  /** Go with the keyboard to a row of acts, wherever the screen has it. */
  reach(kit, tab) {
    this.kits.show(kit);
    if (this.root.dataset.layout === "narrow") this.turn(tab, { quietly: true });
    this.kits.focus(kit);
  }

  keyed(event) {
    const key = keyOf(event);
    if (!key || this.desk.hidden) return;
    const probe = { 1: "first", 2: "second" }[key];
    const { point, part } = this.drawing.standing;
    const keys = {
      f: () => this.set({ fn: FUNCTIONS[(FUNCTIONS.indexOf(this.fn) + 1) % FUNCTIONS.length] }),
      r: () => this.read(),
      w: () => this.kits.wait(60),
      d: () => this.turn("drawing"),
      h: () => this.reach("hands", "senses"),
      t: () => this.reach("tools", "tools"),
      e: () => this.reach("finish", "verdict"),
      l: () => this.turn("log"),
      v: () => this.turn("verdict"),
      "?": () => help(this.root),
    };
    if (point || part) {
      for (const arrow of ARROWS) keys[arrow] = () => this.drawing.walk(arrow);
      keys[" "] = () => (point ? this.pick(point) : this.choose({ part }));
      keys.Enter = () => this.read();
    }
    if (probe && this.point) keys[key] = () => this.place(probe, this.point);
    if (!keys[key]) return;
    event.preventDefault();
    event.stopPropagation();
    keys[key]();
  }

  // Showing.

  render() {
    const { view, brief, names, probes, due, fn, wire, turns, fresh, point, part, ticks, learner } = this;
    const closed = view.closed;
    const state = { view, brief, names, probes, due, fn, wire, turns, fresh, point, part, ticks, closed };
    this.root.classList.toggle("closed", closed);
    this.root.classList.toggle("stopped", view.stopped);
    this.marks.node.hidden = !closed;
    this.inside.node.hidden = Boolean(this.lab);
    this.job.textContent = this.lab ? `Lab ${brief.seed}` : `Job ${brief.id}`;
    if (document.activeElement !== this.name) this.name.value = learner;
    this.drawing.update({ ...state, clamping: fn === "clamp" });
    this.meter.update(state);
    this.kits.update(state);
    this.log.update(state);
    this.verdict.update(state);
    const last = view.log.at(-1);
    this.latest.textContent = last ? `${view.log.length}. ${actWords(last.act, names)}: ${last.text}` : ARRIVAL;
    this.clocks();
  }

  clocks() {
    if (this.view) this.head.clocks(this.view.clock, this.thinkingTime.seconds);
  }

  think() {
    this.thinkingTime.run(!document.hidden && Boolean(this.view) && !this.view.closed);
  }

  work(on) {
    this.busy = on;
    clearTimeout(this.slow);
    this.root.setAttribute("aria-busy", String(on));
    this.head.status.textContent = "";
    if (on) this.slow = setTimeout(() => (this.head.status.textContent = "Working …"), 400);
  }

  silence() {
    const problems = [this.trouble, this.meter.problem, this.log.problem, this.verdict.problem, ...this.kits.problems];
    for (const problem of problems) problem.textContent = "";
  }

  lay() {
    const layout = this.root.clientWidth >= WIDE ? "wide" : "narrow";
    if (this.root.dataset.layout !== layout) this.root.dataset.layout = layout;
  }

  destroy() {
    clearInterval(this.ticking);
    clearTimeout(this.slow);
    document.removeEventListener("visibilitychange", this.seen);
    this.sized.disconnect();
    this.drawing.destroy();
    this.root.remove();
  }
}
