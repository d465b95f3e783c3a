// The bench: which device, which line, and what becomes of every press.

import { Choice, Keypad, SKIP_REASONS } from "./ask.js";
import { drawing, enlargeLetters, h, placeOf } from "./draw.js";
import { applySizes, fit, squeeze } from "./fit.js";
import { foundBy, refusal, stateOf } from "./fold.js";
import { Input } from "./input.js";
import { keepPhotos, photosKept, settings } from "./keep.js";
import { REFUSED_A_PAGE, WithMore } from "./more.js";
import { WithRecording } from "./recorder.js";
import { recordsOf, stillKnown } from "./recording.js";
import * as screens from "./screens.js";
import { NoAnswer, NoNetwork, OldSeal, Sender } from "./send.js";
import { WithSetup } from "./setup.js";
import * as sound from "./sound.js";
import { isNewer, loadAnew } from "./version.js";
import { allOf, asIs, begin, readAs, speakIn } from "./words.js";

const AWAY_MS = 180_000; // after a break the last action is confirmed first
const SLOW_MS = 1500; // an answer later than this is spoken of
const SLOW = "The records have not answered yet.";
const LATE = "The records answered to what was asked before; what is in hand stays.";
const NEWER = "A newer page is there: it is loaded at Home, once all is sent.";
const BURST_MS = 1200; // presses closer than this may be a glove that rests
// What may be pressed though the page is too small to show the line whole.
const WITHOUT_READING = ["undo", "burst", "home", "more", "stuck", "again", "photo", "park"];

class App extends WithMore(WithRecording(WithSetup(Object))) {
  constructor() {
    super();
    this.root = document.getElementById("bench");
    // Nothing is redrawn under a finger: a key that goes away would lose its press.
    this.sender = new Sender(() => (this.isTouched ? (this.isStale = true) : this.draw()));
    this.sender.wasRefused = () => sound.refused();
    addEventListener("pointerdown", () => (this.isTouched = true), { capture: true });
    for (const end of ["pointerup", "pointercancel"])
      addEventListener(end, () => setTimeout(() => this.letGo(), 50), { capture: true });
    this.screen = "home";
    this.chosen = "";
    this.lastAt = 0;
    this.nTold = 0;
    this.told = "";
    this.refusedWith = null; // framed for as long as it stands, whatever is drawn anew
    // When each was pressed, by a clock that nobody sets.
    this.pressed = new Map();
    this.photos = photosKept();
    begin(JSON.parse(document.getElementById("words").textContent));
    const commands = JSON.parse(document.getElementById("commands").textContent);
    this.input = new Input(commands, (command) => this.hear(command));
    this.input.takesNumbers = () => this.takesNumbers();
    this.input.question = () => this.ask;
    this.input.isDevice = (code) => this.isDevice(code);
  }

  letGo() {
    this.isTouched = false;
    if (this.isStale) this.draw();
    this.isStale = false;
    this.comeAnew();
  }

  get settings() {
    return settings();
  }

  get language() {
    return this.settings.language || this.sender.state.person?.language || "en";
  }

  async start() {
    for (const turned of ["resize", "orientationchange"]) addEventListener(turned, () => this.resized());
    document.fonts.addEventListener("loadingdone", () => this.resized());
    document.addEventListener("visibilitychange", () => document.hidden || this.draw());
    await this.sender.start();
    if (!this.settings.bench) this.open("setup");
    this.draw();
    if ("serviceWorker" in navigator) await navigator.serviceWorker.register("worker.js");
  }

  // The page may be turned or made small at any line: what has to be read is laid out anew.
  resized() {
    if (this.root.contains(document.activeElement) && document.activeElement.matches("input")) return;
    this.cautionsFirst = null;
    this.readPage = 0;
    this.draw();
  }

  takesNumbers() {
    if (this.ask) return this.ask instanceof Keypad;
    if (this.screen === "diagnosis") return Boolean(this.diagnosis.next.unit);
    const line = this.screen === "work" && this.line(this.job());
    return Boolean(line) && line.asks === "number";
  }

  // --- what is known ---------------------------------------------------------------

  job(ref = this.chosen) {
    return this.sender.state.jobs.find((one) => one.ref === ref);
  }

  run(job) {
    return job?.run ? this.sender.runs.get(job.run.ref) : undefined;
  }

