// The wiring table: parts and a bag on a screen, to be joined, tried and handed in. What a wiring does, and how it is
// drawn, comes from Python through `ask`; this module keeps what only a screen knows: the wiring and the steps back.

import { Acts } from "./bench-acts.mjs";
import { Drawing } from "./bench-drawing.mjs";
import { button, make, partOf, problemLine, sentence, terminalOf, timeWords } from "./bench-elements.mjs";
import { practiceSeed } from "./bench-keeping.mjs";
import { ARROWS, help, keyOf } from "./bench-keys.mjs";
import { FUNCTIONS, Meter } from "./bench-meter.mjs";
import { wiringText } from "./wiring-edits.mjs";
import { Hands } from "./wiring-hands.mjs";
import { Join } from "./wiring-join.mjs";
import { Place, openFile, saveFile } from "./wiring-keeping.mjs";
import { TABLE_KEYS } from "./wiring-keys.mjs";
import { Wires } from "./wiring-list.mjs";
import { WiringLab } from "./wiring-lab.mjs";
import { HandIn } from "./wiring-marks.mjs";
import { Trial, lineOf } from "./wiring-power.mjs";

const SIDE_BY_SIDE = 700; // px of the table's own width from which drawing and panels stand side by side
const PANELS = ["join", "wires", "power", "hand in"];
const ANNOUNCED_EVERY = 5_000; // ms between two announcements of how far a judgement has come
const BEGUN = "Nothing is joined yet. Pick a terminal, then another.";

/**
 * Put a wiring table into an element. `ask(request, told)` resolves to the answer of solvers/screens/page.py; what takes
 * long tells {done, total} on the way.
 *
 * Options: task; seed (of what is drawn for one learner); wiring (text of one to go on with, null for what this browser keeps);
 * kept (what belongs to that wiring: seed, spent, stands, answers); save(text), called with the wiring after every change;
 * note(kept), called after every change of the rest; lab, of graded work, as lab-screens.mjs makes it.
 */
export default function mountTable(element, ask, options = {}) {
  const table = new WiringTable(element, ask, options);
  table.open();
  return { destroy: () => table.destroy() };
}

class WiringTable {
  constructor(element, ask, { task, seed = null, wiring = null, kept = null, save = null, note = null, lab = null }) {
    this.ask = ask;
    this.lab = lab;
    this.order = { task, seed, wiring, kept, save, note };
    this.place = save || lab ? undefined : new Place(task);
    this.hands = new Hands(this);
    this.waiting = Promise.resolve();
    this.build();
    element.replaceChildren(this.root);
    this.sized = new ResizeObserver(() => this.lay());
    this.sized.observe(this.root);
    this.lay();
  }

