// How strokes reach the records, and how the records reach the bench.

import * as store from "./keep.js";
import { learn } from "./words.js";

// Neither an answer nor a refusal: what was told waits and is sent again.
export class NoNetwork extends Error {}

// Something answered, but not the records: a page for people, such as an error or a gate.
export class NoAnswer extends NoNetwork {}

// The page was signed in anew meanwhile: the next look at the records brings its seal.
export class OldSeal extends NoNetwork {}

async function answerIn(answer) {
  try {
    return await answer.json();
  } catch {
    throw new NoAnswer(`found ${answer.status}`);
  }
}

const WAIT_MS = 4000;
const RETRY_MS = 3000;
const LONGEST_MS = 15_000; // a link that gives no answer for so long is down

export class Sender {
  constructor(changed) {
    this.changed = changed;
    this.queue = [];
    this.state = { jobs: [], ready: [], people: [], person: null, photo: null, token: "" };
    this.runs = new Map();
    this.isOnline = navigator.onLine;
    this.isKnown = true;
    this.isSealed = false;
    this.version = ""; // of the page that is served now; none is known without a look
    this.refused = [];
    this.beside = null;
    this.wasRefused = () => {};
    this.again = false;
    this.turning = null;
    this.longestMs = LONGEST_MS;
    this.hand = this.handSent = "";
    this.handing = null;
  }

  async start() {
    const numbers = await store.names("queue");
    const rows = await store.all("queue");
    this.queue = rows.map((row, index) => ({ ...row, row: numbers[index] }));
    this.state = (await store.kept("told", "state")) || this.state;
    this.refused = (await store.kept("told", "refused")) || [];
    for (const run of await store.all("runs")) this.know(run);
    addEventListener("online", () => this.turn());
    addEventListener("offline", () => this.mark(false));
    await this.turn();
    setInterval(() => document.hidden || this.turn(), WAIT_MS);
  }

  mark(isOnline) {
    if (this.isOnline === isOnline) return;
    this.isOnline = isOnline;
    this.changed();
  }

  strokes(job) {
    return job.run ? [...job.run.strokes, ...this.waiting(job)] : [];
  }

  jobOf(stroke) {
    return this.state.jobs.find((job) => job.run?.ref === stroke.run);
  }

  // What is not in the records yet. An undo leaves no stroke there but is their head,
  // so after a power cut it would else be counted once more until it is sent again.
  waiting(job) {
    const mine = this.mine().filter((one) => one.run === job.run.ref);
    const known = mine.findIndex((one) => one.key === job.run.head);
    const keys = new Set(job.run.strokes.map((one) => one.key));
    return mine.slice(known + 1).filter((one) => !keys.has(one.key));
  }

  // The key of what was told last of a device, here or there.
  head(job) {
    const waiting = this.waiting(job);
    return waiting.length ? waiting[waiting.length - 1].key : job.run.head;
  }

  // Counts at once, so that a press right behind it finds the next line; it is heard,
  // drawn and sent when it lies on the disk.
  async tell(stroke) {
    const told = { ...stroke, row: null };
    this.queue.push(told);
    try {
      told.row = await store.add("queue", stroke);
    } catch (error) {
      this.queue = this.queue.filter((one) => one !== told);
      throw error;
    }
    this.turn();
  }

  // What another person told here waits until they sign in again: nobody's work goes
  // into the records under the name of somebody else.
  isMine(one) {
    return !one.who || one.who === this.state.person?.ref;
  }

  mine() {
    return this.queue.filter((one) => this.isMine(one));
  }

  // Whose lines wait here, and how many.
  others() {
    const n = new Map();
    for (const one of this.queue)
      if (!this.isMine(one)) n.set(one.who, (n.get(one.who) || 0) + 1);
    return [...n];
  }

  kept() {
    const mine = this.mine();
    const first = mine.findIndex((one) => one.row === null);
    return first < 0 ? mine : mine.slice(0, first);
  }

  // One after the other, across all pages of this browser. Whoever waits for a turn
  // that goes on already waits for one more after it.
  turn() {
    this.again = true;
    this.turning ||= this.turns().finally(() => {
      this.turning = null;
    });
    return this.turning;
  }

  async turns() {
    while (this.again) {
      this.again = false;
      await locked(() => this.exchange());
    }
  }

  async exchange() {
    try {
      // The seal of the forms may have changed while this page was away.
      if (!this.isSealed) await this.read();
      this.isSealed = true;
      while (this.kept().length) await this.flush();
      if (!this.handing) await this.sendHand();
      await this.read();
      this.mark(true);
    } catch (error) {
      if (!(error instanceof NoNetwork)) throw error;
      this.isSealed = false;
      this.mark(false);
      clearTimeout(this.retry);
      this.retry = setTimeout(() => this.turn(), RETRY_MS);
    }
  }

  // What is in hand goes to the records as often as it changes, and again if it was lost.
  hold(hand) {
    this.hand = JSON.stringify(hand);
    this.handing ||= this.sendHand().catch(() => {}).finally(() => {
      this.handing = null;
    });
  }

  async sendHand() {
    while (this.isSealed && this.hand && this.hand !== this.handSent) {
      const hand = this.hand;
      await this.post("hand/", JSON.parse(hand));
      this.handSent = hand;
    }
  }