  // The same device on the same path as it is known by now: while a question stands the
  // records are read anew.
  byNow(job) {
    const known = this.job(job.ref);
    return known?.run?.ref === job.run?.ref ? known || job : job;
  }

  strokes(job) {
    return this.sender.strokes(this.byNow(job));
  }

  openHere() {
    const mine = (job) => this.isHere(job);
    return this.sender.state.jobs
      .filter((job) => job.run && (job.is_open || !this.isFinished(job)))
      .sort((a, b) => mine(b) - mine(a) || placeOf(a).n - placeOf(b).n || a.line - b.line)
      .slice(0, 5);
  }

  // Its place number is one of this bench, not of another one.
  isHere(job) {
    return job.place.startsWith(`${this.settings.bench || "bench"}, `);
  }

  isFinished(job) {
    const run = this.run(job);
    if (!run || job.run.kind !== "path") return false;
    return stateOf(run, this.strokes(job)).at >= run.lines.length;
  }

  layerPhoto(records) {
    const last = records[records.length - 1];
    return last?.removal === "part" && !last.photo ? "A new layer: take a photo." : "";
  }

  // --- choosing --------------------------------------------------------------------

  open(screen) {
    this.learning?.abort();
    this.screen = screen;
    this.ask = null;
    this.details = null;
    this.draw();
  }

  choose(ref) {
    const job = this.job(ref);
    if (!job) return;
    const isMine = job.holder === this.sender.state.person?.ref;
    if (job.waits_for) return this.waiting(job);
    if (job.state === "parked open" || (job.is_open && !isMine)) return this.take(job, "begin");
    this.chosen = ref;
    this.told = "";
    this.cautionsFirst = this.cautionsRead = null;
    if (job.run?.disputed?.length) return this.open("accounts");
    if (job.run?.kind === "recording") return this.open("recording");
    this.open(this.strokes(job).length && !this.isFinished(job) ? "back" : "work");
  }

  // What a photo that comes now is of: what is shown, and nothing where nothing is.
  inHand() {
    const job = this.screen === "diagnosis" ? this.subject : this.job();
    const layer = job && this.screen !== "diagnosis" ? layerOf(this.line(job)) : "";
    return { bench: this.settings.bench || "", job: job?.ref || "", layer };
  }

  photoOf(job, line) {
    return this.photos.get(photoKey(job, layerOf(line)));
  }

  goHome() {
    this.sender.beside = null;
    this.chosen = "";
    this.told = "";
    this.open("home");
  }

  isDevice(code) {
    const { jobs, ready } = this.sender.state;
    return [...jobs, ...ready].some((job) => isCalled(job, code));
  }

  async device(code) {
    const known = this.sender.state.jobs.find((job) => isCalled(job, code));
    if (known?.run) {
      if (this.chosen && this.chosen !== known.ref) sound.undone();
      return this.choose(known.ref);
    }
    const job = await this.found(code);
    if (!job) return undefined;
    if (job.run?.kind === "path" && job.state === "charged and clean") {
      await this.sender.layBeside(job);
      if (this.isFinished(job)) return this.choose(job.ref);
      this.sender.beside = null;
    }
    this.chosen = "";
    // What is answered or refused now stands above the devices, not below the card.
    this.screen = "home";
    const begin = { says: "Open it here", value: "begin" };
    const record = { says: "Record it: no description", value: "record" };
    const again = { says: "Record it again", value: "record" };
    const diagnose = { says: "Find the fault", value: "diagnose" };
    const options = [
      ...(job.not_begun ? [] : [job.description ? begin : record]),
      ...(job.is_recorded && job.description === "draft" ? [again] : []),
      ...(job.has_faults ? [diagnose] : []),
    ];
    const first = [job.caution, job.not_begun && `Not to be opened now: ${job.not_begun}`].filter(Boolean);
    if (!options.length) return this.refuse(first.join(" "));
    const asks = `Device ${job.line}, ${job.model} ${job.revision}, ${job.state}: what now?`;
    this.question(
      first.length ? asIs(allOf([...first, asks])) : asks, options,
      (value) => this.take(job, value), () => this.goHome());
    return undefined;
  }

  async found(code) {
    const told = await this.request(`find/?code=${encodeURIComponent(code)}`);
    return told?.ref ? told : null;
  }

