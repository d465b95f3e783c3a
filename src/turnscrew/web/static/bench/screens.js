// What each screen shows and which keys it has. What is pressed is heard in app.js.

import { drawing, h, placeOf } from "./draw.js";
import { foundBy, stateOf } from "./fold.js";
import { cautionsOf, lastJoint, trayOf } from "./recording.js";
import { allOf, asIs, says } from "./words.js";

const key = (label, name, hint, isFirst) => ({ label, name, hint, isFirst });

export const DONE_KEYS = {
  done: [key("Done", "done", "Space", true), key("Undo", "undo", "Backspace")],
  look: [key("Yes, so", "done", "Space", true), key("Undo", "undo", "Backspace"), key("Not so", "no", "N")],
  count: [key("Empty", "done", "Space", true), key("Undo", "undo", "Backspace"), key("Some left", "no", "N")],
  test: [key("Passed", "done", "Space", true), key("Undo", "undo", "Backspace"), key("Failed", "no", "N")],
  number: [key("Enter it", "done", "Space", true), key("Undo", "undo", "Backspace")],
  close: [key("Closed", "done", "Space", true), key("Undo", "undo", "Backspace")],
};

export function band(job, line, app) {
  const place = placeOf(job);
  return h("header", { class: "band" },
    h("span", { class: `hatch p${place.n}`, "aria-hidden": "true" }),
    h("span", { class: "line" }, `${job.line}`),
    h("span", {}, app.isHere(job) || !place.n ? `${place.shape}${place.n || ""} tray ${place.tray || "–"}` : job.place),
    h("span", { class: "serial" }, asIs(job.serial || job.asset || job.number)),
    h("span", { class: "stop" }, stopWords(line, job, app.run(job))));
}

export function stopWords(line, job, run) {
  if (!line && job?.is_open) return run?.status === "impossible" ? "no safe stop yet" : "";
  if (!line) return "shut";
  if (line.to_stop === 0) return "safe stop";
  if (line.to_stop === null) return "no safe stop yet";
  return `${line.to_stop} more to a safe stop`;
}

export function work(app, job, run) {
  const state = stateOf(run, app.strokes(job));
  const line = run.lines[state.at];
  if (!line) return finished(app, job, run);
  const slip = lastSlip(state, line);
  const danger = foundBy(line, state) ? line.if_found : [];
  const isReading = app.isReading(line);
  return {
    line,
    body: h("section", { class: "body", "data-level": "0" },
      isReading ? reading(line, app) : sentences(line, slip, danger, app),
      isReading ? null : drawn(run, line, app)),
    band: band(job, line, app),
    count: counts(state, line, job),
    keys: isReading
      ? [key("Read it", "done", "Space", true), key("Undo", "undo", "Backspace")]
      : [...keysOf(line, state, app), ...fourth(line)],
    says: [line.says, ...line.points],
  };
}

function keysOf(line, state, app) {
  const keys = DONE_KEYS[line.asks] || DONE_KEYS.done;
  if (foundBy(line, state))
    return [key("The way to it", "fault", "F", true), keys[1], ...(line.if_found.length ? [] : [keys[0]])];
  // What is soon covered is shown once more.
  if (line.wants_photo && !app.photoOf(app.job(), line))
    return [key("Yes, photo", "done", "Space", true), ...keys.slice(1)];
  const isLeft = line.asks === "count" && lastOf(state, line)?.facts.left;
  // What is left over has to be told of before the compartment can be empty.
  return isLeft ? [key("Say what", "no", "N", true), key("Undo", "undo", "Backspace")] : keys;
}

const fourth = (line) =>
  line.moves ? [key("Differs", "differs", "N"), key("More", "more", "U")] : [key("More", "more", "U")];

const MOST_LETTERS_A_PAGE = 200;
const LETTERS_A_SQUARE = 0.53; // of one letter's size; measured at 1280 by 800

function lettersAPage() {
  const type = parseFloat(getComputedStyle(document.body).fontSize);
  return Math.min(MOST_LETTERS_A_PAGE, (LETTERS_A_SQUARE * innerWidth * innerHeight) / type ** 2);
}

// What does not fit beside the working line is read before it, some at a time.
function pagesOf(sentences) {
  const most = lettersAPage();
  const pages = [];
  for (const one of sentences) {
    const last = pages[pages.length - 1];
    if (last && last.join(" ").length + one.length <= most) last.push(one);
    else pages.push([one]);
  }
  return pages;
}

