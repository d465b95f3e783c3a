// A model that nobody has described: what was undone, told with as few presses as can be.

export const JOINTS = [
  "screw", "clip", "socket", "plug", "bond", "latch", "slide", "hook", "pin", "press",
  "seal", "cover", "contact", "lead", "other",
];
export const PARTS = [
  "cover", "board", "battery", "display", "fan", "camera", "speaker", "keys", "door",
  "bracket", "frame", "other",
];

// Every record with what was said of it later, in the order of undoing.
export function recordsOf(strokes) {
  const held = [];
  for (const stroke of strokes) {
    if (stroke.act === "undo") held.pop();
    else held.push(stroke);
  }
  const records = [];
  for (const { facts } of held) {
    if (!facts.of) {
      records.push({ ...facts, n: facts.n || 1 });
      continue;
    }
    const record = records.find((one) => one.name === facts.of);
    if (!record) continue;
    if (facts.more) record.n += facts.more;
    for (const [name, value] of Object.entries(facts))
      if (name !== "of" && name !== "more") record[name] = value;
  }
  for (const record of records) record.words = wordsOf(record);
  return records;
}

export const lastJoint = (records) => records.filter((one) => one.removal === "joint").pop();

function wordsOf(record) {
  if (record.removal === "turn") return "turned over";
  const count = record.n > 1 ? ` × ${record.n}` : "";
  const length = record.length_mm ? `, ${record.length_mm} mm` : "";
  const drive = record.drive ? `, ${record.drive}` : "";
  return `${record.name}${count}${length}${drive}${record.removal === "part" ? " off" : ""}`;
}

// Names are made, never typed: kind and number, and none that is known already.
export function nameFor(run, records, removal, kind) {
  const taken = new Set([...(run?.known || []), ...records].map((one) => one.name));
  const word = removal === "joint" ? `${kind} joint` : kind;
  let n = records.filter((one) => one.removal === removal && one.kind === kind).length + 1;
  while (taken.has(`${word} ${n}`)) n += 1;
  return `${word} ${n}`;
}

// What the model was said to have last time, and is still to be undone, in that order.
export function stillKnown(run, records) {
  const done = new Set(records.map((one) => one.name));
  return (run.known || []).filter((one) => !done.has(one.name));
}

// Without I and O, which look like digits, and H and Z, which name drivers.
const LETTERS = "ABCDEFGJKLMNPQRSTUVWXY";
const LOOSE = ["screw", "nut", "pin", "cover"];

// Compartments as the way back will name them: a letter for each joint, in turn.
export function trayOf(records) {
  return records
    .filter((one) => one.removal === "joint")
    .map((one, index) => ({ ...one, letter: letterOf(index) }))
    .filter((one) => LOOSE.includes(one.kind))
    .map((one) => `${one.letter} ${one.n}`)
    .join("  ");
}

function letterOf(index) {
  const round = Math.floor(index / LETTERS.length);
  return (round ? LETTERS[round - 1] : "") + LETTERS[index % LETTERS.length];
}

// Nothing is known of it, so the usual cautions stand at the action they belong to.
export function cautionsOf(records) {
  const last = records[records.length - 1];
  if (!records.length)
    return ["Power off, adapter out. Strap on, on the mat. Pack swollen, hot or of unknown state: do not open it here, isolate it."];
  if (last.kind === "battery" || last.kind === "bond")
    return ["Battery pack: do not bend, pierce or heat it; if it is swollen, hot or smells, stop, isolate it and call the lead."];
  if (last.kind === "display") return ["Glass: goggles; do not press on its face."];
  return [];
}

export const DRIVES = [
  "H00", "H0", "H1", "H2", "Z1", "hexalobular 3", "hexalobular 4", "hexalobular 5",
  "hexalobular 5 pin", "hexalobular 6", "three-wing 0", "hexagon 1.5", "slotted 2",
];

// What is asked of one record: once for each kind of screw, and whether a part fits in
// more than one way. Of a model recorded before only what is doubtful is asked.
export function questionsOf(run, record) {
  const known = (run.known || []).some((one) => one.name === record.name);
  if (known)
    return (run.doubts || [])
      .filter((one) => one.of === record.name && one.fact && one.answer !== "name")
      .map((one) => ({ fact: one.fact, kind: one.answer, asks: one.asks, usual: one.usual || "" }));
  if (record.removal === "joint" && record.kind === "screw" && record.length_mm === undefined)
    return [
      { fact: "length_mm", kind: "length_mm", asks: "Lay one on the scale: length under the head, or Enter:" },
      { fact: "drive", kind: "drive", asks: "Which driver?" },
    ];
  if (record.removal === "part" && record.fits_other_way === undefined)
    return [{ fact: "fits_other_way", kind: "yes/no", asks: "Could it go in another way?" }];
  return [];
}