  async take(job, what, more = {}) {
    if (what === "diagnose") return this.diagnose(job);
    const address = what === "record" ? "record" : "begin";
    const told = await this.request(`jobs/${job.ref}/${address}/`, { bench: this.settings.bench, ...more });
    if (told) this.choose(job.ref);
    return undefined;
  }

  // --- hearing ---------------------------------------------------------------------

  async hear(command) {
    this.told = "";
    if (command.name === "device") return this.device(command.code);
    if (command.name === "unknown")
      return this.refuse(`text: found ${command.text} with Enter behind it, wanted a label, a card or one key`);
    if (this.ask) {
      const wrong = await this.ask.hear(command);
      if (wrong) this.refuse(wrong);
      else this.draw();
      return undefined;
    }
    const wasAway = this.lastAt && Date.now() - this.lastAt > AWAY_MS;
    this.lastAt = Date.now();
    if (wasAway && this.chosen && this.screen === "work") return this.choose(this.chosen);
    if (command.name === "home") return this.goHome();
    // Under a finger nothing is redrawn: what is pressed answers the line that was seen.
    const isOther = this.isStale && this.screen === "work" &&
      this.shown?.mark !== this.mark(this.line(this.job()));
    if (isOther) return this.refuse("line: found another one meanwhile, wanted this one seen first");
    if (this.isCut && ["work", "recording"].includes(this.screen) && !WITHOUT_READING.includes(command.name))
      return this.refuse("page: found it too small for what is to be done, wanted a larger window");
    const heard = this[`in_${this.screen}`];
    return heard ? heard.call(this, command) : this.refuse("found nothing to do here");
  }

  in_home(command) {
    if (/^\d$/.test(command.name)) {
      const job = this.openHere().find((one) => this.isHere(one) && placeOf(one).n === Number(command.name));
      if (job) return this.choose(job.ref);
      sound.wrongDevice();
      return this.refuse(`place ${command.name}: found no open device there`, false);
    }
    if (command.name === "more" || command.name === "stuck") return this.homeMore();
    sound.wrongDevice();
    return this.refuse("device: found none chosen, wanted its scan or its place number", false);
  }

  homeMore() {
    const ready = this.sender.state.ready;
    this.question("What now?", [
      { says: `Ready to open (${ready.length})`, value: "ready" },
      { says: "Phone as camera", value: "camera" },
      { says: "Letters, name, sounds", value: "setup" },
      { says: "Hand over, close down", value: "handover" },
      ...(this.sender.refused.length ? [{ says: `Refused (${this.sender.refused.length})`, value: "refused" }] : []),
    ], (value) => this.homeChoice(value, ready), () => this.goHome());
  }

  homeChoice(value, ready) {
    if (value === "ready")
      return this.question("Which one?", ready.slice(0, 30).map((job) => ({
        says: `${job.line}: ${job.says}${job.is_late ? ", late" : ""}`,
        value: job,
      })), (job) => this.device((job.number || "").toUpperCase()), () => this.goHome());
    if (value === "handover") {
      location.href = "/handover/";
      return undefined;
    }
    if (value === "camera") return this.joinCamera();
    return this.open(value);
  }

  in_back(command) {
    if (["done", "yes", "next"].includes(command.name)) {
      sound.done();
      return this.open("work");
    }
    if (["undo", "no"].includes(command.name)) return this.undo(() => this.open("work"));
    return this.refuse("found something else, wanted: it is so, or take it back");
  }

  in_work(command) {
    const job = this.job();
    const run = this.run(job);
    if (!run) return this.goHome();
    const state = stateOf(run, this.strokes(job));
    const line = run.lines[state.at];
    const name = command.name;
    if (name === "undo") return this.undo();
    if (name === "burst") return this.undoBurst();
    if (!line) return name === "more" || name === "stuck" ? this.more(job, run, null) : this.goHome();
    if (name === "again") return sound.say([line.says, ...line.cautions]);
    if (["done", "yes", "next"].includes(name) && this.isUnwarned(line))
      return this.refuse("line: found it not shown yet, wanted its cautions seen first");
    if (["done", "yes", "next"].includes(name) && this.isReading(line)) return this.readOn(line);
    if (name === "next") return this.readAgain(line);
    if (this.isReading(line) && (name === "who" || /^\d$/.test(name)))
      return this.refuse(`found ${name}, wanted Read it or Undo`);
    if (name === "who") return this.lookedBy(job, run, state, line, command.who);
    if (["more", "stuck", "fault", "park", "photo"].includes(name))
      return this.special(name, job, run, line);
    const asked = this[`asks_${line.asks}`];
    return asked.call(this, { job, run, state, line, name });
  }

