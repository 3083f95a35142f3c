// Which keys the wiring table answers to.

export const TABLE_KEYS = [
  ["↓ ↑", "walk the list of terminals; on the drawing, go down to a part's terminals and back up"],
  ["← →", "in the list, go to the part before or after; on the drawing, walk the parts"],
  ["j", "hold the terminal you stand on; on the next one, join the two"],
  ["space", "choose the terminal you stand on, or put it back"],
  ["u U", "undo; do it again"],
  ["l", "write the label of the wire at this terminal; Escape goes back to the list"],
  ["t d", "go to the list of terminals; to the drawing"],
  ["p", "power up, or off again"],
  ["m", "go to meter and power"],
  ["1 2", "under power: put the first or second probe on the terminal you stand on"],
  ["f r w", "under power: next meter function; take the reading; wait one minute"],
  ["h", "go to the hand-in"],
  ["?", "this list"],
];