// All there is to know of a line, its cautions first.
function toKnow(line) {
  return [...line.cautions, line.why && `Why: ${line.why}.`, ...line.details, line.renew && `Renew ${line.renew}.`]
    .filter(Boolean);
}

function reading(line, app) {
  const pages = pagesOf(app.details === app.mark(line) ? toKnow(line) : line.cautions);
  const page = pages[app.readPage] || [];
  // What was shown is what was read: the count is not made anew at the press.
  app.nPages = pages.length;
  const cautions = page.filter((one) => line.cautions.includes(one));
  return h("div", { class: "text" },
    h("p", {}, `Before ${line.name}${pages.length > 1 ? `, ${app.readPage + 1} of ${pages.length}` : ""}:`),
    flowing("caution", cautions),
    page.filter((one) => !cautions.includes(one)).map((one) => h("p", {}, one)));
}

function flowing(kind, sentences) {
  const words = sentences.filter(Boolean);
  return words.length ? h("p", { class: kind }, asIs(allOf(words))) : null;
}

function sentences(line, slip, danger, app) {
  const isRead = app.cautionsRead === app.mark(line);
  const tool = line.tool && `With ${line.tool}.`;
  return h("div", { class: "text" },
    flowing("caution", [app.job().stop, ...danger]),
    slip && h("p", { class: "caution" }, slip),
    h("p", { class: "working" }, workingLine(line)),
    line.points.length > 1 ? line.points.map((one) => h("p", { class: "point" }, one)) : null,
    isRead ? recall(line, app, `Cautions again (${line.cautions.length})`) : flowing("caution", line.cautions),
    flowing("caution", [
      line.sign_off && `Only with the sign-off of: ${line.sign_off}.`,
      line.second_look && "Another person looks: scan their card.",
    ]),
    flowing("how", [tool, line.renew && `Renew ${line.renew}.`]),
    flowing("detail", line.details),
    line.details.length && !isRead ? recall(line, app, "More to know", "rest") : null);
}

// Where words are short of room the key to more of them stands below the drawing.
function drawn(run, line, app) {
  const picture = drawing(run, line);
  if (!picture || !line.details.length || app.cautionsRead === app.mark(line)) return picture;
  picture.className = "picture";
  return h("div", { class: "drawing" }, picture, recall(line, app, "More to know", "rest"));
}

const recall = (line, app, words, kind = "") =>
  h("button", { type: "button", class: `recall ${kind}`, "data-name": "next", do: () => app.hear({ name: "next" }) }, words);

function workingLine(line) {
  if (line.points.length === 1) return asIs(allOf([line.says, line.points[0]]));
  return line.letter ? asIs(`${line.letter}: ${says(line.says)}`) : line.says;
}

function lastOf(state, line) {
  const last = state.held[state.held.length - 1];
  return last && last.line === line.number ? last : null;
}

// A look without what is looked at says nothing.
export function inWords(line) {
  return asIs(line.asks === "look" ? allOf(["Look:", ...line.points]) : says(line.says));
}

function lastSlip(state, line) {
  const last = lastOf(state, line);
  if (!last) return "";
  if (last.facts.what === "asked") return "Asked somebody: noted, so that the description can say it.";
  if (last.act === "differs")
    return `${last.facts.n} ${last.facts.what}${last.facts.place ? ` at ${last.facts.place}` : ""}: noted.`;
  if (last.facts.left) return `${last.facts.left} left in ${last.facts.letter}: say what becomes of it.`;
  if (foundBy(line, state))
    return line.if_found.length
      ? "Stop: found and written. Ask for the way to it, or close it up; no power until then."
      : "Found and written. Ask for the way to it, or put it right, then look again.";
  if (last.facts.answer === "no") return "Not right yet: put it right, then look again.";
  if (last.facts.answer === "failed") return "Failed: put it right and test again, or More: second fault.";
  return "";
}

export function counts(state, line, job) {
  const tray = Object.entries(state.tray).map(([letter, n]) => `${letter} ${n}`).join("  ");
  return h("footer", { class: "count" },
    h("span", {}, `Tray ${tray || "empty"}`),
    h("span", {}, `off ${line.n_off}`),
    h("span", {}, `apart ${line.n_unplugged}`),
    line.n_aside ? h("span", {}, `aside ${line.n_aside}`) : null,
    h("span", { class: "power" }, job.stop ? "May run: no, see above." : line.power));
}

