// Which keys the house as found answers to.

export const HOUSE_KEYS = [
  ["← →", "walk the parts; on a test point, walk that part's points"],
  ["↓ ↑", "go down to a part's test points, and back up"],
  ["1 2", "put the first or second probe on the point you stand on"],
  ["space", "put the probe that is due there, or take it up again"],
  ["f", "next meter function"],
  ["r or Enter", "take the reading"],
  ["w", "wait one minute"],
  ["o", "lift the lead at the point you stand on, or land it again"],
  ["d m", "go to the drawing; to the meter and its log"],
  ["n q h", "go to the names; to the questions; to the hand-in"],
  ["?", "this list"],
];