  // Which line of which path: a new path counts its lines from the beginning again.
  mark(line) {
    return line ? `${this.job()?.run?.ref} ${line.number}` : "";
  }

  // A press right behind another one finds the next line, but none whose cautions
  // nobody can have seen.
  isUnwarned(line) {
    return line.cautions.length > 0 && this.shown?.mark !== this.mark(line);
  }

  isReading(line) {
    return [this.cautionsFirst, this.details].includes(this.mark(line));
  }

  readAgain(line) {
    this.details = this.mark(line);
    this.readPage = 0;
    this.draw();
  }

  readOn(line) {
    const isAgain = this.details === this.mark(line);
    this.readPage += 1;
    if (this.readPage >= this.nPages) {
      if (!isAgain) this.cautionsRead = this.mark(line);
      this.details = this.cautionsFirst = null;
    }
    this.draw();
  }

  special(name, job, run, line) {
    if (name === "photo") return this.joinCamera();
    if (name === "park") return this.park(job);
    if (name === "fault") return this.secondFault(job, foundBy(line, stateOf(run, this.strokes(job))) ? line.found : "");
    return this.more(job, run, line);
  }

  asks_done({ job, run, state, line, name }) {
    if (["done", "yes"].includes(name)) return this.tell(job, run, { act: "done", line: line.number });
    if (["differs", "no"].includes(name) && line.moves) return this.differs(job, run, state, line);
    return this.refuse(`found ${name}, wanted Done or Undo`);
  }

  asks_close({ job, run, line, name }) {
    if (["done", "yes"].includes(name)) return this.tell(job, run, { act: "done", line: line.number });
    return this.refuse(`found ${name}, wanted Done`);
  }

  asks_look({ job, run, line, name }) {
    const answer = { done: "yes", yes: "yes", no: "no" }[name];
    if (!answer) return this.refuse(`found ${name}, wanted yes or no`);
    if (line.kind === "yes in writing" && answer === "yes" && job.run.not_agreed.includes(line.name))
      return this.refuse(`yes in writing: found none for ${line.name}, wanted it written on the page Approvals first`);
    const other = this.other?.mark === this.mark(line) ? this.other.ref : "";
    if (line.second_look && answer === "yes" && !other)
      return this.refuse("second look: found nobody, wanted another person's card scanned, or TS-WHO- and their short name typed");
    const facts = { answer, ...(line.second_look ? { other: other || "none" } : {}) };
    const then = (shown) => this.tell(job, run, { act: "answer", line: line.number, facts: { ...facts, ...shown } });
    return line.wants_photo && answer === "yes" ? this.withPhoto(job, line, then) : then({});
  }

  lookedBy(job, run, state, line, who) {
    const person = this.sender.state.people.find((one) => one.key.toLowerCase() === who);
    if (!person) return this.refuse(`second look: found nobody called ${who}`);
    if (!line.second_look) return this.refuse("second look: found one, wanted none here");
    this.other = { ref: person.ref, mark: this.mark(line) };
    return this.asks_look({ job, run, state, line, name: "done" });
  }

  asks_count({ job, run, state, line, name }) {
    if (["done", "yes"].includes(name))
      return this.tell(job, run, { act: "answer", line: line.number, facts: { left: 0 } });
    if (name !== "no") return this.refuse(`found ${name}, wanted empty, or some left`);
    const written = line.compartments.filter((letter) => state.tray[letter]);
    if (written.length) return this.becomes(job, run, line, written[0], state.tray[written[0]]);
    return this.question("In which compartment?",
      line.compartments.map((letter) => ({ says: letter, value: letter })),
      (letter) => this.number(`Left in ${letter}:`, "", (n) =>
        this.tell(job, run, { act: "answer", line: line.number, facts: { left: Number(n), letter } }),
        { whole: true }));
  }