function finished(app, job, run) {
  if (run.status === "impossible")
    return plain(band(job, null, app), "There is no way as it lies.",
      [run.reason, "More: another way, or close it up."], [key("Home", "home", "Esc"), key("More", "more", "U")]);
  return plain(band(job, null, app), "All done for this device.",
    [`${job.state}. Press Home and choose the next.`,
      "Take it to where finished devices stand. What goes back with it stands on its page at the counter.",
      job.run.rushed_s !== null && `Rushed: all final tests were answered in ${Math.round(job.run.rushed_s)} s. A lead looks into it.`],
    [key("Home", "home", "Esc", true), key("Undo", "undo", "Backspace"), key("More", "more", "U")]);
}

export function plain(top, title, words, keys) {
  return {
    band: top,
    body: h("section", { class: "body", "data-level": "0" },
      h("div", { class: "text" }, h("p", { class: "working" }, title),
        words.filter(Boolean).map((one) => h("p", {}, one)))),
    keys, says: title,
  };
}

export function home(app) {
  const open = app.openHere();
  const ready = app.sender.state.ready.length;
  const late = app.sender.state.ready.filter((job) => job.is_late).length;
  return {
    band: h("header", { class: "band" },
      h("span", { class: "line" }, app.settings.bench ? asIs(app.settings.bench) : "Bench without a name"),
      h("span", { class: "stop" }, app.sender.state.person ? asIs(app.sender.state.person.name) : "nobody signed in")),
    body: h("section", { class: "body tiles" }, open.length
      ? open.map((job) => tile(app, job))
      : h("p", { class: "working" }, "No device is open here. Scan one to begin.")),
    count: h("footer", { class: "count" },
      h("span", {}, `${ready} ready to open`),
      late ? h("span", {}, `${late} late`) : null,
      ...app.sender.others().map(([who, n]) =>
        h("span", {}, `Kept here until ${app.nameOf(who)} signs in: ${n}`)),
      h("span", {}, "Scan a device, or press its place number.")),
    keys: [key("More", "more", "U")],
    says: "Which device?",
  };
}

function tile(app, job) {
  const place = placeOf(job);
  const run = app.run(job);
  const state = run && job.run.kind === "path" ? stateOf(run, app.strokes(job)) : null;
  const line = state && run.lines[state.at];
  const next = line ? inWords(line) : endWords(job, run);
  return h("button", { type: "button", class: "tile", do: () => app.choose(job.ref) },
    h("span", {}, app.isHere(job) || !place.n ? `${place.n || "–"} ${place.shape}` : job.place),
    h("span", { class: `hatch p${place.n}`, "aria-hidden": "true" }),
    h("span", {}, `${job.line}`),
    h("span", { class: "next" }, next),
    h("span", {}, job.is_late ? "late" : stopWords(line, job, run)));
}

function endWords(job, run) {
  if (job.run?.kind === "recording") return "Go on recording";
  return run?.status === "impossible" ? "There is no way as it lies." : "All done";
}

export function back(app, job, run) {
  const state = stateOf(run, app.strokes(job));
  const last = state.held[state.held.length - 1];
  const line = run.lines[state.at];
  const doneLine = last && run.lines[last.line];
  return {
    line,
    band: band(job, line, app),
    body: h("section", { class: "body", "data-level": "0" },
      h("div", { class: "text" },
        flowing("caution", [job.stop]),
        h("p", {}, "Last done:"),
        h("p", { class: "working" }, doneLine ? told(doneLine, last) : "nothing yet"),
        h("p", {}, "Look at the device: is that so?"),
        h("p", {}, "Then next:"),
        h("p", { class: "working" }, line ? inWords(line) : "All done.")),
      doneLine ? drawing(run, doneLine) : null),
    count: line ? counts(state, line, job) : null,
    keys: [key("It is so", "done", "Space", true), key("No, take it back", "undo", "Backspace"), key("Home", "home", "Esc")],
    says: `Device ${job.line}. Last done: ${doneLine ? doneLine.says : "nothing yet"}`,
  };
}

const told = (line, stroke) =>
  stroke.facts.answer ? [inWords(line), " ", stroke.facts.answer] : inWords(line);

const behind = (from, next) =>
  `Here the next one is line ${next}, elsewhere line ${from}. What lies between is lost, as after a restore. Set this aside and tell it again by hand.`;

