// Sound, for those who want it: a click, a hum, a beep. Each only repeats what stands in words.

const HEARD = [
  [/\bbeep\b/, "beep"],
  [/\bclicks\b/, "click"],
  [/\bhums?\b|\bboiler starts\b/i, "hum"],
];
const SOUNDS = {
  beep: { type: "sine", hertz: 2300, seconds: 0.35, loud: 0.08 },
  click: { type: "square", hertz: 180, seconds: 0.03, loud: 0.12 },
  hum: { type: "triangle", hertz: 120, seconds: 0.9, loud: 0.12 },
};

export class Sound {
  constructor() {
    this.on = false;
  }

  /** Switch it, tell whether it is on; a browser lets sound begin only from a press. */
  set(on) {
    this.on = on;
    if (on) this.context ??= new AudioContext();
    if (on) this.context.resume();
    return on;
  }

  /** Let a line of the log be heard. */
  play(text) {
    if (!this.on) return;
    let start = this.context.currentTime;
    for (const [words, name] of HEARD) {
      if (!words.test(text)) continue;
      const { type, hertz, seconds, loud } = SOUNDS[name];
      const tone = new OscillatorNode(this.context, { type, frequency: hertz });
      const level = new GainNode(this.context, { gain: loud });
      level.gain.setTargetAtTime(0, start + seconds, 0.02);
      tone.connect(level).connect(this.context.destination);
      tone.start(start);
      tone.stop(start + seconds + 0.2);
      start += seconds + 0.15;
    }
  }
}