  becomes(job, run, line, letter, n) {
    this.question(`${n} in ${letter}: what becomes of it?`, [
      { says: "Refitted now", value: "refitted" }, { says: "Replaced by a new one", value: "replaced" },
      { says: "Left out", value: "left out" },
    ], (what) => {
      const facts = { what, n, letter };
      if (what !== "left out") return this.tell(job, run, { act: "differs", line: line.number, facts });
      return this.reason(SKIP_REASONS, (reason) =>
        this.tell(job, run, { act: "differs", line: line.number, facts: { ...facts, reason } }));
    });
  }

  asks_test({ job, run, line, name }) {
    const answer = { done: "passed", yes: "passed", no: "failed" }[name];
    if (!answer) return this.refuse(`found ${name}, wanted passed or failed`);
    return this.tell(job, run, { act: "answer", line: line.number, facts: { answer } });
  }

  asks_number({ job, run, line, name }) {
    if (!/^\d$/.test(name) && name !== "done") return this.refuse(`found ${name}, wanted a number`);
    return this.number(line.says, line.unit, (value) => {
      if (line.low !== null && Number(value) < line.low)
        this.told = `${value} ${line.unit}: below ${line.low}, written as it is`;
      if (line.high !== null && Number(value) > line.high)
        this.told = `${value} ${line.unit}: above ${line.high}, written as it is`;
      return this.tell(job, run, { act: "answer", line: line.number, facts: { value } });
    }, { start: name === "done" ? "" : name });
  }

  differs(job, run, state, line) {
    const taken = ["missing on arrival", "never had one", "stays in", "one more"];
    const refit = ["replaced", "left out", "other length"];
    const known = line.moves === "taken" ? taken : refit;
    this.question("What differs?", [
      ...known.map((what) => ({ says: what, value: what })),
      { says: "found loose inside", value: "found loose" },
    ], (what) => this.number(`How many: ${what}?`, "", (n) => this.where(line, (place) => {
      const facts = { what, n: Number(n), ...(place ? { place } : {}) };
      if (what !== "left out") return this.tell(job, run, { act: "differs", line: line.number, facts });
      return this.reason(SKIP_REASONS, (reason) =>
        this.tell(job, run, { act: "differs", line: line.number, facts: { ...facts, reason } }));
    }), { usual: "1", whole: true }));
  }

  where(line, then) {
    if (!line.letter || line.n < 2) return then("");
    const holes = Array.from({ length: line.n }, (_, index) => `${line.letter}${index + 1}`);
    return this.question("At which hole?",
      [{ says: "not said", value: "" }, ...holes.map((one) => ({ says: one, value: one }))], then, null,
      drawing(this.run(this.job()), line));
  }

  // --- telling ---------------------------------------------------------------------

  async tell(job, run, stroke) {
    this.ask = null;
    if ((this.job(job.ref) || job).run?.ref !== run.ref)
      return this.refuse("path: found another one by now, wanted the one this line stands in");
    const whole = { facts: {}, ...stroke };
    const wrong = this.refusalOf(job, run, whole);
    if (wrong) return this.refuse(wrong);
    this.other = null;
    return this.store(job, whole, stroke.act === "undo" ? sound.undone : sound.done);
  }

  refusalOf(job, run, stroke) {
    return refusal(run, stateOf(run, this.strokes(job)), stroke, this.sender.state.person?.ref);
  }

  async store(job, stroke, heard = sound.done) {
    const whole = {
      facts: {}, ...stroke, key: newKey(), run: job.run.ref, bench: this.settings.bench || "",
      at: new Date().toISOString(), after: this.sender.head(this.byNow(job)),
      who: this.sender.state.person?.ref || "",
    };
    this.pressed.set(whole.key, performance.now());
    this.nTold += 1;
    try {
      await this.sender.tell(whole);
    } catch (error) {
      return this.refuse(`disk: found ${error?.name || "no room"}, wanted this written; it is not told`);
    }
    heard();
    this.details = null;
    this.draw();
    return sound.say(this.shown?.says || "");
  }

  undo(then) {
    const job = this.job();
    const run = this.run(job);
    const state = stateOf(run, this.strokes(job));
    const last = state.held[state.held.length - 1];
    if (!last) return this.refuse("undo: found nothing done in this path");
    return this.tell(job, run, { act: "undo", line: last.line }).then(() => then?.());
  }