  build() {
    this.live = make("p", { class: "heard-only", "aria-live": "polite" });
    this.trouble = problemLine();
    this.latest = make("p", { class: "latest" });
    this.root = make("div", { class: "cfh-bench cfh-table" });
    this.drawing = new Drawing({
      pickedPoint: (name) => (this.trying ? this.probe(name) : this.hands.pick(name)),
      pickedPart: (name) => this.set({ part: name }),
      pickedWire: (name) => this.pickWire(name),
      chosen: (where) => this.set(where),
    });
    this.join = new Join({
      pick: (name) => this.hands.pick(name),
      join: () => this.hands.joinEnds(),
      splice: (ways) => this.hands.addSplice(ways),
      aim: (end) => this.set({ end }),
      undo: () => this.hands.undo(),
      stood: (name) => this.set({ point: name, part: partOf(name) }),
    });
    this.wires = new Wires({
      rewrite: (wire, change) => this.hands.rewrite(wire, change),
      off: (wire) => this.hands.takeOff(wire),
      rename: (splice, name) => this.hands.renameSplice(splice, name),
      away: (splice) => this.hands.takeAway(splice),
      picked: (wire) => this.set({ wire }),
    });
    this.trial = new Trial({
      power: (on) => this.power(on),
      light: (on) => this.light(on),
      fit: (part) => this.act({ do: "fit", part }, this.trial.problem),
    });
    this.meter = new Meter({
      turned: (fn) => this.set({ fn, fresh: undefined }),
      wired: (clamped) => this.set({ clamped: clamped || undefined, fresh: undefined }),
      wound: (turns) => this.set({ turns, fresh: undefined }),
      due: (due) => this.set({ due }),
      read: () => this.read(),
    });
    this.acts = new Acts(this.root, {
      act: (act, problem) => this.act(act, problem),
      point: (name) => this.set({ point: name, part: name && partOf(name) }),
      part: (name) => this.set({ part: name }),
    });
    this.handIn = new HandIn({
      hand: (prediction) => this.judge(prediction),
      changed: (answers) => this.answer(answers),
      probed: async (which) => (await this.asked({ ask: "table leads", number: this.number, ...which })).text,
      show: (finding) => this.showFinding(finding),
    });
    this.title = make("h3", { tabindex: -1 });
    this.story = make("p", { class: "story" });
    this.clock = make("b", {});
    this.status = make("p", { class: "status", role: "status" });
    const keys = button("Keys", () => help(this.root, TABLE_KEYS), { class: "quiet-button keys", "aria-keyshortcuts": "?" });
    const head = make(
      "header",
      { class: "head" },
      make("div", { class: "told" }, this.title, this.story),
      make("div", { class: "times" }, make("p", {}, "Clock ", this.clock), this.status, make("div", { class: "aids" }, keys)),
    );
    this.undoing = button("Undo", () => this.hands.undo(), { "aria-keyshortcuts": "u" });
    this.redoing = button("Redo", () => this.hands.redo(), { "aria-keyshortcuts": "Shift+U" });
    const open = () => openFile((text) => this.hands.opened(text), (words) => (this.trouble.textContent = words));
    this.tools = make(
      "div",
      { class: "tools" },
      this.undoing,
      this.redoing,
      make("span", { class: "spacer" }),
      ...(this.lab ? [] : [button("Save the wiring", () => saveFile(wiringText(this.hands.history.now), this.order.task)), button("Open a wiring", open)]),
    );
    this.tabs = PANELS.map((name) => button(name, () => this.turn(name), { "data-tab": name }));
    const tabs = make("nav", { class: "tabs", "aria-label": "Panels of the wiring table" }, ...this.tabs);
    this.foot = make("div", { class: "foot" }, this.join.bar, tabs);
    this.side = make("div", { class: "side" }, this.join.node, this.wires.node, this.meter.node, this.trial.node, this.handIn.node);
    this.desk = make(
      "div",
      { class: "desk", hidden: true },
      head,
      this.drawing.node,
      this.foot,
      this.side,
      this.latest,
      this.tools,
      this.acts.node,
      this.drawing.words,
    );
    this.root.append(this.trouble, this.desk, this.live);
    this.root.addEventListener("keydown", (event) => this.keyed(event));
  }

  // Beginning and asking.

  async open() {
    if (this.lab) return this.laidOut(this.lab.begun);
    const found = this.order.wiring === null ? this.place?.kept() : undefined;
    const wiring = this.order.wiring ?? found?.wiring ?? null;
    const { seed, spent = 0, stands = false, answers = {} } = this.order.kept ?? found ?? {};
    this.kept = { seed: this.order.seed ?? seed ?? practiceSeed(), spent, stands, answers };
    try {
      await this.begun(wiring);
    } catch (error) {
      this.trouble.textContent = sentence(error);
      if (wiring === null) return;
      // What was kept cannot be read any more: an empty table, and a word about it.
      this.kept = { seed: practiceSeed(), spent: 0, stands: false, answers: {} };
      await this.begun(null).catch((worse) => (this.trouble.textContent = sentence(worse)));
    }
  }

  async begun(wiring) {
    this.laidOut(await this.asked({ ask: "table", task: this.order.task, wiring, kept: this.kept }));
  }

  /** Show the table that an answer lays out. */
  laidOut(answer) {
    const { spent, stands, answers } = answer.view;
    this.kept = { ...this.kept, spent, stands, answers };
    Object.assign(this, { number: answer.number, task: answer.task, probes: {}, ends: {}, due: "first", end: "first" });
    Object.assign(this, { fn: "volts", turns: 1, lit: false });
    for (const each of ["clamped", "fresh", "point", "part", "wire"]) this[each] = undefined;
    this.hands.history.begin(JSON.parse(answer.wiring));
    this.title.textContent = this.task.title;
    this.story.textContent = this.task.story;
    this.desk.hidden = false;
    this.names = { points: answer.point_words, parts: answer.part_words };
    this.brief = { ...this.task, parts: answer.parts, wires: answer.wires, rooms: {} };
    this.acts.begin(this);
    this.join.begin(this);
    this.handIn.begin(this);
    if (this.lab) {
      this.labPart = new WiringLab(this, this.handIn.questions, this.handIn.problem);
      this.handIn.graded.replaceChildren(this.labPart.node);
    }
    this.take(answer, { first: true });
    this.turn("join", { quietly: true });
    if (document.activeElement === document.body) this.title.focus({ preventScroll: true });
  }

