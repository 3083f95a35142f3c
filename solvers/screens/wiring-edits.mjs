// A learner's wiring as data: joined, spliced, taken off, and any number of steps back. What it does is Python's to say.

export const NOTHING = { format: "call-for-heat wiring 1", splices: [], wires: [] };

/** The first of "wire 1", "wire 2" and so on that nothing is called yet. */
function free(word, wiring) {
  const taken = new Set([...wiring.wires, ...wiring.splices].map(({ name }) => name));
  let number = 1;
  while (taken.has(`${word} ${number}`)) number += 1;
  return `${word} ${number}`;
}

/** The same wiring with one conductor more: {a, b, gauge, colour, label, feet}. */
export const joined = (wiring, conductor) => ({
  ...wiring,
  wires: [...wiring.wires, { name: free("wire", wiring), ...conductor }],
});

/** The same wiring with one splice more. */
export const spliced = (wiring, ways) => ({
  ...wiring,
  splices: [...wiring.splices, { name: free("splice", wiring), ways }],
});

export const without = (wiring, wire) => ({ ...wiring, wires: wiring.wires.filter(({ name }) => name !== wire) });

/** The same wiring with fields of one conductor changed. */
export const rewritten = (wiring, wire, change) => ({
  ...wiring,
  wires: wiring.wires.map((each) => (each.name === wire ? { ...each, ...change } : each)),
});

const isOn = (splice, terminal) => terminal.startsWith(`${splice}.`) && !terminal.slice(splice.length + 1).includes(".");

/** The conductors that end at a splice. */
export const atSplice = (wiring, splice) => wiring.wires.filter(({ a, b }) => isOn(splice, a) || isOn(splice, b));

export const withoutSplice = (wiring, splice) => ({
  ...wiring,
  splices: wiring.splices.filter(({ name }) => name !== splice),
});

/** The same wiring with a splice under another name; its conductors go with it. */
export const renamedSplice = (wiring, splice, name) => {
  const moved = (terminal) => (isOn(splice, terminal) ? `${name}${terminal.slice(splice.length)}` : terminal);
  return {
    ...wiring,
    splices: wiring.splices.map((each) => (each.name === splice ? { ...each, name } : each)),
    wires: wiring.wires.map((each) => ({ ...each, a: moved(each.a), b: moved(each.b) })),
  };
};

export const wiringText = (wiring) => `${JSON.stringify(wiring, undefined, 1)}\n`;

/** The wirings so far, with the one that lies on the table now. */
export class History {
  constructor(now = NOTHING) {
    this.begin(now);
  }

  begin(now) {
    [this.now, this.past, this.future] = [now, [], []];
  }

  put(wiring) {
    this.past.push(this.now);
    this.now = wiring;
    this.future = [];
  }

  /** Take the last step back and forget it: it was refused. */
  refuse() {
    this.now = this.past.pop() ?? this.now;
  }

  undo() {
    if (!this.past.length) return false;
    this.future.push(this.now);
    this.now = this.past.pop();
    return true;
  }

  redo() {
    if (!this.future.length) return false;
    this.past.push(this.now);
    this.now = this.future.pop();
    return true;
  }
}
