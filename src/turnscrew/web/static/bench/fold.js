// How far is a device, what is in its tray, and may this be told of it?
// The same rules as on the server, so that a bench without a network keeps them too.

export const TEST_STATES = ["passed", "failed", "not possible", "not applicable"];
export const TAKEN_DIFFERS = ["missing on arrival", "never had one", "stays in", "one more"];
export const REFIT_DIFFERS = ["replaced", "left out", "other length"];
const NOT_TAKEN = TAKEN_DIFFERS.slice(0, 3);
export const LEAVES_TRAY = ["refitted", "replaced", "left out"];

const WAYS = ["undo", "lift", "aside", "make", "lay in", "bring back"];
const NUMBER = /^[+-]?(\d{1,9}(\.\d{0,9})?|\.\d{1,9})$/;

const number = (stroke, name) =>
  Number.isInteger(stroke.facts[name]) ? stroke.facts[name] : 0;
const word = (stroke, name) =>
  typeof stroke.facts[name] === "string" ? stroke.facts[name] : "";

export function isSlip(stroke) {
  if (stroke.act !== "answer") return false;
  return ["no", "failed"].includes(word(stroke, "answer")) || number(stroke, "left") > 0;
}

export function goesOn(stroke) {
  if (stroke.act === "done" || stroke.act === "skip") return true;
  return stroke.act === "answer" && !isSlip(stroke);
}

export function heldOf(strokes) {
  const held = [];
  for (const stroke of strokes) {
    if (stroke.act === "undo") held.pop();
    else held.push(stroke);
  }
  return held;
}

export function stateOf(run, strokes) {
  const held = heldOf(strokes);
  const state = { at: 0, tray: { ...run.tray }, held: [], nSkipped: 0 };
  for (const stroke of held) {
    const line = run.lines[stroke.line];
    for (const [letter, n] of Object.entries(pieceMoves(line, state, stroke))) {
      state.tray[letter] = (state.tray[letter] || 0) + n;
      if (!state.tray[letter]) delete state.tray[letter];
    }
    if (goesOn(stroke)) state.at = stroke.line + 1;
    state.nSkipped += stroke.act === "skip" ? 1 : 0;
    state.held.push(stroke);
  }
  return state;
}

export function pieceMoves(line, state, stroke) {
  const there = (letter) => state.tray[letter] || 0;
  if (stroke.act === "done" && line.moves === "taken")
    return { [line.letter]: nToTake(line, state) };
  if (stroke.act === "done" && line.moves === "refitted")
    return { [line.letter]: -there(line.letter) };
  if (stroke.act === "answer" && line.asks === "count" && number(stroke, "left")) {
    const letter = word(stroke, "letter");
    return { [letter]: number(stroke, "left") - there(letter) };
  }
  if (stroke.act === "differs" && LEAVES_TRAY.includes(word(stroke, "what")))
    return { [word(stroke, "letter") || line.letter]: -number(stroke, "n") };
  return {};
}

export function nToTake(line, state) {
  let n = line.n;
  for (const stroke of state.held) {
    if (stroke.act !== "differs" || stroke.line !== line.number) continue;
    if (NOT_TAKEN.includes(word(stroke, "what"))) n -= number(stroke, "n");
    if (word(stroke, "what") === "one more") n += number(stroke, "n");
  }
  return n;
}

export function refusal(run, state, stroke, by) {
  if (stroke.act === "undo") {
    if (!state.held.length)
      return "undo: found nothing done in this path, wanted something to take back";
    const last = state.held[state.held.length - 1].line;
    return stroke.line === last
      ? ""
      : `undo: found line ${stroke.line + 1}, wanted the last one, ${last + 1}`;
  }
  const isDone = state.at >= run.lines.length;
  if (stroke.line !== state.at || isDone) {
    const wanted = isDone ? "none: all done" : `line ${state.at + 1}`;
    return `line: found line ${stroke.line + 1}, wanted ${wanted}`;
  }
  const line = run.lines[stroke.line];
  const check = { done, answer, differs, skip }[stroke.act];
  return foundAt(line, state, stroke) || check(line, state, stroke) || secondLook(line, stroke, by);
}

// The stroke by which a fault was found at this very line, if it is the last one.
export function foundBy(line, state) {
  const last = state.held[state.held.length - 1];
  return line.found && last?.line === line.number && isSlip(last) ? last : null;
}