  async asked(request, told) {
    const answer = await this.ask(request, told);
    if (answer?.error === undefined) return answer;
    if (request.number !== undefined && /^no open table\b/.test(answer.error)) {
      const again = await this.ask(this.again());
      if (again.error !== undefined) throw new Error(again.error);
      this.number = again.number;
      const second = await this.ask({ ...request, number: this.number }, told);
      if (second.error === undefined) return second;
      throw new Error(second.error);
    }
    throw new Error(answer.error);
  }

  /** What lays this table out once more. */
  again() {
    const { kept, sound, order, lab, labPart } = this;
    if (!lab) return { ask: "table", task: order.task, wiring: wiringText(sound), kept };
    return labPart.sheet ? { ask: "lab resume", file: lab.file, sheet: labPart.sheet } : { ask: "lab", file: lab.file };
  }

  /** Do one thing after another: what is asked while something runs waits its turn. */
  inTurn(doing, problem) {
    this.waiting = this.waiting.then(async () => {
      this.work(true);
      try {
        return await doing();
      } catch (error) {
        problem.textContent = sentence(error);
        return undefined;
      } finally {
        this.work(false);
      }
    });
    return this.waiting;
  }

  /** What Python says the table shows now. */
  see(view) {
    this.view = view;
    const { spent, stands, answers } = view;
    this.kept = { ...this.kept, spent, stands, answers };
  }

  /** What Python says lies on the table now. */
  take(answer, { first = false } = {}) {
    if (answer.view) this.see(answer.view);
    this.terminals = answer.terminals;
    this.names = { points: answer.point_words, parts: answer.part_words };
    this.brief = { ...this.task, parts: answer.parts, wires: answer.wires, rooms: {} };
    this.sound = JSON.parse(answer.wiring);
    const there = new Set(this.terminals.map(({ name }) => name));
    for (const end of ["first", "second"]) if (!there.has(this.ends[end])) delete this.ends[end];
    const still = (name) => [name, name && terminalOf(name)].find((each) => this.view.points.includes(each));
    for (const probe of ["first", "second"]) this.probes[probe] = still(this.probes[probe]);
    this.point = still(this.point);
    if (!this.brief.wires.includes(this.wire)) this.wire = undefined;
    if (!this.brief.wires.includes(this.clamped)) this.clamped = undefined;
    if (first || answer.drawing !== this.drawing.text) this.drawing.show(answer.drawing, answer.drawing_words, this.brief, { first });
    this.render();
  }

  // Trying it.

  get trying() {
    return this.root.dataset.tab === "power";
  }

  power(on) {
    return this.act({ do: "power", on }, this.trial.problem);
  }

  act(act, problem) {
    this.silence();
    return this.inTurn(async () => {
      const before = this.view.log.length;
      const answer = await this.asked({ ask: "table act", number: this.number, act, light: this.lit });
      this.see(answer.view);
      const line = this.view.log.length > before ? this.view.log.at(-1) : undefined;
      const read = line && ["measure", "clamp"].includes(line.act.do);
      this.fresh = read ? { ...line, note: this.view.note } : undefined;
      this.take(answer);
      if (line) this.say(lineOf(line, this.names));
      this.hands.remember();
      return true;
    }, problem);
  }

  light(on) {
    this.lit = on;
    return this.inTurn(async () => this.take(await this.asked({ ask: "table light", number: this.number, light: on })), this.trial.problem);
  }

  read() {
    const { fn, probes, clamped, turns } = this;
    const { problem } = this.meter;
    if (fn === "clamp") {
      if (clamped) return this.act({ do: "clamp", wire: clamped, turns }, problem);
      problem.textContent = "Choose the conductor first, in the list or on the drawing.";
    } else {
      const { first, second } = probes;
      if (first && second) return this.act({ do: "measure", function: fn, first, second }, problem);
      problem.textContent = "Place both probes first.";
    }
    return undefined;
  }

