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

function wordsOf(record) {
  if (record.removal === "turn") return "turned over";
  const count = record.n > 1 ? ` × ${record.n}` : "";
  const length = record.length_mm ? `, ${record.length_mm} mm` : "";
  return `${record.name}${count}${length}${record.removal === "part" ? " off" : ""}`;
}

// Names are made, never typed: kind and number.
export function nameFor(records, removal, kind) {
  const n = records.filter((one) => one.removal === removal && one.kind === kind).length;
  return removal === "joint" ? `${kind} joint ${n + 1}` : `${kind} ${n + 1}`;
}

// What is asked once for each kind of screw, and for a part: nothing else need be said.
export function questionOf(record) {
  if (record.removal === "joint" && record.kind === "screw" && record.length_mm === undefined)
    return "length";
  if (record.removal === "part" && record.other_way === undefined) return "way";
  return "";
}