  async undoBurst() {
    const job = this.job();
    const run = this.run(job);
    const held = stateOf(run, this.strokes(job)).held;
    const pressed = held.map((one) => this.pressed.get(one.key) ?? -Infinity).reverse();
    let n = held.length ? 1 : 0;
    while (n < held.length && pressed[n - 1] - pressed[n] < BURST_MS) n += 1;
    if (!n) return this.refuse("undo: found nothing done in this path");
    for (const stroke of held.slice(-n).reverse())
      await this.tell(job, run, { act: "undo", line: stroke.line });
    this.told = `${n} taken back`;
    return this.draw();
  }

  async request(address, body) {
    const before = this.atHand();
    const slow = setTimeout(() => this.isStill(before) && this.say(SLOW), SLOW_MS);
    try {
      const told = await this.sender.ask(address, body);
      clearTimeout(slow);
      if (this.told === SLOW) this.told = "";
      if (!told.reasons && this.isStill(before)) return told;
      this.refuseAt(before, told.reasons?.join("; ") || LATE);
    } catch (error) {
      if (!(error instanceof NoNetwork)) throw error;
      this.refuseAt(before, await this.whyNone(error));
    } finally {
      clearTimeout(slow);
    }
    return null;
  }

  // What the hand is at. An answer that comes late takes nothing out of it: it would put
  // another device, or another question, under a press that was meant for this one.
  atHand() {
    return [this.chosen, this.screen, this.ask, this.nTold];
  }

  isStill(before) {
    return this.atHand().every((one, index) => one === before[index]);
  }

  refuseAt(before, words) {
    if (this.isStill(before)) this.ask = null;
    this.refuse(words);
  }

  say(words) {
    this.told = words;
    if (this.isTouched) this.isStale = true;
    else this.draw();
  }

  async whyNone(error) {
    // Whether somebody is still signed in is known behind one more look.
    const isOld = error instanceof OldSeal;
    if (isOld || error instanceof NoAnswer) await this.sender.turn();
    if (!this.sender.isKnown) return "Nobody who works at a bench is signed in: sign in again; nothing told here is lost.";
    if (isOld) return error.message;
    if (error instanceof NoAnswer)
      return "records: found no answer that can be read, wanted one for this alone; all else goes on";
    return "network: found none, wanted it for this alone; all else goes on";
  }

  refuse(words, isHeard = true) {
    if (isHeard) sound.refused();
    this.told = this.refusedWith = words;
    this.draw();
  }

  question(title, options, chosen, back, beside) {
    this.asked(new Choice(title, options, (value) => {
      this.ask = null;
      return chosen(value);
    }, back || (() => { this.ask = null; this.draw(); }), beside));
  }

  reason(reasons, chosen) {
    this.question("Why?", reasons.map((one) => ({ says: one, value: one })), chosen);
  }

  number(title, unit, chosen, more) {
    this.asked(new Keypad(title, unit, (value) => {
      this.ask = null;
      return chosen(value);
    }, () => { this.ask = null; this.draw(); }, more));
  }

  asked(ask) {
    this.ask = ask;
    ask.changed = () => this.draw();
    this.draw();
  }

  // --- drawing ---------------------------------------------------------------------

  what() {
    const job = this.job();
    if (this.ask) {
      const keys = this.ask.keys();
      return { ask: this.ask, keys, body: h("section", { class: "body", "data-level": "0" }, this.ask.draw(), this.ask.beside),
        band: job ? screens.band(job, this.line(job), this) : null };
    }
    if (this.screen === "setup") return this.setup();
    if (this.screen === "diagnosis") return screens.diagnosis(this, this.subject);
    if (this.screen === "camera")
      return screens.plain(null, "Scan this with the phone: the next photo goes to the device in hand.",
        [], [{ label: "Back", name: "done", hint: "Space", isFirst: true }]);
    if (this.screen === "refused")
      return screens.plain(null, "Refused by the records; nothing of it is written:",
        this.sender.refused.slice(0, REFUSED_A_PAGE).map((one) => `${one.act} ${one.line + 1}: ${one.against}`),
        [{ label: "Seen", name: "done", hint: "Space", isFirst: true },
          { label: "Tell again", name: "yes", hint: "Y" }]);
    const run = this.run(job);
    if (job?.run?.disputed?.length && ["work", "back"].includes(this.screen))
      this.screen = "accounts";
    if (job?.run?.kind === "recording" && this.screen !== "home")
      return this.recordingScreen(job, run);
    if (this.screen === "recording") this.screen = "work";
    if (!run || this.screen === "home") return screens.home(this);
    return screens[this.screen](this, job, run);
  }