  probe(name) {
    const held = ["first", "second"].find((probe) => this.probes[probe] === name);
    if (held) {
      delete this.probes[held];
      this.set({ due: held, point: name, part: partOf(name), fresh: undefined });
    } else this.put(this.due, name);
  }

  put(probe, name) {
    const other = probe === "first" ? "second" : "first";
    if (this.probes[other] === name) delete this.probes[other];
    this.probes[probe] = name;
    // A walk keeps one probe where it is: once both are placed, the second moves.
    this.set({ due: this.probes[other] ? "second" : other, point: name, part: partOf(name), fresh: undefined });
    this.say(this.meter.pair.textContent, { quietly: true });
  }

  pickWire(name) {
    if (this.trying) {
      this.set({ clamped: name, fresh: undefined });
      return;
    }
    this.wire = name;
    this.turn("wires", { quietly: true });
    this.wires.show(name);
  }

  // Handing in.

  /** Answers to what is asked before power; refused once the wiring has been run, and then they are shown as they stand. */
  answer(answers) {
    this.silence();
    return this.inTurn(async () => {
      try {
        this.see((await this.asked({ ask: "table answers", number: this.number, answers })).view);
        this.hands.remember();
      } finally {
        this.render();
      }
    }, this.handIn.problem);
  }

  judge(prediction) {
    if (this.judging) return undefined; // once is enough
    this.judging = true;
    this.silence();
    return this.inTurn(async () => {
      const asked = { ask: "table hand in", number: this.number, prediction };
      const judged = await this.asked(asked, (progress) => this.judgingSo(progress)).finally(() => {
        this.judging = false;
        this.handIn.progress();
      });
      this.see(judged.view);
      this.render();
      this.hands.remember();
      this.handIn.show(judged);
      this.say(this.handIn.heading.textContent);
      this.handIn.heading.focus({ preventScroll: true });
      if (this.root.dataset.layout === "wide") this.side.scrollTop = this.handIn.marks.offsetTop;
      else this.handIn.heading.scrollIntoView({ block: "center" });
    }, this.handIn.problem);
  }

  /** How far a judgement has come: shown at once, announced once in a while. */
  judgingSo(progress) {
    const words = this.handIn.progress(progress);
    if (Date.now() - (this.announced ?? 0) < ANNOUNCED_EVERY) return;
    this.announced = Date.now();
    this.say(words, { quietly: true });
  }

  showFinding(finding) {
    return this.inTurn(async () => {
      this.take(await this.asked({ ask: "table light", number: this.number, finding }));
      this.drawing.node.scrollIntoView({ block: "nearest" });
      if (this.root.dataset.layout === "narrow") this.drawing.fit(true); // the path is not cut off
    }, this.handIn.problem);
  }

  // What only the screen knows.

  set(change) {
    Object.assign(this, change);
    this.silence();
    this.render();
  }

  say(words, { quietly = false } = {}) {
    this.live.textContent = "";
    this.live.textContent = words;
    if (!quietly) this.latest.textContent = words;
  }

  turn(name, { quietly = false } = {}) {
    this.root.dataset.tab = name;
    this.tabs.forEach((tab) => tab.setAttribute("aria-current", String(tab.dataset.tab === name)));
    this.render();
    const narrow = this.root.dataset.layout === "narrow";
    if (narrow && this.drawing.node.getBoundingClientRect().bottom > this.latest.getBoundingClientRect().top + 1) {
      this.latest.scrollIntoView(); // the panel begins below the drawing, however far the one before was scrolled
    }
    if (quietly) return;
    if (name === "join") this.join.focus();
    if (name === "power") this.trial.switch.focus();
    if (name === "hand in") this.handIn.focus();
    if (name === "wires") this.wires.focus();
  }

  /** Write the label of a terminal's last wire, or of the wire that was joined or picked last. */
  toLabel() {
    const at = this.join.standing ?? this.drawing.standing.point;
    const { wires } = this.hands.history.now;
    const wire = (at && wires.findLast(({ a, b }) => a === at || b === at)?.name) ?? this.wire ?? wires.at(-1)?.name;
    if (!wire) return this.say("No wire to label yet.");
    this.turn("wires", { quietly: true });
    return this.wires.write(wire);
  }