export function accounts(app, job, run) {
  const mine = stateOf(run, app.strokes(job)).held;
  const from = Math.min(...job.run.disputed.map((one) => one.line));
  // Told of a path that is no longer worked on: looked at, and set aside.
  const isOld = job.run.disputed.every((one) => one.run !== job.run.ref);
  // What came before it here is lost, as after a restore, so it would always be refused.
  const next = stateOf(run, mine.filter((one) => one.line < from)).at;
  const isBehind = !isOld && job.run.kind !== "recording" && next < from;
  const side = (title, strokes) => h("div", {},
    h("p", { class: "working" }, title),
    strokes.slice(0, 5).map((one) => h("p", {},
      one.says || run.lines[one.line]?.says || "", " ", one.facts.answer || one.facts.what || one.act,
      asIs(`, ${one.by || ""} ${one.bench || ""}`))));
  return {
    band: band(job, null, app),
    body: h("section", { class: "body" }, h("div", { class: "accounts" },
      isBehind ? h("div", {}, h("p", {}, behind(from + 1, next + 1)))
        : side(isOld ? "Written now:" : "Written first:", isOld ? mine.slice(-5) : mine.filter((one) => one.line >= from)),
      side("Told elsewhere:", job.run.disputed))),
    keys: isOld || isBehind
      ? [key("Looked: set aside", "yes", "Y", true), key("Home", "home", "Esc")]
      : [key("The first holds", "yes", "Y", true), key("The other holds", "no", "N"), key("Home", "home", "Esc")],
    says: isBehind ? behind(from + 1, next + 1) : "Two accounts of one device do not agree. Look at it: which holds?",
  };
}

export function diagnosis(app, job) {
  const told = app.diagnosis;
  const next = told.next;
  return {
    band: band(job, null, app),
    body: h("section", { class: "body", "data-level": "0" }, h("div", { class: "text" },
      h("p", { class: "working" }, `Next: ${next.says}`),
      next.how && h("p", {}, next.how),
      next.opens.length ? h("p", {}, `Open for it: ${next.opens.join(", ")}.`) : null,
      next.cautions.map((one) => h("p", { class: "caution" }, one)),
      next.known_good.map((one) => h("p", {}, `Known good: ${one}`)),
      next.minutes ? h("p", {}, asIs(allOf([`Takes about ${next.minutes} min.`, told.is_guess && "A guess: no history yet."]))) : null,
      next.why.slice(0, 2).map((one) => h("p", { class: "detail" }, one)),
      told.likely.length ? h("p", { class: "detail" }, `Likely: ${told.likely.join("; ")}`) : null,
      told.known.map((one) => h("p", { class: "detail" }, one)))),
    keys: [
      ...(next.answers.length || next.unit ? [key("Answer", "done", "Space", true)] : []),
      ...(next.without.length ? [key("No answer", "more", "U")] : []),
      key("Fault found", "fault", "F"), key("Home", "home", "Esc")],
    says: `Next: ${next.says}`,
  };
}

export function recording(app, job, records, known) {
  const last = records[records.length - 1];
  const next = known[0];
  const count = next && next.n > 1 ? ` × ${next.n}` : "";
  const first = next ? `As last time: ${next.name}${count}${next.removal === "part" ? " off" : ""}.` : "";
  const like = lastJoint(records);
  const isJoint = last?.removal === "joint";
  const doneKey = next || like ? key(next ? "Done, as said" : "Done, like it", "done", "Space", true) : null;
  return {
    band: band(job, null, app),
    body: h("section", { class: "body", "data-level": "0" }, h("div", { class: "text" },
      h("p", { class: "working" }, first || (last ? `Last: ${last.words}` : "Recording: undo the first joint, then say what it was.")),
      first && last ? h("p", {}, `Last: ${last.words}`) : null,
      !first && isJoint ? h("p", {}, "Done: one more joint like it. Three more: three more pieces of this one.") : null,
      !first && like && !isJoint ? h("p", {}, `Done: one more joint like ${like.name}.`) : null,
      flowing("caution", [job.stop, ...cautionsOf(records)].filter(Boolean)),
      h("p", {}, asIs(allOf([`${records.length} recorded.`, app.layerPhoto(records)]))))),
    count: h("footer", { class: "count" },
      h("span", {}, `Tray ${trayOf(records) || "empty"}`),
      h("span", {}, `off ${records.filter((one) => one.removal === "part").length}`),
      h("span", { class: "power" }, "May run: no: nobody has described it yet.")),
    keys: last || next
      ? [doneKey, key("Undo", "undo", "Backspace"), isJoint && key("Three more", "3more", "+"), key("More", "more", "U", !doneKey)].filter(Boolean)
      : [key("What was it?", "more", "U", true)],
    says: first || (last ? last.words : "Recording"),
  };
}