  async flush() {
    const sent = this.kept().slice(0, 100);
    const bench = sent[0].bench;
    const mine = sent.filter((one) => one.bench === bench);
    const strokes = mine.map(({ key, run, act, line, at, facts, after, who }) => ({
      key, run, act, line, at, facts, after, who: who || "",
    }));
    const answer = await this.post("tell/", { bench, sent_at: new Date().toISOString(), strokes });
    if (!answer.became) throw new NoNetwork("not signed in");
    const became = new Map(answer.became.map((one) => [one.key, one]));
    for (const one of mine) await this.settle(one, became.get(one.key));
  }

  async settle(stroke, became) {
    if (became.standing === "held") {
      const job = this.jobOf(stroke);
      if (job && !job.run.strokes.some((one) => one.key === stroke.key))
        job.run.strokes.push({ ...stroke });
      if (job) job.run.head = stroke.key;
      await store.keep("told", "state", this.state);
    }
    if (became.standing === "refused") {
      this.refused.push({ ...stroke, against: became.against });
      await store.keep("told", "refused", this.refused);
      this.wasRefused();
    }
    await store.drop("queue", stroke.row);
    this.queue = this.queue.filter((one) => one.row !== stroke.row);
    if (became.standing !== "held") this.changed();
  }

  // Goes behind what is known by now; it leaves the refused when it is queued again.
  async tellAgain(one) {
    const { against, row, ...stroke } = one;
    await this.tell({ ...stroke, after: this.head(this.jobOf(one)) });
    this.refused = this.refused.filter((other) => other !== one);
    await store.keep("told", "refused", this.refused);
  }

  async forgetRefused(n) {
    this.refused = this.refused.slice(n);
    await store.keep("told", "refused", this.refused);
  }

  async read() {
    const bench = encodeURIComponent(store.settings().bench || "");
    const answer = await this.fetched(`state/?bench=${bench}`, { cache: "no-store" });
    this.isKnown = answer.ok;
    if (!answer.ok) {
      this.changed();
      throw new NoNetwork("not signed in");
    }
    const { version, ...state } = await answerIn(answer);
    const isOther = version !== this.version;
    this.version = version;
    for (const job of state.jobs) if (job.run) await this.wholeRun(job.run.ref);
    if (this.beside && !state.jobs.some((one) => one.ref === this.beside.ref)) state.jobs.push(this.beside);
    const before = JSON.stringify(this.state);
    this.state = state;
    const isNew = JSON.stringify({ ...state, token: "" }) !==
      JSON.stringify({ ...JSON.parse(before), token: "" });
    if (isNew) {
      await store.keep("told", "state", state);
      await this.forgetRuns();
    }
    if (isNew || isOther) this.changed();
  }

  // A device that went on from the bench is known here until another one is chosen.
  async layBeside(job) {
    this.beside = job;
    await this.wholeRun(job.run.ref);
    if (!this.state.jobs.some((one) => one.ref === job.ref)) this.state.jobs.push(job);
  }

  async wholeRun(ref) {
    if (this.runs.has(ref)) return;
    const answer = await this.fetched(`runs/${ref}/`);
    if (!answer.ok) return;
    const run = await answerIn(answer);
    this.know(run);
    await store.keep("runs", ref, run);
  }

  know(run) {
    this.runs.set(run.ref, run);
    learn(run.own);
  }

  // Lines of devices that left the bench are not kept for ever. What is laid beside
  // while older ones are dropped stays.
  async forgetRuns() {
    for (const ref of [...this.runs.keys()]) {
      if (this.isWanted(ref)) continue;
      this.runs.delete(ref);
      await store.drop("runs", ref);
    }
  }

  isWanted(ref) {
    const jobs = this.beside ? [...this.state.jobs, this.beside] : this.state.jobs;
    return jobs.some((job) => job.run?.ref === ref) || this.queue.some((one) => one.run === ref);
  }

  async fetched(address, wish) {
    try {
      return await fetch(address, { ...wish, signal: AbortSignal.timeout(this.longestMs) });
    } catch (error) {
      throw new NoNetwork(String(error));
    }
  }

  async post(address, body) {
    const answer = await this.fetched(address, {
      method: "POST",
      headers: { "Content-Type": "application/json", "X-CSRFToken": this.state.token },
      body: JSON.stringify(body),
    });
    const told = await answerIn(answer);
    if (answer.status === 403) throw new OldSeal(told.reasons?.join("; "));
    return told;
  }

  // Asks the records for something that a bench cannot do by itself. What became of it
  // is read in its turn: read beside one, it could be older than what was told in it.
  async ask(address, body) {
    if (this.mine().length) await this.turn();
    if (this.mine().length) throw new NoNetwork("not sent yet");
    const told = body === undefined
      ? await answerIn(await this.fetched(address, { cache: "no-store" }))
      : await this.post(address, body);
    if (!told.reasons) await this.turn();
    return told;
  }
}

async function locked(work) {
  // Only where the page is served over HTTPS or from this machine.
  return navigator.locks ? navigator.locks.request("turnscrew-send", work) : work();
}