  keyed(event) {
    const key = keyOf(event);
    if (event.key === "Escape" && event.target.closest(".wire-list")) {
      event.preventDefault();
      this.turn("join");
      return;
    }
    if (!key || this.desk.hidden) return;
    const here = this.join.standing;
    const { point, part } = this.drawing.standing;
    const probe = { 1: "first", 2: "second" }[key];
    const keys = {
      u: () => this.hands.undo(),
      U: () => this.hands.redo(),
      l: () => this.toLabel(),
      t: () => this.turn("join"),
      d: () => this.drawing.focus(),
      h: () => this.turn("hand in"),
      p: () => {
        this.turn("power");
        return this.power(!this.view.powered);
      },
      m: () => this.turn("power"),
      "?": () => help(this.root, TABLE_KEYS),
    };
    if (this.trying) {
      keys.f = () => this.set({ fn: FUNCTIONS[(FUNCTIONS.indexOf(this.fn) + 1) % FUNCTIONS.length], fresh: undefined });
      keys.r = () => this.read();
      keys.w = () => this.acts.wait(60);
      if (probe && this.point) keys[key] = () => this.put(probe, this.point);
    } else keys.j = () => this.hands.joinFrom(here ?? point);
    if (point || part) {
      for (const arrow of ARROWS) keys[arrow] = () => this.drawing.walk(arrow);
      const picked = () => (this.trying ? this.probe(point) : this.hands.pick(point));
      keys[" "] = () => (point ? picked() : this.set({ part }));
      keys.Enter = keys[" "];
    }
    if (here) {
      for (const arrow of ARROWS) keys[arrow] = () => this.join.walk(arrow);
      keys[" "] = () => this.hands.pick(here);
      keys.Enter = keys[" "];
    }
    if (!keys[key]) return;
    event.preventDefault();
    event.stopPropagation();
    keys[key]();
  }

  // Showing.

  render() {
    if (!this.view) return;
    const { view, brief, names, probes, due, fn, turns, fresh, point, part, ends, end, wire, clamped, terminals, lit, trying } = this;
    const wiring = this.sound;
    const shown = {
      "join": [this.join.node, this.join.bar],
      "wires": [this.wires.node],
      "power": [this.meter.node, this.trial.node],
      "hand in": [this.handIn.node],
    };
    for (const [name, nodes] of Object.entries(shown)) for (const node of nodes) node.hidden = name !== this.root.dataset.tab;
    this.acts.node.hidden = !trying;
    this.clock.textContent = timeWords(view.clock);
    const bench = { view, brief, names, probes, due, fn, turns, fresh, point, part, wire: clamped, closed: false };
    const joinable = { ...view, points: terminals.map(({ name }) => name), lifted: [] };
    const clamping = trying && fn === "clamp";
    if (trying) this.drawing.update({ ...bench, clamping });
    else this.drawing.update({ ...bench, view: joinable, probes: ends, ends: true, due: end, marked: wire, clamping: false });
    this.drawing.svg?.classList.toggle("wiring", !trying);
    this.join.update({ names, terminals, wiring, ends, due: end, pair: this.hands.pairWords() });
    this.wires.update({ wiring, names, wire });
    this.meter.update(bench);
    this.acts.update(bench);
    this.trial.update({ view, names, light: lit });
    this.handIn.update(view);
    this.undoing.setAttribute("aria-disabled", String(!this.hands.history.past.length));
    this.redoing.setAttribute("aria-disabled", String(!this.hands.history.future.length));
    if (!this.latest.textContent) this.latest.textContent = wiring.wires.length ? this.hands.countWords() : BEGUN;
  }

  work(on) {
    clearTimeout(this.slow);
    this.root.setAttribute("aria-busy", String(on));
    this.status.textContent = "";
    if (on) this.slow = setTimeout(() => (this.status.textContent = "Working …"), 400);
  }

  silence() {
    const panels = [this.join, this.wires, this.trial, this.meter, this.handIn];
    for (const problem of [...panels.map((panel) => panel.problem), ...this.acts.problems]) problem.textContent = "";
  }

  lay() {
    const layout = this.root.clientWidth >= SIDE_BY_SIDE ? "wide" : "narrow";
    if (this.root.dataset.layout !== layout) this.root.dataset.layout = layout;
  }

  destroy() {
    clearTimeout(this.slow);
    this.labPart?.destroy();
    this.sized.disconnect();
    this.drawing.destroy();
    this.root.remove();
  }
}