// Nothing goes on past a danger that was found, until a path knows of it.
function foundAt(line, state, stroke) {
  if (!line.if_found?.length || !foundBy(line, state) || !goesOn(stroke)) return "";
  return "found: found a danger at this line, wanted a new path for it, or Undo";
}

function done(line, state) {
  if (line.asks === "close") {
    const left = Object.entries(state.tray).map(([letter, n]) => `${n} in ${letter}`);
    return left.length
      ? `tray: found ${left.join(", ")}, wanted none before it is closed`
      : "";
  }
  return line.asks === "done"
    ? ""
    : `answer: found done alone, wanted the answer to this ${line.asks}`;
}

function answer(line, state, stroke) {
  const told = word(stroke, "answer");
  if (line.asks === "look") return among("answer", told, ["yes", "no"]) || photo(line, stroke, told);
  if (line.asks === "count") return count(line, state, stroke);
  if (line.asks === "test") return test(line, stroke, told);
  if (line.asks === "number") return measured(line, word(stroke, "value"));
  return `answer: found ${told || "one"}, wanted done: this line asks nothing`;
}

function measured(line, value) {
  if (!NUMBER.test(value)) return `value: found ${value}, wanted a number of ${line.unit}`;
  // Of a whole there is no more than all, whatever was agreed.
  const isPart = line.unit !== "%" || (Number(value) >= 0 && Number(value) <= 100);
  return isPart ? "" : `value: found ${value}, wanted 0 to 100 %`;
}

function photo(line, stroke, told) {
  if (!line.wants_photo || told !== "yes" || word(stroke, "photo") || stroke.facts.signed === true)
    return "";
  return "photo: found none, wanted one before it is covered, or signed for instead";
}

function count(line, state, stroke) {
  const left = stroke.facts.left;
  if (!Number.isInteger(left) || left < 0 || left > 500)
    return `left: found ${left}, wanted the number of pieces left`;
  if (left) return among("compartment", word(stroke, "letter"), line.compartments);
  const written = line.compartments
    .filter((letter) => state.tray[letter])
    .map((letter) => `${state.tray[letter]} in ${letter}`);
  return written.length
    ? `left: found 0, wanted what became of ${written.join(", ")}`
    : "";
}

function test(line, stroke, told) {
  const wrong = among("answer", told, TEST_STATES);
  if (wrong) return wrong;
  if (told === "passed" && !line.may_power)
    return `power: found a test, wanted: ${line.power}`;
  if (!told.startsWith("not ")) return "";
  return word(stroke, "reason").trim() ? "" : "reason: found none, wanted why";
}

function differs(line, state, stroke) {
  const what = word(stroke, "what");
  const n = number(stroke, "n");
  if (what === "asked") return "";
  if (what === "found loose")
    return n >= 1 && n <= 500 ? "" : `n: found ${n}, wanted 1 or more`;
  if (!line.moves && line.asks !== "count")
    return "line: found one without loose pieces, wanted one that takes or refits";
  let known = TAKEN_DIFFERS;
  let most = what === "one more" ? 500 : nToTake(line, state);
  if (line.moves !== "taken") {
    known = line.moves ? REFIT_DIFFERS : [...LEAVES_TRAY, "other length"];
    most = state.tray[word(stroke, "letter") || line.letter] || 0;
  }
  const wrong = among("what", what, known);
  if (wrong) return wrong;
  if (n < 1 || n > most) return `n: found ${n}, wanted 1 to ${most}`;
  return what === "left out" && !word(stroke, "reason").trim()
    ? "reason: found none, wanted why it is left out"
    : "";
}

function skip(line, state, stroke) {
  if (line.asks === "close")
    return "skip: found the closing itself, wanted it done: nobody skips that";
  if (line.moves || WAYS.includes(line.does))
    return "skip: found an action of the path, wanted it done or a new path";
  if (line.frees)
    return "skip: found what lets it be powered again, wanted it done or a new path";
  return word(stroke, "reason").trim() ? "" : "reason: found none, wanted why";
}

function secondLook(line, stroke, by) {
  if (!line.second_look || stroke.act !== "answer") return "";
  const other = word(stroke, "other");
  if (other && other !== by) return "";
  const found = other ? "the same one" : "nobody";
  return `second look: found ${found}, wanted another person than who refitted it`;
}

function among(where, found, wanted) {
  return wanted.includes(found)
    ? ""
    : `${where}: found ${found || "none"}, wanted ${wanted.join(", ")}`;
}