  recordingScreen(job, run) {
    const records = recordsOf(this.strokes(job));
    return screens.recording(this, job, records, stillKnown(run || {}, records));
  }

  line(job) {
    const run = this.run(job);
    if (!run || job.run.kind !== "path") return null;
    return run.lines[stateOf(run, this.strokes(job)).at] || null;
  }

  draw() {
    speakIn(this.language);
    readAs(this.sender.state.notation);
    applySizes(this.settings);
    const shown = this.what();
    this.shown = { ...shown, mark: this.mark(shown.line) };
    this.sender.hold(this.inHand());
    const press = (one) => () => {
      if (one.do) Promise.resolve(one.do()).then((wrong) => typeof wrong === "string" && this.refuse(wrong));
      else this.hear({ name: one.name });
    };
    const told = this.told || this.network();
    this.root.replaceChildren(
      shown.band || h("header", { class: "band" }, h("span", {}, this.settings.bench ? asIs(this.settings.bench) : "Bench")),
      shown.body,
      h("div", { class: "foot" }, shown.count || null,
        told ? h("p", { class: `told${told === this.refusedWith ? " refused" : ""}`, role: "status" }, told) : null),
      h("nav", { class: "keys", "aria-label": "Keys" }, (shown.keys || []).map((one) =>
        h("button", { type: "button", class: one.isFirst ? "first" : null, "data-name": one.name, do: press(one) }, one.label))));
    if (this.screen === "camera" && this.camera) this.showCode();
    const isFitting = fit(shown.body);
    if (!isFitting && shown.line && shown.line.cautions.length &&
        !this.isReading(shown.line) && this.cautionsRead !== this.mark(shown.line)) {
      this.cautionsFirst = this.mark(shown.line);
      this.readPage = 0;
      this.draw();
      return;
    }
    this.isCut = !squeeze(this.root, shown.body, this.settings);
    const least = parseFloat(getComputedStyle(document.body).fontSize);
    enlargeLetters(shown.body.querySelector(".drawing"), least);
    this.flash();
    this.comeAnew();
  }

  // Where nothing is in hand and nothing waits to be sent.
  comeAnew() {
    const isIdle = this.screen === "home" && !this.ask && !this.isTouched && !this.sender.mine().length;
    // Without a network a page loaded anew may be none at all.
    if (isIdle && this.sender.isOnline && isNewer(this.sender.version)) loadAnew(this.sender.version);
  }

  nameOf(who) {
    return this.sender.state.people.find((one) => one.ref === who)?.name || "somebody";
  }

  network() {
    const n = this.sender.refused.length;
    if (n && this.screen !== "refused") return `Refused by the records: ${n}. See Home, More.`;
    if (!this.sender.isKnown) return "Nobody who works at a bench is signed in: sign in again; nothing told here is lost.";
    if (this.sender.isOnline) return isNewer(this.sender.version) ? NEWER : "";
    return `No network: ${this.sender.mine().length} kept here.`;
  }

  showCode() {
    const holder = h("div", { class: "qr" });
    holder.innerHTML = this.camera.svg;
    this.shown.body.append(holder);
  }

  // The photo that came last, large, for one second.
  flash() {
    const photo = this.sender.state.photo;
    if (!photo || photo.ref === this.flashed) return;
    this.flashed = photo.ref;
    const job = this.job(photo.job) || { ref: photo.job };
    this.photos.set(photoKey(job, photo.caption), photo.ref);
    keepPhotos(this.photos);
    const view = h("div", { class: "flash" }, h("img", { src: `/photos/${photo.ref}/small/`, alt: "" }),
      h("p", {}, photo.says || "Sharp and light enough."));
    document.body.append(view);
    setTimeout(() => view.remove(), 1000);
  }
}

function layerOf(line) {
  return line ? [line.says, ...line.points].join(" ").slice(0, 200).trim() : "";
}

// One of an earlier path shows nothing of what was opened again since.
function photoKey(job, layer) {
  return `${job.run?.ref || job.ref} ${layer}`;
}

function isCalled(job, code) {
  return [job.number, job.serial].some((one) => one && one.toUpperCase() === code);
}

function newKey() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (one) => one.toString(16).padStart(2, "0")).join("");
}

const app = new App();
window.bench = app;
app.start();
