// Which keys the bench answers to, and the list of them.

import { button, make } from "./bench-elements.mjs";

export const ARROWS = ["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown", "Home", "End"];
const KEYS = [
  ["← →", "walk the parts; on a test point, walk that part's points"],
  ["↓ ↑", "go down to a part's test points, and back up"],
  ["1 2", "put the first or second probe on the point you stand on"],
  ["space", "put the probe that is due there; the ringed probe in the meter is due"],
  ["r or Enter", "take the reading"],
  ["f", "next meter function"],
  ["w", "wait one minute"],
  ["d", "go to the drawing"],
  ["h", "go to hands and senses: calls, leads, what is seen at a part"],
  ["t", "go to tools and parts"],
  ["e", "go to the end of the visit: how the house stands, stop, hand over"],
  ["l", "go to the log; space ticks a proving reading"],
  ["v", "go to the verdict"],
  ["?", "this list"],
];

/** The key of an event that is meant for the bench; undefined while somebody types, or with a modifier held. */
export function keyOf({ target, key, ctrlKey, metaKey, altKey }) {
  const typing = target.closest("textarea, select, dialog, input:not([type=checkbox], [type=radio])");
  return typing || ctrlKey || metaKey || altKey ? undefined : key;
}

/** Show a list of keys, the bench's unless another is given, in a dialog. */
export function help(root, list = KEYS) {
  const close = button("Close", () => dialog.close(), { class: "primary" });
  const shown = (each) => (each === "or" ? " or " : make("kbd", { text: each }));
  const rows = list.flatMap(([keys, words]) => [make("dt", {}, ...keys.split(" ").map(shown)), make("dd", { text: words })]);
  const heading = make("p", { class: "question", text: "Keys" });
  const dialog = make("dialog", { class: "ask help", "aria-label": "Keys" }, heading, make("dl", {}, ...rows), close);
  dialog.addEventListener("close", () => dialog.remove());
  root.append(dialog);
  dialog.showModal();
  close.focus();
}
